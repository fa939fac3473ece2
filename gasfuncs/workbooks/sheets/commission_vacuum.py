"""Reservoir commissioning: the evacuation as expected and as read, and the leak tests."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.commission_typed import MOST
from gasfuncs.workbooks.sheets.parts import (
    Block,
    Case,
    Chart,
    Column,
    Row,
    Sentence,
    Series,
    Table,
    helper,
    made,
)
from gasfuncs.workbooks.sheets.standard import RECTANGULAR, conforms

POINTS = 49
"""Of the expected course."""


def _used(table: str, column: str, otherwise: str) -> str:
    """A typed value where its row counts; another where there is none; an error in a bad row."""
    check, value = f"INDEX({{{table}.Check}},{{row}})", f"INDEX({{{table}.{column}}},{{row}})"
    return f'IF({check}="ok",{value},IF({check}="",{otherwise},NA()))'


PUMP_USED = Table(
    "PumpUsed",
    (
        made("At", "vacuum", _used("Pump", "At", "MAX({Pump.At})*1.1^({row}-{Pump_typed})")),
        made(
            "Pumping speed",
            "pumping",
            _used("Pump", "Pumping speed", "INDEX({Pump.Pumping speed},MAX(1,{Pump_typed}))"),
        ),
        made("bar", "number", "{At as bar(a)}"),
        made("m3 per h", "number", "{Pumping speed as m3/h}"),
    ),
    heading="The pump's curve as used, held beyond its end",
    rows=MOST,
)

SURFACES_USED = Table(
    "SurfacesUsed",
    (
        made("Area", "area", _used("Surfaces", "Area", "0")),
        made("Rate", "outgassing", _used("Surfaces", "Rate", "0")),
        made("Exponent", "number", _used("Surfaces", "Exponent", "0")),
        made("m2", "number", "{Area as m2}"),
        made("mbar L per s cm2", "number", "{Rate as mbar L/(s cm2)}"),
    ),
    heading="Surfaces as used",
    rows=MOST,
    beside=True,
)


def _course(start: str, line: str, gas: str) -> str:
    return (
        f"GAS_PUMPDOWN_CURVE(Space,{{PumpUsed.bar}},{{PumpUsed.m3 per h}},{start},{{Follow}},"
        "{SurfacesUsed.m2},{SurfacesUsed.mbar L per s cm2},{SurfacesUsed.Exponent},0,"
        f"{line},{gas},{POINTS})"
    )


LINE = "Bore_mm,Length_m"
COURSES = {
    "line": _course("Site_bar", LINE, '"air"'),
    "bare": _course("Site_bar", ",", '"air"'),
    "again": _course("High_bar", LINE, "{Gas}"),
}
"""Of the air through the line, without it, and of the gas of a cycle."""


def _pressures(name: str, heading: str) -> tuple[Column, ...]:
    """A course, and how it falls from point to point: straight in the logarithm of mbar."""
    return (
        made(
            heading,
            "vacuum",
            f"INDEX({COURSES[name]},{{row}}+1,2)",
            answers="mbar",
            number="ppm",
        ),
        helper(f"log {name}", f"LN({{{heading} as mbar}})"),
        helper(
            f"fall {name}",
            f'IF({{row}}=ROWS({{Course.Minutes}}),"",'
            f"(INDEX({{Course.log {name}}},{{row}}+1)-{{log {name}}})"
            "/(INDEX({Course.Minutes},{row}+1)-{Minutes}))",
        ),
    )


COURSE = Table(
    "Course",
    (
        made("Minutes", "minutes", f"INDEX({COURSES['line']},{{row}}+1,1)", number="one"),
        *_pressures("line", "Through the line"),
        *_pressures("bare", "Without the line"),
        *_pressures("again", "Gas of a cycle"),
        made("Wanted", "vacuum", "Vacuum"),
        made("Hours", "hours", "{Minutes}/60", number="two"),
    ),
    heading="Pressure expected while pumping",
    rows=POINTS,
)


def _hours(name: str, label: str, course: str, heading: str, to: str, note: str) -> tuple[Row, Row]:
    """When a course comes down to a pressure."""
    place = f"{{{name}_place}}"
    return (
        Row(f"{name}_place", "its place on Course", _passed(heading, to), "count"),
        Row(
            name,
            label,
            f"(INDEX({{Course.Minutes}},{place})+(LN({{{to} as mbar}})"
            f"-INDEX({{Course.log {course}}},{place}))/INDEX({{Course.fall {course}}},{place}))/60",
            "hours",
            note,
            number="two",
        ),
    )


def _passed(heading: str, to: str) -> str:
    return f'MAX(1,COUNTIF({{Course.{heading}}},">"&{to}))'


WANTED = _hours(
    "Hours_wanted",
    "Time to the vacuum wanted, through the line",
    "line",
    "Through the line",
    "Vacuum",
    "By the pump's curve, the line and the surfaces; blank: not within the hours on Inputs",
)
BARE = _hours(
    "Hours_bare",
    "the same without the line",
    "bare",
    "Without the line",
    "Vacuum",
    "What the line takes is the difference",
)
FIRST = _hours(
    "Hours_low", "Time to the pressure of a cycle, air", "line", "Through the line", "Low", ""
)
AGAIN = _hours(
    "Hours_again", "the same again, gas from the fill", "again", "Gas of a cycle", "Low", ""
)

LAST = "MATCH(MAX({Reads.Minutes}),{Reads.Minutes},0)"

EVACUATION = Block(
    "In numbers",
    (
        WANTED[1],
        BARE[1],
        Row(
            "Vacuum_read",
            "Last reading",
            f"IF({{Reads_typed}}*({{Reads_out}}=0)=0,NA(),INDEX({{Reads.Pressure}},{LAST}))",
            "vacuum",
            "Blank where there is none, or where a row of the readings is left out",
            number="ppm",
        ),
        Row(
            "Read_ratio",
            "read over expected",
            f"INDEX({{Reads.Read over expected}},{LAST})",
            "number",
            "At the last reading",
            number="two",
        ),
        Row(
            "Pumping_says",
            "no higher than its spread allows?",
            conforms(
                "LN({Read_ratio})", "{Read_u}/({Vacuum_read as mbar})", "LN({Expected_within})"
            ),
        ),
    ),
)

BEHIND = Block(
    "Evacuation, in the background",
    (
        WANTED[0],
        BARE[0],
        FIRST[0],
        FIRST[1],
        AGAIN[0],
        AGAIN[1],
        Row("Bore_mm", "Bore of the line", "{Bore as mm}", "number", "mm"),
        Row("Length_m", "Its length", "{Length as m}", "number", "m"),
        Row("Low_bar", "Pumped down to in a cycle", "{Low as bar(a)}", "number", "bar(a)"),
        Row("High_bar", "Filled to in a cycle, absolute", "{High as bar(a)}", "number", "bar(a)"),
        Row("Work_bar", "Working pressure, absolute", "{Work as bar(a)}", "number", "bar(a)"),
        Row("Read_bar", "Vacuum read, absolute", "{Vacuum_read as bar(a)}", "number", "bar(a)"),
        Row(
            "Base_bar",
            "Vacuum read, or wanted while none is read",
            "IF(ISNUMBER({Vacuum_read}),{Vacuum_read as bar(a)},{Vacuum as bar(a)})",
            "number",
            "bar(a)",
        ),
        Row(
            "Read_u",
            "Standard uncertainty of the vacuum read",
            "SQRT(({Vacuum_share}/100*{Vacuum_read as mbar})^2+({Vacuum_step as mbar})^2)/"
            + RECTANGULAR,
            "number",
            "mbar",
        ),
        Row(
            "Vacuum_told",
            "Vacuum gauge as the functions take it",
            '"±"&{Vacuum_share}&" %; ±"&{Vacuum_step}&" "&{unit fine_vacuum}',
        ),
    ),
)

PUMPING_SAID = Sentence(
    "Pumping_said",
    (
        Case(
            "NOT(ISNUMBER({Course_end}))",
            "The course cannot be calculated: look at the pump's curve and the surfaces on Pump. "
            "The curve rises from the pump's ultimate pressure, with speed 0 there, to the air's.",
        ),
        Case(
            "AND(NOT(ISNUMBER({Hours_wanted})),{Course_end}>{Vacuum})",
            "The vacuum wanted is not reached within {Follow} h: pump longer, faster, through a "
            "wider line, clean and dry the vessel, or want less.",
        ),
        Case("{Reads_typed}=0", "No reading is typed yet: see Pumping."),
        Case("{Reads_out}>0", "{Reads_out} reading(s) are left out: mend them on Pumping."),
        Case(
            '{Pumping_says}="no"',
            "The pressure is {Read_ratio:0.0} times what was expected: look for a leak, a shut "
            "valve, a wet vessel or a tired pump.",
        ),
        Case(
            'OR({Pumping_says}="yes",{Pumping_says}="cannot tell")',
            "The pressure is {Read_ratio:0.0} times what was expected, which the spread of "
            "outgassing allows.",
        ),
        Case("", "The readings go on for longer than the expected course: see Inputs."),
    ),
)

COURSE_END = Row(
    "Course_end",
    "Pressure at the end of the expected course",
    f"1*INDEX({{Course.Through the line}},{POINTS})",
    "vacuum",
)

BARE_SERIES = Series("without the line", "Course.Without the line", "Course.Hours", dots=False)


def _evacuation_chart(*more: Series) -> Chart:
    return Chart(
        "scatter",
        "Pressure while evacuating, {unit vacuum}",
        "Hours",
        "Pressure, {unit vacuum}",
        "Pressure of the reservoir over time on a log axis: as expected by pump, line and "
        "surfaces, as read, and the vacuum wanted as a line.",
        (
            Series("Expected", "Course.Through the line", "Course.Hours", dots=False),
            Series("Read", "Reads.Pressure", "Reads.Hours", joined=False),
            Series("Wanted", "Course.Wanted", "Course.Hours", limit=True),
            *more,
        ),
        x={"min": 0, "num_format": "0"},
        y={"log_base": 10, "num_format": "General", "crossing": "min"},
    )


START_CHART, EVACUATION_CHART = _evacuation_chart(), _evacuation_chart(BARE_SERIES)


def _verdict(column: int) -> str:
    call = "GAS_RISE_VERDICT({Rise.hour},{Rise.bar},Space,{Limit_told},{Vacuum_told})"
    return f"IF({{Rise_typed}}*({{Rise_out}}=0)=0,NA(),INDEX({call},2,{column}))"


def _leak(name: str, label: str, formula: str, note: str = "") -> Row:
    return Row(name, label, formula, "leak", note, answers="mbar L/s")


LEAKS = Block(
    "In numbers",
    (
        Row(
            "Leak_limit",
            "Leak allowed",
            'IF(COUNT({Leak_adds},{Flow})<2,"",'
            "GAS_LEAK_LIMIT({Leak_adds},{Flow as Nm3/h},1,{unit leak}))",
            "leak",
            "So much air adds what it may to the least flow in use",
        ),
        Row(
            "Rise_limit",
            "as a pressure rise",
            "GAS_RISE_RATE({Limit_told},Space,{unit rise})",
            "rise",
        ),
        _leak("Rise_leak", "Leak by the pressure rise", _verdict(1)),
        _leak("Rise_low", "at least", _verdict(2)),
        _leak("Rise_high", "at most (95 %)", _verdict(3)),
        Row("Rise_verdict", "against the leak allowed", _verdict(5)),
        Row(
            "Helium_all",
            "Leaks by helium, as air, all points together",
            "IF({Helium_typed}*({Helium_out}=0)=0,NA(),SUM({Helium.As air}))",
            "leak",
            "Blank where none was read, or where a row is left out",
        ),
        Row(
            "Helium_verdict",
            "no more than allowed?",
            conforms(
                "{Helium_all}",
                f"{{Helium_within}}/100*{{Helium_all}}/{RECTANGULAR}",
                "{Leak_limit}",
            ),
        ),
    ),
)

BEHIND_LEAKS = Block(
    "Leak tests, in the background",
    (
        Row("Limit_told", "Leak allowed, as a text", '{Leak_limit}&" "&{unit leak}'),
        Row("Rise_why", "Why the rise test is judged so", _verdict(6)),
        Row("Rise_band", "its 95 % band, half width", "({Rise_high}-{Rise_low})/2", "leak"),
    ),
)

RISE_SAID = Sentence(
    "Rise_said",
    (
        Case("{Rise_typed}=0", "No rise test is typed yet: see Rise test."),
        Case("{Rise_out}>0", "{Rise_out} reading(s) are left out: mend them on Rise test."),
        Case(
            'OR({Rise_verdict}="tight",{Rise_verdict}="leaks")',
            "The rise test shows {Rise_verdict}: {Rise_why}.",
        ),
        Case(
            'OR({Rise_verdict}="repeat",{Rise_verdict}="cannot tell")',
            "The rise test: {Rise_verdict}; {Rise_why}.",
        ),
        Case("", "The rise test cannot be judged: look at times and pressures on Rise test."),
    ),
)

RISE_CHART = Chart(
    "scatter",
    "Pressure after the pump's valve was shut, {unit fine_vacuum}",
    "Hours",
    "Pressure, {unit fine_vacuum}",
    "Readings of the rise test, the curve laid through them and the straight part that a leak "
    "alone makes: what bends is outgassing.",
    (
        Series("Read", "Rise.Pressure", "Rise.Hours", joined=False),
        Series("Fitted", "Rise.Fitted", "Rise.Hours", dots=False),
        Series("Leak alone", "Rise.Leak alone", "Rise.Hours", dots=False),
    ),
    x={"min": 0},
    y={"min": 0},
)
