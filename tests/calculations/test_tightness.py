"""What the fit of a pressure rise promises, and what leaks say of themselves."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.stats
from numpy.typing import NDArray

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import pressure_rise, rise_judging, tightness
from gasfuncs.calculations.rise_judging import judged
from gasfuncs.definition.tolerances import Part

LEAK, OUTGASSING, TAU = 1.0, 3.0, 1.0


def fits(length: float, scatter: float, readings: int, count: int) -> list[pressure_rise.RiseFit]:
    """Fits of simulated records of a known leak, with scatter."""
    random = np.random.default_rng(11)
    times = np.linspace(0, length, readings)
    clean = 10 + LEAK * times + OUTGASSING * (1 - np.exp(-times / TAU))
    return [
        pressure_rise.fit(times, clean + random.normal(0, scatter, readings)) for _ in range(count)
    ]


def covered(found: list[pressure_rise.RiseFit]) -> float:
    """Share of the bands that hold the true leak."""
    return float(np.mean([f.leak.low <= LEAK <= f.leak.high for f in found]))


@pytest.mark.parametrize(("length", "scatter"), [(5.0, 0.05), (5.0, 0.005), (2.0, 0.01)])
def test_bands_hold_the_true_leak(length: float, scatter: float) -> None:
    assert covered(fits(length, scatter, 40, 60)) >= 0.92


def test_a_long_record_is_told_apart() -> None:
    found = fits(5.0, 0.01, 40, 40)
    assert all(f.verdict == pressure_rise.TOLD_APART for f in found)
    assert all(0 < f.leak.high - f.leak.low < LEAK for f in found)


def test_a_short_noisy_record_is_not_told_apart_but_bounded() -> None:
    found = fits(1.0, 0.05, 40, 60)
    assert all(f.verdict != pressure_rise.TOLD_APART for f in found)
    assert np.mean([f.leak.high >= LEAK for f in found]) >= 0.95
    assert all(f.leak.low == 0 and f.outgassing is None for f in found)


def test_outgassing_by_the_power_law_is_no_leak() -> None:
    random = np.random.default_rng(5)
    times = np.linspace(0, 10, 40)
    clean = 10 + 3 * np.log1p(times / 0.5)
    found = [pressure_rise.fit(times, clean + random.normal(0, 0.02, 40)) for _ in range(60)]
    assert np.mean([f.leak.low > 0 for f in found]) <= 0.05


def test_under_ten_readings_only_an_upper_bound_is_told() -> None:
    found = fits(8.0, 0.001, 9, 20)
    assert {f.verdict for f in found} == {pressure_rise.TOO_FEW}
    assert all(f.leak.low == 0 and f.leak.high >= LEAK for f in found)


def test_six_readings_have_students_t_of_their_two_degrees_of_freedom() -> None:
    found = fits(5.0, 0.05, 6, 200)
    assert np.mean([f.leak.high >= LEAK for f in found]) >= 0.95


def test_readings_that_wander_fit_no_model() -> None:
    times = np.linspace(0, 10, 40)
    wave = 0.3 * np.sin(2 * np.pi * times / 3)
    found = pressure_rise.fit(times, 10 + times + 3 * (1 - np.exp(-times)) + wave)
    assert found.verdict == pressure_rise.WANDERS


def test_a_long_record_is_averaged_and_says_the_same() -> None:
    random = np.random.default_rng(8)
    times = np.linspace(0, 5, 4003)
    found = pressure_rise.fit(
        times, 10 + times + 3 * (1 - np.exp(-times)) + random.normal(0, 0.05, 4003)
    )
    assert found.leak.low <= 1 <= found.leak.high
    assert found.scatter == pytest.approx(0.05, rel=0.1)


def test_ten_readings_are_enough() -> None:
    assert {f.verdict for f in fits(8.0, 0.001, 10, 5)} == {pressure_rise.TOLD_APART}


def test_the_band_is_that_of_all_models_that_fit() -> None:
    [found] = fits(8.0, 0.01, 40, 1)
    allowed = [rival.leak for rival in found.rivals if rival.leak]
    assert len(allowed) > 1
    assert found.leak.low == pytest.approx(min(each.low for each in allowed))
    assert found.leak.high == pytest.approx(max(each.high for each in allowed))


def test_bands_are_students_t_times_the_standard_error() -> None:
    [found] = fits(8.0, 0.01, 40, 1)
    assert found.outgassing
    assert found.time_constant
    for estimate in (found.leak, found.outgassing, found.time_constant):
        half = (estimate.high - estimate.low) / 2
        assert half / estimate.error == pytest.approx(scipy.stats.t.ppf(0.975, 36), rel=1e-6)


def test_what_all_readings_share_widens_the_band_as_a_square() -> None:
    times = np.linspace(0, 8, 40) * 3600
    pressures = 10 + times / 3600 + 3 * (1 - np.exp(-times / 3600))
    pressures += np.random.default_rng(2).normal(0, 0.01, 40)
    alone = judged(times, pressures, 1.0, (), ())
    scale, kelvins = Part(0.02, 0, "", "normal"), Part(0, 0.3, "", "normal")
    both = judged(times, pressures, 1.0, (scale,), (kelvins,))
    drift = pressures.mean() * 0.3 / 293.15 / times[-1]
    further = 1.96 * np.hypot(0.02 * alone.leak, drift)
    assert alone.high is not None
    assert both.high is not None
    assert both.high - alone.leak == pytest.approx(
        np.hypot(alone.high - alone.leak, further), rel=1e-3
    )


def test_two_readings_have_the_band_of_their_tolerances() -> None:
    gauge = (Part(0, 1.0, "", "normal"), Part(0.05, 0, "gauge", "normal"))
    found = judged(
        np.array([0.0, 3600]), np.array([10.0, 46]), 1.0, gauge, (Part(0, 0.5, "", "normal"),)
    )
    error = np.sqrt(2 / 3600**2 + (0.01 * 0.05) ** 2 + (28 * 0.5 / 293.15 / 3600) ** 2)
    assert found.leak == pytest.approx(0.01)
    assert found.high == pytest.approx(0.01 + 1.96 * error, rel=1e-4)
    assert found.verdict == "tight"


def test_why_a_record_cannot_tell() -> None:
    def why(length: float, readings: int, scatter: float, limit: float) -> str:
        random = np.random.default_rng(4)
        times = np.linspace(0, length, readings)
        clean = 10 + LEAK * times + OUTGASSING * (1 - np.exp(-times / TAU))
        found = judged(times, clean + random.normal(0, scatter, readings), limit, (), ())
        assert found.verdict == "cannot tell"
        return found.why

    assert why(8.0, 40, 0.1, LEAK) == rise_judging.STRADDLES
    assert why(1.0, 40, 0.01, LEAK) == rise_judging.TOGETHER
    assert why(8.0, 7, 0.01, LEAK) == rise_judging.FEW


def test_slow_outgassing_leaves_a_straight_line() -> None:
    random = np.random.default_rng(3)
    times = np.linspace(0, 5, 40)
    found = [
        pressure_rise.fit(times, 10 + times + random.normal(0, 0.05, 40)).verdict for _ in range(60)
    ]
    assert found.count(pressure_rise.NO_BEND) >= 54


def test_a_rise_that_quickens_is_no_outgassing() -> None:
    times = np.linspace(0, 5, 40)
    assert pressure_rise.fit(times, 10 + times**2).verdict == pressure_rise.BENDS_UP


def test_deep_vacuum_is_told_apart_as_well() -> None:
    times = np.linspace(0, 5, 40) * 3600
    found = pressure_rise.fit(times, 1e-6 * (1 + times / 3600 + 3 * (1 - np.exp(-times / 3600))))
    assert found.leak.value == pytest.approx(1e-6 / 3600, rel=1e-6)


def test_a_flat_record_has_no_leak() -> None:
    times = np.linspace(0, 5, 10)
    for level in (0.0, 12.5):
        found = pressure_rise.fit(times, np.full(10, level))
        assert found.leak.value == pytest.approx(0, abs=1e-12)


def test_rows_come_in_the_order_of_time_and_blank_rows_are_left_out() -> None:
    def rows(order: NDArray[np.intp]) -> list[list[float]]:
        times = np.array([0.0, 1, 2, 3, 4, 5, np.nan])[order]
        pressures = np.array([1.0, 2, 3, 4, 5, 6, np.nan])[order]
        return tightness.rise_curve(times, pressures)

    there, back = rows(np.arange(7)), rows(np.arange(7)[::-1])
    assert there == back
    assert len(there) == 6


def test_cooling_alone_is_no_leak_of_a_real_gas() -> None:
    argon = properties.gas("argon")
    density = float(properties.molar_density(argon, 201e5, 293.15))
    cold = properties.pressure(argon, density, 288.15)
    lost = tightness.decay_leak(1.0, 201e5, 293.15, cold, 288.15, 3600.0, argon)
    assert lost == pytest.approx(0, abs=1e-6)
    ideal = 1.0 * (201e5 - cold * 293.15 / 288.15) / 3600.0
    assert ideal > 10  # Pa·m³/s: what an ideal gas would make of it


@pytest.mark.parametrize(("hours", "unit"), [(24, "d"), (2, "h")])
def test_how_long_a_decay_test_would_tell_goes_with_its_band(hours: float, unit: str) -> None:
    """Rate and band fall alike with the time, the distance from the limit stays."""
    fell = 0.01 * hours / 24
    [_, row] = gasfuncs.GAS_DECAY_VERDICT(
        40, "7 bar(g)", 20, f"{7 - fell} bar(g)", 20, hours, 2,
        pressure_tolerance=f"u {hours / 5} mbar", temperature_tolerance=f"u {hours / 240} K",
    )  # fmt: skip
    low, high, why = row[1], row[2], row[-1]
    longer = hours * (high - low) / 2 / abs((low + high) / 2 - 2)
    assert row[4] == "cannot tell"
    assert (f"{longer / 24:.1f} d" if unit == "d" else f"{longer:.0f} h") in why


@pytest.mark.parametrize(
    ("times", "are"),
    [([46083.0, 46084.0, 46085.0], "look like dates"), ([36525.0, 46084.0, 46085.0], ""),
     ([46083.0, 46084.0, 73051.0], ""), ([0.0, 1.0, 2.0], "")],
)  # fmt: skip
def test_numbers_are_dates_where_all_of_them_could_be(times: list[float], are: str) -> None:
    """Serial numbers of 2000 to 2099: 36526 is 1 January 2000, 73050 the last day of 2099."""
    given = "10 mbar", "11 mbar", "12 mbar"
    said = ""
    try:
        gasfuncs.GAS_RISE_VERDICT(times, list(given), 1, "1 mbar L/s")
    except gasfuncs.GasFuncsError as error:
        said = str(error)
    assert ("look like dates" in said) == bool(are), said
