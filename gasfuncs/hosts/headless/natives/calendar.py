"""Dates as serial numbers: day 1 is 1 January 1900, and there is a 29 February 1900."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from gasfuncs.definition.terms import DAY_ZERO
from gasfuncs.hosts.headless.cells import FailedError, UncomputableError

LAST_DAY = 2_958_465
"""31 December 9999."""

_EPOCH = DAY_ZERO.toordinal()
_MARCH_1900 = 61
SECONDS = 86_400


def serial_of(year: int, month: int, day: int) -> float | None:
    """The number of a date of the calendar, None where there is no such day."""
    if (year, month, day) == (1900, 2, 29):
        return 60.0
    try:
        days = date(year, month, day).toordinal() - _EPOCH
    except ValueError:
        return None
    if days < _MARCH_1900:
        days -= 1
    return float(days) if days >= 1 else None


def day_of(serial: float) -> int:
    """The whole day of a serial number; #NUM! where no date is."""
    if not 0 <= serial < LAST_DAY + 1:
        raise FailedError("#NUM!")
    return int(serial)


def calendar_day(serial: float) -> tuple[int, int, int]:
    """Year, month and day; day 0 is 0 January 1900, and day 60 the one that never was."""
    day = day_of(serial)
    if day == 0:
        return 1900, 1, 0
    if day == 60:
        return 1900, 2, 29
    found = date.fromordinal(day + _EPOCH + (day < 60))
    return found.year, found.month, found.day


def clock(serial: float) -> tuple[int, int, int]:
    """Hours, minutes and seconds, rounded to the second."""
    day_of(serial)
    exact = serial % 1 * SECONDS
    seconds = round(exact) % SECONDS
    if seconds % 60 == 0 and exact // 60 != round(exact) // 60 and round(exact) - exact > 1e-3:
        raise UncomputableError("the time lies less than half a second before a full minute")
    return seconds // 3600, seconds // 60 % 60, seconds % 60


def add_months(serial: float, count: float, last: bool = False) -> float:
    """The same day of another month, or its last day where it has fewer (or `last`)."""
    months = int(count)
    year, month, day = calendar_day(serial)
    if not day:
        raise UncomputableError("months are not counted from day 0")
    year, month = year + (month - 1 + months) // 12, (month - 1 + months) % 12 + 1
    if not 1900 <= year <= 9999:
        raise FailedError("#NUM!")
    length = days_in(year, month)
    found = serial_of(year, month, length if last else min(day, length))
    if found is None:
        raise FailedError("#NUM!")
    return found


def days_in(year: int, month: int) -> int:
    """How many days a month has."""
    if month == 12:
        return 31
    return (date(year, month + 1, 1) - date(year, month, 1)).days


def now() -> float:
    """The date and time of this machine's clock."""
    passed: timedelta = datetime.now() - DAY_ZERO
    return passed / timedelta(days=1)
