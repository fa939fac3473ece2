"""Each delivery against the tank's rise, the invoice and the contract."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.delivery_demo import demo
from gasfuncs.workbooks.sheets.parts import (
    ACT,
    FINE,
    READ_HERE,
    TYPE_HERE,
    UNKNOWN,
    WATCH,
    Block,
    Book,
    Case,
    Chart,
    Column,
    Group,
    Input,
    Number,
    Row,
    Rule,
    Sentence,
    Series,
    Sheet,
    Step,
    Table,
    Test,
    helper,
    made,
)
from gasfuncs.workbooks.sheets.standard import (
    GASES,
    NORMAL,
    RECTANGULAR,
    VALID_FROM,
    about,
    conforms,
    first_of_month,
    nth_last,
    nth_new,
    valid_from,
    version_of,
)

SHOWN = 10
"""Deliveries on the chart."""

MONTH = Input(
    "Report_day", "Month of the report", "month", "Any day of the month, for example 1 Oct 2026"
)

SUM_FROM = Input(
    "Sum_from",
    "Running sum from",
    "date",
    "The day from which tickets and tank are summed up, for example 1 Aug 2026",
)

JUDGED_BY = Group(
    "How close it has to be",
    (
        Input(
            "Ticket_tolerance",
            "The ticket's meter or scale",
            "share",
            "95 % of its readings are this close; 2.5 where nothing else is agreed",
            0,
            20,
        ),
        Input(
            "Level_tolerance",
            "The level gauge, of the tank's capacity",
            "share",
            "95 % of its readings are this close; 1 for a gauge in good order",
            0,
            20,
        ),
        Input(
            "Invoice_tolerance",
            "The invoice against ticket and contract",
            "share",
            "Rounding that is let pass; for example 0.5",
            0,
            10,
        ),
    ),
)

TANKS = Table(
    "Tanks",
    (
        Column("Tank", prompt="Its name in this book, for example N2 north"),
        VALID_FROM,
        Column("Gas", choices=GASES, prompt="What it holds"),
        Column("Capacity", "liquid", "All that the inner vessel holds, from its data plate", low=1),
        *valid_from("Tank"),
    ),
    heading="Tanks",
    rows=24,
    unique=("Tank", "Valid from"),
)

CONTRACTS = Table(
    "Contracts",
    (
        Column("Supplier", prompt="As on the ticket"),
        Column("Gas", choices=GASES, prompt="What is supplied"),
        VALID_FROM,
        Column("Price", "price", "The price of the goods as the contract has it", low=0),
        Column("Per", prompt="The unit of that price, for example Nm3, 100 scf, kg, L(liq)"),
        Column(
            "Factor",
            "number",
            "scf that a gallon counts as, where the contract fixes it, for example 93.11",
            low=50,
            high=150,
            required=False,
        ),
        *valid_from("Supplier", "Gas"),
        Column(
            "Price as used",
            "price",
            result=True,
            formula="GAS_PRICE({Price},{Per},{unit amount},{Gas})",
        ),
        helper("New pair", nth_new("Contracts", "Key")),
    ),
    heading="Contracts",
    rows=40,
)

TICKETS = (
    Column("Date", "date", "The day of the delivery"),
    Column("Ticket", prompt="Its number, which makes sure that none is typed twice"),
    Column("Supplier", choices="Contracts.Supplier", prompt="As on Contracts"),
    Column("Tank", choices="Tanks.Tank", prompt="As on Tanks"),
    Column("Quantity", "number", "As printed on the ticket", low=0),
    Column(
        "Unit",
        choices=("L(liq)", "gal(liq)", "kg", "lb", "Nm3", "scf"),
        width=9,
        prompt="The unit printed on the ticket",
    ),
    Column("Level before", "liquid", "Liquid in the tank before filling", low=0, required=False),
    Column(
        "Level after", "liquid", "Liquid in the tank a while after filling", low=0, required=False
    ),
    Column("Pressure before", "gauge", "Tank gauge before filling", low=0, high=40, required=False),
    Column(
        "Pressure after",
        "gauge",
        "Tank gauge when the level after was read",
        low=0,
        high=40,
        required=False,
    ),
    Column(
        "Use during",
        "amount",
        "Gas drawn between the two readings, for example {20 amount}; blank for none",
        low=0,
        required=False,
    ),
    Column("Invoice", prompt="Number of the invoice; blank until it is there", required=False),
    Column(
        "Billed quantity",
        "number",
        "As on the invoice, in the ticket's unit",
        low=0,
        required=False,
    ),
    Column(
        "Billed",
        "money",
        "Money for the goods of this line, without rent and delivery",
        low=0,
        required=False,
    ),
)

SIGNED = {"number": "signed"}
CALL = (
    "GAS_DELIVERY_CHECK({Gas},{As judged},{L before},{L after},{Size},{Bar before},{Bar after},"
    "{Used},"
    ",Ticket_tolerance/100,Level_tolerance/100)"
)
METERED = f"({NORMAL}/{RECTANGULAR})"
"""The half width of a 95 % band over the tolerance of a meter."""


def _if_typed(column: str, unit: str) -> str:
    return f'IF({{{column}}}="","",{{{column} as {unit}}})'


CHECKED = (
    helper("Tank row", version_of("Tanks", "{Tank}", "{Date}")),
    made("Gas", "text", "INDEX({Tanks.Gas},{Tank row})"),
    made("Tank size", "liquid", "INDEX({Tanks.Capacity},{Tank row})"),
    made("Pair", "text", '{Supplier}&", "&{Gas}', width=24),
    helper("Contract row", version_of("Contracts", "{Pair}", "{Date}")),
    helper("Factor", "IFERROR(N(INDEX({Contracts.Factor},{Contract row})),0)"),
    helper("As printed", '{Quantity}&" "&{Unit}', "text"),
    made(
        "By ticket",
        "amount",
        'GAS_DELIVERED({Gas},{As printed},"",IF({Factor}>0,{Factor},""),{unit amount})',
        result=True,
    ),
    helper("As judged", '{By ticket}&" "&{unit amount}', "text"),
    helper("L before", _if_typed("Level before", "L(liq)")),
    helper("L after", _if_typed("Level after", "L(liq)")),
    helper("Size", "{Tank size as L(liq)}"),
    helper("Bar before", _if_typed("Pressure before", "bar(a)")),
    helper("Bar after", _if_typed("Pressure after", "bar(a)")),
    helper("Used", _if_typed("Use during", "Nm3")),
    made("Difference", "amount", f"INDEX({CALL},4,2)", answers="Nm3", **SIGNED),
    made("Band", "amount", f"INDEX({CALL},5,2)", answers="Nm3"),
    made("Tank says", "text", f'IF(ISNUMBER({{Difference}}),INDEX({CALL},6,2),"not judged")'),
    helper("Meter", f"{METERED}*{{By ticket}}*Ticket_tolerance/100", "amount"),
    helper("Readings", "SQRT(MAX(0,{Band}^2-{Meter}^2))", "amount"),
    made("Contract price", "price", "INDEX({Contracts.Price as used},{Contract row})"),
    made("Due", "money", "{By ticket}*{Contract price}"),
    helper("Rounding", "{Due}*Invoice_tolerance/100", "money"),
    made(
        "Billed over",
        "money",
        'IF(AND(ISNUMBER({Billed}),ISNUMBER({Due})),{Billed}-{Due},"")',
        **SIGNED,
    ),
    made(
        "Invoice says",
        "text",
        'IF(NOT(ISNUMBER({Billed over})),"not judged",IF({Billed over}>{Rounding},'
        '"billed too much",IF({Billed over}<-{Rounding},"billed too little","as agreed")))',
    ),
    made(
        "Why",
        "text",
        'IF({Invoice says}="not judged","no invoice or no contract",IF({Invoice says}="as agreed",'
        '"",IF(ABS({Billed quantity}/{Quantity}-1)>Invoice_tolerance/100,"quantity","price")))',
        width=26,
    ),
    helper("In month", "IF(AND({Date}>=Month_start,{Date}<EDATE(Month_start,1)),1,0)"),
    helper("Judged at", 'IF(AND(ISNUMBER({Difference}),{Check}="ok"),{Date}+{row}/100000,"")'),
)

RULES = (
    Rule(
        "ISNUMBER({Level after})*ISNUMBER({Level before})*({Level after}<{Level before})",
        "Level after is below Level before",
    ),
    Rule(
        "MAX({Level after},{Level before})>{Tank size}",
        "a level is above the tank's capacity",
    ),
)

DELIVERIES = Table(
    "Deliveries",
    (*TICKETS, *CHECKED),
    heading="Deliveries",
    rules=RULES,
    log=True,
    rows=500,
    unique=("Supplier", "Ticket"),
)


def _sum(column: str, *conditions: str) -> str:
    """A sum over the deliveries that count."""
    tests = ",".join(("{Deliveries.Check}", '"ok"', *conditions))
    return f"SUMIFS({{Deliveries.{column}}},{tests})"


def _count(*conditions: str) -> str:
    return "COUNTIFS(" + ",".join(("{Deliveries.Check}", '"ok"', *conditions)) + ")"


SINCE = ("{Deliveries.Date}", '">="&{Sum_from}')
OF_PAIR = ("{Deliveries.Pair}", "{Pair}", *SINCE)
JUDGED = ("{Deliveries.Judged at}", '">0"')
IN_MONTH = ("{Deliveries.In month}", "1")


def _of_pair(formula: str) -> str:
    return f'IF({{Pair}}="","",{formula})'


SUPPLIERS = Table(
    "Suppliers",
    (
        helper("Contract", 'IFERROR(SMALL({Contracts.New pair},{row}),"")'),
        made("Pair", "text", 'IF({Contract}="","",INDEX({Contracts.Key},{Contract}))', width=26),
        made("Deliveries", "count", _of_pair(_count(*OF_PAIR))),
        made("Judged", "count", _of_pair(_count(*OF_PAIR, *JUDGED))),
        made("By ticket", "amount", _of_pair(_sum("By ticket", *OF_PAIR, *JUDGED))),
        made("Difference", "amount", _of_pair(_sum("Difference", *OF_PAIR, *JUDGED)), **SIGNED),
        helper("Readings", _of_pair(_sum("Readings", *OF_PAIR, *JUDGED))),
        helper("Meter", _of_pair(_sum("Meter", *OF_PAIR, *JUDGED))),
        made("Band", "amount", _of_pair("SQRT({Readings}^2+{Meter}^2)")),
        helper(
            "At least", _of_pair(conforms("{Difference}", f"{{Band}}/{NORMAL}", "0", "at least"))
        ),
        helper("At most", _of_pair(conforms("{Difference}", f"{{Band}}/{NORMAL}", "0"))),
        made("Billed over", "money", _of_pair(_sum("Billed over", *OF_PAIR)), **SIGNED),
        made(
            "Says",
            "text",
            'IF(N({Judged})=0,"",IF({At least}="no","short",IF({At most}="no","over","agrees")))',
        ),
    ),
    heading="Running sum by supplier and gas, of the deliveries that could be judged",
    rows=8,
)


def _share(column: str) -> str:
    """A delivery's number in per cent of its ticket."""
    by_ticket = "INDEX({Deliveries.By ticket},{Row})"
    return f"IFERROR(100*INDEX({{Deliveries.{column}}},{{Row}})/{by_ticket},NA())"


