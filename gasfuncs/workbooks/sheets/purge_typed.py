"""The purge book: what is typed once, and the record of the purges."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import (
    Case,
    Column,
    Group,
    Input,
    Rule,
    Table,
    helper,
    made,
    words,
)
from gasfuncs.workbooks.sheets.standard import (
    BY_DATE,
    GASES,
    NORMAL,
    VALID_FROM,
    conforms,
    valid_from,
    version_of,
)

PUMP, VALVE = "pump", "vent valve"
GRADE, CERTIFICATE = "grade", "certificate"

SWING = Group(
    "The purge that is planned",
    (
        Input("Plan_vessel", "Vessel", "text", "As on Vessels", choices="Vessels.Vessel"),
        Input(
            "Wanted", "Oxygen wanted at most", "ppm", "Process sheet, for example 10", 0.001, 1e6
        ),
        Input("Planned", "Cycles planned", "count", "Each vents, then fills", 1, 500),
        Input(
            "Plan_low",
            "Vented or evacuated to",
            "vacuum",
            "Absolute, for example {100 vacuum}; a vent valve ends at the air's pressure",
            0.001,
            50_000,
        ),
        Input("Plan_high", "Filled to", "gauge", "Within the vessel's rating", -1, 50),
        Input(
            "Kept_within",
            "Both pressures are kept within",
            "share",
            "Of the absolute reading, for example 5",
            0,
            50,
        ),
        Input("Temperature", "Gas temperature", "temperature", "Of the gas in it", -20, 200),
        Input(
            "Supply_told",
            "Oxygen in the supply is told by",
            "text",
            "The certificate where there is one; a grade counts all impurities as oxygen",
            choices=(GRADE, CERTIFICATE),
        ),
        Input("Grade", "Grade of the supply", "number", "5.0 is 99.999 % pure", 1, 9.9),
        Input("Certificate", "Oxygen on the certificate", "ppm", "For example 1", 0, 100_000),
    ),
)

TIME_AND_COST = Group(
    "Time and cost",
    (
        Input(
            "Emptied_by",
            "Emptied by",
            "text",
            "A vent valve ends at the air's pressure",
            choices=(PUMP, VALVE),
        ),
        Input(
            "Pumping",
            "Pumping speed at the vessel",
            "pumping",
            "Pump's curve between the two pressures, less what the line takes",
            0.1,
            100_000,
        ),
        Input(
            "Venting", "Time to vent once, with a valve", "minutes", "Timed; not for a pump", 0, 600
        ),
        Input("Fill_flow", "Flow of gas while filling", "flow", "Meter of the line", 0.01, 100_000),
        Input("Handling", "Valves and mixing, each cycle", "minutes", "Timed", 0, 600),
        Input("Price", "Price of the gas", "price", "Supply contract", 0, 100_000),
        Input("Price_per", "for", "text", "The unit of that price: Nm3, 100 scf, kg, L(liq)"),
    ),
)

OTHER_WAYS = Group(
    "Other methods",
    (
        Input(
            "Deep",
            "Deep evacuation to",
            "fine_vacuum",
            "Lowest pressure the pumps reach, with the vessel dry",
            0.00001,
            900,
        ),
        Input(
            "Hold", "Wait before the fill", "minutes", "From the pump's valve shutting", 0, 10_000
        ),
        Input(
            "Sweep_pressure", "Pressure while sweeping", "gauge", "Just above the air's", -0.5, 50
        ),
    ),
)

ALLOWANCES = Group(
    "Leak, moisture and the gas that arrives",
    (
        Input(
            "Leak", "Air leaking into the vessel", "leak", "From Leak and dew point log", 0, 1000
        ),
        Input("Leak_most", "at most (95 %)", "leak", "The end of its band, from there", 0, 1000),
        Input("Flow", "Gas flowing through it afterwards", "flow", "Process sheet", 0.001, 100_000),
        Input("Shut", "Time the vessel stands shut", "hours", "Where it waits filled", 0, 10_000),
        Input(
            "Dew_supply",
            "Dew point of the supply",
            "temperature",
            "Certificate or meter; below freezing the frost point",
            -110,
            20,
        ),
        Input("Dew_pressure", "it was measured at", "gauge", "In the meter's cell", -1, 100),
        Input(
            "Dew_wanted",
            "Dew point wanted in the vessel",
            "temperature",
            "Process sheet; at the pressure that it is filled to",
            -110,
            20,
        ),
        Input(
            "Use_wanted",
            "Oxygen wanted in the gas that arrives",
            "ppm",
            "Process sheet, for example 2; what the flow brings is judged by it",
            0.001,
            1e6,
        ),
        Input(
            "Room_dew",
            "Dew point of the air in the shop",
            "temperature",
            "Its moisture comes through hoses and leaks: {10 temperature} at {22 temperature} "
            "and 46 %",
            -40,
            40,
        ),
        Input(
            "Use_hours",
            "Hours pumped or purged since it was open",
            "hours",
            "Surfaces give off less and less water, for example 24",
            0.01,
            10_000,
        ),
    ),
)

VESSELS = Table(
    "Vessels",
    (
        Column("Vessel", prompt="Its name in this book, for example VF3"),
        VALID_FROM,
        Column("Gas", choices=GASES, prompt="What it is purged with"),
        Column("Free volume", "volume", "Chamber less load, with the lines purged along", low=1e-6),
        Column("From", "ppm", "Oxygen at the start: 209,500 where it is full of air", high=1e6),
        Column(
            "Mixing worst",
            "number",
            "1 mixes completely; 0.9 and less with dead legs or a dense load",
            low=0.2,
            high=1,
        ),
        Column("Mixing best", "number", "1 where it may mix completely", low=0.2, high=1),
        *valid_from("Vessel"),
    ),
    heading="Vessels",
    rows=80,
    rules=(Rule("{Mixing worst}>{Mixing best}", "Mixing worst is above Mixing best: swap them"),),
    unique=("Vessel", "Valid from"),
)

ANALYSERS = Table(
    "Analysers",
    (
        Column("Analyser", prompt="Its name in this book, for example O2-1"),
        VALID_FROM,
        Column("Within", "ppm", "It reads this close near nothing, for example 0.3", low=1e-6),
        Column("and of reading", "share", "and this close of what it reads: 5", high=100),
        Column("Calibration due", "date", "The day it runs out", required=False),
        *valid_from("Analyser"),
        helper("Tolerance", '"±"&{Within}&" ppm; ±"&{and of reading}&" % of reading"', "text"),
    ),
    heading="Analysers",
    unique=("Analyser", "Valid from"),
)

CALL = "GAS_PURGE_VERDICT({Reading},{Wanted},{Tolerance},{Supply})"
ITS_CYCLES = "{Swings.Purge},{Purge}"


def _read(place: int) -> str:
    return f'IF({{Reading}}="","",INDEX({CALL},2,{place}))'


def _by_gauges(decades: str) -> str:
    """Oxygen left by the law of dilution: the shares that the logged cycles leave, multiplied."""
    share = f"10^-SUMIFS({{Swings.{decades}}},{ITS_CYCLES})"
    left = f"N({{Supply}})+(INDEX({{Vessels.From}},{{Vessel row}})-N({{Supply}}))*{share}"
    return f'IF({{Cycles}}=0,"",{left})'


PURGES = Table(
    "Purges",
    (
        Column("Date", "date", "The day of the purge"),
        Column("Purge", prompt="Its number, for example P-016"),
        Column("Vessel", choices="Vessels.Vessel", prompt="As on Vessels"),
        Column(
            "Wanted", "ppm", "Oxygen wanted at most; this row is judged by it for ever", high=1e6
        ),
        Column(
            "Supply",
            "ppm",
            "Oxygen in the supply as it was read; blank where it is only known as at most so much",
            high=1e6,
            required=False,
        ),
        Column("Analyser", choices="Analysers.Analyser", prompt="As on Analysers"),
        Column(
            "Reading",
            prompt="ppm after the last cycle; <20 where it is off the scale; blank until then",
            required=False,
            width=10,
        ),
        Column("Read by", prompt="Who read it", required=False, width=10),
        helper("Vessel row", version_of("Vessels", "{Vessel}", "{Date}")),
        helper("Analyser row", version_of("Analysers", "{Analyser}", "{Date}")),
        helper("Tolerance", "INDEX({Analysers.Tolerance},{Analyser row})", "text"),
        made("Oxygen", "ppm", _read(1)),
        made("At least", "ppm", _read(2)),
        made("At most", "ppm", _read(3)),
        words("Verdict", Case('{Reading}=""', "not read yet"), Case("", "{Judged}"), width=13),
        helper("Judged", f"INDEX({CALL},2,4)", "text"),
        made("Why", "text", _read(5), width=60),
        made("Cycles", "count", f'COUNTIFS({ITS_CYCLES},{{Swings.Check}},"ok")'),
        helper("Logged", f"COUNTIFS({ITS_CYCLES})"),
        helper("Highest", f"MAXIFS({{Swings.Cycle}},{ITS_CYCLES})"),
        made("By gauges", "ppm", _by_gauges("Decades")),
        made("or up to", "ppm", _by_gauges("Worst decades")),
        helper("Spread", f"({{At most}}-{{Oxygen}})/{NORMAL}"),
        helper(
            "Explained",
            'IF(COUNT({Oxygen},{or up to})<2,"",'
            f"{conforms('{Oxygen}', '{Spread}', '{or up to}')})",
            "text",
        ),
        helper("Due", "N(INDEX({Analysers.Calibration due},{Analyser row}))"),
        helper("Out of date", "IF(AND({Due}>0,INT({Date})>{Due}),1,0)"),
        words(
            "Remark",
            Case("{Out of date}=1", "the analyser was past its calibration"),
            Case('{Reading}=""', ""),
            Case("{Cycles}=0", "no cycle is logged"),
            Case('LEFT({Reading},1)="<"', ""),
            Case(
                '{Explained}="no"',
                "more than the gauges explain: leak, dead leg or water",
            ),
            Case("", ""),
            width=48,
        ),
        helper(
            "At",
            'IF(AND({Check}="ok",{Reading}<>"",INT({Date})<=Report_day),' + BY_DATE + ',"")',
        ),
        helper(
            "Last",
            'IF({At}="",0,IF(COUNTIFS({Purges.Vessel},{Vessel},{Purges.At},">"&{At})=0,1,0))',
        ),
        helper("State", 'IF({Last}=1,{Verdict},"")', "text"),
    ),
    heading="Purges",
    rules=(
        Rule("NOT(ISNUMBER({Vessel row}))", "the vessel was not valid on that day: see Vessels"),
        Rule("NOT(ISNUMBER({Analyser row}))", "the analyser was not valid on that day"),
        Rule("{Logged}<>{Cycles}", "a row of Cycle log is wrong: see its Check"),
        Rule("{Highest}<>{Cycles}", "cycle numbers with gaps on Cycle log"),
        Rule(
            'AND({Reading}<>"",NOT(ISNUMBER({Oxygen})))',
            "Reading: a number of ppm, or <20 for one below the scale",
        ),
    ),
    log=True,
    rows=300,
    unique=("Purge",),
)


def _decades(mixing: str) -> str:
    share = f"GAS_VENT_FILL_RESIDUAL(1,{{Low bar}},{{High bar}},1000000,0,{mixing})"
    return f"-LOG10({share}/1000000)"


def _of_vessel(column: str) -> str:
    return f"INDEX({{Vessels.{column}}},{{Vessel row}})"


SWINGS = Table(
    "Swings",
    (
        Column("Purge", choices="Purges.Purge", prompt="As on Purges, where it is typed first"),
        Column("Cycle", "count", "1, 2, 3 ...", low=1, high=1000),
        Column("Low", "vacuum", "Vented or evacuated to, absolute", low=1e-6, high=50_000),
        Column("High", "gauge", "Filled to", low=-1, high=50),
        Column("Reading", "ppm", "Oxygen, where it was read", high=1e6, required=False),
        helper("Purge row", "MATCH({Purge},{Purges.Purge},0)"),
        helper("Vessel row", "INDEX({Purges.Vessel row},{Purge row})"),
        helper("Low bar", "{Low as bar(a)}", number="three"),
        helper("High bar", "{High as bar(a)}", number="three"),
        helper("Likely", f"({_of_vessel('Mixing worst')}+{_of_vessel('Mixing best')})/2"),
        helper("Decades", _decades("{Likely}"), result=True),
        helper("Worst decades", _decades(_of_vessel("Mixing worst")), result=True),
        made("Leaves", "share", "100*10^-{Decades}"),
        helper("Shown at", 'IF(AND({Purge}=Shown_number,{Check}="ok"),{Cycle},"")'),
    ),
    heading="Cycle log",
    rules=(Rule("{Low bar}>={High bar}", "Low is not below High: are the two swapped?"),),
    log=True,
    rows=1_000,
    unique=("Purge", "Cycle"),
)
