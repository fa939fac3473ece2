"""Physics of backfills that no single formula can check."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from CoolProp import CoolProp
from scipy.integrate import simpson, solve_ivp

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import fill, fill_course, filling, furnace, integration, line
from gasfuncs.calculations.effort import Effort
from gasfuncs.calculations.filling import Filling, Space
from gasfuncs.calculations.gas_dynamics import AtRest, Line, flow
from gasfuncs.errors import NoSolutionError, TooLongError

ARGON = properties.gas("argon")
ROOM = 293.15
PIPE = {"bore": 0.025, "length": 6.0, "fittings_k": 8.0}
NOZZLE = {"bore": 0.01, "length": 0.0, "fittings_k": 0.0}
BLOWDOWN: dict[str, Any] = {
    "volume": 0.1, "full": 5000.0, "vessel": 100.0, "low": 1e-3, "high": 2.5, **NOZZLE,
    "reservoir_kelvin": ROOM,
}  # fmt: skip
"""So thin that the gas is ideal, into a vessel so large that it stays choked."""


def backfill(
    process: str = "isothermal", vessel_process: str = "isothermal", *,
    volume: float = 10.0, full: float = 16e5, vessel: float = 2.5, low: float = 1.0,
    high: float = 6e5, bore: float = 0.025, length: float = 6.0, fittings_k: float = 8.0,
    supply: float = 0.0, reservoir_kelvin: float = ROOM, before: float = ROOM,
    wall: float = ROOM, vessel_ha: float = math.nan, reservoir_ha: float = math.nan,
    kv: float = math.inf, xt: float = 0.7, gas: properties.Gas = ARGON,
) -> Filling:  # fmt: skip
    """One backfill as columns of one row."""

    def row(value: float) -> filling.Column:
        return np.array([value])

    return Filling(
        gas,
        Space(row(volume), row(full), row(reservoir_kelvin), row(reservoir_kelvin),
              row(reservoir_ha), process),
        Space(row(vessel), row(low), row(before), row(wall), row(vessel_ha), vessel_process),
        row(high),
        Line(row(bore), row(length), row(fittings_k), row(line.STEEL), row(kv), row(xt)),
        row(supply), row(reservoir_kelvin), row(0.0),
    )  # fmt: skip


def end(fills: Filling) -> fill_course.End:
    """What stands at the end."""
    ends = filling.run(fills, Effort())
    return fill_course.moment(fills, ends.time[:, None], ends.state[:, None])


def time(fills: Filling) -> float:
    return float(filling.run(fills, Effort()).time[0])


def tau(fills: Filling) -> float:
    """Contents over choked flow, both at the start: the time constant of a blowdown."""
    start = fill_course.moment(fills, np.zeros((1, 1)), fills.start[:, None])
    return float(fills.stored[0] / start.flow[0, 0])


def left(fills: Filling) -> float:
    """Share of its gas that a reservoir keeps."""
    return float(end(fills).stored[0, 0] / fills.stored[0])


def test_isothermal_blowdown_is_exponential() -> None:
    """p/p0 = exp(-t/τ): Lees, Loss Prevention in the Process Industries; Perry."""
    fills = backfill(**BLOWDOWN)
    assert left(fills) < 0.55
    assert time(fills) == pytest.approx(-tau(fills) * math.log(left(fills)), rel=2e-5)


def test_adiabatic_blowdown_follows_its_closed_form() -> None:
    """p/p0 = [1 + (k-1) t/(2 τ)]^(2k/(1-k)), of density with 2/(1-k): Lees; Perry misprints k+1."""
    fills, k = backfill("adiabatic", **BLOWDOWN), 5 / 3
    closed = 2 * tau(fills) / (k - 1) * (left(fills) ** ((1 - k) / 2) - 1)
    assert time(fills) == pytest.approx(closed, rel=2e-5)


class InternalEnergy:
    """The same fill with mol and J of both vessels as unknowns, CoolProp asked for every state,
    SciPy's DOP853: nothing of the integration or of the series is in it."""

    def __init__(self, fills: Filling) -> None:
        self.fills = fills
        self.state = CoolProp.AbstractState("HEOS", "Argon")
        self.mass = self.state.molar_mass()

    def at(self, space: Space, mol: float, energy: float) -> tuple[float, float, float]:
        """Pa, K and J/mol of enthalpy; CoolProp's state stays there."""
        volume = float(space.volume[0])
        self.state.update(CoolProp.DmolarUmolar_INPUTS, mol / volume, energy / mol)
        return self.state.p(), self.state.T(), self.state.hmolar()

    def start(self, space: Space) -> list[float]:
        self.state.update(CoolProp.PT_INPUTS, float(space.pressure[0]), float(space.temperature[0]))
        mol = self.state.rhomolar() * float(space.volume[0])
        return [mol, mol * self.state.umolar()]

    def rates(self, _: float, y: Any) -> list[float]:
        fills = self.fills
        vessel, vessel_kelvin, _ = self.at(fills.vessel, y[0], y[1])
        full, kelvin, enthalpy = self.at(fills.reservoir, y[2], y[3])
        density = self.state.rhomass()
        exponent = density * self.state.speed_sound() ** 2 / full
        rest = AtRest(full, density, exponent, self.state.viscosity())
        assert fills.line
        out = 0.0
        if vessel < full:
            out = float(flow(fills.line, rest, np.array([vessel])).mass_flow[0]) / self.mass
        heat = [
            0.0 if space.exchange == "adiabatic"
            else float(space.conductance[0]) * (float(space.wall[0]) - now)
            for space, now in ((fills.vessel, vessel_kelvin), (fills.reservoir, kelvin))
        ]  # fmt: skip
        supply = float(fills.supply_flow[0])
        self.state.update(
            CoolProp.PT_INPUTS, float(fills.reservoir.pressure[0]),
            float(fills.supply_temperature[0]),
        )  # fmt: skip
        supplied = supply * self.state.hmolar()
        return [out, out * enthalpy + heat[0], supply - out,
                supplied - out * enthalpy + heat[1]]  # fmt: skip

    def time(self) -> float:
        def filled(_: float, y: Any) -> float:
            return self.at(self.fills.vessel, y[0], y[1])[0] - float(self.fills.pressure_to[0])

        filled.terminal = True  # type: ignore[attr-defined]
        start = self.start(self.fills.vessel) + self.start(self.fills.reservoir)
        found = solve_ivp(self.rates, (0, 1e4), start, "DOP853", events=filled, rtol=1e-9,
                          atol=1e-7, first_step=1e-3)  # fmt: skip
        return float(found.t_events[0][0])


