"""Carried books: the same answers from a program that knows nothing of the library, and limits."""

from __future__ import annotations

import re
import shutil
import zipfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
from openxml_audit import OpenXmlValidator, ValidationSeverity

from gasfuncs.cli.carrying import run_carried, run_carry
from gasfuncs.errors import CellError
from gasfuncs.hosts.carried import CarryError, carry, undo
from gasfuncs.hosts.carried.book import PART
from gasfuncs.hosts.carried.carriable import carried_functions
from gasfuncs.hosts.carried.reasons import BOUND, PARTLY, REASONS, SEARCHES
from gasfuncs.hosts.headless import recalculate
from gasfuncs.hosts.headless.errors import WorkbookError
from gasfuncs.properties import tables
from gasfuncs.registry import worksheet_functions
from tests.calc.book import expected
from tests.calc.office import needs_office
from tests.carried.books import compared, same
from tests.carried.engines import (
    FEW,
    answers_in,
    by_names,
    computed,
    every_function,
    few,
    written_out,
)
from tests.carried.proof import agree, apart, in_cells, library, proving
from tests.carried.texts import texts

TEMPLATE = Path(__file__).parents[2] / "workbook_templates" / "argon_nitrogen_cost.xlsx"
PAGE = Path(__file__).parents[2] / "docs" / "hosts" / "carried.md"
LYING = PARTLY["GAS_TANK_LIQUID"]


def test_each_function_is_carried_or_says_why_not() -> None:
    assert set(REASONS) <= set(worksheet_functions())
    assert set(PARTLY) <= set(carried_functions())
    assert len(carried_functions()) >= 98


def test_the_page_has_every_function_that_is_not_carried() -> None:
    rows = re.findall(r"^\| (it [^|]+) \| ([^|]+) \|$", PAGE.read_text(encoding="utf-8"), re.M)
    told = {name: reason for reason, names in rows for name in names.split(", ")}
    assert told == REASONS
    counts = f"{len(carried_functions())} of the {len(worksheet_functions())} functions"
    assert counts in PAGE.read_text(encoding="utf-8")


def test_by_names() -> None:
    formulas = few(FEW)
    assert {f.partition("(")[0] for f in formulas} == set(carried_functions())
    assert not apart(formulas, answers_in(every_function(), formulas))


def test_what_is_carried_in_part_answers_all_else(tmp_path: Path) -> None:
    calls = [each for each in proving() if each.partition("(")[0] in PARTLY]
    known = [each for each in calls if not isinstance(library(each), CellError)]
    answers = zip(known, by_names(known, tmp_path), strict=True)
    refused = Counter(
        call.partition("(")[0] for call, told in answers if not agree(library(call), told)
    )
    asked = Counter(call.partition("(")[0] for call in known)
    assert all(refused[name] < asked[name] for name in PARTLY), refused


def test_random_texts(tmp_path: Path) -> None:
    formulas = list(dict.fromkeys(texts(150, seed=2)))
    assert not apart(formulas, by_names(formulas, tmp_path))


SPILT = (
    'GAS_DENSITY({"argon","helium"},{1;5;10},{20,20})',
    'GAS_BACKFILL("argon",2.5,0,{2,"3 bar(a)";"x",-1},20)',
    'GAS_DENSITY("argon",{1;2},{1;2;3})',
)


def test_ranges_spill(tmp_path: Path) -> None:
    plain, full = tmp_path / "plain.xlsx", tmp_path / "full.xlsx"
    with xlsxwriter.Workbook(plain) as file:
        sheet = file.add_worksheet("Calls")
        for number, formula in enumerate(SPILT):
            sheet.write_dynamic_array_formula(10 * number, 0, 10 * number, 0, "=" + formula)
    carry(plain, full)
    values = computed(full)
    for number, formula in enumerate(SPILT):
        own = expected(formula)
        for down, row in enumerate(own if isinstance(own, list) else [[own]]):
            for right, value in enumerate(row):
                assert agree(value, values("Calls", 10 * number + down + 1, right + 1)), formula


