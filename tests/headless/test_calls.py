"""Calls of the library's functions in formulas."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from gasfuncs.hosts.headless import recalculate
from tests.headless.fakes import Function, Parameter, build, computed, functions, problems, values
from tests.headless.test_writing import rewrite

_NUMBERS = {"A1": 1, "A2": 2, "A3": 3, "B1": "x", "B2": "y", "B3": "x"}


@pytest.mark.parametrize(
    ("formula", "expected"),
    [
        ("=GAS_TWICE(A2)", 4),
        ("=gas_twice(A2)", 4),
        ("=_xll.GAS_TWICE(A2)", 4),
        ("=_xldudf_GAS_TWICE(A2)", 4),
        ("=_xludf.GAS_TWICE(A2)", 4),
        ("=(GAS_TWICE(A2))", 4),
        ("=GAS_TWICE(-2.5)", -5),
        ("=GAS_TWICE(50%)", 1),
        ("=GAS_TWICE(A2)*3+A1", 13),
        ("=GAS_TWICE(GAS_TWICE(GAS_TWICE(A3)))", 24),
        ("=GAS_TWICE(A1+GAS_TWICE(A2))", 10),
        ('=IF(A1=1,GAS_TWICE(A2),"no")', 4),
        ('=IF(A1=2,GAS_TWICE("x"),"no")', "no"),
        ('=IFERROR(GAS_TWICE("x"),"none")', "none"),
        ('=GAS_TWICE("x")', "#VALUE!"),
        ("=GAS_TWICE(1/0)", "#DIV/0!"),
        ("=GAS_TWICE(#N/A)", "#N/A"),
        ("=GAS_ADD(A3)", 3),
        ("=GAS_ADD(A3,)", 3),
        ("=GAS_ADD(,A3)", 3),
        ("=GAS_ADD(A3,GAS_ADD(A2,A1))", 6),
        ('=GAS_TWICE(A2)&" bar"', "4 bar"),
        ('=GAS_TWICE(A1/3)&""', "0.666666666666667"),
        ("=GAS_NOTHING()", ""),
        ("=GAS_ENDLESS()", "#NUM!"),
        ("=GAS_SEEN(Z9)", "NoneType None"),
        ("=GAS_SEEN(A1)", "float 1.0"),
        ("=GAS_SEEN(A1=1)", "bool True"),
        ("=GAS_SEEN(TRUE)", "bool True"),
        ('=GAS_SEEN("a""b")', 'str a"b'),
        ('=GAS_SEEN("")', "str "),
        ("=GAS_SEEN(B1)", "str x"),
        ("=GAS_SEEN(B1&B2)", "str xy"),
        ("=GAS_SEEN(ROW()*10+COLUMN())", "float 18.0"),
        ("=GAS_TOTAL(A1:A3)", 6),
        ("=GAS_TOTAL(A:A)", 6),
        ("=GAS_TOTAL($A$1:$A$3)", 6),
        ("=GAS_TOTAL(A2)", 2),
        ("=GAS_TOTAL(A1:A3*2)", 12),
        ("=GAS_TOTAL({1,2;3,4})", 10),
        ('=GAS_TOTAL(_xlfn._xlws.FILTER(A1:A3,B1:B3="x"))', 4),
        ("=GAS_TOTAL(GAS_STEPS(A3))", 6),
        ("=GAS_TOTAL(SUM(GAS_TWICE(A1:A3))+1)", 13),
        ("=SUM(GAS_TWICE(A1:A3))", 12),
        ("=SUM(GAS_TWICE(A1:A3)*A1:A3)", 12),
        ("=MAX(GAS_STEPS(5))", 5),
        ("=INDEX(GAS_STEPS(A3),2,2)", "step 2"),
        ("=GAS_TWICE(A1:A3)", 2),
        ("=GAS_TWICE(A1:A3)*10", 20),
        ('=GAS_TWICE(INDEX(A1:A3,MATCH("y",B1:B3,0)))', 4),
        ('=GAS_TWICE(_xlfn.XLOOKUP("y",B1:B3,A1:A3))', 4),
        ("=_xlfn.LET(_xlpm.q,A3,GAS_TWICE(_xlpm.q)+_xlpm.q)", 9),
        ("=_xlfn.LET(_xlpm.q,GAS_TWICE(A3),_xlpm.r,_xlpm.q+1,_xlpm.q*_xlpm.r)", 42),
        ("=_xlfn.LAMBDA(_xlpm.x,_xlpm.x+GAS_TWICE(A3))(1)", 7),
        # as Excel writes a call that was copied from a workbook with the functions in a module
        ("=[1]!GAS_TWICE(A3)", 6),
        ("='x.xlsm'!GAS_TWICE(A3)+my.xlsm!gas_twice(A2)", 10),
        ("='C:\\Gas\\it''s [x.xlsm]Log'!GAS_TWICE('C:\\Gas\\x.xlam'!GAS_TWICE(A3))", 12),
    ],
)
def test_value(tmp_path: Path, formula: str, expected: Any) -> None:
    found = computed(tmp_path / "book.xlsx", {**_NUMBERS, "H1": formula})
    assert found.get("H1", "") == expected


@pytest.mark.parametrize(
    ("formula", "expected"),
    [
        ("{=GAS_TWICE(A1:A3)}", [[2], [4], [6]]),
        ("{=GAS_TWICE(A1:A3)*10}", [[20], [40], [60]]),
        ("{=GAS_TWICE(A1:A3*10)}", [[20], [40], [60]]),
        ("{=GAS_STEPS(2)}", [[1, "step 1"], [2, "step 2"]]),
        ("{=GAS_ADD(A1:A3,{10,20})}", [[11, 21], [12, 22], [13, 23]]),
        ('{=GAS_TWICE(_xlfn._xlws.FILTER(A1:A3,B1:B3="x"))}', [[2], [6]]),
        ("{=GAS_TWICE(A2)}", [[4]]),
        ("{=GAS_TWICE(GAS_TWICE(A1:A3))}", [[4], [8], [12]]),
        ("{=GAS_SEEN(A1:B2)}", [["float 1.0", "str x"], ["float 2.0", "str y"]]),
    ],
)
def test_spill(tmp_path: Path, formula: str, expected: list[list[Any]]) -> None:
    found = computed(tmp_path / "book.xlsx", {**_NUMBERS, "H1": formula})
    rows = [[found.get(f"{'HIJ'[j]}{i + 1}") for j in range(3)] for i in range(4)]
    width = len(expected[0])
    filled = [row + [None] * (3 - width) for row in expected]
    assert rows == filled + [[None] * 3] * (4 - len(expected))


def test_other_functions_of_another_workbook_are_not_computed(tmp_path: Path) -> None:
    cells = {"A1": "='x.xlsm'!OTHER(3)", "A2": "=[1]!OTHER(3)", "A3": "=Main!GAS_TWICE(3)"}
    assert problems(tmp_path / "book.xlsx", cells).keys() == cells.keys()


def test_a_spill_reference_sees_our_array(tmp_path: Path) -> None:
    cells = {**_NUMBERS, "H1": "{=GAS_TWICE(A1:A3)}", "J1": "=SUM(_xlfn.ANCHORARRAY(H1))"}
    assert computed(tmp_path / "book.xlsx", {**cells, "K1": "=SUM(H1:H9)"})["K1"] == 12
    assert computed(tmp_path / "book.xlsx", cells)["J1"] == 12


def test_blocked_spill(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", {**_NUMBERS, "H1": "{=GAS_STEPS(3)}", "H3": "in the way"})
    report = recalculate(path, functions=functions())
    assert [(e.cell, e.code) for e in report.errors] == [("H1", "#SPILL!")]
    assert "not empty" in report.errors[0].sentence
    assert values(path)["H3"] == "in the way"
    assert values(path)["H1"] == "#VALUE!"  # as spreadsheet files hold #SPILL!
    assert not recalculate(path, functions=functions()).changed


def test_chains_settle(tmp_path: Path) -> None:
    cells: dict[str, Any] = {"A1": 1}
    for row in range(2, 21):
        cells[f"A{row}"] = f"=GAS_ADD(A{row - 1}+0,1)"
    cells["B1"] = "=GAS_TOTAL(A1:A20)"
    found = computed(tmp_path / "book.xlsx", cells)
    assert found["A20"] == 20
    assert found["B1"] == 210


def test_a_long_chain_needs_no_turn_for_each_call(tmp_path: Path) -> None:
    cells: dict[str, Any] = {"A1": 1}
    cells |= {f"A{row}": f"=GAS_ADD(A{row - 1},1)" for row in range(2, 401)}
    path = build(tmp_path / "book.xlsx", cells)
    made = functions()
    recalculate(path, functions=made)
    assert values(path)["A400"] == 400
    assert len(made["GAS_ADD"].asked) == 399


def test_calls_down_a_column_are_one_call(tmp_path: Path) -> None:
    cells: dict[str, Any] = {}
    for row in range(1, 101):
        cells[f"A{row}"] = row
        cells[f"B{row}"] = f"=GAS_TWICE(A{row})"
        cells[f"C{row}"] = f'=IF(A{row}=3,"",GAS_TWICE(A{row}*2)+$A$2)'
    made = functions()
    found = computed(tmp_path / "book.xlsx", cells, functions=made)
    assert [found[f"B{row}"] for row in (1, 50, 100)] == [2, 100, 200]
    assert (found.get("C3", ""), found["C100"]) == ("", 402)
    assert len(made["GAS_TWICE"].asked) == 2


def test_a_whole_argument_is_not_a_column_of_calls(tmp_path: Path) -> None:
    cells: dict[str, Any] = {f"A{row}": row for row in range(1, 6)}
    cells |= {f"B{row}": f"=GAS_TOTAL(A{row})" for row in range(1, 6)}
    cells |= {f"C{row}": f"=GAS_TOTAL(A$1:A{row})" for row in range(1, 6)}
    cells |= {f"D{row}": f"=GAS_TOTAL(A{row}:A{row + 1})" for row in range(1, 6)}
    found = computed(tmp_path / "book.xlsx", cells)
    assert [found[f"B{row}"] for row in range(1, 6)] == [1, 2, 3, 4, 5]
    assert [found[f"C{row}"] for row in range(1, 6)] == [1, 3, 6, 10, 15]
    assert [found[f"D{row}"] for row in range(1, 6)] == [3, 5, 7, 9, 5]


@pytest.mark.parametrize(
    "cells",
    [
        {"A1": "=GAS_TWICE(A1)"},
        {"A1": "=GAS_TWICE(B1)", "B1": "=A1+1"},
        {"A1": "=GAS_TWICE(B1)", "B1": "=IFERROR(A1,0)"},
        {"A1": "=GAS_TOTAL(A1:B2)"},
        {"A1": "=1+GAS_TWICE(B1+0)", "B1": "=GAS_TWICE(A1)"},
        {"A1": "=A1+1"},
        {"A1": "=IFERROR(A1,0)+1"},
    ],
)
def test_circular_references_are_named(tmp_path: Path, cells: dict[str, Any]) -> None:
    found = problems(tmp_path / "book.xlsx", cells)
    assert "circular" in found["A1"]


def test_a_call_sees_a_lambda_s_variable(tmp_path: Path) -> None:
    formula = "{=_xlfn.MAP(A1:A3,_xlfn.LAMBDA(_xlpm.x,GAS_TWICE(_xlpm.x)))}"
    found = computed(tmp_path / "book.xlsx", {**_NUMBERS, "H1": formula})
    assert [found[cell] for cell in ("H1", "H2", "H3")] == [2, 4, 6]


def test_too_many_arguments(tmp_path: Path) -> None:
    assert "it takes 1" in problems(tmp_path / "book.xlsx", {"A1": "=GAS_TWICE(1,2)"})["A1"]


def test_variadic_arguments(tmp_path: Path) -> None:
    parameters = (Parameter("first"), Parameter("more", required=False, variadic=True))
    made = {"GAS_COUNT": Function("GAS_COUNT", parameters, lambda *given: float(len(given)))}
    found = computed(tmp_path / "b.xlsx", {"A1": "=GAS_COUNT(1,2,3,4)"}, functions=made)
    assert found["A1"] == 4


def test_the_report_tells_the_sentence(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": "x", "B1": "=GAS_TWICE(A1)", "C1": "=B1+1"})
    report = recalculate(path, functions=functions())
    assert [(e.sheet, e.cell, e.code, e.sentence) for e in report.errors] == [
        ("Main", "B1", "#VALUE!", "value: 'x' is no number"),
        ("Main", "C1", "#VALUE!", "a value of the wrong kind"),
    ]
    assert report.formulas == 2
    assert report.calls == 1
    assert report.as_dict()["errors"][0]["cell"] == "B1"


def test_an_error_of_another_cell_is_told_to_the_function(tmp_path: Path) -> None:
    made = functions()
    build(tmp_path / "book.xlsx", {"A1": "=1/0", "B1": "=GAS_TWICE(A1)"})
    report = recalculate(tmp_path / "book.xlsx", functions=made)
    assert report.errors[1].sentence == "Main!A1 is #DIV/0!: a division by zero"


def test_progress_is_told(tmp_path: Path) -> None:
    told: list[tuple[int, int, str]] = []
    build(tmp_path / "book.xlsx", {"A1": "=GAS_TWICE(1)", "B1": "=GAS_TWICE(A1)"})
    recalculate(
        tmp_path / "book.xlsx",
        functions=functions(),
        progress=lambda done, total, what: told.append((done, total, what)),
    )
    assert told[-1] == (2, 2, "computing")


def test_tables_and_names(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    workbook = xlsxwriter.Workbook(path)
    main = workbook.add_worksheet("Main")
    other = workbook.add_worksheet("Other & Co")
    main.write_column("B3", [1, 2, 3])
    main.write_column("C3", [10, 20, 30])
    columns = [{"header": h} for h in ("Use", "Odd [a]'s #1", "Twice", "Both")]
    main.add_table("B2:E6", {"name": "Log", "columns": columns, "total_row": True})
    for row in (3, 4, 5):
        main.write_formula(f"D{row}", "=GAS_TWICE(Log[[#This Row],[Use]])")
        main.write_formula(f"E{row}", "=[@Use]+Log[[#This Row],[Odd '[a']''s '#1]]")
    workbook.define_name("Rate", "=0.5")
    workbook.define_name("Uses", "=Log[Use]")
    workbook.define_name("First", "=Main!$B$3")
    workbook.define_name("'Other & Co'!First", "=Main!$B$4")
    workbook.define_name("Double", "=First*2")
    workbook.define_name("Plus", "=_xlfn.LAMBDA(_xlpm.x,_xlpm.x+100)")
    formulas = [
        ("=SUM(Log[Use])", 6),
        ("=SUM(Log)", 6 + 60 + 12 + 66),
        ("=SUM(Log[[Use]:[Twice]])", 78),
        ("=ROWS(Log[#All])", 5),
        ("=ROWS(Log[#Data])", 3),
        ("=Log[[#Headers],[Twice]]", "Twice"),
        ("=COLUMNS(Log[#Headers])", 4),
        ("=ROWS(Log[[#Headers],[#Data],[Use]])", 4),
        ("=Rate*4", 2),
        ("=SUM(Uses)", 6),
        ("=GAS_TOTAL(Uses)", 6),
        ("=GAS_TOTAL(Log[[#All],[Use]])", 6),
        ("=First", 2),
        ("=Main!First", 1),
        ("=GAS_TWICE(First)", 4),
        ("=Double+1", 5),
        ("=Plus(1)", 101),
        ("=Main!B4", 2),
        ('=INDIRECT("Main!B5")', 3),
        ('=SUM(INDIRECT("Log[Use]"))', 6),
    ]
    for row, (formula, _) in enumerate(formulas):
        other.write_formula(row, 0, formula)
    workbook.close()
    report = recalculate(path, functions=functions())
    assert not [*report.problems, *report.kept]
    found = values(path)
    assert [found[f"D{row}"] for row in (3, 4, 5)] == [2, 4, 6]
    assert [found[f"E{row}"] for row in (3, 4, 5)] == [11, 22, 33]
    results = values(path, "Other & Co")
    assert {f: results.get(f"A{row + 1}") for row, (f, _) in enumerate(formulas)} == dict(formulas)


def test_this_row_outside_the_table(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    workbook = xlsxwriter.Workbook(path)
    sheet = workbook.add_worksheet("Main")
    sheet.write_column("A2", [1, 2])
    sheet.add_table("A1:A3", {"name": "Log", "columns": [{"header": "Use"}]})
    for row in (2, 3, 9):
        sheet.write_formula(f"C{row}", "=GAS_TWICE(Log[[#This Row],[Use]])")
    workbook.close()
    recalculate(path, functions=functions())
    found = values(path)
    assert (found["C2"], found["C3"], found["C9"]) == (2, 4, "#VALUE!")


def test_whole_columns_and_rows_move(tmp_path: Path) -> None:
    cells: dict[str, Any] = {"A1": 1, "A2": 2, "B1": 10, "B2": 20}
    cells |= {"D5": "=SUM(A:A)", "E5": "=SUM(B:B)", "D6": "=SUM(A:A)", "F5": "=SUM($A:$A)"}
    cells |= {"D8": "=SUM(1:1)", "D9": "=SUM(2:2)", "E9": "=GAS_TOTAL(2:2)"}
    found = computed(tmp_path / "book.xlsx", cells)
    assert [found[cell] for cell in ("D5", "E5", "D6", "F5")] == [3, 30, 3, 3]
    assert [found[cell] for cell in ("D8", "D9", "E9")] == [11, 22, 22]


def test_text_that_looks_like_an_address_is_left_alone(tmp_path: Path) -> None:
    cells = {f"A{row}": f'="A{row}"&GAS_TWICE(1)' for row in range(1, 4)}
    cells |= {f"B{row}": f'=GAS_SEEN("B{row}")' for row in range(1, 4)}
    found = computed(tmp_path / "book.xlsx", cells)
    assert [found[f"A{row}"] for row in range(1, 4)] == ["A12", "A22", "A32"]
    assert [found[f"B{row}"] for row in range(1, 4)] == ["str B1", "str B2", "str B3"]


@pytest.mark.parametrize(
    ("formula", "expected"),
    [
        ('=_xlfn.TEXTJOIN("-",TRUE,"a","","b")', "a-b"),
        ('=_xlfn.TEXTJOIN("-",FALSE,"a","","b")', "a--b"),
        ('=_xlfn.TEXTJOIN(", ",TRUE,A1:A3,B9)&"."', "1, 2, 3."),
        ('{=_xlfn.TEXTJOIN("+",TRUE,IF(A1:A3>1,A1:A3,""))}', "2+3"),
        ('=_xlfn.TEXTJOIN("",TRUE,1/3,TRUE,1E+20)', "0.333333333333333TRUE1E+20"),
        ('=_xlfn.TEXTJOIN("",TRUE,1/0)', "#DIV/0!"),
    ],
)
def test_textjoin(tmp_path: Path, formula: str, expected: str) -> None:
    found = computed(tmp_path / "book.xlsx", {**_NUMBERS, "H1": formula})
    assert found["H1"] == expected


def test_cached_values_of_another_workbook(tmp_path: Path) -> None:
    """A file keeps what it last saw of the cells that it links to."""
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    formulas = {"A1": "=[1]Prices!B2*2", "A2": "=SUM([1]Prices!B1:B3)", "A3": "='[1]Prices'!C1"}
    path = build(tmp_path / "book.xlsx", {**formulas, "A4": "=GAS_TWICE([1]Prices!B2)"})
    link = (
        f'<externalLink xmlns="{main}" xmlns:r="{relations}"><externalBook r:id="rId1">'
        '<sheetNames><sheetName val="Prices"/></sheetNames><sheetDataSet><sheetData sheetId="0">'
        '<row r="1"><cell r="B1"><v>1.5</v></cell><cell r="C1" t="str"><v>argon</v></cell></row>'
        '<row r="2"><cell r="B2"><v>4</v></cell></row></sheetData></sheetDataSet></externalBook>'
        "</externalLink>"
    )
    target = f'<Relationship Id="rId99" Type="{relations}/externalLink" Target="link.xml"/>'
    rewrite(path, {
        "xl/link.xml": link.encode(),
        "xl/_rels/workbook.xml.rels": lambda text: text.replace(
            "</Relationships>", f"{target}</Relationships>"),
        "xl/workbook.xml": lambda text: text.replace(
            "<calcPr", '<externalReferences><externalReference r:id="rId99"/>'
            "</externalReferences><calcPr"),
    })  # fmt: skip
    assert not recalculate(path, functions=functions()).problems
    found = values(path)
    assert [found[f"A{row}"] for row in (1, 2, 3, 4)] == [8, 5.5, "argon", 8]
