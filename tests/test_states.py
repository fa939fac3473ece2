"""States of a gas against CoolProp's plain interface, limits that any gas has, and balances."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from gasfuncs.errors import StateError
from gasfuncs.properties import gas, motion, states
from gasfuncs.properties.saturation import saturated
from gasfuncs.properties.water import water_mass, water_share

R = 8.314462618
ARGON, NITROGEN = gas("argon"), gas("nitrogen")
PURE = [("argon", "Argon", 95.0), ("nitrogen", "Nitrogen", 90.0), ("oxygen", "Oxygen", 100.0)]


@pytest.mark.parametrize(("name", "fluid", "kelvin"), PURE)
def test_boiling(name: str, fluid: str, kelvin: float) -> None:
    found = states.boiling_pressure(gas(name), kelvin)
    assert found == pytest.approx(PropsSI("P", "T", kelvin, "Q", 0, fluid), rel=1e-9)
    both = saturated(gas(name), found)
    assert both.temperature == pytest.approx(kelvin, rel=1e-9)
    for quality, density in ((0, both.liquid_density), (1, both.vapour_density)):
        expected = PropsSI("Dmolar", "T", kelvin, "Q", quality, fluid)
        assert density == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize("kelvin", [200.0, 293.15, 900.0])
def test_a_thin_gas_is_ideal(kelvin: float) -> None:
    """n = p/(R T), right down to nothing; the equation of state has R = 8.31451."""
    pressures = np.array([0.0, 1e-6, 0.3, 1.0])
    found = states.molar_density(ARGON, pressures, kelvin)
    assert found == pytest.approx(pressures / (R * kelvin), rel=1e-5)
    molar = np.array([0.0, 1e-9, 3e-5, 1e-4])
    assert states.pressure(ARGON, molar, kelvin) == pytest.approx(molar * R * kelvin, rel=1e-5)


@pytest.mark.parametrize(("pressure", "kelvin"), [(1e5, 150.0), (50e5, 200.0), (150e5, 450.0)])
def test_temperature_and_pressure_come_back(pressure: float, kelvin: float) -> None:
    for it in (ARGON, gas("95% argon + 5% hydrogen")):
        molar = float(states.molar_density(it, pressure, kelvin))
        assert float(states.pressure(it, molar, kelvin)) == pytest.approx(pressure, rel=1e-9)
        assert states.temperature(it, pressure, molar) == pytest.approx(kelvin, rel=1e-9)


def test_a_density_between_liquid_and_vapour_is_no_gas() -> None:
    for molar in (5_000.0, 30_000.0):
        with pytest.raises(StateError, match="liquid, at least in part"):
            states.pressure(ARGON, molar, 100.0)


@pytest.mark.parametrize("of", [states.viscosity, states.conductivity])
def test_a_mixture_of_one_gas_with_itself_has_that_gases_transport(of: Any) -> None:
    """Wilke's rule: parts that are alike are one; so nearly pure is nearly the pure gas."""
    p, t = np.array([[1e5, 5e5], [1e6, 2e6]]), np.array([[300.0, 400.0], [500.0, 600.0]])
    nearly = of(gas("99.99999% argon + 0.00001% nitrogen"), p, t)
    assert nearly.shape == p.shape
    assert nearly == pytest.approx(of(ARGON, p, t), rel=1e-6)
    half = of(gas("50% argon + 50% nitrogen"), p, t)
    low, high = (
        np.minimum(of(ARGON, p, t), of(NITROGEN, p, t)),
        np.maximum(of(ARGON, p, t), of(NITROGEN, p, t)),
    )
    assert ((low < half) & (half < 1.02 * high)).all()


def test_a_moving_mixture_has_the_transport_of_its_state() -> None:
    mixed = gas("90% argon + 10% nitrogen")
    molar = float(states.molar_density(mixed, 6e5, 300.0))
    now = motion.moving(mixed, 6e5, motion.theta(mixed, 6e5, molar))
    assert float(now.viscosity) == pytest.approx(float(states.viscosity(mixed, 6e5, 300.0)))
    assert float(now.conductivity) == pytest.approx(float(states.conductivity(mixed, 6e5, 300.0)))


def test_water_by_mass() -> None:
    """10 parts of water in 1000 by volume of argon: 10 · 18.0153 g in 990 · 39.948 g and that
    (IUPAC molar masses)."""
    found = float(water_mass(0.01, ARGON, None))
    assert found == pytest.approx(10 * 18.0153 / (10 * 18.0153 + 990 * 39.948), rel=1e-5)
    assert float(water_share(found, ARGON, None)) == pytest.approx(0.01, rel=1e-12)
