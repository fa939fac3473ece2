"""Builds declared books: twice each, so that every value and chart is stored."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path

from gasfuncs.errors import UnreadableError
from gasfuncs.files import swapped_in
from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.workbooks.sheets import (
    argon_nitrogen_cost,
    bulk_tank_reorder,
    delivery_check,
    leak_dewpoint_log,
    monthly_gas_usage,
    reservoir_commissioning,
    reservoir_line_sizing,
    supply_offers,
    vent_fill_purity,
)
from gasfuncs.workbooks.sheets.kinds import METRIC
from gasfuncs.workbooks.sheets.paper import Values
from gasfuncs.workbooks.sheets.parts import Book, Given
from gasfuncs.workbooks.sheets.writing import write

BOOKS: dict[str, Book] = {
    book.name: book
    for book in (
        monthly_gas_usage.BOOK,
        bulk_tank_reorder.BOOK,
        leak_dewpoint_log.BOOK,
        reservoir_commissioning.BOOK,
        reservoir_line_sizing.BOOK,
        delivery_check.BOOK,
        argon_nitrogen_cost.BOOK,
        supply_offers.BOOK,
        vent_fill_purity.BOOK,
    )
}
"""The declared books by name."""

Progress = Callable[[int, int, str], None]


def build(
    book: Book,
    path: Path,
    units: str = METRIC,
    given: Given | None = None,
    *,
    rows: int = 0,
    progress: Progress | None = None,
) -> None:
    """Write a book to a path with what is given typed in it, by default the demo plant.

    `rows` is the length of its logs. The path is replaced in one step.
    """
    given = book.demo() if given is None else given

    def write_once(target: Path, values: Values) -> None:
        target.write_bytes(write(book, units, given, values, rows))

    written_twice(path, write_once, progress)


def written_twice(
    path: Path, write_once: Callable[[Path, Values], None], progress: Progress | None
) -> None:
    """Write and compute a file, and write it again with its values, which its charts keep."""
    with swapped_in(path) as second, tempfile.TemporaryDirectory() as folder:
        first = Path(folder, "first.xlsx")
        write_once(first, {})
        _compute(first, progress)
        write_once(second, _stored(first))
        _compute(second, progress)


def _compute(path: Path, progress: Progress | None) -> None:
    report = recalculate(path, progress=progress)
    if not report.ok:
        found = "; ".join(f"{p.sheet}!{p.cell}: {p.why}" for p in report.problems[:5])
        raise UnreadableError(f"the workbook as written cannot be computed: {found}")


def _stored(path: Path) -> Values:
    """Stored values by sheet, row and column from 0, errors as their text."""
    return {
        (sheet, row - 1, column - 1): value
        if isinstance(value, int | float | str | bool)
        else str(value)
        for sheet, cells in read_values(path).items()
        for (row, column), value in cells.items()
        if value is not None
    }
