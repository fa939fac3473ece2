"""The headless engine: recalculates workbook files without a spreadsheet program."""

from __future__ import annotations

import os
from collections.abc import Collection
from pathlib import Path

from gasfuncs.hosts.headless.errors import WorkbookError
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.recalculation import recalculate
from gasfuncs.hosts.headless.report import ErrorCell, Problem, Report
from gasfuncs.hosts.headless.sheetxml import SheetText
from gasfuncs.hosts.headless.values import CellValue

__all__ = [
    "ErrorCell",
    "Problem",
    "Report",
    "WorkbookError",
    "read_values",
    "recalculate",
]


def read_values(
    path: str | os.PathLike[str], sheets: Collection[str] | None = None
) -> dict[str, dict[tuple[int, int], CellValue]]:
    """The values stored in a workbook, or in some of its sheets: name -> (row, column) -> value."""
    with Package(Path(path)) as package:
        strings = package.shared_strings()
        return {
            sheet.name: SheetText(package, sheet).values(strings)
            for sheet in package.sheets
            if sheets is None or sheet.name in sheets
        }
