"""The mix card: one sheet that a person who was not there can follow."""
