"""A tank simulated with a known truth: its deliveries and use are found, nothing else is."""

from __future__ import annotations

import time
from dataclasses import dataclass
from itertools import groupby
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import tank, tank_events
from gasfuncs.calculations.tank_events import Record, Rise, course, gaps, rises, spikes
from gasfuncs.definition import serial
from gasfuncs.units import NORMAL

GAS = properties.gas("nitrogen")
CAPACITY = 20.0
"""m³."""
FIRST = 46083
WEEK = (900.0, 900, 950, 900, 850, 150, 0)
"""Nm³ a day, from Monday."""

Array = NDArray[np.float64]


@dataclass
class Truth:
    times: Array
    liters: Array
    bars: Array
    deliveries: list[tuple[float, float]]
    """Time of the middle, Nm³."""
    uses: list[float]
    """Nm³ of each day."""


def simulated(days: int, interval: float, excursions: Any = (), drift: float = 0.0) -> Truth:
    """Mass in and out; the level follows from it and from the pressure of the moment."""
    normal = properties.reference_molar_density(GAS, NORMAL)
    times = FIRST + np.arange(0, days + 1e-9, interval)
    bars = 10 + drift * np.sin(2 * np.pi * (times - FIRST) / 9)
    for start, length, height in excursions:
        bars += height * np.clip(1 - np.abs(times - start - length / 2) / (length / 2), 0, 1)
    uses = [WEEK[day % 7] for day in range(days)]
    used = np.interp(times, FIRST + np.arange(days + 1), np.append(0.0, np.cumsum(uses)))
    deliveries, stock, brought = list[tuple[float, float]](), 7000.0 - used, np.zeros_like(times)
    for at in range(len(times)):
        if stock[at] + 6500 * len(deliveries) < 3200 and times[at] < FIRST + days - 1:
            amount, done = 6500.0, times[at] + 0.3
            brought += amount * np.clip((times - done) / (0.5 / 24), 0, 1)
            deliveries.append((done + 0.25 / 24, amount))
    mol = (stock + brought) * normal
    both = [properties.saturated(GAS, bar * 1e5) for bar in bars.tolist()]
    liquid = np.array([float(each.liquid_density) for each in both])
    vapour = np.array([float(each.vapour_density) for each in both])
    liters = 1000 * (mol - CAPACITY * vapour) / (liquid - vapour)
    return Truth(times, liters, bars, deliveries, uses)


def in_days(moment: Any) -> float | None:
    return None if moment is None else serial(moment)


def events(truth: Truth, liters: Any = None, **named: Any) -> dict[str, list[list[Any]]]:
    rows = gasfuncs.GAS_TANK_EVENTS(
        truth.times.tolist(), (truth.liters if liters is None else liters).tolist(), "nitrogen",
        1000 * CAPACITY, truth.bars.tolist(), **named,
    )[1:]  # fmt: skip
    rows = [[row[0], *map(in_days, row[1:3]), *row[3:]] for row in rows]
    kinds = ("delivery", "pressure excursion", "use", "gap", "left out")
    assert {row[0] for row in rows} <= set(kinds)
    return {kind: [row for row in rows if row[0] == kind] for kind in kinds}


def hold(truth: Truth, found: dict[str, list[list[Any]]], within: float) -> None:
    assert len(found["delivery"]) == len(truth.deliveries) > 3
    for row, (middle, amount) in zip(found["delivery"], truth.deliveries, strict=True):
        assert row[1] <= middle <= row[2]
        assert row[3] == pytest.approx(amount, abs=within)
    for row, use in zip(found["use"], truth.uses, strict=True):
        assert row[3] == pytest.approx(use, abs=within)


def test_without_noise() -> None:
    truth = simulated(42, 1 / 96)
    hold(truth, events(truth), within=20)


def test_with_noise_and_a_pressure_that_wanders() -> None:
    truth = simulated(42, 1 / 96, drift=1.5)
    noisy = truth.liters + np.random.default_rng(8).normal(0, 20, len(truth.times))
    found = events(truth, noisy)
    hold(truth, found, within=60)
    assert not found["pressure excursion"]
    assert sum(row[3] for row in found["use"]) == pytest.approx(sum(truth.uses), rel=0.01)


