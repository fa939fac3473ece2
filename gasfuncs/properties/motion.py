"""What an integration asks of a gas, state after state: series in its pressure and θ = p/(ρ R).

θ is the temperature that an ideal gas would have at the pressure p and the molar density ρ. Of p
and θ the temperature and everything else follow at once, where density and pressure are what a
balance knows and the temperature would have to be searched; and they are so smooth that short
double series in Chebyshev polynomials of p and log θ hold them.

The coefficients are worked out once, compared with the equation of state on points of their own,
and kept as the tables of compressibility are. GASFUNCS_TABLES=off turns them off.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from functools import cache, cached_property
from typing import NamedTuple

import numpy as np
from numpy.polynomial import chebyshev
from numpy.typing import ArrayLike, NDArray

from gasfuncs.errors import StateError
from gasfuncs.properties import kept, states, tables
from gasfuncs.properties.gases import Gas
from gasfuncs.properties.states import Array

LEVELS = (25e5, 350e5)
"""Pa: highest pressures of the series. Of the lower one a fifth of the terms does."""

COLDEST = 150.0
ABOVE_SATURATION = 1.1
ABOVE_CRITICAL = 1.5
"""K, and times the temperature of saturation or the critical one: colder gas is asked itself."""

LENGTHS = ((8, 20), (10, 24), (14, 28), (18, 32), (24, 32), (32, 40), (48, 48))
"""Lengths in pressure and in log θ that are tried."""

WITHIN = (1e-9, 1e-9, 1e-8, 1e-8, 1e-8, 1e-3, 5e-3)
"""Relative, of each quantity: a series that is further off on the checked points is lengthened."""

LEAST_FITTED = 1e3
CHECKED_POINTS = 500
SEED = 20260101

COLDEST_ASKED, HOTTEST_ASKED = 40.0, 3000.0
"""K of θ beyond which no state here is gas within its equation: a try that leads there is dropped
without asking."""

NO_STATE = (float("nan"),) * len(WITHIN)

LEAST_PRESSURE = 1e-3
"""Pa that stand for a vacuum."""


class Moving(NamedTuple):
    """States of a gas: K, J/mol, (∂p/∂ρ)_T in J/mol, (∂p/∂T)_ρ/ρ and c_v in J/(mol K), Pa·s,
    W/(m K)."""

    temperature: Array
    enthalpy: Array
    stiffness: Array
    pressure_rise: Array
    heat_capacity: Array
    viscosity: Array
    conductivity: Array

    @property
    def isothermal_share(self) -> Array:
        """(∂p/∂T)_ρ² T / (ρ² c_v), J/mol: what the exponent has beyond the isothermal one."""
        return self.pressure_rise**2 * self.temperature / self.heat_capacity

    @property
    def heat_capacity_at_pressure(self) -> Array:
        """c_p, J/(mol K)."""
        return self.heat_capacity + self.pressure_rise**2 * self.temperature / self.stiffness


@dataclass(frozen=True)
class Level:
    """Series of the seven quantities, made dimensionless by R and θ, up to a pressure."""

    coefficients: Array
    most_pressure: float
    low: float
    high: float

    def holds(self, pressure: Array, theta: Array) -> NDArray[np.bool_]:
        """Where the series may be used."""
        return np.asarray(
            (pressure <= self.most_pressure) & (theta >= self.low) & (theta <= self.high)
        )

    def at(self, pressure: Array, theta: Array) -> Array:
        """The quantities, a row each, of states that it holds, as two flat arrays."""
        in_pressure, in_theta = self._orders
        across = np.cos(in_pressure * np.arccos(2 * pressure / self.most_pressure - 1))
        up = np.cos(in_theta * np.arccos(np.clip(self._scaled(theta), -1.0, 1.0)))
        count, first, second = self.coefficients.shape
        half = self.coefficients.reshape(count * first, second) @ up
        return np.asarray(np.einsum("kpn,pn->kn", half.reshape(count, first, -1), across))

    def _scaled(self, theta: Array) -> Array:
        low, high = self._ends
        return np.asarray((2 * np.log(theta) - low - high) / (high - low))

    @cached_property
    def _ends(self) -> tuple[float, float]:
        return float(np.log(self.low)), float(np.log(self.high))

    @cached_property
    def _orders(self) -> tuple[Array, Array]:
        _, first, second = self.coefficients.shape
        return np.arange(first, dtype=float)[:, None], np.arange(second, dtype=float)[:, None]


@cache
def gas_constant(gas: Gas) -> float:
    """J/(mol K), as the equation of state was made with it."""
    found = tables.table(gas)
    return found.gas_constant if found else states.gas_constant(gas)


def theta(gas: Gas, pressure: ArrayLike, molar_density: ArrayLike) -> Array:
    """θ in K of gas at Pa and mol/m³."""
    return np.asarray(pressure, float) / (np.asarray(molar_density) * gas_constant(gas))


def moving(gas: Gas, pressure: ArrayLike, theta: ArrayLike, *, strict: bool = True) -> Moving:
    """States at Pa and K of θ, by the series where they hold, else by the equation of state.

    Where a state is not gas, StateError is raised, or if not `strict` its numbers are NaN.
    """
    p, kelvin = np.broadcast_arrays(np.asarray(pressure, float), np.asarray(theta, float))
    flat_p, flat_kelvin = np.maximum(p.ravel(), LEAST_PRESSURE), kelvin.ravel()
    found = np.empty((len(WITHIN), flat_p.size))
    rest = np.ones(flat_p.size, dtype=bool)
    for level in levels(gas):
        here = rest & level.holds(flat_p, flat_kelvin)
        if here.all():
            found = level.at(flat_p, flat_kelvin)
            rest = ~here
            break
        if here.any():
            found[:, here] = level.at(flat_p[here], flat_kelvin[here])
            rest &= ~here
    if not strict:
        far = rest & ~((flat_kelvin > COLDEST_ASKED) & (flat_kelvin < HOTTEST_ASKED))
        found[:, far] = np.nan
        rest &= ~far
    if rest.any():
        found[:, rest] = _asked(gas, flat_p[rest], flat_kelvin[rest], strict)
    return Moving(*_in_units(gas, found, flat_kelvin).reshape(len(WITHIN), *p.shape))


def too_hot(gas: Gas, temperature: Array) -> NDArray[np.bool_]:
    """Where K are above what the equation of state reaches, which is asked only if need be."""
    found = levels(gas)
    if found and (temperature <= found[0].high).all():
        return np.zeros(temperature.shape, bool)
    return np.asarray(temperature > hottest(gas))


def hottest(gas: Gas) -> float:
    """K up to which the equation of state holds."""
    return states.limits(gas)[1]


def _in_units(gas: Gas, numbers: Array, theta: Array) -> Array:
    constant = gas_constant(gas)
    root = np.sqrt(theta)
    scales = (theta, constant * theta, constant * theta, constant, constant, root, root)
    return np.stack([row * scale for row, scale in zip(numbers, scales, strict=True)])


def _asked(gas: Gas, pressure: Array, theta: Array, strict: bool = True) -> Array:
    """The same numbers from the equation of state itself."""
    cells = list(zip(pressure.tolist(), theta.tolist(), strict=True))
    known = {cell: _one(gas, *cell, strict) for cell in dict.fromkeys(cells)}
    return np.array([known[cell] for cell in cells]).T


def _one(gas: Gas, pressure: float, theta: float, strict: bool) -> tuple[float, ...]:
    constant = gas_constant(gas)
    molar = pressure / (constant * theta)
    try:
        kelvin = states.temperature(gas, pressure, molar)
        state = states.dense(gas, molar, kelvin)
    except StateError:
        if strict:
            raise
        return NO_STATE
    root = theta**0.5
    return (
        kelvin / theta, state.enthalpy / (constant * theta), state.stiffness / (constant * theta),
        state.pressure_rise / constant, state.heat_capacity / constant,
        state.viscosity / root, state.conductivity / root,
    )  # fmt: skip


@cache
def levels(gas: Gas) -> tuple[Level, ...]:
    """The series of a pure gas, the shortest first; none of a mixture."""
    if gas.is_mixture or os.environ.get("GASFUNCS_TABLES", "").lower() == "off":
        return ()
    return KEEPING.get(gas, shape()) or ()


def shape() -> tuple[object, ...]:
    """Every number here that the series depend on."""
    return (
        LEVELS, COLDEST, ABOVE_SATURATION, ABOVE_CRITICAL, LENGTHS, WITHIN, LEAST_FITTED,
        CHECKED_POINTS, SEED, tables.MOST_TEMPERATURE,
    )  # fmt: skip


def _packed(found: tuple[Level, ...]) -> kept.Arrays:
    ends = np.array([(one.most_pressure, one.low, one.high) for one in found]).reshape(-1, 3)
    return {"ends": ends} | {f"level{n}": one.coefficients for n, one in enumerate(found)}


def _unpacked(found: kept.Arrays) -> tuple[Level, ...]:
    series = [found[f"level{n}"] for n in range(len(found["ends"]))]
    if any(one.ndim != 3 or len(one) != len(WITHIN) for one in series):
        raise ValueError("coefficients are of seven quantities, in pressure and temperature")
    return tuple(Level(one, *end) for one, end in zip(series, found["ends"].tolist(), strict=True))


def made(gas: Gas) -> tuple[Level, ...]:
    """Series made from the equation of state; a level that no length is good enough for is left."""
    found = (_level(gas, most) for most in LEVELS)
    return tuple(level for level in found if level)


def _level(gas: Gas, most: float) -> Level | None:
    low = max(COLDEST, coldest(gas, most))
    high = min(tables.MOST_TEMPERATURE, states.limits(gas)[1])
    random = np.random.default_rng(SEED)
    pressure = random.uniform(LEAST_FITTED, most, CHECKED_POINTS)
    theta = np.exp(random.uniform(np.log(low), np.log(high), CHECKED_POINTS))
    exact = _asked(gas, pressure, theta)
    for lengths in LENGTHS:
        level = Level(_fitted(gas, lengths, most, low, high), most, low, high)
        off = np.abs(level.at(pressure, theta) / exact - 1).max(axis=1)
        if (off < np.array(WITHIN)).all():
            return level
    return None


def coldest(gas: Gas, most: float) -> float:
    """K down to which a series up to a pressure is smooth."""
    critical = states.critical_temperature(gas)
    if most < states.critical_pressure(gas):
        return ABOVE_SATURATION * float(states.saturated_state(gas, most, 1.0).T())
    return ABOVE_CRITICAL * critical


def _fitted(gas: Gas, lengths: tuple[int, int], most: float, low: float, high: float) -> Array:
    """Coefficients that meet the equation of state on the nodes of both polynomials."""
    across, up = (np.cos(np.pi * (np.arange(n) + 0.5) / n) for n in lengths)
    pressure = np.maximum((across + 1) / 2 * most, LEAST_FITTED)
    theta = low * (high / low) ** ((up + 1) / 2)
    grid = np.broadcast_arrays(pressure[:, None], theta[None, :])
    values = _asked(gas, grid[0].ravel(), grid[1].ravel()).reshape(len(WITHIN), *lengths)
    in_pressure = chebyshev.chebvander(2 * pressure / most - 1, lengths[0] - 1)
    in_theta = chebyshev.chebvander(up, lengths[1] - 1)
    half = np.linalg.solve(in_pressure, values)
    return np.asarray(np.linalg.solve(in_theta, half.swapaxes(1, 2)).swapaxes(1, 2))


KEEPING = kept.Keeping("motion", made, _packed, _unpacked)
