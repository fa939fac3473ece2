"""Room air against a simulation, relief flow against other formulas and the real nozzle."""

from __future__ import annotations

import fluids
import numpy as np
import pytest
from scipy.integrate import solve_ivp

from gasfuncs import properties
from gasfuncs.calculations import room, safety
from gasfuncs.units.reference import R

ROOM = 293.15


@pytest.mark.parametrize("exhaust", [0.0, 20.0, 200.0, 800.0])
def test_room_oxygen_is_the_balance_integrated(exhaust: float) -> None:
    volume, released, hours = 180.0, 60.0, 2.0
    rate = released / hours

    def change(_: float, x: float) -> float:
        return (0.2095 * max(exhaust - rate, 0) - max(exhaust, rate) * x) / volume

    simulated = solve_ivp(change, (0, hours), [0.2095], rtol=1e-10, atol=1e-12).y[0, -1]
    amount = released * 101_325 / (R * ROOM)
    found = room.room_oxygen(volume, amount, exhaust / 3600, hours * 3600)
    assert found == pytest.approx(simulated, rel=1e-8)


def test_the_answer_is_never_above_complete_mixing_without_ventilation() -> None:
    """The displacement rule is the cautious one: 1 - v is at most exp(-v)."""
    amounts = np.linspace(0, 8000, 41)
    mixed = 0.2095 * np.exp(-amounts * R * ROOM / 101_325 / 180)
    assert np.all(room.room_oxygen(180.0, amounts) <= mixed + 1e-15)


@pytest.mark.parametrize("name", ["argon", "nitrogen", "helium", "air"])
@pytest.mark.parametrize("back", [0.1e5, 3e5, 6e5, 8.5e5, 9.9e5])
def test_relief_flow_is_api_520_with_the_same_properties(name: str, back: float) -> None:
    """API Standard 520 part 1, in `fluids`, of an ideal gas with the real gas's Z and exponent."""
    gas = properties.gas(name)
    flow = safety.relief_flow(gas, 0.012, 1e6, ROOM, 0.9, back)
    area = fluids.API520_A_g(
        m=float(flow) * properties.molar_mass(gas), T=ROOM,
        Z=float(properties.compressibility(gas, 1e6, ROOM)), MW=1e3 * properties.molar_mass(gas),
        k=float(properties.isentropic_exponent(gas, 1e6, ROOM)), P1=1e6, P2=back, Kd=0.9,
    )  # fmt: skip
    assert area == pytest.approx(np.pi / 4 * 0.012**2, rel=2e-3)


@pytest.mark.parametrize("name", ["argon", "nitrogen", "helium", "hydrogen", "oxygen"])
@pytest.mark.parametrize("pressure", [5e5, 40e5, 100e5, 200e5])
def test_relief_flow_is_that_of_the_real_gas(name: str, pressure: float) -> None:
    """The largest flow per area along the isentrope, ρ √(2 (h₀ - h)), with a coefficient of 1."""
    gas = properties.gas(name)
    molar = float(properties.molar_density(gas, pressure, ROOM))
    throat = np.linspace(0.5, 0.75, 251) * molar
    p, t = properties.expanded(gas, pressure, ROOM, throat)
    fall = properties.enthalpy(gas, pressure, ROOM) - properties.enthalpy(gas, p, t)
    largest = np.max(throat * np.sqrt(2 * fall / properties.molar_mass(gas)))
    flow = safety.relief_flow(gas, np.sqrt(4 / np.pi), pressure, ROOM, 1.0, 0.0)
    assert float(flow) == pytest.approx(largest, rel=2e-5)
