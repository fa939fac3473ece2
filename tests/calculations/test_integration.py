"""Radau collocation: its printed constants, its steps by Padé, rows that end, rest or are lost."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from gasfuncs.calculations import integration
from gasfuncs.calculations.integration import Course, Ends, Problem, Tried, integrate, radau

ROOT = math.sqrt(6)


def never(course: Course) -> Any:
    return np.zeros(len(course.rows), bool)


def run(
    rates: Any, start: Any, remaining: Any, step: Any, rested: Any = never, seen: Any = None,
    scale: Any = 1.0,
) -> Ends:  # fmt: skip
    start = np.array(start, float)
    first = np.broadcast_to(np.asarray(step, float), len(start)).copy()
    problem = Problem(rates, remaining, rested, np.broadcast_to(scale, start.shape))
    return integrate(problem, start, first, lambda: None, seen)


def decay(_: Any, __: Any, state: Any) -> Any:
    return -state


def below(limit: Any) -> Any:
    return lambda rows, state: state[..., 0] - np.array(limit, float)[rows]


def test_constants_are_those_that_hairer_and_wanner_print() -> None:
    """Radau IIA of two and three points (IV.5, tables 5.5 and 5.6), its γ (IV.8); from memory."""
    assert radau(2).points == pytest.approx([1 / 3, 1])
    assert radau(2).integrals == pytest.approx(np.array([[5 / 12, -1 / 12], [3 / 4, 1 / 4]]))
    three = radau(3)
    assert three.points == pytest.approx([(4 - ROOT) / 10, (4 + ROOT) / 10, 1])
    assert three.integrals[-1] == pytest.approx([(16 - ROOT) / 36, (16 + ROOT) / 36, 1 / 9])
    assert three.gamma == pytest.approx(1 / (3 + 3 ** (2 / 3) - 3 ** (1 / 3)))
    assert radau(2).at_start == pytest.approx([3 / 2, -1 / 2])
    assert three.slopes @ three.integrals == pytest.approx(np.eye(3))


def one_step(
    rate: float, length: float, scale: float = 1.0, rates: Any = None
) -> tuple[Tried, int]:
    """A step of ẏ = `rate` y from 1, or of other rates."""
    given = rates or (lambda _, __, state: rate * state)
    problem = Problem(given, below([0.0]), never, np.full((1, 1), scale))
    course = Course(
        np.array([0]), np.zeros(1), np.ones((1, 1)), np.full((1, 1), rate), np.array([length]),
        np.array([0]),
    )  # fmt: skip
    return integration._tried(problem, course)


def pade_side(z: float, own: int, other: int) -> float:
    """Numerator of the exponential's Padé approximant of these degrees; denominator at -z."""
    both = own + other
    return sum(math.comb(own, k) / math.perm(both, k) * z**k for k in range(own + 1))


@pytest.mark.parametrize("z", [-30.0, -3.0, -0.1, 0.5])
def test_a_step_is_the_pade_approximant_of_the_exponential(z: float) -> None:
    """Of degrees s - 1 and s, for s points: Hairer and Wanner, IV.3, theorem 3.2 (from memory)."""
    tried, _ = one_step(z / 0.2, 0.2)
    exponential = pade_side(z, 4, 5) / pade_side(-z, 5, 4)
    assert 1 + tried.increments[0, -1, 0] == pytest.approx(exponential, rel=1e-7, abs=1e-9)
    assert tried.rates[0, :, 0] == pytest.approx(
        z / 0.2 * (1 + tried.increments[0, :, 0]), rel=1e-6
    )


def test_the_error_of_a_step_by_hand() -> None:
    """What the polynomial through the rates says at the start is off, damped by 1 - h γ λ."""
    rate, length, scale = -8.0, 0.25, 2.0
    tried, _ = one_step(rate, length, scale)
    through = np.polynomial.Polynomial.fit(radau().points, tried.rates[0, :, 0], 4)
    reach = radau().gamma * length
    error = abs(reach * (rate - through(0.0)) / (1 - reach * rate)) / scale / 1e-6
    assert tried.error[0] == pytest.approx(error, rel=1e-5)


def test_every_row_and_quantity_meets_the_equation_at_the_points_of_a_step() -> None:
    """Of one row nothing moves but the second quantity, the other is linear and found at once."""

    def rates(rows: Any, _: Any, state: Any) -> Any:
        y, z = np.moveaxis(state, -1, 0)
        linear = (np.asarray(rows) == 1)[:, None]
        return np.stack([0 * y, np.where(linear, -z, -5 * z**3)], axis=-1)

    start, rows = np.ones((2, 2)), np.arange(2)
    problem = Problem(rates, below([0.0, 0.0]), never, start)
    first = rates(rows, None, start[:, None])[:, 0]
    course = Course(rows, np.zeros(2), start, first, np.full(2, 0.3), 0 * rows)
    tried, _ = integration._tried(problem, course)
    assert np.isfinite(tried.error).all()
    found = rates(rows, None, 1 + tried.increments)
    assert tried.rates == pytest.approx(found, rel=1e-7, abs=1e-12)


