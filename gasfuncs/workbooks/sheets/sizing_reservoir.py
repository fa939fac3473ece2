"""Reservoir and line sizing: fill after fill, and the relief valve as an estimate."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import (
    Block,
    Case,
    Chart,
    Row,
    Sentence,
    Series,
    Table,
    helper,
    made,
    words,
)
from gasfuncs.workbooks.sheets.sizing_fill import gap
from gasfuncs.workbooks.sheets.sizing_inputs import FILLS, IN_TIME, TOPPED_UP, fill
from gasfuncs.workbooks.sheets.standard import NORMAL, conforms

AFTER = (
    "GAS_RESERVOIR_AFTER({Gas},{Res_m3},{Bar},{Free_m3},{From_bar},{To_bar},{Room_C},{Process},"
    "{Time}/3600,{Held_by},,{Walls_C},{Heat_given})"
)

FILLS_TABLE = Table(
    "Fills",
    (
        made("Fill", "count", "{row}"),
        made("Starts after", "hours", "({row}-1)*{Interval}"),
        made(
            "Gas before",
            "amount",
            "{Full_gas}-({row}-1)*MAX(0,{Gas_fill}-{Refilled})",
            number="one",
        ),
        helper("Bar", "GAS_PRESSURE({Gas},{Gas before as Nm3},{Res_m3},{Room_C})"),
        helper("Left", AFTER),
        made("Before", "gauge", gap("{Bar}-{Site_bar}"), answers="bar(g)", number="two"),
        made("Right after", "gauge", gap("{Left}-{Site_bar}"), answers="bar(g)", number="two"),
        made(
            "Time",
            "seconds",
            f"GAS_BACKFILL_TIME({fill(reservoir='{Bar}', supply='0')})",
            number="one",
        ),
        made("Band", "seconds", "{Time}*{Relative_band}", number="two"),
        made(
            "To recharge",
            "hours",
            'IF({Supply}=0,"none",({Full_gas as Nm3}-{Gas before as Nm3}+{Gas_fill as Nm3})'
            "/{Supply})",
            number="two",
        ),
        helper("Quick", IN_TIME, "text"),
        words(
            "Result",
            Case("{Inputs_wrong}>0", ""),
            Case("COUNT({Time},{Left})<2", "not served"),
            Case('{Quick}="yes"', "in time"),
            Case('{Quick}="no"', "too slow"),
            Case("", "cannot tell"),
        ),
        helper("Wanted", "{Pressure_to}"),
    ),
    heading="Fill after fill, refilled in between",
    rows=FILLS,
)

FILLS_CHART = Chart(
    "line",
    "Reservoir, fill after fill",
    "Fill",
    "By the gauge, {unit gauge}",
    "Pressure of the reservoir before and right after each fill of a row, with the pressure that "
    "the furnace is filled to as a broken line.",
    (
        Series("Before the fill", "Fills.Before", "Fills.Fill"),
        Series("Right after", "Fills.Right after", "Fills.Fill"),
        Series("Furnace is filled to", "Fills.Wanted", "Fills.Fill", limit=True),
    ),
    y={"num_format": "0", "min": 0},
)

STOCK = Block(
    "The reservoir",
    (
        Row(
            "Full_gas",
            "Gas in it when full",
            "GAS_CONTENTS({Gas},{Res_m3},{Res_bar},{Room_C},{unit amount})",
            "amount",
        ),
        Row(
            "Refilled",
            "Gas that refills it from one fill to the next",
            "{Supply}*{Interval}",
            "amount",
            answers="Nm3",
            number="one",
        ),
        Row(
            "Served",
            "Fills in a row that it serves",
            f'IFERROR(MATCH("not served",{{Fills.Result}},0)-1,{FILLS})',
            "count",
            f"{FILLS} are followed",
        ),
        Row("In_time", "of them in the time wanted", 'COUNTIF({Fills.Result},"in time")', "count"),
        Row(
            "Held_by",
            "The furnace's gas meanwhile",
            f'IF({{Control}}="{TOPPED_UP}","isothermal","wall")',
            note="Topped up, it ends cold and takes most",
        ),
    ),
)

CAPACITY_U = f"0.05/{NORMAL}"
"""Standard uncertainty of a relief valve's flow, as a share."""

