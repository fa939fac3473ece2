"""A record that has grown past its spare rows: totals and answers follow."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from openpyxl.utils import range_boundaries

from gasfuncs.hosts.headless import read_values
from tests.workbooks.conftest import Built
from tests.workbooks.editing import Place, changed, grown, input_cells, table_place

GROWING: dict[tuple[str, str], dict[str, Any]] = {
    ("argon_nitrogen_cost", "Prices"): {"B": 46310, "D": 1.2},
}
"""What is typed by column, beside what the last row of the record has."""


def last_filled_row(book: Path, table: str) -> tuple[int, dict[Place, Any]]:
    """The number and what is typed in the last row of a table in which anything is."""
    sheet, cells = table_place(book, table)
    left, top, right, bottom = range_boundaries(cells)
    rows: dict[int, dict[Place, Any]] = {}
    for (on, cell), value in input_cells(book).items():
        column, row, *_ = range_boundaries(cell)
        if on == sheet and left <= column <= right and top < row <= bottom and value is not None:
            rows.setdefault(row, {})[on, cell] = value
    return max(rows), rows[max(rows)]


def at(row: int, typed: dict[Place, Any], other: dict[str, Any]) -> dict[Place, Any]:
    columns = {(sheet, cell.rstrip("0123456789")): value for (sheet, cell), value in typed.items()}
    columns |= {(sheet, column): v for (sheet, _) in typed for column, v in other.items()}
    return {(sheet, column + str(row)): value for (sheet, column), value in columns.items()}


def answers(book: Path, table: str, row: int) -> dict[str, Any]:
    """The values of all other sheets, and of the row."""
    values = read_values(book)
    sheet, cells = table_place(book, table)
    left, _, right, _ = range_boundaries(cells)
    record = values.pop(sheet)
    return {**values, "row": [record.get((row, column)) for column in range(left, right + 1)]}


@pytest.mark.parametrize(("name", "table"), list(GROWING))
def test_a_row_past_the_spare_ones_counts_like_a_spare_one(
    name: str, table: str, built: Built, tmp_path: Path
) -> None:
    book, other = built(name), GROWING[name, table]
    last, typed = last_filled_row(book, table)
    new = grown(book, tmp_path / "grown.xlsx", table)
    changed(book, tmp_path / "spare.xlsx", at(last + 1, typed, other))
    changed(tmp_path / "grown.xlsx", tmp_path / "past.xlsx", at(new, typed, other))
    spare = answers(tmp_path / "spare.xlsx", table, last + 1)
    assert answers(book, table, last + 1) != spare
    assert answers(tmp_path / "past.xlsx", table, new) == spare
