"""Physics of lines that no single formula can check."""

from __future__ import annotations

import math
import re

import fluids
import numpy as np
import pytest
from CoolProp import CoolProp
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import line, valve
from gasfuncs.calculations.friction import LAMINAR_TO, TURBULENT_FROM, friction_factor
from gasfuncs.calculations.gas_dynamics import (
    AtRest,
    Line,
    choked_flow,
    flow,
    flow_in_pipe,
    flow_of,
)
from gasfuncs.errors import GasFuncsError

PIPE = Line(bore=0.025, length=6.0, fittings_k=8.0, roughness=line.STEEL)
NOZZLE = Line(bore=0.01, length=0.0, fittings_k=0.0, roughness=line.STEEL)


def ideal(pressure: float, k: float = 1.4) -> AtRest:
    return AtRest(pressure, pressure / (287.05 * 293.15), k, 1.8e-5)


def test_a_drop_far_below_the_pressure_keeps_its_digits() -> None:
    """Slow gas is incompressible: Bernoulli at the inlet, then Darcy and Weisbach."""
    wide = Line(bore=1.0, length=20.0, fittings_k=3.0, roughness=line.STEEL)
    gas = AtRest(13e5, 21.0, 1.7, 2.2e-5)
    for mass_flow in (0.2, 0.02, 2e-4):
        flowing = flow_of(wide, gas, mass_flow)
        head = (mass_flow / wide.area) ** 2 / (2 * gas.density)
        drop = (flowing.friction * 20.0 + 3.0 + 1.0) * head
        assert flowing.pressure_drop == pytest.approx(drop, rel=1e-7)


@pytest.mark.parametrize("resistance", [300.0, 3000.0])
@pytest.mark.parametrize("ratio", [0.3, 0.6, 0.95])
def test_a_long_line_tends_to_isothermal_flow(resistance: float, ratio: float) -> None:
    """Judge: fluids.compressible.isothermal_gas."""
    rest = ideal(5e5)
    ours = flow(Line(0.05, 0.0, resistance, 0.0), rest, ratio * 5e5).mass_flow
    judge = fluids.isothermal_gas(
        rho=float(rest.density), fd=resistance * 0.05, P1=5e5, P2=ratio * 5e5, L=1.0, D=0.05
    )
    assert ours == pytest.approx(judge, rel=3 / resistance)


@pytest.mark.parametrize("mach", [0.1, 0.3, 0.5, 0.7, 0.9])
@pytest.mark.parametrize("k", [1.3, 1.4, 5 / 3])
def test_without_friction_it_is_the_isentropic_nozzle(mach: float, k: float) -> None:
    ratio = (1 + (k - 1) / 2 * mach**2) ** (-k / (k - 1))
    found = flow(NOZZLE, ideal(2e5, k), ratio * 2e5)
    assert found.inlet**0.5 == pytest.approx(mach, rel=1e-9)
    assert found.outlet**0.5 == pytest.approx(mach, rel=1e-9)


@pytest.mark.parametrize("ratio", [0.1, 0.4, 0.8])
def test_along_the_line_the_differential_equation_holds(ratio: float) -> None:
    """dM²/dx = f/d · k M⁴ (1 + (k-1)/2 M²)/(1 - M²) (Shapiro), integrated from the inlet."""
    k, length, rest = 1.4, 10.0, ideal(4e5)
    pipe = Line(0.02, length, 0.0, line.STEEL)
    found = flow(pipe, rest, ratio * 4e5)
    friction = float(found.friction)

    def length_for_each(squared: float, _: object) -> float:
        """Upside down, since the slope of the Mach number has no end at Mach 1."""
        m = squared
        return (1 - m) * 0.02 / (friction * k * m**2 * (1 + (k - 1) / 2 * m))

    walked = solve_ivp(length_for_each, (found.inlet, found.outlet), [0.0], rtol=1e-10, atol=1e-12)
    assert walked.y[0, -1] == pytest.approx(length, rel=1e-7)


def test_flow_is_smooth_where_it_chokes() -> None:
    rest = ideal(12e5)
    critical = float(choked_flow(PIPE, rest).outlet_pressure)

    def slope(share: float) -> float:
        """Change of the flow with the pressure downstream, both relative."""
        below, above = (flow(PIPE, rest, (share + d) * critical).mass_flow for d in (0, 1e-4))
        return (float(above) / float(below) - 1) / 1e-4

    assert slope(0.999) == pytest.approx(0, abs=1e-9)
    assert -2e-3 < slope(1.0) < 0
    assert -2e-2 < slope(1.01) < slope(1.0)


