"""Heat between gas and wall, term by term, for a state with round numbers."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from gasfuncs.calculations import convection
from gasfuncs.calculations.convection import cylinder_area, cylinder_diameter, jet, natural
from gasfuncs.properties import Moving

HOT_WALL = 400.0
DENSITY, MOLAR_MASS = 3.0, 0.04


def state(viscosity: float = 2e-5, conductivity: float = 0.02) -> Moving:
    """320 K, c_v 12 and c_p 12 + 4² · 320 / 640 = 20 J/(mol K)."""
    values: list[Any] = [320.0, 0.0, 640.0, 4.0, 12.0, viscosity, conductivity]
    return Moving(*map(np.asarray, values))


RAYLEIGH = 9.80665 * 0.25 * 3**2 * (20 / 0.04) / (2e-5 * 0.02)
"""By hand, of a length of 1 m: g (400 - 320)/320 ρ² c_p / (μ λ), c_p per kg."""


def test_a_cylinder_has_its_volume_and_its_area() -> None:
    diameter = cylinder_diameter(10.0, 4.0)
    assert math.pi / 4 * diameter**2 * (4 * diameter) == pytest.approx(10.0)
    ends, side = 2 * math.pi / 4 * diameter**2, math.pi * diameter * 4 * diameter
    assert cylinder_area(10.0, 4.0) == pytest.approx(ends + side)


def test_natural_convection() -> None:
    found = natural(state(), DENSITY, MOLAR_MASS, HOT_WALL)
    assert found == pytest.approx(0.13 * RAYLEIGH ** (1 / 3) * 0.02)


def test_a_jet_by_its_two_terms() -> None:
    """Nu = 0.56 Re^0.67 + 0.104 Ra^0.352 (Woodfield and others)."""
    flow, bore, diameter = 0.1, 0.025, 2.0
    reynolds = 4 * flow / (math.pi * bore * 2e-5)
    expected = 0.56 * reynolds**0.67 + 0.104 * (RAYLEIGH * diameter**3) ** 0.352
    found = jet(state(), DENSITY, MOLAR_MASS, HOT_WALL, flow, bore, diameter)
    assert found == pytest.approx(expected * 0.02 / diameter)
    still = jet(state(), DENSITY, MOLAR_MASS, HOT_WALL, 0.0, bore, diameter)
    assert still == pytest.approx(0.104 * (RAYLEIGH * 8) ** 0.352 * 0.01)


@pytest.mark.parametrize(
    ("slenderness", "diameters"), [(convection.SLENDER, 4.0), (convection.STOUT, 1.5)]
)
def test_a_cylinder_is_as_long_as_the_sources_of_the_functions_say(
    slenderness: float, diameters: float
) -> None:
    """Four diameters of a reservoir, one and a half of a chamber; shell and both ends."""
    volume = np.pi / 4 * 0.8**2 * diameters * 0.8
    assert convection.cylinder_diameter(volume, slenderness) == pytest.approx(0.8, rel=1e-12)
    whole = np.pi * 0.8 * diameters * 0.8 + 2 * np.pi / 4 * 0.8**2
    assert convection.cylinder_area(volume, slenderness) == pytest.approx(whole, rel=1e-12)
