"""Writes tables: units, headings, cells, prompts, checks."""

from __future__ import annotations

from typing import Any

from gasfuncs.workbooks.sheets import look
from gasfuncs.workbooks.sheets.checking import list_of, validation
from gasfuncs.workbooks.sheets.formulas import CHECK
from gasfuncs.workbooks.sheets.kinds import kind_named, told
from gasfuncs.workbooks.sheets.layout import HEAD_ROWS, Plan
from gasfuncs.workbooks.sheets.paper import Paper
from gasfuncs.workbooks.sheets.parts import Column, Table

CHECK_WIDTH = 34
HEAD_HEIGHT = 32


def write_table(paper: Paper, plan: Plan, table: Table, top: int, left: int) -> None:
    """Heading, units, column names and all rows."""
    names, count = plan.columns(table), plan.counts[table.name]
    _head(paper, plan, table, top, left)
    formulas = _formulas(plan, table)
    first = top + HEAD_ROWS
    paper.ws.add_table(
        first - 1,
        left,
        first + count - 1,
        left + len(names) - 1,
        {
            "name": table.name,
            "style": None,
            "autofilter": False,
            "columns": [
                {
                    "header": name,
                    "header_format": paper.file.style("column"),
                    "formula": formulas.get(name, ("", False))[0] or None,
                }
                for name in names
            ],
        },
    )
    typed = {column.name: number for number, column in enumerate(table.typed)}
    rows = plan.given.tables.get(table.name, ())
    for at, name in enumerate(names, left):
        column = next((each for each in table.columns if each.name == name), None)
        if name in typed and column:
            values = [row[typed[name]] for row in rows]
            _typed(
                paper, plan, table, column, first, at, [*values, *[None] * (count - len(values))]
            )
        else:
            _calculated(paper, formulas[name], column, first, at, count)


def _head(paper: Paper, plan: Plan, table: Table, top: int, left: int) -> None:
    names = plan.columns(table)
    for at, name in enumerate(names, left):
        kind = next((each.kind for each in table.columns if each.name == name), "text")
        shown = at < left + plan.shown_columns(table)
        paper.write(top, at, table.heading if at == left else None, "heading")
        paper.write(top + 1, at, kind_named(kind).unit(plan.system) if shown else None, "unit")
    if table.typed:
        at = _past(paper, table.heading, left)
        paper.write(top, at, f'={table.name}_free&" rows free"', "heading")
    paper.ws.set_row(top + 2, HEAD_HEIGHT)
    if table.log:
        paper.ws.freeze_panes(top + HEAD_ROWS, left + 1)


def _past(paper: Paper, heading: str, left: int) -> int:
    """The first column, of those after two, that a heading does not reach."""
    at = left + 2
    while at < len(paper.widths) and sum(paper.widths[left:at]) < 1.05 * len(heading):
        at += 1
    return at


def _formulas(plan: Plan, table: Table) -> dict[str, tuple[str, bool]]:
    """The formula of each calculated column, and whether it works on arrays."""
    inside = plan.scope.within(table)
    made = {}
    for column in table.columns:
        if column.calculated:
            formula = (
                inside.cases(column.cases)
                if column.cases
                else inside.answer(column.formula, column.kind, column.answers)
            )
            if table.typed:
                formula = f'IF({inside.formula(f"{{{table.typed[0].name}}}")}="","",{formula})'
            made[column.name] = f"={formula}", column.array
    names = [name for name in plan.columns(table) if name.startswith(CHECK) and name not in made]
    checks = plan.checks.get(table.name, [])
    return made | {name: (check, False) for name, check in zip(names, checks, strict=True)}


def _typed(
    paper: Paper, plan: Plan, table: Table, column: Column, top: int, at: int, values: list[Any]
) -> None:
    number = column.number or kind_named(column.kind).number
    for row, value in enumerate(values, top):
        paper.write(row, at, told(value, column.kind, plan.system), "input", number)
    taken = list_of(column.choices)
    source = plan.cells(f"{taken[0]}.{taken[1]}").fixed if taken else None
    rule = validation(column, plan.system, plan.prompts.of_column(table, column), source)
    paper.ws.data_validation(top, at, top + len(values) - 1, at, rule)


def _calculated(
    paper: Paper, formula: tuple[str, bool], column: Column | None, top: int, at: int, count: int
) -> None:
    style = "value" if column else "check"
    number = (column.number or kind_named(column.kind).number) if column else "text"
    made, array = formula
    for row in range(top, top + count):
        if array:
            paper.array(row, at, made, style, number)
        else:
            paper.write(row, at, made, style, number)
    cells = paper.at(top, at, top + count - 1, at)
    paper.hide_errors(cells)
    if number == "rate":
        paper.plain_below_zero(cells)
    if not column:
        first = paper.at(top, at, top, at).local
        wrong = f'AND({first}<>"",{first}<>"ok")'
        paper.when(cells, wrong, font_color=look.BAD, bg_color=look.BAD_FILL, bold=True)


def width_of(table: Table, name: str) -> float:
    """The width of a table's column."""
    if name == CHECK:
        return CHECK_WIDTH
    column = next((each for each in table.columns if each.name == name), None)
    wide = column.width or kind_named(column.kind).width if column else 11
    return max(wide, *(len(word) + 3.0 for word in name.split()))
