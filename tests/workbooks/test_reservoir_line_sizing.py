"""Reservoir and line: the book's answers against perfect-gas flow with friction worked out here.

Adiabatic flow with friction (Fanno), from Shapiro, ch. 6: f L/d + K = F(M1) - F(M2) with
F(M) = (1 - M²)/(k M²) + (k+1)/(2k) ln((k+1) M² / (2 + (k-1) M²)); friction factor by Haaland,
which is within 2 % of Colebrook. Nitrogen departs from the ideal gas by 0.3 % at 13 bar and 20 °C.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.workbooks.building import build
from tests.workbooks.editing import Computed, computed

NAME = "reservoir_line_sizing"
R, T, K = 296.8, 293.15, 1.4
VISCOSITY = 17.6e-6
ROUGHNESS = 0.045e-3
FITTINGS = 0.5 + 2 * 0.06 + 8 * 0.27 + 1.14 + 1.9
HELD = {"Process": "isothermal", "Vessel_ha": 1_000_000, "Wall_temperature": 20, "Valve": 0}
"""Walls that pass all heat at once, and no quench valve."""

INSULATED = {"Process": "adiabatic", "Valve": 0}

SCENARIOS: dict[str, dict[str, Any]] = {
    "fills every hour": {"Interval": 1},
    "a wider line and a larger furnace": {
        "Relief_set": 18,
        "Bore": 77.9,
        "Length": 60,
        "Valve": 0,
        "Vessel_volume": 7.5,
        "Reservoir_volume": 40,
        "Process": "isothermal",
        "Vessel_ha": 1_000_000,
        "Wall_temperature": 20,
        "Pressure_to": 10,
        "Supply_flow": 0,
        "Time_wanted": 30,
    },
    "more inflow, no heat": {"Relief_inflow": 5000, "Process": "adiabatic"},
    "a reservoir too small": {"Reservoir_pressure": 7, "Supply_flow": 0},
}


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "demo.xlsx"
    build(NAME, path)
    return path


def changed(demo: Path, tmp_path: Path, changes: dict[str, Any]) -> Computed:
    return computed(demo, tmp_path / "changed.xlsx", changes)


def path_to_sonic(mach: float) -> float:
    square = mach * mach
    grown = (K + 1) * square / (2 + (K - 1) * square)
    return (1 - square) / (K * square) + (K + 1) / (2 * K) * math.log(grown)


def bisected(rising: Any, low: float, high: float) -> float:
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if rising(middle) > 0 else (middle, high)
    return (low + high) / 2


def pressure_factor(mach: float) -> float:
    """Static pressure times this is constant along the line."""
    return mach * math.sqrt(1 + (K - 1) / 2 * mach * mach)


def mach_at_start(high: float, low: float, resistance: float) -> float:
    """Mach number where the line begins; choked where the end would pass the speed of sound."""

    def at_end(mach: float) -> float:
        left = path_to_sonic(mach) - resistance
        end = bisected(lambda m: left - path_to_sonic(m), 1e-4, 1.0) if left > 0 else 1.0
        static = high / math.pow(1 + (K - 1) / 2 * mach * mach, K / (K - 1))
        return static * pressure_factor(mach) / pressure_factor(end)

    most = bisected(lambda m: resistance - path_to_sonic(m), 1e-4, 1 - 1e-9)
    return most if at_end(most) >= low else bisected(lambda m: low - at_end(m), 1e-4, most)


def mass_flow(high: float, low: float, bore: float, length: float, fittings: float) -> float:
    friction, flow = 0.02, 0.0
    for _ in range(4):
        mach = mach_at_start(high, low, friction * length / bore + fittings)
        cold = 1 + (K - 1) / 2 * mach * mach
        density = high / (R * T) / cold ** (1 / (K - 1))
        flow = density * math.pi / 4 * bore * bore * mach * math.sqrt(K * R * T / cold)
        reynolds = 4 * flow / (math.pi * bore * VISCOSITY)
        friction = (-1.8 * math.log10((ROUGHNESS / bore / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
    return flow


def fill_time(
    bore: float, length: float, fittings: float = FITTINGS, *,
    to: float = 6e5, full: float = 13e5, reservoir: float = 12, vessel: float = 4.2,
) -> float:  # fmt: skip
    """Isothermal fill from vacuum: the integral of dm / w(m), by Simpson's rule."""
    steps = 24
    total = to * vessel / (R * T)
    inverse = [
        1 / mass_flow(full - part * to * vessel / reservoir, part * to, bore, length, fittings)
        for part in (n / steps for n in range(steps + 1))
    ]
    weights = [1, *([4, 2] * (steps // 2))[:-1], 1]
    return total / steps / 3 * sum(w * i for w, i in zip(weights, inverse, strict=True))


def insulated_fill(bore: float, length: float, *, to: float = 6e5) -> tuple[float, float]:
    """s and K at the end of a fill from vacuum with no heat from any wall, by Euler's method in
    2,000 parts: d(m c_v T_v) = c_p T_r dm; the reservoir's gas expands at constant entropy."""
    full, reservoir, vessel = 13e5, 12.0, 4.2
    stored = full * reservoir / (R * T)
    part = to * vessel / (R * T * K) / 1900
    let_in = energy = seconds = 0.0
    while (K - 1) * energy / vessel < to:
        kelvin = T * ((stored - let_in) / stored) ** (K - 1)
        high = (stored - let_in) * R * kelvin / reservoir
        flow = mass_flow(high, (K - 1) * energy / vessel, bore, length, FITTINGS)
        seconds += part / (flow * math.sqrt(T / kelvin))
        let_in += part
        energy += part * K / (K - 1) * R * kelvin
    return seconds, energy * (K - 1) / (let_in * R)


def test_the_line_twice_as_long(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, HELD)
    assert book["Line_k"] == pytest.approx(FITTINGS)
    assert book["Time_alone"] == pytest.approx(fill_time(0.0525, 35), rel=0.01)
    assert book["Time_double"] == pytest.approx(fill_time(0.0525, 70), rel=0.01)
    assert book["Time_half"] == pytest.approx(fill_time(0.0525, 17.5), rel=0.01)
    assert book["Time_plain"] == pytest.approx(fill_time(0.0525, 35, 0), rel=0.01)
    assert book["Time_most"] == pytest.approx(book["Time_now"], rel=1e-3)


def test_without_heat_from_any_wall(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, INSULATED)
    seconds, kelvin = insulated_fill(0.0525, 35)
    assert book["Time_least"] == pytest.approx(seconds, rel=0.015)
    assert 1.25 * T < kelvin < 1.4 * T


def test_the_demo_says_what_the_controller_must_do(demo: Path) -> None:
    book = Computed(demo)
    hot = book["End_temperature"] + 273.15
    assert 1.1 * T < hot < 1.45 * T
    assert book["Settled"] == pytest.approx(6 * T / hot, rel=0.003)
    missing = (6 - book["Settled"]) * 1e5 * 4.2 / (R * T) / 1.2504
    assert book["Top_up"] == pytest.approx(missing, rel=0.005)
    assert min(book["Time_least"], book["Time_most"]) < book["Time_now"] < 15
    assert "That meets the 15.0 s wanted. Shut off then, its gas" in book["Start!B4"]


def test_a_quench_valve_that_chokes_takes_longer(demo: Path, tmp_path: Path) -> None:
    choking = changed(demo, tmp_path, {"Valve_xt": 0.15})
    assert choking["Time_now"] > 1.02 * Computed(demo)["Time_now"]


def test_the_bore_meets_the_time(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, HELD)
    needed = book["Bore_needed"]
    assert fill_time(needed / 1000, 35) == pytest.approx(15, rel=0.01)
    assert book["Next_size"] == "DN 65, 2 1/2 in"
    book = changed(demo, tmp_path, HELD | {"Compare_1": needed})
    assert book["Length!D10"] == pytest.approx(15, rel=1e-5)
    assert book["Length!D14"] == pytest.approx(fill_time(needed / 1000, 70), rel=0.01)


def test_the_course_ends_where_the_fill_does(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, HELD)
    assert book["Course!B37"] == pytest.approx(book["Time_now"], rel=1e-6)
    assert book["Course!C37"] == pytest.approx(6, rel=1e-6)
    gone = 6 * 4.2 / 12 - 12 * 17 / 3600 * 1.01325 * 293.15 / 273.15 / 12
    assert book["Course!D37"] == pytest.approx(13 - gone, rel=0.003)
    assert book["Course!D7"] == pytest.approx(13)


def fills(interval: float, flow: float = 12, *, most: int = 12) -> int:
    """Fills that an ideal gas reservoir serves, by pressures alone."""
    pressure, count = 13.0, 0
    while count < most and pressure - 2.1 >= 6:
        count += 1
        refill = flow * interval * 1.01325 * 293.15 / 273.15 / 12
        pressure = min(13, pressure - 2.1 + refill)
    return count


@pytest.mark.parametrize("interval", [1, 2])
def test_fills_in_a_row(demo: Path, tmp_path: Path, interval: float) -> None:
    book = changed(demo, tmp_path, HELD | {"Interval": interval})
    assert book["Served"] == fills(interval)
    assert (
        f"serves {'12 or more' if fills(interval) == 12 else fills(interval)}" in (book["Start!B4"])
    )


def test_a_wider_line_and_a_larger_furnace(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a wider line and a larger furnace"])
    time = fill_time(0.0779, 60, FITTINGS, to=10e5, reservoir=40, vessel=7.5)
    assert book["Time_now"] == pytest.approx(time, rel=0.01)
    assert time < 30
    assert "Its relief device: SET TOO HIGH." in book["Start!B4"]
    assert "That meets the 30.0 s wanted." in book["Start!B4"]
    assert book["After_fill"] == pytest.approx(13 - 10 * 7.5 / 40, rel=0.003)


def test_relief_estimate(demo: Path, tmp_path: Path) -> None:
    relieving = (1.013 + (16.5 - 1.013) * 1.1) * 1e5
    area = math.pi / 4 * 0.016**2
    choked = math.sqrt(K * (2 / (K + 1)) ** ((K + 1) / (K - 1)) / (R * T))
    normal = 0.7 * area * relieving * choked * 3600 * R * 273.15 / 101325
    book = changed(demo, tmp_path, SCENARIOS["more inflow, no heat"])
    assert book["Relief_capacity"] == pytest.approx(normal, rel=0.015)
    assert "Its relief device: TOO SMALL." in book["Start!B4"]


def test_a_reservoir_too_small_is_told(demo: Path, tmp_path: Path) -> None:
    assert 7 * 12 / (12 + 4.2) < 6
    book = changed(demo, tmp_path, SCENARIOS["a reservoir too small"])
    assert "cannot be calculated" in book["Start!B4"]
    assert "not reached" in book["Start!B4"]
    assert book["Reservoir!I7"] == ""


def test_a_fill_that_only_the_refill_carries_is_told(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Reservoir_volume": 0.05, "Supply_flow": 900})
    assert book["Served"] == 0
    assert "Without its refill the reservoir does not serve one fill." in book["Start!B4"]


def test_swapped_pressures_are_told(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Pressure_from": 900, "Pressure_to": 0.5})
    assert "swapped" in book["Start!B4"]


@pytest.mark.parametrize(
    "wrong",
    [{"Line!C8": "two"}, {"Line!D8": None}, {"Line!B12": "Filter"}, {"Line!I8": "wide"},
     {"Line!C8": -2}],
)  # fmt: skip
def test_a_row_that_cannot_be_calculated_is_told(
    demo: Path, tmp_path: Path, wrong: dict[str, Any]
) -> None:
    book = changed(demo, tmp_path, wrong)
    assert book["Rows_wrong"] == 1
    assert book["Start!B4"].startswith("1 row(s) cannot be calculated")
    assert str(book["Line_k"]) == "#N/A"
    assert book["Fill!E7"] == ""


@pytest.mark.parametrize("wrong", [{"Bore": "wide"}, {"Length": 1e6}, {"Gas": None}])
def test_wrong_inputs_are_told(demo: Path, tmp_path: Path, wrong: dict[str, Any]) -> None:
    book = changed(demo, tmp_path, wrong)
    assert book["Start!B4"].startswith("Some inputs are missing or out of range")


def test_an_empty_book_says_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "empty.xlsx"
    build(NAME, path, filled=False)
    book = Computed(path)
    assert book["Start!B4"].startswith("Some inputs are missing")
    assert str(book["Served"]) == "#N/A"


def test_us_units_give_the_same_answer(demo: Path, tmp_path: Path) -> None:
    path = tmp_path / "us.xlsx"
    build(NAME, path, "US")
    us, metric = Computed(path), Computed(demo)
    assert us["Time_now"] == pytest.approx(metric["Time_now"], rel=0.002)
    assert us["Bore_needed"] == pytest.approx(metric["Bore_needed"] / 25.4, rel=0.002)
    assert us["After_fill"] == pytest.approx(metric["After_fill"] * 14.5038, rel=0.001)
    assert us["Gas_fill"] == pytest.approx(metric["Gas_fill"] * 38.04, rel=0.001)
    assert us["Served"] == metric["Served"]
    assert us["Length!C14"] == pytest.approx(70 / 0.3048, rel=0.001)
