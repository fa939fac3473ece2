"""Moisture in gas: dew point or frost point, content by volume, and their change with pressure."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.sources import EQUATION_OF_STATE
from gasfuncs.calculations.water_vapour import (
    ENHANCEMENT,
    ICE_VOLUME,
    SATURATION,
    SUBLIMATION,
    WATER_VOLUME,
    enhancement,
    over_ice,
    over_water,
)
from gasfuncs.definition import Symbol, refuse, step, unreachable, worksheet_function
from gasfuncs.definition.vocabulary import (
    Density,
    DewPoint,
    DewSurface,
    GasArgument,
    MoistGasPressure,
    Moisture,
    Numbers,
    Temperature,
)
from gasfuncs.units import ATMOSPHERE

COLDEST, WARMEST = 123.15, 373.15
"""Dew points that are told, K: as the vocabulary's term has them."""

ROOM = 293.15

MOST_ENHANCEMENT = 3.0
"""Beyond it the gas is so cold and dense that its virial equation says little."""

OTHERS_SHARE, OTHERS_PRESSURE = 0.1, 2e5
"""Share by volume, and Pa up to which a gas that is not like air may have the factor of air."""

AIR = properties.gas("air")

SOURCES = (SUBLIMATION, SATURATION, ENHANCEMENT)

FACTOR_OF_AIR = (
    "The enhancement factor is that of air. For nitrogen, oxygen and argon it may be off by 0.1 % "
    "of the water at 1 atm, 1 % at 10 bar and 10 % at 100 bar; other gases are refused above 2 bar."
)
OVER_ICE = (
    "Below 0 °C the dew point is the frost point, over ice, unless the surface is water: an "
    "instrument or a dryer's data sheet that means water reads lower (colder) for the same gas."
)
WHOLE_GAS = "Parts per million are by volume of the whole gas, its water included."
CAUTIONS = (FACTOR_OF_AIR, OVER_ICE, WHOLE_GAS)

Carrier = Annotated[GasArgument, "Gas that holds the water"]


@worksheet_function(
    equation="y = f(T_d, p) · p_w(T_d) / p",
    sources=SOURCES,
    example=('GAS_DEW_PPM(-40, "7 bar(g)")', "16.75 ppm"),
    cautions=CAUTIONS,
)
def dew_ppm(
    dew_point: DewPoint,
    pressure: MoistGasPressure = ATMOSPHERE,
    surface: DewSurface = "ice",
    gas: Carrier = AIR,
) -> Annotated[Moisture, "Water by volume of the whole gas"]:
    """Moisture of a gas from its dew point, which below 0 °C is its frost point.

    Takes K and Pa, scalars or arrays; gives a fraction of the whole gas. Raises OutOfRangeError
    where the water alone would be above the pressure, or the gas is too cold and dense.
    """
    return _moisture(dew_point, pressure, surface, gas, "pressure")


@worksheet_function(
    equation="T_d with f(T_d, p) · p_w(T_d) = y · p",
    sources=SOURCES,
    example=('GAS_PPM_DEW("40 mg/Nm3", "7 bar(g)", "ice", "argon")', "-29.93 °C"),
    cautions=CAUTIONS,
)
def ppm_dew(
    moisture: Moisture,
    pressure: MoistGasPressure = ATMOSPHERE,
    surface: DewSurface = "ice",
    gas: Carrier = AIR,
) -> Annotated[DewPoint, "Dew point; frost point below 0 °C unless the surface is water"]:
    """Dew point of a gas, below 0 °C its frost point, from its moisture.

    Takes a fraction of the whole gas and Pa, scalars or arrays; gives K. Raises NoSolutionError
    where the dew point is outside -150 to 100 °C.
    """
    return dew_point_of(moisture, pressure, surface, gas, ("moisture", "pressure"))


@worksheet_function(
    equation="f(T_d2, p₂) · p_w(T_d2) = f(T_d1, p₁) · p_w(T_d1) · p₂ / p₁",
    sources=SOURCES,
    example=('GAS_DEW_SHIFT(3, "7 bar(g)", "1 atm", "water")', "-22.82 °C"),
    cautions=CAUTIONS,
)
def dew_shift(
    dew_point: Annotated[DewPoint, Symbol("T_d1")],
    pressure_from: Annotated[
        MoistGasPressure, "Pressure at which the dew point is known", Symbol("p₁")
    ],
    pressure_to: Annotated[
        MoistGasPressure, "Pressure at which the dew point is asked for", Symbol("p₂")
    ],
    surface: DewSurface = "ice",
    gas: Carrier = AIR,
) -> Annotated[
    DewPoint,
    "Dew point at the other pressure; frost point below 0 °C unless the surface is water",
    Symbol("T_d2"),
]:
    """Dew point of the same gas at another pressure.

    Takes K and Pa, scalars or arrays; gives K. Raises OutOfRangeError where the water alone
    would be above pressure_from, NoSolutionError where the answer is outside -150 to 100 °C.
    """
    share = _moisture(dew_point, pressure_from, surface, gas, "pressure_from")
    return dew_point_of(share, pressure_to, surface, gas, ("pressure_to", "pressure_to"))


