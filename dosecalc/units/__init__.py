"""Numbers and measures: a closed unit list, strict reading, spans, showing. No agronomy."""
