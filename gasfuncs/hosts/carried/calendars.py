"""Calendars that record: open days of a week that is not known yet, without its holidays."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from gasfuncs.hosts.carried.arrays import ONE, Recorded, node_of
from gasfuncs.hosts.carried.columns import Column, lifted
from gasfuncs.hosts.carried.nodes import Node, call, chosen, constant


@dataclass(frozen=True)
class RecordedWeek:
    """Which days of a week are open, as the text of zeros and ones that spreadsheets take."""

    node: Node


@dataclass(frozen=True)
class RecordedCalendar:
    """Days that are open: weekdays without holidays."""

    week: RecordedWeek
    holidays: Node


def open_days(week: RecordedWeek, holidays: Column) -> RecordedCalendar:
    """The calendar of days that are open; a blank holiday is the first day of all."""
    known = lifted(lambda day: chosen(call("ISERROR", day), ONE, day), holidays)
    return RecordedCalendar(week, known.kept().each())


def _nearest(back: int) -> Callable[[Any, RecordedCalendar], Recorded]:
    """The day itself where open, else the next that is, or the last."""

    def day(of: Any, calendar: RecordedCalendar) -> Recorded:
        before = Node("+", node_of(of), constant(back))
        told = (constant(-back), calendar.week.node, calendar.holidays)
        return Recorded(call("WORKDAY.INTL", before, *told))

    return day


next_open, last_open = _nearest(-1), _nearest(1)


def dates(serials: Any) -> Any:
    """Days as their serial numbers, their time of day left out."""
    return lifted(lambda day: call("INT", day), serials)


def serials(days: Any) -> Any:
    """Days are their serial numbers already."""
    return days
