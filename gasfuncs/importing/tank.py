"""A tank's telemetry as an account: deliveries found, use by day, stock at each month's ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from gasfuncs.calculations.forecast import LEAST_RISE
from gasfuncs.calculations.tank import dp_level
from gasfuncs.calculations.tank_events import Record, Rise, course, rises, usable
from gasfuncs.calculations.tank_shape import shape
from gasfuncs.definition.series import Kept
from gasfuncs.definition.terms import DAY_ZERO
from gasfuncs.errors import GasFuncsError
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.readings import Readings
from gasfuncs.properties import Gas, molar_mass
from gasfuncs.units import ATMOSPHERE
from gasfuncs.units.kinds import FRACTION, LIQUID, MASS

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Tank:
    """What a tank's readings need to become gas: m³, Pa, and its shape where it is read by height.

    `pressure` stands for readings without one. A gauge pressure is taken over `site`.
    """

    gas: Gas
    capacity: float
    pressure: float | None = None
    site: float = ATMOSPHERE
    diameter: float | None = None
    length: float | None = None
    position: str = "vertical"
    heads: str = "2:1 ellipsoidal"


@dataclass(frozen=True, slots=True)
class Account:
    """In mol: deliveries (start, end, amount), use by whole day, stock at its times, and what was
    left out by row of the readings."""

    deliveries: pd.DataFrame
    daily: pd.Series
    stock: pd.Series
    left_out: dict[int, str]

    def months(self) -> pd.DataFrame:
        """Opening and closing stock, deliveries and use of every month, whole or in part."""
        month = self.stock.index.to_period("M")
        opening = self.stock.groupby(month).first()
        closing = opening.shift(-1).fillna(self.stock.groupby(month).last())
        delivered = self.deliveries.groupby(self.deliveries["end"].dt.to_period("M"))[
            "amount"
        ].sum()
        found = pd.DataFrame({"opening": opening, "closing": closing})
        found["delivered"] = delivered.reindex(found.index).fillna(0.0)
        found["used"] = found["opening"] + found["delivered"] - found["closing"]
        return found


def account(readings: Readings, tank: Tank) -> Account:
    """The account of one tank. Raises ImportingError where a reading cannot become a level."""
    frame = readings.frame
    times = ((frame["time"] - DAY_ZERO) / pd.Timedelta(days=1)).to_numpy("float64")
    pressures = _pressures(readings, tank)
    levels = _levels(readings, tank, pressures)
    given = Kept(times), Kept(levels), Kept(pressures)
    least = LEAST_RISE * tank.capacity
    try:
        order, why = usable(*given, tank.gas, tank.capacity, least)
    except GasFuncsError as error:
        raise ImportingError(str(error)) from None
    record = Record.of(
        times[order], levels[order], pressures[order], tank.gas, tank.capacity, None, None
    )
    return _account(record, [rise for rise in rises(record, least) if rise.is_delivery], why)


def _account(record: Record, deliveries: list[Rise], why: dict[int, str]) -> Account:
    taken = course(record, deliveries)
    midnights = np.arange(np.ceil(record.times[0]), np.floor(record.times[-1]) + 1)
    uses = np.diff(np.interp(midnights, record.times, taken.used))
    table = pd.DataFrame(
        {
            "start": _moments(record.times[[rise.start for rise in deliveries]]),
            "end": _moments(record.times[[rise.end for rise in deliveries]]),
            "amount": np.asarray(taken.brought, dtype="float64"),
        }
    )
    return Account(
        table,
        pd.Series(uses, index=_moments(midnights[:-1])),
        pd.Series(record.stocks, index=_moments(record.times)),
        why,
    )


def _moments(days: Any) -> pd.DatetimeIndex:
    """Serial days as moments, to the second."""
    seconds = np.round(np.asarray(days, dtype="float64") * 86_400).astype("int64")
    return pd.DatetimeIndex(DAY_ZERO + pd.to_timedelta(seconds, unit="s"))


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
