"""Lines of an invoice held against delivery tickets and a contract."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

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


def check(lines: Records, tickets: Records, contract: Records, off_by: float) -> list[list[Any]]:
    """Ticket, expected, billed, difference and reason of each line, then tickets not billed."""
    known = _by_ticket(tickets)
    seen: set[str] = set()
    out: list[list[Any]] = []
    for line in lines:
        ticket, billed = line["ticket"], line["billed"]
        twice, found = ticket in seen, known.get(ticket)
        seen.add(ticket)
        if twice or found is None:
            out.append([ticket, 0.0, billed, billed, "twice" if twice else "no ticket"])
            continue
        due = _due(found, contract)
        if due is None:
            out.append([ticket, None, billed, None, "before the contract"])
            continue
        difference = billed - due.money
        reason = ", ".join(_reasons(line, due, contract, off_by))
        rounded = "rounding" if abs(difference) > off_by else AGREES
        out.append([ticket, due.money, billed, difference, reason or rounded])
    return out + [_not_billed(t, contract) for name, t in known.items() if name not in seen]


def _by_ticket(tickets: Records) -> dict[str, dict[str, Any]]:
    known: dict[str, dict[str, Any]] = {}
    for each in tickets:
        first = known.setdefault(each["ticket"], each)
        refuse(
            first is not each,
            "tickets",
            f"row {each['row']}: ticket {each['ticket']} stands in row {first['row']} too",
        )
    return known


def _due(ticket: dict[str, Any], contract: Records) -> Due | None:
    """By the version of the contract that holds on the ticket's day, None before the first."""
    begun = [each for each in contract if each["from"] <= ticket["date"]]
    if not begun:
        return None
    now = max(begun, key=lambda each: float(each["from"]))
    return Due(
        ticket["quantity"], now["factor"], now["price"] * now["index"], now["surcharge"],
        now["per delivery"],
    )  # fmt: skip


def _not_billed(ticket: dict[str, Any], contract: Records) -> list[Any]:
    due = _due(ticket, contract)
    money = None if due is None else due.money
    return [ticket["ticket"], money, 0.0, None if money is None else -money, "not billed"]


def _reasons(line: dict[str, Any], due: Due, contract: Records, off_by: float) -> list[str]:
    """What of a line is not as the contract has it, where it changes more than `off_by`."""
    factor = due.factor if line["factor"] is None else line["factor"]
    goods = line["quantity"] * line["price"]
    money = {
        "factor": (factor - due.factor) * due.quantity * due.price,
        "quantity": (line["quantity"] - due.quantity * factor) * due.price,
        _price_word(line["price"], contract): (line["price"] - due.price) * line["quantity"],
        "surcharge": line["surcharges"] - (due.share * goods + due.per_delivery),
        "sum": line["billed"] - (goods + line["surcharges"]),
    }
    return [reason for reason, each in money.items() if abs(each) > off_by]


def _price_word(price: float, contract: Records) -> str:
    """Whether a price is the contract's with another index, or is no price of the contract."""
    factors = {1.0, *(each["index"] for each in contract)}
    others = (each["price"] * factor for each in contract for factor in factors)
    close = any(abs(price - other) <= PRICE_DIGITS * other for other in others)
    return "index" if close else "rate"