def test_a_pressure_excursion_is_no_delivery() -> None:
    """From 10 to 17 bar the liquid swells by a tenth and shrink again."""
    truth = simulated(42, 1 / 96, excursions=[(FIRST + 9.1, 0.4, 7.0), (FIRST + 30.2, 0.4, 7.0)])
    found = events(truth, least_rise=250)
    hold(truth, found, within=30)
    assert len(found["pressure excursion"]) == 2
    blind = gasfuncs.GAS_TANK_EVENTS(
        truth.times.tolist(), truth.liters.tolist(), "nitrogen", 1000 * CAPACITY, 10,
        least_rise=250,
    )  # fmt: skip
    assert sum(row[0] == "delivery" for row in blind) == len(truth.deliveries) + 2


def test_readings_once_a_day() -> None:
    """Each delivery lies between two readings; what was used meanwhile is estimated."""
    truth = simulated(70, 1.0)
    found = events(truth)
    assert len(found["delivery"]) == len(truth.deliveries) > 4
    for row, (middle, amount) in zip(found["delivery"], truth.deliveries, strict=True):
        assert row[1] <= middle <= row[2]
        assert row[3] == pytest.approx(amount, abs=700)
    used = sum(row[3] for row in found["use"]) - sum(row[3] for row in found["delivery"])
    assert used == pytest.approx(sum(truth.uses) - sum(a for _, a in truth.deliveries), rel=1e-9)


def test_bad_readings_are_left_out_with_the_reason() -> None:
    truth = simulated(42, 1 / 96)
    liters: list[Any] = truth.liters.tolist()
    times = truth.times.tolist()
    spoiled: dict[int, Any] = {
        100: None, 500: "fault", 900: 25_000.0, 1300: -3.0, 1700: 0.0, 2100: liters[2100] + 3000,
    }  # fmt: skip
    for place, value in spoiled.items():
        liters[place] = value
    times[2500] = times[2499]
    rows = gasfuncs.GAS_TANK_EVENTS(
        times, liters, "nitrogen", 1000 * CAPACITY, truth.bars.tolist()
    )[1:]
    left_out = {int(row[4].split(":")[0][4:]): row[4] for row in rows if row[0] == "left out"}
    assert set(left_out) == {place + 1 for place in [*spoiled, 2500]}
    for place, words in (
        (101, "no level"), (501, "fault"), (901, "above the capacity"), (1301, "below 0"),
        (1701, "off its neighbours"), (2101, "off its neighbours"), (2501, "the same time again"),
    ):  # fmt: skip
        assert words in left_out[place]
    deliveries = [row for row in rows if row[0] == "delivery"]
    assert len(deliveries) == len(truth.deliveries)
    assert [row[3] for row in rows if row[0] == "use"] == pytest.approx(truth.uses, abs=20)


def test_a_gap_is_told_and_its_use_spread() -> None:
    truth = simulated(28, 1 / 96)
    keep = (truth.times < FIRST + 15.2) | (truth.times > FIRST + 17.6)
    keep |= np.array([any(abs(t - m) < 0.1 for m, _ in truth.deliveries) for t in truth.times])
    short = Truth(
        truth.times[keep], truth.liters[keep], truth.bars[keep], truth.deliveries, truth.uses
    )
    found = events(short)
    assert found["gap"]
    noted = [row[1] - FIRST for row in found["use"] if row[4]]
    assert noted == [15, 16, 17]
    total = sum(row[3] for row in found["use"])
    assert total == pytest.approx(sum(truth.uses), abs=60)


def test_the_order_of_the_readings_does_not_matter() -> None:
    truth = simulated(28, 1 / 24)
    mixed = np.random.default_rng(3).permutation(len(truth.times))
    turned = Truth(
        truth.times[mixed], truth.liters[mixed], truth.bars[mixed], truth.deliveries, truth.uses
    )
    assert events(turned) == events(truth)


def test_a_year_of_readings_takes_seconds() -> None:
    truth = simulated(365, 1 / 96, drift=1.0)
    started = time.thread_time()
    found = events(truth)
    assert time.thread_time() - started < 5
    assert len(found["delivery"]) == len(truth.deliveries)


def days(*levels: float) -> tuple[Array, Array]:
    return np.arange(float(len(levels))), np.array(levels, float)


