"""Cell addresses: letters and numbers, cells and areas."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

MAX_ROW = 1_048_576
MAX_COLUMN = 16_384

_CELL = re.compile(r"\$?([A-Za-z]{1,3})\$?([0-9]{1,7})\Z")


@cache
def column_number(letters: str) -> int:
    """The number of a column, A being 1."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number


@cache
def column_letters(number: int) -> str:
    """The letters of a column."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def parse_cell(text: str) -> tuple[int, int]:
    """Row and column of an address such as `B3`."""
    match = _CELL.match(text)
    row, column = (int(match[2]), column_number(match[1])) if match else (0, 0)
    if not is_inside(row, column):
        raise ValueError(f"{text!r} is not a cell address")
    return row, column


def is_inside(row: int, column: int) -> bool:
    """Whether a sheet has such a cell."""
    return 1 <= row <= MAX_ROW and 1 <= column <= MAX_COLUMN


def cell_name(row: int, column: int) -> str:
    """The address of a cell, as `B3`."""
    return f"{column_letters(column)}{row}"


def quote_sheet(name: str) -> str:
    """A sheet's name as a formula quotes it."""
    return "'" + name.replace("'", "''") + "'"


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle of cells, both corners included."""

    row1: int
    column1: int
    row2: int
    column2: int

    @classmethod
    def parse(cls, text: str) -> Area:
        first, _, last = text.partition(":")
        row1, column1 = parse_cell(first)
        row2, column2 = parse_cell(last or first)
        if row2 < row1 or column2 < column1:
            raise ValueError(f"{text!r} is not an area of cells")
        return cls(row1, column1, row2, column2)

    @classmethod
    def sized(cls, row: int, column: int, rows: int, columns: int) -> Area:
        return cls(row, column, row + rows - 1, column + columns - 1)

    @property
    def rows(self) -> int:
        return self.row2 - self.row1 + 1

    @property
    def columns(self) -> int:
        return self.column2 - self.column1 + 1

    @property
    def size(self) -> int:
        """How many cells."""
        return self.rows * self.columns

    def __contains__(self, cell: tuple[int, int]) -> bool:
        row, column = cell
        return self.row1 <= row <= self.row2 and self.column1 <= column <= self.column2

    def meets(self, other: Area) -> bool:
        """Whether the two have a cell in common."""
        rows = self.row1 <= other.row2 and other.row1 <= self.row2
        return rows and self.column1 <= other.column2 and other.column1 <= self.column2

    def cells(self) -> list[tuple[int, int]]:
        return [
            (row, column)
            for row in range(self.row1, self.row2 + 1)
            for column in range(self.column1, self.column2 + 1)
        ]

    def __str__(self) -> str:
        first = cell_name(self.row1, self.column1)
        last = cell_name(self.row2, self.column2)
        return first if first == last else f"{first}:{last}"
