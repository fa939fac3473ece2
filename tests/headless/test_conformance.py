"""The native functions of the engine against values from outside."""

from __future__ import annotations

import json
import math
import re
from datetime import date
from itertools import chain
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.hosts.headless.natives import NATIVES
from gasfuncs.hosts.headless.special import FORMS
from tests.engine import sweep
from tests.headless.fakes import called, computed, problems

_JUDGED = json.loads(Path(__file__).with_name("conformance.json").read_text("utf-8"))["values"]

# Where LibreOffice differs from the file format's own rules (ISO/IEC 29500-1, 18.17.7: logical
# values in ranges are left out of sums; written as arguments they count) or stores an error under
# another name. Values from memory of the spreadsheet's documented behaviour.
_DOCUMENTED = {
    "SUM(C1:C6)": [[7.5]],
    'SUM(1,"2",TRUE)': [[4.0]],
    "COUNT(C1:C6)": [[2.0]],
    "AVERAGE(C1:C6)": [[3.75]],
    "LARGE(D1:D10,11)": [["#NUM!"]],
    "SQRT(-1)": [["#NUM!"]],
    "LN(0)": [["#NUM!"]],
    "POWER(0,0)": [["#NUM!"]],
    'CONCAT("a",1,TRUE)': [["a1TRUE"]],
    "TYPE(TRUE)": [[4.0]],
    '{FILTER(A1:A10,B1:B10="q")}': [["#VALUE!"]],  # #CALC!, stored as #VALUE!
}
# LAMBDA and its companions are not in LibreOffice 25.2: checked by arithmetic.
_ARITHMETIC = {
    "{MAP(A1:A3,LAMBDA(_xlpm.x,_xlpm.x*2))}": [[2.0], [4.0], [6.0]],
    "REDUCE(0,A1:A3,LAMBDA(_xlpm.a,_xlpm.x,_xlpm.a+_xlpm.x))": [[6.0]],
    "LAMBDA(_xlpm.x,_xlpm.x+1)(3)": [[4.0]],
}
_EXPECTED = {**_JUDGED, **_DOCUMENTED, **_ARITHMETIC}
_ROWS = 12


def _on_data(formula: str) -> str:
    """The formula with its references to the data sheet."""
    cells = r'"[^"]*"|(?<![\w.!:$])([A-Z]{1,2}\d{1,2}(?::[A-Z]{1,2}\d{1,2})?)(?![\w(])'
    return re.sub(cells, lambda match: f"Data!{match[1]}" if match[1] else match[0], formula)


def _build(path: Path) -> None:
    workbook = xlsxwriter.Workbook(path)
    data = workbook.add_worksheet("Data")
    data.write_column("A1", range(1, 11))
    data.write_column("B1", ["x", "y", "x", "z", "x", "Xa", "y", "x", "z", "x"])
    data.write_column("D1", [12.5, 3, 7.25, 9, 1, 4, 6, 2, 8, 15])
    data.write_column("F1", range(45658, 45668))  # from 1 January 2025
    data.write_column("G1", [9, 7, 5, 3, 1])
    for row, value in ((0, 5), (1, "t"), (2, True), (5, 2.5)):
        data.write(row, 2, value)
    data.write_string(4, 2, "7")
    for column in range(3):
        data.write_column(0, 7 + column, [f"h{column + 1}", column * 10, column * 100])
    formulas = workbook.add_worksheet("Formulas")
    for index, formula in enumerate(_EXPECTED):
        row, text = index * _ROWS, "=" + _on_data(formula.strip("{}"))
        if formula.startswith("{"):
            formulas.write_dynamic_array_formula(row, 0, row, 0, text)
        else:
            formulas.write_formula(row, 0, text)
    workbook.close()


