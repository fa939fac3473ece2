"""Tells a real leak from outgassing in the pressure rise of a shut vessel.

A leak goes on as it is, outgassing dies away: by one exponential, by a power law, by two
exponentials, or there is none. The leak is told apart only where all models that fit have it in
their bands, the record bends, and the band is narrow; otherwise there is only an upper bound.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import sqrt

import numpy as np

from gasfuncs.calculations.rise_curve import Curve
from gasfuncs.calculations.rise_models import NONE, POWER, Array, Record
from gasfuncs.calculations.rise_weighing import TO_TELL_APART, Weighed, weigh

FEWEST = 6
"""Readings: four unknowns, and something left over to know the scatter from."""

FINEST = 2e-4
"""Of the whole rise: no gauge follows it better, whatever a few readings say of their scatter."""

NARROW = 0.5
"""Of the mean rise rate: a wider band tells no leak from outgassing."""

WIDEST = 3.0
"""Of the mean rise rate: with a band wider still a record tells no leak of any size apart."""

DETECTED = 3.29 / 3.92
"""Of the band's width: 3.29 standard errors (errors of 5 % of both kinds), a band having 3.92."""

MOST_GROUPS = 200
"""Groups of neighbours that a longer record is averaged in."""

TOLD_APART = "told apart from outgassing"
TOO_FEW = (
    f"at most: under {TO_TELL_APART} readings cannot tell leak and outgassing apart; "
    "this is their sum at the end"
)
TOO_SHORT = (
    "at most: the record is too short or too noisy to tell leak and outgassing apart; "
    "this is their sum at its end"
)
NO_BEND = (
    "at most: the record shows no bend beyond its scatter, so leak and outgassing cannot be "
    "told apart; this is their sum"
)
BENDS_UP = (
    "cannot be told: the pressure rises faster and faster, as neither leak nor outgassing makes "
    "it; look for warming. This is the mean"
)
FALLS = (
    "cannot be told: the pressure falls, as neither leak nor outgassing makes it; look at the "
    "gauge, the temperature and the pump's valve"
)
WANDERS = (
    "cannot be told: the readings leave every model together, not one by one; look for a "
    "changing temperature or a sticking gauge"
)
FAULTS = (BENDS_UP, FALLS, WANDERS)


@dataclass(frozen=True)
class Estimate:
    """A value with its standard error and 95 % band."""

    value: float
    error: float
    low: float
    high: float

    def times(self, factor: float) -> Estimate:
        """The estimate in another unit."""
        return Estimate(
            self.value * factor, self.error * factor, self.low * factor, self.high * factor
        )


@dataclass(frozen=True)
class Rival:
    """A model of outgassing and what it makes of the record."""

    model: str
    chance: float
    """How likely its misfit beside the best model is by scatter alone."""
    leak: Estimate | None
    """Pa/s; None where the model does not fit."""
    constants: tuple[float, ...]
    """τ, or both τ, in s; of the power law its age in s and its exponent."""


@dataclass(frozen=True)
class RiseFit:
    """The rise in its parts, in Pa and s; the parts of outgassing are None where not told."""

    verdict: str
    leak: Estimate
    outgassing: Estimate | None
    """Pa/s at the first reading."""
    outgassing_end: Estimate | None
    """Pa/s at the last reading."""
    time_constant: Estimate | None
    """Of one exponential, s."""
    detectable: float | None
    """Pa/s: a leak that such a record tells apart; None where it tells none."""
    freedom: int
    scatter: float
    """Standard deviation of the readings about the curve, Pa."""
    rivals: tuple[Rival, ...]
    model: str
    start: float
    """Pressure of the curve at the first reading, Pa."""
    straight: Array
    """Pa that the part that goes on has added at each reading."""
    dying: Array
    """Pa that the part that dies away has added."""


def fit(times: Array, pressures: Array, scatter: float = 0.0) -> RiseFit:
    """Fit times (s, in order) and pressures (Pa): FEWEST at different times, or more.

    `scatter` is the least standard deviation of a reading (Pa) to be reckoned with.
    """
    return _fit(times.astype(float).tobytes(), pressures.astype(float).tobytes(), float(scatter))


