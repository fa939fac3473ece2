"""Gas reservoirs: what a backfill leaves, how large they must be, how long they recharge."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE, REFERENCE_CONDITIONS
from gasfuncs.definition import refuse, step, unreachable, worksheet_function
from gasfuncs.definition.vocabulary import (
    Amount,
    Duration,
    Flow,
    GasArgument,
    Pressure,
    Process,
    Temperature,
    Volume,
)

SWAPPED = "are the two swapped?"


@worksheet_function(
    equation=(
        "V_r · ρ_r2 = V_r · ρ_m(p_r, T) - V_v · (ρ_m(p₂, T) - ρ_m(p₁, T)); "
        "isothermal p = p(ρ_r2, T); adiabatic p = p(ρ_r2, s) with s = s(p_r, T)"
    ),
    sources=(
        MASS_BALANCE,
        "The gas that stays in an insulated vessel while the rest leaves expands at constant "
        "entropy (Cengel, Boles, Thermodynamics, isentropic processes of closed systems)",
        EQUATION_OF_STATE,
    ),
    example=('GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, "0.01 mbar", 6)', "14.52 bar(a)"),
    cautions=(
        "The vessel is taken to be at the temperature when it is full; hot work or a hot chamber "
        "takes less gas, and the gas that flows in is warm at first.",
        "An adiabatic reservoir warms up afterwards and its pressure rises again, to the "
        "isothermal answer. Real backfills lie between the two.",
    ),
)
def reservoir_after(
    gas: GasArgument,
    reservoir_volume: Annotated[Volume, "Volume of the reservoir"],
    reservoir_pressure: Annotated[Pressure, "Pressure of the reservoir before the backfill"],
    vessel_volume: Annotated[Volume, "Volume of the vessel that is filled"],
    pressure_from: Annotated[Pressure, "Pressure in the vessel before the backfill"],
    pressure_to: Annotated[Pressure, "Pressure in the vessel after the backfill"],
    temperature: Annotated[
        Temperature, "Temperature of the vessel's gas, and of the reservoir before the backfill"
    ] = 293.15,
    process: Process = "isothermal",
) -> Annotated[Pressure, "Pressure left in the reservoir"]:
    """Pressure left in a reservoir after it backfilled a vessel.

    Takes m³, Pa and K, scalars or arrays; gives Pa. Raises OutOfRangeError where the vessel's
    pressures are swapped, NoSolutionError where the two vessels equalise before pressure_to,
    StateError where a state is not gas.
    """
    refuse(
        np.asarray(pressure_to) < pressure_from,
        "pressure_to",
        f"is below pressure_from; a backfill raises the pressure: {SWAPPED}",
    )
    empty = properties.molar_density(gas, pressure_from, temperature)
    full = properties.molar_density(gas, pressure_to, temperature)
    before = properties.molar_density(gas, reservoir_pressure, temperature)
    let_in = vessel_volume * (full - empty)
    left = before - let_in / reservoir_volume
    step("gas let into the vessel", "Δn", let_in, "mol")
    step("molar density in the reservoir before", "ρ_r1", before, "mol/m³")
    step("molar density in the reservoir after", "ρ_r2", left, "mol/m³")
    if np.any(left < full):
        held = reservoir_volume * before + vessel_volume * empty
        equal = properties.pressure(gas, held / (reservoir_volume + vessel_volume), temperature)
        _unreached(left < full, f" at {np.max(equal) / 1e5:.4g} bar(a)")
    if process == "isothermal":
        return properties.pressure(gas, left, temperature)
    pressure, cold = properties.expanded(gas, reservoir_pressure, temperature, left)
    step("entropy of the gas that stays", "s", properties.entropy(gas, pressure, cold), "J/(mol·K)")
    step("temperature in the reservoir after", "T_r2", cold, "K")
    _unreached(pressure < pressure_to)
    return pressure


def _unreached(where: Any, at: str = "") -> None:
    unreachable(
        where,
        "pressure_to",
        f"is not reached: reservoir and vessel equalise below it{at}; take a lower pressure_to, "
        "a higher reservoir_pressure or a larger reservoir",
    )


@worksheet_function(
    equation="V = n / (ρ_m(p_full, T) - ρ_m(p_low, T))",
    sources=(MASS_BALANCE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_RESERVOIR_SIZE("argon", 15, "15 bar(g)", "8 bar(g)")', "2.294 m3"),
    cautions=(
        "The gas is taken at one temperature; a reservoir drawn fast cools and falls to a lower "
        "pressure until it warms up again.",
        "A reservoir is a pressure vessel: its design, relief device and inspection follow the "
        "local code.",
    ),
)
def reservoir_size(
    gas: GasArgument,
    amount: Annotated[Amount, "Gas to be drawn without recharging"],
    pressure_full: Annotated[Pressure, "Pressure of the full reservoir"],
    pressure_low: Annotated[Pressure, "Lowest pressure that still serves"],
    temperature: Temperature = 293.15,
) -> Annotated[Volume, "Volume of the reservoir"]:
    """Volume of a reservoir that gives an amount of gas between two pressures.

    Takes mol, Pa and K, scalars or arrays; gives m³. Raises OutOfRangeError where pressure_low
    is not below pressure_full, StateError where a state is not gas.
    """
    refuse(
        np.asarray(pressure_low) >= pressure_full,
        "pressure_low",
        f"is not below pressure_full; a reservoir gives gas as its pressure falls: {SWAPPED}",
    )
    full = properties.molar_density(gas, pressure_full, temperature)
    low = properties.molar_density(gas, pressure_low, temperature)
    step("molar density of the full reservoir", "ρ_m,full", full, "mol/m³")
    step("molar density at the lowest pressure", "ρ_m,low", low, "mol/m³")
    return amount / (full - low)


@worksheet_function(
    equation="t = V · (ρ_m(p₂, T) - ρ_m(p₁, T)) / Q_n",
    sources=(MASS_BALANCE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_RECHARGE_TIME("argon", 10, "8 bar(g)", "15 bar(g)", 40)', "1.634 h"),
    cautions=(
        "The flow is taken to hold to the end; the supply must stay well above pressure_to.",
        "Gas warms as it is packed in: after a fast recharge the pressure falls again as it cools.",
    ),
)
def recharge_time(
    gas: GasArgument,
    reservoir_volume: Annotated[Volume, "Volume of the reservoir"],
    pressure_from: Annotated[Pressure, "Pressure in the reservoir before the recharge"],
    pressure_to: Annotated[Pressure, "Pressure in the reservoir after the recharge"],
    flow: Annotated[Flow, "Flow from the supply, steady"],
    temperature: Temperature = 293.15,
) -> Annotated[Duration, "Time to recharge"]:
    """Time that a steady flow takes to recharge a reservoir.

    Takes m³, Pa, mol/s and K, scalars or arrays; gives s. Raises OutOfRangeError where the
    pressures are swapped, NoSolutionError where nothing flows, StateError where a state is not
    gas.
    """
    refuse(
        np.asarray(pressure_to) < pressure_from,
        "pressure_to",
        f"is below pressure_from; a recharge raises the pressure: {SWAPPED}",
    )
    unreachable(np.asarray(flow) <= 0, "flow", "is 0, and without a flow nothing is recharged")
    before = properties.molar_density(gas, pressure_from, temperature)
    after = properties.molar_density(gas, pressure_to, temperature)
    let_in = reservoir_volume * (after - before)
    step("gas let into the reservoir", "Δn", let_in, "mol")
    step("gas flow", "Q_n", flow, "mol/s")
    return let_in / flow
