"""Physics of the topics vacuum and pumpdown that no single formula shows."""

from __future__ import annotations

from math import isclose, pi, sqrt

import numpy as np
import pytest
from fluids.compressible import isothermal_gas
from fluids.friction import Churchill_1977
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from gasfuncs import properties
from gasfuncs.calculations import pumpdown, vacuum
from gasfuncs.calculations.vacuum_line import (
    CREEPING_ENDS,
    VELOCITY_HEADS,
    PumpCurve,
    PumpedLine,
    VacuumLine,
    transmission,
)
from gasfuncs.units import R

AIR = properties.gas("air")
T = 293.15


def line(bore: float, length: float | np.ndarray) -> VacuumLine:
    mu = float(properties.viscosity(AIR, 1e5, T))
    return VacuumLine(bore, length, mu, properties.molar_mass(AIR), T)


def test_thin_gas_is_pumped_as_knudsens_conductance_in_series_lets_it() -> None:
    """Against an ordinary differential equation, from a pressure where the flow is laminar."""
    piece, speed, volume, load = line(0.04, 6.0), 0.028, 0.5, 1e-4

    def rate(_: float, p: np.ndarray) -> list[float]:
        def surplus(at_pump: float) -> float:
            passed = piece.conductance((p[0] + at_pump) / 2) * (p[0] - at_pump)
            return float(passed - speed * at_pump)

        return [(load - speed * brentq(surplus, 0, p[0], xtol=1e-12)) / volume]

    def there(_: float, p: np.ndarray) -> float:
        return float(p[0] - 1)

    there.terminal = True  # type: ignore[attr-defined]
    solved = solve_ivp(rate, (0, 1e5), [200.0], events=there, rtol=1e-9, atol=1e-9)
    found = PumpedLine(piece, speed).time(volume, 200, 1, load)
    assert isclose(found, solved.t_events[0][0], rel_tol=5e-3)


def test_dense_gas_flows_as_an_independent_isothermal_formula_says() -> None:
    """`fluids.compressible.isothermal_gas`, with the pressure at the pump that we find."""
    piece, vessel = line(0.025, 6.0), 1e5
    pumped = PumpedLine(piece, 0.05)
    q = pumped.throughput(vessel)
    rho = properties.molar_mass(AIR) / (R * T) * vessel
    ends = VELOCITY_HEADS + CREEPING_ENDS * 64 / piece.reynolds(q)
    friction = Churchill_1977(piece.reynolds(q), 0.0) + ends * 0.025 / 6.0
    mass = isothermal_gas(rho, friction, P1=vessel, P2=q / 0.05, L=6.0, D=0.025)
    assert isclose(q, mass * R * T / properties.molar_mass(AIR), rel_tol=3e-3)


def test_gas_leaves_the_line_no_faster_than_it_chokes() -> None:
    piece, vessel = line(0.025, 6.0), 1e5
    huge, larger = PumpedLine(piece, 10.0), PumpedLine(piece, 100.0)
    assert huge.throughput(vessel) == larger.throughput(vessel)
    sonic = pi / 4 * 0.025**2 * sqrt(R * T / properties.molar_mass(AIR)) * vessel
    assert 0.2 * sonic < huge.throughput(vessel) < 0.6 * sonic
    assert huge.speed(1.0) == pytest.approx(sonic / vessel, rel=1e-12)


def test_fast_gas_loses_a_half_and_a_whole_velocity_head_at_the_ends() -> None:
    """Of a short pipe, at a sharp inlet and at the outlet: handbooks of hydraulics (memory)."""
    piece, vessel, pump = line(0.1, 0.0), 1e5, 0.998e5
    q = brentq(lambda q: piece.passed(vessel, pump, q) - q, 1.0, 1e5)
    density = properties.molar_mass(AIR) / (R * T) * (vessel + pump) / 2
    speed = q / (pi / 4 * 0.1**2) / ((vessel + pump) / 2)
    assert vessel - pump == pytest.approx(1.5 * density * speed**2 / 2, rel=0.01)


@pytest.mark.parametrize(("bores", "share"), [(0.5, 0.671984), (1, 0.514231), (2, 0.356572)])
def test_transmission_of_short_tubes_is_that_of_cole(bores: float, share: float) -> None:
    """R. J. Cole, Progress in Astronautics 51 (1977) 261, from memory."""
    assert transmission(bores) == pytest.approx(share, rel=3e-4)


def test_time_adds_up() -> None:
    pumped = PumpedLine(line(0.04, 6.0), 0.03)
    whole = pumped.time(2.0, 1e5, 0.5, 1e-4)
    parts = pumped.time(2.0, 1e5, 300.0, 1e-4) + pumped.time(2.0, 300.0, 0.5, 1e-4)
    assert isclose(whole, parts, rel_tol=1e-6)


def test_deep_in_molecular_flow_conductances_add_as_resistances() -> None:
    piece = line(0.1, 9.886)
    pumped = PumpedLine(piece, 0.2)
    speed = 1 / (1 / 0.2 + 1 / float(piece.molecular()))
    assert isclose(pumped.throughput(1e-4) / 1e-4, speed, rel_tol=1e-3)
    assert isclose(pumped.base_pressure(1e-6), 1e-6 / speed, rel_tol=1e-3)


@pytest.mark.parametrize("bores", [0.3, 1.0, 4.0, 12.0])
def test_transmission_is_that_of_molecules_flown_one_by_one(bores: float) -> None:
    """Walls scatter by the cosine law; three standard deviations of the count are 2.5 % at most."""
    assert transmission(bores) == pytest.approx(flown_through(bores, 150_000), rel=0.025)


