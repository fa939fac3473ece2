"""Supply offers: what is typed: loads by month, offers, tiers, surcharges, index clauses."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import Column, Rule, Table, helper, made
from gasfuncs.workbooks.sheets.standard import nth_new

OFFERS_FIT, MONTHS, TIERS_FIT, INDICES_FIT = 8, 12, 6, 6
MONTH_NAMES = tuple(f"Month {number}" for number in range(1, MONTHS + 1))

LOADS = Table(
    "Loads",
    (
        Column("Furnace", prompt="Its name, for example VF1; it may have several rows"),
        Column("Recipe", prompt="What it runs, for example Harden 6 bar", width=18),
        Column(
            "Gas per load",
            "amount",
            "What a load takes of the gas: Monthly gas use, sheet Gas per load",
            low=0,
            number="two",
        ),
        *(
            Column(
                name,
                "count",
                "Loads planned for that month of the year, counted from the first month on Inputs",
                low=0,
                high=10_000,
                required=False,
                width=7,
            )
            for name in MONTH_NAMES
        ),
        made(
            "Gas of the year",
            "amount",
            "{Gas per load}*SUM({Month 1:Month 12})",
            result=True,
        ),
        *(
            helper(f"Gas {number}", f"{{Gas per load}}*N({{Month {number}}})", "amount")
            for number in range(1, MONTHS + 1)
        ),
        helper("New furnace", nth_new("Loads", "Furnace")),
    ),
    heading="Loads of the year",
    rows=60,
    unique=("Furnace", "Recipe"),
)


def _as_gas(quantity: str) -> str:
    """A quantity of the offer's own unit as gas, 0 where it is blank."""
    amount = f'{{{quantity}}}&" "&{{Amounts in}}'
    call = f'GAS_DELIVERED(Gas,{amount},{{State}},"",{{unit amount}})'
    return f"IF(N({{{quantity}}})=0,0,1*{call})"


OFFERED = (
    Column("Offer", prompt="A short name of its own, for example A 3 years", width=18),
    Column("Offered on", "date", "The day of the offer", required=False),
    Column("Price", "price", "The price of the goods as it is offered", low=0),
    Column("Per", prompt="The unit of that price, for example Nm3, 100 scf, kg, L(liq)", width=9),
    Column(
        "Liquid at",
        prompt="What liquid by volume counts: blank for liquid at its boiling point at 1 atm, "
        '"{3 absolute} {unit absolute}" for liquid saturated there',
        required=False,
        width=10,
    ),
    Column(
        "Amounts in",
        choices=("Nm3", "scf", "kg", "lb", "L(liq)", "gal(liq)"),
        prompt="The unit in which this offer counts deliveries, tiers and the least take",
        width=10,
    ),
    Column(
        "Drop", "number", "Mean amount of a delivery, in the offer's unit", low=0, required=False
    ),
    Column(
        "Delivery charge", "money", "Money for each delivery; blank for none", low=0, required=False
    ),
    Column("Rent", "money", "Of tank and equipment, a month", low=0, required=False),
    Column(
        "Tiers are",
        choices=("marginal", "whole"),
        prompt="marginal: a tier's price holds for its part of the amount; whole: for all of it",
        required=False,
    ),
    Column(
        "Least take",
        "number",
        "Amount that a period pays for at least, in the offer's unit",
        low=0,
        required=False,
    ),
    Column(
        "Period",
        choices=("month", "quarter", "year"),
        prompt="Period of tiers and least take; blank for a year",
        required=False,
        width=9,
    ),
    Column(
        "Shortfall price",
        "price",
        "Price of a unit not taken; blank for the price itself",
        low=0,
        required=False,
    ),
    Column(
        "Fixed share",
        "share",
        "Share of the price that follows no index; blank for a price that is fixed",
        low=0,
        high=100,
        required=False,
    ),
    Column("Cap", "price", "Highest price that the index clause allows", low=0, required=False),
    Column(
        "Floor", "price", "Lowest price that it allows, for example 0.14", low=0, required=False
    ),
    Column("Term", "count", "Months that the contract binds", low=0, high=600, required=False),
)


def _charged(column: str) -> str:
    """The sum of an offer's surcharges of one sort."""
    return (
        f'SUMIFS({{Surcharges.{column}}},{{Surcharges.Offer}},{{Offer}},{{Surcharges.Check}},"ok")'
    )


