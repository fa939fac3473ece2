"""Adiabatic gas flow with friction in a line of one bore (Fanno flow), choking included.

The line draws gas at rest, speeds it up without loss at its inlet and takes it through the
resistance N = f L/d + K. With x and y the squared Mach numbers at inlet and outlet, q = x/y and
k the isentropic exponent,

    k x N = 1 - q + (k+1)/2 · x · ln((q + (k-1)/2 · x) / (1 + (k-1)/2 · x))

and the mass flow is A √(p ρ) ψ with ψ² = k x / S, S = (1 + (k-1)/2 · x)^((k+1)/(k-1)), p and ρ
those of the gas at rest. The gas leaves at the pressure it flows to, or at Mach 1 where it chokes,
so q follows from x. What is left is one equation in x, nearly straight, with one root between 0
and 1: the bracket holds it whatever the line. The friction factor is part of the equation, since
the Reynolds number follows from the mass flow.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import scipy
from numpy.typing import NDArray

from gasfuncs.calculations.friction import friction_factor

Value = float | NDArray[np.float64]

ROUGHEST = 0.05
"""Largest relative roughness that the Colebrook equation is meant for."""

VACUUM = 1e-9
"""Pressure ratio that stands for a vacuum: every line chokes long before."""

SONIC = 1e-12
"""A flow or a state this close to the choked one, relatively, is the choked one."""

STANDSTILL = 1e-30
"""Squared Mach number that stands for no flow, where q = x/y would be 0/0."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line: bore and length in m, loss coefficients of its fittings, roughness in m."""

    bore: Value
    length: Value
    fittings_k: Value
    roughness: Value

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
    """What flows: kg/s, squared Mach numbers, outlet and lost Pa, Reynolds number, f, f L/d + K."""

    mass_flow: Value
    inlet: Value
    outlet: Value
    outlet_pressure: Value
    pressure_drop: Value
    reynolds: Value
    friction: Value
    resistance: Value

    @property
    def choked(self) -> Any:
        """Whether the gas leaves the line at the speed of sound."""
        return self.outlet >= 1


class _Functions(NamedTuple):
    """What the equations need besides arithmetic: of numbers, or of columns."""

    log: Callable[..., Any]
    log1p: Callable[..., Any]
    expm1: Callable[..., Any]
    larger: Callable[..., Any]
    friction: Callable[..., Any]


_NUMBERS = _Functions(math.log, math.log1p, math.expm1, max, friction_factor)
_COLUMNS = _Functions(
    np.log, np.log1p, np.expm1, np.maximum, np.vectorize(friction_factor, otypes=[float])
)


def flow(line: Line, gas: AtRest, pressure_down: Value) -> Flowing:
    """Flow from gas at rest to a pressure that is not above its own; numbers or columns."""
    ratio = pressure_down / gas.pressure
    x = _root(_excess, 0.0, 1.0, ratio, gas.exponent, *_friction_terms(line, gas))
    q = _speed_ratio(_functions(x), x, ratio, gas.exponent)
    return _flowing(line, gas, x, q)


def choked_flow(line: Line, gas: AtRest) -> Flowing:
    """The most that the line passes; at its outlet pressure or below nothing changes any more."""
    return flow(line, gas, VACUUM * gas.pressure)


def flow_of(line: Line, gas: AtRest, mass_flow: Value) -> Flowing:
    """The same for a given flow (kg/s), which must not be above the choked one."""
    psi = mass_flow / (line.area * gas.mass_flux)
    x = _root(_flow_excess, 0.0, 1.0, psi, gas.exponent)
    functions = _functions(x)
    x = functions.larger(x, STANDSTILL)
    resistance = _resistance(functions, psi, *_friction_terms(line, gas))
    most = (1 - x) * (1 - SONIC)
    least = -functions.larger(-gas.exponent * x * resistance, -most)
    lost = _root(_path_excess, least, most, x, gas.exponent, resistance)
    flowing = _flowing(line, gas, x, 1 - lost)
    return flowing._replace(pressure_drop=_drop(functions, gas, x, lost))


