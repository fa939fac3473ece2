"""Supply offers: what each costs, by part, by amount, with a furnace more or less."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.offers_terms import costs
from gasfuncs.workbooks.sheets.offers_typed import MONTHS, OFFERS_FIT
from gasfuncs.workbooks.sheets.parts import Block, Chart, Column, Row, Series, Table, helper, made
from gasfuncs.workbooks.sheets.standard import NORMAL, conforms, first_of_month

FURNACES_FIT, FURNACES_SHOWN = 40, 10
LOWEST, STEP, VOLUMES_SHOWN = 20, 5, 37
"""Per cent of the planned amount: the first amount, the step; how many."""

RANKS = range(1, 6)
"""The cheapest, which are drawn."""

ALL_MONTHS = f"{{Month 1:Month {MONTHS}}}"
ALL_OFFERS = f"Offer 1:Offer {OFFERS_FIT}"

BY_FURNACE = Table(
    "ByFurnace",
    (
        made(
            "Furnace",
            "text",
            'IFERROR(INDEX({Loads.Furnace},SMALL({Loads.New furnace},{row})),"")',
        ),
        *(
            made(
                f"Month {number}",
                "amount",
                f"SUMIFS({{Loads.Gas {number}}},{{Loads.Furnace}},{{Furnace}},"
                '{Loads.Check},"ok")',
            )
            for number in range(1, MONTHS + 1)
        ),
        made("Gas of the year", "amount", f"SUM({ALL_MONTHS})"),
        helper("Order", 'IF({Furnace}="","",{Gas of the year}-{row}/1000000)'),
    ),
    heading="Gas by furnace and month",
    rows=FURNACES_FIT,
)

YEAR = Table(
    "Year",
    (
        made("Month", "month", "EDATE(Year_start,{row}-1)"),
        made("By loads", "amount", f"SUM(INDEX({{ByFurnace.Month 1:Month {MONTHS}}},0,{{row}}))"),
        made("Steady loss", "amount", "Loss_month+0"),
        made("Gas to buy", "amount", "{By loads}+{Steady loss}"),
    ),
    heading="The year by month",
    rows=MONTHS,
)

PARTS = Table(
    "Parts",
    (
        made(
            "Part",
            "text",
            'CHOOSE({row},"Goods","Deliveries","Rent","Surcharges","Shortfall","Total")',
        ),
        *costs("{Year.Gas to buy}", "{row}+2"),
    ),
    heading="Cost of the year by part",
    rows=6,
)


def _months(gas: str) -> tuple[Column, ...]:
    """What is bought in each month; `gas` has a place for the month's number."""
    return tuple(
        helper(f"Month {number}", gas.replace("?", str(number))) for number in range(1, MONTHS + 1)
    )


CASES = Table(
    "Cases",
    (
        made("Share", "share", "CHOOSE({row},100,100-Plan_off,100+Plan_off,0)"),
        made("Gas to buy", "amount", f"SUM({ALL_MONTHS})"),
        *costs(ALL_MONTHS),
        *_months("INDEX({Year.Gas to buy},?)*{Share}/100"),
    ),
    heading="Cost with the amount as planned, at its low and its high end, and with nothing taken",
    rows=4,
)