@pytest.mark.parametrize(
    "given",
    [
        {"process": "adiabatic", "vessel_process": "adiabatic", "low": 1e5},
        {"process": "wall", "vessel_process": "wall", "low": 1e5, "before": 400.0, "wall": 900.0,
         "vessel_ha": 700.0, "reservoir_ha": 300.0},
        {"process": "wall", "vessel_process": "wall", "low": 1e5, "vessel_ha": 2000.0,
         "reservoir_ha": 500.0, "volume": 4.0, "supply": 20.0, "kv": 30.0, "xt": 0.4},
        {"process": "adiabatic", "vessel_process": "adiabatic", "low": 2e5, "full": 180e5,
         "high": 40e5, "volume": 1.0},
    ],
)  # fmt: skip
def test_time_by_an_integration_in_internal_energy(given: dict[str, Any]) -> None:
    fills = backfill(**given)
    assert time(fills) == pytest.approx(InternalEnergy(fills).time(), rel=2e-6)


def test_from_vacuum_the_adiabatic_fill_is_at_gamma_t() -> None:
    """A reservoir without end: T₂ = γ T₀ of the ideal gas, by GAS_FILL_TEMPERATURE of the real."""
    fills = backfill("isothermal", "adiabatic", volume=1e6, low=0.0, bore=0.1)
    hot = float(furnace.fill_temperature(ARGON, 0.0, 6e5, 16e5, ROOM))
    assert float(end(fills).vessel_temperature[0, 0]) == pytest.approx(hot, rel=2e-6)
    assert hot == pytest.approx(ROOM * 5 / 3, rel=0.04)


