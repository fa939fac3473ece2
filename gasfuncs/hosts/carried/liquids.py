"""Series of liquid below its boiling point, and of the pressure that it boils at."""

from __future__ import annotations

import math
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.polynomial import chebyshev

from gasfuncs import properties
from gasfuncs.hosts.carried.arrays import NotRecordedError
from gasfuncs.hosts.carried.series import CHECKED, WITHIN, saturation
from gasfuncs.properties import Array, Gas, gas, states, tables

HIGHEST = 0.9
"""Of the critical pressure: nearer to it a series of the liquid is long."""

TERMS = (60, 40)
BOILING_TERMS = 40

NOTHING = 1e-11
"""Of the largest coefficient: what is less at the end of a series is cut off."""


class ColdLiquid(NamedTuple):
    """Series of one gas, mol/m³ and J/mol, over √ln(p_c/p) and 1 - √(1 - s).

    s goes from 0 where the liquid freezes to 1 where it boils; the root takes out the turn that
    properties take there near the critical point.
    """

    density: Array
    enthalpy: Array
    freezing: float
    least: float
    """The least √ln(p_c/p)."""


class Boiling(NamedTuple):
    """√ln(p_c/p) of boiling liquid as a series over √(1 - T/T_c)."""

    row: Array
    critical: float
    low: float
    high: float


@cache
def cold_liquid(name: str) -> ColdLiquid:
    """The liquid of a gas between freezing and boiling, under the pressures that it boils at."""
    of, least = gas(name), math.sqrt(-math.log(HIGHEST))
    nodes, rising = (np.cos(np.pi * (np.arange(n) + 0.5) / n) for n in TERMS)
    places = np.meshgrid((nodes + 1) / 2, (rising + 1) / 2, indexing="ij")
    values = _liquids(of, least, *(place.ravel() for place in places)).reshape(*TERMS, 2)
    across = chebyshev.chebvander(nodes, TERMS[0] - 1)
    up = chebyshev.chebvander(rising, TERMS[1] - 1)
    half = np.linalg.solve(across, values.reshape(TERMS[0], -1)).reshape(values.shape)
    found = [np.linalg.solve(up, half[:, :, each].T).T for each in range(2)]
    series = [tables.shortened(a, np.abs(a) > NOTHING * np.max(np.abs(a))) for a in found]
    _check(of, least, series)
    return ColdLiquid(series[0], series[1], states.limits(of)[0], least)


def _liquids(of: Gas, least: float, across: Array, up: Array) -> Array:
    """mol/m³ and J/mol at places from 0 to 1 in both directions of the series."""
    known, freezing = saturation(of.name), states.limits(of)[0]
    pressure = known.critical * np.exp(-((least + across * (known.high - least)) ** 2))
    boiling = properties.saturated(of, pressure).temperature
    temperature = freezing + (1 - (1 - up) ** 2) * (boiling - freezing)
    found = properties.compressed(of, pressure, temperature)
    return np.stack([found.density, found.enthalpy], axis=-1)


def _check(of: Gas, least: float, series: list[Array]) -> None:
    """Raise NotRecordedError where the series are off on places of their own."""
    random = np.random.default_rng(tables.SEED)
    across, up = random.uniform(0, 1, (2, CHECKED))
    exact = _liquids(of, least, across, up)
    for each, found in enumerate(series):
        off = chebyshev.chebval2d(2 * across - 1, 2 * up - 1, found) - exact[:, each]
        if np.max(np.abs(off)) > WITHIN * np.max(np.abs(exact[:, each])):
            raise NotRecordedError(f"no series of the liquid of {of.name} is close enough")


@cache
def boiling(name: str) -> Boiling:
    """The pressure that liquid of a gas boils at, by its temperature."""
    of, known = gas(name), saturation(name)
    critical = states.critical_temperature(of)
    low, high = (
        math.sqrt(1 - float(properties.saturated(of, pressure).temperature) / critical)
        for pressure in known.critical * np.exp(-(np.array([known.low, known.high]) ** 2))
    )
    nodes = np.cos(np.pi * (np.arange(BOILING_TERMS) + 0.5) / BOILING_TERMS)
    places = low + (nodes + 1) / 2 * (high - low)
    pressures = [states.boiling_pressure(of, critical * (1 - place**2)) for place in places]
    values = np.sqrt(np.log(known.critical / np.array(pressures)))
    row = np.linalg.solve(chebyshev.chebvander(nodes, BOILING_TERMS - 1), values)
    return Boiling(np.asarray(row, float), critical, low, high)
