"""Years of a tank's deliveries tried out: whole weeks of use and real lead times, drawn again."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Rules:
    """How a tank is filled and ordered for; amounts in one unit."""

    opening: float
    reorder_level: float
    drop: float
    most: float
    """Contents up to which the tank is filled."""
    reserve: float


@dataclass(frozen=True)
class OpenDays:
    """Of each day tried: whether an order can be placed, and the next day that a truck can come."""

    orders: list[bool]
    next_delivery: NDArray[np.int64]


class Trials:
    """Many tanks that run side by side, a day at a time; each array holds a value a trial."""

    def __init__(self, rules: Rules, days: OpenDays, count: int) -> None:
        self.rules, self.open = rules, days
        self.stock = np.full(count, rules.opening)
        self.lowest = self.stock.copy()
        self.reached: Flags = self.stock <= rules.reserve
        self.calls = self.reached.astype(int)
        self.waiting = np.zeros(count, dtype=int)
        self.deliveries = np.zeros(count, dtype=int)
        self.too_late = np.zeros(count, dtype=int)
        """Deliveries before which the reserve was reached."""
        self.delivered = np.zeros(count)
        ends = len(days.next_delivery)
        self.trucks = np.zeros((count, ends), dtype=np.int16)
        self.moment = np.zeros((count, ends))
        """Part of the day that has passed when its truck comes."""

    def order(self, day: int, leads: Array) -> None:
        """Order where stock and trucks on the way are down to the level."""
        rules = self.rules
        placed = np.flatnonzero(self.stock + self.waiting * rules.drop <= rules.reorder_level)
        comes = day + leads[placed]
        part = comes - np.floor(comes)
        on = self.open.next_delivery[np.floor(comes).astype(int)]
        self.trucks[placed, on] += 1
        self.moment[placed, on] = np.maximum(self.moment[placed, on], part)
        self.waiting[placed] += 1

    def pass_day(self, day: int, use: Array) -> None:
        """Use and deliveries of a day."""
        coming = self.trucks[:, day] > 0
        if coming.any():
            before = self.stock - self.moment[:, day] * use
            self._note(coming, before)
            self._deliver(day, coming, np.maximum(before, 0.0), use)
        self.stock = np.where(coming, self.stock, self.stock - use)
        self._note(np.ones_like(coming), self.stock)
        self.stock = np.maximum(self.stock, 0.0)

    def _deliver(self, day: int, coming: Flags, before: Array, use: Array) -> None:
        trucks = self.trucks[:, day]
        filled = np.clip(self.rules.most - before, 0.0, trucks * self.rules.drop)
        self.deliveries += trucks
        self.too_late += self.reached * trucks
        self.delivered += filled
        self.waiting -= trucks
        self.reached &= ~(coming & (before + filled > self.rules.reserve))
        self.stock = np.where(coming, before + filled - (1 - self.moment[:, day]) * use, self.stock)

    def _note(self, where: Flags, stock: Array) -> None:
        """Keep the lowest stock, and count where the reserve is newly reached."""
        self.lowest = np.where(where, np.minimum(self.lowest, stock), self.lowest)
        now = where & (stock <= self.rules.reserve)
        self.calls += now & ~self.reached
        self.reached |= now


def run(
    rules: Rules,
    days: OpenDays,
    weeks: Array,
    leads: Array,
    count: int,
    length: int,
    seed: int,
) -> Trials:
    """Try so many times so many days, each with weeks and lead times drawn anew."""
    random = np.random.default_rng(seed)
    drawn = random.integers(len(weeks), size=(count, -(-length // 7)))
    trials = Trials(rules, days, count)
    for day in range(length):
        if days.orders[day]:
            trials.order(day, leads[random.integers(len(leads), size=count)])
        trials.pass_day(day, weeks[drawn[:, day // 7], day % 7])
    return trials


def share_band(count: int, of: int) -> tuple[float, float]:
    """The 95 % band of a share (Clopper and Pearson)."""
    low = scipy.special.betaincinv(count, of - count + 1, 0.025) if count else 0.0
    high = scipy.special.betaincinv(count + 1, of - count, 0.975) if count < of else 1.0
    return float(low), float(high)


def mean_band(values: Array) -> tuple[float, float, float]:
    """A mean and its 95 % band."""
    mean = float(values.mean())
    reach = 1.96 * float(values.std(ddof=1)) / np.sqrt(len(values))
    return mean, mean - reach, mean + reach


def quantile_band(values: Array, share: float) -> tuple[float, float, float]:
    """A quantile and its 95 % band, from the ranks beside it."""
    reach = 1.96 * np.sqrt(share * (1 - share) / len(values))
    shares = np.clip([share, share - reach, share + reach], 0.0, 1.0)
    middle, low, high = np.quantile(values, shares).tolist()
    return middle, low, high
