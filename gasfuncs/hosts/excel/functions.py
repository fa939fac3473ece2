"""Makes the functions that xlwings calls, from the registry."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from inspect import Signature
from typing import Any

import xlwings
from xlwings.conversion import Accessor, Pipeline

from gasfuncs.hosts.excel.arguments import arguments_of
from gasfuncs.hosts.excel.cells import answer, argument, range_values
from gasfuncs.registry import worksheet_functions

CATEGORY = "Gas"
"""Where Excel's function dialog lists the functions."""


class CellValues(Accessor):
    """Reads an argument by Excel's Value2, blanks as None and errors as CellError."""

    @staticmethod
    def read(context: Any) -> None:
        if context.range is not None:
            context.value = range_values(context.range.api)
        context.value = argument(context.value)

    @classmethod
    def reader(cls, options: Any) -> Pipeline:  # noqa: ARG003 (xlwings passes them)
        return Pipeline([cls.read])


@cache
def excel_function(name: str) -> Callable[..., Any]:
    """The function of this name, with everything that xlwings must know of it."""
    definition = worksheet_functions()[name]
    arguments = list(arguments_of(definition))

    def call(*cells: Any) -> Any:
        return answer(definition.cells(*given(cells)))

    call.__name__ = name
    call.__doc__ = definition.summary
    call.__signature__ = Signature([parameter for parameter, _ in arguments])  # type: ignore[attr-defined]
    for parameter, description in arguments:
        xlwings.arg(parameter.name, convert=CellValues, doc=description)(call)
    return xlwings.func(category=CATEGORY)(call)  # last: each `arg` resets the category


def given(cells: Sequence[Any]) -> Sequence[Any]:
    """The arguments up to the last that is not blank."""
    last = max((place for place, cell in enumerate(cells, 1) if cell is not None), default=0)
    return cells[:last]
