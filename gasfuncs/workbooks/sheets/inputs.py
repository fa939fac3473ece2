"""The Inputs sheet: one way to ask for a value, with unit, prompt, check and where to find it."""

from __future__ import annotations

from math import ceil

from gasfuncs.workbooks.sheets import look
from gasfuncs.workbooks.sheets.checking import is_good, list_of, validation, wanted
from gasfuncs.workbooks.sheets.kinds import kind_named, told
from gasfuncs.workbooks.sheets.layout import Plan
from gasfuncs.workbooks.sheets.paper import File, Paper, landscape_room
from gasfuncs.workbooks.sheets.parts import TYPE_HERE, Group, Input, Row

SHEET = "Inputs"
PURPOSE = "Type in the coloured cells. Blanks are marked until they are filled."
HEADINGS = ("What", "Value", "Unit", "Check", "What to type")
LABEL, VALUE, UNIT, CHECK, PROMPT = range(1, 6)
WIDTHS = [2, 36, 24, 9, 26, 61]
LABEL_WRAPS, PROMPT_WRAPS = 42, 74
"""Characters of a label and of a prompt on a line."""
LINE, HEAD, TOP = 16.0, 45.0, 75.0
"""Points of a line of an input, of a group besides its inputs, and above all groups."""


def inputs_sheet(file: File, plan: Plan, size: int) -> None:
    """Write the sheet, one page, upright where it is long; every input gets name, prompt, check."""
    high = TOP + sum(_height(plan, group) for group in plan.book.groups)
    paper = Paper(file, SHEET, TYPE_HERE, WIDTHS, size, high <= landscape_room(WIDTHS, size))
    paper.ws.fit_to_pages(1, 1)
    paper.title(SHEET, PURPOSE)
    paper.write(2, LABEL, "Units of this book", "label")
    paper.write(2, VALUE, plan.system, "value", "text")
    paper.write(
        2,
        PROMPT,
        "Fixed when the book was written: typed numbers keep their meaning.",
        "note",
    )
    file.name("Units", paper.at(2, VALUE, 2, VALUE))
    row = 4
    for group in plan.book.groups:
        row = _group(paper, plan, group, row) + 1
    asked = sum(isinstance(each, Input) for group in plan.book.groups for each in group.inputs)
    checks = paper.at(4, CHECK, row, CHECK)
    paper.write(1, CHECK, f'={asked}-COUNTIF({checks.local},"ok")', "check", "whole")
    paper.write(
        1,
        PROMPT,
        '=IF(Inputs_wrong=0,"all inputs are in range",Inputs_wrong&" to fill in or mend")',
        "note",
    )
    file.name("Inputs_wrong", paper.at(1, CHECK, 1, CHECK))
    paper.ws.freeze_panes(4, 0)


def _height(plan: Plan, group: Group) -> float:
    return HEAD + LINE * sum(_lines(each, plan) for each in group.inputs)


def _group(paper: Paper, plan: Plan, group: Group, row: int) -> int:
    for at in range(LABEL, PROMPT + 1):
        paper.write(row, at, group.heading if at == LABEL else None, "heading")
    for at, text in enumerate(HEADINGS, LABEL):
        paper.write(row + 1, at, text, "column")
    row += 2
    for each in group.inputs:
        if isinstance(each, Input):
            _input(paper, plan, each, row)
        else:
            _row(paper, plan, each, row)
        lines = _lines(each, plan)
        paper.ws.set_row(row, LINE * lines or None, None, {"hidden": lines == 0})
        row += 1
    return row


def _lines(each: Input | Row, plan: Plan) -> int:
    """The lines that an input takes, none where it is hidden."""
    if isinstance(each, Row) and each.hidden:
        return 0
    note = plan.prompts.of_input(each) if isinstance(each, Input) else each.note
    return max(1, ceil(len(note) / PROMPT_WRAPS), ceil(len(each.label) / LABEL_WRAPS))


def _input(paper: Paper, plan: Plan, each: Input, row: int) -> None:
    kind = kind_named(each.kind)
    value = told(plan.given.inputs.get(each.name), each.kind, plan.system)
    paper.write(row, LABEL, each.label, "label")
    paper.write(row, VALUE, value, "input", each.number or kind.number, align="left", indent=1)
    paper.write(row, UNIT, kind.unit(plan.system), "unit")
    paper.write(row, PROMPT, plan.prompts.of_input(each), "note")
    paper.file.name(each.name, paper.at(row, VALUE, row, VALUE))
    taken = list_of(each.choices)
    source = plan.cells(f"{taken[0]}.{taken[1]}").fixed if taken else None
    paper.ws.data_validation(
        row, VALUE, row, VALUE, validation(each, plan.system, plan.prompts.of_input(each), source)
    )
    good = is_good(each.name, each, plan.scope)
    paper.write(row, CHECK, f'=IF({good},"ok","{wanted(each, plan.system)}")', "check")
    check = paper.at(row, CHECK, row, CHECK)
    paper.when(check, f'{check.local}<>"ok"', font_color=look.BAD, bg_color=look.BAD_FILL)


def _row(paper: Paper, plan: Plan, each: Row, row: int) -> None:
    kind = kind_named(each.kind)
    formula = "=" + plan.scope.answer(each.formula, each.kind, each.answers)
    paper.write(row, LABEL, each.label, "label")
    number = each.number or kind.number
    paper.write(row, VALUE, formula, "value", number, align="left", indent=1)
    paper.write(row, UNIT, kind.unit(plan.system), "unit")
    paper.write(row, PROMPT, each.note, "note")
    paper.file.name(each.name, paper.at(row, VALUE, row, VALUE))
    paper.hide_errors(paper.at(row, VALUE, row, VALUE))
