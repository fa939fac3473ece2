"""Flow of gas through a round line, from atmospheric pressure down to molecular flow."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, inf, log, pi, sqrt

import numpy as np
import scipy

from gasfuncs.calculations.friction import smooth_friction_factor
from gasfuncs.definition.vocabulary import Numbers
from gasfuncs.units import R

THINNEST = log(1e-30)
"""ln of the pump's pressure over the vessel's, below which the pump takes all that comes."""

NO_LOAD = 1e-30
"""Pa·m³/s: a gas load of less than a molecule in a hundred years is none."""

LEAST = 1e-60
"""Pa: the largest pump takes less than no load from it."""

CREEPING_ENDS = 3 * pi / 16
"""Bores of line that the two ends are worth in slow laminar flow (Weissberg 1962)."""

VELOCITY_HEADS = 1.5
"""Lost at the ends in fast flow: half a head at a sharp inlet, one at the outlet."""

SHORTEST, LONGEST = 1e-3, 1e4
"""Bores: beyond them Berman's formula loses its digits; the line is an opening, or just long."""


@dataclass(frozen=True)
class VacuumLine:
    """A line between two vessels and the gas in it, all in SI; `ends` false leaves them out."""

    bore: Numbers
    length: Numbers
    viscosity: Numbers
    molar_mass: float
    temperature: Numbers
    ends: bool = True

    def viscous(self, mean_pressure: Numbers) -> Numbers:
        """Conductance (m³/s) of slow laminar flow."""
        length = self.length + CREEPING_ENDS * self.bore * self.ends
        return pi * self.bore**4 * mean_pressure / (128 * self.viscosity * length)

    def molecular(self) -> Numbers:
        """Conductance (m³/s) of molecular flow."""
        speed = np.sqrt(R * self.temperature / self.molar_mass)
        if self.ends:
            opening = np.square(self.bore) * sqrt(pi / 32) * speed
            return opening * transmission(self.length / self.bore)
        return sqrt(2 * pi) / 6 * self.bore**3 / self.length * speed

    def slip(self, mean_pressure: Numbers) -> Numbers:
        """What intermediate pressures make of the molecular conductance (Knudsen 1909)."""
        s = np.sqrt(self.molar_mass / (R * self.temperature)) * mean_pressure * self.bore
        s = s / self.viscosity
        return (1 + s) / (1 + 1.24 * s)

    def conductance(self, mean_pressure: Numbers) -> Numbers:
        """m³/s at a mean pressure (Pa), by Knudsen's formula."""
        return self.viscous(mean_pressure) + self.molecular() * self.slip(mean_pressure)

    def reynolds(self, throughput: float) -> float:
        """Reynolds number at a throughput (Pa·m³/s)."""
        mass_flow = throughput * self.molar_mass / (R * float(self.temperature))
        return 4 * mass_flow / (pi * float(self.bore) * float(self.viscosity))

    def passed(self, vessel: float, pump: float, throughput: float) -> float:
        """Throughput (Pa·m³/s) that the line passes between two pressures (Pa).

        Knudsen's conductance, its laminar term cut where the flow is turbulent, speeds up on its
        way or loses at the ends; how far it is, goes by `throughput`. The wall is smooth.
        """
        mean, re = (vessel + pump) / 2, self.reynolds(throughput)
        bores = float(self.length / self.bore)
        turbulence = smooth_friction_factor(max(re, 1.0)) * max(re, 1.0) / 64
        heads = 2 * log(vessel / pump) + VELOCITY_HEADS
        hindrance = bores * turbulence + CREEPING_ENDS + re / 64 * heads
        viscous = pi * self.bore**3 * mean / (128 * self.viscosity * hindrance)
        return float((viscous + self.molecular() * self.slip(mean)) * (vessel - pump))

    @property
    def fastest(self) -> float:
        """m³/s at the outlet's pressure: gas leaves the line no faster than it can choke."""
        sonic = sqrt(R * float(self.temperature) / self.molar_mass)
        return pi / 4 * float(self.bore) ** 2 * sonic


def transmission(bores: Numbers) -> Numbers:
    """Share of the molecules at a line's inlet that leave at its outlet, by its length in bores.

    Berman's formula (J. Appl. Phys. 36, 1965), within 0.2 % of the integral equation.
    """
    longer = np.maximum(np.asarray(bores, float) / LONGEST, 1.0)
    x = 2 * np.maximum(bores / longer, SHORTEST)
    root = np.sqrt(x**2 + 4)
    above = ((8 - x**2) * root + x**3 - 16) ** 2
    below = 72 * x * root - 288 * np.log(x + root) + 288 * np.log(2)
    return np.asarray((1 + x**2 / 4 - x / 4 * root - above / below) / longer)