@pytest.mark.parametrize(("heat", "exchange"), [(1e-6, "adiabatic"), (1e9, "isothermal")])
def test_a_wall_that_passes_nothing_or_all_is_a_limit(heat: float, exchange: str) -> None:
    limit = end(backfill(exchange, exchange))
    walled = end(backfill("wall", "wall", vessel_ha=heat, reservoir_ha=heat))
    for name in ("time", "vessel_temperature", "reservoir_temperature", "held"):
        ours, theirs = (float(getattr(each, name)[0, 0]) for each in (walled, limit))
        assert ours == pytest.approx(theirs, rel=1e-6), name


def test_natural_convection_is_the_textbooks() -> None:
    """Nu = 0.13 Ra^(1/3) by CoolProp's own properties, for a still reservoir of 0.1 m length."""
    fills = backfill("wall", reservoir_kelvin=280.0)
    fills = replace(fills, reservoir=replace(fills.reservoir, wall=np.array([300.0])))
    motion = filling.Motion(fills)
    now = motion.at(motion.of(np.array([0])), np.zeros((1, 1)), fills.start[:, None])
    state = CoolProp.AbstractState("HEOS", "Argon")
    state.update(CoolProp.PT_INPUTS, 16e5, 280.0)
    kinematic = state.viscosity() / state.rhomass()
    diffusivity = state.conductivity() / (state.rhomass() * state.cpmass())
    length = 0.1
    rayleigh = 9.80665 * 20 / 280 * length**3 / (kinematic * diffusivity)
    diameter = (10 / math.pi) ** (1 / 3)
    area = math.pi * diameter * 4 * diameter + 2 * math.pi / 4 * diameter**2
    heat = 0.13 * rayleigh ** (1 / 3) * state.conductivity() / length * area * 20
    assert float(now.reservoir_heat[0, 0]) == pytest.approx(heat, rel=1e-3)


def test_a_jet_warms_the_vessel_as_woodfield_has_it() -> None:
    """Nu = 0.56 Re^0.67 + 0.104 Ra^0.352 by CoolProp's own properties; a chamber is one and a half
    diameters long."""
    fills = backfill("isothermal", "wall", low=2e5, before=280.0, wall=300.0)
    motion = filling.Motion(fills)
    some = motion.of(np.array([0]))
    now = motion.at(some, np.zeros((1, 1)), fills.start[:, None])
    state = CoolProp.AbstractState("HEOS", "Argon")
    state.update(CoolProp.PT_INPUTS, 2e5, 280.0)
    diameter = (4 * 2.5 / (math.pi * 1.5)) ** (1 / 3)
    mass_flow = float(now.flow[0, 0]) * state.molar_mass()
    reynolds = 4 * mass_flow / (math.pi * 0.025 * state.viscosity())
    kinematic = state.viscosity() / state.rhomass()
    diffusivity = state.conductivity() / (state.rhomass() * state.cpmass())
    rayleigh = 9.80665 * 20 / 280 * diameter**3 / (kinematic * diffusivity)
    nusselt = 0.56 * reynolds**0.67 + 0.104 * rayleigh**0.352
    area = math.pi * diameter * 1.5 * diameter + 2 * math.pi / 4 * diameter**2
    passing = nusselt * state.conductivity() / diameter * area
    assert float(motion.conductance(some, now)[0, 0]) == pytest.approx(passing, rel=1e-3)
    assert float(now.vessel_heat[0, 0]) == pytest.approx(passing * 20, rel=1e-3)


def test_between_its_steps_a_course_is_on_their_polynomials() -> None:
    """e⁻ᵗ, e⁻²ᵗ and e⁻⁴ᵗ, at times that lie in all of its steps."""
    falls = np.array([1.0, 2.0, 4.0])
    problem = integration.Problem(
        lambda _, __, state: -falls * state, lambda _, state: state[..., 0] - 0.5,
        lambda course: course.time < 0, np.ones((1, 3)),
    )  # fmt: skip
    steps = fill_course.Recorded()
    integration.integrate(problem, np.ones((1, 3)), np.array([0.05]), lambda: None, steps)
    assert len(steps.times) > 4
    times = np.linspace(0.0, math.log(2), 47)
    assert steps.at(times) == pytest.approx(np.exp(-times[:, None] * falls), abs=1e-6)


