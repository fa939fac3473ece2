"""The plant's two tanks as the book of reordering asks for them."""

from __future__ import annotations

import datetime as dt
from itertools import cycle
from typing import Any

from gasfuncs.workbooks import demo as plan_of
from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.parts import Given

PLAN_DAY = dt.date(2026, 10, 27)
READ_FROM = dt.date(2026, 8, 4)
"""Twelve weeks before the plan."""
CLOSED, CLOSED_DAYS = dt.date(2026, 12, 24), 9
LEADS = {"nitrogen": (4, 3, 4, 5), "argon": (6, 5, 7)}
"""Days from order to delivery."""
LARGEST_DRAW = {"VF1": 120, "VF2": 210, "VF3": 60}
"""Nm³/h while a reservoir is recharged."""
SATURDAYS = 1
"""Loads of each furnace on a Saturday."""


def demo() -> Given:
    """What the plant has typed."""
    return Given(
        inputs={
            **plant.ABOUT,
            "Plan_day": PLAN_DAY,
            "Level_tolerance": 1,
            "Reading_age": 2,
            "Review": 1,
            "Plan_spread": 60,
            "Late_days": 3,
            "Extra_loads": 2,
            "Extra_gas": 43,
            "Draw_tolerance": 10,
        },
        tables={
            "Tanks": [_tank(gas, name) for gas, name in plant.TANKS.items()],
            "Supply": SUPPLY,
            "Closed": [*_closed(), (dt.date(2027, 1, 6), 100, "none", "public holiday")],
            "Readings": [
                (day, plant.TANKS[gas], plant.level_on(gas, day), plant.PRESSURE, None)
                for day in _days()
                for gas in plant.TANKS
            ],
            "Orders": _orders(),
            "Users": [_user(furnace) for furnace in plant.FURNACES],
            "Equipment": [
                ("N2 tank", 350, -20, 4, 0.6, 200, 15),
                ("Ar tank", 90, -20, 2, 0.6, 200, 15),
            ],
        },
    )


SUPPLY = (
    ("N2 tank", "Supplier A", 6000, None, 4, 1, "Mon-Fri", "Mon-Sat", 98, 60, 600),
    ("Ar tank", "Supplier B", 1000, 300, 6, 1, "Mon-Fri", "Mon-Fri", 98, 75, 900),
)


def _tank(gas: str, name: str) -> tuple[Any, ...]:
    reserve = {"nitrogen": 1500, "argon": 200}[gas]
    return (
        *(name, None, gas, plant.CAPACITY[gas], 95, reserve, 0.35, "history", "liquid"),
        *(None, None, None, None),
    )


def _closed() -> list[tuple[Any, ...]]:
    days = [CLOSED + dt.timedelta(days=n) for n in range(CLOSED_DAYS)]
    holidays = {dt.date(2026, 12, 25), dt.date(2026, 12, 26), dt.date(2027, 1, 1)}
    return [(day, 0, "none" if day in holidays else "as usual", "plant closed") for day in days]


def _days() -> list[dt.date]:
    span = (PLAN_DAY - READ_FROM).days
    return [READ_FROM + dt.timedelta(days=n) for n in range(span + 1)]


def _orders() -> list[tuple[Any, ...]]:
    leads = {gas: cycle(days) for gas, days in LEADS.items()}
    return [
        (
            ticket.day - dt.timedelta(days=next(leads[ticket.gas])),
            plant.TANKS[ticket.gas],
            ticket.day,
        )
        for ticket in plant.tickets()
    ]


def _user(furnace: plan_of.Furnace) -> tuple[Any, ...]:
    """A furnace with the loads that next month plans, spread over its weekdays."""
    planned = [(recipe, loads) for name, recipe, loads in plant.PLAN if name == furnace.name]
    loads = sum(number for _, number in planned)
    gas = sum(number * plan_of.use_per_load(furnace.name, recipe) for recipe, number in planned)
    weekdays, saturdays = 21, 4
    daily = round((loads - SATURDAYS * saturdays) / weekdays, 1)
    return (
        *(furnace.name, plant.TANKS[furnace.gas], round(gas / loads, 1)),
        *(LARGEST_DRAW[furnace.name], *(5 * [daily]), SATURDAYS, 0),
    )
