"""Workbooks that carry their functions: native formulas, recorded from the calculations."""

from gasfuncs.hosts.carried.book import Done, carry, undo
from gasfuncs.hosts.carried.errors import CarryError

__all__ = ["CarryError", "Done", "carry", "undo"]