COLD_LIQUID = (
    'GAS_FROM_LIQUID("argon",1000,5,"-186 degC")', 'GAS_FLASH("nitrogen",8,1.1,"-180 degC")',
    'GAS_FLASH("argon",5,2,3)', 'GAS_FLASH("argon",5,2,5)', 'GAS_FLASH("argon",5,2,6)',
    'GAS_VAPORIZER_DUTY("hydrogen",100,9,5,"20.5 K")', 'GAS_DELIVERED("air",5000,"-190 degC")',
    'GAS_FROM_LIQUID("helium",900,1.5,"-269.5 degC")', 'GAS_FROM_LIQUID("argon",9,5,"-190 degC")',
    'GAS_TO_LIQUID("carbon dioxide",90,20,"-30 degC")', 'GAS_FROM_LIQUID("oxygen",9,9,"-99 degC")',
)  # fmt: skip
"""Liquid of a temperature of its own, also colder than ice and warmer than boiling."""


DEW_POINTS = (
    'GAS_PPM_DEW("6000 ppm")', 'GAS_PPM_DEW("6035 ppm")', 'GAS_PPM_DEW("6100 ppm")',
    'GAS_PPM_DEW("50 %")', "GAS_PPM_DEW(1E-9)", 'GAS_DEW_SHIFT(-1,"7 bar(g)",1.01325,"water")',
    'GAS_DEW_SHIFT(-90,9,1.01325,"ice","nitrogen")', 'GAS_DEW_SHIFT(-40,1.5,9,"ice","argon")',
)  # fmt: skip
"""Searches that end on both sides of the bend where ice melts, and beyond the ends."""


MIXED = (
    'GAS_TANK_MIX("nitrogen",278.9,"13 bar(a)","600 L(liq)","3 bar(a)",1101)',
    'GAS_TANK_MIX("nitrogen",14138,"14.1 bar(a)","16798 L(liq)","2.1 bar(a)",56487)',
)
"""Searches that go on among values that are nothing but rounding."""


def test_cold_liquid_and_dew_points(tmp_path: Path) -> None:
    formulas = [*COLD_LIQUID, *DEW_POINTS, *MIXED]
    assert not apart(formulas, by_names(formulas, tmp_path))


def test_near_the_critical_point_cold_liquid_is_no_number(tmp_path: Path) -> None:
    near = 'GAS_FROM_LIQUID("nitrogen",1000,"32.5 bar(a)","-150 degC")'
    assert by_names([near], tmp_path) == [CellError("#NUM!")]


@needs_office
def test_in_calc(tmp_path: Path) -> None:
    formulas = list(filter(in_cells, few(1)))[::6]
    assert not apart(formulas, written_out(formulas, tmp_path))


def test_a_book(tmp_path: Path) -> None:
    rows = list(compared(TEMPLATE, tmp_path))
    assert len(rows) > 100
    assert not [row for row in rows if not same(row[3], row[4])]
    [full] = tmp_path.glob("carried-*")
    only_added(tmp_path / f"still-{TEMPLATE.name}", full)
    assert not OpenXmlValidator().validate(str(full)).errors
    assert not recalculate(full, check=True).problems


Then = Callable[[xlsxwriter.Workbook], object]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return written(tmp_path / "book.xlsx", 'GAS_DENSITY("argon",5,20)')


def written(path: Path, formula: str, then: Then | None = None) -> Path:
    with xlsxwriter.Workbook(path) as file:
        file.add_worksheet("Calls").write_formula(0, 0, "=" + formula)
        if then:
            then(file)
    return path


def test_undone_it_is_as_before(book: Path, tmp_path: Path) -> None:
    full, back = tmp_path / "full.xlsx", tmp_path / "back.xlsx"
    carry(book, full)
    undo(full, back)
    assert parts(book) == parts(back)
    only_added(book, full)


def parts(path: Path) -> list[tuple[str, bytes]]:
    """Every part of a file, in its order."""
    with zipfile.ZipFile(path) as file:
        return [(name, file.read(name)) for name in file.namelist()]


def only_added(book: Path, full: Path) -> None:
    """A carried book has one part more, three that are longer, and else every byte as it was."""
    before, after = parts(book), dict(parts(full))
    longer = {name for name, data in before if after[name] != data}
    assert longer == {"[Content_Types].xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels"}
    assert set(after) - {name for name, _ in before} == {PART}


