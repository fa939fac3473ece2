"""The workbooks by name."""

from __future__ import annotations

from pathlib import Path

from gasfuncs.errors import UnreadableError
from gasfuncs.units import shown
from gasfuncs.workbooks.sheets import building
from gasfuncs.workbooks.sheets.kinds import METRIC
from gasfuncs.workbooks.sheets.moving import Filled
from gasfuncs.workbooks.sheets.parts import Given


def titles() -> dict[str, tuple[str, str]]:
    """The title and the question of every workbook, by name."""
    return {name: (book.title, book.question) for name, book in building.BOOKS.items()}


def known(name: str) -> str:
    """The name of a workbook as it is here; raises UnreadableError for another."""
    plain = name.removesuffix(".xlsx")
    if plain not in building.BOOKS:
        raise UnreadableError(f'"{shown(name)}" is not a workbook here; use {", ".join(titles())}')
    return plain


def build(
    name: str,
    path: Path,
    units: str = "",
    *,
    filled: bool = True,
    source: Path | None = None,
    rows: int = 0,
    progress: building.Progress | None = None,
) -> None:
    """Write a workbook to a path, with every value stored; the path is replaced in one step.

    `source` is a filled one whose typed cells it takes, in its units or in others. Blank units are
    metric, or those of the source. `rows` is the length of its logs, where it is not to be the
    usual one, or that of the source.
    """
    book = building.BOOKS[known(name)]
    given = None if filled else Given()
    if source is not None:
        old = Filled(book, source)
        units, rows = units or old.units, rows or old.rows
        given = old.given(units)
    building.build(book, path, units or METRIC, given, rows=rows, progress=progress)
