"""Compressibility as a Chebyshev series, made from CoolProp's equation of state and kept.

Over the region of gas practice (Z - 1)/p is a smooth function of p and 1/T, so that a short
double series in Chebyshev polynomials gives it to 1e-10, far within the uncertainty of any
equation of state. A column is then two matrix products, and a fresh process needs no CoolProp.

The coefficients (a few kB a gas) are worked out once, compared with the equation of state on points
of their own, and kept: those of the pinned CoolProp come with the package, those of another are
made at first use and stay in the user's cache. GASFUNCS_TABLES=off turns them off.
"""

from __future__ import annotations

import math
import os
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

import numpy as np
from numpy.polynomial import chebyshev
from numpy.typing import NDArray

from gasfuncs.properties import kept, states
from gasfuncs.properties.gases import Gas
from gasfuncs.properties.states import Array

MOST_PRESSURE = 350e5
LEAST_TEMPERATURE = 200.0
MOST_TEMPERATURE = 1700.0
ABOVE_CRITICAL = 1.3
"""Times the critical temperature: nearer to it the equation itself is asked."""

WITHIN = 1e-10
"""Relative: a series that is further off anywhere on the checked points is lengthened."""

NOTHING = 1e-12
"""Of Z: coefficients at the end of the series that are less are cut off."""

WARM = 1.5
"""Times the lowest temperature: from there on a much shorter series does."""

ORDERS = ((20, 20), (28, 24), (40, 28), (56, 32), (80, 40))
"""Lengths in pressure and in 1/temperature that are tried."""

LEAST_FITTED = 1e3
"""Pa; the lowest pressure of the fitted points, where Z - 1 still has its digits."""

CHECKED_POINTS = 1000
SEED = 20260101
ROWS_AT_ONCE = 8192

PRODUCTS_AT_ONCE = 2**18
"""Up to so many, OpenBLAS multiplies matrices in one thread (its threshold is the same)."""


@dataclass(frozen=True)
class Series:
    """(Z - 1)/p of one gas between two temperatures, in 1/Pa."""

    coefficients: Array
    low: float
    high: float

    def at(self, pressure: Array, temperature: Array) -> Array:
        """Of states between them, as two flat arrays."""
        out = np.empty(len(pressure))
        for start in range(0, len(pressure), ROWS_AT_ONCE):
            rows = slice(start, start + ROWS_AT_ONCE)
            across = _polynomials(2 * pressure[rows] / MOST_PRESSURE - 1, len(self._orders[0]))
            up = _polynomials(self._scaled(temperature[rows]), len(self._orders[1]))
            out[rows] = np.einsum("in,in->n", _product(self.coefficients.T, across), up)
        return out

    def at_one(self, pressure: float, temperature: float) -> float:
        """Of one state between them: a polynomial is cos(n arccos x)."""
        across = math.acos(2 * pressure / MOST_PRESSURE - 1)
        up = math.acos(max(-1.0, min(1.0, self._scaled(temperature))))
        first, second = self._orders
        return float(np.cos(first * across) @ self.coefficients @ np.cos(second * up))

    def _scaled(self, temperature: Any) -> Any:
        low, high = 1 / self.high, 1 / self.low
        return (2 / temperature - low - high) / (high - low)

    @cached_property
    def _orders(self) -> tuple[Array, Array]:
        first, second = (np.arange(count, dtype=float) for count in self.coefficients.shape)
        return first, second


@dataclass(frozen=True)
class Table:
    """The series of one gas: a long one of the cold gas, a short one of the rest."""

    cold: Series
    warm: Series
    gas_constant: float
    molar_mass: float

    @property
    def least_temperature(self) -> float:
        """K."""
        return self.cold.low

    @property
    def most_temperature(self) -> float:
        """K."""
        return self.warm.high

    def holds(self, pressure: Array, temperature: Array) -> NDArray[np.bool_]:
        """Where the series may be used."""
        return np.asarray(
            (pressure >= 0)
            & (pressure <= MOST_PRESSURE)
            & (temperature >= self.cold.low)
            & (temperature <= self.warm.high)
        )

    def compressibility(self, pressure: Array, temperature: Array) -> Array:
        """Z of states that the table holds, as two flat arrays."""
        is_warm = temperature > self.warm.low
        out = np.empty(len(pressure))
        for series, rows in ((self.cold, ~is_warm), (self.warm, is_warm)):
            out[rows] = series.at(pressure[rows], temperature[rows])
        return np.asarray(1 + pressure * out)

    def molar_density(self, pressure: Array, temperature: Array) -> Array:
        """mol/m³ of states that the table holds, as two flat arrays."""
        z = self.compressibility(pressure, temperature)
        return np.asarray(pressure / (z * self.gas_constant * temperature))

    def holds_one(self, pressure: float, temperature: float) -> bool:
        """Whether the series may be used for one state."""
        return 0 <= pressure <= MOST_PRESSURE and self.cold.low <= temperature <= self.warm.high

    def one_molar_density(self, pressure: float, temperature: float) -> float:
        """mol/m³ of one state that the table holds."""
        series = self.warm if temperature > self.warm.low else self.cold
        z = 1 + pressure * series.at_one(pressure, temperature)
        return pressure / (z * self.gas_constant * temperature)


