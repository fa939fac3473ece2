"""Properties from CoolProp's reference equations of state; the only module that imports it.

Everything is in SI (Pa, K, mol, J) and takes scalars or arrays. A state that is not gas where
gas is meant is refused with what it is.
"""

from __future__ import annotations

import math
import threading
from collections.abc import Callable
from functools import cache
from types import ModuleType
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from gasfuncs.errors import StateError
from gasfuncs.properties.gases import FLUIDS, WITHOUT_VISCOSITY, Gas

Array = NDArray[np.float64]

IDEAL_BELOW = 1.0
"""Pa. Below it a density is that at 1 Pa in proportion to the pressure; the gas is ideal there
(compressibility differs from 1 by less than 1e-7) and the equations are not asked about vacuum."""


DILUTE = 1e-4
"""mol/m³. Below it a pressure is that at this density in proportion, for the same reason."""


STEPS_AT_MOST = 50
FROM_ABOVE = 2.0
"""Of the ideal gas's temperature: where that of a real gas is searched from."""

SMALLEST_STEP = 1e-13
"""Of the logarithm of the temperature, when a state is searched by its entropy."""


@cache
def _coolprop() -> ModuleType:
    import CoolProp.CoolProp

    return CoolProp.CoolProp


class _States(threading.local):
    """One state a gas and a thread: CoolProp's states must not be shared between threads."""

    def __init__(self) -> None:
        self.held: dict[Gas, Any] = {}

    def of(self, gas: Gas) -> Any:
        state = self.held.get(gas)
        if state is None:
            coolprop = _coolprop()
            state = coolprop.AbstractState("HEOS", "&".join(FLUIDS[n] for n, _ in gas.parts))
            if gas.is_mixture:
                state.set_mole_fractions([share for _, share in gas.parts])
            self.held[gas] = state
        return state


_states = _States()


def state_of(gas: Gas) -> Any:
    """CoolProp's state of a gas, to be read at once: the next call moves it."""
    return _states.of(gas)


def saturated_state(gas: Gas, pressure: float, quality: float) -> Any:
    """CoolProp's state on the saturation line: quality 0 is liquid, 1 is vapour."""
    coolprop = _coolprop()
    state = _states.of(gas)
    state.specify_phase(coolprop.iphase_not_imposed)
    state.update(coolprop.PQ_INPUTS, pressure, quality)
    return state


def liquid_state(gas: Gas, pressure: float, temperature: float) -> Any:
    """CoolProp's state of a liquid, which the caller knows not to be above its boiling point."""
    coolprop = _coolprop()
    low = limits(gas)[0]
    if temperature < low:
        raise StateError(
            f"{told(gas, pressure, temperature)} is below {low - 273.15:.2f} °C, where it freezes"
        )
    state = _states.of(gas)
    state.specify_phase(coolprop.iphase_liquid)
    state.update(coolprop.PT_INPUTS, pressure, temperature)
    return state


def boiling_pressure(gas: Gas, temperature: float) -> float:
    """Pa at which a pure gas boils at a temperature (K)."""
    coolprop = _coolprop()
    state = _states.of(gas)
    low, high = float(state.Ttriple()), float(state.T_critical())
    if not low < temperature < high:
        raise StateError(
            f"{gas} at {temperature - 273.15:.4g} °C has no liquid with vapour above it; "
            f"that is so between {low - 273.15:.2f} and {high - 273.15:.2f} °C"
        )
    state.specify_phase(coolprop.iphase_not_imposed)
    state.update(coolprop.QT_INPUTS, 0.0, temperature)
    return float(state.p())


@cache
def molar_mass(gas: Gas) -> float:
    """kg/mol."""
    return float(_states.of(gas).molar_mass())


@cache
def gas_constant(gas: Gas) -> float:
    """J/(mol K), as the equation of state was made with it."""
    return float(_states.of(gas).gas_constant())


@cache
def limits(gas: Gas) -> tuple[float, float, float]:
    """Lowest and highest temperature (K) and highest pressure (Pa) of the equation of state."""
    pure = [_states.of(Gas(name, ((name, 1.0),))) for name, _ in gas.parts]
    return max(s.Tmin() for s in pure), min(s.Tmax() for s in pure), min(s.pmax() for s in pure)


