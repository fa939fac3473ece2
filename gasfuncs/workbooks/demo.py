"""The invented demo plant: three vacuum furnaces, a nitrogen and an argon tank, half a year.

Nothing here is a real plant. Volumes, recipes and stocks are made up to be believable.
"""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import dataclass
from functools import cache
from typing import Any

from gasfuncs.registry import worksheet_function_named

PLANT = "Fernhill Works"
FIRST_MONTH = dt.date(2026, 5, 1)
MONTH = dt.date(2026, 10, 1)
NEXT_MONTH = dt.date(2026, 11, 1)


@dataclass(frozen=True)
class Furnace:
    """A vacuum furnace: volumes in m³."""

    name: str
    free_volume: float
    gas: str
    reservoir: float


FURNACES = (
    Furnace("VF1", 4.2, "nitrogen", 12.0),
    Furnace("VF2", 7.5, "nitrogen", 40.0),
    Furnace("VF3", 2.4, "argon", 5.0),
)

STEPS: tuple[tuple[Any, ...], ...] = (
    ("Harden 6 bar", "backfill", 0.00001, 6, 20, None, None, 1),
    ("Harden 6 bar", "hold", 0.001, None, 20, 250, 1.5, 1),
    ("Harden 6 bar", "flow", None, None, None, 2, 0.5, 1),
    ("Harden 10 bar", "backfill", 0.00001, 10, 20, None, None, 1),
    ("Harden 10 bar", "hold", 0.001, None, 20, 400, 2.0, 1),
    ("Harden 2 bar", "backfill", 0.00001, 2, 20, None, None, 1),
    ("Harden 2 bar", "hold", 0.001, None, 20, 250, 1.0, 1),
    ("Braze", "backfill", 0.00001, 0.9, 20, None, None, 2),
    ("Braze", "hold", 0.002, None, 20, 180, 0.75, 1),
    ("Anneal", "backfill", 0.00001, 1.1, 20, None, None, 1),
    ("Anneal", "flow", None, None, None, 1.5, 2, 1),
)
"""Recipes as steps: kind, from and to in bar(a), °C, m³/h or Nm³/h, h, repeats."""

RECIPES_OF = {
    "VF1": ("Harden 6 bar", "Harden 2 bar", "Anneal"),
    "VF2": ("Harden 10 bar", "Harden 6 bar"),
    "VF3": ("Braze", "Anneal"),
}

PRICES = {"nitrogen": 0.16, "argon": 0.95}
TANK_PRESSURE = {"nitrogen": 13.0, "argon": 13.0}
CAPACITY = {"nitrogen": 11_000, "argon": 1_600}

CYCLES_A_DAY = {"VF1": (1, 4), "VF2": (1, 3), "VF3": (1, 3)}


@cache
def log() -> tuple[tuple[dt.date, str, str, int], ...]:
    """Half a year of cycles: date, furnace, recipe, loads; no work on Sundays."""
    chance = random.Random(20261001)
    rows = []
    day = FIRST_MONTH
    while day < NEXT_MONTH:
        for furnace in FURNACES:
            least, most = CYCLES_A_DAY[furnace.name]
            loads = chance.randint(least, most) if day.weekday() < 6 else 0
            if day.weekday() == 5:
                loads = min(loads, 1)
            if loads:
                rows.append((day, furnace.name, chance.choice(RECIPES_OF[furnace.name]), loads))
        day += dt.timedelta(days=1)
    return tuple(rows)


@cache
def use_per_load(furnace: str, recipe: str) -> float:
    """Nm³ of gas in one load."""
    machine = next(f for f in FURNACES if f.name == furnace)
    steps = [list(step[1:]) for step in STEPS if step[0] == recipe]
    return float(worksheet_function_named("GAS_CYCLE")(machine.gas, machine.free_volume, steps))


def used(gas: str, first: dt.date, end: dt.date) -> float:
    """Nm³ of a gas by the log, from a day up to another."""
    gases = {furnace.name: furnace.gas for furnace in FURNACES}
    return sum(
        loads * use_per_load(furnace, recipe)
        for day, furnace, recipe, loads in log()
        if first <= day < end and gases[furnace] == gas
    )


@cache
def deliveries() -> tuple[tuple[dt.date, str, float], ...]:
    """Liquid delivered: date, gas, L; a truck whenever the stock falls to a third."""
    to_liquid = worksheet_function_named("GAS_TO_LIQUID")
    rows = []
    for gas in PRICES:
        stock, day = 0.7 * CAPACITY[gas], FIRST_MONTH
        while day < NEXT_MONTH:
            tomorrow = day + dt.timedelta(days=1)
            stock -= to_liquid(gas, used(gas, day, tomorrow), TANK_PRESSURE[gas])
            if stock < 0.35 * CAPACITY[gas] and day.weekday() < 5:
                filled = round(0.5 * CAPACITY[gas], -1)
                rows.append((day, gas, filled))
                stock += filled
            day = tomorrow
    return tuple(sorted(rows))


PLAN = (
    ("VF1", "Harden 6 bar", 24),
    ("VF1", "Harden 2 bar", 22),
    ("VF1", "Anneal", 18),
    ("VF2", "Harden 10 bar", 26),
    ("VF2", "Harden 6 bar", 24),
    ("VF3", "Braze", 27),
    ("VF3", "Anneal", 24),
)
"""Loads planned for the next month."""
