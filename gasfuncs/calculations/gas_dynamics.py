"""Adiabatic gas flow with friction in a line of one bore (Fanno flow), with a valve at its end.

The line draws gas at rest, speeds it up without loss at its inlet and takes it through the
resistance N = f L/d + K. With x and y the squared Mach numbers at the pipe's inlet and end,
q = x/y, k the isentropic exponent, a = (k-1)/2 and b = (k+1)/2,

    1 - q + b x ln((q + a x) / (1 + a x)) = k x N                                  (path)
    p/p₀ = √(q / (S (1 + a y))),  S = (1 + a x)^(b/a)                              (pressure)

and the mass flow is A √(p₀ ρ₀) √(k x / S). A valve (IEC 60534-2-1) takes the share X of the
pressure at the pipe's end, with X (1 - X/(3 X_c))² = B k y where B = A² / (Kv² ρ_w / 1 bar) and
X_c = k/1.4 xT; it chokes at X_c. Unknown are x and the end's y, or X where there is a valve: both
equations are nearly straight in them, and Newton's method needs a handful of rounds for columns
of any length. The end cannot go beyond Mach 1 or X_c; a line that is held there is choked. The
friction factor is part of the path, since the Reynolds number follows from the mass flow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations import valve
from gasfuncs.calculations.friction import friction
from gasfuncs.calculations.searching import rounds, settled
from gasfuncs.errors import NoSolutionError

Column = NDArray[np.float64]
Value = float | Column

ROUGHEST = 0.05
"""Largest relative roughness that the Colebrook equation is meant for."""

VACUUM = 1e-9
"""Pressure ratio that stands for a vacuum: every line chokes long before."""

STANDSTILL = 1e-13
"""Share of the pressure that is lost where nothing flows: less cannot be told apart."""

SONIC = 1e-12
"""A flow this close to the choked one, relatively, is the choked one."""

LEAST_RESISTANCE = 1e-12
"""Without any the path has a double root at Mach 1, and this takes nothing from the flow."""

NO_VALVE = math.inf
"""Kv of a line without one."""

MOST_ROUNDS = 60
FEW_ROUNDS = 7
"""From a guess: where it misled, a start of one's own is nearer."""

CLOSE = 1e-7
"""Relative: a round of Newton's method that moved less has left about the square of that."""

ROUNDING = 1e-14
"""Over the share of the pressure that is lost: what rounding alone moves."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line: bore and length in m, loss coefficients, roughness in m; Kv and xT at its end."""

    bore: Value
    length: Value
    fittings_k: Value
    roughness: Value
    valve_kv: Value = NO_VALVE
    xt: Value = 0.7

    @property
    def area(self) -> Value:
        """m²."""
        return math.pi / 4 * self.bore**2


class AtRest(NamedTuple):
    """The gas that a line draws: Pa, kg/m³, isentropic exponent, Pa·s."""

    pressure: Value
    density: Value
    exponent: Value
    viscosity: Value

    @property
    def mass_flux(self) -> Value:
        """√(p ρ), kg/(m² s)."""
        return (self.pressure * self.density) ** 0.5


class Flowing(NamedTuple):
    """What flows: kg/s, squared Mach numbers, Pa at the line's end and lost, Reynolds number, f,
    f L/d + K, the valve's share X of the pressure before it, whether choked."""

    mass_flow: Column
    inlet: Column
    outlet: Column
    outlet_pressure: Column
    pressure_drop: Column
    reynolds: Column
    friction: Column
    resistance: Column
    valve_share: Column
    choked: NDArray[np.bool_]


class Pipe(NamedTuple):
    """What the equations need: k, a, b, L/d, K, relative roughness, Re for each unit of ψ, B k
    (0 without a valve), X_c, the end's limit, whether there is any valve."""

    k: Any
    a: Any
    b: Any
    diameters: Any
    fittings: Any
    roughness: Any
    reynolds: Any
    valve: Any
    choking: Any
    limit: Any
    any_valve: bool


class _Places(NamedTuple):
    """The path's and the pressure's residuals with their slopes in x and z."""

    path: Any
    path_x: Any
    path_z: Any
    pressure: Any
    pressure_x: Any
    pressure_z: Any


