"""A reservoir that empties through a line into a vessel while a supply refills it.

Columns of fills are integrated together. Known of each are the mol let in and the pressures of
vessel and reservoir; with the supply's s and the line's w mol/s, the balances of amount and energy
of a gas space of volume V and n mol, into which j flows with the enthalpy h_j and heat Q passes,

    V dp/dt = (∂p/∂ρ)_T dn/dt + (β/c_v) (Σ j (h_j - h) + β T dn/dt + Q),   β = (∂p/∂T)_ρ / ρ

give both pressures; the temperature follows from p and n. Heat passes as the exchange of each side
has it: "isothermal" holds the temperature, "adiabatic" lets nothing pass, "wall" gives
Q = h A (T_w - T) to a wall that keeps its temperature.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from gasfuncs import properties
from gasfuncs.calculations import convection, gas_dynamics, integration
from gasfuncs.calculations.effort import Effort
from gasfuncs.calculations.gas_dynamics import AtRest, Guess, Line
from gasfuncs.calculations.integration import Course, Ends, Problem, Rows
from gasfuncs.definition import unreachable_rows
from gasfuncs.properties import Gas, Moving

Column = NDArray[np.float64]

ISOTHERMAL, ADIABATIC, WALL = "isothermal", "adiabatic", "wall"

EQUALISED = 1e-4
"""Reservoir and vessel are at one pressure to this share. So close the flow is taken in proportion
to the difference: the square root that it follows falls too steeply to zero to be integrated."""

SOFT = 0.1
"""Of that difference: the flow sets in and out over it without a kink. Against a higher pressure
nothing is left of it: the line does not let gas back, as with a check valve."""

STAYING = 30.0
"""A deviation from the temperature that is held dies away with this power of the gas that passes:
what rounding leaves of it in a thin gas would stay otherwise."""

EMPTY = 1e-6
"""Of the wanted pressure: a vessel below it starts from it, as no gas has no temperature."""

FIRST_STEP = 0.02
"""Of the time that the first flow or the supply would take."""

AT_REST = 1e3
"""A fill without a supply is over where at its present pace what is missing would take so many
times the time it has taken already."""


FOREVER = 1e10
"""s: what has not ended by then never does."""


@dataclass(frozen=True)
class Space:
    """Gas spaces, columns in SI: m³, Pa and K before, K of the wall, W/K to it (NaN where by
    convection), and how they exchange heat."""

    volume: Column
    pressure: Column
    temperature: Column
    wall: Column
    conductance: Column
    exchange: str

    def amount(self, gas: Gas) -> Column:
        """mol before."""
        return self.volume * properties.molar_density(gas, self.pressure, self.temperature)


@dataclass(frozen=True)
class Filling:
    """Columns of backfills, in SI: through a line, or without one at a steady draw."""

    gas: Gas
    reservoir: Space
    vessel: Space
    pressure_to: Column
    line: Line | None
    supply_flow: Column
    supply_temperature: Column
    draw: Column
    """mol/s where no line is known."""

    def __post_init__(self) -> None:
        """A vessel that is as good as empty starts from a breath of gas."""
        pressure = np.maximum(self.vessel.pressure, EMPTY * self.pressure_to)
        object.__setattr__(self, "vessel", replace(self.vessel, pressure=pressure))

    @cached_property
    def stored(self) -> Column:
        """mol in the reservoir at the start."""
        return self.reservoir.amount(self.gas)

    @cached_property
    def held(self) -> Column:
        """mol in the vessel at the start."""
        return self.vessel.amount(self.gas)

    @cached_property
    def wanted(self) -> Column:
        """mol that the vessel would take at its starting temperature: a measure of amounts."""
        full = properties.molar_density(self.gas, self.pressure_to, self.vessel.temperature)
        return np.asarray(self.vessel.volume * full)

    @cached_property
    def supply_enthalpy(self) -> Column:
        """J/mol of the supply, throttled from the reservoir's starting pressure."""
        pressure, kelvin = self.reservoir.pressure, self.supply_temperature
        molar = properties.molar_density(self.gas, pressure, kelvin)
        theta = properties.theta(self.gas, pressure, molar)
        return properties.moving(self.gas, pressure, theta).enthalpy

    @cached_property
    def start(self) -> Column:
        """States at the start: mol let in, Pa of vessel and reservoir."""
        nothing = np.zeros_like(self.pressure_to)
        return np.stack([nothing, self.vessel.pressure, self.reservoir.pressure], axis=-1)


class Instant(NamedTuple):
    """What goes on: states of vessel and reservoir, mol of both, mol/s and W into both."""

    vessel: Moving
    reservoir: Moving
    held: Column
    stored: Column
    flow: Column
    vessel_heat: Column
    reservoir_heat: Column


