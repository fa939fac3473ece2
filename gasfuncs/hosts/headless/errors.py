"""What can be wrong with a workbook file; each error is one sentence that says what to do."""

from __future__ import annotations

from gasfuncs.errors import GasFuncsError


class WorkbookError(GasFuncsError):
    """A workbook that cannot be read or written. The file is as it was."""


class UnreadableWorkbookError(WorkbookError):
    """Not a workbook, damaged, encrypted, unsafe or of a kind that is not supported."""


class WorkbookInUseError(WorkbookError):
    """The workbook is open in another program."""


class WorkbookNotSavedError(WorkbookError):
    """The result could not be written; the original is untouched."""


class FormulaError(WorkbookError):
    """A formula that cannot be computed; reported by cell."""
