"""The season on paper: what was given, against which limits, what nobody knows."""
