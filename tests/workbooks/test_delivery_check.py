"""The delivery check against a calculation of its own, from CoolProp's densities."""

from __future__ import annotations

import datetime as dt
from math import sqrt
from pathlib import Path
from typing import Any

import pytest
from CoolProp.CoolProp import PropsSI

from gasfuncs.workbooks.sheets.building import BOOKS, build
from tests.workbooks.editing import Computed, Declared, computed, start

BOOK = BOOKS["delivery_check"]
NAME = BOOK.name
TICKETS = BOOK.demo().tables["Deliveries"]
LAST = len(TICKETS)

SITE = 101325 * (1 - 0.0065 * 210 / 288.15) ** (9.80665 * 0.0289644 / (8.31446 * 0.0065)) / 1e5
"""bar(a) at 210 m, by the standard atmosphere (ISO 2533, from memory)."""

CAPACITY = {"nitrogen": 11_000.0, "argon": 1_600.0}


GIVEN, ROWS = BOOK.demo(), 40
SHEETS = Declared(BOOK)


def place(column: str, row: int) -> str:
    """The cell of a delivery, the first being 1."""
    return SHEETS.place(f"Deliveries.{column}", row)


SCENARIOS: dict[str, dict[Any, Any]] = {
    "a long ticket more": {place("Level after", 5): 8700},
    "another capacity": {("Tanks", "E7"): 12_000},
    "no reading": {place("Level after", LAST): None},
    "a delivery of the month before": {"Report_day": 46240},
    "billed by the old price": {place("Billed", 7): 400},
}
"""What is changed, by name."""


@pytest.fixture(scope="module")
def book() -> Path:
    return start(BOOK, GIVEN, ROWS)


def rho(gas: str, bar: float, vapour: int) -> float:
    """mol/L of the saturated liquid or vapour."""
    return float(PropsSI("Dmolar", "P", bar * 1e5, "Q", vapour, gas)) / 1000


def nm3(gas: str, moles: float) -> float:
    """Real gas at 0 °C and 101.325 kPa (DIN 1343)."""
    return moles / float(PropsSI("Dmolar", "P", 101325, "T", 273.15, gas))


def stock(gas: str, litres: float, gauge: float) -> float:
    bar = gauge + SITE
    moles = litres * rho(gas, bar, 0) + (CAPACITY[gas] - litres) * rho(gas, bar, 1)
    return nm3(gas, moles)


def vapour(gas: str, litres: float, gauge: float) -> float:
    return nm3(gas, (CAPACITY[gas] - litres) * rho(gas, gauge + SITE, 1))


def judged(ticket: Any) -> tuple[float, float, float]:
    """By ticket, difference, 95 % band: the new liquid is anything from cold to fully mixed."""
    _, _, _, tank, quantity, unit, before, after, low, high, *_ = ticket
    gas = "nitrogen" if tank == "N2 tank" else "argon"
    a_kg, a_litre = 1 / float(PropsSI("M", gas)), rho(gas, 1.01325, 0)
    by_ticket = nm3(gas, quantity * (a_kg if unit == "kg" else a_litre))
    mixed = stock(gas, after, high) - stock(gas, before, low)
    cold = nm3(gas, a_litre * (after - before)) + vapour(gas, after, high)
    apart = cold - vapour(gas, before, low)
    slope = nm3(gas, rho(gas, high + SITE, 0) - rho(gas, high + SITE, 1))
    level = 0.01 * CAPACITY[gas] * slope
    tolerances = (level, level, (apart - mixed) / 2, 0.025 * by_ticket)
    band = 1.96 * sqrt(sum(each**2 for each in tolerances) / 3)
    return by_ticket, (mixed + apart) / 2 - by_ticket, band


