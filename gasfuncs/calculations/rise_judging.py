"""Whether a pressure-rise test passes: one rule for every workbook."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np

from gasfuncs.calculations import pressure_rise
from gasfuncs.calculations.rise_models import Array, Record
from gasfuncs.calculations.rise_weighing import TO_TELL_APART
from gasfuncs.definition.tolerances import Parts, uncertainty
from gasfuncs.units import LEAK_TEMPERATURE

TIGHT, LEAKS, REPEAT, CANNOT_TELL = "tight", "leaks", "repeat", "cannot tell"

FEWEST = 2
"""Readings: with fewer than the fit takes, their tolerance alone gives the band."""

NORMAL = 1.96
"""Standard errors in half a 95 % band."""

NO_TOLERANCE = (
    f"under {pressure_rise.FEWEST} readings say nothing of their own scatter; give "
    f"pressure_tolerance as a pressure, or read {TO_TELL_APART} times or more"
)
FEW = (
    "so few readings give only an upper bound, leak and outgassing together, and it is above the "
    f"limit; pump longer first, or read {TO_TELL_APART} times or more"
)
TOGETHER = (
    "the upper bound of the leak is above the limit, and how much of it is outgassing this record "
    "cannot tell; pump longer first, or read for longer"
)
STRADDLES = (
    "the band of the leak reaches over the limit; read for longer, more often, or with a "
    "finer gauge"
)
FELL = (
    "the pressure fell by more than its tolerance, as neither leak nor outgassing makes it; look "
    "at the gauge, the temperature and the pump's valve"
)
BELOW, ABOVE = "the whole band is below the limit", "the whole band is above the limit"
STEADY = (
    f"{ABOVE}; outgassing or a virtual leak that dies away slower than the record lasts looks the "
    "same"
)


@dataclass(frozen=True)
class Verdict:
    """A leak (or a rate of rise) judged, in one unit throughout."""

    leak: float
    low: float | None
    high: float | None
    detectable: float | None
    verdict: str
    why: str


def judged(
    times: Array, pressures: Array, limit: float, gauge: Parts, temperature: Parts
) -> Verdict:
    """The rise judged, all in Pa/s; times in s and in order, pressures in Pa.

    A share of the reading, or an error with a name, is one error of all readings; other errors
    are of each by itself. The temperature may have moved by its tolerance in the test.
    """
    scale = sqrt(sum(part.share**2 for part in gauge))
    each = sqrt(sum(part.fixed**2 for part in gauge if not part.name))
    kelvins = uncertainty(temperature, 0.0) / LEAK_TEMPERATURE
    drift = float(pressures.mean()) * kelvins / float(np.ptp(times))
    if len(np.unique(times)) < pressure_rise.FEWEST:
        return _of_few(times, pressures, limit, each, (scale, drift))
    found = pressure_rise.fit(times, pressures, each)
    low, high = _widened(found.leak, scale, drift)
    if found.verdict in pressure_rise.FAULTS:
        why = found.verdict.removeprefix("cannot be told: ").partition(". This")[0]
        return Verdict(found.leak.value, low, high, None, REPEAT, why)
    told = found.verdict == pressure_rise.TOLD_APART
    if high <= limit:
        verdict, why = TIGHT, BELOW
    elif told and low > limit:
        verdict, why = LEAKS, STEADY
    else:
        few = len(times) < TO_TELL_APART
        verdict, why = CANNOT_TELL, STRADDLES if told else FEW if few else TOGETHER
    return Verdict(found.leak.value, low, high, found.detectable, verdict, why)


def _widened(leak: pressure_rise.Estimate, scale: float, drift: float) -> tuple[float, float]:
    """The band of a fit with the gauge's scale and the temperature beside it."""
    middle = min(max(leak.value, leak.low), leak.high)
    further = NORMAL * sqrt((middle * scale) ** 2 + drift**2)
    low = middle - sqrt((middle - leak.low) ** 2 + further**2)
    high = middle + sqrt((leak.high - middle) ** 2 + further**2)
    return (low if leak.low < 0 else max(low, 0.0)), high


def _of_few(
    times: Array, pressures: Array, limit: float, each: float, shared: tuple[float, float]
) -> Verdict:
    """A straight line through too few readings for a fit, its band from their tolerance."""
    span, (scale, drift) = float(np.ptp(times)), shared
    _, rise, variance = Record((times - times[0]) / span, pressures).straight
    rate = rise / span
    if not each:
        return Verdict(rate, None, None, None, CANNOT_TELL, NO_TOLERANCE)
    error = sqrt(variance * (each / span) ** 2 + (rate * scale) ** 2 + drift**2)
    high = rate + NORMAL * error
    if high < 0:
        return Verdict(rate, None, high, None, REPEAT, FELL)
    verdict, why = (TIGHT, BELOW) if high <= limit else (CANNOT_TELL, FEW)
    return Verdict(rate, 0.0, high, None, verdict, why)
