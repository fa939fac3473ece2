"""What the fit of a pressure rise promises, and what leaks say of themselves."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from gasfuncs import properties
from gasfuncs.calculations import leak, pressure_rise
from gasfuncs.definition import recorded

LEAK, OUTGASSING, TAU = 1.0, 3.0, 1.0


def fits(length: float, scatter: float, readings: int, count: int) -> list[pressure_rise.RiseFit]:
    """Fits of simulated records of a known leak, with scatter."""
    random = np.random.default_rng(11)
    times = np.linspace(0, length, readings)
    clean = 10 + LEAK * times + OUTGASSING * (1 - np.exp(-times / TAU))
    return [
        pressure_rise.fit(times, clean + random.normal(0, scatter, readings)) for _ in range(count)
    ]


def covered(found: list[pressure_rise.RiseFit], errors: float) -> float:
    """Share of the leaks that lie within so many standard errors of the true one."""
    return float(np.mean([abs(f.leak.value - LEAK) <= errors * f.leak.error for f in found]))


@pytest.mark.parametrize(("length", "scatter"), [(5.0, 0.05), (3.0, 0.05), (2.0, 0.01)])
def test_standard_errors_cover_the_true_leak(length: float, scatter: float) -> None:
    found = fits(length, scatter, 40, 100)
    assert all(f.verdict == pressure_rise.TOLD_APART for f in found)
    assert covered(found, 2) >= 0.88
    assert 0.55 <= covered(found, 1) <= 0.85


def test_a_short_noisy_record_is_not_told_apart_but_bounded() -> None:
    found = fits(1.0, 0.05, 40, 100)
    honest = [f for f in found if f.verdict != pressure_rise.TOLD_APART]
    assert len(honest) >= 97
    assert all(f.leak.value + 2 * f.leak.error >= LEAK for f in honest)
    assert all(f.outgassing is None for f in honest)


def test_slow_outgassing_leaves_a_straight_line() -> None:
    random = np.random.default_rng(3)
    times = np.linspace(0, 5, 40)
    found = [
        pressure_rise.fit(times, 10 + times + random.normal(0, 0.05, 40)).verdict
        for _ in range(100)
    ]
    assert found.count(pressure_rise.NO_BEND) >= 96


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
        return leak.rise_curve(times, pressures)

    there, back = rows(np.arange(7)), rows(np.arange(7)[::-1])
    assert there == back
    assert len(there) == 6


def test_the_working_says_which_regime_was_used() -> None:
    helium, argon = properties.gas("helium"), properties.gas("argon")
    for rate, used in ((1e-8, "molecular"), (1e-4, "laminar")):
        with recorded() as steps:
            leak.leak_as(rate, helium, argon)
        assert str(next(s.value for s in steps if s.what == "regime used")) == used
