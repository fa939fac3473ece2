"""What a report says of errors: those to look at first, the others counted."""

from __future__ import annotations

from pathlib import Path

import pytest
import xlsxwriter

from gasfuncs.cli.printing import print_report
from gasfuncs.hosts.headless import Report, recalculate
from tests.headless.fakes import functions

COLUMNS = [
    {"header": "Typed"},
    {"header": "Twice", "formula": "=GAS_TWICE(Log[[#This Row],[Typed]])"},
    {
        "header": "Wrong",
        "formula": '=1/(Log[[#This Row],[Typed]]-1)+IF(Log[[#This Row],[Typed]]="",1/0,0)',
    },
]


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> Report:
    path = tmp_path_factory.mktemp("report") / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Log")
        sheet.add_table("A1:C6", {"name": "Log", "columns": COLUMNS})
        for row, typed in enumerate([1, "x", 3], 1):
            sheet.write(row, 0, typed)
        sheet.write_formula("E2", "=NA()")
        sheet.write_formula("E3", "=E2+1")
        sheet.write_formula("G2", "=1/0", value="#DIV/0!")
        sheet.write_formula("H2", "=1/0")
        sheet.set_column("H:H", None, None, {"hidden": True})
        behind = book.add_worksheet("Behind")
        behind.write_formula("A1", "=1/0")
        behind.hide()
    return recalculate(path, functions=functions())


def test_each_error_knows_where_it_lies(report: Report) -> None:
    found = {f"{e.sheet}!{e.cell}": e.background for e in report.errors}
    assert {cell for cell, where in found.items() if not where} == {
        "Log!C2", "Log!B3", "Log!C3", "Log!G2",
    }  # fmt: skip
    blank = {cell for cell, where in found.items() if where == "in rows where nothing is typed"}
    assert blank == {"Log!B5", "Log!B6", "Log!C5", "Log!C6"}
    assert found["Log!E2"] == found["Log!E3"] == "asked for by NA()"
    assert found["Log!H2"] == found["Behind!A1"] == "in what is hidden"


def test_new_errors_and_those_with_a_reason_come_first(
    report: Report, capsys: pytest.CaptureFixture[str]
) -> None:
    print_report(report, Path("book.xlsx"))
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Log!B3 is #VALUE!: value: 'x' is no number"
    assert lines[3] == "Log!G2 is #DIV/0!: a division by zero"
    assert "4 error(s) in rows where nothing is typed, 4 of them new" in lines
    assert len(lines) == 8