@cache
def critical_temperature(gas: Gas) -> float:
    """K; of a mixture, that of the part that condenses first."""
    return max(float(_states.of(Gas(name, ((name, 1.0),))).T_critical()) for name, _ in gas.parts)


@cache
def critical_pressure(gas: Gas) -> float:
    """Pa of a pure gas."""
    return float(_states.of(gas).p_critical())


def told(gas: Gas, pressure: float, temperature: float) -> str:
    """A state as a sentence tells it."""
    return f"{gas} at {pressure / 1e5:.4g} bar(a) and {temperature - 273.15:.4g} °C"


def _gas_state(gas: Gas, pressure: float, temperature: float) -> Any:
    """CoolProp's state at a pressure and temperature, refused unless it is gas."""
    coolprop = _coolprop()
    low, high, most = limits(gas)
    if not low <= temperature <= high or not 0 < pressure <= most:
        raise StateError(
            f"{told(gas, pressure, temperature)} is beyond the equation of state, which holds "
            f"from {low - 273.15:.1f} to {high - 273.15:.0f} °C and up to {most / 1e5:.0f} bar(a)"
        )
    state = _states.of(gas)
    certain = gas.is_mixture and temperature > critical_temperature(gas)
    state.specify_phase(coolprop.iphase_gas if certain else coolprop.iphase_not_imposed)
    try:
        state.update(coolprop.PT_INPUTS, pressure, temperature)
    except ValueError as error:
        raise StateError(f"{told(gas, pressure, temperature)} has no gas state ({error})") from None
    phase = state.phase()
    if phase in _liquids():
        raise StateError(f"{told(gas, pressure, temperature)} is liquid")
    if phase == coolprop.iphase_twophase:
        raise StateError(f"{told(gas, pressure, temperature)} is part liquid, part gas")
    return state


@cache
def _liquids() -> frozenset[Any]:
    coolprop = _coolprop()
    return frozenset({coolprop.iphase_liquid, coolprop.iphase_supercritical_liquid})


def _gas_state_of_density(gas: Gas, molar: float, temperature: float) -> Any:
    """CoolProp's state at a molar density and temperature, refused unless it is gas."""
    coolprop = _coolprop()
    low, high, most = limits(gas)
    filled = f"{gas} of {molar * molar_mass(gas):.4g} kg/m³ at {temperature - 273.15:.4g} °C"
    if not low <= temperature <= high:
        raise StateError(
            f"{filled} is beyond the equation of state, which holds "
            f"from {low - 273.15:.1f} to {high - 273.15:.0f} °C"
        )
    state = _states.of(gas)
    certain = gas.is_mixture and temperature > critical_temperature(gas)
    state.specify_phase(coolprop.iphase_gas if certain else coolprop.iphase_not_imposed)
    try:
        state.update(coolprop.DmolarT_INPUTS, molar, temperature)
    except ValueError as error:
        raise StateError(f"{filled} has no gas state ({error})") from None
    if state.phase() in _liquids() or state.phase() == coolprop.iphase_twophase:
        raise StateError(f"{filled} is liquid, at least in part")
    if not state.p() <= most:
        raise StateError(
            f"{filled} is beyond the equation of state (up to {most / 1e5:.0f} bar(a))"
        )
    return state


def _each(
    read: Callable[[Any], float],
    gas: Gas,
    pressure: ArrayLike,
    temperature: ArrayLike,
    state_of: Callable[[Gas, float, float], Any] = _gas_state,
) -> Array:
    """`read` of every gas state; states that come again are worked out once."""
    p, t = np.broadcast_arrays(np.asarray(pressure, float), np.asarray(temperature, float))
    pairs = list(zip(p.ravel().tolist(), t.ravel().tolist(), strict=True))
    known = {pair: read(state_of(gas, *pair)) for pair in dict.fromkeys(pairs)}
    return np.array([known[pair] for pair in pairs]).reshape(p.shape)


