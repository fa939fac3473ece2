"""A tank's levels as an account: deliveries found, use by day, stock at each month's ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from gasfuncs.calculations.forecast import LEAST_RISE
from gasfuncs.calculations.tank_events import Record, Rise, course, rises, usable
from gasfuncs.definition.series import Kept
from gasfuncs.definition.terms import DAY_ZERO
from gasfuncs.properties import Gas
from gasfuncs.units import ATMOSPHERE

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Tank:
    """What a tank's readings need to become gas: m³, Pa, and its shape where it is read by height.

    `pressure` stands for readings without one. A gauge pressure is taken over `site`. A share is
    that of the volume or of the height. `line` is the temperature, K, of the gas in the upper line
    of a differential pressure gauge where it is warm, `apart` the height between the gauge's ends.
    """

    gas: Gas
    capacity: float
    pressure: float | None = None
    site: float = ATMOSPHERE
    diameter: float | None = None
    length: float | None = None
    position: str = "vertical"
    heads: str = "2:1 ellipsoidal"
    percent_of: str = "volume"
    line: float | None = None
    apart: float | None = None


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


def account_of(times: pd.Series, levels: Array, pressures: Array, tank: Tank) -> Account:
    """The account of a tank's readings: local times, m³ of liquid, Pa absolute.

    Raises UnreadableError where fewer than two can be used.
    """
    days = ((times - DAY_ZERO) / pd.Timedelta(days=1)).to_numpy("float64")
    least = LEAST_RISE * tank.capacity
    order, why = usable(Kept(days), Kept(levels), Kept(pressures), tank.gas, tank.capacity, least)
    record = Record.of(
        days[order], levels[order], pressures[order], tank.gas, tank.capacity, None, None
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
