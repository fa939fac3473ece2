"""Series of properties that the library itself asks of the equation of state, made for a book."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache, partial
from typing import NamedTuple

import numpy as np
from numpy.polynomial import chebyshev

from gasfuncs import properties
from gasfuncs.hosts.carried.arrays import NotRecordedError
from gasfuncs.properties import Array, Gas, gas, tables

LOWEST = 1.001
HIGHEST = 0.98
"""Of the pressures of the triple and the critical point: saturation is told between these."""

TERMS = 60

WITHIN = 4e-9
CLOSER = {"viscosity": 1e-10}
"""Of the largest value: near the critical point the equation of state is solved no closer."""

MOSTLY = 1e-10
"""Of the largest value: what half of the states are within."""

CHECKED = 200


class Saturation(NamedTuple):
    """Series of one gas in √ln(p_c/p), a row each: K, mol/m³, p/(ρ R T) of the vapour, J/mol,
    J/(mol K)."""

    rows: Array
    critical: float
    low: float
    high: float


def table(name: str) -> tables.Table:
    """The densities of a gas.

    Raises NotRecordedError where the equation of state itself is to be asked for them.
    """
    found = tables.table(gas(name))
    if found is None:
        raise NotRecordedError(f"the series of {name} are off; unset GASFUNCS_TABLES")
    return found


def both(name: str) -> tuple[tables.Series, tables.Series]:
    """The series of the densities of a gas, cold and warm."""
    found = table(name)
    return found.cold, found.warm


@cache
def saturation(name: str) -> Saturation:
    """The liquid and vapour of a gas in balance, over almost all pressures that it has both at."""
    of = gas(name)
    triple, critical = properties.saturation_limits(of)
    low, high = (math.sqrt(math.log(critical / p)) for p in (HIGHEST * critical, LOWEST * triple))
    nodes = np.cos(np.pi * (np.arange(TERMS) + 0.5) / TERMS)
    place = (nodes + 1) / 2 * (high - low) + low
    found = properties.saturated(of, critical * np.exp(-(place**2)))
    constant = table(name).gas_constant
    vapour = critical * np.exp(-(place**2)) / (found.vapour_density * constant * found.temperature)
    values = (
        found.temperature, found.liquid_density, vapour,
        found.liquid_enthalpy, found.vapour_enthalpy, found.liquid_entropy, found.vapour_entropy,
    )  # fmt: skip
    rows = np.linalg.solve(chebyshev.chebvander(nodes, TERMS - 1), np.array(values).T).T
    return Saturation(np.asarray(rows, float), critical, low, high)


@cache
def double(name: str, property_of: Callable[..., Array]) -> tuple[Array, Array]:
    """A property of a gas over pressure and 1/temperature, cold and warm as the densities are."""
    cold, warm = (_fitted(gas(name), property_of, part) for part in both(name))
    return cold, warm


def _fitted(of: Gas, property_of: Callable[..., Array], like: tables.Series) -> Array:
    random = np.random.default_rng(tables.SEED)
    pressure = random.uniform(tables.LEAST_FITTED, tables.MOST_PRESSURE, CHECKED)
    temperature = 1 / random.uniform(1 / like.high, 1 / like.low, CHECKED)
    exact = property_of(of, pressure, temperature)
    within = CLOSER.get(property_of.__name__, WITHIN)
    for order in tables.ORDERS:
        found = tables.interpolated(partial(property_of, of), order, like.low, like.high)
        adds = np.abs(found) > tables.NOTHING * np.max(np.abs(found))
        found = tables.shortened(found, adds)
        told = tables.Series(found, like.low, like.high).at(pressure, temperature)
        off = np.abs(told - exact) / np.max(np.abs(exact))
        if np.max(off) < within and np.median(off) < MOSTLY:
            return found
    raise NotRecordedError(f"no series of the {property_of.__name__} of {of.name} is close enough")
