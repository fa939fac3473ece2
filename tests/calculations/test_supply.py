"""Reorder level, chance of running out and delivery plan against simulation and balance."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from gasfuncs.calculations.calendar import read_week
from gasfuncs.calculations.supply import DAY, reorder_date, reorder_level, runout_risk, tank_plan
from gasfuncs.errors import GasFuncsError

TRIALS = 200_000
USE, SPREAD = 1150.0, 350.0
BOIL_OFF = 60.0
RESERVE = 3000.0


def lowest_stock(
    contents: float, days: NDArray[np.int64], rng: np.random.Generator
) -> NDArray[np.float64]:
    """Lowest stock in each trial until its truck comes, day by day.

    The uses are gamma distributed: never negative, and skewed as real ones are.
    """
    shape = (USE / SPREAD) ** 2
    stock = np.full(len(days), contents)
    for day in range(int(days.max())):
        use = rng.gamma(shape, USE / shape, len(days)) + BOIL_OFF
        stock = np.where(day < days, stock - use, stock)
    return stock


@pytest.mark.parametrize("contents", [6500.0, 8000.0, 9300.0])
def test_risk_with_normal_uses(contents: float) -> None:
    """Exact where the uses are normal; four standard errors of the trials are allowed."""
    rng = np.random.default_rng(20260301)
    used = rng.normal(USE, SPREAD, (TRIALS, 4)).sum(axis=1) + 4 * BOIL_OFF
    simulated = np.mean(contents - used <= RESERVE)
    risk = runout_risk(contents, USE, SPREAD, 4 * DAY, 0.0, RESERVE, BOIL_OFF)
    assert risk == pytest.approx(simulated, abs=4 * np.sqrt(0.25 / TRIALS))


@pytest.mark.parametrize("contents", [6500.0, 8000.0, 9300.0])
def test_risk_with_skewed_uses(contents: float) -> None:
    """Four gamma uses have a skew of 0.30 in sum, which moves a chance by 0.02 (Edgeworth)."""
    rng = np.random.default_rng(20260302)
    days = np.full(TRIALS, 4)
    simulated = np.mean(lowest_stock(contents, days, rng) <= RESERVE)
    risk = runout_risk(contents, USE, SPREAD, 4 * DAY, 0.0, RESERVE, BOIL_OFF)
    assert risk == pytest.approx(simulated, abs=0.022)


@pytest.mark.parametrize("contents", [9000.0, 10_500.0, 12_500.0])
def test_risk_with_a_lead_time_that_varies(contents: float) -> None:
    """Whole days from a bell-shaped lead time (binomial, mean 6, sd 1.22), which no normal is."""
    rng = np.random.default_rng(20260303)
    days = rng.binomial(8, 0.75, TRIALS)
    lead_sd = float(np.sqrt(8 * 0.75 * 0.25))
    simulated = np.mean(lowest_stock(contents, days, rng) <= RESERVE)
    risk = runout_risk(contents, USE, SPREAD, 6 * DAY, lead_sd * DAY, RESERVE, BOIL_OFF)
    assert risk == pytest.approx(simulated, abs=0.02)


@pytest.mark.parametrize("service", [0.8, 0.95, 0.99])
def test_reorder_level_keeps_its_service(service: float) -> None:
    rng = np.random.default_rng(20260304)
    days = rng.binomial(8, 0.75, TRIALS)
    lead_sd = float(np.sqrt(8 * 0.75 * 0.25))
    level = float(reorder_level(USE + BOIL_OFF, SPREAD, 6 * DAY, lead_sd * DAY, service, RESERVE))
    kept = np.mean(lowest_stock(level, days, rng) > RESERVE)
    assert kept == pytest.approx(service, abs=0.01)


def plan(daily_use: list[float], **changes: Any) -> NDArray[np.float64]:
    tank: dict[str, Any] = {
        "start_date": 46083.0, "opening": 12_000.0, "reorder_level": 9258.0,
        "lead_days": 3 * DAY, "order_size": 12_000.0, "capacity": 20_000.0,
        "daily_boil_off": BOIL_OFF, "max_fill": 0.95,
    }  # fmt: skip
    return np.array(tank_plan(daily_use=np.array(daily_use), **(tank | changes)))


@pytest.mark.parametrize("service", [0.8, 0.95, 0.99])
def test_reorder_level_that_is_read_once_a_day_keeps_its_service(service: float) -> None:
    """The first reading at or below the level orders: up to a day of use later than the level.

    Crossed just after a reading, the interval is lead time and review, whose service is the level's
    own to what skewed uses and whole days leave of a normal. Crossed at any moment of the day the
    service is missed without the review and kept with it, by more than four standard errors.
    """
    rng = np.random.default_rng(20260306)
    days = rng.binomial(8, 0.75, TRIALS)
    lead_sd = float(np.sqrt(8 * 0.75 * 0.25))
    late = rng.uniform(0, USE + BOIL_OFF, TRIALS)
    error = float(np.sqrt(service * (1 - service) / TRIALS))

    def level(review: float) -> float:
        drain, lead = USE + BOIL_OFF, 6 * DAY
        return float(reorder_level(drain, SPREAD, lead, lead_sd * DAY, service, RESERVE, review))

    def kept(stock: NDArray[np.float64]) -> float:
        return float(np.mean(stock > RESERVE))

    assert kept(lowest_stock(level(DAY), days + 1, rng)) == pytest.approx(service, abs=0.01)
    assert kept(lowest_stock(level(0.0), days, rng) - late) < service - 4 * error
    assert kept(lowest_stock(level(DAY), days, rng) - late) > service + 4 * error


@pytest.mark.parametrize("sample", [3, 8, 30])
@pytest.mark.parametrize("service", [0.75, 0.95])
def test_few_data_keep_the_service(sample: int, service: float) -> None:
    """Mean and spread of a few normal days, then the days to come: four standard errors."""
    rng = np.random.default_rng(20260307)
    seen = rng.normal(USE, SPREAD, (TRIALS, sample))
    mean, spread = seen.mean(axis=1), seen.std(axis=1, ddof=1)
    to_come = rng.normal(USE, SPREAD, (TRIALS, 3)).sum(axis=1)
    level = reorder_level(mean, spread, 3 * DAY, service=service, sample=sample)
    error = np.sqrt(service * (1 - service) / TRIALS)
    assert np.mean(to_come < level) == pytest.approx(service, abs=4 * error)
    naive = reorder_level(mean, spread, 3 * DAY, service=service)
    assert np.mean(to_come < naive) < service - 4 * error


uses = st.lists(st.floats(0, 4000), min_size=1, max_size=120)


@settings(max_examples=200, deadline=None)
@given(
    uses,
    st.integers(0, 12),
    st.floats(0, 18_000),
    st.floats(100, 25_000),
    st.floats(0, 19_000),
    st.floats(0, 500),
)
def test_plan_balances_and_never_overfills(
    daily_use: list[float],
    lead: int,
    level: float,
    order_size: float,
    opening: float,
    boil_off: float,
) -> None:
    rows = plan(
        daily_use,
        lead_days=lead * DAY,
        reorder_level=level,
        order_size=order_size,
        opening=opening,
        daily_boil_off=boil_off,
    )
    _, start, use, evaporated, delivery, closing, order, shortage = rows.T
    assert np.allclose(closing, start + delivery - use - evaporated + shortage, atol=1e-8)
    assert np.array_equal(start[1:], closing[:-1])
    assert np.all(rows >= 0)
    assert np.all(start + delivery <= 0.95 * 20_000 + 1e-8)
    assert np.all(order <= order_size)
    assert np.all(shortage <= use)
    assert np.all(closing[shortage > 0] == 0)
    full = start + delivery >= boil_off
    assert np.all(evaporated[full] == boil_off)
    assert np.array_equal(delivery[lead:], order[: max(len(order) - lead, 0)])
    assert np.all(delivery[:lead] == 0)


@settings(max_examples=100, deadline=None)
@given(st.floats(100, 2000), st.integers(1, 6), st.floats(0.2, 0.95), st.floats(0, 1))
def test_plan_runs_dry_only_below_the_lead_demand(
    use: float, lead: int, part: float, phase: float
) -> None:
    """With a certain use, a level of the lead time's demand is just enough, and less is not."""
    demand = lead * (use + BOIL_OFF)
    enough = plan(
        [use] * 60, reorder_level=demand * (1 + 1e-9), lead_days=lead * DAY, order_size=19_000,
        opening=demand * (1 + 1e-9) + phase * 5000,
    )  # fmt: skip
    assert np.all(enough[:, 7] <= 1e-3)
    short = plan(
        [use] * 60, reorder_level=demand * part, lead_days=lead * DAY, order_size=19_000,
        opening=demand * part,
    )  # fmt: skip
    assert np.any(short[:, 7] > 0)


