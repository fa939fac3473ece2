"""Leak tests and dew points by vessel and line: within limits, growing, when to test next."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

from xlsxwriter.utility import xl_col_to_name

from gasfuncs.workbooks import look
from gasfuncs.workbooks.book import WRONG, Book, Sheet, TableColumn, check_column, new_chart
from gasfuncs.workbooks.inputs import Group, Input, converted, inputs_sheet
from gasfuncs.workbooks.lines import Line, write_lines
from gasfuncs.workbooks.start import KeyNumber, sources_sheet, start_sheet

NAME = "leak_dewpoint_log"
TITLE = "Leak and dew point log"
QUESTION = (
    "Which vessel or line leaks more than it may, which one is getting worse, what is due next?"
)
FUNCTIONS = (
    "GAS_RISE_LEAK", "GAS_RISE_RATE", "GAS_RISE_FIT", "GAS_RISE_CURVE", "GAS_DECAY_LEAK",
    "GAS_LEAK_CONVERT", "GAS_LEAK_AS", "GAS_LEAK_IMPURITY", "GAS_LEAK_LIMIT", "GAS_LEAK_LOSS",
    "GAS_DEW_PPM", "GAS_DEW_SHIFT", "GAS_CONVERT",
)  # fmt: skip

CAUTIONS = (
    "Leaking argon or nitrogen displaces the air of the room without warning: watch the oxygen, "
    "ventilate, and let nobody into a vessel, pit or basement before the air there is measured.",
    "A test under pressure stores energy: stay within the vessel's or line's allowed pressure, "
    "behind a relief valve in date, and never tighten a joint that is under pressure.",
    "The trend is a straight line through the tests of a year; a seal can fail at once. Local "
    "codes and licensed practice decide; the numbers here are estimates to plan with.",
)

MOST_VESSELS = 12
CHARTED = 6
"""The first vessels of the list are on the chart: more lines cannot be told apart."""
MOST_READINGS = 24
RISE, DECAY = "rise", "decay"
OVER, OVERDUE, GROWS, REPEAT = "over the limit", "overdue", "grows", "repeat the test"
LEAST_SHARE = -0.1
"""A test that shows so much less than no leak, as a share of the limit, proves nothing."""
LEAK_UNITS = ("mbar L/s", "Pa m3/s", "torr L/s", "atm cc/s", "std cc/s")


def build(book: Book, units: str, *, filled: bool) -> None:
    """Write every sheet; `filled` with the demo plant, else empty."""
    start_sheet(book, QUESTION, _answer(), _key_numbers(), _STEPS, CAUTIONS)
    inputs_sheet(book, _inputs(), units, filled=filled)
    _vessels(book, units, filled)
    _rises(book, units, filled)
    _decays(book, units, filled)
    _helium(book, filled)
    _dew_points(book, units, filled)
    _trend(book)
    _history(book)
    _rise_readings(book, units, filled)
    _rise_curve(book)
    sources_sheet(book, FUNCTIONS)


_STEPS = (
    "Choose the units, fill in Inputs, list vessels and lines on Vessels.",
    "Log each pressure-rise and pressure-decay test as it is made.",
    "Log helium readings in the detector's unit, dew points as measured.",
    "Read Trend: against the limit, growing or not, when to test next.",
    "One long test on Rise curve tells a real leak from outgassing.",
)


def _inputs() -> tuple[Group, ...]:
    return (
        Group("Report", (
            Input("As_of", "Day of the report", AS_OF, "Today, or the day to look back from",
                  number="date", low=36526, high=73050),
            Input("Recent_days", "Readings are recent for", 45, "Older dew points are not counted",
                  "d", 1, 400, "whole"),
        )),
        Group("Limits", (
            Input("Leak_ppm", "Impurity that a leak may add", 1, "Process sheet; limit of every "
                  "vessel without one of its own", "ppm", 0.001, 100_000, "ppm"),
            Input("Watched", "Impurity watched", "oxygen", "Oxygen of the air that leaks in, or "
                  "all of it", choices=("oxygen", "air")),
            Input("Dew_limit", "Dew point wanted, at most", -50, "At the air's pressure; below "
                  "freezing the frost point", "temperature", -110, 20, "one"),
        )),
        Group("Helium detector", (
            Input("Shown_as", "Show helium readings as", "air", "The gas that leaks in service",
                  choices=("air", "argon", "nitrogen")),
        )),
    )  # fmt: skip


def _answer() -> str:
    def vessel(column: str, state: str, within: str) -> str:
        return f'INDEX({column},MATCH("{state}",{within},0))'

    def others(count: str) -> str:
        return f'IF({count}>1," (and "&{count}-1&" more)","")'

    over = (
        f'IF(Over>0,{vessel("Trend_vessel", OVER, "Trend_state")}&{others("Over")}&" is over its '
        f'limit, at "&TEXT({vessel("Trend_share", OVER, "Trend_state")},"0%")&" of it. ",'
        '"No leak is over its limit. ")'
    )
    repeat = (
        f"IF(Repeated>0,{vessel('Trend_vessel', REPEAT, 'Trend_state')}&{others('Repeated')}&"
        '" shows less than no leak: repeat its test. ","")'
    )
    grows = (
        f"IF(Growing>0,{vessel('Trend_vessel', GROWS, 'Trend_course')}&{others('Growing')}&"
        f'" gets worse: "&TEXT({vessel("Trend_share", GROWS, "Trend_course")},"0%")&" of its limit'
        f'"&IF(ISNUMBER({vessel("Trend_reaches", GROWS, "Trend_course")}),", which it reaches '
        f'about "&TEXT({vessel("Trend_reaches", GROWS, "Trend_course")},"d mmm yyyy"),"")&"; '
        f'test it again by "&TEXT({vessel("Trend_next", GROWS, "Trend_course")},"ddd d mmm")&". ",'
        '"No leak grows. ")'
    )
    due = (
        'IF(Overdue>0,Overdue&IF(Overdue=1," test is"," tests are")&" overdue. ",'
        'IF(COUNT(Trend_next)=0,"No test is logged yet. ","The next test is due on "&'
        'TEXT(MIN(Trend_next),"ddd d mmm")&": "&'
        "INDEX(Trend_vessel,MATCH(MIN(Trend_next),Trend_next,0))&"
        f'{others("COUNTIF(Trend_next,MIN(Trend_next))")}&". "))'
    )
    dew = (
        'IF(Dew_recent=0,"No recent dew point.",IF(Dew_wet>0,Dew_wet&" of "&Dew_recent&" recent '
        'dew points wetter than wanted.","Recent dew points are within the limit."))'
    )
    return (
        '=IF(Inputs_ok<Inputs_total,"Some inputs are missing or out of range: see the check list '
        'on the Inputs sheet.",IF(Rows_wrong>0,Rows_wrong&" row(s) cannot be calculated: see the '
        f'column Check of "&{_first_wrong()}&".",IF(Vessel_count=0,"List the vessels and lines on '
        f'Vessels.",{over}&{repeat}&{grows}&{due}&{dew})))'
    )


RECORDS = {
    "Vessels": "Vessels", "Rises": "Rise tests", "Decays": "Decay tests", "Helium": "Helium",
    "Dews": "Dew points", "Curve": "Rise readings",
}  # fmt: skip
"""The sheet of each record."""


def _wrong_in(table: str) -> str:
    return f'COUNTIF({table}[Check],"{WRONG}")'


def _first_wrong() -> str:
    """The first sheet with a row that cannot be calculated."""
    *others, last = RECORDS.items()
    formula = f'"{last[1]}"'
    for table, sheet in reversed(others):
        formula = f'IF({_wrong_in(table)}>0,"{sheet}",{formula})'
    return formula


def _key_numbers() -> tuple[KeyNumber, ...]:
    return (
        KeyNumber("Vessels and lines", "Vessel_count", ""),
        KeyNumber("Over the limit", "Over", ""),
        KeyNumber("Getting worse", "Growing", ""),
        KeyNumber("Tests overdue", "Overdue", ""),
        KeyNumber("Highest share of a limit", "Highest_share", "", "percent"),
        KeyNumber("Recent dew points too wet", "Dew_wet", '="of "&Dew_recent'),
        KeyNumber("Rows that cannot be calculated", "Rows_wrong", ""),
    )  # fmt: skip


SHARE = 'IF(Watched="oxygen",0.2095,1)'


def _of_vessel(column: str) -> str:
    return f"INDEX(Vessels[{column}],MATCH([@Vessel],Vessels[Vessel],0))"


def _vessels(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Vessels", [2, 20, 12, 13, 13, 13, 12, 13, 13, 13, 13, 20])
    sheet.title("Vessels", "What is tested, how, and what it may leak: one row each.")
    sheet.merged("B3:L3", "With no leak limit of its own, a vessel may leak what adds the impurity "
                 "on Inputs at its purge flow.", "note")  # fmt: skip
    typed = '[@Vessel]&[@[Tested by]]&[@Volume]&[@[Leak limit]]&[@[Purge flow]]&[@[Test every]]=""'
    purity = (
        "IF(AND(ISNUMBER([@[Flow used]]),ISNUMBER(Leak_ppm)),"
        f"GAS_LEAK_LIMIT(Leak_ppm,[@[Flow used]],{SHARE}),NA())"
    )
    limit = f'IF([@[Leak limit]]="",{purity},GAS_CONVERT([@[Leak limit]],U_leak,"mbar L/s"))'
    whole = (
        "OR(COUNTIF(Vessels[Vessel],[@Vessel])<>1,NOT(ISNUMBER([@[Test every]])),"
        "NOT(ISNUMBER([@[Volume used]])),"
        f'AND([@[Tested by]]<>"{RISE}",[@[Tested by]]<>"{DECAY}"))'
    )
    sheet.table(
        "B6",
        "Vessels",
        (
            TableColumn("Vessel", number="text"),
            TableColumn("Tested by", number="text", choices=f"{RISE},{DECAY}"),
            TableColumn("Volume", number="rate", unit="=U_volume", limits=("0", "100000")),
            TableColumn("Leak limit", number="rate", unit="=U_leak", limits=("0", "100000")),
            TableColumn("Purge flow", number="two", unit="=U_flow", limits=("0", "1000000")),
            TableColumn("Test every", number="whole", unit='="d"', limits=("1", "4000")),
            TableColumn("Volume used",
                        '=IF([@Volume]="","",GAS_CONVERT([@Volume],U_volume,"m3"))', "rate",
                        '="m3"'),
            TableColumn("Flow used",
                        '=IF([@[Purge flow]]="","",GAS_CONVERT([@[Purge flow]],U_flow,"Nm3/h"))',
                        "two", '="Nm3/h"'),
            TableColumn("Limit used", f'=IF({typed},"",IF({whole},NA(),{limit}))', "rate",
                        '="mbar L/s"'),
            TableColumn("Limit adds",
                        '=IF(ISNUMBER([@[Flow used]]),GAS_LEAK_IMPURITY([@[Limit used]],'
                        f'[@[Flow used]],{SHARE}),"")', "ppm", '="ppm of "&Watched'),
            check_column(typed, "Limit used"),
        ),
        [_vessel_row(row, units) for row in VESSELS] if filled else [],
        spare=MOST_VESSELS - (len(VESSELS) if filled else 0),
    )  # fmt: skip
    sheet.book.workbook.define_name("Vessel_names", f"=Vessels!$B$7:$B${6 + MOST_VESSELS}")


def _vessel_row(row: tuple[Any, ...], units: str) -> list[Any]:
    name, by, volume, limit, flow, every = row
    return [
        name, by, converted(volume, "volume", units), converted(limit, "leak", units),
        converted(flow, "flow", units), every,
    ]  # fmt: skip


def _typed(*columns: str) -> str:
    """True while nothing has been typed in the row."""
    return "&".join(f"[@[{column}]]" for column in columns) + '=""'


def _as_absolute(column: str, unit: str) -> str:
    cell = f"[@[{column}]]"
    return f'IF(ISNUMBER({cell}),GAS_CONVERT({cell},{unit},"bar(a)"),IF({cell}="",NA(),{cell}))'


def _volume_tested_by(way: str) -> str:
    return f'IF({_of_vessel("Tested by")}="{way}",{_of_vessel("Volume used")},NA())'


_METRIC_LEAK = 'GAS_CONVERT([@Leak],U_leak,"mbar L/s")'
_VERDICT = (
    f'=IF(ISNUMBER([@[Of limit]]),IF([@[Of limit]]<{LEAST_SHARE},"repeat",'
    'IF([@[Of limit]]<=1,"within","over")),"")'
)
_DAY = TableColumn("Date", number="date", limits=("36526", "73050"))
_VESSEL = TableColumn("Vessel", number="text", choices="=Vessel_names")


def _rises(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Rise tests", [2, 14, 16, 13, 13, 10, 13, 13, 11, 13, 11, 20])
    sheet.title(
        "Rise tests", "Evacuated, pump valve shut. A pressure may also be text such as 8 micron."
    )
    typed = _typed("Date", "Vessel", "Start", "End", "Hours")
    call = (
        f"GAS_RISE_LEAK({_volume_tested_by(RISE)},{_as_absolute('Start', 'U_vacuum')},"
        f"{_as_absolute('End', 'U_vacuum')},[@Hours],U_leak)"
    )
    flow = _of_vessel("Flow used")
    sheet.table(
        "B6",
        "Rises",
        (
            _DAY,
            _VESSEL,
            TableColumn("Start", number="rate", unit="=U_vacuum"),
            TableColumn("End", number="rate", unit="=U_vacuum"),
            TableColumn("Hours", number="two", unit='="h"', limits=("0", "1000")),
            TableColumn("Leak", f'=IF({typed},"",IF(ISNUMBER([@Date]),{call},NA()))', "rate",
                        "=U_leak"),
            TableColumn("Rise rate", f'=IF({typed},"",GAS_RISE_RATE({_METRIC_LEAK},'
                        f'{_of_vessel("Volume used")},U_rise))', "rate", "=U_rise"),
            TableColumn("Of limit",
                        f'=IF({typed},"",{_METRIC_LEAK}/{_of_vessel("Limit used")})', "percent"),
            TableColumn("Adds", f'=IF({typed},"",IF(ISNUMBER({flow}),'
                        f'GAS_LEAK_IMPURITY({_METRIC_LEAK},{flow},{SHARE}),""))', "ppm",
                        '="ppm of "&Watched'),
            TableColumn("Verdict", _VERDICT, "text"),
            check_column(typed, "Of limit"),
        ),
        [[d, v, converted(a, "vacuum", units), converted(b, "vacuum", units), h]
         for d, v, a, b, h in rise_tests()] if filled else [],
        spare=42 if filled else 120,
    )  # fmt: skip
    _over_in_colour(sheet, "K7:K200")
    sheet.ws.freeze_panes(6, 0)
    sheet.ws.repeat_rows(4, 5)


def _over_in_colour(sheet: Sheet, cells: str) -> None:
    fmt = sheet.book.workbook.add_format(look.BAD_MARK)
    for text in ("over", "repeat", "wet"):
        sheet.ws.conditional_format(
            cells, {"type": "cell", "criteria": "==", "value": f'"{text}"', "format": fmt}
        )


def _decays(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Decay tests", [2, 14, 16, 12, 12, 12, 12, 9, 12, 11, 13, 11, 20])
    sheet.title(
        "Decay tests", "Under pressure, shut in. Absolute, or as text such as 7 bar(g) or 100 psig."
    )
    typed = _typed(
        "Date", "Vessel", "Start", "Start temperature", "End", "End temperature", "Hours"
    )
    first, last = (
        f'IF(ISNUMBER([@[{name}]]),GAS_CONVERT([@[{name}]],U_temperature,"degC"),NA())'
        for name in ("Start temperature", "End temperature")
    )
    call = (
        f"GAS_DECAY_LEAK({_volume_tested_by(DECAY)},{_as_absolute('Start', 'U_pressure')},{first},"
        f"{_as_absolute('End', 'U_pressure')},{last},[@Hours],,U_leak)"
    )
    sheet.table(
        "B6",
        "Decays",
        (
            _DAY,
            _VESSEL,
            TableColumn("Start", number="three", unit="=U_pressure"),
            TableColumn("Start temperature", number="one", unit="=U_temperature"),
            TableColumn("End", number="three", unit="=U_pressure"),
            TableColumn("End temperature", number="one", unit="=U_temperature"),
            TableColumn("Hours", number="two", unit='="h"', limits=("0", "10000")),
            TableColumn("Leak", f'=IF({typed},"",IF(ISNUMBER([@Date]),{call},NA()))', "two",
                        "=U_leak"),
            TableColumn("Of limit",
                        f'=IF({typed},"",{_METRIC_LEAK}/{_of_vessel("Limit used")})', "percent"),
            TableColumn("Lost in a year", f'=IF({typed},"",GAS_LEAK_LOSS(MAX(0,1*{_METRIC_LEAK}),'
                        "365*24,,U_amount))", "whole", "=U_amount"),
            TableColumn("Verdict", _VERDICT, "text"),
            check_column(typed, "Of limit"),
        ),
        [_decay_row(row, units) for row in decay_tests()] if filled else [],
        spare=25 if filled else 60,
    )  # fmt: skip
    _over_in_colour(sheet, "L7:L200")
    sheet.ws.freeze_panes(6, 0)
    sheet.ws.repeat_rows(4, 5)


def _decay_row(row: tuple[Any, ...], units: str) -> list[Any]:
    """Readings to more digits: the leak is a small difference of them."""
    day, vessel, first, warm, last, cool, hours = row
    return [
        day, vessel, converted(first, "pressure", units, 6), converted(warm, "temperature", units),
        converted(last, "pressure", units, 6), converted(cool, "temperature", units), hours,
    ]  # fmt: skip


def _helium(book: Book, filled: bool) -> None:
    sheet = book.sheet("Helium", [2, 14, 16, 26, 14, 13, 15, 15, 11, 20])
    sheet.title(
        "Helium", "Detector readings place by place, in the detector's unit, told as another gas."
    )
    sheet.merged(
        "B3:J3", "Told for a round hole of 1 mm from atmosphere to vacuum: molecular where small, "
        "laminar where large; holds for the same pressures as in the test.", "note",
    )  # fmt: skip
    typed = _typed("Date", "Vessel", "Place", "Reading", "Unit")
    reading = (
        "IF(AND(ISNUMBER([@Date]),ISNUMBER([@Reading])),"
        'GAS_LEAK_CONVERT([@Reading],[@Unit],"mbar L/s"),NA())'
    )
    sheet.table(
        "B6",
        "Helium",
        (
            _DAY,
            _VESSEL,
            TableColumn("Place", number="text"),
            TableColumn("Reading", number="small", limits=("0", "1000")),
            TableColumn("Unit", number="text", choices=",".join(LEAK_UNITS)),
            TableColumn("Helium", f'=IF({typed},"",{reading})', "small", '="mbar L/s"'),
            TableColumn("In service",
                        f'=IF({typed},"",GAS_LEAK_AS([@Helium],"helium",Shown_as,,,U_leak))',
                        "small", '=U_leak&" of "&Shown_as'),
            TableColumn("Of limit",
                        f'=IF({typed},"",GAS_CONVERT([@[In service]],U_leak,"mbar L/s")/'
                        f'{_of_vessel("Limit used")})', "percent"),
            check_column(typed, "Of limit"),
        ),
        [list(row) for row in HELIUM] if filled else [],
        spare=22 if filled else 60,
    )  # fmt: skip
    sheet.ws.freeze_panes(6, 0)
    sheet.ws.repeat_rows(4, 5)


def _dew_points(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Dew points", [2, 14, 24, 12, 14, 14, 12, 14, 14, 11, 20])
    sheet.title(
        "Dew points", "As measured, with the pressure in the cell; below freezing the frost point."
    )
    typed = _typed("Date", "Place", "Dew point", "Measured at", "Line pressure")
    dew = (
        "IF(AND(ISNUMBER([@Date]),ISNUMBER([@[Dew point]])),"
        'GAS_CONVERT([@[Dew point]],U_temperature,"degC"),NA())'
    )
    measured = _as_absolute("Measured at", "U_pressure")
    line = _as_absolute("Line pressure", "U_pressure")
    sheet.table(
        "B6",
        "Dews",
        (
            _DAY,
            TableColumn("Place", number="text"),
            TableColumn("Dew point", number="one", unit="=U_temperature"),
            TableColumn("Measured at", number="two", unit="=U_pressure"),
            TableColumn("Line pressure", number="two", unit="=U_pressure"),
            TableColumn("Water", f'=IF({typed},"",GAS_DEW_PPM({dew},{measured}))', "ppm",
                        '="ppm"'),
            TableColumn("At line pressure",
                        f'=IF({typed},"",GAS_DEW_SHIFT({dew},{measured},{line},,,U_temperature))',
                        "one", "=U_temperature"),
            TableColumn("At air pressure",
                        f'=IF({typed},"",GAS_DEW_SHIFT({dew},{measured},1.01325,,,U_temperature))',
                        "one", "=U_temperature"),
            TableColumn("Verdict",
                        '=IF(ISNUMBER([@[At air pressure]]),IF(GAS_CONVERT([@[At air pressure]],'
                        'U_temperature,"degC")<=Dew_limit_used,"dry","wet"),"")', "text"),
            TableColumn("Check",
                        f'=IF({typed},"",IF(AND([@Place]<>"",ISNUMBER([@[At air pressure]]),'
                        f'ISNUMBER([@[At line pressure]])),"ok","{WRONG}"))', "text"),
        ),
        [[d, place, converted(t, "temperature", units), converted(p, "pressure", units),
          converted(q, "pressure", units)] for d, place, t, p, q in DEW_POINTS] if filled else [],
        spare=24 if filled else 60,
    )  # fmt: skip
    _over_in_colour(sheet, "J7:J200")
    sheet.ws.freeze_panes(6, 0)
    sheet.ws.repeat_rows(4, 5)


TABLES = {RISE: "Rises", DECAY: "Decays"}


def _by_way(row: int, formula: str) -> str:
    """A formula on the record that the vessel's tests are in; {t} is the record's name."""
    rises, decays = (formula.replace("{t}", table) for table in TABLES.values())
    return f'IF($C{row}="{RISE}",{rises},{decays})'


def _trend(book: Book) -> None:
    sheet = book.sheet("Trend", [2, 30, 10, 8, 14, 13, 13, 10, 12, 16, 15, 15, 18])
    sheet.title(
        "Trend", "The latest test of each vessel against its limit, and where a year's tests lead."
    )
    headers = (
        ("Vessel", ""), ("Tested by", ""), ("Tests", "in a year"), ("Last test", ""),
        ("Leak", "=U_leak"), ("Limit", "=U_leak"), ("Of limit", ""),
        ("Change", "of limit in 30 d"), ("Course", ""), ("Reaches limit", "about"),
        ("Next test", ""), ("State", ""),
    )  # fmt: skip
    for letter, (header, unit) in zip("BCDEFGHIJKLM", headers, strict=True):
        sheet.write(f"{letter}4", unit, "unit")
        sheet.write(f"{letter}5", header, "column")
    for number in range(1, MOST_VESSELS + 1):
        _trend_row(sheet, 5 + number, number)
    end = 5 + MOST_VESSELS
    for name, letter in (
        ("vessel", "B"), ("share", "H"), ("course", "J"), ("reaches", "K"), ("next", "L"),
        ("state", "M"),
    ):  # fmt: skip
        book.name(f"Trend_{name}", sheet.name, f"{letter}6:{letter}{end}")
    sheet.merged(
        f"B{end + 1}:M{end + 2}",
        "A leak grows where a straight line through four or more tests of the last 365 days rises "
        "by more than twice the line's standard error. It is then tested again half-way to the day "
        "on which the line meets the limit, and at its interval at the latest.",
        "note",
    )
    sheet.hide_errors(f"B6:M{end}")
    _state_in_colour(sheet, f"M6:M{end}")
    wrong = "+".join(_wrong_in(table) for table in RECORDS)
    recent = 'Dews[Date],">="&As_of-Recent_days,Dews[Date],"<="&As_of'
    write_lines(sheet, end + 4, "Counts", (
        Line("Vessels and lines", "Vessel_count", '=SUMPRODUCT(--(Trend_vessel<>""))'),
        Line("Over the limit", "Over", f'=COUNTIF(Trend_state,"{OVER}")'),
        Line("To be repeated", "Repeated", f'=COUNTIF(Trend_state,"{REPEAT}")'),
        Line("Getting worse", "Growing", f'=COUNTIF(Trend_course,"{GROWS}")'),
        Line("Tests overdue", "Overdue", _at_report('COUNTIF(Trend_next,"<"&As_of)')),
        Line("Recent dew points", "Dew_recent", _at_report(f'COUNTIFS({recent},Dews[Check],"ok")')),
        Line("of them too wet", "Dew_wet", _at_report(f'COUNTIFS({recent},Dews[Verdict],"wet")')),
        Line("Highest share of a limit", "Highest_share",
             '=IF(COUNT(Trend_share)=0,"",MAX(Trend_share))', "", "percent"),
        Line("Rows that cannot be calculated", "Rows_wrong", f"={wrong}"),
    ))  # fmt: skip


def _at_report(count: str) -> str:
    return f'=IF(ISNUMBER(As_of),{count},"")'


def _state_in_colour(sheet: Sheet, cells: str) -> None:
    for text in (OVER, REPEAT, OVERDUE, GROWS):
        fmt = sheet.book.workbook.add_format(look.BAD_MARK)
        sheet.ws.conditional_format(
            cells, {"type": "text", "criteria": "begins with", "value": text, "format": fmt}
        )


def _trend_row(sheet: Sheet, row: int, number: int) -> None:
    good = (
        f'({{t}}[Vessel]=$B{row})*({{t}}[Check]="ok")*({{t}}[Date]>As_of-365)*({{t}}[Date]<=As_of)'
    )
    shares, dates = f"FILTER({{t}}[Of limit],{good})", f"FILTER({{t}}[Date],{good})"
    tested = f'{{t}}[Vessel],$B{row},{{t}}[Check],"ok",{{t}}[Date],"<="&As_of'
    free = f'$B{row}=""'
    none = f"OR({free},$D{row}=0)"
    slope, fit = f"SLOPE({shares},{dates})", f"RSQ({shares},{dates})"
    crossing = f"(1-INTERCEPT({shares},{dates}))/SLOPE({shares},{dates})"
    grows = f"IFERROR({_by_way(row, f'{fit}*($D{row}-2)>4*(1-{fit})')},FALSE)"
    counted = _by_way(row, f'COUNTIFS({tested},{{t}}[Date],">"&As_of-365)')
    tests = f"IF(ISNUMBER(As_of),{counted},NA())"
    last = _by_way(row, f"MAXIFS({{t}}[Date],{tested})")
    leak = _by_way(row, f"MAXIFS({{t}}[Leak],{tested},{{t}}[Date],$E{row})")
    change = f'IFERROR(30*{_by_way(row, slope)},"")'
    every = f"INDEX(Vessels[Test every],{number})"
    cells = (
        ("B", f'INDEX(Vessels[Vessel],{number})&""', "text", False),
        ("C", f'INDEX(Vessels[Tested by],{number})&""', "text", False),
        ("D", f'IF({free},"",{tests})', "whole", False),
        ("E", f'IF({none},"",{last})', "date", False),
        ("F", f'IF({none},"",{leak})', "rate", False),
        ("G", f'IF({free},"",GAS_CONVERT(INDEX(Vessels[Limit used],{number}),"mbar L/s",U_leak))',
         "rate", False),
        ("H", f'IF({none},"",$F{row}/$G{row})', "percent", False),
        ("I", f'IF({free},"",IF($D{row}<2,"",{change}))', "percent", True),
        ("J", f'IF({free},"",IF($D{row}<4,"too few tests",IF(AND($I{row}>0,{grows}),"{GROWS}",'
         '"steady")))', "text", True),
        ("K", f'IF($J{row}="{GROWS}",IF($H{row}<1,MAX($E{row},{_by_way(row, crossing)}),""),"")',
         "date", True),
        ("L", f'IF(OR({free},NOT(ISNUMBER(As_of))),"",IF($D{row}=0,As_of,'
         f'IF(OR($H{row}>1,$H{row}<{LEAST_SHARE}),As_of,'
         f'IF(ISNUMBER($K{row}),MIN($E{row}+{every},INT(($E{row}+$K{row})/2)),$E{row}+{every}))))',
         "date", False),
        ("M", f'IF({free},"",IF($D{row}=0,"no test in a year",IF($H{row}>1,"{OVER}",'
         f'IF($H{row}<{LEAST_SHARE},"{REPEAT}",'
         f'IF($L{row}<As_of,"{OVERDUE}",$J{row})))))', "text", False),
    )  # fmt: skip
    for letter, formula, style, array in cells:
        written = sheet.array if array else sheet.write
        written(f"{letter}{row}", "=" + formula, "value", style)


def _history(book: Book) -> None:
    sheet = book.sheet("History", [2, 16, 12, 12, 12, 12, 12, 14, 10], landscape=False)
    sheet.title("History", "Highest share of the limit in each month; the first six vessels.")
    letters = [xl_col_to_name(2 + n) for n in range(CHARTED)]
    limit = xl_col_to_name(2 + CHARTED)
    sheet.write("B5", "Month", "column")
    sheet.write(f"{limit}5", "Limit", "column")
    for number, letter in enumerate(letters, 6):
        sheet.write(f"{letter}5", f'=Trend!$B{number}&""', "column")
    for row in range(6, 18):
        month = f'=IF(ISNUMBER(As_of),EDATE(DATE(YEAR(As_of),MONTH(As_of),1),{row - 17}),"")'
        sheet.write(f"B{row}", month, "value", "month")
        sheet.write(f"{limit}{row}", 1, "value", "percent")
        for number, letter in enumerate(letters, 6):
            within = (
                f'{{t}}[Vessel],{letter}$5,{{t}}[Date],">="&$B{row},'
                f'{{t}}[Date],"<"&EDATE($B{row},1),{{t}}[Check],"ok"'
            )
            rises, decays = (
                f"IF(COUNTIFS({w})=0,NA(),MAXIFS({t}[Of limit],{w}))"
                for t in TABLES.values()
                for w in (within.replace("{t}", t),)
            )
            sheet.write(
                f"{letter}{row}",
                f'=IF(Trend!$B{number}="",NA(),IF(Trend!$C{number}="{RISE}",{rises},{decays}))',
                "value",
                "percent",
            )
    sheet.hide_errors("B6:I17")
    chart = new_chart(
        book, "line", "Leak by vessel, as a share of its limit", "Month", "Share of the limit, %",
        x={"num_format": "mmm yy", "text_axis": True}, y={"num_format": "0 %", "min": 0},
    )  # fmt: skip
    for index, letter in enumerate(letters):
        colour = look.SERIES[index]
        chart.add_series({
            "name": f"=History!${letter}$5",
            "categories": "=History!$B$6:$B$17",
            "values": f"=History!${letter}$6:${letter}$17",
            "line": {"color": colour, "width": 2},
            "marker": {"type": MARKERS[index][0], "size": 7, "fill": {"color": colour},
                       "border": {"color": colour}},
        })  # fmt: skip
    chart.add_series({
        "name": f"=History!${limit}$5",
        "categories": "=History!$B$6:$B$17",
        "values": f"=History!${limit}$6:${limit}$17",
        "line": {"color": look.WARN, "width": 2, "dash_type": "dash"},
        "marker": {"type": "none"},
    })  # fmt: skip
    chart.set_legend({"none": True})
    _key(sheet, 19, letters, limit)
    chart.show_na_as_empty_cell()
    chart.show_blanks_as("span")
    sheet.chart("B20", chart, 680, 420)


MARKERS = (
    ("circle", "●"), ("square", "■"), ("triangle", "▲"), ("diamond", "◆"), ("x", "✕"),
    ("plus", "✚"),
)  # fmt: skip
"""A marker of the chart for each vessel and the sign for it."""


def _key(sheet: Sheet, row: int, letters: list[str], limit: str) -> None:
    """The chart's legend as cells: one of the chart's own would name vessels not listed, too."""
    signs = (*(sign for _, sign in MARKERS), "– –")
    colours = (*look.SERIES, look.WARN)
    for letter, sign, colour in zip([*letters, limit], signs, colours, strict=True):
        fmt = sheet.book.workbook.add_format({"font_color": colour})
        sheet.write(f"{letter}{row - 1}", f'=IF({letter}5="","","{sign}")', "legend")
        sheet.ws.conditional_format(f"{letter}{row - 1}", {"type": "no_errors", "format": fmt})
        sheet.write(f"{letter}{row}", f'={letter}5&""', "legend")


def _curve(row: str, column: int) -> str:
    """A pressure of the fitted curve, in the unit chosen."""
    curve = f"INDEX(GAS_RISE_CURVE(Curve[Time used],Curve[Pressure used]),{row},{column})"
    return f'GAS_CONVERT({curve},"mbar",U_vacuum)'


def _rise_readings(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Rise readings", [2, 16, 16, 14, 16, 14, 14, 22], landscape=False)
    sheet.title(
        "Rise readings", "One long test, read often; more often at first, while outgassing is fast."
    )
    sheet.write("B4", "Vessel", "label")
    sheet.write("C4", CURVE_VESSEL if filled else None, "input", "text")
    sheet.choose("C4", "=Vessel_names", "The vessel that the readings are of")
    book.name("Curve_vessel", sheet.name, "C4")
    typed = _typed("Time", "Pressure")
    place = 'COUNTIF(Curve[Time],"<"&[@Time])+2'
    pressure = 'IF(ISNUMBER([@Pressure]),GAS_CONVERT([@Pressure],U_vacuum,"bar(a)"),NA())'
    sheet.table(
        "B7",
        "Curve",
        (
            TableColumn("Time", number="two", unit='="h"', limits=("0", "10000")),
            TableColumn("Pressure", number="rate", unit="=U_vacuum"),
            TableColumn("Time used", f'=IF({typed},"",IF(ISNUMBER([@Time]),[@Time],NA()))', "two",
                        '="h"'),
            TableColumn("Pressure used", f'=IF({typed},"",{pressure})', "small", '="bar(a)"'),
            TableColumn("Fitted", f"=IF({typed},NA(),{_curve(place, 3)})", "rate", "=U_vacuum"),
            TableColumn("Leak alone", f"=IF({typed},NA(),Curve_start+{_curve(place, 4)})", "rate",
                        "=U_vacuum"),
            TableColumn("Check", f'=IF({typed},"",IF(AND(ISNUMBER([@[Time used]]),'
                        f'ISNUMBER([@[Pressure used]])),"ok","{WRONG}"))', "text"),
        ),
        [[h, converted(p, "vacuum", units)] for h, p in CURVE] if filled else [],
        spare=MOST_READINGS - (len(CURVE) if filled else 0),
    )  # fmt: skip
    sheet.hide_errors(f"B8:H{7 + MOST_READINGS}")
    sheet.ws.freeze_panes(7, 0)


def _rise_curve(book: Book) -> None:
    sheet = book.sheet("Rise curve", [2, 36, 16, 12, 62])
    sheet.title("Rise curve", "The straight part of the rise is a real leak, the rest outgassing.")
    part = "INDEX(GAS_RISE_FIT(Curve[Time used],Curve[Pressure used],Curve_volume),{},{})"
    leak = f'=GAS_CONVERT({part},"mbar L/s",U_leak)'
    of_vessel = "INDEX(Vessels[{}],MATCH(Curve_vessel,Vessels[Vessel],0))"
    share = f'=GAS_CONVERT(Curve_leak,U_leak,"mbar L/s")/{of_vessel.format("Limit used")}'
    remark = (
        '=IF(COUNT(Curve[Time used])=0,"no readings yet",'
        f'IF({_wrong_in("Curve")}>0,"a reading cannot be used: see Check on Rise readings",'
        f'IF(Curve_vessel="","choose the vessel on Rise readings",IFERROR({part.format(2, 6)},'
        'GAS_CHECK("GAS_RISE_FIT",Curve[Time used],Curve[Pressure used],Curve_volume)))))'
    )
    end = write_lines(sheet, 4, "Result", (
        Line("Vessel", "", '=Curve_vessel&""', "", "text"),
        Line("Volume", "Curve_volume", "=" + of_vessel.format("Volume used"), "m3", "three"),
        Line("Real leak", "Curve_leak", leak.format(2, 2), "=U_leak", "rate",
             remark, "total"),
        Line("give or take (standard error)", "Curve_error", leak.format(2, 3), "=U_leak", "rate"),
        Line("as a share of the vessel's limit", "Curve_share", share, "", "percent"),
        Line("Outgassing at the first reading", "Curve_outgassing", leak.format(3, 2), "=U_leak",
             "rate"),
        Line("Outgassing dies away in", "Curve_time", "=" + part.format(3, 4), "h", "two",
             "Time constant: about a third is left after it"),
        Line("Pressure at the first reading, by the fit", "Curve_start", "=" + _curve("2", 3),
             "=U_vacuum", "rate"),
    ))  # fmt: skip
    book.name("Curve_remark", sheet.name, "E7")
    sheet.ws.set_row(6, 32)
    sheet.write("H3", '="Pressure, "&U_vacuum', "hidden")
    chart = new_chart(
        book, "scatter", "Pressure rise and its fit", "Time, h", "='Rise curve'!$H$3",
        subtype="straight", x={"min": 0}, y={"min": 0},
    )  # fmt: skip
    marker = {"type": "circle", "size": 7, "fill": {"color": look.SERIES[1]},
              "border": {"color": look.SERIES[1]}}  # fmt: skip
    styles = (
        ("C", {"none": True}, marker),
        ("F", {"color": look.SERIES[0], "width": 2.25}, {"type": "none"}),
        ("G", {"color": look.SERIES[3], "width": 2, "dash_type": "dash"}, {"type": "none"}),
    )
    for letter, line_style, mark in styles:
        chart.add_series({
            "name": f"='Rise readings'!${letter}$7",
            "categories": f"='Rise readings'!$B$8:$B${7 + MOST_READINGS}",
            "values": f"='Rise readings'!${letter}$8:${letter}${7 + MOST_READINGS}",
            "line": line_style,
            "marker": mark,
        })  # fmt: skip
    sheet.chart(f"B{end}", chart, 900, 400)
    sheet.ws.fit_to_pages(1, 1)


AS_OF = dt.date(2026, 11, 2)

VESSELS = (
    ("VF1", RISE, 4.2, 0.02, 6, 35),
    ("VF2", RISE, 7.5, 0.03, 10, 35),
    ("VF3", RISE, 2.4, None, 2, 35),
    ("N2 main", DECAY, 0.35, 0.5, None, 91),
    ("Ar main", DECAY, 0.12, 0.1, None, 91),
    ("VF2 reservoir", DECAY, 40.0, 6, None, 182),
)
"""The demo's vessels: how tested, m³, mbar·L/s, Nm³/h, days."""

