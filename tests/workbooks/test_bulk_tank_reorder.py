"""The bulk tank book against calculations written out here: CoolProp, sums and a plan by hand."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path
from statistics import NormalDist, mean, stdev
from typing import Any

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.building import BOOKS
from tests.workbooks.editing import Computed, Declared, computed, short, start

NAME = "bulk_tank_reorder"
GIVEN, ROWS = BOOKS[NAME].demo(), 0
BOOK = short(BOOKS[NAME], GIVEN, 50)
SHEETS = Declared(BOOK, GIVEN, ROWS)
EPOCH = dt.date(1899, 12, 30)
NITROGEN, ARGON = 1, 2
"""Rows of the table by tank."""

READINGS = GIVEN.tables["Readings"]
FREE = len(READINGS) + 1
LAST_N2 = next(r for r in range(FREE - 1, 0, -1) if READINGS[r - 1][1] == "N2 tank")
START = (GIVEN.inputs["Plan_day"] - EPOCH).days
BAR = plant.PRESSURE + 0.98828
"""bar(a) in both tanks: 210 m above the sea the air has 0.98828 (standard atmosphere)."""


def a_second_tank() -> dict[str, Any]:
    """Another nitrogen tank whose gauge shows a share, 20 days read, and its supply."""
    rows = SHEETS.typed(
        "Tanks", 3, Tank="N2 south", Gas="nitrogen", Capacity=3000, Most_fill=95, Reserve=400,
        Evaporation=0.4, Use_by="history", Gauge_shows="% of volume",
    )  # fmt: skip
    rows |= SHEETS.typed(
        "Supply", 3, Tank="N2 south", Supplier="Supplier A", Truck=1500, Lead=3,
        Lead_varies_by=1, Orders_taken="Tue, Thu", Trucks_come="Mon-Fri", Service=95,
    )  # fmt: skip
    for ago in range(20, -1, -1):
        rows |= SHEETS.typed(
            "Readings", FREE + 20 - ago, Date=START - ago, Tank="N2 south", Pressure=12.4,
            Gauge=60 + ago,
        )  # fmt: skip
    return rows


def without_argon() -> dict[str, Any]:
    """The plant with one gas only."""
    blank: dict[str, Any] = {}
    for table, column in (("Tanks", 0), ("Supply", 0), ("Equipment", 0), ("Users", 1),
                          ("Readings", 1), ("Orders", 1)):  # fmt: skip
        typed = SHEETS.plan.tables[table].typed
        for row, values in enumerate(GIVEN.tables[table], 1):
            if values[column] == "Ar tank":
                blank |= {SHEETS.place(f"{table}.{each.name}", row): None for each in typed}
    return blank


EMPTY = {SHEETS.place("Readings.Level", LAST_N2): 0}
HOLIDAY = SHEETS.typed("Closed", 11, Date=START + 6, Trucks="none")
"""Monday 2 November, on which the truck would come."""

SCENARIOS: dict[str, dict[Any, Any]] = {
    "by the loads": {SHEETS.place("Tanks.Use by", 1): "loads"},
    "a truck on its way": SHEETS.typed("Orders", 10, Ordered=START - 1, Tank="N2 tank"),
    "an empty tank": EMPTY,
    "a second tank of nitrogen": a_second_tank(),
    "one gas only": without_argon(),
    "a holiday more": HOLIDAY,
    "read yesterday": {"Plan_day": START + 1},
    "not read for days": {"Plan_day": START + 4},
}


@pytest.fixture(scope="module")
def book() -> Path:
    return start(BOOK, GIVEN, ROWS)


@pytest.fixture(scope="module")
def found(book: Path) -> Computed:
    return Computed(book)


def of(found: Computed, column: str, tank: int = NITROGEN) -> Any:
    return found[SHEETS.place(f"By.{column}", tank)]


def litres_of(gas: str) -> float:
    """L by which the level falls for 1 Nm³ drawn at constant pressure."""
    liquid, vapour = (PropsSI("Dmolar", "P", BAR * 1e5, "Q", q, gas) for q in (0, 1))
    return 1000 * float(PropsSI("Dmolar", "P", 101325, "T", 273.15, gas)) / float(liquid - vapour)


def uses(gas: str) -> list[float]:
    """L by day: falls of the level; on a day with a delivery the mean of the other days."""
    levels = [row[2] for row in READINGS if row[1] == plant.TANKS[gas]]
    falls = [before - after for before, after in pairwise(levels)]
    ordinary = [fall for fall in falls if fall > -0.05 * plant.CAPACITY[gas]]
    return [fall if fall in ordinary else mean(ordinary) for fall in falls]


def is_open(day: int, weekdays: range, closed: set[int]) -> bool:
    return (EPOCH + dt.timedelta(days=day)).weekday() in weekdays and day not in closed


@dataclass(frozen=True)
class Case:
    """A tank and its supply, in L and days."""

    now: float
    reserve: float
    most: float
    truck: float
    use: list[float]
    scatter: float
    leads: tuple[int, ...]
    trucks: range = range(6)
    closed: frozenset[int] = frozenset()
    coming: float = 0.0
    service: float = 0.98

    @property
    def level(self) -> float:
        """Reserve, the busiest time until a truck and a day more for the reading, and safety."""
        lead, varies = mean(self.leads), stdev(self.leads)
        whole = math.ceil(lead)
        busy = max(sum(self.use[k : k + whole]) / whole for k in range(60 - whole + 1))
        time = lead + 1
        z = NormalDist().inv_cdf(self.service)
        spread = math.hypot(math.sqrt(time) * self.scatter, busy * varies)
        return self.reserve + busy * time + z * spread

    def plan(self) -> list[tuple[int, int, float]]:
        """Orders of sixty days: day of the order, of the truck, L."""
        lead, level, made = math.ceil(mean(self.leads)), self.level, []
        stock, position = self.now + self.coming, self.now + self.coming
        known = self.use + [0.0] * 20
        due: dict[int, float] = {}
        for day in range(60):
            if self._takes(day):
                after = next(n for n in range(day + 1, day + 20) if self._takes(n))
                comes, then = (self._comes(each + lead) for each in (day, after))
                drawn = sum(known[day:after]) + sum(known[after + lead : then])
                if position <= level or position - drawn < level:
                    left = stock - sum(known[day:comes])
                    left += sum(load for arrives, load in due.items() if day <= arrives < comes)
                    load = max(0.0, min(self.truck, self.most - left))
                    made.append((day, comes, load))
                    due[comes] = due.get(comes, 0.0) + load
                    position += load
            stock += due.get(day, 0.0) - known[day]
            position -= known[day]
        return made

    def _takes(self, day: int) -> bool:
        return is_open(START + day, range(5), set(self.closed))

    def _comes(self, day: int) -> int:
        return next(
            n for n in range(day, day + 20) if is_open(START + n, self.trucks, set(self.closed))
        )

    def chance(self, wait: int) -> float:
        """Of reaching the reserve before a truck that comes after so many days."""
        drain, varies = sum(self.use[:wait]) / wait, stdev(self.leads)
        spread = math.hypot(math.sqrt(wait) * self.scatter, drain * varies)
        return NormalDist().cdf((drain * wait + self.reserve - self.now) / spread)


NO_TRUCKS = frozenset(
    START + (row[0] - GIVEN.inputs["Plan_day"]).days
    for row in GIVEN.tables["Closed"]
    if row[2] == "none"
)
OFF = {(row[0] - EPOCH).days for row in GIVEN.tables["Closed"] if row[1] == 0}


def expected_uses(gas: str) -> list[float]:
    """Sixty days by the mean of each weekday over the last eight weeks, none on days off."""
    last = uses(gas)[-56:]
    means = [mean(last[day::7]) for day in range(7)]
    return [0.0 if START + n in OFF else means[n % 7] for n in range(60)]


def truck(gas: str, litres: float) -> float:
    """L of the warm tank that a ticket of boiling liquid brings."""
    boiling = float(PropsSI("Dmolar", "P", 101325, "Q", 0, gas))
    normal = float(PropsSI("Dmolar", "P", 101325, "T", 273.15, gas))
    return litres / 1000 * boiling / normal * litres_of(gas)


def nitrogen(scatter: float, **other: Any) -> Case:
    took = tuple((row[2] - row[0]).days for row in GIVEN.tables["Orders"] if row[1] == "N2 tank")
    case = Case(
        READINGS[LAST_N2 - 1][2], 1500, 0.95 * 11_000, truck("nitrogen", 6000),
        expected_uses("nitrogen"), scatter, took, closed=NO_TRUCKS,
    )  # fmt: skip
    return replace(case, **other)


def agree(found: Computed, case: Case, tank: int = NITROGEN) -> None:
    """Order level, day, load, truck and chance of a tank."""
    assert of(found, "Order at", tank) == pytest.approx(case.level, rel=1e-3)
    day, comes, load = case.plan()[0]
    assert of(found, "Order by", tank) == START + day
    assert of(found, "Arrives", tank) == START + comes
    assert of(found, "Order", tank) == pytest.approx(load, rel=1e-3)
    assert of(found, "Chance", tank) == pytest.approx(case.chance(comes), rel=0.02, abs=2e-4)


def test_use_by_the_tanks_own_history(found: Computed) -> None:
    """What left the tank, losses in it; the forecast is shown beside last week's weekday."""
    for tank, gas in ((NITROGEN, "nitrogen"), (ARGON, "argon")):
        history = [
            each * litres_of(gas)
            for each in SHEETS.column(found, f"Days.Used {tank}")
            if isinstance(each, float)
        ]
        assert len(history) == 84
        assert history == pytest.approx([max(0.0, use) for use in uses(gas)], rel=1e-4, abs=1e-6)
        assert SHEETS.column(found, f"Ahead.Use {tank}") == pytest.approx(
            expected_uses(gas), rel=1e-4, abs=1e-6
        )
        missed, of_last_week = (
            found[SHEETS.place(f"Methods.{name}", tank)] for name in ("Error", "Error of last week")
        )
        assert missed < of_last_week


