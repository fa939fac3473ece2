"""Hosts that every check runs through."""
