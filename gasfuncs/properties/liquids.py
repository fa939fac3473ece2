"""Liquid of a told state: a litre of it is no amount of gas until that is known."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from gasfuncs.errors import StateError
from gasfuncs.properties import states
from gasfuncs.properties.gases import Gas
from gasfuncs.properties.saturation import refuse_mixture, saturated
from gasfuncs.properties.states import Array

ROUNDING = 1e-9
"""By how much, relative, a liquid may be above its boiling point, from rounding alone."""


@dataclass(frozen=True, slots=True)
class LiquidState:
    """Liquid saturated at a pressure (Pa), or under the tank's pressure at a temperature (K)."""

    pressure: float | None = None
    temperature: float | None = None

    def __str__(self) -> str:
        if self.pressure is not None:
            return f"saturated at {self.pressure / 1e5:.6g} bar(a)"
        if self.temperature is not None:
            return f"at {self.temperature - 273.15:.6g} °C"
        return "saturated at the tank's pressure"


class Liquid(NamedTuple):
    """Liquid of a told state: K, mol/m³, J/mol."""

    temperature: Array
    density: Array
    enthalpy: Array


def liquid(gas: Gas, pressure: ArrayLike, state: LiquidState | None = None) -> Liquid:
    """Liquid of a pure gas: saturated at a pressure (Pa), or in the state told.

    Raises StateError where the gas has no liquid there.
    """
    if state is not None and state.temperature is not None:
        return compressed(gas, pressure, state.temperature)
    told = state.pressure if state is not None else None
    both = saturated(gas, pressure if told is None else told)
    shape = np.shape(pressure)
    found = (both.temperature, both.liquid_density, both.liquid_enthalpy)
    return Liquid(*(np.broadcast_to(column, shape).copy() for column in found))


def compressed(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Liquid:
    """Liquid of a pure gas at a pressure (Pa) and a temperature (K) not above boiling."""
    p, t = np.broadcast_arrays(np.asarray(pressure, float), np.asarray(temperature, float))
    cells = zip(p.ravel().tolist(), t.ravel().tolist(), strict=True)
    rows = np.array([_compressed(gas, *cell) for cell in cells])
    return Liquid(t.copy(), *(column.reshape(p.shape) for column in rows.T))


def saturated_at(gas: Gas, temperature: float) -> LiquidState:
    """The liquid that boils at a temperature (K), by its pressure."""
    return LiquidState(pressure=_boiling_pressure(gas, temperature))


@lru_cache(maxsize=4096)
def _boiling_pressure(gas: Gas, temperature: float) -> float:
    refuse_mixture(gas)
    return states.boiling_pressure(gas, temperature)


@lru_cache(maxsize=4096)
def _compressed(gas: Gas, pressure: float, temperature: float) -> tuple[float, float]:
    boiling = float(saturated(gas, pressure).temperature)
    if temperature > boiling * (1 + ROUNDING):
        raise StateError(
            f"{states.told(gas, pressure, temperature)} is no liquid; it boils at "
            f"{boiling - 273.15:.2f} °C"
        )
    state = states.liquid_state(gas, pressure, temperature)
    return state.rhomolar(), state.hmolar()
