"""What a workbook that functions cannot be put into ends in."""

from gasfuncs.hosts.headless.errors import WorkbookError


class CarryError(WorkbookError):
    """A workbook that functions cannot be put into."""