def test_demo_by_hand(found: Computed) -> None:
    case = nitrogen(of(found, "Scatter"))
    assert of(found, "Now") == case.now
    assert of(found, "Truck") == pytest.approx(case.truck, rel=1e-4)
    assert of(found, "Lead") == pytest.approx(mean(case.leads))
    assert of(found, "Varies") == pytest.approx(stdev(case.leads))
    agree(found, case)
    assert found["Answer_level"] == "watch"
    day = EPOCH + dt.timedelta(days=of(found, "Order by"))
    assert f"N2 tank: order by {day:%a} {day.day} {day:%b}: 5," in found["Answer"]
    assert of(found, "Ask") == pytest.approx(case.plan()[0][2] / case.truck * 6000, abs=10)
    assert f"{of(found, 'Ask'):,.0f} L(liq) by the ticket. The truck comes on" in found["Answer"]


def test_scatter_is_that_of_the_weeks(found: Computed) -> None:
    """About the scatter of the last eight weeks about their weekdays; more where it missed more."""
    last = np.array(uses("nitrogen")[-56:]).reshape(8, 7)
    by_hand = np.sqrt(np.sum((last - last.mean(axis=0)) ** 2) / 49 * 9 / 8)
    assert by_hand * 0.9 < of(found, "Scatter") < by_hand * 1.5


