"""Bulk liquid: expansion, tank level, boil-off, flash, vaporizer duty, hold time."""

from __future__ import annotations

from typing import Annotated

import numpy as np
import scipy

from gasfuncs import properties
from gasfuncs.calculations.sources import EQUATION_OF_STATE, REFERENCE_CONDITIONS
from gasfuncs.calculations.tank_shape import HEADS, LEVEL_WORDS, ShareOfHeight, read_level, shape
from gasfuncs.definition import Cell, Symbol, refuse, step, unreachable, worksheet_function
from gasfuncs.definition.terms import Choice, Read
from gasfuncs.definition.vocabulary import (
    Amount,
    Capacity,
    Days,
    Duration,
    EvaporationRate,
    Flow,
    Fraction,
    GasArgument,
    Height,
    Length,
    Liquid,
    Power,
    Pressure,
    PressureDifference,
    Ratio,
    TankDiameter,
    TankPosition,
    TankPressure,
    Temperature,
)
from gasfuncs.errors import StateError, UnitError
from gasfuncs.properties import Gas, Saturated
from gasfuncs.units import ATMOSPHERE, kinds, shown

STANDARD_GRAVITY = 9.80665
"""m/s²: CGPM 1901, exact."""

SECONDS_A_DAY = 86_400.0

TRAPPED_LIQUID = (
    "Liquid shut in between two valves bursts the pipe as it warms: every such length needs a "
    "relief valve."
)
COLD = "Cryogenic liquid and cold gas burn skin and embrittle carbon steel."


def _reference_unit(value: Cell) -> str:
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
        reader=_reference_unit, words=REFERENCE_WORDS,
    ),
]  # fmt: skip
Level = Annotated[
    float | ShareOfHeight,
    Read(
        "h", 'Level above the lowest point inside, or text "62 %" of the inner height; m',
        reader=read_level, words=LEVEL_WORDS,
    ),
]  # fmt: skip
Heads = Annotated[
    str,
    Choice("heads", "Shape of the heads: " + ", ".join(HEADS), words=tuple(HEADS)),
]


def _saturated(gas: Gas, pressure: Pressure, argument: str = "tank_pressure") -> Saturated:
    try:
        return properties.saturated(gas, pressure)
    except StateError as error:
        raise error.about("gas" if gas.is_mixture else argument) from None


def _refuse_air(gas: Gas) -> None:
    refuse(
        gas.name == "air",
        "gas",
        "air boils over a range of temperatures and its vapour is richer in nitrogen; "
        "name a pure gas",
    )


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
    gas: GasArgument, tank_pressure: TankPressure = ATMOSPHERE, reference: ReferenceUnit = "Nm3"
) -> Annotated[Ratio, "Volumes of gas from one volume of liquid"]:
    """Volumes of gas at a reference condition that one volume of saturated liquid becomes.

    Takes Pa and the label of a gas volume, such as "Nm3" or "scf". Raises StateError where the
    gas has no liquid at the pressure.
    """
    base = kinds.AMOUNT.unit(reference).reference
    if base is None:
        raise UnitError(f'"{shown(reference)}" is not a gas volume', "reference")
    liquid = _saturated(gas, tank_pressure).liquid_density
    molar = properties.reference_molar_density(gas, base)
    step("molar density of the saturated liquid", "ρ_L", liquid, "mol/m³")
    step(f"molar density of the gas at {base.label}", "ρ_ref", molar, "mol/m³")
    return liquid / molar


@worksheet_function(
    equation="n = V_L · ρ_L(p_t)",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_FROM_LIQUID("argon", "1000 gal(liq)", "10 bar(g)")', "2498 Nm3"),
    cautions=(TRAPPED_LIQUID, COLD),
)
def from_liquid(
    gas: GasArgument, liquid: Liquid, tank_pressure: TankPressure = ATMOSPHERE
) -> Annotated[Amount, "Gas that the liquid becomes"]:
    """Gas that a volume of saturated liquid becomes.

    Takes m³ of liquid and Pa, scalars or arrays; gives mol. Raises StateError where the gas has
    no liquid at the pressure.
    """
    molar = _saturated(gas, tank_pressure).liquid_density
    step("molar density of the saturated liquid", "ρ_L", molar, "mol/m³")
    return liquid * molar


