"""Purging a vessel: cycles needed, whether each purge passed, and the gas that then arrives."""

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
from gasfuncs.workbooks.sheets.purge_certificate import (
    BEHIND_SHOWN,
    CERTIFICATE_SENTENCES,
    CERTIFIED,
    CERTIFIED_CHART,
    LAST,
    SHOWN_PURGE,
)
from gasfuncs.workbooks.sheets.purge_demo import demo
from gasfuncs.workbooks.sheets.purge_plan import (
    BEHIND_PLAN,
    COURSE,
    COURSE_CHART,
    LEAKING,
    METHODS,
    METHODS_CHART,
    MOISTURE,
    NEEDED,
    ONE_CYCLE,
    PLAN_PROBLEM,
    PLANNED,
    TOLERANCES,
    VESSEL,
)
from gasfuncs.workbooks.sheets.purge_typed import (
    ALLOWANCES,
    ANALYSERS,
    OTHER_WAYS,
    PURGES,
    SWING,
    SWINGS,
    TIME_AND_COST,
    VESSELS,
)
from gasfuncs.workbooks.sheets.purge_use import (
    BEHIND_USE,
    BUDGET,
    BUDGET_CHART,
    HOSES,
    INFLOWS,
    JOINTS,
    OXYGEN_BUDGET,
    SUMS,
    SURFACES,
    USE_SENTENCES,
    WATER_BUDGET,
)
from gasfuncs.workbooks.sheets.standard import REPORT, about

SHOWN = Input(
    "Shown_purge",
    "Purge on the certificate",
    "text",
    "As on Purges; blank: the latest one that was read",
    choices="Purges.Purge",
    required=False,
)

PURGE_SAID = Sentence(
    "Purge_said",
    (
        Case(
            "Failed>0",
            "{Failed_vessel} failed ({Failed_purge}): {Failed_reading} ppm read, {Failed_wanted} "
            "allowed. ",
        ),
        Case(
            "Repeated>0",
            "Read {Repeated_vessel} again ({Repeated_purge}): the reading is impossible. ",
        ),
        Case(
            "Unsure>0",
            "{Unsure_vessel} cannot be told ({Unsure_purge}): {Unsure_reading} ppm read, "
            "{Unsure_wanted} allowed. ",
        ),
        Case("Purges_read=0", "No purge is recorded yet. "),
        Case(
            "",
            "{Latest_vessel} passed ({Latest_purge}): {Latest_reading} ppm read, {Latest_wanted} "
            "allowed. ",
        ),
    ),
)

AND_MORE = " {unit amount}, {Hours_needed:0.0} h, {Currency} {Cost_needed:#,##0}"
COMES_TO = Sentence(
    "Comes_to",
    (
        Case("{Gas_needed}>=100", "{Gas_needed:#,##0}" + AND_MORE),
        Case("", "{Gas_needed:0.0}" + AND_MORE),
    ),
)
PLAN_SAID = Sentence(
    "Plan_said",
    (
        Case('{Plan_problem}<>""', "The plan does not go together: {Plan_problem}. "),
        Case(
            '{Plan_verdict}="yes"',
            "{Planned} cycles leave {Left_planned:0.0} ppm, at most {Left_most:0.0}: enough "
            "(needed: {Needed}, with {Comes_to}). ",
        ),
        Case(
            '{Plan_verdict}="no"',
            "{Planned} cycles leave {Left_planned:#,##0.0} ppm, at least {Left_least:#,##0.0}: too "
            "few. {Needed} are needed: {Comes_to}. ",
        ),
        Case(
            "",
            "Whether {Planned} cycles do cannot be told: they leave {Left_least:#,##0.0} to "
            "{Left_most:#,##0.0} ppm by how it mixes. {Needed} are enough: {Comes_to}. ",
        ),
    ),
)

