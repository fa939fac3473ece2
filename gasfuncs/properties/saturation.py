"""Saturated liquid and vapour, from CoolProp's states."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
from numpy.typing import ArrayLike

from gasfuncs.errors import StateError
from gasfuncs.properties import states
from gasfuncs.properties.gases import Gas
from gasfuncs.properties.states import Array


@dataclass(frozen=True, slots=True)
class Saturated:
    """Liquid and vapour in balance at a pressure: K, mol/m³, J/mol, J/(mol K)."""

    temperature: Array
    liquid_density: Array
    vapour_density: Array
    liquid_enthalpy: Array
    vapour_enthalpy: Array
    liquid_energy: Array
    vapour_energy: Array
    liquid_entropy: Array
    vapour_entropy: Array


@cache
def saturation_limits(gas: Gas) -> tuple[float, float]:
    """Pressures (Pa) between which liquid and vapour can stand side by side."""
    state = states.state_of(gas)
    return float(state.p_triple()), float(state.p_critical())


def saturated(gas: Gas, pressure: ArrayLike) -> Saturated:
    """Liquid and vapour of a pure gas in balance at a pressure (Pa)."""
    p = np.asarray(pressure, float)
    rows = np.array([_saturated(gas, each) for each in p.ravel().tolist()])
    return Saturated(*(column.reshape(p.shape) for column in rows.T))


def refuse_mixture(gas: Gas) -> None:
    """Refuse a mixture, of which no one pressure belongs to a boiling point."""
    if gas.is_mixture:
        raise StateError(f"{gas} is a mixture, which boils over a range; name a pure gas")


@lru_cache(maxsize=4096)
def _saturated(gas: Gas, pressure: float) -> tuple[float, ...]:
    refuse_mixture(gas)
    low, high = saturation_limits(gas)
    if not low < pressure < high:
        raise StateError(
            f"{gas} at {pressure / 1e5:.4g} bar(a) has no liquid with vapour above it; "
            f"that is so between {low / 1e5:.4g} and {high / 1e5:.4g} bar(a)"
        )
    liquid, vapour = (
        [s.rhomolar(), s.hmolar(), s.umolar(), s.smolar(), s.T()]
        for s in (states.saturated_state(gas, pressure, quality) for quality in (0.0, 1.0))
    )
    each_phase = (value for pair in zip(liquid[:4], vapour[:4], strict=True) for value in pair)
    return (liquid[4], *each_phase)