@worksheet_function(
    equation="V_L = n / ρ_L(p_t)",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_TO_LIQUID("nitrogen", 5000, "8 bar(g)")', "9248 L(liq)"),
)
def to_liquid(
    gas: GasArgument, amount: Amount, tank_pressure: TankPressure = ATMOSPHERE
) -> Annotated[Liquid, "Liquid that the gas comes from"]:
    """Volume of saturated liquid that an amount of gas comes from.

    Takes mol and Pa, scalars or arrays; gives m³ of liquid. Raises StateError where the gas has
    no liquid at the pressure.
    """
    molar = _saturated(gas, tank_pressure).liquid_density
    step("molar density of the saturated liquid", "ρ_L", molar, "mol/m³")
    return amount / molar


@worksheet_function(
    equation="V_L = V(h) of the inner cylinder and its heads",
    sources=(
        "D. Jones, Calculating Tank Volume: partial volumes of cylinders with heads, as carried "
        "out by fluids.geometry.TANK (C. Bell, fluids)",
        "Torispherical heads: dish radius 1 D, knuckle 0.06 D; DIN 28011 1 D, 0.1 D; "
        "DIN 28013 0.8 D, 0.154 D",
    ),
    example=('GAS_TANK_LIQUID("62 %", 2.2, 6.5)', "17210 L(liq)"),
    cautions=(
        'A cell in percent format holds 0.62 and is read as 0.62 m; write the text "62 %".',
        "Measure the inner vessel, not the jacket; the level counts from its lowest point.",
        "Leave the vapour space that the maker asks for, commonly 5 % of the tank.",
    ),
    scalar=True,
)
def tank_liquid(
    level: Level,
    diameter: TankDiameter,
    length: Annotated[Length, "Length of the cylinder between its heads"],
    position: TankPosition = "vertical",
    heads: Heads = "2:1 ellipsoidal",
) -> Annotated[Liquid, "Liquid in the tank"]:
    """Liquid in a cylindrical tank, from its level.

    Takes m, or a ShareOfHeight for the level; gives m³. Raises OutOfRangeError where the level
    is above the tank.
    """
    tank = shape(float(diameter), float(length), position, heads)
    full = float(tank.h_max)
    height = level.share * full if isinstance(level, ShareOfHeight) else level
    refuse(
        height > full * (1 + 1e-12),
        "level",
        f"{height:.6g} m is above the inner height of the tank, {full:.4g} m; "
        'a level in percent is written as text, "62 %"',
    )
    step("inner height of the tank", "H", full, "m")
    step("level", "h", height, "m")
    step("volume of the full tank", "V_full", tank.V_total, "m³")
    return float(tank.V_from_h(min(height, full)))


@worksheet_function(
    equation="h = Δp / ((ρ_L - ρ_V) · g)",
    sources=(
        "Hydrostatics: the gauge reads the column of liquid less the column of vapour that "
        "its upper line holds; standard gravity 9.80665 m/s²",
        EQUATION_OF_STATE,
    ),
    example=('GAS_DP_LEVEL("argon", "250 mbar", "10 bar(g)")', "2270 mm"),
    cautions=(
        "Liquid colder than saturation at the tank's pressure is denser: after a delivery the "
        "height reads high.",
    ),
)
def dp_level(
    gas: GasArgument,
    differential_pressure: Annotated[PressureDifference, "Reading of the differential gauge"],
    tank_pressure: TankPressure = ATMOSPHERE,
) -> Annotated[Height, "Height of the liquid"]:
    """Height of the liquid in a tank, from a differential pressure gauge.

    Takes Pa, scalars or arrays; gives m. Raises StateError where the gas has no liquid at the
    pressure.
    """
    both = _saturated(gas, tank_pressure)
    mass = properties.molar_mass(gas)
    step("density of the saturated liquid", "ρ_L", both.liquid_density * mass, "kg/m³")
    step("density of the vapour above it", "ρ_V", both.vapour_density * mass, "kg/m³")
    difference = (both.liquid_density - both.vapour_density) * mass
    return differential_pressure / (difference * STANDARD_GRAVITY)


@worksheet_function(
    equation="V_L = min(V_t · e · t, x · V_t)",
    sources=(
        "Evaporation rate as makers state it, for the full tank at 1 atm; the heat leak of a "
        "vacuum-insulated tank hardly changes with its level (common practice; measured by "
        "ISO 21014)",
    ),
    example=('GAS_BOIL_OFF(11000, "0.35 %", 30, 0.8)', "1155 L(liq)"),
    cautions=(
        "An ageing vacuum raises the rate; compare it with the level readings of a still week.",
        "What boils off is vented: outdoors, never into a room.",
    ),
)
def boil_off(
    capacity: Capacity,
    daily_rate: EvaporationRate,
    days: Days,
    fill: Annotated[
        Fraction, "Liquid at the start, as a share of the capacity: no more is lost than that"
    ] = 1.0,
) -> Annotated[Liquid, "Liquid lost"]:
    """Liquid that boils off a standing tank: the full tank's rate all the time, until it is dry.

    Takes m³, shares and s, scalars or arrays; gives m³ of liquid.
    """
    lost = np.asarray(capacity) * daily_rate * np.asarray(days) / SECONDS_A_DAY
    step("evaporation a day", "V_t · e", np.asarray(capacity) * daily_rate, "m³")
    step("liquid at the start", "x · V_t", np.asarray(capacity) * fill, "m³")
    return np.asarray(np.minimum(lost, np.asarray(capacity) * fill))