@dataclass
class Motion:
    """The differential equation of some fills."""

    filling: Filling

    def __post_init__(self) -> None:
        self._rows: Rows | None = None
        self._guesses: dict[tuple[int, ...], Guess] = {}

    def of(self, rows: Rows) -> Filling:
        """The fills of some rows as columns beside points; the last ones asked for are kept."""
        if rows is not self._rows:
            self._rows, self._guesses = rows, {}
            self._some: Filling = spread(self.filling, rows)
        return self._some

    def rates(self, rows: Rows, time: Column, state: Column) -> Column:
        """mol/s and Pa/s, of times (rows x points) and states (rows x points x 3)."""
        some = self.of(rows)
        now = self.at(some, time, state)
        supply = np.broadcast_to(some.supply_flow, now.flow.shape)
        arriving = now.flow * (now.reservoir.enthalpy - now.vessel.enthalpy)
        supplied = supply * (some.supply_enthalpy - now.reservoir.enthalpy)
        return np.stack(
            [
                now.flow,
                pace(some.vessel, now.vessel, now.flow, arriving + now.vessel_heat),
                pace(some.reservoir, now.reservoir, supply - now.flow,
                      supplied + now.reservoir_heat),
            ],
            axis=-1,
        )  # fmt: skip

    def at(self, some: Filling, time: Column, state: Column) -> Instant:
        """What goes on at times in states; NaN where there is no gas."""
        gas = self.filling.gas
        let_in, *pressures = np.moveaxis(state, -1, 0)
        pressure = np.maximum(pressures, VACUUM)
        held = some.held + let_in
        stored = some.stored + some.supply_flow * time - let_in
        molar = np.maximum([held / some.vessel.volume, stored / some.reservoir.volume], TRACE)
        both = properties.moving(
            gas, pressure, properties.theta(gas, pressure, molar), strict=False
        )
        vessel, reservoir = (Moving(*(part[side] for part in both)) for side in (0, 1))
        density = molar * properties.molar_mass(gas)
        flow = self._flow(some, reservoir, pressure, density[1])
        return Instant(
            vessel, reservoir, held, stored, flow,
            heat(some.vessel, vessel, density[0], gas, _jet(some, flow)),
            heat(some.reservoir, reservoir, density[1], gas, None),
        )  # fmt: skip

    def _flow(self, some: Filling, reservoir: Moving, pressure: Column, density: Column) -> Column:
        """mol/s through the line; in proportion to the difference where there is hardly any."""
        below, above = pressure
        if some.line is None:
            return np.broadcast_to(some.draw, above.shape)
        rest = self._at_rest(reservoir, above, density)
        least = above * (1 - EQUALISED)
        key = above.shape
        found, self._guesses[key] = gas_dynamics.mass_flow(
            some.line, rest, np.minimum(below, least), self._guesses.get(key)
        )
        share = (above - below) / (above - least)
        share = np.minimum(SOFT * np.logaddexp(0.0, share / SOFT), 1.0)
        return np.asarray(found * share / properties.molar_mass(self.filling.gas))

    def _at_rest(self, reservoir: Moving, pressure: Column, density: Column) -> AtRest:
        """The reservoir's gas as the line draws it; kg/m³."""
        stiffness = reservoir.stiffness + reservoir.isothermal_share
        exponent = stiffness * density / (properties.molar_mass(self.filling.gas) * pressure)
        return AtRest(pressure, density, exponent, reservoir.viscosity)

    def choked(self, some: Filling, now: Instant, state: Column) -> NDArray[np.bool_]:
        """Whether the line is choked."""
        if some.line is None:
            return np.zeros(now.flow.shape, bool)
        below, above = state[..., 1], state[..., 2]
        density = now.stored / some.reservoir.volume * properties.molar_mass(self.filling.gas)
        rest = self._at_rest(now.reservoir, above, density)
        flowing = gas_dynamics.flow(some.line, rest, np.minimum(below, above))
        return np.asarray(flowing.choked & (now.flow > 0))

    def conductance(self, some: Filling, now: Instant) -> Column:
        """W/K between the vessel's gas and its wall; NaN where it has none."""
        if some.vessel.exchange != WALL:
            return np.full_like(now.held, np.nan)
        density = now.held / some.vessel.volume * properties.molar_mass(self.filling.gas)
        return conductance(some.vessel, now.vessel, density, self.filling.gas, _jet(some, now.flow))


class _Jet(NamedTuple):
    """mol/s through a bore in m."""

    flow: Column
    bore: Any


def _jet(some: Filling, flow: Column) -> _Jet | None:
    return _Jet(flow, some.line.bore) if some.line else None


TRACE, VACUUM = 1e-12, 1e-15
"""mol/m³ and Pa of a space that is as good as empty."""


def taken(record: Any, rows: Rows) -> Any:
    """A record with some rows of its columns, and so of the records in it."""
    return _changed(record, lambda column: column[rows])


def spread(record: Any, rows: Rows) -> Any:
    """The same, each column beside points; what a filling works out once comes along."""
    some = _changed(record, lambda column: column[rows][:, None])
    if isinstance(record, Filling):
        for name in ("stored", "held", "wanted", "supply_enthalpy"):
            some.__dict__[name] = getattr(record, name)[rows][:, None]
    return some


def _changed(record: Any, change: Callable[[Column], Column]) -> Any:
    changed = {}
    for field in fields(record):
        value = getattr(record, field.name)
        if isinstance(value, np.ndarray):
            changed[field.name] = change(value)
        elif isinstance(value, Space | Line):
            changed[field.name] = _changed(value, change)
    return replace(record, **changed)


