"""Days and months behind the serial numbers of a spreadsheet, and the days that are open."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.series import Series
from gasfuncs.definition.terms import DAY_ZERO, Cell, Date, Read
from gasfuncs.errors import UnreadableError
from gasfuncs.units import refuse_long, shown

_FIRST = np.datetime64(DAY_ZERO, "D")
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
Week = tuple[bool, ...]
"""Which days of a week are open, from Monday."""
EVERY_DAY: Week = (True,) * 7
WEEK_WORDS = 'weekdays, such as "Mon-Fri", "Tue, Thu" or "every day"'


def dates(serials: Any) -> NDArray[np.datetime64]:
    """The days that serial numbers stand for, their time of day left out."""
    return np.asarray(_FIRST + np.floor(serials).astype("timedelta64[D]"))


def serials(days: Any) -> NDArray[np.float64]:
    """The serial numbers of days, or of the first days of months."""
    return np.asarray((days.astype("datetime64[D]") - _FIRST).astype(float))


def month_numbers(serials: Any) -> NDArray[np.int64]:
    """The months that serial numbers lie in, counted from January 1970."""
    return np.asarray(dates(serials).astype("datetime64[M]").astype(np.int64))


def first_days(months: NDArray[np.int64]) -> NDArray[np.float64]:
    """The serial numbers of the first days of months by their numbers."""
    return serials(months.astype("datetime64[M]"))


def month_text(number: Any) -> str:
    """A month's number as 2026-03."""
    return str(np.datetime64(int(number), "M"))


def day_text(serial: float) -> str:
    """A day as 2026-03-05."""
    return str(dates(serial))


def read_week(value: Cell) -> Week:
    """The open days of a week, from text such as "Mon-Fri" or "Tue, Thu"."""
    if not isinstance(value, str):
        raise UnreadableError(f"{shown(value)} is no text; write {WEEK_WORDS}")
    refuse_long(value, WEEK_WORDS)
    if " ".join(value.lower().split()) in ("every day", "daily"):
        return EVERY_DAY
    week = [False] * 7
    for part in value.replace("–", "-").replace(";", ",").split(","):
        first, *last = (_weekday(each) for each in part.split("-", 1))
        for day in range(first, first + (last[0] - first) % 7 + 1 if last else first + 1):
            week[day % 7] = True
    return tuple(week)


def _weekday(text: str) -> int:
    typed = text.strip().lower().rstrip(".")
    found = [day for day, name in enumerate(WEEKDAYS) if len(typed) > 1 and name.startswith(typed)]
    if not found:
        raise UnreadableError(f'"{shown(text.strip())}" is no weekday; write {WEEK_WORDS}')
    return found[0]


def _week(symbol: str, words: str) -> Read:
    return Read(symbol, words, reader=read_week, words=WEEK_WORDS)


OrderDays = Annotated[
    Week, _week("order days", 'Weekdays on which orders are taken, "Mon-Fri"; blank: every day')
]
DeliveryDays = Annotated[
    Week, _week("delivery days", 'Weekdays on which trucks come, "Mon-Sat"; blank: every day')
]
Holidays = Annotated[
    NDArray[np.float64],
    Series(
        "holidays", "Days without orders and deliveries, a range of dates",
        each=Date("holiday", "Holiday", low=1, high=2_958_465), blank=np.nan,
    ),
]  # fmt: skip


def open_days(week: Week | None, holidays: NDArray[np.float64] | None) -> np.busdaycalendar:
    """The calendar of days that are open: weekdays without holidays."""
    closed = np.array([]) if holidays is None else holidays[~np.isnan(holidays)]
    return np.busdaycalendar(weekmask=list(week or EVERY_DAY), holidays=dates(closed))


def always_open(calendar: np.busdaycalendar) -> bool:
    """Whether no day is closed."""
    return bool(calendar.weekmask.all()) and not len(calendar.holidays)


def next_open(days: Any, calendar: np.busdaycalendar) -> NDArray[np.datetime64]:
    """The days themselves where open, else the next that are."""
    return np.asarray(np.busday_offset(days, 0, roll="forward", busdaycal=calendar))


def last_open(days: Any, calendar: np.busdaycalendar) -> NDArray[np.datetime64]:
    """The days themselves where open, else the last before them that are."""
    return np.asarray(np.busday_offset(days, 0, roll="backward", busdaycal=calendar))
