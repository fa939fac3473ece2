"""Every candidate of the models of a pressure rise, against least squares by NumPy and calculus."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from gasfuncs.calculations import rise_models
from gasfuncs.calculations.rise_curve import Curve, curve_through
from gasfuncs.calculations.rise_models import (
    AGES,
    EXPONENTS,
    NONE,
    ONE,
    POWER,
    SHAPES,
    TAUS,
    TWO,
    UNKNOWNS,
    Record,
    Tried,
    columns,
    moved,
    tried,
)

U = np.linspace(0, 1, 15) ** 1.5
RISE = 2 + 0.4 * U - 0.3 * np.expm1(-U / 0.03) - 0.5 * np.expm1(-U / 0.4)
SOME = {
    NONE: [], ONE: [0.3], POWER: [0.2, 0.75], TWO: [0.05, 0.6],
}  # fmt: skip


@pytest.fixture(scope="module")
def record() -> Record:
    return Record(U, RISE + np.random.default_rng(3).normal(0, 0.01, len(U)))


@pytest.fixture(scope="module")
def candidates(record: Record) -> dict[str, list[Tried]]:
    return tried(record, two=True)


@pytest.mark.parametrize("model", [NONE, ONE, POWER, TWO])
def test_candidates_are_least_squares(
    model: str, record: Record, candidates: dict[str, list[Tried]]
) -> None:
    """With their derivatives or without, against NumPy's; the sizes move with the leak as the
    covariance says."""
    for each in candidates[model]:
        for place in np.linspace(0, len(each.squares) - 1, 7).astype(int):
            f = columns(model, U, each.constants[place])
            taken = [*range(each.shape.amplitudes)]
            taken += [each.shape.amplitudes + k for k in each.shape.reaching_for]
            design = np.column_stack([np.ones_like(U), U, *(f[k] for k in taken)])
            if np.linalg.cond(design / np.linalg.norm(design, axis=0)) > 1e5:
                continue
            found = np.linalg.lstsq(design, record.p, rcond=None)[0]
            left = record.p - design @ found
            covariance = np.linalg.inv(design.T @ design)
            assert each.squares[place] == pytest.approx(left @ left, rel=1e-6)
            assert each.leak[place] == pytest.approx(found[1], rel=1e-6)
            assert each.variance[place] == pytest.approx(covariance[1, 1], rel=1e-6)
            assert each.sizes[place] == pytest.approx(found[2:], rel=1e-6)
            assert each.tilt[place] == pytest.approx(covariance[2:, 1] / covariance[1, 1], rel=1e-6)


@pytest.mark.parametrize("constants", [[0.2, 0.75], [0.2, 1.0], [0.2, 1.00005], [3.0, 1.4]])
def test_the_power_law_is_its_integral(constants: list[float]) -> None:
    """∫ (1 + s/age)^-α ds by Gauss and Legendre."""
    age, exponent = constants
    nodes, weights = np.polynomial.legendre.leggauss(60)
    due = [u / 2 * weights @ (1 + u / 2 * (nodes + 1) / age) ** -exponent for u in U]
    assert columns(POWER, U, np.array(constants))[0] == pytest.approx(due, rel=1e-10)


@pytest.mark.parametrize(
    ("model", "constants"),
    [*SOME.items(), (POWER, [0.2, 1.0]), (POWER, [0.2, 1.00005]), (POWER, [0.2, 0.9998])],
)
def test_derivatives_are_what_a_moved_constant_changes(model: str, constants: list[float]) -> None:
    at, step, count = np.array(constants), 1e-4, len(constants)
    f = columns(model, U, at)
    assert len(f) == UNKNOWNS[model] - 2
    for k, direction in enumerate(step * np.eye(count)):
        above, below = (columns(model, U, moved(model, at, by)) for by in (direction, -direction))
        owner = min(k, len(f) - count - 1)
        slope = (above[owner] - below[owner]) / (2 * step)
        assert f[len(f) - count + k] == pytest.approx(slope, rel=1e-7, abs=1e-10)


def test_constants_stay_within_what_is_tried() -> None:
    """From 1/250 of the record to 20 lengths; of two stages the slower to the record's length."""
    far = np.array([99.0, 9.0])
    assert moved(ONE, np.array([0.5]), -far[:1]) == pytest.approx([0.004])
    assert 18 < moved(ONE, np.array([0.5]), far[:1])[0] <= 20
    assert moved(TWO, np.array([0.1, 0.5]), far) == pytest.approx([1.0, 1.0])
    assert moved(TWO, np.array([0.1, 0.5]), -far) == pytest.approx([0.004, 0.004])
    assert moved(POWER, np.array([0.5, 1.0]), -far) == pytest.approx([0.004, 0.5])
    oldest, steepest = moved(POWER, np.array([0.5, 1.0]), far)
    assert 8 < oldest <= 10
    assert steepest == pytest.approx(1.5)


def test_a_derivative_may_move_its_constant_by_a_step_of_the_grid() -> None:
    [step] = SHAPES[ONE].reach
    assert np.diff(np.log(TAUS)) == pytest.approx(step)
    assert SHAPES[TWO].reach == (step, step)
    assert np.diff(np.log(AGES)) == pytest.approx(SHAPES[POWER].reach[0])
    assert np.diff(EXPONENTS) == pytest.approx(SHAPES[POWER].reach[1])
    assert SHAPES[POWER].reach[0] == 2 * step


