"""Commissioning of a reservoir: the book's answers against the balances worked out here.

Residuals by p_base/p_fill and r = p_low/p_high (Crowl and Louvar, Chemical Process Safety, ch. 7),
leaks by q = V Δp/Δt (EN 1779), the pumping of the last decades by Knudsen's conductance
C = π d⁴ p̄/(128 μ L) + (√(2π)/6) (d³/L) √(RT/M) (1 + s)/(1 + 1.24 s), s = √(M/RT) d p̄/μ.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.workbooks.building import build
from tests import capillary
from tests.workbooks.editing import Computed, computed

NAME = "reservoir_commissioning"
VOLUME = 5 + math.pi / 4 * 0.0409**2 * 30
WORK, HIGH, LOW, SUPPLY, TARGET = 13.0, 1.2, 0.005, 3, 15
PUMPING = 250 / 3600
SCENARIOS: dict[str, dict[str, Any]] = {
    "a thinner, longer line and a smaller pump": {
        "Bore": 26.6,
        "Length": 60,
        "Pumping": 100,
        "Vacuum": 0.2,
    },
    "a larger reservoir, a worse vacuum": {
        "Reservoir_volume": 12,
        "Vacuum": 0.5,
        "Evacuation!C21": 0.5,
        "Hold": 4,
        "Supply": 1,
    },
    "cycles from atmosphere": {
        "Low": 50,
        "High": 2,
        "Price": 1.2,
        "Hour_cost": 20,
        "Fill_flow": 40,
    },
}


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "demo.xlsx"
    build(NAME, path)
    return path


def changed(demo: Path, tmp_path: Path, changes: dict[str, Any]) -> Computed:
    return computed(demo, tmp_path / "changed.xlsx", changes)


def conductance(mean: float, bore: float = 0.0409, length: float = 30) -> float:
    """Knudsen's, for air at 20 °C, in m³/s; viscosity 18.2 µPa s (value from memory)."""
    viscosity, speed = 18.2e-6, math.sqrt(8.314 * 293.15 / 0.028965)
    s = bore * mean / (viscosity * speed)
    viscous = math.pi * bore**4 * mean / (128 * viscosity * length)
    return viscous + math.sqrt(2 * math.pi) / 6 * bore**3 / length * speed * (1 + s) / (
        1 + 1.24 * s
    )


def throughput(pressure: float, pumping: float, bore: float, length: float) -> float:
    low, high = 0.0, pressure
    for _ in range(50):
        pump = (low + high) / 2
        through = conductance((pressure + pump) / 2, bore, length) * (pressure - pump)
        if pumping * pump < through:
            low = pump
        else:
            high = pump
    return pumping * pump


def minutes(
    start: float, end: float, pumping: float = PUMPING, bore: float = 0.0409, length: float = 30,
    load: float = 0.001,
) -> float:  # fmt: skip
    """Time from one pressure in Pa to another, by steps equal in the logarithm."""
    volume = 5 + math.pi / 4 * bore**2 * length
    steps = 400
    ratio = (end / start) ** (1 / steps)
    total, pressure = 0.0, start
    for _ in range(steps):
        middle = pressure * math.sqrt(ratio)
        flow = throughput(middle, pumping, bore, length) - load
        total += volume * pressure * (1 - ratio) / flow
        pressure *= ratio
    return total / 60


def test_pumping_is_limited_by_the_line(demo: Path) -> None:
    book = Computed(demo)
    assert book["Volume_all"] == pytest.approx(VOLUME, rel=1e-9)
    base = 0.001 / PUMPING  # Pa
    bare = VOLUME / PUMPING * math.log((101_300 - base) / (5 - base)) / 3600
    assert book["Pump_bare"] == pytest.approx(bare, rel=1e-6)
    start = book["Evacuation!G16"] * 100
    assert 300 < start < 500
    last = book["Evacuation!F23"] - book["Evacuation!F16"]
    assert last == pytest.approx(minutes(start, 5), rel=0.01)
    assert book["Evacuation!F23"] == pytest.approx(60 * book["Pump_time"], rel=1e-6)
    assert book["Pump_time"] > 10 * book["Pump_bare"]


