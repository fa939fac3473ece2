"""The monthly book against sums worked out here, by scenario."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.errors import CellError
from gasfuncs.workbooks import demo
from gasfuncs.workbooks.building import build
from gasfuncs.workbooks.monthly_gas_usage import NAME
from tests.workbooks.editing import Computed, changed, computed, typed_inputs

R = 8.314462618
NORMAL = 101_325 / (R * 273.15)
NM3_OF_LITRE = {"nitrogen": 0.5093, "argon": 0.6452}
"""Nm³ of gas in a litre of liquid saturated at 13 bar(a), by CoolProp's densities: this file checks
the book's sums, the properties have checks of their own."""
FIRST_LOG_ROW, LAST_LOG_ROW = 6, 5 + len(demo.log())


def _serial(day: dt.date) -> int:
    return (day - dt.date(1899, 12, 30)).days


NEXT = LAST_LOG_ROW + 1
SCENARIOS: dict[str, dict[str, Any]] = {
    "July": {"Report_day": _serial(dt.date(2026, 7, 14))},
    "a day more in the log": {
        f"Log!B{NEXT}": _serial(dt.date(2026, 10, 30)),
        f"Log!C{NEXT}": "VF2",
        f"Log!D{NEXT}": "Harden 10 bar",
        f"Log!E{NEXT}": 4,
    },
    "a larger furnace, a dearer gas": {"Furnaces!C7": 8.4, "Tank_1_price": 0.32},
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("monthly") / f"{NAME}.xlsx"
    build(NAME, path)
    return path


def ideal_use(furnace: str, recipe: str) -> float:
    """Nm³ in one load by the ideal-gas law; the real gases differ by less than 0.5 % to 10 bar."""
    volume = next(f.free_volume for f in demo.FURNACES if f.name == furnace)
    total = 0.0
    for name, kind, low, high, temperature, rate, hours, repeats in demo.STEPS:
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
    gases = {f.name: f.gas for f in demo.FURNACES}
    return sum(
        loads * ideal_use(furnace, recipe)
        for day, furnace, recipe, loads in demo.log()
        if first <= day < end and gases[furnace] == gas
    )


def test_the_demo_finds_the_loss(book: Path) -> None:
    found = Computed(book)
    for tank, gas in (("1", "nitrogen"), ("2", "argon")):
        used = logged(gas, demo.MONTH, demo.NEXT_MONTH)
        delivered = NM3_OF_LITRE[gas] * sum(
            litres for day, name, litres in demo.deliveries()
            if name == gas and demo.MONTH <= day < demo.NEXT_MONTH
        )  # fmt: skip
        stock = NM3_OF_LITRE[gas] * (demo.OPENING[gas] - demo.closing(gas))
        assert found[f"Used_{tank}"] == pytest.approx(used, rel=5e-3)
        assert found[f"Delivered_{tank}"] == pytest.approx(delivered, rel=3e-3)
        assert found[f"Left_{tank}"] == pytest.approx(stock + delivered, rel=3e-3)
        # a gauge reads to 10 L at both ends
        assert found[f"Unexplained_{tank}"] == pytest.approx(demo.LOST[gas], abs=5)
    leak = found["Unexplained_1"] * NORMAL * R * 293.15 / (31 * 86_400) * 10
    assert found["Leak_1"] == pytest.approx(leak, rel=1e-3)
    assert found["Unexplained_cost_1"] == pytest.approx(0.16 * found["Unexplained_1"], rel=1e-9)


def test_what_is_lost_is_told_in_loads_and_in_liquid(book: Path) -> None:
    found = Computed(book)
    loads = sum(
        loads for day, furnace, _, loads in demo.log()
        if demo.MONTH <= day < demo.NEXT_MONTH and furnace != "VF3"
    )  # fmt: skip
    assert found["Loads_1"] == loads
    mean = logged("nitrogen", demo.MONTH, demo.NEXT_MONTH) / loads
    assert found["Loads_missing_1"] == pytest.approx(found["Unexplained_1"] / mean, rel=5e-3)
    liquid = found["Unexplained_1"] / NM3_OF_LITRE["nitrogen"] / 31
    assert found["Lost_liquid_1"] == pytest.approx(liquid, rel=2e-3)


def test_more_used_than_left_the_tank_is_no_loss(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", {"Tank_1_closing": 9000})
    assert found["Unexplained_1"] < 0
    assert "more nitrogen than left its tank" in found["Start!B4"]
    assert "No cycle explains 3 Nm3 of argon" in found["Start!B4"]


def test_a_month_without_cycles_says_that_it_cannot_foretell(book: Path, tmp_path: Path) -> None:
    found = computed(
        book, tmp_path / "b.xlsx", {"Report_day": _serial(dt.date(2026, 12, 1))}
    )  # fmt: skip
    assert found["Used_1"] == 0
    assert found["Unexplained_share_1"] == pytest.approx(1)
    assert found["Start!B4"].startswith("December 2026: the cycles used 0 Nm3")
    assert "cannot be told" in found["Start!B4"]


def test_a_plant_with_one_tank(book: Path, tmp_path: Path) -> None:
    none = {"Tank_2_opening": 0, "Tank_2_closing": 0, "Furnaces!D9": "nitrogen"}
    found = computed(book, tmp_path / "b.xlsx", none)
    assert found["Rows_wrong"] == 0
    assert found["Used_2"] == 0
    assert "No cycle explains" in found["Start!B4"]


def test_another_month_sums_that_month_and_the_year_so_far(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["July"])
    july = logged("nitrogen", dt.date(2026, 7, 1), dt.date(2026, 8, 1))
    year = logged("nitrogen", dt.date(2026, 1, 1), dt.date(2026, 8, 1))
    assert found["Used_1"] == pytest.approx(july, rel=5e-3)
    assert found["Month!C38"] + found["Month!D38"] == pytest.approx(year, rel=5e-3)


def test_rows_added_to_the_log_count(book: Path, tmp_path: Path) -> None:
    before = Computed(book)
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["a day more in the log"])
    more = 4 * ideal_use("VF2", "Harden 10 bar")
    assert found["Used_1"] - before["Used_1"] == pytest.approx(more, rel=5e-3)
    assert before["Unexplained_1"] - found["Unexplained_1"] == pytest.approx(more, rel=5e-3)


def test_a_larger_furnace_and_a_dearer_gas(book: Path, tmp_path: Path) -> None:
    before = Computed(book)
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["a larger furnace, a dearer gas"])
    extra = sum(
        loads * (4.2 * 1e5 * (high - low) / (R * 293.15) / NORMAL)
        for day, furnace, recipe, loads in demo.log()
        if furnace == "VF1" and day >= demo.MONTH
        for name, kind, low, high, *_ in demo.STEPS
        if name == recipe and kind == "backfill"
    )
    assert found["Used_1"] - before["Used_1"] == pytest.approx(extra, rel=5e-3)
    assert found["Unexplained_cost_1"] == pytest.approx(0.32 * found["Unexplained_1"], rel=1e-9)


