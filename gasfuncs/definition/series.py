"""A row or column of numbers that is taken whole, such as the use on every day of a plan."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.ranges import as_array, is_range
from gasfuncs.definition.reading import HandedOnError, is_blank
from gasfuncs.definition.terms import Cell, Number, Term
from gasfuncs.errors import CellError, GasFuncsError, ShapeError, UnreadableError
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

    def read(self, value: Cell, gas: Gas | None = None) -> NDArray[np.float64]:
        cells = as_array(value if is_range(value) else [value])
        if not cells.size:
            raise ShapeError("is an empty range")
        if cells.size != max(cells.shape):
            raise ShapeError(
                f"must be one row or one column, not {' x '.join(map(str, cells.shape))}"
            )
        values = cells.ravel().tolist()
        filled = sum(not is_blank(value) for value in values)
        if filled > MOST_VALUES:
            raise ShapeError(f"holds {filled} values, more than {MOST_VALUES}; thin them out")
        if set(map(type, values)) <= {float} and not self.each.suspects(np.array(values)).any():
            return self.each.in_si(np.array(values), gas)
        return np.array([self._one(cell, item, gas) for item, cell in enumerate(values, 1)])

    def _one(self, cell: Cell, item: int, gas: Gas | None) -> float:
        if is_blank(cell) and self.blank is not None:
            return self.blank
        if isinstance(cell, CellError):
            raise HandedOnError(cell)
        try:
            if is_blank(cell):
                raise UnreadableError("is blank")
            return self.each.read(cell, gas)
        except GasFuncsError as error:
            error.sentence += f" (item {item} of the range)"
            raise

    def allowed(self) -> str:
        return f"a row or column of: {self.each.allowed()}"