_RISE_SHARES = {
    "VF1": (0.46, 0.43, 0.47, 0.45, 0.42, 0.46),
    "VF2": (0.31, 0.39, 0.47, 0.58, 0.67, 0.78),
    "VF3": (0.33, 0.36, 0.34, 0.31, 0.35, 0.33),
}
"""Share of the limit that each month's test shows; VF2's door seal wears."""

_RISE_LIMITS = {"VF1": 0.02, "VF2": 0.03, "VF3": 0.0029}
_TUESDAYS = tuple(dt.date(2026, *day) for day in ((5, 5), (6, 9), (7, 7), (8, 4), (9, 8), (10, 6)))


def rise_tests() -> list[tuple[dt.date, str, float, float, float]]:
    """The demo's pressure-rise tests: day, vessel, mbar at start and end, h."""
    volumes = {row[0]: row[2] for row in VESSELS}
    rows = []
    for later, (vessel, shares) in enumerate(_RISE_SHARES.items()):
        for day, share in zip(_TUESDAYS, shares, strict=True):
            leak, hours, start = share * _RISE_LIMITS[vessel], 2.0, 0.008 + 0.002 * later
            end = start + leak * hours * 3600 / (1000 * volumes[vessel])
            rows.append((day + dt.timedelta(days=later), vessel, start, round(end, 4), hours))
    return sorted(rows)