ALL_SAID = "{Purge_said}{Plan_said}{Oxygen_said}"
VERDICT = Sentence(
    "Answer",
    (
        Case("Failed>0", ALL_SAID, ACT, firm=True),
        Case('AND({Plan_problem}="",{Plan_verdict}="no")', ALL_SAID, ACT),
        Case('IFERROR(Oxygen_verdict,"")="no"', ALL_SAID, ACT),
        Case('IFERROR(Water_verdict,"")="no"', ALL_SAID + " {Water_said}", ACT),
        Case("Repeated>0", ALL_SAID, WATCH),
        Case('OR({Plan_problem}<>"",Unsure>0,Purges_read=0)', ALL_SAID, UNKNOWN),
        Case('IFERROR(Plan_verdict,"")<>"yes"', ALL_SAID, UNKNOWN),
        Case("Source_count=0", ALL_SAID, FINE),
        Case('IFERROR(Oxygen_verdict,"")<>"yes"', ALL_SAID, UNKNOWN),
        Case('IFERROR(Water_verdict,"")<>"yes"', ALL_SAID + " {Water_said}", UNKNOWN),
        Case("", ALL_SAID, FINE),
    ),
)

TYPED = (
    Sheet("Vessels", "What is purged.", TYPE_HERE, (VESSELS,)),
    Sheet("Analysers", "What reads the oxygen, and how closely.", TYPE_HERE, (ANALYSERS,)),
    Sheet("Purges", "One row a purge, judged by what was wanted on its day.", TYPE_HERE, (PURGES,)),
    Sheet("Cycle log", "One row a cycle, as the gauges read.", TYPE_HERE, (SWINGS,)),
    Sheet("Hoses", "What gas comes through on its way.", TYPE_HERE, (HOSES,)),
    Sheet("Joints", "Where air leaks in.", TYPE_HERE, (JOINTS,)),
    Sheet("Surfaces", "What gives off water.", TYPE_HERE, (SURFACES,)),
)

SIGNED = (
    Text("Purged by, date:", "signature", 2),
    Text("Checked by, date:", "signature", 2),
)

