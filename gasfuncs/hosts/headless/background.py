"""Which errors of a workbook lie in its background, where nobody looks for them."""

from __future__ import annotations

from functools import cached_property

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.book import Book
from gasfuncs.hosts.headless.cells import Grid
from gasfuncs.hosts.headless.package import Sheet, Table
from gasfuncs.hosts.headless.sheetxml import SheetText
from gasfuncs.hosts.headless.values import ASKED_FOR

GAP = ASKED_FOR
BLANK = "in rows where nothing is typed"
HIDDEN = "in what is hidden"


class Background:
    """The background of one sheet."""

    def __init__(self, book: Book, grid: Grid, text: SheetText) -> None:
        self._book = book
        self._grid = grid
        self._text = text

    def of(self, row: int, column: int, error: CellError) -> str:
        """In which part of the background an error lies; "" where it is to be seen."""
        if error.message == ASKED_FOR:
            return GAP
        if any((row, column) in table.area and self._is_blank(table, row) for table in self._typed):
            return BLANK
        hidden = self._sheet.hidden or column in self._hidden or row in self._grid.hidden_rows
        return HIDDEN if hidden else ""

    @property
    def _sheet(self) -> Sheet:
        return self._text.sheet

    @cached_property
    def _hidden(self) -> frozenset[int]:
        return frozenset(self._text.hidden_columns())

    @cached_property
    def _typed(self) -> dict[Table, list[int]]:
        """The tables and those of their columns whose first row is no formula."""
        found = {}
        for table in self._sheet.tables:
            first = table.area.row1 + table.headings
            columns = range(table.area.column1, table.area.column2 + 1)
            formulas = self._book.formula_columns(self._grid, first)
            found[table] = [column for column in columns if column not in formulas]
        return found

    def _is_blank(self, table: Table, row: int) -> bool:
        typed = self._typed[table]
        cells = self._grid.columns
        return bool(typed) and all(cells[column].get(row) in (None, "") for column in typed)
