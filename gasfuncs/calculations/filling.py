"""A reservoir that empties through a line into a vessel while a supply refills it.

Amounts are of real gas. The vessel is at one temperature; so is an isothermal reservoir. In an
adiabatic one the gas cools as it expands: with n mol in the reservoir, w leaving through the line
and s coming from the supply with the enthalpy h_s,

    n c_v dT/dt = s (h_s - h) + (s - w) T (∂p/∂T)_ρ / ρ
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property
from math import exp, inf, isinf, log
from typing import Any, NamedTuple

import scipy

from gasfuncs import properties
from gasfuncs.calculations import gas_dynamics
from gasfuncs.calculations.effort import Effort
from gasfuncs.calculations.gas_dynamics import AtRest, Flowing, Line
from gasfuncs.definition import unreachable
from gasfuncs.errors import NoSolutionError
from gasfuncs.properties import Dense, Gas

METHODS = {False: "LSODA", True: "BDF"}
"""Without and with a supply. With one, reservoir and vessel may rise together at almost one
pressure; LSODA does not always find out how stiff that is."""

TOLERANCE = 1e-10
"""Error allowed in a step, relative; of amounts also as a share of the gas that is let in."""

EQUALISED = 1e-7
"""Reservoir and vessel are at one pressure to this share. So close the flow is taken in proportion
to the difference: the square root that it follows falls too steeply to zero to be integrated."""

STEPS_OF_SUPPLY = 50
"""At least so many steps are made while the supply alone would bring the gas in play, so that none
jumps over the moment in which a flow sets in."""

FIRST_STEP = 1e-5
"""Of the time that the supply or the first flow would take; SciPy cannot choose one where nothing
flows at first."""

SMALLEST, LARGEST = log(1e-4), log(2.0)
"""ln of the bores in m between which one is searched."""

DOUBLE = log(2)
"""In ln d. The supply sets the pace once a bore twice as large gains less than what is missing: the
next one gains less still."""

MARGIN = 0.01
"""In ln d. The time goes at least with 1/d², so a bore changed by the root of the ratio of times
and this margin lies on the other side, unless the supply sets the pace."""


class Instant(NamedTuple):
    """What goes on at a time: the reservoir's gas, the vessel's pressure in Pa, the flow if any."""

    reservoir: Dense
    vessel_pressure: float
    flowing: Flowing | None


@dataclass(frozen=True)
class Filling:
    """One backfill, in SI. Its state is the mol let in and, where adiabatic, the reservoir's K."""

    gas: Gas
    reservoir_volume: float
    reservoir_pressure: float
    vessel_volume: float
    pressure_from: float
    pressure_to: float
    line: Line
    supply_flow: float
    temperature: float
    adiabatic: bool

    @cached_property
    def stored(self) -> float:
        """mol in the reservoir at the start."""
        return self.reservoir_volume * self._molar_density(self.reservoir_pressure)

    @cached_property
    def held(self) -> float:
        """mol in the vessel at the start."""
        return self.vessel_volume * self._molar_density(self.pressure_from)

    @cached_property
    def needed(self) -> float:
        """mol to be let in."""
        return self.vessel_volume * self._molar_density(self.pressure_to) - self.held

    def _molar_density(self, pressure: float) -> float:
        return float(properties.molar_density(self.gas, pressure, self.temperature))

    @cached_property
    def supply_enthalpy(self) -> float:
        """J/mol of the supply: at the temperature, throttled from the starting pressure."""
        return float(properties.enthalpy(self.gas, self.reservoir_pressure, self.temperature))

    @property
    def start(self) -> list[float]:
        """The state at the start."""
        return [0.0, self.temperature] if self.adiabatic else [0.0]

    @property
    def method(self) -> str:
        """SciPy's name of the method."""
        return METHODS[self.supply_flow > 0]

    def reservoir_density(self, time: float, state: Sequence[float]) -> float:
        """mol/m³."""
        left = self.stored + self.supply_flow * time - state[0]
        return max(left, 0.0) / self.reservoir_volume

    def at(self, time: float, state: Sequence[float]) -> Instant:
        """What goes on at a time in a state."""
        molar = self.reservoir_density(time, state)
        reservoir = properties.dense(self.gas, molar, self.kelvin(state))
        held = max(self.held + state[0], 0.0)
        vessel = properties.dense_pressure(self.gas, held / self.vessel_volume, self.temperature)
        if vessel >= reservoir.pressure:
            return Instant(reservoir, vessel, None)
        rest = self.at_rest(molar, reservoir)
        least = reservoir.pressure * (1 - EQUALISED)
        flowing = gas_dynamics.flow(self.line, rest, min(vessel, least))
        if vessel > least:
            share = (reservoir.pressure - vessel) / (reservoir.pressure - least)
            flowing = flowing._replace(mass_flow=flowing.mass_flow * share)
        return Instant(reservoir, vessel, flowing)

    def kelvin(self, state: Sequence[float]) -> float:
        """K in the reservoir."""
        return float(state[1]) if self.adiabatic else self.temperature

    def at_rest(self, molar: float, reservoir: Dense) -> AtRest:
        """The reservoir's gas as the line draws it; mol/m³."""
        density = molar * properties.molar_mass(self.gas)
        return AtRest(reservoir.pressure, density, reservoir.exponent, reservoir.viscosity)

    def molar_flow(self, instant: Instant) -> float:
        """mol/s through the line."""
        if instant.flowing is None:
            return 0.0
        return float(instant.flowing.mass_flow) / properties.molar_mass(self.gas)

    def rates(self, time: float, state: Sequence[float]) -> list[float]:
        """The right-hand side: mol/s and, where adiabatic, K/s."""
        instant = self.at(time, state)
        out = self.molar_flow(instant)
        if not self.adiabatic:
            return [out]
        molar, gas = self.reservoir_density(time, state), instant.reservoir
        heat = (self.supply_flow - out) * state[1] * gas.pressure_rise / molar
        if self.supply_flow:
            heat += self.supply_flow * (self.supply_enthalpy - gas.enthalpy)
        return [out, heat / (molar * self.reservoir_volume * gas.heat_capacity)]

    def integrate(self, effort: Effort | None = None, *, dense_output: bool = False) -> Any:
        """SciPy's solution up to the wanted pressure; NoSolutionError where it is not reached."""
        effort = effort or Effort()

        def rates(time: float, state: Sequence[float]) -> list[float]:
            effort.check()
            return self.rates(time, state)

        self._refuse_unreachable()
        supply_pace, first_pace = self._paces()
        unreachable(
            isinf(min(supply_pace, first_pace)),
            "reservoir_pressure",
            "is so low that nothing flows",
        )
        solution = scipy.integrate.solve_ivp(
            rates, (0.0, inf), self.start, self.method,
            events=self._filled, dense_output=dense_output,
            rtol=TOLERANCE, atol=TOLERANCE * self.needed,
            max_step=supply_pace / STEPS_OF_SUPPLY,
            first_step=FIRST_STEP * min(supply_pace, first_pace),
        )  # fmt: skip
        if solution.status != 1:
            raise NoSolutionError(f"the integration over time failed: {solution.message}")
        return solution

    def time(self, effort: Effort | None = None) -> float:
        """s until the vessel is at the wanted pressure."""
        return float(self.integrate(effort).t_events[0][0])

    @property
    def _filled(self) -> Callable[..., float]:
        """The end condition, as SciPy wants it."""

        def filled(_: float, state: Sequence[float]) -> float:
            return state[0] - self.needed

        filled.terminal = True  # type: ignore[attr-defined]
        return filled

    def _paces(self) -> tuple[float, float]:
        """s that the supply takes for the gas in play, and the first flow for what is let in."""
        first = self.molar_flow(self.at(0.0, self.start))
        supply = (self.stored + self.needed) / self.supply_flow if self.supply_flow else inf
        return supply, min(self.needed, self.stored) / first if first else inf

    def _refuse_unreachable(self) -> None:
        """Without a supply the reservoir's last pressure follows from the balance alone."""
        if self.supply_flow:
            return
        left = (self.stored - self.needed) / self.reservoir_volume
        last = self._pressure_left(left) if left > 0 else 0.0
        unreachable(
            last <= self.pressure_to * (1 + EQUALISED),
            "pressure_to",
            "is not reached: reservoir and vessel equalise below it; take a lower pressure_to, "
            "a higher reservoir_pressure, a larger reservoir or a supply_flow",
        )

    def _pressure_left(self, molar: float) -> float:
        """Pa of the reservoir at its last density, in mol/m³."""
        if not self.adiabatic:
            return properties.dense_pressure(self.gas, molar, self.temperature)
        pressure, _ = properties.expanded(
            self.gas, self.reservoir_pressure, self.temperature, molar
        )
        return float(pressure)


