"""A row or column of numbers that is taken whole, such as the use on every day of a plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import KW_ONLY, dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.ranges import as_array, is_range
from gasfuncs.definition.reading import NEEDED, HandedOnError, is_blank, read_cell
from gasfuncs.definition.terms import Cell, Number, Term
from gasfuncs.errors import GasFuncsError, ShapeError
from gasfuncs.properties import Gas

MOST_VALUES = 20_000


@dataclass(frozen=True)
class Series(Term):
    """A row or column of cells, each read by one term; a single cell is a series of one."""

    _: KW_ONLY
    each: Number
    blank: float | None = None
    """What a blank cell stands for; None where every cell must hold a value."""
    whole: bool = True

    @property
    def unit_label(self) -> str:  # type: ignore[override]
        return self.each.unit_label

    @property
    def by_gauge(self) -> bool:
        return self.each.by_gauge

    def read(self, value: Cell, gas: Gas | None = None) -> Any:
        values = line(value)
        filled = sum(not is_blank(value) for value in values)
        if filled > MOST_VALUES:
            raise ShapeError(f"holds {filled} values, more than {MOST_VALUES}; thin them out")
        if set(map(type, values)) <= {float} and not self.each.suspects(np.array(values)).any():
            return self.each.in_si(np.array(values), gas)
        return np.array([self._one(cell, item, gas) for item, cell in enumerate(values, 1)])

    def _one(self, cell: Cell, item: int, gas: Gas | None) -> float:
        blank = NEEDED if self.blank is None else self.blank
        try:
            return float(read_cell(self.each, cell, gas, blank=blank))
        except HandedOnError:
            raise
        except GasFuncsError as error:
            error.sentence += f" (item {item} of the range)"
            raise

    def allowed(self) -> str:
        return f"a row or column of: {self.each.allowed()}"


@dataclass(frozen=True)
class Kept:
    """Values of which some could not be read: those are not a number, with the reason by place."""

    values: NDArray[np.float64]
    reasons: Mapping[int, str] = field(default_factory=dict)


@dataclass(frozen=True)
class KeptSeries(Series):
    """A series in which a cell that cannot be read is left out, with its reason.

    Where no cell can be read the first one is refused.
    """

    def read(self, value: Cell, gas: Gas | None = None) -> Kept:
        cells = line(value)
        values, reasons, first = np.full(len(cells), np.nan), {}, None
        for place, cell in enumerate(cells):
            try:
                values[place] = self._one(cell, place + 1, gas)
            except GasFuncsError as error:
                reasons[place], first = str(error), first or error
        if first is not None and np.isnan(values).all():
            raise first
        return Kept(values, reasons)


def line(value: Cell) -> list[Cell]:
    """The cells of one row or one column; a single cell is a line of one."""
    cells = as_array(value if is_range(value) else [value])
    if not cells.size:
        raise ShapeError("is an empty range")
    if cells.size != max(cells.shape):
        raise ShapeError(f"must be one row or one column, not {' x '.join(map(str, cells.shape))}")
    return cells.ravel().tolist()
