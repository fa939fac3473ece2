"""A tank's telemetry as the account of its tank, whatever the file tells of the level."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from gasfuncs.calculations.tank import dp_level
from gasfuncs.calculations.tank_events import Record
from gasfuncs.calculations.tank_shape import shape
from gasfuncs.cleaning.accounts import Account, Tank, account_of
from gasfuncs.errors import GasFuncsError
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.readings import Readings
from gasfuncs.properties import molar_mass, saturation_limits
from gasfuncs.units import ATMOSPHERE
from gasfuncs.units.kinds import FRACTION, LENGTH, LIQUID, MASS, PRESSURE_DIFFERENCE

Array = NDArray[np.float64]

MOST_PRESSURES = 300
"""At so many pressures the densities are computed; between them they are read off."""


def account(readings: Readings, tank: Tank) -> Account:
    """The account of one tank. Raises ImportingError where a reading cannot become a level."""
    pressures = pressures_of(readings, tank)
    levels = _levels(readings, tank, pressures)
    try:
        return account_of(readings.frame["time"], levels, pressures, tank)
    except GasFuncsError as error:
        raise ImportingError(str(error)) from None


def pressures_of(readings: Readings, tank: Tank) -> Array:
    """Pa absolute at each reading; what a gauge shows counts from the site's own pressure."""
    count = len(readings.frame)
    if "pressure" not in readings.frame:
        if tank.pressure is None:
            raise ImportingError("the file has no tank pressure; give the tank's in the book")
        return np.full(count, tank.pressure)
    over = tank.site - ATMOSPHERE if readings.units["pressure"].zero else 0.0
    pressures = readings.frame["pressure"].to_numpy("float64") + over
    return np.asarray(
        pressures if tank.pressure is None else np.nan_to_num(pressures, nan=tank.pressure)
    )


def _levels(readings: Readings, tank: Tank, pressures: Array) -> Array:
    """m³ of liquid at each reading, from what the file tells of it."""
    role = next((name for name in ("level", "dp") if name in readings.frame), None)
    if role is None:
        raise ImportingError("the file has neither a level nor a differential pressure")
    told, label = readings.frame[role].to_numpy("float64"), readings.units[role].label
    if label in PRESSURE_DIFFERENCE.recipes:
        return _from_height(_height(told, tank, pressures), tank)
    if label in LENGTH.recipes:
        return _from_height(told, tank)
    if label in FRACTION.recipes and tank.percent_of == "height":
        return _from_height(told * _vessel(tank).h_max, tank)
    if label in FRACTION.recipes:
        return np.asarray(told * tank.capacity)
    return _of_mass(told, tank, pressures) if label in MASS.recipes else np.asarray(told)


def _of_mass(mass: Array, tank: Tank, pressures: Array) -> Array:
    """m³ of liquid of all that a tank weighs, its vapour counted."""
    stocks = [Record.of(np.zeros(len(pressures)), np.full(len(pressures), level), pressures,
                        tank.gas, tank.capacity, None, None).stocks
              for level in (0.0, tank.capacity)]  # fmt: skip
    empty, full = stocks
    amount = mass / molar_mass(tank.gas)
    return np.asarray(tank.capacity * (amount - empty) / (full - empty))


def _vessel(tank: Tank) -> Any:
    """The shape of the tank, without which no height is a volume."""
    if tank.diameter is None or tank.length is None:
        raise ImportingError(
            "a level told as a height or a differential pressure needs the tank's inner diameter "
            "and length: in the book's list of tanks, or in the mapping under "
            '[tanks."its name"]: diameter = "2.2 m", length = "4.8 m"'
        )
    return shape(tank.diameter, tank.length, tank.position, tank.heads)


def _height(difference: Array, tank: Tank, pressures: Array) -> Array:
    """m of liquid, nan where there can be none.

    At one pressure it is a straight line in the difference, so two points of it at each pressure,
    or at a few hundred between the lowest and the highest, are enough.
    """
    height = np.full(len(difference), np.nan)
    lowest, highest = saturation_limits(tank.gas)
    good = np.isfinite(difference) & (pressures > lowest) & (pressures < highest)
    most = difference[good].max(initial=0.0)
    if most <= 0:
        return height
    at = np.unique(pressures[good])
    if len(at) > MOST_PRESSURES:
        at = np.linspace(at[0], at[-1], MOST_PRESSURES)
    full, less = (
        np.asarray(dp_level(tank.gas, np.full(len(at), share * most), at, tank.line, tank.apart))
        for share in (1.0, 0.9)
    )
    slope = np.interp(pressures[good], at, (full - less) / (0.1 * most))
    height[good] = np.interp(pressures[good], at, full) + slope * (difference[good] - most)
    return height


def _from_height(height: Array, tank: Tank) -> Array:
    vessel = _vessel(tank)
    heights = np.linspace(0.0, vessel.h_max, 400)
    volumes = [vessel.V_from_h(each) for each in heights]
    found = np.interp(height, heights, volumes)
    return np.asarray(np.where(height > vessel.h_max, np.inf, found))


def levels_of(readings: Readings, tank: Tank) -> pd.DataFrame:
    """The readings with their level in m³ of liquid, whatever the file told."""
    levels = _levels(readings, tank, pressures_of(readings, tank))
    readings.units["level"] = LIQUID.unit("m3(liq)")
    return readings.frame.assign(level=levels)


def told_left_out(found: Account, readings: Readings) -> list[tuple[int, str]]:
    """What the account left out, by line of the file."""
    lines = readings.lines.to_numpy()
    return [(int(lines[place]), reason) for place, reason in sorted(found.left_out.items())]
