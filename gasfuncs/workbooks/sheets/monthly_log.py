"""Monthly gas use: furnaces, recipes, the log, and use by day, furnace and recipe."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import (
    Block,
    Chart,
    Column,
    Row,
    Rule,
    Series,
    Table,
    helper,
    made,
)
from gasfuncs.workbooks.sheets.standard import (
    GASES,
    VALID_FROM,
    first_of_month,
    nth_new,
    valid_from,
    version_of,
)

MOST, MOST_VERSIONS, MOST_GASES = 40, 80, 4
"""Furnaces and recipes; versions of recipes; gases."""
TOPS = 7
"""Furnaces that have a colour of their own by day."""


GAS_LIST = Table(
    "GasList",
    (made("Gas", "text", 'IFERROR(INDEX({Tanks.Gas},SMALL({Tanks.New gas},{row})),"")'),),
    heading="Gases, in the order of Tanks",
    rows=MOST_GASES,
)

PERIOD = Block(
    "The report",
    (
        Row("Month_start", "Month", first_of_month("{Report_day}"), "month"),
        Row(
            "Report_end",
            "The morning after it",
            "MIN(INT({Report_day})+1,EDATE({Month_start},1))",
            "date",
        ),
        Row(
            "Year_start",
            "Year to date from",
            'IF(N({Report_day})=0,"",DATE(YEAR({Report_day}),1,1))',
            "date",
        ),
        Row("Month_use", "Gas used by cycles, all gases", "SUM({ByFurnace.Month})", "amount"),
        Row("Recipes_sum", "the same by recipe", "SUM({ByRecipe.Month})", "amount"),
        Row("Days_sum", "the same by day", "SUM({Days.All})", "amount"),
        Row(
            "Later_rows",
            "Log rows after the report",
            'COUNTIFS({Log.Check},"ok",{Log.Date},">="&{Report_end})',
            "count",
        ),
        Row("Twice_rows", "Log rows like another one", "SUM({Log.Twice})", "count"),
        Row("Furnace_count", "Furnaces", "COUNT({Furnaces.New})", "count"),
        Row("Recipe_count", "Recipes", "COUNT({Steps.New})", "count"),
        Row("Tank_count", "Tanks and meters", "COUNT({Tanks.New tank})", "count"),
        Row("Version_count", "their versions", "COUNT({Steps.New version})", "count"),
    ),
)

FURNACES = Table(
    "Furnaces",
    (
        Column("Furnace", prompt="Its name in this book, for example VF1"),
        VALID_FROM,
        Column("Gas", choices=GASES, prompt="The gas that it is filled with"),
        Column(
            "Free volume",
            "volume",
            "The chamber with its lines, less the load: what a backfill has to fill",
            low=0.001,
            high=10_000,
        ),
        *valid_from("Furnace"),
        helper("New", nth_new("Furnaces", "Furnace")),
        helper(
            "Gas number",
            "MATCH({Gas},{GasList.Gas},0)",
            result=True,
            number="whole",
        ),
    ),
    heading="Furnaces",
    rows=80,
    unique=("Furnace", "Valid from"),
)


def _typed(column: str, unit: str) -> str:
    return f'IF({{{column}}}="","",{{{column} as {unit}}})'


def _of_step(number: int) -> str:
    """What the step takes of a gas in 1 m3 of free volume."""
    gas = f"INDEX({{GasList.Gas}},{number})"
    call = f"GAS_CYCLE({gas},1,{{Step kind:Step control}},{{unit amount}})"
    return f'IF({gas}="",0,1*{call})'


STEPS = Table(
    "Steps",
    (
        Column("Recipe", prompt="The recipe's name, the same in all its steps", width=20),
        VALID_FROM,
        Column("Kind", choices=("backfill", "hold", "flow"), prompt="What the step does"),
        Column(
            "From",
            "fine_vacuum",
            "backfill: the pressure before it, for example {0.01 fine_vacuum}; hold: the pressure "
            "that is held",
            low=0,
            required=False,
        ),
        Column(
            "To",
            "gauge",
            "backfill: the pressure that it goes up to, by the gauge; below 0 for less than the "
            "air's",
            low=-1,
            high=60,
            required=False,
        ),
        Column(
            "Temperature",
            "temperature",
            "Of the gas when the pressure is reached; blank for {20 temperature}",
            low=-100,
            high=1500,
            required=False,
        ),
        Column(
            "Pumping",
            "pumping",
            "hold: the speed of the pump that runs meanwhile",
            low=0,
            required=False,
        ),
        Column("Flow", "flow", "flow: what the flow meter shows", low=0, required=False),
        Column("Hours", "hours", "hold or flow: how long", low=0, high=1000, required=False),
        Column(
            "Repeats",
            "count",
            "How often a load runs the step; blank for once",
            low=0,
            high=1000,
            required=False,
        ),
        Column(
            "Control",
            choices=("topped up", "one shot"),
            required=False,
            prompt="backfill: topped up, the pressure is held while the gas cools (blank is the "
            "same); one shot, the valve shuts when it is reached",
        ),
        *valid_from("Recipe"),
        helper("New", nth_new("Steps", "Recipe")),
        helper("Step kind", '{Kind}&""', "text"),
        helper("Step from", _typed("From", "bar(a)")),
        helper("Step to", _typed("To", "bar(a)")),
        helper("Step temperature", _typed("Temperature", "degC")),
        helper(
            "Step rate",
            'IF({Kind}="hold",{Pumping as m3/h},IF({Kind}="flow",{Flow as Nm3/h},""))',
        ),
        helper("Step hours", 'IF({Hours}="","",{Hours})'),
        helper("Step repeats", 'IF({Repeats}="","",{Repeats})'),
        helper("Step control", '{Control}&""', "text"),
        helper("New version", nth_new("Steps", "Version")),
        *(
            helper(
                f"In gas {number}",
                _of_step(number),
                "amount",
                result=number == 1,
            )
            for number in range(1, MOST_GASES + 1)
        ),
    ),
    heading="Steps of the recipes",
    rows=200,
    rules=(
        Rule('AND({Kind}="backfill",COUNT({From},{To})<2)', "a backfill needs From and To"),
        Rule(
            'AND({Kind}="hold",COUNT({From},{Pumping},{Hours})<3)',
            "a hold needs From, Pumping and Hours",
        ),
        Rule('AND({Kind}="flow",COUNT({Flow},{Hours})<2)', "a flow needs Flow and Hours"),
    ),
)


def _recipe_key(day: str) -> str:
    """The version of the row's recipe on a day."""
    steps = '{Steps.Since},{Steps.Recipe},{Recipe},{Steps.Since},"<="&'
    return f'{{Recipe}}&"|"&MAXIFS({steps}{day})'


