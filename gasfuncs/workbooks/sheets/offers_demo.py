"""The plant's nitrogen offers, invented, as the book of supply offers asks for them."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from typing import Any

from gasfuncs.workbooks import demo as log_of_cycles
from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.parts import Given

GAS = "nitrogen"
FIRST_MONTH = dt.date(2027, 1, 1)
IN_FORCE = "A now"
LOSS = plant.LEAK[GAS][-1]
"""Nm³ a month, as the monthly book found it."""

SAME_DAY = dt.date(2026, 11, 2)

OFFERS: tuple[tuple[Any, ...], ...] = (
    (
        *(IN_FORCE, None, 0.16, "Nm3", None, "L(liq)", 5500, 60, 180, None, None, None, None),
        *(None, None, None, None),
    ),
    (
        *("A 3 years", SAME_DAY, 0.144, "Nm3", None, "Nm3", 3550, 60, 180, "marginal"),
        *(36_000, "year", None, 50, 0.17, None, 36),
    ),
    (
        *("A 1 year", SAME_DAY, 0.151, "Nm3", None, "Nm3", 3550, 60, 180, None),
        *(None, None, None, None, None, None, 12),
    ),
    (
        *("C by the litre", dt.date(2026, 11, 5), 0.112, "L(liq)", None, "L(liq)", 6000, None),
        *(215, "whole", None, "year", None, None, None, None, 24),
    ),
    (
        *("D by 100 scf", dt.date(2026, 11, 9), 0.365, "100 scf", None, "scf", 140_000, 85),
        *(240, None, 900_000, "year", 0.2, None, None, None, 60),
    ),
)

TIERS = (
    ("A 3 years", 30_000, 0.128),
    ("C by the litre", 72_000, 0.089),
)
SURCHARGES = (
    ("C by the litre", "energy", 3, None, None, None),
    ("D by 100 scf", "fuel", None, 12, None, None),
)
CLAUSES = (
    ("A 3 years", "Electricity", 35, 118.2),
    ("A 3 years", "Wages", 15, 109.4),
)
INDICES = (
    ("Electricity", dt.date(2026, 10, 1), 118.2),
    ("Electricity", dt.date(2027, 4, 1), 121.0),
    ("Wages", dt.date(2026, 10, 1), 109.4),
    ("Wages", dt.date(2027, 7, 1), 112.1),
)


def demo() -> Given:
    """What the plant has typed."""
    return Given(
        inputs={
            **plant.ABOUT,
            "Gas": GAS,
            "First_month": FIRST_MONTH,
            "In_force": IN_FORCE,
            "Plan_off": 10,
            "Loss_month": LOSS,
        },
        tables={
            "Loads": _loads(),
            "Offers": OFFERS,
            "Tiers": TIERS,
            "Surcharges": SURCHARGES,
            "Clauses": CLAUSES,
            "Indices": INDICES,
        },
    )


def _loads() -> list[tuple[Any, ...]]:
    """The loads of the half year on the log, twice."""
    loads: Counter[tuple[str, str, int]] = Counter()
    for day, furnace, recipe, number in plant.log():
        loads[furnace, recipe, day.month] += number
    months = range(plant.FIRST_MONTH.month, plant.MONTH.month + 1)
    return [
        (
            *(furnace.name, recipe, round(log_of_cycles.use_per_load(furnace.name, recipe), 2)),
            *(2 * [loads[furnace.name, recipe, month] for month in months]),
        )
        for furnace in plant.FURNACES
        if furnace.gas == GAS
        for recipe in log_of_cycles.RECIPES_OF[furnace.name]
    ]