Guess = tuple[Column, Column]
"""x and z of a flow much like the one that is sought."""


def flow(line: Line, gas: AtRest, pressure_down: Value) -> Flowing:
    """Flow from gas at rest to a pressure that is not above its own."""
    pipe = _pipe(line, gas)
    lost = 1 - np.maximum(pressure_down / np.asarray(gas.pressure), VACUUM)
    x, z = solve(pipe, np.maximum(lost, STANDSTILL))
    if not np.all(np.isfinite(x)):
        raise NoSolutionError("no flow through the line was found with these inputs")
    return _flowing(line, gas, pipe, x, z, lost)


def choked_flow(line: Line, gas: AtRest) -> Flowing:
    """The most that the line passes; at its outlet pressure or below nothing changes any more."""
    return flow(line, gas, 0.0)


def mass_flow(
    line: Line, gas: AtRest, pressure_down: Column, guess: Guess | None = None
) -> tuple[Column, Guess]:
    """kg/s alone, for an integration, which has a guess from the moment before; NaN where the gas
    is none."""
    pipe = _pipe(line, gas)
    lost = np.maximum(1 - np.maximum(pressure_down / gas.pressure, VACUUM), STANDSTILL)
    found = solve(pipe, lost, guess)
    return mass_flow_of(line, gas, _psi(pipe, found[0])), found


def flow_of(line: Line, gas: AtRest, mass_flow: Value) -> Flowing:
    """The same for a given flow (kg/s), which must be below the choked one."""
    pipe = _pipe(line, gas)
    psi = mass_flow / (line.area * np.asarray(gas.mass_flux))
    x = _inlet_of(pipe, np.maximum(psi, STANDSTILL))
    speeding = -pipe.b / pipe.a * np.log1p(pipe.a * x)
    return _passed(line, gas, pipe, x, psi, speeding)


def flow_in_pipe(line: Line, gas: AtRest, mass_flow: Value) -> Flowing:
    """The same for gas that flows already: `gas` is its state in the pipe, before its losses."""
    pipe = _pipe(line, gas)
    psi = mass_flow / (line.area * np.asarray(gas.mass_flux))
    x = np.minimum(psi**2 / pipe.k, 1 - SONIC)
    return _passed(line, gas, pipe, x, psi, np.log1p(pipe.a * x))


def _passed(line: Line, gas: AtRest, pipe: Pipe, x: Any, psi: Any, inlet: Any) -> Flowing:
    """A given flow through pipe and valve; `inlet` is twice ln p there, by the gas's own."""
    flowing = np.asarray(psi) > 0
    factor = friction(pipe.reynolds * np.maximum(psi, STANDSTILL), pipe.roughness).factor
    lost = _path_lost(pipe, x, pipe.diameters * factor + pipe.fittings)
    y = x / (1 - lost)
    z = _valve_place(pipe, y)
    pressures = np.log1p(-lost) + inlet - np.log1p(pipe.a * y)
    left = pressures / 2 + np.log1p(-_valve_share(pipe, z))
    most = (lost >= (1 - x) * (1 - 1e-9)) | (z >= pipe.limit * (1 - 1e-9))
    drop = np.where(flowing, -np.expm1(left), 0.0)
    return Flowing(
        np.asarray(mass_flow_of(line, gas, psi)), x, y, gas.pressure * (1 - drop),
        gas.pressure * drop, pipe.reynolds * psi, factor,
        pipe.diameters * factor + pipe.fittings, _valve_share(pipe, z), most & flowing,
    )  # fmt: skip


def mass_flow_of(line: Line, gas: AtRest, psi: Any) -> Any:
    """kg/s of a flow in units of A √(p ρ)."""
    return line.area * gas.mass_flux * psi


