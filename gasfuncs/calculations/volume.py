"""Gas volumes at temperature and pressure, contents of closed vessels, flows, float meters."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE, REFERENCE_CONDITIONS
from gasfuncs.definition import Of, refuse, step, worksheet_function
from gasfuncs.definition.terms import Symbol
from gasfuncs.definition.vocabulary import (
    Amount,
    AmountDifference,
    Density,
    Flow,
    GasArgument,
    Pressure,
    Ratio,
    Temperature,
    Volume,
    VolumeFlow,
)
from gasfuncs.units import ATMOSPHERE

AIR = properties.gas("air")
"""The gas that float meters are usually scaled for."""

NO_FLOAT_IN_VACUUM = "no gas lifts a float in a vacuum"


@worksheet_function(
    equation="ρ = ρ_m(p, T) · M",
    sources=(EQUATION_OF_STATE,),
    example=('GAS_DENSITY("argon", 1.01325, 0)', "1.784 kg/m3"),
)
def density(gas: GasArgument, pressure: Pressure, temperature: Temperature) -> Density:
    """Density of a gas at a pressure and temperature.

    Takes Pa and K, scalars or arrays; gives kg/m³. Raises StateError where the state is not gas.
    """
    molar = properties.molar_density(gas, pressure, temperature)
    step("molar density by the equation of state", "ρ_m", molar, "mol/m³")
    step("molar mass", "M", properties.molar_mass(gas), "kg/mol")
    return molar * properties.molar_mass(gas)


@worksheet_function(
    equation="Z = p / (ρ_m · R · T)",
    sources=(EQUATION_OF_STATE,),
    example=('GAS_COMPRESSIBILITY("nitrogen", "200 bar(a)", 15)', "1.0478"),
)
def compressibility(
    gas: GasArgument, pressure: Pressure, temperature: Temperature
) -> Annotated[Ratio, "Compressibility factor Z"]:
    """Compressibility factor of a gas: 1 for an ideal gas.

    Takes Pa and K, scalars or arrays. Raises StateError where the state is not gas.
    """
    return properties.compressibility(gas, pressure, temperature)


@worksheet_function(
    equation="n = V · ρ_m(p, T)",
    sources=(MASS_BALANCE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_CONTENTS("argon", "50 L", "200 bar(a)", 15)', "9.978 Nm3"),
)
def contents(
    gas: GasArgument, volume: Volume, pressure: Pressure, temperature: Temperature
) -> Annotated[Amount, "Gas held"]:
    """Gas held by a closed vessel.

    Takes m³, Pa and K, scalars or arrays; gives mol. Raises StateError where the state is not gas.
    """
    molar = properties.molar_density(gas, pressure, temperature)
    step("molar density by the equation of state", "ρ_m", molar, "mol/m³")
    return volume * molar


@worksheet_function(
    equation="V = n / ρ_m(p, T)",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_VOLUME("nitrogen", 10, "7 bar(g)", 20)', "1.355 m3"),
)
def volume(
    gas: GasArgument, amount: Amount, pressure: Pressure, temperature: Temperature
) -> Annotated[Volume, "Space that the gas takes up"]:
    """Space that an amount of gas takes up.

    Takes mol, Pa and K, scalars or arrays; gives m³. Raises StateError where the state is not gas.
    """
    refuse(np.asarray(pressure) <= 0, "pressure", "a gas fills no finite volume in a vacuum")
    molar = properties.molar_density(gas, pressure, temperature)
    step("molar density by the equation of state", "ρ_m", molar, "mol/m³")
    return amount / molar


@worksheet_function(
    equation="p = p(ρ_m, T) with ρ_m = n / V",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_PRESSURE("argon", 10, "50 L", 15)', "200.5 bar(a)"),
)
def pressure(
    gas: GasArgument, amount: Amount, volume: Volume, temperature: Temperature
) -> Annotated[Pressure, "Pressure that the gas makes"]:
    """Pressure that an amount of gas makes in a closed vessel.

    Takes mol, m³ and K, scalars or arrays; gives Pa. Raises StateError where the gas condenses
    or the pressure is beyond the equation of state.
    """
    molar = amount / volume
    step("molar density", "ρ_m", molar, "mol/m³")
    return properties.pressure(gas, molar, temperature)


@worksheet_function(
    equation="n = V · (ρ_m(p₁, T₁) - ρ_m(p₂, T₂))",
    sources=(MASS_BALANCE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_DRAWN("argon", "50 L", "200 bar(a)", "20 bar(a)", 15)', "9.029 Nm3"),
)
def drawn(
    gas: GasArgument,
    volume: Volume,
    pressure_before: Annotated[Pressure, Symbol("p₁"), "Pressure before the draw"],
    pressure_after: Annotated[Pressure, Symbol("p₂"), "Pressure after the draw"],
    temperature_before: Annotated[Temperature, Symbol("T₁"), "Temperature before the draw"],
    temperature_after: Annotated[
        Temperature | None, Symbol("T₂"), "Temperature after the draw; blank: as before"
    ] = None,
) -> Annotated[AmountDifference, "Gas drawn; negative where the vessel was filled"]:
    """Gas drawn from a cylinder, bundle or reservoir between two readings.

    Takes m³, Pa and K, scalars or arrays; gives mol. Raises StateError where a state is not gas.
    """
    after = temperature_before if temperature_after is None else temperature_after
    rho_before = properties.molar_density(gas, pressure_before, temperature_before)
    rho_after = properties.molar_density(gas, pressure_after, after)
    step("molar density before", "ρ_m1", rho_before, "mol/m³")
    step("molar density after", "ρ_m2", rho_after, "mol/m³")
    return volume * (rho_before - rho_after)


@worksheet_function(
    equation="Q = Q_n / ρ_m(p, T)",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_ACTUAL_FLOW("nitrogen", "100 scfm", "100 psig", "70 degF", "cfm")', "12.79 cfm"),
)
def actual_flow(
    gas: GasArgument, flow: Flow, pressure: Pressure, temperature: Temperature
) -> Annotated[VolumeFlow, "Flow at the pressure and temperature"]:
    """Flow at its own pressure and temperature, from a flow at reference conditions.

    Takes mol/s, Pa and K, scalars or arrays; gives m³/s. Raises StateError where the state is
    not gas.
    """
    refuse(np.asarray(pressure) <= 0, "pressure", "a gas fills no finite volume in a vacuum")
    molar = properties.molar_density(gas, pressure, temperature)
    step("gas flow", "Q_n", flow, "mol/s")
    step("molar density by the equation of state", "ρ_m", molar, "mol/m³")
    return flow / molar


@worksheet_function(
    equation="Q_n = Q · ρ_m(p, T)",
    sources=(EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_STANDARD_FLOW("argon", 12, "3 bar(g)", 20)', "44.36 Nm3/h"),
)
def standard_flow(
    gas: GasArgument,
    actual_flow: Annotated[VolumeFlow, "Flow at its own pressure and temperature"],
    pressure: Pressure,
    temperature: Temperature,
) -> Annotated[Flow, "Flow at reference conditions"]:
    """Flow at reference conditions, from a flow at its own pressure and temperature.

    Takes m³/s, Pa and K, scalars or arrays; gives mol/s. Raises StateError where the state is
    not gas.
    """
    molar = properties.molar_density(gas, pressure, temperature)
    step("actual flow", "Q", actual_flow, "m³/s")
    step("molar density by the equation of state", "ρ_m", molar, "mol/m³")
    return actual_flow * molar


@worksheet_function(
    equation="Q_n = Q_read · √(ρ / ρ_scale) · M_scale / M",
    sources=(
        "Float (variable-area) meters: at one float position the volume flow goes with the inverse "
        "square root of the density, the float being much denser than the gas (VDI/VDE 3513)",
        EQUATION_OF_STATE,
    ),
    example=('GAS_FLOAT_METER("argon", "100 NL/min", "3 bar(g)", 20)', "10.18 Nm3/h"),
    cautions=(
        "Holds while the float is much denser than the gas and the viscosity matters little.",
    ),
)
def float_meter(
    gas: GasArgument,
    reading: Annotated[Flow, "Flow read from the scale", Of("scale_gas")],
    pressure: Annotated[Pressure, "Pressure in the meter"],
    temperature: Annotated[Temperature, "Temperature in the meter"],
    scale_gas: Annotated[GasArgument, Symbol("scale gas"), "Gas that the scale is made for"] = AIR,
    scale_pressure: Annotated[
        Pressure, Symbol("p_scale"), "Pressure that the scale is made for"
    ] = ATMOSPHERE,
    scale_temperature: Annotated[
        Temperature, Symbol("T_scale"), "Temperature that the scale is made for"
    ] = 293.15,
) -> Annotated[Flow, "Flow of the gas"]:
    """Flow through a float meter read with another gas, pressure or temperature than its scale.

    Takes mol/s (the reading as gas of the scale), Pa and K, scalars or arrays; gives mol/s of
    the gas. Raises StateError where a state is not gas.
    """
    refuse(np.asarray(pressure) <= 0, "pressure", NO_FLOAT_IN_VACUUM)
    refuse(np.asarray(scale_pressure) <= 0, "scale_pressure", NO_FLOAT_IN_VACUUM)
    rho = properties.density(gas, pressure, temperature)
    rho_scale = properties.density(scale_gas, scale_pressure, scale_temperature)
    molar_ratio = properties.molar_mass(scale_gas) / properties.molar_mass(gas)
    step("density in the meter", "ρ", rho, "kg/m³")
    step("density the scale is made for", "ρ_scale", rho_scale, "kg/m³")
    return reading * np.sqrt(rho / rho_scale) * molar_ratio