def test_the_plan_is_the_plan_by_hand(found: Computed) -> None:
    orders = nitrogen(of(found, "Scatter")).plan()
    deliveries = SHEETS.column(found, "Plan.Delivery")
    assert {n for n, each in enumerate(deliveries) if isinstance(each, float)} == {
        o[1] for o in orders if o[1] < 60
    }
    level = of(found, "Now")
    for use, came, evening in zip(
        *(SHEETS.column(found, f"Plan.{name}") for name in ("Use", "Delivery", "Evening")),
        strict=True,
    ):
        level += (came or 0) - use
        assert evening == pytest.approx(level, abs=1e-6)
        assert evening <= found["S_most"] + 1e-6


def test_no_truck_on_sundays_and_holidays(book: Path, found: Computed, tmp_path: Path) -> None:
    after = computed(book, tmp_path / "b.xlsx", HOLIDAY)
    agree(after, nitrogen(of(after, "Scatter"), closed=NO_TRUCKS | {START + 6}))
    for each in (found, after):
        days = zip(
            SHEETS.column(each, "Plan.Day"), SHEETS.column(each, "Plan.Delivery"), strict=True
        )
        came = [EPOCH + dt.timedelta(days=day) for day, load in days if isinstance(load, float)]
        assert came
        assert all(day.weekday() < 6 for day in came)
        assert dt.date(2026, 12, 25) not in came
    assert START + 6 not in {of(after, "Arrives"), of(after, "Next truck")}


