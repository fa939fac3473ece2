"""Reads what lets impurity into a gas from a range of cells: one row a source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, get_args

from gasfuncs.definition.ranges import as_array, is_range
from gasfuncs.definition.reading import HandedOnError, is_blank, read_cell
from gasfuncs.definition.terms import Cell, Term
from gasfuncs.definition.vocabulary import Fraction, LeakRate
from gasfuncs.errors import CellError, GasFuncsError, ShapeError, UnreadableError

COLUMNS = "name, inflow as a leak rate, share of the impurity in it (blank: all)"

MOST_SOURCES = 1_000


@dataclass(frozen=True, slots=True)
class ImpuritySource:
    """A source by name: Pa·m³/s of impurity."""

    name: str
    inflow: float


def _term(annotation: Any) -> Term:
    return next(note for note in get_args(annotation) if isinstance(note, Term))


def read_sources(value: Cell) -> list[ImpuritySource]:
    """The sources that a range of cells holds; blank rows are left out."""
    return [_source(number, row) for number, row in filled_rows(value)]


def filled_rows(value: Cell) -> list[tuple[int, list[Cell]]]:
    """The rows that hold anything, by their numbers."""
    cells = as_array(value if is_range(value) else [[value]])
    if cells.ndim != 2 or not 2 <= cells.shape[1] <= 3:
        raise ShapeError(f"must be a range of two or three columns: {COLUMNS}")
    rows = [(number, row) for number, row in enumerate(cells.tolist(), 1) if not _empty(row)]
    if not rows:
        raise ShapeError(f"is empty; give a row a source: {COLUMNS}")
    if len(rows) > MOST_SOURCES:
        raise ShapeError(f"holds {len(rows)} sources, more than {MOST_SOURCES}")
    return rows


def name_of(cell: Cell, number: int) -> str:
    """The name of the source in a row."""
    if is_blank(cell):
        return f"source {number}"
    return f"{cell:.15g}" if isinstance(cell, float) else str(cell)


def _empty(row: list[Cell]) -> bool:
    return all(is_blank(cell) for cell in row)


def _source(number: int, row: list[Cell]) -> ImpuritySource:
    for cell in row:
        if isinstance(cell, CellError):
            raise HandedOnError(cell)
    name, inflow, *more = row
    try:
        told = read_cell(_term(LeakRate), inflow, blank=None)
        if told is None:
            raise UnreadableError("has no inflow")
        share = read_cell(_term(Fraction), more[0], blank=1.0) if more else 1.0
        return ImpuritySource(name_of(name, number), told * share)
    except GasFuncsError as error:
        error.sentence += f" (row {number}, {name!s})"
        raise
