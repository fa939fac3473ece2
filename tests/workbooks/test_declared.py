"""What every declared book is held to, by its declaration and by the file that is made of it."""

from __future__ import annotations

import datetime as dt
import re
import zipfile
from dataclasses import replace
from itertools import pairwise, product
from pathlib import Path

import pytest
from openxml_audit import OpenXmlValidator

from gasfuncs.hosts.headless import read_values
from gasfuncs.registry import worksheet_function_named, worksheet_functions
from gasfuncs.workbooks.sheets import look
from gasfuncs.workbooks.sheets.building import BOOKS, build, demo
from gasfuncs.workbooks.sheets.checking import is_number
from gasfuncs.workbooks.sheets.formulas import LONGEST, Scope, shown
from gasfuncs.workbooks.sheets.kinds import (
    KINDS,
    METRIC,
    SYSTEMS,
    US,
    day_format,
    days_told,
    in_unit,
    told,
)
from gasfuncs.workbooks.sheets.layout import Plan
from gasfuncs.workbooks.sheets.parts import (
    ACT,
    BACKGROUND,
    FINE,
    Case,
    Column,
    Given,
    Sentence,
    Table,
    inputs_of,
    made,
)
from tests.thorough import part
from tests.workbooks.conftest import Built
from tests.workbooks.editing import cells_of, sheet_parts, shown_texts
from tests.workbooks.test_templates import BETWEEN_MACHINES, TEMPLATES, alike, parts

EVERY = pytest.mark.parametrize("name", list(BOOKS))
LAPTOP = (1366, 768)
TWIPS_A_PIXEL = 15


@EVERY
@pytest.mark.parametrize("units", part(SYSTEMS, 2))
def test_a_formula_reads_in_one_breath(name: str, units: str, built: Built) -> None:
    formulas = cells_of(built(name, units)).formulas.items()
    told = [f"{sheet}!{cell}: {shown(text)}" for (sheet, cell), text in formulas]
    assert told
    long = [each for each in told if len(each) > LONGEST + 32]
    assert not long


@pytest.mark.parametrize("name", part(BOOKS, 2))
@pytest.mark.parametrize("units", part(SYSTEMS, 2))
def test_the_file_is_clean(name: str, units: str, built: Built) -> None:
    found = OpenXmlValidator().validate(str(built(name, units)))
    assert not found.errors


@EVERY
@pytest.mark.parametrize(
    ("units", "filled"), [*product(SYSTEMS, [True]), *product(part(SYSTEMS, 2), [False])]
)
def test_start_says_something(name: str, units: str, filled: bool, built: Built) -> None:
    start = read_values(built(name, units, filled=filled), ["Start"])["Start"]
    level, sentence = start[4, 2], start[4, 4]
    assert str(level).lower() in look.LEVELS
    assert isinstance(sentence, str)
    assert len(sentence) > 40
    assert "#" not in sentence
    assert ("missing" in sentence) is not filled


def test_no_error_leads_to_in_order(tmp_path: Path) -> None:
    cases = (Case("1/0>0", "never", ACT), Case("", "all is well", FINE))
    book = replace(BOOKS["argon_nitrogen_cost"], verdict=Sentence("Answer", cases))
    build(book, tmp_path / "book.xlsx")
    assert read_values(tmp_path / "book.xlsx")["Start"][4, 2] == "CANNOT TELL"


@EVERY
def test_all_checks_of_the_demo_are_ok(name: str, built: Built) -> None:
    checks = read_values(built(name), ["Checks"])["Checks"]
    last = next(row for row in range(5, 100) if (row, 2) not in checks) - 1
    results = [checks[row, 3] for row in range(5, last)]
    assert len(results) > 3
    assert set(results) == {"ok"}


@EVERY
def test_window_and_date(name: str, built: Built) -> None:
    with zipfile.ZipFile(built(name)) as package:
        view = package.read("xl/workbook.xml").decode()
        core = package.read("docProps/core.xml").decode()
    size = [int(value) for value in re.findall(r'window(?:Width|Height)="(\d+)"', view)]
    assert [side / TWIPS_A_PIXEL for side in size] <= list(LAPTOP)
    created = re.search(r"<dcterms:created[^>]*>([\d-]+)", core)
    assert created
    assert abs(dt.date.fromisoformat(created[1]) - dt.datetime.now(tz=dt.UTC).date()).days <= 1