def test_more_heat_to_the_wall_takes_longer_and_lets_in_more() -> None:
    ends = [end(backfill("wall", "wall", vessel_ha=h)) for h in (0.0, 100.0, 1e3, 1e4)]
    assert np.all(np.diff([float(e.time[0, 0]) for e in ends]) > 0)
    assert np.all(np.diff([float(e.held[0, 0]) for e in ends]) > 0)


def test_a_hot_load_fills_sooner() -> None:
    times = [time(backfill("wall", "wall", wall=k, before=k)) for k in (293.15, 600.0, 1200.0)]
    assert times[0] > times[1] > times[2]


@pytest.mark.parametrize("supply", [0.0, 2.0])
@pytest.mark.parametrize("exchange", ["isothermal", "wall", "adiabatic"])
def test_nothing_is_lost(supply: float, exchange: str) -> None:
    """What both hold by their pressures and temperatures, less the supply, stays the same."""
    course = np.array(
        fill.backfill_curve(ARGON, 5.0, 10e5, 2.5, 1e4, 5e5, 0.025, 6.0, 8.0, supply, ROOM,
                            exchange, exchange), float,
    )  # fmt: skip
    seconds, vessel, reservoir = course[:, 0], course[:, 1], course[:, 2]
    held = 5.0 * properties.molar_density(ARGON, reservoir, course[:, 6])
    held += 2.5 * properties.molar_density(ARGON, vessel, course[:, 5]) - supply * seconds
    assert held == pytest.approx(np.full(len(held), held[0]), rel=2e-6)
    assert vessel[-1] == pytest.approx(5e5, rel=1e-8)


def test_flow_of_the_curve_adds_up_to_the_gas_let_in() -> None:
    course = np.array(
        fill.backfill_curve(ARGON, 10.0, 16e5, 2.5, 1e4, 6e5, 0.025, 6.0, 8.0, points=501), float
    )
    let_in = course[-1, 7] - course[0, 7]
    assert simpson(course[:, 3], x=course[:, 0]) == pytest.approx(let_in, rel=1e-6)


def test_energy_of_both_vessels_balances() -> None:
    """ΔU of both = what the supply brings, with no heat from walls."""
    fills = backfill("adiabatic", "adiabatic", volume=2.0, supply=2.0, high=5e5, low=1e4)
    start = fill_course.moment(fills, np.zeros((1, 1)), fills.start[:, None])
    last = end(fills)
    brought = 2.0 * float(last.time[0, 0]) * float(fills.supply_enthalpy[0])

    def energy(at: fill_course.End) -> float:
        total = 0.0
        for mol, kelvin, pressure in (
            (at.held, at.vessel_temperature, at.vessel_pressure),
            (at.stored, at.reservoir_temperature, at.reservoir_pressure),
        ):
            u = properties.internal_energy(ARGON, pressure[0, 0], kelvin[0, 0])
            total += float(mol[0, 0]) * float(u)
        return total

    scale = float(fills.stored[0]) * 12.5 * ROOM
    assert energy(last) - energy(start) == pytest.approx(brought, abs=2e-6 * scale)


def test_a_column_is_answered_as_its_rows_are() -> None:
    bores, highs = np.linspace(0.02, 0.1, 7), np.linspace(2e5, 7e5, 7)
    together = fill.backfill_time(ARGON, 10.0, 16e5, 2.5, 1.0, highs, bores, 6.0, 8.0)
    alone = [
        float(fill.backfill_time(ARGON, 10.0, 16e5, 2.5, 1.0, high, bore, 6.0, 8.0))
        for high, bore in zip(highs, bores, strict=True)
    ]
    assert np.asarray(together) == pytest.approx(np.array(alone), rel=1e-12)


