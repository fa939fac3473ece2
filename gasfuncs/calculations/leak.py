"""Leaks: units, tracer gases, what a leak costs and lets in, hole sizes."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs import properties
from gasfuncs.calculations.sources import (
    EQUATION_OF_STATE,
    MASS_BALANCE,
    REFERENCE_CONDITIONS,
)
from gasfuncs.calculations.vacuum import KNUDSEN
from gasfuncs.calculations.vacuum_line import VacuumLine
from gasfuncs.definition import Symbol, refuse, step, worksheet_function
from gasfuncs.definition.terms import to_si
from gasfuncs.definition.vocabulary import (
    Amount,
    Duration,
    Flow,
    Fraction,
    GasArgument,
    HoleDiameter,
    Impurity,
    LeakRate,
    LeakRegime,
    Numbers,
    PlainNumber,
    Pressure,
    Temperature,
    UnitText,
    Volume,
    Wall,
)
from gasfuncs.errors import UnitError
from gasfuncs.properties import Gas
from gasfuncs.units import ATMOSPHERE, LEAK_TEMPERATURE, R, kinds

OXYGEN_IN_AIR = 0.2095

HOLE_LENGTH = 1e-3
"""m: length of the round hole that an unknown leak is taken for, from atmosphere to vacuum."""

NO_LEAK = 1e-30
"""Pa·m³/s: less than a molecule in a hundred years."""

BETWEEN_POWERS = 3.5
"""A leak goes with the third power of the bore in molecular flow, with the fourth in laminar."""

LEAK_UNITS = (
    "ISO 20484 (vocabulary of leaks and leak rates); C. D. Ehrlich, J. Vac. Sci. Technol. A, "
    "1986: a pV leak rate needs its temperature, an amount rate does not (ideal gas)"
)
LEAK_TESTS = "EN 1779 (leak testing: criteria for method and technique selection)"
LEAK_TEMPERATURE_NOTE = "The leak rate as pressure times volume is told at 20 °C (ideal gas)"
ASPHYXIATION = "Leaking gas displaces the room's oxygen: inert gas asphyxiates without warning."

AirLeak = Annotated[LeakRate, "Air leaking in, told at 20 °C"]
Share = Annotated[Fraction, "Share of the leaking air that counts: 0.2095 is its oxygen"]


@worksheet_function(
    equation="ṅ = q / (R T) = Q_std · p₀ / (R T₀) = ṁ / M",
    sources=(LEAK_UNITS, REFERENCE_CONDITIONS),
    example=('GAS_LEAK_CONVERT(1, "mbar L/s", "std cc/s")', "0.9196"),
    cautions=("mbar·L/s and atm·cc/s are told at the temperature; std cc and sccm at 0 °C.",),
)
def leak_convert(
    value: Annotated[PlainNumber, "Number to convert"],
    from_unit: Annotated[
        UnitText, Symbol("unit from"), 'Unit it is in, such as "mbar L/s" or "g/yr"'
    ],
    to_unit: Annotated[UnitText, Symbol("unit to"), 'Unit wanted, such as "std cc/s"'],
    gas: Annotated[GasArgument | None, "Gas; needed where a unit is a mass"] = None,
    temperature: Annotated[
        Temperature, "Temperature that pressure times volume is told at"
    ] = LEAK_TEMPERATURE,
) -> Annotated[PlainNumber, "Number in the unit wanted"]:
    """Leak rate in another unit: pressure times volume, amount or mass per time.

    Takes a number or array and K. Raises UnitError where a unit is not of a leak rate, or is a
    mass and no gas is named.
    """
    amount = value * _moles(from_unit, "from_unit", gas, temperature)
    step("amount leaking", "ṅ", amount, "mol/s")
    return np.asarray(amount / _moles(to_unit, "to_unit", gas, temperature))


def _moles(text: str, argument: str, gas: Gas | None, temperature: Numbers) -> Any:
    """mol/s that one of a unit is."""
    for kind in (kinds.FLOW, kinds.MASS_FLOW, kinds.LEAK):
        try:
            unit = kind.unit(text)
        except UnitError as error:
            refusal = error
            continue
        if kind is kinds.FLOW:
            return to_si(1.0, unit, gas)
        if kind is kinds.LEAK:
            return unit.scale / (R * np.asarray(temperature))
        if gas is None:
            raise UnitError(f'"{unit.label}" is a mass; name the gas as well', argument)
        return unit.scale / properties.molar_mass(gas)
    raise refusal.about(argument)


@worksheet_function(
    equation="auto: q = C(d) · 1 atm for both gases, one bore d, C by Knudsen's formula; "
    "molecular: q₂ = q₁ · √(M₁ / M₂); laminar: q₂ = q₁ · μ₁ / μ₂",
    sources=(LEAK_TESTS, KNUDSEN, EQUATION_OF_STATE),
    example=('GAS_LEAK_AS("5e-6 mbar L/s", "helium", "air")', "3.076E-06 mbar L/s"),
    cautions=(
        "auto takes the leak for a round hole of 1 mm length from atmosphere to vacuum; a real "
        "leak is longer or flatter. From a vessel under pressure take laminar.",
        "Holds for the same pressures on both sides as in the test.",
    ),
)
def leak_as(
    leak_rate: LeakRate,
    from_gas: Annotated[GasArgument, "Gas that the leak was measured with", Symbol("gas₁")],
    to_gas: Annotated[GasArgument, "Gas that is meant", Symbol("gas₂")],
    regime: Annotated[
        LeakRegime, "auto (by size, through the transition), molecular or laminar"
    ] = "auto",
    temperature: Annotated[Temperature, "Temperature of both gases"] = LEAK_TEMPERATURE,
) -> Annotated[LeakRate, "Leak rate of the other gas"]:
    """Leak rate of one gas, such as argon or air, from that of another, such as helium.

    Takes Pa·m³/s and K, scalars or arrays; gives Pa·m³/s. Raises StateError where the viscosity
    of a gas is not known at the temperature.
    """
    rate = np.asarray(leak_rate)
    first, second = (_hole(gas, temperature) for gas in (from_gas, to_gas))
    molecular = np.sqrt(first.molar_mass / second.molar_mass)
    laminar = first.viscosity / np.asarray(second.viscosity)
    step("factor in molecular flow", "√(M₁/M₂)", molecular)
    step("factor in laminar flow", "μ₁/μ₂", laminar)
    if regime != "auto":
        return rate * (laminar if regime == "laminar" else molecular)
    bore = bore_of(first, np.maximum(rate, NO_LEAK))
    first, second = replace(first, bore=bore), replace(second, bore=bore)
    mean = ATMOSPHERE / 2
    step("bore of the hole", "d", bore, "m")
    step("laminar share of the first gas", "", first.viscous(mean) / first.conductance(mean))
    return rate * second.conductance(mean) / first.conductance(mean)


def _hole(gas: Gas, temperature: Numbers) -> VacuumLine:
    """A hole of bore 1 with a gas in it."""
    viscosity = properties.viscosity(gas, ATMOSPHERE, temperature)
    return hole_of(viscosity, properties.molar_mass(gas), temperature)


def hole_of(viscosity: Numbers, molar_mass: float, temperature: Numbers) -> VacuumLine:
    """A hole of bore 1 with a gas in it: Pa·s, kg/mol, K."""
    return VacuumLine(1.0, HOLE_LENGTH, viscosity, molar_mass, temperature, ends=False)


def bore_of(hole: VacuumLine, rate: Numbers) -> NDArray[np.float64]:
    """m: the bore through which a leak passes from atmosphere to vacuum."""
    bore = np.full(np.broadcast_shapes(np.shape(rate), np.shape(hole.viscosity)), 1e-5)
    for _ in range(30):
        passed = replace(hole, bore=bore).conductance(ATMOSPHERE / 2) * ATMOSPHERE
        bore = bore * (rate / passed) ** (1 / BETWEEN_POWERS)
    return bore


@worksheet_function(
    equation="n = q_L · t / (R T)",
    sources=(LEAK_UNITS, REFERENCE_CONDITIONS),
    example=('GAS_LEAK_LOSS("0.5 mbar L/s", "365 d")', "14.5 Nm3"),
    cautions=(ASPHYXIATION,),
)
def leak_loss(
    leak_rate: LeakRate,
    duration: Duration,
    temperature: Annotated[Temperature, "Temperature that the leak rate is told at"]
    = LEAK_TEMPERATURE,
) -> Annotated[Amount, "Gas lost"]:  # fmt: skip
    """Gas that a steady leak loses over a time.

    Takes Pa·m³/s, s and K, scalars or arrays; gives mol (ideal gas).
    """
    amount = np.asarray(leak_rate) / (R * np.asarray(temperature))
    step("amount leaking", "ṅ", amount, "mol/s")
    return amount * duration


@worksheet_function(
    equation="c = x · ṅ_L / (Q_n + ṅ_L), ṅ_L = q_L / (R · 293.15 K)",
    sources=(MASS_BALANCE + " of the flowing gas", LEAK_TEMPERATURE_NOTE),
    example=('GAS_LEAK_IMPURITY("0.01 mbar L/s", 20)', "0.3468 ppm"),
    cautions=("Taken as fully mixed; near the leak the gas is dirtier.",),
)
def leak_impurity(
    air_leak: AirLeak,
    flow: Annotated[Flow, "Flow of the purge or process gas"],
    fraction: Share = OXYGEN_IN_AIR,
) -> Annotated[Impurity, "Impurity that the leak adds"]:
    """Impurity that an inward leak of air adds to flowing gas.

    Takes Pa·m³/s, mol/s and a fraction, scalars or arrays; gives a fraction. Raises
    OutOfRangeError where nothing flows.
    """
    refuse(np.asarray(flow) <= 0, "flow", "is zero; in gas that stands use GAS_LEAK_BUILDUP")
    air = np.asarray(air_leak) / (R * LEAK_TEMPERATURE)
    step("air leaking in", "ṅ_L", air, "mol/s")
    step("gas flow", "Q_n", flow, "mol/s")
    return fraction * air / (flow + air)


@worksheet_function(
    equation="q_L = R · 293.15 K · Q_n · c / (x - c)",
    sources=(MASS_BALANCE + " of the flowing gas", LEAK_TEMPERATURE_NOTE),
    example=('GAS_LEAK_LIMIT("0.5 ppm", 20)', "0.01442 mbar L/s"),
    cautions=("Taken as fully mixed; near the leak the gas is dirtier.",),
)
def leak_limit(
    impurity: Annotated[Impurity, "Impurity that the leak may add"],
    flow: Annotated[Flow, "Flow of the purge or process gas"],
    fraction: Share = OXYGEN_IN_AIR,
) -> Annotated[LeakRate, "Largest leak of air allowed, told at 20 °C"]:
    """Largest inward leak of air that keeps flowing gas within an added impurity.

    Takes a fraction and mol/s, scalars or arrays; gives Pa·m³/s. Raises OutOfRangeError where
    the impurity is not below the share of the air that counts.
    """
    refuse(
        np.asarray(impurity) >= fraction,
        "impurity",
        "is not below the share of the air that counts, so that no leak is too large; "
        "is the unit right?",
    )
    air = np.asarray(flow) * impurity / (np.asarray(fraction) - impurity)
    step("air allowed in", "ṅ_L", air, "mol/s")
    return air * R * LEAK_TEMPERATURE


@worksheet_function(
    equation="c = x · n_L / (n + n_L), n_L = q_L · t / (R · 293.15 K), n = p V / (R T)",
    sources=(MASS_BALANCE + ", ideal gas", LEAK_TEMPERATURE_NOTE),
    example=('GAS_LEAK_BUILDUP("0.001 mbar L/s", 2.5, "800 mbar", 24)', "9.05 ppm"),
    cautions=(
        "Air comes in while the vessel is below atmospheric pressure; the leak is taken as "
        "steady, though it slows as the vessel fills.",
    ),
)
def leak_buildup(
    air_leak: AirLeak,
    volume: Volume,
    pressure: Annotated[Pressure, "Pressure in the vessel when it is shut"],
    duration: Annotated[Duration, "Time that the vessel stays shut"],
    fraction: Share = OXYGEN_IN_AIR,
    temperature: Annotated[Temperature, "Temperature of the gas in the vessel"] = LEAK_TEMPERATURE,
) -> Annotated[Impurity, "Impurity that the leak has added"]:
    """Impurity that an inward leak of air builds up in a shut vessel.

    Takes Pa·m³/s, m³, Pa, s, a fraction and K, scalars or arrays; gives a fraction (ideal gas).
    Raises OutOfRangeError where neither gas nor air is in the vessel.
    """
    air = np.asarray(air_leak) * duration / (R * LEAK_TEMPERATURE)
    held = np.asarray(pressure) * volume / (R * np.asarray(temperature))
    refuse(
        air + held <= 0, "pressure", "is zero and nothing leaks in: there is no gas to be impure"
    )
    step("air leaked in", "n_L", air, "mol")
    step("gas in the vessel when shut", "n", held, "mol")
    step("pressure at the end", "p", (air + held) * R * temperature / volume, "Pa")
    return fraction * air / (held + air)


@worksheet_function(
    equation="d = max(d_o, d_c): orifice ṅ M = (π/4) d_o² √(p₁ ρ₁) ψ(p₂/p₁), choked or not; "
    "capillary q_L = π d_c⁴ (p₁² - p₂²) / (256 μ L_w)",
    sources=(
        "Isentropic flow of an ideal gas through a nozzle, discharge coefficient 1 (NACA 1135)",
        "O. Levenspiel, Engineering Flow and Heat Exchange, ch. 4: laminar flow of a gas",
        EQUATION_OF_STATE,
    ),
    example=('GAS_LEAK_HOLE("0.1 mbar L/s", "argon", "8 bar(g)", "1 atm")', "12.27 µm"),
    cautions=(
        "A picture of the leak's size, not a measurement: real leaks are crooked.",
        "Below about 10 µm gas slips along the wall, and the true hole is smaller than told.",
        "Never feel for a leak of high-pressure gas by hand: fine jets break the skin.",
    ),
)
def leak_hole(
    leak_rate: LeakRate,
    gas: GasArgument,
    pressure_up: Annotated[Pressure, Symbol("p₁"), "Pressure that the gas leaks from"],
    pressure_down: Annotated[Pressure, Symbol("p₂"), "Pressure that the gas leaks to"],
    temperature: Annotated[Temperature, "Temperature of the gas"] = LEAK_TEMPERATURE,
    wall: Wall = 1e-3,
) -> Annotated[HoleDiameter, "Diameter of the equivalent round hole"]:
    """Diameter of the round hole that leaks as much: an orifice or a laminar capillary.

    Takes Pa·m³/s, Pa, K and m, scalars or arrays; gives m. Whichever needs the larger hole
    governs. Raises OutOfRangeError where the pressures are swapped, or the hole would be so
    small that no laminar flow fills it.
    """
    up, down = np.asarray(pressure_up), np.asarray(pressure_down)
    refuse(
        up <= down,
        "pressure_up",
        "is not above pressure_down; gas leaks from high to low: are the two swapped?",
    )
    thermal = R * np.asarray(temperature)
    rho = properties.density(gas, up, temperature)
    mu = properties.viscosity(gas, ATMOSPHERE, temperature)
    mass = np.asarray(leak_rate) * properties.molar_mass(gas) / thermal
    flux = _nozzle_flux(up, down, rho, properties.heat_capacity_ratio(gas, ATMOSPHERE, temperature))
    orifice = np.sqrt(4 * mass / (np.pi * flux))
    laminar = 256 * mu * np.asarray(wall) * leak_rate / (np.pi * (up**2 - down**2))
    capillary = laminar**0.25
    mean_path = mu / (up + down) * 2 * np.sqrt(np.pi * thermal / 2 / properties.molar_mass(gas))
    hole = np.maximum(orifice, capillary)
    step("mass flux of an orifice", "√(p₁ρ₁)ψ", flux, "kg/(m² s)")
    step("diameter as an orifice", "d_o", orifice, "m")
    step("diameter as a laminar capillary", "d_c", capillary, "m")
    step("governs", "", np.where(orifice >= capillary, "orifice", "laminar capillary"))
    step("mean free path at the mean pressure", "λ", mean_path, "m")
    refuse(
        (np.asarray(leak_rate) > 0) & (hole < mean_path),
        "leak_rate",
        "is so small that the molecules would pass one by one: no orifice or laminar hole is "
        "equivalent. A thicker wall makes the hole wider",
    )
    return np.asarray(hole)


def _nozzle_flux(up: Any, down: Any, rho: Any, k: Any) -> Any:
    """kg/(m² s) of an isentropic nozzle, choked or not."""
    choked = (2 / (k + 1)) ** (k / (k - 1))
    ratio = np.maximum(down / up, choked)
    swing = 2 * k / (k - 1) * (ratio ** (2 / k) - ratio ** ((k + 1) / k))
    return np.sqrt(up * rho * swing)
