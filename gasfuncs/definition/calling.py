"""Runs a calculation on values in SI and tells its answer in a unit."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from gasfuncs.definition.record import Columns, Record
from gasfuncs.definition.terms import Quantity, from_si
from gasfuncs.errors import CellError, GasFuncsError, NoSolutionError
from gasfuncs.properties import Gas
from gasfuncs.units import Unit


def gas_of(term: Any, values: Mapping[str, Any]) -> Gas | None:
    """The gas that a quantity is an amount of, among the arguments read so far."""
    return values.get(term.of) if isinstance(term, Quantity) else values.get("gas")


def answer_unit(definition: Record, values: dict[str, Any]) -> Unit | None:
    """Takes the unit to answer in out of the arguments, as a unit of the result's kind."""
    label = values.pop("unit", None) if isinstance(definition.result, Quantity) else None
    if label is None or not isinstance(definition.result, Quantity):
        return None
    try:
        return definition.result.kind.unit(label)
    except GasFuncsError as error:
        raise error.about("unit") from None


def calculate(definition: Record, values: Mapping[str, Any]) -> Any:
    """The calculation's answer in SI; arithmetic that fails is a GasFuncsError too."""
    named = dict(values)
    further = [named.pop(p.name) for p in definition.parameters if p.variadic]
    try:
        with np.errstate(all="ignore"):
            if further:
                return definition.calculation(*named.values(), *further[0])
            return definition.calculation(**named)
    except ArithmeticError:
        raise no_answer() from None


def no_answer() -> NoSolutionError:
    """The refusal where the arithmetic gives no finite number."""
    return NoSolutionError("these inputs have no finite answer")


def in_unit(result: Any, unit: Unit | None, gas: Gas | None) -> Any:
    """One answer as a cell holds it."""
    if isinstance(result, str | bool | list | CellError):
        return result
    number = float(result)
    if not math.isfinite(number):
        raise no_answer()
    return float(from_si(number, unit, gas)) if unit else number


def table(columns: Columns, rows: Sequence[Sequence[Any]], gas: Gas | None) -> list[list[Any]]:
    """A table in the columns' units, below its headings."""
    terms = [column.term for column in columns.columns]
    units = [term.default if isinstance(term, Quantity) else None for term in terms]
    body = [_cells(*column, gas) for column in zip(zip(*rows, strict=True), units, strict=False)]
    return [[c.heading for c in columns.columns], *map(list, zip(*body, strict=True))]


def _cells(values: Sequence[Any], unit: Unit | None, gas: Gas | None) -> list[Any]:
    """A table's column in its unit; numbers alone all at once."""
    if set(map(type, values)) == {float}:
        numbers = np.array(values)
        if np.isfinite(numbers).all():
            return list((from_si(numbers, unit, gas) if unit else numbers).tolist())
    return [None if value is None else in_unit(value, unit, gas) for value in values]