def test_two_stages_are_three_steps_apart_or_more() -> None:
    fast, slow = rise_models._pairs()
    assert (slow - fast).min() == 3
    assert 0.01 <= TAUS[fast].min() < TAUS[1] / TAUS[0] * 0.01
    assert TAUS[slow].max() <= 1 < TAUS[slow.max() + 1]


def candidate(shape: Any, sizes: list[float], **more: Any) -> Tried:
    known: dict[str, Any] = {
        "constants": np.array([[0.5, 1.0]]), "squares": np.array([3.0]), "leak": np.array([2.0]),
        "variance": np.array([4.0]), "tilt": np.zeros((1, len(sizes))),
    }  # fmt: skip
    return Tried(shape, sizes=np.array([sizes]), **(known | more))


@pytest.mark.parametrize(
    ("sizes", "may"),
    [([2.0, 0.2], True), ([2.0, -0.2], True), ([2.0, 0.21], False), ([2.0, -0.21], False),
     ([-1.0, 0.0], False), ([0.0, 0.0], True)],
)  # fmt: skip
def test_no_amplitude_is_negative_and_no_constant_moves_by_more_than_a_step(
    sizes: list[float], may: bool
) -> None:
    assert candidate(SHAPES[ONE].reaching((0,)), sizes).possible().tolist() == [may]


def test_derivatives_move_the_constants_that_they_are_of() -> None:
    power = candidate(SHAPES[POWER].reaching((0, 1)), [2.0, 0.2, 0.1])
    assert power.constants_at(0) == pytest.approx([0.5 * math.exp(0.1), 1.05])
    second = candidate(
        SHAPES[TWO].reaching((1,)), [2.0, 4.0, 0.2], constants=np.array([[0.1, 0.5]])
    )
    assert second.constants_at(0) == pytest.approx([0.1, 0.5 * math.exp(0.05)])


def test_a_leak_is_within_where_its_squares_and_its_amplitudes_allow() -> None:
    """Squares grow by (leak - best)²/variance; an amplitude moves by the tilt for each leak."""
    shape = SHAPES[ONE].reaching(())
    assert candidate(shape, [1.0]).range_within(3.0) == (2.0, 2.0)
    assert candidate(shape, [1.0]).range_within(2.9) == (math.inf, -math.inf)
    assert candidate(shape, [1.0]).range_within(4.0) == (0.0, 4.0)
    gentle, steep = np.array([[-0.25]]), np.array([[-0.75]])
    assert candidate(shape, [1.0], tilt=gentle).range_within(4.0) == (0.0, 4.0)
    assert candidate(shape, [1.0], tilt=steep).range_within(4.0) == (0.0, -math.inf)


@pytest.mark.parametrize("u", [0.0, 0.3, 1.0])
def test_the_error_of_a_rate_is_that_of_its_derivatives(u: float) -> None:
    """b/τ e^(-u/τ) and b (1 + u/t₀)^-α, by hand; independent errors of 1."""
    one = Curve(
        ONE, np.array([0.3]), 0.0, 0.5, np.array([2.0]), 1.0, np.zeros(1), np.diag([9.0, 1, 1, 1])
    )
    rate = math.exp(-u / 0.3) / 0.3
    due = [rate, 2 * rate * (u / 0.3 - 1)]
    assert one.error_of_rate(u, 0.0) == pytest.approx(math.hypot(*due), rel=1e-5)
    assert one.error_of_rate(u, 1.0) == pytest.approx(math.hypot(1, *due), rel=1e-5)
    power = Curve(
        POWER, np.array([0.2, 0.75]), 0.0, 0.5, np.array([2.0]), 1.0, np.zeros(2), np.eye(5)
    )
    since = 1 + u / 0.2
    due = [since**-0.75, 2 * 0.75 * u / 0.2 * since**-1.75, 2 * since**-0.75 * math.log(since)]
    assert power.error_of_rate(u, 0.0) == pytest.approx(math.hypot(*due), rel=1e-5)


STAGES = {ONE: (0.8, 0.03, [10, 31]), TWO: (0.3, 1e-3, [16, 26, 34])}
"""Time constant and scatter of simulated records, and their seeds: some have two valleys."""


@pytest.mark.parametrize(("model", "seed"), [(m, seed) for m in STAGES for seed in STAGES[m][2]])
def test_a_curve_comes_as_near_as_its_best_candidate(model: str, seed: int) -> None:
    """To 2 %: derivatives promise a little more than the curves keep."""
    tau, size, _ = STAGES[model]
    u = np.linspace(0, 1, 40 if model == ONE else 25) ** 2
    noise = np.random.default_rng(seed).normal(0, size, len(u))
    record = Record(u, 0.5 * u - 0.5 * np.expm1(-u / tau) + noise)
    candidates = tried(record, two=model == TWO)[model]
    best = min(np.min(each.squares[each.possible()], initial=np.inf) for each in candidates)
    curve = curve_through(record, candidates)
    assert curve
    assert curve.squares <= 1.02 * best
