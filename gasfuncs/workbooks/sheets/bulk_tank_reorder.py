"""When the truck must come to each tank, what fits, how sure that is; vaporizer and backup."""

from __future__ import annotations

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
from gasfuncs.workbooks.sheets.reorder_ahead import AHEAD, BY, DAYS_BACK, MOST_TANKS
from gasfuncs.workbooks.sheets.reorder_demo import demo
from gasfuncs.workbooks.sheets.reorder_risk import (
    BY_DAY,
    COST_CHART,
    DAY_CHART,
    LEADS,
    RISK,
    RISK_CHART,
    TRIED,
    WHAT_IF,
)
from gasfuncs.workbooks.sheets.reorder_shown import (
    COURSE,
    COURSE_CHART,
    LEVEL_CHART,
    METHODS,
    OVERVIEW,
    PLAN,
    SHOWN,
)
from gasfuncs.workbooks.sheets.reorder_typed import (
    CLOSED,
    EQUIPMENT,
    ORDERS,
    READINGS,
    SUPPLY,
    TANKS,
    USERS,
)
from gasfuncs.workbooks.sheets.standard import about

WHEN = (
    Input(
        "Plan_day",
        "Morning on which the plan starts",
        "date",
        "Today; the last reading of each tank up to then counts. For example 27 Oct 2026",
    ),
    Input(
        "Show_tank",
        "Tank shown in detail",
        "text",
        "Blank: the tank that must be ordered for first",
        choices="Tanks.Tank",
        required=False,
    ),
)

CLOSE = Group(
    "Readings",
    (
        Input(
            "Level_tolerance",
            "Level gauge, of the tank's capacity",
            "share",
            "95 % of its readings are this close; 1 for a gauge in good order",
            0,
            20,
        ),
        Input(
            "Reading_age",
            "A reading counts for up to",
            "days",
            "An older one says nothing of today; what was used since is taken off. For example 2",
            0,
            7,
        ),
        Input(
            "Review",
            "Days from one reading to the next",
            "count",
            "An order can be placed only when the level is read: 1 for every morning",
            1,
            31,
        ),
        Input(
            "Plan_spread",
            "Standard deviation of a day's use by loads",
            "share",
            "Of the day's use, where a tank's use is told by its loads; 60 where nobody knows",
            0,
            300,
        ),
    ),
)

WHAT_IF_INPUTS = Group(
    "What if, and vaporizers",
    (
        Input("Late_days", "The truck comes late by", "days", "A holiday, snow, a strike", 0, 30),
        Input(
            "Extra_loads",
            "Loads a day of one more furnace",
            "number",
            "Mean of all days, Sundays too",
            0,
            100,
        ),
        Input(
            "Extra_gas",
            "Gas for one of its loads",
            "amount",
            "As on Users, for example {43 amount}",
            0,
            1e6,
        ),
        Input(
            "Draw_tolerance",
            "Largest draws are known to",
            "share",
            "95 % of them are this close; for example 10",
            0,
            100,
        ),
    ),
)

TYPED = (
    Sheet("Readings", "Level and pressure of every tank, every morning.", TYPE_HERE, (READINGS,)),
    Sheet("Orders", "One row an order; the truck's day when it has come.", TYPE_HERE, (ORDERS,)),
    Sheet(
        "Closed days",
        "Holidays and days off, of the plant and of the suppliers.",
        TYPE_HERE,
        (CLOSED,),
    ),
    Sheet("Users", "Who draws gas from which tank.", TYPE_HERE, (USERS,)),
    Sheet("Tanks", "Every tank, up to eight; a change is a new row.", TYPE_HERE, (TANKS,)),
    Sheet("Supply", "How each tank is supplied.", TYPE_HERE, (SUPPLY,)),
)

READ = (
    Sheet("Overview", "Every tank on one page.", READ_HERE, (OVERVIEW,)),
    Sheet(
        "Plan",
        "Sixty days of the tank shown.",
        READ_HERE,
        (LEVEL_CHART, PLAN),
        landscape=False,
    ),
    Sheet(
        "Forecast",
        "What each tank's use is expected to be, and how near such forecasts came.",
        READ_HERE,
        (COURSE_CHART, METHODS, COURSE),
        landscape=False,
    ),
    Sheet(
        "Risk",
        "What a level to order at risks and costs, for the tank shown.",
        READ_HERE,
        (RISK, RISK_CHART, COST_CHART),
        landscape=False,
    ),
    Sheet(
        "What if",
        "A truck that comes late, one more furnace, an order on another day.",
        READ_HERE,
        (WHAT_IF, DAY_CHART, BY_DAY),
        landscape=False,
    ),
    Sheet(
        "Peak and backup",
        "The largest draw against the vaporizer, and how long the backup lasts.",
        TYPE_HERE,
        (EQUIPMENT,),
    ),
)

BEHIND = (
    Sheet("Numbers", "Numbers that stand for themselves.", BACKGROUND, (SHOWN,)),
    Sheet("By tank", "What is known of each tank.", BACKGROUND, (BY,)),
    Sheet("Days", "The history day by day.", BACKGROUND, (DAYS_BACK,)),
    Sheet("Ahead", "Use and orders of the days to come.", BACKGROUND, (AHEAD,)),
    Sheet("Drawn", "What the trials of Risk draw from.", BACKGROUND, (TRIED, LEADS)),
)

SAID = "{First_says} {Second_says} {More_words}"


