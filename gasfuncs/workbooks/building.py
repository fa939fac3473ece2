"""Builds the workbooks: twice each, so that every value and chart is stored."""

from __future__ import annotations

from pathlib import Path
from types import ModuleType

from gasfuncs.errors import UnreadableError
from gasfuncs.units import shown
from gasfuncs.workbooks.book import Book
from gasfuncs.workbooks.inputs import METRIC, units_sheet
from gasfuncs.workbooks.sheets import building as declared
from gasfuncs.workbooks.sheets.paper import Values
from gasfuncs.workbooks.sheets.parts import Given

BOOKS: dict[str, ModuleType] = {}
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
    progress: declared.Progress | None = None,
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

    def write_once(target: Path, values: Values) -> None:
        _write(module, target, units, filled, values)

    declared.written_twice(path, write_once, progress)


def _write(module: ModuleType, path: Path, units: str, filled: bool, values: Values) -> None:
    book = Book(path, module.TITLE, module.QUESTION, values, filled=filled)
    module.build(book, units, filled=filled)
    units_sheet(book)
    book.close()