@pytest.mark.parametrize(("share", "bore"), [(1.0, 25), (0.001, 2)])
def test_a_line_is_choked_while_the_vessel_holds_nothing_back(share: float, bore: float) -> None:
    """Choked is told where a lower pressure in the vessel would bring no more gas, by the line's
    own flow; here the reservoir's 16 bar falls as the vessel's rises to 7 bar."""
    sizes = 10 * share, 16, 2.5 * share, 0.1, 7, bore, 6, 8
    rows = gasfuncs.GAS_BACKFILL_CURVE("argon", *sizes, points=12)
    told = []
    for _, vessel, reservoir, _, choked, _, kelvin, *_ in rows[1:]:
        here, less = (
            float(gasfuncs.GAS_LINE_FLOW("argon", reservoir, part * vessel, bore, 6, 8, kelvin))
            for part in (1.0, 0.98)
        )
        assert (less == pytest.approx(here, rel=1e-9)) == (choked in (True, "yes"))
        told.append(choked)
    assert len({*map(str, told)}) == 2


def test_a_reservoir_that_would_condense_is_told_so() -> None:
    with pytest.raises(NoSolutionError, match="drawn so fast that its gas condenses"):
        gasfuncs.GAS_RESERVOIR_SIZE("carbon dioxide", 10, 50, 5, 20, "adiabatic")


def test_supply_carries_on_after_the_pressures_equalise() -> None:
    """At one pressure the time follows from the amounts alone, whatever the line; the flow asks for
    a ten-thousandth of the pressure."""
    fills = backfill(volume=2.0, full=8e5, supply=0.1, bore=0.1)
    wanted = 4.5 * float(properties.molar_density(ARGON, 6e5, ROOM))
    pace = (wanted - float(fills.stored[0]) - float(fills.held[0])) / 0.1
    assert time(fills) == pytest.approx(pace, rel=2e-4)


def test_what_is_reached_is_told() -> None:
    with pytest.raises(NoSolutionError, match=r"the vessel comes to 4.6\d\d bar\(a\), the reser"):
        time(backfill("isothermal", "isothermal", volume=1.0, full=16e5))


def test_a_gas_that_would_condense_is_told_where_it_boils() -> None:
    """Pressure and temperature of the sentence lie on CoolProp's line of saturation."""
    gas = properties.gas("carbon dioxide")
    with pytest.raises(NoSolutionError, match="begins to condense or leaves its equation") as told:
        time(backfill("adiabatic", "adiabatic", gas=gas, full=50e5, high=12e5, volume=1.0, low=1e4))
    found = re.search(r"reservoir at ([\d.]+) bar\(a\) and ([\d.-]+) °C", str(told.value))
    assert found
    bar, celsius = map(float, found.groups())
    boiling = CoolProp.PropsSI("T", "P", bar * 1e5, "Q", 1, "CO2") - 273.15
    assert celsius == pytest.approx(boiling, abs=0.1)


def test_a_short_line_keeps_a_backfill_fast() -> None:
    """Common practice: at most about 6 m (20 ft) from reservoir to furnace. A 2.5 m3 furnace is
    at 6 bar(a) in half a minute through 1 in; ten times the length takes more than twice as long,
    while bringing the reservoir nearer still gains little."""

    def lasting(length: float) -> float:
        return time(backfill("wall", "wall", length=length))

    assert lasting(6.0) < 40
    assert lasting(60.0) > 2 * lasting(6.0)
    assert lasting(3.0) > 0.85 * lasting(6.0)


def test_too_much_work_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("gasfuncs.calculations.effort.MOST_SECONDS", -1.0)
    with pytest.raises(TooLongError, match="far from practice"):
        time(backfill())


def test_collocation_is_of_its_order() -> None:
    """ẏ = -y^1.5 by steps of one length and of half of it: 2 s - 1 = 9, or rounding."""

    def off(step: float) -> float:
        def rates(_: Any, __: Any, state: Any) -> Any:
            return -(state**1.5)

        problem = integration.Problem(
            rates, lambda _, state: state[..., 0] - 0.25, lambda course: course.time < 0,
            np.ones((1, 1)),
        )  # fmt: skip
        ends = integration.integrate(problem, np.ones((1, 1)), np.array([step]), lambda: None)
        return abs(float(ends.time[0]) - 2.0)

    assert off(0.1) < 1e-9