def _any(level: str) -> str:
    return f'COUNTIF({{By.Level}},"{level}")>0'


VERDICT = Sentence(
    "Answer",
    (
        Case(
            "{Tank_count}=0", "No tank is typed yet: fill in Tanks, Supply and Readings.", UNKNOWN
        ),
        Case(_any(ACT), SAID, ACT, firm=True),
        Case(_any(WATCH), SAID, WATCH),
        Case(_any(UNKNOWN), SAID, UNKNOWN),
        Case("", SAID, FINE),
    ),
)

MORE = Sentence(
    "More_words",
    (
        Case(
            "ISNUMBER({Dry_day})",
            "Even with every order of the plan {Shown_tank} runs dry on {Dry_day:ddd d mmm}.",
        ),
        Case("{Tank_count}>2", "All tanks: see Overview."),
        Case("", ""),
    ),
)


def _other(number: int) -> tuple[Row, ...]:
    """The numbers of one tank that other books ask for."""

    def of(column: str) -> str:
        return f"INDEX({{By.{column}}},{number})"

    return (
        Row(f"Other_tank_{number}", f"Tank {number}", f'{of("Tank")}&""'),
        Row(
            f"Other_day_{number}",
            "its use a day, losses in it",
            of("Drawn"),
            "amount",
            "Monthly gas use; Supply offers",
        ),
        Row(
            f"Other_drop_{number}",
            "a truck's load",
            f"{of('Truck')}/{of('Unit one')}",
            "amount",
            "Supply offers",
        ),
    )


OVERFILL = (
    "Never fill a tank above the level that its maker allows: liquid that warms in a full tank "
    "lifts the relief valves or worse. The driver stops at that level, whatever was ordered."
)
COLD = (
    "An overloaded or iced vaporizer sends cold gas or liquid into carbon steel, which turns "
    "brittle: a low-temperature shut-off belongs behind it."
)

BOOK = Book(
    name="bulk_tank_reorder",
    title="Bulk tank reorder",
    question="When must the truck come, how much fits, how likely is it that a tank runs short?",
    functions=(
        *("GAS_TANK_EVENTS", "GAS_FORECAST", "GAS_LEVEL_CHANGE", "GAS_REORDER_LEVEL"),
        *("GAS_TANK_PLAN", "GAS_REORDER_DATE", "GAS_RUNOUT_RISK", "GAS_DAYS_LEFT"),
        *("GAS_DELIVERY_SIM", "GAS_DELIVERED", "GAS_BOIL_OFF", "GAS_TANK_LIQUID", "GAS_DP_LEVEL"),
        *("GAS_VAPORIZER_DUTY", "GAS_DRAWN", "GAS_CONFORMS", "GAS_SITE_PRESSURE"),
    ),
    groups=(about(*WHEN), CLOSE, WHAT_IF_INPUTS),
    sheets=(*READ, *TYPED, *BEHIND),
    verdict=VERDICT,
    sentences=(MORE,),
    numbers=(
        Number("{Shown_tank}: contents", "S_now", "S_now_band", "liquid"),
        Number("Use a day", "S_daily", "S_daily_band", "liquid"),
        Number("Days to its reserve", "S_lasts", "S_lasts_band", "days"),
        Number("Chance of reaching it before a truck", "S_chance_share", kind="share"),
    ),
    chart=LEVEL_CHART,
    steps=(
        Step(
            "{Ready_count}<{Tank_count}",
            "Read every tank: {Ready_count} of {Tank_count} have a plan",
            "Readings",
        ),
        Step('COUNTIF({By.Level},"act")>0', "Order now, and write the order down", "Orders"),
        Step('COUNTIF({By.Level},"watch")>0', "See when the next tank is due", "Overview"),
        Step(
            'COUNTIF({Equipment.Within},"no")>0',
            "A draw is above its vaporizer's rating",
            "Peak and backup",
        ),
        Step("", "See what a higher or lower level risks and costs", "Risk"),
        Step("", "See what a late truck or a furnace more does", "What if"),
        Step("", "Read the tanks every morning", "Readings"),
    ),
    tests=(
        Test(
            "The tanks fit in",
            f"{{Tank_count}}>{MOST_TANKS}",
            f"there are {{Tank_count}} tanks; {MOST_TANKS} fit in",
            "Tanks",
        ),
        Test(
            "Every tank has a plan",
            "{Ready_count}<{Tank_count}",
            "{Ready_count} of {Tank_count} tanks have a plan; the sheet Overview says which",
            "Overview",
        ),
        Test(
            "No reading is after the plan's first day",
            'COUNTIFS({Readings.Date},">="&Plan_day+1,{Readings.Check},"ok")>0',
            "a reading is later than the morning on which the plan starts",
            "Readings",
        ),
        Test(
            "An order comes once",
            "MAX({By.Awaited})>1",
            "a tank has more than one order without its delivery: type the days they came",
            "Orders",
        ),
        Test(
            "No level to order at is above what the tank may hold",
            "{Short_tanks}>0",
            "{Short_tanks} tank(s) cannot hold what reserve, lead and service ask for",
            "Overview",
        ),
        Test(
            "The plan does not run short",
            "ISNUMBER({Dry_day})",
            "even with every order the tank shown runs dry on {Dry_day:d mmm}",
            "Plan",
        ),
    ),
    others=(*_other(1), *_other(2)),
    demo=demo,
    period="from {Plan_day:ddd d mmm yyyy}",
    cautions=(OVERFILL, COLD),
)
