"""A new or opened reservoir and its lines made free of air, as a sheet to work down and sign."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any

from gasfuncs.workbooks import demo, look
from gasfuncs.workbooks.book import WRONG, Book, TableColumn, check_column, new_chart, number_or
from gasfuncs.workbooks.inputs import Group, Input, converted, inputs_sheet
from gasfuncs.workbooks.lines import Line, write_lines
from gasfuncs.workbooks.start import CAUTIONS, KeyNumber, sources_sheet, start_sheet

NAME = "reservoir_commissioning"
TITLE = "Reservoir commissioning"
QUESTION = (
    "Is the reservoir tight and free of air, which way there is cheaper, and may it be released?"
)
FUNCTIONS = (
    "GAS_PUMPDOWN_TIME", "GAS_RISE_LEAK", "GAS_RISE_FIT", "GAS_RISE_RATE", "GAS_LEAK_AS",
    "GAS_LEAK_LIMIT", "GAS_EVACUATE_RESIDUAL", "GAS_VENT_FILL_COUNT", "GAS_VENT_FILL_RESIDUAL",
    "GAS_VENT_FILL_USE", "GAS_BACKFILL", "GAS_PRICE", "GAS_CONVERT", "GAS_CHECK",
)  # fmt: skip

GASES = ("argon", "nitrogen", "helium", "hydrogen")
AIR = 1_000_000
OXYGEN = 0.2095
STEPS_DOWN = 16
READINGS = 31
CYCLES = (1, 2, 3, 4, 5)
DAY = dt.date(2026, 11, 10)

EVACUATION = (
    (0, 1013), (1, 530), (2, 272), (3, 141), (5, 44), (7, 14), (10, 4.6), (15, 1.9), (20, 1.15),
    (30, 0.63), (50, 0.34), (80, 0.19), (140, 0.102), (200, 0.071), (290, 0.045),
)  # fmt: skip
"""Minutes and mbar read while pumping."""

RISE = (
    (0, 0.045), (0.5, 0.0477), (1, 0.0499), (2, 0.0527), (3, 0.0548), (4, 0.0565), (6, 0.0596),
    (8, 0.0624),
)  # fmt: skip
"""Hours and mbar read after the pump's valve was shut."""

HELIUM = (
    ("Supply valve, stem", 4e-7),
    ("Flange, reservoir inlet", 2e-5),
    ("Relief valve, inlet thread", 6e-6),
    ("Line, joint J1", 1e-6),
    ("Line, joint J2", 8e-5),
    ("Backfill valve, furnace", 3e-6),
)
"""Points tested, mbar L/s of helium."""


def build(book: Book, units: str, *, filled: bool) -> None:
    """Write every sheet; `filled` with the demo plant, else empty."""
    start_sheet(book, QUESTION, _answer(), _key_numbers(), _STEPS, _CAUTIONS)
    inputs_sheet(book, _inputs(units), units, filled=filled)
    _release(book, units, filled)
    _evacuation(book, units, filled)
    _leaks(book, units, filled)
    _methods(book)
    _fill(book)
    sources_sheet(book, FUNCTIONS)


_STEPS = (
    "Choose the units; fill in reservoir, line, pumps and limits on Inputs.",
    "Print Release: it is worked down from isolating to signing.",
    "Write the readings into Evacuation and Leaks while you work.",
    "Methods compares one evacuation with fill-and-pump cycles.",
    "Fill gives the steps of the slow fill. Release says what is open.",
)

_CAUTIONS = (
    *CAUTIONS,
    "Evacuate only a vessel that may bear full vacuum, and let no air into hot or dusty pumps: ask "
    "the maker. The relief device is confirmed by a licensed person before gas is let in.",
)


