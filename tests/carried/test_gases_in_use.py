"""Which gases a carried book has, and what a book may not calculate with."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
import xlsxwriter

from gasfuncs.errors import CellError
from gasfuncs.hosts.carried import CarryError, carry
from gasfuncs.hosts.carried.calls import calls_in
from gasfuncs.hosts.carried.sheet import NAME
from gasfuncs.properties.gases import FLUIDS
from tests.carried.engines import computed
from tests.carried.proof import agree, library

Then = Callable[[xlsxwriter.Workbook], object]


def written(path: Path, *formulas: str, then: Then | None = None) -> Path:
    """A workbook with formulas in column A."""
    with xlsxwriter.Workbook(path) as file:
        sheet = file.add_worksheet("Calls")
        for row, formula in enumerate(formulas):
            sheet.write_formula(row, 0, "=" + formula)
        if then:
            then(file)
    return path


def cell(place: str, value: str) -> Then:
    return lambda file: file.get_worksheet_by_name("Calls").write(place, value)


def headings(path: Path) -> str:
    with zipfile.ZipFile(path) as file:
        return file.read("xl/worksheets/gasfuncs.xml").decode().partition("</row>")[0]


def test_only_the_gases_in_use_have_series(tmp_path: Path) -> None:
    calls = ('GAS_DENSITY("Argon",5,20)', 'GAS_FROM_LIQUID("N2",100,3)')
    full = tmp_path / "full.xlsx"
    done = carry(written(tmp_path / "book.xlsx", *calls), full)
    assert done.gases == (("argon", "nitrogen"), None)
    assert "argon" in headings(full)
    assert not any(name in headings(full) for name in set(FLUIDS) - {"argon", "nitrogen"})
    values = computed(full)
    for row, call in enumerate(calls, 1):
        assert agree(library(call), values("Calls", row, 1))


def test_a_gas_that_a_function_itself_takes_is_in_use(tmp_path: Path) -> None:
    call = 'GAS_FLOAT_METER("argon",10,3,20)'
    full = tmp_path / "full.xlsx"
    assert carry(written(tmp_path / "book.xlsx", call), full).gases.names == ("argon", "air")
    assert agree(library(call), computed(full)("Calls", 1, 1))


def test_a_gas_that_is_typed_in_later_is_no_other_gas(tmp_path: Path) -> None:
    """A formula that is changed in the carried book asks for a gas that the book has not."""
    full, changed = tmp_path / "full.xlsx", tmp_path / "changed.xlsx"
    carry(written(tmp_path / "book.xlsx", 'GAS_DENSITY("argon",5,20)'), full)
    with zipfile.ZipFile(full) as one, zipfile.ZipFile(changed, "w") as other:
        for name in one.namelist():
            data = one.read(name)
            if name == "xl/worksheets/sheet1.xml":
                data = data.replace(b"argon", b"helium")
            other.writestr(name, data)
    assert computed(changed)("Calls", 1, 1) == CellError("#N/A")


@pytest.mark.parametrize("given", ["B1", "$B$1", "Calls!B1", "Site_gas", 'IF(B1="","argon",B1)'])
def test_a_gas_in_a_cell_may_be_any(given: str, tmp_path: Path) -> None:
    def then(file: xlsxwriter.Workbook) -> None:
        cell("B1", "helium")(file)
        file.define_name("Site_gas", "=Calls!$B$1")

    full = tmp_path / "full.xlsx"
    done = carry(written(tmp_path / "book.xlsx", f"GAS_DENSITY({given},5,20)", then=then), full)
    assert done.gases.names == tuple(FLUIDS)
    assert done.gases.typed is not None
    assert done.gases.typed.place == "A1 of Calls"
    assert agree(library('GAS_DENSITY("helium",5,20)'), computed(full)("Calls", 1, 1))


MIXTURE = "95% argon + 5% hydrogen"
REFUSED = {
    f'GAS_DENSITY("{MIXTURE}",5,20)': "mixtures are not carried",
    f'GAS_DENSITY(IF(B1=1,"{MIXTURE}","argon"),5,20)': "mixtures are not carried",
    "GAS_DENSITY(B2,5,20)": "A1 of Calls calculates with 95% argon",
    "GAS_DENSITY(B1:B3,5,20)": "mixtures are not carried",
    'GAS_DENSITY("carbon dioxide",5,20)': "they go from 122 to 1427 °C",
    'GAS_DENSITY("argon",5,-150)': "they go from -73 to 1427 °C and to 350 bar",
    'GAS_CONTENTS("argon",1,"400 bar(a)",20)': "change the cell, or leave this book",
    'GAS_PRESSURE("argon","40 Nm3","50 L",20)': "to 350 bar",
}


@pytest.mark.parametrize("formula", REFUSED)
def test_what_has_no_series_is_a_sentence(formula: str, tmp_path: Path) -> None:
    out = tmp_path / "out.xlsx"
    with pytest.raises(CarryError, match=REFUSED[formula]):
        carry(written(tmp_path / "book.xlsx", formula, then=cell("B2", MIXTURE)), out)
    assert not out.exists()


def table(file: xlsxwriter.Workbook) -> None:
    """A table of gases in E1:F3, a mixture in its second row, and names for parts of it."""
    sheet = file.get_worksheet_by_name("Calls")
    sheet.add_table("E1:F3", {"name": "Furnaces", "columns": [{"header": "No."}, {"header": "Gas"}],
                              "data": [[1, "argon"], [2, MIXTURE]]})  # fmt: skip
    file.define_name("Gases", "=Furnaces[Gas]")
    file.define_name("Second", "=INDEX(Gases,2)")


PLACED = [
    "Furnaces[Gas]", "INDEX(Furnaces[Gas],2)", "Gases", "Second", "F:F", "$F$3", "Calls!$F$2:$F$3",
    "INDEX($F$1:$F$9,MATCH(2,Furnaces[No.],0))", 'IF(B1="",F3,"argon")', "+F3", "'Calls'!F3",
]  # fmt: skip


@pytest.mark.parametrize("given", PLACED)
def test_a_mixture_in_a_cell_that_is_referred_to_is_a_sentence(given: str, tmp_path: Path) -> None:
    out = tmp_path / "out.xlsx"
    book = written(tmp_path / "book.xlsx", f"GAS_DENSITY({given},5,20)", then=table)
    with pytest.raises(CarryError, match="A1 of Calls calculates with 95% argon"):
        carry(book, out)
    assert not out.exists()


def test_of_a_table_the_row_of_the_call_counts(tmp_path: Path) -> None:
    def in_row(row: int) -> Path:
        def then(file: xlsxwriter.Workbook) -> None:
            table(file)
            call = "=GAS_DENSITY(Furnaces[[#This Row],[Gas]],5,20)"
            file.get_worksheet_by_name("Calls").write_formula(f"H{row}", call)

        return written(tmp_path / f"book{row}.xlsx", "GAS_ABSOLUTE(5)", then=then)

    carry(in_row(2), tmp_path / "full.xlsx")
    with pytest.raises(CarryError, match="H3 of Calls calculates with 95% argon"):
        carry(in_row(3), tmp_path / "out.xlsx")


BEYOND = {
    'GAS_DENSITY("carbon dioxide",B1,B2)': (5, 20),
    'GAS_DENSITY("argon",B1,B2)': (5, -100),
    'GAS_CONTENTS("argon",1,B1,B2)': (400, 20),
    'GAS_DENSITY("helium",B1,B2+1)': (5, 1500),
    'GAS_PRESSURE("argon",B1,"50 L",B2)': (40, 20),
    'GAS_FROM_LIQUID("argon",100,B1)': (48.3, 0),
}
"""States beyond the series that stand in cells, all of which the library knows."""


def test_a_state_beyond_the_series_is_no_number(tmp_path: Path) -> None:
    def then(file: xlsxwriter.Workbook) -> None:
        sheet = file.get_worksheet_by_name("Calls")
        for row, state in enumerate(BEYOND.values()):
            sheet.write_row(row, 1, state)

    placed = [
        formula.replace("B1", f"B{row}").replace("B2", f"C{row}")
        for row, formula in enumerate(BEYOND, 1)
    ]
    full = tmp_path / "full.xlsx"
    carry(written(tmp_path / "book.xlsx", *placed, then=then), full)
    values = computed(full)
    for row, (formula, (first, second)) in enumerate(BEYOND.items(), 1):
        told = formula.replace("B1", str(first)).replace("B2", str(second))
        if "B2+1" not in formula:
            assert isinstance(library(told), float), told
        assert values("Calls", row, 1) == CellError("#NUM!"), formula


def test_arguments_of_calls() -> None:
    formula = (
        "GAS_DENSITY('A (1), b'!A1,T[[#This Row],[Pressure]],{1,2})+gas_absolute(\"GAS_GAUGE(5)\")"
    )
    found = list(calls_in(formula))
    assert [call.name for call in found] == ["GAS_DENSITY", "GAS_ABSOLUTE"]
    assert found[0].arguments == ("'A (1), b'!A1", "T[[#This Row],[Pressure]]", "{1,2}")
    assert found[0].gases() == ["'A (1), b'!A1"]


def test_the_name_of_the_sheet_is_no_formula() -> None:
    assert not list(calls_in(f"{NAME}!A1"))
