"""Gas through a valve of known flow coefficient, choking included (IEC 60534-2-1)."""

from __future__ import annotations

from typing import Any

import numpy as np

WATER = 999.1
"""kg/m³ at 15 °C, the water that flow coefficients are told for."""

AIR = 1.4
"""Ratio of specific heats of air, with which xT is measured."""


def choking_ratio(exponent: Any, xt: Any) -> Any:
    """Fγ xT: the pressure drop over the inlet pressure at which the valve chokes."""
    return exponent / AIR * xt


def mass_flow(
    kv: Any, pressure: Any, density: Any, exponent: Any, pressure_down: Any, xt: Any
) -> Any:
    """kg/s from gas at Pa and kg/m³, k its isentropic exponent, to a pressure; Kv in m³/h.

    w = N₆ Kv Y √(x p₁ ρ₁) with x = Δp/p₁ up to Fγ xT and Y = 1 - x/(3 Fγ xT); N₆ as the water
    that Kv is told for has it (3.16 with kPa and kg/h).
    """
    most = choking_ratio(exponent, xt)
    x = np.minimum(1 - pressure_down / pressure, most)
    expansion = 1 - x / (3 * most)
    return kv / 3600 * expansion * np.sqrt(WATER / 1e5 * x * pressure * density)