RECENT = Table(
    "Recent",
    (
        helper("Row", nth_last("Deliveries", "Judged at", SHOWN), number="whole"),
        made("Date", "date", 'IFERROR(INDEX({Deliveries.Date},{Row}),"")'),
        made("Ticket", "text", 'IFERROR(INDEX({Deliveries.Ticket},{Row})&"","")'),
        made("Gas", "text", 'IFERROR(INDEX({Deliveries.Gas},{Row}),"")'),
        made("Difference", "share", _share("Difference")),
        made("Band", "share", _share("Band")),
        helper("Low", "{Difference}-{Band}"),
        helper("High", "{Difference}+{Band}"),
    ),
    heading=f"The last {SHOWN} deliveries that could be judged, in % of the ticket",
    rows=SHOWN,
)

CHART = Chart(
    "line",
    "Tank against ticket, % of the ticket",
    "Ticket",
    "% of the ticket",
    "Difference between the tank's rise and the ticket for the last deliveries, with the 95 % band "
    "of each: a band that does not reach zero tells a wrong ticket.",
    (
        Series(
            "Tank less ticket",
            "Recent.Difference",
            "Recent.Ticket",
            band="Recent.Band",
            joined=False,
        ),
        Series("low end", "Recent.Low", "Recent.Ticket", shown=False),
        Series("high end", "Recent.High", "Recent.Ticket", shown=False),
    ),
    y={"num_format": '0" %"'},
    x={"num_font": {"rotation": -45, "size": 8}},
)

