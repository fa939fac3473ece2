"""Backfills from a reservoir through a line: how long, their course, the bore they need."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations import filling, gas_dynamics, sizing
from gasfuncs.calculations.effort import Effort
from gasfuncs.calculations.fill_course import End, Recorded, moment
from gasfuncs.calculations.filling import Filling, Space
from gasfuncs.calculations.gas_dynamics import Line
from gasfuncs.calculations.integration import Ends
from gasfuncs.calculations.line import (
    FANNO,
    FRICTION,
    IDEAL_ALONG_THE_LINE,
    ROOM,
    STEEL,
    STILL_UPSTREAM,
    VALVE,
    VALVE_AT_THE_END,
    ValveKv,
)
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE
from gasfuncs.definition import (
    Column,
    Columns,
    Symbol,
    is_recorded,
    refuse_rows,
    step,
    worksheet_function,
)
from gasfuncs.definition.terms import Quantity
from gasfuncs.definition.vocabulary import (
    Bore,
    ChokingRatio,
    Exchange,
    Flow,
    GasArgument,
    HeatConductance,
    LineLength,
    LossCoefficient,
    Numbers,
    Points,
    Pressure,
    Roughness,
    Seconds,
    Temperature,
    Volume,
)
from gasfuncs.units import kinds

INTEGRATION = (
    "Energy balances of both vessels with real-gas properties, integrated by Radau collocation "
    "(Hairer, Wanner, Solving Ordinary Differential Equations II, IV.8), time to 1e-5"
)
CONVECTION = (
    "Wall of the reservoir: turbulent natural convection, Nu = 0.13 Ra^(1/3) (heat-transfer "
    "textbooks), in a cylinder of four diameters; wall of the vessel, where no conductance is "
    "given: Nu = 0.56 Re^0.67 + 0.104 Ra^0.352 of a jet that fills a vessel (Woodfield, Monde and "
    "others, J. Therm. Sci. Technol. 3, 2008), in a cylinder of one and a half diameters"
)
EQUATION = (
    "dn_v/dt = w(p_r, p_v)/M through the line as in GAS_LINE_FLOW; dn_r/dt = s - dn_v/dt; of each "
    "vessel V dp/dt = (∂p/∂ρ)_T dn/dt + (β/c_v) (Σ j (h_j - h) + β T dn/dt + Q), "
    "β = (∂p/∂T)_ρ/ρ; wall Q = h A (T_w - T), adiabatic Q = 0, isothermal T held"
)
SOURCES = (FANNO, FRICTION, VALVE, MASS_BALANCE, CONVECTION, INTEGRATION, EQUATION_OF_STATE)
CAUTIONS = (
    "pressure_to is what the gauge first reads, the gas still warm: afterwards it falls "
    "(GAS_SETTLED_PRESSURE) or is topped up (GAS_TOP_UP).",
    "How the gas of the vessel meets walls and load is known to a factor of 2 where vessel_ha is "
    "not given; adiabatic and isothermal are the bounds. Walls keep their temperature.",
    "The supply flows all the time; where it outruns the line the reservoir rises above its "
    "starting pressure. Its regulator and relief device decide what really happens.",
    STILL_UPSTREAM, IDEAL_ALONG_THE_LINE, VALVE_AT_THE_END,
)  # fmt: skip

ReservoirVolume = Annotated[Volume, "Volume of the reservoir", Symbol("V_r")]
ReservoirPressure = Annotated[
    Pressure, Symbol("p_r"), "Pressure of the reservoir before the backfill"
]
VesselVolume = Annotated[Volume, "Free volume of the vessel that is filled", Symbol("V_v")]
PressureFrom = Annotated[Pressure, Symbol("p₁"), "Pressure in the vessel before the backfill"]
PressureTo = Annotated[Pressure, Symbol("p₂"), "Pressure in the vessel at which the backfill ends"]
SupplyFlow = Annotated[
    Flow, "Flow with which the supply refills the reservoir meanwhile", Symbol("s")
]
ReservoirTemperature = Annotated[
    Temperature,
    Symbol("T_r"),
    "Temperature of the reservoir, its gas and its wall; of all else where nothing is given",
]
ReservoirExchange = Annotated[
    Exchange,
    Symbol("reservoir's exchange"),
    "How the reservoir's gas exchanges heat: wall (by natural convection), isothermal, adiabatic",
]
VesselExchange = Annotated[
    Exchange,
    Symbol("vessel's exchange"),
    "How the vessel's gas exchanges heat: wall (with walls and load), isothermal, adiabatic",
]
VesselTemperature = Annotated[
    Temperature | None,
    Symbol("T_v"),
    "Temperature of the gas in the vessel before; blank: as the reservoir",
]
WallTemperature = Annotated[
    Temperature | None,
    Symbol("T_w"),
    "Temperature of the vessel's walls and load; blank: of the gas before",
]
VesselConductance = Annotated[
    HeatConductance | None,
    "Heat conductance h A between the vessel's gas and its walls and load; blank: by the jet",
]
ReservoirConductance = Annotated[
    HeatConductance | None,
    "Heat conductance h A between the reservoir's gas and its wall; blank: natural convection",
    Symbol("h A_r"),
]
SupplyTemperature = Annotated[
    Temperature | None, Symbol("T_s"), "Temperature of the supply's gas; blank: as the reservoir"
]


NARROWEST = 1e-4
"""m: bore below which none is searched."""


@dataclass(frozen=True)
class Fill:
    """What was asked: the fills as columns, their shape, the work they may take, and a further
    column."""

    filling: Filling
    shape: tuple[int, ...]
    effort: Effort
    further: Any

    @property
    def roughness(self) -> Any:
        """m, of the lines."""
        assert self.filling.line
        return self.filling.line.roughness

    def shaped(self, column: Any) -> Numbers:
        """A column of answers in the shape of what was given."""
        return np.asarray(column).reshape(self.shape)


def columns(
    gas: properties.Gas,
    reservoir_volume: Numbers,
    reservoir_pressure: Numbers,
    vessel_volume: Numbers,
    pressure_from: Numbers,
    pressure_to: Numbers,
    bore: Numbers,
    length: Numbers,
    fittings_k: Numbers,
    supply_flow: Numbers,
    temperature: Numbers,
    process: str,
    vessel_process: str,
    vessel_temperature: Numbers | None,
    wall_temperature: Numbers | None,
    vessel_ha: Numbers | None,
    reservoir_ha: Numbers | None,
    supply_temperature: Numbers | None,
    roughness: Numbers,
    valve_kv: Numbers | None,
    xt: Numbers,
    further: Numbers = 0.0,
) -> Fill:
    """Backfills as columns, refused where they are none."""
    before = temperature if vessel_temperature is None else vessel_temperature
    wall = before if wall_temperature is None else wall_temperature
    numbers = (
        reservoir_volume, reservoir_pressure, vessel_volume, pressure_from, pressure_to,
        bore, length, fittings_k, supply_flow, temperature, before, wall,
        np.nan if vessel_ha is None else vessel_ha,
        np.nan if reservoir_ha is None else reservoir_ha,
        temperature if supply_temperature is None else supply_temperature,
        roughness, gas_dynamics.NO_VALVE if valve_kv is None else valve_kv, xt, further,
    )  # fmt: skip
    spread = np.broadcast_arrays(*(np.asarray(number, float) for number in numbers))
    (
        volume, full, vessel, low, high, bore, length, fittings, supply, kelvin, before, wall,
        vessel_ha, reservoir_ha, supplied, rough, kv, choking, last,
    ) = (column.reshape(-1).copy() for column in spread)  # fmt: skip
    _refuse(gas, full, low, high, wall, rough, bore)
    gas_before = wall if vessel_process == filling.ISOTHERMAL else before
    fills = Filling(
        gas,
        Space(volume, full, kelvin, kelvin, reservoir_ha, process),
        Space(vessel, low, gas_before, wall, vessel_ha, vessel_process),
        high,
        Line(bore, length, fittings, rough, kv, choking),
        supply,
        supplied,
        np.zeros_like(high),
    )
    return Fill(fills, spread[0].shape, Effort(len(high)), last)


def _refuse(
    gas: properties.Gas, full: Any, low: Any, high: Any, wall: Any, rough: Any, bore: Any
) -> None:
    refuse_rows(
        high <= low,
        "pressure_to",
        "is not above pressure_from; a backfill raises the pressure: are the two swapped?",
    )
    refuse_rows(full <= 0, "reservoir_pressure", "no gas flows out of a vacuum")
    refuse_rows(
        rough > gas_dynamics.ROUGHEST * bore,
        "roughness",
        "is more than 5 % of the bore, where the friction factor is not known; a fine tube is "
        "smooth: give its own roughness (drawn tube 0.0015 mm)",
    )
    refuse_rows(
        properties.too_hot(gas, wall),
        "wall_temperature",
        lambda row: (
            f"{wall[row] - 273.15:.4g} °C is hotter than the equation of state of {gas} "
            f"reaches, {properties.hottest(gas) - 273.15:.0f} °C; give the temperature of the gas "
            "that leaves the load, or a lower one with a larger vessel_ha"
        ),
    )


def show(fills: Filling, ends: Ends) -> None:
    """The working of a backfill: its start, how it was integrated, its end."""
    if not is_recorded():
        return
    start = moment(fills, np.zeros((len(ends.time), 1)), fills.start[:, None])
    end = moment(fills, ends.time[:, None], ends.state[:, None])
    for when, at in (("at the start", start), ("at the end", end)):
        step(f"gas in the vessel {when}", "n_v", _last(at.held), "mol")
        step(f"gas in the reservoir {when}", "n_r", _last(at.stored), "mol")
        step(f"temperature in the vessel {when}", "T_v", _last(at.vessel_temperature), "K")
        step(f"temperature in the reservoir {when}", "T_r", _last(at.reservoir_temperature), "K")
        step(f"pressure in the reservoir {when}", "p_r", _last(at.reservoir_pressure), "Pa")
        step(f"flow {when}", "Q_n", _last(at.flow), "mol/s")
    step("evaluations of the rates", "", ends.calls)
    step("time", "t", _one(ends.time), "s")


def _last(column: Any) -> Any:
    return _one(column[:, 0])


def _one(column: Any) -> Any:
    return column if len(column) > 1 else float(column[0])


@worksheet_function(
    equation=EQUATION,
    sources=SOURCES,
    example=('GAS_BACKFILL_TIME("argon", 10, 16, 2.5, "0.01 mbar", 6, 25, 6, 8)', "31.85 s"),
    cautions=CAUTIONS,
    integrates=True,
)
def backfill_time(
    gas: GasArgument,
    reservoir_volume: ReservoirVolume,
    reservoir_pressure: ReservoirPressure,
    vessel_volume: VesselVolume,
    pressure_from: PressureFrom,
    pressure_to: PressureTo,
    bore: Bore,
    length: LineLength,
    fittings_k: LossCoefficient = 0.0,
    supply_flow: SupplyFlow = 0.0,
    temperature: ReservoirTemperature = ROOM,
    process: ReservoirExchange = "wall",
    vessel_process: VesselExchange = "wall",
    vessel_temperature: VesselTemperature = None,
    wall_temperature: WallTemperature = None,
    vessel_ha: VesselConductance = None,
    reservoir_ha: ReservoirConductance = None,
    supply_temperature: SupplyTemperature = None,
    roughness: Roughness = STEEL,
    valve_kv: ValveKv = None,
    xt: ChokingRatio = 0.7,
) -> Annotated[Seconds, "Time until the vessel is at pressure_to"]:
    """Time that a reservoir takes to backfill a vessel through a line.

    Takes m³, Pa, m, mol/s, K, W/K and Kv, scalars or arrays; gives s. Raises OutOfRangeError where
    the vessel's pressures are swapped or the wall is too hot or too rough, NoSolutionError where
    reservoir and vessel equalise before pressure_to, StateError where a state is not gas.
    """
    fill = columns(
        gas, reservoir_volume, reservoir_pressure, vessel_volume, pressure_from, pressure_to,
        bore, length, fittings_k, supply_flow, temperature, process, vessel_process,
        vessel_temperature, wall_temperature, vessel_ha, reservoir_ha, supply_temperature,
        roughness, valve_kv, xt,
    )  # fmt: skip
    ends = filling.run(fill.filling, fill.effort)
    show(fill.filling, ends)
    return fill.shaped(ends.time)


TIME = Quantity("t", "Time", kind=kinds.TIME, unit="s")
PRESSURE = Quantity("p", "Pressure", kind=kinds.PRESSURE, unit="bar(a)")
FLOW = Quantity("Q_n", "Flow", kind=kinds.FLOW, unit="Nm3/h")
TEMPERATURE = Quantity("T", "Temperature", kind=kinds.TEMPERATURE, unit="degC")
CONDUCTANCE = Quantity("h A", "Heat conductance of vessel", kind=kinds.HEAT_CONDUCTANCE, unit="W/K")
AMOUNT = Quantity("n", "Gas", kind=kinds.AMOUNT, unit="Nm3")
CURVE = Columns(
    (
        Column("Time", TIME),
        Column("Vessel pressure", PRESSURE),
        Column("Reservoir pressure", PRESSURE),
        Column("Flow", FLOW),
        Column("Choked"),
        Column("Vessel temperature", TEMPERATURE),
        Column("Reservoir temperature", TEMPERATURE),
        Column("Vessel gas", AMOUNT),
        Column("Reservoir gas", AMOUNT),
        Column("Heat conductance", CONDUCTANCE),
    ),
    "Course of the backfill, from the start to pressure_to at equal steps of time",
)


@worksheet_function(
    equation=EQUATION,
    sources=SOURCES,
    example=(
        'GAS_BACKFILL_CURVE("argon", 10, 16, 2.5, "0.01 mbar", 6, 25, 6, 8)',
        "51 rows",
    ),
    cautions=CAUTIONS,
)
def backfill_curve(
    gas: GasArgument,
    reservoir_volume: ReservoirVolume,
    reservoir_pressure: ReservoirPressure,
    vessel_volume: VesselVolume,
    pressure_from: PressureFrom,
    pressure_to: PressureTo,
    bore: Bore,
    length: LineLength,
    fittings_k: LossCoefficient = 0.0,
    supply_flow: SupplyFlow = 0.0,
    temperature: ReservoirTemperature = ROOM,
    process: ReservoirExchange = "wall",
    vessel_process: VesselExchange = "wall",
    vessel_temperature: VesselTemperature = None,
    wall_temperature: WallTemperature = None,
    vessel_ha: VesselConductance = None,
    reservoir_ha: ReservoirConductance = None,
    supply_temperature: SupplyTemperature = None,
    roughness: Roughness = STEEL,
    valve_kv: ValveKv = None,
    xt: ChokingRatio = 0.7,
    points: Points = 50,
) -> Annotated[list[list[Any]], CURVE]:
    """Course of a backfill from a reservoir through a line, to be charted.

    Takes what backfill_time takes, one value each, and the number of points; gives rows of s, Pa,
    Pa, mol/s, whether the line is choked, K, K, mol, mol and W/K. Raises what backfill_time raises.
    """
    fill = columns(
        gas, reservoir_volume, reservoir_pressure, vessel_volume, pressure_from, pressure_to,
        bore, length, fittings_k, supply_flow, temperature, process, vessel_process,
        vessel_temperature, wall_temperature, vessel_ha, reservoir_ha, supply_temperature,
        roughness, valve_kv, xt,
    )  # fmt: skip
    recorded = Recorded()
    ends = filling.run(fill.filling, fill.effort, recorded)
    show(fill.filling, ends)
    times = np.linspace(0.0, ends.time[0], int(points))
    states = recorded.at(times)
    states[-1] = ends.state[0]
    return _rows(moment(fill.filling, times[None], states[None]))


def _rows(course: End) -> list[list[Any]]:
    columns = (
        course.time, course.vessel_pressure, course.reservoir_pressure, course.flow, course.choked,
        course.vessel_temperature, course.reservoir_temperature, course.held, course.stored,
    )  # fmt: skip
    passing = [None if np.isnan(each) else each for each in course.conductance[0].tolist()]
    told = [*(column[0].tolist() for column in columns), passing]
    return list(map(list, zip(*told, strict=True)))


@worksheet_function(
    equation="t(d) = time, with t(d) by GAS_BACKFILL_TIME",
    sources=SOURCES,
    example=('GAS_LINE_BORE("argon", 10, 16, 2.5, "0.01 mbar", 6, "30 s", 6, 8)', "25.66 mm"),
    cautions=CAUTIONS,
    integrates=True,
)
def line_bore(
    gas: GasArgument,
    reservoir_volume: ReservoirVolume,
    reservoir_pressure: ReservoirPressure,
    vessel_volume: VesselVolume,
    pressure_from: PressureFrom,
    pressure_to: PressureTo,
    time: Annotated[Seconds, "Time that the backfill may take"],
    length: LineLength,
    fittings_k: LossCoefficient = 0.0,
    supply_flow: SupplyFlow = 0.0,
    temperature: ReservoirTemperature = ROOM,
    process: ReservoirExchange = "wall",
    vessel_process: VesselExchange = "wall",
    vessel_temperature: VesselTemperature = None,
    wall_temperature: WallTemperature = None,
    vessel_ha: VesselConductance = None,
    reservoir_ha: ReservoirConductance = None,
    supply_temperature: SupplyTemperature = None,
    roughness: Roughness = STEEL,
    valve_kv: ValveKv = None,
    xt: ChokingRatio = 0.7,
) -> Annotated[Bore, "Smallest inner diameter that meets the time"]:
    """Smallest bore of a line with which a backfill meets a time.

    Takes what backfill_time takes, with s in place of the bore; gives m. Raises what backfill_time
    raises, and NoSolutionError where no bore meets the time.
    """
    refuse_rows(np.asarray(time) <= 0, "time", "must be above 0")
    fill = columns(
        gas, reservoir_volume, reservoir_pressure, vessel_volume, pressure_from, pressure_to,
        1.0, length, fittings_k, supply_flow, temperature, process, vessel_process,
        vessel_temperature, wall_temperature, vessel_ha, reservoir_ha, supply_temperature,
        roughness, valve_kv, xt, time,
    )  # fmt: skip
    narrowest = np.maximum(fill.roughness / gas_dynamics.ROUGHEST, NARROWEST)
    bore = sizing.smallest_bore(fill.filling, fill.further, narrowest, fill.effort)
    found = sizing.with_bore(fill.filling, bore)
    if is_recorded():
        show(found, filling.run(found, fill.effort))
    step("search", "", "secants on ln t over ln d between bores that bracket the time, to 1e-7")
    return fill.shaped(bore)
