"""The gas in a furnace: hot and cold zones, the heat of a fast fill, settling, topping up."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.searching import secant
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE, REFERENCE_CONDITIONS
from gasfuncs.definition import Symbol, refuse, step, unreachable, worksheet_function
from gasfuncs.definition.series import Series
from gasfuncs.definition.terms import Quantity
from gasfuncs.definition.vocabulary import (
    Amount,
    GasArgument,
    Numbers,
    Pressure,
    Temperature,
    Volume,
)
from gasfuncs.errors import ShapeError
from gasfuncs.properties import Gas
from gasfuncs.units import kinds

LEAST = 1.0
"""Pa. Below it a gas is ideal, and its enthalpy is that at this pressure."""

CHARGING = (
    "Energy balance of an insulated vessel that is charged from a supply of steady enthalpy: "
    "n₂ u₂ - n₁ u₁ = (n₂ - n₁) h_s; of an ideal gas from vacuum T₂ = γ T_s (Cengel, Boles, "
    "Thermodynamics, unsteady-flow processes)"
)

ZoneVolumes = Annotated[
    np.ndarray,
    Series(
        "V_i", "Volumes of the zones, a range; together the free volume of the vessel",
        each=Quantity(
            "V", "Volume of a zone", kind=kinds.VOLUME, unit="m3", low=0, high=1e8
        ),
    ),
]  # fmt: skip
ZoneTemperatures = Annotated[
    np.ndarray,
    Series(
        "T_i", "Temperatures of the gas in the zones, a range as long as the volumes",
        each=Quantity(
            "T", "Temperature of a zone", kind=kinds.TEMPERATURE, unit="degC", above=-273.15,
            high=5_000,
        ),
    ),
]  # fmt: skip
TemperatureAfter = Annotated[
    Temperature, "Temperature of the gas when it has settled", Symbol("T₂")
]


@worksheet_function(
    equation="n = Σ V_i · ρ_m(p, T_i)",
    sources=(MASS_BALANCE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_ZONE_CONTENTS("argon", "2 bar(a)", {1.5;1}, {900;200})', "1.827 Nm3"),
    cautions=(
        "The zones are at one pressure and each at one temperature; gas between them is somewhere "
        "in between.",
    ),
)
def zone_contents(
    gas: GasArgument,
    pressure: Annotated[Pressure, "Pressure of the gas, the same in all zones"],
    volumes: ZoneVolumes,
    temperatures: ZoneTemperatures,
) -> Annotated[Amount, "Gas held by all zones"]:
    """Gas held by a vessel with hot and cold zones.

    Takes Pa (a scalar or an array), m³ and K of the zones; gives mol. Raises ShapeError where
    the ranges differ in length, StateError where a state is not gas.
    """
    zones, told = np.size(volumes), np.size(temperatures)
    if told != zones:
        raise ShapeError(
            f"holds {told} values, the volumes {zones}; a zone has one of each",
            "temperatures",
        )
    molar = properties.molar_density(gas, np.asarray(pressure)[..., None], temperatures)
    for number, held in enumerate(np.moveaxis(volumes * molar, -1, 0), 1):
        step(f"gas in zone {number}", f"n_{number}", held, "mol")
    return np.asarray((volumes * molar).sum(axis=-1))


@worksheet_function(
    equation=(
        "ρ_m(p₂, T₂) · (h(p₂, T₂) - h_s) - p₂ = ρ_m(p₁, T₁) · (h(p₁, T₁) - h_s) - p₁, "
        "h_s = h(p_s, T_s)"
    ),
    sources=(CHARGING, EQUATION_OF_STATE),
    example=('GAS_FILL_TEMPERATURE("argon", "0.01 mbar", 2, 16, 20)', "205.9 °C"),
    cautions=(
        "Nothing of the heat goes into walls and load, nor comes from them: the hottest that a "
        "fast fill alone can make. Gas jets and hot work change it within seconds.",
    ),
)
def fill_temperature(
    gas: GasArgument,
    pressure_from: Annotated[Pressure, "Pressure before the fill", Symbol("p₁")],
    pressure_to: Annotated[Pressure, "Pressure right after the fill", Symbol("p₂")],
    supply_pressure: Annotated[Pressure, "Pressure of the supply, steady", Symbol("p_s")],
    supply_temperature: Annotated[Temperature, "Temperature of the supply", Symbol("T_s")],
    temperature_before: Annotated[
        Temperature | None,
        "Temperature of the gas before the fill; blank: that of the supply",
        Symbol("T₁"),
    ] = None,
) -> Annotated[Temperature, "Temperature of the gas right after the fill"]:
    """Temperature that a fast fill gives the gas in a vessel without heat to its walls.

    Takes Pa and K, scalars or arrays; gives K. Raises OutOfRangeError where the pressures are
    swapped, NoSolutionError where the supply is below pressure_to, StateError where a state is
    not gas.
    """
    refuse_fall(pressure_from, pressure_to)
    refuse(np.asarray(pressure_to) <= 0, "pressure_to", "a vacuum has no temperature")
    unreachable(
        np.asarray(supply_pressure) < pressure_to,
        "supply_pressure",
        "is below pressure_to, so that the fill ends at the supply's pressure",
    )
    before = supply_temperature if temperature_before is None else temperature_before
    supplied = _enthalpy(gas, supply_pressure, supply_temperature)
    start = properties.molar_density(gas, pressure_from, before) * (
        _enthalpy(gas, pressure_from, before) - supplied
    )
    step("enthalpy of the supply", "h_s", supplied, "J/mol")
    found = _charged(gas, pressure_to, supplied, start + pressure_to - pressure_from,
                     supply_temperature)  # fmt: skip
    step("temperature in times of the supply's", "T₂/T_s", found / np.asarray(supply_temperature))
    return found


def _enthalpy(gas: Gas, pressure: Numbers, temperature: Numbers) -> Numbers:
    return properties.enthalpy(gas, np.maximum(pressure, LEAST), temperature)


def _charged(
    gas: Gas, pressure: Numbers, supplied: Numbers, heat: Numbers, first: Numbers
) -> np.ndarray:
    """K at which ρ (h - h_s) is a heat (J/m³), by the secant method, element by element."""
    pressure, supplied, heat, first = np.broadcast_arrays(pressure, supplied, heat, first)

    def excess(kelvin: np.ndarray) -> Any:
        molar = properties.molar_density(gas, pressure, kelvin)
        return properties.enthalpy(gas, pressure, kelvin) - supplied - heat / molar

    return np.asarray(secant(excess, np.array(first, float), 1.2 * first))


@worksheet_function(
    equation="p₂ = p(ρ_m(p₁, T₁), T₂)",
    sources=("Constant volume: the amount of gas stays", EQUATION_OF_STATE),
    example=('GAS_SETTLED_PRESSURE("argon", 2, 206, 20)', "1.222 bar(a)"),
    cautions=(
        "The vessel is shut and tight while the gas settles; a controller that tops up holds the "
        "pressure instead: GAS_TOP_UP.",
        "Gas that is warmed afterwards rises in pressure: never above what the vessel is allowed.",
    ),
)
def settled_pressure(
    gas: GasArgument,
    pressure: Annotated[Pressure, "Pressure right after the fill", Symbol("p₁")],
    temperature: Annotated[Temperature, "Temperature of the gas then", Symbol("T₁")],
    temperature_after: TemperatureAfter,
) -> Annotated[Pressure, "Pressure when the gas has settled", Symbol("p₂")]:
    """Pressure of a shut vessel when its gas has come to another temperature.

    Takes Pa and K, scalars or arrays; gives Pa. Raises StateError where a state is not gas.
    """
    molar = properties.molar_density(gas, pressure, temperature)
    step("molar density by the equation of state", "ρ_m", molar, "mol/m³")
    return properties.pressure(gas, molar, temperature_after)


@worksheet_function(
    equation="n = V · (ρ_m(p, T₂) - ρ_m(p, T₁))",
    sources=(MASS_BALANCE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_TOP_UP("argon", 2.5, 2, 206, 20)', "1.790 Nm3"),
    cautions=("What a controller lets in after the fill; a meter before it counts it too.",),
)
def top_up(
    gas: GasArgument,
    volume: Volume,
    pressure: Annotated[Pressure, "Pressure that is held"],
    temperature: Annotated[Temperature, "Temperature of the gas after the fill", Symbol("T₁")],
    temperature_after: TemperatureAfter,
) -> Annotated[Amount, "Gas let in to hold the pressure"]:
    """Gas that holding the pressure takes while the gas of a fast fill cools.

    Takes m³, Pa and K, scalars or arrays; gives mol. Raises OutOfRangeError where the gas warms,
    StateError where a state is not gas.
    """
    refuse(
        np.asarray(temperature_after) > temperature,
        "temperature_after",
        "is above temperature; gas that warms is not topped up, its pressure rises: "
        "GAS_SETTLED_PRESSURE",
    )
    hot = properties.molar_density(gas, pressure, temperature)
    cold = properties.molar_density(gas, pressure, temperature_after)
    step("molar density after the fill", "ρ_m1", hot, "mol/m³")
    step("molar density when settled", "ρ_m2", cold, "mol/m³")
    return volume * (cold - hot)


@worksheet_function(
    equation="n = V · (ρ_m(p₁, T) - ρ_m(p₂, T))",
    sources=(MASS_BALANCE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_RECOVERABLE("argon", 2.5, 6, 1.2, 60)', "9.724 Nm3"),
    cautions=(
        "The most that could be kept: the vessel that takes it must end at or below pressure_low, "
        "else the flow stops earlier or a compressor is needed.",
        "Recovered gas brings the furnace's impurities with it.",
    ),
)
def recoverable(
    gas: GasArgument,
    volume: Annotated[Volume, "Free volume of the furnace"],
    pressure_high: Annotated[Pressure, "Pressure before it is let down", Symbol("p₁")],
    pressure_low: Annotated[Pressure, "Pressure at which recovery ends", Symbol("p₂")],
    temperature: Annotated[Temperature, "Temperature of the gas in the furnace"],
) -> Annotated[Amount, "Gas that could be recovered"]:
    """Gas that a recovery vessel could keep when a furnace is let down.

    Takes m³, Pa and K, scalars or arrays; gives mol. Raises OutOfRangeError where the pressures
    are swapped, StateError where a state is not gas.
    """
    refuse(
        np.asarray(pressure_low) > pressure_high,
        "pressure_low",
        "is above pressure_high; gas leaves as the pressure falls: are the two swapped?",
    )
    high = properties.molar_density(gas, pressure_high, temperature)
    low = properties.molar_density(gas, pressure_low, temperature)
    step("molar density before", "ρ_m1", high, "mol/m³")
    step("molar density after", "ρ_m2", low, "mol/m³")
    return volume * (high - low)


def refuse_fall(pressure_from: Numbers, pressure_to: Numbers) -> None:
    """Refuse a fill that lowers the pressure."""
    refuse(
        np.asarray(pressure_to) < pressure_from,
        "pressure_to",
        "is below pressure_from; a fill raises the pressure: are the two swapped?",
    )
