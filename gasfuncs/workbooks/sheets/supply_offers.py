"""Offers of one gas over the plant's year: cost, price in effect, and where each is cheapest."""

from __future__ import annotations

from dataclasses import replace

from gasfuncs.workbooks.sheets.offers_costs import (
    BY_FURNACE,
    CASES,
    COMPARE,
    FURNACE_CASES,
    FURNACES_FIT,
    ORDER,
    PARTS,
    PARTS_CHART,
    RANGES,
    SUMMARY,
    VOLUME_CHART,
    VOLUMES,
    YEAR,
)
from gasfuncs.workbooks.sheets.offers_demo import demo
from gasfuncs.workbooks.sheets.offers_terms import CHARGED, FACTORS, TERMS, TIER_GRID, WEIGHTS
from gasfuncs.workbooks.sheets.offers_typed import (
    CLAUSES,
    INDICES,
    INDICES_FIT,
    LOADS,
    OFFERS,
    SURCHARGES,
    TIERS,
)
from gasfuncs.workbooks.sheets.parts import (
    ACT,
    BACKGROUND,
    FINE,
    READ_HERE,
    TYPE_HERE,
    UNKNOWN,
    Book,
    Case,
    Group,
    Input,
    Number,
    Row,
    Sentence,
    Sheet,
    Step,
    Test,
)
from gasfuncs.workbooks.sheets.standard import GASES, about

YEAR_INPUTS = Group(
    "The year",
    (
        Input(
            "Gas",
            "Gas",
            "text",
            "The gas of all offers; another gas is another book",
            choices=GASES,
        ),
        Input(
            "First_month",
            "First month of the year",
            "month",
            "Any day of the month in which a new contract would start, for example 1 Jan 2027",
        ),
        Input(
            "In_force",
            "Contract in force",
            "text",
            "Its name on Offers, where it stands among the offers; blank for none",
            choices="Offers.Offer",
            required=False,
        ),
        Input(
            "Plan_off",
            "How sure the year's amount is",
            "share",
            "The year will be within so many per cent of the plan, 19 times in 20; for example 10",
            0.5,
            80,
        ),
        Input(
            "Loss_month",
            "Steady loss a month",
            "amount",
            "Leaks and evaporation, which do not go with the loads: Monthly gas use; 0 for none",
            0,
        ),
    ),
)

TYPED = (
    Sheet("Loads", "What the plant will run in the year.", TYPE_HERE, (LOADS,)),
    Sheet(
        "Offers",
        "Every offer in its own unit and basis; two offers of one day are two rows.",
        TYPE_HERE,
        (OFFERS,),
    ),
    Sheet(
        "Tiers",
        "Prices from an amount on; below the first tier the offer's price holds.",
        TYPE_HERE,
        (TIERS,),
    ),
    Sheet("Surcharges", "What is added to the goods.", TYPE_HERE, (SURCHARGES,)),
    Sheet("Clauses", "Which indices a price follows.", TYPE_HERE, (CLAUSES,)),
    Sheet("Indices", "The indices that clauses name.", TYPE_HERE, (INDICES,)),
)

READ = (
    Sheet("Compare", "What a year costs by each offer.", READ_HERE, (COMPARE,)),
    Sheet("Amounts", "What more or less gas does.", READ_HERE, (RANGES, VOLUME_CHART)),
    Sheet("Furnaces", "What a furnace more or less does.", READ_HERE, (FURNACE_CASES,)),
)

BEHIND = (
    Sheet("Year", "The year's gas by month and furnace.", BACKGROUND, (YEAR, BY_FURNACE)),
    Sheet("Numbers", "Numbers that stand for themselves.", BACKGROUND, (SUMMARY,)),
    Sheet(
        "Costs",
        "What GAS_CONTRACT_COST answers.",
        BACKGROUND,
        (PARTS, CASES, ORDER, VOLUMES),
    ),
    Sheet("Prices by month", "What the indices do.", BACKGROUND, (FACTORS, WEIGHTS)),
    Sheet(
        "Terms", "Every offer in the units of this book.", BACKGROUND, (TIER_GRID, CHARGED, *TERMS)
    ),
)

MORE = " {Range_words} {Turn_words}"
VERDICT = Sentence(
    "Answer",
    (
        Case("{Offers_used}=0", "No offer can be calculated: see the Check on Offers.", UNKNOWN),
        Case("{Year_gas}=0", "No gas is planned: type the loads of the year on Loads.", UNKNOWN),
        Case(
            "{Offers_used}=1",
            "Only one offer can be compared, {First_name}: {Currency} {First_cost:#,##0} for the "
            "year. Type the others on Offers.",
            UNKNOWN,
        ),
        Case(
            'AND({Force_row}>1,{Saved_says}="dearer")',
            "{First_name} costs {Saved_told} less a year than the contract in force, "
            "{Against_name}." + MORE + " {Doubt_words}",
            ACT,
        ),
        Case(
            "{Doubt_row}>0",
            "Cannot tell whether {First_name} or {Doubt_name} is cheaper: {Doubt_told} a year "
            "between them. Plan the loads closer." + MORE,
            UNKNOWN,
        ),
        Case(
            "",
            "{First_name} is the cheapest: {First_told} for the year, {Saved_told} less than "
            "{Against_name}." + MORE,
            FINE,
        ),
    ),
)

