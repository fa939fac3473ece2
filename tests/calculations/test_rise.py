"""The parts that a pressure rise is fitted and judged with, each against a rule of its own."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import scipy.optimize
import scipy.stats
from statsmodels.stats.stattools import durbin_watson

from gasfuncs.calculations.rise_curve import Curve
from gasfuncs.calculations.rise_models import NONE, ONE, POWER, TWO, Record, moved, tried
from gasfuncs.calculations.rise_weighing import Weighed, weigh


def scatter(count: int, size: float = 1.0, seed: int = 17) -> Any:
    return np.random.default_rng(seed).normal(0, size, count)


def curve(model: str, constants: list[float], amplitudes: list[float], **more: Any) -> Curve:
    known = {"start": 0.0, "leak": 0.0, "squares": 1.0} | more
    nothing = np.zeros(0)
    return Curve(
        model, np.array(constants), amplitudes=np.array(amplitudes), move=nothing,
        covariance=nothing, **known,
    )  # fmt: skip


def record_of(residuals: Any) -> Record:
    return Record(np.linspace(0, 1, len(residuals)), np.asarray(residuals, float))


def follows_itself(residuals: Any, finest: float = 1e-9) -> bool:
    weighed = Weighed(record_of(residuals), {}, {NONE: curve(NONE, [], [])}, NONE, finest)
    return weighed.wanders


@pytest.mark.parametrize("count", [10, 11, 14, 40])
def test_residuals_wander_as_durbin_and_watson_say(count: int) -> None:
    """Their ratio has mean 2 and variance 4 (n - 2)/(n² - 1) for scatter (von Neumann 1941,
    memory); 1 in 1000 lies 3.1 deviations below."""
    deviation = np.sqrt(4 * (count - 2) / (count**2 - 1))
    seen = []
    for periods in np.linspace(0.3, count / 2, 60):
        residuals = np.cos(2 * np.pi * periods * np.linspace(0, 1, count))
        score = (durbin_watson(residuals) - 2) / deviation
        assert follows_itself(residuals) == (score < -3.1), (periods, score)
        seen.append(score < -3.1)
    assert {*seen} == {True, False}


def test_scatter_does_not_wander_and_less_than_the_gauge_tells_is_no_matter() -> None:
    assert sum(follows_itself(scatter(25, seed=seed)) for seed in range(300)) <= 3
    wave = np.sin(np.linspace(0, 6, 40))
    assert follows_itself(wave)
    assert not follows_itself(wave, finest=1.0)
    assert not follows_itself(wave[:9])


def test_less_than_the_gauge_tells_is_a_mean_square() -> None:
    """A wave of this many has a mean square of one half, and of 0.7071 in the root."""
    wave = np.sin(np.linspace(0, 2 * np.pi, 40, endpoint=False))
    assert follows_itself(wave, finest=0.70)
    assert not follows_itself(wave, finest=0.72)


def test_residuals_are_what_the_curve_leaves() -> None:
    """Of scatter about a line and about a rise that dies away."""
    u, left = np.linspace(0, 1, 40), scatter(40)
    assert not follows_itself(left)
    line = curve(NONE, [], [], start=50.0, leak=70.0)
    assert not Weighed(Record(u, 50 + 70 * u + left), {}, {NONE: line}, NONE, 1e-9).wanders
    one = curve(ONE, [0.3], [60.0], start=50.0, leak=70.0)
    rise = 50 + 70 * u - 60 * np.expm1(-u / 0.3)
    assert not Weighed(Record(u, rise + left), {}, {ONE: one}, ONE, 1e-9).wanders


def straight(slope_in_errors: float) -> tuple[Weighed, Any]:
    """A straight line alone through 12 readings whose slope is so many of its standard errors."""
    u, left = np.linspace(0, 1, 12), scatter(12)
    line = scipy.stats.linregress(u, left)
    record = Record(u, left + (slope_in_errors * line.stderr - line.slope) * u)
    candidates = {NONE: tried(record, two=False)[NONE]}
    fitted = curve(NONE, [], [], leak=slope_in_errors * line.stderr)
    squares = float(candidates[NONE][0].squares[0])
    return Weighed(record, candidates, {NONE: replace(fitted, squares=squares)}, NONE, 1e-9), line


@pytest.mark.parametrize("slope", [-2.0, -1.0, 1.0])
def test_a_straight_line_has_the_band_and_the_bound_of_students_t(slope: float) -> None:
    """By SciPy's linregress; a bound below zero gives way to the end of the band."""
    weighed, line = straight(slope)
    two, one = scipy.stats.t.ppf([0.975, 0.95], 10)
    assert weighed.band == pytest.approx(
        ((slope - two) * line.stderr, (slope + two) * line.stderr), rel=1e-5
    )
    bound = slope + (one if slope + one > 0 else two)
    assert weighed.at_most == pytest.approx(bound * line.stderr, rel=1e-5)