def heat(space: Space, state: Moving, density: Column, gas: Gas, jet: _Jet | None) -> Column:
    """W from the wall into the gas."""
    if space.exchange != WALL:
        return np.zeros_like(density)
    passing = conductance(space, state, density, gas, jet)
    return np.asarray(passing * (space.wall - state.temperature))


def conductance(space: Space, state: Moving, density: Column, gas: Gas, jet: _Jet | None) -> Column:
    """W/K between the wall and the gas: as given, or by convection."""
    mass = properties.molar_mass(gas)
    if jet:
        diameter = convection.cylinder_diameter(space.volume, convection.STOUT)
        area = convection.cylinder_area(space.volume, convection.STOUT)
        passing = convection.jet(
            state, density, mass, space.wall, jet.flow * mass, jet.bore, diameter
        )
    else:
        area = convection.cylinder_area(space.volume, convection.SLENDER)
        passing = convection.natural(state, density, mass, space.wall)
    return np.where(np.isnan(space.conductance), passing * area, space.conductance)


def pace(space: Space, state: Moving, flow: Column, warmth: Column) -> Column:
    """Pa/s of a space into which mol/s flow, with W beside what they carry as they are."""
    rise = state.pressure_rise
    if space.exchange == ISOTHERMAL:
        beyond = STAYING * np.abs(flow) * (space.temperature - state.temperature)
    else:
        beyond = (warmth + rise * state.temperature * flow) / state.heat_capacity
    return np.asarray((state.stiffness * flow + rise * beyond) / space.volume)


def run(
    filling: Filling, effort: Effort, seen: integration.Seen | None = None, *, strict: bool = True
) -> Ends:
    """All fills to the wanted pressure.

    Raises NoSolutionError where it is not reached, if `strict`, and StateError where the gas does
    not stay one.
    """
    motion = Motion(filling)

    def remaining(rows: Rows, state: Column) -> Column:
        return np.asarray(filling.pressure_to[rows] - state[..., 1])

    def rested(course: Course) -> NDArray[np.bool_]:
        missing = remaining(course.rows, course.state)
        still = course.rate[:, 1] * course.time * AT_REST < missing
        alone = filling.supply_flow[course.rows] <= 0
        over = still & alone & (course.time > paces[course.rows])
        return np.asarray(over | (course.time > FOREVER))

    paces = _paces(motion)
    scale = np.stack([filling.wanted, filling.pressure_to, filling.reservoir.pressure], axis=-1)
    problem = Problem(motion.rates, remaining, rested, scale)
    first = FIRST_STEP * np.where(np.isfinite(paces), paces, 1.0)
    ends = integration.integrate(problem, filling.start, first, effort.check, seen)
    _refuse_stuck(motion, ends)
    if strict:
        refuse_unreached(ends)
    return ends


def refuse_unreached(ends: Ends) -> None:
    """NoSolutionError of the fills that come to rest below the wanted pressure."""

    def sentence(row: int) -> str:
        vessel, reservoir = (ends.state[row, side] / 1e5 for side in (1, 2))
        return (
            f"is not reached: the vessel comes to {vessel:.4g} bar(a), the reservoir to "
            f"{reservoir:.4g} bar(a), and equalise below it; take a lower pressure_to, a higher "
            "reservoir_pressure, a larger reservoir or a supply_flow"
        )

    unreachable_rows(~ends.reached, "pressure_to", sentence)


def _refuse_stuck(motion: Motion, ends: Ends) -> None:
    """Refuse the fills that find no way further, mostly since a gas would not stay one."""

    def sentence(row: int) -> str:
        here = motion.of(np.array([row]))
        now = motion.at(here, ends.time[row : row + 1, None], ends.state[row][None, None])
        _, *pressures = ends.state[row] / 1e5
        kelvins = (float(side.temperature[0, 0]) for side in (now.vessel, now.reservoir))
        vessel, reservoir = (
            f"{bar:.4g} bar(a) and {kelvin - 273.15:.4g} °C"
            for bar, kelvin in zip(pressures, kelvins, strict=True)
        )
        known = np.isfinite(ends.state[row]).all()
        where = f"with the reservoir at {reservoir} and the vessel at {vessel} " if known else ""
        return (
            f"is not reached as a gas: {where}the gas begins to condense or leaves its equation "
            "of state"
        )

    unreachable_rows(ends.stuck, "pressure_to", sentence)


def _paces(motion: Motion) -> Column:
    """s that the first flow takes for what is let in, or the supply for the gas in play."""
    filling = motion.filling
    rows = np.arange(len(filling.pressure_to))
    start = filling.start[:, None]
    first = motion.at(motion.of(rows), np.zeros_like(start[..., 0]), start).flow[:, 0]
    with np.errstate(divide="ignore"):
        by_flow = np.minimum(filling.wanted, filling.stored) / first
        by_supply = (filling.stored + filling.wanted) / filling.supply_flow
    return np.minimum(by_flow, by_supply)
