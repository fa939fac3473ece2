"""Readings from files: read, mapped, cleaned with reasons, and written into a workbook in place."""

from gasfuncs.importing.errors import ImportingError

__all__ = ["ImportingError"]