def with_bore(filling: Filling, bore: float) -> Filling:
    """The same backfill through another bore (m)."""
    return replace(filling, line=replace(filling.line, bore=bore))


def smallest_bore(filling: Filling, time: float, narrowest: float) -> float:
    """m of the bore with which a backfill takes a time (s), by bracketing and Brent's method.

    NoSolutionError where a bore below the narrowest (m) would do, or none at all.
    """

    effort = Effort()

    @cache
    def excess(log_bore: float) -> float:
        return log(with_bore(filling, exp(log_bore)).time(effort) / time)

    low = high = max(log(_first_bore(filling, time)), log(narrowest))
    while excess(low) < 0:
        unreachable(
            low <= log(narrowest),
            "time",
            f"is so long that a bore of {narrowest * 1e3:.2g} mm meets it; below that the friction "
            "in steel pipe is not known",
        )
        high, low = low, max(low + excess(low) / 2 - MARGIN, log(narrowest))
    stride = min(excess(high) / 2 + MARGIN, 1.0)
    while excess(high) > 0:
        low, high = high, high + stride
        gained, missing = excess(low) - excess(high), excess(high)
        unreachable(
            missing > 0 and ((stride >= DOUBLE and gained < missing) or high > LARGEST),
            "time",
            f"is too short: through a bore of {exp(high) * 1e3:.4g} mm the backfill still takes "
            f"{time * exp(missing):.4g} s; the reservoir and the supply set the pace",
        )
        stride = max(stride, DOUBLE)
    return exp(scipy.optimize.brentq(excess, low, high, xtol=1e-9))


def _first_bore(filling: Filling, time: float) -> float:
    """m of the bore whose first flow, if it lasted, would let in the gas in the time."""
    wanted = filling.needed / time

    def excess(log_bore: float) -> float:
        first = with_bore(filling, exp(log_bore))
        return first.molar_flow(first.at(0.0, first.start)) - wanted

    if excess(SMALLEST) >= 0 or excess(LARGEST) <= 0:
        return exp(SMALLEST if excess(SMALLEST) >= 0 else LARGEST)
    return exp(scipy.optimize.brentq(excess, SMALLEST, LARGEST, xtol=1e-3))
