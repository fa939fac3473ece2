"""Freeing vessels and lines of air: vent-and-fill, sweeping, evacuation, pump-down times."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs import properties
from gasfuncs.calculations.sources import EQUATION_OF_STATE, REFERENCE_CONDITIONS
from gasfuncs.calculations.vacuum_line import PumpedLine
from gasfuncs.definition import (
    Column,
    Columns,
    Quantity,
    refuse,
    step,
    unreachable,
    worksheet_function,
)
from gasfuncs.definition.terms import Symbol
from gasfuncs.definition.vocabulary import (
    Amount,
    Changes,
    Cycles,
    Duration,
    Flow,
    Fraction,
    GasArgument,
    Impurity,
    LeakRate,
    Mixing,
    Numbers,
    Pressure,
    Price,
    PumpingSpeed,
    Temperature,
    Volume,
)
from gasfuncs.properties import Array
from gasfuncs.units import ATMOSPHERE, NORMAL, kinds

AIR = properties.gas("air")
"""The gas that is pumped out unless another is named."""

ROOM = 293.15
"""K, where no temperature is asked for."""

HIT = 1e-9
"""A residual this much above its target, in proportion, is rounding: the target is hit."""

MOST_CYCLES = 100_000

DILUTION = (
    "Pressure and vacuum purging: D. A. Crowl, J. F. Louvar, Chemical Process Safety, ch. 7; "
    "C. R. Branan, Rules of Thumb for Chemical Engineers (ideal gas, equal temperatures)"
)
SWEEPING = "Sweep-through purging: D. A. Crowl, J. F. Louvar, Chemical Process Safety, ch. 7"
PUMPING = (
    "Evacuation at constant pumping speed, throughput Q = S p: J. M. Lafferty, Foundations of "
    "Vacuum Science and Technology"
)
KNUDSEN = "M. Knudsen, Annalen der Physik 333 (1909) 75: round tubes, viscous to molecular flow"

ASPHYXIATION = (
    "Purge gas asphyxiates without warning: lead vented gas outdoors, watch the oxygen, "
    "and let nobody into the vessel before its air is proved."
)
DEAD_LEGS = "Dead legs, insulation and load hold air back: prove the end point with an analyser."

LowPressure = Annotated[
    Pressure, Symbol("p_low"), "Pressure that the vessel is vented or evacuated to"
]
HighPressure = Annotated[Pressure, Symbol("p_high"), "Pressure that the vessel is filled to"]
Start = Annotated[
    Impurity, Symbol("c₀"), "Impurity in the vessel at the start; air has 209,500 ppm of oxygen"
]
Target = Annotated[Impurity, Symbol("target"), "Impurity wanted at most"]
Supply = Annotated[Impurity, Symbol("c_s"), "Impurity of the purge gas itself"]
GasTemperature = Annotated[Temperature, "Temperature of the gas"]
PressureStart = Annotated[
    Pressure | None,
    Symbol("p_start"),
    "Pressure in the vessel at the start where below pressure_low: the first fill then dilutes "
    "more; blank: pressure_low or above",
]

RESIDUAL = Quantity("c", "Residual impurity", kind=kinds.IMPURITY, unit="ppm")
GAS = Quantity("n", "Gas used", kind=kinds.AMOUNT, unit="Nm3")
TIME = Quantity("t", "Time", kind=kinds.TIME, unit="h")


def _check_swing(pressure_low: Numbers, pressure_high: Numbers) -> None:
    refuse(
        np.asarray(pressure_low) >= np.asarray(pressure_high),
        "pressure_low",
        "is not below pressure_high; a cycle vents to the low and fills to the high pressure: "
        "are the two swapped?",
    )


def _check_target(start: Numbers, target: Numbers, supply: Numbers) -> NDArray[np.bool_]:
    """Whether the vessel is clean enough at the start; refuses what the supply cannot reach."""
    met = np.asarray(start) <= np.asarray(target) * (1 + HIT)
    unreachable(
        ~met & (np.asarray(target) <= np.asarray(supply)),
        "target",
        "is not above the impurity of the supply itself, which no purging gets below; "
        "take a purer grade or a higher target",
    )
    return np.asarray(met)


def _remainder(low: Numbers, high: Numbers, mixing: Numbers) -> Array:
    """The share of the impurity that one cycle leaves."""
    return np.asarray(1 - np.asarray(mixing) * (1 - np.asarray(low) / high))


def _first_low(pressure_low: Numbers, pressure_start: Numbers | None) -> Numbers:
    return pressure_low if pressure_start is None else np.minimum(pressure_low, pressure_start)


@worksheet_function(
    equation="c_n = c_s + (c₀ - c_s) · rⁿ ≤ target, r = 1 - m · (1 - p_low / p_high)",
    sources=(DILUTION,),
    example=('GAS_VENT_FILL_COUNT("50 mbar", "1.2 bar(a)", "20.95 %", 10, 1)', "4"),
    cautions=(ASPHYXIATION, DEAD_LEGS),
)
def vent_fill_count(
    pressure_low: LowPressure,
    pressure_high: HighPressure,
    start: Start,
    target: Target,
    supply: Supply = 0.0,
    mixing: Mixing = 1.0,
    pressure_start: PressureStart = None,
) -> Annotated[Cycles, "Whole cycles needed"]:
    """Whole vent-and-fill cycles that bring a vessel down to a target impurity.

    Takes Pa and fractions, scalars or arrays. A target that is hit exactly takes no further
    cycle. Raises NoSolutionError where the target is at or below the supply's own impurity.
    """
    _check_swing(pressure_low, pressure_high)
    met = _check_target(start, target, supply)
    first = _remainder(_first_low(pressure_low, pressure_start), pressure_high, mixing)
    each = _remainder(pressure_low, pressure_high, mixing)
    with np.errstate(divide="ignore", invalid="ignore"):
        wanted = (np.asarray(target) * (1 + HIT) - supply) / (np.asarray(start) - supply)
        further = np.log(wanted / first) / np.log(each)
        count = np.where(met, 0.0, np.where(wanted >= first, 1.0, 1 + np.ceil(further)))
        step("share of the impurity left by a cycle", "r", each)
        step("share of the impurity to be left", "(c - c_s)/(c₀ - c_s)", np.where(met, 1.0, wanted))
        exact = np.where(first > 0, 1 + further, 1.0)
        step("cycles before rounding up", "n", np.where(met, 0.0, exact))
    unreachable(
        count > MOST_CYCLES, "mixing", f"is so poor that it takes more than {MOST_CYCLES} cycles"
    )
    return np.asarray(count)


@worksheet_function(
    equation="c_n = c_s + (c₀ - c_s) · rⁿ, r = 1 - m · (1 - p_low / p_high)",
    sources=(DILUTION,),
    example=('GAS_VENT_FILL_RESIDUAL(4, "50 mbar", "1.2 bar(a)", "20.95 %", 1)', "1.631 ppm"),
    cautions=(DEAD_LEGS,),
)
def vent_fill_residual(
    count: Cycles,
    pressure_low: LowPressure,
    pressure_high: HighPressure,
    start: Start,
    supply: Supply = 0.0,
    mixing: Mixing = 1.0,
) -> Annotated[Impurity, "Impurity left"]:
    """Impurity left in a vessel after a number of vent-and-fill cycles.

    Takes Pa and fractions, scalars or arrays; gives a fraction. Raises OutOfRangeError where
    the pressures are swapped.
    """
    _check_swing(pressure_low, pressure_high)
    each = _remainder(pressure_low, pressure_high, mixing)
    step("share of the impurity left by a cycle", "r", each)
    return np.asarray(supply + (start - supply) * each ** np.asarray(count))


@worksheet_function(
    equation="n = N · V · (ρ_m(p_high, T) - ρ_m(p_low, T))",
    sources=(DILUTION, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_VENT_FILL_USE("argon", 2.5, "50 mbar", "1.2 bar(a)", 4)', "10.57 Nm3"),
    cautions=(ASPHYXIATION,),
)
def vent_fill_use(
    gas: GasArgument,
    volume: Volume,
    pressure_low: LowPressure,
    pressure_high: HighPressure,
    count: Cycles,
    temperature: GasTemperature = ROOM,
) -> Annotated[Amount, "Gas used"]:
    """Gas that a number of vent-and-fill cycles uses.

    Takes m³, Pa and K, scalars or arrays; gives mol. Raises StateError where a state is not gas.
    """
    _check_swing(pressure_low, pressure_high)
    fill = _fill(gas, volume, pressure_low, pressure_high, temperature)
    step("gas of one fill", "n₁", fill, "mol")
    return count * fill


def _fill(
    gas: GasArgument, volume: Numbers, low: Numbers, high: Numbers, temperature: Numbers
) -> Array:
    """mol of one fill."""
    dense = properties.molar_density(gas, high, temperature)
    return np.asarray(volume * (dense - properties.molar_density(gas, low, temperature)))


@worksheet_function(
    equation="c_n = c_s + (c₀ - c_s) · rⁿ; gas used: n · V · (ρ_m(p_high, T) - ρ_m(p_low, T))",
    sources=(DILUTION, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=(
        'GAS_VENT_FILL_TABLE("argon", 2.5, "50 mbar", "1.2 bar(a)", "20.95 %", 10, 1)',
        "cycles 0 to 4; after the last 1.631 ppm and 10.57 Nm3",
    ),
    cautions=(ASPHYXIATION, DEAD_LEGS),
)
def vent_fill_table(
    gas: GasArgument,
    volume: Volume,
    pressure_low: LowPressure,
    pressure_high: HighPressure,
    start: Start,
    target: Target,
    supply: Supply = 0.0,
    mixing: Mixing = 1.0,
    temperature: GasTemperature = ROOM,
    pressure_start: PressureStart = None,
) -> Annotated[
    list[list[Any]],
    Columns(
        (Column("Cycle"), Column("Residual", RESIDUAL), Column("Gas used so far", GAS)),
        "Residual impurity and gas used after each cycle",
    ),
]:
    """Residual impurity and gas used, cycle by cycle, until the target is met.

    Takes m³, Pa, K and fractions; gives rows of cycle, fraction and mol. Raises NoSolutionError
    where the target cannot be reached.
    """
    last = vent_fill_count(
        pressure_low, pressure_high, start, target, supply, mixing, pressure_start
    )
    first_low = _first_low(pressure_low, pressure_start)
    first = _remainder(first_low, pressure_high, mixing)
    each = _remainder(pressure_low, pressure_high, mixing)
    first_fill = _fill(gas, volume, first_low, pressure_high, temperature)
    fill = _fill(gas, volume, pressure_low, pressure_high, temperature)
    step("gas of one fill", "n₁", fill, "mol")
    rows: list[list[Any]] = [[0, start, 0.0]]
    for cycle in range(1, int(last) + 1):
        left = first * each ** (cycle - 1)
        used = first_fill + (cycle - 1) * fill
        rows.append([cycle, supply + (start - supply) * left, used])
    return rows


@worksheet_function(
    equation="N = ln((c₀ - c_s) / (c - c_s)) / m",
    sources=(SWEEPING,),
    example=('GAS_SWEEP_CHANGES("20.95 %", 100, 1)', "7.657"),
    cautions=(ASPHYXIATION, DEAD_LEGS),
)
def sweep_changes(
    start: Start, target: Target, supply: Supply = 0.0, mixing: Mixing = 1.0
) -> Annotated[Changes, "Volume changes needed"]:
    """Volume changes that sweeping at constant pressure takes to reach a target impurity.

    Takes fractions, scalars or arrays. Raises NoSolutionError where the target is at or below
    the supply's own impurity.
    """
    met = _check_target(start, target, supply)
    with np.errstate(divide="ignore", invalid="ignore"):
        drop = (np.asarray(start) - supply) / (np.asarray(target) - supply)
        changes = np.where(met, 0.0, np.log(drop) / mixing)
    step(
        "impurity above the supply's, start over target",
        "(c₀ - c_s)/(c - c_s)",
        np.where(met, 1.0, drop),
    )
    return np.asarray(changes)


@worksheet_function(
    equation="c = c_s + (c₀ - c_s) · exp(-m · N)",
    sources=(SWEEPING,),
    example=('GAS_SWEEP_RESIDUAL(8, "20.95 %", 1)', "71.28 ppm"),
    cautions=(DEAD_LEGS,),
)
def sweep_residual(
    changes: Changes, start: Start, supply: Supply = 0.0, mixing: Mixing = 1.0
) -> Annotated[Impurity, "Impurity left"]:
    """Impurity left after sweeping a vessel with a number of volume changes.

    Takes fractions, scalars or arrays; gives a fraction.
    """
    left = np.exp(-np.asarray(mixing) * changes)
    step("share of the impurity left", "exp(-m N)", left)
    return supply + (start - supply) * left


@worksheet_function(
    equation="n = N · V · ρ_m(p, T)",
    sources=(SWEEPING, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_SWEEP_USE("argon", 2.5, 1.05, 20, 8)', "19.31 Nm3"),
    cautions=(ASPHYXIATION,),
)
def sweep_use(
    gas: GasArgument,
    volume: Volume,
    pressure: Annotated[Pressure, "Pressure in the vessel while it is swept"],
    temperature: GasTemperature,
    changes: Changes,
) -> Annotated[Amount, "Gas used"]:
    """Gas that sweeping uses for a number of volume changes.

    Takes m³, Pa and K, scalars or arrays; gives mol. Raises StateError where the state is not gas.
    """
    molar = properties.molar_density(gas, pressure, temperature)
    step("gas of one volume change", "V ρ_m", volume * molar, "mol")
    return changes * volume * molar


@worksheet_function(
    equation="c = (c₀ · p_b + x · q_L · t / V + c_s · (p_fill - p_b - q_L · t / V)) / p_fill",
    sources=(DILUTION, "Pressure rise of a closed vessel, q_L = V Δp / t (EN 1779)"),
    example=(
        'GAS_EVACUATE_RESIDUAL("0.05 mbar", 1.05, 1000000, 1, "0.01 mbar L/s", 2.5, "30 min")',
        "55.48 ppm",
    ),
    cautions=(ASPHYXIATION, DEAD_LEGS),
)
def evacuate_residual(
    base_pressure: Annotated[Pressure, Symbol("p_b"), "Pressure that the vessel is evacuated to"],
    fill_pressure: Annotated[Pressure, Symbol("p_fill"), "Pressure that the vessel is filled to"],
    start: Annotated[
        Impurity, Symbol("c₀"), "Impurity in the vessel at the start; air as a whole is 1,000,000"
    ],
    supply: Supply = 0.0,
    leak_rate: Annotated[LeakRate, "Air leaking in during the hold"] = 0.0,
    volume: Annotated[Volume | None, "Volume of the vessel; needed with a leak"] = None,
    hold: Annotated[Duration, "Time from the pump's valve shutting to the fill"] = 0.0,
    fraction: Annotated[
        Fraction, "Share of the leaking air that counts: 0.2095 is its oxygen, 1 all of it"
    ] = 1.0,
) -> Annotated[Impurity, "Impurity left"]:
    """Impurity left by one deep evacuation and one fill, air leaking in meanwhile counted.

    Takes Pa, fractions, Pa·m³/s, m³ and s, scalars or arrays; gives a fraction. Raises
    OutOfRangeError where the vessel is filled to no more than it holds already.
    """
    inflow = np.asarray(leak_rate) * hold
    refuse(
        (inflow > 0) & (volume is None),
        "volume",
        "is blank; the leak's pressure rise during the hold needs the volume of the vessel",
    )
    rise = inflow / (1.0 if volume is None else volume)
    step("pressure rise during the hold", "q_L t / V", rise, "Pa")
    filled = np.asarray(fill_pressure) - base_pressure - rise
    refuse(
        filled <= 0,
        "fill_pressure",
        "is not above the base pressure and the rise during the hold: are the two swapped?",
    )
    return (start * np.asarray(base_pressure) + fraction * rise + supply * filled) / fill_pressure


METHODS = Columns(
    (
        Column("Method"),
        Column("Cycles or changes"),
        Column("Residual", RESIDUAL),
        Column("Gas used", GAS),
        Column("Time", TIME),
        Column("Cost"),
        Column("Target met"),
    ),
    "Vent and fill, one deep evacuation, and sweeping, a row each",
)


@worksheet_function(
    equation="vent and fill: c_s + (c₀ - c_s)(p_low/p_high)ⁿ; "
    "evacuation: c_s + (c₀ - c_s) p_b/p_high; sweeping: c_s + (c₀ - c_s) exp(-N)",
    sources=(DILUTION, SWEEPING, PUMPING, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=(
        'GAS_PURGE_METHODS("argon", 2.5, "20.95 %", 100, "50 mbar", 1.05, "0.1 mbar", 250, 60, 1)',
        "vent and fill: 3 cycles, 23.62 ppm, 6.896 Nm3, 0.2059 h",
    ),
    cautions=(
        ASPHYXIATION,
        DEAD_LEGS,
        "Valve handling and settling times are not counted; leaks and wet walls are left out.",
    ),
)
def purge_methods(
    gas: GasArgument,
    volume: Volume,
    start: Start,
    target: Target,
    pressure_low: LowPressure,
    pressure_high: HighPressure,
    base_pressure: Annotated[Pressure, Symbol("p_b"), "Pressure of the deep evacuation"],
    pumping_speed: PumpingSpeed,
    fill_flow: Annotated[Flow, "Flow of purge gas, filling or sweeping"],
    supply: Supply = 0.0,
    price: Annotated[
        Price | None, Symbol("price"), "Price of 1 Nm3 of the gas; blank: no cost"
    ] = None,
) -> Annotated[list[list[Any]], METHODS]:
    """Vent and fill, one deep evacuation and sweeping side by side: gas, time, cost, target met.

    All start from atmospheric pressure (pressure_low where that is higher) at 20 °C and mix
    completely; the pump empties at constant speed; sweeping is at atmospheric pressure. Takes
    m³, fractions, Pa, m³/s, mol/s and currency per Nm³. Raises NoSolutionError where the target
    is at or below the supply's impurity.
    """
    refuse(np.asarray(fill_flow) <= 0, "fill_flow", "is zero; give the flow of purge gas")
    refuse(
        base_pressure >= pressure_high,
        "base_pressure",
        "is not below pressure_high, the pressure that the vessel is filled to after it",
    )
    for argument, wanted in (("pressure_low", pressure_low), ("base_pressure", base_pressure)):
        unreachable(wanted <= 0, argument, "is a perfect vacuum, which no pump reaches")
    opening = np.maximum(ATMOSPHERE, pressure_low)
    pump = PumpedLine(None, float(pumping_speed))

    def emptying(p_from: Numbers, p_to: Numbers) -> float:
        return pump.time(float(volume), max(float(p_from), float(p_to)), float(p_to), 0.0)

    count = int(vent_fill_count(pressure_low, pressure_high, start, target, supply))
    cycled = vent_fill_residual(count, pressure_low, pressure_high, start, supply)
    fills = float(vent_fill_use(gas, volume, pressure_low, pressure_high, count))
    vents = emptying(opening, pressure_low) if count else 0.0
    vents += max(count - 1, 0) * emptying(pressure_high, pressure_low)
    deep = evacuate_residual(base_pressure, pressure_high, start, supply)
    one_fill = float(_fill(gas, volume, base_pressure, pressure_high, ROOM))
    changes = float(sweep_changes(start, target, supply))
    swept = float(sweep_use(gas, volume, ATMOSPHERE, ROOM, changes))
    step("gas of one vent-and-fill cycle", "n₁", fills / count if count else 0.0, "mol")
    step("emptying between two fills", "t_v", emptying(pressure_high, pressure_low), "s")
    step("gas of one volume change at atmospheric pressure", "n_s", swept / (changes or 1), "mol")
    normal = properties.reference_molar_density(gas, NORMAL)

    def row(method: str, number: float, left: Any, used: float, emptied: float) -> list[Any]:
        cost = None if price is None else used / normal * price
        met = "yes" if float(left) <= target * (1 + HIT) else "no"
        return [method, number, left, used, emptied + used / fill_flow, cost, met]

    return [
        row("vent and fill", count, cycled, fills, vents),
        row("one deep evacuation", 1, deep, one_fill, emptying(opening, base_pressure)),
        row("sweeping", changes, sweep_residual(changes, start, supply), swept, 0.0),
    ]