@worksheet_function(
    equation="x = (h_L(p₁) - h_L(p₂)) / (h_V(p₂) - h_L(p₂))",
    sources=("Throttling at constant enthalpy", EQUATION_OF_STATE),
    example=('GAS_FLASH("nitrogen", "8 bar(g)", "1 atm", "%")', "27.06 %"),
    cautions=(
        "The liquid is taken as saturated; liquid colder than that flashes less.",
        "Vent the flash gas outdoors: it asphyxiates without warning.",
    ),
)
def flash(
    gas: GasArgument,
    pressure_before: Annotated[Pressure, Symbol("p₁"), "Pressure at which the liquid is saturated"],
    pressure_after: Annotated[Pressure, Symbol("p₂"), "Pressure that it is let down to"],
) -> Annotated[Fraction, "Share of the liquid that turns to gas, by mass"]:
    """Share of a saturated liquid that turns to gas when its pressure falls.

    Takes Pa, scalars or arrays. Raises StateError where the gas has no liquid at a pressure.
    """
    _refuse_air(gas)
    _refuse_rising(pressure_before, pressure_after)
    before = _saturated(gas, pressure_before, "pressure_before")
    after = _saturated(gas, pressure_after, "pressure_after")
    latent = after.vapour_enthalpy - after.liquid_enthalpy
    surplus = before.liquid_enthalpy - after.liquid_enthalpy
    step("enthalpy that the liquid has to lose", "h_L(p₁) - h_L(p₂)", surplus, "J/mol")
    step("heat of evaporation", "h_V(p₂) - h_L(p₂)", latent, "J/mol")
    return surplus / latent


@worksheet_function(
    equation="P = Q_n · (h(p_t, T) - h_L(p_t))",
    sources=("Energy balance of a steady flow", EQUATION_OF_STATE),
    example=('GAS_VAPORIZER_DUTY("argon", 150, "10 bar(g)", 5)', "16.57 kW"),
    cautions=(
        "An overloaded or iced vaporizer sends cold gas or liquid into carbon steel, which turns "
        "brittle: fit a low-temperature shut-off.",
        TRAPPED_LIQUID,
    ),
)
def vaporizer_duty(
    gas: GasArgument,
    flow: Flow,
    tank_pressure: TankPressure,
    outlet_temperature: Annotated[Temperature, "Temperature of the gas at the outlet"],
) -> Annotated[Power, "Heat that the vaporizer gives"]:
    """Heat that a vaporizer gives: saturated liquid in, gas at the tank's pressure out.

    Takes mol/s, Pa and K, scalars or arrays; gives W. Raises StateError where the gas has no
    liquid at the pressure.
    """
    both = _saturated(gas, tank_pressure)
    refuse(
        np.asarray(outlet_temperature) <= both.temperature,
        "outlet_temperature",
        f"is not above the boiling point at the tank's pressure "
        f"({np.max(both.temperature) - 273.15:.1f} °C): nothing would be gas",
    )
    out = properties.enthalpy(gas, tank_pressure, outlet_temperature)
    step("gas flow", "Q_n", flow, "mol/s")
    step("boiling point at the tank's pressure", "T_b", both.temperature, "K")
    step("heat of evaporation", "h_V - h_L", both.vapour_enthalpy - both.liquid_enthalpy, "J/mol")
    step("enthalpy from liquid to outlet gas", "h - h_L", out - both.liquid_enthalpy, "J/mol")
    return flow * (out - both.liquid_enthalpy)