@EVERY
def test_charts_have_words_for_those_who_cannot_see_them(name: str, built: Built) -> None:
    with zipfile.ZipFile(built(name)) as package:
        drawings = [p for p in package.namelist() if re.fullmatch(r"xl/drawings/d\w+\.xml", p)]
        charts = [p for p in package.namelist() if re.fullmatch(r"xl/charts/c\w+\.xml", p)]
        told = [
            each
            for part in drawings
            for each in re.findall(r'descr="([^"]*)"', package.read(part).decode())
        ]
        titles = [package.read(part).decode().count("<c:title>") for part in charts]
    assert len(told) == len(charts) > 0
    assert all(len(each) > 40 for each in told)
    assert all(count >= 2 for count in titles), "an axis has no title"


@EVERY
def test_every_cell_to_type_in_says_what_to_type(name: str, built: Built) -> None:
    cells = cells_of(built(name))
    assert cells.unlocked
    assert not set(cells.unlocked) - cells.prompted


@EVERY
@pytest.mark.parametrize("units", SYSTEMS)
def test_every_prompt_has_an_example(name: str, units: str) -> None:
    """A list to choose from is one."""
    book = BOOKS[name]
    plan = Plan(book, units, Given())
    told = [plan.prompts.of_input(each) for each in inputs_of(book) if not each.choices]
    told += [
        plan.prompts.of_column(table, column)
        for table in plan.tables.values()
        for column in table.typed
        if not column.choices
    ]
    assert len(told) > 10
    assert [each for each in told if not re.search(r"\d|example", each)] == []
    assert [each for each in told if len(each) > 255] == []


@EVERY
def test_us_books_answer_what_metric_books_answer(name: str, built: Built) -> None:
    metric, us = (read_values(built(name, units)) for units in (METRIC, US))
    assert metric["Start"][4, 2] == us["Start"][4, 2]


@pytest.mark.parametrize(
    ("kind", "unit"),
    [(kind, unit) for kind, each in KINDS.items() for unit in [each.metric] if each.us != unit],
)
def test_a_us_value_as_a_function_takes_it(kind: str, unit: str) -> None:
    convert = worksheet_function_named("GAS_CONVERT")
    wanted = "bar(a)" if unit == "bar(g)" else unit
    expression = in_unit("50", kind, US, wanted).replace("Site_bar", "1.01325")
    unit_there = KINDS[kind].us
    value = convert(50, unit_there, wanted)
    if kind == "kelvins":
        value -= convert(0, unit_there, wanted)
    assert eval(expression) == pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize(
    ("number", "there"),
    [
        ("d mmm yyyy", "mmm d, yyyy"),
        ("ddd d mmm", "ddd mmm d"),
        ("d mmm yy", "mmm d, yy"),
        ("mmmm yyyy", "mmmm yyyy"),
        ("mmm yy", "mmm yy"),
    ],
)
def test_days_are_written_as_in_the_us(number: str, there: str) -> None:
    assert day_format(number, US) == there
    assert day_format(number, METRIC) == number
    assert days_told("from 27 Oct 2026 to 3 Nov, 12 h", US) == "from Oct 27, 2026 to Nov 3, 12 h"


@EVERY
def test_a_us_demo_is_typed_as_in_the_us(name: str) -> None:
    """Short numbers and units of the US; what is 20 degC is 68 degF."""
    given = demo(BOOKS[name], US)
    tables = Plan(BOOKS[name], US, given).tables
    typed = [
        (value, column)
        for table, rows in given.tables.items()
        for row in rows
        for column, value in zip(tables[table].typed, row, strict=True)
    ]
    shown = [told(value, column.kind, US) for value, column in typed if is_number(column)]
    numbers = [value for value in shown if isinstance(value, float)]
    assert [value for value in numbers if value != float(f"{value:.5g}")] == []
    texts = [value for value in given.inputs.values() if isinstance(value, str)]
    texts += [value for value, _ in typed if isinstance(value, str)]
    assert [text for text in texts if re.search(r"Nm3|L\(liq\)|kg|mbar|DN|e\+", text)] == []


WRITTEN_ELSEWHERE = re.compile(
    r"\b\d{1,2} (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b|\bd mmm"
    r"|\bNm3|mbar|\bbar\b|degC|\bK\b|litre"
)
KEPT = ("Harden", "coefficient K", "Sources", "Pascal", "unit of that price", "Liquid at")
"""Names of recipes, and what tells of units."""


