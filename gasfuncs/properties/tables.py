"""Compressibility as a Chebyshev series, made from CoolProp's equation of state and kept.

Over the region of gas practice (Z - 1)/p is a smooth function of p and 1/T, so that a short
double series in Chebyshev polynomials gives it to 1e-10, far within the uncertainty of any
equation of state. A column is then two matrix products, and a fresh process needs no CoolProp.

The coefficients (a few kB a gas) are worked out at first use, compared with the equation of
state on points of their own, and kept in the user's cache folder under CoolProp's version.
GASFUNCS_TABLES=off turns them off.
"""

from __future__ import annotations

import math
import os
import tempfile
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.metadata import version
from pathlib import Path
from zipfile import BadZipFile

import numpy as np
from numpy.polynomial import chebyshev
from numpy.typing import NDArray
from platformdirs import user_cache_path

from gasfuncs.properties import states
from gasfuncs.properties.gases import Gas
from gasfuncs.properties.states import Array

MOST_PRESSURE = 350e5
LEAST_TEMPERATURE = 200.0
MOST_TEMPERATURE = 1700.0
ABOVE_CRITICAL = 1.3
"""Times the critical temperature: nearer to it the equation itself is asked."""

WITHIN = 1e-10
"""Relative: a series that is further off anywhere on the checked points is lengthened."""

ORDERS = ((24, 24), (36, 28), (50, 40), (64, 48), (80, 60))
"""Lengths in pressure and in 1/temperature that are tried."""

LEAST_FITTED = 1e3
"""Pa; the lowest pressure of the fitted points, where Z - 1 still has its digits."""

CHECKED_POINTS = 2000
ROWS_AT_ONCE = 8192


@dataclass(frozen=True)
class Table:
    """The series of one gas."""

    coefficients: Array
    least_temperature: float
    most_temperature: float
    gas_constant: float
    molar_mass: float

    def holds(self, pressure: Array, temperature: Array) -> NDArray[np.bool_]:
        """Where the series may be used."""
        return np.asarray(
            (pressure >= 0)
            & (pressure <= MOST_PRESSURE)
            & (temperature >= self.least_temperature)
            & (temperature <= self.most_temperature)
        )

    def compressibility(self, pressure: Array, temperature: Array) -> Array:
        """Z of states that the table holds, as two flat arrays."""
        out = np.empty(len(pressure))
        for start in range(0, len(pressure), ROWS_AT_ONCE):
            rows = slice(start, start + ROWS_AT_ONCE)
            p = pressure[rows]
            across = _polynomials(2 * p / MOST_PRESSURE - 1, self.coefficients.shape[0])
            up = _polynomials(self._scaled(temperature[rows]), self.coefficients.shape[1])
            out[rows] = 1 + p * np.einsum("in,in->n", self.coefficients.T @ across, up)
        return out

    def holds_one(self, pressure: float, temperature: float) -> bool:
        """Whether the series may be used for one state."""
        low, high = self.least_temperature, self.most_temperature
        return 0 <= pressure <= MOST_PRESSURE and low <= temperature <= high

    def one_molar_density(self, pressure: float, temperature: float) -> float:
        """mol/m³ of one state that the table holds: a polynomial is cos(n arccos x)."""
        low, high = self._inverse
        across = math.acos(2 * pressure / MOST_PRESSURE - 1)
        up = math.acos(max(-1.0, min(1.0, (2 / temperature - low - high) / (high - low))))
        orders = self._orders
        series = np.cos(orders[0] * across) @ self.coefficients @ np.cos(orders[1] * up)
        return float(pressure / ((1 + pressure * series) * self.gas_constant * temperature))

    def molar_density(self, pressure: Array, temperature: Array) -> Array:
        """mol/m³ of states that the table holds, as two flat arrays."""
        z = self.compressibility(pressure, temperature)
        return np.asarray(pressure / (z * self.gas_constant * temperature))

    def _scaled(self, temperature: Array) -> Array:
        low, high = self._inverse
        return np.asarray((2 / temperature - low - high) / (high - low))

    @cached_property
    def _orders(self) -> tuple[Array, Array]:
        first, second = (np.arange(count, dtype=float) for count in self.coefficients.shape)
        return first, second

    @cached_property
    def _inverse(self) -> tuple[float, float]:
        return 1 / self.most_temperature, 1 / self.least_temperature


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


@cache
def table(gas: Gas) -> Table | None:
    """The table of a pure gas, or None where the equation of state itself is to be asked."""
    if gas.is_mixture or os.environ.get("GASFUNCS_TABLES", "").lower() == "off":
        return None
    kept = _folder() / f"{gas.name.replace(' ', '-')}.npz"
    found = _read(kept)
    if found is None:
        found = made(gas)
        if found is not None:
            _keep(found, kept)
    return found


def _folder() -> Path:
    return user_cache_path("gasfuncs") / f"coolprop-{version('CoolProp')}"


def _read(path: Path) -> Table | None:
    """A table that was kept, or None where there is none that can be read."""
    try:
        with path.open("rb") as file, np.load(file, allow_pickle=False) as kept:
            coefficients, rest = kept["coefficients"], kept["rest"]
    except (OSError, ValueError, LookupError, EOFError, TypeError, AttributeError, BadZipFile):
        return None
    if coefficients.shape not in ORDERS or rest.shape != (4,):
        return None
    return Table(np.asarray(coefficients, float), *map(float, rest))


def _keep(kept: Table, path: Path) -> None:
    """Write a table beside its place and swap it in; without it each process makes its own."""
    rest = [kept.least_temperature, kept.most_temperature, kept.gas_constant, kept.molar_mass]
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as file:
            np.savez(file, coefficients=kept.coefficients, rest=np.array(rest))
        os.replace(file.name, path)
    except OSError:
        return


def made(gas: Gas) -> Table | None:
    """A table made from the equation of state, or None where no length is good enough."""
    low = max(LEAST_TEMPERATURE, ABOVE_CRITICAL * states.critical_temperature(gas))
    high = min(MOST_TEMPERATURE, states.limits(gas)[1])
    constant, mass = states.gas_constant(gas), states.molar_mass(gas)
    random = np.random.default_rng(20260101)
    pressure = random.uniform(LEAST_FITTED, MOST_PRESSURE, CHECKED_POINTS)
    temperature = 1 / random.uniform(1 / high, 1 / low, CHECKED_POINTS)
    exact = states.compressibility(gas, pressure, temperature)
    for order in ORDERS:
        fitted = Table(_fitted(gas, order, low, high), low, high, constant, mass)
        off = fitted.compressibility(pressure, temperature) / exact - 1
        if np.max(np.abs(off)) < WITHIN:
            return fitted
    return None


def _fitted(gas: Gas, order: tuple[int, int], low: float, high: float) -> Array:
    """Coefficients that meet the equation of state on the nodes of both polynomials."""
    across, up = (np.cos(np.pi * (np.arange(n) + 0.5) / n) for n in order)
    pressure = np.maximum((across + 1) / 2 * MOST_PRESSURE, LEAST_FITTED)
    inverse = (up + 1) / 2 * (1 / low - 1 / high) + 1 / high
    grid = np.broadcast_arrays(pressure[:, None], 1 / inverse[None, :])
    values = (states.compressibility(gas, *grid) - 1) / grid[0]
    in_pressure = chebyshev.chebvander(2 * pressure / MOST_PRESSURE - 1, order[0] - 1)
    in_inverse = chebyshev.chebvander(up, order[1] - 1)
    half = np.linalg.solve(in_pressure, values)
    return np.asarray(np.linalg.solve(in_inverse, half.T).T)