def decay_tests() -> list[tuple[dt.date, str, float, float, float, float, float]]:
    """The demo's pressure-decay tests: day, vessel, bar(a) and °C at start and end, h."""
    return [
        (dt.date(2026, 5, 12), "N2 main", 13.000, 21.0, 12.936, 20.1, 12),
        (dt.date(2026, 5, 13), "Ar main", 13.000, 20.4, 12.994, 20.6, 12),
        (dt.date(2026, 5, 16), "VF2 reservoir", 13.500, 19.8, 13.487, 19.7, 48),
        (dt.date(2026, 8, 11), "N2 main", 13.000, 24.2, 12.975, 24.2, 12),
        (dt.date(2026, 8, 12), "Ar main", 13.000, 24.0, 12.976, 23.7, 12),
    ]


HELIUM = (
    (dt.date(2026, 10, 9), "VF2", "Door seal, lower left", 1.6e-2, "mbar L/s"),
    (dt.date(2026, 10, 9), "VF2", "Thermocouple gland", 8e-4, "mbar L/s"),
    (dt.date(2026, 10, 9), "VF2", "Backfill valve stem", 3e-5, "mbar L/s"),
    (dt.date(2026, 10, 9), "VF3", "Door seal", 2e-6, "std cc/s"),
)

DEW_POINTS = (
    (dt.date(2026, 9, 3), "N2 main, far end", -61, 8.0, 13.0),
    (dt.date(2026, 9, 3), "Ar main, at VF3", -58, 8.0, 13.0),
    (dt.date(2026, 10, 8), "N2 main, far end", -62, 8.0, 13.0),
    (dt.date(2026, 10, 8), "Ar main, at VF3", -57, 8.0, 13.0),
    (dt.date(2026, 10, 8), "VF2 vent", -54, 1.01, 1.1),
)
"""Day, place, °C of the dew point, bar(a) where it was measured and in the line."""

CURVE_VESSEL = "VF2"
_CURVE_HOURS = (0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6)
_CURVE_NOISE = (1, -1, 0, 2, -1, 1, -2, 0, 1, -1, 1, 0, -1)
CURVE = tuple(
    (h, round(0.012 + 0.0102 * h + 0.008 * (1 - math.exp(-h / 0.8)) + n * 5e-5, 5))
    for h, n in zip(_CURVE_HOURS, _CURVE_NOISE, strict=True)
)
"""The demo's long rise test of 9 October: h, mbar; a leak of 0.0213 mbar·L/s and outgassing."""
