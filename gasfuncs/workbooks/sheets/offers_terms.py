"""Supply offers: the terms of every offer by name, its tiers, its index factors by month."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.offers_typed import INDICES_FIT, MONTHS, OFFERS_FIT, TIERS_FIT
from gasfuncs.workbooks.sheets.parts import Block, Column, Row, Table, helper, made

EACH = range(1, OFFERS_FIT + 1)


def _terms(number: int) -> Block:
    """The terms of one offer, in the book's units; what is blank stays blank."""

    def of(column: str) -> str:
        return f"INDEX({{Offers.{column}}},{number})"

    def given(column: str, formula: str) -> str:
        return f'IF({of(column)}="","",{formula})'

    def blank_if_0(column: str) -> str:
        return f'IF(N({of(column)})=0,"",{of(column)})'

    short = f"{of('Shortfall price')}*{of('Of unit')}"
    cap, floor = (f"{of(column)}/{of('Price')}" for column in ("Cap", "Floor"))
    return Block(
        f"Offer {number}",
        (
            Row(f"Name_{number}", "Offer", f'IF({of("Offer")}=""," ",{of("Offer")})'),
            Row(f"Used_{number}", "Counts", f'IF({of("Check")}="ok",1,0)', "count"),
            Row(f"Price_{number}", "Price", of("Price as used"), "price"),
            Row(f"Kind_{number}", "Tiers are", f'{of("Tiers are")}&""'),
            Row(f"Charge_{number}", "Delivery charge", f"N({of('Delivery charge')})", "money"),
            Row(f"Drop_{number}", "Drop", blank_if_0("Drop as used"), "amount"),
            Row(f"Rent_{number}", "Rent", f"N({of('Rent')})", "money"),
            Row(f"Least_{number}", "Least take", f"N({of('Least take as used')})", "amount"),
            Row(f"Period_{number}", "Period", f'{of("Period")}&""'),
            Row(f"Short_{number}", "Shortfall price", given("Shortfall price", short), "price"),
            Row(f"Fixed_{number}", "Fixed share", f"{of('Fixed')}/100", "number"),
            Row(f"Cap_{number}", "Cap, over the price", given("Cap", cap), "number"),
            Row(f"Floor_{number}", "Floor, over the price", given("Floor", floor), "number"),
            Row(f"Term_{number}", "Term", f"N({of('Term')})", "count"),
        ),
    )


TERMS = tuple(_terms(number) for number in EACH)


def _charge(number: int) -> tuple[Column, ...]:
    """An offer's surcharges as one row of the function's."""
    columns = (
        ("Share", "Goods share", "number"),
        ("Delivery", "Per delivery", "money"),
        ("Month", "Per month", "money"),
        ("Unit", "Per unit", "price"),
    )
    return (
        made(f"Name {number}", "text", f"Name_{number}"),
        *(
            made(f"{name} {number}", kind, f"N(INDEX({{Offers.{column}}},{number}))")
            for name, column, kind in columns
        ),
    )


CHARGED = Table(
    "Charged",
    tuple(column for number in EACH for column in _charge(number)),
    heading="Surcharges of each offer, added up",
    rows=1,
)


def _tier(number: int) -> tuple[Column, ...]:
    """The tiers of an offer, each up to where the next begins."""

    def found(column: str, row: str) -> str:
        place = f'MATCH(Name_{number}&"|"&{row},{{Tiers.Place}},0)'
        return f'IFERROR(INDEX({{Tiers.{column}}},{place}),"")'

    return (
        made(f"From {number}", "amount", found("From as used", "{row}")),
        made(f"To {number}", "amount", found("From as used", "({row}+1)")),
        made(f"Price {number}", "price", found("Price as used", "{row}")),
    )


TIER_GRID = Table(
    "Grid",
    tuple(column for number in EACH for column in _tier(number)),
    heading="Tiers of each offer",
    rows=TIERS_FIT,
)


def _weight(number: int) -> tuple[Column, ...]:
    """Weight and base of each index in an offer's clause; a base of 1 where it has none."""
    clause = f'{{Clauses.Offer}},Name_{number},{{Clauses.Index}},{{Index}},{{Clauses.Check}},"ok"'
    return (
        made(f"Weight {number}", "number", f"SUMIFS({{Clauses.Weight}},{clause})/100"),
        made(
            f"Base {number}",
            "number",
            f"IF({{Weight {number}}}>0,SUMIFS({{Clauses.Base}},{clause}),1)",
        ),
    )


WEIGHTS = Table(
    "Weights",
    (
        made("Index", "text", 'IFERROR(INDEX({Indices.Index},SMALL({Indices.New},{row})),"-")'),
        *(column for number in EACH for column in _weight(number)),
    ),
    heading="Weights and bases of the index clauses",
    rows=INDICES_FIT,
)


def _index(number: int) -> tuple[Column, ...]:
    """An index in the month: the last value from a day that is not after the month's start."""
    name = f"INDEX({{Weights.Index}},{number})"
    known = f'{{Indices.Index}},{name},{{Indices.Check}},"ok",{{Indices.From}}'
    return (
        helper(f"Since {number}", f'MAXIFS({{Indices.From}},{known},"<="&{{Month}})', "date"),
        helper(
            f"Index {number}",
            f'IF({name}="-",1,SUMIFS({{Indices.Value}},{known},{{Since {number}}}))',
        ),
    )


def _factor(number: int) -> Column:
    clause = f"{{Weights.Weight {number}}},{{Weights.Base {number}}},{{Now 1:Now {INDICES_FIT}}}"
    call = f"GAS_INDEXED_PRICE(1,Fixed_{number},{clause},Cap_{number},Floor_{number})"
    return made(f"Offer {number}", "number", f"IF(Used_{number}=0,1,{call})", number="three")


FACTORS = Table(
    "Factors",
    (
        made("Month", "month", "EDATE(Year_start,{row}-1)"),
        *(_factor(number) for number in EACH),
        *(column for number in range(1, INDICES_FIT + 1) for column in _index(number)),
        *(helper(f"Now {number}", f"{{Index {number}}}") for number in range(1, INDICES_FIT + 1)),
    ),
    heading="What the index clause makes of each offer's price by month",
    rows=MONTHS,
)


def cost(number: int, amounts: str, part: str, unless: str) -> str:
    """A formula for a part of what an offer's year costs with amounts by month."""
    call = (
        f"GAS_CONTRACT_COST({{Year.Month}},{amounts},Price_{number},"
        f"{{Grid.From {number}:Price {number}}},Kind_{number},Charge_{number},Drop_{number},"
        f"Rent_{number},{{Charged.Name {number}:Unit {number}}},Least_{number},Period_{number},"
        f"Short_{number},{{Factors.Offer {number}}})"
    )
    without = f"OR(Used_{number}=0,{unless})" if unless else f"Used_{number}=0"
    return f"IF({without},NA(),INDEX({call},2,{part}))"


TOTAL = "8"
"""The column of GAS_CONTRACT_COST in which all parts are added up."""


def costs(
    amounts: str, part: str = TOTAL, unless: str = "", hidden: bool = False
) -> tuple[Column, ...]:
    """A column for each offer, a gap where `unless` holds."""
    column = helper if hidden else made
    return tuple(
        column(
            f"Offer {number}",
            formula=cost(number, amounts, part, unless),
            kind="money",
            number="whole",
        )
        for number in EACH
    )
