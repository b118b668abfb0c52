"""Feeding solutions: reading, jobs, text."""