def test_plan_orders_on_the_reorder_date() -> None:
    day = float(reorder_date(46083.0, 12_000.0, USE, 9258.0, BOIL_OFF))
    rows = plan([USE] * 10)
    assert rows[rows[:, 6] > 0][0, 0] == day


def test_a_plan_is_for_ten_years_and_no_day_more() -> None:
    assert len(plan([0.0] * 3660, daily_boil_off=0.0)) == 3660
    with pytest.raises(GasFuncsError, match="has 3661 days; a plan is for 3660 days at most"):
        plan([0.0] * 3661)


def test_the_last_day_of_the_year_9999_is_one_to_order_on() -> None:
    assert reorder_date(2_958_464.0, 10.0, 1.0, 9.0) == 2_958_465


def test_a_least_load_of_one_row_needs_the_capacity() -> None:
    with pytest.raises(GasFuncsError, match="whether a least load fits"):
        reorder_date(46083.0, 12_000.0, USE, 9258.0, least_load=np.array([0.0, 50.0]))


def test_orders_on_the_way_count() -> None:
    """A lead time longer than a truckload lasts needs several trucks on the road."""
    rows = plan(
        [1800.0] * 200, lead_days=10 * DAY, reorder_level=18_900, order_size=4000, max_fill=1.0,
        opening=19_900, daily_boil_off=0.0,
    )  # fmt: skip
    assert np.all(rows[:, 7] == 0)
    assert rows[20:, 4].sum() == pytest.approx(180 * 1800, rel=0.02)


