"""A leak told as another gas, from molecular to laminar flow."""

from __future__ import annotations

import numpy as np
import pytest

from gasfuncs import properties
from gasfuncs.calculations import leak
from gasfuncs.definition import recorded
from tests import capillary

HELIUM, AIR, ARGON = (properties.gas(name) for name in ("helium", "air", "argon"))
RATES = np.geomspace(1e-10, 1e3, 400)
"""Pa·m³/s."""


def test_the_factor_goes_smoothly_from_molecular_to_laminar() -> None:
    factor = leak.leak_as(RATES, HELIUM, ARGON) / RATES
    assert np.all(np.diff(factor) > 0)
    assert np.all(np.diff(factor) < 0.02)
    assert factor[0] == pytest.approx(0.316, rel=0.05)
    assert factor[-1] == pytest.approx(0.883, rel=0.02)


def test_there_and_back_gives_the_leak_again() -> None:
    there = leak.leak_as(RATES, HELIUM, AIR)
    np.testing.assert_allclose(leak.leak_as(there, AIR, HELIUM), RATES, rtol=1e-12)


@pytest.mark.parametrize("rate", [1e-8, 1e-6, 1e-5, 1e-4, 1e-2])
def test_the_transition_is_knudsens(rate: float) -> None:
    found = float(leak.leak_as(rate / 10, HELIUM, AIR)) * 10
    assert found == pytest.approx(capillary.leak_as(rate, "helium", "air"), rel=0.01)


def test_a_hole_of_a_millimetre_with_the_librarys_viscosities(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for name, gas in (("helium", HELIUM), ("air", AIR)):
        viscosity = float(properties.viscosity(gas, capillary.ATMOSPHERE, capillary.KELVIN))
        monkeypatch.setitem(capillary.GASES, name, (properties.molar_mass(gas), viscosity))
    found = float(leak.leak_as(1e-6, HELIUM, AIR)) * 10
    assert found == pytest.approx(capillary.leak_as(1e-5, "helium", "air"), rel=1e-5)


def test_a_narrow_capillary_is_of_hagen_and_poiseuille() -> None:
    bore, wall, up, down = 2e-5, 0.5, 3e5, 1e5
    viscosity = float(properties.viscosity(ARGON, 101_325, 293.15))
    flow = np.pi * bore**4 * (up - down) / (128 * viscosity * wall) * (up + down) / 2
    assert float(leak.leak_hole(flow, ARGON, up, down, wall=wall)) == pytest.approx(bore, rel=1e-6)


def test_mean_free_path_of_air_at_an_atmosphere() -> None:
    with recorded() as shown:
        leak.leak_hole(0.1, AIR, 101_425, 101_225)
    [path] = [each.value for each in shown if each.what == "mean free path at the mean pressure"]
    assert float(path) == pytest.approx(66e-9, rel=0.04)  # handbooks print 65 to 68 nm, from memory


def test_a_hot_leak_is_another_leak() -> None:
    cold, hot = (float(leak.leak_as(1e-6, HELIUM, AIR, temperature=t)) for t in (293.15, 573.15))
    assert abs(hot / cold - 1) > 0.01


def test_no_leak_stays_none() -> None:
    assert leak.leak_as(0.0, HELIUM, AIR) == 0
