"""The book of supply offers against a calculation of its own: densities by CoolProp, sums by hand.

A contract's cost is worked out here unit by unit of each tier, month by month, as its words say it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from CoolProp.CoolProp import PropsSI

from gasfuncs.workbooks.sheets.building import BOOKS
from gasfuncs.workbooks.sheets.parts import Given
from tests.workbooks.editing import Computed, Declared, computed, start

BOOK = BOOKS["supply_offers"]
NAME = BOOK.name
SHEETS = Declared(BOOK)
GIVEN, ROWS = BOOK.demo(), 40

OFFER_COLUMNS = [column.name for column in SHEETS.plan.tables["Offers"].typed]

NORMAL = float(PropsSI("Dmolar", "T", 273.15, "P", 101325, "nitrogen"))
LIQUID = float(PropsSI("Dmolar", "P", 101325, "Q", 0, "nitrogen")) / 1000 / NORMAL
"""Nm³ of a litre at its boiling point at 1 atm."""
SCF = float(PropsSI("Dmolar", "T", (70 + 459.67) / 1.8, "P", 14.696 * 6894.757293, "nitrogen"))
SCF *= 0.3048**3 / NORMAL
"""Nm³ of a standard cubic foot, at 70 °F and 14.696 psia."""
SIZE = {"Nm3": 1.0, "L(liq)": LIQUID, "scf": SCF, "100 scf": 100 * SCF}


@dataclass(frozen=True)
class Offer:
    """An offer in Nm³; what it charges is in money."""

    name: str
    price: float
    drop: float
    charge: float
    rent: float
    whole: bool
    least: float
    short: float | None
    term: float
    tiers: tuple[tuple[float, float], ...] = ()
    share: float = 0.0
    per_delivery: float = 0.0
    weights: dict[str, tuple[float, float]] = field(default_factory=dict)


def offer(row: Sequence[Any]) -> Offer:
    """An offer as it is typed."""
    name, _, price, per, _, unit, drop, charge, rent, kind, least, _, short, *_, term = row
    goods, amount = SIZE[per], SIZE[unit]
    tables = {each: [r for r in GIVEN.tables[each] if r[0] == name] for each in GIVEN.tables}
    return Offer(
        name,
        price / goods,
        (drop or 0) * amount,
        charge or 0,
        rent or 0,
        kind == "whole",
        (least or 0) * amount,
        None if short is None else short / goods,
        term or 0,
        tuple((at * amount, each / goods) for _, at, each in tables["Tiers"]),
        sum(r[2] or 0 for r in tables["Surcharges"]) / 100,
        sum(r[3] or 0 for r in tables["Surcharges"]),
        {r[1]: (r[2] / 100, r[3]) for r in tables["Clauses"]},
    )


OFFERS = [offer(row) for row in GIVEN.tables["Offers"]]
MONTHS = [dt.date(2027, month, 1) for month in range(1, 13)]


def factor(each: Offer, month: dt.date) -> float:
    """Of the index clause, with the last value that was there on the month's first day."""
    fixed = 1 - sum(weight for weight, _ in each.weights.values())
    moved = 0.0
    for index, (weight, base) in each.weights.items():
        rows = [r for r in GIVEN.tables["Indices"] if r[0] == index and r[1] <= month]
        moved += weight * max(rows, key=lambda row: row[1])[2] / base
    return fixed + moved


def goods(each: Offer, amount: float) -> float:
    """What an amount of a year costs at the base price."""
    steps = [(0.0, each.price), *each.tiers]
    if each.whole:
        return amount * [price for start, price in steps if amount >= start][-1]
    ends = [*(start for start, _ in steps[1:]), float("inf")]
    parts = zip(steps, ends, strict=True)
    return sum(max(0.0, min(amount, end) - start) * price for (start, price), end in parts)


def year(each: Offer, amounts: list[float]) -> dict[str, float]:
    """The parts of a year's cost; a year's tier is known when the year is over."""
    total, taken, paid = sum(amounts), 0.0, 0.0
    for month, amount in zip(MONTHS, amounts, strict=True):
        if each.whole:
            more = amount * goods(each, total) / total if total else 0.0
        else:
            more = goods(each, taken + amount) - goods(each, taken)
        paid += more * factor(each, month)
        taken += amount
    trucks = total / each.drop if each.drop else 0.0
    missing = max(0.0, each.least - total)
    mean = sum(factor(each, month) for month in MONTHS) / 12
    if each.short is None:
        short = mean * (goods(each, max(total, each.least)) - goods(each, total))
    else:
        short = each.short * missing
    parts = {
        "Goods": paid,
        "Deliveries": trucks * each.charge,
        "Rent": 12 * each.rent,
        "Surcharges": each.share * paid + trucks * each.per_delivery,
        "Shortfall": short,
    }
    return parts | {"Total": sum(parts.values())}


