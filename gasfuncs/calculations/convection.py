"""Heat between a gas and the wall of the vessel that it is in."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from gasfuncs.properties import Moving

GRAVITY = 9.80665

NATURAL = 0.13
"""Nu = 0.13 Ra^(1/3), turbulent natural convection: whatever the length."""

SLENDER = 4.0
"""Length over diameter of a reservoir."""

STOUT = 1.5
"""Length over diameter of a furnace's chamber."""


def cylinder_area(volume: Any, slenderness: float) -> Any:
    """m² inside a cylinder with flat ends, of a volume in m³ and a length in diameters."""
    return math.pi * (slenderness + 0.5) * cylinder_diameter(volume, slenderness) ** 2


def cylinder_diameter(volume: Any, slenderness: float) -> Any:
    """m."""
    return (4 * volume / (math.pi * slenderness)) ** (1 / 3)


def natural(state: Moving, density: Any, molar_mass: float, wall: Any) -> Any:
    """W/(m² K) of natural convection; kg/m³, kg/mol and K of the wall."""
    return NATURAL * state.conductivity * np.cbrt(_rayleigh(state, density, molar_mass, wall))


def jet(
    state: Moving, density: Any, molar_mass: float, wall: Any, mass_flow: Any, bore: Any,
    diameter: Any,
) -> Any:  # fmt: skip
    """W/(m² K) in a vessel that a jet fills: Nu = 0.56 Re^0.67 + 0.104 Ra^0.352 (Woodfield and
    others), Re of the jet in its bore, Nu and Ra of the vessel's diameter."""
    reynolds = 4 * mass_flow / (math.pi * bore * state.viscosity)
    rayleigh = _rayleigh(state, density, molar_mass, wall) * diameter**3
    nusselt = 0.56 * reynolds**0.67 + 0.104 * rayleigh**0.352
    return nusselt * state.conductivity / diameter


def _rayleigh(state: Moving, density: Any, molar_mass: float, wall: Any) -> Any:
    """Ra of a length of 1 m: g Δ(1/T) ρ² c_p / (μ λ)."""
    difference = np.abs(wall - state.temperature) / state.temperature
    heat = density**2 * state.heat_capacity_at_pressure / molar_mass
    return GRAVITY * difference * heat / (state.viscosity * state.conductivity)
