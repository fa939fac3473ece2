"""Bulk tank reorder: each tank's use so far, its use to come, its orders of sixty days."""

from __future__ import annotations

from collections.abc import Callable

from gasfuncs.workbooks.sheets.parts import Case, Column, Table, helper, made, words
from gasfuncs.workbooks.sheets.reorder_typed import LOADS
from gasfuncs.workbooks.sheets.standard import NORMAL, RECTANGULAR, version_of

MOST_TANKS = 8
BACK, DAYS = 84, 60
"""Days of the history, and of the plan."""
FORECAST_DAYS = DAYS + 10
BAND = 0.9
REACH = 1.645
"""Standard deviations from the middle to an end of that band."""
ENOUGH_ORDERS = 5
"""From so many deliveries on their times are taken in place of the supplier's word."""
MONTH = 28
"""Days of the mean use: whole weeks."""


def _each(name: str, kind: str, formula: Callable[[int], str]) -> tuple[Column, ...]:
    """A column a tank; blank where there is no tank."""
    return tuple(
        made(f"{name} {tank}", kind, f'IF(INDEX({{By.Tank}},{tank})="","",{formula(tank)})')
        for tank in range(1, MOST_TANKS + 1)
    )


def every(table: str, name: str) -> str:
    """The columns of all tanks."""
    return f"{{{table}.{name} 1:{name} {MOST_TANKS}}}"


def _of(column: str, tank: int) -> str:
    return f"INDEX({{By.{column}}},{tank})"


def _of_row(table: str, name: str) -> str:
    """The column of the row's tank."""
    return f"INDEX({every(table, name)},0,{{No}})"


def _good(tank: int) -> str:
    return f'{{Readings.Tank}},{_of("Tank", tank)},{{Readings.Check}},"ok",{{Readings.Date}}'


def _read_on(tank: int) -> str:
    day = f'{_good(tank)},">="&{{Day}},{{Readings.Date}},"<"&{{Day}}+1'
    return f"MINIFS({{Readings.Date}},{day})"


def _read(column: str, tank: int) -> str:
    at = f"{{At {tank}}}"
    return f'IF({at}=0,"",AVERAGEIFS({{Readings.{column}}},{_good(tank)},{at}))'


def _used(tank: int) -> str:
    events = (
        f"GAS_TANK_EVENTS({{Days.Time {tank}}},{{Days.Level {tank}}},{_of('Gas', tank)},"
        f"{_of('Litres', tank)},{{Days.Bar {tank}}})"
    )
    amount = f"INDEX({events},{{Day}}-{_of('Shift', tank)},4)"
    known = f"AND({{Day}}>={_of('From', tank)},{{Day}}<{_of('To', tank)})"
    return f'IF({known},MAX(0,{amount}),"")'


DAYS_BACK = Table(
    "Days",
    (
        made("Day", "date", f"INT(Plan_day)+{{row}}-{BACK + 1}", number="day"),
        *_each("At", "number", _read_on),
        *_each("Time", "number", lambda tank: f'IF({{At {tank}}}=0,"",{{At {tank}}})'),
        *_each("Level", "number", lambda tank: _read("Litres", tank)),
        *_each("Bar", "number", lambda tank: _read("Bar", tank)),
        *_each("Used", "number", _used),
        *_each("Known", "number", lambda t: f'IF(ISNUMBER({{Used {t}}}),{{Day}},"")'),
    ),
    heading="Readings day by day in L and bar(a), and what left each tank in Nm3",
    rows=BACK + 1,
)


def _forecast(tank: int, column: int) -> str:
    call = (
        f"GAS_FORECAST({{Days.Known {tank}}},{{Days.Used {tank}}},{FORECAST_DAYS},{{Closed.Past}},"
        f"{BAND})"
    )
    return f"INDEX({call},{{Day}}-{_of('Last', tank)}+2,{column})*{_of('One', tank)}"


def _expected(tank: int) -> str:
    """Liquid that a day uses, by the tank's history or by the loads, with what evaporates."""
    weekday = f"INDEX({{By.On 1:On 7}},{tank},WEEKDAY({{Day}},2))"
    loads = f"{{Share}}*{weekday}+{_of('Evaporates', tank)}"
    return f'IF({_of("Use by", tank)}="{LOADS}",{loads},{{Share}}*{{Mean {tank}}})'


def _scatter(tank: int) -> str:
    planned = f"Plan_spread/100*{{Use {tank}}}"
    known = f"{{Share}}*({{High {tank}}}-{{Mean {tank}}})/{REACH}"
    return f'IF({_of("Use by", tank)}="{LOADS}",{planned},{known})'


def _total(tank: int) -> str:
    return f'SUMIFS({{Ahead.Use {tank}}},{{Ahead.Line}},"<="&{{Line}})'