def planned(given: Given = GIVEN) -> list[float]:
    """Nm³ of each month."""
    return [
        given.inputs["Loss_month"]
        + sum(row[2] * (row[3 + month] or 0) for row in given.tables["Loads"])
        for month in range(12)
    ]


def without(furnace: str, sign: int) -> list[float]:
    rows = [row for row in GIVEN.tables["Loads"] if row[0] == furnace]
    own = [sum(row[2] * row[3 + month] for row in rows) for month in range(12)]
    return [all_ + sign * each for all_, each in zip(planned(), own, strict=True)]


@pytest.fixture(scope="module")
def book() -> Path:
    return start(BOOK, GIVEN, ROWS)


def ranked(amounts: list[float], offers: list[Offer] = OFFERS) -> list[tuple[float, str]]:
    return sorted((year(each, amounts)["Total"], each.name) for each in offers)


def assert_compared(found: Computed, amounts: list[float], offers: list[Offer]) -> None:
    """Every part of every offer, in the order of their cost."""
    by_name = {each.name: each for each in offers}
    for row, (total, name) in enumerate(ranked(amounts, offers), 1):
        assert found[SHEETS.place("Compare.Offer", row)] == name
        for part, value in year(by_name[name], amounts).items():
            assert found[SHEETS.place(f"Compare.{part}", row)] == pytest.approx(value, rel=1e-5)
        effect = total / sum(amounts)
        assert found[SHEETS.place("Compare.In effect", row)] == pytest.approx(effect, rel=1e-5)


def test_every_part_of_every_offer_of_the_demo(book: Path) -> None:
    assert_compared(Computed(book), planned(), OFFERS)


def test_bands_are_of_the_planned_amount(book: Path) -> None:
    """Half the way from the low to the high end; of a difference the larger way from the plan."""
    found, amounts = Computed(book), planned()
    first, *others = (next(e for e in OFFERS if e.name == name) for _, name in ranked(amounts))

    def at(each: Offer, share: float) -> float:
        return year(each, [share * amount for amount in amounts])["Total"]

    for row, each in enumerate(others, 2):
        gap = at(each, 1) - at(first, 1)
        moves = [abs(at(each, share) - at(first, share) - gap) for share in (0.9, 1.1)]
        assert found[SHEETS.place("Compare.Its band", row)] == pytest.approx(max(moves), rel=1e-4)
        says = "dearer" if gap > max(moves) else "cannot tell"
        assert found[SHEETS.place("Compare.Says", row)] == says
    assert found["First_band"] == pytest.approx((at(first, 1.1) - at(first, 0.9)) / 2, rel=1e-5)


def test_the_demo_asks_for_a_change(book: Path) -> None:
    found = Computed(book)
    costs = {name: total for total, name in ranked(planned())}
    assert found["Answer_level"] == "act"
    assert found["Saved"] == pytest.approx(costs["A now"] - min(costs.values()), rel=1e-5)
    assert "A 3 years costs EUR 880 ± 140 less" in found["Answer"]
    assert "C by the litre may be cheaper yet" in found["Answer"]


def test_where_which_is_cheapest(book: Path) -> None:
    """At each step's amount by hand; a crossing lies between two steps."""
    found, amounts = Computed(book), planned()
    cheapest = []
    for row in range(1, 38):
        share = 0.2 + 0.05 * (row - 1)
        name = ranked([share * amount for amount in amounts])[0][1]
        assert found[SHEETS.place("Volumes.Cheapest", row)] == name
        cheapest.append((share * sum(amounts), name))
    changes = [
        (before[0], after[0], after[1])
        for before, after in pairwise(cheapest)
        if before[1] != after[1]
    ]
    assert len(changes) == 2
    for row, (low, high, name) in enumerate(changes, 2):
        assert low < found[SHEETS.place("Ranges.From", row)] <= high
        assert found[SHEETS.place("Ranges.Cheapest", row)] == name
    assert found[SHEETS.place("Ranges.From", 4)] in (None, "")


