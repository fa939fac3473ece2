"""Lines of an invoice held against delivery tickets and a contract."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from gasfuncs.calculations.grouping import by_row, those
from gasfuncs.definition import refuse
from gasfuncs.definition.rows import Field, Records, Rows, row_name
from gasfuncs.definition.terms import Date, Number, Read, Share
from gasfuncs.units import kinds

MONEY = Number("C", "Money", low=0, high=1e15)
AMOUNT = Number("q", "Amount", low=0, high=1e15)
PRICE = Number("c", "Price", low=0, high=1e12)
FACTOR = Number("f", "Factor", above=0, high=1e9)
TICKET = Read("ticket", "Number of a ticket", reader=row_name)

LINES = Rows(
    "lines",
    "Lines of the invoice, a row each: ticket, quantity, price, surcharges (money), billed, and "
    "the factor where one is printed; quantity in the unit of the price",
    fields=(
        Field("ticket", TICKET),
        Field("quantity", AMOUNT),
        Field("price", PRICE),
        Field("surcharges", MONEY, needed=False, blank=0.0),
        Field("billed", MONEY),
        Field("factor", FACTOR, needed=False),
    ),
)
TICKETS = Rows(
    "tickets",
    "Delivery tickets, a row each: ticket, date, quantity in the unit that the ticket counts in",
    fields=(
        Field("ticket", TICKET),
        Field("date", Date("date", "Day of the delivery", low=1, high=2_958_465)),
        Field("quantity", AMOUNT),
    ),
)
CONTRACT = Rows(
    "contract",
    "Versions of the contract, a row each: from (day), price, index factor, units of the price "
    "per unit of the ticket, surcharge as a share of the goods, charge per delivery",
    fields=(
        Field("from", Date("date", "First day of the version", low=1, high=2_958_465)),
        Field("price", PRICE),
        Field("index", FACTOR, needed=False, blank=1.0),
        Field("factor", FACTOR, needed=False, blank=1.0),
        Field(
            "surcharge",
            Share("s", "Surcharge", kind=kinds.FRACTION, unit="1", low=0, high=10),
            needed=False, blank=0.0,
        ),
        Field("per delivery", MONEY, needed=False, blank=0.0),
    ),
)  # fmt: skip

AGREES = "agrees"
PRICE_DIGITS = 1e-6
"""Part of a price by which two count as the same."""


@dataclass(frozen=True)
class Due:
    """What the contract makes of a ticket."""

    quantity: float
    factor: float
    price: float
    share: float
    per_delivery: float

    @property
    def money(self) -> float:
        """What the delivery costs."""
        return self.quantity * self.factor * self.price * (1 + self.share) + self.per_delivery


@dataclass(frozen=True)
class Invoice:
    """Lines of an invoice, the tickets that they are for, and the contract's versions."""

    lines: Records
    tickets: Records
    contract: Records
    off_by: float

    def check(self) -> list[list[Any]]:
        """Ticket, expected, billed, difference and reason of each line, then what is not billed."""
        self._refuse_twice()
        left = by_row(self.tickets, lambda _, each: self._place(self.lines, each) < 0)
        return by_row(self.lines, self._line) + those(by_row(self.tickets, self._ticket), left)

    @staticmethod
    def _place(rows: Records, like: dict[str, Any]) -> int:
        """The place of the first row of the same ticket."""
        return rows.place_of("ticket", like["ticket"])

    def _refuse_twice(self) -> None:
        first = by_row(self.tickets, lambda _, each: self._place(self.tickets, each))
        twice = by_row(self.tickets, lambda n, each: self._place(self.tickets, each) < n - 1)
        if np.any(twice):
            at = np.flatnonzero(twice)[0]
            again, before = self.tickets.at(at), self.tickets.at(first[at])
            refuse(
                True, "tickets",
                f"row {again['row']}: ticket {again['ticket']} stands in row {before['row']} too",
            )  # fmt: skip

    def _line(self, number: int, line: dict[str, Any]) -> list[Any]:
        ticket, billed = line["ticket"], line["billed"]
        if self._place(self.lines, line) < number - 1:
            return [ticket, 0.0, billed, billed, "twice"]
        at = self._place(self.tickets, line)
        if at < 0:
            return [ticket, 0.0, billed, billed, "no ticket"]
        due = self._due(self.tickets.at(at))
        if due is None:
            return [ticket, None, billed, None, "before the contract"]
        difference = billed - due.money
        reason = ", ".join(self._reasons(line, due))
        rounded = "rounding" if abs(difference) > self.off_by else AGREES
        return [ticket, due.money, billed, difference, reason or rounded]

    def _ticket(self, _: int, ticket: dict[str, Any]) -> list[Any]:
        """The row of a ticket that is not billed."""
        due = self._due(ticket)
        money = None if due is None else due.money
        return [ticket["ticket"], money, 0.0, None if due is None else -due.money, "not billed"]

    def _due(self, ticket: dict[str, Any]) -> Due | None:
        """By the version of the contract that holds on the ticket's day, None before the first."""
        begins = self.contract.column("from")
        begun = begins <= ticket["date"]
        if not np.any(begun):
            return None
        now = self.contract.at(int(np.argmax(np.where(begun, begins, 0.0))))
        return Due(
            ticket["quantity"], now["factor"], now["price"] * now["index"], now["surcharge"],
            now["per delivery"],
        )  # fmt: skip

    def _reasons(self, line: dict[str, Any], due: Due) -> list[str]:
        """What of a line is not as the contract has it, where it changes more than `off_by`."""
        factor = due.factor if line["factor"] is None else line["factor"]
        goods = line["quantity"] * line["price"]
        money = {
            "factor": (factor - due.factor) * due.quantity * due.price,
            "quantity": (line["quantity"] - due.quantity * factor) * due.price,
            self._price_word(line["price"]): (line["price"] - due.price) * line["quantity"],
            "surcharge": line["surcharges"] - (due.share * goods + due.per_delivery),
            "sum": line["billed"] - (goods + line["surcharges"]),
        }
        return [reason for reason, each in money.items() if abs(each) > self.off_by]

    def _price_word(self, price: float) -> str:
        """Whether a price is the contract's with another index, or is no price of the contract."""
        prices = self.contract.column("price")
        factors = np.sort(self.contract.column("index"))
        wanted = np.where(prices > 0, price / np.where(prices > 0, prices, 1.0), -1.0)
        below = np.searchsorted(factors, wanted / (1 + PRICE_DIGITS))
        within = np.searchsorted(factors, wanted / (1 - PRICE_DIGITS), side="right")
        own = np.abs(price - prices) <= PRICE_DIGITS * prices
        return "index" if np.any(own) or np.any(within > below) else "rate"
