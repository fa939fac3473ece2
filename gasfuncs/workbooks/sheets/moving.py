"""What is typed in a filled book, to be written anew: with more rows, or in other units."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from gasfuncs.errors import CellError, UnreadableError
from gasfuncs.hosts.headless.addresses import cell_name
from gasfuncs.hosts.headless.entering import Contents, Place, TableRows, contents
from gasfuncs.workbooks.sheets.background import BELOW
from gasfuncs.workbooks.sheets.kinds import KINDS, SYSTEMS, US, metric, told
from gasfuncs.workbooks.sheets.layout import SPARE_LOG
from gasfuncs.workbooks.sheets.parts import Book, Form, Given, Table, inputs_of

DIGITS = 6
"""Of a number that is told in other units."""


class Filled:
    """A filled book: its units, the length of its logs, and what is typed in it.

    Raises UnreadableError where the file is another book.
    """

    def __init__(self, book: Book, path: Path) -> None:
        self._book, self._found = book, contents(path)
        self._tables = [
            part
            for sheet in book.sheets
            for part in sheet.parts
            if isinstance(part, Table) and part.typed
        ]
        theirs = self._found.named.get("Units")
        names = {table.name for table in self._tables}
        if theirs not in SYSTEMS or not names <= set(self._found.tables):
            raise UnreadableError(f"{path.name} is no {book.name} that gasfuncs has written")
        self.units = str(theirs)

    @property
    def rows(self) -> int:
        """The length of its longest log where that is more than usual, else 0."""
        longest = max(
            (len(self._found.tables[table.name].rows) for table in self._tables if table.log),
            default=0,
        )
        return longest if longest > SPARE_LOG else 0

    def given(self, units: str) -> Given:
        """What is typed in it, in metric units, for a book in these units.

        Raises UnreadableError where a typed cell holds an error.
        """
        found = self._found
        inputs = {name: _checked(found, name) for name in _names(self._book) if name in found.named}
        kinds = {each.name: each.kind for each in inputs_of(self._book)}
        return Given(
            inputs={
                name: _in_metric(value, kinds.get(name, "text"), self.units, units)
                for name, value in inputs.items()
            },
            tables={
                table.name: [
                    tuple(
                        _in_metric(value, column.kind, self.units, units)
                        for column, value in zip(table.typed, row, strict=True)
                    )
                    for row in _rows(table, found.tables[table.name])
                ]
                for table in self._tables
            },
        )


def _names(book: Book) -> Iterator[str]:
    """The names of what is typed outside of tables, with the signatures of forms."""
    yield from (each.name for each in inputs_of(book))
    for sheet in book.sheets:
        for part in sheet.parts:
            for point in part.points if isinstance(part, Form) else ():
                yield from (f"{point.found.name}_by", f"{point.found.name}_on")


def _checked(found: Contents, name: str) -> Any:
    return _no_error(found.named[name], *found.places[name])


def _no_error(value: Any, sheet: str, place: Place) -> Any:
    if isinstance(value, CellError):
        where = f"{sheet}!{cell_name(*place)}"
        raise UnreadableError(f"{where} holds {value}; mend it first, then write the book anew")
    return value


def _rows(table: Table, there: TableRows) -> list[tuple[Any, ...]]:
    """The typed rows; of a log also those that stand below its end."""
    last = there.rows.stop + (BELOW if table.log else 0)
    rows = [_row(table, there, row) for row in range(there.rows.start, last)]
    filled = [n for n, row in enumerate(rows, 1) if any(value not in (None, "") for value in row)]
    return rows[: max(filled, default=0)]


def _row(table: Table, there: TableRows, row: int) -> tuple[Any, ...]:
    """A row as the book has its columns now; one that the file does not have is blank."""
    return tuple(
        _no_error(there.value(row, each.name), there.sheet, (row, there.columns[each.name]))
        if each.name in there.columns
        else None
        for each in table.typed
    )


def _in_metric(value: Any, kind: str, theirs: str, units: str) -> Any:
    """A value of a book in metric units; for a book in other units a number has few digits."""
    of = KINDS[kind]
    if of.metric == of.us or isinstance(value, bool) or not isinstance(value, int | float):
        return value
    here = metric(value, kind) if theirs == US else float(value)
    if theirs == units:
        return here
    short = float(f"{told(here, kind, units):.{DIGITS}g}")
    return metric(short, kind) if units == US else short