def _pipe(line: Line, gas: AtRest) -> Pipe:
    k = np.asarray(gas.exponent, float)
    coefficient = np.asarray(line.valve_kv) / 3600 * math.sqrt(valve.WATER / 1e5)
    valve_term = k * (np.asarray(line.area) / coefficient) ** 2
    choking = valve.choking_ratio(k, line.xt)
    any_valve = not np.all(np.equal(line.valve_kv, NO_VALVE))
    return Pipe(
        k, (k - 1) / 2, (k + 1) / 2,
        np.asarray(line.length) / line.bore,
        np.maximum(line.fittings_k, LEAST_RESISTANCE),
        np.asarray(line.roughness) / line.bore,
        np.asarray(line.bore) * gas.mass_flux / gas.viscosity,
        valve_term, choking, _limit(valve_term, choking) if any_valve else 1.0, any_valve,
    )  # fmt: skip


def _limit(valve_term: Any, choking: Any) -> Any:
    """The largest z: Mach 1 at the pipe's end, or the valve choked at X_c, all of it lost at most.

    Where the pipe chokes first, z (1 - z/3)² X_c = B k, of which the cosine solves the cubic.
    """
    cubic = np.minimum(valve_term / (3 * choking), 4 / 27)
    place = 2 + 2 * np.cos((2 * np.pi + np.arccos(13.5 * cubic - 1)) / 3)
    return np.where(valve_term > 0, np.minimum(place, (1 - 1e-9) / choking), 1.0)


def solve(pipe: Pipe, lost: Any, guess: Guess | None = None) -> Guess:
    """x and z by Newton's method in two unknowns, z held at its limit where the line is choked."""
    close = CLOSE + ROUNDING / lost

    def step(x: Any, z: Any) -> tuple[Guess, Any]:
        new_x, new_z = next_round(pipe, x, z, lost)
        return (new_x, new_z), (np.abs(new_x - x) > close * x) | (np.abs(new_z - z) > close * z)

    if guess:
        (x, z), found = settled(step, guess, FEW_ROUNDS)
        if found and np.isfinite(x).all():
            return x, z
    x, z = rounds(step, _first(pipe, lost), MOST_ROUNDS)
    return x, z


def next_round(pipe: Pipe, x: Any, z: Any, lost: Any) -> Guess:
    """x and z after a round of Newton's method."""
    at = _equations(pipe, x, z, lost)
    determinant = at.path_x * at.pressure_z - at.path_z * at.pressure_x
    step = (at.pressure_x * at.path - at.path_x * at.pressure) / determinant
    new_z = np.clip(z + step, z / 10, pipe.limit)
    new_x = x - (at.path + at.path_z * (new_z - z)) / at.path_x
    return np.clip(new_x, x / 10, np.minimum(10 * x, 1.0)), new_z


def _first(pipe: Pipe, lost: Any) -> Guess:
    """A start: all resistance as one, the gas ideal and slow."""
    factor = friction(0.3 * pipe.reynolds, pipe.roughness).factor
    own = pipe.k * (pipe.diameters * factor + pipe.fittings)
    x = lost * (2 - lost) / (own + 2 * pipe.valve + 2 * pipe.b)
    y = np.minimum(x / np.maximum(1 - own * x, np.maximum((1 - lost) ** 2, 0.02)), 1.0)
    share = np.minimum(pipe.valve * y, 0.9 * pipe.choking)
    return x, np.where(pipe.valve > 0, np.minimum(share / pipe.choking, pipe.limit), y)


def _equations(pipe: Pipe, x: Any, z: Any, lost: Any) -> _Places:
    k, a, b = pipe.k, pipe.a, pipe.b
    y, y_z = _end(pipe, z)
    inlet, end = 1 + a * x, 1 + a * y
    log_path = np.log((1 / y + a) * x / inlet)
    psi_x = (1 / x - b / inlet) / 2
    factor, slope = friction(pipe.reynolds * _psi(pipe, x), pipe.roughness)
    rubbing = pipe.diameters * factor
    resistance = rubbing + pipe.fittings
    share = _valve_share(pipe, z)
    share_z = np.where(pipe.valve > 0, pipe.choking, 0.0) if pipe.any_valve else 0.0
    return _Places(
        path=1 - x / y + b * x * log_path - k * x * resistance,
        path_x=-1 / y + b * (log_path + 1 / inlet) - k * (resistance + x * rubbing * slope * psi_x),
        path_z=(x / y - b * x / end) / y * y_z,
        pressure=(np.log(x / y) - b / a * np.log1p(a * x) - np.log1p(a * y)) / 2
        + np.log1p(-share) - np.log1p(-lost),
        pressure_x=psi_x,
        pressure_z=-(1 / y + a / end) / 2 * y_z - share_z / (1 - share),
    )  # fmt: skip


