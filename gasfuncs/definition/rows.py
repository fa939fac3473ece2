"""A range taken whole as rows of named columns, such as the tiers of a contract."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import KW_ONLY, dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.ranges import rows_of
from gasfuncs.definition.reading import NEEDED, HandedOnError, is_blank, read_cell
from gasfuncs.definition.terms import Cell, Term
from gasfuncs.errors import GasFuncsError, ShapeError, UnreadableError
from gasfuncs.properties import Gas
from gasfuncs.units import shown

MOST_ROWS = 20_000


@dataclass(frozen=True, slots=True)
class Field:
    """A column of the range: what its cells are, and what a blank one stands for."""

    name: str
    term: Term
    needed: bool = True
    blank: Any = None


@dataclass(frozen=True, slots=True)
class Records:
    """The rows that were filled: each a mapping of columns, its row in the range under "row"."""

    rows: tuple[dict[str, Any], ...] = ()
    _places: dict[str, dict[str, int]] = field(default_factory=dict, compare=False, repr=False)

    def __iter__(self) -> Iterator[dict[str, Any]]:
        return iter(self.rows)

    def __len__(self) -> int:
        return len(self.rows)

    def __str__(self) -> str:
        return f"{len(self)} rows"

    @property
    def size(self) -> int:
        """How many rows there are."""
        return len(self.rows)

    def column(self, name: str) -> NDArray[np.float64]:
        """The numbers of a column."""
        return np.array([row[name] for row in self.rows], dtype=float)

    def place_of(self, name: str, text: str) -> int:
        """The place of the first row with a text in a column, counted from 0; -1 where none is."""
        if name not in self._places:
            last_first = reversed(list(enumerate(self.rows)))
            self._places[name] = {row[name]: place for place, row in last_first}
        return self._places[name].get(text, -1)

    def at(self, place: int) -> dict[str, Any]:
        """The row at a place, counted from 0."""
        return self.rows[place]


@dataclass(frozen=True)
class Rows(Term):
    """A range of rows; blank rows and a row of headings are passed over."""

    _: KW_ONLY
    fields: tuple[Field, ...]
    whole: bool = True

    def read(self, value: Cell, gas: Gas | None = None) -> Records:
        """The rows; raises a GasFuncsError that names the row and the column."""
        names = [field.name for field in self.fields]
        filled = filled_rows(value, names, MOST_ROWS)
        return Records(tuple(self._record(number, row, gas) for number, row in filled))

    def allowed(self) -> str:
        return "rows of " + ", ".join(f.name if f.needed else f"[{f.name}]" for f in self.fields)

    def _record(self, number: int, row: list[Cell], gas: Gas | None) -> dict[str, Any]:
        cells = zip(self.fields, row, strict=True)
        return {"row": number} | {f.name: _read(number, f, cell, gas) for f, cell in cells}


def filled_rows(value: Cell, columns: Sequence[str], most: int) -> list[tuple[int, list[Cell]]]:
    """The rows that hold anything, by number, all columns wide; a row of headings is left out."""
    rows = rows_of(value)
    width = len(rows[0]) if rows else 0
    if width > len(columns):
        raise ShapeError(f"the range is {width} columns wide; its columns are {', '.join(columns)}")
    blanks = [None] * (len(columns) - width)
    filled = [(n, row + blanks) for n, row in enumerate(rows, 1) if not all(map(is_blank, row))]
    if filled and is_heading(filled[0][1][0], columns[0]):
        filled = filled[1:]
    if len(filled) > most:
        raise ShapeError(f"the range holds {len(filled)} rows, more than {most}")
    return filled


def is_heading(cell: Cell, word: str) -> bool:
    """Whether a cell holds the heading of its column."""
    return isinstance(cell, str) and cell.strip().lower() == word


def _read(number: int, field: Field, cell: Cell, gas: Gas | None) -> Any:
    blank = NEEDED if field.needed else field.blank
    return read_in_row(number, field.name, field.term, cell, gas, blank=blank)


def read_in_row(
    number: int, column: str, term: Term, cell: Cell, gas: Gas | None, *, blank: Any = NEEDED
) -> Any:
    """One cell by its term; what refuses it says in which row and column."""
    try:
        return read_cell(term, cell, gas, blank=blank)
    except HandedOnError:
        raise
    except GasFuncsError as error:
        error.sentence = f"row {number}, {column}: {error.sentence}"
        raise


def row_name(value: Cell) -> str:
    """A cell that names something, such as the number of a ticket, as text."""
    if isinstance(value, str):
        return value.strip()
    if type(value) in (int, float) and value == value // 1 and abs(value) < 1e15:
        return f"{value:.0f}"
    raise UnreadableError(f"{shown(value)} is neither a name nor a whole number")