def test_refusals(book: Path, tmp_path: Path) -> None:
    full, out = tmp_path / "full.xlsx", tmp_path / "out.xlsx"
    carry(book, full)
    macros, other = (shutil.copy(book, tmp_path / f"book{kind}") for kind in (".xlsm", ".ods"))
    named = written(tmp_path / "named.xlsx", 'GAS_DENSITY("argon",5,20)',
                    lambda file: file.define_name("gas_density", "=Calls!$B$1"))  # fmt: skip
    local = written(tmp_path / "local.xlsx", 'GAS_DENSITY("argon",5,20)',
                    lambda file: file.define_name("Calls!GF_Z", "=Calls!$B$1"))  # fmt: skip
    sheet = written(tmp_path / "sheet.xlsx", 'GAS_DENSITY("argon",5,20)',
                    lambda file: file.add_worksheet("Gasfuncs"))  # fmt: skip
    table = written(tmp_path / "table.xlsx", 'GAS_DENSITY("argon",5,20)',
                    lambda file: file.get_worksheet_by_name("Calls").add_table(
                        "C1:D3", {"name": "Gas_Density"}))  # fmt: skip
    none = written(tmp_path / "none.xlsx", 'GAS_LIST("volume")')
    (tmp_path / "old.xlsx").write_bytes(bytes.fromhex("d0cf11e0a1b11ae1") + bytes(600))
    (tmp_path / "text.xlsx").write_text("pressure;temperature")
    for path, says in (
        (full, "carries its functions already"), (macros, "only .xlsx"), (other, "only .xlsx"),
        (named, "defined name gas_density of its own"), (local, "defined name GF_Z of its own"),
        (sheet, "sheet gasfuncs of its own"), (table, "has a table Gas_Density"),
        (none, "calls no function"),
        (tmp_path / "missing.xlsx", "there is no file"),
        (tmp_path / "text.xlsx", "cut short or damaged"),
        (tmp_path / "old.xlsx", "without a password"),
    ):  # fmt: skip
        with pytest.raises(WorkbookError, match=says):
            carry(path, out)
        assert not out.exists()
    for name in ("out.ods", "nowhere/out.xlsx"):
        with pytest.raises(WorkbookError):
            carry(book, tmp_path / name)
        assert not (tmp_path / name).exists()
    with pytest.raises(CarryError, match="carries no functions"):
        undo(book, out)


def test_a_template_that_cannot_be_carried_is_not_written(tmp_path: Path) -> None:
    out = tmp_path / "out.xlsx"
    with pytest.raises(CarryError, match=r"out\.xlsx calls no function"):
        run_carried(lambda path: written(path, "SUM(1,2)"), out)
    assert not out.exists()
    run_carried(lambda path: written(path, "GAS_ABSOLUTE(5)"), out)
    assert out.exists()


def in_parts(path: Path, target: Path, part: str, old: str, new: str) -> Path:
    """A book with something else in a part; a part that it has not is new."""
    with zipfile.ZipFile(path) as one, zipfile.ZipFile(target, "w") as other:
        for name in one.namelist():
            data = one.read(name)
            assert name != part or old.encode() in data
            other.writestr(
                name, data.replace(old.encode(), new.encode(), 1) if name == part else data
            )
        if part not in one.namelist():
            other.writestr(part, new)
    return target


def test_signed_and_protected_books_stay_as_they_are(book: Path, tmp_path: Path) -> None:
    full, out = tmp_path / "full.xlsx", tmp_path / "out.xlsx"
    carry(book, full)
    for path, change in ((book, carry), (full, undo)):
        signed = in_parts(
            path, tmp_path / "signed.xlsx", "_xmlsignatures/sig1.xml", "", "<Signature/>"
        )
        lock = '<workbookProtection lockStructure="1"/><bookViews>'
        locked = in_parts(path, tmp_path / "locked.xlsx", "xl/workbook.xml", "<bookViews>", lock)
        for refused, says in ((signed, "is signed"), (locked, "take the protection")):
            with pytest.raises(CarryError, match=says):
                change(refused, out)
            assert not out.exists()


def by_openpyxl(path: Path) -> Path:
    """A book with parts as openpyxl writes them, and names of its own that begin as ours do."""
    book = openpyxl.Workbook()
    book.active["A1"] = '=GAS_DENSITY("argon",5,20)'
    book.active["B1"] = '=gas_density("argon",5,20)'
    book.active.protection.sheet = True
    book.save(path)
    return path


