"""A time that is counted from somewhere, or a date and time of day."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass

from gasfuncs.definition.terms import Cell, Quantity, plain, serial
from gasfuncs.errors import UnreadableError
from gasfuncs.properties import Gas
from gasfuncs.units import shown

DAY = 86_400.0

STAMPED = 1e9
"""Seconds: from here on a time is a date, counted from the spreadsheet's day zero."""

_DATE = re.compile(r"\s*\d{4}-\d\d-\d\d")


@dataclass(frozen=True)
class Moment(Quantity):
    """A time in hours or with a unit, or a date and time; a date is told in s since day zero."""

    def read(self, value: Cell, gas: Gas | None = None) -> float:
        value = plain(value)
        if isinstance(value, dt.date):
            return serial(value) * DAY
        if isinstance(value, str) and _DATE.match(value):
            return _of_text(value) * DAY
        return super().read(value, gas)

    def allowed(self) -> str:
        return f'{super().allowed()}; or a date and time such as "2026-12-08 14:30"'


def _of_text(text: str) -> float:
    try:
        return serial(dt.datetime.fromisoformat(text.strip()))
    except ValueError:
        raise UnreadableError(
            f'"{shown(text)}" is not a date and time; write it as 2026-12-08 14:30'
        ) from None