def _polynomials(x: Array, count: int) -> Array:
    """Chebyshev polynomials of the first kind up to a count, a row each."""
    rows = np.empty((count, len(x)))
    rows[0] = 1
    rows[1] = x
    twice = 2 * x
    for order in range(2, count):
        np.multiply(twice, rows[order - 1], out=rows[order])
        rows[order] -= rows[order - 2]
    return rows


def _product(few: Array, many: Array) -> Array:
    """The matrix product, cut into pieces of one thread: a second one waits for a busy core."""
    out = np.empty((len(few), many.shape[1]))
    step = PRODUCTS_AT_ONCE // few.size
    for start in range(0, many.shape[1], step):
        rows = slice(start, start + step)
        np.matmul(few, many[:, rows], out=out[:, rows])
    return out


@cache
def table(gas: Gas) -> Table | None:
    """The table of a pure gas, or None where the equation of state itself is to be asked."""
    if gas.is_mixture or os.environ.get("GASFUNCS_TABLES", "").lower() == "off":
        return None
    return KEEPING.get(gas, shape())


def shape() -> tuple[object, ...]:
    """Every number here that a table depends on."""
    return (
        MOST_PRESSURE, LEAST_TEMPERATURE, MOST_TEMPERATURE, ABOVE_CRITICAL, WITHIN, NOTHING, WARM,
        ORDERS, LEAST_FITTED, CHECKED_POINTS, SEED,
    )  # fmt: skip


def _packed(found: Table) -> kept.Arrays:
    cold, warm = found.cold, found.warm
    rest = np.array([cold.low, warm.low, warm.high, found.gas_constant, found.molar_mass])
    return {"cold": cold.coefficients, "warm": warm.coefficients, "rest": rest}


def _unpacked(found: kept.Arrays) -> Table:
    low, middle, high, constant, mass = found["rest"].tolist()
    cold, warm = Series(found["cold"], low, middle), Series(found["warm"], middle, high)
    if cold.coefficients.ndim != 2 or warm.coefficients.ndim != 2:
        raise ValueError("coefficients of a double series are rows and columns")
    return Table(cold, warm, constant, mass)


def made(gas: Gas) -> Table | None:
    """A table made from the equation of state, or None where no length is good enough."""
    low = max(LEAST_TEMPERATURE, ABOVE_CRITICAL * states.critical_temperature(gas))
    high = min(MOST_TEMPERATURE, states.limits(gas)[1])
    cold, warm = _series(gas, low, WARM * low), _series(gas, WARM * low, high)
    if cold is None or warm is None:
        return None
    return Table(cold, warm, states.gas_constant(gas), states.molar_mass(gas))


def _series(gas: Gas, low: float, high: float) -> Series | None:
    """The shortest of the series tried that is good enough, on points of their own."""
    random = np.random.default_rng(SEED)
    pressure = random.uniform(LEAST_FITTED, MOST_PRESSURE, CHECKED_POINTS)
    temperature = 1 / random.uniform(1 / high, 1 / low, CHECKED_POINTS)
    exact = states.compressibility(gas, pressure, temperature)
    for order in ORDERS:
        series = Series(_fitted(gas, order, low, high), low, high)
        off = (1 + pressure * series.at(pressure, temperature)) / exact - 1
        if np.max(np.abs(off)) < WITHIN:
            return series
    return None


def _fitted(gas: Gas, order: tuple[int, int], low: float, high: float) -> Array:
    """Coefficients that meet the equation of state, as many as add something."""

    def values_of(pressure: Array, temperature: Array) -> Array:
        return np.asarray((states.compressibility(gas, pressure, temperature) - 1) / pressure)

    found = interpolated(values_of, order, low, high)
    return shortened(found, np.abs(found) * MOST_PRESSURE > NOTHING)


def interpolated(
    values_of: Callable[[Array, Array], Array], order: tuple[int, int], low: float, high: float
) -> Array:
    """Coefficients that meet values of p and T on the nodes of both polynomials."""
    across, up = (np.cos(np.pi * (np.arange(n) + 0.5) / n) for n in order)
    pressure = np.maximum((across + 1) / 2 * MOST_PRESSURE, LEAST_FITTED)
    inverse = (up + 1) / 2 * (1 / low - 1 / high) + 1 / high
    values = values_of(*np.broadcast_arrays(pressure[:, None], 1 / inverse[None, :]))
    in_pressure = chebyshev.chebvander(2 * pressure / MOST_PRESSURE - 1, order[0] - 1)
    in_inverse = chebyshev.chebvander(up, order[1] - 1)
    half = np.linalg.solve(in_pressure, values)
    return np.asarray(np.linalg.solve(in_inverse, half.T).T)


def shortened(series: Array, adds: NDArray[np.bool_]) -> Array:
    """A series without the rows and columns at its end in which no coefficient adds anything."""
    rows, columns = (np.flatnonzero(adds.any(axis))[-1] + 1 for axis in (1, 0))
    return series[:rows, :columns].copy()


KEEPING = kept.Keeping("compressibility", made, _packed, _unpacked)