def _of_version(kind: str, number: int) -> str:
    """The sum over a recipe version's steps in a gas, of 1 m3 of free volume."""
    steps = f'{{Steps.Version}},{{Version}},{{Steps.Kind}},"{kind}"'
    return f'IF({{Version}}="",0,SUMIFS({{Steps.In gas {number}}},{steps}))'


PER_LOAD = Table(
    "PerLoad",
    (
        helper("Step", 'IFERROR(SMALL({Steps.New version},{row}),"")'),
        made("Recipe", "text", 'IF({Step}="","",INDEX({Steps.Recipe},{Step}))', width=22),
        made("Since", "date", 'IF({Step}="","",INDEX({Steps.Since},{Step}))'),
        helper("Version", 'IF({Step}="","",INDEX({Steps.Version},{Step}))', "text"),
        *(
            made(f"Per m3, gas {number}", "amount", _of_version("backfill", number), number="two")
            for number in range(1, MOST_GASES + 1)
        ),
        *(
            made(
                f"Besides, gas {number}", "amount", _of_version("<>backfill", number), number="two"
            )
            for number in range(1, MOST_GASES + 1)
        ),
    ),
    heading="Gas of one load: by free volume, and besides",
    rows=MOST_VERSIONS,
)

ONE_LOAD = (
    "{Volume}*INDEX({PerLoad.Per m3, gas 1:Per m3, gas 4},{Recipe row},{Gas number})"
    "+INDEX({PerLoad.Besides, gas 1:Besides, gas 4},{Recipe row},{Gas number})"
)


def _one_load(day: str) -> tuple[Column, ...]:
    """Columns that give the gas of one load of the row's furnace and recipe as on a day."""
    return (
        helper("Furnace row", version_of("Furnaces", "{Furnace}", day), number="whole"),
        helper("Gas number", "INDEX({Furnaces.Gas number},{Furnace row})", number="whole"),
        helper("Free", "INDEX({Furnaces.Free volume},{Furnace row})", "volume"),
        helper("Volume", "{Free as m3}"),
        helper("Key", _recipe_key(day), "text"),
        helper("Recipe row", "MATCH({Key},{PerLoad.Version},0)", number="whole"),
        helper("Of one", ONE_LOAD, "amount"),
    )


LOG = Table(
    "Log",
    (
        Column("Date", "date", "The day of the cycles"),
        Column("Furnace", choices="ByFurnace.Furnace", prompt="As on Furnaces"),
        Column("Recipe", choices="ByRecipe.Recipe", prompt="As on Recipes", width=20),
        Column("Loads", "count", "How many loads ran that recipe that day", low=0, high=100),
        Column(
            "Measured",
            "amount",
            "What a flow meter or the furnace's own record tells for these loads, or a cycle that "
            "was aborted took, for example {43 amount}; blank: by the recipe",
            low=0,
            required=False,
        ),
        made("Gas", "text", "INDEX({Furnaces.Gas},{Furnace row})", width=11),
        made(
            "Use",
            "amount",
            "IF(ISNUMBER({Measured}),{Measured},{Loads}*{Of one})",
            result=True,
            number="one",
        ),
        *_one_load("{Date}"),
        helper(
            "Twice",
            "IF(AND({Date}>=Month_start,{Date}<Report_end),IF(COUNTIFS({Log.Date},{Date},"
            "{Log.Furnace},{Furnace},{Log.Recipe},{Recipe})>1,1,0),0)",
            number="whole",
        ),
    ),
    heading="Cycles",
    log=True,
)