@worksheet_function(
    equation="t = (U(p₂) - U(p₁)) / (V_t · e · ρ_L · (h_V - h_L) at 1 atm), V and n constant",
    sources=(
        "Energy balance of a closed tank at constant volume and mass (A. Hofmann, Determination "
        "of the pressurising period for stored cryogenic fluids, Cryogenics 46, 2006)",
        "ISO 21014: cryogenic insulation performance",
        EQUATION_OF_STATE,
    ),
    example=('GAS_HOLD_TIME("argon", 11000, 0.8, "3 bar(g)", "15 bar(g)", "0.35 %")', "874.4 h"),
    cautions=(
        "An upper limit: liquid and vapour are taken as one temperature. A standing tank lies in "
        "warm and cold layers and reaches its relief pressure much sooner.",
        "The evaporation rate must be that of the same gas.",
        "A tank that becomes full of liquid rises in pressure at once: never overfill.",
    ),
    scalar=True,
)
def hold_time(
    gas: GasArgument,
    capacity: Capacity,
    fill: Annotated[Fraction, "Liquid in the tank now, as a share of its inner volume"],
    pressure_now: Annotated[Pressure, "Pressure in the tank now"],
    pressure_relief: Annotated[Pressure, "Pressure at which the relief valve opens"],
    daily_rate: EvaporationRate,
) -> Annotated[Duration, "Time until the relief valve opens"]:
    """Time until a closed tank without draw reaches its relief pressure.

    Takes m³, shares and Pa; gives s. Raises NoSolutionError where the tank becomes full of
    liquid, or dry, before it reaches the relief pressure.
    """
    _refuse_air(gas)
    refuse(daily_rate <= 0, "daily_rate", "is 0: a tank without heat leak stays as it is")
    refuse(
        pressure_relief <= pressure_now,
        "pressure_relief",
        "is not above pressure_now: are the two swapped?",
    )
    normal = _saturated(gas, ATMOSPHERE, "gas")
    now = _saturated(gas, pressure_now, "pressure_now")
    relief = _saturated(gas, pressure_relief, "pressure_relief")
    latent = normal.vapour_enthalpy - normal.liquid_enthalpy
    tank = float(capacity)
    leak = float(tank * daily_rate / SECONDS_A_DAY * normal.liquid_density * latent)
    held = float(fill * now.liquid_density + (1 - fill) * now.vapour_density)
    energy_now = _energy(now, held)
    step("heat of evaporation at 1 atm", "h_V - h_L", latent, "J/mol")
    step("heat leak", "V_t · e · ρ_L · (h_V - h_L)", leak, "W")
    step("molar density of all that the tank holds", "n/V_t", held, "mol/m³")
    step("internal energy now", "U(p₁)/V_t", energy_now, "J/m³")
    between = (float(pressure_now), float(pressure_relief))
    _refuse_one_phase(gas, held, between, energy_now, leak / tank)
    energy_relief = _energy(relief, held)
    swollen = (held - relief.vapour_density) / (relief.liquid_density - relief.vapour_density)
    step("fill at the relief pressure", "x(p₂)", swollen, "1")
    step("internal energy at the relief pressure", "U(p₂)/V_t", energy_relief, "J/m³")
    return tank * (energy_relief - energy_now) / leak


def _energy(both: Saturated, held: float) -> float:
    """J/m³ of liquid and vapour together, `held` being mol/m³ of both."""
    liquid, vapour = 1 / both.liquid_density, 1 / both.vapour_density
    share = (1 / held - liquid) / (vapour - liquid)
    return float(held * (both.liquid_energy + share * (both.vapour_energy - both.liquid_energy)))


def _refuse_one_phase(
    gas: Gas, held: float, between: tuple[float, float], energy_now: float, heating: float
) -> None:
    """Refuse a tank in which liquid or vapour runs out between pressures (`heating` is W/m³)."""
    relief = properties.saturated(gas, between[1])
    if relief.vapour_density < held < relief.liquid_density:
        return
    full = bool(held >= relief.liquid_density)
    pressure = _pressure_of_one_phase(gas, held, between, full)
    hours = (_energy(properties.saturated(gas, pressure), held) - energy_now) / heating / 3600
    unreachable(
        full,
        "fill",
        f"the liquid swells until it fills the tank, at {pressure / 1e5:.3g} bar(a) after "
        f"{hours:.3g} h; from there the pressure rises at once: start less full, or vent before",
    )
    unreachable(
        not full,
        "fill",
        f"the last liquid evaporates at {pressure / 1e5:.3g} bar(a) after {hours:.3g} h, before "
        "the relief pressure; this reckons with tanks that still hold liquid",
    )


def _pressure_of_one_phase(
    gas: Gas, held: float, between: tuple[float, float], full: bool
) -> float:
    """Pressure at which all that the tank holds is saturated liquid (`full`) or vapour."""

    def surplus(pressure: float) -> float:
        both = properties.saturated(gas, pressure)
        return float((both.liquid_density if full else both.vapour_density) - held)

    return float(scipy.optimize.brentq(surplus, *between, rtol=1e-10))
