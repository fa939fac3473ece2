"""The arguments that a function has in Excel."""

from __future__ import annotations

from collections.abc import Iterator
from inspect import Parameter
from typing import Any

from gasfuncs.definition import Definition
from gasfuncs.registry import worksheet_functions


def arguments_of(definition: Definition) -> Iterator[tuple[Parameter, str]]:
    """The arguments in Excel, each with its help text.

    Further arguments are so many optional ones: Visual Basic would hand over a ParamArray's cells
    by their displayed values, without all digits.
    """
    for parameter in definition.parameters:
        if parameter.variadic:
            for number in range(1, most_arguments() + 1):
                yield _argument(f"{parameter.name}{number}", None), parameter.description
        else:
            default = Parameter.empty if parameter.required else None
            yield _argument(parameter.name, default), parameter.description


def _argument(name: str, default: Any) -> Parameter:
    return Parameter(name, Parameter.POSITIONAL_OR_KEYWORD, default=default)


def most_arguments() -> int:
    """How many arguments the function with most of them takes."""
    return max(len(definition.parameters) for definition in worksheet_functions().values())