def test_an_upper_bound_is_that_of_all_models_that_fit() -> None:
    rise = np.linspace(0, 1, 30) + scatter(30, 0.05)
    weighed = weigh(record_of(rise), 1e-6)
    alone = [
        replace(weighed, candidates={m: weighed.candidates[m]}, curves={m: weighed.curves[m]},
                likeliest=m)
        for m in weighed.fitting
    ]  # fmt: skip
    assert len(alone) > 1
    assert weighed.at_most > 1.01 * min(each.at_most for each in alone)


def upwards(chance: float, finest: float = 1e-9) -> Weighed:
    """A rise that quickens so much that scatter alone has about such a chance.

    An F test, with NumPy's least squares: the curve upwards has a time constant of 0.5 and so two
    unknowns more than the line.
    """
    u, left = np.linspace(0, 1, 30), scatter(30, 0.025)
    up = u + 0.5 * np.expm1(-u / 0.5)
    line = np.column_stack([np.ones_like(u), u])

    def squares(p: Any, design: Any) -> float:
        return float(np.linalg.lstsq(design, p, rcond=None)[1][0])

    def likely(size: float) -> float:
        p = u + size * up + left
        curved = min(
            squares(p, np.column_stack([line, np.exp(-u / tau)]))
            for tau in np.geomspace(0.05, 20, 20)
        )
        gain = (squares(p, line) - curved) / 2 / (curved / 26)
        return float(scipy.stats.f.sf(gain, 2, 26))

    size = scipy.optimize.brentq(lambda size: likely(size) - chance, 0, 1)
    return weigh(Record(u, u + size * up + left), finest)


def test_a_rise_quickens_where_scatter_alone_has_a_chance_under_1_in_50() -> None:
    assert upwards(0.018).quickens
    assert not upwards(0.1).quickens  # candidates come nearer than whole curves


def test_a_rise_does_not_quicken_by_less_than_its_gauge_tells() -> None:
    """The scatter is 0.025: a gauge of 0.02 is finer, one of 0.05 coarser."""
    assert upwards(1e-4, finest=0.015).quickens
    assert not upwards(1e-4, finest=0.05).quickens


def test_a_rise_that_slows_does_not_quicken() -> None:
    rise = 1 - np.exp(-np.linspace(0, 1, 30) / 0.3) + scatter(30, 0.01)
    assert not weigh(record_of(rise), 1e-9).quickens


def test_ten_readings_are_asked_for_two_stages_and_six_for_one() -> None:
    """Two degrees of freedom are left at the least to the model that the scatter is taken from."""
    u = np.linspace(0, 1, 10)
    rise = u - np.expm1(-u / 0.2)
    assert TWO in weigh(Record(u, rise), 1e-9).curves
    assert TWO not in weigh(Record(u[:9], rise[:9]), 1e-9).curves
    six = np.linspace(0, 1, 6)
    assert weigh(Record(six, six - np.expm1(-six / 0.2)), 1e-9).likeliest == ONE
    assert weigh(Record(six, six + np.log1p(six / 0.1)), 1e-9).likeliest != POWER