def flown_through(bores: float, count: int) -> float:
    """The share of molecules that leave a tube of radius 1 and 2 · bores length at its far end."""
    random = np.random.default_rng(11)
    length = 2 * bores
    radius, angle = np.sqrt(random.random(count)), 2 * pi * random.random(count)
    at = np.stack([radius, np.zeros(count), np.zeros(count)], axis=1)
    cosine, around = np.sqrt(random.random(count)), angle
    sine = np.sqrt(1 - cosine**2)
    way = np.stack([sine * np.cos(around), sine * np.sin(around), cosine], axis=1)
    passed = 0
    while len(at):
        across = way[:, 0] ** 2 + way[:, 1] ** 2
        inward = at[:, 0] * way[:, 0] + at[:, 1] * way[:, 1]
        gap = 1 - at[:, 0] ** 2 - at[:, 1] ** 2
        far = (-inward + np.sqrt(np.maximum(inward**2 + across * gap, 0))) / across
        at = at + far[:, None] * way
        passed += int(np.sum(at[:, 2] >= length))
        at = at[(at[:, 2] > 0) & (at[:, 2] < length)]
        if not len(at):
            break
        normal = -at * [1, 1, 0]
        normal /= np.linalg.norm(normal, axis=1)[:, None]
        along = np.stack([-normal[:, 1], normal[:, 0], np.zeros(len(at))], axis=1)
        cosine, around = np.sqrt(random.random(len(at))), 2 * pi * random.random(len(at))
        sine = np.sqrt(1 - cosine**2)
        upward = np.zeros_like(at)
        upward[:, 2] = 1
        way = cosine[:, None] * normal + sine[:, None] * (
            np.cos(around)[:, None] * along + np.sin(around)[:, None] * upward
        )
    return passed / count


def test_conductance_has_no_step_from_an_opening_to_a_long_line_and_through_all_pressures() -> None:
    lengths = np.geomspace(1e-5, 1e4, 2001)
    for pressure in (1e-4, 1.0, 1e3, 1e5):
        falls = np.diff(np.log(line(0.05, lengths).conductance(pressure)))
        assert np.all(falls <= 1e-12)
        assert np.max(-falls) < 0.011
    pressures = np.geomspace(1e-6, 1e5, 2001)
    for length in (0.0, 0.05, 0.5, 50.0):
        rises = np.diff(np.log(line(0.05, length).conductance(pressures)))
        assert np.min(rises) > -2e-3  # Knudsen's minimum
        assert np.max(rises) < 0.0131


def test_an_opening_passes_no_more_than_an_ideal_nozzle() -> None:
    """Choked: 0.685 p √(RT/M) A for air; a sharp opening has 0.83 to 0.85 of it (memory)."""
    opening = PumpedLine(line(0.04, 0.0), 1e3)
    ideal = 0.685 * sqrt(R * T / properties.molar_mass(AIR)) * pi / 4 * 0.04**2
    assert 0.75 < opening.throughput(1e5) / 1e5 / ideal < 0.9


def test_a_curve_of_one_speed_is_that_speed() -> None:
    piece = line(0.04, 6.0)
    curve, constant = PumpCurve((1.0, 1e4), (0.03, 0.03)), 0.03
    for load in (1e-6, 1e-2):
        found = PumpedLine(piece, curve).base_pressure(load)
        assert found == pytest.approx(PumpedLine(piece, constant).base_pressure(load), rel=1e-9)
    by_curve = PumpedLine(piece, curve).time(2.0, 1e5, 50.0, 1e-4)
    assert by_curve == pytest.approx(
        PumpedLine(piece, constant).time(2.0, 1e5, 50.0, 1e-4), rel=1e-6
    )


def test_the_course_passes_through_the_time_of_pumpdown() -> None:
    """The differential equation against the integral over the pressure, with a line."""
    time = vacuum.pumpdown_time(2.0, 0.03, 1e5, 20.0, 1e-3, 0.04, 6.0)
    curve, speed = np.array([1.0]), np.array([0.03])
    rows = pumpdown.pumpdown_curve(2.0, curve, speed, 1e5, time, None, None, None, 1e-3, 0.04, 6.0)
    assert rows[-1][1] == pytest.approx(20.0, rel=1e-3)


def test_a_falling_curve_is_followed() -> None:
    """S = S₀ (1 - p_u/p): exact course p = p_u + (p₀ - p_u) exp(-S₀ t/V)."""
    pressures = np.concatenate([[5.0], 5 * (1 + np.geomspace(1e-3, 1e5, 400))])
    speeds = 0.05 * (1 - 5 / pressures)
    rows = pumpdown.pumpdown_curve(1.0, pressures, speeds, 1e5, 300.0)
    for time, pressure, *_ in rows:
        assert pressure == pytest.approx(5 + (1e5 - 5) * np.exp(-0.05 * time), rel=2e-3)


def test_a_mere_hole_passes_slow_gas_by_sampsons_formula() -> None:
    """r³/(3 μ) a pascal of difference, Sampson 1891 (from memory)."""
    hole = line(0.01, 0.0)
    assert hole.viscous(100.0) == pytest.approx(100.0 * 0.005**3 / (3 * hole.viscosity))


def test_nothing_is_drawn_from_nothing() -> None:
    air = properties.gas("air")
    line = VacuumLine(0.05, 1.0, 293.15, float(properties.molar_mass(air)), 1.8e-5)
    assert PumpedLine(line, 0.01).throughput(0.0) == 0.0
    assert PumpedLine(None, 0.01).throughput(-1.0) == 0.0
    assert 0 < PumpedLine(line, 0.01).throughput(1e-3) < 1e-5
