"""Readings into the tables of a workbook, in place: whole or not at all, a second time nothing."""

from __future__ import annotations

import datetime as dt
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import pandas as pd

from gasfuncs.definition.terms import serial
from gasfuncs.errors import UnitError
from gasfuncs.files import swapped_in
from gasfuncs.hosts.headless import recalculate
from gasfuncs.hosts.headless.entering import Place, TableRows, enter, file_state
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.targets import UNIT_OF, Target
from gasfuncs.registry import worksheet_function_named
from gasfuncs.units import Unit
from gasfuncs.units.kinds import PRESSURE

CLOSE = 1e-6
"""Relative difference below which two numbers are the same reading."""

Row = dict[str, Any]
"""A row to enter: a cell's value by role; quantities as (number, unit)."""


@dataclass(slots=True)
class Entered:
    """What an import did to a table: lines of the file by what became of them."""

    table: str
    added: list[int] = field(default_factory=list)
    there: list[int] = field(default_factory=list)
    replaced: list[int] = field(default_factory=list)
    left_out: list[tuple[int, str]] = field(default_factory=list)
    cells: dict[Place, Any] = field(default_factory=dict)
    beside: dict[str, dict[Place, Any]] = field(default_factory=dict)
    """Cells of other tables that the file fills, by sheet."""

    @property
    def changes(self) -> bool:
        return bool(self.cells or self.beside)


def table_for(
    book: Path, found: Mapping[str, TableRows], targets: tuple[Target, ...]
) -> tuple[TableRows, Target]:
    """The book's table that takes the rows. Raises ImportingError."""
    for target in targets:
        table = found.get(target.table)
        if table and set(target.columns) <= set(table.columns):
            return table, target
    wanted = " or ".join(f"{t.table} ({', '.join(t.columns)})" for t in targets)
    raise ImportingError(f"{book.name} has no table {wanted}, which takes such a file")


def plan(
    table: TableRows, target: Target, rows: list[tuple[int, Row]], *, replace: bool = False
) -> Entered:
    """Where each row goes; a row that is there already is not entered again."""
    entered = Entered(table.name)
    known = {key: row for row in table.rows if (key := _key_there(table, target, row))}
    free = (row for row in table.rows if table.is_free(row))
    for line, row in rows:
        cells = {heading: _cell(table, target, heading, row) for heading in target.columns}
        key = tuple(_plain(cells[heading]) for heading in target.key)
        place = known.get(key)
        if place is None:
            place = next(free, None)
            if place is None:
                raise ImportingError(
                    f"the table {table.name} has no free row left for line {line}; write the book "
                    "anew with more rows (gasfuncs workbook NAME NEW.xlsx --from OLD.xlsx --rows N)"
                )
            known[key] = place
            _put(entered, entered.added, line, place, table, cells)
        elif _differs(table, place, cells, entered):
            if replace:
                _put(entered, entered.replaced, line, place, table, cells)
            else:
                reason = f"row {place} of {table.name} has it with other values; --replace takes it"
                entered.left_out.append((line, reason))
        else:
            entered.there.append(line)
    return entered


def _put(
    entered: Entered, lines: list[int], line: int, place: int, table: TableRows, cells: Row
) -> None:
    lines.append(line)
    for heading, value in cells.items():
        if value is not None:
            entered.cells[place, table.columns[heading]] = value


def _key_there(table: TableRows, target: Target, row: int) -> tuple[Any, ...] | None:
    cells = tuple(_plain(table.value(row, heading)) for heading in target.key)
    return cells if all(cell not in (None, "") for cell in cells) else None


def _plain(value: Any) -> Any:
    """A value as it is compared: numbers to the second of a day, texts without case."""
    if isinstance(value, int | float):
        return round(float(value), 6)
    return value.strip().casefold() if isinstance(value, str) else value


def _differs(table: TableRows, place: int, cells: Row, entered: Entered) -> bool:
    for heading, value in cells.items():
        if value is None:
            continue
        column = table.columns[heading]
        there = entered.cells.get((place, column), table.values.get((place, column)))
        if isinstance(value, float) and isinstance(there, int | float):
            if abs(value - there) > CLOSE * max(abs(value), abs(there)):
                return True
        elif _plain(value) != _plain(there):
            return True
    return False


def _cell(table: TableRows, target: Target, heading: str, row: Row) -> Any:
    """The value of one cell, quantities in the column's unit."""
    role = target.columns[heading]
    if role.startswith(UNIT_OF):
        told = row.get(role.removeprefix(UNIT_OF))
        return told[1] if isinstance(told, tuple) else None
    value = row.get(role)
    if value is None or value is pd.NA or value is pd.NaT:
        return None
    if isinstance(value, tuple):
        number, unit = value
        return number if role in target.as_told else in_unit(table, heading, number, unit, row)
    if isinstance(value, dt.date):
        return to_the_second(value)
    return value


def to_the_second(moment: dt.date) -> float:
    """A moment as a spreadsheet counts it, to the second."""
    return round(serial(moment) * 86_400) / 86_400


def in_unit(table: TableRows, heading: str, number: float, unit: str, row: Row) -> float:
    """A number as a column of the book has it; `row` names its gas and site where these matter."""
    wanted = table.above(heading)
    if wanted in (None, "", unit):
        return number
    pressure = _over_the_site(number, unit, str(wanted), row)
    if pressure is not None:
        return float(f"{pressure:.12g}")
    convert = worksheet_function_named("GAS_CONVERT")
    return float(f"{convert(number, unit, wanted, row.get('gas')):.12g}")


@cache
def _pressure_unit(text: str) -> Unit | None:
    try:
        return PRESSURE.unit(text)
    except UnitError:
        return None


def _over_the_site(number: float, unit: str, wanted: str, row: Row) -> float | None:
    """A pressure as another gauge has it; every gauge counts from the air of the site."""
    told, shown = _pressure_unit(unit), _pressure_unit(wanted)
    if told is None or shown is None:
        return None
    pascals = told.scale * number + (row["site"] if told.zero else 0.0)
    return float((pascals - (row["site"] if shown.zero else 0.0)) / shown.scale)


def write(book: Path, table: TableRows, entered: Entered, progress: Any = None) -> None:
    """Enter the cells, recalculate, and swap the book in; nothing changes where that fails."""
    before = file_state(book)
    with _copied(book) as aside:
        enter(book, _by_sheet(table, entered), aside)
        report = recalculate(aside, progress=progress)
        if report.problems:
            first = report.problems[0]
            raise ImportingError(
                f"{book.name} cannot be recalculated ({first.sheet}!{first.cell}: {first.why}); "
                "nothing was entered"
            )
        if file_state(book) != before:
            raise ImportingError(f"{book.name} was changed meanwhile; nothing was entered")
        with swapped_in(book) as new:
            shutil.copyfile(aside, new)


def _by_sheet(table: TableRows, entered: Entered) -> dict[str, dict[Place, Any]]:
    sheets = {sheet: dict(cells) for sheet, cells in entered.beside.items()}
    sheets.setdefault(table.sheet, {}).update(entered.cells)
    return sheets


@contextmanager
def _copied(book: Path) -> Iterator[Path]:
    """A copy of the book to work on, gone afterwards."""
    with tempfile.TemporaryDirectory(prefix="gasfuncs-") as folder:
        path = Path(folder, book.name)
        shutil.copyfile(book, path)
        yield path
