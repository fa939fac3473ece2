"""Leak tests and dew points: over the limit or not, growing, overdue; leak, outgassing or pump."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.leak_demo import demo
from gasfuncs.workbooks.sheets.leak_source import (
    BEHIND_SOURCE,
    CURVE,
    LONG_TEST,
    MATERIALS,
    SENTENCES,
    SOURCE,
    SOURCE_CHART,
)
from gasfuncs.workbooks.sheets.leak_state import (
    COUNTS,
    SERIES,
    SHOWN,
    SHOWN_CHART,
    STATE,
    STATE_CHART,
    WORST_OF,
)
from gasfuncs.workbooks.sheets.leak_tests import (
    DECAYS,
    DEWS,
    GAUGES,
    HELIUM,
    PLACES,
    RISES,
    VESSELS,
)
from gasfuncs.workbooks.sheets.parts import (
    ACT,
    BACKGROUND,
    FINE,
    READ_HERE,
    TYPE_HERE,
    UNKNOWN,
    WATCH,
    Block,
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
from gasfuncs.workbooks.sheets.standard import REPORT, about

SHOWN_VESSEL = Input(
    "Shown_vessel",
    "Vessel of the chart over time",
    "text",
    "As on Vessels, for the sheet One vessel",
    choices="State.Vessel",
    required=False,
)

TOLERANCES = Block(
    "Tolerances as the functions take them",
    (
        Row(
            "Rise_tolerance",
            "Vacuum gauge",
            '"±"&{Vacuum_share}&" %; ±"&{Vacuum_step}&" "&{unit fine_vacuum}',
        ),
        Row("Decay_tolerance", "Pressure gauge", '"±"&{Gauge_step}&" "&{unit difference}'),
        Row("Warm_tolerance", "Thermometer", '"±"&{Thermometer_step}&" "&{unit kelvins}'),
    ),
)

SAID = (
    Sentence(
        "Leaks_said",
        (
            Case(
                "{Over}>0",
                "{Over_first} leaks {Over_told} {unit leak} (between {Over_least} and "
                "{Over_most}), more than its limit of {Over_allowed}{Over_more}.",
            ),
            Case(
                "{Tight}=0",
                "No vessel is proved tight yet.",
            ),
            Case("", "No leak is over its limit; {Tight} of {Vessel_count} are proved tight."),
        ),
    ),
    Sentence(
        "Course_said",
        (
            Case(
                "{Growing}>0",
                " {Growing_first} grows: {Growing_share:0} % of its limit, which it may reach on "
                "{Growing_reaches:date}.",
            ),
            Case("{Higher}>0", " {Higher} vessel(s) leak more than they used to."),
            Case("", ""),
        ),
    ),
    Sentence(
        "Repeat_said",
        (
            Case("{Repeats}>0", " The last test of {Repeat_first} proves nothing: repeat it."),
            Case("{Unsure}>0", " The test of {Unsure_first} cannot tell: longer or finer."),
            Case("", ""),
        ),
    ),
    Sentence(
        "Due_said",
        (
            Case(
                "{Overdue}>0",
                " {Overdue} test(s) overdue: {Overdue_first}, last made {Overdue_since:date}.",
            ),
            Case("{Untested}>0", " {Untested} never tested."),
            Case("", " Next test: {Next_first}, {Next_day:date}."),
        ),
    ),
    Sentence(
        "Dew_said",
        (
            Case("{Wet}>0", " Too wet: {Wet_first}."),
            Case("{Places_now}=0", " No dew point is logged."),
            Case("{Dew_unsure}>0", " {Dew_unsure} dew point(s) too near to the limit to tell."),
            Case("", " Dew points are within their limits."),
        ),
    ),
    Sentence(
        "Over_more",
        (Case("{Over}>1", "; {Over} in all do"), Case("", "")),
    ),
)

ALL_SAID = "{Leaks_said}{Course_said}{Repeat_said}{Due_said}{Dew_said}"
VERDICT = Sentence(
    "Answer",
    (
        Case("{Vessel_count}=0", "List the vessels and lines on Vessels.", UNKNOWN),
        Case("{Over}+{Wet}>0", ALL_SAID, ACT, firm=True),
        Case("{Growing}+{Higher}+{Repeats}+{Overdue}+{Untested}>0", ALL_SAID, WATCH),
        Case("{Unsure}+{Dew_unsure}>0", ALL_SAID, UNKNOWN),
        Case("", ALL_SAID, FINE),
    ),
)

TYPED = (
    Sheet("Vessels", "What is tested, how, and what it may leak.", TYPE_HERE, (VESSELS,)),
    Sheet(
        "Rise tests",
        "Evacuated, pump valve shut, read at equal times: start and end at least.",
        TYPE_HERE,
        (RISES,),
    ),
    Sheet("Decay tests", "Under pressure, shut in, the gas settled.", TYPE_HERE, (DECAYS,)),
    Sheet("Helium", "Detector readings place by place.", TYPE_HERE, (HELIUM,)),
    Sheet(
        "Places", "Where the dew point is measured, and how dry it must be.", TYPE_HERE, (PLACES,)
    ),
    Sheet("Dew points", "As the meter shows them.", TYPE_HERE, (DEWS,)),
    Sheet(
        "Long test",
        "One long rise test, read often; more often at first, while outgassing is fast.",
        TYPE_HERE,
        (CURVE, MATERIALS),
    ),
)


def _other(number: int) -> tuple[Row, ...]:
    """The numbers of one vessel that other books ask for."""

    def of(column: str) -> str:
        return f"INDEX({{State.{column}}},{number})"

    purge = "Vent and fill: Air leaking into the vessel"
    return (
        Row(f"Other_vessel_{number}", f"Vessel or line {number}", f'{of("Vessel")}&""'),
        Row(f"Other_leak_{number}", "its leak", of("Leak"), "leak", purge),
        Row(f"Other_most_{number}", "at most (95 %)", of("High"), "leak", "there: at most"),
    )


BOOK = Book(
    name="leak_dewpoint_log",
    title="Leak and dew point log",
    question="Which vessel or line leaks more than it may, which one gets worse, what is due next?",
    functions=(
        "GAS_RISE_VERDICT",
        "GAS_RISE_FIT",
        "GAS_RISE_CURVE",
        "GAS_DECAY_VERDICT",
        "GAS_TREND",
        "GAS_CONTROL_CHART",
        "GAS_CONFORMS",
        "GAS_LEAK_CONVERT",
        "GAS_LEAK_AS",
        "GAS_LEAK_IMPURITY",
        "GAS_LEAK_LIMIT",
        "GAS_LEAK_LOSS",
        "GAS_DEW_PPM",
        "GAS_DEW_SHIFT",
        "GAS_GAS_LOAD",
        "GAS_ULTIMATE_PRESSURE",
        "GAS_SITE_PRESSURE",
    ),
    groups=(about(REPORT, SHOWN_VESSEL), GAUGES, LONG_TEST),
    sheets=(
        Sheet(
            "State",
            "Every vessel by its last test. The first 40 are printed with the book; for more, "
            "select their rows and print the selection.",
            READ_HERE,
            (STATE,),
            printed=46,
        ),
        Sheet("One vessel", "The chosen vessel over time.", READ_HERE, (SHOWN_CHART, SHOWN)),
        Sheet(
            "Leak or outgassing",
            "Leak, outgassing or pump: what one long test tells.",
            READ_HERE,
            (
                Text("{Source_leak}", "verdict", 2),
                Text("{Source_gas}", "verdict", 2),
                Text("{Source_pump}", "verdict", 2),
                SOURCE_CHART,
                SOURCE,
            ),
            landscape=False,
        ),
        *TYPED,
        Sheet(
            "Numbers",
            "Numbers that stand for themselves.",
            BACKGROUND,
            (COUNTS, TOLERANCES, BEHIND_SOURCE, WORST_OF),
        ),
        Sheet("Series", "The last tests of each vessel.", BACKGROUND, (SERIES,)),
    ),
    verdict=VERDICT,
    sentences=(*SAID, *SENTENCES),
    numbers=(
        Number("Vessels and lines proved tight", "Tight", kind="count"),
        Number("Leaking over their limit", "Over", kind="count"),
        Number("Highest share of a limit", "Highest", "Highest_band", "share", "whole"),
        Number("Tests overdue", "Overdue", kind="count"),
    ),
    chart=STATE_CHART,
    steps=(
        Step("{Over}>0", "Find and mend the leak of {Over_first}, test it again", "State"),
        Step("{Wet}>0", "Dry {Wet_first}: look for the wet joint or hose", "Dew points"),
        Step("{Repeats}>0", "Repeat the test of {Repeat_first}", "State"),
        Step("{Growing}>0", "Look at the seals of {Growing_first}", "One vessel"),
        Step("{Overdue}+{Untested}>0", "Make the tests that are due", "State"),
        Step("{Unsure}>0", "Test {Unsure_first} for longer, or with a finer gauge", "State"),
        Step('{Next_first}<>""', "Log the next test: {Next_first}, {Next_day:date}", "Rise tests"),
        Step('{Next_first}=""', "Log the tests as they are made", "Rise tests"),
    ),
    tests=(
        Test(
            "The vessels fit in",
            "COUNT({Vessels.New})>60",
            "there is room for 60 vessels and lines",
            "Vessels",
        ),
        Test(
            "No test is logged after the report",
            'COUNTIF({Rises.Date},">="&{Report_day}+1)+COUNTIF({Decays.Date},">="&{Report_day}+1)>0',
            "tests after the report's day are on the log and not counted",
            "Rise tests",
        ),
    ),
    demo=demo,
    others=tuple(row for number in range(1, 5) for row in _other(number)),
    period="State of {Report_day:date}",
    cautions=(
        "A test under pressure stores energy: stay within the vessel's or line's allowed pressure, "
        "behind a relief valve in date, and never tighten a joint that is under pressure.",
        "The trend goes on as it did; a seal can fail at once. Never skip a test because of it.",
    ),
)
