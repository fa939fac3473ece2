"""A column of densities that the workbook carries, beside the same column with the add-in."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import xlsxwriter

from gasfuncs.hosts.carried import carry
from gasfuncs.hosts.carried.names import Carried
from gasfuncs.registry import worksheet_functions
from tests.benchmarks.books import office_command, recalculated
from tests.benchmarks.measuring import Result, Timed, compared, run
from tests.carried.engines import write_out

ROWS, FEW = 10_000, 1_000
"""Rows of the column, and of that with every variable in a cell: 159 cells a row."""

ROUNDS = 3
IRONCALC = "import ironcalc,sys; ironcalc.load_from_xlsx(sys.argv[1],'en','UTC','en').evaluate()"


def carried(folder: Path) -> Iterator[Result]:
    """Whole programs, from their start to their end."""
    plain, few = column(folder / "column.xlsx", ROWS), column(folder / "few.xlsx", FEW)
    full, cells = folder / "carried.xlsx", folder / "cells.xlsx"
    carry(plain, full)
    write_out(calls(FEW), Carried([worksheet_functions()["GAS_DENSITY"]], ["argon"]), cells)
    yield compared(
        f"{ROWS:,} densities, headless, carried", lambda: recalculated(full).seconds,
        "headless, not carried", lambda: recalculated(plain).seconds,
        goal=1.5, rounds=ROUNDS,
    )  # fmt: skip
    command = office_command(folder)
    if command is None:
        return

    def office(path: Path) -> Timed:
        return lambda: run([*command, str(path)]).seconds

    yield compared(
        f"{ROWS:,} densities, carried, IronCalc",
        lambda: run([sys.executable, "-c", IRONCALC, str(full)]).seconds,
        "LibreOffice with the add-in", office(plain), goal=None, rounds=ROUNDS,
    )  # fmt: skip
    yield compared(
        f"{FEW:,} densities, carried, written out in cells, LibreOffice", office(cells),
        "LibreOffice with the add-in", office(few), goal=None, rounds=ROUNDS,
    )  # fmt: skip


def states(rows: int) -> Iterator[tuple[float, float]]:
    """bar(a) and °C, no two alike."""
    for row in range(rows):
        yield 1 + row % 200 + row / rows, -20 + row % 150


def calls(rows: int) -> list[str]:
    """The column's calls with their numbers in them."""
    return [f'GAS_DENSITY("argon",{bar!r},{celsius!r})' for bar, celsius in states(rows)]


def column(path: Path, rows: int) -> Path:
    """A workbook with pressures, temperatures and a density a row."""
    with xlsxwriter.Workbook(path) as file:
        sheet = file.add_worksheet("Calls")
        for row, state in enumerate(states(rows)):
            sheet.write_row(row, 0, state)
            sheet.write_formula(row, 2, f'=GAS_DENSITY("argon",A{row + 1},B{row + 1})')
    return path
