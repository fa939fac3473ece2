"""Evaluates a definition over ranges.

A column is calculated in one call. Rows are told apart only by what is not a number (the gas, a
choice, the unit to answer in); a row that is refused gets its own error and leaves the others
be.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain
from math import prod
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.calling import answer_unit, calculate, gas_of, no_answer
from gasfuncs.definition.reading import Errors, Rows, is_blank, read, read_numbers
from gasfuncs.definition.record import Parameter, Record
from gasfuncs.definition.terms import Number, from_si
from gasfuncs.errors import CellError, GasFuncsError, ShapeError, TooLongError
from gasfuncs.units import shown

Columns = dict[str, NDArray[Any]]

ROWS_AT_ONCE = 8192
"""So many rows are calculated together: their columns stay in the processor's cache, and a row
that is refused holds up no others."""

MOST_CELLS = 2_000_000
"""That ranges may spread to: twice the rows of a sheet. A longer column alone is taken."""

MOST_TOO_LONG = 3
"""Rows of a call that may take too long: then the rest is refused, not tried one by one."""


def is_range(value: Any) -> bool:
    """Whether a value is a list, rows or an array rather than one cell."""
    return isinstance(value, list | tuple | range) or bool(getattr(value, "ndim", 0))


def as_array(value: Any) -> NDArray[Any]:
    """A range as an array: floats where it came as floats, else the cells' own values."""
    if isinstance(value, np.ndarray):
        return _with_own_values(value)
    if hasattr(value, "to_numpy"):
        return _with_own_values(_of_pandas(value))
    widths = {len(row) if isinstance(row, list | tuple) else None for row in value}
    if len(widths) > 1:
        raise ShapeError("the rows of a range must be equally long")
    width = widths.pop() if widths else None
    if width is None:
        return np.fromiter(value, dtype=object, count=len(value))
    cells = np.fromiter(chain.from_iterable(value), dtype=object, count=len(value) * width)
    return cells.reshape(len(value), width)


def _of_pandas(value: Any) -> NDArray[Any]:
    """A Series or DataFrame as an array; what pandas' own kinds of column tell missing is blank."""
    kind = getattr(value, "dtype", None)
    if kind is None or isinstance(kind, np.dtype) or not value.isna().any():
        return np.asarray(value.to_numpy())
    return np.asarray(value.to_numpy(dtype=object, na_value=None))


def _with_own_values(cells: NDArray[Any]) -> NDArray[Any]:
    """An array of days or texts as one of Python's dates and texts, None where there is no day."""
    if cells.dtype.kind == "M":
        cells = cells.astype("datetime64[us]")
    return cells if cells.dtype.kind in "fiuO" else cells.astype(object)


def rows_of(value: Any) -> list[list[Any]]:
    """The rows of a range as lists; a line of cells or a single cell is one row."""
    cells = as_array(value if is_range(value) else [value])
    return cells.reshape(-1, cells.shape[-1]).tolist() if cells.size else []


def common_shape(columns: Mapping[str, NDArray[Any]]) -> tuple[int, ...]:
    """The shape that the ranges spread to, by the rules of spreadsheets and NumPy."""
    try:
        shape = np.broadcast_shapes(*(column.shape for column in columns.values()))
    except ValueError:
        sizes = ", ".join(
            f"{name} {' x '.join(map(str, column.shape))}" for name, column in columns.items()
        )
        raise ShapeError(f"the ranges do not fit each other: {sizes}") from None
    if not prod(shape):
        raise ShapeError("a range is empty")
    if prod(shape) > max(MOST_CELLS, *(column.size for column in columns.values())):
        raise ShapeError(f"the ranges spread to {prod(shape)} cells, more than {MOST_CELLS}")
    return shape


def evaluate_ranges(definition: Record, bound: Mapping[str, Any]) -> tuple[NDArray[Any], Errors]:
    """Answers in the shape of the ranges, and the refusals by row."""
    ranges = {
        p.name: as_array(bound[p.name])
        for p in definition.parameters
        if not p.whole and is_range(bound[p.name])
    }
    shape = common_shape(ranges)
    columns = {name: np.broadcast_to(cells, shape).ravel() for name, cells in ranges.items()}
    answers: NDArray[Any] = np.full(prod(shape), np.nan, dtype=_kind(definition))
    errors = Errors()
    for fixed, rows in _groups(definition, columns, errors, prod(shape)):
        try:
            answers[rows] = _evaluate_rows(definition, bound, columns, fixed, rows, errors)
        except GasFuncsError as error:
            if not fixed:
                raise
            for row in rows.tolist():
                errors.setdefault(row, error)
    return answers.reshape(shape), errors


def _groups(
    definition: Record, columns: Columns, errors: Errors, count: int
) -> Iterator[tuple[dict[str, Any], Rows]]:
    """Rows that share everything that is not a number, with those values read; not too many."""
    telling = [p for p in definition.parameters if _tells_apart(p, columns.get(p.name))]
    if not telling:
        for start in range(0, count, ROWS_AT_ONCE):
            yield {}, np.arange(start, min(start + ROWS_AT_ONCE, count))
        return
    members: dict[tuple[Any, ...], list[int]] = {}
    keys = zip(*(_keys(p, columns[p.name]) for p in telling), strict=True)
    for row, key in enumerate(keys):
        members.setdefault(key, []).append(row)
    for rows in members.values():
        try:
            fixed = _read_row(telling, columns, rows[0])
        except GasFuncsError as error:
            errors.update(dict.fromkeys(rows, error))
            continue
        for start in range(0, len(rows), ROWS_AT_ONCE):
            yield fixed, np.array(rows[start : start + ROWS_AT_ONCE])


