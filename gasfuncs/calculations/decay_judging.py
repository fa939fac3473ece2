"""Whether a pressure-decay test passes: the leak's band from the readings' tolerances."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf

import numpy as np
from numpy.typing import NDArray

from gasfuncs import properties
from gasfuncs.calculations.propagation import Reading, propagated
from gasfuncs.calculations.rise_judging import (
    ABOVE,
    BELOW,
    CANNOT_TELL,
    LEAKS,
    REPEAT,
    TIGHT,
    Verdict,
)
from gasfuncs.definition.tolerances import Parts
from gasfuncs.definition.vocabulary import Numbers
from gasfuncs.properties import Gas
from gasfuncs.units import R

DAY, HOUR = 86_400.0, 3600.0

LEAST = 3.29
"""Standard errors: with so many a leak is seen, errors of 5 % of both kinds."""

NO_TOLERANCE = (
    "nothing says how good the readings are; give pressure_tolerance and temperature_tolerance"
)
GAINED = (
    "the vessel gained gas by more than its tolerances; look for a supply valve that passes, and "
    "for gas that was not as warm as its thermometer"
)


@dataclass(frozen=True)
class Decay:
    """A decay test in SI."""

    volume: float
    pressure_start: float
    temperature_start: float
    pressure_end: float
    temperature_end: float
    duration: float
    gas: Gas | None


def amount_lost(
    volume: Numbers, start: tuple[Numbers, Numbers], end: tuple[Numbers, Numbers], gas: Gas | None
) -> NDArray[np.float64]:
    """mol lost between two states (Pa, K) of a gas, or of an ideal gas where none is named."""
    return np.asarray(volume * (molar_density(gas, *start) - molar_density(gas, *end)))


def molar_density(gas: Gas | None, pressure: Numbers, temperature: Numbers) -> Numbers:
    """mol/m³ of a gas, or of an ideal gas where none is named."""
    if gas is None:
        return np.asarray(pressure) / (R * np.asarray(temperature))
    return np.asarray(properties.molar_density(gas, pressure, temperature))


def judged(test: Decay, limit: float, gauge: Parts, thermometer: Parts) -> Verdict:
    """The decay judged, in Pa·m³/s at the temperature of the start.

    A share of the pressure is one error of both readings, that of the gauge's scale; other
    errors without a name are of each reading by itself.
    """
    scale = tuple(
        replace(part, name="scale of the gauge") if part.share and not part.name else part
        for part in gauge
    )
    readings = [
        Reading(test.pressure_start, scale), Reading(test.temperature_start, thermometer),
        Reading(test.pressure_end, scale), Reading(test.temperature_end, thermometer),
    ]  # fmt: skip

    def leak(trial: NDArray[np.float64]) -> NDArray[np.float64]:
        p_start, t_start, p_end, t_end = trial
        lost = amount_lost(test.volume, (p_start, t_start), (p_end, t_end), test.gas)
        return lost * R * test.temperature_start / test.duration

    band = propagated(leak, readings, simulate=False).first
    if not gauge or not thermometer:
        return Verdict(band.value, None, None, None, CANNOT_TELL, NO_TOLERANCE)
    verdict, why = _verdict(band.low, band.high, limit, test.duration)
    return Verdict(band.value, band.low, band.high, LEAST * (band.uncertainty or 0.0), verdict, why)


def _verdict(low: float, high: float, limit: float, duration: float) -> tuple[str, str]:
    if high < 0:
        return REPEAT, GAINED
    if high <= limit:
        return TIGHT, BELOW
    if low > limit:
        return LEAKS, ABOVE
    return (
        CANNOT_TELL,
        f"the band reaches over the limit; {_what_would_tell(low, high, limit, duration)}",
    )


def _what_would_tell(low: float, high: float, limit: float, duration: float) -> str:
    """How long the test would have to be, if the leak is what it looks like."""
    off = abs((low + high) / 2 - limit)
    longer = duration * (high - low) / 2 / off if off else inf
    if longer > 30 * DAY:
        return "finer readings would tell, or the gas at a steady temperature"
    told = f"{longer / DAY:.1f} d" if longer > 2 * DAY else f"{longer / HOUR:.0f} h"
    return f"a test of about {told} would tell, or finer readings"
