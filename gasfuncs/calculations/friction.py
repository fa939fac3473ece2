"""Friction factors by the library fluids, which is slow to import and waits until it is needed."""

from __future__ import annotations

import math
from functools import cache
from types import ModuleType

LAMINAR_TO = 2040.0
"""Reynolds number up to which the flow is laminar."""

TURBULENT_FROM = 4000.0
"""Reynolds number from which the Colebrook equation is used. Between the two neither law is
certain; there log f runs straight over log Re, as a jump would leave some flows without answer."""


@cache
def _correlations() -> ModuleType:
    import fluids.friction

    return fluids.friction


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor: Colebrook's (Clamond's solution, to 1e-9 of it) or laminar."""
    correlations = _correlations()
    if reynolds >= TURBULENT_FROM:
        return float(correlations.Clamond(reynolds, relative_roughness))
    laminar = float(correlations.friction_laminar(min(max(reynolds, 1e-9), LAMINAR_TO)))
    if reynolds <= LAMINAR_TO:
        return laminar
    turbulent = float(correlations.Clamond(TURBULENT_FROM, relative_roughness))
    share = math.log(reynolds / LAMINAR_TO) / math.log(TURBULENT_FROM / LAMINAR_TO)
    return math.exp((1 - share) * math.log(laminar) + share * math.log(turbulent))


def smooth_friction_factor(reynolds: float) -> float:
    """Darcy friction factor of a smooth wall in any flow, by Churchill (1977)."""
    return float(_correlations().Churchill_1977(reynolds, 0.0))
