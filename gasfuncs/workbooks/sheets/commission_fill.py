"""Reservoir commissioning: the air that is left, by which way, and the slow fill."""

from __future__ import annotations

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
from gasfuncs.workbooks.sheets.standard import NORMAL, conforms

AIR = "1000000"
"""ppm of air in air."""
OXYGEN = "0.2095"
"""Of air."""
WAYS = 8
"""One deep evacuation, and pumped and filled once to seven times."""
STEPS = 6
"""Half an atmosphere, the air's pressure, and four steps to the working pressure."""

JUDGED = 'OR({Rise_verdict}="tight",{Rise_verdict}="leaks",{Rise_verdict}="cannot tell")'

TOLERANCES = Table(
    "Tolerances",
    (
        made(
            "Tolerance",
            "text",
            'IF({row}=1,{Vacuum_told},IF({row}=5,"u "&ROUND({Leak_u},10)&" "&{unit leak},""))',
            width=28,
        ),
    ),
    heading="Tolerances of the air left, argument by argument",
    rows=7,
)

LEFT_CALL = (
    'GAS_UNCERTAINTY("GAS_EVACUATE_RESIDUAL",{Tolerances.Tolerance},{Read_bar},{Work_bar},'
    "{Start_air},{Supply},{Leak_told},Space,{Hold})"
)

LEFT = Block(
    "Air left, as it was done",
    (
        Row(
            "Left",
            "Air left at working pressure",
            f"1*INDEX({LEFT_CALL},2,3)",
            "ppm",
        ),
        Row("Left_u", "its standard uncertainty", f"1*INDEX({LEFT_CALL},2,4)", "ppm"),
        Row("Left_band", "its 95 % band, half width", f"{NORMAL}*{{Left_u}}", "ppm"),
        Row("Left_oxygen", "Oxygen of it", f"{OXYGEN}*{{Left}}", "ppm"),
        Row(
            "Left_says",
            "no more than wanted?",
            conforms("{Left}", "{Left_u}", "{Target}"),
        ),
    ),
)

BEHIND_LEFT = Block(
    "Air left, in the background",
    (
        Row(
            "Start_air",
            "Air in the gas before the last evacuation",
            f"GAS_VENT_FILL_RESIDUAL({{Cycles_done}},{{Low_bar}},{{High_bar}},{AIR},{{Supply}})",
            "ppm",
        ),
        Row(
            "Leak_counted",
            "Leak that counts: as found, where the rise test can be read",
            f"IF({JUDGED},MAX(0,{{Rise_leak}}),NA())",
            "leak",
        ),
        Row(
            "Leak_u",
            "its standard uncertainty",
            f"MAX(0,{{Rise_high}}-{{Leak_counted}})/{NORMAL}",
            "leak",
        ),
        Row("Needed_row", "Row of the way that does", "MATCH(1,{Methods.does},0)", "count"),
        Row("Leak_told", "as a text", '{Leak_counted}&" "&{unit leak}'),
        Row("Priced", "Price of the gas", "GAS_PRICE({Price},{Per},{unit amount},{Gas})"),
    ),
)

METHODS = Table(
    "Methods",
    (
        words(
            "Way",
            Case("{row}=1", "One deep evacuation"),
            Case("", "{Times} × pumped down and filled"),
            width=42,
        ),
        helper("Times", "MAX(1,{row}-1)", "count"),
        helper("bar", "IF({row}=1,{Vacuum as bar(a)},{Low_bar})"),
        helper(
            "start",
            f"IF({{Times}}=1,{AIR},GAS_VENT_FILL_RESIDUAL({{Times}}-1,{{Low_bar}},"
            f"{{High_bar}},{AIR},{{Supply}}))",
        ),
        made(
            "Air left",
            "ppm",
            "GAS_EVACUATE_RESIDUAL({bar},{Work_bar},{start},{Supply},{Limit_told},Space,{Hold})",
        ),
        made("Oxygen of it", "ppm", f"{OXYGEN}*{{Air left}}"),
        made("Enough", "text", "GAS_CONFORMS({Air left},0,{Target})", width=12),
        made(
            "Gas pumped away",
            "amount",
            "IF({Times}=1,0,GAS_VENT_FILL_USE({Gas},Space,{Low_bar},{High_bar},"
            "{Times}-1,{Temperature as degC},{unit amount}))",
            number="one",
        ),
        made(
            "Time",
            "hours",
            "IF({row}=1,{Hours_wanted},{Hours_low}+({Times}-1)*N({Hours_again})"
            "+{Gas pumped away as Nm3}/({Fill_flow as Nm3/h}))",
            number="one",
        ),
        made("Cost", "money", "{Gas pumped away}*{Priced}+{Time}*{Hour_cost}"),
        helper("does", 'IF({row}>1,COUNTIF({Enough},"yes"),0)'),
        helper("Wanted", "Target"),
        helper("Of the gas itself", "MAX(0.001,Supply)"),
    ),
    heading="One evacuation against pump-and-fill cycles, with the leak that is allowed",
    rows=WAYS,
)