def test_every_line_has_its_flow() -> None:
    """The search never fails, from capillaries to culverts and from creep to choking."""
    chance, count = np.random.default_rng(20), 5000
    either = chance.integers(0, 2, (2, count))
    pipe = Line(
        bore=10 ** chance.uniform(-4, 0, count),
        length=10 ** chance.uniform(-3, 5, count) * either[0],
        fittings_k=10 ** chance.uniform(-3, 4, count) * either[1],
        roughness=10 ** chance.uniform(-7, -5.4, count),
    )
    pressure = 10 ** chance.uniform(2, 7.3, count)
    k = chance.uniform(1.05, 2.3, count)
    rest = AtRest(pressure, pressure / 84000, k, np.full(count, 1.8e-5))
    down = pressure * chance.choice([0, 0.1, 0.5, 0.9, 0.99, 1 - 1e-6], count)
    found = flow(pipe, rest, down)
    assert np.all(np.isfinite(found.mass_flow) & (found.mass_flow > 0))
    assert np.all((found.inlet <= found.outlet * (1 + 1e-9)) & (found.outlet <= 1))
    outlet = np.asarray(found.outlet_pressure)
    assert outlet[~found.choked] == pytest.approx(down[~found.choked], rel=1e-12)
    assert np.all(outlet[found.choked] >= down[found.choked])
    back = flow_of(pipe, rest, np.where(found.choked, 1 - 1e-12, 1) * found.mass_flow)
    plain = np.asarray(found.resistance) < 1e5  # beyond, the last digit of a choked flow matters
    assert np.count_nonzero(plain) > count / 2
    assert np.asarray(back.outlet_pressure)[plain] == pytest.approx(outlet[plain], rel=1e-3)


def test_friction_factor_is_that_of_colebrook_and_runs_on_without_a_jump() -> None:
    for rough in (0.0, 1e-4, 0.05):
        for reynolds in (1e4, 1e6, 1e8):
            judge = fluids.friction.Colebrook(reynolds, rough)
            assert friction_factor(reynolds, rough) == pytest.approx(judge, rel=1e-9)
        for edge in (LAMINAR_TO, TURBULENT_FROM):
            near = [friction_factor(edge * (1 + shift), rough) for shift in (-1e-9, 1e-9)]
            assert near[0] == pytest.approx(near[1], rel=1e-7)
    assert friction_factor(100.0, 1e-3) == 0.64


@pytest.mark.parametrize("name", ["argon", "nitrogen", "helium", "hydrogen", "oxygen", "air"])
@pytest.mark.parametrize(("pressure", "error"), [(20e5, 0.003), (50e5, 0.008)])
def test_error_of_the_ideal_gas_along_the_line(name: str, pressure: float, error: float) -> None:
    """What the caution says, against the real gas at constant entropy through a choked nozzle."""
    gas = properties.gas(name)
    state = CoolProp.AbstractState("HEOS", properties.gases.FLUIDS[name])
    state.update(CoolProp.PT_INPUTS, pressure, 293.15)
    entropy, enthalpy = state.smass(), state.hmass()

    def flux(ratio: float) -> float:
        state.update(CoolProp.PSmass_INPUTS, ratio * pressure, entropy)
        return -float(state.rhomass() * math.sqrt(2 * (enthalpy - state.hmass())))

    real = -minimize_scalar(flux, bounds=(0.3, 0.8), method="bounded").fun * NOZZLE.area
    ours = line.line_flow(gas, pressure, 0.0, NOZZLE.bore, 0.0) * properties.molar_mass(gas)
    assert ours == pytest.approx(real, rel=error)


@pytest.mark.parametrize("ratio", [0.05, 0.5, 0.9, 0.999])
def test_a_line_that_is_all_valve_is_the_valve(ratio: float) -> None:
    """IEC 60534-2-1 for the valve alone, in a pipe so wide that it takes nothing."""
    rest = ideal(8e5)
    found = flow(Line(2.0, 0.0, 0.0, 1e-5, valve_kv=15.0, xt=0.4), rest, ratio * 8e5)
    alone = valve.mass_flow(15.0, rest.pressure, rest.density, rest.exponent, ratio * 8e5, 0.4)
    assert float(found.mass_flow) == pytest.approx(float(alone), rel=1e-6)


