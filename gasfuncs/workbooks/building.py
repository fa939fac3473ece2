"""Builds the workbooks: twice each, so that every value and chart is stored."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

from gasfuncs.errors import UnreadableError
from gasfuncs.files import swapped_in
from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.units import shown
from gasfuncs.workbooks import (
    argon_nitrogen_cost,
    bulk_tank_reorder,
    reservoir_commissioning,
    reservoir_line_sizing,
    vent_fill_purity,
)
from gasfuncs.workbooks.book import Book, Values
from gasfuncs.workbooks.inputs import METRIC, units_sheet
from gasfuncs.workbooks.sheets import building as declared
from gasfuncs.workbooks.sheets.parts import Given

BOOKS: dict[str, ModuleType] = {
    module.NAME: module
    for module in (
        bulk_tank_reorder,
        argon_nitrogen_cost,
        vent_fill_purity,
        reservoir_line_sizing,
        reservoir_commissioning,
    )
}
"""The workbooks that are not declared yet, by name."""


def titles() -> dict[str, tuple[str, str]]:
    """The title and the question of every workbook, by name."""
    old = {name: (module.TITLE, module.QUESTION) for name, module in BOOKS.items()}
    return old | {name: (book.title, book.question) for name, book in declared.BOOKS.items()}


def known(name: str) -> str:
    """The name of a workbook as it is here; raises UnreadableError for another."""
    plain = name.removesuffix(".xlsx")
    if plain not in titles():
        raise UnreadableError(f'"{shown(name)}" is not a workbook here; use {", ".join(titles())}')
    return plain


def build(
    name: str,
    path: Path,
    units: str = METRIC,
    *,
    filled: bool = True,
    rows: int = 0,
    progress: Callable[[int, int, str], None] | None = None,
) -> None:
    """Write a workbook to a path, with every value stored; the path is replaced in one step.

    `rows` is the length of its logs, where it is not to be the usual one.
    """
    name = known(name)
    if name in declared.BOOKS:
        given = None if filled else Given()
        declared.build(declared.BOOKS[name], path, units, given, rows=rows, progress=progress)
        return
    module = BOOKS[name]
    with swapped_in(path) as second, tempfile.TemporaryDirectory() as folder:
        first = Path(folder, "first.xlsx")
        _write(module, first, units, filled, {})
        _compute(first, progress)
        _write(module, second, units, filled, _stored(first))
        _compute(second, progress)


def _compute(path: Path, progress: Callable[[int, int, str], None] | None) -> None:
    report = recalculate(path, progress=progress)
    if not report.ok:
        found = "; ".join(f"{p.sheet}!{p.cell}: {p.why}" for p in report.problems[:5])
        raise UnreadableError(f"the workbook as written cannot be computed: {found}")


def _write(module: ModuleType, path: Path, units: str, filled: bool, values: Values) -> None:
    book = Book(path, module.TITLE, module.QUESTION, values, filled=filled)
    module.build(book, units, filled=filled)
    units_sheet(book)
    book.close()


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
