"""Hostile input, faults and load; `python -m tests.hostile` runs them and prints the counts."""
