"""Bands of a pressure rise, each against a library or worked out by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import scipy.optimize
import scipy.stats

from gasfuncs.calculations import pressure_rise, rise_judging, tightness
from gasfuncs.calculations.pressure_rise import Estimate, fit
from gasfuncs.calculations.rise_curve import Curve
from gasfuncs.calculations.rise_models import NONE, ONE, POWER, TWO, Record
from gasfuncs.calculations.rise_weighing import Weighed
from gasfuncs.errors import OutOfRangeError
from tests.checks.tightness import NORRIS_X, NORRIS_Y

HOURS = np.linspace(0, 5, 25)
TOLD = 10 + HOURS + 3 * (1 - np.exp(-HOURS))


SCATTERS = [0.043, 0.044, 0.232, 0.24]
"""Of a gauge, with TOLD: its band is about half or three times as wide as the mean rise."""


def alone(model: str, squares: float) -> Curve:
    nothing = np.zeros(0)
    return Curve(model, nothing, 0.0, 0.0, nothing, squares, nothing, nothing)


def weighed(squares: dict[str, float], likeliest: str, finest: float = 1e-9) -> Weighed:
    """Models of known squares beside a record of 34 readings."""
    curves = {model: alone(model, value) for model, value in squares.items()}
    return Weighed(Record(np.linspace(0, 1, 34), np.zeros(34)), {}, curves, likeliest, finest)


@pytest.mark.parametrize(("chance", "fits"), [(0.021, True), (0.019, False)])
def test_a_model_fits_whose_misfit_has_a_chance_of_1_in_50(chance: float, fits: bool) -> None:
    """F test with one degree of freedom more, by SciPy: 30 are left of 34 readings and four."""
    misfit = scipy.stats.f.isf(chance, 1, 30) / 30
    found = weighed({NONE: 1 + misfit, ONE: 1.0}, ONE)
    assert found.chance(NONE) == pytest.approx(chance, rel=1e-6)
    assert (NONE in found.fitting) == fits


def test_the_scatter_is_no_finer_than_the_gauge() -> None:
    assert weighed({ONE: 30.0}, ONE).variance == pytest.approx(1.0)
    assert weighed({ONE: 30.0}, ONE, finest=3.0).variance == pytest.approx(9.0)


def test_of_models_the_one_with_the_fewest_stages_is_shown() -> None:
    squares = {TWO: 0.97, POWER: 0.98, ONE: 0.99, NONE: 1.0}
    assert weighed(squares, ONE).fitting == (NONE, POWER, ONE, TWO)


def rise_with_its_rate(at: float) -> Any:
    """A rise told by the rate of its outgassing at some time."""

    def law(t: Any, start: float, leak: float, rate: float, tau: float) -> Any:
        return start + leak * t - rate * math.exp(at / tau) * tau * np.expm1(-t / tau)

    return law


@pytest.mark.parametrize("at", [0.0, 5.0])
def test_time_constant_and_rates_have_the_errors_that_scipy_finds(at: float) -> None:
    pressures = TOLD + np.random.default_rng(6).normal(0, 0.02, len(HOURS))
    found = fit(HOURS, pressures)
    assert (found.model, found.freedom) == (ONE, 21)
    first = [10, 1, 3 * math.exp(-at), 1]
    values, covariance = scipy.optimize.curve_fit(rise_with_its_rate(at), HOURS, pressures, first)
    rate = found.outgassing_end if at else found.outgassing
    for mine, value, variance in zip(
        (rate, found.time_constant), values[2:], np.diag(covariance)[2:], strict=True
    ):
        half = scipy.stats.t.ppf(0.975, 21) * math.sqrt(variance)
        assert mine
        assert mine.value == pytest.approx(value, rel=1e-5)
        assert mine.error == pytest.approx(math.sqrt(variance), rel=1e-4)
        assert (mine.low, mine.high) == pytest.approx((value - half, value + half), rel=1e-4)


def test_outgassing_is_not_below_nothing() -> None:
    known = weighed({ONE: 30.0}, ONE)
    assert pressure_rise._within(known, 0.5, 1.0).low == 0.0


def mean_and_width(found: pressure_rise.RiseFit, pressures: np.ndarray) -> tuple[float, float]:
    """Slope of the straight line through a record, by SciPy, and the band that all models allow."""
    allowed = [rival.leak for rival in found.rivals if rival.leak]
    width = max(each.high for each in allowed) - min(each.low for each in allowed)
    return float(scipy.stats.linregress(HOURS, pressures).slope), width


def test_a_leak_of_three_and_a_third_standard_errors_is_seen() -> None:
    """3.29 of them (ISO 11843, memory: errors of 5 % of both kinds), 3.92 in the band."""
    found = fit(HOURS, TOLD)
    _, width = mean_and_width(found, TOLD)
    assert found.verdict == pressure_rise.TOLD_APART
    assert found.detectable == pytest.approx(3.29 / (2 * 1.96) * width)
    assert found.leak.error == pytest.approx(width / 2 / scipy.stats.t.ppf(0.975, found.freedom))
    assert found.scatter == pytest.approx(0, abs=1e-9)


def test_a_band_of_half_the_rise_tells_apart_and_one_of_three_times_a_leak_of_some_size() -> None:
    """The gauge's scatter makes the band as wide as one likes."""
    for scatter in SCATTERS:
        found = fit(HOURS, TOLD, scatter)
        mean, width = mean_and_width(found, TOLD)
        half, three = width <= 0.5 * mean, width <= 3 * mean
        assert found.verdict == (pressure_rise.TOLD_APART if half else pressure_rise.TOO_SHORT)
        assert (found.time_constant is None) == (not half)
        due = pytest.approx(3.29 / 3.92 * width) if three else None
        assert found.detectable == due


