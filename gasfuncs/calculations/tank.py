"""A tank by what it holds: its stock of liquid and vapour, what a level means."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.liquid_state import (
    liquid_of,
    refuse_air,
    refuse_boiling,
    saturated_of,
)
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE
from gasfuncs.definition import AlsoMass, Symbol, refuse, step, worksheet_function
from gasfuncs.definition.vocabulary import (
    Amount,
    Capacity,
    GasArgument,
    GasOrMass,
    Liquid,
    LiquidAt,
    Numbers,
    TankPressure,
    Temperature,
)
from gasfuncs.errors import StateError
from gasfuncs.properties import Gas


@worksheet_function(
    equation="n = V_L · ρ_L + (V_t - V_L) · ρ_V",
    sources=(MASS_BALANCE, EQUATION_OF_STATE),
    example=('GAS_TANK_STOCK("nitrogen", 6200, 11010, "13 bar(a)")', "3368 Nm3"),
    cautions=(
        "After a delivery of colder liquid the tank holds more than saturated liquid: give its "
        "state in liquid_at.",
    ),
)
def tank_stock(
    gas: GasArgument,
    liquid: Liquid,
    capacity: Capacity,
    tank_pressure: TankPressure,
    liquid_at: LiquidAt | None = None,
    vapour_temperature: Annotated[
        Temperature | None,
        Symbol("T_V"),
        "Temperature of the vapour above the liquid; blank: that at which it boils",
    ] = None,
) -> Annotated[Amount, AlsoMass(properties.molar_mass), "Gas in the tank, liquid and vapour"]:
    """All the gas that a tank holds, its liquid and the vapour above it.

    Takes m³, Pa, a LiquidState and K, scalars or arrays; gives mol. Raises OutOfRangeError where
    the liquid is more than the tank holds or warmer than its pressure allows.
    """
    refuse_air(gas)
    refuse(np.greater(liquid, capacity), "liquid", "is more than the tank's capacity")
    both = saturated_of(gas, tank_pressure)
    cold = liquid_of(gas, tank_pressure, liquid_at)
    refuse_boiling(cold, both)
    vapour: Numbers = both.vapour_density
    if vapour_temperature is not None:
        vapour = _warm_vapour(gas, tank_pressure, vapour_temperature, both.temperature)
    step("molar density of the vapour", "ρ_V", vapour, "mol/m³")
    step("gas as liquid", "V_L · ρ_L", liquid * cold.density, "mol")
    step("gas as vapour", "(V_t - V_L) · ρ_V", (capacity - liquid) * vapour, "mol")
    return np.asarray(liquid * cold.density + (capacity - liquid) * vapour)


def _warm_vapour(gas: Gas, pressure: Numbers, temperature: Numbers, boiling: Numbers) -> Numbers:
    """mol/m³ of vapour that is warmer than the liquid below it."""
    refuse(
        np.less(temperature, boiling),
        "vapour_temperature",
        f"is below the boiling point at the tank's pressure, {np.max(boiling) - 273.15:.2f} °C",
    )
    try:
        return properties.molar_density(gas, pressure, temperature)
    except StateError as error:
        raise error.about("vapour_temperature") from None


@worksheet_function(
    equation="ΔV_L = n / (ρ_L - ρ_V)",
    sources=(MASS_BALANCE, EQUATION_OF_STATE),
    example=('GAS_LEVEL_CHANGE("nitrogen", 1000, "13 bar(a)")', "2148 L(liq)"),
    cautions=(
        "At constant pressure: the liquid that is drawn is replaced by vapour, which the tank "
        "makes of its own liquid. A pressure that falls while gas is drawn changes the level too.",
    ),
)
def level_change(
    gas: GasArgument,
    amount: GasOrMass,
    tank_pressure: TankPressure,
    liquid_at: LiquidAt | None = None,
) -> Annotated[Liquid, Symbol("ΔV_L"), "Liquid by which the level falls"]:
    """Liquid by which a tank's level falls when an amount of gas is drawn at constant pressure.

    Takes mol, Pa and a LiquidState, scalars or arrays; gives m³ of liquid. Raises OutOfRangeError
    where the liquid is warmer than the tank's pressure allows.
    """
    refuse_air(gas)
    both = saturated_of(gas, tank_pressure)
    cold = liquid_of(gas, tank_pressure, liquid_at)
    refuse_boiling(cold, both)
    step("molar density of the vapour", "ρ_V", both.vapour_density, "mol/m³")
    return np.asarray(amount / (cold.density - both.vapour_density))