VOLUMES = Table(
    "Volumes",
    (
        made("Share", "share", f"{LOWEST}+{STEP}*({{row}}-1)", number="whole"),
        made("Gas to buy", "amount", f"SUM({ALL_MONTHS})"),
        *costs(ALL_MONTHS),
        made("Cheapest", "text", 'IFERROR(INDEX({Offers.Offer},{Best}),"")', width=18),
        helper("Least", f'MINIFS({{{ALL_OFFERS}}},{{{ALL_OFFERS}}},">=0")', "money"),
        helper("Best", f"MATCH({{Least}},{{{ALL_OFFERS}}},0)", number="whole"),
        helper("Before", "IF({row}=1,0,INDEX({Volumes.Best},MAX(1,{row}-1)))", number="whole"),
        helper("Start", 'IF({Best}={Before},"",{row})', number="whole"),
        helper(
            "Lead before",
            f"IF({{row}}=1,0,INDEX({{Volumes.{ALL_OFFERS}}},{{row}}-1,{{Best}})"
            f"-INDEX({{Volumes.{ALL_OFFERS}}},{{row}}-1,{{Before}}))",
            "money",
        ),
        helper(
            "Lead now",
            f"IF({{row}}=1,0,INDEX({{{ALL_OFFERS}}},1,{{Before}})-{{Least}})",
            "money",
        ),
        helper(
            "Even at",
            "IF({row}=1,{Gas to buy},{Gas to buy}-({Gas to buy}-INDEX({Volumes.Gas to buy},"
            "MAX(1,{row}-1)))*{Lead now}/({Lead now}+{Lead before}))",
            "amount",
        ),
        *(
            helper(
                f"Rank {rank}",
                f"INDEX({{{ALL_OFFERS}}},1,INDEX({{Compare.Number}},{rank}))",
                "money",
            )
            for rank in RANKS
        ),
        *_months("INDEX({Year.Gas to buy},?)*{Share}/100"),
    ),
    heading="Cost of the year by the amount bought, all months alike more or less",
    rows=VOLUMES_SHOWN,
)


def _nth_range(column: str, number: str = "{row}") -> str:
    return f"INDEX({{Volumes.{column}}},SMALL({{Volumes.Start}},{number}))"


RANGES = Table(
    "Ranges",
    (
        made("From", "amount", f'IFERROR({_nth_range("Even at")},"")', width=14),
        made(
            "To",
            "amount",
            f'IF({{From}}="","",IFERROR({_nth_range("Even at", "{row}+1")},'
            "MAX({Volumes.Gas to buy})))",
            width=14,
        ),
        made("Cheapest", "text", f'IFERROR({_nth_range("Cheapest")},"")', width=24),
        made(
            "In effect there",
            "price",
            f'IF({{From}}="","",{_nth_range("Least")}/{_nth_range("Gas to buy")})',
            width=14,
        ),
    ),
    heading=f"Which offer is the cheapest in which range, found in steps of {STEP} % of the plan",
    rows=8,
)


def _in_force() -> str:
    number = "INDEX({Compare.Number},Force_row)"
    return f'IF(OR({{At}}="",Force_row=0),"",INDEX({{{ALL_OFFERS}}},1,{number}))'


FURNACE_CASES = Table(
    "Furnaces",
    (
        made("Furnace", "text", 'IF({At}="","",INDEX({ByFurnace.Furnace},{At}))', width=14),
        made("What if", "text", 'IF({At}="","",IF({More}=1,"one more","without it"))', width=12),
        made("Gas to buy", "amount", f'IF({{At}}="","",SUM({ALL_MONTHS}))'),
        made("Cheapest", "text", 'IF({At}="","",INDEX({Offers.Offer},{Best}))', width=20),
        made("Its cost", "money", 'IF({At}="","",{Least})', number="whole"),
        made("Change", "money", 'IF({At}="","",{Least}-First_cost)', number="signed"),
        made("In effect", "price", 'IF({At}="","",{Least}/{Gas to buy})'),
        made("Contract in force", "money", _in_force(), number="whole", width=14),
        *costs(ALL_MONTHS, unless='{At}=""', hidden=True),
        helper("More", "IF(MOD({row},2)=0,1,-1)", number="whole"),
        helper("Largest", "LARGE({ByFurnace.Order},INT(({row}+1)/2))"),
        helper("At", 'IFERROR(MATCH({Largest},{ByFurnace.Order},0),"")', number="whole"),
        helper("Least", f'MINIFS({{{ALL_OFFERS}}},{{{ALL_OFFERS}}},">=0")', "money"),
        helper("Best", f"MATCH({{Least}},{{{ALL_OFFERS}}},0)", number="whole"),
        helper("Other", 'IF({At}="",0,IF({Best}=First_number,0,1))', number="whole"),
        *_months(
            'IF({At}="",0,MAX(0,INDEX({Year.Gas to buy},?)+{More}*INDEX({ByFurnace.Month ?},{At})))'
        ),
    ),
    heading=f"A furnace less, or one more like it: the {FURNACES_SHOWN} that use most",
    rows=2 * FURNACES_SHOWN,
)