def test_a_thinner_longer_line_and_a_smaller_pump(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a thinner, longer line and a smaller pump"])
    start = book["Evacuation!G16"] * 100
    last = book["Evacuation!F23"] - book["Evacuation!F16"]
    assert last == pytest.approx(minutes(start, 20, 100 / 3600, 0.0266, 60), rel=0.01)


def test_air_left_by_evacuating(demo: Path) -> None:
    book = Computed(demo)
    leak = VOLUME * (0.0624 - 0.045) / (8 * 3600) * 1000  # mbar L/s
    assert book["Leak_found"] == pytest.approx(leak, rel=1e-6)
    rise = leak * 9 * 3600 / (VOLUME * 1000) / 1000  # bar
    left = (1e6 * (4.5e-5 + rise) + SUPPLY * (WORK - 4.5e-5 - rise)) / WORK
    assert book["Left_reached"] == pytest.approx(left, rel=1e-6)
    assert "Free of air: the vacuum reached leaves 8.0 ppm of air" in book["Start!B4"]


def test_a_larger_reservoir_and_a_worse_vacuum(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a larger reservoir, a worse vacuum"])
    volume = VOLUME + 7
    leak = volume * (0.0624 - 0.045) / (8 * 3600) * 1000  # mbar L/s
    assert book["Leak_found"] == pytest.approx(leak, rel=1e-6)
    air = 5e-4 + leak * 4 * 3600 / (volume * 1000) / 1000  # bar
    left = (1e6 * air + 1 * (WORK - air)) / WORK
    assert book["Left_reached"] == pytest.approx(left, rel=1e-6)
    assert f"NOT free of air: the vacuum reached leaves {left:.1f} ppm" in book["Start!B4"]
    gas = volume * WORK / 1.01325 * 273.15 / 293.15
    assert book["Gas_fill"] == pytest.approx(gas, rel=0.012)


def test_cycles_from_atmosphere(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["cycles from atmosphere"])

    def left(count: int) -> float:
        cycled = SUPPLY + (1e6 - SUPPLY) * (0.05 / 2) ** count
        return (cycled * 2 + SUPPLY * (WORK - 2)) / WORK

    needed = next(n for n in range(1, 20) if left(n) <= TARGET)
    assert book["Needed"] == needed == 3
    assert book["Left_needed"] == pytest.approx(left(needed), rel=1e-6)
    gas = needed * VOLUME * (2 - 0.05) / 1.01325 * 273.15 / 293.15
    assert book["Gas_needed"] == pytest.approx(gas, rel=0.003)
    assert book["Cost_needed"] == pytest.approx(1.2 * gas + 20 * book["Hours_needed"], rel=0.003)
    pumping = book["First_hours"] + 2 * book["Next_hours"]
    assert book["Hours_needed"] == pytest.approx(pumping + gas / 40, rel=0.003)


def test_fill_and_pump_cycles(demo: Path) -> None:
    book = Computed(demo)

    def left(count: int) -> float:
        cycled = SUPPLY + (1e6 - SUPPLY) * (LOW / HIGH) ** count
        return (cycled * HIGH + SUPPLY * (WORK - HIGH)) / WORK

    for count in range(1, 6):
        assert book[f"Methods!D{14 + count}"] == pytest.approx(left(count), rel=1e-6)
    needed = next(n for n in range(1, 20) if left(n) <= TARGET)
    assert book["Needed"] == needed == 2
    assert book["Left_needed"] == pytest.approx(left(needed), rel=1e-6)
    gas = needed * VOLUME * (HIGH - LOW) / 1.01325 * 273.15 / 293.15
    assert book["Gas_needed"] == pytest.approx(gas, rel=0.003)
    cost = 0.95 * gas + 35 * book["Hours_needed"]
    assert book["Cost_needed"] == pytest.approx(cost, rel=0.003)
    hours = book["First_hours"] + book["Next_hours"] + gas / 20
    assert book["Hours_needed"] == pytest.approx(hours, rel=0.003)


def test_leaks(demo: Path) -> None:
    book = Computed(demo)
    flow = 10 / 3600 * 101325 / (8.314462618 * 273.15)  # mol/s
    limit = 2e-6 * flow * 8.314462618 * 293.15 * 10  # mbar L/s
    assert book["Leak_limit"] == pytest.approx(limit, rel=0.001)
    assert book["Leaks!I10"] == pytest.approx(capillary.leak_as(1e-6, "helium", "air"), rel=0.01)
    assert book["Leaks!I11"] == pytest.approx(capillary.leak_as(8e-5, "helium", "air"), rel=0.01)
    assert book["Helium_all"] == pytest.approx(sum(book[f"Leaks!I{r}"] for r in range(7, 13)))
    # The demo's readings were made from a leak of 0.0020 mbar L/s and outgassing.
    assert book["Leak_fit"] == pytest.approx(0.0020, rel=0.03)


def test_slow_fill(demo: Path) -> None:
    book = Computed(demo)
    gas = VOLUME * WORK / 1.01325 * 273.15 / 293.15
    assert book["Gas_fill"] == pytest.approx(gas, rel=0.012)  # argon's Z at 13 bar is 0.991
    assert book["Fill_hours"] == pytest.approx(book["Gas_fill"] / 20, rel=1e-6)
    assert book["Fill!D8"] == pytest.approx(1.013)
    assert book["Fill!D12"] == pytest.approx(13)


def test_the_dew_point_decides(demo: Path, tmp_path: Path) -> None:
    told = Computed(demo)["Start!B4"]
    assert told.startswith("NOT released for service: 1 of 12 points not met, first: Dew point")
    book = changed(demo, tmp_path, {"Dew_read": -63})
    assert book["Start!B4"].startswith("May be released for service once signed: every point")
    assert book["Release!D21"] == "may be released for service, signed below"


@pytest.mark.parametrize(
    ("change", "point"),
    [
        ({"Isolated": "no"}, "Supply valve"),
        ({"Relief_set": 17.5}, "Relief device: set pressure"),
        ({"Relief_due": 46000}, "Relief device: in date"),
        ({"Leaks!H11": 0.05}, "Leaks by helium"),
        ({"Relief_confirmed": None, "Vacuum": 0.04}, "Relief device: piped"),
        ({"Filled_to": 11}, "Filled slowly"),
        ({"Target": 7}, "Air left"),
        ({"Oxygen_read": "low"}, "Oxygen"),
    ],
)
def test_a_point_that_is_not_met(
    demo: Path, tmp_path: Path, change: dict[str, Any], point: str
) -> None:
    book = changed(demo, tmp_path, {"Dew_read": -63} | change)
    assert book["First_open"].startswith(point)
    assert book["Start!B4"].startswith("NOT released")
    assert book["Release!D21"] == "NOT released for service"


@pytest.mark.parametrize(
    "wrong",
    [{"Evacuation!C9": None}, {"Evacuation!B9": "soon"}, {"Leaks!C8": "low"}, {"Leaks!G9": None}],
)
def test_a_row_that_cannot_be_calculated_is_told(
    demo: Path, tmp_path: Path, wrong: dict[str, Any]
) -> None:
    book = changed(demo, tmp_path, wrong)
    assert book["Rows_wrong"] == 1
    assert book["Start!B4"].startswith("1 row(s) cannot be calculated")
    assert book["Release!D21"] == "NOT released for service"


@pytest.mark.parametrize("wrong", [{"Bore": "wide"}, {"Vacuum": 5000}, {"Gas": None}])
def test_wrong_inputs_are_told(demo: Path, tmp_path: Path, wrong: dict[str, Any]) -> None:
    book = changed(demo, tmp_path, wrong)
    assert book["Start!B4"].startswith("Some inputs are missing or out of range")
    assert book["Release!D21"] == "NOT released for service"


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"Supply": 20}, "not above that of the gas itself"),
        ({"Gas_load": 50}, "The vacuum wanted is never reached"),
        ({"High": 0.01, "Low": 20}, "fill-and-pump cycles cannot be calculated"),
    ],
)
def test_inputs_that_do_not_go_together(
    demo: Path, tmp_path: Path, change: dict[str, Any], told: str
) -> None:
    assert told in changed(demo, tmp_path, change)["Start!B4"]