def _window(tank: int) -> str:
    """Use a day from an order on this day to its truck."""
    last = f"{{row}}+{_of('Whole', tank)}-1"
    total = f"INDEX({{Ahead.Total {tank}}},{last})-{{Total {tank}}}+{{Use {tank}}}"
    return f'IF({last}>{DAYS},"",({total})/{_of("Whole", tank)})'


def _order(tank: int) -> str:
    """The order of a day, by the plan of its tank."""
    arguments = (
        *("Plan_day", _of("Open", tank), f"{{Ahead.Use {tank}}}", _of("Order at", tank)),
        *(_of("Whole", tank), _of("Truck", tank), _of("Most", tank), "0", "1"),
        *(_of("Taken", tank), _of("Come", tank), "{Closed.No truck}", _of("Least", tank)),
    )
    return f"INDEX(GAS_TANK_PLAN({','.join(arguments)}),{{Line}},7)"


def _orders() -> tuple[Column, ...]:
    return tuple(made(f"Order {tank}", "liquid", _order(tank)) for tank in range(1, MOST_TANKS + 1))


CLOSED_ON = '{Closed.Date},{Day},{Closed.Use},">=0",{Closed.Check},"ok"'

AHEAD = Table(
    "Ahead",
    (
        made("Day", "date", "INT(Plan_day)+{row}-1", number="day"),
        made("Line", "count", "{row}+1"),
        made(
            "Share",
            "number",
            f"IF(COUNTIFS({CLOSED_ON})=0,1,SUMIFS({{Closed.Use}},{CLOSED_ON})/100)",
            number="two",
        ),
        *_each("Mean", "liquid", lambda tank: _forecast(tank, 2)),
        *_each("High", "liquid", lambda tank: _forecast(tank, 4)),
        *_each("Use", "liquid", _expected),
        *_each("Scatter", "liquid", _scatter),
        *_each("Total", "liquid", _total),
        *_each("Window", "liquid", _window),
        *_orders(),
    ),
    heading="The days to come, tank by tank in the order of Tanks",
    rows=DAYS,
)


def _now(column: str) -> Column:
    """What Tanks says of the row's tank today."""
    return made(column, "text", f'INDEX({{Tanks.{column}}},{{At}})&""')


def _supplied(name: str, column: str, kind: str) -> Column:
    return made(name, kind, f"INDEX({{Supply.{column}}},{{Row}})")


EVENTS = (
    f"GAS_TANK_EVENTS({_of_row('Days', 'Time')},{_of_row('Days', 'Level')},{{Gas}},{{Litres}},"
    f"{_of_row('Days', 'Bar')})"
)
OF_TANK = '{Readings.Tank},{Tank},{Readings.Check},"ok",{Readings.Date}'
TAKEN = '{Orders.Tank},{Tank},{Orders.Check},"ok",{Orders.Took},">=0"'
AWAITED = '{Orders.Tank},{Tank},{Orders.Check},"ok",{Orders.Open},1'
USE_OF_MONTH = f'SUMIFS({_of_row("Ahead", "Use")},{{Ahead.Line}},"<={MONTH + 1}")'


def _if_tank(*columns: Column) -> tuple[Column, ...]:
    """Columns that are blank where there is no tank."""
    return tuple(
        made(each.name, each.kind, f'IF({{Tank}}="","",{each.formula})', number=each.number)
        for each in columns
    )


IN_TANK = _if_tank(
    made("At", "count", version_of("Tanks", "{Tank}", "Plan_day")),
    _now("Gas"),
    _now("Use by"),
    made("Size", "liquid", "INDEX({Tanks.Capacity},{At})"),
    made("Litres", "number", "{Size as L(liq)}"),
    made("Most", "liquid", "INDEX({Tanks.Most fill},{At})/100*{Size}"),
    made("Reserve", "liquid", "INDEX({Tanks.Reserve},{At})"),
    made("Read", "date", f'MAXIFS({{Readings.Date}},{OF_TANK},"<"&Plan_day+1)'),
    made("Age", "days", 'IF({Read}=0,"",MAX(0,Plan_day-{Read}))'),
    made("Liquid", "liquid", f"AVERAGEIFS({{Readings.Liquid}},{OF_TANK},{{Read}})"),
    made("Bar", "number", f"AVERAGEIFS({{Readings.Bar}},{OF_TANK},{{Read}})"),
    made("One", "number", 'GAS_LEVEL_CHANGE({Gas},1,{Bar},"",{unit liquid})'),
    made("Skip", "count", f'MATCH("use",INDEX({EVENTS},0,1),0)'),
    made("First", "date", f"INDEX({EVENTS},{{Skip}},2)"),
    made("From", "count", "IF(ISNUMBER({First}),{First},99999)"),
    made("To", "count", "INT({Read})"),
    made("Shift", "count", "{First}-{Skip}"),
    made(
        "Last",
        "date",
        f'IF(COUNT({_of_row("Days", "Known")})=0,"",MAX({_of_row("Days", "Known")})+1)',
    ),
    made(
        "Evaporates",
        "liquid",
        'GAS_BOIL_OFF({Litres},INDEX({Tanks.Evaporation},{At})/100,1,1,"","",{unit liquid})',
        number="one",
    ),
    *(
        made(
            f"On {day}",
            "liquid",
            f'SUMIFS({{Users.On {day}}},{{Users.Tank}},{{Tank}},{{Users.Check}},"ok")*{{Unit one}}',
        )
        for day in range(1, 8)
    ),
    made("Unit one", "number", 'GAS_LEVEL_CHANGE({Gas},"1 "&{unit amount},{Bar},"",{unit liquid})'),
)