PLAN = Table(
    "Plan",
    (
        Column("Furnace", choices="ByFurnace.Furnace", prompt="As on Furnaces"),
        Column("Recipe", choices="ByRecipe.Recipe", prompt="As on Recipes", width=20),
        Column("Loads", "count", "Loads planned for the month", low=0, high=10_000),
        made("Gas", "text", "INDEX({Furnaces.Gas},{Furnace row})"),
        made("Use", "amount", "{Loads}*{Of one}", result=True),
        *_one_load("EDATE(Month_start,1)"),
    ),
    heading="Loads planned for next month",
    rows=60,
)

IN_MONTH = '{Log.Date},">="&Month_start,{Log.Date},"<"&Report_end'
IN_YEAR = '{Log.Date},">="&Year_start,{Log.Date},"<"&Report_end'


def _of(name: str, what: str, period: str) -> str:
    return (
        f'IF({{{name}}}="","",SUMIFS({{Log.{what}}},{{Log.{name}}},{{{name}}},'
        f'{{Log.Check}},"ok",{period}))'
    )


BY_FURNACE = Table(
    "ByFurnace",
    (
        made(
            "Furnace", "text", 'IFERROR(INDEX({Furnaces.Furnace},SMALL({Furnaces.New},{row})),"")'
        ),
        made("Loads", "count", _of("Furnace", "Loads", IN_MONTH)),
        made("Month", "amount", _of("Furnace", "Use", IN_MONTH)),
        made("Year", "amount", _of("Furnace", "Use", IN_YEAR)),
        helper("Order", 'IF({Furnace}="","",{Month}-{row}/1000000)'),
    ),
    heading="By furnace",
    rows=MOST,
)

BY_RECIPE = Table(
    "ByRecipe",
    (
        made(
            "Recipe", "text", 'IFERROR(INDEX({Steps.Recipe},SMALL({Steps.New},{row})),"")', width=22
        ),
        made("Loads", "count", _of("Recipe", "Loads", IN_MONTH)),
        made("Month", "amount", _of("Recipe", "Use", IN_MONTH)),
        made("Year", "amount", _of("Recipe", "Use", IN_YEAR)),
    ),
    heading="By recipe",
    rows=MOST,
    beside=True,
)


def _top(number: int) -> Row:
    order = "{ByFurnace.Order}"
    found = f"INDEX({{ByFurnace.Furnace}},MATCH(LARGE({order},{number}),{order},0))"
    return Row(f"Top_{number}", f"Largest user {number}", f'IFERROR({found}," ")')


TOP = Block("Colours of the chart by day", tuple(_top(number) for number in range(1, TOPS + 1)))


def _day_of(number: int) -> str:
    day = '{Log.Date},">="&{Day},{Log.Date},"<"&{Day}+1'
    return (
        f'IF(OR({{Day}}="",Top_{number}=" "),0,SUMIFS({{Log.Use}},{{Log.Furnace}},Top_{number},'
        f'{{Log.Check}},"ok",{day}))'
    )


DAYS = Table(
    "Days",
    (
        made(
            "Day",
            "date",
            'IF(N(Month_start)=0,"",IF(Month_start+{row}-1<Report_end,Month_start+{row}-1,""))',
            number="day",
        ),
        *(
            made(f"User {number}", "amount", _day_of(number), number="daily")
            for number in range(1, TOPS + 1)
        ),
        made("Others", "amount", "{All}-SUM({User 1:User 7})", number="daily"),
        made(
            "All",
            "amount",
            'IF({Day}="",0,SUMIFS({Log.Use},{Log.Check},"ok",{Log.Date},">="&{Day},'
            '{Log.Date},"<"&{Day}+1))',
            number="of_day",
        ),
    ),
    heading="Use by day; users in the order of Use",
    rows=31,
)

DAYS_CHART = Chart(
    "column",
    "Gas used by day, {unit amount}",
    "Day of the month",
    "Gas used, {unit amount}",
    "Gas used on each day of the month, stacked by furnace.",
    (
        *(
            Series(f"=Top_{number}", f"Days.User {number}", "Days.Day")
            for number in range(1, TOPS + 1)
        ),
        Series("Others", "Days.Others", "Days.Day"),
    ),
    subtype="stacked",
    x={"num_format": "d", "date_axis": False},
    y={"num_format": "#,##0"},
    keys=True,
)
