"""The friction factor against the library `fluids`, which solves Colebrook's equation otherwise."""

from __future__ import annotations

import fluids.friction
import numpy as np
import pytest

from gasfuncs.calculations.friction import (
    LAMINAR_TO,
    TURBULENT_FROM,
    friction,
    friction_factor,
    smooth_friction_factor,
)


@pytest.mark.parametrize("roughness", [0.0, 1e-5, 1e-3, 0.05])
@pytest.mark.parametrize("reynolds", [4000.0, 2e4, 1e6, 1e8])
def test_turbulent_flow(reynolds: float, roughness: float) -> None:
    library = fluids.friction.Colebrook(reynolds, roughness)
    assert friction_factor(reynolds, roughness) == pytest.approx(library, rel=1e-12)


def test_a_column_of_laminar_and_turbulent_flow() -> None:
    reynolds = np.array([50.0, LAMINAR_TO, 1e5])
    expected = [64 / 50, 64 / LAMINAR_TO, fluids.friction.Colebrook(1e5, 1e-3)]
    assert friction_factor(reynolds, 1e-3) == pytest.approx(expected, rel=1e-12)


def test_between_the_two_log_f_runs_straight() -> None:
    middle = np.sqrt(LAMINAR_TO * TURBULENT_FROM)
    ends = 64 / LAMINAR_TO, fluids.friction.Colebrook(TURBULENT_FROM, 1e-3)
    assert friction_factor(middle, 1e-3) == pytest.approx(np.sqrt(np.prod(ends)), rel=1e-12)


@pytest.mark.parametrize("reynolds", [500.0, 3000.0, 5e4])
def test_the_slope_is_the_derivative(reynolds: float) -> None:
    near = friction_factor(reynolds * np.array([1 - 1e-5, 1 + 1e-5]), 1e-3)
    found = np.diff(np.log(near)) / np.log((1 + 1e-5) / (1 - 1e-5))
    assert friction(np.array([reynolds]), 1e-3).slope == pytest.approx(found, rel=1e-6)


def test_pipe_flow_leaves_the_laminar_law_at_2040() -> None:
    """Where turbulence keeps itself up: Avila et al., Science 333 (2011) 192, from memory."""
    laminar = 64 / np.array([2000.0, 2040.0, 2060.0])
    assert (friction_factor([2000.0, 2040.0, 2060.0], 0.0) / laminar > 1.001).tolist() == [
        False, False, True,
    ]  # fmt: skip


@pytest.mark.parametrize(("reynolds", "factor"), [(100.0, 0.64), (1e5, 0.0180), (1e6, 0.01165)])
def test_a_smooth_wall_in_any_flow(reynolds: float, factor: float) -> None:
    """64/Re, and the Prandtl-Karman law of smooth pipes as handbooks print it (memory)."""
    assert smooth_friction_factor(reynolds) == pytest.approx(factor, rel=0.01)
