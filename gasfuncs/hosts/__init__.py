"""The hosts: each a thin adapter between a spreadsheet (or a text) and the registry."""