TOTALS = Block(
    "The month",
    (
        Row("Month_start", "Month", first_of_month("{Report_day}"), "month"),
        Row("Month_all", "Deliveries in the month", _count(*IN_MONTH), "count"),
        Row("Month_judged", "of them judged by the tank", _count(*IN_MONTH, *JUDGED), "count"),
        Row(
            "Month_short",
            "of these short",
            _count(*IN_MONTH, "{Deliveries.Tank says}", '"short"'),
            "count",
        ),
        Row(
            "Month_agree",
            "of these agreeing with their ticket",
            _count(*IN_MONTH, "{Deliveries.Tank says}", '"agrees"'),
            "count",
        ),
        Row("Month_ticket", "By ticket", _sum("By ticket", *IN_MONTH), "amount"),
        Row(
            "Month_ticket_band",
            "its 95 % band, half width, all tickets off alike",
            "{Ticket_tolerance}/100*{Month_ticket}",
            "amount",
        ),
        Row(
            "Month_difference",
            "Tank less ticket, of those judged",
            _sum("Difference", *IN_MONTH, *JUDGED),
            "amount",
            number="signed",
        ),
        Row("Month_band", "its 95 % band, half width", _sum("Band", *IN_MONTH, *JUDGED), "amount"),
        Row(
            "Month_over",
            "Billed over contract and ticket",
            _sum("Billed over", *IN_MONTH),
            "money",
            number="signed",
        ),
        Row(
            "Month_odd",
            "Invoices that are not as agreed",
            _count(*IN_MONTH, "{Deliveries.Invoice says}", '"billed too *"'),
            "count",
        ),
        Row(
            "Pairs_short",
            "Suppliers and gases that are short in sum",
            'COUNTIF({Suppliers.Says},"short")',
            "count",
        ),
        Row(
            "Short_pair",
            "the first of them",
            'IF({Pairs_short}=0,0,MATCH("short",{Suppliers.Says},0))',
            "count",
        ),
        Row(
            "Short_who",
            "its name",
            'IF({Short_pair}=0,"none",INDEX({Suppliers.Pair},{Short_pair}))',
        ),
        Row(
            "Short_by",
            "short by",
            "IF({Short_pair}=0,0,-INDEX({Suppliers.Difference},{Short_pair}))",
            "amount",
        ),
        Row(
            "Short_band",
            "its band",
            "IF({Short_pair}=0,0,INDEX({Suppliers.Band},{Short_pair}))",
            "amount",
        ),
    ),
)

