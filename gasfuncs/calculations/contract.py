"""A price that follows indices, what a contract costs over its months, invoices against it.

Amounts are plain numbers in the unit that the price is for, the same throughout.
"""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations.calendar import first_days, month_numbers, month_text
from gasfuncs.calculations.grouping import by_word, or_nan
from gasfuncs.calculations.invoice import CONTRACT, LINES, TICKETS, Invoice
from gasfuncs.calculations.tiers import TIERS, Goods, read_tiers
from gasfuncs.definition import Column, Columns, Symbol, refuse, step, worksheet_function
from gasfuncs.definition.rows import Field, Records, Rows, row_name
from gasfuncs.definition.series import Series
from gasfuncs.definition.terms import Choice, Date, Number, Read, Share
from gasfuncs.definition.vocabulary import Money, Numbers, Price
from gasfuncs.errors import ShapeError, UnreadableError
from gasfuncs.units import kinds

Array = NDArray[np.float64]

WHOLE = 1e-6
"""By which shares that add up to one may miss it, from rounding alone."""

PERIODS = {"month": 1, "quarter": 3, "year": 12}
"""Months of each."""

ESCALATION = (
    "Price adjustment by a weighted formula: fixed share, and weights times index over base index "
    "(common practice in supply contracts)"
)
CONTRACT_PRACTICE = (
    "Parts of a bulk-gas contract: price tiers, delivery charge, rent, surcharges, take or pay "
    "(common practice)"
)
OWN_UNIT = "Amounts are in the unit that the price is for; GAS_PRICE turns a price into another."

WEIGHTS = Series("b_i", "Weight of each index", each=Number("b", "Weight", low=0, high=1))


def _indices(symbol: str, words: str) -> Series:
    return Series(symbol, words, each=Number(symbol, "Index", above=0, high=1e9))


@worksheet_function(
    equation="P = P₀ · (a + Σ b_i · I_i / I_i0), between floor and cap",
    sources=(ESCALATION,),
    example=("GAS_INDEXED_PRICE(100, 0.4, 0.6, 100, 130)", "118"),
    cautions=(
        "Index and base index are of the same series and base year; an index that was rebased is "
        "no longer comparable.",
    ),
)
def indexed_price(
    base_price: Annotated[Price, Symbol("P₀"), "Price at the base indices, in your own currency"],
    fixed_share: Annotated[
        Numbers,
        Share(
            "a", "Share of the price that follows no index",
            kind=kinds.FRACTION, unit="1", low=0, high=1,
        ),
    ],
    weights: Annotated[Array, WEIGHTS],
    base_indices: Annotated[Array, _indices("I_i0", "The indices that the base price stands for")],
    indices: Annotated[Array, _indices("I_i", "The indices now, in the order of the weights")],
    cap: Annotated[Price | None, Symbol("P_cap"), "Highest price that the contract allows"] = None,
    floor: Annotated[Price | None, Symbol("P_floor"), "Lowest price that it allows"] = None,
) -> Annotated[Price, Symbol("P"), "Price now, in the same currency"]:  # fmt: skip
    """Price that a contract's index clause gives.

    Takes one series each of weights, base indices and indices, the rest scalars or arrays.
    Raises OutOfRangeError where fixed share and weights do not add up to one, where a cap is
    below the base price or a floor above it.
    """
    counts = [np.size(each) for each in (weights, base_indices, indices)]
    if counts[0] != counts[1] or counts[1] != counts[2]:
        raise ShapeError(
            f"holds {counts[2]} indices for {counts[1]} base indices and {counts[0]} weights",
            "indices",
        )
    total = np.asarray(fixed_share + weights.sum())
    refuse(
        np.abs(total - 1) > WHOLE,
        "weights",
        f"and the fixed share add up to {np.max(total):.6g}, not to 1",
    )
    factor = fixed_share + weights @ (indices / base_indices)
    step("factor of the clause", "a + Σ b_i I_i / I_i0", factor)
    price = base_price * factor
    step("price before cap and floor", "P₀ · factor", price)
    if cap is not None:
        refuse(np.less(cap, base_price), "cap", "is below the base price; a cap is a price")
        price = np.minimum(price, cap)
    if floor is not None:
        refuse(np.greater(floor, base_price), "floor", "is above the base price; it is a price")
        price = np.maximum(price, floor)
    return price


MONTHS = Series(
    "m", "Months of the contract, a range of any day in each; rows blank in both are left out",
    each=Date("m", "Month", low=2, high=2_958_465), blank=np.nan,
)  # fmt: skip
AMOUNTS = Series(
    "q_m", "Amount taken in each month, in the unit that the price is for",
    each=Number("q", "Amount", low=0, high=1e15), blank=np.nan,
)  # fmt: skip
PRICE_INDEX = Series(
    "i_m", "Factor of each month on the price and its tiers, as GAS_INDEXED_PRICE of 1 gives it",
    each=Number("i", "Factor", above=0, high=1e6), blank=np.nan,
)  # fmt: skip
SURCHARGES = Rows(
    "s",
    "Surcharges, a row each: name, share of the goods, per delivery, per month, per unit of "
    "amount; what does not apply stays blank",
    fields=(
        Field("surcharge", Read("s", "Name", reader=row_name)),
        Field(
            "share of goods",
            Share("s", "Share of the goods", kind=kinds.FRACTION, unit="1", low=-1, high=10),
            needed=False, blank=0.0,
        ),
        *(
            Field(each, Number("s", "Surcharge", low=0, high=1e12), needed=False, blank=0.0)
            for each in ("per delivery", "per month", "per unit")
        ),
    ),
)  # fmt: skip