def test_never_on_the_25th_of_december(book: Path, tmp_path: Path) -> None:
    """A plan that orders daily, so that a truck would come every day that it may."""
    changes = SHEETS.typed("Supply", 1, Truck=100, Lead=3, Service=50)
    for row in range(1, 10):
        changes |= SHEETS.typed("Orders", row, Ordered=None, Tank=None, Delivered=None)
    each = computed(book, tmp_path / "b.xlsx", changes)
    days = zip(SHEETS.column(each, "Plan.Day"), SHEETS.column(each, "Plan.Delivery"), strict=True)
    came = {EPOCH + dt.timedelta(days=day) for day, load in days if isinstance(load, float)}
    assert len(came) > 20
    assert not {day for day in came if day.weekday() == 6}
    assert dt.date(2026, 12, 25) not in came
    assert of(each, "Lead") == 3


def test_by_the_loads(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["by the loads"])
    per_day = [
        sum(row[2] * row[4 + weekday] for row in GIVEN.tables["Users"] if row[1] == "N2 tank")
        for weekday in range(7)
    ]
    evaporated = 0.0035 * 11_000
    use = []
    for n in range(60):
        weekday = (EPOCH + dt.timedelta(days=START + n)).weekday()
        share = 0.0 if START + n in OFF else 1.0
        use.append(share * per_day[weekday] * litres_of("nitrogen") + evaporated)
    assert SHEETS.column(found, "Ahead.Use 1") == pytest.approx(use, rel=1e-3)
    scatter = math.sqrt(mean((0.6 * each) ** 2 for each in use))
    assert of(found, "Scatter") == pytest.approx(scatter, rel=1e-3)
    agree(found, nitrogen(scatter, use=use))


def test_a_truck_on_its_way(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["a truck on its way"])
    case = nitrogen(of(found, "Scatter"))
    coming = min(case.truck, case.most - case.now)
    assert of(found, "Coming") == pytest.approx(coming, rel=1e-4)
    assert of(found, "Due") == START - 1 + math.ceil(mean(case.leads))
    assert of(found, "Order by") == START + replace(case, coming=coming).plan()[0][0]
    assert of(found, "Chance") == pytest.approx(case.chance(3), abs=2e-4)
    assert "N2 tank: a truck is due Fri 30 Oct" in of(found, "Says")
    evenings = SHEETS.column(found, "Plan.Evening")
    assert evenings[2] == pytest.approx(case.now - sum(case.use[:3]), rel=1e-3)
    assert evenings[3] - evenings[2] == pytest.approx(coming - case.use[3], rel=1e-3)


