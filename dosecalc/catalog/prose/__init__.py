"""A recipe as people write it, read by a grammar of our own words: read, or refused."""
