"""Books computed by the engine and by LibreOffice, cell by cell."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values
from gasfuncs.hosts.headless.book import Unknown
from gasfuncs.hosts.headless.loading import load
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.sheetxml import SheetText

Values = dict[str, dict[tuple[int, int], Any]]


def computed(path: Path) -> Values:
    """The value of every formula cell by sheet; Unknown where it was refused."""
    with Package(path) as package:
        loaded = load(package, {})
        loaded.book.evaluate(lambda _: None)
        found: Values = {}
        for text in loaded.texts:
            grid = loaded.book.grid(text.sheet.name)
            assert grid
            found[text.sheet.name] = {
                (cell.row, cell.column): grid.columns[cell.column].get(cell.row)
                for cell in text.formula_cells()
            }
    return found


def formulas(path: Path) -> dict[str, dict[tuple[int, int], str]]:
    """The formulas of a book; a shared one as it stands in its first cell."""
    found: dict[str, dict[tuple[int, int], str]] = {}
    with Package(path) as package:
        for sheet in package.sheets:
            shared: dict[str | None, str] = {}
            cells = found[sheet.name] = {}
            for cell in SheetText(package, sheet).formula_cells():
                text = shared.setdefault(cell.formula_attributes.get("si"), cell.formula)
                cells[cell.row, cell.column] = cell.formula or text
    return found


def stored(path: Path) -> Values:
    return {sheet: dict(cells) for sheet, cells in read_values(path).items()}


def is_refused(value: Any) -> bool:
    return isinstance(value, Unknown)


def same(ours: Any, theirs: Any) -> bool:
    """Equal to 1e-9; any error is as good as another; a blank is "", and FALSE stored as 0 too."""
    if isinstance(ours, CellError) or isinstance(theirs, CellError):
        return isinstance(ours, CellError) and isinstance(theirs, CellError)
    ours, theirs = ("" if value is None else value for value in (ours, theirs))
    if isinstance(ours, float | bool) and isinstance(theirs, float | bool):
        return math.isclose(ours, theirs, rel_tol=1e-9, abs_tol=1e-12)
    return bool(ours == theirs)
