"""Reservoir and line: the book's answers against perfect-gas flow with friction worked out here.

Adiabatic flow with friction (Fanno), from Shapiro, ch. 6: f L/d + K = F(M1) - F(M2) with
F(M) = (1 - M²)/(k M²) + (k+1)/(2k) ln((k+1) M² / (2 + (k-1) M²)); friction factor by Haaland,
which is within 2 % of Colebrook. Nitrogen departs from the ideal gas by 0.3 % at 13 bar and 20 °C.
"""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from scipy.optimize import brentq

from gasfuncs.workbooks.sheets.building import BOOKS, build
from tests.workbooks.editing import Computed, Declared, computed, start

BOOK = BOOKS["reservoir_line_sizing"]
NAME = BOOK.name
GIVEN, ROWS = BOOK.demo(), 0
SHEETS = Declared(BOOK)
R, T, K = 296.8, 293.15, 1.4
VISCOSITY = 17.6e-6
ROUGHNESS = 0.045e-3
FITTINGS = 0.5 + 2 * 0.06 + 8 * 0.27 + 1.14 + 1.9
SITE = 101325 * (1 - 0.0065 * 210 / 288.15) ** (9.80665 * 0.0289644 / (8.31446 * 0.0065)) / 1e5
"""bar(a) at 210 m, by the standard atmosphere (ISO 2533, from memory)."""
FULL, TO = 12 + SITE, round(6 - 0.988, 3) + SITE
HELD = {"Process": "isothermal", "Vessel_ha": 1_000_000, "Walls": 20, "Valve": None}
"""Walls that pass all heat at once, and no quench valve."""
INSULATED = {"Process": "adiabatic", "Vessel_ha": 0, "Valve": None}
EXACT = {"Walls_within": 0, "Heat_within": 1, "Method_within": 0}

SCENARIOS: dict[str, dict[str, Any]] = {
    "fills every hour": {"Interval": 1},
    "a wider line and a larger furnace": {
        **HELD,
        "Relief_set": 18,
        "Bore": 77.9,
        "Length": 60,
        "Vessel_volume": 7.5,
        "Vessel_allowed": 12,
        "Reservoir_volume": 40,
        "Pressure_to": 9,
        "Supply_flow": 0,
        "Time_wanted": 35,
    },
    "more inflow": {"Relief_inflow": 5000},
    "a reservoir too small": {"Reservoir_full": 6, "Supply_flow": 0},
    "one shot": {"Control": "one shot"},
    "one shot to a furnace that bears more": {"Control": "one shot", "Vessel_allowed": 10},
    "too near to tell": {"Time_wanted": 12.5},
    "too slow": {"Time_wanted": 8},
    "no relief valve known": {"Relief_bore": None, "Relief_set": None},
    "a cold chamber": {"Walls": 20, "Vessel_ha": 200, "Settled": 150},
}


@pytest.fixture(scope="module")
def demo() -> Path:
    return start(BOOK, GIVEN, ROWS)


def changed(demo: Path, tmp_path: Path, changes: dict[str, Any]) -> Computed:
    return computed(demo, tmp_path / "changed.xlsx", changes)


@pytest.fixture(scope="module")
def held(demo: Path, tmp_path_factory: pytest.TempPathFactory) -> Computed:
    return changed(demo, tmp_path_factory.mktemp("held"), HELD | EXACT)


def path_to_sonic(mach: float) -> float:
    square = mach * mach
    grown = (K + 1) * square / (2 + (K - 1) * square)
    return (1 - square) / (K * square) + (K + 1) / (2 * K) * math.log(grown)


def pressure_factor(mach: float) -> float:
    """Static pressure times this is constant along the line."""
    return mach * math.sqrt(1 + (K - 1) / 2 * mach * mach)


