"""The readings of one rise test, for a book that tells a leak and outgassing apart by them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from gasfuncs.definition.terms import serial
from gasfuncs.hosts.headless.entering import Place, TableRows
from gasfuncs.importing.books import CLOSE, in_unit
from gasfuncs.importing.plant import Plant

TABLE, VESSEL, DAY = "Curve", "Long_vessel", "Long_day"
"""The table of readings, and the cells that say whose they are."""

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Rise:
    """One test from the moment its valve was shut: hours since then, Pa absolute."""

    vessel: str
    start: pd.Timestamp
    hours: Array
    pascals: Array

    def __str__(self) -> str:
        return f"{self.vessel}, {self.start:%Y-%m-%d}"


@dataclass(slots=True)
class Beside:
    """Cells of other tables that a file fills, by sheet, and what is to be said of them."""

    cells: dict[str, dict[Place, Any]] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)


def beside(rises: list[Rise], plant: Plant, *, replace: bool) -> Beside:
    """The curve of the test that the book names; of the longest where it names none."""
    table = plant.tables.get(TABLE)
    if table is None or not rises:
        return Beside()
    vessel, day = plant.named.get(VESSEL) or None, plant.named.get(DAY) or None
    of_book = [rise for rise in rises if _is_of(rise, vessel, day)]
    if not of_book:
        asked = f"the Long test of the book is that of {_named(vessel, day)}"
        return Beside(notes=[f"{asked}, which is not in this file; it keeps its readings"])
    longest = max(of_book, key=lambda rise: rise.hours[-1])
    return _entered(longest, table, plant, replace=replace)


def _is_of(rise: Rise, vessel: Any, day: Any) -> bool:
    of_day = day is None or int(day) == int(serial(rise.start))
    return of_day and (vessel is None or str(vessel).casefold() == rise.vessel.casefold())


def _named(vessel: Any, day: Any) -> str:
    told = [] if vessel is None else [str(vessel)]
    if isinstance(day, int | float):
        told.append(f"{pd.Timestamp('1899-12-30') + pd.Timedelta(days=int(day)):%Y-%m-%d}")
    return ", ".join(told)


def _entered(rise: Rise, table: TableRows, plant: Plant, *, replace: bool) -> Beside:
    kept = more_at_first(rise.hours, len(table.rows))
    row, told = {"site": plant.site}, rise.pascals[kept] / 1e5
    readings = [
        (in_unit(table, "Hours", hours, "h", row), in_unit(table, "Pressure", bar, "bar(a)", row))
        for hours, bar in zip(rise.hours[kept].tolist(), told.tolist(), strict=True)
    ]
    there = [
        (table.value(at, "Hours"), table.value(at, "Pressure"))
        for at in table.rows
        if not table.is_free(at)
    ]
    if there and _are_same(there, readings):
        return Beside(notes=[f"Long test: has the readings of {rise} already"])
    if there and not replace:
        return Beside(notes=[f"Long test: has other readings; --replace takes those of {rise}"])
    found = Beside(notes=[f"Long test: {len(kept)} of {len(rise.hours)} readings of {rise}"])
    _put(found, table, readings)
    _name(found, rise, plant)
    return found


def _are_same(there: list[tuple[Any, ...]], readings: list[tuple[float, float]]) -> bool:
    if len(there) != len(readings) or not all(_are_numbers(row) for row in there):
        return False
    return bool(np.allclose(np.array(there, float), np.array(readings), rtol=CLOSE, atol=1e-12))


def _are_numbers(row: tuple[Any, ...]) -> bool:
    return all(isinstance(cell, int | float) for cell in row)


def _put(found: Beside, table: TableRows, readings: list[tuple[float, float]]) -> None:
    """These readings and no others; the rows below them become blank."""
    cells = found.cells.setdefault(table.sheet, {})
    blank = [(None, None)] * (len(table.rows) - len(readings))
    for at, (hours, pressure) in zip(table.rows, [*readings, *blank], strict=True):
        cells[at, table.columns["Hours"]] = hours
        cells[at, table.columns["Pressure"]] = pressure


def _name(found: Beside, rise: Rise, plant: Plant) -> None:
    """Say in the book whose readings they are, where it does not."""
    told = {VESSEL: rise.vessel, DAY: float(int(serial(rise.start)))}
    for name, value in told.items():
        if name in plant.places and not plant.named.get(name):
            sheet, place = plant.places[name]
            found.cells.setdefault(sheet, {})[place] = value


def more_at_first(hours: Array, most: int) -> NDArray[np.intp]:
    """Places of up to `most` readings, the first and the last among them, more of the early ones:
    outgassing is fast at first."""
    if len(hours) <= most:
        return np.arange(len(hours))
    kept = np.array([0, len(hours) - 1])
    for count in range(most, 4 * most * most):
        wanted = hours[-1] * np.linspace(0, 1, count) ** 2
        found = np.unique(np.abs(hours[:, None] - wanted).argmin(axis=0))
        if len(found) > most:
            break
        kept = found
    return kept
