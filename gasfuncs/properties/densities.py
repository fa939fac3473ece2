"""Density and compressibility: by the table where it holds, else by the equation of state."""

from __future__ import annotations

from functools import cache, lru_cache

import numpy as np
from numpy.typing import ArrayLike

from gasfuncs.properties import states
from gasfuncs.properties.gases import Gas
from gasfuncs.properties.states import Array
from gasfuncs.properties.tables import table
from gasfuncs.units import Reference


@cache
def molar_mass(gas: Gas) -> float:
    """kg/mol."""
    found = table(gas)
    return found.molar_mass if found else states.molar_mass(gas)


def molar_density(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """mol/m³ of the gas; 0 in a perfect vacuum."""
    p, t = np.asarray(pressure, float), np.asarray(temperature, float)
    if p.ndim == t.ndim == 0:
        return np.asarray(_one(gas, p.item(), t.item()))
    found = table(gas)
    if found is None:
        return states.molar_density(gas, p, t)
    p, t = np.broadcast_arrays(p, t)
    inside = found.holds(p, t)
    if inside.all():
        return found.molar_density(p.ravel(), t.ravel()).reshape(p.shape)
    out = np.empty(p.shape)
    out[inside] = found.molar_density(p[inside], t[inside])
    out[~inside] = states.molar_density(gas, p[~inside], t[~inside])
    return out


@lru_cache(maxsize=65_536)
def _one(gas: Gas, pressure: float, temperature: float) -> float:
    found = table(gas)
    if found and found.holds_one(pressure, temperature):
        return found.one_molar_density(pressure, temperature)
    return float(states.molar_density(gas, pressure, temperature))


def density(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """kg/m³ of the gas."""
    return molar_density(gas, pressure, temperature) * molar_mass(gas)


def compressibility(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """Z = p / (ρ R T), with the molar gas constant that the equation of state was made with."""
    found = table(gas)
    if found is None:
        return states.compressibility(gas, pressure, temperature)
    p, t = np.broadcast_arrays(np.asarray(pressure, float), np.asarray(temperature, float))
    inside = found.holds(p, t)
    out = np.empty(p.shape)
    out[inside] = found.compressibility(p[inside], t[inside])
    if not inside.all():
        out[~inside] = states.compressibility(gas, p[~inside], t[~inside])
    return out


@cache
def reference_molar_density(gas: Gas | None, reference: Reference) -> float:
    """mol/m³ at a reference condition: of the real gas, or ideal where no gas is known."""
    if gas is None:
        return reference.ideal_molar_density()
    return float(molar_density(gas, reference.pressure, reference.temperature))
