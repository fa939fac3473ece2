"""The invented plant's last month as its equipment would export it, and its book before that."""

from __future__ import annotations

import datetime as dt
import math
import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.monthly_demo import demo
from gasfuncs.workbooks.sheets.parts import Given

DELIVERED_AT, SCATTER = 10, 2.0
"""The hour when trucks come; L that a level gauge scatters."""
RISE_TEST = dt.datetime(2026, 10, 30, 18)
METER_DAY = dt.date(2026, 10, 29)
PURGE, PURGED_AT = "P-011", dt.datetime(2026, 9, 3, 8)
"""A purge whose cycles nobody has typed."""
LOW, HIGH, PURGE_CYCLES = 100.0, 1098.0, 6
"""mbar."""


def before_the_month() -> Given:
    """What the plant has typed up to the month before the last."""
    given = demo()
    since = {"Log": plant.MONTH, "Deliveries": plant.MONTH, "Readings": plant.MONTH}
    earlier = {
        name: [row for row in given.tables[name] if row[0] < day] for name, day in since.items()
    }
    return replace(given, tables={**given.tables, **earlier})


def files() -> dict[str, str]:
    """The texts of the files, by name."""
    tanks = {f"{gas}-tank.csv": _tank(gas) for gas in plant.TANKS}
    return {
        "cycles.csv": _cycles(),
        "tickets.csv": _tickets(),
        **tanks,
        "vf1-rise.csv": _rise(),
        "n2-dewpoint.csv": _dew_points(),
        "vf2-purge.csv": _purge(),
    }


def _text(rows: Iterator[tuple[Any, ...]], delimiter: str = ";") -> str:
    return "".join(delimiter.join(map(str, row)) + "\n" for row in rows)


def _cycles() -> str:
    """Every load with its start; one line twice, one cycle that was aborted at once."""

    def rows() -> Iterator[tuple[Any, ...]]:
        yield ("Start", "Furnace", "Recipe", "Status")
        for day, furnace, recipe, loads in plant.log():
            if day < plant.MONTH:
                continue
            for load in range(loads):
                start = dt.datetime.combine(day, dt.time(6 + 4 * load, 5 + load))
                yield (f"{start:%d.%m.%Y %H:%M}", furnace, recipe, "OK")

    lines = list(rows())
    aborted = (f"{plant.MONTH:%d.%m.%Y} 05:10", "VF2", "Harden 6 bar", "Aborted")
    return _text(iter([*lines[:40], lines[39], *lines[40:], aborted]))


def _tickets() -> str:
    def rows() -> Iterator[tuple[Any, ...]]:
        yield ("Delivered", "Delivery note", "Tank", "Net (L(liq))")
        for ticket in plant.tickets():
            if ticket.day >= plant.MONTH:
                yield (ticket.day, ticket.number, plant.TANKS[ticket.gas], ticket.quantity)

    return _text(rows())


def _tank(gas: str) -> str:
    """An hour a row, from the evening before the month to the morning after it."""
    chance = random.Random(gas)

    def rows() -> Iterator[tuple[Any, ...]]:
        yield ("Timestamp", "Tank", "Level (L(liq))", "Tank pressure (bar(g))")
        moment = dt.datetime.combine(plant.MONTH, dt.time()) - dt.timedelta(hours=6)
        end = dt.datetime.combine(plant.NEXT_MONTH, dt.time(6))
        while moment <= end:
            level = _level(gas, moment) + chance.uniform(-SCATTER, SCATTER)
            yield (moment, plant.TANKS[gas], f"{level:.0f}", plant.PRESSURE)
            moment += dt.timedelta(hours=1)

    return _text(rows(), ",")


def _level(gas: str, moment: dt.datetime) -> float:
    """L in a tank at an hour: the day's use is spread over it, a truck comes at ten."""
    day = moment.date()
    this_morning, next_morning = (plant.level_on(gas, day + dt.timedelta(days=n)) for n in (0, 1))
    came = plant.rise_on(gas, day)
    level = this_morning + (next_morning - came - this_morning) * moment.hour / 24
    return level + (came if moment.hour >= DELIVERED_AT else 0)


def _rise() -> str:
    """A minute a row: the last of the pump-down, then two hours with the valve shut."""
    chance = random.Random(30)
    mbar_a_minute = 0.0088 * 60 / 4200

    def rows() -> Iterator[tuple[Any, ...]]:
        yield ("Date", "Time", "Furnace", "Vacuum (mbar)")
        for minute in range(131):
            shut = max(0, minute - 10)
            pumped = 2 * math.exp(-minute / 1.2) if minute < 10 else 0.0
            pressure = 0.008 + pumped + mbar_a_minute * shut + chance.uniform(-5e-5, 5e-5)
            moment = RISE_TEST + dt.timedelta(minutes=minute)
            yield (f"{moment:%d.%m.%Y}", f"{moment:%H:%M}", "VF1", f"{pressure:.5f}")

    return _text(rows(), "\t")


def _dew_points() -> str:
    """Ten minutes a row while the meter dries out on the nitrogen main."""

    def rows() -> Iterator[tuple[Any, ...]]:
        yield ("Timestamp", "Place", "Dew point (degC)", "Cell pressure (bar(g))")
        for step in range(25):
            moment = dt.datetime.combine(METER_DAY, dt.time(9)) + dt.timedelta(minutes=10 * step)
            dew = -46.0 + 16 * math.exp(-step / 5)
            yield (moment, "N2 main, far end", f"{dew:.1f}", 7.0)

    return _text(rows())


def _purge() -> str:
    """Twenty seconds a row: pumped down for ten minutes, filled in five, and a wait after each."""
    chance = random.Random(11)

    def pressures() -> Iterator[float]:
        start = plant.SITE * 1000
        yield from [start] * 6
        for _ in range(PURGE_CYCLES):
            yield from (LOW + (start - LOW) * math.exp(-step / 5) for step in range(30))
            yield from [LOW] * 6
            yield from (LOW + (HIGH - LOW) * step / 15 for step in range(1, 15))
            yield from [HIGH] * 6
            start = HIGH

    def rows() -> Iterator[tuple[Any, ...]]:
        yield ("Timestamp", "Purge", "Chamber pressure (mbar)")
        for step, pressure in enumerate(pressures()):
            moment = PURGED_AT + dt.timedelta(seconds=20 * step)
            yield (moment, PURGE, f"{pressure + chance.uniform(-0.8, 0.8):.1f}")

    return _text(rows(), ",")
