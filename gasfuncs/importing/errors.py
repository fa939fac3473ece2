"""What can be wrong with a file, its mapping or the book it goes into."""

from __future__ import annotations

from gasfuncs.errors import GasFuncsError


class ImportingError(GasFuncsError):
    """A file that cannot be read, a mapping that does not fit it, a book that has no room."""
