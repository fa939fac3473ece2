"""The cells of a workbook while it is computed: values by column, and areas of them.

A cell's value is a float, a text, a logical value, a CellError or None. Where it is none of these
the cell is not computed yet, or cannot be: reading it goes through `Book.ask`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from functools import cached_property
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.addresses import MAX_COLUMN, MAX_ROW, Area, cell_name
from gasfuncs.hosts.headless.values import ERROR_SENTENCES, CellValue

Table = list[list[CellValue]]

MOST_CELLS = 2**21
"""Of an area whose cells are taken one by one, blank ones too: two whole columns."""

VALUE_CLASSES = frozenset({float, str, bool, CellError, type(None)})


class FailedError(Exception):
    """A formula's value is an error; raised while it is computed, instead of handing it on."""

    def __init__(self, error: CellError | str, message: str = "") -> None:
        super().__init__(error)
        self.error = CellError(error, message) if isinstance(error, str) else error


class UncomputableError(Exception):
    """A cell whose value cannot be told, so that nothing may be stored for it."""


class Grid:
    """The cells of one sheet."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.columns: defaultdict[int, dict[int, Any]] = defaultdict(dict)
        self.last_row = 1
        self.last_column = 1
        self.hidden_rows: frozenset[int] = frozenset()
        self.filtered = False
        self.waiting_spills: list[tuple[int, int]] = []
        """Cells of arrays that are not computed yet; they may fill blank cells."""

    def put(self, row: int, column: int, value: Any) -> None:
        self.columns[column][row] = value
        self.reach(row, column)

    def reach(self, row: int, column: int) -> None:
        """The sheet is used as far as this cell."""
        self.last_row = max(self.last_row, row)
        self.last_column = max(self.last_column, column)


class Range:
    """An area of cells, given to a function as it is."""

    def __init__(self, book: Any, grid: Grid, area: Area) -> None:
        self.book = book
        self.grid = grid
        self.area = area

    @property
    def rows(self) -> int:
        return self.area.row2 - self.area.row1 + 1

    @property
    def columns(self) -> int:
        return self.area.column2 - self.area.column1 + 1

    @property
    def single(self) -> bool:
        return self.rows == 1 and self.columns == 1

    def cell(self, row: int, column: int) -> CellValue:
        """The value of a cell by its place in the area, from 0."""
        value: CellValue = self.grid.columns[self.area.column1 + column].get(self.area.row1 + row)
        if value.__class__ in VALUE_CLASSES and (value is not None or not self.grid.waiting_spills):
            return value
        place = (self.area.row1 + row, self.area.column1 + column)
        return self.book.ask(self.grid, *place)  # type: ignore[no-any-return]

    def part(self, row: int, column: int, rows: int, columns: int) -> Range:
        """An area by its place from this one's first cell; #REF! beyond the sheet."""
        row, column = self.area.row1 + row, self.area.column1 + column
        last_row, last_column = row + rows - 1, column + columns - 1
        inside = 1 <= row <= last_row <= MAX_ROW and 1 <= column <= last_column <= MAX_COLUMN
        if not inside:
            raise FailedError("#REF!")
        return Range(self.book, self.grid, Area(row, column, last_row, last_column))

    @cached_property
    def used(self) -> list[list[CellValue]]:
        """The values column by column, as far as the sheet is used."""
        grid, area = self.grid, self.area
        if grid.waiting_spills:
            self.book.settle_spills(grid, area.row2, area.column2, area)
        last_row, last_column = min(area.row2, grid.last_row), min(area.column2, grid.last_column)
        rows = range(area.row1, last_row + 1)
        found: list[list[CellValue]] = []
        for column in range(area.column1, last_column + 1):
            cells = grid.columns.get(column)
            if cells is None:
                found.append([None] * len(rows))
                continue
            values = list(map(cells.get, rows))
            if not VALUE_CLASSES.issuperset(map(type, values)):
                values = [
                    v if type(v) in VALUE_CLASSES else self.book.ask(grid, row, column)
                    for v, row in zip(values, rows, strict=True)
                ]
            found.append(values)
        return found

    @cached_property
    def values(self) -> list[CellValue]:
        """The values that are there, row by row, without blank cells."""
        columns = self.used
        if len(columns) == 1:
            return [value for value in columns[0] if value is not None]
        lines = zip(*columns, strict=True)
        return [value for line in lines for value in line if value is not None]

    @cached_property
    def table(self) -> Table:
        """All values as rows, blank cells up to the area's end included."""
        if self.rows * self.columns > MOST_CELLS:
            raise UncomputableError(
                f"it takes all of an area of {self.rows * self.columns:,} cells; {MOST_CELLS:,} "
                "are the most here. Name the rows that are in use"
            )
        columns = self.used
        table = [list(line) for line in zip(*columns, strict=True)] if columns else []
        short = self.columns - len(columns)
        if short:
            table = [line + [None] * short for line in table]
        return table + [[None] * self.columns for _ in range(self.rows - len(table))]

    @cached_property
    def memo(self) -> dict[Any, Any]:
        """What functions keep to find values in it again."""
        return {}

    def given(self) -> Table:
        """The values for a function of the library: to the sheet's edge only as far as used."""
        if self.rows > 100_000 or self.columns > 1_000:
            used = [list(line) for line in zip(*self.used, strict=True)]
            return self._all_told(used or [[None]])
        return self._all_told(self.table)

    def _all_told(self, table: Table) -> Table:
        if not any(value.__class__ is CellError for line in table for value in line):
            return table
        return [[self.told(v, i, j) for j, v in enumerate(line)] for i, line in enumerate(table)]

    def told(self, value: CellValue, row: int, column: int) -> CellValue:
        """A value from a place of the area; an error with its cell and what it means."""
        if not isinstance(value, CellError):
            return value
        where = place_name(self.grid, self.area.row1 + row, self.area.column1 + column)
        what = ERROR_SENTENCES.get(value.code, "not computed")
        return CellError(value.code, f"{where} is {value.code}: {what}")

    def __str__(self) -> str:
        return f"{self.grid.name}!{self.area}"


class At:
    """The cell that a formula is computed for, and the variables in force."""

    __slots__ = ("column", "row", "variables")

    def __init__(self, row: int, column: int, variables: dict[str, Any] | None = None) -> None:
        self.row = row
        self.column = column
        self.variables = variables or {}


Formula = Callable[[At], Any]


def flat(argument: Any) -> Iterator[CellValue]:
    """The values of an argument that is taken whole; blank cells of areas left out."""
    if argument.__class__ is Range:
        yield from argument.values
    elif argument.__class__ is list:
        for row in argument:
            yield from row
    else:
        yield argument


def table_of(argument: Any) -> Table:
    """An argument as rows of values."""
    if argument.__class__ is Range:
        return argument.table
    return argument if argument.__class__ is list else [[argument]]


def place_name(grid: Grid, row: int, column: int) -> str:
    """A cell as `Sheet!B3`."""
    return f"{grid.name}!{cell_name(row, column)}"
