"""Monthly gas use: the balance of every month and gas, with its band and its verdict."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.monthly_log import IN_YEAR, MOST_GASES
from gasfuncs.workbooks.sheets.parts import (
    Block,
    Case,
    Chart,
    Row,
    Series,
    Table,
    helper,
    made,
    words,
)
from gasfuncs.workbooks.sheets.standard import NORMAL, RECTANGULAR, conforms, version_of

MONTHS_BACK, MOST_TANKS = 12, 8
LAST = (MONTHS_BACK - 1) * MOST_GASES
"""Rows of the balance before the month of the report."""

STOCKS = Table(
    "Stocks",
    (
        helper("Number", f"MOD({{row}}-1,{MOST_TANKS})+1", number="whole"),
        helper("End", f"INT(({{row}}-1)/{MOST_TANKS})", number="whole"),
        made(
            "Day",
            "date",
            f"IF({{End}}={MONTHS_BACK},Report_end,EDATE(Month_start,{{End}}-{MONTHS_BACK - 1}))",
        ),
        helper("Tank row", 'IFERROR(SMALL({Tanks.New tank},{Number}),"")'),
        made("Tank", "text", 'IF({Tank row}="","",INDEX({Tanks.Tank},{Tank row}))'),
        made("Gas", "text", 'IF({Tank row}="","",INDEX({Tanks.Gas},{Tank row}))'),
        made(
            "Read on",
            "date",
            'IF({Tank}="",0,MAXIFS({Readings.Date},{Readings.Tank},{Tank},{Readings.Check},"ok",'
            '{Readings.Date},"<"&{Day}+1))',
        ),
        made(
            "Stock",
            "amount",
            'IF({Read on}=0,"",AVERAGEIFS({Readings.Stock},{Readings.Tank},{Tank},'
            '{Readings.Check},"ok",{Readings.Date},{Read on}))',
        ),
        helper(
            "Square",
            'IF({Read on}=0,"",AVERAGEIFS({Readings.Off by},{Readings.Tank},{Tank},'
            '{Readings.Check},"ok",{Readings.Date},{Read on})^2)',
        ),
        helper("Stale", "IF({Read on}=0,0,IF({Day}-{Read on}>Reading_age,1,0))", number="whole"),
    ),
    heading="Stock of every tank at each month's end",
    rows=(MONTHS_BACK + 1) * MOST_TANKS,
)


def _at(what: str, day: str) -> str:
    """The sum over the tanks of the row's gas on a month's end."""
    return f"SUMIFS({{Stocks.{what}}},{{Stocks.Gas}},{{Gas}},{{Stocks.Day}},{{{day}}})"


def _read(day: str) -> str:
    return f"MAXIFS({{Stocks.Read on}},{{Stocks.Gas}},{{Gas}},{{Stocks.Day}},{{{day}}})"


def _between(table: str, what: str) -> str:
    return (
        f'SUMIFS({{{table}.{what}}},{{{table}.Gas}},{{Gas}},{{{table}.Check}},"ok",'
        f'{{{table}.Date}},">="&{{From}},{{{table}.Date}},"<"&{{To}})'
    )


def _left_out(table: str) -> str:
    """The rows of the time that do not count; whose gas they are may be what is wrong with them."""
    return (
        f'COUNTIFS({{{table}.Check}},"<>ok",'
        f'{{{table}.Date}},">="&{{From}},{{{table}.Date}},"<"&{{To}})'
    )


def _if_good(formula: str) -> str:
    return f'IF({{Good}}=1,{formula},"")'


def _if_known(formula: str) -> str:
    return f'IF(ISNUMBER({{Unaccounted}}),{formula},"")'


BALANCE = Table(
    "Balance",
    (
        helper("Number", f"MOD({{row}}-1,{MOST_GASES})+1", number="whole"),
        helper("Back", f"INT(({{row}}-1)/{MOST_GASES})", number="whole"),
        made("Month", "month", f"EDATE(Month_start,{{Back}}-{MONTHS_BACK - 1})"),
        made("Gas", "text", 'INDEX({GasList.Gas},{Number})&""'),
        helper(
            "End",
            f"IF({{Back}}={MONTHS_BACK - 1},Report_end,EDATE({{Month}},1))",
            "date",
            number="date",
        ),
        made("From", "date", _read("Month")),
        made("To", "date", _read("End")),
        helper("Old", f"{_at('Stale', 'Month')}+{_at('Stale', 'End')}", number="whole"),
        helper("Out", f"{_left_out('Log')}+{_left_out('Deliveries')}", number="whole"),
        helper("Good", 'IF(AND({Gas}<>"",{From}>0,{To}>{From},{Old}=0),1,0)', number="whole"),
        made("Opening", "amount", _if_good(_at("Stock", "Month"))),
        made("Delivered", "amount", _if_good(_between("Deliveries", "By ticket"))),
        made("Closing", "amount", _if_good(_at("Stock", "End"))),
        made("Left", "amount", _if_good("{Opening}+{Delivered}-{Closing}")),
        made("Cycles", "amount", _if_good(_between("Log", "Use"))),
        made("Unaccounted", "amount", _if_good('IF({Out}=0,{Left}-{Cycles},"")'), number="signed"),
        helper("Levels", _if_good(f"SQRT({_at('Square', 'Month')}+{_at('Square', 'End')})")),
        helper(
            "Metered",
            _if_good('IF(COUNTIFS({Tanks.Gas},{Gas},{Tanks.Read as},"meter")>0,ABS({Left}),0)'),
        ),
        helper("Tickets", _if_good("({Delivered}+{Metered})*Ticket_tolerance/100")),
        helper("Volumes", _if_good("{Cycles}*Volume_tolerance/100")),
        helper("u", _if_good("SQRT(({Levels}^2+{Tickets}^2+{Volumes}^2)/3)")),
        helper(
            "Largest",
            _if_good("IF({Levels}>=MAX({Volumes},{Tickets}),1,IF({Volumes}>={Tickets},2,3))"),
            number="whole",
        ),
        made("Band", "amount", _if_good(f"{NORMAL}*{{u}}")),
        made("Share", "share", _if_known('IF({Left}>0,100*{Unaccounted}/{Left},"")')),
        made("Share band", "share", _if_known('IF({Left}>0,100*{Band}/{Left},"")')),
        helper("At most", _if_known(conforms("{Unaccounted}", "{u}", "0"))),
        helper("At least", _if_known(conforms("{Unaccounted}", "{u}", "0", "at least"))),
        helper("Allowed", _if_good("MAX(0,{Left})*Act_share/100")),
        helper("Within", _if_known(conforms("{Unaccounted}", "{u}", "{Allowed}"))),
        made(
            "Verdict",
            "text",
            'IF({Gas}="","",IF({Out}>0,"rows left out",IF({Good}=0,"no readings",'
            'IF({Within}="no","act",IF({At most}="no","unaccounted",IF({At least}="no","more used",'
            'IF({Band}>{Allowed},"cannot tell","balances")))))))',
        ),
        helper(
            "Apart",
            'IF({Gas}="",0,IF(MINIFS({Stocks.Read on},{Stocks.Gas},{Gas},{Stocks.Day},{End},'
            '{Stocks.Read on},">0")=N({To}),0,1))',
            number="whole",
        ),
    ),
    heading="Balance by month and gas",
    rows=MONTHS_BACK * MOST_GASES,
)


def _now(column: str) -> str:
    return f"INDEX({{Balance.{column}}},{LAST}+{{row}})"


def _if_gas(formula: str) -> str:
    return f'IF({{Gas}}="","",{formula})'


def _metric(column: str) -> str:
    return f"{{{column} as Nm3}}"


GASES_NOW = Table(
    "Gases",
    (
        made("Gas", "text", _now("Gas")),
        made("Opening", "amount", _now("Opening")),
        made("Delivered", "amount", _now("Delivered")),
        made("Closing", "amount", _now("Closing")),
        made("Left", "amount", _now("Left")),
        made("Cycles", "amount", _now("Cycles")),
        made(
            "Year to date",
            "amount",
            _if_gas(f'SUMIFS({{Log.Use}},{{Log.Gas}},{{Gas}},{{Log.Check}},"ok",{IN_YEAR})'),
        ),
        made("Unaccounted", "amount", _now("Unaccounted"), number="signed"),
        made("Band", "amount", _now("Band")),
        made("Share", "share", _now("Share")),
        made("Cost", "money", _if_known("{Unaccounted}*{Price}"), number="whole"),
        made(
            "Leak",
            "leak",
            _if_known(
                f'GAS_UNACCOUNTED_LEAK({_metric("Left")},0,0,{_metric("Cycles")},{{Days}},"",'
                "{unit leak})"
            ),
            number="one",
        ),
        made("Planned", "amount", _if_gas('SUMIFS({Plan.Use},{Plan.Gas},{Gas},{Plan.Check},"ok")')),
        made("Need", "amount", _if_gas("{Planned}/(1-MIN(0.9,MAX(0,{Mean share}/100)))")),
        made("Need band", "amount", _if_gas("SQRT({Need of volume}^2+{Need of share}^2)")),
        made(
            "To order",
            "liquid",
            _if_known(f'1*GAS_TO_LIQUID({{Gas}},{_metric("Short of")},1.01325,"",{{unit liquid}})'),
        ),
        made("Verdict", "text", _now("Verdict")),
        helper("Out", _now("Out"), number="whole"),
        helper("Days", _if_known(f"{_now('To')}-{_now('From')}")),
        helper("Price row", version_of("Prices", "{Gas}", "Month_start")),
        helper("Price", 'IFERROR(INDEX({Prices.Price as used},{Price row}),"")', "price"),
        helper("All left", "SUMIFS({Balance.Left},{Balance.Gas},{Gas},{Balance.Out},0)", "amount"),
        helper(
            "Mean share",
            "IF({All left}>0,100*SUMIFS({Balance.Unaccounted},{Balance.Gas},{Gas})/{All left},0)",
            "share",
        ),
        helper(
            "Need of volume",
            _if_gas(f"{NORMAL}/{RECTANGULAR}*{{Need}}*Volume_tolerance/100"),
            "amount",
        ),
        helper("Need of share", _if_gas("{Need}*N({Share band})/100"), "amount"),
        helper("Share band", _now("Share band"), "share"),
        helper("Short of", _if_known("MAX(0,{Need}-{Closing})"), "amount"),
        helper(
            "Level",
            'IF({Gas}="","",IF({Verdict}="act","act",IF(OR({Verdict}="unaccounted",'
            '{Verdict}="more used"),"watch",IF({Verdict}="balances","in order","cannot tell"))))',
            "text",
        ),
        helper("Name", "PROPER({Gas})", "text"),
        words("Lost", Case("", "{Unaccounted ± Band} {unit amount}"), helper=True),
        words(
            "Missing",
            Case(
                'OR({Verdict}="act",{Verdict}="unaccounted")',
                "{Name}: {Lost} unaccounted, {Share:0} % of what left the tank.",
            ),
            Case('{Verdict}="more used"', "{Name}: the cycles used more than left the tank."),
            helper=True,
        ),
        words(
            "Other",
            Case('{Verdict}="balances"', "{Name} balances within its readings."),
            Case(
                '{Verdict}="cannot tell"',
                "{Name}: cannot tell, the readings are good to ± {Share band:0} %.",
            ),
            Case('{Verdict}="no readings"', "{Name}: no balance, a reading is missing."),
            helper=True,
        ),
        words(
            "Without",
            Case(
                '{Verdict}="rows left out"',
                "{Name}: no balance, {Out} row(s) of the month are left out.",
            ),
            helper=True,
        ),
        helper("Says", "{Missing}&{Other}&{Without}", "text"),
        helper("About", "ROUND({To order},1-INT(LOG10(MAX(1,{To order}))))", "liquid"),
        words("Needed", Case("", "{Need ± Need band} {unit amount} of {Gas}"), helper=True),
        words(
            "Order",
            Case("ISNUMBER({To order})", "{Needed}, {About:#,##0} {unit liquid} to order"),
            helper=True,
        ),
    ),
    heading="This month",
    rows=MOST_GASES,
)


def _shown(column: str) -> str:
    return f"INDEX({{Gases.{column}}},{{Shown}})"


SUMMARY = Block(
    "For Start",
    (
        Row("Balanced", "Gases with a balance", "COUNT({Gases.Unaccounted})", "count"),
        Row("Gas_count", "Gases", "COUNT({Tanks.New gas})", "count"),
        Row(
            "Shown",
            "The gas that costs most, by its place",
            "IF(MAX({Gases.Cost})>0,MATCH(MAX({Gases.Cost}),{Gases.Cost},0),1)",
            "count",
        ),
        Row("Shown_gas", "its name", f'PROPER({_shown("Gas")}&"")'),
        Row("Shown_cycles", "used by cycles", _shown("Cycles"), "amount"),
        Row(
            "Shown_cycles_band",
            "its 95 % band, half width",
            f"{NORMAL}/{RECTANGULAR}*{{Shown_cycles}}*Volume_tolerance/100",
            "amount",
        ),
        Row("Shown_lost", "unaccounted", _shown("Unaccounted"), "amount", number="signed"),
        Row("Shown_band", "its band", _shown("Band"), "amount"),
        Row("Shown_cost", "as a cost", _shown("Cost"), "money"),
        Row("Shown_cost_band", "its band", f"{{Shown_band}}*{_shown('Price')}", "money"),
        Row("Shown_need", "needed next month", _shown("Need"), "amount"),
        Row("Shown_need_band", "its band", _shown("Need band"), "amount"),
        Row("Said", "What is said of the gases", 'TEXTJOIN(" ",TRUE,{Gases.Says})'),
        Row("Said_order", "and of what to order", 'TEXTJOIN("; ",TRUE,{Gases.Order})'),
        Row("Apart_count", "Month's ends with readings apart", "SUM({Balance.Apart})", "count"),
        Row(
            "Largest_part",
            "Largest part of the band: 1 level, 2 volumes, 3 tickets",
            f"INDEX({{Balance.Largest}},{LAST}+{{Shown}})",
            "count",
        ),
    ),
)


def _of_shown(column: str) -> str:
    found = f"INDEX({{Balance.{column}}},({{row}}-1)*{MOST_GASES}+Shown)"
    return f"IF(ISNUMBER({found}),{found},NA())"


MONTHS = Table(
    "Months",
    (
        made(
            "Month",
            "month",
            f'IF(N(Month_start)=0,"",EDATE(Month_start,{{row}}-{MONTHS_BACK}))',
        ),
        made("Left the tank", "amount", _of_shown("Left")),
        made("Delivered", "amount", _of_shown("Delivered")),
        made("Cycles", "amount", _of_shown("Cycles")),
        made("Unaccounted", "amount", _of_shown("Unaccounted"), number="signed"),
        made("Share", "share", _of_shown("Share")),
        made("Band", "share", _of_shown("Share band")),
        made("Limit", "share", "Act_share+0"),
        helper("Low", "{Share}-{Band}", "share"),
        helper("High", "{Share}+{Band}", "share"),
    ),
    heading="Twelve months of the gas that costs most",
    rows=MONTHS_BACK,
)

SHARE_CHART = Chart(
    "line",
    "Unaccounted by month, % of what left the tank",
    "Month",
    "% of what left the tank",
    "Unaccounted share of the gas that costs most in each of twelve months with its 95 % band, and "
    "the share above which it is acted on.",
    (
        Series("unaccounted", "Months.Share", "Months.Month", band="Months.Band"),
        Series("act above", "Months.Limit", "Months.Month", limit=True),
        Series("low end", "Months.Low", "Months.Month", shown=False),
        Series("high end", "Months.High", "Months.Month", shown=False),
    ),
    x={"num_format": "mmm yy", "date_axis": False},
    y={"num_format": '0" %"'},
)

BALANCE_CHART = Chart(
    "column",
    "Left the tank and used by cycles, by month",
    "Month",
    "Gas, {unit amount}",
    "Gas that left the tank, gas that cycles used and gas delivered in each of twelve months, of "
    "the gas that costs most.",
    (
        Series("left the tank", "Months.Left the tank", "Months.Month"),
        Series("used by cycles", "Months.Cycles", "Months.Month"),
        Series("delivered", "Months.Delivered", "Months.Month"),
    ),
    x={"num_format": "mmm yy", "date_axis": False},
    y={"num_format": "#,##0"},
)
