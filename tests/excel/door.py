"""Calls the functions as Excel does, through xlwings, in a process that has the stubs.

The functions here run in that process; what goes in and comes out is plain data.
"""

from __future__ import annotations

import datetime as dt
import importlib
import math
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from multiprocessing import get_context
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from gasfuncs.hosts import formula
from tests.excel import stubs

MODULE = "gasfuncs.hosts.excel"
MISSING = -2_147_352_572
"""An argument left out, as pywin32 hands it over (DISP_E_PARAMNOTFOUND)."""

CAN_TAKE = (float, str, bool)
"""What an answer may consist of, for Excel to take it."""


@dataclass(frozen=True)
class Reference:
    """A reference to cells: what Excel's Value and Value2 give for them."""

    value: Any
    value2: Any = None
    cells: int = 0
    broken: bool = False
    used: int = 0


def refers(value: Any) -> Reference:
    """A reference to cells in which Value and Value2 are the same."""
    return Reference(value, value)


@cache
def _process() -> ProcessPoolExecutor:
    return ProcessPoolExecutor(1, get_context("spawn"), stubs.install)


def through(function: Callable[..., Any], *arguments: Any) -> Any:
    """What a function of this module answers in the process with the stubs."""
    return _process().submit(function, *arguments).result(timeout=300)


def call(name: str, *arguments: Any) -> Any:
    """What a cell shows that calls a function: a value, or rows of values."""
    return through(in_cell, name, arguments)


def in_cell(name: str, arguments: Sequence[Any]) -> Any:
    """What xlwings hands to Excel, after the wrapper in Visual Basic has handed it a call."""
    from xlwings.com_server import XLPython

    from gasfuncs.hosts import excel

    takes = getattr(excel, name).__xlfunc__["args"]
    assert len(arguments) <= len(takes), "Excel does not accept the formula"
    handed = [*map(_handed, arguments), *[MISSING] * (len(takes) - len(arguments))]
    caller = stubs.ExcelRange(None, None)
    server: Any = XLPython()
    shown = server.CallUDF(MODULE, name, tuple(handed), None, caller)
    for value in _values(shown):
        assert type(value) in CAN_TAKE, f"Excel cannot take {value!r}"
        assert not isinstance(value, float) or math.isfinite(value)
    return [shown] if isinstance(shown, list) and not isinstance(shown[0], list) else shown


def _handed(argument: Any) -> Any:
    """An argument as it arrives: arrays as tuples, one row of them flat."""
    if isinstance(argument, Reference):
        return stubs.ExcelRange(
            _com_time(argument.value), argument.value2,
            cells=argument.cells, broken=argument.broken, used=argument.used,
        )  # fmt: skip
    if isinstance(argument, list):
        rows = tuple(tuple(row) for row in argument)
        return rows[0] if len(rows) == 1 else rows
    return MISSING if argument is None else argument


def _com_time(value: Any) -> Any:
    if isinstance(value, tuple):
        return tuple(map(_com_time, value))
    if isinstance(value, dt.datetime):
        return stubs.ComTime(*value.timetuple()[:6], tzinfo=dt.UTC)
    return value


def _values(shown: Any) -> Iterable[Any]:
    if not isinstance(shown, list):
        return [shown]
    return [value for row in shown for value in (row if isinstance(row, list) else [row])]


def in_cells(formulas: Iterable[str]) -> dict[str, Any]:
    """What cells with these formulas show."""
    return {text: formula.read_call(text, _called) for text in formulas}


def _called(function: Any, arguments: list[Any]) -> Any:
    return in_cell(function.name, arguments)


def as_answer(shown: Any) -> Any:
    """What a cell shows, with the texts that tell errors as errors."""
    from gasfuncs.hosts.excel.cells import read_text

    if isinstance(shown, list):
        return [list(map(as_answer, row)) for row in shown]
    return read_text(shown) if isinstance(shown, str) else shown


@dataclass(frozen=True)
class Imported:
    """What xlwings' Import Functions puts into a workbook."""

    wrappers: str
    dialog: dict[str, dict[str, Any]]


def imported() -> Imported:
    """Import the functions into a workbook that notes what it gets."""
    udfs: Any = importlib.import_module("xlwings.udfs")
    got: list[str] = []
    dialog: dict[str, dict[str, Any]] = {}

    def describe(macro: str, **texts: Any) -> None:
        dialog[macro.rpartition("!")[2]] = texts

    book = SimpleNamespace(
        Name="Book1.xlsm",
        VBProject=SimpleNamespace(VBComponents=_Components(got)),
        Application=SimpleNamespace(Version="16.0", MacroOptions=describe),
        Worksheets=(),
    )
    udfs.import_udfs(MODULE, book)
    [wrappers] = got
    return Imported(wrappers, dialog)


class _Components:
    """The modules of a workbook's Visual Basic project, called to get one of them."""

    def __init__(self, got: list[str]) -> None:
        self._got = got

    def __call__(self, name: str) -> str:
        return name

    def Import(self, path: str) -> None:  # noqa: N802 (Excel's name)
        self._got.append(Path(path).read_text())

    def Remove(self, _: str) -> None:  # noqa: N802
        self._got.clear()


def settings_file() -> str:
    """Where xlwings keeps the user's settings."""
    import xlwings

    return str(xlwings.USER_CONFIG_FILE)


def cell_errors() -> dict[int, str]:
    """The error values that xlwings knows, by the numbers they arrive as."""
    windows: Any = importlib.import_module("xlwings._xlwindows")
    return dict(windows.cell_errors)
