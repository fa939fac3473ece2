"""The monthly book against sums worked out here: ideal gas for cycles, CoolProp for tanks."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from math import sqrt
from pathlib import Path
from typing import Any

import pytest
from CoolProp.CoolProp import PropsSI

from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.building import BOOKS, build
from gasfuncs.workbooks.sheets.parts import Given
from tests.workbooks.editing import Computed, Declared, computed, short, start

NAME = "monthly_gas_usage"
R = 8.314462618
NORMAL = 101_325 / (R * 273.15)
SINCE = dt.date(2026, 9, 1)


def shortened() -> Given:
    """The demo from September on, to be quick."""
    demo = BOOKS[NAME].demo()
    tables = dict(demo.tables)
    tables["Log"] = [row for row in tables["Log"] if row[0] >= SINCE]
    return replace(demo, tables=tables)


GIVEN, ROWS = shortened(), 0
BOOK = short(BOOKS[NAME], GIVEN)
LOG = GIVEN.tables["Log"]
SHEETS = Declared(BOOK, GIVEN, ROWS)
NITROGEN, ARGON = 1, 2
"""Rows of the table of gases."""


def serial(year: int, month: int, day: int) -> int:
    return (dt.date(year, month, day) - dt.date(1899, 12, 30)).days


def log_row(row: int, day: float, furnace: str, recipe: str, loads: Any) -> dict[str, Any]:
    return SHEETS.typed("Log", row, Date=day, Furnace=furnace, Recipe=recipe, Loads=loads)


def reading(row: int, day: float, tank: str, **values: float) -> dict[str, Any]:
    return SHEETS.typed("Readings", row, Date=day, Tank=tank, **values)


FREE = len(LOG) + 1
FREE_READING = len(GIVEN.tables["Readings"]) + 1
LAST_N2 = SHEETS.place("Readings.Level", FREE_READING - 2)
FULLER = {LAST_N2: 4500}
"""More is left than the cycles leave: something was read or logged wrong."""

SCENARIOS: dict[str, dict[Any, Any]] = {
    "September": {"Report_day": serial(2026, 9, 30)},
    "a month in progress": {
        "Report_day": serial(2026, 10, 17),
        **reading(FREE_READING, serial(2026, 10, 18) + 0.25, "N2 tank", Level=6420, Pressure=12.4),
        **reading(FREE_READING + 1, serial(2026, 10, 18), "Ar tank", Level=800, Pressure=12.4),
    },
    "a larger furnace from November on": SHEETS.typed(
        "Furnaces", 4, Furnace="VF1", Valid_from=serial(2026, 11, 1), Gas="argon", Free_volume=8.4
    ),
    "a dearer gas": SHEETS.typed(
        "Prices", 4, Gas="nitrogen", Valid_from=serial(2026, 10, 1), Price=0.32, Per="Nm3"
    ),
    "a load more, with a time of day": log_row(
        FREE, serial(2026, 10, 31) + 0.9, "VF2", "Harden 10 bar", 4
    ),
    "more used than left": FULLER,
}


@pytest.fixture(scope="module")
def book() -> Path:
    return start(BOOK, GIVEN, ROWS)


@pytest.fixture(scope="module")
def found(book: Path) -> Computed:
    return Computed(book)


def of(found: Computed, column: str, gas: int = NITROGEN) -> Any:
    return found[SHEETS.place(f"Gases.{column}", gas)]


def density(gas: str, vapour: int) -> float:
    """mol/L at 12.4 bar(g), 210 m above the sea."""
    bar = 12.4 + 0.98828
    return float(PropsSI("Dmolar", "P", bar * 1e5, "Q", vapour, gas)) / 1000


def nm3(gas: str, moles: float) -> float:
    return moles / float(PropsSI("Dmolar", "P", 101325, "T", 273.15, gas))


def stock(gas: str, litres: float) -> float:
    left = plant.CAPACITY[gas] - litres
    return nm3(gas, litres * density(gas, 0) + left * density(gas, 1))


def level(gas: str, day: dt.date) -> float:
    return next(litres for when, each, litres in plant.readings() if (when, each) == (day, gas))


def ideal_use(furnace: str, recipe: str) -> float:
    """Nm³ in one load by the ideal-gas law; the real gases differ by less than 0.5 % to 10 bar."""
    volume = next(f.free_volume for f in plant.FURNACES if f.name == furnace)
    total = 0.0
    for name, kind, low, high, temperature, rate, hours, repeats in plant.STEPS:
        if name != recipe:
            continue
        if kind == "flow":
            total += repeats * rate * hours
            continue
        cubic_metres = volume if kind == "backfill" else rate * hours
        pascals = 1e5 * (high - low if kind == "backfill" else low)
        moles = pascals * cubic_metres / (R * (temperature + 273.15))
        total += repeats * moles / NORMAL
    return total


def logged(gas: str, first: dt.date, end: dt.date) -> float:
    gases = {f.name: f.gas for f in plant.FURNACES}
    return sum(
        float(loads) * ideal_use(furnace, recipe)
        for day, furnace, recipe, loads, _ in LOG
        if first <= day < end and gases[furnace] == gas
    )


def by_ticket(gas: str, first: dt.date, end: dt.date) -> float:
    tickets = [t for t in plant.tickets() if t.gas == gas and first <= t.day < end]
    a_kg = 1 / float(PropsSI("M", gas))
    a_litre = float(PropsSI("Dmolar", "P", 101325, "Q", 0, gas)) / 1000
    return sum(nm3(gas, t.quantity * (a_kg if t.unit == "kg" else a_litre)) for t in tickets)


OCTOBER, NOVEMBER = dt.date(2026, 10, 1), dt.date(2026, 11, 1)


@pytest.mark.parametrize(("row", "gas"), [(NITROGEN, "nitrogen"), (ARGON, "argon")])
def test_the_balance_of_the_demo(found: Computed, row: int, gas: str) -> None:
    opening, closing = (stock(gas, level(gas, day)) for day in (OCTOBER, NOVEMBER))
    delivered, cycles = by_ticket(gas, OCTOBER, NOVEMBER), logged(gas, OCTOBER, NOVEMBER)
    assert of(found, "Opening", row) == pytest.approx(opening, rel=1e-5)
    assert of(found, "Closing", row) == pytest.approx(closing, rel=1e-5)
    assert of(found, "Delivered", row) == pytest.approx(delivered, rel=1e-5)
    assert of(found, "Cycles", row) == pytest.approx(cycles, rel=5e-3)
    lost = opening + delivered - closing - of(found, "Cycles", row)
    assert of(found, "Unaccounted", row) == pytest.approx(lost, abs=0.1)
    reading = 0.01 * plant.CAPACITY[gas] * nm3(gas, density(gas, 0) - density(gas, 1))
    parts = (reading, reading, 0.025 * delivered, 0.03 * cycles)
    band = 1.96 * sqrt(sum(part**2 for part in parts) / 3)
    assert of(found, "Band", row) == pytest.approx(band, rel=5e-3)


def test_what_is_hidden_in_the_demo_is_found(found: Computed) -> None:
    short = plant.LONG_BY * by_ticket("nitrogen", OCTOBER, NOVEMBER)
    hidden = plant.LEAK["nitrogen"][-1] + short
    assert abs(of(found, "Unaccounted") - hidden) < of(found, "Band")
    assert of(found, "Verdict") == "act"
    assert of(found, "Verdict", ARGON) == "cannot tell"
    assert found["Answer_level"] == "act"
    assert "Nitrogen: 4" in found["Answer"]
    assert of(found, "Cost") == pytest.approx(0.16 * of(found, "Unaccounted"), rel=1e-9)
    moles = of(found, "Unaccounted") * float(
        PropsSI("Dmolar", "P", 101325, "T", 273.15, "nitrogen")
    )
    leak = moles * R * 293.15 / (31 * 86_400) * 10
    assert of(found, "Leak") == pytest.approx(leak, rel=1e-3)


def test_next_month(found: Computed) -> None:
    planned = sum(
        loads * ideal_use(furnace, recipe)
        for furnace, recipe, loads in plant.PLAN
        if furnace != "VF3"
    )
    assert of(found, "Planned") == pytest.approx(planned, rel=5e-3)
    months = zip(
        *(SHEETS.column(found, f"Balance.{name}") for name in ("Gas", "Left", "Unaccounted")),
        strict=True,
    )
    known = [each for each in months if each[0] == "nitrogen" and isinstance(each[1], float)]
    share = sum(each[2] for each in known) / sum(each[1] for each in known)
    assert of(found, "Need") == pytest.approx(of(found, "Planned") / (1 - share), rel=1e-9)
    short_of = of(found, "Need") - of(found, "Closing")
    a_litre = nm3("nitrogen", float(PropsSI("Dmolar", "P", 101325, "Q", 0, "nitrogen")) / 1000)
    assert of(found, "To order") == pytest.approx(short_of / a_litre, rel=1e-3)


def test_another_month_uses_that_months_readings(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["September"])
    september = logged("nitrogen", SINCE, OCTOBER)
    assert of(found, "Cycles") == pytest.approx(september, rel=5e-3)
    left = stock("nitrogen", 8600) - stock("nitrogen", 5810) + by_ticket("nitrogen", SINCE, OCTOBER)
    assert of(found, "Left") == pytest.approx(left, rel=1e-4)


def test_a_month_in_progress_runs_to_its_last_reading(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["a month in progress"])
    end = dt.date(2026, 10, 18)
    assert of(found, "Cycles") == pytest.approx(logged("nitrogen", OCTOBER, end), rel=5e-3)
    left = stock("nitrogen", 5810) - stock("nitrogen", 6420) + by_ticket("nitrogen", OCTOBER, end)
    assert of(found, "Left") == pytest.approx(left, rel=1e-4)
    assert of(found, "Days") == pytest.approx(17.25)
    assert found["Later_rows"] > 0


def test_a_furnace_changed_later_leaves_the_month_as_it_was(
    book: Path, found: Computed, tmp_path: Path
) -> None:
    changes = SCENARIOS["a larger furnace from November on"]
    after = computed(book, tmp_path / "b.xlsx", changes)
    for column in ("Cycles", "Unaccounted", "Cost"):
        assert of(after, column) == of(found, column)
        assert of(after, column, ARGON) == of(found, column, ARGON)
    assert of(after, "Planned", ARGON) > of(found, "Planned", ARGON)
    assert of(after, "Planned") < of(found, "Planned")


def test_a_row_that_is_overwritten_is_noticed(book: Path, found: Computed, tmp_path: Path) -> None:
    lost = of(found, "Unaccounted")
    told = SHEETS.typed(
        "Reported", 1, Month=serial(2026, 10, 1), Gas="nitrogen", Unaccounted=round(lost)
    )
    kept = computed(book, tmp_path / "kept.xlsx", told)
    assert kept["Checks_wrong"] == 0
    overwritten = SHEETS.typed("Furnaces", 1, Gas="argon")
    found = computed(book, tmp_path / "over.xlsx", told | overwritten)
    assert SHEETS.column(found, "Reported.Changed")[0] == 1
    assert found["Checks_wrong"] == 1


def test_a_price_is_that_of_the_month(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["a dearer gas"])
    assert of(found, "Cost") == pytest.approx(0.32 * of(found, "Unaccounted"), rel=1e-9)


def test_a_time_of_day_counts_by_day_too(book: Path, found: Computed, tmp_path: Path) -> None:
    after = computed(book, tmp_path / "b.xlsx", SCENARIOS["a load more, with a time of day"])
    more = 4 * ideal_use("VF2", "Harden 10 bar")
    assert of(after, "Cycles") - of(found, "Cycles") == pytest.approx(more, rel=5e-3)
    days = (SHEETS.column(each, "Days.All")[30] for each in (after, found))
    assert next(days) - next(days) == pytest.approx(more, rel=5e-3)
    assert after["Checks_wrong"] == 0


def test_more_used_than_left_is_no_loss(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", FULLER)
    assert of(found, "Unaccounted") < 0
    assert of(found, "Verdict") == "more used"
    assert found["Answer_level"] == "watch"
    assert "used more than left" in found["Answer"]


def test_without_a_reading_the_rest_is_told(book: Path, tmp_path: Path) -> None:
    changes = {LAST_N2: None, SHEETS.place("Readings.Pressure", FREE_READING - 2): None}
    found = computed(book, tmp_path / "b.xlsx", changes)
    assert found["Readings_out"] == 1
    assert "Nitrogen: no balance" in found["Answer"]
    assert "Argon" in found["Answer"]
    assert isinstance(of(found, "Cycles", ARGON), float)


def test_a_generator_with_a_meter(book: Path, tmp_path: Path) -> None:
    meter = SHEETS.typed("Tanks", 1, Read_as="meter", Capacity=None)
    rows = [
        row for row in range(1, FREE_READING) if GIVEN.tables["Readings"][row - 1][1] == "N2 tank"
    ]
    for count, row in enumerate(rows):
        meter |= SHEETS.typed(
            "Readings", row, Level=None, Pressure=None, Meter=50_000 + 4100 * count
        )
    for row, delivery in enumerate(GIVEN.tables["Deliveries"], 1):
        if delivery[1] == "N2 tank":
            blank = dict.fromkeys(("Date", "Tank", "Ticket", "Quantity", "Unit"))
            meter |= SHEETS.typed("Deliveries", row, **blank)
    found = computed(book, tmp_path / "b.xlsx", meter)
    assert of(found, "Left") == pytest.approx(4100)
    assert of(found, "Unaccounted") == pytest.approx(4100 - of(found, "Cycles"))
    parts = (0.025 * 4100, 0.03 * of(found, "Cycles"))
    band = 1.96 * sqrt(sum(part**2 for part in parts) / 3)
    assert of(found, "Band") == pytest.approx(band, rel=1e-6)


def test_two_tanks_of_one_gas(book: Path, found: Computed, tmp_path: Path) -> None:
    more = SHEETS.typed(
        "Tanks", 3, Tank="N2 second", Gas="nitrogen", Read_as="level", Capacity=3000
    )
    for row, (day, litres) in enumerate(((serial(2026, 10, 1), 2000), (serial(2026, 11, 1), 1500))):
        more |= reading(FREE_READING + row, day, "N2 second", Level=litres, Pressure=12.4)
    after = computed(book, tmp_path / "b.xlsx", more)
    extra = nm3("nitrogen", 500 * (density("nitrogen", 0) - density("nitrogen", 1)))
    assert of(after, "Left") - of(found, "Left") == pytest.approx(extra, rel=1e-4)
    assert after["Gas_count"] == 2
    assert after["Checks_wrong"] == 0


@pytest.mark.parametrize(
    ("changes", "table"),
    [
        (log_row(3, serial(2026, 10, 2), "VF1", "Anneal", "two"), "Log"),
        (log_row(3, serial(2026, 10, 2), "VF9", "Anneal", 2), "Log"),
        (SHEETS.typed("Deliveries", 9, Quantity="a lot"), "Deliveries"),
        (SHEETS.typed("Deliveries", 9, Quantity=11_001, Unit="L(liq)"), "Deliveries"),
        (
            reading(FREE_READING, serial(2026, 10, 18), "N2 tank", Level=7000, Pressure=12.4)
            | reading(FREE_READING + 1, serial(2026, 10, 18), "N2 tank", Level=70, Pressure=12.4),
            "Readings",
        ),
        (SHEETS.typed("Steps", 1, To=None), "Steps"),
        (SHEETS.typed("Steps", 1, To="5 bar"), "Steps"),
        (SHEETS.typed("Plan", 1, Loads=-3), "Plan"),
        (SHEETS.typed("Furnaces", 3, Gas="helium"), "Furnaces"),
    ],
)
def test_a_mistake_is_told_and_costs_only_its_row(
    book: Path, tmp_path: Path, changes: dict[str, Any], table: str
) -> None:
    found = computed(book, tmp_path / "b.xlsx", changes)
    assert found[f"{table}_out"] >= 1
    assert found["Checks_wrong"] >= 1
    assert isinstance(of(found, "Cycles"), float)
    assert "#" not in found["Answer"]
    assert found["Answer"].startswith(f"Without {found['Rows_out']:.0f} row(s)")
    assert found["Answer_level"] == "cannot tell"
    left_out = of(found, "Out")
    assert (of(found, "Verdict") == "rows left out") == (left_out > 0)
    assert (of(found, "Unaccounted") == "") == (left_out > 0), "no loss that is a row left out"
    due = {found.values["Words"].get((row, 5)) for row in range(1, 200)
           if isinstance(found.values["Words"].get((row, 4)), float)}  # fmt: skip
    assert "Read every tank on the first morning" not in due, "every tank was read"


def test_a_cycle_that_is_logged_twice_is_told(book: Path, tmp_path: Path) -> None:
    """Two rows count as they stand: a shop may log every load in a row of its own."""
    day = serial(2026, 10, 31) + 0.9
    twice = log_row(FREE, day, "VF2", "Harden 10 bar", 1)
    twice |= log_row(FREE + 1, day, "VF2", "Harden 10 bar", 1)
    found = computed(book, tmp_path / "b.xlsx", twice)
    assert found["Twice_rows"] == 2
    assert found["Checks_wrong"] == 1
    assert found["Log_out"] == 0


@pytest.fixture(scope="module")
def crowded(tmp_path_factory: pytest.TempPathFactory) -> Computed:
    """A plant with a furnace and a recipe more than fit in, every day a load, over New Year."""
    names = range(1, 42)
    days = [dt.date(2026, 12, 1) + dt.timedelta(days=n) for n in range(62)]
    tables = {
        **GIVEN.tables,
        "Furnaces": [(f"F{n}", None, "nitrogen", 4.0) for n in names],
        "Steps": [
            (f"R{n}", None, "backfill", 0.01, 5.0, 20, None, None, None, 1, None) for n in names
        ],
        "Log": [(day, f"F{n % 41 + 1}", f"R{n % 41 + 1}", 1, None) for n, day in enumerate(days)],
        "Plan": [],
    }
    inputs = {**GIVEN.inputs, "Report_day": dt.date(2027, 1, 31)}
    path = tmp_path_factory.mktemp("crowded") / "b.xlsx"
    given = replace(GIVEN, inputs=inputs, tables=tables)
    build(short(BOOKS[NAME], given), path, given=given)
    return Computed(path)


def test_what_does_not_fit_in_is_told(crowded: Computed) -> None:
    assert crowded["Furnace_count"] == 41
    assert crowded["Log_out"] == 1
    assert crowded["Answer"].startswith("Without 1 row(s): see the Check on Log first.")
    checks = [value for value in crowded.values["Checks"].values() if isinstance(value, str)]
    assert any(each.startswith("there is room for 40 furnaces, 40 recipes") for each in checks)


def test_a_new_year_begins_at_nothing(crowded: Computed) -> None:
    """31 loads in January, one of them of the furnace that does not fit in."""
    of_one = crowded[SHEETS.place("ByFurnace.Month", 1)]
    for name in ("Month", "Year"):
        amounts = [each for each in SHEETS.column(crowded, f"ByFurnace.{name}") if each]
        assert sum(amounts) == pytest.approx(30 * of_one)
    assert of(crowded, "Year to date") == pytest.approx(30 * of_one)


def test_every_input_blank(book: Path, tmp_path: Path) -> None:
    names = [each.name for group in BOOK.groups for each in group.inputs if hasattr(each, "prompt")]
    found = computed(book, tmp_path / "b.xlsx", dict.fromkeys(names))
    assert "missing" in found["Answer"]
    assert found["Answer_level"] == "cannot tell"