@pytest.fixture(scope="module")
def results(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[int, int], Any]:
    path = tmp_path_factory.mktemp("conformance") / "book.xlsx"
    _build(path)
    report = recalculate(path, functions={})
    assert not [*report.problems, *report.kept], report.kept
    return read_values(path)["Formulas"]


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, CellError):
        one = one.code
    if isinstance(one, float | bool) and isinstance(other, float | bool):
        return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-12)
    return bool(one == other)


@pytest.mark.parametrize("index", range(len(_EXPECTED)), ids=list(_EXPECTED))
def test_value(results: dict[tuple[int, int], Any], index: int) -> None:
    expected = list(_EXPECTED.values())[index]
    top = index * _ROWS + 1
    found = [
        [results.get((top + i, 1 + j)) for j in range(len(row))] for i, row in enumerate(expected)
    ]
    assert all(map(_same, chain(*found), chain(*expected))), (found, expected)
    assert results.get((top + len(expected), 1)) is None
    assert len(expected[0]) == 4 or results.get((top, 1 + len(expected[0]))) is None


def test_every_native_function_has_a_value() -> None:
    swept = [formula for formulas in sweep.calls().values() for formula in formulas]
    tested = set().union(*map(called, [*_EXPECTED, *swept]))
    elsewhere = {"SINGLE", "ANCHORARRAY"}
    assert tested | elsewhere >= {*NATIVES, *FORMS}


def test_today(tmp_path: Path) -> None:
    today = (date.today() - date(1899, 12, 30)).days
    assert computed(tmp_path / "book.xlsx", {"A1": "=TODAY()+1"})["A1"] == today + 1


def test_intersection_and_spill_references(tmp_path: Path) -> None:
    cells = {
        "A1": 1, "A2": 2, "A3": 3,
        "B2": "=_xlfn.SINGLE(A1:A3)*10",
        "C2": "=A1:A3*10",
        "C9": "=A1:A3*10",
        "D2": "=SUM(A1:A3*10)",
        "E1": "{=A1:A3*2}",
        "F1": "{=_xlfn.ANCHORARRAY(E1)+1}",
        "G1": "=SUM(_xlfn.ANCHORARRAY(E1))",
    }  # fmt: skip
    found = computed(tmp_path / "book.xlsx", cells)
    assert (found["B2"], found["C2"], found["C9"], found["D2"]) == (20, 20, "#VALUE!", 20)
    assert [found["F1"], found["F2"], found["F3"], found["G1"]] == [3, 5, 7, 12]


@pytest.mark.parametrize(
    ("formula", "word"),
    [
        ('=VALUE("1,234")', "another language"),
        ('=DATEVALUE("05/06/2024")', "another language"),
        ("=MATCH(2,B1:B3,-1)+MATCH(2,A1:A3,1)", "ascending order"),
        ('=SWITCH(Z9,"",1,2)', "blank"),
        ("=DAYS(45000.5,1)", "whole days"),
        ('=CONVERT(1,"parsec","m")', "parsec"),
        ("=NOSUCH(1)", "NOSUCH"),
        ('=INDIRECT("R1C1",FALSE)', "INDIRECT"),
        ('=TEXT(1,"# ?/?")', "# ?/?"),
        ("=SUM(A1:INDEX(A1:A9,2))", "':'"),
        ("=SUM((A1,B1))", "union"),
        ("=SUM(A1:A3 A2:B2)", "intersection"),
        ("=[1]Sheet1!A1", "another workbook"),
        ("=[1]!Name+1", "another workbook"),
        ("=NoSuchSheet!A1", "NoSuchSheet"),
        ("=nosuchname+1", "nosuchname"),
        ("=SUM(1,", "cut short"),
    ],
)
def test_refused_by_name(tmp_path: Path, formula: str, word: str) -> None:
    cells = {"A1": 3, "A2": 1, "A3": 2, "B1": 3, "B2": 2, "B3": 1, "H1": formula}
    found = problems(tmp_path / "book.xlsx", cells)
    assert word in found["H1"]
