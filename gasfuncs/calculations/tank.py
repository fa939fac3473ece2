"""A tank by what it holds: liquid and vapour, deliveries, levels."""

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
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE, REFERENCE_CONDITIONS
from gasfuncs.definition import AlsoMass, Symbol, refuse, step, worksheet_function
from gasfuncs.definition.liquid_terms import ToldAsGas
from gasfuncs.definition.vocabulary import (
    Amount,
    Capacity,
    GasArgument,
    GasOrMass,
    Liquid,
    LiquidAt,
    LiquidTold,
    Numbers,
    ScfPerGallon,
    TankPressure,
    Temperature,
)
from gasfuncs.errors import StateError
from gasfuncs.properties import Gas, LiquidState
from gasfuncs.units import ATMOSPHERE, US_GAS, kinds

BOILING_AT_ONE_ATMOSPHERE = LiquidState(pressure=ATMOSPHERE)
"""What a litre or gallon on a delivery ticket is, unless the contract says otherwise."""

STATE_CAUTION = (
    "Between liquid at its boiling point at 1 atm and saturated at 13 bar(a) a litre of nitrogen "
    "differs by a quarter: ask the supplier which litre the ticket counts."
)


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


@worksheet_function(
    equation="n = V_L · ρ_L; by contract V_L · f; of a mass m / M",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_DELIVERED("nitrogen", "1500 gal(liq)", , 93.11)', "3670 Nm3"),
    cautions=(STATE_CAUTION,),
)
def delivered(
    gas: GasArgument,
    quantity: Annotated[
        LiquidTold, 'Quantity on the ticket: "5500 L(liq)", "4434 kg", "148000 scf"'
    ],
    liquid_at: LiquidAt = BOILING_AT_ONE_ATMOSPHERE,
    factor: ScfPerGallon | None = None,
) -> Annotated[Amount, AlsoMass(properties.molar_mass), "Gas delivered"]:
    """Gas that a delivery ticket stands for, by its quantity and the basis that it counts on.

    Takes m³ of liquid or a ToldAsGas, a LiquidState and scf per gallon, scalars or arrays; gives
    mol. Mass and gas need neither state nor factor; a liquid's temperature is that at which it
    boils, as the ticket knows no pressure. Raises StateError where the gas has no such liquid.
    """
    return ticket_amount(gas, quantity, liquid_at, factor)


def ticket_amount(
    gas: Gas,
    quantity: Numbers | ToldAsGas,
    liquid_at: LiquidState = BOILING_AT_ONE_ATMOSPHERE,
    factor: Numbers | None = None,
) -> Numbers:
    """mol that a ticket's quantity stands for."""
    if isinstance(quantity, ToldAsGas):
        return quantity.moles(gas)
    if factor is not None:
        standard = properties.reference_molar_density(gas, US_GAS)
        per_volume = factor * kinds.AMOUNT.unit("scf").scale / kinds.LIQUID.unit("gal(liq)").scale
        step("volumes of gas from one of liquid, by contract", "f", per_volume)
        return quantity * per_volume * standard
    return quantity * _ticket_density(gas, liquid_at)


def _ticket_density(gas: Gas, liquid_at: LiquidState) -> Numbers:
    """mol/m³ of the liquid that a ticket counts."""
    state = liquid_at
    try:
        if state.temperature is not None:
            state = properties.saturated_at(gas, state.temperature)
    except StateError as error:
        raise error.about("gas" if gas.is_mixture else "liquid_at") from None
    return liquid_of(gas, ATMOSPHERE, state).density
