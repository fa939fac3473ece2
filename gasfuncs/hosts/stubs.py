"""Type stubs of the package, written from the registry: `gasfuncs/__init__.pyi`."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from gasfuncs.definition import Columns, Definition
from gasfuncs.definition.terms import Date, Number
from gasfuncs.registry import worksheet_functions

HEAD = '''\
# Written by `gasfuncs build stubs`; a test holds it to the functions.
# mypy: disable-error-code="overload-overlap"
"""Industrial-gas calculations for vacuum heat treating, as worksheet functions and in Python."""

import datetime as dt
from collections.abc import Sequence
from typing import Any, Literal, overload

import numpy as np
from numpy.typing import NDArray

from gasfuncs.errors import CellError as CellError
from gasfuncs.errors import GasFuncsError as GasFuncsError

Cell = float | str | bool | dt.date | CellError | None
"""One value, as a cell holds it; None is a blank cell."""
Cells = Cell | Sequence[Any] | NDArray[Any] | Any
"""One value or a range: a list, rows of lists, an array, a pandas Series."""

__version__: str
__all__: list[str]
'''


def stubs() -> str:
    """The whole file."""
    functions = worksheet_functions().values()
    return "\n".join([HEAD, *(line for definition in functions for line in _function(definition))])


def _function(definition: Definition) -> Iterator[str]:
    if isinstance(definition.result, Columns) or all(p.whole for p in definition.parameters):
        yield _definition(definition, "Cells", _single(definition), documented=True)
        return
    yield "@overload"
    yield _definition(definition, "Cell", _single(definition), documented=True)
    yield "@overload"
    yield _definition(definition, "Cells", _many(definition), documented=False)


def _single(definition: Definition) -> str:
    result = definition.result
    if isinstance(result, Columns):
        return "list[list[Any]]"
    if isinstance(result, Date):
        return "dt.date"
    return "float" if isinstance(result, Number) else "str"


def _many(definition: Definition) -> str:
    plain = isinstance(definition.result, Number) and not isinstance(definition.result, Date)
    return "NDArray[np.float64]" if plain else "NDArray[Any]"


def _definition(definition: Definition, cell: str, answer: str, *, documented: bool) -> str:
    lines = [f"def {definition.name}("]
    for parameter in definition.parameters:
        star = "*" if parameter.variadic else ""
        kind = "Cells" if parameter.whole else cell
        default = "" if parameter.required or parameter.variadic else " = None"
        lines.append(f"    {star}{parameter.name}: {kind}{default},")
    if not any(p.variadic for p in definition.parameters):
        lines.append("    *,")
    lines.append('    errors: Literal["raise", "cells"] = "raise",')
    if not documented:
        return "\n".join([*lines, f") -> {answer}: ..."])
    return "\n".join([*lines, f") -> {answer}:", _doc(definition)])


def _doc(definition: Definition) -> str:
    """What an editor shows: the summary, and the arguments with their units."""
    arguments = [f"{p.name}: {p.description}" for p in definition.parameters]
    text = "\n".join([f'"""{definition.summary}.', "", *arguments, '"""'])
    return textwrap.indent(text.replace("\\", "\\\\"), "    ")
