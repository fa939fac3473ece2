"""Factors to SI, worked out by pint; those of our units are kept, as pint takes a second to start.

`gasfuncs build factors` writes them.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pint

KEPT = Path(__file__).with_name("factors.json")

Factors = dict[str, dict[str, float]]
"""By the SI unit and by the expression."""


def factor(expression: str, si: str) -> float:
    """How many `si` one `expression` is, both in pint's notation."""
    found = _kept().get(si, {}).get(expression)
    return worked_out(expression, si) if found is None else found


def worked_out(expression: str, si: str) -> float:
    """The same from pint."""
    magnitude: Any = _registry().Quantity(expression).to(si).magnitude
    return float(f"{magnitude:.15g}")


@cache
def _registry() -> pint.UnitRegistry[float]:
    import pint

    return pint.UnitRegistry()


@cache
def _kept() -> Factors:
    found: Factors = json.loads(KEPT.read_text(encoding="utf-8"))
    return found
