"""What is done in a running LibreOffice, for the tests; see session.py."""

from __future__ import annotations

import json
import os
import signal
import threading
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from session import Office, main, shown  # type: ignore[import-not-found]


def failures(office: Office) -> dict[str, Any]:
    """A worker that is killed while a cell waits for it, and one that hangs."""
    book = office.new_book()
    sheet = book.Sheets.getByIndex(0)
    pressures = iter(range(1, 100))
    found: dict[str, Any] = {}

    def ask(what: str) -> None:
        cell = sheet.getCellByPosition(0, len(found))
        started = time.monotonic()
        cell.setFormula(f'=GAS_DENSITY("argon";{next(pressures)};20)')
        found[what] = shown(cell)
        found[f"{what}, seconds"] = time.monotonic() - started

    ask("at first")
    [first] = office.workers()
    os.kill(first, signal.SIGSTOP)  # so that it is surely at work when it is killed
    threading.Timer(0.5, os.kill, (first, signal.SIGKILL)).start()
    ask("killed")
    ask("after the kill")
    [second] = office.workers()
    os.kill(second, signal.SIGSTOP)
    ask("hung")
    ask("after the hang")
    sheet.getCellByPosition(1, 0).setFormula("=1+1")
    found["a native formula"] = shown(sheet.getCellByPosition(1, 0))
    [third] = office.workers()
    found["restarts"] = len({first, second, third}) - 1
    found["worker"] = third
    book.close(True)
    return found


def broken(office: Office) -> dict[str, Any]:
    """An installation whose Python is gone or lacks the library."""
    book = office.new_book()
    sheet = book.Sheets.getByIndex(0)
    started = time.monotonic()
    for row in range(1000):
        sheet.getCellByPosition(0, row).setFormula(f'=GAS_DENSITY("argon";{row + 1};20)')
    sheet.getCellByPosition(1, 0).setFormula('=GAS_CHECK("GAS_DENSITY";"argon";1;20)')
    sheet.getCellByPosition(1, 1).setFormula("=1+1")
    found = {
        "cells": sorted({shown(sheet.getCellByPosition(0, row)) for row in range(1000)}),
        "check": shown(sheet.getCellByPosition(1, 0)),
        "a native formula": shown(sheet.getCellByPosition(1, 1)),
        "seconds": time.monotonic() - started,
    }
    book.close(True)
    return found


def wizard(office: Office) -> dict[str, Any]:
    """What the function wizard shows of each function, after the add-in has been used once."""
    book = office.new_book()
    book.Sheets.getByIndex(0).getCellByPosition(0, 0).setFormula('=GAS_DENSITY("argon";1;20)')
    descriptions = office.service("com.sun.star.sheet.FunctionDescriptions")
    found = {}
    for index in range(descriptions.getCount()):
        shown_as = {p.Name: p.Value for p in descriptions.getByIndex(index)}
        if shown_as["Name"].startswith("GAS_"):
            found[shown_as["Name"]] = {
                "category": shown_as["Category"],
                "summary": shown_as["Description"],
                "arguments": [[a.Name, a.Description, a.IsOptional] for a in shown_as["Arguments"]],
            }
    book.close(True)
    return found


def cells(office: Office, *formulas: str) -> list[Any]:
    """What cells with these formulas show, entered one by one as a user does."""
    book = office.new_book()
    sheet = book.Sheets.getByIndex(0)
    found = []
    for row, formula in enumerate(formulas):
        cell = sheet.getCellByPosition(0, row)
        cell.setFormula(formula)
        found.append(cell.getValue() if not cell.getError() and cell.getValue() else shown(cell))
    book.close(True)
    return found


def opened(office: Office, path: str, mended: str) -> dict[str, Any]:
    """What a book shows when it is read, when a user opens it, and the mended one when read."""
    found = {}
    for what, file, unseen in (
        ("read", path, True), ("opened", path, False), ("mended", mended, True),
    ):  # fmt: skip
        book = office.opened(file, unseen)
        found[what] = [
            (shown(sheet.getCellByPosition(0, 0)), sheet.isProtected()) for sheet in book.Sheets
        ]
        book.close(True)
    return found


def books(office: Office, jobs: str, found: str) -> int:
    """What books show when they are opened, and after each lot of cells typed and typed back.

    `jobs` is a file of JSON: a list of books, each with its `path`, its `lots` of cells by what
    they are, and the names `saved` that copies get, by their filter. `found` becomes one: for each
    book what it shows at first (""), with each lot, and with all typed back ("back").
    """
    told = [_of_book(office, job) for job in json.loads(Path(jobs).read_text())]
    Path(found).write_text(json.dumps(told))
    return len(told)


