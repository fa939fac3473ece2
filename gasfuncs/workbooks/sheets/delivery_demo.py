"""The plant's deliveries as the delivery check asks for them."""

from __future__ import annotations

import datetime as dt
from typing import Any

from gasfuncs.registry import worksheet_function_named
from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.parts import Given
from gasfuncs.workbooks.sheets.plant import Ticket

BILLED_WRONG = "T4108"
"""Billed by a price of its own."""


def demo() -> Given:
    """What the plant has typed."""
    return Given(
        inputs={
            **plant.ABOUT,
            "Report_day": plant.MONTH,
            "Sum_from": plant.LONG_SINCE,
            "Ticket_tolerance": 2.5,
            "Level_tolerance": 1,
            "Invoice_tolerance": 0.5,
        },
        tables={
            "Tanks": [(tank, None, gas, plant.CAPACITY[gas]) for gas, tank in plant.TANKS.items()],
            "Contracts": [
                (plant.SUPPLIERS[gas], gas, day, price, per, None)
                for gas, day, price, per in plant.PRICES
            ],
            "Deliveries": _deliveries(),
        },
    )


def _deliveries() -> list[tuple[Any, ...]]:
    return [_delivery(ticket) for ticket in plant.tickets()]


def _delivery(ticket: Ticket) -> tuple[Any, ...]:
    """A row of the log; the new liquid mixes with the old, and the pressure falls."""
    gas, full = ticket.gas, plant.CAPACITY[ticket.gas]
    before = plant.level_on(gas, ticket.day)
    mixed = worksheet_function_named("GAS_TANK_MIX")(
        gas, before, plant.PRESSURE + plant.SITE, f"{ticket.came} Nm3", "1 atm", full
    )
    after, filled = round(mixed[1][1] - plant.SITE, 1), float(round(mixed[1][2], -1))
    wrong = 1.03 if ticket.number == BILLED_WRONG else 1
    billed = round(ticket.amount * plant.price(gas, ticket.day) * wrong, 2)
    invoice = ("R" + ticket.number[1:], ticket.quantity, billed)
    return (
        *(ticket.day, ticket.number, plant.SUPPLIERS[gas], plant.TANKS[gas]),
        *(ticket.quantity, ticket.unit, before, filled, plant.PRESSURE, after, None),
        *((None, None, None) if _not_billed_yet(ticket.day) else invoice),
    )


def _not_billed_yet(day: dt.date) -> bool:
    return day >= plant.MONTH