TANK_WORDS = Sentence(
    "Tank_words",
    (
        Case(
            "{Pairs_short}>0",
            "{Short_who}: the tank took {Short_by ± Short_band} {unit amount} less than "
            "ticketed since {Sum_from:date}.",
        ),
        Case(
            "{Month_short}>0",
            "{Month_short} of the {Month_judged} deliveries that could be judged came "
            "short; in the running sum tickets and tank still agree.",
        ),
        Case(
            "{Month_judged}=0",
            "No delivery of the month could be judged: type level and pressure before and after "
            "filling.",
        ),
        Case(
            "{Month_agree}=0",
            "The readings of the month are too coarse to tell a short delivery: read level and "
            "pressure closer, just before filling and after the tank has come to rest.",
        ),
        Case(
            "",
            "{Month_agree} of {Month_all} deliveries agree with the tank, none is short.",
        ),
    ),
)

PRICE_WORDS = Sentence(
    "Price_words",
    (
        Case(
            "{Month_odd}>0",
            "{Month_odd} invoice line(s) are not as agreed, {Currency} "
            "{Month_over:#,##0} over in sum.",
        ),
        Case("", "No invoice that is there differs from ticket and contract."),
    ),
)

BOTH = "{Tank_words} {Price_words}"
VERDICT = Sentence(
    "Answer",
    (
        Case(
            "{Month_all}=0", "There is no delivery in {Month_start:mmmm yyyy} on the log.", UNKNOWN
        ),
        Case("{Pairs_short}>0", BOTH, ACT, firm=True),
        Case("OR({Month_short}>0,{Month_odd}>0)", BOTH, WATCH),
        Case("{Month_agree}=0", BOTH, UNKNOWN),
        Case("", BOTH, FINE),
    ),
)