COSTS = Columns(
    (
        Column("Month", Date("month", "First day of the month")),
        Column("Amount"),
        Column("Goods"),
        Column("Deliveries"),
        Column("Rent"),
        Column("Surcharges"),
        Column("Shortfall"),
        Column("Total"),
        Column("Price in effect", Number("c", "Total over the amount")),
    ),
    "All months in the first row, then a row for each month",
)


@worksheet_function(
    equation="C = Σ (goods + deliveries + rent + surcharges + shortfall); in effect C / Σ q",
    sources=(CONTRACT_PRACTICE,),
    example=(
        'GAS_CONTRACT_COST({"2026-01-15";"2026-02-15"}, {4000;4000}, 0.16, , , , , , , 5000, '
        '"month")',
        "all months: goods 1280, shortfall 320, total 1600, 0.2 in effect",
    ),
    cautions=(
        OWN_UNIT,
        "Deliveries are counted as amount over drop, not rounded to whole trucks.",
        "Periods of tiers and least take are counted from the first month given.",
    ),
)
def contract_cost(
    months: Annotated[Array, MONTHS],
    amounts: Annotated[Array, AMOUNTS],
    price: Annotated[Price, "Price of a unit of amount, below the tiers"],
    tiers: Annotated[Records | None, TIERS] = None,
    tier_kind: Annotated[
        str,
        Choice(
            "kind",
            "A tier's price holds for its part of the amount (marginal) or for all of it (whole)",
            words=("marginal", "whole"),
        ),
    ] = "marginal",
    delivery_charge: Annotated[Money, Symbol("C_d"), "Charge of a delivery"] = 0.0,
    drop: Annotated[
        Numbers | None, Number("q_d", "Mean amount of a delivery", above=0, high=1e15)
    ] = None,
    rent: Annotated[Money, Symbol("C_r"), "Rent of tank and equipment a month"] = 0.0,
    surcharges: Annotated[Records | None, SURCHARGES] = None,
    least_take: Annotated[
        Numbers, Number("q_min", "Amount that a period pays for at least", low=0, high=1e15)
    ] = 0.0,
    period: Annotated[
        str, Choice("period", "Period of tiers and least take", words=tuple(PERIODS))
    ] = "year",
    shortfall_rate: Annotated[
        Price | None, Symbol("c_s"), "Price of a unit not taken; blank: the price"
    ] = None,
    price_index: Annotated[Array | None, PRICE_INDEX] = None,
) -> Annotated[list[list[Any]], COSTS]:
    """What a contract costs over its months: goods, deliveries, rent, surcharges, shortfall.

    Takes plain numbers in the price's unit, one contract at a time. A shortfall is charged in its
    period's last month, at the period's mean index. Raises OutOfRangeError for months that are
    missing or twice, tiers that overlap or leave a gap, a delivery charge without a drop, and for
    whole-amount tiers or a least take where the last period is not complete.
    """
    numbers, taken, index = _taken(months, amounts, or_nan(price_index))
    charges, drop = surcharges or Records(), or_nan(drop)
    refuse(
        np.isnan(drop) & ((delivery_charge > 0) | np.any(charges.column("per delivery") > 0)),
        "drop",
        "is blank; deliveries that are charged need the mean amount of one",
    )
    length = by_word(period, PERIODS)
    by_tier = read_tiers(tiers or Records(), price)
    cost = Goods(by_tier, bool(tiers) and tier_kind == "whole", numbers - numbers[0], length)
    settled = (least_take > 0) | (cost.whole & (np.size(by_tier.begins) > 0))
    refuse(
        (np.size(taken) % length > 0) & settled,
        "months",
        f"hold {np.size(taken)} months, not whole periods of a {period}, so that tiers and least "
        "take are not settled; give whole periods",
    )
    by_tier.refuse_unpriced(np.maximum(np.max(cost.counted(taken)), least_take))
    goods = cost.by_month(taken) * index
    deliveries = np.where(np.isnan(drop), 0.0, taken / drop)
    step("deliveries", "Σ q / q_d", deliveries.sum())
    parts = [
        goods,
        deliveries * delivery_charge,
        np.full_like(taken, rent),
        _surcharges(charges, goods, deliveries, taken),
        cost.shortfall(taken, index, least_take, or_nan(shortfall_rate)),
    ]
    return _cost_rows(first_days(numbers), taken, parts)


