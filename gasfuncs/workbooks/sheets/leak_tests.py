"""The leak and dew point log: what is tested, and the records of the tests."""

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
    MOST_RISE,
    NORMAL,
    VACUUM_GAUGE,
    VALID_FROM,
    conforms,
    nth_new,
    valid_from,
    version_of,
)

RISE, DECAY = "rise", "decay"
READINGS = 12
"""Of a rise test: so many tell a leak from outgassing."""
LEAK_UNITS = ("mbar L/s", "Pa m3/s", "torr L/s", "atm cc/s", "std cc/s")
RISE_UNITS = ("micron/h", "mbar/h")

GAUGES = Group(
    "How close the readings are",
    (
        *VACUUM_GAUGE,
        Input(
            "Gauge_step",
            "Pressure gauge of decay tests",
            "difference",
            "Each reading is this close, for example {10 difference}",
            0.001,
            5000,
        ),
        Input(
            "Thermometer_step",
            "Thermometer of decay tests",
            "kelvins",
            "The temperature of the gas is known this closely, for example {0.5 kelvins}",
            0.001,
            50,
        ),
        Input(
            "Dew_step",
            "Dew point meter",
            "kelvins",
            "95 % of its readings are this close; {2 kelvins} for a meter that was calibrated "
            "this year",
            0,
            20,
        ),
        Input(
            "Shown_as",
            "Helium readings are told as",
            "text",
            "The gas that leaks in service",
            choices=("air", "argon", "nitrogen"),
        ),
    ),
)

VESSELS = Table(
    "Vessels",
    (
        Column("Vessel", prompt="Its name in this book, for example VF2 or N2 main"),
        VALID_FROM,
        Column("Tested by", choices=(RISE, DECAY), prompt="rise: in vacuum; decay: under pressure"),
        Column("Gas", choices=GASES, prompt="What it is filled with in a decay test"),
        Column("Volume", "volume", "Under test, lines up to the shut valves included", low=1e-6),
        Column(
            "Limit",
            "number",
            "The most that it may leak; blank: from the purge flow and the oxygen it may add",
            low=0,
            required=False,
        ),
        Column(
            "In",
            choices=(*LEAK_UNITS, *RISE_UNITS),
            prompt="The unit of the limit: a leak, or a rate of rise such as micron/h",
            required=False,
        ),
        Column("Purge flow", "flow", "Gas that flows through it in service", required=False),
        Column(
            "May add",
            "ppm",
            "Oxygen that the leak may add to the purge flow, for example 1 ppm",
            required=False,
        ),
        Column("Test every", "days", "For example 35", low=1, high=4000, number="whole"),
        *valid_from("Vessel"),
        helper("New", nth_new("Vessels", "Vessel")),
        helper("Space", "{Volume as m3}"),
        helper(
            "By purity",
            'IF(COUNT({Purge flow},{May add})<2,"",'
            "GAS_LEAK_LIMIT({May add},{Purge flow as Nm3/h},,{unit leak}))",
        ),
        helper("Rise unit", 'IFERROR(LEFT({In},FIND("/h",{In})-1),"")', "text"),
        helper("By rise", 'GAS_RISE_LEAK({Space},0,{Limit}&" "&{Rise unit},1,{unit leak})'),
        helper("By leak", "GAS_LEAK_CONVERT({Limit},{In},{unit leak})"),
        made(
            "Leak limit",
            "leak",
            'IF({Limit}="",{By purity},IF({Rise unit}<>"",{By rise},{By leak}))',
            result=True,
        ),
    ),
    heading="Vessels and lines",
    rows=120,
    unique=("Vessel", "Valid from"),
)

PLACES = Table(
    "Places",
    (
        Column(
            "Place",
            prompt="Where the dew point is measured, for example N2 main, far end",
            width=22,
        ),
        VALID_FROM,
        Column("Line pressure", "gauge", "Of the gas there in service", low=-1, high=100),
        Column(
            "Dew limit",
            "temperature",
            "The wettest that will do, told at the air's pressure; below freezing the frost point",
            low=-110,
            high=20,
        ),
        *valid_from("Place"),
    ),
    heading="Places where the dew point is measured",
    unique=("Place", "Valid from"),
)

DAY = Column("Date", "date", "The day of the test")
VESSEL = Column("Vessel", choices="State.Vessel", prompt="As on Vessels")


