"""Liquid and gas of one another: expansion, conversion, flash, vaporizer duty."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.liquid_state import (
    liquid_mass_density,
    liquid_of,
    refuse_air,
    refuse_boiling,
    saturated_of,
)
from gasfuncs.calculations.sources import EQUATION_OF_STATE, REFERENCE_CONDITIONS
from gasfuncs.definition import AlsoMass, Cell, Symbol, refuse, step, worksheet_function
from gasfuncs.definition.liquid_terms import ToldAsGas
from gasfuncs.definition.terms import Read
from gasfuncs.definition.vocabulary import (
    Amount,
    Flow,
    Fraction,
    GasArgument,
    GasOrMass,
    Liquid,
    LiquidAt,
    LiquidTold,
    Numbers,
    Power,
    Pressure,
    Ratio,
    TankPressure,
    Temperature,
)
from gasfuncs.errors import UnitError
from gasfuncs.properties import Gas, LiquidState, Saturated
from gasfuncs.units import ATMOSPHERE, kinds, shown

TRAPPED_LIQUID = (
    "Liquid shut in between two valves bursts the pipe as it warms: every such length needs a "
    "relief valve."
)
COLD = "Cryogenic liquid and cold gas burn skin and embrittle carbon steel."
STATE = (
    "A litre is an amount only with its state: ask what the ticket or gauge counts, and give it "
    "in liquid_at."
)


def read_reference_unit(value: Cell) -> str:
    """A unit of gas volume at a reference condition, by its label."""
    unit = kinds.AMOUNT.unit(shown(value).strip())
    if unit.reference is None:
        raise UnitError(f'"{shown(value)}" is not a gas volume; use {REFERENCE_WORDS}')
    return unit.label


REFERENCE_WORDS = "Nm3, Sm3, m3(15C,1bar), scf, scf(60F)"
ReferenceUnit = Annotated[
    str,
    Read(
        "reference", "Gas volume at its reference condition: Nm3, Sm3, m3(15C,1bar), scf, scf(60F)",
        reader=read_reference_unit, words=REFERENCE_WORDS,
    ),
]  # fmt: skip


def _refuse_rising(before: Pressure, after: Pressure) -> None:
    refuse(
        np.asarray(after) > before,
        "pressure_after",
        "is above pressure_before; liquid flashes where the pressure falls: are the two swapped?",
    )


@worksheet_function(
    equation="E = ρ_L(p_t) / ρ_ref",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_EXPANSION("argon")', "782.2"),
    cautions=(
        "Spilled or vented liquid fills a room with hundreds of times its volume of gas, which "
        "asphyxiates without warning.",
        TRAPPED_LIQUID,
    ),
)
def expansion(
    gas: GasArgument,
    tank_pressure: TankPressure = ATMOSPHERE,
    reference: ReferenceUnit = "Nm3",
    liquid_at: LiquidAt | None = None,
) -> Annotated[Ratio, "Volumes of gas from one volume of liquid"]:
    """Volumes of gas at a reference condition that one volume of liquid becomes.

    Takes Pa, the label of a gas volume, such as "Nm3" or "scf", and a LiquidState. Raises
    StateError where the gas has no such liquid.
    """
    base = kinds.AMOUNT.unit(reference).reference
    if base is None:
        raise UnitError(f'"{shown(reference)}" is not a gas volume', "reference")
    liquid = liquid_of(gas, tank_pressure, liquid_at).density
    molar = properties.reference_molar_density(gas, base)
    step(f"molar density of the gas at {base.label}", "ρ_ref", molar, "mol/m³")
    return liquid / molar


@worksheet_function(
    equation="n = V_L · ρ_L; of a mass m / M",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_FROM_LIQUID("argon", "1000 gal(liq)", "10 bar(g)")', "2498 Nm3"),
    cautions=(STATE, TRAPPED_LIQUID, COLD),
)
def from_liquid(
    gas: GasArgument,
    liquid: LiquidTold,
    tank_pressure: TankPressure = ATMOSPHERE,
    liquid_at: LiquidAt | None = None,
) -> Annotated[Amount, AlsoMass(properties.molar_mass), "Gas that the liquid becomes"]:
    """Gas that a liquid becomes.

    Takes m³ of liquid or a ToldAsGas, Pa and a LiquidState, scalars or arrays; gives mol. Raises
    StateError where the gas has no such liquid.
    """
    if isinstance(liquid, ToldAsGas):
        return liquid.moles(gas)
    return liquid * liquid_of(gas, tank_pressure, liquid_at).density


@worksheet_function(
    equation="V_L = n / ρ_L; of a mass n = m / M",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_TO_LIQUID("nitrogen", 5000, "8 bar(g)")', "9248 L(liq)"),
    cautions=(
        STATE,
        "The level of a tank falls by more than this: vapour takes the place of the liquid; "
        "GAS_LEVEL_CHANGE counts it.",
    ),
)
def to_liquid(
    gas: GasArgument,
    amount: GasOrMass,
    tank_pressure: TankPressure = ATMOSPHERE,
    liquid_at: LiquidAt | None = None,
) -> Annotated[
    Liquid,
    AlsoMass(liquid_mass_density, of=("gas", "tank_pressure", "liquid_at")),
    "Liquid that the gas comes from",
]:
    """Volume of liquid that an amount of gas comes from.

    Takes mol, Pa and a LiquidState, scalars or arrays; gives m³ of liquid. Raises StateError where
    the gas has no such liquid.
    """
    return amount / liquid_of(gas, tank_pressure, liquid_at).density


def _enthalpy(
    gas: Gas, pressure: Numbers, both: Saturated, liquid_at: LiquidState | None
) -> Numbers:
    """J/mol of liquid under a pressure in Pa, `both` being what is in balance there."""
    if liquid_at is None:
        return both.liquid_enthalpy
    cold = liquid_of(gas, pressure, liquid_at)
    refuse_boiling(cold, both)
    return properties.compressed(gas, pressure, cold.temperature).enthalpy


@worksheet_function(
    equation="x = (h_L(p₁, T_L) - h_L(p₂)) / (h_V(p₂) - h_L(p₂)), 0 where that is negative",
    sources=("Throttling at constant enthalpy", EQUATION_OF_STATE),
    example=('GAS_FLASH("nitrogen", "8 bar(g)", "1 atm", , "%")', "27.06 %"),
    cautions=(
        "Liquid colder than saturated flashes less, or not at all: give its state in liquid_at.",
        "Vent the flash gas outdoors: it asphyxiates without warning.",
    ),
)
def flash(
    gas: GasArgument,
    pressure_before: Annotated[Pressure, Symbol("p₁"), "Pressure that the liquid is under"],
    pressure_after: Annotated[Pressure, Symbol("p₂"), "Pressure that it is let down to"],
    liquid_at: LiquidAt | None = None,
) -> Annotated[Fraction, "Share of the liquid that turns to gas, by mass"]:
    """Share of a liquid that turns to gas when its pressure falls.

    Takes Pa and a LiquidState, scalars or arrays. Raises StateError where the gas has no liquid at
    a pressure.
    """
    refuse_air(gas)
    _refuse_rising(pressure_before, pressure_after)
    before = saturated_of(gas, pressure_before, "pressure_before")
    after = saturated_of(gas, pressure_after, "pressure_after")
    latent = after.vapour_enthalpy - after.liquid_enthalpy
    surplus = _enthalpy(gas, pressure_before, before, liquid_at) - after.liquid_enthalpy
    step("enthalpy that the liquid has to lose", "h_L(p₁, T_L) - h_L(p₂)", surplus, "J/mol")
    step("heat of evaporation", "h_V(p₂) - h_L(p₂)", latent, "J/mol")
    return np.asarray(np.maximum(surplus, 0.0) / latent)


@worksheet_function(
    equation="P = Q_n · (h(p_t, T) - h_L(p_t, T_L))",
    sources=("Energy balance of a steady flow", EQUATION_OF_STATE),
    example=('GAS_VAPORIZER_DUTY("argon", 150, "10 bar(g)", 5)', "16.57 kW"),
    cautions=(
        "An overloaded or iced vaporizer sends cold gas or liquid into carbon steel, which turns "
        "brittle: fit a low-temperature shut-off.",
        "After a delivery the liquid is colder than saturated: at 13 bar(a) nitrogen asks for up "
        "to a fifth more heat.",
        TRAPPED_LIQUID,
    ),
)
def vaporizer_duty(
    gas: GasArgument,
    flow: Flow,
    tank_pressure: TankPressure,
    outlet_temperature: Annotated[Temperature, "Temperature of the gas at the outlet"],
    liquid_at: LiquidAt | None = None,
) -> Annotated[Power, "Heat that the vaporizer gives"]:
    """Heat that a vaporizer gives: liquid in, gas at the tank's pressure out.

    Takes mol/s, Pa, K and a LiquidState, scalars or arrays; gives W. Raises StateError where the
    gas has no liquid at the pressure.
    """
    both = saturated_of(gas, tank_pressure)
    refuse(
        np.asarray(outlet_temperature) <= both.temperature,
        "outlet_temperature",
        f"is not above the boiling point at the tank's pressure "
        f"({np.max(both.temperature) - 273.15:.1f} °C): nothing would be gas",
    )
    out = properties.enthalpy(gas, tank_pressure, outlet_temperature)
    liquid = _enthalpy(gas, tank_pressure, both, liquid_at)
    step("gas flow", "Q_n", flow, "mol/s")
    step("boiling point at the tank's pressure", "T_b", both.temperature, "K")
    step("heat of evaporation", "h_V - h_L", both.vapour_enthalpy - both.liquid_enthalpy, "J/mol")
    step("enthalpy from liquid to outlet gas", "h - h_L", out - liquid, "J/mol")
    return flow * (out - liquid)
