"""Reservoir and line: how long a fill takes, which bore a wanted time needs, what is left."""

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
    Input,
    Number,
    Row,
    Sentence,
    Sheet,
    Step,
    Test,
    Text,
)
from gasfuncs.workbooks.sheets.sizing_demo import demo
from gasfuncs.workbooks.sheets.sizing_fill import (
    ARGUMENTS,
    BEHIND,
    BUDGET,
    CONTROLLER,
    COURSE,
    COURSE_CHART,
    ENDS,
    TIME,
    TOLERANCES,
)
from gasfuncs.workbooks.sheets.sizing_inputs import (
    FITTINGS,
    FURNACE,
    KNOWN,
    LINE,
    PIPES,
    RELIEF,
    RESERVOIR,
    TAKEN,
    TEMPERATURES,
    TOPPED_UP,
)
from gasfuncs.workbooks.sheets.sizing_reservoir import (
    BEHIND_RELIEF,
    FILLS_CHART,
    FILLS_TABLE,
    RELIEF_BLOCK,
    RELIEF_SAID,
    STOCK,
)
from gasfuncs.workbooks.sheets.sizing_what_if import (
    CASES,
    LEGEND,
    LENGTH_CHART,
    LENGTHS,
    SIZES,
    SIZES_CHART,
    TRIED,
)
from gasfuncs.workbooks.sheets.standard import about

REPORT = Input("Report_day", "Day of this report", "date", "Today, for example 1 Oct 2026")

RELIEF_CAUTION = (
    "An estimate. A licensed designer chooses and sets the relief valve by the local "
    "pressure-equipment code, with the maker's certified coefficient and the losses of its pipes; "
    "it discharges outdoors, away from people and intakes."
)
PRESSURE_CAUTION = (
    "Nobody opens a door, flange or valve under pressure. A large reservoir can raise a furnace "
    "past its rating: the furnace's own relief valve must take the line's full flow."
)