RELIEF_BLOCK = Block(
    "Estimate, to be confirmed by a licensed person",
    (
        Row(
            "Set_verdict",
            "Set no higher than the reservoir may bear?",
            'IF({Relief_missing}>0,"",GAS_CONFORMS({Relief_set},0,{Relief_allowed},"at most"))',
        ),
        Row(
            "Relieving",
            "Pressure at which it is fully open",
            "{Relieving_bar}-{Site_bar}",
            "gauge",
            "The set pressure with its overpressure",
            answers="bar(g)",
            number="one",
        ),
        Row(
            "Relief_capacity",
            "Lets out then",
            "GAS_RELIEF_FLOW({Gas},{Relief_bore as mm},{Relieving_bar},{Room_C},"
            "{Relief_discharge},{Site_bar},{unit flow})",
            "flow",
            "Open to the air; the losses of the pipes before and after are not in it",
            number="whole",
        ),
        Row(
            "Relief_band",
            "its 95 % band, half width",
            "0.05*{Relief_capacity}",
            "flow",
            "Of the equations, 5 %; the coefficient is the maker's",
            number="whole",
        ),
        Row(
            "Relief_needed",
            "Most that can flow in",
            "{Relief_inflow}",
            "flow",
            "A fire near the reservoir asks for more, which is not in here",
            number="whole",
        ),
        Row(
            "Capacity_verdict",
            "Lets out as much?",
            conforms(
                "{Relief_capacity}",
                f"{{Relief_capacity}}*{CAPACITY_U}",
                "{Relief_needed}",
                "at least",
            ),
        ),
    ),
)

BEHIND_RELIEF = Block(
    "The relief valve, in the background",
    (
        Row(
            "Relief_missing",
            "Inputs that are missing",
            "6-COUNT({Relief_allowed},{Relief_set},{Relief_over},{Relief_bore},"
            "{Relief_discharge},{Relief_inflow})",
            "count",
        ),
        Row(
            "Relieving_bar",
            "Relief valve fully open at, bar(a)",
            "({Relief_set as bar(a)}-{Site_bar})*(1+{Relief_over}/100)+{Site_bar}",
            "number",
            number="two",
        ),
        Row(
            "Relief_bad",
            "Verdicts against it",
            'IFERROR(IF({Set_verdict}="no",1,0),0)+IFERROR(IF({Capacity_verdict}="no",1,0),0)',
            "count",
        ),
        Row(
            "Relief_ok",
            "Both verdicts for it?",
            'IFERROR(IF(AND({Set_verdict}="yes",{Capacity_verdict}="yes"),1,0),0)',
            "count",
        ),
    ),
)

RELIEF_SAID = Sentence(
    "Relief_said",
    (
        Case("{Relief_missing}>0", "Its relief valve is not judged: {Relief_missing} missing."),
        Case('{Set_verdict}="no"', "Its relief valve is set higher than the reservoir may bear."),
        Case(
            '{Capacity_verdict}="no"',
            "Its relief valve is too small: {Relief_capacity ± Relief_band} {unit flow} "
            "where {Relief_needed:#,##0} can flow in.",
        ),
        Case(
            'AND({Set_verdict}="yes",{Capacity_verdict}="yes")',
            "Its relief valve lets out enough by this estimate, to be confirmed by a licensed "
            "person.",
        ),
        Case(
            '{Capacity_verdict}="cannot tell"',
            "Whether its relief valve lets out enough is too near to tell.",
        ),
        Case("", "Its relief valve cannot be judged."),
    ),
)
