"""How errors go through a calculation, worked out by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from gasfuncs.calculations import propagation
from gasfuncs.calculations.propagation import (
    Answer,
    Array,
    Band,
    Reading,
    first_order,
    gathered,
    simulated,
    slopes,
)
from gasfuncs.definition.tolerances import Part

ONE = Part(0.0, 1.0)


def test_errors_of_a_reading_add_as_squares() -> None:
    assert Reading(10.0, (Part(0.0, 3.0), Part(0.0, 4.0))).uncertainty == pytest.approx(5)


def test_a_slope_is_that_of_the_function() -> None:
    readings = [Reading(2.0, (ONE,)), Reading(5.0), Reading(1e9, (ONE,))]
    found = slopes(lambda x: 3 * x[0] ** 2 - x[1] - x[2], readings)
    assert found == pytest.approx([12 - 5 - 1e9, 12, 0, -1])


def test_a_step_is_a_hundredth_of_the_error_or_a_millionth_of_the_reading() -> None:
    assert propagation._step(Reading(2.0, (ONE,)), 0.01) == pytest.approx(0.01)
    assert propagation._step(Reading(-1e6, (ONE,)), 0.01) == pytest.approx(1.0)
    assert propagation._step(Reading(2.0), 0.01) == 0.0


def test_an_answer_without_error_has_all_degrees_of_freedom() -> None:
    band = first_order(7.0, np.zeros(1), np.array([3.0]))
    assert (band.low, band.high, band.freedom) == (7, 7, math.inf)


def answer(u: float, end: float, low: float, high: float, freedoms: Any = (math.inf,)) -> Answer:
    """A first order of some uncertainty and ends, and even trials with 95 % ends of their own."""
    middle, half = (low + high) / 2, (high - low) / 2 / 0.95
    trials = np.linspace(middle - half, middle + half, 2001)
    nothing = np.zeros(0)
    return Answer(Band(0.0, u, -end, end), trials, np.array(freedoms), nothing, nothing)


@pytest.mark.parametrize(
    ("found", "differ"),
    [
        (answer(1.0, 2.0, -2.055, 2.055), False),  # their own uncertainty is 1.25
        (answer(1.0, 2.0, -2.066, 2.066), True),
        (answer(2.0, 2.0, -2.08, 2.08), False),  # a twentieth of 2
        (answer(1.0, 2.0, -2.0, 2.2), True),
        (answer(0.5, 2.0, -2.045, 2.045, [1.0]), False),  # none of their own: a quarter of 4.09
        (answer(0.5, 2.0, -2.06, 2.06, [1.0]), True),
        (answer(0.0, 0.0, -1e-3, 1e-3), True),
        (answer(1e-3, 2e-3, -2.2e-3, 2.2e-3, [1.0]), True),
        (Answer(Band(0.0, 1.0, -2.0, 2.0), None, np.zeros(0), np.zeros(0), np.zeros(0)), False),
    ],
)
def test_bands_differ_by_more_than_a_twentieth_of_the_uncertainty(
    found: Answer, differ: bool
) -> None:
    assert found.differ == differ


@pytest.mark.parametrize(
    ("freedoms", "has"),
    [([2.0], False), ([2.5], True), ([2.0, math.inf], False), ([math.inf, math.inf], True)],
)
def test_students_t_of_two_has_no_standard_deviation(freedoms: list[float], has: bool) -> None:
    trials = answer(1.0, 2.0, -2.0, 2.0, freedoms).trials
    assert trials
    assert (trials.uncertainty is not None) == has


@pytest.mark.parametrize(("readings", "block"), [(1, 8192), (500, 4000)])
def test_trials_are_asked_in_blocks(readings: int, block: int) -> None:
    """Of 8192, and of two million numbers in all at the most."""
    some = [Reading(1.0, (Part(0.0, 1.0, "gauge"),))] * readings
    sizes: list[int] = []

    def function(points: Array) -> Array:
        sizes.append(points.shape[1])
        return np.asarray(points[0])

    assert len(simulated(function, some, gathered(some), count=9000)) == 9000
    assert sizes == [block] * (9000 // block) + [9000 % block]
