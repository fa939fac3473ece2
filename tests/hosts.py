"""The hosts that checks run through; each answers a formula text as a cell would."""

from __future__ import annotations

import datetime as dt
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Protocol

import numpy as np
from openpyxl.utils import get_column_letter

import gasfuncs
from gasfuncs.definition import Definition
from gasfuncs.definition.terms import serial
from gasfuncs.errors import CellError, GasFuncsError
from gasfuncs.hosts import formula
from gasfuncs.hosts.headless import read_values, recalculate
from tests.calc.book import expected, write_book
from tests.calc.host import Calc, check_formulas
from tests.excel.host import Excel


class Host(Protocol):
    """A host under test."""

    @property
    def name(self) -> str: ...

    @property
    def tells_sentences(self) -> bool: ...

    def answer(self, formula: str) -> Any:
        """A value, rows of values, or a CellError."""


@dataclass(frozen=True)
class Cells:
    """The registry as a spreadsheet calls it."""

    name: str = "cells"
    tells_sentences: bool = True

    def answer(self, text: str) -> Any:
        return expected(text)


@dataclass(frozen=True)
class Python:
    """The registry as a line of Python calls it."""

    name: str = "python"
    tells_sentences: bool = True

    def answer(self, text: str) -> Any:
        try:
            return formula.read_call(text, _called_from_python)
        except GasFuncsError as error:
            return CellError.of(error)


def _called_from_python(definition: Definition, arguments: list[Any]) -> Any:
    """The function of that name in the package; its days as a cell holds them."""
    answer = getattr(gasfuncs, definition.name)(*arguments)
    if isinstance(answer, list):
        return [list(map(_as_serial, row)) for row in answer]
    if isinstance(answer, np.ndarray) and answer.dtype == object:
        return np.array([_as_serial(value) for value in answer.flat]).reshape(answer.shape)
    return _as_serial(answer)


def _as_serial(value: Any) -> Any:
    return serial(value) if isinstance(value, dt.date) else value


@dataclass(frozen=True)
class Headless:
    """The checks' formulas in one workbook, recalculated without a spreadsheet program."""

    name: str = "headless"
    tells_sentences: bool = True

    def answer(self, text: str) -> Any:
        return _headless_answers()[text]


@cache
def _headless_answers() -> dict[str, Any]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "checks.xlsx")
        places = write_book(path, dict.fromkeys(check_formulas()), dynamic=True)
        report = recalculate(path)
        assert report.ok, report.problems[:5]
        sentences = {error.cell: error.sentence for error in report.errors}
        [sheet] = read_values(path).values()
    width = max(place.width for place in places.values())
    height = max(place.row + place.height for place in places.values())
    rows = [
        [_told(sheet.get((row, column)), row, column, sentences) for column in range(1, width + 1)]
        for row in range(1, height + 1)
    ]
    return {formula: place.answer_in(rows) for formula, place in places.items()}


def _told(value: Any, row: int, column: int, sentences: dict[str, str]) -> Any:
    """A cell's value; an error with the sentence that the report has for it."""
    if isinstance(value, CellError):
        return CellError(value.code, sentences[f"{get_column_letter(column)}{row}"])
    return value


HOSTS: list[Host] = [Cells(), Python(), Headless(), Calc(), Excel()]
