"""Reservoir commissioning: the sheet to work down and sign, and what it comes to."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.commission_state import MOST
from gasfuncs.workbooks.sheets.parts import (
    ACT,
    FINE,
    UNKNOWN,
    WATCH,
    Block,
    Case,
    Form,
    Input,
    Point,
    Row,
    Sentence,
)
from gasfuncs.workbooks.sheets.standard import NORMAL, conforms

NEAR = "0.95"
"""Of the working pressure, absolute: filled."""


def _done(name: str, what: str) -> Point:
    """A point that is done or not."""
    asked = Input(
        name, what, "text", "yes when it is done and seen, else no", choices=("yes", "no")
    )
    return Point(asked, '"yes"', f'{{{name}}}&""')


def _found(
    name: str, what: str, formula: str, kind: str, wanted: str, judged: str, number: str = ""
) -> Point:
    """A point whose finding comes from another sheet."""
    return Point(Row(name, what, formula, kind, number=number), wanted, judged)


BEFORE = (
    _done("Isolated", "Supply valve shut, locked and tagged; backfill line open to the furnace"),
    _done("Area_safe", "Oxygen monitor on, area ventilated, nobody in furnace or pit"),
    _done("Vacuum_proof", "Reservoir built for full vacuum, by its maker's word"),
    _found(
        "Set_found",
        "Relief device: set no higher than the pressure allowed",
        "{Relief_set}",
        "gauge",
        "{Allowed}",
        "GAS_CONFORMS({Relief_set},0,{Allowed})",
    ),
    _found(
        "Work_found",
        "Working pressure: below the set by its margin",
        "{Work}",
        "gauge",
        "MIN({Allowed},{Relief_set}*(1-{Relief_margin}/100))",
        "GAS_CONFORMS({Work},0,MIN({Allowed},{Relief_set}*(1-{Relief_margin}/100)))",
    ),
    _found(
        "Due_found",
        "Relief device: in date, next test later than",
        "{Relief_due}",
        "date",
        "{Report_day}",
        'GAS_CONFORMS({Relief_due},0,{Report_day}+1,"at least")',
    ),
    _done("Relief_confirmed", "Relief device: piped outdoors, sealed, by a licensed person"),
)
TESTED = (
    _found(
        "Vacuum_found",
        "Evacuated: last reading",
        "{Vacuum_read}",
        "vacuum",
        "{Vacuum}",
        conforms("{Vacuum_read as mbar}", "{Read_u}", "{Vacuum as mbar}"),
        "ppm",
    ),
    _found(
        "Rise_found",
        "Leak by the pressure rise, supply valve to furnace",
        "{Rise_leak}",
        "leak",
        "{Leak_limit}",
        "{Rise_verdict}",
    ),
    _found(
        "Helium_found",
        "Leaks by helium as air, all points together",
        "{Helium_all}",
        "leak",
        "{Leak_limit}",
        "{Helium_verdict}",
    ),
    _found(
        "Left_found",
        "Air left at working pressure",
        "{Left}",
        "ppm",
        "{Target}",
        "{Left_says}",
    ),
)
FILLED = (
    _done("Air_filled", "Filled slowly to the air's pressure, stood still, every joint quiet"),
    Point(
        Input(
            "Filled",
            "Filled slowly on: gauge, no higher than allowed and than the set",
            "gauge",
            "Gauge of the reservoir, shut and settled",
            -1,
            400,
        ),
        "MIN({Allowed},{Relief_set})",
        conforms(
            "{Filled as bar(a)}",
            "{Gauge_u}",
            "MIN({Allowed as bar(a)},{Relief_set as bar(a)})",
        ),
    ),
    _found(
        "Filled_found",
        "Filled to the working pressure, at least to 95 % (absolute)",
        'IF({Filled}="","",{Filled})',
        "gauge",
        "{Work}",
        conforms("{Filled as bar(a)}", "{Gauge_u}", f"{NEAR}*{{Work_bar}}", "at least"),
    ),
    Point(
        Input(
            "Oxygen_read",
            "Oxygen at the furnace, by the analyser",
            "text",
            'As the analyser shows it, for example 2.8; "<0.5" where it is off the scale',
        ),
        "{Oxygen_limit}",
        "INDEX(GAS_PURGE_VERDICT({Oxygen_read},{Oxygen_limit},{Oxygen_told},"
        'IF({Oxygen_supply}="","",{Oxygen_supply})),2,4)',
        "ppm",
    ),
    Point(
        Input(
            "Dew_read",
            "Dew point at the furnace, by the meter, at the air's pressure",
            "temperature",
            "As the meter shows it; below freezing the frost point",
            -120,
            60,
        ),
        "{Dew_limit}",
        conforms("{Dew_read as degC}", f"{{Dew_step as K}}/{NORMAL}", "{Dew_limit as degC}"),
    ),
)

POINTS = Form("Points", "Worked down from top to bottom", (*BEFORE, *TESTED, *FILLED))

ALL_MET = "{Points_met}={Points_all}"


def _signature(name: str, what: str) -> Point:
    """The number of the state that is signed is written down beside the name."""
    prompt = "The number that stands under Wanted when you sign, for example 4711"
    asked = Input(name, what, "count", prompt, 1, MOST, number="general")
    judged = f'IF(AND({ALL_MET},{{{name}}}={{State}}),"yes","no")'
    return Point(asked, f'IF({ALL_MET},{{State}},"all points met")', judged, "state no.")


SIGNED = Form(
    "Signed",
    "Signed last, with the number of the state of this sheet",
    (
        _signature("Released", "Released for service, by the person in charge"),
        _signature("Confirmed", "Vessel and relief device confirmed, by a licensed person"),
    ),
)


def _count(name: str, label: str, result: str, form: str = "Points") -> Row:
    return Row(name, label, f'COUNTIF({{{form}_results}},"{result}")', "count")


def _first(name: str, result: str) -> Row:
    found = f'INDEX({{Points_what}},MATCH("{result}",{{Points_results}},0))'
    return Row(f"{name}_first", "the first of them", f'IFERROR({found},"")')


COUNTS = Block(
    "The sheet to sign, counted",
    (
        Row("Points_all", "Points", "ROWS({Points_results})", "count"),
        _count("Points_met", "met and signed", "met"),
        _count("Points_no", "NOT met", "NOT met"),
        _first("No", "NOT met"),
        _count("Points_unsure", "that cannot be told", "cannot tell"),
        _first("Unsure", "cannot tell"),
        _count("Points_repeat", "to be repeated", "repeat"),
        _first("Repeat", "repeat"),
        _count("Points_open", "open", "open"),
        _first("Open", "open"),
        _count("Points_unsigned", "met, without a name and a date", "not signed"),
        _first("Unsigned", "not signed"),
        _count("Signed_met", "Signatures below it", "met", "Signed"),
        Row(
            "Released_day",
            "Released on",
            'IF(N({Released_on})=0,"",TEXT({Released_on},"d mmm yyyy"))',
        ),
        Row(
            "Days_later",
            "Signed for a day after this sheet's",
            'COUNTIF({Points_dates},">="&{Report_day}+1)+'
            'COUNTIF({Signed_dates},">="&{Report_day}+1)',
            "count",
        ),
        Row(
            "Days_before",
            "Released before a point was signed, or filled before the relief device was confirmed",
            "IF(N({Released_on})=0,0,IF(MAX({Points_dates})>{Released_on},1,0))"
            "+IF(N({Filled_on})=0,0,IF(N({Relief_confirmed_on})>{Filled_on},1,0))",
            "count",
        ),
        Row(
            "Signed_early",
            "Signed below although a point is not met",
            'IF({Points_met}<{Points_all},COUNTIF({Signed_dates},">0"),0)',
            "count",
        ),
        Row(
            "Changed",
            "Signatures of another state of this sheet",
            f"IF({ALL_MET},IF(OR(N({{Released}})=0,{{Released}}={{State}}),0,1)"
            "+IF(OR(N({Confirmed})=0,{Confirmed}={State}),0,1),0)",
            "count",
        ),
        Row(
            "Gauge_u",
            "Standard uncertainty of the pressure gauge",
            f"{{Gauge_step as mbar}}/1000/{NORMAL}",
            "number",
            "bar",
        ),
        Row("Oxygen_told", "Oxygen analyser", '"±"&{Oxygen_step}&" ppm"'),
    ),
)

WHAT = "{Reservoir}, no. {Serial}"

AIR_SAID = Sentence(
    "Air_said",
    (
        Case(
            "{Left}>=0",
            " Air left: {Left ± Left_band} ppm at working pressure, {Target} at most are wanted.",
        ),
        Case("", ""),
    ),
)
WHY_SAID = Sentence(
    "Why_said",
    (
        Case('OR({Rise_verdict}="cannot tell",{Rise_verdict}="repeat")', " {Rise_said}"),
        Case("", ""),
    ),
)
WAY_SAID = Sentence(
    "Way_said",
    (
        Case("{Target}<={Supply}", "No way leaves less air than the gas itself brings."),
        Case(
            "NOT(ISNUMBER({Needed}))",
            "No number of pump-and-fill cycles up to 7 leaves as little air as is wanted.",
        ),
        Case(
            'AND({Deep_enough}="yes",ISNUMBER({Deep_hours}))',
            "One deep evacuation: {Currency} {Deep_cost:#,##0} and {Deep_hours:0.0} h. {Needed} × "
            "pumped down and filled: {Currency} {Needed_cost:#,##0} and {Needed_hours:0.0} h, with "
            "{Needed_gas:0} {unit amount} of gas pumped away.",
        ),
        Case(
            "",
            "One deep evacuation to the vacuum wanted does not do. {Needed} × pumped down and "
            "filled does: {Currency} {Needed_cost:#,##0} and {Needed_hours:0.0} h.",
        ),
    ),
)

NOT_RELEASED = f"NOT released: {WHAT}. "
VERDICT = Sentence(
    "Answer",
    (
        Case(
            "{Points_no}>0",
            NOT_RELEASED + "{Points_no} of {Points_all} points not met, first: {No_first}."
            "{Air_said}",
            ACT,
            firm=True,
        ),
        Case(
            "{Days_later}+{Days_before}>0",
            NOT_RELEASED + "The dates of the signatures do not go together: see Checks.",
            ACT,
        ),
        Case(
            "{Points_repeat}>0",
            NOT_RELEASED + "To be repeated: {Repeat_first}.{Why_said}",
            UNKNOWN,
        ),
        Case(
            "{Points_unsure}>0",
            NOT_RELEASED + "Cannot tell: {Unsure_first}.{Why_said}",
            UNKNOWN,
        ),
        Case(
            "{Points_open}>0",
            f"Not yet released: {WHAT}. "
            "{Points_open} of {Points_all} points open, first: {Open_first}.{Air_said}",
            WATCH,
            firm=True,
        ),
        Case(
            "{Rows_out}>0",
            NOT_RELEASED + "Mend the rows that are left out first.",
            UNKNOWN,
        ),
        Case(
            "{Points_unsigned}>0",
            f"Not yet released: {WHAT}. "
            "{Points_unsigned} points without a name and a date, first: {Unsigned_first}.",
            WATCH,
        ),
        Case(
            "{Changed}>0",
            NOT_RELEASED + "It was changed after it was signed: its state is now no. {State}. Look "
            "at what was changed, and sign that state, or put it back.",
            ACT,
        ),
        Case(
            "{Signed_met}<2",
            f"{WHAT}: every point is met and signed. May be released once the person in charge "
            "and a licensed person have signed.{Air_said}",
            WATCH,
        ),
        Case(
            "",
            f"Released by {{Released_by}} on {{Released_day}}, confirmed by {{Confirmed_by}}: "
            f"{WHAT}, with {{Line}}, for {{Gas}} up to {{Work}} {{unit gauge}}.{{Air_said}}",
            FINE,
        ),
    ),
)