SUPPLIED = _if_tank(
    made("Row", "count", "MATCH({Tank},{Supply.Tank},0)"),
    _supplied("Load", "Truck", "liquid"),
    made("Brings", "number", 'GAS_DELIVERED({Gas},{Load}&" "&{unit liquid})'),
    made("Truck", "liquid", "{Brings}*{One}"),
    made("Least", "liquid", "N(INDEX({Supply.Least load},{Row}))*{Truck}/{Load}"),
    _supplied("Taken", "Orders taken", "text"),
    _supplied("Come", "Trucks come", "text"),
    made("Service", "number", "INDEX({Supply.Service},{Row})/100", number="three"),
    made("Orders", "count", f"COUNTIFS({TAKEN})"),
    made(
        "Lead",
        "days",
        f"IF({{Orders}}<{ENOUGH_ORDERS},INDEX({{Supply.Lead}},{{Row}}),"
        f"AVERAGEIFS({{Orders.Took}},{TAKEN}))",
    ),
    made(
        "Varies",
        "days",
        f"IF({{Orders}}<{ENOUGH_ORDERS},INDEX({{Supply.Lead varies by}},"
        "{Row}),SQRT(MAX(0,{Squares}-{Orders}*{Lead}^2)/({Orders}-1)))",
    ),
    made("Squares", "number", f"SUMIFS({{Orders.Square}},{TAKEN})", number="one"),
    made("Whole", "count", "MAX(1,ROUNDUP({Lead},0))"),
    made("Awaited", "count", f"COUNTIFS({AWAITED})"),
    made(
        "Due",
        "date",
        f'IF({{Awaited}}>0,MAX(INT(Plan_day),MAXIFS({{Orders.Ordered}},{AWAITED})+{{Whole}}),"")',
    ),
)

STATE = _if_tank(
    made("Daily", "liquid", f"{USE_OF_MONTH}/{MONTH}"),
    made("Drawn", "amount", "{Daily}/{Unit one}"),
    made("Now", "liquid", "MAX(0,{Liquid}-{Age}*{Daily})"),
    made("Off", "liquid", f"Level_tolerance/100*{{Size}}/{RECTANGULAR}"),
    made("Coming", "liquid", "MIN({Awaited}*{Truck},MAX(0,{Most}-{Now}))"),
    made("Open", "liquid", "MIN({Now}+{Coming},{Most})"),
    made("Scatter", "liquid", f"SQRT(SUMSQ({_of_row('Ahead', 'Scatter')})/{DAYS})"),
    made("Busy", "liquid", f"MAX({_of_row('Ahead', 'Window')})"),
    made(
        "Order at",
        "liquid",
        "GAS_REORDER_LEVEL({Busy},{Scatter},{Lead},{Varies},{Service},{Reserve},Review)",
    ),
    made("Line", "count", f'MINIFS({{Ahead.Line}},{_of_row("Ahead", "Order")},">0")'),
    made(
        "Sound",
        "count",
        'IF(AND(COUNTIFS({Supply.Tank},{Tank},{Supply.Check},"ok")=1,'
        'INDEX({Tanks.Check},{At})="ok"),1,0)',
    ),
    made(
        "Planned",
        "count",
        f"IF(ISNUMBER({{Order at}}),IF({{Order at}}>={{Most}},{DAYS},"
        f"COUNT({_of_row('Ahead', 'Order')})),0)",
    ),
    made(
        "Ready",
        "count",
        "IF(AND({Sound}=1,N({Age})<=Reading_age,"
        f"COUNT({_of_row('Ahead', 'Use')})={DAYS},{{Planned}}={DAYS},"
        "COUNT({Now},{Order at},{Truck})=3),1,0)",
    ),
    made("Order by", "date", 'IF({Line}>1,INT(Plan_day)+{Line}-2,"")', number="day"),
    made(
        "Order", "liquid", f'IF({{Line}}>1,INDEX({every("Ahead", "Order")},{{Line}}-1,{{row}}),"")'
    ),
    made("Ask", "liquid", 'IF({Line}>1,FLOOR({Order}/{Truck}*{Load},10),"")'),
    made(
        "Arrives",
        "date",
        'IF({Line}>1,GAS_REORDER_DATE({Order by}+{Whole},0,1,1,0,{Come},"",{Closed.No truck}),"")',
        number="day",
    ),
    made("Next truck", "date", 'IF({Awaited}>0,{Due},IF({Line}>1,{Arrives},""))', number="day"),
    made("Wait", "days", 'IF(ISNUMBER({Next truck}),{Next truck}-INT(Plan_day),"")'),
    made(
        "Until",
        "liquid",
        f"IF(N({{Wait}})<1,{{Daily}},INDEX({every('Ahead', 'Total')},"
        f"MIN({DAYS},{{Wait}}),{{row}})/MIN({DAYS},{{Wait}}))",
    ),
    made("Chance", "number", 'IF(ISNUMBER({Wait}),{Risk},"")', number="three"),
    made("Risk", "number", "GAS_RUNOUT_RISK({Now},{Until},{Scatter},{Wait},{Varies},{Reserve})"),
    made("Lasts", "days", "GAS_DAYS_LEFT({Now},{Daily},0,{Reserve})"),
    made("Lasts band", "days", f"{NORMAL}*SQRT({{Lasts}}*{{Scatter}}^2+{{Off}}^2)/{{Daily}}"),
)

