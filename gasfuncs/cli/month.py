"""Prints what the monthly workbook answers."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

from gasfuncs.cli.printing import console, print_table
from gasfuncs.hosts.headless import read_values
from gasfuncs.workbooks.sheets.kinds import kind_named
from gasfuncs.workbooks.sheets.layout import Plan
from gasfuncs.workbooks.sheets.monthly_gas_usage import BOOK
from gasfuncs.workbooks.sheets.start import ANSWER

SHOWN = ("Delivered", "Left", "Cycles", "Unaccounted", "Cost", "Leak", "Need", "To order")
OF_WHAT_IS_LOST = ("Unaccounted", "Cost", "Leak")


def print_month(path: Path, units: str) -> None:
    """The answer, then the balance of each gas and the use of each furnace."""
    values = read_values(path)
    plan = Plan(BOOK, units, BOOK.demo())

    def column(reference: str) -> list[Any]:
        cells = plan.cells(reference)
        rows = range(cells.top + 1, cells.bottom + 2)
        return [values[cells.sheet].get((row, cells.left + 1)) for row in rows]

    out = console()
    columns = plan.tables["Gases"].columns
    out.print(f"{values['Start'][ANSWER]}\n", markup=False)
    gases = [
        {each.name: found for each, found in zip(columns, row, strict=True)}
        for row in zip(*(column(f"Gases.{each.name}") for each in columns), strict=True)
        if row[0]
    ]
    kinds = {each.name: kind_named(each.kind) for each in columns}
    rows = [[name, *(_told(gas, name) for gas in gases), kinds[name].unit(units)] for name in SHOWN]
    print_table([["Balance", *(gas["Gas"] for gas in gases), ""], *rows])
    used = zip(column("ByFurnace.Furnace"), column("ByFurnace.Month"), strict=True)
    unit = kind_named("amount").unit(units)
    out.print("")
    furnaces = [[name, _whole(amount), unit] for name, amount in used if name]
    print_table([["Furnace", "Used", ""], *furnaces])


def _told(gas: dict[str, Any], name: str) -> str:
    """A number of a gas, with its band where it has one."""
    value = gas["About" if name == "To order" else name]
    lost, band = gas["Unaccounted"], gas["Need band" if name == "Need" else "Band"]
    if name in OF_WHAT_IS_LOST and lost and _are_numbers(value, lost, band):
        band *= abs(value / lost)
    elif name != "Need":
        band = None
    if not _are_numbers(value, band) or band <= 0:
        return _whole(value)
    digits = 1 - math.floor(math.log10(band))
    return " ± ".join(f"{round(each, digits):,.{max(0, digits)}f}" for each in (value, band))


def _are_numbers(*values: Any) -> bool:
    return all(isinstance(each, float) for each in values)


def _whole(value: Any) -> str:
    return f"{value:,.0f}" if isinstance(value, int | float) else "-"