def test_a_last_reading_that_is_no_vacuum_is_told(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Evacuation!C21": 50_000})  # mbar; full at 13 bar(a)
    assert book["Start!B4"].startswith("The air left cannot be calculated")
    assert book["Release!D21"] == "NOT released for service"


def test_too_much_air_is_not_free_of_air(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Target": 7})
    assert "NOT free of air: the vacuum reached leaves 8.0 ppm of air" in book["Start!B4"]


def test_an_empty_book_says_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "empty.xlsx"
    build(NAME, path, filled=False)
    book = Computed(path)
    assert book["Start!B4"].startswith("Some inputs are missing")
    assert book["Points_ok"] == 0
    assert book["Release!D21"] == "NOT released for service"


def test_us_units_give_the_same_answer(demo: Path, tmp_path: Path) -> None:
    path = tmp_path / "us.xlsx"
    build(NAME, path, "US")
    us, metric = Computed(path), Computed(demo)
    assert us["Pump_time"] == pytest.approx(metric["Pump_time"], rel=0.003)
    assert us["Left_reached"] == pytest.approx(metric["Left_reached"], rel=0.005)
    assert us["Cost_needed"] == pytest.approx(metric["Cost_needed"], rel=0.003)
    assert us["Gas_fill"] == pytest.approx(metric["Gas_fill"] * 38.04, rel=0.002)
    assert us["Points_ok"] == metric["Points_ok"] == 11
