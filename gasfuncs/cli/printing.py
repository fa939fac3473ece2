"""How answers, tables, definitions and reports are printed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
from rich.console import Console
from rich.table import Table

from gasfuncs.definition import Definition
from gasfuncs.definition.terms import Term
from gasfuncs.hosts.headless import ErrorCell, Report

_WIDTH_OF_A_FILE = 160


def console() -> Console:
    """The console: as wide as the terminal, wide enough for tables in a file."""
    plain = Console(highlight=False)
    return plain if plain.is_terminal else Console(highlight=False, width=_WIDTH_OF_A_FILE)


def told(value: Any) -> str:
    """A value as a person reads it."""
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.7g}"
    return str(value)


def print_table(rows: Sequence[Sequence[Any]]) -> None:
    """A table below its row of headings."""
    table = Table(
        *(str(heading) for heading in rows[0]), header_style="bold", box=None, pad_edge=False
    )
    for row in rows[1:]:
        table.add_row(*(told(value) for value in row))
    console().print(table, markup=False)


def print_answer(answer: Any) -> None:
    """A number, an array or a table."""
    if isinstance(answer, np.ndarray):
        answer = (
            answer.reshape(-1, answer.shape[-1]).tolist() if answer.ndim > 1 else [answer.tolist()]
        )
        for row in answer:
            console().print("\t".join(told(value) for value in row), markup=False)
    elif isinstance(answer, list):
        print_table(answer)
    else:
        console().print(told(answer), markup=False)


def print_definition(definition: Definition) -> None:
    """Everything that help says about a function."""
    out = console()
    out.print(definition.usage, style="bold", markup=False)
    out.print(definition.summary + ".\n", markup=False)
    rows = [["Argument", "What it is", "May be"]]
    for parameter in definition.parameters:
        rows.append([parameter.name, parameter.description, parameter.term.allowed()])
    print_table(rows)
    result = definition.result
    unit = f", in {result.unit_label}" if isinstance(result, Term) and result.unit_label else ""
    out.print(f"\nAnswers: {result.help}{unit}", markup=False)
    out.print(f"Equation: {definition.equation}", markup=False)
    out.print(
        f"Example: ={definition.example.formula}  gives  {definition.example.answer}", markup=False
    )
    for source in definition.sources:
        out.print(f"Source: {source}", markup=False)
    for caution in definition.cautions:
        out.print(f"Caution: {caution}", style="yellow", markup=False)


MOST_LINES = 20
"""Of a kind that a report shows; `--report FILE` has the others."""


def print_report(report: Report, book: Path) -> None:
    """What a recalculation found and did, on a screen."""
    out = console()
    problems = [f"{p.sheet}!{p.cell}: {p.why}" for p in report.problems]
    _print_lines(problems, "red")
    if problems:
        out.print(
            f"{book} is untouched: {len(problems)} cell(s) cannot be computed. With --keep they "
            f"and all that takes them, {report.kept_cells} cell(s), keep what is stored.",
            markup=False,
        )
        return
    _print_lines([f"{p.sheet}!{p.cell} is kept as it is: {p.why}" for p in report.kept], "yellow")
    _print_errors(report.errors)
    new = sum(error.new for error in report.errors)
    kept = f", {report.kept_cells} cell(s) kept as stored" if report.kept_cells else ""
    out.print(
        f"{book}: {report.formulas} formulas, {len(report.changed)} value(s) changed, "
        f"{len(report.errors)} error(s){', ' + str(new) + ' of them new' if new else ''}{kept}",
        markup=False,
    )
    if report.signed and report.changed:
        out.print("Its digital signature no longer holds: values changed.", markup=False)


def _print_errors(errors: Sequence[ErrorCell]) -> None:
    """The errors that are to be seen, new ones and those with a reason of their own first, then how
    many lie in the background."""
    shown = [error for error in errors if not error.background]
    shown.sort(key=lambda error: (not error.new, error.general))
    _print_lines([_told_together(alike) for alike in _alike(shown)], "yellow")
    behind = Counter(error.background for error in errors if error.background)
    for where, count in behind.most_common():
        new = sum(error.new for error in errors if error.background == where)
        added = f", {new} of them new" if new else ""
        console().print(f"{count} error(s) {where}{added}", style="dim", markup=False)


def _alike(errors: Sequence[ErrorCell]) -> list[list[ErrorCell]]:
    """The errors that say the same of one column."""
    found: dict[tuple[object, ...], list[ErrorCell]] = {}
    for error in errors:
        column = error.cell.rstrip("0123456789")
        found.setdefault((error.new, error.sheet, column, error.sentence), []).append(error)
    return list(found.values())


def _told_together(alike: Sequence[ErrorCell]) -> str:
    first, others = alike[0], len(alike) - 1
    also = f" and {others} more below" if others else ""
    return f"{first.sheet}!{first.cell}{also} is {first.code}: {first.sentence}"


def _print_lines(lines: Sequence[str], style: str) -> None:
    """The first lines, and how many more there are."""
    for line in lines[:MOST_LINES]:
        console().print(line, style=style, markup=False)
    if len(lines) > MOST_LINES:
        more = f"… and {len(lines) - MOST_LINES} more; --report FILE writes all"
        console().print(more, style=style, markup=False)


def print_ledger(monthly: Any, unit: str) -> None:
    """A ledger's use by month and gas, all plants together, and the rows that were missed."""
    sums = monthly.groupby(["month", "gas"], as_index=False, dropna=False)
    rows = sums[["loads", "use", "wrong"]].sum(skipna=False)
    cells = rows.astype(object).where(rows.notna(), "not known").to_numpy().tolist()
    print_table([["Month", "Gas", "Loads", f"Use, {unit}", "Rows not calculated"], *cells])
