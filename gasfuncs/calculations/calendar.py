"""Days and months behind the serial numbers of a spreadsheet."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

DAY_ZERO = np.datetime64("1899-12-30", "D")


def dates(serials: Any) -> NDArray[np.datetime64]:
    """The days that serial numbers stand for, their time of day left out."""
    return np.asarray(DAY_ZERO + np.floor(serials).astype("timedelta64[D]"))


def serials(days: Any) -> NDArray[np.float64]:
    """The serial numbers of days, or of the first days of months."""
    return np.asarray((days.astype("datetime64[D]") - DAY_ZERO).astype(float))


def month_numbers(serials: Any) -> NDArray[np.int64]:
    """The months that serial numbers lie in, counted from January 1970."""
    return np.asarray(dates(serials).astype("datetime64[M]").astype(np.int64))


def month_text(number: int) -> str:
    """A month's number as 2026-03."""
    return str(np.datetime64(number, "M"))