def _root(equation: Callable[..., Any], low: Any, high: Any, *arguments: Any) -> Any:
    """The root of an equation between two bounds, of numbers or element by element."""
    if all(isinstance(argument, float) for argument in arguments):
        return scipy.optimize.brentq(
            equation, low, high, (_NUMBERS, *arguments), xtol=1e-30, rtol=1e-14
        )
    columns = np.broadcast_arrays(low, high, *arguments)
    from scipy.optimize import elementwise

    found = elementwise.find_root(
        lambda x, *rest: equation(x, _COLUMNS, *rest), tuple(columns[:2]), args=tuple(columns[2:])
    )
    return found.x


def _functions(x: Value) -> _Functions:
    return _NUMBERS if isinstance(x, float) else _COLUMNS


def _spread(x: Any, k: Any) -> Any:
    return (1 + (k - 1) / 2 * x) ** ((k + 1) / (k - 1))


def _speed_ratio(functions: _Functions, x: Any, ratio: Any, k: Any) -> Any:
    """q = x/y at the outlet: at the pressure ratio, or at Mach 1."""
    square = functions.larger(ratio, VACUUM) ** 2 * _spread(x, k)
    return functions.larger((square + (square * (square + 2 * (k - 1) * x)) ** 0.5) / 2, x)


def _path(functions: _Functions, x: Any, q: Any, k: Any) -> Any:
    """k x N of the resistance that lies between inlet and outlet."""
    a = (k - 1) / 2
    return 1 - q + (k + 1) / 2 * x * functions.log((q + a * x) / (1 + a * x))


def _friction_terms(line: Line, gas: AtRest) -> tuple[Any, ...]:
    """Reynolds number for each unit of ψ, diameters of length, relative roughness, K."""
    reynolds = line.bore * gas.mass_flux / gas.viscosity
    return reynolds, line.length / line.bore, line.roughness / line.bore, line.fittings_k


def _resistance(
    functions: _Functions, psi: Any, reynolds: Any, diameters: Any, roughness: Any, fittings: Any
) -> Any:
    return diameters * functions.friction(reynolds * psi, roughness) + fittings


def _excess(x: Any, functions: _Functions, ratio: Any, k: Any, *friction_terms: Any) -> Any:
    q = _speed_ratio(functions, x, ratio, k)
    resistance = _resistance(functions, (k * x / _spread(x, k)) ** 0.5, *friction_terms)
    return _path(functions, x, q, k) - k * x * resistance


def _flow_excess(x: Any, functions: _Functions, psi: Any, k: Any) -> Any:  # noqa: ARG001
    return k * x / _spread(x, k) - psi**2


def _path_excess(lost: Any, functions: _Functions, x: Any, k: Any, resistance: Any) -> Any:
    """The path in 1 - q, which keeps its digits where hardly anything is lost."""
    path = lost + (k + 1) / 2 * x * functions.log1p(-lost / (1 + (k - 1) / 2 * x))
    return path - k * x * resistance


def _drop(functions: _Functions, gas: AtRest, x: Any, lost: Any) -> Any:
    """Pa from the gas at rest to the outlet, with all its digits however little it is."""
    k, a = gas.exponent, (gas.exponent - 1) / 2
    log_spread = (k + 1) / (k - 1) * functions.log1p(a * x)
    log_outlet = functions.log1p(a * x / (1 - lost))
    return -gas.pressure * functions.expm1((functions.log1p(-lost) - log_spread - log_outlet) / 2)


def _flowing(line: Line, gas: AtRest, x: Any, q: Any) -> Flowing:
    functions = _functions(x)
    k, spread, y = gas.exponent, _spread(x, gas.exponent), x / q
    psi = (k * x / spread) ** 0.5
    reynolds, diameters, roughness, fittings = _friction_terms(line, gas)
    friction = functions.friction(reynolds * psi, roughness)
    outlet_pressure = gas.pressure * (q / spread / (1 + (k - 1) / 2 * y)) ** 0.5
    return Flowing(
        mass_flow=line.area * gas.mass_flux * psi,
        inlet=x,
        outlet=y,
        outlet_pressure=outlet_pressure,
        pressure_drop=gas.pressure - outlet_pressure,
        reynolds=reynolds * psi,
        friction=friction,
        resistance=diameters * friction + fittings,
    )
