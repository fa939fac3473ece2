"""Gases and their properties."""

from gasfuncs.properties.gases import Gas, gas
from gasfuncs.properties.saturation import Saturated, saturated, saturation_limits
from gasfuncs.properties.states import (
    Array,
    compressibility,
    density,
    enthalpy,
    heat_capacity_ratio,
    internal_energy,
    molar_density,
    molar_mass,
    pressure,
    reference_molar_density,
    viscosity,
)

__all__ = [
    "Array", "Gas", "Saturated", "compressibility", "density", "enthalpy", "gas",
    "heat_capacity_ratio", "internal_energy", "molar_density", "molar_mass", "pressure",
    "reference_molar_density", "saturated", "saturation_limits", "viscosity",
]  # fmt: skip