@worksheet_function(
    equation="a = y · M_w · ρ_m(p, T), y = f(T_d, p) · p_w(T_d) / p",
    sources=(*SOURCES, EQUATION_OF_STATE),
    example=('GAS_ABSOLUTE_HUMIDITY(-40, "7 bar(g)", 20, "ice", "air", "mg/m3")', "99.49 mg/m3"),
    cautions=(
        *CAUTIONS,
        "Counted on the volume that the gas has at its own pressure and temperature; per normal "
        'volume GAS_DEW_PPM answers in "mg/Nm3". The moist gas is taken as dense as the dry one.',
    ),
)
def absolute_humidity(
    dew_point: DewPoint,
    pressure: MoistGasPressure = ATMOSPHERE,
    temperature: Annotated[Temperature, "Temperature of the gas"] = ROOM,
    surface: DewSurface = "ice",
    gas: Carrier = AIR,
) -> Annotated[Density, "Mass of water in a volume of gas", Symbol("a")]:
    """Absolute humidity of a gas, mass of water in its actual volume, from its dew point.

    Takes K and Pa, scalars or arrays; gives kg/m³. Raises OutOfRangeError where the gas is
    colder than its dew point, StateError where it is not gas.
    """
    refuse(
        np.asarray(temperature) < dew_point,
        "temperature",
        "is below the dew point: part of the water would have left the gas as liquid or ice",
    )
    share = _moisture(dew_point, pressure, surface, gas, "pressure")
    molar = properties.molar_density(gas, pressure, temperature)
    step("molar density of the gas", "ρ_m", molar, "mol/m³")
    return share * properties.WATER * molar


def held(temperature: Numbers, pressure: Numbers, surface: str) -> Numbers:
    """Pa of water in saturated air: over water, or over ice or water, whichever is stable.

    The stable one holds less. Under pressure ice melts below 0 °C, as it does in nature.
    """
    vapour = over_water(temperature)
    liquid = vapour * enhancement(temperature, pressure, vapour, WATER_VOLUME)
    if surface == "water":
        return liquid
    vapour = over_ice(temperature)
    return np.minimum(liquid, vapour * enhancement(temperature, pressure, vapour, ICE_VOLUME))


def saturation_pressure(temperature: Numbers, surface: str = "ice") -> Numbers:
    """Pa of water vapour alone over water, or over ice or water (K), whichever is stable."""
    liquid = over_water(temperature)
    return liquid if surface == "water" else np.minimum(over_ice(temperature), liquid)


def _moisture(
    dew_point: Numbers, pressure: Numbers, surface: str, gas: GasArgument, argument: str
) -> Numbers:
    """Share of water in the gas; refused where water alone has more than the whole pressure."""
    alone = saturation_pressure(dew_point, surface)
    refuse(
        alone > pressure,
        argument,
        f"is below the {np.max(alone) / 100:.4g} mbar that water alone has at that dew point; "
        "give the pressure at which the dew point was measured",
    )
    water = held(dew_point, pressure, surface)
    _check_factor(water / alone, pressure, gas, argument)
    _show(alone, water)
    return water / pressure


def _check_factor(factor: Numbers, pressure: Numbers, gas: GasArgument, argument: str) -> None:
    """Refuse where the enhancement factor of air is no guide."""
    others = sum(share for name, share in gas.parts if name not in properties.MOIST_AS_AIR)
    refuse(
        (others > OTHERS_SHARE) & (np.asarray(pressure) > OTHERS_PRESSURE),
        argument,
        f"is above 2 bar(a), where the enhancement factor of {gas} is not known here; "
        "take the dew point after the gas is let down to atmosphere",
    )
    refuse(
        np.asarray(factor) > MOST_ENHANCEMENT,
        argument,
        f"is too high for gas that cold: the enhancement factor is above {MOST_ENHANCEMENT:g}, "
        "where its equation is no guide; take the dew point after the gas is let down",
    )


def _show(alone: Numbers, water: Numbers) -> None:
    step("pressure of water vapour alone", "p_w", alone, "Pa")
    step("enhancement factor", "f", water / alone)
    step("partial pressure of the water", "y p", water, "Pa")


def dew_point_of(
    share: Numbers, pressure: Numbers, surface: str, gas: GasArgument, names: tuple[str, str]
) -> Numbers:
    """Dew or frost point, K, of a share of water; `names` are what a refusal is about."""
    water = np.asarray(share * pressure)
    low, high = held(COLDEST, pressure, surface), held(WARMEST, pressure, surface)
    unreachable(water < low, names[0], "gives a dew point below -150 °C, the lowest that is told")
    unreachable(water > high, names[0], "gives a dew point above 100 °C, the highest that is told")
    dew_point = holding(water, pressure, surface)
    alone = saturation_pressure(dew_point, surface)
    _check_factor(water / alone, pressure, gas, names[1])
    _show(alone, water)
    step("method", "", "bracketed search from -150 to 100 °C, to the last digit of a double")
    return dew_point


def holding(water: Numbers, pressure: Numbers, surface: str) -> Numbers:
    """K at which saturated air holds a partial pressure of water (Pa), between the ends told."""
    from scipy.optimize import elementwise

    found = elementwise.find_root(
        lambda temperature, log, p: np.log(held(temperature, p, surface)) - log,
        (np.full_like(water, COLDEST), np.full_like(water, WARMEST)),
        args=(np.log(water), np.broadcast_to(pressure, np.shape(water))),
    )
    return np.asarray(found.x)
