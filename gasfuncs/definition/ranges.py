"""Evaluates a definition over ranges.

A column is calculated in one call. Rows are told apart only by what is not a number (the gas, a
choice, the unit to answer in); a row that is refused gets its own error and leaves the others
be.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import prod
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.calling import answer_unit, calculate, gas_of, no_answer
from gasfuncs.definition.reading import Errors, Rows, is_blank, read, read_numbers
from gasfuncs.definition.terms import Number, from_si
from gasfuncs.errors import GasFuncsError, ShapeError

if TYPE_CHECKING:
    from gasfuncs.definition.record import Definition, Parameter

Columns = dict[str, NDArray[Any]]


def is_range(value: Any) -> bool:
    """Whether a value is a list, rows or an array rather than one cell."""
    return isinstance(value, list | tuple) or bool(getattr(value, "ndim", 0))


def as_array(value: Any) -> NDArray[Any]:
    """A range as an array: floats where it came as floats, else the cells' own values."""
    if isinstance(value, np.ndarray):
        return value
    if hasattr(value, "to_numpy"):
        return np.asarray(value.to_numpy())
    widths = {len(row) if isinstance(row, list | tuple) else None for row in value}
    if len(widths) > 1:
        raise ShapeError("the rows of a range must be equally long")
    width = widths.pop() if widths else None
    array = np.empty(len(value) if width is None else (len(value), width), dtype=object)
    array[:] = value
    return array


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
    return shape


def evaluate_ranges(
    definition: Definition, bound: Mapping[str, Any]
) -> tuple[NDArray[Any], Errors]:
    """Answers in the shape of the ranges, and the refusals by row."""
    ranges = {
        p.name: as_array(bound[p.name])
        for p in definition.parameters
        if not p.whole and is_range(bound[p.name])
    }
    shape = common_shape(ranges)
    columns = {name: np.broadcast_to(cells, shape).ravel() for name, cells in ranges.items()}
    numbers = isinstance(definition.result, Number)
    answers: NDArray[Any] = np.full(prod(shape), np.nan, dtype=float if numbers else object)
    errors: Errors = {}
    for fixed, rows in _groups(definition, columns, errors, prod(shape)):
        try:
            answers[rows] = _evaluate_group(definition, bound, columns, fixed, rows, errors)
        except GasFuncsError as error:
            if not fixed:
                raise
            for row in rows.tolist():
                errors.setdefault(row, error)
    return answers.reshape(shape), errors


def _groups(
    definition: Definition, columns: Columns, errors: Errors, count: int
) -> Sequence[tuple[dict[str, Any], Rows]]:
    """Rows that share everything that is not a number, with those values read."""
    telling = [p for p in definition.parameters if p.name in columns and _tells_apart(p)]
    members: dict[tuple[Any, ...], list[int]] = {}
    keys = zip(*(_keys(p, columns[p.name]) for p in telling), strict=True)
    for row, key in enumerate(keys if telling else [()] * count):
        members.setdefault(key, []).append(row)
    groups = []
    for key, rows in members.items():
        try:
            groups.append((_read_key(telling, key), np.array(rows)))
        except GasFuncsError as error:
            errors.update(dict.fromkeys(rows, error))
    return groups


_GIVEN = object()
"""Stands in a key for any number, where only blank or not tells rows apart."""


def _tells_apart(parameter: Parameter) -> bool:
    return not parameter.term.numeric or parameter.default is None


def _keys(parameter: Parameter, column: NDArray[Any]) -> list[Any]:
    if parameter.term.numeric:
        return [None if is_blank(value) else _GIVEN for value in column.tolist()]
    return [value if value.__hash__ else str(value) for value in column.tolist()]


def _read_key(telling: list[Parameter], key: tuple[Any, ...]) -> dict[str, Any]:
    pairs = zip(telling, key, strict=True)
    return {p.name: read(p, value, None) for p, value in pairs if value is not _GIVEN}


def _evaluate_group(
    definition: Definition,
    bound: Mapping[str, Any],
    columns: Columns,
    fixed: dict[str, Any],
    rows: Rows,
    errors: Errors,
) -> NDArray[Any]:
    """Answers to rows that share everything that is not a number."""
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
    gas, unit = gas_of(definition.result, values), answer_unit(definition, values)
    results: NDArray[Any] = np.full(len(rows), np.nan, dtype=object)
    good = np.array([row not in errors for row in rows.tolist()], dtype=bool)
    same = {name: value for name, value in values.items() if name not in varying}
    numbers = {name: values[name][good] for name in varying}
    results[good] = _run(definition, same, numbers, rows[good], errors)
    if not isinstance(definition.result, Number):
        return results
    answers = results.astype(float)
    for row in rows[~np.isfinite(answers)].tolist():
        errors.setdefault(row, no_answer())
    return np.asarray(from_si(answers, unit, gas) if unit else answers)


def _run(
    definition: Definition,
    same: dict[str, Any],
    varying: dict[str, NDArray[np.float64]],
    rows: Rows,
    errors: Errors,
) -> Any:
    """Results by row; a refusal is narrowed down by halving until it stands at its own row."""
    if not len(rows):
        return []
    single = len(rows) == 1 or not varying
    if definition.scalar and not single:
        return _halves(definition, same, varying, rows, errors)
    numbers = {n: float(v[0]) for n, v in varying.items()} if single else varying
    try:
        return calculate(definition, same | numbers)
    except GasFuncsError as error:
        if single:
            errors.update(dict.fromkeys(rows.tolist(), error))
            return np.nan
        return _halves(definition, same, varying, rows, errors)


def _halves(
    definition: Definition,
    same: dict[str, Any],
    varying: dict[str, NDArray[np.float64]],
    rows: Rows,
    errors: Errors,
) -> NDArray[Any]:
    middle = len(rows) // 2
    out = np.empty(len(rows), dtype=object)
    for half in (slice(None, middle), slice(middle, None)):
        part = {name: column[half] for name, column in varying.items()}
        out[half] = _run(definition, same, part, rows[half], errors)
    return out
