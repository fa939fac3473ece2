"""Prints what the monthly workbook answers."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl

from gasfuncs.cli.printing import console, print_table
from gasfuncs.workbooks.monthly_gas_usage import MOST_FURNACES, TANKS


def print_month(path: Path) -> None:
    """Use by gas and furnace, deliveries, what no cycle explains, next month."""
    book = openpyxl.load_workbook(path, data_only=True)

    def named(name: str) -> Any:
        (sheet, cell), *_ = book.defined_names[name].destinations
        return book[sheet][cell.replace("$", "")].value

    def whole(name: str) -> str:
        return f"{named(name):,.0f}"

    amount, currency = named("U_amount"), named("Currency")
    out = console()
    out.print(book["Start"]["B4"].value + "\n", markup=False)
    labels = (
        ("Used by cycles", "Used_", amount),
        ("Delivered", "Delivered_", amount),
        ("Left the tank", "Left_", amount),
        ("Explained by no cycle", "Unexplained_", amount),
        ("  as a cost", "Unexplained_cost_", currency),
        ("  as one steady leak", "Leak_", named("U_leak")),
        ("Next month", "Need_", amount),
        ("  as liquid to order", "Need_liquid_", named("U_liquid")),
    )
    gases = [named(f"Tank_{tank}_gas") for tank in TANKS]
    rows = [[label, *(whole(name + tank) for tank in TANKS), unit] for label, name, unit in labels]
    print_table([[f"{named('Month'):%B %Y}", *gases, ""], *rows])
    month = book["Month"]
    furnaces = [
        [month.cell(5, column).value, f"{month.cell(37, column).value:,.0f}", amount]
        for column in range(3, 3 + MOST_FURNACES)
        if month.cell(5, column).value
    ]
    out.print("")
    print_table([["Furnace", "Used", ""], *furnaces])
