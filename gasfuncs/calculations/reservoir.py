"""Gas reservoirs: what a backfill leaves, how large they must be, how long they recharge."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations import sizing
from gasfuncs.calculations.fill import (
    CONVECTION,
    INTEGRATION,
    PressureFrom,
    PressureTo,
    ReservoirConductance,
    ReservoirExchange,
    ReservoirPressure,
    ReservoirTemperature,
    ReservoirVolume,
    VesselConductance,
    VesselExchange,
    VesselTemperature,
    VesselVolume,
    WallTemperature,
    columns,
    show,
)
from gasfuncs.calculations.filling import ISOTHERMAL, WALL
from gasfuncs.calculations.line import ROOM
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE, REFERENCE_CONDITIONS
from gasfuncs.definition import (
    refuse,
    refuse_rows,
    step,
    unreachable,
    unreachable_rows,
    worksheet_function,
)
from gasfuncs.definition.terms import Symbol
from gasfuncs.definition.vocabulary import (
    Amount,
    Duration,
    Flow,
    GasArgument,
    Pressure,
    Temperature,
    Volume,
)

LEVEL = 1e-5
"""Relative: as near as the integration tells two pressures apart."""

SWAPPED = "are the two swapped?"
ASK_TIME = (
    "is asked for: how long does it take? Its wall warms the gas meanwhile; or name the process "
    "adiabatic (in seconds) or isothermal (in an hour)"
)
PROCESS = (
    "Gas that stays in a reservoir while the rest leaves: real-gas energy balance; adiabatic it "
    "expands at constant entropy (Cengel, Boles, Thermodynamics, isentropic processes of closed "
    "systems)"
)
STEADY_DRAW = "The gas is drawn at one flow; a real one begins faster, which cools a little more."

Time = Annotated[Duration | None, "Time that it takes; may be blank where neither process is wall"]


@worksheet_function(
    equation=(
        "n_r2 = n_r1 - n, n until the vessel is at pressure_to; p_r = p(n_r/V_r, T_r) and T_r by "
        "the energy balances of GAS_BACKFILL_TIME with a steady flow n/t in place of the line"
    ),
    sources=(MASS_BALANCE, PROCESS, CONVECTION, INTEGRATION, EQUATION_OF_STATE),
    example=(
        'GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, "0.01 mbar", 6, 20, , "30 s")',
        "13.64 bar(a)",
    ),
    cautions=(
        STEADY_DRAW,
        "The pressure right after the backfill: the wall warms the reservoir afterwards, and its "
        "pressure rises by up to a tenth.",
        "An isothermal vessel is one that is topped up: it takes most. Of wall, where vessel_ha is "
        "not given, natural convection alone is known here; the line's jet adds to it.",
    ),
    integrates=True,
)
def reservoir_after(
    gas: GasArgument,
    reservoir_volume: ReservoirVolume,
    reservoir_pressure: ReservoirPressure,
    vessel_volume: VesselVolume,
    pressure_from: PressureFrom,
    pressure_to: PressureTo,
    temperature: ReservoirTemperature = ROOM,
    process: ReservoirExchange = "wall",
    time: Time = None,
    vessel_process: VesselExchange = "isothermal",
    vessel_temperature: VesselTemperature = None,
    wall_temperature: WallTemperature = None,
    vessel_ha: VesselConductance = None,
    reservoir_ha: ReservoirConductance = None,
) -> Annotated[Pressure, "Pressure left in the reservoir"]:
    """Pressure left in a reservoir after it backfilled a vessel.

    Takes m³, Pa, K, s and W/K, scalars or arrays; gives Pa. Raises OutOfRangeError where the
    vessel's pressures are swapped or a wall needs a time, NoSolutionError where the two vessels
    equalise before pressure_to, StateError where a state is not gas.
    """
    refuse_rows(
        np.asarray(pressure_to) <= pressure_from,
        "pressure_to",
        f"is not above pressure_from; a backfill raises the pressure: {SWAPPED}",
    )
    walls = WALL in (process, vessel_process)
    refuse(walls and time is None, "time", ASK_TIME)
    lasting = 1.0 if time is None else time
    refuse_rows(np.asarray(lasting) <= 0, "time", "must be above 0")
    fill = columns(
        gas, reservoir_volume, reservoir_pressure, vessel_volume, pressure_from, pressure_to,
        1.0, 0.0, 0.0, 0.0, temperature, process, vessel_process, vessel_temperature,
        wall_temperature, vessel_ha, reservoir_ha, None, 0.0, None, 0.7, lasting,
    )  # fmt: skip
    drawn, ends = sizing.steady_draw(fill.filling, fill.further, fill.effort)
    show(drawn, ends)
    vessel, left = ends.state[:, 1], ends.state[:, 2]
    unreachable_rows(
        left < vessel * (1 - LEVEL),
        "pressure_to",
        lambda row: (
            f"is not reached: reservoir and vessel equalise below it, as that gas would leave the "
            f"reservoir at {left[row] / 1e5:.4g} bar(a); take a lower pressure_to, a higher "
            "reservoir_pressure or a larger reservoir"
        ),
    )
    return fill.shaped(left)


@worksheet_function(
    equation=(
        "V · (ρ_m(p_full, T) - ρ_m(p_low, T_low)) = n, T_low by the energy balance of the gas "
        "that stays"
    ),
    sources=(MASS_BALANCE, PROCESS, CONVECTION, INTEGRATION, EQUATION_OF_STATE),
    example=(
        'GAS_RESERVOIR_SIZE("argon", 15, "15 bar(g)", "8 bar(g)", 20, , "30 s")',
        "3.274 m3",
    ),
    cautions=(
        STEADY_DRAW,
        "pressure_low is that right after the draw; drawn in seconds a reservoir must be half as "
        "large again as one drawn in an hour.",
        "A reservoir is a pressure vessel: its design, relief device and inspection follow the "
        "local code.",
    ),
    integrates=True,
)
def reservoir_size(
    gas: GasArgument,
    amount: Annotated[Amount, "Gas to be drawn without recharging"],
    pressure_full: Annotated[Pressure, Symbol("p_full"), "Pressure of the full reservoir"],
    pressure_low: Annotated[Pressure, Symbol("p_low"), "Lowest pressure that still serves"],
    temperature: Annotated[Temperature, "Temperature of the full reservoir and its wall"] = ROOM,
    process: ReservoirExchange = "wall",
    time: Time = None,
    reservoir_ha: ReservoirConductance = None,
) -> Annotated[Volume, "Volume of the reservoir"]:
    """Volume of a reservoir that gives an amount of gas between two pressures.

    Takes mol, Pa, K, s and W/K, scalars or arrays; gives m³. Raises OutOfRangeError where
    pressure_low is not below pressure_full or a wall needs a time, StateError where a state is not
    gas.
    """
    refuse_rows(
        np.asarray(pressure_low) >= pressure_full,
        "pressure_low",
        f"is not below pressure_full; a reservoir gives gas as its pressure falls: {SWAPPED}",
    )
    refuse(process == WALL and time is None, "time", ASK_TIME)
    lasting = 1.0 if time is None else time
    refuse_rows(np.asarray(lasting) <= 0, "time", "must be above 0")
    full = properties.molar_density(gas, pressure_full, temperature)
    step("molar density of the full reservoir", "ρ_m,full", full, "mol/m³")
    if process == ISOTHERMAL:
        low = properties.molar_density(gas, pressure_low, temperature)
        step("molar density at the lowest pressure", "ρ_m,low", low, "mol/m³")
        return amount / (full - low)
    unknown = np.nan if reservoir_ha is None else reservoir_ha
    size = sizing.reservoir_volume(
        gas, amount, pressure_full, pressure_low, temperature, process, lasting, unknown
    )
    step("gas in the full reservoir", "n", size * full, "mol")
    return size


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
    pressure_from: Annotated[
        Pressure, Symbol("p₁"), "Pressure in the reservoir before the recharge"
    ],
    pressure_to: Annotated[Pressure, Symbol("p₂"), "Pressure in the reservoir after the recharge"],
    flow: Annotated[Flow, "Flow from the supply, steady"],
    temperature: Temperature = ROOM,
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