BOOK = Book(
    name="delivery_check",
    title="Delivery check",
    question="Did the gas on each ticket arrive in the tank, and was it billed as agreed?",
    functions=(
        "GAS_DELIVERED",
        "GAS_DELIVERY_CHECK",
        "GAS_CONFORMS",
        "GAS_PRICE",
        "GAS_SITE_PRESSURE",
    ),
    groups=(about(MONTH, SUM_FROM), JUDGED_BY),
    sheets=(
        Sheet("Tanks", "Every tank, with what it holds and how much.", TYPE_HERE, (TANKS,)),
        Sheet(
            "Contracts",
            "What each supplier may bill; a new price is a new row.",
            TYPE_HERE,
            (CONTRACTS,),
        ),
        Sheet(
            "Deliveries",
            "One row a delivery: ticket, tank readings, invoice.",
            TYPE_HERE,
            (DELIVERIES,),
        ),
        Sheet("Month", "The month in numbers.", READ_HERE, (TOTALS,)),
        Sheet(
            "Suppliers",
            "Small differences that all point one way add up.",
            READ_HERE,
            (SUPPLIERS, RECENT),
        ),
    ),
    verdict=VERDICT,
    sentences=(TANK_WORDS, PRICE_WORDS),
    numbers=(
        Number("Delivered by ticket", "Month_ticket", "Month_ticket_band"),
        Number("Tank less ticket", "Month_difference", "Month_band", number="signed"),
        Number("Short in sum: {Short_who}", "Short_by", "Short_band"),
        Number("Billed over the contract", "Month_over", kind="money", number="signed"),
    ),
    chart=CHART,
    steps=(
        Step("{Pairs_short}>0", "Claim the missing gas of {Short_who}", "Suppliers"),
        Step("{Month_odd}>0", "Ask for a corrected invoice: {Month_odd} line(s)", "Deliveries"),
        Step(
            "{Month_judged}<{Month_all}",
            "Read the tank before and after every delivery: "
            "{Month_judged} of {Month_all} could be judged",
            "Deliveries",
        ),
        Step("", "Keep the log: the next delivery goes into the next free row", "Deliveries"),
    ),
    tests=(
        Test(
            "The suppliers' sums are the sum of the log",
            "ABS(SUM({Suppliers.By ticket})-" + _sum("By ticket", *JUDGED, *SINCE) + ")>0.5",
            "a supplier has no contract for its gas, or there are more than 8 of supplier and gas",
            "Suppliers",
        ),
    ),
    demo=demo,
    others=(
        Row("Other_month", "Month", "Month_start", "month"),
        Row(
            "Other_short",
            "Tank less ticket",
            "Month_difference",
            "amount",
            "Monthly gas use: what of the unaccounted gas the tickets explain",
            number="signed",
        ),
        Row("Other_band", "its 95 % band, half width", "Month_band", "amount", "there"),
    ),
    period="{Month_start:mmmm yyyy}",
)
