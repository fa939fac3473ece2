"""An unknown leak as a round hole of 1 mm, by Knudsen's formula; written anew for the tests."""

from __future__ import annotations

import math

from scipy.optimize import brentq

ATMOSPHERE, LENGTH, KELVIN = 101_325.0, 1e-3, 293.15

GASES = {"helium": (4.0026e-3, 19.6e-6), "air": (28.965e-3, 18.2e-6), "argon": (39.948e-3, 22.3e-6)}
"""kg/mol and Pa·s at 20 °C: common handbook values, from memory, the viscosities to 1 %."""


def throughput(gas: str, bore: float) -> float:
    """Pa·m³/s from atmosphere to vacuum (M. Knudsen 1909)."""
    mass, viscosity = GASES[gas]
    mean, speed = ATMOSPHERE / 2, math.sqrt(8.314462 * KELVIN / mass)
    s = bore * mean / (viscosity * speed)
    laminar = math.pi * bore**4 * mean / (128 * viscosity * LENGTH)
    molecular = math.sqrt(2 * math.pi) / 6 * bore**3 / LENGTH * speed
    return ATMOSPHERE * (laminar + molecular * (1 + s) / (1 + 1.24 * s))


def leak_as(rate: float, first: str, second: str) -> float:
    """Leak of a second gas where the first leaks so much, both in mbar·L/s."""
    pascals = rate / 10
    bore = brentq(lambda d: throughput(first, d) / pascals - 1, 1e-9, 1e-1, xtol=1e-16)
    return rate * throughput(second, bore) / throughput(first, bore)