CHOICE = Block(
    "What would do",
    (
        Row(
            "Needed",
            "Pumped down and filled, times that do",
            "INDEX({Methods.Times},{Needed_row})",
            "count",
        ),
        Row("Needed_left", "Air left by it", "INDEX({Methods.Air left},{Needed_row})", "ppm"),
        Row(
            "Needed_gas",
            "Gas pumped away",
            "INDEX({Methods.Gas pumped away},{Needed_row})",
            "amount",
            number="one",
        ),
        Row("Needed_hours", "Time", "INDEX({Methods.Time},{Needed_row})", "hours", number="one"),
        Row("Needed_cost", "Cost", "INDEX({Methods.Cost},{Needed_row})", "money"),
        Row(
            "Deep_hours",
            "One deep evacuation: time",
            "INDEX({Methods.Time},1)",
            "hours",
            number="one",
        ),
        Row("Deep_cost", "its cost", "INDEX({Methods.Cost},1)", "money"),
        Row("Deep_enough", "no more air than wanted?", "INDEX({Methods.Enough},1)"),
    ),
)

METHODS_CHART = Chart(
    "column",
    "Air left at working pressure, ppm",
    "Way",
    "Air left, ppm",
    "Air left at working pressure by one deep evacuation and by pump-and-fill cycles on a log "
    "axis, with what is wanted at most and the air in the gas itself as lines.",
    (
        Series("Air left", "Methods.Air left", "Methods.Way"),
        Series("Wanted at most", "Methods.Wanted", "Methods.Way", limit=True),
        Series(
            "In the gas itself", "Methods.Of the gas itself", "Methods.Way", kind="line", dots=False
        ),
    ),
    y={"log_base": 10, "num_format": "General", "min": 0.1},
    x={"num_font": {"size": 8}},
)


def _up_to(step: str) -> str:
    """The pressure after a step: the first one ends at half the air's, the second at the air's."""
    above = f"Site_bar+({step}-2)/{STEPS - 2}*({{Work_bar}}-Site_bar)"
    return f"IF({step}=0,{{Base_bar}},IF({step}=1,Site_bar/2,{above}))"


FILLING = Table(
    "Filling",
    (
        words(
            "Fill",
            Case("{Step}=1", "Half way to the air's pressure; read, go on"),
            Case("{Step}=2", "To the air's pressure; stop, stand still, listen"),
            Case("{Step}=" + str(STEPS), "To the working pressure; shut, wait, read"),
            Case("", "A quarter of the way further; read, go on"),
            width=46,
        ),
        helper("Step", "{row}"),
        helper("bar from", _up_to("({row}-1)")),
        helper("bar to", _up_to("{row}")),
        made("From", "gauge", "{bar from}-Site_bar", answers="bar(g)", number="two"),
        made("To", "gauge", "{bar to}-Site_bar", answers="bar(g)", number="two"),
        made(
            "Takes",
            "amount",
            "GAS_BACKFILL({Gas},Space,{bar from},{bar to},{Temperature as degC},,,,{unit amount})",
            number="one",
        ),
        made(
            "So far",
            "amount",
            'SUMIFS({Filling.Takes},{Filling.Step},"<="&{Step})',
            number="one",
        ),
        made("Time", "minutes", "60*{Takes as Nm3}/({Fill_flow as Nm3/h})", number="one"),
        made(
            "Time so far",
            "hours",
            'SUMIFS({Filling.Time},{Filling.Step},"<="&{Step})/60',
            number="two",
        ),
    ),
    heading="Steps of the slow fill",
    rows=STEPS,
)

FILL = Block(
    "In numbers",
    (
        Row(
            "Fill_gas",
            "Gas for the whole fill",
            f"INDEX({{Filling.So far}},{STEPS})",
            "amount",
            number="one",
        ),
        Row(
            "Fill_hours",
            "Time at the chosen flow",
            f"INDEX({{Filling.Time so far}},{STEPS})",
            "hours",
            number="two",
        ),
        Row(
            "Fast_deg",
            "Filled at once, the gas would become",
            "GAS_FILL_TEMPERATURE({Gas},{Base_bar},{Work_bar},{Supply_pressure as bar(a)},"
            "{Temperature as degC},,{unit temperature})",
            "temperature",
            number="whole",
        ),
        Row(
            "Fast_after",
            "and the pressure would settle at",
            "GAS_SETTLED_PRESSURE({Gas},{Work_bar},{Fast_deg as degC},{Temperature as degC})"
            "-Site_bar",
            "gauge",
            answers="bar(g)",
            number="two",
        ),
    ),
)
