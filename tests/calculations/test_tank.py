"""Tanks: densities by other equations, the stock as an invariant, a month with a known truth."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import pytest
from CoolProp.CoolProp import (
    AbstractState,
    DmolarP_INPUTS,
    DmolarUmolar_INPUTS,
    iDmolar,
    iHmolar,
)
from scipy.integrate import solve_ivp

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import liquid, tank, tank_shape
from gasfuncs.units import NORMAL

ARGON = properties.gas("argon")
NITROGEN = properties.gas("nitrogen")
DAY = 86_400.0


@pytest.mark.parametrize("kelvins", [87.30, 90.0, 100.0, 110.0, 120.0, 130.0, 140.0, 145.0])
def test_liquid_argon_is_that_of_the_vdi_heat_atlas(kelvins: float) -> None:
    """Five digits, as the library `chemicals` carries the atlas."""
    chemicals = pytest.importorskip("chemicals")
    temperatures, densities = chemicals.miscdata.lookup_VDI_tabular_data("7440-37-1", "Density (l)")
    printed = dict(zip(temperatures, densities, strict=True))[kelvins]
    state = properties.saturated_at(ARGON, kelvins)
    found = liquid.from_liquid(ARGON, 1.0, 20e5, state) * properties.molar_mass(ARGON)
    assert found == pytest.approx(printed, rel=6e-5)


@pytest.mark.parametrize(("name", "within"), [("nitrogen", 0.0036), ("oxygen", 0.0005)])
@pytest.mark.parametrize("bar", [1.01325, 2, 3, 5, 7, 10, 13, 15, 17])
def test_liquid_is_that_of_another_equation(name: str, within: float, bar: float) -> None:
    """Reynolds' equations of 1979, as Cantera carries them; its nitrogen is 0.35 % off at 1 atm."""
    cantera = pytest.importorskip("cantera")
    fluid = {"nitrogen": cantera.Nitrogen, "oxygen": cantera.Oxygen}[name]()
    fluid.PQ = bar * 1e5, 0
    gas = properties.gas(name)
    found = liquid.from_liquid(gas, 1.0, bar * 1e5) * properties.molar_mass(gas)
    assert found == pytest.approx(fluid.density, rel=within)


@pytest.mark.parametrize("gas", [ARGON, NITROGEN], ids=str)
def test_stock_stays_while_liquid_evaporates_in_the_closed_tank(gas: properties.Gas) -> None:
    """How much is liquid at a pressure comes from CoolProp's own flash at density and pressure."""
    volume, moles = 11.01, 150_000.0
    fluid = {"argon": "Argon", "nitrogen": "Nitrogen"}[gas.name]
    state = AbstractState("HEOS", fluid)
    levels = []
    for pressure in np.linspace(1.2e5, 16e5, 9).tolist():
        state.update(DmolarP_INPUTS, moles / volume, pressure)
        below = (1 - state.Q()) * moles / float(properties.saturated(gas, pressure).liquid_density)
        levels.append(below)
        assert tank.tank_stock(gas, below, volume, pressure) == pytest.approx(moles, rel=1e-8)
    assert levels[-1] > 1.05 * levels[0], "the level rises by itself, the stock does not"


def test_level_change_is_the_fall_of_a_tank_held_at_its_pressure() -> None:
    before = tank.tank_stock(NITROGEN, 7.0, 11.01, 13e5)
    fall = tank.level_change(NITROGEN, 20_000.0, 13e5)
    assert tank.tank_stock(NITROGEN, 7.0 - fall, 11.01, 13e5) == pytest.approx(before - 20_000)
    assert fall > 1.09 * liquid.to_liquid(NITROGEN, 20_000.0, 13e5), "vapour takes its place"


@dataclass
class Tank:
    """A tank in balance, drawn from and filled: m³, mol, J; the truth of a simulated month."""

    volume: float
    moles: float
    energy: float
    drawn: float = 0.0
    state: AbstractState = field(default_factory=lambda: AbstractState("HEOS", "Nitrogen"))

    @classmethod
    def at(cls, volume: float, level: float, pressure: float) -> Tank:
        both = properties.saturated(NITROGEN, pressure)
        below, above = level * both.liquid_density, (volume - level) * both.vapour_density
        energy = below * both.liquid_energy + above * both.vapour_energy
        return cls(volume, float(below + above), float(energy))

    def flash(self, moles: float, energy: float) -> None:
        self.state.update(DmolarUmolar_INPUTS, moles / self.volume, energy / moles)

    @property
    def pressure(self) -> float:
        self.flash(self.moles, self.energy)
        return float(self.state.p())

    @property
    def level(self) -> float:
        self.flash(self.moles, self.energy)
        liquid_moles = (1 - self.state.Q()) * self.moles
        return liquid_moles / float(self.state.saturated_liquid_keyed_output(iDmolar))

    def run(self, start: float, end: float) -> None:
        """Draw liquid by day, with heat through the wall and from the pressure builder."""

        def slope(seconds: float, content: np.ndarray) -> list[float]:
            moles, energy, _ = content
            self.flash(moles, energy)
            draw = use(seconds)
            builder = 60.0 * max(0.0, (SET_PRESSURE - self.state.p()) / 1e3)
            enthalpy = self.state.saturated_liquid_keyed_output(iHmolar)
            return [-draw, LEAK + builder - draw * enthalpy, draw]

        found = solve_ivp(
            slope, (start, end), [self.moles, self.energy, self.drawn], method="LSODA", rtol=1e-8,
            atol=1e-3, max_step=DAY / 8,
        )  # fmt: skip
        self.moles, self.energy, self.drawn = found.y[:, -1]

    def fill(self, moles: float, pressure: float) -> None:
        """A delivery of liquid saturated at a pressure, pumped up to the tank's."""
        cold = properties.saturated(NITROGEN, pressure)
        pumped = max(0.0, self.pressure - pressure) / float(cold.liquid_density)
        self.moles += moles
        self.energy += moles * (float(cold.liquid_enthalpy) + pumped)


