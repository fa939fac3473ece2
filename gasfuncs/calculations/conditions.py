"""Units, site and gauge pressure, gas grades."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from gasfuncs.calculations.conversion import converted
from gasfuncs.calculations.sources import EQUATION_OF_STATE, REFERENCE_CONDITIONS
from gasfuncs.definition import Cell, refuse, step, worksheet_function
from gasfuncs.definition.altitude import ALTITUDE
from gasfuncs.definition.terms import Read, Symbol, number_and_unit
from gasfuncs.definition.vocabulary import (
    Altitude,
    GasArgument,
    GaugePressure,
    Impurity,
    LiquidAt,
    PlainNumber,
    Pressure,
    SitePressure,
    TankPressure,
    UnitText,
)
from gasfuncs.errors import GasFuncsError, OutOfRangeError, UnreadableError
from gasfuncs.units import ATMOSPHERE, shown

STANDARD_GRAVITY = 9.80665
AIR_GAS_CONSTANT = 287.05287
"""J/(kg K), of dry air in ISO 2533."""
SEA_LEVEL_TEMPERATURE = 288.15
LAPSE_RATE = 0.0065
"""K/m up to 11 km."""

DIGITS_APART = 1e-9
"""By how much a grade may miss its tenth, from rounding alone."""


@worksheet_function(
    equation="y = x · (unit of x in SI) / (unit of y in SI); of a gas by n = m / M = V_L · ρ_L",
    sources=(
        "NIST SP 811 (2008), Appendix B: factors to SI",
        REFERENCE_CONDITIONS,
        EQUATION_OF_STATE,
    ),
    example=('GAS_CONVERT(3000, "gal(liq)", "Nm3", "nitrogen")', "7321"),
    cautions=(
        "Without a gas, gas volumes at different reference conditions are compared as ideal gas.",
        "A temperature is a reading, not a difference; bare psi and bar are differences.",
        ALTITUDE,
        "A litre of liquid is an amount only with its state: tickets count it at its boiling point "
        "at 1 atm, a tank's level at the tank's pressure.",
    ),
)
def convert(
    value: Annotated[PlainNumber, Symbol("x"), "Number to convert"],
    from_unit: Annotated[UnitText, Symbol("unit x"), "Unit that the number is in"],
    to_unit: Annotated[UnitText, Symbol("unit y"), "Unit wanted"],
    gas: Annotated[
        GasArgument | None, "Gas, where amount, mass or liquid become one another"
    ] = None,
    tank_pressure: TankPressure = ATMOSPHERE,
    liquid_at: LiquidAt | None = None,
) -> Annotated[PlainNumber, "The number in the unit wanted"]:
    """A number in another unit; of a gas also between amount, mass and liquid, and their flows.

    Takes numbers in the units named, the tank's pressure in Pa and a LiquidState, scalars or
    arrays. Raises UnitError where the units do not go together, UnreadableError where the gas is
    missing, OutOfRangeError below a perfect vacuum or absolute zero.
    """
    return converted(value, from_unit, to_unit, gas, (tank_pressure, liquid_at))


@worksheet_function(
    equation="p = 101325 Pa · (1 - 0.0065 H / 288.15)^(g / (R_air · 0.0065))",
    sources=("ISO 2533:1975, Standard Atmosphere: geopotential altitude up to 11 km",),
    example=("GAS_SITE_PRESSURE(1600)", "0.8352 bar(a)"),
    cautions=("The weather moves the air pressure by some 3 % about this; a barometer tells it.",),
)
def site_pressure(altitude: Altitude) -> Annotated[Pressure, "Air pressure at the site"]:
    """Air pressure at an altitude, in the standard atmosphere.

    Takes geopotential metres, scalars or arrays; gives Pa.
    """
    exponent = STANDARD_GRAVITY / (AIR_GAS_CONSTANT * LAPSE_RATE)
    step("exponent", "g / (R_air · 0.0065)", exponent)
    return ATMOSPHERE * (1 - LAPSE_RATE * altitude / SEA_LEVEL_TEMPERATURE) ** exponent


@worksheet_function(
    equation="p = p_g + p_s",
    sources=("Definition of gauge pressure (DOE-HDBK-1012/1-92, Pressure)",),
    example=('GAS_ABSOLUTE("80 psig", 0.84)', "6.356 bar(a)"),
)
def absolute(
    gauge_pressure: GaugePressure, site_pressure: SitePressure = ATMOSPHERE
) -> Annotated[Pressure, "Absolute pressure"]:
    """Absolute pressure from a gauge reading and the air pressure at the site.

    Takes Pa, scalars or arrays; gives Pa. Raises OutOfRangeError below a perfect vacuum.
    """
    pressure = gauge_pressure + site_pressure
    refuse(
        np.less(pressure, 0),
        "gauge_pressure",
        "is below a perfect vacuum at this site pressure; a gauge reads at least minus that",
    )
    return np.asarray(pressure)


@worksheet_function(
    equation="p_g = p - p_s",
    sources=("Definition of gauge pressure (DOE-HDBK-1012/1-92, Pressure)",),
    example=('GAS_GAUGE("6 bar(a)", 0.84)', "5.160 bar(g)"),
)
def gauge(
    absolute_pressure: Annotated[Pressure, "Absolute pressure"],
    site_pressure: SitePressure = ATMOSPHERE,
) -> Annotated[GaugePressure, "Gauge pressure; negative below the air pressure"]:
    """Gauge reading of an absolute pressure at the air pressure of the site.

    Takes Pa, scalars or arrays; gives Pa.
    """
    return absolute_pressure - site_pressure


@dataclass(frozen=True, slots=True)
class Purity:
    """A purity told as a share of the gas."""

    share: float

    def __str__(self) -> str:
        return f"{100 * self.share:.10g} %"


_NINES = re.compile(
    r"N\s*(?P<after>\d([.,]\d)?)|(?P<before>\d)\s*N\s*(?P<digit>\d?)", re.IGNORECASE
)
GRADE_WORDS = '1.0 to 9.9, as 5.0 or 4.8; "N5.0", "5N", "4N8"; or the purity as text, "99.999 %"'


def read_grade(cell: Cell) -> float | Purity:
    """A grade such as 5.0, "4.8", "N5.0" or "4N5", or a purity such as "99.998 %"."""
    text = cell.strip() if isinstance(cell, str) else ""
    match = _NINES.fullmatch(text)
    if match:
        cell = match["after"] or f"{match['before']}.{match['digit'] or 0}"
    if text.endswith("%"):
        cell = text.replace(",", ".")
    try:
        number, unit = number_and_unit(cell)
    except GasFuncsError:
        number, unit = 0.0, "no number"
    if unit == "%":
        return _purity(number, text)
    if unit:
        raise UnreadableError(f'"{shown(cell)}" is not a grade; write {GRADE_WORDS}')
    if not 1 <= number < 10:
        raise OutOfRangeError(
            f"{shown(number)} is not between 1.0 and 9.9; 5.0 stands for a purity of 99.999 %, "
            'which is written as text, "99.999 %"'
        )
    if abs(10 * number - round(10 * number)) > DIGITS_APART:
        raise OutOfRangeError(f"{shown(number)} has more than one digit after the nines")
    return round(10 * number) / 10


def _purity(percent: float, text: str) -> Purity:
    if not 0 < percent < 100:
        raise OutOfRangeError(f'"{shown(text)}" is no purity below 100 %')
    return Purity(round(percent / 100, ndigits=15))


@worksheet_function(
    equation="c = (1 - d / 10) · 10⁻ⁿ; grade n.d is n nines and then the digit d",
    sources=("Nines-and-digit notation of gas purity, common practice: 4.8 is 99.998 %",),
    example=('GAS_GRADE_IMPURITY("4.8")', "20 ppm"),
    cautions=(
        "All impurities together; some suppliers' grades leave some of them out, so that the "
        "certificate decides.",
    ),
)
def grade_impurity(
    grade: Annotated[
        float | Purity,
        Read(
            "N",
            'Grade, as 5.0, "N5.0" or "5N"; or "99.999 %"',
            reader=read_grade,
            words=GRADE_WORDS,
        ),
    ],
) -> Annotated[Impurity, "All impurities together"]:
    """Impurity that a purity grade allows: 5.0 is 99.999 % pure, 4.8 is 99.998 %.

    Takes the grade as a number with one decimal, or a Purity; gives a fraction.
    """
    if isinstance(grade, Purity):
        return round(1 - grade.share, ndigits=15)
    nines, digit = divmod(round(10 * grade), 10)
    step("nines", "n", nines)
    step("digit after the nines", "d", digit)
    return (10 - digit) / 10.0 ** (nines + 1)
