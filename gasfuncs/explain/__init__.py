"""Explains the functions: working, checks, sources, the list of them."""
