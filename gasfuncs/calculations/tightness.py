"""Tightness tests: pressure rise in vacuum and pressure decay, their bands and verdicts."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from gasfuncs.calculations import decay_judging, pressure_rise, rise_judging
from gasfuncs.calculations.combining import GUM
from gasfuncs.calculations.decay_judging import amount_lost
from gasfuncs.calculations.leak import ASPHYXIATION, LEAK_TESTS
from gasfuncs.calculations.rise_models import POWER
from gasfuncs.calculations.rise_record import readings
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE
from gasfuncs.definition import Column, Columns, Quantity, Symbol, refuse, step, worksheet_function
from gasfuncs.definition.moments import STAMPED
from gasfuncs.definition.vocabulary import (
    GasArgument,
    LeakRate,
    LeakRateDifference,
    LeakTestTime,
    Numbers,
    Pressure,
    PressureTolerance,
    ReadingPressures,
    ReadingTimes,
    RiseRate,
    Temperature,
    TemperatureTolerance,
    TightLimit,
    TimesAre,
    Volume,
)
from gasfuncs.properties import Gas
from gasfuncs.units import R, kinds

TestVolume = Annotated[Volume, "Volume under test, lines included"]

IDEAL_UP_TO = 50e5
"""Pa: to here an ideal gas is near enough to correct a temperature."""


@worksheet_function(
    equation="q_L = V · (p₂ - p₁) / t",
    sources=(LEAK_TESTS,),
    example=('GAS_RISE_LEAK(2.5, "8 micron", "15 micron", 1)', "0.006481 mbar L/s"),
    cautions=("Outgassing counts as leak here: GAS_RISE_FIT tells them apart.",),
)
def rise_leak(
    volume: TestVolume,
    pressure_start: Annotated[Pressure, Symbol("p₁"), "Pressure at the start of the test"],
    pressure_end: Annotated[Pressure, Symbol("p₂"), "Pressure at the end of the test"],
    duration: LeakTestTime,
) -> Annotated[LeakRate, "Leak rate, at the temperature of the vessel"]:
    """Leak rate from a pressure-rise test of a shut, evacuated vessel.

    Takes m³, Pa and s, scalars or arrays; gives Pa·m³/s. Raises OutOfRangeError where the
    pressure fell.
    """
    rise = np.asarray(pressure_end) - pressure_start
    refuse(
        rise < 0,
        "pressure_end",
        "is below pressure_start; in this test the pressure rises: are the two swapped? "
        "For a vessel under pressure use GAS_DECAY_LEAK",
    )
    step("pressure rise rate", "Δp/t", rise / duration, "Pa/s")
    return volume * rise / duration


@worksheet_function(
    equation="dp/dt = q_L / V",
    sources=(LEAK_TESTS,),
    example=('GAS_RISE_RATE("1e-3 mbar L/s", 2.5, "micron/h")', "1.08 micron/h"),
)
def rise_rate(leak_rate: LeakRate, volume: TestVolume) -> Annotated[RiseRate, "Pressure rise rate"]:
    """Pressure rise rate that a leak makes in a shut vessel.

    Takes Pa·m³/s and m³, scalars or arrays; gives Pa/s.
    """
    return leak_rate / np.asarray(volume)


RATE = Quantity("q_L", "Leak rate", kind=kinds.LEAK, unit="mbar L/s")
TIME = Quantity("t", "Time", kind=kinds.TIME, unit="h")
READ = Quantity("p", "Pressure", kind=kinds.PRESSURE_DIFFERENCE, unit="mbar")

EXAMPLE_RECORD = (
    "{0;0.25;0.5;0.75;1;1.5;2;2.5;3;3.5;4;5;6}, "
    '{"8.0 micron";"11.9 micron";"15.2 micron";"18.0 micron";"20.4 micron";'
    '"24.6 micron";"28.3 micron";"31.6 micron";"34.8 micron";"37.9 micron";'
    '"40.9 micron";"47.0 micron";"53.0 micron"}'
)
RISE_MODEL = (
    "p = p₀ + a·t + o(t), leak q_L = a·V; outgassing o: none, b (1 - exp(-t/τ)), two of these, "
    "or ∫ b (1 + t/t₀)^-α dt"
)
RISE_SOURCES = (
    LEAK_TESTS,
    "Nonlinear least squares with profiled bands, Student's t: D. M. Bates, D. G. Watts, Nonlinear "
    "Regression Analysis and Its Applications, 1988, ch. 6",
    "Outgassing of metal as t^-α, α about 1: R. J. Elsey, Vacuum 25, 1975",
    "Residuals that follow each other: J. von Neumann, Ann. Math. Stat. 12, 1941",
)
OUTGASSING_CAUTION = (
    "Outgassing that dies away much slower than the record lasts looks like a leak; a virtual "
    "leak may look like either. Keep the vessel's temperature steady.",
)


@worksheet_function(
    equation=RISE_MODEL,
    sources=RISE_SOURCES,
    example=(
        f"GAS_RISE_FIT({EXAMPLE_RECORD}, 2.5)",
        "real leak 0.005556 mbar L/s, between 0.005339 and 0.005581 mbar L/s",
    ),
    cautions=OUTGASSING_CAUTION,
)
def rise_fit(
    times: ReadingTimes,
    pressures: ReadingPressures,
    volume: TestVolume,
    times_are: TimesAre | None = None,
) -> Annotated[
    list[list[Any]],
    Columns(
        (
            Column("Part"),
            Column("Leak rate", RATE),
            Column("Standard error", RATE),
            Column("Time constant", TIME),
            Column("Standard error", TIME),
            Column("Remark"),
            Column("Low", RATE),
            Column("High", RATE),
        ),
        "Real leak and outgassing with their 95 % bands, whether they are told apart, and what "
        "each model of outgassing makes of the record",
    ),
]:
    """Real leak and outgassing told apart in a pressure-rise test, by rival models.

    Takes s, Pa and m³; gives rows of Pa·m³/s and s. The leak is told apart where all models that
    fit leave a narrow band; otherwise it is a one-sided upper bound and the remark says so. Raises
    OutOfRangeError for under 6 readings or more than 30 days.
    """
    found = pressure_rise.fit(*readings(times, pressures, times_are, pressure_rise.FEWEST))
    _show(found)
    rows = [_row("real leak", found.leak, volume, _remark(found))]
    for part, outgassing in (
        ("outgassing at the first reading", found.outgassing),
        ("outgassing at the last reading", found.outgassing_end),
    ):
        told = "" if outgassing else "cannot be told from this record"
        rows.append(_row(part, outgassing, volume, told, found.time_constant))
    return rows + [_model_row(rival, volume) for rival in found.rivals]


def _show(found: pressure_rise.RiseFit) -> None:
    """The working of a fit."""
    step("model shown", "", found.model)
    step("degrees of freedom of the likeliest model", "ν", found.freedom)
    step("scatter of the readings about the curve", "s", found.scatter, "Pa")
    step("pressure of the curve at the first reading", "p₀", found.start, "Pa")
    step("straight part over the record", "a·t", float(found.straight[-1]), "Pa")
    step("part that dies away, over the record", "o(t)", float(found.dying[-1]), "Pa")
    step(
        "method", "", "linear least squares at many constants of every model; τ by Gauss and Newton"
    )


def _remark(found: pressure_rise.RiseFit) -> str:
    if found.verdict == pressure_rise.TOLD_APART and found.leak.low <= 0:
        return f"{found.verdict}; no leak is proved: its band reaches down to zero"
    return found.verdict


def _row(
    part: str,
    estimate: pressure_rise.Estimate | None,
    volume: Numbers,
    remark: str,
    tau: pressure_rise.Estimate | None = None,
) -> list[Any]:
    spread = [tau.value, tau.error] if tau else [None, None]
    if estimate is None:
        return [part, None, None, *spread, remark, None, None]
    leak = estimate.times(float(volume))
    return [part, leak.value, leak.error, *spread, remark, leak.low, leak.high]


def _model_row(rival: pressure_rise.Rival, volume: Numbers) -> list[Any]:
    """A model: its leak, its (slower) time constant, how well it fits."""
    fits = "fits" if rival.leak else "does not fit"
    remark = f"{fits}: chance of its misfit {rival.chance:.2g}"
    row = _row(f"by the model: {rival.model}", rival.leak, volume, remark)
    if rival.model == POWER:
        row[5] += f", exponent {rival.constants[1]:.3g}"
    elif rival.constants:
        row[3] = rival.constants[-1]
    return row


@worksheet_function(
    equation=RISE_MODEL,
    sources=RISE_SOURCES,
    example=(
        f"GAS_RISE_CURVE({EXAMPLE_RECORD})",
        "a row for each reading",
    ),
    cautions=OUTGASSING_CAUTION,
)
def rise_curve(
    times: ReadingTimes, pressures: ReadingPressures, times_are: TimesAre | None = None
) -> Annotated[
    list[list[Any]],
    Columns(
        (
            Column("Time", TIME),
            Column("Pressure read", READ),
            Column("Fitted", READ),
            Column("Straight part", READ),
            Column("Part that dies away", READ),
        ),
        "Readings with the fitted curve and its parts, for a chart",
    ),
]:
    """Readings of a pressure-rise test beside the curve that GAS_RISE_FIT lays through them.

    Takes s and Pa; gives rows of s and Pa in the order of time, dates as times since the first.
    Raises OutOfRangeError for too few readings.
    """
    times, pressures = readings(times, pressures, times_are, pressure_rise.FEWEST)
    found = pressure_rise.fit(times, pressures)
    fitted = found.start + found.straight + found.dying
    shown = times - times[0] if times[0] >= STAMPED else times
    columns = [shown, pressures, fitted, found.straight, found.dying]
    rows: list[list[Any]] = np.column_stack(columns).tolist()
    return rows


VERDICT = Columns(
    (
        Column("Leak rate", RATE),
        Column("Low", RATE),
        Column("High", RATE),
        Column("Least detectable", RATE),
        Column("Verdict"),
        Column("Why"),
    ),
    "Leak rate with its 95 % band, the least leak that the test can see, the verdict and why",
)


@worksheet_function(
    equation="tight: high ≤ limit; leaks: low > limit; else cannot tell; " + RISE_MODEL,
    sources=(*RISE_SOURCES, "Least detectable 3.29 u: ISO 11843 (errors of 5 % of both kinds)"),
    example=(
        f'GAS_RISE_VERDICT({EXAMPLE_RECORD}, 2.5, "10 micron/h")',
        "0.005556 mbar L/s, between 0.005339 and 0.005581 mbar L/s: tight",
    ),
    cautions=OUTGASSING_CAUTION,
)
def rise_verdict(
    times: ReadingTimes,
    pressures: ReadingPressures,
    volume: TestVolume,
    limit: TightLimit,
    pressure_tolerance: PressureTolerance = (),
    temperature_tolerance: Annotated[
        TemperatureTolerance, 'How far the vessel\'s temperature may have moved, such as "±1 K"'
    ] = (),
    times_are: TimesAre | None = None,
) -> Annotated[list[list[Any]], VERDICT]:
    """Whether a pressure-rise test shows a vessel tight: tight, leaks, repeat or cannot tell.

    Takes s, Pa, m³, a limit as leak or rise rate, and K; gives a row of Pa·m³/s, the verdict and
    its reason. Two to five readings need a tolerance in pressure and give an upper bound only.
    Raises OutOfRangeError for one reading or more than 30 days.
    """
    times, pressures = readings(times, pressures, times_are, rise_judging.FEWEST)
    allowed = limit.leak(volume)
    step("limit as a leak rate", "q_max", allowed, "Pa·m³/s")
    found = rise_judging.judged(
        times, pressures, allowed / volume, pressure_tolerance, temperature_tolerance
    )
    return [_verdict_row(found, float(volume))]


def _verdict_row(found: rise_judging.Verdict, factor: float) -> list[Any]:
    numbers = (found.leak, found.low, found.high, found.detectable)
    return [*(None if n is None else n * factor for n in numbers), found.verdict, found.why]


DECAY_CAUTIONS = (
    "The gas must be as warm as its thermometer says: let a filled vessel settle first.",
    ASPHYXIATION,
)

PressureStart = Annotated[Pressure, "Pressure at the start of the test", Symbol("p₁")]
PressureEnd = Annotated[Pressure, "Pressure at the end of the test", Symbol("p₂")]
TemperatureStart = Annotated[Temperature, "Temperature of the gas at the start", Symbol("T₁")]
TemperatureEnd = Annotated[Temperature, "Temperature of the gas at the end", Symbol("T₂")]
DecayGas = Annotated[GasArgument, "Gas in the vessel; blank: ideal gas, up to 50 bar"]


@worksheet_function(
    equation="q_L = V · (ρ_m(p₁, T₁) - ρ_m(p₂, T₂)) · R T₁ / t; "
    "ideal gas: V · (p₁ - p₂ · T₁ / T₂) / t",
    sources=(LEAK_TESTS, MASS_BALANCE, EQUATION_OF_STATE),
    example=('GAS_DECAY_LEAK(2.5, "7.00 bar(g)", 21.5, "6.93 bar(g)", 20.1, 12)', "1.856 mbar L/s"),
    cautions=DECAY_CAUTIONS,
)
def decay_leak(
    volume: TestVolume,
    pressure_start: PressureStart,
    temperature_start: TemperatureStart,
    pressure_end: PressureEnd,
    temperature_end: TemperatureEnd,
    duration: LeakTestTime,
    gas: DecayGas | None = None,
) -> Annotated[LeakRateDifference, "Leak rate at temperature_start; negative: gas came in"]:
    """Leak rate from a pressure-decay test, corrected for temperature.

    Takes m³, Pa, K and s, scalars or arrays; gives Pa·m³/s at the temperature of the start,
    negative where the vessel gained gas. Raises OutOfRangeError above 50 bar without a gas.
    """
    _refuse_ideal(gas, pressure_start, pressure_end)
    lost = amount_lost(
        volume, (pressure_start, temperature_start), (pressure_end, temperature_end), gas
    )
    step("amount lost", "Δn", lost, "mol")
    step("amount leaking", "ṅ", lost / duration, "mol/s")
    return lost * R * temperature_start / duration


def _refuse_ideal(gas: Gas | None, *pressures: Numbers) -> None:
    refuse(
        gas is None and max(np.max(pressure) for pressure in pressures) > IDEAL_UP_TO,
        "gas",
        "is blank above 50 bar, where an ideal gas takes a change of temperature for a leak; "
        "name the gas",
    )


@worksheet_function(
    equation="tight: high ≤ limit; leaks: low > limit; else cannot tell; "
    "q_L = V · (ρ_m(p₁, T₁) - ρ_m(p₂, T₂)) · R T₁ / t",
    sources=(LEAK_TESTS, MASS_BALANCE, EQUATION_OF_STATE, GUM),
    example=(
        'GAS_DECAY_VERDICT(40, 13.5, 19.8, 13.487, 19.7, 48, 6, "nitrogen", "±10 mbar", "±0.2 K")',
        "1.9 mbar L/s, between -3.2 and 7.1 mbar L/s: cannot tell",
    ),
    cautions=DECAY_CAUTIONS,
)
def decay_verdict(
    volume: TestVolume,
    pressure_start: PressureStart,
    temperature_start: TemperatureStart,
    pressure_end: PressureEnd,
    temperature_end: TemperatureEnd,
    duration: LeakTestTime,
    limit: Annotated[TightLimit, 'Limit: a leak rate, or a rate of fall such as "5 mbar/h"'],
    gas: DecayGas | None = None,
    pressure_tolerance: PressureTolerance = (),
    temperature_tolerance: TemperatureTolerance = (),
) -> Annotated[list[list[Any]], VERDICT]:
    """Whether a pressure-decay test shows a vessel tight: tight, leaks, repeat or cannot tell.

    Takes m³, Pa, K, s, a limit and the tolerances of each reading; gives a row of Pa·m³/s, the
    verdict and its reason. Without both tolerances it cannot tell. Raises OutOfRangeError above
    50 bar without a gas.
    """
    _refuse_ideal(gas, pressure_start, pressure_end)
    test = decay_judging.Decay(
        float(volume), float(pressure_start), float(temperature_start), float(pressure_end),
        float(temperature_end), float(duration), gas,
    )  # fmt: skip
    found = decay_judging.judged(
        test, limit.leak(volume), pressure_tolerance, temperature_tolerance
    )
    return [_verdict_row(found, 1.0)]
