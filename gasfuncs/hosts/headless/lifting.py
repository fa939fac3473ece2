"""Functions of single values done to arrays, element by element."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.cells import (
    MOST_CELLS,
    At,
    FailedError,
    Formula,
    Range,
    UncomputableError,
    table_of,
)
from gasfuncs.hosts.headless.natives.coercion import failed

MISSING = CellError("#N/A")


def guarded(function: Callable[..., Any], values: Sequence[Any]) -> Any:
    """A function's answer; arithmetic that fails is a spreadsheet's error."""
    try:
        result = function(*values)
    except ZeroDivisionError:
        raise FailedError("#DIV/0!") from None
    except (ValueError, OverflowError):
        raise FailedError("#NUM!") from None
    if result.__class__ is float and not math.isfinite(result):
        raise FailedError("#NUM!")
    return result


def lifted(
    function: Callable[..., Any],
    made: Sequence[Formula],
    single: Sequence[int] | None = None,
    tables: Sequence[int] = (),
    errors: bool = False,
) -> Formula:
    """A call; where an argument that is taken one value at a time is an array, an array.

    `single` are the places of these arguments, `tables` of those taken as rows; `errors` tells that
    the function takes errors too.
    """
    places = range(len(made)) if single is None else single

    def of(*values: Any) -> Any:
        if any(values[place].__class__ is list for place in places):
            return spread(function, values, places, errors)
        return guarded(function, values)

    def run(at: At) -> Any:
        values = [each(at) for each in made]
        for place in tables:
            values[place] = table_of(values[place])
        return of(*values)

    def run_one(at: At) -> Any:
        value = only(at)
        return of(value) if value.__class__ is list else guarded(function, (value,))

    def run_two(at: At) -> Any:
        one, other = first(at), second(at)
        if one.__class__ is list or other.__class__ is list:
            return of(one, other)
        return guarded(function, (one, other))

    chosen: Any = run
    if single is None and len(made) == 1:
        (only,), chosen = made, run_one
    elif single is None and len(made) == 2:
        (first, second), chosen = made, run_two
    chosen.of = of
    return chosen  # type: ignore[no-any-return]


def spread(
    function: Callable[..., Any], values: Sequence[Any], places: Sequence[int], errors: bool
) -> list[list[Any]]:
    """The function of each element; a single row, column or value is used again and again."""
    arrays = [values[place] for place in places if values[place].__class__ is list]
    rows, columns = max(map(len, arrays)), max(len(array[0]) for array in arrays)
    if rows * columns > MOST_CELLS:
        raise UncomputableError(f"it makes an array of {rows * columns:,} values")

    def element(i: int, j: int) -> Any:
        given = list(values)
        for place in places:
            given[place] = pick(values[place], i, j)
            if given[place].__class__ is CellError and not errors:
                return CellError(given[place].code)
        try:
            return one_value(guarded(function, given))
        except FailedError as error:
            return error.error

    return [[element(i, j) for j in range(columns)] for i in range(rows)]


def pick(value: Any, i: int, j: int) -> Any:
    """An element of an array; #N/A beyond it."""
    if value.__class__ is not list:
        return value
    i, j = (i if len(value) > 1 else 0), (j if len(value[0]) > 1 else 0)
    return value[i][j] if i < len(value) and j < len(value[0]) else MISSING


def one_value(value: Any) -> Any:
    """The first value of an array or area."""
    if value.__class__ is list:
        return value[0][0]
    return value.cell(0, 0) if value.__class__ is Range else value


def each_of(made: Formula, arrays: bool) -> Formula:
    """One value of what may be an area: in an array formula all of it, as an array; in a plain one
    what stands in the row or column of the formula's cell."""

    def each(at: At) -> Any:
        value = made(at)
        if value.__class__ is Range:
            if value.single:
                value = value.cell(0, 0)
            elif arrays:
                return value.table
            else:
                value = met(value, at)
        if value.__class__ is CellError:
            raise failed(value)
        return value

    return each


def met(area: Range, at: At) -> Any:
    """The cell of an area in the row or column of a formula."""
    place = area.area
    if place.column1 == place.column2 and place.row1 <= at.row <= place.row2:
        return area.cell(at.row - place.row1, 0)
    if place.row1 == place.row2 and place.column1 <= at.column <= place.column2:
        return area.cell(0, at.column - place.column1)
    raise FailedError("#VALUE!")