def _of_offer(row: int, table: str = "Parts") -> str:
    return f"INDEX({{{table}.{ALL_OFFERS}}},{row},{{Number}})"


def _if_offer(formula: str) -> str:
    return f'IF({{Number}}="","",{formula})'


def _part(name: str, row: int) -> Column:
    return made(name, "money", _if_offer(_of_offer(row)), number="whole")


def _spread(row: int) -> str:
    """How far the difference to the first offer moves at an end of the planned amount."""
    own, first = _of_offer(row, "Cases"), f"INDEX({{Cases.{ALL_OFFERS}}},{row},First_number)"
    return f"ABS({own}-{first}-{{Dearer by}})"


ORDER = Table(
    "Order",
    (
        made("Total", "money", f'IFERROR(INDEX({{Parts.{ALL_OFFERS}}},6,{{row}}),"")'),
        made("Rank by", "number", 'IF(ISNUMBER({Total}),{Total}+{row}/1000000,"")'),
    ),
    heading="Offers in their order; of two that cost the same both stay",
    rows=OFFERS_FIT,
)

COMPARE = Table(
    "Compare",
    (
        made("Offer", "text", _if_offer("INDEX({Offers.Offer},{Number})"), width=20),
        _part("Goods", 1),
        _part("Deliveries", 2),
        _part("Rent", 3),
        _part("Surcharges", 4),
        _part("Shortfall", 5),
        _part("Total", 6),
        made(
            "Band",
            "money",
            _if_offer(f"ABS({_of_offer(3, 'Cases')}-{_of_offer(2, 'Cases')})/2"),
            number="whole",
        ),
        made("In effect", "price", _if_offer("{Total}/Year_gas")),
        made("Dearer by", "money", _if_offer("{Total}-First_cost"), number="whole"),
        made(
            "Its band",
            "money",
            _if_offer(f"MAX({_spread(2)},{_spread(3)})"),
            number="whole",
        ),
        helper("Conforms", _if_offer(conforms("{Dearer by}", f"{{Its band}}/{NORMAL}", "0"))),
        made(
            "Says",
            "text",
            _if_offer('IF({row}=1,"cheapest",IF({Conforms}="no","dearer","cannot tell"))'),
            width=13,
        ),
        made(
            "Bound to pay",
            "money",
            _if_offer(f"{_of_offer(4, 'Cases')}*INDEX({{Offers.Term}},{{Number}})/12"),
            number="whole",
        ),
        helper(
            "Number",
            'IFERROR(MATCH(SMALL({Order.Rank by},{row}),{Order.Rank by},0),"")',
            number="whole",
        ),
    ),
    heading="Cost of the year, cheapest first; bands are of the planned amount alone",
    rows=OFFERS_FIT,
)

PARTS_CHART = Chart(
    "column",
    "Cost of the year by part, of the six cheapest",
    "Offer",
    "Cost of the year",
    "Cost of the year of each offer, cheapest first, stacked by goods, deliveries, rent, "
    "surcharges and shortfall.",
    tuple(
        Series(part.lower(), f"Compare.{part}", "Compare.Offer")
        for part in ("Goods", "Deliveries", "Rent", "Surcharges", "Shortfall")
    ),
    subtype="stacked",
    y={"num_format": "#,##0"},
)

VOLUME_CHART = Chart(
    "scatter",
    "Cost of the year against the amount bought, of the five that are cheapest as planned",
    "Gas bought in the year, {unit amount}",
    "Cost of the year",
    "Cost of the year of the five cheapest offers against the amount bought in it; where two lines "
    "cross, another offer becomes the cheapest.",
    tuple(
        Series(f"=Rank_{rank}", f"Volumes.Rank {rank}", "Volumes.Gas to buy", dots=False)
        for rank in RANKS
    ),
    subtype="straight",
    x={"num_format": "#,##0", "min": 0},
    y={"num_format": "#,##0"},
)


def _from_compare(column: str, row: str | int) -> str:
    return f"INDEX({{Compare.{column}}},{row})"


