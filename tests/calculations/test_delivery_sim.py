"""The trials of a tank's deliveries against what can be worked out, and against a plain loop."""

from __future__ import annotations

import datetime
import time
from typing import Any

import numpy as np
import pytest
from scipy.special import ndtr, ndtri
from statsmodels.stats.proportion import proportion_confint
from statsmodels.stats.weightstats import DescrStatsW

import gasfuncs
from gasfuncs.calculations import forecast
from gasfuncs.calculations.calendar import dates, read_week
from gasfuncs.calculations.delivery_sim import mean_band, quantile_band, share_band

CHANCE, EACH, MEDIAN = 1, 2, 3
MIDDLES = (np.arange(20_000) + 0.5) / 20_000
LEADS = np.maximum(3 + ndtri(MIDDLES), 0.0)
"""Normal lead times, mean 3 days, standard deviation 1."""
TRIALS = 100_000


def one_delivery(uses: Any, leads: Any, level: float = 9258) -> float:
    """Chance of reaching the reserve before a delivery that is ordered at the level itself."""
    rows = gasfuncs.GAS_DELIVERY_SIM(
        level, uses, leads, level, 20_000, 20_000, 3000, trials=TRIALS, days=9, seed=11
    )
    return float(rows[CHANCE][1])


def error(chance: float) -> float:
    return 4 * float(np.sqrt(chance * (1 - chance) / TRIALS))


def test_the_normal_limit() -> None:
    """Use and lead time with the moments of the formula, and a normal use until the delivery."""
    risk = gasfuncs.GAS_RUNOUT_RISK(9258, 1150, 240, 3, 1, 3000, 60)
    assert risk == pytest.approx(0.01998, abs=5e-6)
    spread = np.sqrt(3 * 240**2 + 1210**2) / 1210
    leads = np.maximum(3 + spread * ndtri(MIDDLES), 0.0)
    assert one_delivery([1210.0] * 7, leads) == pytest.approx(risk, abs=error(risk))


def test_normal_uses_and_a_fixed_lead_time() -> None:
    uses = np.random.default_rng(4).normal(0.0, 1.0, 19_600)
    uses = 1210 + 240 * (uses - uses.mean()) / uses.std()
    risk = gasfuncs.GAS_RUNOUT_RISK(7300, 1210, 240, 3, 0, 3000)
    assert one_delivery(uses, 3, 7300) == pytest.approx(risk, abs=error(risk) + 0.001)


def test_normal_uses_and_normal_lead_times() -> None:
    """The use until a late truck spreads more than until an early one: above the formula."""
    uses = np.random.default_rng(4).normal(0.0, 1.0, 19_600)
    uses = 1210 + 240 * (uses - uses.mean()) / uses.std()
    whole = np.floor(LEADS)
    days = whole + (LEADS - whole) ** 2  # within a day the use runs evenly
    exact = float(ndtr((1210 * LEADS - 6258) / (240 * np.sqrt(days) + 1e-9)).mean())
    assert 0.0215 < exact < 0.0225
    assert one_delivery(uses, LEADS) == pytest.approx(exact, abs=error(exact))


def test_a_level_read_once_a_day_falls_short_more_often() -> None:
    """A stated 2 % is about 7 % where the first reading below the level orders."""
    uses = np.random.default_rng(4).normal(1210, 240, 7 * 400)
    rows = gasfuncs.GAS_DELIVERY_SIM(14_000, uses, LEADS, 9258, 12_000, 20_000, 3000)
    assert rows[EACH][1] == pytest.approx(0.07, abs=0.005)
    stated = gasfuncs.GAS_RUNOUT_RISK(9258, 1210, 240, 3, 1, 3000, 0, 1)
    assert rows[EACH][1] < stated


def test_a_year_takes_less_than_two_seconds() -> None:
    uses = np.random.default_rng(4).gamma(4, 300, 7 * 52)
    started = time.thread_time()
    gasfuncs.GAS_DELIVERY_SIM(14_000, uses, [2, 3, 3, 5], 9258, 12_000, 20_000, 3000)
    assert time.thread_time() - started < 2


def plain(uses: list[float], level: float, week: str, review: int, lead: float) -> dict[str, float]:
    """One tank, day by day, as a person would write it down; the first day is a Monday."""
    stock, lowest, waiting, due = 14_000.0, 14_000.0, 0, dict[int, int]()
    part = lead % 1
    came, brought = 0, 0.0
    open_days = read_week(week)
    for day, use in enumerate(uses):
        if day % review == 0 and open_days[day % 7] and stock + 6000 * waiting <= level:
            comes = day + int(lead)
            while not open_days[comes % 7]:
                comes += 1
            due[comes] = due.get(comes, 0) + 1
            waiting += 1
        trucks = due.pop(day, 0)
        if trucks:
            lowest, stock = min(lowest, stock - part * use), max(stock - part * use, 0.0)
        filled = min(trucks * 6000.0, max(19_000 - stock, 0.0))
        came, brought, waiting = came + trucks, brought + filled, waiting - trucks
        stock += filled - (1 - part if trucks else 1) * use
        lowest, stock = min(lowest, stock), max(stock, 0.0)
    return {"lowest": lowest, "came": came, "brought": brought}


