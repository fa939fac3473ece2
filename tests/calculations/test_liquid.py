"""Bulk liquid: balances and integrals that no formula text can hold."""

import re

import numpy as np
import pytest
from CoolProp.CoolProp import AbstractState, DmolarUmolar_INPUTS, HmolarP_INPUTS
from scipy.integrate import quad

from gasfuncs import properties
from gasfuncs.calculations import liquid, tank
from gasfuncs.calculations.tank_shape import HEADS, ShareOfHeight, read_level
from gasfuncs.errors import NoSolutionError, OutOfRangeError

ARGON = properties.gas("argon")
NITROGEN = properties.gas("nitrogen")
DAY = 86_400.0


def test_hold_time_reaches_the_relief_pressure_by_a_flash_at_density_and_energy() -> None:
    """CoolProp's own two-phase flash finds the pressure from the heat that leaked in."""
    capacity, fill, now, relief, rate = 11.0, 0.8, 4e5, 16e5, 0.0035
    seconds = tank.hold_time(ARGON, capacity, fill, now, relief, rate)
    at_rest = properties.saturated(ARGON, now)
    normal = properties.saturated(ARGON, 101_325.0)
    held = fill * at_rest.liquid_density + (1 - fill) * at_rest.vapour_density
    energy = (
        fill * at_rest.liquid_density * at_rest.liquid_energy
        + (1 - fill) * at_rest.vapour_density * at_rest.vapour_energy
    )
    latent = normal.vapour_enthalpy - normal.liquid_enthalpy
    heat = rate * normal.liquid_density * latent * seconds / DAY
    state = AbstractState("HEOS", "Argon")
    state.update(DmolarUmolar_INPUTS, float(held), float((energy + heat) / held))
    assert state.p() == pytest.approx(relief, rel=1e-6)


@pytest.mark.parametrize(("fill", "meant"), [(0.93, "fills the tank"), (0.01, "last liquid")])
def test_hold_time_names_the_pressure_and_time_at_which_one_phase_is_left(
    fill: float, meant: str
) -> None:
    with pytest.raises(NoSolutionError, match=meant) as refused:
        tank.hold_time(NITROGEN, 1.0, fill, 101_325.0, 12e5, 0.005)
    match = re.search(r"at ([\d.]+) bar\(a\) after ([\d.]+) h", refused.value.sentence)
    assert match
    pressure, hours = float(match[1]) * 1e5, float(match[2])
    before = tank.hold_time(NITROGEN, 1.0, fill, 101_325.0, pressure * 0.99, 0.005)
    assert before / 3600 == pytest.approx(hours, rel=0.03)
    with pytest.raises(NoSolutionError, match=meant):
        tank.hold_time(NITROGEN, 1.0, fill, 101_325.0, pressure * 1.01, 0.005)


def test_flash_keeps_the_enthalpy() -> None:
    before = properties.saturated(NITROGEN, 9e5)
    state = AbstractState("HEOS", "Nitrogen")
    state.update(HmolarP_INPUTS, float(before.liquid_enthalpy), 101_325.0)
    assert liquid.flash(NITROGEN, 9e5, 101_325.0) == pytest.approx(state.Q(), rel=1e-8)


def test_flash_is_a_little_more_than_the_heat_balance_of_cold_liquid() -> None:
    """The specific heat rises with temperature, so that of cold liquid gives a lower bound."""
    cold, warm = properties.saturated(NITROGEN, 101_325.0), properties.saturated(NITROGEN, 9e5)
    heat_capacity = 2041 * properties.molar_mass(NITROGEN)  # J/(kg K) at boiling: from memory
    latent = cold.vapour_enthalpy - cold.liquid_enthalpy
    simple = heat_capacity * (warm.temperature - cold.temperature) / latent
    assert simple < liquid.flash(NITROGEN, 9e5, 101_325.0) < 1.1 * simple


def test_dp_level_takes_the_vapour_head_off() -> None:
    pressures = np.array([1.5e5, 11e5, 40e5])
    heights = tank.dp_level(ARGON, 25e3, pressures)
    both = properties.saturated(ARGON, pressures)
    mass = properties.molar_mass(ARGON)
    columns = heights * (both.liquid_density - both.vapour_density) * mass * 9.80665
    np.testing.assert_allclose(columns, 25e3, rtol=1e-12)
    assert np.all(heights > 25e3 / (both.liquid_density * mass * 9.80665))


def test_vaporizer_duty_is_evaporation_and_then_warming() -> None:
    both = properties.saturated(ARGON, 11e5)
    warming = properties.enthalpy(ARGON, 11e5, 278.15) - both.vapour_enthalpy
    evaporation = both.vapour_enthalpy - both.liquid_enthalpy
    duty = liquid.vaporizer_duty(ARGON, 2.0, 11e5, 278.15)
    assert duty == pytest.approx(2 * (evaporation + warming), rel=1e-12)


@pytest.mark.parametrize("level", [0.1, 0.7, 1.0, 1.6, 2.2])
def test_lying_tank_is_the_integral_of_its_slices(level: float) -> None:
    radius, length, depth = 1.1, 6.5, 0.55

    def slice_area(z: float) -> float:
        chord = radius**2 - (z - radius) ** 2
        return float(2 * length * np.sqrt(chord) + np.pi * chord * depth / radius)

    expected, _ = quad(slice_area, 0, level)
    found = tank.tank_liquid(level, 2 * radius, length, "horizontal")
    assert found == pytest.approx(expected, rel=1e-7)


@pytest.mark.parametrize("heads", HEADS)
@pytest.mark.parametrize("position", ["vertical", "horizontal"])
def test_tank_is_symmetric_about_its_middle(heads: str, position: str) -> None:
    def held(share: float) -> float:
        return float(tank.tank_liquid(ShareOfHeight(share), 2.2, 6.5, position, heads))

    full = held(1.0)
    assert held(0.0) == pytest.approx(0, abs=1e-9)
    for share in (0.03, 0.2, 0.5):
        assert held(share) + held(1 - share) == pytest.approx(full, rel=1e-6)


def test_level_is_a_height_or_a_share() -> None:
    assert read_level(1.25) == 1.25
    assert read_level("1,25 m") == 1.25
    assert read_level("62 %") == ShareOfHeight(0.62)
    assert str(read_level("62 %")) == "62 %"
    with pytest.raises(OutOfRangeError, match="inner height"):
        tank.tank_liquid(7.61, 2.2, 6.5)


def test_columns_are_one_call() -> None:
    pressures = np.linspace(1.5e5, 20e5, 50)
    amounts = np.asarray(liquid.from_liquid(ARGON, 5.0, pressures))
    assert amounts.shape == (50,)
    assert np.all(np.diff(amounts) < 0)
    lost = tank.boil_off(11.0, np.array([0.001, 0.01]), 60 * DAY, 0.5)
    np.testing.assert_allclose(lost, [0.66, 5.5])