@pytest.mark.parametrize(
    ("levels", "off"),
    [
        ((1000, 900, 1020, 700, 600), []),
        ((1000, 900, 2000, 700, 600), [2]),
        ((1000, 900, 100, 700, 600), [2]),
        ((1000, 900, 2000, 1900, 1800), []),
        ((1000, 2000), []),
    ],
)
def test_a_spike_is_one_reading_off_between_two_that_agree_but_for_use(
    levels: tuple[float, ...], off: list[int]
) -> None:
    """Least rise 300 L; the level falls by 100 L a day."""
    assert np.flatnonzero(spikes(*days(*levels), 300.0)).tolist() == off


def test_two_readings_of_which_one_is_of_no_liquid() -> None:
    with pytest.raises(gasfuncs.GasFuncsError, match="no liquid nitrogen at that pressure"):
        gasfuncs.GAS_TANK_EVENTS(
            [46083, 46084], [6000, 5800], "nitrogen", 20000, ["13 bar(a)", "60 bar(a)"]
        )


def test_events_are_told_kind_by_kind_in_the_order_of_time() -> None:
    """The excursion lies between deliveries, and is told after them."""
    truth = simulated(42, 1 / 24, excursions=[(FIRST + 9.1, 0.4, 7.0)])
    rows = gasfuncs.GAS_TANK_EVENTS(
        truth.times.tolist(), truth.liters.tolist(), "nitrogen", 1000 * CAPACITY,
        truth.bars.tolist(), least_rise=250,
    )  # fmt: skip
    kinds = [kind for kind, _ in groupby(row[0] for row in rows[1:])]
    assert kinds == ["delivery", "pressure excursion", "use"]
    for kind in kinds:
        starts = [row[1] for row in rows[1:] if row[0] == kind]
        assert starts == sorted(starts)


def spiked(levels: tuple[float, ...], times: Any = None, least: float = 300.0) -> list[int]:
    at = np.arange(float(len(levels))) if times is None else np.asarray(times, float)
    return np.flatnonzero(spikes(at, np.array(levels, float), least)).tolist()


@pytest.mark.parametrize(
    ("up", "after", "off"),
    [(150, 970, False), (151, 970, True), (900, 740, True), (900, 739, False)],
)
def test_how_far_a_spike_is_and_how_alike_its_neighbours(
    up: float, after: float, off: bool
) -> None:
    """Further than 150 L, half of the least rise; its neighbours differ by no more than that and
    five times the use of two days, 10 L each."""
    before, then = range(1050, 980, -10), range(1, 7)
    levels = (*before, 990 + up, after, *(after - 10 * day for day in then))
    assert spiked(levels) == ([7] if off else [])
    halves = np.arange(len(levels)) / 2
    assert spiked(tuple(np.array(levels) / 2), halves, 150.0) == ([7] if off else [])


@pytest.mark.parametrize(("up", "off"), [(1000, False), (1001, True)])
def test_a_fall_after_long_is_use_and_no_spike(up: float, off: bool) -> None:
    """Five times the use of 20 days, 10 L each; among readings of which many do not fall."""
    levels = (1000, 1000, 990, 990, 980, 980, 970, 970, 970 + up, 970 - 10, 950, 950, 940, 940)
    times = [*range(9), *range(28, 33)]
    assert spiked(levels, times) == ([8] if off else [])


def test_two_rises_in_a_row_are_no_spike() -> None:
    """In m³, of which each is a fraction, as is the use."""
    assert spiked((5, 4.9, 4.8, 5.4, 6.1, 6.0, 5.9), least=1.0) == []
    assert spiked((5, 4.9, 4.8, 6.0, 4.6, 4.5, 4.4), least=1.0) == [3]


def found(*levels: float, times: Any = None, least: float = 100.0) -> list[tuple[int, int]]:
    """Starts and ends of the rises, the gas being as the liquid."""
    at = np.arange(float(len(levels))) if times is None else np.asarray(times, float)
    liters = np.array(levels, float)
    record = Record(at, liters, liters, np.ones(len(liters)))
    return [(rise.start, rise.end) for rise in rises(record, least)]


