"""Times of every kind that files hold, as the plant's own local time.

Read are date-times, ISO 8601 with and without an offset, dates with points, slashes or dashes, Unix
times in s, ms, µs or ns, serial days of a spreadsheet and days as 20261005. What could be two
days, or is counted in UTC while nobody named the plant's zone, is not read; its reason says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np
import pandas as pd
from pandas.api import types

from gasfuncs.definition.terms import DAY_ZERO
from gasfuncs.errors import UnreadableError

DAY_FIRST, MONTH_FIRST = "day first", "month first"
FIRST_YEAR, LAST_YEAR = 1950, 2150

_YEARS = pd.Timestamp(FIRST_YEAR, 1, 1), pd.Timestamp(LAST_YEAR, 12, 31, 23, 59, 59)

_CLOCKS = (" %H:%M:%S", " %H:%M", " %H:%M:%S.%f", " %I:%M:%S %p", " %I:%M %p", "")
_DAYS = {
    DAY_FIRST: ("%d/%m/%Y", "%d-%m-%Y", "%d/%m/%y"),
    MONTH_FIRST: ("%m/%d/%Y", "%m-%d-%Y", "%m/%d/%y"),
}
_CLEAR_DAYS = ("%d.%m.%Y", "%d.%m.%y", "%Y/%m/%d", "%d %b %Y", "%d-%b-%Y")
_REWRITTEN = {
    None: (r"^(\d\d)\.(\d\d)\.(\d{4})", r"\3-\2-\1"),
    DAY_FIRST: (r"^(\d\d)[./-](\d\d)[./-](\d{4})", r"\3-\2-\1"),
    MONTH_FIRST: (r"^(\d\d)[/-](\d\d)[/-](\d{4})", r"\3-\1-\2"),
}
"""The commonest dates made ISO 8601, which is read five times as fast as by a form."""
_OFFSET = r".*:\d\d(?:[.,]\d+)? *(?:Z|UTC|[+-]\d\d:?\d\d)$"
_NO_OFFSET = r" *(?:Z|UTC|[+-]\d\d:?\d\d)$"
_IN_UTC = r".*(?:Z|UTC|[+-]00:?00)$"
_UNIX = {"s": 1e9, "ms": 1e12, "us": 1e15, "ns": 1e18}
_SERIAL_DAYS = (20_000, 80_000)


@dataclass(frozen=True, slots=True)
class Moments:
    """A column as local date-times (NaT where blank or not read), instants that give order, and
    the reason of what was not read, else None."""

    local: pd.Series
    instants: pd.Series
    reasons: pd.Series


def known_zone(name: str) -> ZoneInfo:
    """The time zone of this name. Raises UnreadableError."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError):
        raise UnreadableError(
            f'"{name}" is no time zone; say it as "Europe/Vienna", "America/Chicago" or "UTC"',
            "time zone",
        ) from None


def read_moments(
    column: pd.Series, *, zone: str | None = None, order: str | None = None
) -> Moments:
    """Every cell as the local time of `zone`; `order` says which of day and month comes first."""
    place = known_zone(zone) if zone else None
    reading = _Reading(column, place)
    reading.take_dates()
    reading.take_numbers()
    reading.take_text(order)
    return reading.finished()