def test_us_units_give_the_same_physics(book: Path, tmp_path: Path) -> None:
    build(NAME, tmp_path / "us.xlsx", "US")
    metric, us = Computed(book), Computed(tmp_path / "us.xlsx")
    scf = 35.31467 * 294.2611 / 273.15 * 101_325 / (14.696 * 6894.757)  # in a Nm³ of ideal gas
    assert us["Used_1"] == pytest.approx(scf * metric["Used_1"], rel=2e-3)
    assert us["Unexplained_share_1"] == pytest.approx(metric["Unexplained_share_1"], rel=0.02)
    assert us["Unexplained_cost_1"] == pytest.approx(metric["Unexplained_cost_1"], rel=0.02)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({f"Log!E{FIRST_LOG_ROW}": "two"}, "cannot be calculated"),
        ({f"Log!C{FIRST_LOG_ROW}": "VF9"}, "cannot be calculated"),
        ({f"Log!B{FIRST_LOG_ROW}": None}, "cannot be calculated"),
        ({"Deliveries!D6": "a lot"}, "cannot be calculated"),
        ({"Plan!D6": "many"}, "cannot be calculated"),
        ({"Tank_1_pressure": 900}, "Some inputs are missing or out of range"),
        ({"Tank_1_opening": "full"}, "Some inputs are missing or out of range"),
    ],
)
def test_a_mistake_is_told_and_no_total_leaves_a_row_out(
    book: Path, tmp_path: Path, changes: dict[str, Any], says: str
) -> None:
    found = computed(book, tmp_path / "b.xlsx", changes)
    assert says in found["Start!B4"]
    if says == "cannot be calculated":
        assert found["Rows_wrong"] == 1
        assert isinstance(found["Used_1"], CellError)
        assert isinstance(found["Unexplained_1"], CellError)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"Tank_2_gas": "nitrogen"}, "Both tanks hold nitrogen"),
        ({"Tank_1_pressure": 25, "Tank_1_gas": "hydrogen"}, "there is no liquid hydrogen"),
        ({"Furnaces!C7": "big"}, "begin with the column Check on Furnaces"),
        ({"Furnaces!B8": "VF1"}, "begin with the column Check on Furnaces"),
        ({"Furnaces!D8": "helium"}, "begin with the column Check on Furnaces"),
        ({"Recipes!B7": None}, "begin with the column Check on Recipes"),
        ({"Recipes!E7": "six"}, "begin with Gas per load"),
        ({"Log!E6": -3}, "begin with the column Check on Log"),
        ({"Plan!D6": -3}, "begin with the column Check on Plan"),
    ],
)
def test_a_mistake_is_told_where_it_is(
    book: Path, tmp_path: Path, changes: dict[str, Any], says: str
) -> None:
    found = computed(book, tmp_path / "b.xlsx", changes)
    assert says in found["Start!B4"]
    if "begin" in says:
        assert isinstance(found["Used_1"], CellError)
        assert isinstance(found["Month!C6"], CellError)


def test_every_input_blank(book: Path, tmp_path: Path) -> None:
    changed(book, tmp_path / "b.xlsx", dict.fromkeys(typed_inputs(book)))
    assert "missing" in Computed(tmp_path / "b.xlsx")["Start!B4"]
