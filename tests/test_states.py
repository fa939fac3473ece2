"""States of a gas against CoolProp's plain interface, limits that any gas has, and balances."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from gasfuncs.errors import StateError
from gasfuncs.properties import LiquidState, densities, gas, motion, saturated_at, states
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


MIXTURE = gas("80% argon + 20% hydrogen")
FLUIDS = ("Argon", "Hydrogen")


def test_a_state_is_made_once_and_with_its_shares() -> None:
    held = states._States()
    assert held.of(ARGON) is held.of(ARGON)
    assert held.of(MIXTURE).get_mole_fractions() == pytest.approx([0.8, 0.2])


def test_a_mixture_is_limited_by_its_narrowest_part() -> None:
    """Each limit against CoolProp's of the two parts."""
    coldest, hottest, highest = states.limits(MIXTURE)
    assert coldest == pytest.approx(max(PropsSI("Tmin", fluid) for fluid in FLUIDS))
    assert hottest == pytest.approx(min(PropsSI("Tmax", fluid) for fluid in FLUIDS))
    assert highest == pytest.approx(min(PropsSI("pmax", fluid) for fluid in FLUIDS))
    warmest = max(PropsSI("Tcrit", fluid) for fluid in FLUIDS)
    assert states.critical_temperature(MIXTURE) == pytest.approx(warmest)


def test_a_state_does_not_remember_the_phase_before() -> None:
    """Boiling argon after cold liquid and after hot gas, by a state of CoolProp's own."""
    for before in (states.liquid_state, states._gas_state):
        kelvin = 85.0 if before is states.liquid_state else 400.0
        before(ARGON, 10e5, kelvin)
        found = states.saturated_state(ARGON, 10e5, 1.0).rhomolar()
        assert found == pytest.approx(PropsSI("Dmolar", "P", 10e5, "Q", 1, "Argon"), rel=1e-9)
        before(ARGON, 10e5, kelvin)
        found = states.boiling_pressure(ARGON, 100.0)
        assert found == pytest.approx(PropsSI("P", "T", 100.0, "Q", 0, "Argon"), rel=1e-9)


def test_liquid_freezes_below_the_triple_point_and_not_at_it() -> None:
    coldest = states.limits(ARGON)[0]
    assert states.liquid_state(ARGON, 10e5, coldest).rhomolar() > 35_000
    with pytest.raises(StateError, match="freezes"):
        states.liquid_state(ARGON, 10e5, coldest - 1e-6)


def test_a_mixture_boils_at_no_one_pressure() -> None:
    with pytest.raises(StateError, match="is a mixture, which boils over a range"):
        saturated_at(MIXTURE, 90.0)


@pytest.mark.parametrize(
    ("state", "told"),
    [
        (LiquidState(pressure=3e5), "saturated at 3 bar(a)"),
        (LiquidState(temperature=90.0), "at -183.15 °C"),
        (LiquidState(), "saturated at the tank's pressure"),
    ],
)
def test_a_state_of_liquid_is_told(state: LiquidState, told: str) -> None:
    assert str(state) == told


def test_states_that_share_a_slot_are_told_apart() -> None:
    """With two slots for nine states, of which some share the pressure and some the temperature."""
    p, t = (side.ravel() for side in np.meshgrid([1e5, 2e5, 3e5], [280.0, 300.0, 320.0]))
    alone = [float(densities.molar_density(ARGON, *each)) for each in zip(p, t, strict=True)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(densities, "SLOTS_BITS", 1)
        found = densities.molar_density(ARGON, [*p, *p], [*t, *t])
    assert found == pytest.approx([*alone, *alone], rel=1e-9)


def test_a_mixture_below_its_critical_point_may_be_liquid() -> None:
    """At 100 K argon alone boils at 3.2 bar, where its vapour holds 0.4 mol/L."""
    with pytest.raises(StateError, match="liquid"):
        states.molar_density(MIXTURE, 30e5, 100.0)
    with pytest.raises(StateError, match="liquid"):
        states.pressure(MIXTURE, 3000.0, 100.0)


def test_an_expansion_keeps_the_entropy() -> None:
    """States of CoolProp's own at the same entropy and the density wanted."""
    before = [(10e5, 300.0, 200.0), (5e5, 400.0, 100.0)]
    found = states.expanded(ARGON, *map(list, zip(*before, strict=True)))
    for place, (pressure, kelvin, molar) in enumerate(before):
        entropy = PropsSI("Smolar", "P", pressure, "T", kelvin, "Argon")
        for side, name in ((0, "P"), (1, "T")):
            expected = PropsSI(name, "Dmolar", molar, "Smolar", entropy, "Argon")
            assert found[side][place] == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize("molar", [1e-9, 1e-5])
def test_a_trace_of_gas_is_ideal(molar: float) -> None:
    thin = states.dense(ARGON, molar, 300.0)
    assert thin.pressure == pytest.approx(molar * R * 300, rel=1e-5)
    assert states.dense_pressure(ARGON, molar, 300.0) == pytest.approx(thin.pressure, rel=1e-9)
    assert thin.stiffness == pytest.approx(R * 300, rel=1e-5)
    assert thin.pressure_rise == pytest.approx(R, rel=1e-5)
    assert thin.heat_capacity == pytest.approx(1.5 * R, rel=1e-5)
    assert states.temperature(ARGON, thin.pressure, molar) == pytest.approx(300, rel=1e-9)


@pytest.mark.parametrize("pressure", [0.0, 1e5, 200e5])
def test_transport_under_pressure(pressure: float) -> None:
    """Of argon, which is a third more viscous at 200 bar, by CoolProp's plain interface."""
    for ours, name in ((states.viscosity, "V"), (states.conductivity, "L")):
        expected = PropsSI(name, "P", max(pressure, 1.0), "T", 300.0, "Argon")
        assert ours(ARGON, pressure, 300.0) == pytest.approx(expected, rel=1e-9)


def test_the_pressure_of_one_state_is_that_of_many() -> None:
    expected = PropsSI("P", "Dmolar", 4000.0, "T", 300.0, "Argon")
    assert states.dense_pressure(ARGON, 4000.0, 300.0) == pytest.approx(expected, rel=1e-9)
    assert states.pressure(ARGON, 4000.0, 300.0) == pytest.approx(expected, rel=1e-9)


def test_a_mixture_is_as_viscous_and_conducts_as_wilke_has_it() -> None:
    """Wilke's rule by the library `chemicals`; Wassiljewa's with the same weights, by hand."""
    chemicals = pytest.importorskip("chemicals")
    shares, pressure, kelvin = (0.8, 0.2), 1e5, 300.0
    masses, mu, conductivity = (
        [PropsSI(name, "P", pressure, "T", kelvin, fluid) for fluid in FLUIDS]
        for name in ("molarmass", "V", "L")
    )
    found = states.viscosity(MIXTURE, pressure, kelvin)
    expected = chemicals.viscosity.Wilke(shares, mu, [1000 * mass for mass in masses])
    assert found == pytest.approx(expected, rel=1e-9)

    def weight(i: int, j: int) -> float:
        over = 1 + (mu[i] / mu[j]) ** 0.5 * (masses[j] / masses[i]) ** 0.25
        return float(over**2 / (8 * (1 + masses[i] / masses[j])) ** 0.5)

    by_hand = sum(
        share * conductivity[i] / sum(other * weight(i, j) for j, other in enumerate(shares))
        for i, share in enumerate(shares)
    )
    assert states.conductivity(MIXTURE, pressure, kelvin) == pytest.approx(by_hand, rel=1e-9)
