"""A tank's telemetry for a book: a month's wants the months' ends, reordering every morning."""

from __future__ import annotations

from typing import Any

import pandas as pd

from gasfuncs.cleaning.accounts import Account, Tank
from gasfuncs.definition.terms import serial
from gasfuncs.errors import CellError
from gasfuncs.importing.plant import Plant
from gasfuncs.importing.readings import Readings, note_gaps, note_stuck
from gasfuncs.importing.tank import account, levels_of, told_left_out
from gasfuncs.properties import reference_molar_density
from gasfuncs.registry import worksheet_function_named
from gasfuncs.units import NORMAL

NEAR = pd.Timedelta(hours=12)
"""How far from midnight the reading of a month's end may be."""

TICKETS = "Deliveries"
"""The table of delivery tickets."""

TICKET_DAYS = 3
"""Days between a delivery and its ticket."""


def prepare(readings: Readings, plant: Plant) -> None:
    """Keep the readings of each tank that the book wants; tell what the tank did.

    A book with tickets wants the months' ends and the last reading, one without every morning's.
    """
    names = readings.frame["tank"].astype("string")
    parts = [readings.of(names == name) for name in names.unique()]
    for name, part in zip(names.unique(), parts, strict=True):
        _keep_wanted(part, str(name), plant)
        several = f"{name}: " if readings.of_several or len(parts) > 1 else ""
        readings.notes += [several + note for note in part.notes]
        readings.used += part.used
        readings.left_out += part.left_out
    readings.units = parts[0].units
    readings.frame = pd.concat([part.frame for part in parts])
    readings.lines = pd.concat([part.lines for part in parts])


def _keep_wanted(readings: Readings, name: str, plant: Plant) -> None:
    note_gaps(readings)
    for role in ("level", "dp"):
        if role in readings.frame:
            note_stuck(readings, role)
    tank = plant.tank(name, readings.frame["time"].iloc[0])
    found = account(readings, tank)
    with_tickets = TICKETS in plant.tables
    readings.notes += _told_use(found, tank)
    if with_tickets:
        readings.notes += _told_deliveries(found, name, plant, tank)
    readings.left_out += told_left_out(found, readings)
    bad = pd.Series(False, index=readings.frame.index)
    bad.iloc[list(found.left_out)] = True
    readings.frame, readings.lines = readings.frame[~bad], readings.lines[~bad]
    readings.frame = levels_of(readings, tank)
    if with_tickets:
        _keep_ends(readings)
    else:
        _keep_mornings(readings)


def _keep_mornings(readings: Readings) -> None:
    """The first reading of each day, at its own time."""
    times = readings.frame["time"]
    later = times.dt.normalize().duplicated()
    _keep(readings, times[~later])


def _keep_ends(readings: Readings) -> None:
    """One reading a month's start, nearest to its midnight, and the file's last, for its day."""
    times = readings.frame["time"]
    starts = pd.date_range(times.iloc[0].normalize(), times.iloc[-1] + NEAR, freq="MS")
    kept = {}
    for start in starts:
        nearest = (times - start).abs().idxmin()
        if abs(times[nearest] - start) <= NEAR:
            kept[nearest] = start
    last = times.iloc[-1].round("D")
    if last not in kept.values():
        kept.setdefault(times.index[-1], last)
    _keep(readings, pd.Series(kept))


def _keep(readings: Readings, days: pd.Series) -> None:
    """Keep these readings, each for its day; the others have been used."""
    between = ~readings.frame.index.isin(days.index)
    readings.used += readings.lines[between].astype(int).tolist()
    readings.frame, readings.lines = readings.frame[~between], readings.lines[~between]
    readings.frame = readings.frame.assign(day=days)


def _told_use(found: Account, tank: Tank) -> list[str]:
    mol = float(reference_molar_density(tank.gas, NORMAL))
    return [
        f"{month}: opening {row.opening / mol:,.0f} Nm3, delivered {row.delivered / mol:,.0f}, "
        f"used {row.used / mol:,.0f}, closing {row.closing / mol:,.0f}"
        for month, row in zip(found.months().index, found.months().itertuples(), strict=True)
    ]


def _told_deliveries(found: Account, name: str, plant: Plant, tank: Tank) -> list[str]:
    """Each delivery that the level shows, with the ticket of these days that is nearest in amount;
    and the tickets that no rise belongs to."""
    mol = float(reference_molar_density(tank.gas, NORMAL))
    tickets = [row for row in plant.all_of(TICKETS) if row["Tank"] == name]
    told = []
    for delivery in found.deliveries.itertuples():
        came, moment = delivery.amount / mol, f"{delivery.end:%Y-%m-%d %H:%M}"
        near = [row for row in tickets if _is_near(row["Date"], delivery.end)]
        ticket = "no ticket of these days is in the book"
        if near:
            best = min(near, key=lambda row: abs(_amount(row, tank) - came))
            tickets.remove(best)
            ticket = f"ticket {best['Ticket']}: {_amount(best, tank):,.0f} Nm3"
        told.append(f"delivery {moment}: {came:,.0f} Nm3 by the level; {ticket}")
    first, last = serial(found.stock.index[0]), serial(found.stock.index[-1])
    told += [
        f"ticket {row['Ticket']}: {_amount(row, tank):,.0f} Nm3, and the level does not rise then"
        for row in tickets
        if isinstance(row["Date"], int | float) and first <= row["Date"] <= last - 1
    ]
    return told


def _amount(ticket: dict[str, Any], tank: Tank) -> float:
    """Nm3 of a ticket; inf where its quantity cannot be read, which is no rise's."""
    told = f"{ticket['Quantity']} {ticket['Unit']}"
    amount = worksheet_function_named("GAS_DELIVERED").cells(tank.gas.name, told)
    return float("inf") if isinstance(amount, CellError) else float(amount)


def _is_near(day: object, moment: pd.Timestamp) -> bool:
    if not isinstance(day, int | float):
        return False
    return abs(serial(moment) - day) <= TICKET_DAYS
