"""Prices in tiers of the amount taken, each tier's price for its own part or for the whole."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition import refuse, step
from gasfuncs.definition.rows import Field, Records, Rows
from gasfuncs.definition.terms import Number
from gasfuncs.definition.vocabulary import Numbers

Array = NDArray[np.float64]

TIERS = Rows(
    "c_k",
    "Tiers, a row each: from which amount in a period, to which (the last may be blank: any "
    "more), and its price; below the first the price itself holds",
    fields=(
        Field("from", Number("q", "Least amount of a tier", low=0, high=1e15)),
        Field("to", Number("q", "Amount it ends at", above=0, high=1e15), needed=False),
        Field("price", Number("c_k", "Price in the tier", low=0, high=1e12)),
    ),
)


@dataclass(frozen=True)
class PriceTiers:
    """Where tiers begin, rising, and what each costs; beyond `end` there is no price."""

    begins: Array
    prices: Array
    end: float

    def marginal(self, amounts: Array) -> Array:
        """Cost of amounts counted from the start of a period, each part at its tier's price."""
        widths = np.append(np.diff(self.begins), np.inf)
        parts = np.clip(amounts[:, None] - self.begins, 0, widths)
        return np.asarray(parts @ self.prices)

    def whole(self, amounts: Array) -> Array:
        """The price of all of an amount, by the tier that it reaches."""
        place = np.searchsorted(self.begins, amounts, side="right") - 1
        return np.asarray(self.prices[place])


@dataclass(frozen=True)
class Goods:
    """What goods cost by month, where tiers count anew in each period of some months."""

    tiers: PriceTiers
    whole: bool
    length: int

    def counted(self, taken: Array) -> Array:
        """What was taken in each period."""
        return np.add.reduceat(taken, np.arange(0, len(taken), self.length))

    def cost(self, amounts: Array) -> Array:
        """Cost of the amounts of whole periods."""
        tiers = self.tiers
        return amounts * tiers.whole(amounts) if self.whole else tiers.marginal(amounts)

    def by_month(self, taken: Array) -> Array:
        """Cost of the goods of each month."""
        if self.whole:
            prices = self.tiers.whole(self.counted(taken))
            return np.asarray(taken * np.repeat(prices, self.length)[: len(taken)])
        starts = range(0, len(taken), self.length)
        sums = [np.cumsum(taken[start : start + self.length]) for start in starts]
        return np.concatenate([np.diff(self.cost(each), prepend=0.0) for each in sums])

    def shortfall(self, taken: Array, index: Array, least: float, rate: Numbers | None) -> Array:
        """Charge for what a period lacks of its least take, in the period's last month."""
        charged = np.zeros(len(taken))
        if least == 0:
            return charged
        amounts = self.counted(taken)
        missing = np.maximum(least - amounts, 0.0)
        step("amount not taken", "Σ (q_min - q)", missing.sum())
        if rate is None:
            more = self.cost(np.maximum(amounts, least)) - self.cost(amounts)
            due = np.maximum(more, 0.0) * self.counted(index) / self.length
        else:
            due = missing * rate
        charged[self.length - 1 :: self.length] = due
        return charged

    def refuse_unpriced(self, amounts: Array) -> None:
        """Refuse a period that takes more than the last tier ends at."""
        most, end = float(amounts.max()), self.tiers.end
        refuse(
            most > end,
            "tiers",
            f"end at {end:g}, and a period takes {most:g}; leave the end of the last one blank",
        )


def read_tiers(tiers: Records | None, price: float) -> PriceTiers:
    """Tiers that join, the price itself below the first; refuses overlaps and gaps by row."""
    rows = sorted(tiers or (), key=lambda tier: float(tier["from"]))
    end = rows[0]["from"] if rows else np.inf
    begins, prices = ([0.0], [price]) if end > 0 else ([], [])
    for tier in rows:
        start, row = tier["from"], tier["row"]
        refuse(start < end, "tiers", f"row {row}: from {start:g} overlaps the tier before it")
        refuse(start > end, "tiers", f"row {row}: nothing has a price from {end:g} to {start:g}")
        end = np.inf if tier["to"] is None else tier["to"]
        refuse(end <= start, "tiers", f"row {row}: to {end:g} is not above from {start:g}")
        begins.append(start)
        prices.append(tier["price"])
    return PriceTiers(np.array(begins), np.array(prices), end)