def test_a_crossing_of_two_straight_lines_is_exact(book: Path, tmp_path: Path) -> None:
    """Without tiers and least take two offers are even where their straight lines meet."""
    changes: dict[str, Any] = {SHEETS.place("Offers.Offer", row): None for row in (2, 4)}
    changes[SHEETS.place("Offers.Least take", 5)] = None
    changes[SHEETS.place("Offers.Rent", 5)] = 190
    found = computed(book, tmp_path / "b.xlsx", changes)
    one, other = OFFERS[2], replace(OFFERS[4], least=0.0, rent=190.0)
    slope = [each.price + (each.charge + each.per_delivery) / each.drop for each in (one, other)]
    even = 12 * (other.rent - one.rent) / (slope[0] - slope[1])
    assert found[SHEETS.place("Ranges.From", 2)] == pytest.approx(even, rel=1e-5)
    assert found[SHEETS.place("Ranges.Cheapest", 2)] == other.name


@pytest.mark.parametrize(
    ("row", "furnace", "sign"), [(1, "VF2", -1), (2, "VF2", 1), (3, "VF1", -1), (4, "VF1", 1)]
)
def test_a_furnace_more_or_less(row: int, furnace: str, sign: int, book: Path) -> None:
    found, amounts = Computed(book), without(furnace, sign)
    total, name = ranked(amounts)[0]
    assert found[SHEETS.place("Furnaces.Furnace", row)] == furnace
    assert found[SHEETS.place("Furnaces.Gas to buy", row)] == pytest.approx(sum(amounts))
    assert found[SHEETS.place("Furnaces.Cheapest", row)] == name
    assert found[SHEETS.place("Furnaces.Its cost", row)] == pytest.approx(total, rel=1e-5)
    now = year(OFFERS[0], amounts)["Total"]
    assert found[SHEETS.place("Furnaces.Contract in force", row)] == pytest.approx(now, rel=1e-5)


SCENARIOS: dict[str, dict[Any, Any]] = {
    "half the loads of VF2": {
        SHEETS.place(f"Loads.Month {month}", 4): 10 for month in range(1, 13)
    },
    "no contract in force": {"In_force": None},
    "two offers alike": {
        SHEETS.place(f"Offers.{column}", 6): value
        for column, value in zip(
            OFFER_COLUMNS, ("A 1 year again", *GIVEN.tables["Offers"][2][1:]), strict=True
        )
        if value is not None and not isinstance(value, dt.date)
    },
    "a surer plan": {"Plan_off": 3},
    "an index that doubles": {SHEETS.place("Indices.Value", 2): 240},
}
"""What is changed, by name."""


def test_fewer_loads(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["half the loads of VF2"])
    rows = [list(row) for row in GIVEN.tables["Loads"]]
    rows[3][3:] = [10] * 12
    amounts = planned(replace(GIVEN, tables={**GIVEN.tables, "Loads": rows}))
    assert_compared(found, amounts, OFFERS)


def test_two_offers_of_one_gas_on_one_day_are_two_offers(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["two offers alike"])
    names = SHEETS.column(found, "Compare.Offer")
    assert names.count("A 1 year") == names.count("A 1 year again") == 1
    at = [names.index(name) + 1 for name in ("A 1 year", "A 1 year again")]
    totals = [found[SHEETS.place("Compare.Total", row)] for row in at]
    assert totals[0] == pytest.approx(totals[1]) == pytest.approx(ranked(planned())[1][0], rel=1e-5)
    assert found["Offers_used"] == 6


def test_without_a_contract_in_force_and_a_sure_plan(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["no contract in force"])
    assert found["Answer_level"] == "cannot tell"
    assert "whether A 3 years or C by the litre is cheaper" in found["Answer"]
    both = {**SCENARIOS["no contract in force"], **SCENARIOS["a surer plan"]}
    found = computed(book, tmp_path / "c.xlsx", both)
    assert found["Answer_level"] == "in order"


def test_the_index_clause(book: Path, tmp_path: Path) -> None:
    """35 % of the price follows electricity, which doubles from April on, up to the cap."""
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["an index that doubles"])
    cap = 0.17 / 0.144
    april = SHEETS.place("Factors.Offer 2", 4)
    assert found[SHEETS.place("Factors.Offer 2", 3)] == pytest.approx(1)
    assert found[april] == pytest.approx(min(cap, 0.65 + 0.35 * 240 / 118.2))


