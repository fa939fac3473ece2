"""Calls a definition with what a cell or a line of Python holds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import prod
from typing import Any

import numpy as np

from gasfuncs.definition.calling import answer_unit, calculate, gas_of, in_unit, table
from gasfuncs.definition.ranges import as_array, evaluate_ranges, is_range
from gasfuncs.definition.reading import Errors, HandedOnError, read
from gasfuncs.definition.record import Record
from gasfuncs.errors import CellError, GasFuncsError, ShapeError, UnreadableError

MOST_TOLD = 3
"""Rows that are refused, of which a message tells."""


def answer(
    definition: Record,
    arguments: Sequence[Any],
    named: Mapping[str, Any],
    *,
    keep_errors: bool = False,
) -> Any:
    """The answer to a call from Python: a number, an array, text or a list of rows.

    Rows that are refused raise their errors or, where asked for, are kept as CellError.
    """
    values, errors = _evaluate(definition, _bind(definition, arguments, named))
    if definition.spills and not keep_errors:
        _raise_refused(values)
    if not errors:
        return values
    if not keep_errors:
        raise _counted(errors, values.size)
    kept = values.astype(object)
    for row, error in errors.items():
        kept.ravel()[row] = _cell_error(error)
    return kept


def _raise_refused(rows: list[list[Any]]) -> None:
    """Raise the first error that stands in a table's cell."""
    for row in rows:
        for value in row:
            if isinstance(value, CellError):
                raise HandedOnError(value)


def _counted(errors: Errors, count: int) -> GasFuncsError:
    """The first refusal, which also tells how many there are and of some of the others."""
    first, *others = sorted(errors)
    error = errors[first]
    error.sentence += f" (item {first + 1} of the range)"
    if others:
        told = "; ".join(f"item {row + 1}: {errors[row]}" for row in others[: MOST_TOLD - 1])
        error.sentence += f"; {len(errors)} of {count} items are refused, the next are {told}"
    return error


def cells(definition: Record, arguments: Sequence[Any]) -> Any:
    """The answer to a call from a spreadsheet: errors are values in their cells."""
    try:
        values, errors = _evaluate(definition, _bind(definition, arguments, {}))
    except GasFuncsError as error:
        return _cell_error(error)
    except Exception as error:  # a spreadsheet must never see an exception
        return CellError("#VALUE!", f"{definition.name} failed ({type(error).__name__}: {error})")
    if not isinstance(values, np.ndarray):
        return values
    flat = values.ravel().tolist()
    for row, refused in errors.items():
        flat[row] = _cell_error(refused)
    width = values.shape[-1]
    return [flat[start : start + width] for start in range(0, len(flat), width)]


def _cell_error(error: GasFuncsError) -> CellError:
    return error.error if isinstance(error, HandedOnError) else CellError.of(error)


def _bind(definition: Record, arguments: Sequence[Any], named: Mapping[str, Any]) -> dict[str, Any]:
    """Arguments by parameter name, blank where left out."""
    parameters = definition.parameters
    if parameters and parameters[-1].variadic:
        fixed = len(parameters) - 1
        if len(arguments) > fixed:
            arguments = (*arguments[:fixed], tuple(arguments[fixed:]))
    if len(arguments) > len(parameters):
        raise UnreadableError(
            f"{definition.name} takes {len(parameters)} arguments at most, not {len(arguments)}: "
            f"{definition.usage}"
        )
    bound: dict[str, Any] = dict.fromkeys((p.name for p in parameters), None)
    bound.update(zip(bound, arguments, strict=False))
    given = list(bound)[: len(arguments)]
    for name, value in named.items():
        if name not in bound:
            raise UnreadableError(f"{definition.name} has no argument {name}: {definition.usage}")
        if name in given:
            raise UnreadableError("is given twice", name)
        bound[name] = value
    return bound


@np.errstate(all="ignore")
def _evaluate(definition: Record, bound: dict[str, Any]) -> tuple[Any, Errors]:
    ranges = [p.name for p in definition.parameters if not p.whole and is_range(bound[p.name])]
    if ranges and not definition.spills:
        return evaluate_ranges(definition, bound)
    for name in ranges:
        cells = as_array(bound[name])
        if prod(cells.shape) != 1:
            raise ShapeError("takes a single value, not a range", name)
        bound[name] = cells.ravel()[0]
    return _evaluate_one(definition, bound), Errors()


def _evaluate_one(definition: Record, bound: dict[str, Any]) -> Any:
    values: dict[str, Any] = {}
    for parameter in definition.gas_first:
        values[parameter.name] = read(
            parameter, bound[parameter.name], gas_of(parameter.term, values)
        )
    definition = definition.asked_in(values.get("unit"))
    gas = gas_of(definition.result, values)
    unit = answer_unit(definition, values)
    result = calculate(definition, values)
    if definition.spills:
        return table(definition.result, result, gas)  # type: ignore[arg-type]
    return in_unit(result, unit, gas)
