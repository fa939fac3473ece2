"""A cell without a value is blank, however a program wrote it."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.workbooks.building import titles
from tests.headless.fakes import build, functions, values
from tests.headless.test_writing import with_cells
from tests.hostile.test_workbooks import differences
from tests.thorough import part
from tests.workbooks.conftest import built_once


@pytest.mark.parametrize("name", part(titles(), 3))
def test_a_book_saved_by_openpyxl_comes_to_the_same(tmp_path: Path, name: str) -> None:
    """It writes a styled blank cell as a number's cell without a number, and no values."""
    book, path = built_once(name), tmp_path / "saved.xlsx"
    openpyxl.load_workbook(book).save(path)
    assert recalculate(path).ok
    assert differences(read_values(book), read_values(path)) == []


@pytest.mark.parametrize(
    "blank",
    [
        '<c r="A1" t="n"/>',
        '<c r="A1"/>',
        '<c r="A1" t="n"></c>',
        '<c r="A1" t="n"><v/></c>',
        '<c r="A1" t="n"><v></v></c>',
        '<c r="A1"> <v></v> </c>',
        '<c t="s" r="A1"/>',
        '<c r="A1" t="b"/>',
        '<c r="A1" t="str"/>',
    ],
)
def test_every_way_to_write_a_blank_cell(tmp_path: Path, blank: str) -> None:
    formulas = {"B1": "COUNT(A1:A2)", "C1": "ISBLANK(A1)", "D1": "GAS_SEEN(A1)", "E1": "SUM(A1:A2)"}
    cells = "".join(f'<c r="{cell}"><f>{text}</f><v>9</v></c>' for cell, text in formulas.items())
    rows = f'<row r="1">{blank}{cells}</row><row r="2"><c r="A2" t="n"><v>4</v></c></row>'
    path = with_cells(tmp_path / "book.xlsx", rows)
    assert recalculate(path, functions=functions()).ok
    found = values(path)
    assert [found[c] for c in ("B1", "C1", "D1", "E1")] == [1, True, "NoneType None", 4]


def test_a_row_in_which_nothing_stands_has_the_text_for_it(tmp_path: Path) -> None:
    """Blank, an empty text, a number, an error; of its own row, of the next, calculated."""
    typed = {"A2": '=""', "A3": 3, "A4": "=1/0"}
    formulas = {
        **{f"B{row}": f'=IF(A{row}="","none",A{row}*ROW())' for row in range(1, 5)},
        **{f"C{row}": f'=IF($A{row + 1}="","next","x")' for row in range(1, 5)},
        **{f"D{row}": f'=IF(B{row}="none","",GAS_TWICE(B{row}))' for row in range(1, 5)},
        **{f"E{row}": f'=IF(D{row}="","-",D{row}+1)' for row in range(1, 5)},
    }
    book = build(tmp_path / "book.xlsx", typed | formulas)
    recalculate(book, functions=functions())
    found = values(book)
    assert [found[f"B{row}"] for row in range(1, 5)] == ["none", "none", 9, "#DIV/0!"]
    assert [found[f"C{row}"] for row in range(1, 5)] == ["next", "x", "#DIV/0!", "next"]
    assert [found[f"E{row}"] for row in range(1, 5)] == ["-", "-", 19, "#DIV/0!"]
