"""How the pressure of a vessel falls: a pump by its curve against outgassing and leaks."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

import numpy as np

from gasfuncs.calculations.effort import Effort
from gasfuncs.calculations.printed_values import OUTGASSING_RATES, choices
from gasfuncs.calculations.sources import EQUATION_OF_STATE
from gasfuncs.calculations.vacuum import (
    AIR,
    BERMAN,
    CHURCHILL,
    ENDS,
    KNUDSEN,
    PUMPING,
    WATER_STALLS,
    LineBore,
    LineLength,
    Pumped,
    line_or_none,
)
from gasfuncs.calculations.vacuum_line import PumpCurve, PumpedLine
from gasfuncs.definition import (
    Column,
    Columns,
    Quantity,
    refuse,
    step,
    unreachable,
    worksheet_function,
)
from gasfuncs.definition.vocabulary import (
    Areas,
    CurvePressures,
    CurveSpeeds,
    Duration,
    LeakRate,
    OutgassingExponents,
    OutgassingRates,
    Points,
    Pressure,
    Volume,
)
from gasfuncs.errors import ShapeError
from gasfuncs.properties import Array
from gasfuncs.units import kinds

HOUR = 3600.0

FRESH = 60.0
"""Seconds: an outgassing rate is counted no higher than after a minute of pumping; before, the
power law has no meaning and the gas of the volume is all that matters."""

LEAST = 1e-9
"""Pa, the lowest pressure that is followed."""

ELSEY = (
    "Outgassing as a power of the time: R. J. Elsey, Vacuum 25 (1975) 299 and 347; J. F. O'Hanlon, "
    "A User's Guide to Vacuum Technology"
)
RATES_SPREAD = (
    "Printed outgassing rates of one material differ by a factor of three and more with its "
    "cleaning, its age and the air's moisture: take your own, or a named one (see the documents)."
)


@worksheet_function(
    equation="Q = Σ A_i · q_i · (t / 1 h)^(-α_i) + q_L",
    sources=(ELSEY, choices(OUTGASSING_RATES, "outgassing rates")),
    example=(
        'GAS_GAS_LOAD("12 m2", "3E-9 mbar L/(s cm2)", 1, "1E-4 mbar L/s", 4)',
        "0.00019 mbar L/s",
    ),
    cautions=(RATES_SPREAD,),
)
def gas_load(
    areas: Areas,
    rates: OutgassingRates,
    exponents: OutgassingExponents,
    leak_rate: Annotated[LeakRate, "Leak, which does not fall with time"] = 0.0,
    time: Annotated[Duration, "Time since pumping began"] = HOUR,
) -> Annotated[LeakRate, "Gas load"]:
    """Gas load of a vessel from its outgassing areas, their rates after 1 h, and its leak.

    Takes m², Pa·m³/(s·m²) and exponents, a series each, Pa·m³/s and s; gives Pa·m³/s. Raises
    ShapeError where the series differ in length, OutOfRangeError within the first minute.
    """
    refuse(
        np.asarray(time) < FRESH,
        "time",
        "is less than a minute; the power law of outgassing says nothing of it",
    )
    _check_lengths(areas, rates, exponents)
    return _outgassing(areas, rates, exponents, np.asarray(time)) + leak_rate


def _check_lengths(areas: Array, rates: Array, exponents: Array) -> None:
    for name, values in (("rates", rates), ("exponents", exponents)):
        if np.size(values) != np.size(areas):
            raise ShapeError(
                f"has {np.size(values)} values, areas has {np.size(areas)}; one of each an area",
                name,
            )


def _outgassing(areas: Array, rates: Array, exponents: Array, time: Array) -> Array:
    """Pa·m³/s at a time (s), or at each of many."""
    hours = np.maximum(time, FRESH) / HOUR
    each = areas * rates * hours[..., None] ** -exponents
    step("outgassing of each area", "A_i q_i (t/1 h)^(-α_i)", each, "Pa·m³/s")
    return np.asarray(each.sum(axis=-1))


@worksheet_function(
    equation="S(p_pump) · p_pump = Q; with a line Q = C(p̄) · (p - p_pump)",
    sources=(PUMPING, KNUDSEN, BERMAN, ENDS, CHURCHILL, EQUATION_OF_STATE),
    example=(
        'GAS_ULTIMATE_PRESSURE("1E-3 mbar", 250, "1E-3 mbar L/s", 100, 2, "air", "mbar")',
        "3.303e-05 mbar",
    ),
    cautions=(RATES_SPREAD,),
    scalar=True,
)
def ultimate_pressure(
    pump_pressures: CurvePressures,
    pump_speeds: CurveSpeeds,
    gas_load: Annotated[LeakRate, "Leaks and outgassing, as of GAS_GAS_LOAD"],
    bore: LineBore = None,
    length: LineLength = None,
    gas: Pumped = AIR,
) -> Annotated[Pressure, "Pressure of the vessel in the end"]:
    """Pressure that a pump holds in a vessel against a gas load, through its line if there is one.

    Takes the pump's curve in Pa and m³/s, a series each, Pa·m³/s and m; gives Pa. A measured
    pressure well above it means more load or less pump than told. Raises NoSolutionError where
    the curve does not go that far.
    """
    curve = _pump_curve(pump_pressures, pump_speeds)
    load = float(gas_load)
    pumped = PumpedLine(line_or_none(gas, bore, length), curve)
    unreachable(
        load > curve.speeds[-1] * curve.pressures[-1],
        "gas_load",
        "is more than the pump takes at the highest pressure of its curve; give more of the curve",
    )
    at_pump = pumped.pump_pressure(load)
    _check_reach(curve, at_pump)
    step("pressure at the pump", "p_pump", at_pump, "Pa")
    step("pumping speed there", "S", pumped.speed(at_pump), "m³/s")
    return pumped.base_pressure(load)


def _pump_curve(pressures: Array, speeds: Array) -> PumpCurve:
    if len(pressures) != len(speeds):
        raise ShapeError(
            f"has {len(speeds)} values, pump_pressures has {len(pressures)}; one of each a point",
            "pump_speeds",
        )
    refuse(np.diff(pressures) <= 0, "pump_pressures", "must rise from the first to the last")
    refuse(
        np.diff(pressures * speeds) < 0,
        "pump_speeds",
        "falls so fast that the pump would take less gas at a higher pressure; check the units",
    )
    refuse(speeds[-1] <= 0, "pump_speeds", "is 0 at the highest pressure; the pump would be off")
    return PumpCurve(tuple(pressures.tolist()), tuple(speeds.tolist()))


def _check_reach(curve: PumpCurve, pressure: float) -> None:
    """Refuse a pressure at the pump below its curve, unless the pump is told to end there."""
    lowest, single = curve.pressures[0], len(curve.pressures) == 1
    unreachable(
        not single and curve.speeds[0] > 0 and pressure < lowest * (1 - 1e-9),
        "pump_pressures",
        f"ends at {lowest / 100:.3g} mbar, and the pump would get to {pressure / 100:.3g} mbar; "
        "give the curve down to there, with speed 0 at its ultimate pressure",
    )


COURSE = Columns(
    (
        Column("Time", Quantity("t", "Time", kind=kinds.TIME, unit="min")),
        Column("Pressure", Quantity("p", "Pressure", kind=kinds.PRESSURE, unit="mbar")),
        Column("Speed", Quantity("q/p", "Speed", kind=kinds.VOLUME_FLOW, unit="m3/h")),
        Column("Gas load", Quantity("Q", "Gas load", kind=kinds.LEAK, unit="mbar L/s")),
    ),
    "Pressure, pumping speed at the vessel and gas load at times spread evenly on a log scale",
)


@worksheet_function(
    equation="V dp/dt = Q(t) - q(p), Q(t) = Σ A_i q_i (t / 1 h)^(-α_i) + q_L, "
    "q = S(p_pump) · p_pump = C(p̄) · (p - p_pump)",
    sources=(PUMPING, ELSEY, KNUDSEN, BERMAN, ENDS, CHURCHILL, EQUATION_OF_STATE),
    example=(
        'GAS_PUMPDOWN_CURVE(2.5, "1E-2 mbar", 250, "1 atm", 2, "20 m2", "3E-8 mbar L/(s cm2)", 1)',
        "after 2 h 4.342e-05 mbar",
    ),
    cautions=(
        RATES_SPREAD,
        WATER_STALLS,
        "In the first minute outgassing is counted as after a minute.",
    ),
    scalar=True,
)
def pumpdown_curve(
    volume: Volume,
    pump_pressures: CurvePressures,
    pump_speeds: CurveSpeeds,
    pressure_from: Annotated[Pressure, "Pressure at the start"],
    duration: Annotated[Duration, "Time to follow the pressure for"],
    areas: Areas | None = None,
    rates: OutgassingRates | None = None,
    exponents: OutgassingExponents | None = None,
    leak_rate: Annotated[LeakRate, "Leak, which does not fall with time"] = 0.0,
    bore: LineBore = None,
    length: LineLength = None,
    gas: Pumped = AIR,
    points: Points = 25,
) -> Annotated[list[list[Any]], COURSE]:
    """Pressure of a vessel over time while a pump of a given curve empties it against its gas load.

    Takes m³, the pump's curve in Pa and m³/s, Pa, s, the areas with their outgassing, Pa·m³/s and
    m; gives rows of s, Pa, m³/s and Pa·m³/s. Raises NoSolutionError where the pump would get
    below its curve.
    """
    refuse(float(duration) <= 0, "duration", "is zero; give the time to follow the pressure for")
    refuse(
        float(pressure_from) < LEAST,
        "pressure_from",
        "is below 1e-9 Pa, the lowest pressure that is followed",
    )
    curve = _pump_curve(pump_pressures, pump_speeds)
    pumped = PumpedLine(line_or_none(gas, bore, length), curve)
    load = _load_in_time(areas, rates, exponents, float(leak_rate))
    later = float(duration) * np.logspace(0, -3, int(points) - 1)[::-1]
    times = np.concatenate([[0.0], later])
    pressures = _course(float(volume), pumped, float(pressure_from), load, times)
    lowest = float(np.nan_to_num(pressures).min())
    unreachable(
        lowest < LEAST,
        "duration",
        "is so long that the pressure falls below 1e-9 Pa: nothing holds it up; give the leak or "
        "the outgassing",
    )
    _check_reach(curve, lowest)
    speeds = [pumped.throughput(p) / p for p in pressures.tolist()]
    loads = load(times).tolist()
    return [
        list(row) for row in zip(times.tolist(), pressures.tolist(), speeds, loads, strict=True)
    ]


def _load_in_time(
    areas: Array | None, rates: Array | None, exponents: Array | None, leak_rate: float
) -> Callable[[Array], Array]:
    """Pa·m³/s as a function of times (s)."""
    given = [values is not None for values in (areas, rates, exponents)]
    refuse(
        any(given) and not all(given),
        ("areas", "rates", "exponents")[given.index(False) if False in given else 0],
        "is blank; outgassing takes areas, rates and exponents, or none of them",
    )
    if areas is None or rates is None or exponents is None:
        return lambda times: np.full(np.shape(times), leak_rate)
    _check_lengths(areas, rates, exponents)
    return lambda times: _outgassing(areas, rates, exponents, np.asarray(times)) + leak_rate


def _course(
    volume: float,
    pumped: PumpedLine,
    start: float,
    load: Callable[[Array], Array],
    times: Array,
) -> Array:
    """Pa at the times (s): an ordinary differential equation in ln p."""
    from scipy.integrate import solve_ivp

    effort = Effort()
    speed = _speed_by_log(pumped, start, float(load(np.asarray(0.0))), effort)

    def change(time: float, log: Array) -> Array:
        effort.check()
        inflow = load(np.asarray(time)) / np.exp(log)
        return np.asarray((inflow - speed(log)) / volume)

    solved = solve_ivp(
        change, (0.0, times[-1]), [np.log(start)], "LSODA", times, rtol=1e-10, atol=1e-11
    )
    step("method", "", "LSODA in ln p, relative tolerance 1e-10")
    return np.asarray(np.exp(solved.y[0]))


def _speed_by_log(
    pumped: PumpedLine, start: float, load: float, effort: Effort
) -> Callable[[Array], Array]:
    """m³/s at the vessel by ln p: straight between points a tenth apart and the curve's own, within
    0.1 %; up to the start, or where the pump takes the largest load, which may raise the pressure.
    """
    assert isinstance(pumped.pump, PumpCurve)
    corners = [
        pumped.base_pressure(p * speed) if speed else p
        for p, speed in zip(pumped.pump.pressures, pumped.pump.speeds, strict=True)
    ]
    highest = start
    while pumped.throughput(highest) < load:
        highest *= 2
    grid = np.arange(np.log(LEAST), np.log(highest) + 0.1, 0.1)
    logs = np.unique(np.concatenate([grid, np.log(corners)]))
    speeds = []
    for pressure in np.exp(logs).tolist():
        effort.check()
        speeds.append(pumped.throughput(pressure) / pressure)
    return lambda log: np.interp(log, logs, speeds)