def with_own_names(path: Path) -> Path:
    def name(file: xlsxwriter.Workbook) -> None:
        for each in ("GAS_Tariff", "GF_Site"):
            file.define_name(each, "=Calls!$B$1")

    return written(path, 'GAS_DENSITY("argon",5,20)*GAS_Tariff', name)


def errors_of(path: Path) -> list[str]:
    """What is wrong with a file; texts that stand in their cells are only warned of."""
    found = OpenXmlValidator().validate(str(path)).errors
    return [each.description for each in found if each.severity is ValidationSeverity.ERROR]


@pytest.mark.parametrize("made", [by_openpyxl, with_own_names])
def test_books_of_others_are_undone_too(made: Callable[[Path], Path], tmp_path: Path) -> None:
    book, full, back = made(tmp_path / "book.xlsx"), tmp_path / "full.xlsx", tmp_path / "back.xlsx"
    carry(book, full)
    assert errors_of(full) == errors_of(book)
    undo(full, back)
    assert parts(book) == parts(back)


def test_a_carried_book_that_was_saved_by_another_program(book: Path, tmp_path: Path) -> None:
    full, saved, back = (tmp_path / f"{each}.xlsx" for each in ("full", "saved", "back"))
    carry(book, full)
    other = openpyxl.load_workbook(full)
    notes = other.create_sheet("Notes")
    notes.print_title_rows = "1:1"
    other.active = 2
    other.save(saved)
    with pytest.raises(CarryError, match="carries its functions already"):
        carry(saved, back)
    undo(saved, back)
    after = openpyxl.load_workbook(back)
    assert after.sheetnames == ["Calls", "Notes"]
    assert after.active.title == "Notes"
    assert after["Notes"].print_title_rows == "$1:$1"
    assert not after.defined_names
    carry(back, full)
    assert computed(full)("Calls", 1, 1) == computed(saved)("Calls", 1, 1)


def test_what_is_not_carried_is_named(tmp_path: Path) -> None:
    book = written(tmp_path / "two.xlsx", 'GAS_DENSITY("argon",5,20)+GAS_RELIEF_FLOW(1)')
    done = carry(book, tmp_path / "out.xlsx")
    assert done.carried == ["GAS_DENSITY"]
    [left] = done.left
    assert (left.place, left.name, left.left) == ("A1 of Calls", "GAS_RELIEF_FLOW", SEARCHES)


def test_what_is_carried_in_part_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    formula = 'GAS_TANK_LIQUID("62 %",2.2,6.5)+GAS_ABSOLUTE(5)'
    run_carry(written(tmp_path / "book.xlsx", formula), tmp_path / "out.xlsx")
    told = capsys.readouterr().out
    assert f"GAS_TANK_LIQUID shows #N/A in some calls, never another number: {LYING}" in told
    assert "GAS_ABSOLUTE shows" not in told


def test_a_call_that_names_an_add_in_is_not_carried(tmp_path: Path) -> None:
    bound = '_xldudf_GAS_DENSITY("argon",5,20)'
    done = carry(written(tmp_path / "two.xlsx", f"GAS_ABSOLUTE(5)+{bound}"), tmp_path / "out.xlsx")
    assert done.carried == ["GAS_ABSOLUTE"]
    assert [(each.name, each.left) for each in done.left] == [("GAS_DENSITY", BOUND)]
    with pytest.raises(
        CarryError, match="GAS_DENSITY in A1 of Calls is not, since its formula names"
    ):
        carry(written(tmp_path / "one.xlsx", bound), tmp_path / "none.xlsx")


@pytest.mark.parametrize("name", ["GAS_RELIEF_FLOW", "GAS_TANK_PLAN", "GAS_FORECAST"])
def test_what_cannot_be_recorded_is_a_sentence(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delitem(REASONS, name)
    out = tmp_path / "out.xlsx"
    with pytest.raises(CarryError, match=f"{name} has no native formula"):
        carry(written(tmp_path / "book.xlsx", f"{name}(1)"), out)
    assert not out.exists()


def test_without_series_nothing_is_carried(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tables.table.cache_clear()
    monkeypatch.setenv("GASFUNCS_TABLES", "off")
    try:
        with pytest.raises(CarryError, match="unset GASFUNCS_TABLES"):
            carry(book, tmp_path / "out.xlsx")
    finally:
        tables.table.cache_clear()
