"""Errors shown as texts: a book counts the rows that have them, and totals go on without these.

The workbook is computed without Excel, its functions answering as they do in Excel.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from gasfuncs.definition import Definition
from gasfuncs.hosts.excel.cells import answer, read_text
from gasfuncs.workbooks.sheets.building import build
from gasfuncs.workbooks.sheets.delivery_check import BOOK
from tests.workbooks.editing import Computed, Declared, computed

ROWS = 20
SHEETS = Declared(BOOK, rows=ROWS)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("totals") / "month.xlsx"
    build(BOOK, path, rows=ROWS)
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


@pytest.mark.usefixtures("as_in_excel")
def test_without_errors_nothing_is_left_out(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "changed.xlsx", {})
    assert found["Deliveries_out"] == 0
    assert found["Month_ticket"] == pytest.approx(Computed(book)["Month_ticket"])


@pytest.mark.usefixtures("as_in_excel")
@pytest.mark.parametrize(
    ("column", "value"), [("Deliveries.Unit", "cups"), ("Deliveries.Level after", 90_000)]
)
def test_a_refused_row_is_counted_and_costs_only_itself(
    book: Path, tmp_path: Path, column: str, value: Any
) -> None:
    found = computed(book, tmp_path / "changed.xlsx", {SHEETS.place(column, 2): value})
    difference = found[SHEETS.place("Deliveries.Difference", 2)]
    assert not isinstance(difference, float)
    assert found["Deliveries_out"] == 1
    assert found["Month_ticket"] == pytest.approx(Computed(book)["Month_ticket"])
    assert "#" not in found["Answer"]
