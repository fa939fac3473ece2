"""Flow through a line: what holds at its limits, and of columns that hold unlike lines."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

import gasfuncs
from gasfuncs.calculations import gas_dynamics
from gasfuncs.calculations.gas_dynamics import NO_VALVE, AtRest, Line
from gasfuncs.errors import NoSolutionError

ARGON = AtRest(13e5, 21.5, 1.69, 2.25e-5)


def test_a_column_with_and_without_valves_is_its_rows() -> None:
    def mass_flow(valve_kv: object) -> list[float]:
        kv = np.asarray(valve_kv, float)
        line = Line(0.025, 6.0, 8.0, 4.5e-5, kv, 0.7)
        gas = AtRest(*(np.full(kv.shape, each) for each in ARGON))
        return np.ravel(gas_dynamics.flow(line, gas, np.full(kv.shape, 2e5)).mass_flow).tolist()

    rows = [NO_VALVE, 5.0, 1.0]
    alone = [mass_flow([kv])[0] for kv in rows]
    assert mass_flow(rows) == pytest.approx(alone, rel=1e-12)
    assert alone[0] > alone[1] > alone[2] > 0


def test_the_flow_alone_is_that_of_the_whole_answer() -> None:
    line, down = Line(0.025, 6.0, 8.0, 4.5e-5), np.array([2e5, 9e5, 12.99e5])
    alone, _ = gas_dynamics.mass_flow(line, ARGON, down)
    assert alone == pytest.approx(gas_dynamics.flow(line, ARGON, down).mass_flow, rel=1e-12)


def test_one_row_without_an_answer_is_no_answer() -> None:
    gas = AtRest(*(np.array([each, each]) for each in ARGON))
    gas = gas._replace(exponent=np.array([1.69, np.nan]))
    with pytest.raises(NoSolutionError, match="no flow through the line was found"):
        gas_dynamics.flow(Line(0.025, 6.0, 8.0, 4.5e-5), gas, np.array([2e5, 2e5]))


def most(valve_kv: float | None, xt: float = 0.7) -> float:
    return float(
        gasfuncs.GAS_LINE_FLOW(
            "argon", "12 bar(g)", "1 mbar(a)", 50, 5, 0, valve_kv=valve_kv, xt=xt
        )
    )


@pytest.mark.parametrize("valve_kv", [None, 5.0, 400.0])
def test_a_flow_just_above_the_most_is_refused_and_just_below_it_passes(
    valve_kv: float | None,
) -> None:
    """Whether the pipe chokes or the valve does."""
    asked: dict[str, Any] = {"bore": 50, "length": 5, "fittings_k": 0, "valve_kv": valve_kv}
    limit = most(valve_kv)
    drop = gasfuncs.GAS_LINE_DROP("argon", 0.9999 * limit, "12 bar(g)", **asked)
    assert 0 < drop < 13.01325
    with pytest.raises(gasfuncs.GasFuncsError, match="more than the line can pass"):
        gasfuncs.GAS_LINE_DROP("argon", 1.0001 * limit, "12 bar(g)", **asked)
    with pytest.raises(gasfuncs.GasFuncsError, match="more than the line can pass"):
        gasfuncs.GAS_LINE_DROP("argon", 2 * limit, "12 bar(g)", upstream="in the pipe", **asked)
    through = gasfuncs.GAS_LINE_DROP(
        "argon", 0.9 * limit, "12 bar(g)", upstream="in the pipe", **asked
    )
    assert 0 < through < drop


def test_a_valve_that_loses_all_the_pressure_still_has_a_flow() -> None:
    """xT of 1 with an exponent above 1.4: IEC's choking ratio would be above 1."""
    assert most(2.0, 1.0) == pytest.approx(
        float(gasfuncs.GAS_LINE_FLOW("argon", "12 bar(g)", 0, 50, 5, 0, valve_kv=2, xt=1)),
        rel=1e-3,
    )
    assert most(2.0, 1.0) > most(2.0, 0.7)


def test_gas_flows_in_a_pipe_up_to_the_speed_of_sound() -> None:
    """Without friction: √(k p ρ) A at Mach 1; what is faster does not come by pressure alone."""
    line, k = Line(0.02, 0.0, 0.0, 0.0), ARGON.exponent
    sonic = np.sqrt(k * ARGON.pressure * ARGON.density) * np.pi / 4 * 0.02**2
    mach = np.array([1e-3, 0.5, 0.99, 0.9999, 1.0001, 3.0])
    found = gas_dynamics.flow_in_pipe(line, ARGON, mach * sonic)
    assert found.choked.tolist() == [False, False, False, False, True, True]
    assert found.inlet[:4] == pytest.approx(mach[:4] ** 2, rel=1e-12)