@pytest.mark.parametrize(
    ("levels", "at"),
    [
        ((500, 400, 499, 380), []),
        ((500, 400, 500, 380), [(1, 2)]),
        ((500, 400, 400, 500, 380), [(2, 3)]),
        ((500, 400, 410, 510, 380), [(2, 3)]),
        ((500, 400, 411, 511, 380), [(1, 3)]),
        ((500, 400, 520, 530, 380), [(1, 2)]),
        ((500, 400, 520, 531, 380), [(1, 3)]),
        ((400, 300, 500, 499, 610, 500), [(1, 2), (3, 4)]),
        ((400, 300, 500, 400, 300, 500, 400), [(1, 2), (4, 5)]),
    ],
)
def test_a_rise_begins_and_ends_to_a_tenth_of_the_least(
    levels: tuple[float, ...], at: list[tuple[int, int]]
) -> None:
    """Least rise 100 L, one reading a day: what is within 10 L is noise."""
    assert found(*levels) == at


def test_a_rise_goes_on_within_half_again_the_usual_interval_and_at_least_an_hour() -> None:
    again = (900, 800, 1000, 1100, 1090, 1080, 1070)
    assert found(*again, times=[0, 1, 2, 3.5, 4.5, 5.5, 6.5]) == [(1, 3)]
    assert found(*again, times=[0, 1, 2, 3.6, 4.6, 5.6, 6.6]) == [(1, 2), (2, 3)]
    minutes = np.array([0, 5, 10, 69, 75, 80, 85]) / 1440
    assert found(*again, times=minutes) == [(1, 3)]
    minutes[3:] += 2 / 1440
    assert found(*again, times=minutes) == [(1, 2), (2, 3)]


def test_rises_are_found_across_the_ends_of_blocks(monkeypatch: pytest.MonkeyPatch) -> None:
    levels = 1000 + 400 * np.sin(np.arange(60.0)) - np.arange(60.0)
    whole = found(*levels)
    assert len(whole) > 8
    for block in (1, 2, 3, 5, 7):
        monkeypatch.setattr(tank_events, "BLOCK", block)
        assert found(*levels) == whole


@pytest.mark.parametrize(("gas", "delivery"), [(50.0, False), (51.0, True)])
def test_half_of_what_rises_must_be_gas_too(gas: float, delivery: bool) -> None:
    levels, stocks = np.array([400.0, 500.0, 480.0]), np.array([400.0, 400.0 + gas, 400.0])
    (rise,) = rises(Record(np.arange(3.0), levels, stocks, np.ones(3)), 100.0)
    assert rise.is_delivery == delivery


def test_what_is_used_while_a_truck_unloads_counts_as_delivered() -> None:
    """10 mol a day before and after; 100 more are there two days later."""
    stocks = np.array([500.0, 490, 480, 530, 580, 570])
    taken = course(Record(np.arange(6.0), stocks, stocks, np.ones(6)), [Rise(2, 4, True)])
    assert taken.used == pytest.approx([0, 10, 20, 30, 40, 50])
    assert taken.brought == pytest.approx([120])
    loading = course(
        Record(np.arange(2.0), stocks[2:4], stocks[2:4], np.ones(2)), [Rise(0, 1, True)]
    )
    assert loading.used == pytest.approx([0, 0])


def test_what_a_cubic_metre_adds_is_what_it_falls_by() -> None:
    bars = np.array([2e5, 13e5, 25e5])
    record = Record.of(np.arange(3.0), np.full(3, 5.0), bars, GAS, CAPACITY, None, None)
    assert record.per_volume * tank.level_change(GAS, 1.0, bars) == pytest.approx(1, rel=1e-9)


def test_a_gap_is_longer_than_four_times_the_usual_interval() -> None:
    assert gaps(np.array([0, 1, 2, 3, 7, 11.5]), None) == [(7, 11.5)]
    assert gaps(np.array([0, 1, 2, 3, 7, 11.5]), 4.5) == []
    assert gaps(np.array([0, 1, 2, 3, 7, 11.5]), 3.9) == [(3, 7), (7, 11.5)]


def test_days_that_a_gap_touches_are_noted() -> None:
    """Of whole days alone, from a record that begins and ends within one."""
    rows = tank_events._day_rows(
        np.array([0.5, 1, 2, 4, 5, 6.5]), np.array([0.0, 5, 15, 35, 45, 60]), [(2.0, 4.0)]
    )
    assert [row[1:4] for row in rows] == [[day, day + 1, 10] for day in range(1, 6)]
    assert [day[1] for day in rows if day[4]] == [2, 3]