def test_readings_that_wander_and_a_rise_that_quickens_are_told_from_each_other() -> None:
    wave = 0.3 * np.sin(2 * np.pi * HOURS / 1.5)
    assert fit(HOURS, TOLD + wave).verdict == pressure_rise.WANDERS
    noise = np.random.default_rng(1).normal(0, 1.0, len(HOURS))
    assert fit(HOURS, 10 + HOURS**2 + noise).verdict == pressure_rise.BENDS_UP


def test_the_scatter_is_a_5000th_of_the_rise_at_the_least() -> None:
    size = float(np.ptp(TOLD))
    high = fit(HOURS, TOLD).leak.high
    assert fit(HOURS, TOLD, size / 5001).leak.high == high
    assert fit(HOURS, TOLD, 1.05 * size / 5000).leak.high != high


def test_a_long_record_is_averaged_in_200_groups() -> None:
    u = np.linspace(0, 1, 800) ** 2
    groups = pressure_rise._in_groups(Record(u, np.sqrt(u)))
    assert groups.u == pytest.approx(u.reshape(-1, 4).mean(axis=1))
    assert groups.p == pytest.approx(np.sqrt(u).reshape(-1, 4).mean(axis=1))
    assert len(pressure_rise._in_groups(Record(u[:799], u[:799])).u) == 799


def test_the_scatter_of_a_straight_rise_is_its_certified_residual() -> None:
    """NIST Statistical Reference Datasets, Norris: 0.884796396144373 (in SciPy's tests)."""
    times, pressures = (
        np.array([float(each) for each in text[1:-1].split(";")]) for text in (NORRIS_X, NORRIS_Y)
    )
    order = np.argsort(times, kind="stable")
    assert fit(times[order], pressures[order]).scatter == pytest.approx(0.884796396144373)


def test_what_all_readings_share_widens_a_band_by_its_square() -> None:
    """Around the value, or the end of its band that is nearer."""
    widened = rise_judging._widened
    further = 1.96 * 0.5
    low, high = widened(Estimate(3, 1, 2, 5), 0.1, 0.4)
    assert (low, high) == pytest.approx((3 - math.hypot(1, further), 3 + math.hypot(2, further)))
    beyond = 1.96 * math.hypot(0.5, 0.4)
    low, high = widened(Estimate(7, 1, 2, 5), 0.1, 0.4)
    assert (low, high) == pytest.approx((5 - math.hypot(3, beyond), 5 + beyond))
    beyond = 1.96 * math.hypot(0.2, 0.4)
    low, high = widened(Estimate(1, 1, 2, 5), 0.1, 0.4)
    assert (low, high) == pytest.approx((2 - beyond, 2 + math.hypot(3, beyond)))
    assert widened(Estimate(3, 1, 0, 5), 0, 9)[0] == 0.0
    assert widened(Estimate(3, 1, 0.5, 5), 0, 9)[0] == 0.0
    assert widened(Estimate(-3, 1, -4, -2), 0, 9)[0] == pytest.approx(-3 - math.hypot(1, 1.96 * 9))


def test_above_50_bar_a_gas_is_named_for_every_row() -> None:
    pressures = np.array([40e5, 60e5])
    with pytest.raises(OutOfRangeError, match="name the gas"):
        tightness.decay_leak(1.0, pressures, 293.15, np.full(2, 39e5), 293.15, 3600.0)
