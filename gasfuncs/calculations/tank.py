"""A tank: its stock of liquid and vapour, its level, boil-off and hold time."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.closed_tank import energy_held, refuse_one_phase
from gasfuncs.calculations.liquid_state import (
    liquid_of,
    refuse_air,
    refuse_boiling,
    saturated_of,
)
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE
from gasfuncs.calculations.tank_shape import (
    HEADS,
    LEVEL_WORDS,
    ShareOfHeight,
    ShareOfVolume,
    read_level,
    shape,
)
from gasfuncs.definition import AlsoMass, Symbol, refuse, step, worksheet_function
from gasfuncs.definition.terms import Choice, Read
from gasfuncs.definition.vocabulary import (
    Amount,
    Capacity,
    Days,
    Duration,
    EvaporationRate,
    Fraction,
    GasArgument,
    GasOrMass,
    Height,
    Length,
    Liquid,
    LiquidAt,
    Numbers,
    Pressure,
    PressureDifference,
    TankDiameter,
    TankPosition,
    TankPressure,
    Temperature,
)
from gasfuncs.errors import StateError, UnreadableError
from gasfuncs.properties import Gas
from gasfuncs.units import ATMOSPHERE

STANDARD_GRAVITY = 9.80665
"""m/s²: CGPM 1901, exact."""

SECONDS_A_DAY = 86_400.0


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


Level = Annotated[
    float | ShareOfHeight | ShareOfVolume,
    Read(
        "h", 'Level above the lowest point inside, m; or text: "62 %" of the inner height, '
        '"62 % volume" of what the tank holds',
        reader=read_level, words=LEVEL_WORDS,
    ),
]  # fmt: skip
Heads = Annotated[
    str,
    Choice("heads", "Shape of the heads: " + ", ".join(HEADS), words=tuple(HEADS)),
]


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
        "A level in percent is of the height unless it says volume; in a lying tank, or near the "
        "heads, the two differ: ask what the gauge is made for.",
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

    Takes m, a ShareOfHeight or a ShareOfVolume for the level; gives m³. Raises OutOfRangeError
    where the level is above the tank.
    """
    tank = shape(1.0, float(length / diameter), position, heads)
    full, volume = float(tank.h_max * diameter), float(tank.V_total * diameter**3)
    step("volume of the full tank", "V_full", volume, "m³")
    if isinstance(level, ShareOfVolume):
        return float(level.share * volume)
    height = level.share * full if isinstance(level, ShareOfHeight) else level
    refuse(
        height > full * (1 + 1e-12),
        "level",
        f"{height:.6g} m is above the inner height of the tank, {full:.4g} m; "
        'a level in percent is written as text, "62 %"',
    )
    step("inner height of the tank", "H", full, "m")
    step("level", "h", height, "m")
    return float(tank.V_from_h(np.minimum(height, full) / diameter) * diameter**3)


@worksheet_function(
    equation="h = (Δp / g - (ρ_V - ρ_w) · H) / (ρ_L - ρ_V); ρ_w = ρ_V where the line is cold",
    sources=(
        "Hydrostatics: the gauge reads the column of liquid and vapour less the column of gas that "
        "its upper line holds; standard gravity 9.80665 m/s²",
        EQUATION_OF_STATE,
    ),
    example=('GAS_DP_LEVEL("argon", "250 mbar", "10 bar(g)")', "2270 mm"),
    cautions=(
        "Liquid colder than saturation at the tank's pressure is denser: give its state in "
        "liquid_at, or after a delivery the height reads high.",
        "A blank gauge_line_temperature takes the upper line as full of cold vapour; a line at "
        "room temperature reads an empty nitrogen tank of 8 m at 13 bar(a) as 0.55 m.",
    ),
)
def dp_level(
    gas: GasArgument,
    differential_pressure: Annotated[PressureDifference, "Reading of the differential gauge"],
    tank_pressure: TankPressure = ATMOSPHERE,
    gauge_line_temperature: Annotated[
        Temperature | None, Symbol("T_w"), "Temperature of the gas in the gauge's upper line"
    ] = None,
    gauge_height: Annotated[
        Length | None, Symbol("H"), "Height between the gauge's two connections, with a warm line"
    ] = None,
    liquid_at: LiquidAt | None = None,
) -> Annotated[Height, "Height of the liquid above the lower connection"]:
    """Height of the liquid in a tank, from a differential pressure gauge.

    Takes Pa, K, m and a LiquidState, scalars or arrays; gives m. Raises StateError where the gas
    has no such liquid, OutOfRangeError where an empty tank would read more.
    """
    both = saturated_of(gas, tank_pressure)
    cold = liquid_of(gas, tank_pressure, liquid_at)
    refuse_boiling(cold, both)
    mass = properties.molar_mass(gas)
    vapour = both.vapour_density * mass
    step("density of the vapour above it", "ρ_V", vapour, "kg/m³")
    column = differential_pressure / STANDARD_GRAVITY
    if gauge_line_temperature is not None:
        if gauge_height is None:
            raise UnreadableError(
                "is blank; with a warm line give the height between the gauge's two connections",
                "gauge_height",
            )
        line = _line_density(gas, tank_pressure, gauge_line_temperature)
        column = column - (vapour - line) * gauge_height
        refuse(
            np.less(column, 0),
            "differential_pressure",
            "is less than an empty tank reads with a line so warm; are the height and the "
            "temperature of the gauge's line right?",
        )
    return np.asarray(column / (cold.density * mass - vapour))


