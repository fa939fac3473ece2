"""Workbooks that carry their functions: native formulas, recorded from the calculations."""

from gasfuncs.hosts.carried.book import CarryError, Done, carry, undo

__all__ = ["CarryError", "Done", "carry", "undo"]