def _cost_rows(days: Array, taken: Array, parts: list[Array]) -> list[list[Any]]:
    """A row of all months, then one for each month."""
    totals = parts[0] + parts[1] + parts[2] + parts[3] + parts[4]
    months = zip(
        *(each.tolist() for each in (days, taken, *parts, totals, _in_effect(totals, taken))),
        strict=True,
    )
    amount, total = taken.sum(), totals.sum()
    sums = [amount, *(part.sum() for part in parts), total]
    first = ["all months", *map(float, sums), _in_effect(total, amount).item()]
    return [first, *map(list, months)]


def _in_effect(totals: Any, amounts: Any) -> Any:
    """The price of a unit, none where nothing was taken."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        price = np.divide(totals, amounts)
    return np.where(np.isfinite(price), price, None)


def _taken(
    months: Array, amounts: Array, price_index: Any
) -> tuple[NDArray[np.int64], Array, Array]:
    """Months by number, what was taken in each and the factor of each, in the months' order."""
    none = np.all(np.isnan(price_index))
    for argument, values, left_out in (
        ("amounts", amounts, False),
        ("price_index", price_index, none),
    ):
        if (np.size(values) != np.size(months)) & ~np.asarray(left_out):
            raise ShapeError(
                f"holds {np.size(values)} values for {np.size(months)} months", argument
            )
    index = np.where(none, 1.0, np.resize(price_index, np.shape(months)))
    filled = ~(np.isnan(months) & np.isnan(amounts))
    if not np.any(filled):
        raise UnreadableError("holds no month", "months")
    for argument, values in (("months", months), ("amounts", amounts), ("price_index", index)):
        blank = filled & np.isnan(values)
        if np.any(blank):
            item = np.flatnonzero(blank)[0] + 1
            raise UnreadableError(f"is blank (item {item} of the range)", argument)
    numbers = month_numbers(months[filled])
    order = np.argsort(numbers, kind="stable")
    _refuse_months(numbers[order], np.flatnonzero(filled)[order] + 1)
    return numbers[order], amounts[filled][order], index[filled][order]


def _refuse_months(numbers: NDArray[np.int64], places: NDArray[np.intp]) -> None:
    """Refuse a month that stands twice or is missing."""
    steps = np.diff(numbers)
    if not np.any(steps != 1):
        return
    at = np.flatnonzero(steps != 1)[0]
    month, items = month_text(numbers[at]), f"items {places[at]} and {places[at + 1]}"
    refuse(steps[at] == 0, "months", f"{month} stands twice ({items} of the range)")
    refuse(True, "months", f"the month after {month} is missing; give its amount, 0 for none")


TERMS = ("share of goods", "per delivery", "per month", "per unit")
"""What a surcharge is told by."""


def _surcharges(charges: Records, goods: Array, deliveries: Array, taken: Array) -> Array:
    def added(terms: list[Any]) -> Array:
        share, per_delivery, per_month, per_unit = terms
        found: Array = share * goods + per_delivery * deliveries + per_month + per_unit * taken
        return found

    for each in charges:
        alone = added([each[name] for name in TERMS])
        step(f"surcharge {each['surcharge']}", "s", alone.sum())
    return added([charges.column(name).sum() for name in TERMS])


INVOICE = Columns(
    (
        Column("Ticket"),
        Column("Expected", Number("C_e", "By ticket and contract")),
        Column("Billed", Number("C_b", "By the invoice")),
        Column("Difference", Number("ΔC", "Billed less expected")),
        Column("Reason"),
    ),
    "A row for each line of the invoice, then one for each ticket that is not billed",
)


@worksheet_function(
    equation="C = q · f · c · i · (1 + s) + C_d of the ticket, against what is billed",
    sources=("Invoice verification: order, receipt and invoice held against each other",),
    example=(
        'GAS_INVOICE_CHECK({"T1",150000,0.004,30,630;"T2",150000,0.004,0,600}, '
        '{"T1","2026-01-09",1611;"T2","2026-02-09",1611}, {"2026-01-01",0.004,1,93.11,0.05})',
        "T1: expected 630, agrees; T2: 30 less than expected, surcharge",
    ),
    cautions=(
        "Reasons are what the numbers show; an agreement beside the contract is not known here.",
        "Leave credit notes out and hold their sum against the differences.",
    ),
)
def invoice_check(
    lines: Annotated[Records, LINES],
    tickets: Annotated[Records, TICKETS],
    contract: Annotated[Records, CONTRACT],
    tolerance: Annotated[
        Money, Symbol("ΔC_max"), "Money that rounding may change, of each part of a line"
    ] = 0.01,
) -> Annotated[list[list[Any]], INVOICE]:
    """What each line of an invoice should be by ticket and contract, and why it is not.

    The contract's version is that of the ticket's day. Reasons: quantity, factor (units of the
    price per unit of the ticket), rate (no price of the contract), index (a price of the contract
    with another index), surcharge, sum (the line does not add up), twice, no ticket, before the
    contract, not billed. Raises OutOfRangeError where a ticket stands twice.
    """
    for argument, rows in (("lines", lines), ("tickets", tickets), ("contract", contract)):
        if rows.size < 1:
            raise UnreadableError("the range holds no row", argument)
    return Invoice(lines, tickets, contract, float(tolerance)).check()