def test_price_units_say_the_same(book: Path, tmp_path: Path) -> None:
    """The same price told for 100 scf, for a litre, for a Nm³."""
    before = Computed(book)[SHEETS.place("Offers.Price as used", 1)]
    for per in ("100 scf", "L(liq)"):
        told = {
            SHEETS.place("Offers.Price", 1): 0.16 * SIZE[per],
            SHEETS.place("Offers.Per", 1): per,
        }
        found = computed(book, tmp_path / "b.xlsx", told)
        after = found[SHEETS.place("Offers.Price as used", 1)]
        assert after == pytest.approx(before, rel=1e-6) == pytest.approx(0.16, rel=1e-6)


def test_liquid_at_the_tanks_pressure_is_less_gas(book: Path, tmp_path: Path) -> None:
    density: Callable[..., Any] = PropsSI
    at = SHEETS.place("Offers.Liquid at", 4)
    found = computed(book, tmp_path / "b.xlsx", {at: "3 bar(a)"})
    litre = density("Dmolar", "P", 3e5, "Q", 0, "nitrogen") / 1000 / NORMAL
    price = found[SHEETS.place("Offers.Price as used", 4)]
    assert price == pytest.approx(0.112 / litre, rel=1e-5)


WRONG: dict[int, tuple[str, Any, str]] = {
    1: ("Offers.Per", "bar", "cannot be calculated"),
    2: ("Offers.Cap", 0.1, "Cap is below the Price"),
    3: ("Offers.Drop", None, "type the Drop"),
    4: ("Offers.Fixed share", 60, "do not add up to 100 %"),
    5: ("Offers.Amounts in", "cups", "Amounts in: not in the list"),
    6: ("Offers.Floor", 0.2, "Floor is above the Price"),
    7: ("Offers.Price", "plenty", "a number is missing"),
    8: ("Offers.Offer", "A 1 year", "twice"),
}
"""By the row of Offers: what is typed wrong, and what Check says; the last are copies of row 3."""


def copies() -> dict[Any, Any]:
    """The third offer again in the free rows."""
    typed = zip(OFFER_COLUMNS, GIVEN.tables["Offers"][2], strict=True)
    return {
        SHEETS.place(f"Offers.{column}", row): f"{value}{row}" if column == "Offer" else value
        for column, value in typed
        for row in (6, 7, 8)
        if value is not None and not isinstance(value, dt.date)
    }


def test_every_sort_of_wrong_offer_says_why(book: Path, tmp_path: Path) -> None:
    wrong = {SHEETS.place(column, row): typed for row, (column, typed, _) in WRONG.items()}
    found = computed(book, tmp_path / "b.xlsx", {**copies(), **wrong})
    for row, (_, _, says) in WRONG.items():
        assert says in found[SHEETS.place("Offers.Check", row)]
    assert found["Offers_used"] == 0
    assert found["Answer"] == (
        "Without 8 row(s): see the Check on Offers first. "
        "No offer can be calculated: see the Check on Offers."
    )


def test_a_wrong_offer_costs_only_itself(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", {SHEETS.place("Offers.Per", 3): "bar"})
    assert found["Checks_wrong"] == 1
    assert_compared(found, planned(), [each for each in OFFERS if each.name != "A 1 year"])


def test_a_wrong_row_is_told(book: Path, tmp_path: Path) -> None:
    wrong: dict[str, tuple[Any, str]] = {
        "Tiers.Offer": ("Nobody", "Offer: not in the list"),
        "Surcharges.Of the goods": ("x", "a number is needed"),
        "Clauses.Base": (0, "Base: a number, 0.001 or more"),
        "Indices.From": (None, "a number is missing"),
    }
    typed = {SHEETS.place(column, 2): value for column, (value, _) in wrong.items()}
    found = computed(book, tmp_path / "b.xlsx", typed)
    for column, (_, says) in wrong.items():
        table = column.split(".")[0]
        assert says in found[SHEETS.place(f"{table}.Check", 2)]
        assert found[f"{table}_out"] == 1


def test_an_index_without_a_value_yet_is_told(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", {SHEETS.place("Indices.From", 1): 46500})
    checks = [v for v in found.values["Checks"].values() if isinstance(v, str)]
    assert "an index of a clause has no value from a day up to the first month" in checks
    assert "A 3 years" not in SHEETS.column(found, "Compare.Offer")


def test_one_offer_alone_is_not_compared(book: Path, tmp_path: Path) -> None:
    changes = {SHEETS.place("Offers.Offer", row): None for row in (2, 3, 4, 5)}
    found = computed(book, tmp_path / "b.xlsx", changes)
    assert found["Answer_level"] == "cannot tell"
    assert found["Answer"].startswith(
        "Without 10 row(s): see the Check on Offers first. Only one offer can be compared, A now"
    )
