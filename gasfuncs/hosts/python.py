"""Python as a host: every worksheet function as a function with a signature, help and types."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from inspect import Parameter, Signature
from typing import Any

import numpy as np

from gasfuncs.definition import Columns, Definition, evaluate
from gasfuncs.definition.terms import DAY_ZERO, Date, Term
from gasfuncs.errors import ShapeError, UnreadableError

ERRORS = "errors"
RAISE, CELLS = "raise", "cells"


@cache
def python_function(definition: Definition) -> Callable[..., Any]:
    """The function as Python calls it."""

    def call(*arguments: Any, errors: str = RAISE, **named: Any) -> Any:
        if errors not in (RAISE, CELLS):
            raise UnreadableError(f'"{errors}" may be "{RAISE}" or "{CELLS}"', ERRORS)
        index = _common_index([*arguments, *named.values()])
        answer = evaluate.answer(definition, arguments, named, keep_errors=errors == CELLS)
        answer = _with_dates(definition, answer)
        return answer if index is None else _series(definition, answer, index)

    call.__name__ = call.__qualname__ = definition.name
    call.__module__ = "gasfuncs"
    call.__doc__ = documentation(definition)
    call.__signature__ = signature(definition)  # type: ignore[attr-defined]
    return call


def signature(definition: Definition) -> Signature:
    """The arguments; a blank one is None and means its default."""
    return Signature([*_parameters(definition), _errors_parameter()])


def _parameters(definition: Definition) -> Iterator[Parameter]:
    for parameter in definition.parameters:
        if parameter.variadic:
            yield Parameter(parameter.name, Parameter.VAR_POSITIONAL)
        else:
            default = Parameter.empty if parameter.required else None
            yield Parameter(parameter.name, Parameter.POSITIONAL_OR_KEYWORD, default=default)


def _errors_parameter() -> Parameter:
    return Parameter(ERRORS, Parameter.KEYWORD_ONLY, default=RAISE)


def documentation(definition: Definition) -> str:
    """The text that help() shows."""
    arguments = [f"    {p.name}: {p.description}" for p in definition.parameters]
    arguments.append(
        f'    {ERRORS}: "{RAISE}", or "{CELLS}" to keep good rows beside the errors of bad ones'
    )
    result = definition.result
    unit = f", in {result.unit_label}" if isinstance(result, Term) and result.unit_label else ""
    parts = [
        f"{definition.summary}.",
        "\n".join(["Arguments:", *arguments]),
        f"Answers: {result.help}{unit}",
        f"Equation: {definition.equation}",
        f"Example: {definition.example.formula} gives {definition.example.answer}",
        *(f"Caution: {caution}" for caution in definition.cautions),
        *(f"Source: {source}" for source in definition.sources),
    ]
    return "\n\n".join(parts)


def _common_index(values: Sequence[Any]) -> Any:
    """The index of the pandas Series among the arguments, if there is one."""
    indices = [value.index for value in values if _is_series(value)]
    for index in indices[1:]:
        if not index.equals(indices[0]):
            raise ShapeError("the Series have different indices; give them one index")
    return indices[0] if indices else None


def _is_series(value: Any) -> bool:
    return hasattr(value, "to_numpy") and hasattr(value, "index") and getattr(value, "ndim", 0) == 1


def _series(definition: Definition, answer: Any, index: Any) -> Any:
    import pandas as pd

    if not isinstance(answer, np.ndarray) or answer.shape != (len(index),):
        return answer
    return pd.Series(answer, index=index, name=definition.name)


def _with_dates(definition: Definition, answer: Any) -> Any:
    """Serial days as dates, where the function answers days."""
    result = definition.result
    if isinstance(result, Columns):
        dated = {n for n, column in enumerate(result.columns) if isinstance(column.term, Date)}
        return [answer[0], *(_dated(row, dated) for row in answer[1:])]
    if not isinstance(result, Date):
        return answer
    if isinstance(answer, np.ndarray):
        dates = [_date(value) for value in answer.ravel().tolist()]
        return np.array(dates, dtype=object).reshape(answer.shape)
    return _date(answer)


def _dated(row: Sequence[Any], columns: set[int]) -> list[Any]:
    return [_date(value) if place in columns else value for place, value in enumerate(row)]


def _date(value: Any) -> Any:
    """A day, or a day and time, of a serial number; anything else as it is."""
    if not isinstance(value, int | float):
        return value
    moment = DAY_ZERO + dt.timedelta(days=value)
    return moment.date() if float(value).is_integer() else moment
