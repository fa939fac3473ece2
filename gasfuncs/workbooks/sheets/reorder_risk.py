"""Bulk tank reorder: what a reorder level risks and costs; a late truck, a furnace more."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import Case, Chart, Series, Table, helper, made, words
from gasfuncs.workbooks.sheets.reorder_ahead import BACK, DAYS, ENOUGH_ORDERS, every
from gasfuncs.workbooks.sheets.reorder_shown import USED

LEVELS_TRIED, MIDDLE = 9, 5
"""Reorder levels that are tried; the book's own is in the middle."""
TRIALS, YEAR = 1000, 365
LEADS_SHOWN = 120

WEEKS_TAKEN = "CHOOSE(MIN(12,S_weeks)+1,0,1,2,3,4,4,6,6,6,6,6,6,12)"
"""As many whole weeks as the table of uses holds without a rest."""

TRIED = Table(
    "Tried",
    (
        made("Use", "liquid", "IF({Weeks}=0,{Planned},S_one*{Was})", number="one"),
        helper("Weeks", WEEKS_TAKEN, number="whole"),
        helper(
            "From",
            f"{BACK}-S_behind-7*{{Weeks}}+MOD({{row}}-1,MAX(7,7*{{Weeks}}))+1",
            number="whole",
        ),
        helper("Was", f'IF({{Weeks}}=0,"",INDEX({USED},{{From}}))'),
        helper("Planned", f"INDEX({every('Ahead', 'Use')},MOD({{row}}-1,56)+1,Shown)"),
    ),
    heading="Uses that are drawn from: whole weeks",
    rows=BACK,
)

LEADS = Table(
    "Leads",
    (
        made("Days", "days", f"IF(S_orders<{ENOUGH_ORDERS},{{Word}},{{Was}})"),
        helper("Was", 'IFERROR(LARGE({Orders.Of shown},{row}),"")'),
        helper("Word", 'IF({row}>3,"",MAX(0,S_lead+({row}-2)*SQRT(1.5)*S_varies))'),
    ),
    heading="Times to delivery that are drawn from",
    rows=LEADS_SHOWN,
    beside=True,
)

TRIAL = (
    "GAS_DELIVERY_SIM(S_open,{Tried.Use},{Leads.Days},{Order at},S_truck,S_size,S_reserve,"
    f"S_most/S_size,S_taken,S_come,{{Closed.No truck}},Review,{TRIALS},1,Plan_from,{YEAR},"
    "N(S_delivery),N(S_call))"
)


def _tried(row: int, column: int, times: str = "") -> str:
    """A result of the trial, which has headings above it."""
    return f"{times}INDEX({TRIAL},{row},{column})"


RISK = Table(
    "Risk",
    (
        made(
            "Order at",
            "liquid",
            f"MIN(0.98*S_most,S_reserve+(S_at-S_reserve)*{{row}}/{MIDDLE})",
        ),
        made("Chance in a year", "share", _tried(2, 2, "100*"), number="one"),
        made("at least", "share", _tried(2, 3, "100*"), number="one"),
        made("at most", "share", _tried(2, 4, "100*"), number="one"),
        made("Chance a truck", "share", _tried(3, 2, "100*"), number="two"),
        made("Lowest, 1 in 20", "liquid", f"MAX(0,{_tried(5, 2)})"),
        made("Trucks a year", "number", _tried(7, 2), number="one"),
        made("Calls a year", "number", _tried(8, 2), number="two"),
        made("Costs a year", "money", _tried(10, 2), number="whole"),
        made("Mean drop", "liquid", _tried(9, 2)),
        helper("Band", "({at most}-{at least})/2"),
        words(
            "This is",
            Case(f"{{row}}={MIDDLE}", "the level that the chance wanted asks for"),
            helper=False,
            width=40,
        ),
    ),
    heading=f"{TRIALS:,} years tried for each level, with the uses and delivery times that were",
    rows=LEVELS_TRIED,
)

RISK_CHART = Chart(
    "line",
    "Chance of reaching the reserve in a year, %",
    "Order at, {unit liquid}",
    "Chance in a year, %",
    "Chance of reaching the reserve in a year against the level that is ordered at: a higher level "
    "is safer, and costs more deliveries of smaller drops.",
    (Series("chance in a year", "Risk.Chance in a year", "Risk.Order at", band="Risk.Band"),),
    x={"num_format": "#,##0"},
    y={"num_format": '0" %"', "min": 0, "max": 100},
)

