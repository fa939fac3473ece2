"""Writes a declared book: Start, Inputs, its sheets, Checks, Words, Sources."""

from __future__ import annotations

import datetime as dt
from math import ceil

from gasfuncs import __version__
from gasfuncs.workbooks.sheets.background import checks_sheet, others_sheet, sources_sheet
from gasfuncs.workbooks.sheets.charts import ROW_PIXELS, insert_chart, write_keys
from gasfuncs.workbooks.sheets.forms import write_form
from gasfuncs.workbooks.sheets.inputs import inputs_sheet
from gasfuncs.workbooks.sheets.kinds import US, kind_named
from gasfuncs.workbooks.sheets.layout import Plan
from gasfuncs.workbooks.sheets.paper import File, Paper
from gasfuncs.workbooks.sheets.parts import (
    READ_HERE,
    Block,
    Book,
    Chart,
    Form,
    Given,
    Sheet,
    Table,
    Text,
)
from gasfuncs.workbooks.sheets.start import start_sheet
from gasfuncs.workbooks.sheets.tables import width_of, write_table
from gasfuncs.workbooks.sheets.words import words_sheet

A4, LETTER = 9, 1
BLOCK_WIDTHS = (42, 22, 11, 60)
CHART_PIXELS = 760
ROWS_OF_A_PAGE, ROWS_UPRIGHT = 60, 95
"""Rows that are made to fit one page. Print titles would do, but Calc then draws page breaks."""
NOT_PRINTED = "Not printed with the book: select rows and print the selection."


def write(book: Book, system: str, given: Given, rows: int = 0) -> bytes:
    """The file of a book with what is given typed in it; `rows` is the length of its logs."""
    plan = Plan(book, system, given, rows)
    created = given.created or dt.datetime.now(tz=dt.UTC).replace(tzinfo=None)
    file = File(book.title, book.question, created, system)
    paper = LETTER if system == US else A4
    start_sheet(file, plan, paper, __version__)
    inputs_sheet(file, plan, paper)
    for sheet in book.sheets:
        _sheet(file, plan, sheet, paper)
    checks_sheet(file, plan, paper)
    if book.others:
        others_sheet(file, plan, paper)
    words_sheet(file, plan, paper)
    sources_sheet(file, plan, paper)
    return file.bytes()


def _sheet(file: File, plan: Plan, sheet: Sheet, size: int) -> None:
    paper = Paper(file, sheet.name, sheet.role, _widths(plan, sheet), size, sheet.landscape)
    if sheet.role == READ_HERE or any(isinstance(part, Form) for part in sheet.parts):
        paper.title(sheet.name, sheet.purpose)
    else:
        paper.title(sheet.name, f"{sheet.purpose} {NOT_PRINTED}")
        paper.not_printed()
    _hide_helpers(paper, plan, sheet)
    rows = sheet.printed or plan.last_row(sheet)
    if rows <= (ROWS_OF_A_PAGE if sheet.landscape else ROWS_UPRIGHT):
        paper.ws.fit_to_pages(1, 1)
    if sheet.printed:
        paper.ws.print_area(0, 0, rows - 1, len(_widths(plan, sheet)) - 1)
    for place in plan.placed(sheet):
        part = place.part
        if isinstance(part, Table):
            write_table(paper, plan, part, place.top, place.left)
        elif isinstance(part, Block):
            _block(paper, plan, part, place.top, place.left)
        elif isinstance(part, Form):
            write_form(paper, plan, part, place.top, place.left)
        elif isinstance(part, Chart):
            pixels = (CHART_PIXELS, (part.rows - part.keys) * ROW_PIXELS)
            insert_chart(paper, plan, part, place.top, place.left, pixels)
            if part.keys:
                write_keys(paper, plan, part, place.top + part.rows - 1, place.left)
        else:
            _text(paper, plan, part, place.top, place.left)


def _hide_helpers(paper: Paper, plan: Plan, sheet: Sheet) -> None:
    """Hide the columns in which no part shows anything."""
    helpers: set[int] = set()
    shown: set[int] = set()
    for place in plan.placed(sheet):
        if isinstance(place.part, Table):
            first = place.left + plan.shown_columns(place.part)
            shown.update(range(place.left, first))
            helpers.update(range(first, place.left + len(plan.columns(place.part))))
        elif not isinstance(place.part, Chart):
            shown.update(range(place.left, place.left + plan.width_of(place.part)))
    for at in helpers - shown:
        paper.ws.set_column(at, at, 11, None, {"level": 1, "hidden": True})


def _widths(plan: Plan, sheet: Sheet) -> list[float]:
    """The widths of a sheet's columns: as wide as the widest part needs."""
    if sheet.widths:
        return [2.0, *sheet.widths]
    found: dict[int, float] = {}
    for place in plan.placed(sheet):
        wide: tuple[float, ...] = ()
        if isinstance(place.part, Table):
            table = place.part
            shown = plan.columns(table)[: plan.shown_columns(table)]
            wide = tuple(width_of(table, name) for name in shown)
        elif isinstance(place.part, Block):
            wide = BLOCK_WIDTHS
        for at, width in enumerate(wide, place.left):
            found[at] = max(found.get(at, 0), width)
    return [2.0, *(found.get(at, 10) for at in range(1, max(found, default=0) + 1))]


def _block(paper: Paper, plan: Plan, block: Block, top: int, left: int) -> None:
    for at in range(4):
        paper.write(top, left + at, None if at else block.heading, "heading")
    for row, each in enumerate(block.rows, top + 1):
        paper.write(row, left, each.label, "label")
        formula = "=" + plan.scope.answer(each.formula, each.kind, each.answers)
        number = each.number or kind_named(each.kind).number
        if each.array:
            paper.array(row, left + 1, formula, "value", number)
        else:
            paper.write(row, left + 1, formula, "value", number)
        paper.write(row, left + 2, kind_named(each.kind).unit(plan.system), "unit")
        paper.write(row, left + 3, each.note, "note")
        paper.ws.set_row(row, 15 * max(1, ceil(len(each.note) / 66), ceil(len(each.label) / 44)))
        if number == "rate":
            paper.plain_below_zero(paper.at(row, left + 1, row, left + 1))
        paper.file.name(each.name, paper.at(row, left + 1, row, left + 1))
    paper.hide_errors(paper.at(top + 1, left + 1, top + len(block.rows), left + 1))


def _text(paper: Paper, plan: Plan, text: Text, top: int, left: int) -> None:
    value = plan.scope.text(text.text)
    fixed = text.text if value.startswith('"') and value.count('"') == 2 else f"={value}"
    paper.merged(paper.at(top, left, top + text.lines - 1, left + 3), fixed, text.role)