@lru_cache(maxsize=64)
def _fit(times: bytes, pressures: bytes, scatter: float) -> RiseFit:
    t, p = np.frombuffer(times), np.frombuffer(pressures)
    length, size = float(np.ptp(t)), float(np.ptp(p)) or 1.0
    u, lowest = (t - t[0]) / length, float(p.min())
    weighed = weigh(_in_groups(Record(u, (p - lowest) / size)), max(FINEST, scatter / size))
    curve, rate = weighed.best, size / length
    verdict, leak, detectable = _leak(weighed)
    told = verdict == TOLD_APART
    straight, dying = curve.leak * u * size, curve.dying(u) * size
    start = lowest + curve.start * size
    left = p - start - straight - dying
    freedom = weighed.freedom(curve.model)
    return RiseFit(
        verdict=verdict, leak=leak.times(rate),
        outgassing=_outgassing(weighed, 0.0).times(rate) if told else None,
        outgassing_end=_outgassing(weighed, 1.0).times(rate) if told else None,
        time_constant=_time_constant(weighed).times(length)
        if told and len(curve.constants) == 1 else None,
        detectable=None if detectable is None else detectable * rate,
        freedom=weighed.freedom(weighed.likeliest),
        scatter=sqrt(float(left @ left) / (len(p) - len(weighed.record.u) + freedom)),
        rivals=tuple(_rival(weighed, model, rate, length) for model in weighed.curves),
        model=curve.model, start=start, straight=straight, dying=dying,
    )  # fmt: skip


def _in_groups(record: Record) -> Record:
    """A long record as the means of groups of neighbours."""
    if len(record.u) < 4 * MOST_GROUPS:
        return record
    ends = np.linspace(0, len(record.u), MOST_GROUPS + 1).astype(int)
    sizes = np.diff(ends)
    u, p = (np.add.reduceat(each, ends[:-1]) / sizes for each in (record.u, record.p))
    return Record(u, p)


def _leak(weighed: Weighed) -> tuple[str, Estimate, float | None]:
    """The verdict, the leak, and the leak that could be told apart."""
    curve, (low, high) = weighed.best, weighed.band
    width, mean = high - low, abs(weighed.record.straight[1])
    if high < 0:
        return FALLS, _banded(weighed, curve.leak, low, high), None
    if weighed.quickens or weighed.wanders:
        fault = BENDS_UP if weighed.quickens else WANDERS
        return fault, _sum_at_end(weighed, weighed.curves[NONE]), None
    if curve.model == NONE:
        return NO_BEND, _sum_at_end(weighed, curve), None
    if len(weighed.record.u) < TO_TELL_APART:
        return TOO_FEW, _sum_at_end(weighed, curve), None
    if width > NARROW * mean:
        detectable = DETECTED * width if width <= WIDEST * mean else None
        return TOO_SHORT, _sum_at_end(weighed, curve), detectable
    found = max(curve.leak, 0.0)
    return TOLD_APART, _banded(weighed, found, max(low, 0.0), high), DETECTED * width


def _banded(weighed: Weighed, value: float, low: float, high: float) -> Estimate:
    """A value whose standard error is the band's: half of it over Student's t."""
    return Estimate(value, (high - low) / 2 / weighed.student, low, high)


def _sum_at_end(weighed: Weighed, curve: Curve) -> Estimate:
    """Leak and outgassing together at the last reading, as an upper bound of the leak."""
    value = curve.leak + curve.outgassing(1.0)
    freedom = weighed.freedom(curve.model)
    error = sqrt(curve.squares / freedom) * curve.error_of_rate(1.0, 1.0)
    return Estimate(value, error, 0.0, weighed.at_most)


def _outgassing(weighed: Weighed, u: float) -> Estimate:
    curve = weighed.best
    error = sqrt(weighed.variance) * curve.error_of_rate(u, 0.0)
    return _within(weighed, curve.outgassing(u), error)


def _time_constant(weighed: Weighed) -> Estimate:
    curve = weighed.best
    gradient = np.array([0.0, 0.0, 0.0, curve.constants[0]])
    return _within(weighed, curve.constants[0], sqrt(weighed.variance) * curve.error(gradient))


def _within(weighed: Weighed, value: float, error: float) -> Estimate:
    half = weighed.student * error
    return Estimate(float(value), error, max(float(value) - half, 0.0), float(value) + half)


def _rival(weighed: Weighed, model: str, rate: float, length: float) -> Rival:
    curve = weighed.curves[model]
    leak = None
    if model in weighed.bands:
        leak = _banded(weighed, curve.leak, *weighed.bands[model]).times(rate)
    constants = [c * length for c in curve.constants]
    if model == POWER:
        constants[1] = curve.constants[1]
    return Rival(model, weighed.chance(model), leak, tuple(map(float, constants)))
