"""Bulk tank reorder: one tank in detail, its plan of sixty days, forecast, risk and what if."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import Block, Chart, Row, Series, Table, helper, made
from gasfuncs.workbooks.sheets.reorder_ahead import (
    BACK,
    BAND,
    DAYS,
    FORECAST_DAYS,
    MONTH,
    MOST_TANKS,
    REACH,
    every,
)
from gasfuncs.workbooks.sheets.reorder_typed import HISTORY
from gasfuncs.workbooks.sheets.standard import NORMAL

BAND_TOLD = f"{100 * BAND:.0f} %"


def _shown(column: str) -> str:
    return f"INDEX({{By.{column}}},{{Shown}})"


def _row(name: str, label: str, column: str, kind: str, number: str = "") -> Row:
    return Row(name, label, _shown(column), kind, number=number)


USED = f"INDEX({every('Days', 'Used')},0,Shown)"
KNOWN = f"INDEX({every('Days', 'Known')},0,Shown)"

SHOWN = Block(
    "The tank shown in detail",
    (
        Row(
            "First",
            "The tank to be ordered for first, by its place",
            "MATCH(MIN({By.Urgency}),{By.Urgency},0)",
            "count",
        ),
        Row(
            "Second",
            "The next one",
            "IFERROR(MATCH(SMALL({By.Urgency},2),{By.Urgency},0),0)",
            "count",
        ),
        Row(
            "Shown",
            "The tank shown",
            'IF({Show_tank}="",{First},MATCH({Show_tank},{By.Tank},0))',
            "count",
        ),
        Row("Shown_tank", "its name", f'IFERROR({_shown("Tank")}&"","")'),
        _row("S_gas", "Gas", "Gas", "text"),
        _row("S_now", "In the tank", "Now", "liquid"),
        Row("S_now_band", "its 95 % band, half width", f"{NORMAL}*{_shown('Off')}", "liquid"),
        _row("S_size", "Capacity", "Size", "liquid"),
        _row("S_most", "Highest contents allowed", "Most", "liquid"),
        _row("S_reserve", "Reserve", "Reserve", "liquid"),
        _row("S_daily", f"Use a day, mean of {MONTH} days", "Daily", "liquid"),
        Row(
            "S_daily_band",
            "its 95 % band, half width",
            f"{NORMAL}*{{S_scatter}}/SQRT({MONTH})",
            "liquid",
        ),
        _row("S_scatter", "Standard deviation of a day's use", "Scatter", "liquid"),
        _row("S_busy", "Use a day in the busiest time of a delivery", "Busy", "liquid"),
        _row("S_at", "Order at this level", "Order at", "liquid"),
        _row("S_by", "Order by", "Order by", "date", number="day"),
        _row("S_order", "Order, as the ticket counts", "Ask", "liquid"),
        _row("S_next", "The next truck comes on", "Next truck", "date", number="day"),
        _row("S_wait", "Days until then", "Wait", "count"),
        _row("S_until", "Use a day until then", "Until", "liquid"),
        _row(
            "S_chance", "Chance of reaching the reserve before", "Chance", "number", number="three"
        ),
        _row("S_lasts", "Days until the reserve, without a truck", "Lasts", "days"),
        _row("S_lasts_band", "its 95 % band, half width", "Lasts band", "days"),
        _row("S_lead", "Days from order to delivery", "Lead", "days"),
        _row("S_varies", "their standard deviation", "Varies", "days"),
        _row("S_orders", "from so many orders (none: the supplier's word)", "Orders", "count"),
        _row("S_whole", "in whole days", "Whole", "count"),
        _row("S_truck", "A truck, once its liquid has warmed", "Truck", "liquid"),
        _row("S_least", "Least load", "Least", "liquid"),
        _row("S_service", "Chance wanted of not reaching the reserve", "Service", "number"),
        _row("S_taken", "Orders are taken", "Taken", "text"),
        _row("S_come", "Trucks come", "Come", "text"),
        _row("S_open", "Contents, with what is on its way", "Open", "liquid"),
        _row("S_coming", "On its way", "Coming", "liquid"),
        _row("S_due", "due on", "Due", "date", number="day"),
        _row("S_one", "Liquid by which the level falls for 1 Nm3", "One", "number"),
        Row("S_chance_share", "Chance, in %", "100*{S_chance}", "share"),
        Row("S_delivery", "A delivery costs", "INDEX({Supply.Delivery costs},{S_row})", "money"),
        Row("S_call", "An emergency call costs", "INDEX({Supply.Call costs},{S_row})", "money"),
        Row("S_row", "its row on Supply", _shown("Row"), "count"),
        Row(
            "Extra_use",
            "Use a day of the extra furnace",
            f"Extra_loads*Extra_gas*{_shown('Unit one')}",
            "liquid",
        ),
        Row(
            "S_behind",
            "Days between its last whole week and the plan",
            f"7*ROUNDUP(({{Plan_from}}-{_shown('Last')})/7,0)",
            "count",
        ),
        Row("Plan_from", "First day of the plan", "INT(Plan_day)", "date"),
        Row(
            "S_weeks",
            "Whole weeks of its history",
            f'IF({_shown("Use by")}="{HISTORY}",INT((COUNT({KNOWN})-{{S_behind}}+{{Plan_from}}-'
            f"{_shown('Last')})/7),0)",
            "count",
        ),
        Row("Tank_count", "Tanks", "COUNT({Tanks.New tank})", "count"),
        Row("Ready_count", "of them with a plan", "SUM({By.Ready})", "count"),
        Row("Short_tanks", "that cannot hold what is asked", "SUM({By.Too small})", "count"),
        Row("First_says", "What is said of the first tank", 'INDEX({By.Says},{First})&""'),
        Row(
            "Second_says",
            "and of the second",
            'IF({Second}=0,"",INDEX({By.Says},{Second})&"")',
        ),
        Row(
            "Dry_day",
            "The plan runs short first on",
            'IF(COUNTIF({Plan.Short},">0")=0,"",MINIFS({Plan.Day},{Plan.Short},">0"))',
            "date",
            number="day",
        ),
    ),
)

PLANNED = (
    "GAS_TANK_PLAN(Plan_day,S_open,{Planned},S_at,S_whole,S_truck,S_most,0,1,S_taken,S_come,"
    "{Closed.No truck},S_least)"
).replace("{Planned}", f"INDEX({every('Ahead', 'Use')},0,Shown)")


def _planned(column: int) -> str:
    return f"INDEX({PLANNED},{{row}}+1,{column})"


def _unless_none(column: str) -> str:
    return f'IF({{{column}}}=0,"",{{{column}}})'


PLAN = Table(
    "Plan",
    (
        made("Day", "date", "INT(Plan_day)+{row}-1", number="day"),
        made("Use", "liquid", _planned(3)),
        made("Order", "liquid", _unless_none("Ordered")),
        made("Delivery", "liquid", _unless_none("Comes")),
        made("Evening", "liquid", "MAX(0,{Closing}-IF(AND(S_coming>0,{Day}<S_due),S_coming,0))"),
        made("Low", "liquid", "IF(ISNUMBER({Evening}),MAX(0,{Evening}-{Reach}),NA())"),
        made("High", "liquid", "IF(ISNUMBER({Evening}),MIN(S_most,{Evening}+{Reach}),NA())"),
        made("Short", "liquid", _unless_none("Lacks")),
        made("Reserve", "liquid", "S_reserve+0"),
        made("Order at", "liquid", "S_at+0"),
        made("Highest fill", "liquid", "S_most+0"),
        helper("Ordered", _planned(7), "liquid"),
        helper("Comes", f"{_planned(5)}+IF({{Day}}=S_due,S_coming,0)", "liquid"),
        helper("Lacks", _planned(8), "liquid"),
        helper("Closing", _planned(6), "liquid"),
        helper("Square", f"INDEX({every('Ahead', 'Scatter')},{{row}},Shown)^2"),
        helper("Full", "IF(AND(N({Comes})>0,{Evening}+{Use}>0.99*S_most),1,0)"),
        helper("Since", 'MAXIFS({Plan.Day},{Plan.Full},1,{Plan.Day},"<="&{Day})', number="whole"),
        helper(
            "Scattered",
            'SUMIFS({Plan.Square},{Plan.Day},">="&{Since},{Plan.Day},"<="&{Day})'
            f"+IF({{Since}}=0,(S_now_band/{NORMAL})^2,0)",
        ),
        helper("Reach", f"{REACH}*SQRT({{Scattered}})", "liquid"),
    ),
    heading=f"The plan of the tank shown; low and high hold {BAND_TOLD} of the days",
    rows=DAYS,
)


def _line(name: str, column: str, edge: bool = False) -> Series:
    return Series(name, f"Plan.{column}", "Plan.Day", dots=False, edge=edge)


LEVEL_CHART = Chart(
    "line",
    f"Level expected, {{unit liquid}}, with the {BAND_TOLD} band",
    "Day",
    "Liquid, {unit liquid}",
    "Level of the tank shown in the evening of each of sixty days with the band that holds 90 % of "
    "them, the highest fill allowed, the level to order at and the reserve.",
    (
        _line("level", "Evening"),
        _line("low", "Low", edge=True),
        _line("high", "High", edge=True),
        _line("order at", "Order at"),
        _line("highest fill", "Highest fill"),
        Series("reserve", "Plan.Reserve", "Plan.Day", limit=True),
    ),
    x={"num_format": "d mmm", "interval_unit": 10, "date_axis": False},
    y={"num_format": "#,##0", "min": 0},
)

OVERVIEW = Table(
    "Overview",
    (
        made("Tank", "text", 'INDEX({By.Tank},{row})&""'),
        *(
            made(name, kind, f"INDEX({{By.{column}}},{{row}})", **more)
            for name, column, kind, more in (
                ("Gas", "Gas", "text", {"width": 11}),
                ("In the tank", "Now", "liquid", {}),
                ("Use a day", "Daily", "liquid", {}),
                ("Use by", "Use by", "text", {"width": 10}),
                ("Days to reserve", "Lasts", "days", {"number": "whole"}),
                ("give or take", "Lasts band", "days", {"number": "whole"}),
                ("Order at", "Order at", "liquid", {}),
                ("Order by", "Order by", "date", {"number": "day"}),
                ("Order", "Ask", "liquid", {}),
                ("Truck", "Next truck", "date", {"number": "day"}),
            )
        ),
        made(
            "Chance",
            "share",
            'IF(ISNUMBER(INDEX({By.Chance},{row})),100*INDEX({By.Chance},{row}),"")',
        ),
        made("State", "text", "INDEX({By.Level},{row})", width=12),
    ),
    heading="Tanks, in the order of the sheet Tanks; Chance: of reaching the reserve before the "
    "truck; Order: as the ticket counts",
    rows=MOST_TANKS,
)


def _method(column: int) -> str:
    used, known = (f"INDEX({every('Days', name)},0,{{No}})" for name in ("Used", "Known"))
    call = f"GAS_FORECAST({known},{used},{FORECAST_DAYS},{{Closed.Past}},{BAND})"
    return f"INDEX({call},2,{column})"


def _if_tank(formula: str) -> str:
    return f'IF({{Tank}}="","",{formula})'


def _in_liquid(column: int) -> str:
    return _if_tank(f"{_method(column)}*INDEX({{By.One}},{{No}})")


METHODS = Table(
    "Methods",
    (
        made("Tank", "text", 'INDEX({By.Tank},{row})&""'),
        made("Days known", "count", _if_tank(f"COUNT(INDEX({every('Days', 'Known')},0,{{No}}))")),
        made("Method", "text", _if_tank(_method(5)), width=24),
        made("Error", "liquid", _in_liquid(6), number="one"),
        made("Error of last week", "liquid", _in_liquid(7), number="one"),
        made(
            "By history", "liquid", _if_tank(f"AVERAGE(INDEX({every('Ahead', 'Mean')},0,{{No}}))")
        ),
        made(
            "By loads",
            "liquid",
            _if_tank("SUM(INDEX({By.On 1:On 7},{No},0))/7+INDEX({By.Evaporates},{No})"),
        ),
        helper("No", "{row}", number="whole"),
    ),
    heading="How each tank's use is forecast: mean error of a day, and the use a day two ways",
    rows=MOST_TANKS,
)

SHOWN_BACK = 28


def _used(row: str) -> str:
    """Liquid used on a day of the history, a gap where it is not known."""
    was = f"INDEX({USED},{row})"
    return f"IF(ISNUMBER({was}),{was}*S_one,NA())"


def _to_come(column: str) -> str:
    """A number of a day of the plan, a gap before it."""
    row = f"MAX(1,{{row}}-{SHOWN_BACK})"
    return f"IF({{row}}<={SHOWN_BACK},NA(),INDEX({every('Ahead', column)},{row},Shown))"


COURSE = Table(
    "Course",
    (
        made("Day", "date", f"INT(Plan_day)+{{row}}-{SHOWN_BACK + 1}", number="day"),
        made(
            "Used",
            "liquid",
            f"IF({{row}}>{SHOWN_BACK},NA(),{_used(f'{{row}}+{BACK - SHOWN_BACK}')})",
        ),
        made("Expected", "liquid", _to_come("Use")),
        made("Band", "liquid", f"{REACH}*{_to_come('Scatter')}"),
        made("Low", "liquid", "IF(ISNUMBER({Band}),MAX(0,{Expected}-{Band}),NA())"),
        made("High", "liquid", "{Expected}+{Band}"),
        made("Last week", "liquid", f"IF({{row}}<={SHOWN_BACK},NA(),{_used('{Before}')})"),
        helper("Before", f"{BACK - 6}+MOD({{row}}-{SHOWN_BACK + 1},7)", number="whole"),
    ),
    heading="Use of the tank shown, four weeks back and four to come",
    rows=2 * SHOWN_BACK,
)

COURSE_CHART = Chart(
    "line",
    "Use of a day, {unit liquid}",
    "Day",
    "Use, {unit liquid}",
    "Use of each of the last 28 days of the tank shown, the use expected of the next 28 with its "
    "band, and what the same weekday used last week.",
    (
        Series("used", "Course.Used", "Course.Day"),
        Series("expected", "Course.Expected", "Course.Day", band="Course.Band"),
        Series("same weekday last week", "Course.Last week", "Course.Day", joined=False),
        Series("low end", "Course.Low", "Course.Day", shown=False),
        Series("high end", "Course.High", "Course.Day", shown=False),
    ),
    x={"num_format": "d mmm", "interval_unit": 7, "date_axis": False},
    y={"num_format": "#,##0", "min": 0},
)