SHAPES = [(ONE, [0.3], [2.0]), (TWO, [0.05, 0.6], [1.0, 3.0]), (POWER, [0.2, 0.75], [1.5])]


@pytest.mark.parametrize(("model", "constants", "amplitudes"), SHAPES)
@pytest.mark.parametrize("u", [0.01, 0.3, 0.9])
def test_the_rate_of_outgassing_is_the_slope_of_what_it_adds(
    model: str, constants: list[float], amplitudes: list[float], u: float
) -> None:
    it, step = curve(model, constants, amplitudes), 1e-5
    before, after = it.dying(np.array([u - step, u + step]))
    assert it.outgassing(u) == pytest.approx((after - before) / (2 * step), rel=1e-6)


def test_without_outgassing_the_band_is_that_of_a_straight_line() -> None:
    """SciPy's linregress: the slope and its standard error."""
    record = record_of(3 * np.linspace(0, 1, 12) + scatter(12, 0.1))
    line = scipy.stats.linregress(record.u, record.p)
    [straight] = tried(record, two=False)[NONE]
    least, variance = straight.squares[0], straight.squares[0] / 10
    low, high = straight.range_within(least + variance * 2.228**2)
    assert low == pytest.approx(line.slope - 2.228 * line.stderr, rel=1e-9)
    assert high == pytest.approx(line.slope + 2.228 * line.stderr, rel=1e-9)


@pytest.fixture(scope="module")
def two_stages() -> Weighed:
    """A leak of 0.4 under gas that leaves in two stages; hardly any scatter."""
    u = np.linspace(0, 1, 40)
    rise = 0.4 * u - 0.3 * np.expm1(-u / 0.03) - 0.5 * np.expm1(-u / 0.4)
    return weigh(Record(u, rise + scatter(len(u), 1e-4)), 1e-6)


def test_two_stages_are_found(two_stages: Weighed) -> None:
    best = two_stages.best
    assert best.model == TWO
    assert sorted(best.constants) == pytest.approx([0.03, 0.4], rel=0.05)
    assert best.leak == pytest.approx(0.4, rel=0.05)


def test_candidates_come_near_what_any_constants_reach(two_stages: Weighed) -> None:
    """The best of the grid, moved by its derivatives, is within 5 % of the least squares; a little
    below them where the derivatives promise more than the curves keep."""
    near = min(
        float(np.min(each.squares[each.possible()], initial=np.inf))
        for each in two_stages.candidates[TWO]
    )
    assert near == pytest.approx(two_stages.best.squares, rel=0.05)


def test_the_band_holds_those_of_all_models() -> None:
    rise = 1 - np.exp(-3 * np.linspace(0, 1, 30)) + scatter(30, 0.05)
    weighed = weigh(record_of(rise), 1e-6)
    low, high = weighed.band
    assert len(weighed.bands) > 1
    assert len(set(weighed.bands.values())) > 1
    assert low == min(one for one, _ in weighed.bands.values()) < high
    assert high == max(other for _, other in weighed.bands.values())


def test_of_models_alike_in_stages_the_closer_is_shown() -> None:
    squares = {TWO: 0.9, ONE: 1.01, POWER: 1.0, NONE: 1.02}
    curves = {m: replace(curve(m, [], []), squares=s) for m, s in squares.items()}
    weighed = Weighed(record_of(np.zeros(30)), {}, curves, TWO, 1e-9)
    assert weighed.fitting == (NONE, POWER, ONE, TWO)
    curves[ONE], curves[POWER] = curves[POWER], curves[ONE]
    assert Weighed(weighed.record, {}, curves, TWO, 1e-9).fitting == (NONE, ONE, POWER, TWO)


def test_constants_move_by_their_logarithms_and_the_exponent_as_it_stands() -> None:
    assert moved(POWER, np.array([0.5, 1.2]), np.array([0.1, 0.05])) == pytest.approx(
        [0.5 * math.e**0.1, 1.25]
    )
    assert moved(ONE, np.array([0.5]), np.array([-0.1])) == pytest.approx([0.5 * math.e**-0.1])