@pytest.mark.parametrize("week", ["every day", "Mon-Fri", "Tue, Sat"])
@pytest.mark.parametrize("review", [1, 3])
@pytest.mark.parametrize("lead", [0, 2, 2.25, 9])
def test_a_certain_week_is_the_plain_loop(week: str, review: int, lead: float) -> None:
    uses = [1610.0, 1500, 1700, 1600, 1650, 200, 0]
    rows = gasfuncs.GAS_DELIVERY_SIM(
        14_000, uses, lead, 9258, 6000, 20_000, 3000, order_days=week, delivery_days=week,
        review=review, trials=100, start_date="2026-03-02", days=120,
    )  # fmt: skip
    expected = plain((uses * 18)[:120], 9258, week, review, lead)
    assert rows[MEDIAN][1] == pytest.approx(expected["lowest"], abs=1e-6)
    assert rows[6][1] == pytest.approx(expected["came"] / 120 * 365.25)
    if expected["came"]:
        assert rows[8][1] == pytest.approx(expected["brought"] / expected["came"])


def test_more_stock_is_less_risk_and_the_band_holds_the_chance() -> None:
    uses = np.random.default_rng(5).gamma(4, 300, 7 * 52)
    chances = []
    for level in (6000, 9000, 12_000):
        rows = gasfuncs.GAS_DELIVERY_SIM(14_000, uses, [2, 3, 3, 5], level, 9000, 20_000, 3000)
        chances.append(rows[EACH][1])
        assert all(row[2] <= row[1] <= row[3] for row in rows[1:-1])
    assert chances[0] > chances[1] > chances[2]


def test_cost_is_charges_times_counts() -> None:
    uses = np.random.default_rng(5).gamma(4, 300, 7 * 52)
    rows = gasfuncs.GAS_DELIVERY_SIM(
        14_000, uses, [2, 3, 3, 5], 7000, 9000, 20_000, 3000, delivery_charge=250,
        emergency_charge=900,
    )  # fmt: skip
    assert rows[9][1] == pytest.approx(250 * rows[6][1] + 900 * rows[7][1])


@pytest.mark.parametrize(("count", "of"), [(0, 50), (1, 50), (17, 50), (49, 50), (50, 50)])
def test_the_band_of_a_share_is_that_of_a_library(count: int, of: int) -> None:
    library = proportion_confint(count, of, 0.05, "beta")
    low, high = share_band(count, of)
    assert low == pytest.approx(0.0 if not count else library[0])
    assert high == pytest.approx(1.0 if count == of else library[1])


def test_the_band_of_a_mean_is_that_of_a_library() -> None:
    values = np.random.default_rng(8).gamma(3.0, 2.0, 400)
    library = DescrStatsW(values).zconfint_mean(0.05)
    mean, low, high = mean_band(values)
    assert mean == pytest.approx(values.mean())
    assert (low, high) == pytest.approx(library, rel=1e-4)  # 1.96 for 1.959964
    assert high - low == pytest.approx(library[1] - library[0], rel=1e-4)


def test_each_lowest_level_is_of_the_share_that_its_row_says(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(forecast, "quantile_band", lambda _, share: [share] * 3)
    rows = gasfuncs.GAS_DELIVERY_SIM(
        14_000, [1610.0] * 7, 2, 9258, 6000, 20_000, 3000, trials=100, days=30
    )
    told = {str(row[0]).removeprefix("lowest level, "): row[1] for row in rows}
    assert told["half of the trials"] == 1 / 2
    assert told["1 trial of 20"] == 1 / 20
    assert told["1 trial of 100"] == 1 / 100


@pytest.mark.parametrize("share", [0.05, 0.5])
def test_the_band_of_a_quantile_holds_it(share: float) -> None:
    """Of 2,000 samples 95 % within four counting errors; the ranks are those of a binomial."""
    random, held, samples = np.random.default_rng(9), 0, 2000
    for _ in range(samples):
        middle, low, high = quantile_band(random.uniform(0, 1, 1000), share)
        assert low < middle < high
        held += low <= share <= high
    assert held / samples == pytest.approx(0.95, abs=4 * np.sqrt(0.95 * 0.05 / samples))


def test_a_day_lasts_until_midnight() -> None:
    assert dates(np.array([46083.0, 46083.75])).tolist() == [datetime.date(2026, 3, 2)] * 2
