"""Flow of gas through a long round line, from atmospheric pressure down to molecular flow."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, inf, log, pi, sqrt

import numpy as np
import scipy

from gasfuncs.definition.vocabulary import Numbers
from gasfuncs.units import R

SMOOTH = 0.0
"""Relative roughness of the wall: vacuum lines are taken as drawn tube."""


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
        its way; how far it is, goes by `throughput`.
        """
        from fluids.friction import Churchill_1977

        assert self.line is not None
        line, mean = self.line, (vessel + pump) / 2
        re = self.reynolds(throughput)
        turbulence = Churchill_1977(max(re, 1.0), SMOOTH) * max(re, 1.0) / 64
        speeding_up = re * line.bore / (32 * line.length) * log(vessel / pump)
        viscous = line.viscous(mean) / (turbulence + speeding_up)
        return float((viscous + line.molecular() * line.slip(mean)) * (vessel - pump))

    def throughput(self, vessel: float) -> float:
        """Pa·m³/s drawn from a vessel at a pressure (Pa): the line passes what the pump takes."""
        if self.line is None or vessel <= 0:
            return self.speed * max(vessel, 0.0)

        def surplus(pump: float) -> float:
            taken = self.speed * pump
            return self.through_line(vessel, pump, taken) - taken

        pump = scipy.optimize.brentq(
            surplus, 1e-9 * vessel, vessel, xtol=1e-14 * vessel, rtol=1e-12
        )
        return float(self.speed * pump)

    def base_pressure(self, gas_load: float) -> float:
        """Pa in the vessel when the pump takes just the gas load (Pa·m³/s)."""
        pump = gas_load / self.speed
        if self.line is None or gas_load == 0:
            return pump

        def shortage(vessel: float) -> float:
            return self.through_line(vessel, pump, gas_load) - gas_load

        high = 2 * pump
        while shortage(high) < 0:
            high *= 2
        return float(scipy.optimize.brentq(shortage, pump, high, xtol=1e-14 * high, rtol=1e-12))

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
    value, error = scipy.integrate.quad(integrand, low, high, epsabs=0, epsrel=1e-8, limit=200)[:2]
    return float(value) if error <= 1e-5 * value else inf
