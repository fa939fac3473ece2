"""Moisture in gas: dew point or frost point, content by volume, and their change with pressure."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs.definition import refuse, step, unreachable, worksheet_function
from gasfuncs.definition.vocabulary import (
    DewPoint,
    MoistGasPressure,
    Moisture,
    Numbers,
)
from gasfuncs.units import ATMOSPHERE

COLDEST, WARMEST = 123.15, 373.15
"""Dew points that are told, K: as the vocabulary's term has them."""

TRIPLE_TEMPERATURE, TRIPLE_PRESSURE = 273.16, 611.657
CRITICAL_TEMPERATURE, CRITICAL_PRESSURE = 647.096, 22.064e6

SUBLIMATION = (
    "Below 0.01 °C, over ice: IAPWS R14-08(2011), Revised Release on the Pressure along the "
    "Melting and Sublimation Curves of Ordinary Water Substance, eq. 6"
)
SATURATION = (
    "Above 0.01 °C, over water: IAPWS SR1-86(1992), Revised Supplementary Release on Saturation "
    "Properties of Ordinary Water Substance, eq. 1 (Wagner, Pruss, J. Phys. Chem. Ref. Data 22, "
    "1993)"
)
IDEAL_MIXTURE = "Dalton's law: the share by volume of an ideal gas is its share of the pressure"
SOURCES = (SUBLIMATION, SATURATION, IDEAL_MIXTURE)

NO_ENHANCEMENT = (
    "The enhancement factor (gas under pressure holds a little more water) is left out: in air it "
    "adds 0.6 % at -40 °C and 1 atm, 4.5 % at 8 bar, and more at cylinder pressure."
)
OVER_ICE = (
    "Below 0.01 °C the dew point is the frost point, over ice; an instrument that shows the dew "
    "point over supercooled water reads lower (colder) for the same gas."
)
WHOLE_GAS = "Parts per million are by volume of the whole gas, its water included."
CAUTIONS = (NO_ENHANCEMENT, OVER_ICE, WHOLE_GAS)


@worksheet_function(
    equation="y = p_w / p with p_w = p_ice(T_d) below 0.01 °C, p_water(T_d) above",
    sources=SOURCES,
    example=("GAS_DEW_PPM(-60)", "10.67 ppm"),
    cautions=CAUTIONS,
)
def dew_ppm(
    dew_point: DewPoint, pressure: MoistGasPressure = ATMOSPHERE
) -> Annotated[Moisture, "Water by volume of the whole gas"]:
    """Moisture by volume of a gas from its dew point, which below 0 °C is its frost point.

    Takes K and Pa, scalars or arrays; gives a fraction of the whole gas. Raises OutOfRangeError
    where the water alone would be above the pressure.
    """
    return _water(dew_point, pressure, "pressure") / pressure


@worksheet_function(
    equation="T_d with p_w(T_d) = y · p",
    sources=SOURCES,
    example=("GAS_PPM_DEW(3)", "-68.99 °C"),
    cautions=CAUTIONS,
)
def ppm_dew(
    moisture: Moisture, pressure: MoistGasPressure = ATMOSPHERE
) -> Annotated[DewPoint, "Dew point; frost point below 0 °C"]:
    """Dew point of a gas, below 0 °C its frost point, from its moisture by volume.

    Takes a fraction of the whole gas and Pa, scalars or arrays; gives K. Raises NoSolutionError
    where the dew point is outside -150 to 100 °C.
    """
    return _dew_point(moisture * pressure, "moisture")


@worksheet_function(
    equation="p_w(T_d2) = p_w(T_d1) · p₂ / p₁",
    sources=SOURCES,
    example=('GAS_DEW_SHIFT(-40, "7 bar(g)", "1 atm")', "-56.95 °C"),
    cautions=CAUTIONS,
)
def dew_shift(
    dew_point: DewPoint,
    pressure_from: Annotated[MoistGasPressure, "Pressure at which the dew point is known"],
    pressure_to: Annotated[MoistGasPressure, "Pressure at which the dew point is asked for"],
) -> Annotated[DewPoint, "Dew point at the other pressure; frost point below 0 °C"]:
    """Dew point of the same gas at another pressure.

    Takes K and Pa, scalars or arrays; gives K. Raises OutOfRangeError where the water alone
    would be above pressure_from, NoSolutionError where the answer is outside -150 to 100 °C.
    """
    water = _water(dew_point, pressure_from, "pressure_from")
    return _dew_point(water * (pressure_to / pressure_from), "pressure_to")


def saturation_pressure(temperature: Numbers) -> Numbers:
    """Pa of water vapour over ice or water (K), whichever is stable.

    The stable one has the lower vapour pressure. The two equations cross at 0.01 °C to within
    0.00002 °C, so the lower of them is one continuous, rising curve without a joint.
    """
    return np.minimum(_over_ice(temperature), _over_water(temperature))


def _over_ice(temperature: Numbers) -> Numbers:
    theta = temperature / TRIPLE_TEMPERATURE
    series = (
        -0.212144006e2 * theta**0.333333333e-2
        + 0.273203819e2 * theta**0.120666667e1
        - 0.610598130e1 * theta**0.170333333e1
    )
    return TRIPLE_PRESSURE * np.exp(series / theta)


def _over_water(temperature: Numbers) -> Numbers:
    tau = 1 - temperature / CRITICAL_TEMPERATURE
    series = (
        -7.85951783 * tau
        + 1.84408259 * tau**1.5
        - 11.7866497 * tau**3
        + 22.6807411 * tau**3.5
        - 15.9618719 * tau**4
        + 1.80122502 * tau**7.5
    )
    return CRITICAL_PRESSURE * np.exp(CRITICAL_TEMPERATURE / temperature * series)


def _water(dew_point: Numbers, pressure: Numbers, argument: str) -> Numbers:
    """Partial pressure of the water, Pa; refused where it is more than the whole pressure."""
    water = saturation_pressure(dew_point)
    refuse(
        water > pressure,
        argument,
        f"is below the {np.max(water) / 100:.4g} mbar that water alone has at that dew point; "
        "give the pressure at which the dew point was measured",
    )
    step("partial pressure of the water", "p_w", water, "Pa")
    return water


def _dew_point(water: Numbers, argument: str) -> Numbers:
    """Dew or frost point, K, of a partial pressure of water, Pa."""
    step("partial pressure of the water", "p_w", water, "Pa")
    low, high = saturation_pressure(COLDEST), saturation_pressure(WARMEST)
    unreachable(water < low, argument, "gives a dew point below -150 °C, the lowest that is told")
    unreachable(water > high, argument, "gives a dew point above 100 °C, the highest that is told")
    from scipy.optimize import elementwise

    found = elementwise.find_root(
        lambda temperature, log: np.log(saturation_pressure(temperature)) - log,
        (np.full_like(water, COLDEST), np.full_like(water, WARMEST)),
        args=(np.log(water),),
    )
    step("method", "", "bracketed search from -150 to 100 °C, to the last digit of a double")
    return np.asarray(found.x)