TAKES = "{Time_now ± Time_band} s"
TIME_SAID = Sentence(
    "Time_said",
    (
        Case(
            '{Time_verdict}="yes"',
            "The fill to {Pressure_to:0.0} {unit gauge} takes "
            + TAKES
            + ", within the {Time_wanted} "
            "s wanted.",
        ),
        Case(
            '{Time_verdict}="no"',
            "The fill to {Pressure_to:0.0} {unit gauge} takes " + TAKES + ", longer than the "
            "{Time_wanted} s wanted.{Pipe_said}",
        ),
        Case(
            '{Time_verdict}="cannot tell"',
            "The fill takes " + TAKES + ", too near to the {Time_wanted} s wanted to tell; most of "
            "the band is from the {Most_of_it}. Time a fill.{Pipe_said}",
        ),
        Case("", "The fill takes {Time_now:0.0} s, whose band cannot be told."),
    ),
)
PIPE_SAID = Sentence(
    "Pipe_said",
    (
        Case("ISNUMBER({Next_bore})", " Sure to do: {Next_size}."),
        Case("ISNUMBER({Bore_needed})", " No pipe on Line is sure to do."),
        Case("", " No bore does: {Bore_why}"),
    ),
)
LOWER = "{Settled_bar}+{Settled_band}<{To_bar}"
RISES = "{Settled_bar}-{Settled_band}>{To_bar}"
SETTLES = "{Settles_said}"
SAID_ALONE = (
    Sentence("Settles_said", (Case("", "{Settles_to ± Settles_band} {unit gauge}"),)),
    Sentence("Top_said", (Case("", "{Top_up ± Top_band} {unit amount} more"),)),
)
CONTROL_SAID = Sentence(
    "Control_said",
    (
        Case("NOT(ISNUMBER({Settled_band}))", " What it settles to cannot be told."),
        Case(
            f'AND({{Control}}="{TOPPED_UP}",{LOWER})',
            " Leave the controller on: shut off then, its gas of {End_gas:0} {unit temperature} "
            "settles to " + SETTLES + "; holding the pressure takes {Top_said}.",
        ),
        Case(
            f"AND({LOWER},{{Stop_bar}}>{{Allowed_bar}})",
            " One shot settles to " + SETTLES + ": top it up, as it would have to stop at "
            "{Stop_at:0.0}, more than the furnace may bear.",
        ),
        Case(
            LOWER,
            " One shot settles to " + SETTLES + ": top it up, or let it stop near {Stop_at:0.0}.",
        ),
        Case(
            f"AND({RISES},{{Settled_bar}}>{{Allowed_bar}})",
            " Its gas warms, and the pressure rises to " + SETTLES + ", more than the furnace may "
            "bear: stop lower.",
        ),
        Case(RISES, " Its gas warms, and the pressure rises to " + SETTLES + "."),
        Case("", ""),
    ),
)
FULL = "The reservoir falls to {After_fill:0.0} {unit gauge}"
RESERVOIR_SAID = Sentence(
    "Reservoir_said",
    (
        Case("{Served}=0", "The reservoir does not serve one fill as it is controlled."),
        Case(
            "{Served}<{Fills_needed}",
            FULL + " and serves {Served} fill(s) in a row where {Fills_needed} are needed.",
        ),
        Case(
            "{In_time}<{Fills_needed}",
            FULL + " and serves {Served} fill(s) in a row where {Fills_needed} are needed, "
            "{In_time} of them sure to be in time.",
        ),
        Case("", FULL + " and serves the {Fills_needed} fills in a row that are needed."),
    ),
)
ALL_SAID = "{Time_said}{Control_said} {Reservoir_said} {Relief_said}"
OVER = f"AND({RISES},{{Settled_bar}}>{{Allowed_bar}})"
VERDICT = Sentence(
    "Answer",
    (
        Case('ISNUMBER(SEARCH("not reached",{Time_why}))', "{Time_why}", ACT),
        Case("NOT(ISNUMBER({Time_now}))", "The fill cannot be calculated: {Time_why}", UNKNOWN),
        Case('{Time_verdict}="no"', ALL_SAID, ACT),
        Case('{Set_verdict}="no"', ALL_SAID, ACT),
        Case('{Capacity_verdict}="no"', ALL_SAID, ACT),
        Case("{Served}<{Fills_needed}", ALL_SAID, ACT),
        Case(OVER, ALL_SAID, ACT),
        Case("{Time_ok}=0", ALL_SAID, UNKNOWN),
        Case("{In_time}<{Fills_needed}", ALL_SAID, WATCH),
        Case("{Relief_ok}=0", ALL_SAID, WATCH),
        Case("NOT(ISNUMBER({Settled_band}))", ALL_SAID, WATCH),
        Case(f'AND({{Control}}<>"{TOPPED_UP}",{LOWER})', ALL_SAID, WATCH),
        Case("", ALL_SAID, FINE),
    ),
)

SHEETS = (
    Sheet(
        "Fill",
        "Time of the fill, what the controller must do, what the reservoir serves.",
        READ_HERE,
        (TIME, CONTROLLER, STOCK),
    ),
    Sheet(
        "What if",
        "What another line, pipe or temperature does; what the band comes from.",
        READ_HERE,
        (CASES, BUDGET),
    ),
    Sheet(
        "Course",
        "From the opening of the valve to the end.",
        READ_HERE,
        (COURSE_CHART, COURSE),
        landscape=False,
    ),
    Sheet(
        "Length",
        "Time over the length of the line, for three bores.",
        READ_HERE,
        (LENGTH_CHART, LENGTHS),
    ),
    Sheet(
        "Reservoir",
        "Fill after fill, with the refill in between.",
        READ_HERE,
        (FILLS_CHART, FILLS_TABLE),
    ),
    Sheet(
        "Relief",
        "Whether the reservoir's relief valve lets out what may flow in.",
        READ_HERE,
        (RELIEF_BLOCK, Text(RELIEF_CAUTION, "caution", 2)),
    ),
    Sheet(
        "Line",
        "What the gas passes on its way, and the pipes to choose from.",
        TYPE_HERE,
        (FITTINGS, PIPES),
    ),
    Sheet(
        "Numbers",
        "Numbers that stand for themselves.",
        BACKGROUND,
        (TAKEN, BEHIND, BEHIND_RELIEF, TOLERANCES, ARGUMENTS, ENDS, LEGEND, TRIED, SIZES),
    ),
)

