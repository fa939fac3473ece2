"""Forecasts against published smoothing, a plain recursion, open series and simulated plants."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import scipy.stats
from numpy.typing import NDArray

import gasfuncs
from gasfuncs.calculations.smoothing import (
    LAST,
    MEANS,
    extended,
    forecast,
    rolling_errors,
    smoothed,
)
from gasfuncs.calculations.use_history import special_day
from tests.open_series import SERIES

Array = NDArray[np.float64]
FIRST = 46083


def test_single_smoothing_of_the_nist_handbook() -> None:
    """NIST/SEMATECH 6.4.3.1, alpha 0.1: 71.50 is what the recursion gives; 71.7 is printed."""
    from statsmodels.tsa.holtwinters import SimpleExpSmoothing

    values = [71.0, 70, 69, 68, 64, 65, 72, 78, 75, 75, 75, 70]
    fitted = SimpleExpSmoothing(values, initialization_method="known", initial_level=71.0).fit(
        smoothing_level=0.1, optimized=False
    )
    assert float(fitted.forecast(1)[0]) == pytest.approx(71.50, abs=0.005)


def plain(values: Array, parameters: dict[str, Any], season: int, ahead: int) -> list[float]:
    """Additive Holt and Winters with a damped trend, value by value."""
    level, slope = parameters["initial_level"], np.nan_to_num(parameters["initial_trend"])
    seasons = list(parameters["initial_seasons"])
    alpha, gamma = parameters["smoothing_level"], parameters["smoothing_seasonal"]
    beta = np.nan_to_num(parameters["smoothing_trend"])
    phi = parameters["damping_trend"] if slope or beta else 0.0
    for at, value in enumerate(values):
        before, index = level + phi * slope, seasons[at]
        level = alpha * (value - index) + (1 - alpha) * before
        seasons.append(gamma * (value - before) + (1 - gamma) * index)
        slope = beta * (level - (before - phi * slope)) + (1 - beta) * phi * slope
    out, damped = [], 0.0
    for step in range(1, ahead + 1):
        damped += phi**step
        out.append(level + damped * slope + seasons[len(values) + (step - 1) % season])
    return out


@pytest.mark.parametrize("trend", [False, True])
def test_smoothing_is_the_plain_recursion(trend: bool) -> None:
    values = SERIES["electrical equipment, monthly"][1][:120]
    fitted = smoothed(values, 12, trend)
    expected = plain(values, fitted.params, 12, 24)
    assert extended(fitted, 12, 24) == pytest.approx(expected, rel=1e-9)
    paths = fitted.simulate(24, repetitions=4000, rng=np.random.default_rng(2)).reshape(24, -1)
    error = 4 * paths.std(axis=1) / np.sqrt(4000)
    assert np.all(np.abs(paths.mean(axis=1) - expected) < error)


def plant(weeks: int, seed: int, growth: float = 0.0) -> Array:
    """Furnaces that run Monday to Friday with good and bad weeks."""
    rng = np.random.default_rng(seed)
    week = np.array([1600.0, 1700, 1650, 1700, 1500, 250, 0])
    load = 1 + growth * np.arange(weeks) + 0.08 * rng.standard_normal(weeks)
    uses = np.outer(load, week) + rng.normal(0, 120, (weeks, 7)) * (week > 0)
    return np.maximum(uses, 0.0).ravel()


def call(uses: Array, days: int, **named: Any) -> list[list[Any]]:
    dates = [FIRST + day for day in range(len(uses))]
    rows = gasfuncs.GAS_FORECAST(dates, uses.tolist(), days, **named)
    return list(rows[1:])


@pytest.mark.parametrize(("weeks", "growth"), [(4, 0.0), (20, 0.0), (30, 0.03)])
def test_a_plant_is_forecast_better_than_by_last_week(weeks: int, growth: float) -> None:
    errors, last, inside = [], [], []
    for seed in range(6):
        uses = plant(weeks + 2, seed, growth)
        past, real = uses[: 7 * weeks], uses[7 * weeks :]
        rows = call(past, 14)
        errors.append(np.abs(np.array([row[1] for row in rows]) - real).mean())
        last.append(np.abs(np.resize(past[-7:], 14) - real).mean())
        inside.append(
            np.mean([row[2] <= use <= row[3] for row, use in zip(rows, real, strict=True)])
        )
    assert np.mean(errors) < np.mean(last)
    assert 0.8 < np.mean(inside) < 0.99


def test_the_error_is_that_of_earlier_forecasts() -> None:
    """The naive error by hand: what each week differs from the week before."""
    uses = plant(6, 3)
    weeks = uses.reshape(6, 7)
    rows = call(uses, 7)
    assert rows[0][6] == pytest.approx(np.abs(np.diff(weeks, axis=0)).mean())
    assert np.nanmean(rolling_errors(LAST, uses, 7, 7)) == pytest.approx(rows[0][6])
    assert rows[0][5] <= rows[0][6]


def test_special_days_are_left_out_and_forecast_apart() -> None:
    uses = plant(12, 5)
    shut = [FIRST + day for day in (10, 31, 52, 73, 84, 85)]
    spoiled = uses.copy()
    spoiled[[10, 31, 52, 73]] = [20.0, 30, 25, 22]
    rows, plain_rows = call(spoiled, 7, special_days=shut), call(uses, 7)
    assert rows[0][1] == pytest.approx(np.mean([20, 30, 25, 22]))
    assert rows[0][4] == "mean of 4 special days"
    assert [row[1] for row in rows[2:]] == pytest.approx([r[1] for r in plain_rows[2:]], rel=0.06)


def test_order_and_blank_rows_do_not_matter() -> None:
    uses = plant(5, 9).tolist()
    dates: list[Any] = [FIRST + day for day in range(len(uses))]
    expected = gasfuncs.GAS_FORECAST(dates, uses, 5)
    turned = gasfuncs.GAS_FORECAST([*dates[::-1], None], [*uses[::-1], None], 5)
    assert turned == expected


def test_wider_level_wider_band() -> None:
    values = plant(12, 4)
    narrow, wide = forecast(values, 7, 7, 0.5), forecast(values, 7, 7, 0.95)
    assert np.all(wide.high - wide.low >= narrow.high - narrow.low)


def test_a_special_day_lies_where_the_next_of_a_sample_does() -> None:
    """Mean and Student's t of what the special days used, with the next day's own scatter."""
    uses = np.array([10.0, 12, 11, 13, 12, 2, 3] * 6)
    special = np.zeros(len(uses), dtype=bool)
    special[[3, 10, 17, 24, 31, 38]] = True
    uses[special] = sample = np.array([4.0, 5, 3, 6, 4, 5])
    found = special_day(uses, special, 13.0, 0.9)
    reach = scipy.stats.t.ppf(0.95, 5) * sample.std(ddof=1) * np.sqrt(1 + 1 / 6)
    assert (found.mean, found.low, found.high) == pytest.approx((4.5, 4.5 - reach, 4.5 + reach))


def test_an_unknown_special_day_is_taken_for_the_quietest_weekday() -> None:
    uses = np.array([10.0, 12, 11, 13, 12, 2, 3] * 6)
    found = special_day(uses, np.zeros(len(uses), dtype=bool), 13.0, 0.9)
    assert (found.mean, found.low, found.high) == (2.0, 0.0, 13.0)


def test_two_weeks_of_one_working_day_have_one_degree_of_freedom() -> None:
    """Student's t of one (SciPy), times the scatter of one more value about a mean of two."""
    values = np.zeros(14)
    values[[0, 7]] = 10.0, 14.0
    mean, low, high = MEANS.band(values, 7, 7, 0.9)
    half = scipy.stats.t.ppf(0.95, 1) * np.sqrt(((10 - 12) ** 2 + (14 - 12) ** 2) * (1 + 1 / 2))
    assert mean[0] == pytest.approx(12)
    assert (high - mean)[0] == pytest.approx(half, rel=1e-9)
    assert (mean - low)[0] == pytest.approx(half, rel=1e-9)
    assert not (high - low)[1:].any()
