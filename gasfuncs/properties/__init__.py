"""Gases and their properties."""

from gasfuncs.properties.densities import (
    compressibility,
    density,
    molar_density,
    molar_mass,
    reference_molar_density,
)
from gasfuncs.properties.gases import IN_BOOKS, MOIST_AS_AIR, SUBSTANCES, Gas, gas
from gasfuncs.properties.liquids import (
    Liquid,
    LiquidState,
    compressed,
    liquid,
    saturated_at,
)
from gasfuncs.properties.motion import LEAST_PRESSURE, Moving, hottest, moving, theta, too_hot
from gasfuncs.properties.saturation import Saturated, saturated, saturation_limits
from gasfuncs.properties.states import (
    Array,
    Dense,
    dense,
    dense_pressure,
    enthalpy,
    entropy,
    expanded,
    heat_capacity_ratio,
    internal_energy,
    isentropic_exponent,
    pressure,
    viscosity,
)
from gasfuncs.properties.water import WATER, water_mass, water_share

__all__ = [
    "IN_BOOKS", "LEAST_PRESSURE", "MOIST_AS_AIR", "SUBSTANCES", "WATER", "Array", "Dense", "Gas",
    "Liquid", "LiquidState", "Moving",
    "Saturated", "compressed", "compressibility", "dense", "dense_pressure", "density", "enthalpy",
    "entropy", "expanded", "gas", "heat_capacity_ratio", "hottest", "internal_energy",
    "isentropic_exponent", "liquid", "molar_density", "molar_mass", "moving", "pressure",
    "reference_molar_density", "saturated", "saturated_at", "saturation_limits", "theta",
    "too_hot", "viscosity", "water_mass", "water_share",
]  # fmt: skip