def _inputs(units: str) -> tuple[Group, ...]:
    furnace = next(f for f in demo.FURNACES if f.gas == "argon")
    return (
        Group("Reservoir and line to the furnace", (
            Input("Gas", "Gas", furnace.gas, "The tank's label", choices=GASES),
            Input("Reservoir_volume", "Volume of the reservoir", furnace.reservoir, "Nameplate",
                  "volume", 0.001, 10_000, "two"),
            Input("Bore", "Bore of the line", 40.9, "Inner diameter, not the nominal size", "bore",
                  3, 1000),
            Input("Length", "Length of the line", 30, "Along the pipe", "length", 0.1, 2000),
            Input("Work", "Working pressure, absolute", 13, "Gauge plus the air pressure",
                  "pressure", 1.1, 300, "two"),
            Input("Site_pressure", "Air pressure at the site", 1.013, "Weather or altitude",
                  "pressure", 0.5, 1.1, "three"),
            Input("Temperature", "Temperature", 20, "Of the reservoir", "temperature", -40, 60),
        )),
        Group("Pumping through the line", (
            Input("Pumping", "Pumping speed of the furnace's pumps", 250,
                  "The pump's curve, without boosters", "pumping", 0.1, 100_000),
            Input("Gas_load", "Leaks and outgassing while pumping", 0.01,
                  "From an earlier rise test; 0 if unknown", "leak", 0, 1000),
            Input("Vacuum", "Vacuum wanted", 0.05, "Gauge at the reservoir's end", "vacuum", 1e-5,
                  100),
            Input("Hold", "Time from shutting the pump to the fill", 9,
                  "With the pressure-rise test", "h", 0, 1000, "one"),
        )),
        Group("Purity and leaks", (
            Input("Target", "Air wanted at most at working pressure", 15,
                  "What the work bears; 0.21 of it is oxygen", "ppm", 0.001, AIR),
            Input("Supply", "Air in the gas itself", 3, "Certificate: oxygen and nitrogen", "ppm",
                  0, AIR),
            Input("Leak_adds", "Air that leaks may add", 2, "Share of what the work bears", "ppm",
                  0.001, AIR),
            Input("Flow", "Least flow in use", 10, "Flow meter of the furnace", "flow", 0.001,
                  100_000),
        )),
        Group("Fill-and-pump cycles", (
            Input("Low", "Pumped down to", 5, "What is quickly reached", "vacuum", 1e-4, 1000),
            Input("High", "Filled to, absolute", 1.2, "A little above the air", "pressure", 0.01,
                  300, "two"),
            Input("Fill_flow", "Flow of the slow fill", 20,
                  "So slow that nothing freezes or hammers", "flow", 0.01, 100_000),
            Input("Price", "Price of the gas", demo.PRICES[furnace.gas], "Supply contract",
                  "price_per", 0, 1000, "three"),
            Input("Hour_cost", "Cost of an hour of the furnace's pumps", 35, "Shop's rate",
                  '=Currency&""', 0, 100_000, "money"),
            Input("Currency", "Currency", demo.CURRENCY[units], "Shown beside every cost"),
        )),
        Group("Release", (
            Input("Day", "Day of commissioning", DAY, "Today", number="date", low=36526,
                  high=73050),
            Input("Design_pressure", "Highest pressure allowed, absolute", 17,
                  "Nameplate plus the air pressure", "pressure", 1, 400, "two"),
            Input("Relief_set", "Set pressure of the relief device, absolute", 16.5,
                  "Tag plus the air pressure", "pressure", 1, 400, "two"),
            Input("Relief_due", "Next test of the relief device", dt.date(2027, 6, 30),
                  "Tag or test sheet", number="date", low=36526, high=73050),
            Input("Oxygen_limit", "Oxygen wanted at most at the furnace", 4, "Recipe", "ppm",
                  0.001, AIR),
            Input("Dew_limit", "Dew point wanted at most at the furnace", -60, "Recipe",
                  "temperature", -120, 40),
        )),
    )  # fmt: skip


_PUMP = "Volume_all,Pumping_used,{},{},Gas_load_used,Bore_used,Length_used,{}"


def _pump_time(start: str, end: str, gas: str, unit: str) -> str:
    return f'GAS_PUMPDOWN_TIME({_PUMP.format(start, end, gas)},"{unit}")'


def _answer() -> str:
    pumping = _PUMP.format("Site_pressure_used", "Vacuum_bar", '"air"')
    check = f'GAS_CHECK("GAS_PUMPDOWN_TIME",{pumping})'
    return (
        '=IF(Inputs_ok<Inputs_total,"Some inputs are missing or out of range: see the check list '
        'on the Inputs sheet.",IF(Rows_wrong>0,Rows_wrong&" row(s) cannot be calculated: see the '
        'column Check of Evacuation and Leaks.",IF(Target<=Supply,"The air wanted at most is not '
        'above that of the gas itself: take a purer gas or a higher target.",'
        f'IF(NOT(ISNUMBER(Pump_time)),IF(ISNUMBER(SEARCH("base pressure",{check})),"The vacuum '
        "wanted is never reached with these leaks and outgassing: pump faster, through a wider "
        f'line, or want less.","The evacuation cannot be calculated. "&{check}),'
        'IF(NOT(ISNUMBER(Needed)),"The fill-and-pump cycles cannot be calculated: they are filled '
        'above what they are pumped down to.",'
        'IF(NOT(ISNUMBER(Left_reached)),"The air left cannot be calculated: the last reading on '
        'Evacuation is no vacuum below the working pressure.",'
        'IF(Points_ok=Points,"May be released for service once signed: every point of the sheet '
        'Release is met. ","NOT released for service: "&(Points-Points_ok)&" of "&Points&'
        '" points not met, first: "&First_open&". ")&'
        'IF(Readings=0,"No vacuum is read yet: the one wanted would leave ",'
        'IF(Left_reached<=Target,"Free of air: ","NOT free of air: ")&"the vacuum reached leaves ")'
        '&TEXT(Left_reached,"0.0")&" ppm of air at working pressure; "&TEXT(Target,"0.0")&'
        '" ppm at most are wanted. "&Needed&IF(Needed=1," fill-and-pump cycle",'
        '" fill-and-pump cycles")&" would leave "&TEXT(Left_needed,"0.0")&'
        '" ppm for "&Currency&" "&TEXT(Cost_needed,"#,##0")&" and "&TEXT(Hours_needed,"0.0")&'
        '" h, against "&Currency&" "&TEXT(Cost_evacuate,"#,##0")&" and "&TEXT(Pump_time,"0.0")&'
        '" h for evacuating."))))))'
    )  # fmt: skip


