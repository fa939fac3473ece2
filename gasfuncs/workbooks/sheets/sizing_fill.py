"""Reservoir and line sizing: the fill, its band, what the controller must do, what if."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import Block, Chart, Row, Series, Table, helper, made
from gasfuncs.workbooks.sheets.sizing_inputs import TOPPED_UP, fill
from gasfuncs.workbooks.sheets.standard import NORMAL, conforms

POINTS = 25
CURVE = f"GAS_BACKFILL_CURVE({fill()},{POINTS})"


def _course(column: int) -> str:
    return f"INDEX({CURVE},{{row}}+1,{column})"


def gap(value: str) -> str:
    """A value for a chart: a gap where there is none."""
    return f"IFERROR({value},NA())"


COURSE = Table(
    "Course",
    (
        helper("Seconds", _course(1)),
        helper("In bar", _course(2)),
        helper("Out bar", _course(3)),
        helper("Nm3/h", _course(4)),
        helper("In C", _course(6)),
        helper("Out C", _course(7)),
        helper("Held", _course(8)),
        made("Time", "seconds", gap("{Seconds}"), number="two"),
        made("Furnace", "gauge", gap("{In bar}-{Site_bar}"), answers="bar(g)", number="two"),
        made("Reservoir", "gauge", gap("{Out bar}-{Site_bar}"), answers="bar(g)", number="two"),
        made("Flow", "flow", "{Nm3/h}", answers="Nm3/h", number="whole"),
        made("Choked", "text", f'IF({_course(5)},"yes","no")'),
        made(
            "Furnace gas",
            "temperature",
            'GAS_CONVERT({In C},"degC",{unit temperature})',
            number="whole",
        ),
        made(
            "Reservoir gas",
            "temperature",
            'GAS_CONVERT({Out C},"degC",{unit temperature})',
            number="whole",
        ),
        made("Heat", "conductance", _course(10), answers="W/K"),
        helper("Wanted", "{Pressure_to}"),
    ),
    heading="From the opening of the valve until the gauge first reads the pressure",
    rows=POINTS,
)

COURSE_CHART = Chart(
    "scatter",
    "Pressures during the fill",
    "Time, s",
    "By the gauge, {unit gauge}",
    "Pressure of the reservoir falling and of the furnace rising over the time of the fill, with "
    "the pressure that is wanted as a broken line.",
    (
        Series("Reservoir", "Course.Reservoir", "Course.Time", dots=False),
        Series("Furnace", "Course.Furnace", "Course.Time", dots=False),
        Series("Wanted", "Course.Wanted", "Course.Time", limit=True),
    ),
    subtype="straight",
    x={"num_format": "0", "min": 0},
    y={"num_format": "0"},
)

SETTLING = "{Gas},{To_bar}"
WARMER = "MAX({End_C},{Settled_C})"
HELD = "{Gas},{Free_m3},{From_bar},{To_bar},{Settled_C},{Walls_C},,"
WRONG = 'IF({Inputs_wrong}>0,"see Inputs"'
CONFORMS = conforms("{Time_now}", "{Time_u}", "{Time_wanted}")
NEXT = 'IF(COUNT({Pipes.Sure})=0,"none",MIN({Pipes.Sure}))'

KNOWN_ROWS = (
    ("reservoir's volume", 2, '"±"&{Reservoir_within}&" % 95%"'),
    ("reservoir's gauge", 3, '"±"&{Gauge_within}&" % 95%"'),
    ("free volume", 4, '"±"&{Free_within}&" % 95%"'),
    ("furnace's gauge", 6, '"±"&{Gauge_within}&" % 95%"'),
    ("bore", 7, '"±"&{Bore_within}&" % 95%"'),
    ("fittings", 9, '"±"&{Fittings_within}&" % 95%"'),
    ("temperature of the walls", 15, '"±"&{Walls_within}&" "&{unit kelvins}&" 95%"'),
    ("heat to the walls", 16, '"±"&ROUND(100*LN({Heat_within}),1)&" % 95%"'),
    ("quench valve", 20, 'IF({Kv}="","","±"&{Valve_within}&" % 95%")'),
)
"""What is known, its place among the arguments, its tolerance."""
BORE_ROW = 9
"""Of the bore in the table of the band."""

TOLERANCES = Block(
    "Tolerances as the functions take them",
    tuple(
        Row(f"Within_{number}", what.capitalize(), tolerance)
        for number, (what, _, tolerance) in enumerate(KNOWN_ROWS, 1)
    ),
)


def choose(texts: list[str]) -> str:
    """A formula for the text of each row."""
    return "CHOOSE({row}," + ",".join(texts) + ")"


_PLACED = {place: f"{{Within_{number}}}" for number, (_, place, _) in enumerate(KNOWN_ROWS, 1)}

ARGUMENTS = Table(
    "Arguments",
    (made("Tolerance", "text", choose([_PLACED.get(at, '""') for at in range(1, 21)])),),
    heading="The same, one an argument of the fill",
    rows=20,
)

BAND_CALL = (
    'GAS_UNCERTAINTY("GAS_BACKFILL_TIME",{Arguments.Tolerance},' + fill(heat="{Heat_told}") + ")"
)

BUDGET = Table(
    "Budget",
    (
        made("Known", "text", choose([f'"{what}"' for what, *_ in KNOWN_ROWS]), width=26),
        made(
            "Tolerance",
            "text",
            choose([f"{{Within_{at}}}" for at in range(1, len(KNOWN_ROWS) + 1)]),
        ),
        made("Brings", "share", f"IFERROR(100*INDEX({BAND_CALL},{{row}}+4,8),0)", number="whole"),
    ),
    heading="What the band of the time comes from",
    rows=len(KNOWN_ROWS),
)

ENDS = Table(
    "Ends",
    (
        helper("Passes", "{Heat_told}*IF({row}=1,{Heat_within},1)"),
        helper("Warm", "{Walls_C}+IF({row}=2,{Walls_within as K},0)"),
        made(
            "End C",
            "number",
            f"INDEX(GAS_BACKFILL_CURVE({fill(walls='{Warm}', heat='{Passes}')},2),3,6)",
            number="one",
        ),
        made("Bar", "number", f"GAS_SETTLED_PRESSURE({SETTLING},{{End C}},{{Settled_C}})"),
    ),
    heading="How the gas ends with more heat, and with hotter walls",
    rows=2,
)

TIME = Block(
    "The time of the fill",
    (
        Row(
            "Time_now",
            "Until the gauge first reads the pressure",
            "INDEX({Cases.Time},1)",
            "seconds",
            number="two",
        ),
        Row(
            "Time_band",
            "its 95 % band, half width",
            f"{NORMAL}*{{Time_u}}",
            "seconds",
            "",
            "",
            number="two",
        ),
        Row("Time_verdict", "In the time wanted?", CONFORMS),
        Row(
            "Time_why",
            "What is wrong with it",
            f'{WRONG},IF(ISNUMBER({{Time_now}}),"nothing",GAS_CHECK("GAS_BACKFILL_TIME",{fill()})))',
        ),
        Row(
            "Most_of_it",
            "Most of the band comes from",
            "INDEX({Budget.Known},MATCH(MAX({Budget.Brings}),{Budget.Brings},0))",
        ),
        Row(
            "Bore_needed",
            "Smallest bore for the time wanted",
            f"GAS_LINE_BORE({fill(before='{Time_wanted}')})",
            "bore",
            answers="mm",
            number="two",
        ),
        Row(
            "Bore_band",
            "its 95 % band, half width",
            "{Bore_needed}*{Relative_band}/{Steepness}",
            "bore",
            number="two",
        ),
        Row(
            "Bore_why",
            "What is wrong with it",
            f'{WRONG},IF(ISNUMBER({{Bore_needed}}),"nothing",GAS_CHECK("GAS_LINE_BORE",'
            f"{fill(before='{Time_wanted}')})))",
        ),
        Row("Next_bore", "Narrowest pipe that is sure to do", NEXT, "bore"),
        Row(
            "Next_size",
            "its name",
            'IFERROR(INDEX({Pipes.Size},MATCH({Next_bore},{Pipes.Sure},0)),"none of Pipes")',
        ),
    ),
)

CONTROLLER = Block(
    "What the controller must do",
    (
        Row(
            "End_gas",
            "Gas in the furnace when the gauge first reads it",
            'GAS_CONVERT({End_C},"degC",{unit temperature})',
            "temperature",
            number="whole",
        ),
        Row(
            "Settles_to",
            "Shut off then, the pressure settles to",
            "{Settled_bar}-{Site_bar}",
            "gauge",
            answers="bar(g)",
            number="two",
        ),
        Row(
            "Settles_band",
            "its 95 % band, half width",
            "{Settled_band}",
            "gauge",
            "From heat, walls and gauge",
            "bar(g)",
            number="two",
        ),
        Row(
            "Top_up",
            "Gas that holding the pressure takes until then",
            f"GAS_TOP_UP({{Gas}},{{Free_m3}},{{To_bar}},{WARMER},{{Settled_C}},{{unit amount}})",
            "amount",
            number="one",
        ),
        Row(
            "Top_band",
            "its 95 % band, half width",
            "{Top_up}*{Settled_band}/MAX(0.001,{To_bar}-{Settled_bar})",
            "amount",
            number="one",
        ),
        Row(
            "Stop_at",
            "To settle at the pressure wanted one shot would stop near",
            "{Stop_bar}-{Site_bar}",
            "gauge",
            "Never above what the furnace may bear",
            "bar(g)",
            number="one",
        ),
        Row(
            "Gas_fill",
            "Gas for one fill",
            f'IF({{Control}}="{TOPPED_UP}",{{Gas_held}},{{Gas_shot}})',
            "amount",
            "As it is controlled",
            number="one",
        ),
        Row(
            "After_fill",
            "Reservoir when the gauge first reads the pressure",
            "INDEX({Course.Reservoir},{Points})",
            "gauge",
            number="two",
        ),
        Row(
            "Recharge",
            "Time to recharge it",
            'IF({Supply}=0,"none",{Gas_fill as Nm3}/{Supply})',
            "hours",
            number="two",
        ),
    ),
)

BEHIND = Block(
    "Numbers behind it",
    (
        Row("Points", "Points of the course", f"{POINTS}", "count"),
        Row("End_C", "Gas at the end of the fill, degC", "INDEX({Course.In C},{Points})", "number"),
        Row("Heat", "Mean conductance", "AVERAGE({Course.Heat})", "conductance"),
        Row("Heat_told", "Mean conductance, W/K", "{Heat as W/K}", "number"),
        Row("Mean_time", "Time with it, s", f"INDEX({BAND_CALL},2,3)", "number"),
        Row("Mean_u", "Its standard uncertainty, s", f"INDEX({BAND_CALL},2,4)", "number"),
        Row("Method_u", "Of the equations", f"{{Method_within}}/100/{NORMAL}", "number"),
        Row(
            "Relative_u",
            "Standard uncertainty of a time, as a share",
            "SQRT(({Mean_u}/{Mean_time})^2+{Method_u}^2)",
            "number",
        ),
        Row(
            "Relative_band", "95 % band of a time, as a share", f"{NORMAL}*{{Relative_u}}", "number"
        ),
        Row(
            "Time_ok",
            "Sure to be in time?",
            'IFERROR(IF({Time_verdict}="yes",1,0),0)',
            "count",
        ),
        Row("Time_u", "Standard uncertainty of the time, s", "{Time_now}*{Relative_u}", "number"),
        Row(
            "Steepness",
            "A time falls with that power of the bore",
            f"-INDEX({BAND_CALL},{BORE_ROW},10)*{{Bore_mm}}/{{Mean_time}}",
            "number",
        ),
        Row(
            "Settled_bar",
            "Settled, bar(a)",
            f"GAS_SETTLED_PRESSURE({SETTLING},{{End_C}},{{Settled_C}})",
            "number",
        ),
        Row(
            "Settled_band",
            "Its 95 % band, half width, bar",
            "SQRT((INDEX({Ends.Bar},1)-{Settled_bar})^2+(INDEX({Ends.Bar},2)-{Settled_bar})^2"
            "+({Settled_bar}*{Gauge_within}/100)^2)",
            "number",
        ),
        Row(
            "Stop_bar",
            "One shot would stop near, bar(a)",
            f"GAS_SETTLED_PRESSURE({SETTLING},{{Settled_C}},{{End_C}})",
            "number",
        ),
        Row("Allowed_bar", "Furnace may bear, bar(a)", "{Vessel_allowed as bar(a)}", "number"),
        Row(
            "Gas_held",
            "Gas of a fill that is topped up",
            f"GAS_BACKFILL({HELD},{{unit amount}})",
            "amount",
        ),
        Row(
            "Gas_shot",
            "Gas of one shot",
            "INDEX({Course.Held},{Points})-INDEX({Course.Held},1)",
            "amount",
            answers="Nm3",
        ),
    ),
)
