"""The leak and dew point log: one long test tells a leak, outgassing and a slow pump apart."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.leak_state import told
from gasfuncs.workbooks.sheets.parts import (
    Block,
    Case,
    Chart,
    Column,
    Group,
    Input,
    Row,
    Sentence,
    Series,
    Table,
    helper,
    made,
)
from gasfuncs.workbooks.sheets.standard import (
    MOST_RISE,
    NORMAL,
    OUTGASSING,
    RECTANGULAR,
    conforms,
    version_of,
)

LONG_TEST = Group(
    "Leak, outgassing or pump: one long test",
    (
        Input(
            "Long_vessel",
            "Vessel of the readings on Long test",
            "text",
            "As on Vessels; blank where there is no long test",
            choices="State.Vessel",
            required=False,
        ),
        Input(
            "Long_day",
            "Day of that test",
            "date",
            "For example 9 Oct 2026",
            required=False,
        ),
        Input(
            "Pumped_hours",
            "Hours pumped before the valve was shut",
            "hours",
            "Since the vessel was last open, for example 8",
            0.01,
            10_000,
            required=False,
        ),
        Input(
            "Pumped_to",
            "Pressure reached by then",
            "fine_vacuum",
            "By the vessel's own gauge",
            0,
            100,
            required=False,
        ),
        Input(
            "Pump_speed",
            "Speed of the pumps at that pressure",
            "pumping",
            "From the pump's curve, less what the line takes",
            0.001,
            required=False,
        ),
        Input(
            "Pump_base",
            "Pressure that the pumps reach by themselves",
            "fine_vacuum",
            "At a shut valve, by their data sheet or measured",
            0,
            100,
            required=False,
        ),
        Input(
            "Pump_within",
            "Speed and base pressure are known to",
            "share",
            "For example 30",
            0,
            100,
            required=False,
        ),
        Input(
            "Rates_within",
            "Outgassing rates are known within a factor of",
            "number",
            "Printed rates of one material differ by 3 and more",
            1,
            100,
            required=False,
        ),
    ),
)

FIT = "GAS_RISE_CURVE({Curve.Hour},{Curve.Bar})"

CURVE = Table(
    "Curve",
    (
        Column("Hours", "hours", "Since the valve was shut; more often at first", high=700),
        Column("Pressure", "fine_vacuum", "Read at that time", high=MOST_RISE),
        helper("Hour", "{Hours}"),
        helper("Bar", "IF(ISNUMBER({Pressure}),{Pressure as bar(a)},NA())"),
        helper("Place", 'COUNTIF({Curve.Hours},"<"&{Hours})+2'),
        helper("Rise", f"INDEX({FIT},{{Place}},3)", "fine_vacuum", answers="mbar"),
        helper("Straight", f"INDEX({FIT},{{Place}},4)", "fine_vacuum", answers="mbar"),
        made("Fitted", "fine_vacuum", "IFERROR({Rise},NA())"),
        made("Leak alone", "fine_vacuum", "IFERROR(MIN({Curve.Rise})+{Straight},NA())"),
    ),
    heading="Readings of the long test",
    rows=40,
    unique=("Hours",),
)

MATERIALS = Table(
    "Materials",
    (
        Column("Part", prompt="What gives off gas, for example shell, cold wall", width=30),
        Column("Area", "area", "Its surface towards the vacuum"),
        *OUTGASSING,
        Column("Source", prompt="Where the rate is from", width=34, required=False),
        made(
            "Gives off",
            "leak",
            "GAS_GAS_LOAD({Area as m2},{Rate as mbar L/(s cm2)},{Exponent},0,"
            'IF({Pumped_hours}="",1,{Pumped_hours}),{unit leak})',
        ),
    ),
    heading="What the vessel is made of",
    rows=12,
    beside=True,
)


def _judged(column: int) -> str:
    return (
        "INDEX(GAS_RISE_VERDICT({Curve.Hour},{Curve.Bar},{Long_space},{Long_limit_told},"
        f"Rise_tolerance),2,{column})"
    )


def _if_number(number: str, verdict: str) -> str:
    """A verdict where there is a number to judge; blank in every host where there is none."""
    return f'IF(ISNUMBER({number}),{verdict},"")'


def _mbar_litres(name: str, label: str, formula: str, note: str = "") -> Row:
    return Row(name, label, formula, "leak", note, answers="mbar L/s")


SOURCE = Block(
    "In numbers",
    (
        Row("Long_volume", "Its volume", "{Long_space}", "volume", answers="m3", number="used"),
        Row("Long_limit", "Its limit", "INDEX({Vessels.Leak limit},{Long_row})", "leak"),
        _mbar_litres("Long_leak", "Leak", _judged(1)),
        _mbar_litres("Long_low", "at least", _judged(2)),
        _mbar_litres("Long_high", "at most (95 %)", _judged(3)),
        Row("Long_verdict", "against its limit", _judged(5)),
        _mbar_litres(
            "Fit_outgassing",
            "Outgassing when the valve was shut",
            "INDEX(GAS_RISE_FIT({Curve.Hour},{Curve.Bar},{Long_space}),3,2)",
            "Only where it can be told apart",
        ),
        Row(
            "Expected_outgassing",
            "expected of its surfaces by then",
            'IF({Materials_typed}={Materials_out},"",'
            'SUMIFS({Materials.Gives off},{Materials.Check},"ok"))',
            "leak",
            "By the table of materials",
        ),
        Row(
            "Gas_ratio",
            "read over expected",
            "{Fit_outgassing}/{Expected_outgassing}",
            "number",
            number="two",
        ),
        Row(
            "Gas_verdict",
            "no more than expected?",
            _if_number(
                "{Gas_ratio}", conforms("LN({Gas_ratio})", f"LN({{Rates_within}})/{NORMAL}", "0")
            ),
        ),
        Row(
            "Pump_load",
            "Leak and outgassing that the pumps met",
            "{Fit_outgassing}+MAX(0,{Long_leak})",
            "leak",
        ),
        Row(
            "Pump_expected",
            "Pressure that they should hold",
            "GAS_ULTIMATE_PRESSURE(0.001,{Pump_speed as m3/h},{Pump_load as mbar L/s},,,"
            '"air","mbar")+{Pump_base as mbar}',
            "fine_vacuum",
            answers="mbar",
            number="rate",
        ),
        Row(
            "Pump_ratio",
            "read over expected",
            "{Pumped_to}/{Pump_expected}",
            "number",
            number="two",
        ),
        Row(
            "Pump_spread",
            "its standard uncertainty",
            "{Pump_ratio}*SQRT(({Pump_within}/100)^2+({Vacuum_share}/100)^2)/" + RECTANGULAR,
            "number",
            "From the tolerances of gauge and pump",
            number="two",
        ),
        Row(
            "Pump_verdict",
            "no higher than expected?",
            _if_number("{Pump_spread}", conforms("{Pump_ratio}", "{Pump_spread}", "1")),
        ),
    ),
)

BEHIND_SOURCE = Block(
    "The long test, in the background",
    (
        Row(
            "Long_row",
            "Row of the vessel on Vessels",
            version_of("Vessels", "{Long_vessel}", "{Long_day}"),
            "count",
        ),
        Row("Long_space", "Its volume, m3", "INDEX({Vessels.Space},{Long_row})", "number"),
        Row("Long_limit_told", "as a text", '{Long_limit}&" "&{unit leak}'),
        *told("Long"),
        Row("Long_why", "why", _judged(6)),
        Row(
            "Told_apart",
            "Leak and outgassing",
            "INDEX(GAS_RISE_FIT({Curve.Hour},{Curve.Bar},{Long_space}),2,6)",
        ),
    ),
)

SOURCE_CHART = Chart(
    "scatter",
    "Pressure after the valve was shut, {unit fine_vacuum}",
    "Hours",
    "Pressure, {unit fine_vacuum}",
    "Readings of the long test, the curve laid through them and the straight part that a leak "
    "alone makes: what bends is outgassing.",
    (
        Series("Read", "Curve.Pressure", "Curve.Hours", joined=False),
        Series("Fitted", "Curve.Fitted", "Curve.Hours"),
        Series("Leak alone", "Curve.Leak alone", "Curve.Hours"),
    ),
    x={"min": 0},
    y={"min": 0},
)

SENTENCES = (
    Sentence(
        "Source_leak",
        (
            Case("{Curve_typed}=0", "No long test is typed: see Long test."),
            Case(
                "{Curve_out}>0",
                "Leak: not judged: {Curve_out} reading(s) on Long test are to be mended first.",
            ),
            Case(
                '{Long_verdict}="leaks"',
                "Leak: {Long_vessel} leaks {Long_told} {unit leak}, at least {Long_least}, more "
                "than its limit of {Long_allowed}.",
            ),
            Case(
                '{Long_verdict}="tight"',
                "Leak: no. {Long_vessel} leaks no more than {Long_most} {unit leak}; its limit is "
                "{Long_allowed}.",
            ),
            Case(
                'OR({Long_verdict}="repeat",{Long_verdict}="cannot tell")',
                "Leak: {Long_verdict}; {Long_why}.",
            ),
            Case("", "Leak: not judged. Choose vessel and day on Inputs, look at the readings."),
        ),
    ),
    Sentence(
        "Source_gas",
        (
            Case("OR({Curve_typed}=0,{Curve_out}>0)", ""),
            Case("N({Fit_outgassing})=0", "Outgassing: {Told_apart}."),
            Case(
                '{Gas_verdict}="no"',
                "Outgassing: yes, {Gas_ratio:0.0} times what its surfaces should give: clean, "
                "dry, bake.",
            ),
            Case(
                'OR({Gas_verdict}="yes",{Gas_verdict}="cannot tell")',
                "Outgassing: {Gas_ratio:0.0} times what its surfaces should give, which printed "
                "rates allow.",
            ),
            Case("", "Outgassing: type the materials on Long test and the hours on Inputs."),
        ),
    ),
    Sentence(
        "Source_pump",
        (
            Case("OR({Curve_typed}=0,{Curve_out}>0)", ""),
            Case("NOT(ISNUMBER({Pump_spread}))", "Pump: not judged; type its speed and pressures."),
            Case(
                '{Pump_verdict}="no"',
                "Pump: yes, the pressure is {Pump_ratio:0.0} times what the pumps should hold "
                "against this gas: look at pumps, valve, filter and gauge.",
            ),
            Case(
                "",
                "Pump: the pressure is {Pump_ratio:0.0} times what the pumps should hold, which "
                "the tolerances allow.",
            ),
        ),
    ),
)
