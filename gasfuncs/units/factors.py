"""Factors to SI, worked out by pint and kept."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pint


@cache
def _registry() -> pint.UnitRegistry[float]:
    import pint

    return pint.UnitRegistry()


@cache
def factor(expression: str, si: str) -> float:
    """How many `si` one `expression` is, both in pint's notation."""
    magnitude: Any = _registry().Quantity(expression).to(si).magnitude
    return float(f"{magnitude:.15g}")
