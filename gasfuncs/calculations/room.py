"""Oxygen in a room while gas escapes and after, the air that keeps it, and what its lack risks."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from gasfuncs.definition import (
    Column,
    Columns,
    Symbol,
    refuse,
    step,
    unreachable,
    worksheet_function,
)
from gasfuncs.definition.terms import Number
from gasfuncs.definition.vocabulary import (
    Amount,
    Counts,
    Duration,
    FailureRates,
    Flow,
    Fraction,
    Minutes,
    Numbers,
    OxygenShare,
    OxygenShares,
    SitePressure,
    Volume,
    VolumeFlow,
)
from gasfuncs.errors import ShapeError
from gasfuncs.units import ATMOSPHERE, R

OXYGEN_IN_AIR = 0.2095
"""Share by volume in dry air: ISO 2533 has 0.209476."""

ROOM_TEMPERATURE = 293.15

MMHG = 133.322387415

HARMLESS, FATAL = 135.0, 65.0
"""mmHg of oxygen: above the first nobody dies, below the second everybody."""

CLASSES = (1e-7, 1e-5, 1e-3, 1e-1)
"""Deaths an hour from which the classes 1 to 4 begin."""

FERMILAB = (
    "Fermilab FESHM 4240, Oxygen Deficiency Hazards; T. M. Miller, P. O. Mazur, Am. Ind. Hyg. "
    "Assoc. J. 45 (1984) 293"
)
BALANCE = (
    "Balance of oxygen in a mixed room, V dx/dt = 0.2095 max(Q - R, 0) - max(Q, R) x: an exhaust "
    f"fan draws Q; gas escaping at more than Q pushes out the rest ({FERMILAB}, cases B, C, D)"
)
DISPLACEMENT = (
    "At once: the gas pushes out as much air, the displacement rule of the usual guides to "
    "asphyxiation"
)
AIR_SOURCE = "Dry air holds 20.95 % oxygen by volume (ISO 2533)"
DEFICIENT = (
    "29 CFR 1910.146 and 1910.134: an atmosphere below 19.5 % oxygen by volume is oxygen-deficient"
)
ESTIMATE = (
    "An estimate for complete mixing at 20 °C. Cold vapour and argon lie low in pits and corners, "
    "helium and hydrogen collect high: the oxygen there can be far lower."
)
ALTITUDE = (
    "Gas takes more room where the air is thin: give the site pressure (GAS_SITE_PRESSURE) above "
    "300 m. There the same share of oxygen also sustains less."
)
ASPHYXIATES = (
    "Inert gas asphyxiates without warning: a breath or two of it can take consciousness. Fit "
    "oxygen monitors wherever gas can escape, and never go in to rescue without supplied air."
)
AUTHORITY = (
    "Local codes and the site's safety authority decide; this answer replaces no risk assessment."
)
NOT_OTHERS = "Holds for gas without oxygen; it says nothing of fire, oxygen enrichment or toxicity."
CAUTIONS = (ESTIMATE, ASPHYXIATES, ALTITUDE, NOT_OTHERS, AUTHORITY)

RoomVolume = Annotated[Volume, "Air volume of the room"]
Ventilation = Annotated[
    VolumeFlow, "Room air that the exhaust fan draws off; fresh air makes up for it"
]
Release = Annotated[Flow, "Gas that escapes, steadily; its volume is taken at 20 °C", Symbol("R")]
Site = Annotated[SitePressure, "Air pressure at the site"]


@worksheet_function(
    equation=(
        "x = x_∞ + (0.2095 - x_∞) · exp(-Q_o·t/V), Q_o = max(Q, R), "
        "x_∞ = 0.2095 · max(Q - R, 0) / Q_o, R = V_g/t; at once: x = 0.2095 · (1 - V_g/V)"
    ),
    sources=(BALANCE, DISPLACEMENT, AIR_SOURCE, DEFICIENT),
    example=('GAS_ROOM_OXYGEN(180, 20, 400, "2 h", "1 atm", "%")', "20.39 %"),
    cautions=CAUTIONS,
)
def room_oxygen(
    room_volume: RoomVolume,
    released: Annotated[Amount, "Gas that escapes; its volume is taken at 20 °C"],
    ventilation: Ventilation = 0.0,
    release_time: Annotated[
        Duration | None, "Time over which the gas escapes; blank: at once, before a fan can help"
    ] = None,
    site_pressure: Site = ATMOSPHERE,
) -> Annotated[Fraction, "Oxygen by volume at the end of the release"]:
    """Oxygen left in a room at the end of a release of inert gas.

    Takes m³, mol, m³/s, s and Pa, scalars or arrays; gives a fraction, 0 where the gas displaces
    all air. Raises OutOfRangeError where the release takes no time.
    """
    gas_volume = released * _cubic_metres(site_pressure)
    step("volume of the gas at 20 °C and the site's pressure", "V_g", gas_volume, "m³")
    if release_time is None:
        return OXYGEN_IN_AIR * np.maximum(0.0, 1 - gas_volume / room_volume)
    refuse(np.asarray(release_time) <= 0, "release_time", "is zero; leave it blank for at once")
    outflow, settled = _balance(gas_volume / release_time, ventilation)
    left = np.exp(-outflow * release_time / room_volume)
    step("share of the first air that is left", "exp(-Q_o·t/V)", left)
    return settled + (OXYGEN_IN_AIR - settled) * left


def _cubic_metres(site_pressure: Numbers) -> Numbers:
    """m³ of a mol in the room."""
    return R * ROOM_TEMPERATURE / np.asarray(site_pressure)


def _balance(release: Numbers, ventilation: Numbers) -> tuple[Numbers, Numbers]:
    """m³/s that leave the room, and the oxygen that it settles at."""
    outflow = np.maximum(release, ventilation)
    fresh = np.maximum(np.asarray(ventilation) - release, 0.0)
    settled = OXYGEN_IN_AIR * fresh / np.maximum(outflow, np.finfo(np.float64).tiny)
    step("gas that escapes", "R", release, "m³/s")
    step("air and gas that leave the room", "Q_o", outflow, "m³/s")
    step("oxygen that the room settles at", "x_∞", settled)
    return outflow, settled


@worksheet_function(
    equation="Q = R · 0.2095 / (0.2095 - x)",
    sources=(
        "Steady state of the same balance as GAS_ROOM_OXYGEN: x = 0.2095 (1 - R/Q)",
        AIR_SOURCE,
        DEFICIENT,
    ),
    example=("GAS_ROOM_VENTILATION(5)", "77.53 m3/h"),
    cautions=(
        *CAUTIONS,
        "Ventilation that fails protects nobody: interlock the gas with the air flow.",
    ),
)
def room_ventilation(
    release_rate: Release,
    oxygen_limit: Annotated[OxygenShare, "Oxygen that must be kept, by volume"] = 0.195,
    site_pressure: Site = ATMOSPHERE,
) -> Annotated[VolumeFlow, "Room air to draw off, or fresh air to supply, without end"]:
    """Ventilation that keeps the oxygen in a room at a limit while gas escapes.

    Takes mol/s, a fraction and Pa, scalars or arrays; gives m³/s drawn off by the exhaust fan (as
    much fresh air blown in keeps a little more oxygen). Raises NoSolutionError where the limit
    is not below the oxygen of fresh air.
    """
    unreachable(
        np.asarray(oxygen_limit) >= OXYGEN_IN_AIR,
        "oxygen_limit",
        "is not below the 20.95 % of fresh air, and no ventilation keeps that while gas escapes",
    )
    rate = release_rate * _cubic_metres(site_pressure)
    step("gas that escapes, at 20 °C and the site's pressure", "R", rate, "m³/s")
    drawn_off = rate * OXYGEN_IN_AIR / (OXYGEN_IN_AIR - oxygen_limit)
    step("fresh air that makes up for it", "Q - R", drawn_off - rate, "m³/s")
    return drawn_off


@worksheet_function(
    equation=(
        "t = V/Q_o · ln((x₀ - x_∞) / (x - x_∞)), Q_o = max(Q, R), "
        "x_∞ = 0.2095 · max(Q - R, 0) / Q_o"
    ),
    sources=(BALANCE, AIR_SOURCE, DEFICIENT),
    example=('GAS_ROOM_TIME(180, 100, "19.5 %", 400)', "8.056 min"),
    cautions=(
        *CAUTIONS,
        "The time back to good air is no permission to enter: that takes a measurement.",
    ),
)
def room_time(
    room_volume: RoomVolume,
    release_rate: Release,
    oxygen: Annotated[Fraction, "Oxygen to be reached, such as 19.5 %, 18 % or 16 %"],
    ventilation: Ventilation = 0.0,
    oxygen_start: Annotated[
        Fraction, "Oxygen at the start, good air or what a release has left", Symbol("x₀")
    ] = OXYGEN_IN_AIR,
    site_pressure: Site = ATMOSPHERE,
) -> Annotated[Minutes, "Time until the room has that oxygen"]:
    """Time until the oxygen in a room falls to a value while gas escapes, or comes back after it.

    A release of 0 and a low start tell the time back to good air. Takes m³, mol/s, fractions,
    m³/s and Pa, scalars or arrays; gives s. Raises NoSolutionError where the room never gets
    there.
    """
    outflow, settled = _balance(release_rate * _cubic_metres(site_pressure), ventilation)
    start, end = np.asarray(oxygen_start, float), np.asarray(oxygen, float)
    there = start == end
    unreachable(
        ~there & (outflow <= 0), "oxygen", "is never reached: no gas escapes and no fan draws air"
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = (start - settled) / (end - settled)
        unreachable(
            ~there & ~((ratio >= 1) & np.isfinite(ratio)),
            "oxygen",
            f"is never reached: from {100 * np.max(start):.4g} % the room goes to "
            f"{100 * np.max(settled):.4g} %, where it settles",
        )
        return np.where(there, 0.0, room_volume / outflow * np.log(ratio))


@worksheet_function(
    equation="F = 10^((65 - p_O2)/10) with p_O2 = x · p_s in mmHg; 0 above 135, 1 below 65 mmHg",
    sources=(
        FERMILAB + "; thresholds as in the manuals of several laboratories (in mmHg of oxygen)",
    ),
    example=('GAS_FATALITY_FACTOR("14 %")', "7.244e-05"),
    cautions=(ASPHYXIATES, AUTHORITY, "A factor to compare risks with, made for healthy adults."),
)
def fatality_factor(
    oxygen: Annotated[Fraction, "Lowest oxygen by volume of the event"],
    site_pressure: Site = ATMOSPHERE,
) -> Annotated[Numbers, Number("F", "Chance that somebody who is there dies", low=0, high=1)]:
    """Fatality factor of an oxygen deficiency: the chance that it kills somebody who is there.

    Takes a fraction and Pa, scalars or arrays; gives a number from 0 to 1.
    """
    partial = np.asarray(oxygen) * site_pressure / MMHG
    step("partial pressure of oxygen in mmHg", "p_O2", partial)
    factor = 10 ** ((FATAL - np.maximum(partial, FATAL)) / 10)
    return np.where(partial > HARMLESS, 0.0, factor)


RISKS = Columns(
    (
        Column("Event"),
        Column("Events an hour", Number("N P", "Failures an hour")),
        Column("Fatality factor", Number("F", "Chance of death")),
        Column("Deaths an hour", Number("φ", "Fatality rate")),
        Column("Class"),
    ),
    "Fatality rate of each event, and of all with the class of the oxygen-deficiency hazard",
)


@worksheet_function(
    equation="φ = Σ N_i · P_i · F_i; class 0 below 1e-7 an hour, 1 from 1e-7, 2 from 1e-5, "
    "3 from 1e-3, 4 from 1e-1",
    sources=(FERMILAB, "Classes 0 to 4 as in the manuals of several national laboratories"),
    example=('GAS_ODH_CLASS(1E-4, "12 %")', "one event of 2.399e-07 an hour, class 1"),
    cautions=(
        "The manual that binds your site may count, name or limit the classes otherwise.",
        "Failure rates come from your own records or a named table; none is assumed here.",
        ASPHYXIATES,
        AUTHORITY,
    ),
)
def odh_class(
    failure_rates: FailureRates,
    oxygen: OxygenShares,
    counts: Counts | None = None,
    site_pressure: Site = ATMOSPHERE,
) -> Annotated[list[list[Any]], RISKS]:
    """Class of an oxygen-deficiency hazard from the failures that can cause it.

    Takes failures an hour of one component, the lowest oxygen that each would leave, and how many
    such components there are (1 where blank); gives a row an event and one of all. Raises
    ShapeError where the ranges differ in length.
    """
    for name, values in (("oxygen", oxygen), ("counts", counts)):
        if values is not None and np.size(values) != np.size(failure_rates):
            raise ShapeError(
                f"has {np.size(values)} values, failure_rates has {np.size(failure_rates)}; "
                "one of each an event",
                name,
            )
    events = failure_rates if counts is None else counts * failure_rates
    factors = np.asarray(fatality_factor(oxygen, site_pressure))
    deaths = events * factors
    rows: list[list[Any]] = [
        [i, *each, _class(each[2])]
        for i, each in enumerate(
            zip(events.tolist(), factors.tolist(), deaths.tolist(), strict=True), 1
        )
    ]
    total = float(deaths.sum())
    return [*rows, ["all", float(events.sum()), None, total, _class(total)]]


def _class(deaths_an_hour: float) -> int:
    return int(np.searchsorted(CLASSES, deaths_an_hour, side="right"))