BOOK = Book(
    name="vent_fill_purity",
    title="Vent and fill to a purity",
    question="How many cycles does a vessel need, did each purge pass, how clean is the gas then?",
    functions=(
        "GAS_VENT_FILL_COUNT",
        "GAS_VENT_FILL_RESIDUAL",
        "GAS_VENT_FILL_USE",
        "GAS_UNCERTAINTY",
        "GAS_CONFORMS",
        "GAS_PURGE_VERDICT",
        "GAS_PUMPDOWN_TIME",
        "GAS_EVACUATE_RESIDUAL",
        "GAS_BACKFILL",
        "GAS_SWEEP_CHANGES",
        "GAS_SWEEP_RESIDUAL",
        "GAS_SWEEP_USE",
        "GAS_GRADE_IMPURITY",
        "GAS_LEAK_IMPURITY",
        "GAS_LEAK_LIMIT",
        "GAS_LEAK_BUILDUP",
        "GAS_POINT_OF_USE",
        "GAS_PERMEATION",
        "GAS_GAS_LOAD",
        "GAS_DEW_PPM",
        "GAS_PPM_DEW",
        "GAS_DEW_SHIFT",
        "GAS_PRICE",
        "GAS_SITE_PRESSURE",
    ),
    groups=(about(REPORT, SHOWN), SWING, TIME_AND_COST, OTHER_WAYS, ALLOWANCES),
    sheets=(
        Sheet(
            "Plan",
            "What one cycle does, what the cycles planned and those needed come to.",
            READ_HERE,
            (VESSEL, ONE_CYCLE, PLANNED, NEEDED, LEAKING, MOISTURE),
        ),
        Sheet(
            "Cycles",
            "What is left after each cycle.",
            READ_HERE,
            (COURSE_CHART, COURSE),
            landscape=False,
        ),
        Sheet(
            "Methods",
            "Vent and fill, one deep evacuation and sweeping, each with what it takes at worst.",
            READ_HERE,
            (METHODS, METHODS_CHART),
        ),
        Sheet(
            "Certificate",
            "The purge that is chosen on Inputs, to print and sign.",
            READ_HERE,
            (
                Text("{Certified_said}", "verdict", 3),
                SHOWN_PURGE,
                CERTIFIED,
                CERTIFIED_CHART,
                *SIGNED,
            ),
            widths=(36, 24, 13, 13, 13, 13, 13),
            landscape=False,
        ),
        Sheet("Last purges", "What was wanted then, what was read.", READ_HERE, (LAST,)),
        Sheet(
            "Point of use",
            "What each source brings into the gas, and which hose or joint to change first.",
            READ_HERE,
            (
                Text("{Oxygen_said}", "verdict", 3),
                Text("{Water_said}", "verdict", 3),
                BUDGET_CHART,
                BUDGET,
                SUMS,
            ),
            landscape=False,
        ),
        *TYPED,
        Sheet(
            "Numbers",
            "Numbers that stand for themselves.",
            BACKGROUND,
            (BEHIND_PLAN, BEHIND_SHOWN, OXYGEN_BUDGET, WATER_BUDGET, BEHIND_USE, TOLERANCES),
        ),
        Sheet("Inflows", "Every source with what it lets in.", BACKGROUND, (INFLOWS,)),
    ),
    verdict=VERDICT,
    sentences=(
        PURGE_SAID,
        PLAN_SAID,
        COMES_TO,
        PLAN_PROBLEM,
        *USE_SENTENCES,
        *CERTIFICATE_SENTENCES,
    ),
    numbers=(
        Number("Oxygen left by {Planned} cycles, at most", "Left_most", kind="ppm"),
        Number("Cycles needed, at the worst mixing", "Needed", kind="count"),
        Number("Last purge, oxygen read", "Latest_oxygen", "Latest_half", "ppm", "one"),
        Number("Oxygen in the gas that arrives", "Oxygen_total", "Oxygen_band", "ppm", "one"),
    ),
    chart=COURSE_CHART,
    steps=(
        Step("Failed>0", "Purge {Failed_vessel} again: {Failed_reading} ppm read", "Purges"),
        Step("Repeated>0", "Zero the analyser and read {Repeated_vessel} again", "Purges"),
        Step(
            'OR({Plan_verdict}="no",{Plan_verdict}="cannot tell")', "Plan {Needed} cycles", "Inputs"
        ),
        Step(
            'OR({Oxygen_verdict}="no",{Oxygen_verdict}="cannot tell")',
            "Look at {Oxygen_from}: it lets in the most oxygen",
            "Point of use",
        ),
        Step("Unsure>0", "Read {Unsure_vessel} with a finer analyser", "Purges"),
        Step(
            'OR({Water_verdict}="no",{Water_verdict}="cannot tell")',
            "Dry: {Water_from} brings the most water",
            "Point of use",
        ),
        Step("Out_of_date>0", "Look at the purges read past a calibration", "Last purges"),
        Step("", "Log the next purge: Purges first, then Cycle log", "Purges"),
    ),
    tests=(
        Test(
            "The oxygen of all sources is the oxygen that arrives",
            "ABS(SUM({Inflows.Oxygen})-Oxygen_total)>0.000001*Oxygen_total",
            "the budget does not add up: see Inflows",
            "Point of use",
        ),
        Test(
            "One cycle less would not do at the worst mixing",
            "IF(ISNUMBER(Left_before),Left_before<=Wanted,FALSE)",
            "the count and the residual do not agree",
            "Plan",
        ),
        Test(
            "The certificate's cycles are the purge's",
            "COUNT({Certified.Cycle})<>N(Shown_cycles)",
            "there is room for 16 cycles on Certificate",
            "Certificate",
        ),
        Test(
            "No purge is logged after the report",
            'COUNTIF({Purges.Date},">="&Report_day+1)>0',
            "purges after the report's day are on the log and not counted",
            "Purges",
        ),
    ),
    others=(
        Row(
            "Purge_gas",
            "Gas of one purge",
            "Gas_needed",
            "amount",
            "Monthly gas use: Recipes, a backfill as many times as there are cycles",
        ),
        Row("Purge_cost", "Cost of its gas", "Cost_needed", "money", "Argon or nitrogen"),
        Row(
            "Leak_allowed",
            "Largest leak that keeps what is wanted",
            "Leak_largest",
            "leak",
            "Leak and dew point log: Vessels, Limit",
        ),
    ),
    demo=demo,
    period="State of {Report_day:date}",
    cautions=(
        "The cycles are counted for gas that mixes as told on Vessels. Dead legs, insulation and "
        "the load hold air back, and water comes off the walls for hours: an analyser proves the "
        "end.",
        "Nobody enters a vessel by this record: the oxygen is measured again at the opening, by "
        "somebody whom local rules name for it.",
        "Printed permeabilities and outgassing rates differ by the factor told beside each: what "
        "is close is to be measured before money is spent.",
    ),
)
