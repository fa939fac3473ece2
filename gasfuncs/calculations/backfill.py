"""Gas that a furnace cycle uses: backfills, partial-pressure holds, flows, whole cycles."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import Annotated, Any, get_args

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations.cycle_steps import COLUMNS, KINDS, ROOM, CycleStep, Steps
from gasfuncs.calculations.furnace import CHARGING, fill_temperature
from gasfuncs.calculations.grouping import by_row
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE, REFERENCE_CONDITIONS
from gasfuncs.definition import Column, Columns, Symbol, refuse, step, worksheet_function
from gasfuncs.definition.vocabulary import (
    Amount,
    Density,
    Duration,
    FillControl,
    Flow,
    Fraction,
    GasArgument,
    Mass,
    Numbers,
    Pressure,
    PumpingSpeed,
    Temperature,
    Volume,
)
from gasfuncs.errors import GasFuncsError
from gasfuncs.properties import Gas

STEEL = 7850.0
"""kg/m³"""

CYCLE_STEPS = Annotated[
    Iterable[CycleStep],
    Steps(
        "steps",
        f"Range of steps, a row each: {', '.join(COLUMNS)}; kinds: {', '.join(KINDS)}",
        whole=True,
    ),
]
CYCLE_SOURCES = (
    "Sum over the steps: backfills by mass balance, holds by throughput Q = S p, flows by flow "
    "times time",
    EQUATION_OF_STATE,
    REFERENCE_CONDITIONS,
)
CYCLE_CAUTIONS = (
    "Columns: kind (backfill, hold, flow), from, to (bar(a)), temperature (°C, blank 20), rate "
    "(hold m3/h pumping speed, flow Nm3/h), duration (h), repeats (blank 1), control; or text with "
    "units.",
    "control of a backfill: blank is topped up, its pressure held until the gas is at the "
    "temperature; one shot, from a supply at 20 °C, is the least that it can take.",
    "Purges, leaks and gas lost in the line count only where they are rows of their own.",
)


@worksheet_function(
    equation="V = V_chamber - m / ρ",
    sources=(
        "Geometry; steel of 7850 kg/m³, the density that section masses are reckoned with "
        "(EN 1991-1-1: 77.0 to 78.5 kN/m³)",
    ),
    example=("GAS_FREE_VOLUME(2.5, 900)", "2.385 m3"),
    cautions=("Hot zone, fixtures and baskets take up room too; count them in the load.",),
)
def free_volume(
    chamber_volume: Annotated[Volume, "Volume of the empty chamber"],
    load_mass: Annotated[Mass, "Mass of the load with its fixtures"],
    load_density: Annotated[Density, "Density of the load"] = STEEL,
) -> Annotated[Volume, "Volume that is left for gas"]:
    """Volume that a load leaves for gas in a chamber.

    Takes m³, kg and kg/m³, scalars or arrays; gives m³. Raises OutOfRangeError where the load
    fills the chamber.
    """
    solid = np.asarray(load_mass) / load_density
    step("volume of the load", "m / ρ", solid, "m³")
    refuse(
        solid >= chamber_volume,
        "load_mass",
        f"the load takes up {np.max(solid):.4g} m³, as much as the chamber or more; "
        "check its mass and density",
    )
    return chamber_volume - solid


@worksheet_function(
    equation="n = V · (ρ_m(p₂, T₂) - ρ_m(p₁, T₁)); one shot: T₂ by GAS_FILL_TEMPERATURE",
    sources=(MASS_BALANCE, CHARGING, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_BACKFILL("argon", 2.5, "0.01 mbar", "2 bar(a)", 20)', "4.600 Nm3"),
    cautions=(
        "Topped up, as where nothing else is said: a controller or an open regulator holds "
        "pressure_to until the gas is at the temperature. What is left from before counts as the "
        "same gas.",
        "One shot: the valve shuts when the pressure is first reached, nothing of the heat gone "
        "into walls and load yet: the least that a fill takes; it then falls by a third or more.",
        "Never above the pressure that the vessel is allowed; inert gas asphyxiates: ventilate "
        "before anybody enters.",
    ),
)
def backfill(
    gas: GasArgument,
    volume: Volume,
    pressure_from: Annotated[Pressure, "Pressure before the backfill", Symbol("p₁")],
    pressure_to: Annotated[Pressure, "Pressure after the backfill", Symbol("p₂")],
    temperature: Annotated[Temperature, "Temperature of the settled gas"],
    temperature_before: Annotated[
        Temperature | None,
        "Temperature of the gas before the backfill; blank: as settled",
        Symbol("T₁"),
    ] = None,
    control: FillControl = "topped up",
    supply_temperature: Annotated[
        Temperature, "Temperature of the supply, for one shot", Symbol("T_s")
    ] = ROOM,
) -> Annotated[Amount, "Gas let in"]:
    """Gas let into a vessel to raise its pressure.

    Takes m³, Pa and K, scalars or arrays; gives mol. In one shot the supply counts at the vessel's
    pressure after its regulator. Raises StateError where a state is not gas.
    """
    refuse(
        np.asarray(pressure_to) < pressure_from,
        "pressure_to",
        "is below pressure_from; a backfill raises the pressure: are the two swapped?",
    )
    before = temperature if temperature_before is None else temperature_before
    after = temperature
    if control == "one shot":
        after = fill_temperature(
            gas, pressure_from, pressure_to, pressure_to, supply_temperature, before
        )
        step("temperature when the valve shuts", "T₂", after, "K")
    rho_from = properties.molar_density(gas, pressure_from, before)
    rho_to = properties.molar_density(gas, pressure_to, after)
    step("control", "", control)
    step("molar density before", "ρ_m1", rho_from, "mol/m³")
    step("molar density after", "ρ_m2", rho_to, "mol/m³")
    refuse(
        rho_to < rho_from,
        "temperature_before",
        "is so cold that the vessel holds more gas before than after",
    )
    return volume * (rho_to - rho_from)


@worksheet_function(
    equation="n = S · t · ρ_m(p, T), in a thin gas S · t · p / (R · T)",
    sources=(
        "Throughput of a pump, Q = S p (O. Levenspiel, Engineering Flow and Heat Exchange, ch. 4)",
        EQUATION_OF_STATE,
        REFERENCE_CONDITIONS,
    ),
    example=('GAS_HOLD_USE("argon", "5 mbar", "800 m3/h", "90 min")', "5.512 Nm3"),
    cautions=(
        "The pumping speed is that of the whole pump line at the chamber and the hold pressure, "
        "with its throttle; the temperature is that where the speed is stated.",
    ),
)
def hold_use(
    gas: GasArgument,
    hold_pressure: Annotated[Pressure, "Pressure that is held"],
    pumping_speed: Annotated[PumpingSpeed, "Pumping speed at the chamber during the hold"],
    duration: Duration,
    temperature: Annotated[Temperature, "Temperature at which the pumping speed is told"] = ROOM,
) -> Annotated[Amount, "Gas let in during the hold"]:
    """Gas that a partial-pressure hold uses while the pumps draw it off.

    Takes Pa, m³/s, s and K, scalars or arrays; gives mol. Raises StateError where the state is
    not gas.
    """
    molar = properties.molar_density(gas, hold_pressure, temperature)
    step("throughput", "S · p", np.asarray(pumping_speed) * hold_pressure, "Pa·m³/s")
    step("molar density by the equation of state", "ρ_m", molar, "mol/m³")
    step("gas flow", "S · ρ_m", pumping_speed * molar, "mol/s")
    return pumping_speed * molar * duration


@worksheet_function(
    equation="n = Q_n · t",
    sources=(
        "Flow times time; between different reference conditions the gas counts as ideal, since "
        "none is named",
    ),
    example=('GAS_FLOW_USE("20 scfm", "45 min", "scf")', "900 scf"),
    cautions=("An answer at another reference condition than the flow's is that of an ideal gas.",),
)
def flow_use(flow: Flow, duration: Duration) -> Annotated[Amount, "Gas used"]:
    """Gas that a steady flow uses; between different reference conditions as an ideal gas.

    Takes mol/s and s, scalars or arrays; gives mol.
    """
    step("gas flow", "Q_n", flow, "mol/s")
    return flow * np.asarray(duration)


@worksheet_function(
    equation="n = Σ N · n_step",
    sources=CYCLE_SOURCES,
    example=(
        'GAS_CYCLE("argon", 2.5, {"backfill","0.01 mbar","0.8 bar(a)",20,"","",1;'
        '"hold","5 mbar","",20,"800 m3/h","90 min",1;'
        '"backfill","0.01 mbar","2 bar(a)",20,"","",1})',
        "11.95 Nm3",
    ),
    cautions=CYCLE_CAUTIONS,
)
def cycle(
    gas: GasArgument, volume: Volume, steps: CYCLE_STEPS
) -> Annotated[Amount, "Gas that the cycle uses"]:
    """Gas that a whole furnace cycle uses, from a range of steps.

    Takes m³ (a scalar or an array) and the steps; gives mol. Raises GasFuncsError naming the row
    of a step that is refused.
    """
    return sum(_amounts(gas, volume, steps))


@worksheet_function(
    equation="n_step by kind; running total Σ; share n_step / Σ n",
    sources=CYCLE_SOURCES,
    example=(
        'GAS_CYCLE_STEPS("argon", 2.5, {"backfill","0.01 mbar","0.8 bar(a)",20,"","",1;'
        '"hold","5 mbar","",20,"800 m3/h","90 min",1;'
        '"backfill","0.01 mbar","2 bar(a)",20,"","",1})',
        "3 steps, 11.95 Nm3 in all",
    ),
    cautions=CYCLE_CAUTIONS,
)
def cycle_steps(
    gas: GasArgument, volume: Volume, steps: CYCLE_STEPS
) -> Annotated[
    list[list[Any]],
    Columns(
        (
            Column("Step"),
            Column("Kind"),
            Column("Gas", get_args(Amount)[1]),
            Column("Running total", get_args(Amount)[1]),
            Column("Share", get_args(Fraction)[1]),
        ),
        "Gas of each step of the cycle",
    ),
]:
    """Gas that each step of a furnace cycle uses, with the running total and its share.

    Takes m³ and the steps; gives rows of step number, kind, mol, mol so far and share. Raises
    GasFuncsError naming the row of a step that is refused.
    """
    kinds: Any = np.array(by_row(steps, lambda _, each: each.kind))
    amounts = np.array(_amounts(gas, volume, steps), dtype=float)
    total = amounts.sum()
    shares = amounts / np.where(total > 0, total, 1.0)
    columns = (each.tolist() for each in (kinds, amounts, np.cumsum(amounts), shares))
    rows = enumerate(zip(*columns, strict=True), 1)
    return [[float(number), *row] for number, row in rows]


def _amounts(gas: Gas, volume: Numbers, steps: Iterable[CycleStep]) -> list[Numbers]:
    """mol of every step with its repeats."""
    return by_row(steps, partial(_step_amount, gas, volume))


def _step_amount(gas: Gas, volume: Numbers, number: int, each: CycleStep) -> Numbers:
    try:
        amount = each.repeats * _amount(gas, volume, each)
    except GasFuncsError as error:
        error.sentence = f"row {each.row}: {error.sentence}"
        error.argument = "steps"
        raise
    step(f"gas of step {number}, {each.kind}", f"n_{number}", amount, "mol")
    return amount


def _amount(gas: Gas, volume: Numbers, each: CycleStep) -> Numbers:
    """mol of a step done once."""
    if each.kind == "backfill":
        return backfill(
            gas, volume, each.pressure_from, each.pressure_to, each.temperature,
            control=each.control,
        )  # fmt: skip
    if each.kind == "hold":
        return hold_use(gas, each.pressure_from, each.rate, each.duration, each.temperature)
    return flow_use(each.rate, each.duration)