def _key_numbers() -> tuple[KeyNumber, ...]:
    return (
        KeyNumber("Time to evacuate through the line", "Pump_time", "h", "two"),
        KeyNumber("the same without the line", "Pump_bare", "h", "two"),
        KeyNumber("Air left by the vacuum reached", "Left_reached", "ppm", "one"),
        KeyNumber("Leak found, outgassing included", "Leak_found", "=U_leak", "rate"),
        KeyNumber("Leak allowed", "Leak_limit", "=U_leak", "rate"),
        KeyNumber("Gas for the fill to working pressure", "Gas_fill", "=U_amount", "one"),
        KeyNumber("Time of the slow fill", "Fill_hours", "h", "one"),
    )


@dataclass(frozen=True)
class _Point:
    """A point of the sheet to sign."""

    what: str
    wanted: str
    found: str = ""
    """A formula; or "" where the user types it."""
    test: str = "{f}<={w}"
    unit: str = ""
    number: str = "text"
    name: str = ""
    demo: Any = None
    choices: tuple[str, ...] = ()


_YES = '{f}="yes"'
_POINTS = (
    _Point("Supply valve shut, locked and tagged; backfill line open to the furnace", "yes",
           test=_YES, name="Isolated", demo="yes", choices=("yes", "no")),
    _Point("Oxygen monitor on, area ventilated, nobody in furnace or pit", "yes", test=_YES,
           name="Area_safe", demo="yes", choices=("yes", "no")),
    _Point("Relief device: set pressure, absolute", "=Design_pressure", "=Relief_set",
           unit="=U_pressure", number="two"),
    _Point("Relief device: piped outdoors, confirmed by a licensed person", "yes", test=_YES,
           name="Relief_confirmed", demo="yes", choices=("yes", "no")),
    _Point("Relief device: in date, next test after", "=Day", "=Relief_due", test="{f}>{w}",
           number="date"),
    _Point("Evacuated, last reading", "=Vacuum", "=Vacuum_read", unit="=U_vacuum",
           number="rate"),
    _Point("Leak by pressure rise", "=Leak_limit", "=Leak_judged", unit="=U_leak", number="rate"),
    _Point("Leaks by helium as air, all points together", "=Leak_limit", "=Helium_all",
           unit="=U_leak", number="rate"),
    _Point("Air left at working pressure by the vacuum reached", "=Target", "=Left_read",
           unit="ppm", number="one"),
    _Point("Filled slowly to atmosphere, then to working pressure: reading", "=Work",
           test="ABS({f}-{w})<=0.05*{w}", unit="=U_pressure", number="two", name="Filled_to",
           demo=12.9),
    _Point("Oxygen at the furnace, analyser", "=Oxygen_limit", unit="ppm", number="one",
           name="Oxygen_read", demo=2.8),
    _Point("Dew point at the furnace, analyser", "=Dew_limit", unit="=U_temperature",
           number="one", name="Dew_read", demo=-57.5),
)  # fmt: skip
"""The demo's dew point is not yet reached."""