SAID = (
    helper("Too small", "IF(N({Ready})=1,IF({Order at}>={Most},1,0),0)", number="whole"),
    helper(
        "Level",
        'IF({Tank}="","",IF({Ready}=0,"cannot tell",IF(OR({Now}<={Reserve},{Order at}>={Most}),'
        '"act",IF({Awaited}>0,IF({Chance}>1-{Service},"watch","in order"),{Due level}))))',
        "text",
    ),
    helper(
        "Due level",
        'IF({Line}<2,"in order",IF({Line}<3,"act",IF({Line}<6,"watch","in order")))',
        "text",
    ),
    helper(
        "Urgency",
        'IF({Tank}="","",IF({Ready}=0,9000,IF({Level}="act",0,IF({Line}<2,5000,{Line})))+{row})',
    ),
    words(
        "Trouble",
        Case('{Tank}=""', ""),
        Case("{Ready}=0", "{Tank}: cannot tell, {Why}."),
        Case("{Now}<={Reserve}", "{Tank} is down to its reserve: call {Whom} now."),
        Case(
            "{Order at}>={Most}",
            "{Tank} cannot hold what reserve, lead and service ask for.",
        ),
        helper=True,
    ),
    words(
        "Why",
        Case("N({Read})=0", "it has no reading"),
        Case("N({Age})>Reading_age", "its last reading is {Age:0} days old"),
        Case("{Sound}=0", "see its rows on Tanks and on Supply"),
        Case("", "its use is not known: 14 days of readings, or its users"),
        helper=True,
    ),
    helper("Whom", 'INDEX({Supply.Supplier},{Row})&""', "text"),
    words(
        "Risk told",
        Case("{Chance}<0.001", "chance of reaching the reserve before it below 0.1%."),
        Case("", "chance of reaching the reserve before it {Chance:0.0%}."),
        helper=True,
    ),
    words("Due told", Case("", "{Tank}: a truck is due {Due:ddd d mmm}; {Risk told}"), helper=True),
    words(
        "By told",
        Case("{Line}=2", "order today"),
        Case("", "order by {Order by:ddd d mmm}"),
        helper=True,
    ),
    words(
        "Ordering",
        Case("{Awaited}>0", "{Due told}"),
        Case("{Line}<2", f"{{Tank}}: no order is needed in the next {DAYS} days."),
        Case("", "{Tank}: {By told}: {Truck told}"),
        helper=True,
    ),
    words(
        "Truck told",
        Case(
            "",
            "{Ask:#,##0} {unit liquid} by the ticket. The truck comes on {Arrives:ddd d mmm}; "
            "{Risk told}",
        ),
        helper=True,
    ),
    helper("Says", 'IF({Tank}="","",IF({Trouble}<>"",{Trouble},{Ordering}))', "text"),
)

BY = Table(
    "By",
    (
        made("No", "count", "{row}"),
        made("Place", "count", 'IFERROR(SMALL({Tanks.New tank},{No}),"")'),
        made("Tank", "text", 'IF({Place}="","",INDEX({Tanks.Tank},{Place}))'),
        *IN_TANK,
        *SUPPLIED,
        *STATE,
        *SAID,
    ),
    heading="What is known of each tank",
    rows=MOST_TANKS,
)