def _psi(pipe: Pipe, x: Any) -> Any:
    """Mass flow in units of A √(p₀ ρ₀)."""
    return np.sqrt(pipe.k * x) * (1 + pipe.a * x) ** (-pipe.b / (2 * pipe.a))


def _end(pipe: Pipe, z: Any) -> tuple[Any, Any]:
    """y at the pipe's end and its slope in z, which is y, or with a valve X/X_c."""
    if not pipe.any_valve:
        return z, 1.0
    has_valve = pipe.valve > 0
    scale = pipe.choking / np.where(has_valve, pipe.valve, 1.0)
    third = z / 3
    y = np.where(has_valve, scale * z * (1 - third) ** 2, z)
    return y, np.where(has_valve, scale * (1 - third) * (1 - z), 1.0)


def _valve_share(pipe: Pipe, z: Any) -> Any:
    return np.where(pipe.valve > 0, pipe.choking * z, 0.0) if pipe.any_valve else 0.0


def _valve_place(pipe: Pipe, y: Any) -> Any:
    """z of the valve for y before it, by the cosine; at its limit where it cannot pass it, 0
    without one."""
    cubic = np.minimum(pipe.valve * y / (3 * pipe.choking), 4 / 27)
    return 2 + 2 * np.cos((2 * np.pi + np.arccos(13.5 * cubic - 1)) / 3)


def _inlet_of(pipe: Pipe, psi: Any) -> Any:
    """x of a flow, by Newton's method on ln x, which comes from below without overshooting."""
    wanted = 2 * np.log(psi) - np.log(pipe.k)

    def step(log_x: Any) -> tuple[tuple[Any], Any]:
        x = np.exp(log_x)
        inlet = 1 + pipe.a * x
        off = wanted - log_x + pipe.b / pipe.a * np.log(inlet)
        new = np.minimum(log_x + off * inlet / np.maximum(1 - x, SONIC), -SONIC)
        return (new,), np.abs(off) >= ROUNDING

    [log_x] = rounds(step, (wanted,), MOST_ROUNDS)
    return np.exp(log_x)


def _path_lost(pipe: Pipe, x: Any, resistance: Any) -> Any:
    """1 - q after a resistance, by Newton's method from 0 on: a small one keeps its digits."""
    inlet, most = 1 + pipe.a * x, (1 - x) * (1 - SONIC)

    def step(lost: Any) -> tuple[tuple[Any], Any]:
        off = pipe.k * x * resistance - lost - pipe.b * x * np.log1p(-lost / inlet)
        slope = np.maximum(1 - x - lost, SONIC) / (inlet - lost)
        new = np.minimum(lost + off / slope, most)
        return (new,), np.abs(new - lost) > ROUNDING * new

    [lost] = rounds(step, (np.zeros_like(x),), MOST_ROUNDS)
    return lost


def _flowing(line: Line, gas: AtRest, pipe: Pipe, x: Any, z: Any, lost: Any) -> Flowing:
    y, _ = _end(pipe, z)
    psi = np.where(lost > 0, _psi(pipe, x), 0.0)
    factor = friction(pipe.reynolds * psi, pipe.roughness).factor
    share = _valve_share(pipe, z)
    left = np.sqrt(x / y / (1 + pipe.a * y)) * (1 + pipe.a * x) ** (-pipe.b / (2 * pipe.a))
    outlet = np.maximum(left * (1 - share), 1 - lost)
    at_limit = z >= pipe.limit * (1 - 1e-9)
    return Flowing(
        mass_flow=mass_flow_of(line, gas, psi),
        inlet=x,
        outlet=y,
        outlet_pressure=gas.pressure * outlet,
        pressure_drop=gas.pressure * np.minimum(lost, 1 - outlet),
        reynolds=pipe.reynolds * psi,
        friction=factor,
        resistance=pipe.diameters * factor + pipe.fittings,
        valve_share=np.broadcast_to(share, np.shape(x)),
        choked=np.asarray(at_limit),
    )