@pytest.mark.parametrize("ratio", [0.05, 0.5, 0.8, 0.99])
@pytest.mark.parametrize("kv", [3.0, 30.0, 300.0])
def test_pipe_and_valve_in_series_pass_the_same(ratio: float, kv: float) -> None:
    """The valve alone, from the pressure and density at the pipe's end, passes what the pipe does;
    judge of the pressure there: the pipe alone, with that flow."""
    rest, down = ideal(8e5), ratio * 8e5
    pipe = Line(0.025, 6.0, 2.0, line.STEEL)
    found = flow(Line(0.025, 6.0, 2.0, line.STEEL, valve_kv=kv, xt=0.4), rest, down)
    at_end = flow_of(pipe, rest, found.mass_flow * (1 - 1e-12))
    before = float(at_end.outlet_pressure)
    cooled = 1 + (rest.exponent - 1) / 2 * float(at_end.outlet)
    density = float(rest.density) * before / 8e5 * cooled
    passed = valve.mass_flow(kv, before, density, rest.exponent, down, 0.4)
    if float(found.outlet) < 1 - 1e-6:
        assert float(found.mass_flow) == pytest.approx(float(passed), rel=1e-5)
    else:
        assert float(found.mass_flow) <= float(passed) * (1 + 1e-9)


def test_a_valve_counts_more_than_its_loss_coefficient_when_it_chokes() -> None:
    """At xT 0.25 a K would let pass nearly half as much again (reckoned by both equations)."""
    rest, bore = ideal(16e5, 5 / 3), 0.0525
    speed = 60 / 3600 / (math.pi / 4 * bore**2)
    as_loss = flow(Line(bore, 0.0, 2e5 / (valve.WATER * speed**2), 0.0), rest, 1e5)
    as_valve = flow(Line(bore, 0.0, 0.0, 0.0, valve_kv=60.0, xt=0.25), rest, 1e5)
    assert float(as_loss.mass_flow) > 1.4 * float(as_valve.mass_flow)


def test_in_the_pipe_is_from_a_place_further_on() -> None:
    """A line cut in two: from rest through the first half, from its end through the second."""
    rest, flowing = ideal(8e5), 0.15
    whole = flow_of(Line(0.025, 20.0, 0.0, line.STEEL), rest, flowing)
    half = Line(0.025, 10.0, 0.0, line.STEEL)
    first = flow_of(half, rest, flowing)
    cooled = 1 + 0.2 * float(first.outlet)
    place = float(first.outlet_pressure)
    there = AtRest(place, float(rest.density) * place / 8e5 * cooled, 1.4, 1.8e-5)
    second = flow_in_pipe(half, there, flowing)
    assert float(second.outlet_pressure) == pytest.approx(float(whole.outlet_pressure), rel=1e-9)


def test_a_gas_that_is_just_dense_enough_flows() -> None:
    """Of air 6.7e-3 Pa·m: a hundredth of 10 mm is the mean free path at 67 Pa."""
    assert gasfuncs.GAS_LINE_FLOW("air", "68 Pa", 0, 10, 1) > 0


def test_choked_flow_of_a_valve_goes_with_the_pressure_down_to_any() -> None:
    thin = gasfuncs.GAS_VALVE_FLOW("argon", 40, "0.5 Pa", 0)
    assert thin == pytest.approx(gasfuncs.GAS_VALVE_FLOW("argon", 20, "1 Pa", 0), rel=1e-7)


def test_more_than_chokes_is_refused_and_what_chokes_is_told() -> None:
    most = gasfuncs.GAS_LINE_FLOW("nitrogen", 6, 0, 60, 3)
    assert gasfuncs.GAS_LINE_DROP("nitrogen", 0.999 * most, 6, 60, 3) < 6
    with pytest.raises(GasFuncsError) as refusal:
        gasfuncs.GAS_LINE_DROP("nitrogen", 1.02 * most, 6, 60, 3)
    told = re.search(r"chokes at ([\d.]+) Nm3/h", str(refusal.value))
    assert told
    assert float(told[1]) == pytest.approx(most, rel=1e-4)


@pytest.mark.parametrize("down", [5.5e5, 0.0])
def test_the_reynolds_number_is_that_of_the_flow(down: float) -> None:
    rest = ideal(6e5)
    found = flow(PIPE, rest, down)
    expected = 4 * found.mass_flow / (math.pi * PIPE.bore * 1.8e-5)
    assert found.reynolds == pytest.approx(expected, rel=1e-9)
    assert found.outlet_pressure + found.pressure_drop == pytest.approx(6e5, rel=1e-12)
    for given in (flow_of(PIPE, rest, found.mass_flow), flow_in_pipe(PIPE, rest, found.mass_flow)):
        assert given.reynolds == pytest.approx(expected, rel=1e-9)
        assert given.resistance == pytest.approx(found.resistance, rel=1e-9)
