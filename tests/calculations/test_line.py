"""Physics of lines and backfills that no single formula can check."""

from __future__ import annotations

import math
from dataclasses import replace

import fluids
import numpy as np
import pytest
from CoolProp import CoolProp
from scipy.integrate import simpson, solve_ivp
from scipy.optimize import minimize_scalar

from gasfuncs import properties
from gasfuncs.calculations import filling, line
from gasfuncs.calculations.effort import Effort
from gasfuncs.calculations.filling import Filling
from gasfuncs.calculations.friction import LAMINAR_TO, TURBULENT_FROM, friction_factor
from gasfuncs.calculations.gas_dynamics import AtRest, Line, choked_flow, flow, flow_of

ARGON = properties.gas("argon")
PIPE = Line(bore=0.025, length=6.0, fittings_k=8.0, roughness=line.STEEL)
NOZZLE = Line(bore=0.01, length=0.0, fittings_k=0.0, roughness=line.STEEL)
BACKFILL = Filling(
    gas=ARGON, reservoir_volume=10.0, reservoir_pressure=16e5, vessel_volume=2.5,
    pressure_from=1.0, pressure_to=6e5, line=PIPE, supply_flow=0.0, temperature=293.15,
    adiabatic=False,
)  # fmt: skip
BLOWDOWN = replace(
    BACKFILL, reservoir_volume=0.1, reservoir_pressure=5000.0, vessel_volume=100.0,
    pressure_from=0.0, pressure_to=2.5, line=NOZZLE,
)  # fmt: skip
"""So thin that the gas is ideal, into a vessel so large that it stays choked."""


def ideal(pressure: float, k: float = 1.4) -> AtRest:
    return AtRest(pressure, pressure / (287.05 * 293.15), k, 1.8e-5)


def tau(backfill: Filling) -> float:
    """Contents over choked flow, both at the start: the time constant of a blowdown."""
    return backfill.stored / backfill.molar_flow(backfill.at(0.0, backfill.start))


def test_isothermal_blowdown_is_exponential() -> None:
    """p/p0 = exp(-t/τ): Lees, Loss Prevention in the Process Industries; Perry."""
    left = 1 - BLOWDOWN.needed / BLOWDOWN.stored
    assert left < 0.55
    assert BLOWDOWN.time() == pytest.approx(-tau(BLOWDOWN) * math.log(left), rel=2e-5)


def test_adiabatic_blowdown_follows_its_closed_form() -> None:
    """p/p0 = [1 + (k-1) t/(2 τ)]^(2k/(1-k)), of density with 2/(1-k): Lees; Perry misprints k+1."""
    backfill, k = replace(BLOWDOWN, adiabatic=True), 5 / 3
    left = 1 - backfill.needed / backfill.stored
    closed = 2 * tau(backfill) / (k - 1) * (left ** ((1 - k) / 2) - 1)
    assert backfill.time() == pytest.approx(closed, rel=2e-5)


@pytest.mark.parametrize("supply", [0.0, 2.0])
def test_nothing_is_lost(supply: float) -> None:
    """What reservoir and vessel hold by their pressures, less the supply, stays the same."""
    rows = np.array(
        line.backfill_curve(ARGON, 5.0, 10e5, 2.5, 1.0, 6e5, 0.025, 6.0, 8.0, supply), float
    )
    time, vessel, reservoir = rows[:, 0], rows[:, 1], rows[:, 2]
    held = 5.0 * properties.molar_density(ARGON, reservoir, 293.15)
    held += 2.5 * properties.molar_density(ARGON, vessel, 293.15) - supply * time
    assert held == pytest.approx(np.full(len(held), held[0]), rel=1e-8)
    assert vessel[-1] == pytest.approx(6e5, rel=1e-9)


def test_flow_of_the_curve_adds_up_to_the_gas_let_in() -> None:
    rows = np.array(line.backfill_curve(ARGON, 10.0, 16e5, 2.5, 1.0, 6e5, 0.025, 6.0, 8.0,
                                        points=2001), float)  # fmt: skip
    assert simpson(rows[:, 3], x=rows[:, 0]) == pytest.approx(BACKFILL.needed, rel=1e-7)


