"""Checks against the outside, by topic."""
