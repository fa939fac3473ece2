"""The sheet Words: every sentence of the book, case by case, each case in cells of its own."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.layout import Plan
from gasfuncs.workbooks.sheets.paper import File, Paper
from gasfuncs.workbooks.sheets.parts import BACKGROUND, UNKNOWN, Case, Sentence, Step

SHEET = "Words"
PURPOSE = "How the book words its answers: of each sentence the first case that holds is shown."
NUMBER, HOLDS, LEVEL, SAYS, GO = range(1, 6)
HEADINGS = ("Case", "Holds", "Level", "Says", "Sheet")
FIRST = Case(
    "Inputs_wrong>0",
    "{Inputs_wrong} value(s) on Inputs are missing or out of range: fill them in first.",
    UNKNOWN,
)
CANNOT = "Something here cannot be calculated: see Checks, and the Check beside each record."
UNSURE = Case("", CANNOT, UNKNOWN)
"""Of a verdict before its last case, which no error is to lead to."""
ERROR = "error"
"""Stands where a condition is an error."""
STEPS = "Steps"
CHECKS_FIRST = Step("Checks_wrong>0", "Look at Checks: {Checks_wrong} of them ask for it", "Checks")
SHOWN_STEPS = 3


def words_sheet(file: File, plan: Plan, size: int) -> None:
    """Write every sentence and the steps, and name what they say."""
    paper = Paper(file, SHEET, BACKGROUND, [2, 8, 8, 14, 120, 16], size)
    paper.title(SHEET, PURPOSE)
    paper.not_printed()
    book = plan.book
    *conditions, last = book.verdict.cases
    verdict = Sentence(book.verdict.name, (FIRST, *conditions, UNSURE, last))
    row = 3
    for sentence in (verdict, *book.sentences):
        row = _sentence(paper, plan, sentence, row) + 1
    _steps(paper, plan, (CHECKS_FIRST, *book.steps), row)


def _headings(paper: Paper, name: str, row: int) -> int:
    for at, text in enumerate(HEADINGS, NUMBER):
        paper.write(row, at, name if at == NUMBER else None, "heading")
        paper.write(row + 1, at, text, "column")
    return row + 2


def _holds(plan: Plan, when: str) -> str:
    """Whether a condition holds; an error of ours that Excel shows as a text is an error too."""
    if not when:
        return "=1"
    holds = f"IF({plan.scope.formula(when)},1,0)"
    for name in plan.scope.texts(when):
        holds = f'IF(LEFT({name})="#",NA(),{holds})'
    return f'=IFERROR({holds},"{ERROR}")'


def _any_error(above: str) -> str:
    return f'=IF(COUNTIF({above},"{ERROR}")>0,1,0)'


def _level(case: Case) -> str:
    """The level of a verdict's case, which rows that are left out take back."""
    if case.firm or case.level == UNKNOWN:
        return case.level
    return f'=IF(Rows_out>0,"{UNKNOWN}","{case.level}")'


def _sentence(paper: Paper, plan: Plan, sentence: Sentence, row: int) -> int:
    first = _headings(paper, sentence.name, row)
    verdict = any(case.level for case in sentence.cases)
    for at, case in enumerate(sentence.cases, first):
        above = paper.at(first, HOLDS, at - 1, HOLDS).local
        holds = _any_error(above) if case is UNSURE else _holds(plan, case.when)
        paper.write(at, NUMBER, at - first + 1, "value")
        paper.write(at, HOLDS, holds, "value")
        paper.write(at, LEVEL, _level(case) if verdict else "", "value", "text")
        paper.write(at, SAYS, f"={plan.scope.text(case.says)}", "body")
    last = first + len(sentence.cases) - 1
    paper.hide_errors(paper.at(first, SAYS, last, SAYS))
    holds, levels, said = (paper.at(first, at, last, at).local for at in (HOLDS, LEVEL, SAYS))
    shown = f"INDEX({said},MATCH(1,{holds},0))"
    paper.write(last + 1, NUMBER, "Shown", "label")
    if verdict:
        level = f"INDEX({levels},MATCH(1,{holds},0))"
        unsaid = f'{paper.at(last + 1, SAYS, last + 1, SAYS).local}="{CANNOT}"'
        paper.write(last + 1, LEVEL, f'=IF({unsaid},"{UNKNOWN}",{level})', "value", "text")
        paper.file.name(f"{sentence.name}_level", paper.at(last + 1, LEVEL, last + 1, LEVEL))
        shown = f'IFERROR(Rows_out_said&{shown},"{CANNOT}")'
    paper.write(last + 1, SAYS, f"={shown}", "body")
    paper.file.name(sentence.name, paper.at(last + 1, SAYS, last + 1, SAYS))
    return last + 2


def _steps(paper: Paper, plan: Plan, steps: tuple[Step, ...], row: int) -> None:
    """The steps that are due are counted, so that Start can show the first of them."""
    first = _headings(paper, STEPS, row)
    paper.write(first - 1, LEVEL, "Due as", "column")
    top = paper.at(first, HOLDS, first, HOLDS).local.replace(str(first + 1), f"${first + 1}")
    for at, step in enumerate(steps, first):
        here = paper.at(at, HOLDS, at, HOLDS).local
        paper.write(at, NUMBER, at - first + 1, "value")
        paper.write(at, HOLDS, _holds(plan, step.when), "value")
        paper.write(at, LEVEL, f'=IF({here}=1,SUM({top}:{here}),"")', "value")
        paper.write(at, SAYS, f"={plan.scope.text(step.says)}", "body")
        paper.write(at, GO, step.sheet, "value", "text")
    last = first + len(steps) - 1
    paper.hide_errors(paper.at(first, SAYS, last, SAYS))
    for name, at in (("due", LEVEL), ("says", SAYS), ("sheet", GO)):
        paper.file.name(f"{STEPS}_{name}", paper.at(first, at, last, at))
