"""The languages of a printed card; see `phrases` for the words that fill its sentences."""
