"""The plan of a tank's deliveries, day by day, over days that are open and days that are not."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from gasfuncs.calculations.calendar import dates, next_open


@dataclass(frozen=True)
class Calendars:
    """When orders are taken and when trucks come."""

    order: np.busdaycalendar
    delivery: np.busdaycalendar


@dataclass(frozen=True)
class Tank:
    """What a plan keeps to; amounts in one unit, the lead in whole days."""

    reorder_level: float
    order_size: float
    least_load: float
    most: float
    """Contents up to which the tank is filled."""
    boil_off: float
    lead: int


class Schedule:
    """Of each day of a plan: whether it orders, the next day that does, when its truck comes."""

    def __init__(self, start: float, days: int, lead: int, calendars: Calendars) -> None:
        first = dates(start)
        span = first + np.arange(days).astype("timedelta64[D]")
        after = next_open(span + np.timedelta64(1, "D"), calendars.order)
        reach = int((after[-1] - first).astype(int)) + 1
        arrivals = next_open(first + np.arange(lead, lead + reach), calendars.delivery)
        self.orders: list[bool] = np.is_busday(span, busdaycal=calendars.order).tolist()
        self.next_order: list[int] = (after - first).astype(int).tolist()
        self.arrival: list[int] = (arrivals - first).astype(int).tolist()


def plan(
    start: float, opening: float, uses: list[float], tank: Tank, calendars: Calendars
) -> list[list[Any]]:
    """A row a day: date, opening, use, boil-off, delivery, closing, order placed, shortage."""
    schedule = Schedule(start, len(uses), tank.lead, calendars)
    known = uses + [0.0] * (schedule.arrival[-1] + 1 - len(uses))
    deliveries = [0.0] * len(known)
    stock, on_the_way = opening, 0.0
    rows: list[list[Any]] = []
    for day, use in enumerate(uses):
        order = 0.0
        if schedule.orders[day] and _runs_low(day, stock + on_the_way, known, tank, schedule):
            arrival = schedule.arrival[day]
            order = _order(day, arrival, stock, known, deliveries, tank)
            deliveries[arrival] += order
            on_the_way += order
        before, delivery = stock, deliveries[day]
        on_the_way -= delivery
        evaporated, shortage, stock = _after_a_day(before + delivery, use, tank.boil_off)
        rows.append([start + day, before, use, evaporated, delivery, stock, order, shortage])
    return rows


def _runs_low(day: int, position: float, uses: list[float], tank: Tank, schedule: Schedule) -> bool:
    """Whether an order on the next day that takes one would come later than the level is for."""
    then = schedule.next_order[day]
    due, arrival = then + tank.lead, schedule.arrival[then]
    drawn = sum(uses[day:then]) + sum(uses[due:arrival])
    evaporated = (then - day + arrival - due) * tank.boil_off
    level = tank.reorder_level
    return position <= level or position - drawn - evaporated < level


def _order(
    day: int, arrival: int, stock: float, uses: list[float], deliveries: list[float], tank: Tank
) -> float:
    """What a truck brings: all that fits when it comes, nothing where that is no least load."""
    for between in range(day, arrival):
        stock = _after_a_day(stock + deliveries[between], uses[between], tank.boil_off)[2]
    room = tank.most - stock - deliveries[arrival]
    order = max(0.0, min(tank.order_size, room))
    return order if order >= tank.least_load else 0.0


def _after_a_day(stock: float, use: float, boil_off: float) -> tuple[float, float, float]:
    """What evaporates, what the use lacks, and what is left after a day."""
    evaporated = min(boil_off, stock)
    shortage = max(use - (stock - evaporated), 0.0)
    return evaporated, shortage, max(stock - evaporated - use, 0.0)
