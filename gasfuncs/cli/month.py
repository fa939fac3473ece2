"""Prints what the monthly workbook answers."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from gasfuncs.cli.printing import console, print_table
from gasfuncs.hosts.headless import read_values
from gasfuncs.workbooks.sheets.kinds import kind_named
from gasfuncs.workbooks.sheets.layout import Plan
from gasfuncs.workbooks.sheets.monthly_gas_usage import BOOK
from gasfuncs.workbooks.sheets.start import ANSWER

SHOWN = ("Delivered", "Left", "Cycles", "Unaccounted", "Band", "Cost", "Leak", "Need", "To order")


def print_month(path: Path, units: str) -> None:
    """The answer, then the balance of each gas and the use of each furnace."""
    values = read_values(path)
    plan = Plan(BOOK, units, BOOK.demo())

    def column(reference: str) -> list[Any]:
        cells = plan.cells(reference)
        rows = range(cells.top + 1, cells.bottom + 2)
        return [values[cells.sheet].get((row, cells.left + 1)) for row in rows]

    out = console()
    out.print(f"{values['Start'][ANSWER]}\n", markup=False)
    kinds = {each.name: each.kind for each in plan.tables["Gases"].columns}
    gases = [number for number, gas in enumerate(column("Gases.Gas")) if gas]
    rows = [
        [name, *(_whole(column(f"Gases.{name}")[each]) for each in gases),
         kind_named(kinds[name]).unit(units)]
        for name in SHOWN
    ]  # fmt: skip
    print_table([["Balance", *(column("Gases.Gas")[each] for each in gases), ""], *rows])
    used = zip(column("ByFurnace.Furnace"), column("ByFurnace.Month"), strict=True)
    unit = kind_named("amount").unit(units)
    out.print("")
    furnaces = [[name, _whole(amount), unit] for name, amount in used if name]
    print_table([["Furnace", "Used", ""], *furnaces])


def _whole(value: Any) -> str:
    return f"{value:,.0f}" if isinstance(value, int | float) else "-"
