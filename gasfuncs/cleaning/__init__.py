"""Columns of files made clean: each value is read, or has the reason why it was not."""

from gasfuncs.cleaning.moments import Moments, read_moments
from gasfuncs.cleaning.numbers import Numbers, read_numbers

__all__ = ["Moments", "Numbers", "read_moments", "read_numbers"]
