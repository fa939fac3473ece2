"""The days of a history, and what a special day uses, each worked out by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import scipy.stats

from gasfuncs.calculations.use_history import daily_history, special_day
from gasfuncs.errors import GasFuncsError

DAYS: Any = np.arange(46083.0, 46883.0)


def test_of_a_long_history_the_last_two_years_are_used() -> None:
    first, uses = daily_history(DAYS, np.arange(800.0))
    assert (first, len(uses), uses[-1]) == (DAYS[72], 728, 799)


def test_a_day_is_a_day_at_any_hour() -> None:
    hours = np.tile([0.9, 0.1], 7)
    first, uses = daily_history(DAYS[:14] + hours, np.arange(14.0))
    assert (first, len(uses)) == (DAYS[0], 14)


def test_a_day_that_stands_twice_is_not_a_day_that_is_missing() -> None:
    with pytest.raises(GasFuncsError, match="2026-03-02 stands twice"):
        daily_history(np.array([46083.0, 46083, 46084]), np.ones(3))
    with pytest.raises(GasFuncsError, match="the day after 2026-03-02 is missing"):
        daily_history(np.array([46083.0, 46085, 46086]), np.ones(3))


def test_the_spread_of_special_days_is_known_from_three_on() -> None:
    uses, special = np.array([100.0, 4, 6, 11, 90, 80, 70]), np.array([0, 1, 1, 1, 0, 0, 0], bool)
    three = special_day(uses, special, 50.0, 0.9)
    reach = scipy.stats.t.ppf(0.95, 2) * np.std([4, 6, 11], ddof=1) * np.sqrt(1 + 1 / 3)
    assert (three.mean, three.low, three.high) == pytest.approx((7, 7 - reach, 7 + reach))
    special[3] = False
    two = special_day(uses, special, 50.0, 0.9)
    assert (two.mean, two.low, two.high) == (5, 0, 50)
    assert special_day(uses, special, 3.0, 0.9).high == 5
    special[:] = False
    none = special_day(uses, special, 50.0, 0.9)
    assert (none.mean, none.low, none.high) == (4, 0, 50)
    assert special_day(uses, special, 3.0, 0.9).high == 4