def _line_density(gas: Gas, pressure: Numbers, temperature: Numbers) -> Numbers:
    """kg/m³ of the gas in a gauge's upper line."""
    try:
        density = properties.density(gas, pressure, temperature)
    except StateError as error:
        raise error.about("gauge_line_temperature") from None
    step("density of the gas in the upper line", "ρ_w", density, "kg/m³")
    return density


@worksheet_function(
    equation="V_L = min(V_t · e · t · (ρ_L Δh at 1 atm) / (ρ_L Δh at p_v), x · V_t)",
    sources=(
        "Evaporation rate as makers state it, for the full tank at 1 atm; the heat leak of a "
        "vacuum-insulated tank hardly changes with its level (common practice; measured by "
        "ISO 21014)",
        "Energy balance of a tank that vents at constant pressure: Q = ΔV_L ρ_L (h_V - h_L)",
        EQUATION_OF_STATE,
    ),
    example=('GAS_BOIL_OFF(11000, "0.35 %", 30, 0.8)', "1155 L(liq)"),
    cautions=(
        "Only of a tank that stands and vents. A tank that is drawn from hardly loses anything: "
        "what evaporates is used, or raises the pressure for the next draw.",
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
    gas: Annotated[GasArgument | None, "Gas, where the tank vents at another pressure"] = None,
    venting_pressure: Annotated[
        Pressure, Symbol("p_v"), "Pressure that the tank is held at by venting"
    ] = ATMOSPHERE,
) -> Annotated[Liquid, "Liquid lost"]:
    """Liquid that boils off a standing tank: the full tank's rate all the time, until it is dry.

    Takes m³, shares, s and Pa, scalars or arrays; gives m³ of liquid as it is at the venting
    pressure. Raises StateError where the gas has no liquid there.
    """
    rate = np.asarray(capacity) * daily_rate
    if gas is not None:
        rate = rate * _evaporated_at(gas, venting_pressure)
    elif np.any(venting_pressure != ATMOSPHERE):
        raise UnreadableError("is blank; name the gas that vents at another pressure", "gas")
    lost = rate * np.asarray(days) / SECONDS_A_DAY
    step("evaporation a day", "V_t · e", rate, "m³")
    step("liquid at the start", "x · V_t", np.asarray(capacity) * fill, "m³")
    return np.asarray(np.minimum(lost, np.asarray(capacity) * fill))


def _evaporated_at(gas: Gas, pressure: Numbers) -> Numbers:
    """Litres evaporated at a pressure by the heat that evaporates one litre at 1 atm."""
    refuse_air(gas)
    normal = saturated_of(gas, ATMOSPHERE, "gas")
    there = saturated_of(gas, pressure, "venting_pressure")
    heats = [
        each.liquid_density * (each.vapour_enthalpy - each.liquid_enthalpy)
        for each in (normal, there)
    ]
    step("heat of evaporation of the liquid at 1 atm", "ρ_L Δh", heats[0], "J/m³")
    step("heat of evaporation of the liquid as it vents", "ρ_L Δh", heats[1], "J/m³")
    ratio: Numbers = heats[0] / heats[1]
    return ratio


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
    pressure_now: Annotated[Pressure, Symbol("p₁"), "Pressure in the tank now"],
    pressure_relief: Annotated[Pressure, Symbol("p₂"), "Pressure at which the relief valve opens"],
    daily_rate: EvaporationRate,
) -> Annotated[Duration, "Time until the relief valve opens"]:
    """Time until a closed tank without draw reaches its relief pressure.

    Takes m³, shares and Pa; gives s. Raises NoSolutionError where the tank becomes full of
    liquid, or dry, before it reaches the relief pressure.
    """
    refuse_air(gas)
    refuse(daily_rate <= 0, "daily_rate", "is 0: a tank without heat leak stays as it is")
    refuse(
        pressure_relief <= pressure_now,
        "pressure_relief",
        "is not above pressure_now: are the two swapped?",
    )
    normal = saturated_of(gas, ATMOSPHERE, "gas")
    now = saturated_of(gas, pressure_now, "pressure_now")
    relief = saturated_of(gas, pressure_relief, "pressure_relief")
    latent = normal.vapour_enthalpy - normal.liquid_enthalpy
    tank = float(capacity)
    leak = float(tank * daily_rate / SECONDS_A_DAY * normal.liquid_density * latent)
    held = float(fill * now.liquid_density + (1 - fill) * now.vapour_density)
    energy_now = energy_held(now, held)
    step("heat of evaporation at 1 atm", "h_V - h_L", latent, "J/mol")
    step("heat leak", "V_t · e · ρ_L · (h_V - h_L)", leak, "W")
    step("molar density of all that the tank holds", "n/V_t", held, "mol/m³")
    step("internal energy now", "U(p₁)/V_t", energy_now, "J/m³")
    between = (float(pressure_now), float(pressure_relief))
    refuse_one_phase(gas, held, between, energy_now, leak / tank)
    energy_relief = energy_held(relief, held)
    swollen = (held - relief.vapour_density) / (relief.liquid_density - relief.vapour_density)
    step("fill at the relief pressure", "x(p₂)", swollen, "1")
    step("internal energy at the relief pressure", "U(p₂)/V_t", energy_relief, "J/m³")
    return tank * (energy_relief - energy_now) / leak