def _about(amount: str) -> str:
    """To three digits."""
    return f"ROUND({amount},2-INT(LOG10({amount})))"


SUMMARY = Block(
    "For Start",
    (
        Row("Year_start", "First month", first_of_month("First_month"), "month"),
        Row("Year_gas", "Gas to buy in the year", "SUM({Year.Gas to buy})", "amount"),
        Row("Year_band", "its 95 % band, half width", "{Year_gas}*Plan_off/100", "amount"),
        Row("Offers_used", "Offers that can be compared", "COUNT({Compare.Number})", "count"),
        Row(
            "First_number", "The cheapest, its row on Offers", "INDEX({Compare.Number},1)", "count"
        ),
        Row("First_name", "its name", _from_compare("Offer", "1") + '&""'),
        Row("First_cost", "its cost of the year", "SMALL({Order.Total},1)", "money"),
        Row("First_band", "its band", _from_compare("Band", "1"), "money"),
        Row("First_effect", "in effect", _from_compare("In effect", "1"), "price"),
        Row(
            "Effect_band",
            "its band",
            "ABS(INDEX({Cases.Offer 1:Offer 8},2,{First_number})/INDEX({Cases.Gas to buy},2)"
            "-INDEX({Cases.Offer 1:Offer 8},3,{First_number})/INDEX({Cases.Gas to buy},3))/2",
            "price",
        ),
        Row(
            "Doubt_row",
            "The first that may be cheaper yet",
            'IFERROR(MATCH("cannot tell",{Compare.Says},0),0)',
            "count",
        ),
        Row("Doubt_name", "its name", _from_compare("Offer", "{Doubt_row}") + '&""'),
        Row("Doubt_by", "dearer by", _from_compare("Dearer by", "{Doubt_row}"), "money"),
        Row("Doubt_band", "its band", _from_compare("Its band", "{Doubt_row}"), "money"),
        Row(
            "Force_row",
            "The contract in force, its place in the order",
            'IF(In_force="",0,IFERROR(MATCH(In_force,{Compare.Offer},0),0))',
            "count",
        ),
        Row(
            "Against",
            "Compared with: the contract in force, or else the next",
            "IF({Force_row}>1,{Force_row},2)",
            "count",
        ),
        Row("Against_name", "its name", _from_compare("Offer", "{Against}") + '&""'),
        Row(
            "Saved", "the cheapest costs less by", _from_compare("Dearer by", "{Against}"), "money"
        ),
        Row("Saved_band", "its band", _from_compare("Its band", "{Against}"), "money"),
        Row("Saved_says", "is", _from_compare("Says", "{Against}") + '&""'),
        Row("Range_row", "The range of the plan", "MATCH({Year_gas},{Ranges.From},1)", "count"),
        Row("Range_from", "from, about", _about("INDEX({Ranges.From},{Range_row})"), "amount"),
        Row("Range_to", "to, about", _about("INDEX({Ranges.To},{Range_row})"), "amount"),
        *(
            Row(f"Rank_{rank}", f"Place {rank}", f'IFERROR({_from_compare("Offer", rank)},"")&" "')
            for rank in RANKS
        ),
        Row("Turning", "Furnace cases with another cheapest", "SUM({Furnaces.Other})", "count"),
        Row("Turn_row", "the first of them", "IFERROR(MATCH(1,{Furnaces.Other},0),0)", "count"),
        Row("Turn_furnace", "its furnace", 'INDEX({Furnaces.Furnace},{Turn_row})&""'),
        Row("Turn_what", "what if", 'INDEX({Furnaces.What if},{Turn_row})&""'),
        Row("Turn_name", "the cheapest then", 'INDEX({Furnaces.Cheapest},{Turn_row})&""'),
        Row(
            "More_cost",
            "Of the cheapest, one unit more costs",
            "(INDEX({Cases.Offer 1:Offer 8},3,{First_number})"
            "-INDEX({Cases.Offer 1:Offer 8},2,{First_number}))"
            "/(INDEX({Cases.Gas to buy},3)-INDEX({Cases.Gas to buy},2))",
            "price",
        ),
    ),
)