def test_weekends_are_as_the_schedule_gives_them() -> None:
    """Seven days of the same mean use, once level and once with two days off: other trucks."""
    week = [1610.0] * 5 + [0.0, 0.0]
    level, weekends = plan([1150.0] * 70), plan(week * 10)
    assert weekends[:, 2].sum() == level[:, 2].sum()
    assert not np.array_equal(weekends[:, 4], level[:, 4])
    assert np.all(weekends[:, 3] == BOIL_OFF)


def test_two_orders_for_one_delivery_day_share_its_room() -> None:
    """Trucks on Wednesdays only: Monday's order and Tuesday's stand in the tank together."""
    rows = plan(
        [0.0, 2623.0, 1323.0, 4000.0, 4000.0], lead_days=0.0, delivery_days=read_week("Wed"),
    )  # fmt: skip
    assert rows[2, 1] + rows[2, 4] == pytest.approx(0.95 * 20_000)


weeks = st.sampled_from(["Mon-Fri", "Mon-Sat", "Tue, Thu", "Wed", "every day"])


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.floats(0, 4000), min_size=1, max_size=120),
    st.integers(0, 8),
    weeks,
    weeks,
    st.lists(st.integers(46083, 46203), max_size=20),
    st.floats(0, 9000),
)
def test_nothing_is_ordered_or_delivered_on_a_closed_day(
    daily_use: list[float],
    lead: int,
    order_days: str,
    delivery_days: str,
    holidays: list[int],
    least: float,
) -> None:
    rows = plan(
        daily_use, lead_days=lead * DAY, order_days=read_week(order_days),
        delivery_days=read_week(delivery_days), holidays=np.array(holidays, dtype=float),
        least_load=least,
    )  # fmt: skip
    day, start, use, evaporated, delivery, closing, order, shortage = rows.T
    assert np.allclose(closing, start + delivery - use - evaporated + shortage, atol=1e-8)
    assert np.all(start + delivery <= 0.95 * 20_000 + 1e-8)
    assert np.all(order[order > 0] >= least)
    for amounts, week in ((order, order_days), (delivery, delivery_days)):
        moved = day[amounts > 0]
        weekday = (moved.astype(int) - 2) % 7  # the serial number 2 is Monday, 1 January 1900
        assert all(read_week(week)[each] for each in weekday)
        assert not set(moved) & set(holidays)


@settings(max_examples=100, deadline=None)
@given(st.integers(1, 5), weeks, weeks, st.floats(0, 1))
def test_closed_days_do_not_run_the_tank_dry(
    lead: int, order_days: str, delivery_days: str, phase: float
) -> None:
    """A level of the lead time's demand is enough if the plan looks ahead over closed days."""
    demand = lead * (500 + BOIL_OFF)
    rows = plan(
        [500.0] * 90, reorder_level=demand * (1 + 1e-9), lead_days=lead * DAY, order_size=19_000,
        opening=8 * (500 + BOIL_OFF) + demand + phase * 5000, order_days=read_week(order_days),
        delivery_days=read_week(delivery_days),
    )  # fmt: skip
    assert np.all(rows[:, 7] <= 1e-3)


@pytest.mark.parametrize("order_days", ["Mon-Fri", "Tue, Thu", "Sun"])
@pytest.mark.parametrize("delivery_days", ["Mon-Fri", "Wed"])
@pytest.mark.parametrize("contents", [9300.0, 12_000.0, 16_000.0])
def test_plan_with_closed_days_orders_on_the_reorder_date(
    order_days: str, delivery_days: str, contents: float
) -> None:
    days = {"order_days": read_week(order_days), "delivery_days": read_week(delivery_days)}
    day = reorder_date(46083.0, contents, USE, 6000.0, BOIL_OFF, lead_days=2 * DAY, **days)  # type: ignore[arg-type]
    rows = plan([USE] * 30, opening=contents, reorder_level=6000.0, lead_days=2 * DAY, **days)
    assert rows[rows[:, 6] > 0][0, 0] == day