def _of_book(office: Office, job: dict[str, Any]) -> dict[str, Any]:
    book = office.opened(job["path"])
    seen = {"": _values(book)}
    for name, path in job["saved"].items():
        office.save(book, path, name)
    book.enableAutomaticCalculation(False)
    for what, cells in job["lots"].items():
        before = _typed(book, cells)
        book.calculate()
        seen[what] = _values(book)
        _typed(book, before)
    if job["lots"]:
        book.calculate()
        seen["back"] = _values(book)
    book.close(True)
    return seen


def _typed(book: Any, cells: Sequence[Sequence[Any]]) -> list[list[Any]]:
    """Type values, each with its sheet, column and row; returns what stood there."""
    before = []
    for sheet, column, row, value in cells:
        cell = book.Sheets.getByName(sheet).getCellByPosition(column, row)
        is_number = cell.Type.value == "VALUE"
        before.append([sheet, column, row, cell.getValue() if is_number else cell.getString()])
        if isinstance(value, str | None):
            cell.setString(value or "")
        else:
            cell.setValue(value)
    return before


ERRORS = 4
"""Of com.sun.star.sheet.FormulaResult."""


def _values(book: Any) -> dict[str, Any]:
    """The values of each sheet, row by row, and the areas of errors."""
    return {sheet.Name: _of_sheet(sheet) for sheet in book.Sheets}


def _of_sheet(sheet: Any) -> dict[str, Any]:
    used = sheet.createCursor()
    used.gotoEndOfUsedArea(False)
    end = used.RangeAddress
    area = sheet.getCellRangeByPosition(0, 0, end.EndColumn, end.EndRow)
    errors = area.queryFormulaCells(ERRORS).RangeAddresses
    return {
        "rows": area.getDataArray(),
        "errors": [[a.StartRow, a.EndRow, a.StartColumn, a.EndColumn] for a in errors],
    }


ROWS = 10_000
ROUNDS = 5


def speed(office: Office) -> dict[str, float]:
    """Seconds to calculate 10,000 calls anew: the best of rounds that take turns."""
    sheets = {
        "BENCH_ADD, 10,000 cells": _filled(office, "=BENCH_ADD(A{row};$B$1)"),
        "GAS_DENSITY, 10,000 cells": _filled(office, '=GAS_DENSITY("argon";A{row};$B$1)'),
        "GAS_FREE_VOLUME, 10,000 cells": _filled(office, "=GAS_FREE_VOLUME(A{row};$B$1)"),
        "GAS_DENSITY, one array of 10,000 rows": _filled(
            office, f'=GAS_DENSITY("argon";A1:A{ROWS};$B$1)'
        ),
    }
    taken: dict[str, list[float]] = {what: [] for what in sheets}
    for number in range(ROUNDS + 1):
        for what, book in sheets.items():
            taken[what].append(_seconds(book, 20 + number))
    for book in sheets.values():
        book.close(True)
    return {what: min(each[1:]) for what, each in taken.items()}  # the first starts the worker


def _filled(office: Office, formula: str) -> Any:
    """A workbook of 10,000 inputs, a common one beside them, and the formula for each row."""
    book = office.new_book()
    book.enableAutomaticCalculation(False)
    sheet = book.Sheets.getByIndex(0)
    inputs = sheet.getCellRangeByPosition(0, 0, 0, ROWS - 1)
    inputs.setDataArray(tuple((10 + row / 1000,) for row in range(ROWS)))
    cells = sheet.getCellRangeByPosition(2, 0, 2, ROWS - 1)
    if "{row}" in formula:
        cells.setFormulaArray(tuple((formula.format(row=row + 1),) for row in range(ROWS)))
    else:
        cells.setArrayFormula(formula)
    return book


def _seconds(book: Any, common_input: float) -> float:
    sheet = book.Sheets.getByIndex(0)
    sheet.getCellByPosition(1, 0).setValue(common_input)
    started = time.perf_counter()
    book.calculate()
    seconds = time.perf_counter() - started
    last = sheet.getCellByPosition(2, ROWS - 1)
    if last.getError() or not last.getValue():
        raise RuntimeError(f"{last.getFormula()} shows {shown(last)}")
    return seconds


if __name__ == "__main__":
    main(
        {
            "failures": failures, "broken": broken, "wizard": wizard, "cells": cells,
            "opened": opened, "books": books, "speed": speed,
        }
    )  # fmt: skip