RANGE_WORDS = Sentence(
    "Range_words",
    (
        Case(
            "ISNUMBER({Range_row})",
            "It is the cheapest from {Range_from:#,##0} to {Range_to:#,##0} {unit amount} a year.",
        ),
        Case("", " "),
    ),
)

TURN_WORDS = Sentence(
    "Turn_words",
    (
        Case("{Turn_row}=0", "A furnace more or less changes nothing in that."),
        Case(
            '{Turn_what}="one more"',
            "With one more furnace like {Turn_furnace} it is {Turn_name}.",
        ),
        Case("", "Without {Turn_furnace} it is {Turn_name}."),
    ),
)

DOUBT_WORDS = Sentence(
    "Doubt_words",
    (
        Case("{Doubt_row}>0", "{Doubt_name} may be cheaper yet: the plan cannot tell."),
        Case("", " "),
    ),
)


def _told(name: str, value: str, band: str) -> Sentence:
    """Money with its band, as a part of other sentences."""
    says = f"{{Currency}} {{{value} ± {band}}}"
    return Sentence(name, (Case(f"ISNUMBER({{{value}}})", says), Case("", "nothing known")))


TOLD = (
    _told("First_told", "First_cost", "First_band"),
    _told("Saved_told", "Saved", "Saved_band"),
    _told("Doubt_told", "Doubt_by", "Doubt_band"),
)

BOOK = Book(
    name="supply_offers",
    title="Supply offers",
    question="What does a year's gas cost by each offer, and which is the cheapest in which range?",
    functions=(
        "GAS_PRICE",
        "GAS_DELIVERED",
        "GAS_INDEXED_PRICE",
        "GAS_CONTRACT_COST",
        "GAS_CONFORMS",
        "GAS_SITE_PRESSURE",
    ),
    groups=(about(), YEAR_INPUTS),
    sheets=(*READ, *TYPED, *BEHIND),
    verdict=VERDICT,
    sentences=(*TOLD, RANGE_WORDS, TURN_WORDS, DOUBT_WORDS),
    numbers=(
        Number("{First_name}: cost of the year", "First_cost", "First_band", "money", "whole"),
        Number("In effect, for a {unit amount}", "First_effect", "Effect_band", "money", "used"),
        Number("Less than {Against_name}", "Saved", "Saved_band", "money", "whole"),
        Number("Gas to buy in the year", "Year_gas", "Year_band"),
    ),
    chart=replace(PARTS_CHART, only=slice(6)),
    steps=(
        Step("{Doubt_row}>0", "Plan the loads closer: {Doubt_name} may be cheaper", "Loads"),
        Step("{Offers_used}<2", "Ask for another offer and type it", "Offers"),
        Step("{Turning}>0", "See what a furnace more or less changes", "Furnaces"),
        Step("", "See where each offer is the cheapest", "Compare"),
        Step("", "Check the terms that no price tells: notice, term, who maintains", "Offers"),
    ),
    tests=(
        Test(
            "The months are the year's loads and losses",
            'ABS({Year_gas}-SUMIFS({Loads.Gas of the year},{Loads.Check},"ok")-12*Loss_month)'
            ">0.5+1E-9*{Year_gas}",
            f"the months add up to {{Year_gas:#,##0}}: there is room for {FURNACES_FIT} furnaces",
            "Year",
        ),
        Test(
            "Every offer has its cost",
            'COUNTIF({Offers.Check},"ok")<>{Offers_used}',
            "an offer that is ok has no cost: see its tiers, its clause and the indices",
            "Offers",
        ),
        Test(
            "The parts are the totals",
            "ABS(SUM({Compare.Goods:Shortfall})-SUM({Compare.Total}))>0.5",
            "the parts of the offers do not add up to their totals",
            "Compare",
        ),
        Test(
            "The contract in force is among the offers",
            'AND(In_force<>"",{Force_row}=0)',
            "the contract in force is no offer that can be compared",
            "Offers",
        ),
        Test(
            "Every index has a value in the first month",
            "SUM({Clauses.Unknown})>0",
            "an index of a clause has no value from a day up to the first month",
            "Indices",
        ),
        Test(
            "The indices fit in",
            f"COUNT({{Indices.New}})>{INDICES_FIT}",
            f"there is room for {INDICES_FIT} indices",
            "Indices",
        ),
        Test(
            "The plan lies in a range",
            "NOT(ISNUMBER({Range_row}))",
            "the cheapest offer by amount cannot be told",
            "Compare",
        ),
    ),
    others=(
        Row("Other_gas", "Gas", 'Gas&""', "text", "Argon or nitrogen, sheet Prices: Gas"),
        Row("Other_offer", "The cheapest offer", "{First_name}", "text", "there: Offer"),
        Row("Other_from", "From", "{Year_start}", "date", "there: Valid from"),
        Row(
            "Other_effect",
            "Price in effect by it, all charges in it",
            "{First_effect}",
            "price",
            "there: Price; Monthly gas use",
        ),
        Row("Other_per", "for a", "{unit amount}", "text", "there: Per"),
        Row("Other_band", "its 95 % band", "{Effect_band}", "price", "there: Price band"),
        Row(
            "Other_more",
            "One unit more costs, by the cheapest offer",
            "{More_cost}",
            "price",
            "Argon or nitrogen: what a load more costs",
        ),
    ),
    demo=demo,
    period="year from {Year_start:mmmm yyyy}, {Gas}",
)
