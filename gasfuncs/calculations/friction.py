"""Friction factors of round pipes (Darcy), of columns at once."""

from __future__ import annotations

import math
from functools import cache
from types import ModuleType
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

LAMINAR_TO = 2040.0
"""Reynolds number up to which the flow is laminar."""

TURBULENT_FROM = 4000.0
"""Reynolds number from which the Colebrook equation is used. Between the two neither law is
certain; there log f runs straight over log Re, as a jump would leave some flows without answer."""

LEAST = 1e-30
"""Reynolds number that stands for no flow."""

Column = NDArray[np.float64]


class Friction(NamedTuple):
    """Friction factor f, and d ln f / d ln Re."""

    factor: Column
    slope: Column


def friction(reynolds: ArrayLike, relative_roughness: ArrayLike) -> Friction:
    """Darcy friction factor by Colebrook where turbulent, 64/Re where laminar."""
    re = np.maximum(reynolds, LEAST)
    if np.all(re >= TURBULENT_FROM):
        return Friction(*_colebrook(re, np.asarray(relative_roughness)))
    log_laminar = np.log(64 / np.minimum(re, LAMINAR_TO))
    factor, slope = _colebrook(np.maximum(re, TURBULENT_FROM), np.asarray(relative_roughness))
    log_turbulent, path = np.log(factor), math.log(TURBULENT_FROM / LAMINAR_TO)
    share = np.log(np.clip(re, LAMINAR_TO, TURBULENT_FROM) / LAMINAR_TO) / path
    between = np.where(re > LAMINAR_TO, (log_turbulent - log_laminar) / path, -1.0)
    return Friction(
        np.exp((1 - share) * log_laminar + share * log_turbulent),
        np.where(re >= TURBULENT_FROM, slope, between),
    )


def friction_factor(reynolds: ArrayLike, relative_roughness: ArrayLike) -> Column:
    """Darcy friction factor alone."""
    return friction(reynolds, relative_roughness).factor


def _colebrook(reynolds: Column, relative_roughness: Column) -> tuple[Column, Column]:
    """f and its slope by the iteration of Clamond (Ind. Eng. Chem. Res. 48, 2009): two rounds of
    third order leave less than rounding."""
    rough = relative_roughness * reynolds * math.log(10) / 18.574
    logarithm = np.log(reynolds * math.log(10) / 5.02)
    root = logarithm - 0.2
    for _ in range(2):
        inside = rough + root
        off = (np.log(inside) + root - logarithm) / (1 + inside)
        root = root - (1 + inside + off / 2) * off * inside / (1 + inside + off * (1 + off / 3))
    return (math.log(10) / 2) ** 2 / root**2, -2 / (1 + root + rough)


@cache
def _correlations() -> ModuleType:
    """The library fluids, which is slow to import and waits until it is needed."""
    import fluids.friction

    return fluids.friction


def smooth_friction_factor(reynolds: float) -> float:
    """Darcy friction factor of a smooth wall in any flow, by Churchill (1977)."""
    return float(_correlations().Churchill_1977(reynolds, 0.0))
