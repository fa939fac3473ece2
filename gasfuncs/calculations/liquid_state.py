"""The liquid that a function is about, by its state, shown in the working."""

from __future__ import annotations

import numpy as np

from gasfuncs import properties
from gasfuncs.definition import refuse, step
from gasfuncs.definition.vocabulary import Numbers
from gasfuncs.errors import StateError
from gasfuncs.properties import Gas, Liquid, LiquidState, Saturated

WARMER = 1e-6
"""By how much, relative, a liquid may be above the tank's boiling point, from rounding alone."""


def liquid_of(
    gas: Gas,
    pressure: Numbers,
    liquid_at: LiquidState | None,
    names: tuple[str, str] = ("tank_pressure", "liquid_at"),
) -> Liquid:
    """Liquid under a pressure in Pa, of the state told; `names` are the arguments of both."""
    try:
        found = properties.liquid(gas, pressure, liquid_at)
    except StateError as error:
        raise error.about(_at_fault(gas, names[liquid_at is not None])) from None
    step("temperature of the liquid", "T_L", found.temperature, "K")
    step("molar density of the liquid", "ρ_L", found.density, "mol/m³")
    step("density of the liquid", "ρ_L · M", found.density * properties.molar_mass(gas), "kg/m³")
    return found


def saturated_of(gas: Gas, pressure: Numbers, argument: str = "tank_pressure") -> Saturated:
    """Liquid and vapour in balance at a pressure in Pa; an error names the argument."""
    try:
        return properties.saturated(gas, pressure)
    except StateError as error:
        raise error.about(_at_fault(gas, argument)) from None


def liquid_mass_density(
    gas: Gas, pressure: Numbers, liquid_at: LiquidState | None = None
) -> Numbers:
    """kg/m³ of the liquid under a pressure in Pa, of the state told."""
    return properties.liquid(gas, pressure, liquid_at).density * properties.molar_mass(gas)


def refuse_air(gas: Gas) -> None:
    """Refuse air where its vapour counts, which is another mixture than its liquid."""
    refuse(
        gas.name == "air",
        "gas",
        "air boils over a range of temperatures and its vapour is richer in nitrogen; "
        "name a pure gas",
    )


def refuse_boiling(liquid: Liquid, both: Saturated, argument: str = "liquid_at") -> None:
    """Refuse liquid that is warmer than the tank's pressure holds."""
    refuse(
        np.any(liquid.temperature > both.temperature * (1 + WARMER)),
        argument,
        f"is warmer liquid ({np.max(liquid.temperature) - 273.15:.2f} °C) than the pressure in "
        f"the tank holds; there it boils at {np.min(both.temperature) - 273.15:.2f} °C",
    )


def _at_fault(gas: Gas, argument: str) -> str:
    return "gas" if gas.is_mixture else argument
