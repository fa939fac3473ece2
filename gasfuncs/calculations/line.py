"""Gas lines: flow with friction and choking, pressure drop, valves, contents."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from gasfuncs import properties
from gasfuncs.calculations import gas_dynamics, valve
from gasfuncs.calculations.gas_dynamics import AtRest, Flowing, Line
from gasfuncs.calculations.sources import EQUATION_OF_STATE, MASS_BALANCE, REFERENCE_CONDITIONS
from gasfuncs.definition import Symbol, refuse, step, unreachable, worksheet_function
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
    Pressure,
    PressureDifference,
    Roughness,
    Temperature,
    Upstream,
)
from gasfuncs.units.reference import NORMAL

STEEL = 4.5e-5
"""m: roughness of commercial steel pipe."""

ROOM = 293.15
"""K."""

CONTINUUM = 0.01
"""Largest Knudsen number (mean free path over bore) of viscous flow."""

FANNO = (
    "Adiabatic flow with friction in a duct of constant area (Fanno): Shapiro, Dynamics and "
    "Thermodynamics of Compressible Fluid Flow, vol. 1, 1953, ch. 6; fittings as f L/d + K as in "
    "Levenspiel, Engineering Flow and Heat Exchange, ch. 3"
)
FRICTION = (
    "Friction factor by Colebrook in the solution of Clamond (Ind. Eng. Chem. Res. 48, 2009) and "
    "64/Re where laminar; straight in log-log from Re 2040 to 4000"
)
VALVE = "Valve at the line's end: IEC 60534-2-1, compressible flow without reducers, turbulent"
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
VALVE_AT_THE_END = (
    "A valve in fittings_k chokes earlier than its K tells when it takes most of the pressure: "
    "give it as valve_kv with its maker's xT; it stands at the line's end."
)

ValveKv = Annotated[
    FlowCoefficient | None,
    "Flow coefficient of a valve at the line's end, in place of its K; blank: none",
]


def _at_rest(gas: properties.Gas, pressure: Numbers, temperature: Numbers) -> AtRest:
    refuse(np.asarray(pressure) <= 0, "pressure_up", "no gas flows out of a vacuum")
    return AtRest(
        np.asarray(pressure, float),
        properties.density(gas, pressure, temperature),
        properties.isentropic_exponent(gas, pressure, temperature),
        properties.viscosity(gas, pressure, temperature),
    )


def _line(
    bore: Numbers, length: Numbers, fittings_k: Numbers, roughness: Numbers,
    valve_kv: Numbers | None, xt: Numbers,
) -> Line:  # fmt: skip
    refuse(
        np.asarray(roughness) > gas_dynamics.ROUGHEST * np.asarray(bore),
        "roughness",
        "is more than 5 % of the bore, where the friction factor is not known; a fine tube is "
        "smooth: give its own roughness (drawn tube 0.0015 mm)",
    )
    kv = gas_dynamics.NO_VALVE if valve_kv is None else valve_kv
    return Line(*(np.asarray(x, float) for x in (bore, length, fittings_k, roughness, kv, xt)))


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
    step(f"share of the pressure that the valve takes{when}", "X", flowing.valve_share)
    step(f"pressure at the outlet{when}", "p₂", flowing.outlet_pressure, "Pa")
    step(f"critical pressure: choked at or below{when}", "p*", most.outlet_pressure, "Pa")
    if np.ndim(flowing.choked) == 0:
        step(f"choked{when}", "", "yes" if flowing.choked else "no")


@worksheet_function(
    equation=LINE_EQUATION,
    sources=(FANNO, FRICTION, VALVE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_LINE_FLOW("argon", "12 bar(g)", "2 bar(a)", 25, 6, 8)', "1259 Nm3/h"),
    cautions=(STILL_UPSTREAM, IDEAL_ALONG_THE_LINE, VALVE_AT_THE_END),
)
def line_flow(
    gas: GasArgument,
    pressure_up: Annotated[
        Pressure, Symbol("p₁"), "Pressure of the gas at rest upstream of the line"
    ],
    pressure_down: Annotated[Pressure, Symbol("p₂"), "Pressure that the line ends in"],
    bore: Bore,
    length: LineLength,
    fittings_k: LossCoefficient = 0.0,
    temperature: Annotated[Temperature, "Temperature of the gas upstream"] = ROOM,
    roughness: Roughness = STEEL,
    valve_kv: ValveKv = None,
    xt: ChokingRatio = 0.7,
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
    line = _line(bore, length, fittings_k, roughness, valve_kv, xt)
    rest = _at_rest(gas, pressure_up, temperature)
    _refuse_molecular(line, rest)
    flowing = gas_dynamics.flow(line, rest, np.asarray(pressure_down, float))
    _show(rest, flowing, gas_dynamics.choked_flow(line, rest))
    return flowing.mass_flow / properties.molar_mass(gas)


@worksheet_function(
    equation=LINE_EQUATION.replace("p(M₂) = p₂, or M₂ = 1 where choked", "Δp = p₁ - p(M₂)"),
    sources=(FANNO, FRICTION, VALVE, EQUATION_OF_STATE, REFERENCE_CONDITIONS),
    example=('GAS_LINE_DROP("argon", 400, "12 bar(g)", 25, 20, 8)', "1.096 bar"),
    cautions=(STILL_UPSTREAM, IDEAL_ALONG_THE_LINE, VALVE_AT_THE_END),
)
def line_drop(
    gas: GasArgument,
    flow: Flow,
    pressure_up: Annotated[Pressure, "Pressure upstream: of gas at rest, or in the pipe"],
    bore: Bore,
    length: LineLength,
    fittings_k: LossCoefficient = 0.0,
    temperature: Annotated[Temperature, "Temperature of the gas upstream"] = ROOM,
    roughness: Roughness = STEEL,
    valve_kv: ValveKv = None,
    xt: ChokingRatio = 0.7,
    upstream: Upstream = "at rest",
) -> Annotated[PressureDifference, "Pressure drop to the line's end"]:
    """Pressure drop of a flow through a line: adiabatic, with friction.

    Takes mol/s, Pa, m, K and Kv, scalars or arrays; gives Pa. Raises NoSolutionError where the line
    chokes at less flow, OutOfRangeError where the wall is too rough or the gas too thin,
    StateError where the state upstream is not gas.
    """
    line = _line(bore, length, fittings_k, roughness, valve_kv, xt)
    rest = _at_rest(gas, pressure_up, temperature)
    _refuse_molecular(line, rest)
    most = gas_dynamics.choked_flow(line, rest)
    wanted = np.asarray(flow) * properties.molar_mass(gas)
    if upstream == "in the pipe":
        flowing = gas_dynamics.flow_in_pipe(line, rest, wanted)
        _refuse_choked(flowing.choked, "")
    else:
        allowed = np.min(most.mass_flow / properties.molar_mass(gas))
        normal = allowed * 3600 / properties.reference_molar_density(gas, NORMAL)
        beyond = wanted > most.mass_flow * (1 + gas_dynamics.SONIC)
        _refuse_choked(beyond, f": it chokes at {normal:.4g} Nm3/h")
        wanted = np.minimum(wanted, most.mass_flow * (1 - gas_dynamics.SONIC))
        flowing = gas_dynamics.flow_of(line, rest, wanted)
    _show(rest, flowing, most)
    return flowing.pressure_drop


def _refuse_choked(where: Any, at: str) -> None:
    unreachable(
        where,
        "flow",
        f"is more than the line can pass{at}; take a larger bore or a higher pressure_up",
    )


@worksheet_function(
    equation="K = 2 Δp A² / (ρ Q²) with Q = Kv in m³/h of water, Δp = 1 bar; Kv = 0.865 Cv",
    sources=(
        "IEC 60534-1: the flow coefficient Kv is the flow of water in m³/h at a pressure drop of "
        "1 bar; Cv is that in US gal/min at 1 psi",
        "Crane TP-410: K = 891 d⁴/Cv², d in inches",
    ),
    example=('GAS_VALVE_LOSS("20 Cv", 25)', "2.089"),
    cautions=(VALVE_AT_THE_END,),
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