def molar_density(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """mol/m³ of the gas; 0 in a perfect vacuum."""
    p = np.asarray(pressure, float)
    at_least = np.maximum(p, IDEAL_BELOW)
    found = _each(lambda s: s.rhomolar(), gas, at_least, temperature)
    return np.asarray(found * (p / at_least))


def pressure(gas: Gas, molar_density: ArrayLike, temperature: ArrayLike) -> Array:
    """Pa of the gas at a molar density (mol/m³)."""
    molar = np.asarray(molar_density, float)
    at_least = np.maximum(molar, DILUTE)
    found = _each(lambda s: s.p(), gas, at_least, temperature, _gas_state_of_density)
    return np.asarray(found * (molar / at_least))


def compressibility(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """Z = p / (ρ R T), with the molar gas constant that the equation of state was made with."""
    at_least = np.maximum(np.asarray(pressure, float), IDEAL_BELOW)
    molar = molar_density(gas, at_least, temperature)
    return np.asarray(at_least / (molar * gas_constant(gas) * np.asarray(temperature, float)))


def enthalpy(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """J/mol of the gas; only differences mean anything."""
    return _each(lambda s: s.hmolar(), gas, pressure, temperature)


def internal_energy(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """J/mol of the gas; only differences mean anything."""
    return _each(lambda s: s.umolar(), gas, pressure, temperature)


def heat_capacity_ratio(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """cp/cv of the gas."""
    return _each(lambda s: s.cpmolar() / s.cvmolar(), gas, pressure, temperature)


def isentropic_exponent(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """-(v/p) (∂p/∂v) at constant entropy, ρ w²/p of the gas; cp/cv where it is ideal."""
    at_least = np.maximum(np.asarray(pressure, float), IDEAL_BELOW)
    return _each(lambda s: s.rhomass() * s.speed_sound() ** 2 / s.p(), gas, at_least, temperature)


def entropy(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """J/(mol K) of the gas; only differences mean anything."""
    return _each(lambda s: s.smolar(), gas, pressure, temperature)


def expanded(
    gas: Gas, pressure: ArrayLike, temperature: ArrayLike, molar_density: ArrayLike
) -> tuple[Array, Array]:
    """Pa and K of the gas after it expanded at constant entropy to a molar density (mol/m³)."""
    given = (np.asarray(x, float) for x in (pressure, temperature, molar_density))
    p, t, rho = np.broadcast_arrays(*given)
    cells = list(zip(p.ravel().tolist(), t.ravel().tolist(), rho.ravel().tolist(), strict=True))
    known = {cell: _expanded(gas, *cell) for cell in dict.fromkeys(cells)}
    after = np.array([known[cell] for cell in cells]).reshape(*p.shape, 2)
    return after[..., 0], after[..., 1]


def _expanded(gas: Gas, pressure: float, temperature: float, molar: float) -> tuple[float, float]:
    """Newton's method on the temperature, with which entropy rises by cv at constant density."""
    coolprop = _coolprop()
    before = _gas_state(gas, pressure, temperature).smolar()
    state = state_of(gas)
    state.specify_phase(coolprop.iphase_gas)
    after = temperature
    for _ in range(STEPS_AT_MOST):
        try:
            state.update(coolprop.DmolarT_INPUTS, molar, after)
        except ValueError:
            break
        step = (before - state.smolar()) / state.cvmolar()
        after *= math.exp(step)
        if abs(step) < SMALLEST_STEP:
            return float(_gas_state_of_density(gas, molar, after).p()), after
    raise StateError(f"{told(gas, pressure, temperature)} does not expand that far as a gas")


class Dense(NamedTuple):
    """Gas at a molar density: Pa, J/mol, (∂p/∂ρ)_T in J/mol, (∂p/∂T)_ρ/ρ and c_v in J/(mol K),
    Pa·s, W/(m K)."""

    pressure: float
    enthalpy: float
    stiffness: float
    pressure_rise: float
    heat_capacity: float
    viscosity: float
    conductivity: float


def dense(gas: Gas, molar_density: float, temperature: float) -> Dense:
    """All that an integration asks of one state, at once: mol/m³ and K, single numbers."""
    at_least = max(molar_density, DILUTE)
    state = _gas_state_of_density(gas, at_least, temperature)
    p, coolprop = state.p(), _coolprop()
    _refuse_without_viscosity(gas)
    transport = (
        (float(viscosity(gas, p, temperature)), float(conductivity(gas, p, temperature)))
        if gas.is_mixture
        else (state.viscosity(), state.conductivity())
    )
    state = _gas_state_of_density(gas, at_least, temperature)
    return Dense(
        p * molar_density / at_least,
        state.hmolar(),
        state.first_partial_deriv(coolprop.iP, coolprop.iDmolar, coolprop.iT),
        state.first_partial_deriv(coolprop.iP, coolprop.iT, coolprop.iDmolar) / at_least,
        state.cvmolar(),
        *transport,
    )


def temperature(gas: Gas, pressure: float, molar_density: float) -> float:
    """K of a gas at Pa and mol/m³, single numbers, by Newton's method from a hotter gas down.

    Below, inside the two-phase region, the equation may meet the pressure once more.
    """
    coolprop, state = _coolprop(), state_of(gas)
    at_least = max(molar_density, DILUTE)
    wanted = pressure * at_least / molar_density
    state.specify_phase(coolprop.iphase_gas)
    kelvin = min(FROM_ABOVE * wanted / (at_least * gas_constant(gas)), limits(gas)[1])
    for _ in range(STEPS_AT_MOST):
        try:
            state.update(coolprop.DmolarT_INPUTS, at_least, kelvin)
        except ValueError:
            break
        slope = state.first_partial_deriv(coolprop.iP, coolprop.iT, coolprop.iDmolar)
        step = (wanted - state.p()) / slope
        kelvin += step
        if abs(step) < SMALLEST_STEP * kelvin:
            return float(kelvin)
    raise StateError(
        f"{gas} of {molar_density * molar_mass(gas):.4g} kg/m³ at {pressure / 1e5:.4g} bar(a) is "
        "beyond the equation of state"
    )


def dense_pressure(gas: Gas, molar_density: float, temperature: float) -> float:
    """Pa of one state, as `pressure` gives it."""
    at_least = max(molar_density, DILUTE)
    state = _gas_state_of_density(gas, at_least, temperature)
    return float(state.p()) * molar_density / at_least


def _refuse_without_viscosity(gas: Gas) -> None:
    for name, _ in gas.parts:
        if name in WITHOUT_VISCOSITY:
            raise StateError(f"{name} has no equation of viscosity and conductivity here")


def viscosity(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """Pa·s of the gas; of a mixture by Wilke's rule from its parts (J. Chem. Phys. 18, 1950)."""
    _refuse_without_viscosity(gas)
    at_least = np.maximum(np.asarray(pressure, float), IDEAL_BELOW)
    if not gas.is_mixture:
        return _each(lambda s: s.viscosity(), gas, at_least, temperature)
    return _mixed(gas, at_least, temperature, viscosity)


def conductivity(gas: Gas, pressure: ArrayLike, temperature: ArrayLike) -> Array:
    """W/(m K) of the gas; of a mixture by Wassiljewa's rule with Wilke's weights (Mason and Saxena,
    Phys. Fluids 1, 1958)."""
    _refuse_without_viscosity(gas)
    at_least = np.maximum(np.asarray(pressure, float), IDEAL_BELOW)
    if not gas.is_mixture:
        return _each(lambda s: s.conductivity(), gas, at_least, temperature)
    return _mixed(gas, at_least, temperature, conductivity)


def _mixed(
    gas: Gas, pressure: Array, temperature: ArrayLike, of: Callable[[Gas, Array, Array], Array]
) -> Array:
    """A transport property of a mixture from its parts, weighed as Wilke has it."""
    pure = [Gas(name, ((name, 1.0),)) for name, _ in gas.parts]
    shares = np.array([share for _, share in gas.parts])
    masses = np.array([molar_mass(part) for part in pure])
    p, t = np.broadcast_arrays(pressure, np.asarray(temperature, float))
    mu = np.stack([viscosity(part, p, t) for part in pure])
    values = mu if of is viscosity else np.stack([of(part, p, t) for part in pure])
    mass_ratio = masses[:, None] / masses[None, :]
    phi = (1 + np.sqrt(mu[:, None] / mu[None, :]) * _like(mass_ratio**-0.25, mu)) ** 2
    phi /= _like(np.sqrt(8 * (1 + mass_ratio)), mu)
    weights = _like(shares, mu) / np.einsum("j,ij...->i...", shares, phi)
    return np.asarray(np.sum(weights * values, 0))


def _like(table: Array, mu: Array) -> Array:
    """`table` with as many further axes as the states in `mu` have."""
    return table.reshape(table.shape + (1,) * (mu.ndim - 1))
