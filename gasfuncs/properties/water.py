"""Water in a gas: its share by volume, and its mass in a volume or a mass of the moist gas."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from gasfuncs.errors import UnitError
from gasfuncs.properties.densities import molar_mass, reference_molar_density
from gasfuncs.properties.gases import Gas
from gasfuncs.properties.states import Array
from gasfuncs.units import Reference

WATER = 0.018015268
"""kg/mol: IAPWS-95."""


def water_share(mass: ArrayLike, gas: Gas | None, reference: Reference | None) -> Array:
    """Share by volume of a mass of water, kg in a m³ at a reference or (None) in a kg of gas."""
    held = np.asarray(mass, float)
    if reference:
        return np.asarray(held / (WATER * reference_molar_density(gas, reference)))
    return np.asarray(held / (held + _mass_ratio(gas) * (1 - held)))


def water_mass(share: ArrayLike, gas: Gas | None, reference: Reference | None) -> Array:
    """The inverse of `water_share`."""
    y = np.asarray(share, float)
    if reference:
        return np.asarray(y * WATER * reference_molar_density(gas, reference))
    ratio = _mass_ratio(gas)
    return np.asarray(y * ratio / (y * ratio + 1 - y))


def _mass_ratio(gas: Gas | None) -> float:
    """Molar mass of water over that of the dry gas."""
    if gas is None:
        raise UnitError("a share by mass needs the gas: name it, or give ppm by volume")
    return WATER / molar_mass(gas)
