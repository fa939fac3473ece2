"""Gas lines: flow with friction and choking, pressure drop, and backfills through a line."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations import filling, gas_dynamics, valve
from gasfuncs.calculations.filling import Filling
from gasfuncs.calculations.gas_dynamics import AtRest, Flowing, Line
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE, REFERENCE_CONDITIONS
from gasfuncs.definition import (
    Column,
    Columns,
    Symbol,
    refuse,
    step,
    unreachable,
    worksheet_function,
)
from gasfuncs.definition.terms import Quantity
from gasfuncs.definition.vocabulary import (
    Amount,
    Bore,
    ChokingRatio,
    Flow,
    FlowCoefficient,
    GasArgument,
    LineLength,
    LossCoefficient,
    Numbers,
    Points,
    Pressure,
    PressureDifference,
    Process,
    Roughness,
    Seconds,
    Temperature,
    Volume,
)
from gasfuncs.units import kinds
from gasfuncs.units.reference import NORMAL

STEEL = 4.5e-5
"""m: roughness of commercial steel pipe."""

ROOM = 293.15
"""K."""

NARROWEST = STEEL / gas_dynamics.ROUGHEST
"""m: bore of steel pipe below which the friction factor is not known."""

CONTINUUM = 0.01
"""Largest Knudsen number (mean free path over bore) of viscous flow."""

FANNO = (
    "Adiabatic flow with friction in a duct of constant area (Fanno): Shapiro, Dynamics and "
    "Thermodynamics of Compressible Fluid Flow, vol. 1, 1953, ch. 6; fittings as f L/d + K as in "
    "Levenspiel, Engineering Flow and Heat Exchange, ch. 3"
)
FRICTION = (
    "Friction factor by Colebrook in the solution of Clamond (Ind. Eng. Chem. Res. 48, 2009) and "
    "64/Re where laminar, from the library fluids; straight in log-log from Re 2040 to 4000"
)
INTEGRATION = "SciPy solve_ivp, LSODA (Petzold 1983), with a supply BDF; tolerance 1e-10 a step"
LINE_EQUATION = (
    "w = A √(p₁ ρ₁) √k M₁ (1 + (k-1)/2 · M₁²)^(-(k+1)/(2(k-1))); f L/d + K = F(M₁) - F(M₂), "
    "F(M) = (1 - M²)/(k M²) + (k+1)/(2k) ln((k+1) M² / (2 + (k-1) M²)); "
    "p(M₂) = p₂, or M₂ = 1 where choked"
)
IDEAL_ALONG_THE_LINE = (
    "Along the line the gas is taken as ideal, with k and Z of the gas at rest upstream: against "
    "the real gas in a choked nozzle the flow is right to 0.3 % up to 20 bar and to 0.8 % up to "
    "50 bar (at 20 °C; carbon dioxide to 0.3 % up to 20 bar, no further)."
)
STILL_UPSTREAM = (
    "pressure_up is that of gas at rest, as in a reservoir; add no exit loss to fittings_k, since "
    "pressure_down is that of the vessel the line ends in."
)
VALVES_CHOKE = (
    "A valve chokes earlier than its loss coefficient tells when it takes most of the pressure; "
    "ask its maker for the factor xT."
)
REAL_BACKFILL = (
    "The vessel's gas is taken at the temperature: a cold vessel that warms its fill rises further "
    "afterwards, and the gas is warm at first. A real reservoir lies between the two processes."
)
STEADY_SUPPLY = (
    "The supply flows all the time; where it outruns the line the reservoir rises above its "
    "starting pressure. Its regulator and relief device decide what really happens."
)


def _each_float(values: tuple[Any, ...]) -> tuple[Any, ...]:
    """Single numbers as floats: the equations then run without arrays."""
    return tuple(float(v) if np.ndim(v) == 0 else v for v in values)


def _at_rest(gas: properties.Gas, pressure: Numbers, temperature: Numbers) -> AtRest:
    refuse(np.asarray(pressure) <= 0, "pressure_up", "no gas flows out of a vacuum")
    states = (
        pressure,
        properties.density(gas, pressure, temperature),
        properties.isentropic_exponent(gas, pressure, temperature),
        properties.viscosity(gas, pressure, temperature),
    )
    return AtRest(*_each_float(states))


def _line(bore: Numbers, length: Numbers, fittings_k: Numbers, roughness: Numbers) -> Line:
    refuse(
        np.asarray(roughness) > gas_dynamics.ROUGHEST * np.asarray(bore),
        "roughness",
        "is more than 5 % of the bore, where the friction factor is not known; a fine tube is "
        "smooth: give its own roughness (drawn tube 0.0015 mm)",
    )
    return Line(*_each_float((bore, length, fittings_k, roughness)))


def _steel_line(bore: Numbers, length: Numbers, fittings_k: Numbers) -> Line:
    refuse(
        np.asarray(bore) < NARROWEST,
        "bore",
        f"is below {NARROWEST * 1e3:g} mm, where the friction in steel pipe is not known",
    )
    return _line(bore, length, fittings_k, STEEL)


def _refuse_molecular(line: Line, gas: AtRest) -> None:
    path = np.sqrt(np.pi / 2) * gas.viscosity / gas.mass_flux
    refuse(
        path > CONTINUUM * np.asarray(line.bore),
        "pressure_up",
        "is so low that the gas flows in part molecule by molecule; GAS_LINE_CONDUCTANCE answers "
        "for a vacuum",
    )


def _show(gas: AtRest, flowing: Flowing, most: Flowing, when: str = "") -> None:
    """The working of one flow."""
    step(f"density upstream{when}", "ρ₁", gas.density, "kg/m³")
    step(f"isentropic exponent upstream{when}", "k", gas.exponent)
    step(f"viscosity upstream{when}", "μ", gas.viscosity, "Pa·s")
    step(f"mass flow{when}", "w", flowing.mass_flow, "kg/s")
    step(f"Reynolds number{when}", "Re", flowing.reynolds)
    step(f"friction factor (Darcy){when}", "f", flowing.friction)
    step(f"total resistance{when}", "f L/d + K", flowing.resistance)
    step(f"Mach number at the inlet{when}", "M₁", flowing.inlet**0.5)
    step(f"Mach number at the outlet{when}", "M₂", flowing.outlet**0.5)
    step(f"pressure at the outlet{when}", "p₂", flowing.outlet_pressure, "Pa")
    step(f"critical pressure: choked at or below{when}", "p*", most.outlet_pressure, "Pa")
    if np.ndim(flowing.outlet) == 0:
        step(f"choked{when}", "", "yes" if flowing.choked else "no")


@worksheet_function(
    equation=LINE_EQUATION,
    sources=(FANNO, FRICTION, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_LINE_FLOW("argon", "12 bar(g)", "2 bar(a)", 25, 6, 8)', "1259 Nm3/h"),
    cautions=(STILL_UPSTREAM, IDEAL_ALONG_THE_LINE, VALVES_CHOKE),
)
def line_flow(
    gas: GasArgument,
    pressure_up: Annotated[Pressure, "Pressure of the gas at rest upstream of the line"],
    pressure_down: Annotated[Pressure, "Pressure that the line ends in"],
    bore: Bore,
    length: LineLength,
    fittings_k: LossCoefficient = 0.0,
    temperature: Annotated[Temperature, "Temperature of the gas upstream"] = ROOM,
    roughness: Roughness = STEEL,
) -> Annotated[Flow, "Flow through the line"]:
    """Flow through a line between two pressures: adiabatic, with friction and choking.

    Takes Pa, m and K, scalars or arrays; gives mol/s. Raises OutOfRangeError where pressure_down
    is above pressure_up, the wall is too rough or the gas too thin, StateError where the state
    upstream is not gas.
    """
    refuse(
        np.asarray(pressure_down) > pressure_up,
        "pressure_down",
        "is above pressure_up: are the two swapped?",
    )
    line = _line(bore, length, fittings_k, roughness)
    rest = _at_rest(gas, pressure_up, temperature)
    _refuse_molecular(line, rest)
    (down,) = _each_float((pressure_down,))
    flowing = gas_dynamics.flow(line, rest, down)
    _show(rest, flowing, gas_dynamics.choked_flow(line, rest))
    return flowing.mass_flow / properties.molar_mass(gas)


@worksheet_function(
    equation=LINE_EQUATION.replace("p(M₂) = p₂, or M₂ = 1 where choked", "Δp = p₁ - p(M₂)"),
    sources=(FANNO, FRICTION, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_LINE_DROP("argon", 400, "12 bar(g)", 25, 20, 8)', "1.096 bar"),
    cautions=(STILL_UPSTREAM, IDEAL_ALONG_THE_LINE, VALVES_CHOKE),
)
def line_drop(
    gas: GasArgument,
    flow: Flow,
    pressure_up: Annotated[Pressure, "Pressure of the gas at rest upstream of the line"],
    bore: Bore,
    length: LineLength,
    fittings_k: LossCoefficient = 0.0,
    temperature: Annotated[Temperature, "Temperature of the gas upstream"] = ROOM,
    roughness: Roughness = STEEL,
) -> Annotated[PressureDifference, "Pressure drop from the gas at rest to the line's end"]:
    """Pressure drop of a flow through a line: adiabatic, with friction.

    Takes mol/s, Pa, m and K, scalars or arrays; gives Pa. Raises NoSolutionError where the line
    chokes at less flow, OutOfRangeError where the wall is too rough or the gas too thin,
    StateError where the state upstream is not gas.
    """
    line = _line(bore, length, fittings_k, roughness)
    rest = _at_rest(gas, pressure_up, temperature)
    _refuse_molecular(line, rest)
    most = gas_dynamics.choked_flow(line, rest)
    wanted = np.asarray(flow) * properties.molar_mass(gas)
    allowed = most.mass_flow / properties.molar_mass(gas)
    normal = 3600 / properties.reference_molar_density(gas, NORMAL)
    unreachable(
        wanted > most.mass_flow * (1 + gas_dynamics.SONIC),
        "flow",
        f"is more than the line can pass: it chokes at {np.min(allowed) * normal:.4g} Nm3/h; take "
        "a larger bore or a higher pressure_up",
    )
    (wanted,) = _each_float((np.minimum(wanted, most.mass_flow * (1 - gas_dynamics.SONIC)),))
    flowing = gas_dynamics.flow_of(line, rest, wanted)
    _show(rest, flowing, most)
    return np.where(np.asarray(flow) > 0, flowing.pressure_drop, 0.0)


@worksheet_function(
    equation="K = 2 Δp A² / (ρ Q²) with Q = Kv in m³/h of water, Δp = 1 bar; Kv = 0.865 Cv",
    sources=(
        "IEC 60534-1: the flow coefficient Kv is the flow of water in m³/h at a pressure drop of "
        "1 bar; Cv is that in US gal/min at 1 psi",
        "Crane TP-410: K = 891 d⁴/Cv², d in inches",
    ),
    example=('GAS_VALVE_LOSS("20 Cv", 25)', "2.089"),
    cautions=(VALVES_CHOKE,),
)
def valve_loss(
    flow_coefficient: FlowCoefficient,
    bore: Annotated[Bore, "Inner diameter of the line that K is for"],
) -> Annotated[LossCoefficient, "Loss coefficient K, to be added into fittings_k"]:
    """Loss coefficient of a valve from its flow coefficient Kv or Cv.

    Takes Kv in m³/h and m, scalars or arrays; gives a number.
    """
    area = np.pi / 4 * np.asarray(bore) ** 2
    speed = np.asarray(flow_coefficient) / 3600 / area
    step("area of the line", "A", area, "m²")
    step("speed of the water in the line at 1 bar drop", "v", speed, "m/s")
    return 2 * 1e5 / (valve.WATER * speed**2)


@worksheet_function(
    equation=(
        "w = N₆ · Kv · Y · √(x · p₁ · ρ₁), x = (p₁ - p₂)/p₁ up to k/1.4 · xT, "
        "Y = 1 - x/(3 · k/1.4 · xT)"
    ),
    sources=(
        "IEC 60534-2-1, compressible flow without reducers, turbulent; k is the isentropic "
        "exponent of the real gas at the inlet",
        EQUATION_OF_STATE,
        REFERENCE_CONDITIONS,
    ),
    example=('GAS_VALVE_FLOW("argon", 20, 12, 2, 20)', "3349 Nm3/h"),
    cautions=(
        "xT is the maker's and changes with the opening: globe about 0.7, ball and butterfly wide "
        "open 0.15 to 0.4 (common practice).",
        "Reducers beside the valve lower both coefficients.",
    ),
)
def valve_flow(
    gas: GasArgument,
    kv: FlowCoefficient,
    pressure_from: Annotated[Pressure, "Pressure before the valve", Symbol("p₁")],
    pressure_to: Annotated[Pressure, "Pressure after the valve", Symbol("p₂")],
    temperature: Annotated[Temperature, "Temperature of the gas before the valve"] = ROOM,
    xt: ChokingRatio = 0.7,
) -> Annotated[Flow, "Flow through the valve"]:
    """Flow of gas through a valve between two pressures, choking included.

    Takes Kv in m³/h, Pa and K, scalars or arrays; gives mol/s. Raises OutOfRangeError where the
    pressures are swapped or nothing flows out of a vacuum, StateError where the state before the
    valve is not gas.
    """
    refuse(
        np.asarray(pressure_to) > pressure_from,
        "pressure_to",
        "is above pressure_from; gas flows to the lower pressure: are the two swapped?",
    )
    refuse(np.asarray(pressure_from) <= 0, "pressure_from", "no gas flows out of a vacuum")
    rho = properties.density(gas, pressure_from, temperature)
    exponent = properties.isentropic_exponent(gas, pressure_from, temperature)
    most = valve.choking_ratio(exponent, xt)
    flow = valve.mass_flow(kv, pressure_from, rho, exponent, pressure_to, xt)
    step("density before the valve", "ρ₁", rho, "kg/m³")
    step("isentropic exponent before the valve", "k", exponent)
    step("chokes from this share of p₁ lost", "k/1.4 · xT", most)
    step("mass flow", "w", flow, "kg/s")
    return np.asarray(flow / properties.molar_mass(gas))


@worksheet_function(
    equation="n = π/4 · d² · L · ρ_m(p, T)",
    sources=(MASS_BALANCE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_LINE_CONTENTS("argon", 54.5, 120, "12 bar(g)", 20)', "3.376 Nm3"),
)
def line_contents(
    gas: GasArgument, bore: Bore, length: LineLength, pressure: Pressure, temperature: Temperature
) -> Annotated[Amount, "Gas in the line"]:
    """Gas that a line holds.

    Takes m, Pa and K, scalars or arrays; gives mol. Raises StateError where the state is not gas.
    """
    volume = np.pi / 4 * np.asarray(bore) ** 2 * length
    molar = properties.molar_density(gas, pressure, temperature)
    step("volume of the line", "V", volume, "m³")
    step("molar density by the equation of state", "ρ_m", molar, "mol/m³")
    return volume * molar


def _filling(
    gas: properties.Gas,
    reservoir_volume: Numbers,
    reservoir_pressure: Numbers,
    vessel_volume: Numbers,
    pressure_from: Numbers,
    pressure_to: Numbers,
    line: Line,
    supply_flow: Numbers,
    temperature: Numbers,
    process: str,
) -> Filling:
    """A backfill, refused where it is none."""
    refuse(
        pressure_to <= pressure_from,
        "pressure_to",
        "is not above pressure_from; a backfill raises the pressure: are the two swapped?",
    )
    refuse(
        np.asarray(reservoir_pressure) <= 0, "reservoir_pressure", "no gas flows out of a vacuum"
    )
    numbers = (
        reservoir_volume, reservoir_pressure, vessel_volume, pressure_from, pressure_to,
        supply_flow, temperature,
    )  # fmt: skip
    volume, full, vessel, low, high, supply, kelvin = _each_float(numbers)
    backfill = Filling(
        gas, volume, full, vessel, low, high, line, supply, kelvin, process == "adiabatic"
    )
    refuse(backfill.needed <= 0, "pressure_to", "is no more than rounding above pressure_from")
    return backfill


def _show_filling(backfill: Filling, solution: Any) -> None:
    """The working of a backfill: its start, how it was integrated, its end."""
    step("gas let into the vessel", "Δn", backfill.needed, "mol")
    step("gas in the reservoir before", "n_r", backfill.stored, "mol")
    first = backfill.at(0.0, backfill.start)
    if first.flowing:
        molar = backfill.reservoir_density(0.0, backfill.start)
        rest = backfill.at_rest(molar, first.reservoir)
        most = gas_dynamics.choked_flow(backfill.line, rest)
        _show(rest, first.flowing, most, ", at the start")
    step("method", "", f"{backfill.method} of scipy.integrate.solve_ivp")
    step("relative tolerance of a step", "", filling.TOLERANCE)
    step("evaluations of the rates", "", solution.nfev)
    step("end condition", "", "the gas let in makes pressure_to in the vessel")
    time, state = solution.t_events[0][0], solution.y_events[0][0]
    last = backfill.at(time, state)
    step("pressure in the reservoir at the end", "p_r2", last.reservoir.pressure, "Pa")
    step("temperature in the reservoir at the end", "T_r2", backfill.kelvin(state), "K")
    step("flow at the end", "Q_n2", backfill.molar_flow(last), "mol/s")
    step("time", "t", time, "s")


BACKFILL_EQUATION = (
    "dn_v/dt = w(p_r, p_v)/M through the line as in GAS_LINE_FLOW; dn_r/dt = s - dn_v/dt; "
    "p = p(n/V, T); adiabatic: n c_v dT/dt = s (h_s - h) + (s - w/M) T (∂p/∂T)_ρ / ρ"
)
BACKFILL_SOURCES = (FANNO, FRICTION, MASS_BALANCE, INTEGRATION, EQUATION_OF_STATE)
BACKFILL_CAUTIONS = (
    REAL_BACKFILL, STEADY_SUPPLY, STILL_UPSTREAM, IDEAL_ALONG_THE_LINE, VALVES_CHOKE,
)  # fmt: skip

ReservoirVolume = Annotated[Volume, "Volume of the reservoir"]
ReservoirPressure = Annotated[Pressure, "Pressure of the reservoir before the backfill"]
VesselVolume = Annotated[Volume, "Volume of the vessel that is filled"]
PressureFrom = Annotated[Pressure, "Pressure in the vessel before the backfill"]
PressureTo = Annotated[Pressure, "Pressure in the vessel after the backfill"]
SupplyFlow = Annotated[Flow, "Flow with which the supply refills the reservoir meanwhile"]
BackfillTemperature = Annotated[
    Temperature, "Temperature of the vessel, the supply, and the reservoir before the backfill"
]


@worksheet_function(
    equation=BACKFILL_EQUATION,
    sources=BACKFILL_SOURCES,
    example=('GAS_BACKFILL_TIME("argon", 10, 16, 2.5, "0.01 mbar", 6, 25, 6, 8)', "34.04 s"),
    cautions=BACKFILL_CAUTIONS,
    scalar=True,
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
    temperature: BackfillTemperature = ROOM,
    process: Process = "isothermal",
) -> Annotated[Seconds, "Time until the vessel is at pressure_to"]:
    """Time that a reservoir takes to backfill a vessel through a line of steel pipe.

    Takes m³, Pa, m, mol/s and K, one value each; gives s. Raises OutOfRangeError where the
    vessel's pressures are swapped, NoSolutionError where reservoir and vessel equalise before
    pressure_to, StateError where a state is not gas.
    """
    backfill = _filling(
        gas, reservoir_volume, reservoir_pressure, vessel_volume, pressure_from, pressure_to,
        _steel_line(bore, length, fittings_k), supply_flow, temperature, process,
    )  # fmt: skip
    solution = backfill.integrate()
    _show_filling(backfill, solution)
    return float(solution.t_events[0][0])


TIME = Quantity("t", "Time", kind=kinds.TIME, unit="s")
PRESSURE = Quantity("p", "Pressure", kind=kinds.PRESSURE, unit="bar(a)")
FLOW = Quantity("Q_n", "Flow", kind=kinds.FLOW, unit="Nm3/h")
CURVE = Columns(
    (
        Column("Time", TIME),
        Column("Vessel pressure", PRESSURE),
        Column("Reservoir pressure", PRESSURE),
        Column("Flow", FLOW),
        Column("Choked"),
    ),
    "Course of the backfill, from the start to pressure_to at equal steps of time",
)


@worksheet_function(
    equation=BACKFILL_EQUATION,
    sources=BACKFILL_SOURCES,
    example=(
        'GAS_BACKFILL_CURVE("argon", 10, 16, 2.5, "0.01 mbar", 6, 25, 6, 8, 0, 20, , 30)',
        "31 rows",
    ),
    cautions=BACKFILL_CAUTIONS,
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
    temperature: BackfillTemperature = ROOM,
    process: Process = "isothermal",
    points: Points = 50,
) -> Annotated[list[list[Any]], CURVE]:
    """Course of a backfill from a reservoir through a line of steel pipe, to be charted.

    Takes m³, Pa, m, mol/s and K; gives rows of s, Pa, Pa, mol/s and whether the line is choked.
    Raises what backfill_time raises.
    """
    backfill = _filling(
        gas, reservoir_volume, reservoir_pressure, vessel_volume, pressure_from, pressure_to,
        _steel_line(bore, length, fittings_k), supply_flow, temperature, process,
    )  # fmt: skip
    solution = backfill.integrate(dense_output=True)
    _show_filling(backfill, solution)
    times = np.linspace(0.0, solution.t_events[0][0], int(points))
    return [_row(backfill, time, solution.sol(time)) for time in times.tolist()]


def _row(backfill: Filling, time: float, state: Any) -> list[Any]:
    instant = backfill.at(time, state)
    choked = instant.flowing is not None and bool(instant.flowing.choked)
    flow = backfill.molar_flow(instant)
    return [time, instant.vessel_pressure, instant.reservoir.pressure, flow, choked]


@worksheet_function(
    equation="t(d) = time, with t(d) by GAS_BACKFILL_TIME",
    sources=BACKFILL_SOURCES,
    example=('GAS_LINE_BORE("argon", 10, 16, 2.5, "0.01 mbar", 6, "30 s", 6, 8)', "26.47 mm"),
    cautions=BACKFILL_CAUTIONS,
    scalar=True,
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
    temperature: BackfillTemperature = ROOM,
    process: Process = "isothermal",
) -> Annotated[Bore, "Smallest inner diameter that meets the time"]:
    """Smallest bore of a line of steel pipe with which a backfill meets a time.

    Takes m³, Pa, s, m, mol/s and K, one value each; gives m. Raises OutOfRangeError where the
    vessel's pressures are swapped, NoSolutionError where no bore meets the time, StateError
    where a state is not gas.
    """
    refuse(time <= 0, "time", "must be above 0")
    backfill = _filling(
        gas, reservoir_volume, reservoir_pressure, vessel_volume, pressure_from, pressure_to,
        _steel_line(1.0, length, fittings_k),
        supply_flow, temperature, process,
    )  # fmt: skip
    bore = filling.smallest_bore(backfill, float(time), NARROWEST)
    found = filling.with_bore(backfill, bore)
    _show_filling(found, found.integrate())
    step("search", "", "Brent's method on ln d between two bores that bracket the time, to 1e-9")
    return bore