def _release(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Release", [2, 6, 62, 14, 14, 14, 14, 20, 16])
    sheet.title("Release", "Worked down from top to bottom; each point is signed when it is done.")
    top = 5
    for letter, text in zip(
        "BCDEFGHI",
        ("", "What to do", "Wanted", "Unit", "Found", "Result", "Done by", "Date"),
        strict=True,
    ):
        sheet.write(f"{letter}{top}", text, "column")
    first, last = top + 1, top + len(_POINTS)
    for row, point in enumerate(_POINTS, first):
        sheet.write(f"B{row}", row - top, "unit", "whole")
        sheet.write(f"C{row}", point.what, "label")
        sheet.write(f"D{row}", _known(point.wanted), "value", point.number)
        sheet.write(f"E{row}", point.unit, "unit")
        if point.found:
            sheet.write(f"F{row}", _known(point.found), "value", point.number)
        else:
            unit = point.unit.removeprefix("=U_")
            found = converted(point.demo, unit, units) if filled else None
            sheet.write(f"F{row}", found, "input", point.number)
            book.name(point.name, sheet.name, f"F{row}")
            if point.choices:
                sheet.choose(f"F{row}", list(point.choices), point.what)
            else:
                sheet.limit(f"F{row}", "-1000000", "1000000", point.what)
        test = point.test.format(f=f"F{row}", w=f"D{row}")
        known = "ISTEXT" if point.choices else "ISNUMBER"
        sheet.write(
            f"G{row}",
            f'=IF(OR(F{row}="",D{row}=""),"open",IF({known}(F{row}),IF({test},"ok","FAILED"),'
            '"FAILED"))',
            "check",
        )
        sheet.write(f"H{row}", _signature(row - first) if filled else None, "input", "text")
        sheet.write(f"I{row}", DAY if filled and point.name != "Dew_read" else None, "input",
                    "date")  # fmt: skip
        sheet.ws.set_row(row - 1, 24)
    results = f"G{first}:G{last}"
    good = book.workbook.add_format(look.GOOD_MARK)
    bad = book.workbook.add_format(look.BAD_MARK)
    for text, fmt in (("ok", good), ("FAILED", bad), ("open", bad)):
        sheet.ws.conditional_format(
            results,
            {"type": "cell", "criteria": "==", "value": f'"{text}"', "format": fmt},
        )
    row = last + 2
    sheet.write(f"C{row}", "Points met, and of how many", "label")
    sheet.write(f"D{row}", f'=COUNTIF({results},"ok")', "total", "whole")
    book.name("Points_ok", sheet.name, f"D{row}")
    sheet.write(f"E{row}", "=ROWS(" + results + ")", "value", "whole")
    book.name("Points", sheet.name, f"E{row}")
    sheet.write(f"C{row + 1}", "First point not met", "label")
    first_open = (
        f'=IFERROR(INDEX(C{first}:C{last},MIN(IFERROR(MATCH("open",{results},0),99),'
        f'IFERROR(MATCH("FAILED",{results},0),99))),"none")'
    )
    sheet.merged(f"D{row + 1}:I{row + 1}", first_open, "label", height=24)
    book.name("First_open", sheet.name, f"D{row + 1}")
    sheet.write(f"C{row + 2}", "Result", "label")
    sheet.merged(
        f"D{row + 2}:I{row + 2}",
        '=IF(AND(Points_ok=Points,Inputs_ok=Inputs_total,Rows_wrong=0),'
        '"may be released for service, signed below","NOT released for service")', "big", height=28,
    )  # fmt: skip
    for at, label in ((row + 4, "Released by, signature"), (row + 5, "Licensed person, signature")):
        sheet.write(f"C{at}", label, "label")
        sheet.merged(f"D{at}:I{at}", "", "input", height=28)
    for at, caution in enumerate((CAUTIONS[0], _CAUTIONS[-1]), row + 7):
        sheet.merged(f"B{at}:I{at}", caution, "caution", height=32)
    sheet.ws.freeze_panes(top, 0)


def _known(cell: str) -> str:
    """A reference that shows nothing until there is a number."""
    return f'=IF(ISNUMBER({cell[1:]}),{cell[1:]},"")' if cell.startswith("=") else cell


def _signature(index: int) -> str | None:
    """Initials of the demo's invented fitters."""
    if index == len(_POINTS) - 1:
        return None
    return "R. K." if "Relief" in _POINTS[index].what else "A. F."


def _evacuation(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Evacuation", [2, 13, 14, 22, 3, 14, 16, 3, 44, 14, 12])
    sheet.title("Evacuation", "Pumped through the furnace and the backfill line: expected, read.")
    typed = '[@Minutes]&[@Pressure]=""'
    used = (
        f'=IF({typed},"",IF(AND(ISNUMBER([@Minutes]),ISNUMBER([@Pressure])),'
        "IF(AND([@Minutes]>=0,[@Pressure]>0),[@Minutes],NA()),NA()))"
    )
    check = f'=IF({typed},"",IF(ISNUMBER({used[1:]}),"ok","{WRONG}"))'
    sheet.table(
        "B6",
        "Evacuation",
        (
            TableColumn("Minutes", number="whole", unit='="min"', limits=("0", "100000")),
            TableColumn("Pressure", number="ppm", unit="=U_vacuum", limits=("0", "100000")),
            TableColumn("Check", check, "text"),
        ),
        [(m, converted(p, "vacuum", units)) for m, p in EVACUATION] if filled else [],
        spare=READINGS - (len(EVACUATION) if filled else 0),
    )
    last_read = 6 + READINGS
    for letter, text, unit in (("F", "Expected after", "min"), ("G", "Pressure", "=U_vacuum")):
        sheet.write(f"{letter}6", text, "column")
        sheet.write(f"{letter}5", unit, "unit")
    first, last = 7, 7 + STEPS_DOWN
    for row in range(first, last + 1):
        share = f"{row - first}/{STEPS_DOWN}"
        pressure = f"Site_pressure_used*(Vacuum_bar/Site_pressure_used)^({share})"
        time = _pump_time("Site_pressure_used", pressure, '"air"', "min")
        sheet.write(f"F{row}", "=0" if row == first else f"={number_or(time)}", "value", "one")
        told = number_or(f'GAS_CONVERT({pressure},"bar(a)",U_vacuum)')
        sheet.write(f"G{row}", f"={told}", "value", "ppm")
    sheet.hide_errors(f"F{first}:G{last}")
    lines = (
        ("Volume, line included", "Volume_all", "m3", "three",
         "=Reservoir_volume_used+PI()*(Bore_used/1000)^2/4*Length_used"),
        ("Vacuum wanted", "Vacuum_bar", "bar(a)", "small",
         '=GAS_CONVERT(Vacuum_used,"mbar","bar(a)")'),
        ("Time through the line", "Pump_time", "h", "two",
         "=" + _pump_time("Site_pressure_used", "Vacuum_bar", '"air"', "h")),
        ("Time without the line", "Pump_bare", "h", "two",
         "=GAS_PUMPDOWN_TIME(Volume_all,Pumping_used,Site_pressure_used,Vacuum_bar,"
         "Gas_load_used)"),
        ("Readings", "Readings", "", "whole", '=COUNTIF(Evacuation[Check],"ok")'),
        ("Last reading", "Vacuum_read", "=U_vacuum", "ppm",
         '=IF(Readings=0,"",INDEX(Evacuation[Pressure],'
         "MATCH(MAX(Evacuation[Minutes]),Evacuation[Minutes],0)))"),
        ("Rows that cannot be calculated", "Rows_wrong", "", "whole",
         f'=COUNTIF(Evacuation[Check],"{WRONG}")+COUNTIF(Rise[Check],"{WRONG}")'
         f'+COUNTIF(Helium[Check],"{WRONG}")'),
    )  # fmt: skip
    for row, (label, name, unit, number, formula) in enumerate(lines, 7):
        sheet.write(f"I{row}", label, "label")
        sheet.write(f"J{row}", formula, "value", number)
        sheet.write(f"K{row}", unit, "unit")
        book.name(name, sheet.name, f"J{row}")
    sheet.hide_errors(f"J7:J{6 + len(lines)}")
    sheet.merged(
        "I15:K17",
        "Water on the walls makes the last decade slower than expected. A curve that stays flat "
        "far above it is a leak, a shut valve or a wet vessel.",
        "note",
    )
    sheet.write("I21", '="Pressure, "&U_vacuum', "unit")
    chart = new_chart(
        book, "scatter", "Pressure while evacuating", "Time, min", "=Evacuation!$I$21",
        subtype="straight", x={"num_format": "0", "min": 0, "label_position": "low"},
        y={"num_format": "General", "log_base": 10, "crossing": "min"},
    )  # fmt: skip
    chart.add_series(
        {
            "name": "expected",
            "categories": f"=Evacuation!$F${first}:$F${last}",
            "values": f"=Evacuation!$G${first}:$G${last}",
            "line": {"color": look.SERIES[0], "width": 2.25},
            "marker": {"type": "none"},
        }
    )
    chart.add_series(
        {
            "name": "read",
            "categories": f"=Evacuation!$B$7:$B${last_read}",
            "values": f"=Evacuation!$C$7:$C${last_read}",
            "line": {"none": True},
            "marker": {"type": "circle", "size": 7, "fill": {"color": look.SERIES[1]},
                       "border": {"color": look.SERIES[1]}},
        }
    )  # fmt: skip
    sheet.chart("I19", chart, 560, 380)
    sheet.ws.freeze_panes(6, 0)


def _leaks(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Leaks", [2, 34, 14, 14, 22, 3, 34, 14, 14, 22])
    sheet.title("Leaks", "Pressure rise with the pumps shut off, and helium at every joint.")
    typed = '[@Hours]&[@Pressure]=""'
    used = (
        f'=IF({typed},"",IF(AND(ISNUMBER([@Hours]),ISNUMBER([@Pressure])),'
        'IF([@Pressure]>0,GAS_CONVERT([@Pressure],U_vacuum,"bar(a)"),NA()),NA()))'
    )
    sheet.table(
        "B6",
        "Rise",
        (
            TableColumn("Hours", number="two", unit='="h"', limits=("0", "100000")),
            TableColumn("Pressure", number="ppm", unit="=U_vacuum", limits=("0", "100000")),
            TableColumn("As used", used, "small", '="bar(a)"'),
            check_column(typed, "As used"),
        ),
        [(h, converted(p, "vacuum", units)) for h, p in RISE] if filled else [],
        spare=8 if filled else 16,
    )
    typed = '[@Point]&[@Reading]=""'
    air = (
        f'=IF({typed},"",IF(AND([@Point]<>"",ISNUMBER([@Reading])),IF([@Reading]=0,0,'
        'GAS_LEAK_AS(GAS_CONVERT([@Reading],U_leak,"mbar L/s"),"helium","air",,,U_leak)),NA()))'
    )
    sheet.table(
        "G6",
        "Helium",
        (
            TableColumn("Point", number="text"),
            TableColumn("Reading", number="rate", unit="=U_leak", limits=("0", "100000")),
            TableColumn("As air", air, "rate", "=U_leak"),
            check_column(typed, "As air"),
        ),
        [(p, converted(q, "leak", units)) for p, q in HELIUM] if filled else [],
        spare=10 if filled else 16,
    )
    fit = "INDEX(GAS_RISE_FIT(Rise[Hours],Rise[As used],Volume_all),2,2)"
    at = "INDEX(Rise[As used],MATCH({}(Rise[Hours]),Rise[Hours],0))"
    row = write_lines(sheet, 25, "Judged", (
        Line("Leak allowed", "Leak_limit", "=GAS_LEAK_LIMIT(Leak_adds,Flow_used,1,U_leak)",
             "=U_leak", "rate"),
        Line("as a pressure rise", "Rise_limit",
             '=GAS_RISE_RATE(GAS_CONVERT(Leak_limit,U_leak,"mbar L/s"),Volume_all,U_rise)',
             "=U_rise", "rate"),
        Line("Rise, leak and outgassing together", "Leak_found",
             '=IF(COUNTIF(Rise[Check],"ok")<2,"",GAS_RISE_LEAK(Volume_all,'
             f'{at.format("MIN")},{at.format("MAX")},MAX(Rise[Hours])-MIN(Rise[Hours]),U_leak))',
             "=U_leak", "rate"),
    ))  # fmt: skip
    row -= 1
    sheet.write(f"B{row}", "of it real leak, by the fit", "label")
    sheet.write(
        f"C{row}",
        f'=IF(COUNTIF(Rise[Check],"ok")<4,"",GAS_CONVERT({fit},"mbar L/s",U_leak))', "value",
        "rate",
    )  # fmt: skip
    book.name("Leak_fit", sheet.name, f"C{row}")
    sheet.write(f"D{row}", "=U_leak", "unit")
    for label, name, formula in (
        ("Leak judged: the fit's, where it can be told", "Leak_judged",
         '=IF(ISNUMBER(Leak_fit),MIN(Leak_fit,Leak_found),Leak_found)'),
        ("Helium, all points as air", "Helium_all",
         f'=IF(COUNTIF(Helium[Check],"{WRONG}")>0,NA(),IF(COUNTIF(Helium[Check],"ok")=0,"",'
         "SUM(Helium[As air])))"),
    ):  # fmt: skip
        row += 1
        sheet.write(f"B{row}", label, "label")
        sheet.write(f"C{row}", formula, "total", "rate")
        sheet.write(f"D{row}", "=U_leak", "unit")
        book.name(name, sheet.name, f"C{row}")
        sheet.ws.set_row(row - 1, 30)
    sheet.hide_errors(f"C26:C{row}")
    sheet.merged(
        f"G26:J{row}",
        "The leak allowed adds the impurity of the Inputs sheet to the least flow in use. The rise "
        "counts outgassing as leak unless the fit tells them apart; pump longer and warm the "
        "vessel if outgassing decides. Helium is sprayed outside with vacuum inside; readings are "
        "turned into air by the flow through the leak, molecular or laminar by its size.",
        "note",
    )
    sheet.ws.freeze_panes(6, 0)


def _methods(book: Book) -> None:
    sheet = book.sheet("Methods", [2, 44, 12, 14, 14, 14, 12, 14, 14], landscape=False)
    sheet.title("Methods", "One evacuation against fill-and-pump cycles, judged when full.")
    reached = '=IF(Readings=0,Vacuum_bar,GAS_CONVERT(Vacuum_read,U_vacuum,"bar(a)"))'
    price = "GAS_PRICE(Price,U_price_per,U_amount,Gas)"
    in_high = "MIN(1000000,Supply+(Target-Supply)*Work_used/High_used)"
    row = write_lines(sheet, 4, "Behind the table", (
        Line("Vacuum reached, or wanted while none is read", "Reached_bar", reached, "bar(a)",
             "small"),
        Line("Pumped down to, in a cycle", "Low_bar",
             '=GAS_CONVERT(Low_used,"mbar","bar(a)")', "bar(a)", "small"),
        Line("Cycles needed", "Needed",
             f"=GAS_VENT_FILL_COUNT(Low_bar,High_used,{AIR},{in_high},Supply)", "", "whole",
             style="total"),
        Line("First pumping in the cycles, air", "First_hours",
             "=" + _pump_time("Site_pressure_used", "Low_bar", '"air"', "h"), "h", "two"),
        Line("Every further pumping, gas", "Next_hours",
             "=" + _pump_time("High_used", "Low_bar", "Gas", "h"), "h", "two"),
    ))  # fmt: skip
    top = row + 1
    for letter, text, unit in (
        ("B", "Method", ""), ("C", "Cycles", ""), ("D", "Air left", "ppm"),
        ("E", "Oxygen of it", "ppm"), ("F", "Purge gas", "=U_amount"), ("G", "Time", "h"),
        ("H", "Cost", '=Currency&""'), ("I", "Enough", ""),
    ):  # fmt: skip
        sheet.write(f"{letter}{top}", text, "column")
        sheet.write(f"{letter}{top - 1}", unit, "unit")
    leak = 'GAS_CONVERT({},U_leak,"mbar L/s")'
    evacuated = "GAS_EVACUATE_RESIDUAL({},Work_used,1000000,Supply,{},Volume_all,Hold)"
    judged = "IF(ISNUMBER(Leak_found),Leak_found,Leak_limit)"
    to_reached = _pump_time("Site_pressure_used", "Reached_bar", '"air"', "h")
    rows: list[tuple[str, str, str, str, str]] = [
        ("Evacuate to the vacuum wanted", "0",
         evacuated.format("Vacuum_bar", leak.format("Leak_limit")), "0", "Pump_time"),
        ("Evacuate to the vacuum reached", "0",
         evacuated.format("Reached_bar", leak.format(judged)), "0", to_reached),
    ]  # fmt: skip
    for count in (*(str(n) for n in CYCLES), "Needed"):
        label = "Cycles that are needed" if count == "Needed" else f"{count} fill-and-pump cycle"
        label += "s" if count not in ("1", "Needed") else ""
        residual = f"GAS_VENT_FILL_RESIDUAL({count},Low_bar,High_used,1000000,Supply)"
        gas = (
            f"GAS_VENT_FILL_USE(Gas,Volume_all,Low_bar,High_used,{count},Temperature_used,U_amount)"
        )
        hours = (
            f'First_hours+({count}-1)*Next_hours+GAS_CONVERT({gas},U_amount,"Nm3",Gas)'
            "/Fill_flow_used"
        )
        final = f"GAS_EVACUATE_RESIDUAL(High_used,Work_used,{residual},Supply)"
        rows.append((label, count, final, gas, hours))
    for at, (label, count, left, gas, hours) in enumerate(rows, top + 1):
        style = "total" if count == "Needed" else "value"
        sheet.write(f"B{at}", label, "label")
        for letter, formula, number in (
            ("C", count, "whole"), ("D", number_or(left), "one"),
            ("E", f"D{at}*{OXYGEN}", "two"),
            ("F", gas, "one"), ("G", f"{hours}", "two"),
            ("H", f"F{at}*{price}+G{at}*Hour_cost", "whole"),
            ("I", f'IF(ISNUMBER(D{at}),IF(D{at}<=Target,"yes","no"),NA())', "text"),
        ):  # fmt: skip
            sheet.write(f"{letter}{at}", f"={formula}", style, number)
        sheet.write(f"K{at}", "=Target", "unit", "one")
    first, end = top + 1, top + len(rows)
    for name, cell in (
        ("Left_wanted", f"D{first}"), ("Left_reached", f"D{first + 1}"),
        ("Cost_evacuate", f"H{first}"), ("Left_needed", f"D{end}"), ("Gas_needed", f"F{end}"),
        ("Hours_needed", f"G{end}"), ("Cost_needed", f"H{end}"),
    ):  # fmt: skip
        book.name(name, sheet.name, cell)
    sheet.hide_errors(f"C{first}:I{end}")
    sheet.write(f"B{end + 2}", "Air left by a vacuum that was read", "label")
    sheet.write(f"D{end + 2}", '=IF(Readings=0,"",Left_reached)', "value", "one")
    book.name("Left_read", sheet.name, f"D{end + 2}")
    sheet.merged(
        f"B{end + 4}:I{end + 4}",
        "All are judged when the reservoir is full at working pressure; the gas of that last fill "
        "comes to each and is not in the table. Evacuating counts the leak over the time until the "
        "fill, as if all of the rise were air. Mixing is taken as complete: dead legs need more.",
        "note",
        height=30,
    )
    chart = new_chart(
        book, "column", "Air left by method", "", "Air left, ppm",
        y={"num_format": "General", "log_base": 10, "min": 0.1, "crossing": "min"},
    )  # fmt: skip
    chart.add_series(
        {
            "name": f"=Methods!$D${top}",
            "categories": f"=Methods!$B${first}:$B${end - 1}",
            "values": f"=Methods!$D${first}:$D${end - 1}",
            "fill": {"color": look.SERIES[0]},
            "gap": 60,
        }
    )
    target = book.workbook.add_chart({"type": "line"})
    sheet.write(f"K{top}", "Wanted", "unit")
    target.add_series(
        {
            "name": f"=Methods!$K${top}",
            "categories": f"=Methods!$B${first}:$B${end - 1}",
            "values": f"=Methods!$K${first}:$K${end - 1}",
            "line": {"color": look.SERIES[1], "width": 2.25, "dash_type": "dash"},
        }
    )
    chart.combine(target)
    sheet.chart(f"B{end + 6}", chart, 900, 320)
    sheet.ws.print_area(f"B1:I{end + 23}")


def _fill(book: Book) -> None:
    sheet = book.sheet("Fill", [2, 8, 14, 14, 14, 14, 14, 14, 16, 20])
    sheet.title(
        "Fill", "Slowly from vacuum to atmosphere, stop and look, then to working pressure."
    )
    top = 6
    for letter, text, unit in (
        ("B", "Step", ""), ("C", "From", "=U_pressure"), ("D", "To", "=U_pressure"),
        ("E", "Gas", "=U_amount"), ("F", "Gas so far", "=U_amount"), ("G", "Time", "min"),
        ("H", "Time so far", "h"), ("I", "Read", "=U_pressure"), ("J", "By", ""),
    ):  # fmt: skip
        sheet.write(f"{letter}{top}", text, "column")
        sheet.write(f"{letter}{top - 1}", unit, "unit")
    above = "Site_pressure_used+{}*(Work_used-Site_pressure_used)"
    ends = ("Site_pressure_used/2", "Site_pressure_used",
            *(above.format(share) for share in (0.25, 0.5, 0.75, 1)))  # fmt: skip
    starts = ("Reached_bar", *ends)
    first, last = top + 1, top + len(ends)
    for row, (start, end) in enumerate(zip(starts, ends, strict=False), first):
        gas = f"GAS_BACKFILL(Gas,Volume_all,{start},{end},Temperature_used,,,,{{}})"
        for letter, formula, number in (
            ("B", str(row - top), "whole"),
            ("C", f'GAS_CONVERT({start},"bar(a)",U_pressure)', "two"),
            ("D", f'GAS_CONVERT({end},"bar(a)",U_pressure)', "two"),
            ("E", gas.format("U_amount"), "one"),
            ("F", f"E{row}" if row == first else f"F{row - 1}+E{row}", "one"),
            ("G", f'60*{gas.format(chr(34) + "Nm3" + chr(34))}/Fill_flow_used', "one"),
            ("H", f"SUM(G{first}:G{row})/60", "two"),
        ):  # fmt: skip
            sheet.write(f"{letter}{row}", f"={formula}", "value", number)
        sheet.write(f"I{row}", None, "input", "two")
        sheet.write(f"J{row}", None, "input", "text")
        sheet.ws.set_row(row - 1, 22)
    sheet.hide_errors(f"B{first}:H{last}")
    for row, name, label, formula, unit, number in (
        (last + 2, "Gas_fill", "Gas for the whole fill", f"=F{last}", "=U_amount", "one"),
        (last + 3, "Fill_hours", "Time at the chosen flow", f"=H{last}", "h", "two"),
    ):
        sheet.write(f"C{row}", label, "plain")
        sheet.write(f"F{row}", formula, "total", number)
        sheet.write(f"G{row}", unit, "unit")
        book.name(name, sheet.name, f"F{row}")
    sheet.hide_errors(f"F{last + 2}:F{last + 3}")
    sheet.merged(
        f"B{last + 5}:J{last + 5}",
        "Gas let into a vacuum is cold at the valve and warm in the vessel: keep to the flow, and "
        "wait at atmosphere until the pressure stands still. Nobody stands before flanges and the "
        "relief device's outlet; the device is in place and confirmed before any gas is let in.",
        "caution",
        height=36,
    )