OTHERS = (
    Row(
        "For_gas",
        "Gas of one fill, as it is controlled",
        "{Gas_fill}",
        "amount",
        "Monthly gas use, Argon or nitrogen: gas of a backfill",
        number="one",
    ),
    Row(
        "For_flow",
        "Flow that refills the reservoir",
        "{Supply_flow}",
        "flow",
        "Bulk tank reorder: the largest hourly draw",
    ),
    Row(
        "For_volume",
        "Volume of the reservoir",
        "{Reservoir_volume}",
        "volume",
        "Reservoir commissioning: what is evacuated and filled",
    ),
)

BOOK = Book(
    name="reservoir_line_sizing",
    title="Reservoir and line sizing",
    question=(
        "How long does a quench fill take, which bore makes it fast enough, and how many fills "
        "does the reservoir serve?"
    ),
    functions=(
        "GAS_BACKFILL_TIME",
        "GAS_BACKFILL_CURVE",
        "GAS_LINE_BORE",
        "GAS_SETTLED_PRESSURE",
        "GAS_TOP_UP",
        "GAS_RESERVOIR_AFTER",
        "GAS_BACKFILL",
        "GAS_CONTENTS",
        "GAS_PRESSURE",
        "GAS_UNCERTAINTY",
        "GAS_CONFORMS",
        "GAS_RELIEF_FLOW",
        "GAS_SITE_PRESSURE",
        "GAS_CONVERT",
        "GAS_CHECK",
    ),
    groups=(about(REPORT), FURNACE, TEMPERATURES, RESERVOIR, LINE, RELIEF, KNOWN),
    sheets=SHEETS,
    verdict=VERDICT,
    sentences=(
        *SAID_ALONE,
        TIME_SAID,
        PIPE_SAID,
        CONTROL_SAID,
        RESERVOIR_SAID,
        RELIEF_SAID,
    ),
    numbers=(
        Number("Time of the fill", "Time_now", "Time_band", "seconds"),
        Number("Smallest bore for {Time_wanted} s", "Bore_needed", "Bore_band", "bore"),
        Number("Not topped up, settles to", "Settles_to", "Settles_band", "gauge"),
        Number("Fills in a row, of {Fills_needed} needed", "Served", kind="count"),
    ),
    chart=SIZES_CHART,
    steps=(
        Step("{Fittings_out}>0", "Mend {Fittings_out} row(s) of the fittings", "Line"),
        Step('{Time_verdict}="no"', "Choose the pipe: {Next_size}", "Line"),
        Step(
            '{Time_verdict}="cannot tell"',
            "Time a fill; most of the band is from the {Most_of_it}",
            "Fill",
        ),
        Step(
            "{Served}<{Fills_needed}",
            "Longer between fills, a larger reservoir or supply",
            "Reservoir",
        ),
        Step(
            "{In_time}<{Fills_needed}",
            "See which fills of a row are sure to be in time",
            "Reservoir",
        ),
        Step("{Relief_bad}>0", "Have the relief valve looked at by a licensed person", "Relief"),
        Step("{Relief_missing}>0", "Type the relief valve's {Relief_missing} numbers", "Inputs"),
        Step(LOWER, "See what the controller must do", "Fill"),
        Step("", "See what a longer line or another pipe does", "Length"),
        Step("", "Have the relief estimate confirmed by a licensed person", "Relief"),
    ),
    tests=(
        Test(
            "The fill ends below what the furnace may bear",
            "{Pressure_to}>{Vessel_allowed}",
            "the pressure that the fill goes up to is higher than the furnace may bear",
            "Inputs",
        ),
        Test(
            "The full reservoir stays below its relief valve",
            "AND(ISNUMBER({Relief_set}),{Reservoir_full}>=N({Relief_set}))",
            "the reservoir's pressure when full is not below the valve's set pressure",
            "Inputs",
        ),
        Test(
            "The course ends where the time does",
            "ABS(INDEX({Course.Time},{Points})/{Time_now}-1)>0.0001",
            "course and time of the fill differ",
            "Course",
        ),
        Test(
            "The smallest bore and the pipes agree",
            "AND(ISNUMBER({Next_bore}),{Next_bore}<{Bore_needed})",
            "a pipe narrower than the smallest bore is said to do",
            "Line",
        ),
    ),
    others=OTHERS,
    demo=demo,
    period="{Furnace}, {Report_day:date}",
    cautions=(RELIEF_CAUTION, PRESSURE_CAUTION),
)