@EVERY
def test_us_books_say_nothing_as_it_is_written_elsewhere(name: str, built: Built) -> None:
    """Days, prompts, units and number formats, wherever they are shown."""
    sheets = [each.name for each in BOOKS[name].sheets if each.role != BACKGROUND]
    texts = shown_texts(built(name, US), ["Start", "Inputs", *sheets, "Checks"])
    told = [text for text in texts if WRITTEN_ELSEWHERE.search(text)]
    assert not [text for text in told if not any(kept in text for kept in KEPT)]


@EVERY
def test_a_template_is_what_the_code_builds(name: str, tmp_path: Path) -> None:
    build(BOOKS[name], tmp_path / "built.xlsx")
    kept, new = parts(TEMPLATES / f"{name}.xlsx"), parts(tmp_path / "built.xlsx")
    assert list(kept) == list(new)
    within = BETWEEN_MACHINES.get(name, 1e-8)
    different = [
        part
        for part in new
        if part != "docProps/core.xml" and not alike(kept[part], new[part], within)
    ]
    assert not different, f"{different}: run gasfuncs build workbooks workbook_templates"


@EVERY
def test_no_cell_has_the_name_of_a_function(name: str) -> None:
    """Calc takes it for the cell and shows Err:509."""
    plan = Plan(BOOKS[name], METRIC, BOOKS[name].demo())
    functions = set(worksheet_functions())
    assert functions >= {"GAS_CONFORMS"}
    assert not functions & {each.upper() for each in plan.scope.names}


LOG = Table(
    "Log",
    (
        Column("Date", "date"),
        Column("Level", "liquid", low=0, high=100),
        made("Twice", "liquid", "2*{Level}"),
    ),
)


def test_places() -> None:
    scope = Scope(US, {"Log": LOG}, {"Site_bar": "site"})
    row = scope.within(LOG)
    assert row.formula("{Level as L(liq)}+{row}").startswith("Log[[#This Row],[Level]]*3.785")
    assert scope.formula("SUM({Log.Level})&{unit liquid}") == 'SUM(Log[Level])&"gal(liq)"'
    assert scope.text("{Site_bar:0.00} bar, {unit liquid}") == (
        'TEXT(Site_bar,"0.00")&" bar, gal(liq)"'
    )
    with pytest.raises(Exception, match="no column and no name"):
        scope.formula("{Nothing}")


def test_a_row_check_is_written_from_the_columns() -> None:
    book = BOOKS["delivery_check"]
    plan = Plan(book, METRIC, book.demo())
    said = " ".join(plan.checks["Deliveries"])
    for words in ("missing: Ticket", "a number is missing: Date", "below 0", "twice", "from 0 to"):
        assert words in said


A4, LETTER = b'paperSize="9"', b'paperSize="1"'


@EVERY
@pytest.mark.parametrize(("units", "paper"), [(METRIC, A4), (US, LETTER)])
def test_paper(name: str, units: str, paper: bytes, built: Built) -> None:
    book = built(name, units)
    with zipfile.ZipFile(book) as package:
        assert all(paper in package.read(part) for part in sheet_parts(book).values())


@EVERY
def test_start_links_to_every_sheet(name: str, built: Built) -> None:
    with zipfile.ZipFile(built(name)) as package:
        start = package.read("xl/worksheets/sheet1.xml").decode()
    linked = set(re.findall(r"""location="'([^']+)'!A1\"""", start))
    assert linked == set(sheet_parts(built(name))) - {"Start"}


@EVERY
def test_tab_colours_can_be_told_apart(name: str, built: Built) -> None:
    with zipfile.ZipFile(built(name)) as package:
        sheets = [package.read(part) for part in sheet_parts(built(name)).values()]
    assert len(sheets) > 3
    assert all(b"<tabColor " in sheet[:2000] for sheet in sheets)
    assert all(b"<sheetProtection sheet=" in sheet for sheet in sheets), "without a password"


def luminance(colour: str) -> float:
    def linear(channel: int) -> float:
        share = channel / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[at : at + 2], 16)) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """WCAG 2.1, relative luminance and contrast ratio (read)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_colours_stand_out() -> None:
    assert contrast("#FFFFFF", "#000000") == pytest.approx(21)
    assert all(contrast(colour, look.PAPER) >= 3 for colour in look.SERIES)
    assert all(contrast(one, next_) >= 2 for one, next_ in pairwise(look.SERIES[:6])), "in grey"
    assert all(contrast(colour, look.PAPER) >= 4.5 for colour in look.LEVELS.values())
    assert contrast(look.BAD, look.BAD_FILL) >= 4.5
    assert contrast(look.INK, look.INPUT) >= 4.5
