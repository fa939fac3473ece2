"""Reads cell values for a parameter: blanks, defaults, errors that name the argument."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.record import Parameter
from gasfuncs.definition.terms import Number, Term
from gasfuncs.errors import CellError, GasFuncsError, UnreadableError
from gasfuncs.properties import Gas


class Errors(dict[int, GasFuncsError]):
    """The refusals of a call by row."""

    too_long = 0
    """How many of its rows were given up because they took too long."""


Rows = NDArray[np.intp]


class HandedOnError(GasFuncsError):
    """An error that came in with an argument's cell."""

    def __init__(self, error: CellError) -> None:
        super().__init__(error.message or f"the argument is {error.code}")
        self.error = error


def is_blank(value: Any) -> bool:
    """Whether a cell holds nothing."""
    return value is None or (isinstance(value, str) and not value.strip())


NEEDED: Any = object()
"""Stands for a blank cell that is refused."""


def read_cell(term: Term, cell: Any, gas: Gas | None = None, *, blank: Any = NEEDED) -> Any:
    """One cell by its term, in SI; `blank` is what a blank one stands for."""
    if isinstance(cell, CellError):
        raise HandedOnError(cell)
    if not is_blank(cell):
        return term.read(cell, gas)
    if blank is NEEDED:
        raise UnreadableError("is blank")
    return blank


def read(parameter: Parameter, value: Any, gas: Gas | None) -> Any:
    """One cell's value for a parameter, in SI."""
    if parameter.variadic:
        return value if isinstance(value, tuple) else () if value is None else (value,)
    if is_blank(value):
        return _default(parameter)
    try:
        return read_cell(parameter.term, value, gas)
    except HandedOnError:
        raise
    except GasFuncsError as error:
        raise error.about(parameter.name) from None


def _default(parameter: Parameter) -> Any:
    if parameter.required:
        meant = parameter.term.help[:1].lower() + parameter.term.help[1:]
        raise UnreadableError(f"is blank; give the {meant}", parameter.name)
    return parameter.default


def read_numbers(
    parameter: Parameter, column: NDArray[Any], rows: Rows, gas: Gas | None, errors: Errors
) -> NDArray[np.float64]:
    """Some rows of a column in SI; a row that is refused is noted and left as it is."""
    values = column[rows]
    if values.dtype == object and not set(map(type, values.tolist())) <= {float, int}:
        return _read_each(parameter, values, rows, gas, errors)
    if values.dtype.kind not in "fiuO":
        raise UnreadableError("this range does not hold numbers", parameter.name)
    try:
        numbers = values.astype(float)
    except OverflowError:
        return _read_each(parameter, values, rows, gas, errors)
    term = parameter.term
    assert isinstance(term, Number)
    for index in np.flatnonzero(term.suspects(numbers)).tolist():
        try:
            term.checked(float(numbers[index]))
        except GasFuncsError as error:
            errors.setdefault(int(rows[index]), error.about(parameter.name))
    return term.in_si(numbers, gas)


def _read_each(
    parameter: Parameter, values: NDArray[Any], rows: Rows, gas: Gas | None, errors: Errors
) -> NDArray[np.float64]:
    out = np.zeros(len(rows))
    for index, value in enumerate(values.tolist()):
        try:
            out[index] = read(parameter, value, gas)
        except GasFuncsError as error:
            errors.setdefault(int(rows[index]), error)
    return out