def test_a_step_whose_points_are_not_found_is_infinitely_off() -> None:
    """Where nothing is known beyond, and where each round leads further away."""

    def unknown(_: Any, __: Any, state: Any) -> Any:
        return np.where(state < 0.9, np.nan, -state)

    def cusp(_: Any, __: Any, state: Any) -> Any:
        return -1e6 * np.sign(state) * np.abs(state) ** 0.25

    for rates in (unknown, cusp):
        tried, calls = one_step(-1.0, 1.0, rates=rates)
        assert tried.error[0] == np.inf
        assert calls < 10


def test_rows_of_all_lengths_end_where_they_are_by_hand() -> None:
    """e⁻ᵗ, and each row as if it were alone."""
    limits = np.array([0.9, 0.5, 1e-2, 1e-4])
    ends = run(decay, np.ones((4, 1)), below(limits), 0.05)
    assert ends.time == pytest.approx(-np.log(limits), rel=1e-6)
    assert ends.state[:, 0] == pytest.approx(limits, rel=1e-13)
    assert ends.rate[:, 0] == pytest.approx(-limits, rel=1e-6)
    assert ends.reached.all()
    assert not ends.stuck.any()
    alone = [run(decay, [[1.0]], below([limit]), 0.05).time[0] for limit in limits]
    assert ends.time == pytest.approx(alone, rel=1e-9)


def test_a_row_ends_where_nothing_remains_first() -> None:
    """Between the roots of t² - 0.7 t + 0.1, 0.2 and 0.5, it is negative, and not after them."""

    def rates(_: Any, time: Any, state: Any) -> Any:
        return np.broadcast_to((2 * time - 0.7)[..., None], state.shape)

    ends = run(rates, [[0.1]], below([0.0]), 1.0)
    assert ends.time[0] == pytest.approx(0.2, rel=1e-9)
    soon = run(rates, [[0.0104]], below([-1e-3]), 1.0)
    assert soon.time[0] == pytest.approx(0.35 - (0.35**2 - 0.0114) ** 0.5, rel=1e-9)
    late = run(rates, [[0.1]], below([-1.0]), 0.1, lambda course: course.time > 3)
    assert late.state[0, 0] == pytest.approx(late.time[0] ** 2 - 0.7 * late.time[0] + 0.1)
    assert not late.reached[0]
    assert not late.stuck[0]


def test_the_unit_of_a_quantity_does_not_matter() -> None:
    """A power of two more or less of it changes no digit, nor the work."""

    def rates(_: Any, time: Any, state: Any) -> Any:
        return -(state**2) / unit - unit * np.sin(time)[..., None]

    found = []
    for unit in (1.0, 2.0**20, 2.0**-20):
        ends = run(rates, [[unit]], below([unit / 8]), 0.5, scale=unit)
        found.append((ends.time[0], ends.state[0, 0] / unit, ends.calls))
    assert found[0] == found[1] == found[2]


def test_a_row_that_finds_no_way_further_is_told_from_those_that_do() -> None:
    """ẏ = -1/√(y - ½) is at ½ after ⅔ (½)^1.5, and nothing is known beyond."""

    def rates(_: Any, __: Any, state: Any) -> Any:
        with np.errstate(invalid="ignore", divide="ignore"):
            return -1 / np.sqrt(state - 0.5)

    ends = run(rates, [[1.0], [1.0]], below([0.4, 0.6]), 0.01)
    assert ends.stuck.tolist() == [True, False]
    assert ends.reached.tolist() == [False, True]
    assert ends.time[0] == pytest.approx(2 / 3 * 0.5**1.5, rel=1e-4)
    assert ends.time[1] == pytest.approx(2 / 3 * (0.5**1.5 - 0.1**1.5), rel=1e-6)
    near = run(rates, [[1.0]], below([0.5 + 1e-6]), 0.1)
    assert near.reached[0]
    assert near.time[0] == pytest.approx(2 / 3 * 0.5**1.5, rel=1e-6)

    def ending(_: Any, __: Any, state: Any) -> Any:
        return np.where(state < 0.5, np.nan, -1.0)

    edge = run(ending, [[1.0], [1.0]], below([0.4, 0.6]), 0.01)
    assert edge.stuck.tolist() == [True, False]
    assert edge.time == pytest.approx([0.5, 0.4], rel=1e-6)


@pytest.mark.parametrize("first", [1e-6, 0.1, 50.0])
def test_any_first_step_does_and_few_evaluations_are_needed(first: float) -> None:
    """A stiff pair in which the first follows the second, 1/(1 + t). SciPy's Radau, of three
    points, takes more than four times the steps for it."""

    def rates(_: Any, __: Any, state: Any) -> Any:
        y, z = np.moveaxis(state, -1, 0)
        return np.stack([-1e4 * (y - z) - z**2, -(z**2)], axis=-1)

    def scipys(time: float, state: Any) -> Any:
        return rates(None, time, state)

    steps = list[float]()
    ends = run(
        rates, [[1.0, 1.0]], lambda _, state: state[..., 1] - 0.1, first,
        seen=lambda course, _: steps.extend(course.step),
    )  # fmt: skip
    theirs = solve_ivp(scipys, (0, 9), [1.0, 1.0], "Radau", rtol=1e-7, atol=1e-9)
    assert ends.time[0] == pytest.approx(9, rel=1e-6)
    assert ends.state[0] == pytest.approx([0.1, 0.1], rel=5e-6)
    assert sum(steps) > 9
    assert len(steps) < len(theirs.t) / 4
    assert len(steps) < ends.calls < len(theirs.t)
