"""The adiabatic reservoir against a step-by-step energy balance, and mass balances by column."""

from __future__ import annotations

import numpy as np
import pytest

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import reservoir
from gasfuncs.errors import NoSolutionError

ROOM = 293.15


@pytest.mark.parametrize(
    ("name", "pressure"), [("argon", 16e5), ("nitrogen", 150e5), ("helium", 50e5), ("air", 30e5)]
)
def test_constant_entropy_is_the_energy_balance_of_a_vessel_that_empties(
    name: str, pressure: float
) -> None:
    """d(n u) = h dn for what leaves an insulated vessel, by the midpoint rule in 400 steps."""
    gas = properties.gas(name)
    molar = float(properties.molar_density(gas, pressure, ROOM))
    density, temperature = molar, ROOM
    fall = 0.5 * molar / 400

    def cooling(rho: float, kelvin: float) -> float:
        """dT/dρ = (h - u - ρ ∂u/∂ρ) / (ρ c_v), with differences for the two slopes."""
        u = _energy(gas, rho, kelvin)
        slope = (_energy(gas, rho * 1.0001, kelvin) - u) / (rho * 1e-4)
        heat = (_energy(gas, rho, kelvin + 0.01) - u) / 0.01
        flow_work = float(properties.pressure(gas, rho, kelvin)) / rho
        return (flow_work - rho * slope) / (rho * heat)

    for _ in range(400):
        half = temperature - 0.5 * fall * cooling(density, temperature)
        temperature -= fall * cooling(density - 0.5 * fall, half)
        density -= fall
    expected = float(properties.pressure(gas, density, temperature))
    found, cold = properties.expanded(gas, pressure, ROOM, 0.5 * molar)
    assert float(cold) == pytest.approx(temperature, rel=1e-4)
    assert float(found) == pytest.approx(expected, rel=1e-4)


def _energy(gas: properties.Gas, molar: float, temperature: float) -> float:
    pressure = float(properties.pressure(gas, molar, temperature))
    return float(properties.internal_energy(gas, pressure, temperature))


def test_nothing_drawn_in_one_row_leaves_the_others_their_size() -> None:
    def size(amounts: object) -> list[float]:
        found = gasfuncs.GAS_RESERVOIR_SIZE("argon", amounts, 16, 8, 20, "wall", "30 s")
        return np.ravel(found).tolist()

    column = size([10.0, 0.0, 20.0])
    assert column == pytest.approx([*size(10.0), 0.0, *size(20.0)], rel=1e-12)
    assert column[2] > column[0] > 0
    assert size([0.0, 0.0]) == [0.0, 0.0]


@pytest.mark.parametrize("process", ["isothermal", "adiabatic"])
def test_a_column_balances(process: str) -> None:
    gas = properties.gas("argon")
    to = np.linspace(1e5, 6e5, 11)
    after = reservoir.reservoir_after(gas, 10.0, 16e5, 2.5, 1e3, to, ROOM, process)
    let_in = 2.5 * (
        properties.molar_density(gas, to, ROOM) - properties.molar_density(gas, 1e3, ROOM)
    )
    left = properties.molar_density(gas, 16e5, ROOM) - let_in / 10
    if process == "adiabatic":
        expected = properties.expanded(gas, 16e5, ROOM, left)[0]
    else:
        expected = properties.pressure(gas, left, ROOM)
    np.testing.assert_allclose(after, expected, rtol=2e-6)


def test_unreachable_exactly_from_the_pressure_where_both_are_equal() -> None:
    gas = properties.gas("nitrogen")
    before = float(properties.molar_density(gas, 16e5, ROOM))
    equal = float(properties.pressure(gas, before * 3 / 5, ROOM))
    given = (gas, 3.0, 16e5, 2.0, 0.0)
    after = reservoir.reservoir_after(*given, equal * (1 - 1e-5), ROOM, "isothermal")
    assert float(after) == pytest.approx(equal, rel=3e-5)
    with pytest.raises(NoSolutionError, match="equalise below it"):
        reservoir.reservoir_after(*given, equal * (1 + 2e-5), ROOM, "isothermal")


@pytest.mark.parametrize("seconds", [1.0, 30.0, 600.0])
def test_a_reservoir_between_the_bounds(seconds: float) -> None:
    gas = properties.gas("argon")
    given = (gas, 600.0, 16e5, 9e5, ROOM)
    small = float(reservoir.reservoir_size(*given, "isothermal"))
    large = float(reservoir.reservoir_size(*given, "adiabatic"))
    walled = float(reservoir.reservoir_size(*given, "wall", seconds))
    assert small < walled < large
    if seconds == 1.0:
        assert walled == pytest.approx(large, rel=0.02)
