"""Prices in tiers of the amount taken, each tier's price for its own part or for the whole."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations.grouping import sums_before, sums_of
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
        Field(
            "to", Number("q", "Amount it ends at", above=0, high=1e15), needed=False, blank=np.inf
        ),
        Field("price", Number("c_k", "Price in the tier", low=0, high=1e12)),
    ),
)


@dataclass(frozen=True)
class PriceTiers:
    """The price below the tiers; where these begin, rising, and end, and what each costs."""

    price: Numbers
    begins: Array
    ends: Array
    prices: Array

    @property
    def first(self) -> Any:
        """Where the first tier begins."""
        return np.min(self.begins, initial=np.inf)

    def marginal(self, amounts: Array) -> Array:
        """Cost of amounts counted from the start of a period, each part at its tier's price."""
        parts = np.clip(amounts[:, None] - self.begins, 0, self.ends - self.begins)
        return np.asarray(self.price * np.minimum(amounts, self.first) + parts @ self.prices)

    def whole(self, amounts: Array) -> Array:
        """The price of all of an amount, by the tier that it reaches."""
        tier = np.searchsorted(self.begins, amounts, side="right") - 1
        return np.where(amounts < self.first, self.price, self.prices[tier])

    def refuse_unpriced(self, most: Any) -> None:
        """Refuse a period that takes more than the last tier ends at."""
        refuse(
            (most > self.first) & ~np.any(most <= self.ends),
            "tiers",
            f"end at {np.max(self.ends, initial=0.0):g}, and a period takes {most:g}; leave the "
            "end of the last one blank",
        )


@dataclass(frozen=True)
class Goods:
    """What goods cost by month, where tiers count anew in each period of some months."""

    tiers: PriceTiers
    whole: bool
    place: NDArray[np.int64]
    """Of each month, counted from the first."""
    length: int

    @property
    def period(self) -> NDArray[np.int64]:
        """The period that each month lies in."""
        return self.place // self.length

    def counted(self, taken: Array) -> Array:
        """What was taken in the period of each month."""
        return sums_of(self.period, taken)

    def cost(self, amounts: Array) -> Array:
        """Cost of the amounts of whole periods."""
        tiers = self.tiers
        return amounts * tiers.whole(amounts) if self.whole else tiers.marginal(amounts)

    def by_month(self, taken: Array) -> Array:
        """Cost of the goods of each month."""
        if self.whole:
            return taken * self.tiers.whole(self.counted(taken))
        before = sums_before(self.period, taken)
        return self.cost(before + taken) - self.cost(before)

    def shortfall(self, taken: Array, index: Array, least: Numbers, rate: Numbers) -> Array:
        """Charge for what a period lacks of its least take, in the period's last month."""
        amounts = self.counted(taken)
        last = self.place % self.length == self.length - 1
        missing = np.where(last, np.maximum(least - amounts, 0.0), 0.0)
        step("amount not taken", "Σ (q_min - q)", missing.sum())
        more = self.cost(np.maximum(amounts, least)) - self.cost(amounts)
        by_price = np.where(last, np.maximum(more, 0.0), 0.0) * self.counted(index) / self.length
        return np.where(np.isnan(rate), by_price, missing * rate)


def read_tiers(tiers: Records, price: Numbers) -> PriceTiers:
    """Tiers that join, the price itself below the first; refuses overlaps and gaps by row."""
    order = np.argsort(tiers.column("from"), kind="stable")
    begins, ends, prices, rows = (
        tiers.column(name)[order] for name in ("from", "to", "price", "row")
    )
    _refuse_first(
        ends <= begins,
        lambda at: f"row {rows[at]:.0f}: to {ends[at]:g} is not above from {begins[at]:g}",
    )
    _refuse_first(
        begins[1:] < ends[:-1],
        lambda at: f"row {rows[at + 1]:.0f}: from {begins[at + 1]:g} overlaps the tier before it",
    )
    _refuse_first(
        begins[1:] > ends[:-1],
        lambda at: (
            f"row {rows[at + 1]:.0f}: nothing has a price from {ends[at]:g} to {begins[at + 1]:g}"
        ),
    )
    return PriceTiers(price, begins, ends, prices)


def _refuse_first(where: Any, sentence: Callable[[int], str]) -> None:
    if np.any(where):
        refuse(True, "tiers", sentence(np.flatnonzero(where)[0]))