def mach_at_start(high: float, low: float, resistance: float) -> float:
    """Mach number where the line begins; choked where the end would pass the speed of sound."""

    def at_end(mach: float) -> float:
        left = path_to_sonic(mach) - resistance
        end = brentq(lambda m: left - path_to_sonic(m), 1e-4, 1.0) if left > 0 else 1.0
        static = high / math.pow(1 + (K - 1) / 2 * mach * mach, K / (K - 1))
        return static * pressure_factor(mach) / pressure_factor(end)

    most = brentq(lambda m: resistance - path_to_sonic(m), 1e-4, 1 - 1e-9)
    if at_end(most) >= low:
        return float(most)
    return float(brentq(lambda m: low - at_end(m), 1e-4, most))


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


@cache
def fill_time(
    bore: float = 0.0525, length: float = 35, fittings: float = FITTINGS, *,
    to: float = TO, full: float = FULL, reservoir: float = 12, vessel: float = 4.2,
) -> float:  # fmt: skip
    """Isothermal fill from vacuum: the integral of dm / w(m), by Simpson's rule."""
    steps, to, full = 24, to * 1e5, full * 1e5
    total = to * vessel / (R * T)
    inverse = [
        1 / mass_flow(full - part * to * vessel / reservoir, part * to, bore, length, fittings)
        for part in (n / steps for n in range(steps + 1))
    ]
    weights = [1, *([4, 2] * (steps // 2))[:-1], 1]
    return total / steps / 3 * sum(w * i for w, i in zip(weights, inverse, strict=True))


def insulated_fill(bore: float, length: float) -> tuple[float, float]:
    """s and K at the end of a fill from vacuum with no heat from any wall, by Euler's method in
    2,000 parts: d(m c_v T_v) = c_p T_r dm; the reservoir's gas expands at constant entropy."""
    full, to, reservoir, vessel = FULL * 1e5, TO * 1e5, 12.0, 4.2
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


def case(book: Computed, name: str, column: str = "Time") -> Any:
    row = SHEETS.column(book, "Cases.What if").index(name)
    return SHEETS.column(book, f"Cases.{column}")[row]


def test_the_line_twice_as_long(held: Computed) -> None:
    book = held
    assert book["Line_k"] == pytest.approx(FITTINGS)
    assert book["Time_now"] == case(book, "As it is")
    assert case(book, "No refill meanwhile") == pytest.approx(fill_time(), rel=0.01)
    assert case(book, "Twice the length") == pytest.approx(fill_time(length=70), rel=0.01)
    assert case(book, "Half the length") == pytest.approx(fill_time(length=17.5), rel=0.01)
    assert case(book, "No fittings") == pytest.approx(fill_time(fittings=0), rel=0.01)
    assert case(book, "Next wider pipe") == pytest.approx(fill_time(0.0627), rel=0.01)
    lower = 0.9 * FULL
    assert case(book, "Reservoir 10 % lower") == pytest.approx(fill_time(full=lower), rel=0.01)


def test_the_band_of_the_time(held: Computed, demo: Path, tmp_path: Path) -> None:
    """Each tolerance moves the time; the moves add as squares (JCGM 100, first order)."""
    book = held
    moved = [
        fill_time(vessel=4.2 * 1.03),
        fill_time(reservoir=12 * 1.02),
        fill_time(full=FULL * 1.01),
        fill_time(to=TO * 1.01),
        fill_time(0.0525 * 1.01),
        fill_time(fittings=FITTINGS * 1.2),
    ]
    band = math.sqrt(sum((time - fill_time()) ** 2 for time in moved))
    assert book["Time_band"] == pytest.approx(band, rel=0.04)
    assert book["Most_of_it"] in ("fittings", "free volume")
    wider = changed(demo, tmp_path, HELD | EXACT | {"Method_within": 10})
    both = math.hypot(book["Time_band"], 0.1 * book["Time_now"])
    assert wider["Time_band"] == pytest.approx(both, rel=1e-6)


def test_without_heat_from_any_wall(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, INSULATED | {"Walls": 20, "Supply_flow": 0})
    seconds, kelvin = insulated_fill(0.0525, 35)
    assert book["Time_now"] == pytest.approx(seconds, rel=0.015)
    assert book["End_C"] + 273.15 == pytest.approx(kelvin, rel=0.01)
    assert book["Settled_bar"] == pytest.approx(TO * T / kelvin, rel=0.012)


def test_the_demo_says_what_the_controller_must_do(demo: Path) -> None:
    book = Computed(demo)
    hot = book["End_C"] + 273.15
    assert 1.1 * T < hot < 1.45 * T
    settled = TO * T / hot
    assert book["Settles_to"] + SITE == pytest.approx(settled, rel=0.003)
    assert book["Stop_at"] + SITE == pytest.approx(TO * hot / T, rel=0.006)
    missing = (TO - settled) * 1e5 * 4.2 / (R * T) / 1.2504
    assert book["Top_up"] == pytest.approx(missing, rel=0.01)
    assert book["Gas_fill"] == pytest.approx(TO * 1e5 * 4.2 / (R * T) / 1.2504, rel=0.005)
    assert "within the 15 s wanted. Leave the controller on" in book["Answer"]
    assert book["Settles_band"] > 0.02 * settled


def test_one_shot(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["one shot"])
    hot = book["End_C"] + 273.15
    assert book["Gas_fill"] == pytest.approx(TO * 1e5 * 4.2 / (R * hot) / 1.2504, rel=0.005)
    assert book["Answer_level"] == "watch"
    assert "more than the furnace may bear" in book["Answer"]
    book = changed(demo, tmp_path, SCENARIOS["one shot to a furnace that bears more"])
    assert f"let it stop near {book['Stop_at']:.1f}" in book["Answer"]


def test_gas_that_warms_afterwards(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a cold chamber"])
    assert book["End_C"] < 150
    assert book["Settled_bar"] > TO
    assert book["Top_up"] == 0
    assert "rises to" in book["Answer"]
    allowed = {"Vessel_allowed": round(TO - SITE, 3) + 0.01}
    over = changed(demo, tmp_path, SCENARIOS["a cold chamber"] | allowed)
    assert over["Answer_level"] == "act"
    assert "more than the furnace may bear" in over["Answer"]


def test_a_quench_valve_that_chokes_takes_longer(demo: Path, tmp_path: Path) -> None:
    choking = changed(demo, tmp_path, {"Valve_xt": 0.15})
    assert choking["Time_now"] > 1.02 * Computed(demo)["Time_now"]


def test_the_bore_meets_the_time(held: Computed, demo: Path, tmp_path: Path) -> None:
    needed = held["Bore_needed"]
    assert fill_time(needed / 1000) == pytest.approx(15, rel=0.01)
    book = changed(demo, tmp_path, HELD | EXACT | {"Compare_1": needed})
    times, lengths = (SHEETS.column(book, f"Lengths.{each}") for each in ("Bore 1", "Length"))
    assert times[3] == pytest.approx(15, rel=1e-5)
    assert lengths[7] == 70
    assert times[7] == pytest.approx(fill_time(needed / 1000, 70), rel=0.01)
    one = fill_time(needed / 1000 * 1.01) / fill_time(needed / 1000)
    share = book["Time_band"] / book["Time_now"]
    assert book["Bore_band"] == pytest.approx(needed * share * 0.01 / (1 - one), rel=0.06)


@pytest.mark.parametrize(
    ("scenario", "verdict", "level", "said"),
    [
        ("too near to tell", "cannot tell", "cannot tell", "too near to the 12.5 s"),
        ("too slow", "no", "act", "longer than the 8 s wanted. Sure to do: DN 80."),
    ],
)
def test_the_verdict(
    scenario: str, verdict: str, level: str, said: str, demo: Path, tmp_path: Path
) -> None:
    book = changed(demo, tmp_path, SCENARIOS[scenario])
    assert book["Time_verdict"] == verdict
    wanted = SCENARIOS[scenario]["Time_wanted"]
    off = (book["Time_now"] - wanted) / book["Time_band"]
    assert (abs(off) < 1) is (verdict == "cannot tell")
    assert book["Answer_level"] == level
    assert said in book["Answer"]


def test_only_a_pipe_whose_whole_band_is_in_time_is_sure(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Time_wanted": 12.5})
    times, sure = (SHEETS.column(book, f"Pipes.{each}")[:7] for each in ("Time", "In time"))
    share = book["Time_band"] / book["Time_now"]
    assert sure == [
        "yes" if time * (1 + share) <= 12.5 else "no" if time * (1 - share) > 12.5
        else "cannot tell"
        for time in times
    ]  # fmt: skip
    assert sure[:4] == ["no", "no", "cannot tell", "yes"]
    assert book["Next_size"] == "DN 65"


def test_the_course_ends_where_the_fill_does(held: Computed) -> None:
    book = held
    time, vessel, reservoir = (
        SHEETS.column(book, f"Course.{each}") for each in ("Time", "Furnace", "Reservoir")
    )
    assert time[-1] == pytest.approx(book["Time_now"], rel=1e-6)
    assert vessel[-1] + SITE == pytest.approx(TO, rel=1e-6)
    gone = TO * 4.2 / 12 - 12 * time[-1] / 3600 * 1.01325 * 293.15 / 273.15 / 12
    assert reservoir[-1] + SITE == pytest.approx(FULL - gone, rel=0.003)
    assert reservoir[0] == pytest.approx(12)


def fills(interval: float, flow: float = 12, *, most: int = 12) -> int:
    """Fills that an ideal gas reservoir serves, by pressures alone."""
    pressure, count, one = FULL, 0, TO * 4.2 / 12
    while count < most and pressure - one >= TO:
        count += 1
        refill = flow * interval * 1.01325 * 293.15 / 273.15 / 12
        pressure = min(FULL, pressure - one + refill)
    return count


@pytest.mark.parametrize("interval", [1, 2])
def test_fills_in_a_row(demo: Path, tmp_path: Path, interval: float) -> None:
    book = changed(demo, tmp_path, HELD | {"Interval": interval})
    assert book["Served"] == fills(interval)
    after = SHEETS.column(book, "Fills.Right after")
    assert after[0] + SITE == pytest.approx(FULL - TO * 4.2 / 12, rel=0.003)
    more = changed(demo, tmp_path, HELD | {"Interval": interval, "Fills_needed": 12})
    assert (more["Answer_level"] == "act") is (fills(interval) < 12)


def test_fills_in_a_row_in_time(demo: Path) -> None:
    book = Computed(demo)
    times, says = (SHEETS.column(book, f"Fills.{each}") for each in ("Time", "Result"))
    share = book["Time_band"] / book["Time_now"]
    assert book["In_time"] == sum(time * (1 + share) <= 15 for time in times) == 3
    assert says[3] == "cannot tell"
    assert "where 4 are needed, 3 of them sure to be in time" in book["Answer"]


def test_a_wider_line_and_a_larger_furnace(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a wider line and a larger furnace"])
    time = fill_time(0.0779, 60, to=9 + SITE, reservoir=40, vessel=7.5)
    assert book["Time_now"] == pytest.approx(time, rel=0.01)
    assert time < 30
    assert "within the 35 s wanted." in book["Answer"]
    assert "set higher than the reservoir may bear" in book["Answer"]
    assert book["Answer_level"] == "act"
    left = FULL - (9 + SITE) * 7.5 / 40
    assert book["After_fill"] + SITE == pytest.approx(left, rel=0.003)


def test_relief_estimate(demo: Path, tmp_path: Path) -> None:
    relieving = (SITE + 15.5 * 1.1) * 1e5
    area = math.pi / 4 * 0.016**2
    choked = math.sqrt(K * (2 / (K + 1)) ** ((K + 1) / (K - 1)) / (R * T))
    normal = 0.7 * area * relieving * choked * 3600 * R * 273.15 / 101325
    book = changed(demo, tmp_path, SCENARIOS["more inflow"])
    assert book["Relief_capacity"] == pytest.approx(normal, rel=0.015)
    assert book["Answer_level"] == "act"
    assert "Its relief valve is too small" in book["Answer"]
    near = changed(demo, tmp_path, {"Relief_inflow": book["Relief_capacity"] * 1.01})
    assert near["Capacity_verdict"] == "cannot tell"
    assert "too near to tell" in near["Answer"]
    unknown = changed(demo, tmp_path, SCENARIOS["no relief valve known"])
    assert "not judged: 2 missing" in unknown["Answer"]
    assert unknown["Answer_level"] == "watch"


def test_a_reservoir_too_small_is_told(demo: Path, tmp_path: Path) -> None:
    assert (6 + SITE) * 12 / (12 + 4.2) < TO
    book = changed(demo, tmp_path, SCENARIOS["a reservoir too small"])
    assert book["Answer_level"] == "act"
    assert "not reached" in book["Answer"]
    assert book["Served"] == 0


def test_a_fill_that_only_the_refill_carries_is_told(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Reservoir_volume": 0.05, "Supply_flow": 900})
    assert book["Served"] == 0
    assert "does not serve one fill" in book["Answer"]
    assert book["Answer_level"] == "act"


def test_swapped_pressures_are_told(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Pressure_from": 900, "Pressure_to": -0.5})
    assert "swapped" in book["Answer"]
    assert book["Answer_level"] == "cannot tell"


@pytest.mark.parametrize(
    ("column", "row", "value"),
    [
        ("Fittings.Count", 2, "two"),
        ("Fittings.Coefficient", 2, None),
        ("Fittings.Count", 2, -2),
        ("Fittings.Fitting", 6, "Filter"),
    ],
)
def test_a_fitting_that_does_not_count_is_told(
    column: str, row: int, value: Any, demo: Path, tmp_path: Path
) -> None:
    book = changed(demo, tmp_path, {SHEETS.place(column, row): value})
    assert book["Fittings_out"] == 1
    assert book["Answer_level"] == "cannot tell"
    assert book["Answer"].startswith("Without 1 row(s): see the Check on Line first. ")
    assert book["Line_k"] == pytest.approx(FITTINGS - (0.12 if row == 2 else 0))


def test_a_pipe_without_a_bore_costs_only_itself(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {SHEETS.place("Pipes.Bore", 3): "wide"})
    assert book["Pipes_out"] == 1
    assert book["Next_size"] == "DN 65"
    assert book["Answer_level"] == Computed(demo)["Answer_level"]


@pytest.mark.parametrize("wrong", [{"Bore": "wide"}, {"Length": 1e6}, {"Gas": None}])
def test_wrong_inputs_are_told(demo: Path, tmp_path: Path, wrong: dict[str, Any]) -> None:
    book = changed(demo, tmp_path, wrong)
    assert book["Answer"].startswith("1 value(s) on Inputs are missing or out of range")


def test_us_units_give_the_same_answer(demo: Path, tmp_path: Path) -> None:
    path = tmp_path / "us.xlsx"
    build(BOOK, path, "US", BOOK.demo())
    us, metric = Computed(path), Computed(demo)
    for name, factor in (
        ("Time_now", 1), ("Time_band", 1), ("Bore_needed", 1 / 25.4), ("Bore_band", 1 / 25.4),
        ("After_fill", 14.5038), ("Settles_to", 14.5038), ("Settles_band", 14.5038),
        ("Gas_fill", 38.04), ("Top_up", 38.04), ("Relief_capacity", 38.04),
    ):  # fmt: skip
        assert us[name] == pytest.approx(metric[name] * factor, rel=0.003), name
    assert us["Served"] == metric["Served"]
    assert SHEETS.column(us, "Lengths.Length")[-1] == pytest.approx(70 / 0.3048, rel=0.001)


def test_a_band_that_cannot_be_told_is_no_all_clear(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Walls": 1400, "Walls_within": 500, "Gas": "hydrogen"})
    assert book["Answer_level"] != "in order"