@dataclass(frozen=True)
class PumpCurve:
    """Pumping speeds (m³/s) at rising inlet pressures (Pa), straight between in ln p."""

    pressures: tuple[float, ...]
    speeds: tuple[float, ...]

    @property
    def ultimate(self) -> float:
        """Pa below which the pump takes nothing, 0 where its curve tells none."""
        idle = [p for p, speed in zip(self.pressures, self.speeds, strict=True) if not speed]
        return idle[-1] if idle else 0.0

    def speed(self, pressure: float) -> float:
        """m³/s; beyond the ends of the curve that of its end."""
        at = log(max(pressure, 1e-300))
        return float(np.interp(at, np.log(self.pressures), self.speeds))


@dataclass(frozen=True)
class PumpedLine:
    """A pump, of constant speed or by its curve, behind a line, or at the vessel (line None)."""

    line: VacuumLine | None
    pump: float | PumpCurve

    def speed(self, pressure: float) -> float:
        """m³/s that the pump takes at its inlet's pressure (Pa), no more than the line lets out."""
        speed = self.pump.speed(pressure) if isinstance(self.pump, PumpCurve) else self.pump
        return speed if self.line is None else min(speed, self.line.fastest)

    def without_line(self) -> PumpedLine:
        """The same pump at the vessel itself."""
        return PumpedLine(None, self.pump)

    def throughput(self, vessel: float) -> float:
        """Pa·m³/s drawn from a vessel at a pressure (Pa): the line passes what the pump takes."""
        if self.line is None or vessel <= 0:
            return self.speed(vessel) * max(vessel, 0.0)
        line = self.line

        def surplus(log_ratio: float) -> float:
            pump = vessel * exp(log_ratio)
            taken = self.speed(pump) * pump
            return (line.passed(vessel, pump, taken) - taken) / vessel

        if surplus(THINNEST) <= 0:
            return line.passed(vessel, vessel * exp(THINNEST), 0.0)
        log_ratio = scipy.optimize.brentq(surplus, THINNEST, 0.0, xtol=1e-14, rtol=1e-14)
        pump = vessel * exp(log_ratio)
        return self.speed(pump) * pump

    def pump_pressure(self, gas_load: float) -> float:
        """Pa at the pump when it takes just the gas load (Pa·m³/s)."""
        if not isinstance(self.pump, PumpCurve):
            return gas_load / self.speed(0.0)
        if gas_load < NO_LOAD:
            return self.pump.ultimate
        low, high = log(self.pump.ultimate or LEAST), log(self.pump.pressures[-1])

        def shortage(log_pressure: float) -> float:
            return self.speed(exp(log_pressure)) * exp(log_pressure) - gas_load

        while shortage(high) < 0:  # the line may let out less than the curve's end takes
            high += 1
        return exp(scipy.optimize.brentq(shortage, low, high, xtol=1e-12))

    def base_pressure(self, gas_load: float) -> float:
        """Pa in the vessel when the pump takes just the gas load (Pa·m³/s)."""
        pump = self.pump_pressure(gas_load)
        if self.line is None or gas_load < NO_LOAD:
            return pump
        line = self.line

        def shortage(ratio: float) -> float:
            return line.passed(ratio * pump, pump, gas_load) / gas_load - 1

        low, high = 1.0, 2.0
        while shortage(high) < 0:
            low, high = high, 2 * high
        return pump * float(scipy.optimize.brentq(shortage, low, high, xtol=1e-14, rtol=1e-12))

    def time(self, volume: float, p_from: float, p_to: float, gas_load: float) -> float:
        """Seconds from one pressure to another: ∫ V dp / (throughput - gas load)."""
        base = self.base_pressure(gas_load)
        if p_from == p_to:
            return 0.0
        if self.line is None and not isinstance(self.pump, PumpCurve):
            return volume / self.pump * log((p_from - base) / (p_to - base))

        def seconds(log_above_base: float) -> float:
            above = exp(log_above_base)
            return volume * above / (self.throughput(base + above) - gas_load)

        return _integral(seconds, log(p_to - base), log(p_from - base))


def _integral(integrand: Callable[[float], float], low: float, high: float) -> float:
    value, error = scipy.integrate.quad(
        integrand, low, high, epsabs=0, epsrel=1e-8, limit=200, full_output=1
    )[:2]
    return float(value) if error <= 1e-5 * value else inf
