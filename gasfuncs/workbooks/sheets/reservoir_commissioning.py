"""A new or opened reservoir and its line made free of air: a sheet to work down and sign."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.commission_demo import demo
from gasfuncs.workbooks.sheets.commission_fill import (
    BEHIND_LEFT,
    CHOICE,
    FILL,
    FILLING,
    LEFT,
    METHODS,
    METHODS_CHART,
    TOLERANCES,
)
from gasfuncs.workbooks.sheets.commission_release import (
    AIR_SAID,
    COUNTS,
    POINTS,
    SIGNED,
    VERDICT,
    WAY_SAID,
    WHY_SAID,
)
from gasfuncs.workbooks.sheets.commission_state import STATE
from gasfuncs.workbooks.sheets.commission_typed import (
    GROUPS,
    HELIUM,
    PUMP,
    READS,
    REPORT,
    RISE,
    SURFACES,
)
from gasfuncs.workbooks.sheets.commission_vacuum import (
    BEHIND,
    BEHIND_LEAKS,
    COURSE,
    COURSE_END,
    EVACUATION,
    EVACUATION_CHART,
    LEAKS,
    PUMP_USED,
    PUMPING_SAID,
    RISE_CHART,
    RISE_SAID,
    START_CHART,
    SURFACES_USED,
)
from gasfuncs.workbooks.sheets.parts import (
    BACKGROUND,
    READ_HERE,
    TYPE_HERE,
    Block,
    Book,
    Number,
    Row,
    Sheet,
    Step,
    Test,
    Text,
)
from gasfuncs.workbooks.sheets.standard import about

FUNCTIONS = (
    "GAS_PUMPDOWN_CURVE",
    "GAS_RISE_VERDICT",
    "GAS_RISE_CURVE",
    "GAS_RISE_RATE",
    "GAS_LEAK_AS",
    "GAS_LEAK_LIMIT",
    "GAS_EVACUATE_RESIDUAL",
    "GAS_VENT_FILL_RESIDUAL",
    "GAS_VENT_FILL_USE",
    "GAS_PURGE_VERDICT",
    "GAS_CONFORMS",
    "GAS_UNCERTAINTY",
    "GAS_BACKFILL",
    "GAS_FILL_TEMPERATURE",
    "GAS_SETTLED_PRESSURE",
    "GAS_PRICE",
    "GAS_SITE_PRESSURE",
)

SLOWLY = (
    "Nobody stands before flanges and the outlet of the relief device. Keep to the flow; gas let "
    "into a vacuum is cold at the valve and warm in the vessel. No gas goes in before the relief "
    "device is in place and confirmed."
)

NAMED = (
    "{Reservoir}, no. {Serial}, {Line}: {Gas}, {Reservoir_volume} {unit volume}, up to {Allowed} "
    "{unit gauge} allowed"
)
FAST = (
    "At once: with no heat to the wall, the most that a fast fill can make. So a fast fill ends "
    "far below the working pressure when its gas has cooled. A slow one stays near room "
    "temperature."
)

WATER = (
    "What the walls give off is water for the most part and not counted as air: the dew point at "
    "the furnace shows it."
)

RELEASE = Sheet(
    "Release",
    "The reservoir on Inputs: each point is signed by name and date when it is done.",
    TYPE_HERE,
    (
        Text(NAMED, "heading"),
        Text("{Answer}", "verdict", 3),
        POINTS,
        SIGNED,
        Text(SLOWLY, "caution", 3),
    ),
    widths=(5, 60, 13, 10, 13, 13, 13, 20, 13),
)

SHEETS = (
    RELEASE,
    Sheet("Pump", "The furnace's pump, and the surfaces it meets.", TYPE_HERE, (PUMP, SURFACES)),
    Sheet("Pumping", "Readings while the reservoir is evacuated.", TYPE_HERE, (READS,)),
    Sheet(
        "Evacuation",
        "Pumped through the furnace and the backfill line: expected, read.",
        READ_HERE,
        (Text("{Pumping_said}", "verdict", 2), EVACUATION_CHART, EVACUATION),
    ),
    Sheet(
        "Rise test",
        "Pump valve shut, supply valve shut: 10 readings or more, more often at first.",
        TYPE_HERE,
        (RISE,),
    ),
    Sheet("Helium", "Sprayed outside, with vacuum inside.", TYPE_HERE, (HELIUM,)),
    Sheet(
        "Leaks",
        "From the supply valve to the furnace, against what a leak may add.",
        READ_HERE,
        (Text("{Rise_said}", "verdict", 2), RISE_CHART, LEAKS),
    ),
    Sheet(
        "Ways",
        "One deep evacuation against pump-and-fill cycles, judged when full.",
        READ_HERE,
        (
            Text("{Way_said}", "verdict", 2),
            METHODS,
            METHODS_CHART,
            CHOICE,
            LEFT,
            Text(WATER, "note", 2),
        ),
        widths=(42, 22, 11, 12, 14, 11, 13),
        landscape=False,
    ),
    Sheet(
        "Filling",
        "Slowly from vacuum to the air's pressure, stop, then to the working pressure.",
        READ_HERE,
        (FILLING, FILL, Text(FAST, "note", 2), Text(SLOWLY, "caution", 3)),
        widths=(48, 16, 12, 12, 12, 12, 13),
    ),
    Sheet(
        "Numbers",
        "Numbers that stand for themselves.",
        BACKGROUND,
        (
            COUNTS,
            BEHIND,
            Block("Course, its end", (COURSE_END,)),
            BEHIND_LEAKS,
            BEHIND_LEFT,
            TOLERANCES,
            STATE,
        ),
    ),
    Sheet(
        "Course",
        "What the charts are drawn from.",
        BACKGROUND,
        (COURSE, PUMP_USED, SURFACES_USED),
    ),
)

BOOK = Book(
    name="reservoir_commissioning",
    title="Reservoir commissioning",
    question="Is the reservoir tight, free of air and safely filled, and who released it?",
    functions=FUNCTIONS,
    groups=(about(REPORT), *GROUPS),
    sheets=SHEETS,
    verdict=VERDICT,
    sentences=(AIR_SAID, WHY_SAID, WAY_SAID, PUMPING_SAID, RISE_SAID),
    numbers=(
        Number("Points met and signed, of {Points_all}", "Points_met", kind="count"),
        Number("Air left at working pressure", "Left", "Left_band", "ppm", "one"),
        Number("Leak by the pressure rise", "Rise_leak", "Rise_band", "leak", "used"),
        Number("Time to evacuate, expected", "Hours_wanted", kind="hours", number="one"),
    ),
    chart=START_CHART,
    steps=(
        Step("{Points_no}>0", "Mend: {No_first}", "Release"),
        Step("{Points_repeat}>0", "Repeat: {Repeat_first}", "Release"),
        Step("{Points_unsure}>0", "Test longer or finer: {Unsure_first}", "Release"),
        Step("{Points_open}>0", "Next: {Open_first}", "Release"),
        Step("{Points_unsigned}>0", "To be signed: {Unsigned_first}", "Release"),
        Step('{Pumping_says}="no"', "Look why pumping is slower than expected", "Evacuation"),
        Step("{Needed}>0", "Compare one evacuation with pump-and-fill cycles", "Ways"),
        Step("", "Print Release, and work it down", "Release"),
    ),
    tests=(
        Test(
            "The pressure allowed bears the relief device's set",
            "{Relief_set}>{Allowed}",
            "the relief device is set to {Relief_set}, above the {Allowed} {unit gauge} allowed",
            "Inputs",
        ),
        Test(
            "The gauge reads no more than is allowed",
            "N({Filled})>MIN({Allowed},{Relief_set})",
            "the reservoir stands at {Filled}; {Allowed} {unit gauge} are allowed, the relief "
            "device is set to {Relief_set}: let gas out",
            "Release",
        ),
        Test(
            "The supply reaches the working pressure",
            "{Supply_pressure}<{Work}",
            "the supply has {Supply_pressure}, the working pressure is {Work} {unit gauge}",
            "Inputs",
        ),
        Test(
            "A cycle is filled above what it is pumped down to",
            "{High_bar}<={Low_bar}",
            "a cycle is filled to no more than it is pumped down to",
            "Inputs",
        ),
        Test(
            "No signature is of a later day",
            "{Days_later}>0",
            "{Days_later} signature(s) of a day after {Report_day:date}",
            "Release",
        ),
        Test(
            "Confirmed before filled, and released last",
            "{Days_before}>0",
            "filled before the relief device was confirmed, or released before a point was signed",
            "Release",
        ),
        Test(
            "Nothing is released before every point is met",
            "{Signed_early}>0",
            "signed as released although {Points_met} of {Points_all} points are met and signed",
            "Release",
        ),
        Test(
            "Nothing was changed after it was signed",
            "{Changed}>0",
            "{Changed} signature(s) of another state than the one that the sheet is in now",
            "Release",
        ),
    ),
    others=(
        Row(
            "Other_space",
            "Volume under test, line included",
            "Space",
            "volume",
            "Leak and dew point log: the vessel's volume",
            answers="m3",
            number="two",
        ),
        Row(
            "Other_limit",
            "Leak allowed",
            "{Leak_limit}",
            "leak",
            "Leak and dew point log: its limit",
        ),
        Row(
            "Other_gas",
            "Gas for the fill to working pressure",
            "{Fill_gas}",
            "amount",
            "Monthly gas use: used by no cycle in the month of the commissioning",
        ),
        Row(
            "Other_work",
            "Working pressure",
            "{Work}",
            "gauge",
            "Reservoir and line sizing: pressure of the reservoir",
        ),
    ),
    demo=demo,
    period="State of {Report_day:date}",
    cautions=(
        "Evacuate only a vessel that may bear full vacuum, by its maker's word: one built for "
        "inner pressure only may collapse. Let no air into hot or dusty pumps.",
        "Fill no reservoir above the pressure that its data plate allows, nor near to the set of "
        "its relief device; the device is confirmed by a licensed person before gas is let in.",
        SLOWLY,
    ),
)
