"""Physics of the topic purge that no single formula shows."""

from __future__ import annotations

import contextlib
import math

import numpy as np
import pytest

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import purge
from gasfuncs.calculations.vacuum_line import (
    VacuumLine,
)
from gasfuncs.definition import recorded

AIR = properties.gas("air")
T = 293.15


def line(bore: float, length: float) -> VacuumLine:
    mu = float(properties.viscosity(AIR, 1e5, T))
    return VacuumLine(bore, length, mu, properties.molar_mass(AIR), T)


def test_count_is_the_smallest_that_meets_the_target() -> None:
    random = np.random.default_rng(7)
    for _ in range(300):
        low, high = np.sort(random.uniform(0.01, 5, 2)) * 1e5
        supply, target, start = np.sort(10 ** random.uniform(-6, -0.5, 3))
        mixing = random.uniform(0.3, 1)
        count = purge.vent_fill_count(low, high, start, target, supply, mixing)
        left = [
            purge.vent_fill_residual(n, low, high, start, supply, mixing)
            for n in (count - 1, count)
        ]
        assert left[1] <= target * (1 + 2e-9)
        assert left[0] > target


@pytest.mark.parametrize("ratio", [2, 3, 5, 7, 10, 19])
@pytest.mark.parametrize("cycles", range(1, 9))
def test_a_target_hit_exactly_takes_no_further_cycle(ratio: int, cycles: int) -> None:
    for supply in (0.0, 1e-6, 3.7e-5):
        start = supply + 0.2
        target = supply + 0.2 / ratio**cycles
        assert purge.vent_fill_count(1e5 / ratio, 1e5, start, target, supply) == cycles


@pytest.mark.parametrize(
    ("low", "high", "start", "target", "printed", "within"),
    [
        (0.5, 1, 0.21, 0.01, 4.4, 0.05),  # Branan, seen in print
        (6 / 760, 1, 0.21, 5e-6, 2.20, 0.005),  # a worked answer after Branan, seen
        (20 / 760, 1, 0.21, 1e-6, 3.37, 0.005),  # Crowl and Louvar, ch. 7, from memory
        (0, 1, 0.21, 1e-6, 1, 0),  # a perfect vacuum leaves nothing after one fill
        (0.1, 1, 0.5e-6, 1e-6, 0, 0),  # clean enough at the start
    ],
)
def test_cycles_before_rounding_up(
    low: float, high: float, start: float, target: float, printed: float, within: float
) -> None:
    with recorded() as shown:
        purge.vent_fill_count(low * 101_325, high * 101_325, start, target)
    [exact] = [each.value for each in shown if each.what == "cycles before rounding up"]
    assert float(exact) == pytest.approx(printed, abs=within + 1e-9)


def test_count_takes_a_column_at_once() -> None:
    targets = np.array([0.3, 0.03, 0.003])
    assert np.asarray(purge.vent_fill_count(1e4, 1e5, 0.3, targets)).tolist() == [0, 1, 2]


@pytest.mark.parametrize("target", ["1 %", 100])
def test_the_table_ends_with_the_cycle_that_meets_the_target(target: str | float) -> None:
    swing = ("1 atm", "5 atm", "21 %", target)
    count = gasfuncs.GAS_VENT_FILL_COUNT(*swing)
    rows = gasfuncs.GAS_VENT_FILL_TABLE("nitrogen", 1, *swing)
    assert [row[0] for row in rows[1:]] == list(range(int(count) + 1))


def test_a_hundred_thousand_cycles_are_told_and_one_more_is_not() -> None:
    def count(target: float) -> float:
        with contextlib.suppress(gasfuncs.GasFuncsError):
            return float(
                gasfuncs.GAS_VENT_FILL_COUNT(
                    "50 mbar", "1.2 bar(a)", "20.95 %", f"{target!r} ppm", 0, 1e-4
                )
            )
        return math.inf

    low, high = 0.1, 209_000.0
    assert count(low) == math.inf
    for _ in range(60):
        middle = math.sqrt(low * high)
        low, high = (low, middle) if count(middle) < math.inf else (middle, high)
    assert count(high) == 100_000