def _judged_by(way: str) -> tuple[Column, ...]:
    """The vessel as it was on the day of a test; an error where it is tested otherwise."""
    other = f'IF(INDEX({{Vessels.Tested by}},{{Version}})="{way}",{{Version}},NA())'
    return (
        helper("Version", version_of("Vessels", "{Vessel}", "{Date}")),
        helper("Vessel row", other),
        helper("Space", "INDEX({Vessels.Space},{Vessel row})"),
        helper("Limit told", 'ROUND({Limit},14)&" "&{unit leak}', "text"),
    )


def _answers(table: str, call: str) -> tuple[Column, ...]:
    """What a verdict says, and how it is found again: the n-th test of its vessel that tells."""

    def told(name: str, place: int) -> Column:
        return made(name, "leak", f"INDEX({call},2,{place})", answers="mbar L/s", result=place == 1)

    def at(verdict: str) -> str:
        due = f"AND({verdict},INT({{Date}})<=Report_day)"
        return f'IF({{Check}}="ok",IF({due},{BY_DATE},""),"")'

    return (
        made("Limit", "leak", "INDEX({Vessels.Leak limit},{Vessel row})", result=True),
        told("Leak", 1),
        told("Low", 2),
        told("High", 3),
        made("Of limit", "share", "100*{Leak}/{Limit}"),
        made("Verdict", "text", f"INDEX({call},2,5)", width=13),
        made("Why", "text", f"INDEX({call},2,6)", width=60),
        helper("At", at('{Verdict}<>"repeat"')),
        helper("Again", at('{Verdict}="repeat"')),
        helper(
            "Key",
            f'IF({{At}}="","",{{Vessel}}&"|"&COUNTIFS({{{table}.Vessel}},{{Vessel}},'
            f'{{{table}.At}},"<="&{{At}}))',
            "text",
        ),
    )


def _each(name: str, formula: str) -> tuple[Column, ...]:
    """A helper column for each reading; `#` is its number, blank where there is none."""
    return tuple(
        helper(
            f"{name} {number}",
            f'IF({{Reading {number}}}="","",{formula.replace("#", str(number))})',
        )
        for number in range(1, READINGS + 1)
    )


RISE_CALL = (
    f"GAS_RISE_VERDICT({{hour 1:hour {READINGS}}},{{bar 1:bar {READINGS}}},{{Space}},{{Limit told}}"
    ",Rise_tolerance)"
)

RISES = Table(
    "Rises",
    (
        DAY,
        VESSEL,
        Column("Every", "hours", "Hours from reading to reading, for example 0.5", low=0.001),
        *(
            Column(
                f"Reading {number}",
                "fine_vacuum",
                "Pressure at the start"
                if number == 1
                else "Pressure; with 10 readings or more "
                "leak and outgassing are told apart, with fewer there is only an upper bound",
                required=number < 3,
                width=9,
            )
            for number in range(1, READINGS + 1)
        ),
        *_judged_by(RISE),
        *_each("hour", "{Every}*(#-1)"),
        *_each("bar", "{Reading # as bar(a)}"),
        *_answers("Rises", RISE_CALL),
        made(
            "Rise rate",
            "rise",
            'GAS_RISE_RATE({Leak}&" "&{unit leak},{Space},{unit rise})',
        ),
    ),
    heading="Pressure-rise tests",
    rules=(
        Rule(
            f"MAX({{bar 1:bar {READINGS}}})>{MOST_RISE / 1000:g}",
            "a reading above half the air's pressure: no leak flows evenly there",
        ),
    ),
    log=True,
    rows=300,
    unique=("Date", "Vessel", "Reading 1", "Reading 2"),
)

DECAY_CALL = (
    "GAS_DECAY_VERDICT({Space},{bar 1},{deg 1},{bar 2},{deg 2},{Hours},{Limit told},{Gas},"
    "Decay_tolerance,Warm_tolerance)"
)


def _gauge(name: str, prompt: str) -> Column:
    return Column(name, "gauge", prompt, low=-1, high=400)


def _warm(name: str, prompt: str) -> Column:
    return Column(name, "temperature", prompt, low=-100, high=200)


