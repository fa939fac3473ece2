"""The working of a call, as rows of a table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from gasfuncs.definition import Definition, Parameter, Quantity, recorded
from gasfuncs.definition.calling import calculate, gas_of
from gasfuncs.definition.reading import is_blank, read
from gasfuncs.definition.terms import Term, to_si
from gasfuncs.errors import ShapeError, UnreadableError
from gasfuncs.units import shown

Row = list[Any]


def working_rows(definition: Definition, arguments: Sequence[Any]) -> list[Row]:
    """Part, what, symbol, given, value and unit: the call done step by step."""
    explained(definition)
    given = dict(
        zip((p.name for p in definition.parameters), map(_single, arguments), strict=False)
    )
    for parameter in definition.parameters:
        if isinstance(given.get(parameter.name), list | tuple) and not parameter.whole:
            raise ShapeError("the working is shown for a single value, not a range", parameter.name)
    if len(arguments) > len(definition.parameters):
        raise UnreadableError(f"too many arguments: {definition.usage}")
    values: dict[str, Any] = {}
    for parameter in definition.gas_first:
        gas = gas_of(parameter.term, values)
        values[parameter.name] = read(parameter, given.get(parameter.name), gas)
    answer = definition(*given.values())
    asked = {name: v for name, v in values.items() if not _is_unit(definition, name)}
    definition = definition.asked_in(values.get("unit"))
    with recorded() as steps:
        calculate(definition, asked)
    return [
        ["function", definition.summary, definition.name, None, None, None],
        ["equation", definition.equation, None, None, None, None],
        *(_input_row(p, given.get(p.name), values[p.name]) for p in definition.parameters),
        *(
            ["step", each.what, each.symbol, None, _number(each.value), each.unit or None]
            for each in steps
        ),
        *_result_rows(definition, answer, values),
        *(["source", str(each), None, None, None, None] for each in definition.sources),
        *(["caution", each, None, None, None, None] for each in definition.cautions),
    ]


def explained(definition: Definition) -> Definition:
    """A function that can be explained: not one of those that explain."""
    if any(parameter.variadic for parameter in definition.parameters):
        raise UnreadableError(
            f"{definition.name} explains other functions; name one of those", "function_name"
        )
    return definition


def _single(value: Any) -> Any:
    """One cell of a range of one; larger ranges stay as they are."""
    for _ in ("rows", "cells"):
        if isinstance(value, list | tuple) and len(value) == 1:
            value = value[0]
    return value


def _is_unit(definition: Definition, name: str) -> bool:
    return name == "unit" and isinstance(definition.result, Quantity)


def _input_row(parameter: Parameter, cell: Any, value: Any) -> Row:
    term = parameter.term
    given = "default" if is_blank(cell) else "a range" if parameter.whole else shown(cell)
    if value is None:
        return ["input", term.help, term.symbol, "blank", None, None]
    label = None if term.tells(cell) else _si_label(term)
    return ["input", term.help, term.symbol, given, _number(value), label]


def _si_label(term: Term) -> str | None:
    return term.kind.si_label if isinstance(term, Quantity) else None


def _number(value: Any) -> Any:
    """A value as the table shows it: a number, or text for what is none."""
    if value is None or isinstance(value, str | bool):
        return value
    array = np.asarray(value, dtype=object) if isinstance(value, list | tuple) else value
    if isinstance(array, np.ndarray) and array.size != 1:
        return f"{array.size} values" if array.size > 4 else shown(value)
    try:
        return float(value)
    except (TypeError, ValueError):
        return shown(value)


def _result_rows(definition: Definition, answer: Any, values: dict[str, Any]) -> Iterator[Row]:
    result = definition.result
    if isinstance(answer, list):
        yield ["result", result.help, None, None, f"{len(answer) - 1} rows", None]
        return
    symbol = result.symbol if isinstance(result, Term) else None
    label = values.get("unit") if isinstance(result, Quantity) else None
    yield ["result", result.help, symbol, None, answer, label]
    if isinstance(result, Quantity) and label is not None:
        gas = gas_of(result, values)
        si = to_si(answer, result.kind.unit(label), gas)
        yield ["result in SI", result.help, symbol, None, float(si), result.kind.si_label]
