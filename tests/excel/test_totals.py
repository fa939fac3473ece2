"""Errors shown as texts: the workbook of monthly gas use counts them and its totals are errors.

The workbook is computed without Excel, its functions answering as they do in Excel.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from gasfuncs.definition import Definition
from gasfuncs.errors import CellError
from gasfuncs.hosts.excel.cells import answer, read_text
from gasfuncs.workbooks.building import build
from tests.workbooks.editing import Computed, computed

NOT_AVAILABLE = CellError("#N/A").code
TOTALS = ("Month!C37", "Month!C38", "Month!D43", "Balance!C7", "Balance!C9", "Balance!C17")
"""A furnace's month and year, a recipe's month, deliveries, what left the tank, the plan."""


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("totals") / "month.xlsx"
    build("monthly_gas_usage", path)
    return path


@pytest.fixture
def as_in_excel(monkeypatch: pytest.MonkeyPatch) -> None:
    """Functions that take and give errors as texts."""
    cells = Definition.cells

    def answering(definition: Definition, *arguments: Any) -> Any:
        return answer(cells(definition, *map(_given, arguments)))

    monkeypatch.setattr(Definition, "cells", answering)


def _given(argument: Any) -> Any:
    if isinstance(argument, list):
        return [
            list(map(_given, row)) if isinstance(row, list) else _given(row) for row in argument
        ]
    return read_text(argument) if isinstance(argument, str) else argument


def shown(book: Computed, where: str) -> Any:
    value = book[where]
    return value.code if isinstance(value, CellError) else value


@pytest.mark.usefixtures("as_in_excel")
def test_without_errors_nothing_is_counted(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "changed.xlsx", {})
    assert found["Rows_wrong"] == 0
    assert all(isinstance(found[total], float) for total in TOTALS)


@pytest.mark.usefixtures("as_in_excel")
@pytest.mark.parametrize(
    ("cell", "value", "text_at", "begins"),
    [
        ("Recipes!E7", -5, "Recipes!M7", "#NUM! "),
        ("Recipes!E7", "6 bar", "Gas per load!D6", "#VALUE! "),
        ("Deliveries!C6", "neon gas", "Deliveries!E6", "#VALUE! "),
    ],
)
def test_a_refused_input_is_counted_and_makes_the_totals_errors(
    book: Path, tmp_path: Path, cell: str, value: Any, text_at: str, begins: str
) -> None:
    found = computed(book, tmp_path / "changed.xlsx", {cell: value})
    assert isinstance(found[text_at], str), found[text_at]
    assert found[text_at].startswith(begins)
    assert found["Rows_wrong"] > 0
    assert "cannot be calculated" in said_on_top(found)
    assert [shown(found, total) for total in TOTALS[:4]] == [NOT_AVAILABLE] * 4
    assert not [total for total in TOTALS if isinstance(found[total], float)]


@pytest.mark.usefixtures("as_in_excel")
def test_a_text_in_the_column_of_use_itself_is_counted(book: Path, tmp_path: Path) -> None:
    text = "#NUM! pressure: -5 bar(a) is below 0 bar(a)"
    found = computed(book, tmp_path / "changed.xlsx", {"Log!H6": text})
    assert found["Log!I6"] == "cannot be calculated"
    assert found["Rows_wrong"] == 1
    assert [shown(found, total) for total in TOTALS[:4]] == [NOT_AVAILABLE] * 4


def said_on_top(found: Computed) -> str:
    """The texts of the first sheet."""
    return " ".join(value for value in found.values["Start"].values() if isinstance(value, str))
