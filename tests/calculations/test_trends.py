"""Trends against SciPy's regression, and by their promise: how often the dates hold the truth."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.optimize
import scipy.stats

from gasfuncs.calculations.trends import trend
from gasfuncs.definition.series import Kept

DAYS = np.array([0.0, 30, 61, 92, 122, 160, 183, 214]) + 46_000
READINGS = np.array([2.1, 2.6, 2.3, 3.4, 3.1, 4.4, 4.1, 4.9])


def test_slope_and_its_error_are_those_of_a_regression() -> None:
    rows = trend(DAYS, Kept(READINGS), 10.0)
    theirs = scipy.stats.linregress(DAYS, READINGS)
    assert rows[0][1] == pytest.approx(theirs.slope, rel=1e-9)
    assert rows[1][1] == pytest.approx(theirs.stderr, rel=1e-9)
    assert rows[2][1] == pytest.approx(theirs.pvalue, rel=1e-9)


@pytest.mark.parametrize("confidence", [0.5, 0.9, 0.99])
def test_the_dates_are_where_the_band_of_the_line_meets_the_limit(confidence: float) -> None:
    """The band of a regression line, searched for the limit instead of solved."""
    limit = 10.0
    rows = trend(DAYS, Kept(READINGS), limit, confidence)
    line = scipy.stats.linregress(DAYS, READINGS)
    middle, squares = DAYS.mean(), ((DAYS - DAYS.mean()) ** 2).sum()
    rest = READINGS - line.intercept - line.slope * DAYS
    scatter = np.sqrt((rest**2).sum() / (len(DAYS) - 2))
    factor = scipy.stats.t.ppf(0.5 + confidence / 2, len(DAYS) - 2)

    def edge(day: float, side: int) -> float:
        reach = factor * scatter * np.sqrt(1 / len(DAYS) + (day - middle) ** 2 / squares)
        return float(line.intercept + line.slope * day + side * reach - limit)

    for row, side in ((3, 0), (4, 1), (5, -1)):
        found = scipy.optimize.brentq(edge, DAYS[-1], DAYS[-1] + 20_000, args=(side,))
        assert rows[row][1] == pytest.approx(found, abs=1e-3)


def test_the_dates_hold_the_truth_as_often_as_they_say() -> None:
    """300 records of a known line: 90 % of the intervals hold the day (binomial, 3.5 sigma)."""
    random = np.random.default_rng(14)
    truth, held = 46_000 + 400.0, 0
    for _ in range(300):
        readings = 2.0 + 0.02 * (DAYS - 46_000) + random.normal(0, 0.3, len(DAYS))
        rows = trend(DAYS, Kept(readings), 10.0, 0.9)
        low, high = rows[4][1], rows[5][1]
        held += low <= truth <= (np.inf if high == "never" else high)
    assert abs(held / 300 - 0.9) < 3.5 * np.sqrt(0.9 * 0.1 / 300)


def test_where_no_trend_is_proved_the_first_date_is_still_that_of_the_band() -> None:
    days, readings, limit = np.arange(6.0) + 46_000, np.array([5.0, 6.5, 4.5, 6.0, 5.5, 6.5]), 9.0
    rows = trend(days, Kept(readings), limit, 0.9)
    assert rows[5][1] == "never"
    line = scipy.stats.linregress(days, readings)
    away = rows[4][1] - days.mean()
    error_of_mean = line.stderr * np.sqrt(((days - days.mean()) ** 2).mean())
    reach = scipy.stats.t.ppf(0.95, 4) * np.hypot(error_of_mean, line.stderr * away)
    assert readings.mean() + line.slope * away + reach == pytest.approx(limit, rel=1e-6)


@pytest.mark.parametrize("limit", [1.0, float(READINGS.mean())])
def test_a_limit_behind_the_readings_is_said(limit: float) -> None:
    rows = trend(DAYS, Kept(READINGS), limit)
    assert rows[3][1] < DAYS[-1]
    assert "before the last reading" in rows[3][2]
