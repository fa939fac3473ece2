"""Flow of gas through a long round line, from atmospheric pressure down to molecular flow."""

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


@dataclass(frozen=True)
class VacuumLine:
    """A line and the gas in it, all in SI."""

    bore: Numbers
    length: Numbers
    viscosity: Numbers
    molar_mass: float
    temperature: Numbers

    def viscous(self, mean_pressure: Numbers) -> Numbers:
        """Conductance (m³/s) of laminar flow, the first term of Knudsen's formula."""
        return pi * self.bore**4 * mean_pressure / (128 * self.viscosity * self.length)

    def molecular(self) -> Numbers:
        """Conductance (m³/s) of molecular flow."""
        speed = np.sqrt(R * self.temperature / self.molar_mass)
        return sqrt(2 * pi) / 6 * self.bore**3 / self.length * speed

    def slip(self, mean_pressure: Numbers) -> Numbers:
        """What intermediate pressures make of the molecular conductance (Knudsen 1909)."""
        s = np.sqrt(self.molar_mass / (R * self.temperature)) * mean_pressure * self.bore
        s = s / self.viscosity
        return (1 + s) / (1 + 1.24 * s)

    def conductance(self, mean_pressure: Numbers) -> Numbers:
        """m³/s at a mean pressure (Pa), by Knudsen's formula."""
        return self.viscous(mean_pressure) + self.molecular() * self.slip(mean_pressure)


@dataclass(frozen=True)
class PumpedLine:
    """A pump of constant speed behind a line, or at the vessel itself (line None)."""

    line: VacuumLine | None
    pumping_speed: float

    @property
    def speed(self) -> float:
        """What the pump takes, m³/s: gas leaves the line no faster than it can choke."""
        if self.line is None:
            return self.pumping_speed
        sonic = sqrt(R * float(self.line.temperature) / self.line.molar_mass)
        return min(self.pumping_speed, pi / 4 * float(self.line.bore) ** 2 * sonic)

    def without_line(self) -> PumpedLine:
        """The same pump at the vessel itself."""
        return PumpedLine(None, self.pumping_speed)

    def reynolds(self, throughput: float) -> float:
        """Reynolds number in the line at a throughput (Pa·m³/s)."""
        assert self.line is not None
        mass_flow = throughput * self.line.molar_mass / (R * float(self.line.temperature))
        return 4 * mass_flow / (pi * float(self.line.bore) * float(self.line.viscosity))

    def through_line(self, vessel: float, pump: float, throughput: float) -> float:
        """Throughput (Pa·m³/s) that the line passes between two pressures (Pa).

        Knudsen's conductance, its laminar term cut where the flow is turbulent or speeds up on
        its way; how far it is, goes by `throughput`. The wall is smooth, as of drawn tube.
        """
        assert self.line is not None
        line, mean = self.line, (vessel + pump) / 2
        re = self.reynolds(throughput)
        turbulence = smooth_friction_factor(max(re, 1.0)) * max(re, 1.0) / 64
        speeding_up = re * line.bore / (32 * line.length) * log(vessel / pump)
        viscous = line.viscous(mean) / (turbulence + speeding_up)
        return float((viscous + line.molecular() * line.slip(mean)) * (vessel - pump))

    def throughput(self, vessel: float) -> float:
        """Pa·m³/s drawn from a vessel at a pressure (Pa): the line passes what the pump takes."""
        if self.line is None or vessel <= 0:
            return self.speed * max(vessel, 0.0)

        def surplus(log_ratio: float) -> float:
            taken = self.speed * vessel * exp(log_ratio)
            passed = self.through_line(vessel, vessel * exp(log_ratio), taken)
            return passed / (self.speed * vessel) - exp(log_ratio)

        if surplus(THINNEST) <= 0:
            return self.through_line(vessel, vessel * exp(THINNEST), 0.0)
        log_ratio = scipy.optimize.brentq(surplus, THINNEST, 0.0, xtol=1e-14, rtol=1e-14)
        return self.speed * vessel * exp(log_ratio)

    def base_pressure(self, gas_load: float) -> float:
        """Pa in the vessel when the pump takes just the gas load (Pa·m³/s)."""
        pump = gas_load / self.speed
        if self.line is None or gas_load < NO_LOAD:
            return pump

        def shortage(ratio: float) -> float:
            return self.through_line(ratio * pump, pump, gas_load) / gas_load - 1

        low, high = 1.0, 2.0
        while shortage(high) < 0:
            low, high = high, 2 * high
        return pump * float(scipy.optimize.brentq(shortage, low, high, xtol=1e-14, rtol=1e-12))

    def time(self, volume: float, p_from: float, p_to: float, gas_load: float) -> float:
        """Seconds from one pressure to another: ∫ V dp / (throughput - gas load)."""
        base = self.base_pressure(gas_load)
        if p_from == p_to:
            return 0.0
        if self.line is None:
            return volume / self.speed * log((p_from - base) / (p_to - base))

        def seconds(log_above_base: float) -> float:
            above = exp(log_above_base)
            return volume * above / (self.throughput(base + above) - gas_load)

        return _integral(seconds, log(p_to - base), log(p_from - base))


def _integral(integrand: Callable[[float], float], low: float, high: float) -> float:
    value, error = scipy.integrate.quad(
        integrand, low, high, epsabs=0, epsrel=1e-8, limit=200, full_output=1
    )[:2]
    return float(value) if error <= 1e-5 * value else inf
