"""The season: what was applied where, in one SQLite file."""
