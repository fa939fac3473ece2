"""Pressure-rise tests of a known leak, tight or not, with outgassing of a known kind."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Random = np.random.Generator

HOUR = 3600.0
READINGS = (6, 7, 8, 9, 10, 12, 16, 20, 30, 40, 50)
NOISE = (0.001, 0.02)
"""Standard deviation of a reading, in parts of the whole rise."""

LEAK_SHARE = (0.1, 0.8)
"""Of the whole rise, where there is a leak."""


@dataclass(frozen=True)
class Rise:
    """A record in s and Pa, and the rate of rise (Pa/s) that its leak makes."""

    times: Array
    pressures: Array
    leak: float

    def with_leak(self, rate: float) -> Rise:
        """The same record with a further leak."""
        return Rise(self.times, self.pressures + rate * self.times, self.leak + rate)


def between(random: Random, low: float, high: float) -> float:
    """A number between two, all magnitudes as likely."""
    return float(np.exp(random.uniform(np.log(low), np.log(high))))


def exponential(u: Array, random: Random) -> Array:
    """Dies away to a third in 0.05 to 1.5 lengths of the record."""
    return np.asarray(-np.expm1(-u / between(random, 0.05, 1.5)))


def one_over_t(u: Array, random: Random) -> Array:
    """Falls as 1/t; the vessel was pumped for 0.01 to 2 lengths of the record before."""
    return np.asarray(np.log1p(u / between(random, 0.01, 2.0)))


def two_stage(u: Array, random: Random) -> Array:
    """A fast stage of 0.03 to 0.15, a slow one of 0.25 to 1 lengths of the record."""
    fast, slow = between(random, 0.03, 0.15), between(random, 0.25, 1.0)
    share = random.uniform(0.2, 0.8)
    return np.asarray(_of_one(u, fast) * share + _of_one(u, slow) * (1 - share))


def slow_stage(u: Array, random: Random) -> Array:
    """As two stages, but the slow one takes 2 to 20 lengths of the record: looks like a leak."""
    fast, slow = between(random, 0.03, 0.15), between(random, 2.0, 20.0)
    share = random.uniform(0.2, 0.8)
    return np.asarray(_of_one(u, fast) * share + _of_one(u, slow) * (1 - share))


def _of_one(u: Array, tau: float) -> Array:
    return np.asarray(np.expm1(-u / tau) / np.expm1(-1 / tau))


OUTGASSING: dict[str, Callable[[Array, Random], Array]] = {
    "exponential": exponential,
    "1/t": one_over_t,
    "two stages": two_stage,
    "a stage slower than the record": slow_stage,
}
TOLD = ("exponential", "1/t", "two stages")
BEYOND = "a stage slower than the record"
"""No record can tell this from a leak; counted so that nobody forgets it."""


def rise(
    random: Random,
    outgassing: Callable[[Array, Random], Array],
    *,
    leaks: bool,
    least: int = 6,
    most: int = 50,
) -> Rise:
    """A record of 6 to 50 readings over 1 to 24 h, evenly spread or denser at the start."""
    count = int(random.choice([n for n in READINGS if least <= n <= most]))
    u = np.linspace(0, 1, count) ** random.choice([1.0, 1.5])
    shape = outgassing(u, random)
    share = random.uniform(*LEAK_SHARE) if leaks else 0.0
    size, hours = between(random, 0.1, 100.0), between(random, 1.0, 24.0)
    clean = (1 - share) * shape / shape[-1] + share * u
    noise = random.normal(0, between(random, *NOISE), count)
    start = between(random, 0.05, 5.0)
    pressures = size * np.maximum(start + clean + noise, 0.0)
    return Rise(u * hours * HOUR, pressures, share * size / (hours * HOUR))