def test_an_empty_tank_is_empty_and_not_overfull(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", EMPTY)
    assert found["Readings_out"] == 0
    assert of(found, "Now") == 0
    assert of(found, "Chance") == 1
    assert of(found, "Lasts") == 0
    assert found["Answer_level"] == "act"
    assert "N2 tank is down to its reserve: call Supplier A now." in found["Answer"]


def test_two_tanks_of_one_gas(book: Path, found: Computed, tmp_path: Path) -> None:
    after = computed(book, tmp_path / "b.xlsx", SCENARIOS["a second tank of nitrogen"])
    assert of(after, "Now", 3) == pytest.approx(1800)
    assert of(after, "Daily", 3) == pytest.approx(30, rel=1e-6)
    assert of(after, "Order by", 3) % 7 in (3, 5), "Tuesday or Thursday"
    for column in ("Order at", "Order by", "Now", "Daily"):
        assert of(after, column) == of(found, column)
    assert after["Tank_count"] == 3
    assert after["Checks_wrong"] == 0
    assert "All tanks: see Overview" in after["Answer"]


def test_one_gas_only(book: Path, found: Computed, tmp_path: Path) -> None:
    after = computed(book, tmp_path / "b.xlsx", SCENARIOS["one gas only"])
    assert after["Tank_count"] == 1
    assert after["Checks_wrong"] == 0
    assert of(after, "Order by") == of(found, "Order by")
    assert "Ar tank" not in after["Answer"]


def test_what_was_used_since_the_reading_is_taken_off(book: Path, tmp_path: Path) -> None:
    after = computed(book, tmp_path / "b.xlsx", SCENARIOS["read yesterday"])
    use = expected_uses("nitrogen")
    # a day less of history: what is taken for the days with a delivery moves by 0.03 %
    assert SHEETS.column(after, "Ahead.Use 1")[:50] == pytest.approx(use[1:51], rel=1e-3, abs=0.1)
    assert of(after, "Daily") == pytest.approx(mean(use[1:29]), rel=1e-3)
    now = READINGS[LAST_N2 - 1][2] - of(after, "Daily")
    assert of(after, "Now") == pytest.approx(now, rel=1e-6)
    assert of(after, "Ready") == 1


def test_an_old_reading_says_nothing_of_today(book: Path, tmp_path: Path) -> None:
    after = computed(book, tmp_path / "b.xlsx", SCENARIOS["not read for days"])
    assert after["Answer_level"] == "cannot tell"
    assert "its last reading is 4 days old" in after["Answer"]


def test_a_gauge_of_pressure(book: Path, tmp_path: Path) -> None:
    """101.8 mbar over liquid less vapour at 13.39 bar(a), in an upright cylinder."""
    changes = SHEETS.typed("Tanks", 1, Gauge_shows="mbar", Diameter=1.9, Length=3.25,
                           Position="vertical", Heads="flat")  # fmt: skip
    changes |= SHEETS.typed("Readings", LAST_N2, Level=None, Gauge=101.8)
    after = computed(book, tmp_path / "b.xlsx", changes)
    liquid, vapour = (PropsSI("D", "P", BAR * 1e5, "Q", q, "nitrogen") for q in (0, 1))
    height = 101.8 * 100 / ((liquid - vapour) * 9.80665)
    assert of(after, "Liquid") == pytest.approx(1000 * math.pi / 4 * 1.9**2 * height, rel=1e-4)


def test_what_if(found: Computed) -> None:
    case = nitrogen(of(found, "Scatter"))
    comes = case.plan()[0][1]
    rows = [
        {name: found[SHEETS.place(f"What.{name}", row)] for name in ("Use a day", "Days to reserve",
                                                                     "Chance", "Left then")}
        for row in range(1, 5)
    ]  # fmt: skip
    daily = mean(case.use[:28])
    extra = 2 * 43 * litres_of("nitrogen")
    assert rows[2]["Use a day"] == pytest.approx(daily + extra, rel=1e-3)
    days = (case.now - case.reserve) / (daily + extra)
    assert rows[2]["Days to reserve"] == pytest.approx(days, rel=1e-3)
    assert rows[0]["Chance"] == pytest.approx(100 * case.chance(comes), rel=0.02, abs=0.02)
    until = mean(case.use[:comes])
    for row, more, late in ((0, 0.0, 0), (1, 0.0, 3), (2, extra, 0), (3, extra, 3)):
        left = case.now - (until + more) * (comes + late)
        assert rows[row]["Left then"] == pytest.approx(max(0.0, left), rel=2e-3)
    assert rows[0]["Chance"] < rows[1]["Chance"] < rows[3]["Chance"]


def test_chance_by_the_day_of_the_order(found: Computed) -> None:
    """Orders are taken Monday to Friday; the plan's day has the plan's chance."""
    case = nitrogen(of(found, "Scatter"))
    lead = math.ceil(mean(case.leads))
    for row in range(1, 22):
        day = START + row - 1
        chance = found[SHEETS.place("ByDay.Chance", row)]
        if not case._takes(row - 1):
            assert not isinstance(chance, float)
            continue
        comes = case._comes(row - 1 + lead)
        assert found[SHEETS.place("ByDay.Truck", row)] == START + comes
        assert chance == pytest.approx(100 * case.chance(comes), rel=0.02, abs=0.02)
        if day == of(found, "Order by"):
            assert chance == pytest.approx(100 * of(found, "Chance"), rel=1e-6)
            assert found[SHEETS.place("ByDay.This is", row)] == "the day of the plan"


def tried(case: Case, level: float, years: int = 400) -> float:
    """Chance of reaching the reserve in a year, by years tried out here day by day."""
    random = np.random.default_rng(7)
    weeks = np.array(uses("nitrogen")).reshape(12, 7)
    short = 0
    for _ in range(years):
        use = weeks[random.integers(12, size=53)].ravel()
        stock, waiting, reached = case.now, list[int](), False
        for day in range(365):
            if stock + len(waiting) * case.truck <= level and case._takes(day):
                waiting.append(case._comes(day + int(random.choice(case.leads))))
            coming = waiting.count(day)
            waiting = [each for each in waiting if each != day]
            stock = min(case.most, stock + coming * case.truck) if coming else stock
            stock -= use[day]
            reached = reached or stock <= case.reserve
            stock = max(stock, 0.0)
        short += reached
    return 100 * short / years


def test_risk_of_a_level(found: Computed) -> None:
    case = nitrogen(of(found, "Scatter"))
    levels, chances, costs, trucks = (
        SHEETS.column(found, f"Risk.{name}")
        for name in ("Order at", "Chance in a year", "Costs a year", "Trucks a year")
    )
    assert levels[4] == pytest.approx(case.level, rel=1e-3)
    assert chances == sorted(chances, reverse=True)
    assert chances[3] == pytest.approx(tried(case, levels[3]), abs=8)
    assert chances[4] == pytest.approx(tried(case, levels[4]), abs=8)
    calls = SHEETS.column(found, "Risk.Calls a year")
    for cost, truck_count, called in zip(costs, trucks, calls, strict=True):
        assert cost == pytest.approx(60 * truck_count + 600 * called, rel=1e-6)


def test_vaporizer_and_backup(found: Computed) -> None:
    def row(name: str) -> Any:
        return found[SHEETS.place(f"Equipment.{name}", 1)]

    assert row("Draw") == 330
    assert row("Within") == "cannot tell", "330 ± 33 of 350"
    density = [
        PropsSI("Dmolar", "P", (bar + 0.98828) * 1e5, "T", 288.15, "nitrogen") for bar in (200, 15)
    ]
    normal = PropsSI("Dmolar", "P", 101325, "T", 273.15, "nitrogen")
    assert row("Backup gas") == pytest.approx(
        4 * 0.6 * (density[0] - density[1]) / normal, rel=1e-3
    )
    assert row("Backup days") == pytest.approx(row("Backup gas") / row("Use a day"), rel=1e-6)
    assert row("Use a day") == pytest.approx(of(found, "Daily") / litres_of("nitrogen"), rel=1e-4)
    heat = PropsSI("Hmolar", "P", BAR * 1e5, "T", 253.15, "nitrogen")
    heat -= PropsSI("Hmolar", "P", BAR * 1e5, "Q", 0, "nitrogen")
    assert row("Heat in kW") == pytest.approx(330 * normal / 3600 * heat / 1000, rel=2e-3)


MISTAKES = {
    "Readings": SHEETS.typed("Readings", LAST_N2 - 2, Level="half")
    | SHEETS.typed("Readings", LAST_N2 - 4, Level=12_000),
    "Supply": SHEETS.typed("Supply", 1, Trucks_come="Someday"),
    "Orders": SHEETS.typed("Orders", 1, Delivered=40_000),
    "Users": SHEETS.typed("Users", 1, Mon=-3),
    "Closed": SHEETS.typed("Closed", 1, Use=-1),
    "Equipment": SHEETS.typed("Equipment", 1, Full=10),
}


def test_mistakes_are_told_and_cost_only_their_rows(book: Path, tmp_path: Path) -> None:
    together = {cell: value for each in MISTAKES.values() for cell, value in each.items()}
    found = computed(book, tmp_path / "b.xlsx", together)
    assert {table: found[f"{table}_out"] for table in MISTAKES} == {
        table: 2 if table == "Readings" else 1 for table in MISTAKES
    }
    assert found["Checks_wrong"] > len(MISTAKES)
    assert isinstance(of(found, "Order by", ARGON), float)
    assert "N2 tank: cannot tell, see its rows on Tanks and on Supply." in found["Answer"]
    assert "#" not in found["Answer"]


def test_a_tank_too_small_is_told(book: Path, tmp_path: Path) -> None:
    full = {SHEETS.place("Readings.Level", LAST_N2): 10_000}
    changes = full | SHEETS.typed("Tanks", 1, Reserve=9500)
    found = computed(book, tmp_path / "b.xlsx", changes)
    assert "N2 tank cannot hold what reserve, lead and service ask for" in found["Answer"]
    assert found["Answer_level"] == "act"
    assert found["Checks_wrong"] >= 1


def test_every_input_blank(book: Path, tmp_path: Path) -> None:
    names = [each.name for group in BOOK.groups for each in group.inputs if hasattr(each, "prompt")]
    found = computed(book, tmp_path / "b.xlsx", dict.fromkeys(names))
    assert "missing" in found["Answer"]
    assert found["Answer_level"] == "cannot tell"