DECAYS = Table(
    "Decays",
    (
        DAY,
        VESSEL,
        _gauge("Start", "Gauge at the start, valves shut and the gas settled"),
        _warm("Start temperature", "Of the gas at the start"),
        _gauge("End", "Gauge at the end"),
        _warm("End temperature", "Of the gas at the end"),
        Column("Hours", "hours", "How long the test lasted", low=0.01, high=10_000),
        *_judged_by(DECAY),
        helper("Gas", "INDEX({Vessels.Gas},{Vessel row})", "text"),
        helper("bar 1", "{Start as bar(a)}"),
        helper("deg 1", "{Start temperature as degC}"),
        helper("bar 2", "{End as bar(a)}"),
        helper("deg 2", "{End temperature as degC}"),
        *_answers("Decays", DECAY_CALL),
        made(
            "Lost in a year",
            "amount",
            'GAS_LEAK_LOSS(MAX(0,{Leak})&" "&{unit leak},8760,,{unit amount})',
        ),
    ),
    heading="Pressure-decay tests",
    log=True,
    rows=300,
    unique=("Date", "Vessel", "Start", "End"),
)

HELIUM = Table(
    "Helium",
    (
        DAY,
        VESSEL,
        Column(
            "Place",
            prompt="Where the detector found it, for example door seal, lower left",
            width=28,
        ),
        Column("Reading", "number", "As the detector shows it", low=0, number="rate"),
        Column("Unit", choices=LEAK_UNITS, prompt="The detector's unit"),
        helper("Vessel row", version_of("Vessels", "{Vessel}", "{Date}")),
        helper("As read", '{Reading}&" "&{Unit}', "text"),
        made("Limit", "leak", "INDEX({Vessels.Leak limit},{Vessel row})"),
        made(
            "In service",
            "leak",
            'GAS_LEAK_AS({As read},"helium",Shown_as,,,{unit leak})',
            result=True,
        ),
        made("Of limit", "share", "100*{In service}/{Limit}", result=True),
    ),
    heading="Helium detector",
    log=True,
    rows=300,
    unique=("Date", "Vessel", "Place", "Reading"),
)

AIR = "1.01325"
"""bar(a) at which limits and meters tell a dew point of the open air."""


def _shifted(dew: str, pressure: str, unit: str = '"degC"') -> str:
    return f"GAS_DEW_SHIFT({dew},{{bar}},{pressure},,,{unit})"


DEWS = Table(
    "Dews",
    (
        DAY,
        Column("Place", choices="Places.Place", prompt="As on Places", width=22),
        Column("Dew point", "temperature", "As the meter shows it", low=-120, high=60),
        Column("Measured at", "gauge", "Pressure in the meter's cell", low=-1, high=100),
        helper("Place row", version_of("Places", "{Place}", "{Date}")),
        helper("bar", "{Measured at as bar(a)}"),
        helper("deg", "{Dew point as degC}"),
        helper("Line", "INDEX({Places.Line pressure},{Place row})", "gauge"),
        helper("Line bar", "{Line as bar(a)}"),
        made("Water", "ppm", "GAS_DEW_PPM({deg},{bar})", result=True),
        made("In the line", "temperature", _shifted("{deg}", "{Line bar}", "{unit temperature}")),
        made("At air pressure", "temperature", _shifted("{deg}", AIR, "{unit temperature}")),
        made("Dew limit", "temperature", "INDEX({Places.Dew limit},{Place row})", result=True),
        helper("Limit deg", "{Dew limit as degC}"),
        helper("Open deg", _shifted("{deg}", AIR)),
        helper("Open high", _shifted("{deg}+{Dew_step as K}", AIR), result=True),
        helper("Spread", f"({{Open high}}-{{Open deg}})/{NORMAL}"),
        helper("Conforms", conforms("{Open deg}", "{Spread}", "{Limit deg}"), "text"),
        words(
            "Verdict",
            Case('{Conforms}="yes"', "dry"),
            Case('{Conforms}="no"', "wet"),
            Case("", "{Conforms}"),
            width=13,
        ),
        helper(
            "At",
            f'IF({{Check}}="ok",IF(INT({{Date}})<=Report_day,{BY_DATE},""),"")',
        ),
        helper(
            "Last",
            'IF({At}="",0,IF(COUNTIFS({Dews.Place},{Place},{Dews.At},">"&{At})=0,1,0))',
        ),
        helper("Wet", 'IF({Last}=1,IF({Verdict}="wet",1,0),0)'),
    ),
    heading="Dew points",
    log=True,
    rows=300,
    unique=("Date", "Place", "Dew point"),
)
