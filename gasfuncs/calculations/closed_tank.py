"""A closed tank that warms: what it holds stays, until one phase is left."""

from __future__ import annotations

from typing import Any

import numpy as np

from gasfuncs import properties
from gasfuncs.definition import unreachable
from gasfuncs.properties import Gas, Saturated


def energy_held(both: Saturated, held: float) -> float:
    """J/m³ of liquid and vapour together, `held` being mol/m³ of both."""
    liquid, vapour = 1 / both.liquid_density, 1 / both.vapour_density
    share = (1 / held - liquid) / (vapour - liquid)
    return float(held * (both.liquid_energy + share * (both.vapour_energy - both.liquid_energy)))


def refuse_one_phase(
    gas: Gas, held: float, between: tuple[float, float], energy_now: float, heating: float
) -> None:
    """Refuse a tank in which liquid or vapour runs out between pressures (`heating` is W/m³)."""
    relief = properties.saturated(gas, between[1])
    if relief.vapour_density < held < relief.liquid_density:
        return
    full: Any = held >= relief.liquid_density
    pressure = _pressure_of_one_phase(gas, held, between, full)
    hours = (energy_held(properties.saturated(gas, pressure), held) - energy_now) / heating / 3600
    unreachable(
        full,
        "fill",
        f"the liquid swells until it fills the tank, at {pressure / 1e5:.3g} bar(a) after "
        f"{hours:.3g} h; from there the pressure rises at once: start less full, or vent before",
    )
    unreachable(
        np.logical_not(full),
        "fill",
        f"the last liquid evaporates at {pressure / 1e5:.3g} bar(a) after {hours:.3g} h, before "
        "the relief pressure; this reckons with tanks that still hold liquid",
    )


def _pressure_of_one_phase(
    gas: Gas, held: float, between: tuple[float, float], full: bool
) -> float:
    """Pressure at which all that the tank holds is saturated liquid (`full`) or vapour."""
    from scipy.optimize import elementwise

    def surplus(pressure: Any) -> Any:
        both = properties.saturated(gas, pressure)
        return (both.liquid_density if full else both.vapour_density) - held

    found: float = elementwise.find_root(surplus, between).x
    return found
