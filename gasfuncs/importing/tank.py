"""A tank's telemetry as the account of its tank, whatever the file tells of the level."""

from __future__ import annotations

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
from gasfuncs.properties import molar_mass
from gasfuncs.units import ATMOSPHERE
from gasfuncs.units.kinds import FRACTION, LIQUID, MASS

Array = NDArray[np.float64]


def account(readings: Readings, tank: Tank) -> Account:
    """The account of one tank. Raises ImportingError where a reading cannot become a level."""
    pressures = _pressures(readings, tank)
    levels = _levels(readings, tank, pressures)
    try:
        return account_of(readings.frame["time"], levels, pressures, tank)
    except GasFuncsError as error:
        raise ImportingError(str(error)) from None


def _pressures(readings: Readings, tank: Tank) -> Array:
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
    if "level" not in readings.frame:
        return _from_height(readings, tank, pressures)
    told, unit = readings.frame["level"].to_numpy("float64"), readings.units["level"]
    if unit.label in FRACTION.recipes:
        return np.asarray(told * tank.capacity)
    if unit.label in MASS.recipes:
        return _of_mass(told, tank, pressures)
    return np.asarray(told)


def _of_mass(mass: Array, tank: Tank, pressures: Array) -> Array:
    """m³ of liquid of all that a tank weighs, its vapour counted."""
    stocks = [Record.of(np.zeros(len(pressures)), np.full(len(pressures), level), pressures,
                        tank.gas, tank.capacity, None, None).stocks
              for level in (0.0, tank.capacity)]  # fmt: skip
    empty, full = stocks
    amount = mass / molar_mass(tank.gas)
    return np.asarray(tank.capacity * (amount - empty) / (full - empty))


def _from_height(readings: Readings, tank: Tank, pressures: Array) -> Array:
    if "dp" not in readings.frame:
        raise ImportingError("the file has neither a level nor a differential pressure")
    if tank.diameter is None or tank.length is None:
        raise ImportingError(
            "a differential pressure needs the tank's inner diameter and length; "
            "give them in the book, or import the level"
        )
    difference = readings.frame["dp"].to_numpy("float64")
    height = np.asarray(dp_level(tank.gas, difference, pressures))
    vessel = shape(tank.diameter, tank.length, tank.position, tank.heads)
    heights = np.linspace(0.0, vessel.h_max, 400)
    volumes = [vessel.V_from_h(each) for each in heights]
    found = np.interp(height, heights, volumes)
    return np.asarray(np.where(height > vessel.h_max, np.nan, found))


def levels_of(readings: Readings, tank: Tank) -> pd.DataFrame:
    """The readings with their level in m³ of liquid, whatever the file told."""
    levels = _levels(readings, tank, _pressures(readings, tank))
    readings.units["level"] = LIQUID.unit("m3(liq)")
    return readings.frame.assign(level=levels)


def told_left_out(found: Account, readings: Readings) -> list[tuple[int, str]]:
    """What the account left out, by line of the file."""
    lines = readings.lines.to_numpy()
    return [(int(lines[place]), reason) for place, reason in sorted(found.left_out.items())]
