"""Forecasts of a season of two, worked out by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import scipy.stats

from gasfuncs.calculations import smoothing
from gasfuncs.calculations.smoothing import (
    LAST,
    MEANS,
    SMOOTHED,
    TRENDED,
    Method,
    extended,
    forecast,
    rolling_errors,
    smoothed,
)

UNEVEN = np.array([5.0, 1, 6, 2, 4, 1, 5, 3, 7, 2, 12, 4, 6, 1, 5])
GROWING = 10.0 + np.arange(24.0) + np.tile([0.0, 3, 1, 0, 3.5, 1], 4)
"""With a season of three."""


def test_what_a_forecast_missed_is_measured_a_season_apart() -> None:
    """Origins 13, 11 and so on to 3, as many steps ahead as a quarter of the values."""
    missed = rolling_errors(LAST, UNEVEN, 2, 20)
    assert missed.shape == (6, 3)
    for row, origin in enumerate((13, 11, 9, 7, 5, 3)):
        real = UNEVEN[origin : origin + 3]
        told = UNEVEN[[origin - 2, origin - 1, origin - 2]][: len(real)]
        assert missed[row, : len(real)] == pytest.approx(np.abs(told - real))
        assert np.isnan(missed[row, len(real) :]).all()


@pytest.mark.parametrize(
    ("count", "ahead", "shape"),
    [(16, 2, (4, 2)), (15, 2, (6, 2)), (24, 20, (8, 6)), (48, 20, (8, 8)), (48, 3, (8, 3))],
)
def test_how_far_and_how_often_a_method_is_tried(
    count: int, ahead: int, shape: tuple[int, int]
) -> None:
    """Four seasons at most, or a quarter of the values; eight times at most, and once there are
    eight seasons from no fewer than four."""
    values = np.resize(UNEVEN, count)
    assert rolling_errors(LAST, values, 2, ahead).shape == shape


def test_the_band_of_the_last_season_grows_with_the_root_of_the_seasons() -> None:
    """Student's t (SciPy) times the root of the mean squared change from season to season."""
    mean, low, high = LAST.band(UNEVEN, 2, 5, 0.9)
    changes = np.array([UNEVEN[k] - UNEVEN[k - 2] for k in range(2, 15)])
    one = scipy.stats.t.ppf(0.95, 13) * np.sqrt((changes**2).mean())
    due = one * np.sqrt([1, 1, 2, 2, 3])
    assert mean.tolist() == [1, 5, 1, 5, 1]
    assert high - mean == pytest.approx(due)
    assert mean - low == pytest.approx(due)


def test_the_means_are_of_the_last_eight_whole_seasons() -> None:
    values = np.arange(21.0)
    mean, _, _ = MEANS.band(values, 2, 3, 0.9)
    assert mean.tolist() == [values[5::2].mean(), values[6::2].mean(), values[5::2].mean()]
    assert MEANS.band(values[:5], 2, 2, 0.9)[0].tolist() == [2, 3]


def test_a_band_that_held_too_little_is_widened() -> None:
    """So that the asked share of what was missed lies in it."""
    reach: Any = np.array([1.0, 2.0, 0.0])
    missed = np.array([[3.0, 2, 9], [1, np.nan, 9], [2, 8, np.nan]])
    assert smoothing._widening(missed, reach, 0.5) == np.median([3, 1, 1, 2, 4])
    assert smoothing._widening(missed, 100 * reach, 0.5) == 1.0
    assert smoothing._widening(missed[:, 2:], reach[2:], 0.5) == 1.0
    assert smoothing._widening(missed, np.append(reach, 7.0), 0.5) == 2.0
    assert smoothing._widening(missed, 0.5 * reach, 0.5) == 4.0


@pytest.mark.parametrize(
    ("method", "values"),
    [(LAST, [5.0, 1, 6, 2, 7, 3, 8, 4, 9, 5]), (MEANS, [5.0, 1, 9, 4, 5, 1, 9, 4, 5, 1])],
)
def test_a_forecast_has_the_widened_band_of_its_method(method: Method, values: Any) -> None:
    values = np.array(values)
    found = forecast(values, 2, 3, 0.5)
    assert found.method == method.name
    mean, low, high = method.band(values, 2, 3, 0.5)
    missed = rolling_errors(method, values, 2, 3)
    shares = missed / ((high - low) / 2)[: missed.shape[1]]
    wider = np.quantile(shares[~np.isnan(shares)], 0.5)
    assert wider > 1
    assert found.low == pytest.approx(mean - wider * (mean - low))
    assert found.high == pytest.approx(mean + wider * (high - mean))
    assert found.error == pytest.approx(np.nanmean(missed))
    assert found.error_of_last == pytest.approx(np.nanmean(rolling_errors(LAST, values, 2, 3)))


@pytest.mark.parametrize("size", [1.0, 0.01])
def test_from_eight_seasons_on_a_series_is_smoothed(size: float) -> None:
    """Whatever unit it is told in."""
    found, missed = forecast(size * GROWING, 3, 2, 0.9), rolling_errors(LAST, size * GROWING, 3, 2)
    assert "smoothing" in found.method
    assert found.error_of_last == pytest.approx(np.nanmean(missed))
    assert "smoothing" not in forecast(size * GROWING[:23], 3, 2, 0.9).method


@pytest.mark.parametrize(("method", "trend"), [(SMOOTHED, False), (TRENDED, True)])
def test_a_smoothed_band_holds_as_many_paths_as_it_says(method: Method, trend: bool) -> None:
    """Other paths of the same model, half of them: within four standard deviations of the count."""
    values = GROWING + np.random.default_rng(4).normal(0, 1, 24)
    fitted = smoothed(values, 3, trend)
    mean, low, high = method.band(values, 3, 2, 0.5)
    assert mean == pytest.approx(extended(fitted, 3, 2))
    paths = fitted.simulate(
        2, repetitions=1000, random_errors="bootstrap", rng=np.random.default_rng(9)
    )
    paths = np.asarray(paths).reshape(2, -1)
    for row in range(2):
        below, above = np.mean(paths[row] < low[row]), np.mean(paths[row] > high[row])
        assert (below, above) == pytest.approx((0.25, 0.25), abs=4 * np.sqrt(0.25 * 0.75 / 500))


def test_a_weekday_that_was_closed_once_has_a_band() -> None:
    _, low, high = MEANS.band(np.array([0.0, 0, 4, 0, 3, 0]), 2, 2, 0.9)
    assert high[0] > low[0]
    assert high[1] == low[1] == 0