SET_PRESSURE, LEAK = 11e5, 55.0


def use(seconds: float) -> float:
    """mol/s drawn: a day shift five days a week, and a little all the time."""
    day, hour = divmod(seconds / DAY, 1)
    busy = np.sin(np.pi * hour) ** 2 if int(day) % 7 < 5 else 0.0
    return float(0.03 + 0.46 * busy)


@dataclass(frozen=True)
class Month:
    """What a plant has of a month: levels, pressures, tickets; and what nobody there knows."""

    opening: tuple[str, str]
    closing: tuple[str, str]
    tickets: tuple[str, ...]
    drawn: float


@pytest.fixture(scope="module")
def month() -> Month:
    simulated = Tank.at(11.01, 6.2, 12.4e5)
    opening = (f"{6.2e3 / 3.785411784:.4f} gal(liq)", f"{12.4e5 / 6894.757293 - 14.69595:.4f} psig")
    tickets = []
    cold = properties.saturated(NITROGEN, 101_325.0)
    mass = properties.molar_mass(NITROGEN)
    scf = float(properties.molar_density(NITROGEN, 14.696 * 6894.757293, 294.261111)) * 0.3048**3
    days = (0, 6, 15, 24, 30)
    for start, end in pairwise(days):
        simulated.run(start * DAY, end * DAY)
        if end == days[-1]:
            break
        moles = 140_000.0 + 1_000 * end
        simulated.fill(moles, 2.6e5)
        tickets.append(
            f"{1000 * moles / float(cold.liquid_density):.4f} L(liq)" if end == 6
            else f"{moles * mass:.4f} kg" if end == 15
            else f"{moles / scf:.2f} scf"
        )  # fmt: skip
    closing = (f"{1000 * simulated.level:.4f} L(liq)", f"{simulated.pressure / 1e5:.5f} bar(a)")
    return Month(opening, closing, tuple(tickets), simulated.drawn)


def stock(told: tuple[str, str]) -> float:
    return float(gasfuncs.GAS_TANK_STOCK("nitrogen", told[0], "11.01 m3(liq)", told[1]))


def test_true_use_of_a_month_comes_back_from_levels_pressures_and_tickets(month: Month) -> None:
    delivered = sum(float(gasfuncs.GAS_DELIVERED("nitrogen", ticket)) for ticket in month.tickets)
    used = stock(month.opening) + delivered - stock(month.closing)
    true = month.drawn / properties.reference_molar_density(NITROGEN, NORMAL)
    assert used == pytest.approx(true, rel=1e-5)


def test_litres_alone_tell_another_use(month: Month) -> None:
    """What a plant reckons that takes each litre as saturated at tank pressure, without vapour."""
    litres = gasfuncs.GAS_FROM_LIQUID
    opening, closing = (
        float(litres("nitrogen", level, pressure))
        for level, pressure in (month.opening, month.closing)
    )
    first, *others = month.tickets
    delivered = float(litres("nitrogen", first, month.opening[1]))
    delivered += sum(float(gasfuncs.GAS_DELIVERED("nitrogen", ticket)) for ticket in others)
    true = month.drawn / properties.reference_molar_density(NITROGEN, NORMAL)
    assert abs(opening + delivered - closing - true) > 0.03 * true


@pytest.mark.parametrize(
    ("heads", "depth"), [("2:1 ellipsoidal", 1 / 4), ("hemispherical", 1 / 2), ("flat", 0.0)]
)
def test_heads_of_any_diameter(heads: str, depth: float) -> None:
    """Half an ellipsoid of revolution holds 2/3 of the cylinder around it."""
    diameter, length = 2.2, 4.8
    tank = tank_shape.shape(diameter, length, "vertical", heads)
    assert tank.h_max == pytest.approx(length + 2 * depth * diameter)
    head = np.pi / 4 * diameter**2 * 2 / 3 * depth * diameter
    assert tank.V_from_h(depth * diameter) == pytest.approx(head, rel=1e-9)


@pytest.mark.parametrize(("fill", "words"), [(0.9, "fills the tank"), (0.01, "last liquid")])
def test_when_one_phase_is_left_is_told(fill: float, words: str) -> None:
    """The pressure and the hours of the sentence are those of a tank held until just before."""

    def hold(relief: float) -> float:
        return float(gasfuncs.GAS_HOLD_TIME("nitrogen", 3000, fill, 1.013, relief, 0.005))

    with pytest.raises(gasfuncs.GasFuncsError, match=words) as refused:
        hold(7.79)
    told = re.search(r"at ([\d.]+) bar\(a\) after ([\d.]+) h", str(refused.value))
    assert told
    bar, hours = map(float, told.groups())
    assert hold(0.99 * bar) == pytest.approx(hours, rel=0.02)
    with pytest.raises(gasfuncs.GasFuncsError, match=words):
        hold(1.01 * bar)


def test_one_row_is_enough_to_be_refused() -> None:
    """Liquid saturated at 12 bar in tanks at 9 and 14; a vent at 1 atm and one at 13 bar."""
    boiling = properties.LiquidState(pressure=12e5)
    with pytest.raises(gasfuncs.GasFuncsError, match="warmer liquid"):
        tank.tank_stock(NITROGEN, 5.0, 7.0, np.array([9e5, 14e5]), boiling)
    with pytest.raises(gasfuncs.GasFuncsError, match="is blank"):
        tank.boil_off(1.0, 0.004, DAY, venting_pressure=np.array([101_325.0, 13e5]))
