"""Recalculation of workbooks, large ones and those that we ship, in the built-in engine."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from statistics import median

import xlsxwriter

from gasfuncs.hosts import calc
from gasfuncs.hosts.calc.office import find_office
from gasfuncs.hosts.headless import recalculate
from tests.benchmarks.measuring import Result, Run, compared, run, timed
from tests.calc.office import new_profile

ROWS, MANY = 20_000, 200_000
ROUNDS = 3
MOST_SECONDS, MOST_MEGABYTES, MOST_MEGABYTES_OF_MANY = 3.0, 500.0, 500.0
TEMPLATES = sorted((Path(__file__).parents[2] / "workbook_templates").glob("*.xlsx"))
LOOPS = 20
"""Loops of a million squares that a shipped book may take: a second, where one takes 50 ms."""


def books(folder: Path) -> Iterator[Result]:
    """Two calls a row, each of another state."""
    small, large = written(folder / "small.xlsx", ROWS), written(folder / "large.xlsx", MANY)
    ours, theirs = [], []
    office = office_command(folder)
    for turn in range(ROUNDS + 1):
        ours.append(recalculated(small))
        if office:
            theirs.append(run([*office, str(small)]).seconds)
        if turn == 0:
            ours, theirs = [], []
    seconds, megabytes = median(r.seconds for r in ours), max(r.megabytes for r in ours)
    what = f"headless, {ROWS:,} rows, {2 * ROWS:,} calls"
    judged = seconds <= MOST_SECONDS and megabytes <= MOST_MEGABYTES
    note = (
        f"{seconds:.2f} s and {megabytes:.0f} MB in all; goal {MOST_SECONDS:g} s and "
        f"{MOST_MEGABYTES:g} MB: {'met' if judged else '**missed**'}"
    )
    if theirs:
        ratios = [their / our.seconds for our, their in zip(ours, theirs, strict=True)]
        yield Result(
            what, "LibreOffice with the add-in, same file", seconds, median(theirs),
            median(ratios), 3, faster=True, note=note,
        )  # fmt: skip
    many = recalculated(large)
    judged = many.megabytes <= MOST_MEGABYTES_OF_MANY
    yield Result(
        f"headless, {MANY:,} rows", f"headless, {ROWS:,} rows", many.seconds, seconds,
        many.seconds / median([seconds, recalculated(small).seconds]), 11,
        note=f"{many.megabytes:.0f} MB; goal {MOST_MEGABYTES_OF_MANY:g} MB: "
        f"{'met' if judged else '**missed**'}",
    )  # fmt: skip


def shipped(folder: Path) -> Iterator[Result]:
    """Every shipped book, in a process that has computed one before."""
    loop = timed(lambda: sum(number * number for number in range(1_000_000)))
    for template in TEMPLATES:
        book = timed(partial(recalculate, template, folder / template.name))
        yield compared(
            f"headless, {template.stem}", book, "a million squares in a loop", loop,
            goal=LOOPS, rounds=2 * ROUNDS + 1,
        )  # fmt: skip


def written(path: Path, rows: int) -> Path:
    """A workbook of backfills: volume, pressures and temperature typed, two calls a row."""
    with xlsxwriter.Workbook(path, {"constant_memory": True}) as book:
        sheet = book.add_worksheet()
        for row in range(rows):
            state = (2 + row / rows, 0.01 + row / rows, 2 + row % 97 / 10, 15 + row % 89 / 5)
            for column, value in enumerate(state):
                sheet.write_number(row, column, value)
            here = row + 1
            sheet.write_formula(row, 4, f'=GAS_BACKFILL("argon",A{here},B{here},C{here},D{here})')
            sheet.write_formula(row, 5, f'=GAS_DENSITY("argon",C{here},D{here})')
        sheet.write_formula(rows, 4, f"=SUM(E1:E{rows})")
        sheet.write_formula(rows, 5, f"=SUM(F1:F{rows})")
    return path


def recalculated(path: Path) -> Run:
    target = path.with_name("recalculated.xlsx")
    return run(
        [sys.executable, "-m", "gasfuncs", "recalculate", str(path), "--output", str(target)]
    )


def office_command(folder: Path) -> list[str] | None:
    """The command that opens, calculates and saves with LibreOffice; None without LibreOffice."""
    office = find_office()
    if office is None:
        return None
    profile = new_profile("benchmark")
    calc.install(profile=profile)
    return [
        str(office), "--headless", f"-env:UserInstallation={profile.as_uri()}",
        "--convert-to", "xlsx", "--outdir", str(folder / "office"),
    ]  # fmt: skip