def _tells_apart(parameter: Parameter, column: NDArray[Any] | None) -> bool:
    if column is None:
        return False
    term, cells = parameter.term, column.dtype == object
    if not term.numeric or (parameter.default is None and cells):
        return True
    return term.mixed and cells and any(map(term.tells, column.tolist()))


def _keys(parameter: Parameter, column: NDArray[Any]) -> list[Any]:
    """What tells rows apart: of a number only whether it is blank, else the value and its type."""
    return [
        (type(value), value if isinstance(value, str | float | CellError) else shown(value))
        if parameter.term.tells(value)
        else is_blank(value)
        for value in column.tolist()
    ]


def _read_row(telling: list[Parameter], columns: Columns, row: int) -> dict[str, Any]:
    """What a row has besides numbers; a blank number is read too."""
    cells = [(p, columns[p.name][row]) for p in telling]
    return {p.name: read(p, cell, None) for p, cell in cells if _tells(p, cell)}


def _tells(parameter: Parameter, cell: Any) -> bool:
    return parameter.term.tells(cell) or is_blank(cell)


def _evaluate_rows(
    definition: Record,
    bound: Mapping[str, Any],
    columns: Columns,
    fixed: dict[str, Any],
    rows: Rows,
    errors: Errors,
) -> NDArray[Any]:
    """Answers to some rows that share everything that is not a number."""
    values: dict[str, Any] = {}
    varying: set[str] = set()
    for parameter in definition.gas_first:
        name = parameter.name
        if name in fixed:
            values[name] = fixed[name]
        elif name in columns:
            gas = gas_of(parameter.term, values)
            values[name] = read_numbers(parameter, columns[name], rows, gas, errors)
            varying.add(name)
        else:
            values[name] = read(parameter, bound[name], gas_of(parameter.term, values))
    definition = definition.asked_in(values.get("unit"))
    gas, unit = gas_of(definition.result, values), answer_unit(definition, values)
    results: NDArray[Any] = np.full(len(rows), np.nan, dtype=_kind(definition))
    good = np.ones(len(rows), dtype=bool)
    if errors:
        good[:] = [row not in errors for row in rows.tolist()]
    same = {name: value for name, value in values.items() if name not in varying}
    numbers = {name: values[name][good] for name in varying}
    results[good] = _run(definition, same, numbers, rows[good], errors)
    if not isinstance(definition.result, Number):
        return results
    for row in rows[~np.isfinite(results)].tolist():
        errors.setdefault(row, no_answer())
    return np.asarray(from_si(results, unit, gas) if unit else results)


def _kind(definition: Record) -> type:
    """What an array of answers holds."""
    return float if isinstance(definition.result, Number) else object


def _run(
    definition: Record,
    same: dict[str, Any],
    varying: dict[str, NDArray[np.float64]],
    rows: Rows,
    errors: Errors,
) -> Any:
    """Results by row; a refusal is narrowed down by halving until it stands at its own row."""
    if not len(rows):
        return []
    if errors.too_long >= MOST_TOO_LONG:
        errors.update(dict.fromkeys(rows.tolist(), _not_tried()))
        return np.nan
    single = len(rows) == 1 or not varying
    if definition.scalar and not single:
        return _halves(definition, same, varying, rows, errors)
    numbers = {n: float(v[0]) for n, v in varying.items()} if single else varying
    try:
        return calculate(definition, same | numbers)
    except GasFuncsError as error:
        if single:
            errors.update(dict.fromkeys(rows.tolist(), error))
            errors.too_long += isinstance(error, TooLongError)
            return np.nan
        told = len(error.by_row) == len(rows)
        parts = (definition, same, varying, rows, errors)
        return _rest(*parts, error) if told else _halves(*parts)


def _rest(
    definition: Record,
    same: dict[str, Any],
    varying: dict[str, NDArray[np.float64]],
    rows: Rows,
    errors: Errors,
    error: GasFuncsError,
) -> NDArray[Any]:
    """Answers of the rows that an error leaves; the others have been told theirs."""
    refused = [error.of_row(place) for place in range(len(rows))]
    errors.update({row: each for row, each in zip(rows.tolist(), refused, strict=True) if each})
    good = np.array([each is None for each in refused])
    out: NDArray[Any] = np.full(len(rows), np.nan, dtype=_kind(definition))
    part = {name: column[good] for name, column in varying.items()}
    out[good] = _run(definition, same, part, rows[good], errors)
    return out


def _not_tried() -> TooLongError:
    return TooLongError(f"not tried: {MOST_TOO_LONG} rows of this column took too long already")


def _halves(
    definition: Record,
    same: dict[str, Any],
    varying: dict[str, NDArray[np.float64]],
    rows: Rows,
    errors: Errors,
) -> NDArray[Any]:
    middle = len(rows) // 2
    out: NDArray[Any] = np.empty(len(rows), dtype=_kind(definition))
    for half in (slice(None, middle), slice(middle, None)):
        part = {name: column[half] for name, column in varying.items()}
        out[half] = _run(definition, same, part, rows[half], errors)
    return out
