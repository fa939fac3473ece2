"""A leak told as another gas, from molecular to laminar flow."""

from __future__ import annotations

import numpy as np
import pytest

from gasfuncs import properties
from gasfuncs.calculations import leak
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


def test_a_hot_leak_is_another_leak() -> None:
    cold, hot = (float(leak.leak_as(1e-6, HELIUM, AIR, temperature=t)) for t in (293.15, 573.15))
    assert abs(hot / cold - 1) > 0.01


def test_no_leak_stays_none() -> None:
    assert leak.leak_as(0.0, HELIUM, AIR) == 0
