"""Physics of the topic purge that no single formula shows."""

from __future__ import annotations

from math import isclose, pi, sqrt

import numpy as np
import pytest
from fluids.compressible import isothermal_gas
from fluids.friction import Churchill_1977
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from gasfuncs import properties
from gasfuncs.calculations import purge
from gasfuncs.calculations.vacuum_line import PumpedLine, VacuumLine
from gasfuncs.units import R

AIR = properties.gas("air")
T = 293.15


def line(bore: float, length: float) -> VacuumLine:
    mu = float(properties.viscosity(AIR, 1e5, T))
    return VacuumLine(bore, length, mu, properties.molar_mass(AIR), T)


def test_count_is_the_smallest_that_meets_the_target() -> None:
    random = np.random.default_rng(7)
    for _ in range(300):
        low, high = np.sort(random.uniform(0.01, 5, 2)) * 1e5
        supply, target, start = np.sort(10 ** random.uniform(-6, -0.5, 3))
        mixing = random.uniform(0.3, 1)
        count = purge.vent_fill_count(low, high, start, target, supply, mixing)
        left = [
            purge.vent_fill_residual(n, low, high, start, supply, mixing)
            for n in (count - 1, count)
        ]
        assert left[1] <= target * (1 + 2e-9)
        assert left[0] > target


@pytest.mark.parametrize("ratio", [2, 3, 5, 7, 10, 19])
@pytest.mark.parametrize("cycles", range(1, 9))
def test_a_target_hit_exactly_takes_no_further_cycle(ratio: int, cycles: int) -> None:
    for supply in (0.0, 1e-6, 3.7e-5):
        start = supply + 0.2
        target = supply + 0.2 / ratio**cycles
        assert purge.vent_fill_count(1e5 / ratio, 1e5, start, target, supply) == cycles


def test_count_takes_a_column_at_once() -> None:
    targets = np.array([0.3, 0.03, 0.003])
    assert np.asarray(purge.vent_fill_count(1e4, 1e5, 0.3, targets)).tolist() == [0, 1, 2]


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
    friction = Churchill_1977(pumped.reynolds(q), 0.0)
    mass = isothermal_gas(rho, friction, P1=vessel, P2=q / 0.05, L=6.0, D=0.025)
    assert isclose(q, mass * R * T / properties.molar_mass(AIR), rel_tol=3e-3)


def test_gas_leaves_the_line_no_faster_than_it_chokes() -> None:
    piece, vessel = line(0.025, 6.0), 1e5
    huge, larger = PumpedLine(piece, 10.0), PumpedLine(piece, 100.0)
    assert huge.throughput(vessel) == larger.throughput(vessel)
    sonic = pi / 4 * 0.025**2 * sqrt(R * T / properties.molar_mass(AIR)) * vessel
    assert 0.2 * sonic < huge.throughput(vessel) < 0.6 * sonic


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
