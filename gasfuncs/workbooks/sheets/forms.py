"""Writes forms: points that are worked down, judged, and signed with a name and a date."""

from __future__ import annotations

from math import ceil

from gasfuncs.workbooks.sheets import look
from gasfuncs.workbooks.sheets.checking import validation
from gasfuncs.workbooks.sheets.kinds import kind_named, prompt, told
from gasfuncs.workbooks.sheets.layout import Plan
from gasfuncs.workbooks.sheets.paper import Paper
from gasfuncs.workbooks.sheets.parts import Form, Input, Point

HEADINGS = ("", "What to do", "Wanted", "Unit", "Found", "Judged", "Result", "Done by", "Date")
NUMBER, WHAT, WANTED, UNIT, FOUND, JUDGED, RESULT, BY, ON = range(len(HEADINGS))
MET, NOT_MET, NOT_SIGNED, OPEN = "met", "NOT met", "not signed", "open"
GOOD, BAD, UNSURE = ("yes", "tight", "passed"), ("no", "leaks", "failed"), ("cannot tell", "repeat")
"""What worksheet functions that judge say."""
NAME = Input("By", "Done by", "text", "Name of whoever did it and saw it", required=False)
DAY = Input("On", "Date", "date", "The day on which it was done, for example 10 Nov 2026")
LINE = 74
"""Characters of what to do on a line."""


def write_form(paper: Paper, plan: Plan, form: Form, top: int, left: int) -> None:
    """Heading and points; the columns of results, of points and of dates have names."""
    for at, text in enumerate(HEADINGS):
        paper.write(top, left + at, form.heading if at == 0 else None, "heading")
        paper.write(top + 1, left + at, text, "column")
    first, last = top + 2, top + 1 + len(form.points)
    for row, point in enumerate(form.points, first):
        paper.write(row, left + NUMBER, row - first + 1, "unit", "whole")
        _asked(paper, plan, point, row, left)
        _judged(paper, plan, point, row, left)
        _signed(paper, plan, point, row, left)
        paper.ws.set_row(row, 17 * max(1, ceil(len(point.found.label) / LINE)) + 4)
    for what, at in (("what", WHAT), ("results", RESULT), ("dates", ON)):
        paper.file.name(f"{form.name}_{what}", paper.at(first, left + at, last, left + at))
    _mark(paper, first, last, left)


def _asked(paper: Paper, plan: Plan, point: Point, row: int, left: int) -> None:
    """What to do, what is wanted, and what is found: typed, or calculated."""
    each, kind = point.found, kind_named(point.found.kind)
    number = each.number or kind.number
    paper.write(row, left + WHAT, each.label, "label")
    wanted = f"={plan.scope.formula(point.wanted)}" if point.wanted else None
    paper.write(row, left + WANTED, wanted, "value", number)
    paper.write(row, left + UNIT, point.unit or kind.unit(plan.system), "unit")
    found = paper.at(row, left + FOUND, row, left + FOUND)
    if isinstance(each, Input):
        value = told(plan.given.inputs.get(each.name), each.kind, plan.system)
        paper.write(row, left + FOUND, value, "input", number)
        rule = validation(each, plan.system, plan.prompts.of_input(each))
        paper.ws.data_validation(row, left + FOUND, row, left + FOUND, rule)
    else:
        formula = plan.scope.answer(each.formula, each.kind, each.answers)
        paper.write(row, left + FOUND, f"={formula}", "value", number)
        paper.hide_errors(found)
    paper.file.name(each.name, found)
    paper.hide_errors(paper.at(row, left + WANTED, row, left + WANTED))


def _judged(paper: Paper, plan: Plan, point: Point, row: int, left: int) -> None:
    """What a worksheet function says, and whether the point is met and signed.

    Nothing is judged before the inputs are right and something is found.
    """
    judged = paper.at(row, left + JUDGED, row, left + JUDGED)
    found = paper.at(row, left + FOUND, row, left + FOUND).local
    formula = f'=IF(OR(Inputs_wrong>0,{found}=""),"",{plan.scope.formula(point.judged)})'
    paper.write(row, left + JUDGED, formula, "value", "text")
    paper.hide_errors(judged)
    paper.file.name(f"{point.found.name}_judged", judged)
    by, on = (paper.at(row, left + at, row, left + at).local for at in (BY, ON))
    signed = f'IF(AND(TRIM({by})<>"",ISNUMBER({on})),"{MET}","{NOT_SIGNED}")'
    unsure = f'IF({_one_of(judged.local, UNSURE)},{judged.local},"{OPEN}")'
    not_met = f'IF({_one_of(judged.local, BAD)},"{NOT_MET}",{unsure})'
    result = f'=IFERROR(IF({_one_of(judged.local, GOOD)},{signed},{not_met}),"{OPEN}")'
    paper.write(row, left + RESULT, result, "check")


def _one_of(cell: str, words: tuple[str, ...]) -> str:
    return "OR(" + ",".join(f'{cell}="{word}"' for word in words) + ")"


def _signed(paper: Paper, plan: Plan, point: Point, row: int, left: int) -> None:
    for end, at, typed, number in (("by", BY, NAME, "text"), ("on", ON, DAY, "date")):
        name = f"{point.found.name}_{end}"
        value = plan.given.inputs.get(name)
        paper.write(row, left + at, value, "input", number)
        rule = validation(typed, plan.system, prompt(typed.prompt, plan.system))
        paper.ws.data_validation(row, left + at, row, left + at, rule)
        paper.file.name(name, paper.at(row, left + at, row, left + at))


def _mark(paper: Paper, first: int, last: int, left: int) -> None:
    results = paper.at(first, left + RESULT, last, left + RESULT)
    cell = paper.at(first, left + RESULT, first, left + RESULT).local
    paper.when(results, f'{cell}="{NOT_MET}"', font_color=look.BAD, bg_color=look.BAD_FILL)
    paper.when(results, f'{cell}<>"{MET}"', font_color=look.SOFT)
