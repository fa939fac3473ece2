"""The invented plant's deliveries: from August on, one supplier's tickets are long."""

from __future__ import annotations

import datetime as dt
import random
from typing import Any

from gasfuncs.registry import worksheet_function_named
from gasfuncs.workbooks import demo as plant
from gasfuncs.workbooks.sheets.parts import Given

SITE = 0.988
"""bar(a), at the plant's 210 m."""

SUPPLIERS = {"nitrogen": "Supplier A", "argon": "Supplier B"}
TANKS = {"nitrogen": "N2 tank", "argon": "Ar tank"}
PRINTED = {"nitrogen": "L(liq)", "argon": "kg"}
"""What each supplier's tickets count in."""

NEW_PRICE = dt.date(2026, 7, 1)
LONG_SINCE = dt.date(2026, 8, 1)
LONG_BY = 0.12
"""Of the ticket is missing, from that day on, in nitrogen."""


def demo() -> Given:
    """What the plant has typed."""
    return Given(
        inputs={
            "Plant": plant.PLANT,
            "Report_day": plant.MONTH,
            "Sum_from": LONG_SINCE,
            "Currency": "EUR",
            "Altitude": 210,
            "Ticket_tolerance": 2.5,
            "Level_tolerance": 1,
            "Invoice_tolerance": 0.5,
        },
        tables={
            "Tanks": [(TANKS[gas], None, gas, plant.CAPACITY[gas]) for gas in TANKS],
            "Contracts": [
                ("Supplier A", "nitrogen", None, 0.152, "Nm3", None),
                ("Supplier A", "nitrogen", NEW_PRICE, 0.16, "Nm3", None),
                ("Supplier B", "argon", None, 0.95, "Nm3", None),
            ],
            "Deliveries": _deliveries(),
        },
    )


def _deliveries() -> list[tuple[Any, ...]]:
    chance = random.Random(41)
    return [
        _delivery(4100 + number, day, gas, liquid, chance)
        for number, (day, gas, liquid) in enumerate(plant.deliveries(), 1)
    ]


def _delivery(
    number: int, day: dt.date, gas: str, liquid: float, chance: random.Random
) -> tuple[Any, ...]:
    """A row of the log: the ticket tells liquid as it boils at 1 atm, or its mass."""
    function = worksheet_function_named
    amount = function("GAS_FROM_LIQUID")(gas, liquid, plant.TANK_PRESSURE[gas])
    unit = PRINTED[gas]
    quantity = float(round(function("GAS_CONVERT")(amount, "Nm3", unit, gas), -1))
    amount = function("GAS_DELIVERED")(gas, f"{quantity} {unit}")
    long = gas == "nitrogen" and day >= LONG_SINCE
    came = amount * (1 - LONG_BY if long else 1) * chance.uniform(0.993, 1.007)
    before, pressure = float(round(0.3 * plant.CAPACITY[gas] * chance.uniform(0.9, 1.1), -1)), 12.4
    mixed = function("GAS_TANK_MIX")(
        gas, before, pressure + SITE, f"{came} Nm3", "1 atm", plant.CAPACITY[gas]
    )
    after, filled = round(mixed[1][1] - SITE, 1), float(round(mixed[1][2], -1))
    price = 0.95 if gas == "argon" else 0.16 if day >= NEW_PRICE else 0.152
    billed = quantity, round(amount * price * (1.03 if number == 4108 else 1), 2)
    invoice = (None, None, None) if day >= plant.MONTH else (f"R{number}", *billed)
    return (
        *(day, f"T{number}", SUPPLIERS[gas], TANKS[gas], quantity, unit),
        *(before, filled, pressure, after, None, *invoice),
    )
