"""The invented plant of all demos: what it has, what it did in half a year, what is hidden in it.

Nothing here is a real plant. From August on the nitrogen tickets are long by an eighth, and a leak
grows: the books find the one or the other, each with its own means.
"""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import dataclass
from functools import cache

from gasfuncs.registry import worksheet_function_named
from gasfuncs.workbooks import demo
from gasfuncs.workbooks.demo import FURNACES, PLAN, STEPS, log

PLANT = demo.PLANT
MONTH, NEXT_MONTH, FIRST_MONTH = demo.MONTH, demo.NEXT_MONTH, demo.FIRST_MONTH
ALTITUDE, SITE = 210, 0.988
"""m, and bar(a) there."""
ABOUT = {"Plant": PLANT, "Currency": "EUR", "Altitude": ALTITUDE}
"""What every book asks for first."""

TANKS = {"nitrogen": "N2 tank", "argon": "Ar tank"}
CAPACITY = {"nitrogen": 11_000, "argon": 1_600}
PRESSURE = 12.4
"""bar(g) in both tanks, but for the days after a delivery."""

SUPPLIERS = {"nitrogen": "Supplier A", "argon": "Supplier B"}
PRINTED = {"nitrogen": "L(liq)", "argon": "kg"}
"""What each supplier's tickets count in."""
NEW_PRICE = dt.date(2026, 7, 1)
PRICES = (
    ("nitrogen", None, 0.152, "Nm3"),
    ("nitrogen", NEW_PRICE, 0.16, "Nm3"),
    ("argon", None, 0.95, "Nm3"),
)
"""Gas, valid from, price, for what."""

LONG_SINCE, LONG_BY = dt.date(2026, 8, 1), 0.12
"""What is missing of a nitrogen ticket from that day on."""
LEAK = {"nitrogen": (20, 25, 30, 40, 60, 90), "argon": (1, 1, 2, 1, 2, 3)}
"""Nm³ lost in each month from May on."""
OPENING = {"nitrogen": 0.86, "argon": 0.75}
"""Of the capacity is liquid on the first morning."""

__all__ = ["FURNACES", "PLAN", "STEPS", "log"]


@dataclass(frozen=True)
class Ticket:
    """A delivery: what its ticket says, and what came, in Nm³."""

    day: dt.date
    number: str
    gas: str
    quantity: float
    unit: str
    amount: float
    came: float


def price(gas: str, day: dt.date) -> float:
    """The contract's price of a Nm³ on a day."""
    return 0.95 if gas == "argon" else 0.16 if day >= NEW_PRICE else 0.152


@cache
def tickets() -> tuple[Ticket, ...]:
    """Every delivery of the half year."""
    chance = random.Random(41)
    return tuple(
        _ticket(f"T{4100 + number}", day, gas, liquid, chance)
        for number, (day, gas, liquid) in enumerate(demo.deliveries(), 1)
    )


def _ticket(number: str, day: dt.date, gas: str, liquid: float, chance: random.Random) -> Ticket:
    """The ticket tells liquid as it boils at 1 atm, or its mass."""
    function = worksheet_function_named
    amount = function("GAS_FROM_LIQUID")(gas, liquid, demo.TANK_PRESSURE[gas])
    unit = PRINTED[gas]
    quantity = float(round(function("GAS_CONVERT")(amount, "Nm3", unit, gas), -1))
    amount = function("GAS_DELIVERED")(gas, f"{quantity} {unit}")
    long = gas == "nitrogen" and day >= LONG_SINCE
    came = amount * (1 - LONG_BY if long else 1) * chance.uniform(0.993, 1.007)
    return Ticket(day, number, gas, quantity, unit, amount, came)


@cache
def readings() -> tuple[tuple[dt.date, str, float], ...]:
    """The liquid read in each tank on the first morning of each month: day, gas, L."""
    firsts = [FIRST_MONTH.replace(month=month) for month in range(5, 12)]
    return tuple((day, gas, level_on(gas, day)) for day in firsts for gas in TANKS)


@cache
def level_on(gas: str, day: dt.date) -> float:
    """The liquid in a tank in the morning of a day, as the gauge reads it, in L."""
    came = sum(t.came for t in tickets() if t.gas == gas and t.day < day)
    gone = demo.used(gas, FIRST_MONTH, day) + _lost(gas, day)
    return _level(gas, _stock(gas, OPENING[gas] * CAPACITY[gas]) + came - gone)


@cache
def rise_on(gas: str, day: dt.date) -> float:
    """What the trucks of a day add to the level, in L."""
    came = sum(t.came for t in tickets() if t.gas == gas and t.day == day)
    return _level(gas, _stock(gas, 0) + came)


def _lost(gas: str, day: dt.date) -> float:
    """Nm³ that leaked up to the morning of a day."""
    lost, start = 0.0, FIRST_MONTH
    for each in LEAK[gas]:
        end = (start + dt.timedelta(days=32)).replace(day=1)
        passed = min(max((day - start).days, 0), (end - start).days)
        lost += each * passed / (end - start).days
        start = end
    return lost


@cache
def _stock(gas: str, liquid: float) -> float:
    call = worksheet_function_named("GAS_TANK_STOCK")
    return float(call(gas, liquid, CAPACITY[gas], PRESSURE + SITE))


def _level(gas: str, amount: float) -> float:
    """The liquid in a tank that holds an amount of gas, as the gauge reads to 10 L."""
    empty, full = _stock(gas, 0), _stock(gas, CAPACITY[gas])
    return float(round(CAPACITY[gas] * (amount - empty) / (full - empty), -1))