@pytest.mark.parametrize("row", range(1, LAST + 1))
def test_every_delivery_of_the_demo(row: int, book: Path) -> None:
    found = Computed(book)
    by_ticket, difference, band = judged(TICKETS[row - 1])
    assert found[place("By ticket", row)] == pytest.approx(by_ticket, rel=1e-6)
    assert found[place("Difference", row)] == pytest.approx(difference, abs=1e-3 * by_ticket)
    assert found[place("Band", row)] == pytest.approx(band, rel=1e-3)
    wanted = "short" if difference + band < 0 else "agrees"
    assert found[place("Tank says", row)] == wanted


def test_the_demo_is_to_act_on(book: Path) -> None:
    found = Computed(book)
    since = dt.date(2026, 8, 1)
    rows = [judged(each) for each in TICKETS if each[2] == "Supplier A" and each[0] >= since]
    assert found["Short_by"] == pytest.approx(-sum(row[1] for row in rows), rel=1e-3)
    assert found["Answer_level"] == "act"
    assert "Supplier A, nitrogen" in found["Answer"]


def test_a_reading_that_is_not_there_is_not_judged(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["no reading"])
    assert found[place("Tank says", LAST)] == "not judged"
    assert found[place("Check", LAST)] == "ok"
    assert found["Month_judged"] == 0
    assert found["Answer_level"] == "act", "the running sum is still short"
    changes = {**SCENARIOS["no reading"], "Sum_from": 46300}
    found = computed(book, tmp_path / "c.xlsx", changes)
    assert found["Answer_level"] == "cannot tell"
    assert "could be judged" in found["Answer"]


def test_a_new_price_is_a_new_row_and_old_deliveries_keep_theirs(
    book: Path, tmp_path: Path
) -> None:
    before = Computed(book)
    new: dict[Any, Any] = {
        ("Contracts", f"{column}10"): value
        for column, value in zip(
            "BCDEF", ("Supplier A", "nitrogen", 46300, 0.2, "Nm3"), strict=True
        )
    }
    after = computed(book, tmp_path / "b.xlsx", new)
    prices = [(before, 0.152), (after, 0.152)]
    assert [found[place("Contract price", 1)] for found, _ in prices] == [p for _, p in prices]
    assert before[place("Contract price", LAST)] == 0.16
    assert after[place("Contract price", LAST)] == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({place("Quantity", 3): "plenty"}, "a number is missing: Date or Quantity"),
        ({place("Unit", 3): "cup"}, "Unit: not in the list"),
        ({place("Supplier", 3): "Nobody"}, "Supplier: not in the list"),
        ({place("Ticket", 3): "T4101", place("Supplier", 3): "Supplier A"}, "twice"),
        ({place("Level before", 3): 5000}, "Level after is below Level before"),
        ({place("Level after", 3): 5000}, "above the tank's capacity"),
        ({place("Pressure after", 3): 90}, "from 0 to 40"),
    ],
)
def test_a_wrong_row_says_why_and_costs_only_itself(
    typed: dict[Any, Any], says: str, book: Path, tmp_path: Path
) -> None:
    found = computed(book, tmp_path / "b.xlsx", typed)
    assert says in found[place("Check", 3)]
    assert found["Deliveries_out"] >= 1
    assert found["Month_ticket"] == pytest.approx(judged(TICKETS[-1])[0], rel=1e-6)
    assert found["Checks_wrong"] >= 1


def test_another_month(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", {"Report_day": 46240})
    day = dt.date(1899, 12, 30) + dt.timedelta(days=46240)
    month = [each for each in TICKETS if (each[0].year, each[0].month) == (day.year, day.month)]
    assert found["Month_all"] == len(month) > 1
    assert found["Month_ticket"] == pytest.approx(sum(judged(e)[0] for e in month), rel=1e-6)


def test_a_full_log_is_said(tmp_path: Path) -> None:
    build(BOOK, tmp_path / "full.xlsx", rows=len(TICKETS))
    found = Computed(tmp_path / "full.xlsx")
    assert found["Deliveries_free"] == 0
    assert found["Checks_wrong"] == 1