def test_energy_of_an_adiabatic_reservoir_balances() -> None:
    """ΔU = supply's enthalpy - enthalpy that left."""
    backfill = replace(BACKFILL, reservoir_volume=2.0, supply_flow=2.0, adiabatic=True)
    backfill = replace(backfill, pressure_to=5e5)
    solution = backfill.integrate(dense_output=True)
    times = np.linspace(0.0, solution.t_events[0][0], 2001)
    instants = [backfill.at(t, solution.sol(t)) for t in times.tolist()]
    out = [backfill.molar_flow(i) * i.reservoir.enthalpy for i in instants]

    def energy(index: int) -> float:
        state = solution.sol(times[index])
        moles = backfill.reservoir_density(times[index], state) * backfill.reservoir_volume
        gas = instants[index].reservoir
        return moles * gas.enthalpy - gas.pressure * backfill.reservoir_volume

    let_in = backfill.supply_flow * times[-1] * backfill.supply_enthalpy
    change = energy(-1) - energy(0)
    assert change == pytest.approx(let_in - simpson(out, x=times), rel=1e-5)


@pytest.mark.parametrize("adiabatic", [False, True])
def test_time_by_another_integrator(adiabatic: bool) -> None:
    backfill = replace(BACKFILL, adiabatic=adiabatic)

    def filled(_: float, state: list[float]) -> float:
        return state[0] - backfill.needed

    filled.terminal = True  # type: ignore[attr-defined]
    judge = solve_ivp(
        backfill.rates, (0, 1e4), backfill.start, "DOP853", events=filled, rtol=1e-12, atol=1e-9
    )
    assert backfill.time() == pytest.approx(judge.t_events[0][0], rel=1e-8)


def test_a_drop_far_below_the_pressure_keeps_its_digits() -> None:
    """Slow gas is incompressible: Bernoulli at the inlet, then Darcy and Weisbach."""
    wide = Line(bore=1.0, length=20.0, fittings_k=3.0, roughness=line.STEEL)
    gas = AtRest(13e5, 21.0, 1.7, 2.2e-5)
    for mass_flow in (0.2, 0.02, 2e-4):
        flowing = flow_of(wide, gas, mass_flow)
        head = (mass_flow / wide.area) ** 2 / (2 * gas.density)
        drop = (flowing.friction * 20.0 + 3.0 + 1.0) * head
        assert flowing.pressure_drop == pytest.approx(drop, rel=1e-7)


def test_bore_needs_few_integrations(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = []
    whole = Filling.time

    def counted(backfill: Filling, effort: Effort) -> float:
        calls.append(backfill)
        return whole(backfill, effort)

    monkeypatch.setattr(Filling, "time", counted)
    for supply in (0.0, 2.0):
        calls.clear()
        filling.smallest_bore(replace(BACKFILL, supply_flow=supply), 30.0, line.NARROWEST)
        assert len(calls) <= 12


def test_supply_carries_on_after_the_pressures_equalise() -> None:
    """At one pressure the time follows from the amounts alone, whatever the line."""
    backfill = replace(
        BACKFILL, reservoir_volume=2.0, reservoir_pressure=8e5, supply_flow=0.1,
        line=replace(PIPE, bore=0.1),
    )  # fmt: skip
    wanted = 4.5 * float(properties.molar_density(ARGON, 6e5, 293.15))
    pace = (wanted - backfill.stored - backfill.held) / backfill.supply_flow
    assert backfill.time() == pytest.approx(pace, rel=1e-6)


def test_a_short_line_keeps_a_backfill_fast() -> None:
    """Common practice: at most about 6 m (20 ft) from reservoir to furnace. A 2.5 m3 furnace is
    at 6 bar(a) in half a minute through 1 in; ten times the length takes more than twice as long,
    while bringing the reservoir nearer still gains little."""

    def time(length: float) -> float:
        return replace(BACKFILL, line=replace(PIPE, length=length)).time()

    assert time(6.0) < 40
    assert time(60.0) > 2 * time(6.0)
    assert time(3.0) > 0.85 * time(6.0)


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
