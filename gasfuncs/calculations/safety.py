"""Oxygen in a room after gas escapes, the air that keeps it, flow through a relief device."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.sources import EQUATION_OF_STATE, REFERENCE_CONDITIONS
from gasfuncs.definition import refuse, step, unreachable, worksheet_function
from gasfuncs.definition.vocabulary import (
    Amount,
    Discharge,
    Duration,
    Flow,
    Fraction,
    GasArgument,
    Numbers,
    Orifice,
    OxygenShare,
    Pressure,
    Temperature,
    Volume,
    VolumeFlow,
)
from gasfuncs.units import ATMOSPHERE
from gasfuncs.units.reference import R

OXYGEN_IN_AIR = 0.2095
"""Share by volume in dry air: ISO 2533 has 0.209476."""

ROOM_TEMPERATURE = 293.15

AIR_SOURCE = "Dry air holds 20.95 % oxygen by volume (ISO 2533)"
DEFICIENT = (
    "29 CFR 1910.146 and 1910.134: an atmosphere below 19.5 % oxygen by volume is oxygen-deficient"
)
ESTIMATE = (
    "An estimate for complete mixing at 20 °C and 1 atm. Cold vapour and argon lie low in pits and "
    "corners, helium and hydrogen collect high: the oxygen there can be far lower."
)
ASPHYXIATES = (
    "Inert gas asphyxiates without warning: a breath or two of it can take consciousness. Fit "
    "oxygen monitors wherever gas can escape, and never go in to rescue without supplied air."
)
AUTHORITY = (
    "Local codes and the site's safety authority decide; this answer replaces no risk assessment."
)
NOT_OTHERS = "Holds for gas without oxygen; it says nothing of fire, oxygen enrichment or toxicity."
ROOM_CAUTIONS = (ESTIMATE, ASPHYXIATES, NOT_OTHERS, AUTHORITY)


@worksheet_function(
    equation=(
        "x = 0.2095 · (1 - (R/Q) · (1 - exp(-Q·t/V))) with R = V_g/t; "
        "sudden, or without ventilation: x = 0.2095 · (1 - V_g/V)"
    ),
    sources=(
        "Balance of oxygen in a room whose exhaust fan draws mixed air at Q while gas escapes at R "
        "and fresh air makes up the rest: V dx/dt = 0.2095 (Q - R) - Q x (as in Fermilab FESHM "
        "4240, Oxygen Deficiency Hazards)",
        "Without ventilation the gas pushes out as much air, the displacement rule of the usual "
        "guides to asphyxiation",
        AIR_SOURCE,
        DEFICIENT,
    ),
    example=('GAS_ROOM_OXYGEN(180, 20, 400, "2 h", "%")', "20.39 %"),
    cautions=ROOM_CAUTIONS,
)
def room_oxygen(
    room_volume: Annotated[Volume, "Air volume of the room"],
    released: Annotated[Amount, "Gas that escapes; its volume is taken at 20 °C and 1 atm"],
    ventilation: Annotated[
        VolumeFlow, "Room air that the exhaust fan draws off; fresh air makes up for it"
    ] = 0.0,
    release_time: Annotated[
        Duration | None, "Time over which the gas escapes; blank: at once, before a fan can help"
    ] = None,
) -> Annotated[Fraction, "Oxygen by volume at the end of the release"]:
    """Oxygen left in a room at the end of a release of inert gas.

    Takes m³, mol, m³/s and s, scalars or arrays; gives a fraction, 0 where the gas displaces all
    air.
    """
    gas_volume = released * R * ROOM_TEMPERATURE / ATMOSPHERE
    step("volume of the gas at 20 °C and 1 atm", "V_g", gas_volume, "m³")
    time = 0.0 if release_time is None else release_time
    changes = ventilation * time / room_volume
    step("air changes during the release", "Q·t/V", changes)
    displaced = gas_volume / room_volume * _mean_decay(changes)
    return OXYGEN_IN_AIR * np.maximum(0.0, 1 - displaced)


def _mean_decay(changes: Numbers) -> Numbers:
    """(1 - exp(-x))/x, which is 1 at x = 0."""
    at_least = np.maximum(changes, np.finfo(float).tiny)
    return -np.expm1(-at_least) / at_least


@worksheet_function(
    equation="Q = R · 0.2095 / (0.2095 - x)",
    sources=(
        "Steady state of the same balance as GAS_ROOM_OXYGEN: x = 0.2095 (1 - R/Q)",
        AIR_SOURCE,
        DEFICIENT,
    ),
    example=("GAS_ROOM_VENTILATION(5)", "77.53 m3/h"),
    cautions=(
        *ROOM_CAUTIONS,
        "Ventilation that fails protects nobody: interlock the gas with the air flow.",
    ),
)
def room_ventilation(
    release_rate: Annotated[Flow, "Gas that escapes, steadily; taken at 20 °C and 1 atm"],
    oxygen_limit: Annotated[OxygenShare, "Oxygen that must be kept, by volume"] = 0.195,
) -> Annotated[VolumeFlow, "Room air to draw off, or fresh air to supply, without end"]:
    """Ventilation that keeps the oxygen in a room at a limit while gas escapes.

    Takes mol/s and a fraction, scalars or arrays; gives m³/s drawn off by the exhaust fan (as
    much fresh air blown in keeps a little more oxygen). Raises NoSolutionError where the limit
    is not below the oxygen of fresh air.
    """
    unreachable(
        np.asarray(oxygen_limit) >= OXYGEN_IN_AIR,
        "oxygen_limit",
        "is not below the 20.95 % of fresh air, and no ventilation keeps that while gas escapes",
    )
    rate = release_rate * R * ROOM_TEMPERATURE / ATMOSPHERE
    step("gas that escapes, at 20 °C and 1 atm", "R", rate, "m³/s")
    drawn_off = rate * OXYGEN_IN_AIR / (OXYGEN_IN_AIR - oxygen_limit)
    step("fresh air that makes up for it", "Q - R", drawn_off - rate, "m³/s")
    return drawn_off


@worksheet_function(
    equation=(
        "Q_n = K_d · A · p₀ · K_b · √(k · (2/(k+1))^((k+1)/(k-1)) / (Z·R·T·M)); "
        "K_b = 1 where p_b/p₀ ≤ (2/(k+1))^(k/(k-1)), else the subcritical factor"
    ),
    sources=(
        "ISO 4126-1:2013, discharge capacity of safety valves for gas, critical flow (with the "
        "coefficient C of k) and subcritical flow (with the factor K_b), written in SI",
        EQUATION_OF_STATE,
        REFERENCE_CONDITIONS,
    ),
    example=('GAS_RELIEF_FLOW("argon", "12 mm", "16 bar(g)")', "1040 Nm3/h"),
    cautions=(
        "An estimate. A relief device is chosen, sized and set by a licensed designer under the "
        "local pressure-equipment code, with the certified coefficient of its maker.",
        "Pressure loss in the lines before and after the device takes capacity and is not in here.",
        "The discharge is inert gas at full flow: lead it outdoors, away from people and intakes.",
        "A liquid that can be shut in between two valves needs a relief device of its own.",
        "Carbon dioxide can turn to dry ice in the device and block it.",
    ),
)
def relief_flow(
    gas: GasArgument,
    orifice: Orifice,
    relieving_pressure: Annotated[
        Pressure, "Pressure at which it relieves: set pressure and overpressure, absolute"
    ],
    temperature: Annotated[Temperature, "Temperature of the gas before the device"] = 293.15,
    discharge: Discharge = 0.9,
    back_pressure: Annotated[Pressure, "Pressure behind the device"] = ATMOSPHERE,
) -> Annotated[Flow, "Flow that the device lets out"]:
    """Gas flow through a safety valve, bursting disc or orifice that is fully open.

    Takes m (diameter), Pa and K, scalars or arrays; gives mol/s. Raises OutOfRangeError where
    the pressure behind is not below the relieving pressure, StateError where the state is not
    gas.
    """
    refuse(
        np.asarray(back_pressure) >= relieving_pressure,
        "back_pressure",
        "is not below relieving_pressure, so nothing flows out: are the two swapped?",
    )
    molar_mass = properties.molar_mass(gas)
    z = properties.compressibility(gas, relieving_pressure, temperature)
    k = properties.isentropic_exponent(gas, relieving_pressure, temperature)
    area = np.pi / 4 * np.square(orifice)
    pressure_ratio = back_pressure / np.asarray(relieving_pressure)
    critical_ratio = (2 / (k + 1)) ** (k / (k - 1))
    choked_squared = k * (2 / (k + 1)) ** ((k + 1) / (k - 1))
    ratio = np.maximum(pressure_ratio, critical_ratio)
    squared = 2 * k / (k - 1) * (ratio ** (2 / k) - ratio ** ((k + 1) / k))
    subcritical = np.sqrt(squared / choked_squared)
    step("flow area", "A", area, "m²")
    step("compressibility factor", "Z", z)
    step("isentropic exponent of the real gas, ρ·w²/p", "k", k)
    step("pressure ratio", "p_b/p₀", pressure_ratio)
    step("critical pressure ratio", "(p_b/p₀)_c", critical_ratio)
    step("subcritical factor, 1 in critical flow", "K_b", subcritical)
    per_area = relieving_pressure * np.sqrt(choked_squared / (z * R * temperature * molar_mass))
    return discharge * area * per_area * subcritical
