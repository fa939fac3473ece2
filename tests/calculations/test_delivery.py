"""Deliveries: the same balances done with another equation of state and by another route."""

from __future__ import annotations

from typing import Any

import pytest
from CoolProp.CoolProp import AbstractState, DmolarUmolar_INPUTS

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import delivery
from gasfuncs.definition.liquid_terms import ToldAsGas
from gasfuncs.errors import NoSolutionError
from gasfuncs.properties import LiquidState

NITROGEN = properties.gas("nitrogen")
ARGON = properties.gas("argon")
BEFORE, PRESSURE, DELIVERED, TRUCK, TANK = 2.789, 13e5, 6.0, 3e5, 11.01


def saturated(fluid: Any, pressure: float, quality: float) -> tuple[float, float, float, float]:
    """kg/m³, J/kg, J/kg and J/(kg K) on Cantera's saturation line."""
    fluid.PQ = pressure, quality
    return fluid.density, fluid.enthalpy_mass, fluid.int_energy_mass, fluid.entropy_mass


def test_mix_is_the_balance_with_another_equation_of_state() -> None:
    """Reynolds' nitrogen of 1979, as Cantera carries it; the densities are 0.35 % apart."""
    cantera = pytest.importorskip("cantera")
    fluid = cantera.Nitrogen()
    liquid, vapour = (saturated(fluid, PRESSURE, quality) for quality in (0, 1))
    cold = saturated(fluid, TRUCK, 0)
    below, above = BEFORE * liquid[0], (TANK - BEFORE) * vapour[0]
    brought = DELIVERED * cold[0]
    held = below + above
    pumped = cold[1] + (PRESSURE - TRUCK) / cold[0]
    energy = below * liquid[2] + above * vapour[2] + brought * pumped
    fluid.UV = energy / (held + brought), TANK / (held + brought)
    share, mixed = 1 - fluid.Q, fluid.P
    level = share * (held + brought) / saturated(fluid, mixed, 0)[0]
    fluid.SV = (below * liquid[3] + above * vapour[3]) / held, (TANK - DELIVERED) / held
    old, squeezed = (1 - fluid.Q) * held, fluid.P
    apart = old / saturated(fluid, squeezed, 0)[0] + DELIVERED
    rows = delivery.tank_mix(
        NITROGEN, BEFORE, PRESSURE, DELIVERED, LiquidState(pressure=TRUCK), TANK
    )
    assert rows[0][1:3] == [pytest.approx(mixed, rel=0.004), pytest.approx(level, rel=0.001)]
    assert rows[1][1:3] == [pytest.approx(squeezed, rel=0.006), pytest.approx(apart, rel=0.001)]


def test_mixed_tank_holds_what_was_in_it_and_what_came() -> None:
    """Mass and energy at the pressure found, by CoolProp's own flash at density and energy."""
    both, cold = properties.saturated(ARGON, 9e5), properties.saturated(ARGON, 2e5)
    below, above = 3.0 * both.liquid_density, 8.0 * both.vapour_density
    brought = 4.0 * cold.liquid_density
    pumped = cold.liquid_enthalpy + 7e5 / cold.liquid_density
    energy = below * both.liquid_energy + above * both.vapour_energy + brought * pumped
    moles = below + above + brought
    state = AbstractState("HEOS", "Argon")
    state.update(DmolarUmolar_INPUTS, float(moles / 11.0), float(energy / moles))
    rows = delivery.tank_mix(ARGON, 3.0, 9e5, 4.0, LiquidState(pressure=2e5), 11.0)
    assert rows[0][1] == pytest.approx(state.p(), rel=1e-7)
    stock = rows[0][2] * properties.saturated(ARGON, state.p()).liquid_density
    stock += (11.0 - rows[0][2]) * properties.saturated(ARGON, state.p()).vapour_density
    assert stock == pytest.approx(float(moles), rel=1e-7)


def test_a_tank_of_a_tenth_of_the_size_comes_to_the_same_pressures() -> None:
    sizes = ((BEFORE, DELIVERED, TANK), (BEFORE / 10, DELIVERED / 10, TANK / 10))
    large, small = (
        delivery.tank_mix(NITROGEN, before, PRESSURE, came, LiquidState(pressure=TRUCK), tank)
        for before, came, tank in sizes
    )
    for one, other in zip(large, small, strict=True):
        assert other[1] == pytest.approx(one[1], rel=1e-9)
        assert other[2] == pytest.approx(one[2] / 10, rel=1e-9)


def test_vapour_that_would_be_squeezed_to_one_phase_is_said() -> None:
    rows = delivery.tank_mix(NITROGEN, 0.2, 10e5, 8.0, LiquidState(pressure=101_325.0), 11.01)
    assert rows[1][1:4] == [None, None, None]
    assert "vented" in rows[1][4]
    assert rows[0][1] < 10e5


def test_a_delivery_that_swells_to_the_brim_is_refused() -> None:
    with pytest.raises(NoSolutionError, match="fills the tank"):
        delivery.tank_mix(NITROGEN, 2.789, 13e5, 8.0, LiquidState(pressure=101_325.0), 11.01)


@pytest.mark.parametrize("state", [2e5, 4e5])
def test_check_agrees_with_both_bounds_of_an_honest_delivery(state: float) -> None:
    """The level after a delivery, mixed or not, never makes an honest ticket look short."""
    at = LiquidState(pressure=state)
    for row in delivery.tank_mix(NITROGEN, 2.789, 8e5, 5.0, at, 11.01):
        kilograms = 5.0 * float(properties.saturated(NITROGEN, state).liquid_density)
        kilograms *= properties.molar_mass(NITROGEN)
        ticket = ToldAsGas(kilograms, "kg")
        after, level = row[1], row[2]
        checked = delivery.delivery_check(
            NITROGEN, ticket, 2.789, level, 11.01, 8e5, after, 0.0, at
        )
        assert checked[-1][1] in ("agrees", "cannot tell"), checked
        short = ToldAsGas(1.25 * kilograms, "kg")
        checked = delivery.delivery_check(NITROGEN, short, 2.789, level, 11.01, 8e5, after, 0.0, at)
        assert checked[-1][1] == "short", checked


def test_a_few_drops_over_are_over() -> None:
    """Less than a mol more than the ticket says, beyond what both may be off."""
    rows = gasfuncs.GAS_DELIVERY_CHECK(
        "argon", "10 mL", 2900, 2900.015, 11010, "11 bar(a)", "11 bar(a)",
        ticket_tolerance="0.1 %", level_tolerance=1e-11,
    )  # fmt: skip
    assert "over" in str(rows)
    assert "short" not in str(rows)


def test_liquid_that_may_lie_cold_below_widens_the_band_by_level() -> None:
    """From wholly mixed to as cold as it came, rectangular: half the range over the root of 3."""
    cold, warm = (properties.saturated(ARGON, pressure) for pressure in (101_325.0, 9e5))
    rows = delivery.delivery_check(
        ARGON, 5.0, 2.0, 7.0, 11.0, 9e5, 9e5, 0.0, LiquidState(pressure=101_325.0), 0.0, 0.0
    )
    between = 5.0 * (float(cold.liquid_density) - float(warm.liquid_density))
    assert rows[1][3] - rows[1][1] == pytest.approx(1.96 * between / 2 / 3**0.5, rel=1e-4)
    mixed = 5.0 * float(warm.liquid_density - warm.vapour_density)
    assert rows[1][1] == pytest.approx(mixed + between / 2, rel=1e-9)
