"""Weeks as they are typed."""

from __future__ import annotations

from datetime import date

import pytest

import gasfuncs
from gasfuncs.calculations.calendar import read_week
from gasfuncs.errors import GasFuncsError, UnreadableError


@pytest.mark.parametrize(
    ("text", "open_days"),
    [("Mon", "1000000"), ("Sun", "0000001"), ("Tue, Thu", "0101000"), ("Mon–Wed; Sat", "1110010"),
     ("Fri-Mon", "1000111"), ("every  Day", "1111111"), ("Mon-Mon", "1000000")],
)  # fmt: skip
def test_a_week_has_the_days_that_are_named(text: str, open_days: str) -> None:
    assert "".join("01"[each] for each in read_week(text)) == open_days


@pytest.mark.parametrize("text", ["Mon-Tue-Wed", "M", "Mon," + " " * 2000 + "Tue", "holiday", ""])
def test_what_names_no_weekday_is_refused(text: str) -> None:
    with pytest.raises(UnreadableError):
        read_week(text)


def order_day(holiday: float) -> date:
    call = "2026-03-02", 9000, 1150, 9258, 60, "Mon-Fri", "Mon-Fri", [holiday]
    return gasfuncs.GAS_REORDER_DATE(*call)


def test_a_holiday_is_a_day_of_a_spreadsheet() -> None:
    """From 1 to 2958465, the last day of the year 9999."""
    assert order_day(1) == order_day(2_958_465) == date(2026, 3, 2)
    for beyond in (0.5, 2_958_466):
        with pytest.raises(GasFuncsError, match="holidays"):
            order_day(beyond)