class _Reading:
    """A column under way: what is read so far, by cell."""

    def __init__(self, column: pd.Series, zone: ZoneInfo | None) -> None:
        self.column, self.zone = column, zone
        self.local = pd.Series(pd.NaT, index=column.index, dtype="datetime64[ns]")
        self.instants = self.local.copy()
        self.reasons = pd.Series(None, index=column.index, dtype=object)
        self.text = pd.Series(pd.NA, index=column.index, dtype="string")

    def take_dates(self) -> None:
        column = self.column
        if isinstance(column.dtype, pd.DatetimeTZDtype):
            self._as_instants(column.dt.tz_convert("UTC").dt.tz_localize(None))
        elif types.is_datetime64_any_dtype(column):
            self._as_local(column.astype("datetime64[ns]"))
        elif not types.is_numeric_dtype(column):
            text = column.map(_as_iso) if types.is_object_dtype(column) else column
            self.text = text.astype("string").str.strip().replace("", pd.NA)

    def take_numbers(self) -> None:
        if types.is_bool_dtype(self.column):
            self.reasons[:] = "is no time"
        elif types.is_numeric_dtype(self.column):
            self._numbers(self.column.astype("float64").dropna(), self.column.dropna())
        elif self.text.notna().any():
            digits = self.text.str.match(r"^\d+(?:\.\d+)?$").fillna(False).astype(bool)
            self._numbers(self.text[digits].astype("float64"), self.text[digits])
            self.text[digits] = pd.NA

    def _numbers(self, numbers: pd.Series, shown: pd.Series) -> None:
        left = pd.Series(True, index=numbers.index)
        for unit, size in _UNIX.items():
            here = left & numbers.between(0.6 * size, 5 * size)
            exact = pd.to_numeric(shown[here]).round().astype("int64") if here.any() else None
            if exact is not None:
                self._as_instants(pd.to_datetime(exact, unit=unit).astype("datetime64[ns]"))
            left &= ~here
        serial = left & numbers.between(*_SERIAL_DAYS)
        milliseconds = (numbers[serial] * 86_400_000).round()
        self._as_local(DAY_ZERO + pd.to_timedelta(milliseconds, unit="ms"))
        left &= ~serial
        days = numbers[left & numbers.between(19_500_101, 21_501_231)].astype("int64").astype(str)
        self._as_local(pd.to_datetime(days, format="%Y%m%d", errors="coerce").dropna())
        unread = left & self.local[numbers.index].isna() & self.reasons[numbers.index].isna()
        self.reasons[unread[unread].index] = [f"{value} is no time" for value in shown[unread]]

    def take_text(self, order: str | None) -> None:
        text = self.text.dropna()
        if text.empty:
            return
        with_offset = text.str.match(_OFFSET).astype(bool)
        if with_offset.any():
            self._text_with_offset(text[with_offset])
        left = self._text_as_iso(text[~with_offset], order)
        for form in _ordered(left, order):
            if left.empty:
                break
            read = _parsed(left, form).dropna()
            self._as_local(read)
            left = left.drop(read.index)
        self.reasons[left.index] = _why_not(left, order)

    def _text_as_iso(self, text: pd.Series, order: str | None) -> pd.Series:
        """Takes what is ISO 8601 or can be made so; what is left over comes back."""
        for pattern in (None, *dict.fromkeys((_REWRITTEN[None], _REWRITTEN[order]))):
            if text.empty:
                break
            ready = text.str.replace(*pattern, regex=True) if pattern else text
            read = _parsed(ready, "ISO8601").dropna()
            self._as_local(read)
            text = text.drop(read.index)
        return text

    def _text_with_offset(self, text: pd.Series) -> None:
        if self.zone is None:
            utc = text.str.match(_IN_UTC).astype(bool)
            self.reasons[text[utc].index] = (
                "is in UTC; name the time zone of the plant, as its day is not UTC's"
            )
            text = text[~utc]
            plain = text.str.replace(_NO_OFFSET, "", regex=True)
            self._as_local(_parsed(plain, "ISO8601").dropna())
            return
        read = pd.to_datetime(
            text.str.replace(r"\s*UTC$", "Z", regex=True),
            format="ISO8601", utc=True, errors="coerce",
        )  # fmt: skip
        self._as_instants(read.dropna().dt.tz_localize(None).astype("datetime64[ns]"))
        wrong = text[read.isna()]
        self.reasons[wrong.index] = [f'"{value}" is no time' for value in wrong]

    def _as_local(self, read: pd.Series) -> None:
        """Times on the plant's clock."""
        read = self._within_years(read)
        if self.zone is None and len(read) == len(self.local):
            self.local, self.instants = read, read.copy()
            return
        self.local.loc[read.index] = read
        if self.zone is None or read.empty:
            self.instants.loc[read.index] = read
            return
        there = _localized(read, self.zone)
        missing = there.index[there.isna()]
        self.reasons[missing] = "is skipped by the clock of that day (daylight saving)"
        self.local.loc[missing] = pd.NaT
        self.instants.loc[read.index] = there.dt.tz_convert("UTC").dt.tz_localize(None)

    def _as_instants(self, read: pd.Series) -> None:
        """Times counted in UTC."""
        read = self._within_years(read)
        if self.zone is None:
            self.reasons[read.index] = (
                "is in UTC; name the time zone of the plant, as its day is not UTC's"
            )
            return
        self.instants.loc[read.index] = read
        there = read.dt.tz_localize("UTC").dt.tz_convert(self.zone)
        self.local.loc[read.index] = there.dt.tz_localize(None)

    def _within_years(self, read: pd.Series) -> pd.Series:
        outside = ~read.between(*_YEARS) & read.notna()
        if not outside.any():
            return read
        self.reasons[read.index[outside]] = [
            f"{moment} is no time of a plant" for moment in read[outside]
        ]
        return read[~outside]

    def finished(self) -> Moments:
        return Moments(self.local, self.instants, self.reasons)


def _as_iso(cell: object) -> object:
    return cell.isoformat() if hasattr(cell, "isoformat") and not pd.isna(cell) else cell


def _localized(read: pd.Series, zone: ZoneInfo) -> pd.Series:
    """The hour that comes twice in autumn is told apart by the order of the rows, if it shows."""
    try:
        return read.dt.tz_localize(zone, ambiguous="infer", nonexistent="NaT")
    except ValueError:
        first = np.ones(len(read), dtype=bool)
        return read.dt.tz_localize(zone, ambiguous=first, nonexistent="NaT")


def _ordered(text: pd.Series, order: str | None) -> list[str]:
    """The forms to try, those that read most of a sample first."""
    days = (*_CLEAR_DAYS, *(_DAYS[order] if order else ()))
    forms = [day + clock for day in days for clock in _CLOCKS]
    sample = text.iloc[:: max(1, len(text) // 100)]
    return sorted(forms, key=lambda form: _parsed(sample, form).isna().sum())


def _parsed(text: pd.Series, form: str) -> pd.Series:
    return pd.to_datetime(text, format=form, errors="coerce").astype("datetime64[ns]")


def _why_not(left: pd.Series, order: str | None) -> pd.Series:
    """The reason of each text that was not read."""
    reasons = '"' + left + '" is no time'
    if order is not None or left.empty:
        return reasons
    unread = left
    for first in _DAYS:
        for form in _ordered(unread, first):
            unread = unread[_parsed(unread, form).isna()]
    told = '"' + left + '" may have the day or the month first; say which'
    return reasons.where(left.index.isin(unread.index), told)
