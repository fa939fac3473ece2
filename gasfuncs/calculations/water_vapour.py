"""Water vapour over ice or water, alone and in air under pressure."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from gasfuncs.definition.vocabulary import Numbers
from gasfuncs.units import R

TRIPLE_TEMPERATURE, TRIPLE_PRESSURE = 273.16, 611.657
CRITICAL_TEMPERATURE, CRITICAL_PRESSURE = 647.096, 22.064e6

ICE_VOLUME, WATER_VOLUME = 19.65e-6, 18.03e-6
"""m³/mol of the condensed phase; both change by less than 2 % over the range of dew points, which
is 0.02 % of the moisture at 100 bar."""

AIR_TEMPERATURE, AIR_DENSITY = 132.6312, 10447.7
"""K and mol/m³ that the equation of state of air is reduced by."""

SETTLES = 12
"""Rounds: the enhancement factor stands on both sides of its equation, weakly on the right."""

SUBLIMATION = (
    "Over ice: IAPWS R14-08(2011), Revised Release on the Pressure along the Melting and "
    "Sublimation Curves of Ordinary Water Substance, eq. 6"
)
SATURATION = (
    "Over water from 0.01 °C: IAPWS SR1-86(1992), Revised Supplementary Release on Saturation "
    "Properties of Ordinary Water Substance, eq. 1 (Wagner, Pruss, J. Phys. Chem. Ref. Data 22, "
    "1993); over supercooled water: D. M. Murphy, T. Koop, Q. J. R. Meteorol. Soc. 131 (2005) "
    "1539, eq. 10"
)
ENHANCEMENT = (
    "Enhancement factor f: R. W. Hyland, A. Wexler, ASHRAE Transactions 89-2A (1983) 500, virial "
    "equation with their air-air-water and air-water-water coefficients; air-water from A. H. "
    "Harvey, P. H. Huang, Int. J. Thermophys. 28 (2007) 556; air from E. W. Lemmon et al., "
    "J. Phys. Chem. Ref. Data 29 (2000) 331. Dissolved air is left out (0.2 % at 100 bar)"
)


def over_ice(temperature: Numbers) -> Numbers:
    """Pa of water vapour over ice (K)."""
    theta = temperature / TRIPLE_TEMPERATURE
    series = (
        -0.212144006e2 * theta**0.333333333e-2
        + 0.273203819e2 * theta**0.120666667e1
        - 0.610598130e1 * theta**0.170333333e1
    )
    return TRIPLE_PRESSURE * np.exp(series / theta)


def over_water(temperature: Numbers) -> Numbers:
    """Pa of water vapour over water (K), supercooled where it is below 0.01 °C.

    The two equations meet at 0.01 °C within 5e-8.
    """
    cold = np.asarray(temperature) < TRIPLE_TEMPERATURE
    return np.where(cold, _over_supercooled(temperature), _over_warm_water(temperature))


def _over_warm_water(temperature: Numbers) -> Numbers:
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


def _over_supercooled(temperature: Numbers) -> Numbers:
    t, log = temperature, np.log(temperature)
    cold = 53.878 - 1331.22 / t - 9.44523 * log + 0.014025 * t
    warm = 54.842763 - 6763.22 / t - 4.210 * log + 0.000367 * t
    return np.exp(warm + np.tanh(0.0415 * (t - 218.8)) * cold)


class Virial(NamedTuple):
    """Second (m³/mol) and third (m⁶/mol²) virial coefficients of air (a) and water (w)."""

    aa: Numbers
    aw: Numbers
    ww: Numbers
    aaa: Numbers
    aaw: Numbers
    aww: Numbers
    www: Numbers


def virial(temperature: Numbers) -> Virial:
    """The coefficients at a temperature (K)."""
    t, hundreds, tau = temperature, temperature / 100, AIR_TEMPERATURE / temperature
    second = (
        0.118160747229 + 0.713116392079 * tau**0.33 - 1.61824192067 * tau**1.01
        - 0.101365037912 * tau**1.6 - 0.146629609713 * tau**3.6 + 0.0148287891978 * tau**3.5
    )  # fmt: skip
    third = 2 * (0.0714140178971 + 0.101365037912 * tau**1.6)
    mixed = 66.5687 * hundreds**-0.237 - 238.834 * hundreds**-1.048 - 176.755 * hundreds**-3.183
    steam = 0.70e-8 - 0.147184e-8 * np.exp(1734.29 / t)
    steam_third = 0.104e-14 - 0.335297e-17 * np.exp(3645.09 / t)
    two_air = 482.737 + 0.105678e6 / t - 0.656394e8 / t**2 + 0.294442e11 / t**3 - 0.319317e13 / t**4
    two_water = -np.exp(-10.728876 + 3478.04 / t - 0.383383e6 / t**2 + 0.33406e8 / t**3)
    return Virial(
        aa=second / AIR_DENSITY,
        aw=1e-6 * mixed,
        ww=R * t * steam,
        aaa=third / AIR_DENSITY**2,
        aaw=1e-12 * two_air,
        aww=1e-6 * two_water,
        www=(R * t) ** 2 * (steam_third + steam**2),
    )


def enhancement(
    temperature: Numbers, pressure: Numbers, vapour: Numbers, condensed: float
) -> Numbers:
    """How much more water air holds under pressure than Dalton's law has it.

    Takes K, Pa of the air with its water, Pa of the vapour alone and m³/mol of the ice or water.
    """
    b, per = virial(temperature), pressure / (R * temperature)
    dry = np.maximum(1 - vapour / pressure, 0.0)
    factor = np.ones_like(dry)
    for _ in range(SETTLES):
        air = np.maximum(1 - factor * vapour / pressure, 0.0)
        log = dry * per * (condensed - b.ww) + air**2 * per * (b.aa - 2 * b.aw + b.ww)
        factor = np.exp(log + per**2 * _third_order(b, air, vapour / pressure))
    return factor


def _third_order(b: Virial, air: Numbers, steam: Numbers) -> Numbers:
    """Terms in the square of the density: `air` is its share, `steam` what Dalton's law has."""
    wet = 1 - air
    pure = (1 + 2 * air) * wet**2 - steam**2
    square = steam**2 - (1 + 3 * air) * wet**3
    return (
        air**3 * b.aaa
        + 1.5 * air**2 * (1 - 2 * air) * b.aaw
        - 3 * air**2 * wet * b.aww
        - 0.5 * pure * b.www
        - air**2 * (1 - 3 * air) * wet * b.aa * b.ww
        - 2 * air**3 * (2 - 3 * air) * b.aa * b.aw
        + 6 * air**2 * wet**2 * b.ww * b.aw
        - 1.5 * air**4 * b.aa**2
        - 2 * air**2 * wet * (1 - 3 * air) * b.aw**2
        - 0.5 * square * b.ww**2
    )