COST_CHART = Chart(
    "line",
    "Cost of deliveries and emergency calls, a year",
    "Order at, {unit liquid}",
    "Cost a year",
    "Cost of deliveries and emergency calls in a year against the level that is ordered at.",
    (Series("cost a year", "Risk.Costs a year", "Risk.Order at"),),
    x={"num_format": "#,##0"},
    y={"num_format": "#,##0"},
)

CASES = (
    ("as planned", 0, 0),
    ("the truck comes late", 0, 1),
    ("one more furnace", 1, 0),
    ("both", 1, 1),
)


def _by_case(column: int) -> str:
    return "CHOOSE({row}," + ",".join(str(case[column]) for case in CASES) + ")"


def _if_taken(formula: str) -> str:
    """Blank on a day without orders."""
    return f'IF({{Taken}}=0,{formula},"")'


WHAT_IF = Table(
    "What",
    (
        words(
            "If",
            *(Case(f"{{row}}={n}", case[0]) for n, case in enumerate(CASES[:-1], 1)),
            Case("", CASES[-1][0]),
            width=26,
        ),
        made("Use a day", "liquid", "S_daily+{More}"),
        made("Order to truck", "days", "S_lead+{Late}"),
        made("Days to reserve", "days", "GAS_DAYS_LEFT(S_now,{Use a day},0,S_reserve)"),
        made("Reserve on", "date", "INT(Plan_day+{Days to reserve})", number="day"),
        made(
            "Order at",
            "liquid",
            "GAS_REORDER_LEVEL(S_busy+{More},S_scatter,{Order to truck},S_varies,S_service,"
            "S_reserve,Review)",
        ),
        made("Chance", "share", "100*{Risk}"),
        made("Left then", "liquid", "MAX(0,S_now-(S_until+{More})*{Wait})"),
        helper("More", f"IF({_by_case(1)}=1,Extra_use,0)", "liquid"),
        helper("Late", f"IF({_by_case(2)}=1,Late_days,0)"),
        helper("Wait", "S_wait+{Late}"),
        helper("Risk", "GAS_RUNOUT_RISK(S_now,S_until+{More},S_scatter,{Wait},S_varies,S_reserve)"),
    ),
    heading="Chance, and what is left then: the truck comes as planned today, and nobody knows yet "
    "of the delay or the furnace",
    rows=len(CASES),
)


ORDER_DAYS = 21
AHEAD = f"MIN({DAYS},{{Wait}})"

BY_DAY = Table(
    "ByDay",
    (
        made("Order on", "date", "INT(Plan_day)+{row}-1", number="day"),
        made("Truck", "date", _if_taken("{Comes}"), number="day"),
        made("Days to truck", "days", _if_taken("{Wait}"), number="whole"),
        made("Use a day", "liquid", _if_taken("{Until}")),
        made("Left then", "liquid", _if_taken("MAX(0,S_open-{Until}*{Wait})")),
        made("Chance", "share", "IF(ISNUMBER({Truck}),100*{Risk},NA())"),
        made("Let pass", "share", "100*(1-S_service)"),
        words(
            "This is",
            Case("{Order on}=S_by", "the day of the plan"),
            Case("ISNUMBER({Truck})", ""),
            Case("", "no orders are taken"),
            width=20,
        ),
        helper(
            "Taken",
            'GAS_REORDER_DATE({Order on},0,1,1,0,S_taken,"",{Closed.No truck})-{Order on}',
            number="whole",
        ),
        helper("Due", "{Order on}+S_whole", "date", number="day"),
        helper(
            "Comes",
            'GAS_REORDER_DATE({Due},0,1,1,0,S_come,"",{Closed.No truck})',
            "date",
            number="day",
        ),
        helper("Wait", "{Comes}-INT(Plan_day)", number="whole"),
        helper("Until", f"INDEX({every('Ahead', 'Total')},{AHEAD},Shown)/{AHEAD}", "liquid"),
        helper("Risk", "GAS_RUNOUT_RISK(S_open,{Until},S_scatter,{Wait},S_varies,S_reserve)"),
    ),
    heading="Chance of reaching the reserve before the truck, by the day on which it is ordered; "
    "what is on its way counts as if it had come",
    rows=ORDER_DAYS,
)

DAY_CHART = Chart(
    "line",
    "Chance of reaching the reserve before the truck, %",
    "Ordered on",
    "Chance, %",
    "Chance of reaching the reserve before the truck comes against the day on which it is ordered, "
    "with the chance that is let pass.",
    (
        Series("chance", "ByDay.Chance", "ByDay.Order on"),
        Series("let pass", "ByDay.Let pass", "ByDay.Order on", limit=True),
    ),
    x={"num_format": "ddd d mmm", "interval_unit": 2, "date_axis": False},
    y={"num_format": '0" %"', "min": 0, "max": 100},
)