OFFERS = Table(
    "Offers",
    (
        *OFFERED,
        helper("State", '{Liquid at}&""', "text"),
        helper("Of unit", 'GAS_PRICE(1,{Per},{unit amount},Gas,"",{State})', "price"),
        made("Price as used", "price", "{Price}*{Of unit}", result=True),
        made("Drop as used", "amount", _as_gas("Drop"), result=True),
        made("Least take as used", "amount", _as_gas("Least take"), result=True),
        helper(
            "Weights",
            'SUMIFS({Clauses.Weight},{Clauses.Offer},{Offer},{Clauses.Check},"ok")',
            "share",
        ),
        helper("Fixed", 'IF({Fixed share}="",100,{Fixed share})', "share"),
        helper("Goods share", _charged("Of the goods") + "/100"),
        helper("Per delivery", _charged("Per delivery"), "money"),
        helper("Per month", _charged("Per month"), "money"),
        helper("Per unit", _charged("Per unit") + "*{Of unit}", "price"),
        helper("Tier count", "COUNTIFS({Tiers.Offer},{Offer})"),
    ),
    heading="Offers of the gas",
    rows=OFFERS_FIT,
    unique=("Offer",),
    rules=(
        Rule(
            "AND({Drop as used}=0,N({Delivery charge})+{Per delivery}>0)",
            "deliveries are charged: type the Drop",
        ),
        Rule(
            "ABS({Fixed}+{Weights}-100)>0.0001",
            "Fixed share and the weights on Clauses do not add up to 100 %",
        ),
        Rule(f"{{Tier count}}>{TIERS_FIT}", f"more than {TIERS_FIT} tiers"),
        Rule('AND({Cap}<>"",{Cap}<{Price})', "Cap is below the Price"),
        Rule("N({Floor})>{Price}", "Floor is above the Price"),
    ),
)

OF_OFFER = Column("Offer", choices="Offers.Offer", prompt="As on Offers", width=18)


def _of_offer(column: str) -> str:
    return f"INDEX({{Offers.{column}}},MATCH({{Offer}},{{Offers.Offer}},0))"


TIERS = Table(
    "Tiers",
    (
        OF_OFFER,
        Column(
            "From",
            "number",
            "Amount in a period from which the price holds, in the unit of the offer's amounts",
            low=0,
        ),
        Column("Price", "price", "The price from there on, in the offer's unit", low=0),
        helper("Amounts in", _of_offer("Amounts in"), "text"),
        helper("State", _of_offer("State"), "text"),
        helper("Of unit", _of_offer("Of unit"), "price"),
        made("From as used", "amount", _as_gas("From"), result=True),
        made("Price as used", "price", "{Price}*{Of unit}", result=True),
        helper(
            "Place",
            'IF({Check}="ok",{Offer}&"|"&COUNTIFS({Tiers.Offer},{Offer},'
            '{Tiers.From},"<="&{From}),"")',
            "text",
        ),
    ),
    heading="Tiers of the price",
    unique=("Offer", "From"),
)

SURCHARGES = Table(
    "Surcharges",
    (
        OF_OFFER,
        Column("Surcharge", prompt="What it is called, for example energy", width=18),
        Column(
            "Of the goods",
            "share",
            "Share of the goods' cost; below 0 for a rebate",
            low=-100,
            high=1000,
            required=False,
        ),
        Column("Per delivery", "money", "Money for each delivery", low=0, required=False),
        Column("Per month", "money", "Money a month, for example 25", low=0, required=False),
        Column(
            "Per unit",
            "price",
            "Money per unit of the offer's price, for example 0.004",
            low=0,
            required=False,
        ),
    ),
    heading="Surcharges",
    unique=("Offer", "Surcharge"),
    rules=(
        Rule(
            "COUNT({Of the goods},{Per delivery},{Per month},{Per unit})=0",
            "type what it adds: a share, or money",
        ),
    ),
)

CLAUSES = Table(
    "Clauses",
    (
        OF_OFFER,
        Column("Index", choices="Indices.Index", prompt="As on Indices", width=18),
        Column("Weight", "share", "Share of the price that follows it", low=0, high=100),
        Column("Base", "number", "The index that the offered price stands for", low=0.001),
        helper(
            "Unknown",
            'IF(COUNTIFS({Indices.Index},{Index},{Indices.From},"<="&Year_start)=0,1,0)',
            number="whole",
        ),
    ),
    heading="Index clauses: the price follows these, the rest is the offer's fixed share",
    unique=("Offer", "Index"),
)

INDICES = Table(
    "Indices",
    (
        Column("Index", prompt="Its name, for example Electricity", width=18),
        Column("From", "date", "The first day on which it holds, or is expected to"),
        Column("Value", "number", "As published, or as you expect it", low=0.001),
        helper("New", nth_new("Indices", "Index")),
    ),
    heading="Indices, published and expected",
    unique=("Index", "From"),
)
