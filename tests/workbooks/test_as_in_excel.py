"""The books as Excel shows them, where our functions' errors are texts.

xlwings cannot hand Excel an error value, so that IFERROR and ISERROR do not see our errors and SUM
skips them. The headless engine is made to do the same here: a cell may show the text of an error
where it showed the error, and nothing else may change: no number, no verdict, no total.
"""

from __future__ import annotations

import math
import shutil
from collections.abc import Callable
from itertools import cycle, product
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.definition import Definition
from gasfuncs.errors import CellError
from gasfuncs.hosts.excel.cells import answer, read_text
from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.registry import worksheet_functions
from gasfuncs.workbooks.building import titles
from gasfuncs.workbooks.sheets.building import BOOKS
from gasfuncs.workbooks.sheets.checking import is_number, limits
from gasfuncs.workbooks.sheets.kinds import METRIC
from gasfuncs.workbooks.sheets.parts import Input
from tests.thorough import part
from tests.workbooks.conftest import Built
from tests.workbooks.editing import (
    WAYS,
    Place,
    changed,
    differences,
    input_cells,
    sentence,
    spoilt,
)


class Told:
    """A function as Excel has it: it answers errors as texts, and reads such texts as errors."""

    def __init__(self, definition: Definition) -> None:
        self.name, self.parameters = definition.name, definition.parameters
        self.spills = definition.spills
        self._definition = definition

    def cells(self, *arguments: Any) -> Any:
        return _changed(_as_text, self._definition.cells(*_changed(_read, list(arguments))))


def _changed(change: Callable[[Any], Any], value: Any) -> Any:
    """The value, or each value of a table, changed."""
    if isinstance(value, list):
        return [_changed(change, each) for each in value]
    return change(value)


def _read(value: Any) -> Any:
    return read_text(value) if isinstance(value, str) else value


def _as_text(value: Any) -> Any:
    return answer(value) if isinstance(value, CellError) else value


@pytest.fixture
def as_in_excel() -> Callable[[Path], None]:
    """Recalculates a workbook with errors as texts."""
    told = {name: Told(definition) for name, definition in worksheet_functions().items()}

    def recalculated(path: Path) -> None:
        assert recalculate(path, functions=told).ok

    return recalculated


def is_error(value: Any) -> bool:
    return isinstance(value, CellError) or (
        isinstance(value, str) and isinstance(read_text(value), CellError)
    )


def same(stored: Any, shown: Any) -> bool:
    if is_error(stored):
        return is_error(shown)
    if isinstance(stored, float) and isinstance(shown, float):
        return math.isclose(stored, shown, rel_tol=1e-9, abs_tol=1e-12)
    return bool(stored == shown)


def assert_same_in_excel(path: Path, recalculated: Callable[[Path], None], to: Path) -> None:
    shutil.copy(path, to)
    recalculated(to)
    stored, shown = read_values(path), read_values(to)
    said = sentence(stored)
    assert isinstance(said, str)
    assert "#" not in said
    assert not differences(stored, shown, same)


def numbers_in_records(book: Path) -> list[Place]:
    """The input cells that hold a number, but for those of Inputs."""
    return [
        cell
        for cell, value in input_cells(book).items()
        if cell[0] != "Inputs" and isinstance(value, int | float)
    ]


def at_ends(name: str, ends: str) -> dict[Any, Any]:
    """Every input at its lowest or highest."""
    inputs = [
        each
        for group in BOOKS[name].groups
        for each in group.inputs
        if isinstance(each, Input) and is_number(each)
    ]
    return {
        each.name: limits(each, METRIC)[end == "F"]
        for each, end in zip(inputs, cycle(ends), strict=False)
    }


@pytest.mark.parametrize("name", list(titles()))
def test_as_delivered(name: str, built: Built, as_in_excel: Any, tmp_path: Path) -> None:
    assert_same_in_excel(built(name), as_in_excel, tmp_path / "excel.xlsx")


@pytest.mark.parametrize("how", WAYS)
@pytest.mark.parametrize("name", part(titles(), 3))
def test_every_input(name: str, how: str, built: Built, as_in_excel: Any, tmp_path: Path) -> None:
    book = tmp_path / "typed.xlsx"
    changed(built(name), book, spoilt(built(name), how))
    assert_same_in_excel(book, as_in_excel, tmp_path / "excel.xlsx")


@pytest.mark.parametrize(("name", "ends"), part(product(titles(), ["EF", "FE"]), 5))
def test_every_number_at_an_end_of_its_range(
    name: str, ends: str, built: Built, as_in_excel: Any, tmp_path: Path
) -> None:
    """In range one by one, and yet not to be put together. E is the lowest, F the highest."""
    book = tmp_path / "typed.xlsx"
    changed(built(name), book, at_ends(name, ends))
    assert_same_in_excel(book, as_in_excel, tmp_path / "excel.xlsx")


@pytest.mark.parametrize("name", part(titles(), 3, start=1))
def test_every_second_cell_of_the_records_spoilt(
    name: str, built: Built, as_in_excel: Any, tmp_path: Path
) -> None:
    numbers = numbers_in_records(built(name))
    book = tmp_path / "spoilt.xlsx"
    changed(built(name), book, dict.fromkeys(numbers[::2], "plenty"))
    assert_same_in_excel(book, as_in_excel, tmp_path / "excel.xlsx")
    said = sentence(read_values(book, ["Start"]))
    assert isinstance(said, str)
    assert said.startswith("Without "), "rows that are left out are said before the answer"