def test_a_line_of_any_resistance_chokes_in_thin_gas() -> None:
    """At p √(2 / ((k + 1) k N)) where the gas is slow at the inlet."""
    thin = AtRest(100.0, 1.2e-3, 1.4, 1.8e-5)
    most = gas_dynamics.choked_flow(Line(0.2, 0.0, 1e6, 0.0), thin)
    assert bool(most.choked)
    assert float(most.outlet_pressure) == pytest.approx(
        100 * (2.4 / 2 * 1.4 * 1e6) ** -0.5, rel=0.01
    )


def many_lines(count: int = 2000) -> tuple[Any, Any]:
    """Lines as they may be, every second one with a valve, and the share of pressure lost."""
    chance = np.random.default_rng(5)
    valve = np.where(np.arange(count) % 2, 10 ** chance.uniform(-1, 3, count), NO_VALVE)
    line = Line(
        10 ** chance.uniform(-3, -1, count), 10 ** chance.uniform(-2, 3, count),
        10 ** chance.uniform(-2, 3, count), 1e-6, valve, chance.uniform(0.2, 0.8, count),
    )  # fmt: skip
    pressure = 10 ** chance.uniform(4, 7, count)
    gas = AtRest(pressure, pressure / 84000, chance.uniform(1.1, 1.67, count), 1.8e-5)
    share = 10 ** chance.uniform(-6, -0.01, count)
    return gas_dynamics._pipe(line, gas), np.where(np.arange(count) % 3, share, 1 - share)


def test_slopes_are_the_derivatives() -> None:
    pipe, lost = many_lines()
    chance = np.random.default_rng(6)
    x, z = chance.uniform(0.01, 0.5, (2, len(lost)))
    step = 1e-6

    def at(x: Any, z: Any) -> Any:
        return gas_dynamics._equations(pipe, x, z, lost)

    found = at(x, z)
    for place, dx, dz in (("x", step, 0.0), ("z", 0.0, step)):
        above, below = at(x + dx, z + dz), at(x - dx, z - dz)
        for name in ("path", "pressure"):
            slope = (getattr(above, name) - getattr(below, name)) / (2 * step)
            ours = np.broadcast_to(getattr(found, f"{name}_{place}"), slope.shape)
            smooth = np.abs(ours - slope) < 1e-4 * (1 + np.abs(slope))
            assert np.mean(smooth) > 0.999  # but where a friction law ends


def test_both_equations_hold_at_what_is_found() -> None:
    pipe, lost = many_lines()
    x, z = gas_dynamics.solve(pipe, lost)
    left = gas_dynamics._equations(pipe, x, z, lost)
    choked = z >= pipe.limit * (1 - 1e-9)
    assert 100 < np.count_nonzero(choked) < len(lost) / 2
    assert np.max(np.abs(left.path)) < 1e-9
    assert np.max(np.abs(left.pressure[~choked])) < 1e-9
    assert np.min(left.pressure[choked]) > -1e-9


@pytest.mark.parametrize("guess", [np.nan, 1e-12, 0.9])
def test_a_guess_that_misleads_does_no_harm(guess: float) -> None:
    pipe, lost = many_lines(200)
    x, z = gas_dynamics.solve(pipe, lost)
    start_x, start_z = x.copy(), z.copy()
    start_x[7], start_z[7] = guess, guess
    found_x, found_z = gas_dynamics.solve(pipe, lost, (start_x, start_z))
    assert found_x == pytest.approx(x, rel=1e-9)
    assert found_z == pytest.approx(z, rel=1e-9)


def test_what_is_found_of_a_flow_is_found_back() -> None:
    """x from its mass flow, and the share lost on the path from the resistance that takes it."""
    pipe, _ = many_lines()
    chance = np.random.default_rng(7)
    x = 0.95 * 10 ** chance.uniform(-8, 0, len(pipe.k))
    found = gas_dynamics._inlet_of(pipe, gas_dynamics._psi(pipe, x))
    assert found == pytest.approx(x, rel=1e-12)
    lost = 0.95 * (1 - x) * 10 ** chance.uniform(-8, 0, len(x))
    inlet = 1 + pipe.a * x
    resistance = (lost + pipe.b * x * np.log1p(-lost / inlet)) / (pipe.k * x)
    assert gas_dynamics._path_lost(pipe, x, resistance) == pytest.approx(lost, rel=1e-10)
