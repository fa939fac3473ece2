"""Where the month's gas went: stock by mass against cycles, with its band; next month's need."""

from __future__ import annotations

from dataclasses import replace

from gasfuncs.workbooks.sheets.monthly_balance import (
    BALANCE,
    BALANCE_CHART,
    GASES_NOW,
    MONTHS,
    SHARE_CHART,
    STOCKS,
    SUMMARY,
)
from gasfuncs.workbooks.sheets.monthly_demo import demo
from gasfuncs.workbooks.sheets.monthly_log import (
    BY_FURNACE,
    BY_RECIPE,
    DAYS,
    DAYS_CHART,
    FURNACES,
    GAS_LIST,
    LOG,
    PER_LOAD,
    PERIOD,
    PLAN,
    STEPS,
    TOP,
)
from gasfuncs.workbooks.sheets.monthly_stock import DELIVERIES, PRICES, READINGS, REPORTED, TANKS
from gasfuncs.workbooks.sheets.parts import (
    ACT,
    BACKGROUND,
    FINE,
    READ_HERE,
    TYPE_HERE,
    UNKNOWN,
    WATCH,
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
from gasfuncs.workbooks.sheets.standard import about

REPORT = Input(
    "Report_day",
    "Last day of the report",
    "date",
    "The last day of the month, or today in a month in progress; for example 31 Oct 2026",
)

CLOSE = Group(
    "How close the readings are",
    (
        Input(
            "Level_tolerance",
            "Level gauge, of the tank's capacity",
            "share",
            "A reading is this close; 1 for a gauge in good order",
            0,
            20,
        ),
        Input(
            "Ticket_tolerance",
            "Tickets and meters",
            "share",
            "The supplier's meter or scale is this close; 2.5 where nothing else is agreed",
            0,
            20,
        ),
        Input(
            "Volume_tolerance",
            "Calculated use of a cycle",
            "share",
            "Free volumes and flows are this close; all loads share it. For example 3",
            0,
            50,
        ),
        Input(
            "Reading_age",
            "A reading counts for a month's end up to",
            "days",
            "The tank should be read on the first morning of each month; for example 3",
            0,
            20,
        ),
        Input(
            "Act_share",
            "Unaccounted gas to act on, of what left the tank",
            "share",
            "What is surely above it is looked for at once; for example 5",
            0.1,
            100,
        ),
    ),
)

TYPED = (
    Sheet("Tanks", "Every tank or meter that gas comes from.", TYPE_HERE, (TANKS,)),
    Sheet("Prices", "What the gas costs; a new price is a new row.", TYPE_HERE, (PRICES,)),
    Sheet("Furnaces", "Free volume is the chamber less the load.", TYPE_HERE, (FURNACES,)),
    Sheet(
        "Recipes",
        "One row a step, in order: a backfill from From to To, a hold at From with the pump "
        "running, a flow.",
        TYPE_HERE,
        (STEPS,),
    ),
    Sheet("Log", "One row a day, furnace and recipe.", TYPE_HERE, (LOG,)),
    Sheet(
        "Readings",
        "Level and pressure of every tank, best on the first morning of a month.",
        TYPE_HERE,
        (READINGS,),
    ),
    Sheet("Deliveries", "As on the tickets.", TYPE_HERE, (DELIVERIES,)),
    Sheet("Plan", "The loads of next month.", TYPE_HERE, (PLAN,)),
    Sheet(
        "Reported",
        "What was reported of past months: it must not change any more.",
        TYPE_HERE,
        (REPORTED,),
    ),
)

LAST_MONTHS = (
    "Unaccounted share of the gas that costs most in each of the last six months with its 95 % "
    "band, and the share above which it is acted on; twelve months stand on Balance."
)

READ = (
    Sheet(
        "Balance",
        "Stock against cycles: what is left over was lost, leaked or not logged.",
        READ_HERE,
        (GASES_NOW, BALANCE_CHART, replace(SHARE_CHART, beside=True), MONTHS),
    ),
    Sheet("Days", "Use by day and furnace.", READ_HERE, (DAYS_CHART, DAYS), landscape=False),
    Sheet(
        "Use",
        "By furnace and recipe, month and year to date.",
        READ_HERE,
        (BY_FURNACE, BY_RECIPE),
    ),
    Sheet(
        "Numbers",
        "Numbers that stand for themselves.",
        BACKGROUND,
        (PERIOD, SUMMARY, TOP, GAS_LIST),
    ),
    Sheet("Gas per load", "What a load takes, by recipe and gas.", BACKGROUND, (PER_LOAD,)),
    Sheet("Stocks", "The readings at each month's end.", BACKGROUND, (STOCKS,)),
    Sheet("Months", "The balance of each month and gas.", BACKGROUND, (BALANCE,)),
)

UNREAD = '{Balanced}+COUNTIF({Gases.Verdict},"rows left out")<{Gas_count}'
"""A gas has no balance, and not for the rows that are left out."""

VERDICT = Sentence(
    "Answer",
    (
        Case("{Balanced}=0", "{Said}", UNKNOWN),
        Case('COUNTIF({Gases.Level},"act")>0', "{Said} {Order_words}", ACT),
        Case('COUNTIF({Gases.Level},"watch")>0', "{Said} {Order_words}", WATCH),
        Case('COUNTIF({Gases.Level},"cannot tell")>0', "{Said} {Order_words}", UNKNOWN),
        Case("", "{Said} {Order_words}", FINE),
    ),
)


def _other(number: int) -> tuple[Row, ...]:
    """The numbers of one gas that other books ask for."""

    def of(column: str) -> str:
        return f"INDEX({{Gases.{column}}},{number})"

    return (
        Row(f"Other_gas_{number}", f"Gas {number}", f'{of("Gas")}&""'),
        Row(
            f"Other_day_{number}",
            "its mean use a day, losses in it",
            f"{of('Left')}/{of('Days')}",
            "amount",
            "Bulk tank: reorder",
        ),
        Row(
            f"Other_plan_{number}",
            "its planned use of next month, losses in it",
            of("Need"),
            "amount",
            "Bulk tank: reorder; Supply offers",
        ),
        Row(
            f"Other_price_{number}",
            "its price for the unit of amount",
            of("Price"),
            "price",
            "Argon or nitrogen; Vent and fill",
        ),
    )


BOOK = Book(
    name="monthly_gas_usage",
    title="Monthly gas use",
    question="Where did the gas go, how much is unaccounted, and what does next month need?",
    functions=(
        "GAS_CYCLE",
        "GAS_TANK_STOCK",
        "GAS_DELIVERED",
        "GAS_LEVEL_CHANGE",
        "GAS_CONFORMS",
        "GAS_UNACCOUNTED_LEAK",
        "GAS_TO_LIQUID",
        "GAS_PRICE",
        "GAS_SITE_PRESSURE",
    ),
    groups=(about(REPORT), CLOSE),
    sheets=(*READ[:3], *TYPED, *READ[3:]),
    verdict=VERDICT,
    numbers=(
        Number("{Shown_gas} used by cycles", "Shown_cycles", "Shown_cycles_band"),
        Number("{Shown_gas} unaccounted", "Shown_lost", "Shown_band"),
        Number("as a cost", "Shown_cost", "Shown_cost_band", "money", "whole"),
        Number("{Shown_gas}, next month", "Shown_need", "Shown_need_band"),
    ),
    chart=replace(SHARE_CHART, says=LAST_MONTHS, only=slice(-6, None)),
    steps=(
        Step(
            'COUNTIF({Gases.Level},"act")>0',
            "Look for the gas: tickets (Delivery check), then leaks",
            "Balance",
        ),
        Step(
            'COUNTIF({Gases.Verdict},"more used")>0',
            "Used more than left the tank: see readings, tickets, log",
            "Readings",
        ),
        Step(UNREAD, "Read every tank on the first morning", "Readings"),
        Step(
            "{Largest_part}=1",
            "Read the level closer: the largest part of the band",
            "Readings",
        ),
        Step(
            "{Largest_part}=2",
            "Measure free volumes: the largest part of the band",
            "Furnaces",
        ),
        Step("{Plan_typed}=0", "Type next month's loads", "Plan"),
        Step(
            'COUNTIF({Gases.Verdict},"rows left out")+COUNTIF({Gases.Verdict},"no readings")=0',
            "Write the month's result down, so that it stays",
            "Reported",
        ),
    ),
    tests=(
        Test(
            "The days are the month",
            "ABS({Days_sum}-{Month_use})>0.5",
            "use by day adds up to {Days_sum:#,##0}, by furnace to {Month_use:#,##0}",
            "Days",
        ),
        Test(
            "The recipes are the month",
            "ABS({Recipes_sum}-{Month_use})>0.5",
            "use by recipe adds up to {Recipes_sum:#,##0}, by furnace to {Month_use:#,##0}",
            "Use",
        ),
        Test(
            "Furnaces, recipes, gases and tanks fit in",
            "OR({Furnace_count}>40,{Recipe_count}>40,{Gas_count}>4,{Version_count}>80,{Tank_count}>8)",
            "there is room for 40 furnaces, 40 recipes in 80 versions, 4 gases, and 8 tanks",
            "Use",
        ),
        Test(
            "Tanks of one gas are read on one day",
            "SUM({Balance.Apart})>0",
            "tanks of one gas were read on different days at {Apart_count} month's end(s)",
            "Stocks",
        ),
        Test(
            "Every month's end has its reading",
            UNREAD,
            "a tank was not read in the {Reading_age} days before the start or the end",
            "Readings",
        ),
        Test(
            "No cycle is logged after the report",
            "{Later_rows}>0",
            "{Later_rows} row(s) of the log are after the report's last day",
            "Log",
        ),
        Test(
            "No cycle of the month is logged twice",
            "SUM({Log.Twice})>0",
            "{Twice_rows} row(s) of the month have the day, furnace and recipe of another one",
            "Log",
        ),
        Test(
            "Reported months are as they were",
            "SUM({Reported.Changed})>0",
            "a month that was reported has changed: was a row overwritten, not added?",
            "Reported",
        ),
    ),
    others=(*_other(1), *_other(2)),
    sentences=(
        Sentence(
            "Order_words",
            (
                Case("{Plan_typed}=0", "No loads are planned for next month yet."),
                Case("", "Next month: {Said_order}."),
            ),
        ),
    ),
    demo=demo,
    period="{Month_start:mmmm yyyy}, to {Report_day:d mmm}",
)
