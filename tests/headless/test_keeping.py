"""One cell that cannot be computed does not block a book."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from gasfuncs.hosts.headless import recalculate
from tests.headless.fakes import functions, values


def written(path: Path, formulas: dict[str, str]) -> Path:
    """A book whose formulas all hold the stored value 99."""
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Main")
        sheet.write("A1", 5)
        for cell, formula in formulas.items():
            sheet.write_formula(cell, formula, None, 99)
    return path


def run(path: Path, **options: Any) -> Any:
    return recalculate(path, functions=functions(), **options)


APART = {"B1": '=CELL("width",A1)', "B2": "=B1+1", "C1": "=GAS_TWICE(A1)", "C2": "=C1+1"}


def test_a_cell_apart_from_our_calls_is_kept_unasked(tmp_path: Path) -> None:
    report = run(written(tmp_path / "book.xlsx", APART))
    assert (report.ok, report.written, report.kept_cells) == (True, True, 2)
    assert [(p.cell, "CELL" in p.why) for p in report.kept] == [("B1", True)]
    found = values(tmp_path / "book.xlsx")
    assert [found[cell] for cell in ("B1", "B2", "C1", "C2")] == [99, 99, 10, 11]
    assert not run(tmp_path / "book.xlsx").changed


@pytest.mark.parametrize(
    "linked",
    [
        {"B1": '=CELL("width",A1)', "C1": "=GAS_TWICE(B1)"},
        {"B1": '=CELL("width",A1)', "B2": "=B1+1", "C1": "=GAS_TWICE(B2)"},
        {"B1": '=CELL("width",C1)', "C1": "=GAS_TWICE(A1)"},
        {"B1": '=CELL("width",C2)', "C1": "=GAS_TWICE(A1)", "C2": "=C1+1"},
        {"B1": '=GAS_TWICE(CELL("width",A1))', "C1": "=A1+1"},
        {"B1": '=INDIRECT("R1C1",FALSE)', "C1": "=GAS_TWICE(A1)"},
        {"B1": "=SUM(A1:INDEX(C1:C9,2))", "C1": "=GAS_TWICE(A1)"},
    ],
)
def test_a_cell_linked_with_our_calls_needs_asking(tmp_path: Path, linked: dict[str, str]) -> None:
    path = written(tmp_path / "book.xlsx", linked)
    before = path.read_bytes()
    refused = run(path)
    assert [p.cell for p in refused.problems] == ["B1"]
    assert path.read_bytes() == before
    asked = run(path, keep=True)
    assert asked.ok
    assert [p.cell for p in asked.kept] == ["B1"]
    found = values(path)
    assert found["B1"] == 99
    if "A1" in linked["C1"]:
        assert found["C1"] != 99
    else:
        assert found["C1"] == 99


def test_only_the_cells_that_are_linked_are_problems(tmp_path: Path) -> None:
    path = written(tmp_path / "book.xlsx", {**APART, "D1": "=NOSUCH(C2)", "D2": "=OTHER(A1)"})
    report = run(path)
    assert [p.cell for p in report.problems] == ["D1"]
    assert [p.cell for p in report.kept] == ["B1", "D2"]


def test_a_circle_and_what_hangs_on_it_are_kept(tmp_path: Path) -> None:
    cells = {"B1": "=B2+1", "B2": "=B1+1", "B3": "=B2*2", "B4": "=A1+1", "C1": "=GAS_TWICE(B4)"}
    report = run(written(tmp_path / "book.xlsx", cells))
    assert [p.cell for p in report.kept] == ["B1", "B2"]
    assert report.kept_cells == 3
    found = values(tmp_path / "book.xlsx")
    assert [found[f"B{n}"] for n in (1, 2, 3, 4)] == [99, 99, 99, 6]
    assert found["C1"] == 12


def test_an_array_is_kept_whole(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Main")
        sheet.write_array_formula("B1:B3", '{=CELL("width",A1)}', None, 7)
        for row in (1, 2):
            sheet.write_number(row, 1, 8)
        sheet.write_formula("C1", "=SUM(B1:B3)", None, 23)
        sheet.write_formula("D1", "=GAS_TWICE(2)", None, 99)
    report = run(path)
    assert report.kept_cells == 2
    found = values(path)
    assert [found[c] for c in ("B1", "B2", "B3", "C1", "D1")] == [7, 8, 8, 23, 4]


def test_what_is_called_and_is_no_lambda_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Main")
        book.define_name("Area", "=Main!$A$1")
        sheet.write("A1", 5)
        sheet.write_formula("B1", "=Area(2)")
        sheet.write_formula("B2", "=_xlfn.LET(_xlpm.x,3,_xlpm.x(1))")
    report = run(path)
    assert [(p.cell, "no LAMBDA" in p.why) for p in report.kept] == [("B1", True), ("B2", True)]
