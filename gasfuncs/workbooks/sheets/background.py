"""The sheets Checks, For other books and Sources."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from gasfuncs.registry import worksheet_function_named
from gasfuncs.workbooks.sheets import look
from gasfuncs.workbooks.sheets.formulas import CHECK
from gasfuncs.workbooks.sheets.inputs import SHEET as INPUTS
from gasfuncs.workbooks.sheets.kinds import kind_named
from gasfuncs.workbooks.sheets.layout import STATUS, Cells, Plan
from gasfuncs.workbooks.sheets.paper import File, Paper
from gasfuncs.workbooks.sheets.parts import BACKGROUND, READ_HERE, Table, Test

CAUTIONS = (
    "Argon and nitrogen asphyxiate without warning: nobody enters a furnace, pit or vessel that "
    "held them before the oxygen in it has been measured.",
    "Cryogenic liquid and cold vapour burn skin and make steel brittle; liquid trapped between two "
    "shut valves bursts the line unless a relief valve stands between them.",
    "Pressure vessels, relief valves and their discharge outdoors are for licensed people. Local "
    "codes decide; the numbers here are estimates to plan with.",
)
BELOW = 1_000
"""Rows below a table in which something may stand that does not count."""
STATUS_HEADINGS = (
    "Table",
    "Sheet",
    "Rows typed",
    "Left out",
    "First left out",
    "Rows free",
    "Below it",
)


def checks_sheet(file: File, plan: Plan, size: int) -> None:
    """Write the named tests and the state of every table that is typed."""
    paper = Paper(file, "Checks", READ_HERE, [2, 46, 90, 14, 12, 12, 12, 12], size)
    paper.title("Checks", "Named tests: ok, or what is wrong and where.")
    tests = (*_standard(plan), *plan.book.tests)
    for at, text in enumerate(("Test", "Result", "Sheet", "Wrong"), 1):
        paper.write(3, at, text, "column")
    for row, test in enumerate(tests, 4):
        _test(paper, plan, test, row)
    last = 3 + len(tests)
    results = paper.at(4, 2, last, 2).local
    paper.write(last + 1, 1, "Tests that ask for a look", "label")
    paper.write(last + 1, 2, f'={len(tests)}-COUNTIF({results},"ok")', "value", "text")
    file.name("Checks_wrong", paper.at(last + 1, 2, last + 1, 2))
    file.name("Checks_names", paper.at(4, 1, last, 1))
    file.name("Checks_results", paper.at(4, 2, last, 2))
    _tables(paper, plan, last + 4)


def _standard(plan: Plan) -> list[Test]:
    """The tests that every book has."""
    tests = [
        Test(
            "Every input is typed and in range",
            "Inputs_wrong>0",
            "{Inputs_wrong} on Inputs to fill in or mend",
            INPUTS,
        )
    ]
    for name, table in plan.tables.items():
        if table.typed:
            tests += _of_table(name, plan.sheet_of[name])
    return tests


def _of_table(name: str, sheet: str) -> list[Test]:
    column = f"{{{name}_out}} row(s) left out, the first is row {{{name}_first}} of {sheet}: see "
    full = "no free row, or something typed below the table: write the book anew with more rows "
    return [
        Test(f"{name}: every row counts", f"{name}_out>0", column + "its Check", sheet),
        Test(
            f"{name}: rows are free",
            f"OR({name}_free=0,{name}_below>0)",
            full + "(gasfuncs workbook, --from and --rows)",
            sheet,
        ),
    ]


def _test(paper: Paper, plan: Plan, test: Test, row: int) -> None:
    when, says = plan.scope.formula(test.when), plan.scope.text(test.says)
    paper.write(row, 1, test.name, "value", "text")
    wrong = paper.at(row, 4, row, 4).local
    paper.write(row, 4, f"=IF({when},1,0)", "value")
    paper.hide_errors(paper.at(row, 4, row, 4))
    result = f'=IF(ISERROR({wrong}),"cannot be tested yet",IF({wrong}=1,{says},"ok"))'
    paper.write(row, 2, result, "check")
    paper.link(row, 3, test.sheet, test.sheet)
    cell = paper.at(row, 2, row, 2)
    paper.when(cell, f'{cell.local}<>"ok"', font_color=look.BAD, bg_color=look.BAD_FILL)


def _tables(paper: Paper, plan: Plan, row: int) -> None:
    """The state of every table that is typed; those that have a say in the verdict stand first."""
    for at, text in enumerate(STATUS_HEADINGS, 1):
        paper.write(row, at, text, "column")
    typed = [table for table in plan.tables.values() if table.typed]
    for at, table in enumerate(sorted(typed, key=lambda table: table.aside), row + 1):
        paper.write(at, 1, table.name, "value", "text")
        paper.link(at, 2, plan.sheet_of[table.name], plan.sheet_of[table.name])
        for column, (what, formula) in enumerate(zip(STATUS, _status(plan, table), strict=True), 3):
            if what == "first":
                paper.array(at, column, formula, "value", "whole")
            else:
                paper.write(at, column, formula, "value", "whole")
            paper.file.name(f"{table.name}_{what}", paper.at(at, column, at, column))
    deciding = paper.at(row + 1, 2, row + sum(not table.aside for table in typed), 4)
    _left_out(paper, deciding, row + len(typed) + 2)


def _left_out(paper: Paper, tables: Cells, row: int) -> None:
    """How many rows are left out of the tables that decide, and the words of it for the verdict.

    The tables that others look up stand first, and so does what is to be mended first.
    """
    sheets = replace(tables, right=tables.left).local
    out = replace(tables, left=tables.right).local
    first = f"INDEX({sheets},MATCH(1,IF({out}>0,1,0),0))"
    said = f'"Without "&Rows_out&" row(s): see the Check on "&{first}&" first. "'
    paper.write(row, 1, "Rows left out", "label")
    paper.write(row, 4, f"=SUM({out})", "value", "whole")
    paper.file.name("Rows_out", paper.at(row, 4, row, 4))
    paper.write(row + 1, 1, "Said before the verdict", "label")
    paper.array(row + 1, 4, f'=IF(Rows_out=0,"",{said})', "value", "text")
    paper.file.name("Rows_out_said", paper.at(row + 1, 4, row + 1, 4))


def _status(plan: Plan, table: Table) -> tuple[str, ...]:
    """Formulas: rows typed, left out, the first of these, free, and cells below the table."""
    name, check = table.name, f"{table.name}[{CHECK}]"
    cells = plan.cells(f"{name}.{table.typed[0].name}")
    wide = len(table.typed) - 1
    first = cells.fixed.split("!")[0].lstrip("=")
    below = plan.cells(f"{name}.{table.typed[0].name}")
    ground = type(cells)(
        cells.sheet, below.bottom + 1, below.left, below.bottom + BELOW, below.left + wide
    )
    return (
        f'=SUMPRODUCT(--({check}<>""))',
        f'=SUMPRODUCT(({check}<>"")*({check}<>"ok"))',
        f'=IFERROR(MATCH(1,({check}<>"")*({check}<>"ok"),0)+{cells.top},0)',
        f"=ROWS({check})-{name}_typed",
        f"=COUNTA({first}!{ground.local})",
    )


def others_sheet(file: File, plan: Plan, size: int) -> None:
    """Write the numbers that other books ask for."""
    paper = Paper(file, "For other books", READ_HERE, [2, 50, 16, 12, 70], size)
    paper.title("For other books", "The numbers that other books of this set ask for.")
    for at, text in enumerate(("What", "Value", "Unit", "Which book asks for it"), 1):
        paper.write(3, at, text, "column")
    for row, each in enumerate(plan.book.others, 4):
        kind = kind_named(each.kind)
        formula = "=" + plan.scope.answer(each.formula, each.kind, each.answers)
        paper.write(row, 1, each.label, "label")
        paper.write(row, 2, formula, "value", each.number or kind.number)
        paper.write(row, 3, kind.unit(plan.system), "unit")
        paper.write(row, 4, each.note, "note")
        file.name(each.name, paper.at(row, 2, row, 2))
    paper.hide_errors(paper.at(4, 2, 3 + len(plan.book.others), 2))


def sources_sheet(file: File, plan: Plan, size: int) -> None:
    """Write the cautions, and the functions used with their equations and references."""
    paper = Paper(file, "Sources", BACKGROUND, [2, 26, 46, 46, 90], size)
    paper.title("Sources", "Cautions in full; the functions used, their equations and references.")
    cautions = (*CAUTIONS, *plan.book.cautions)
    for row, caution in enumerate(cautions, 3):
        paper.merged(paper.at(row, 1, row, 4), caution, "caution")
        paper.ws.set_row(row, 20 * ceil(len(caution) / 190))
    top = 4 + len(cautions)
    for at, text in enumerate(("Function", "What it answers", "Equation", "References"), 1):
        paper.write(top, at, text, "column")
    for row, name in enumerate(plan.book.functions, top + 1):
        found = worksheet_function_named(name)
        references = "; ".join(str(source) for source in found.sources)
        texts = (found.usage.partition("(")[0], found.summary, found.equation, references)
        for at, text in enumerate(texts, 1):
            paper.write(row, at, text, "body")
        lines = max(ceil(len(t) / w) for t, w in zip(texts, (26, 50, 50, 106), strict=True))
        paper.ws.set_row(row, 15 * lines + 4)
