"""Vent-and-fill purging: cycles needed, gas, time and cost; other methods; a record to sign."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import Any

from gasfuncs.workbooks import demo, look
from gasfuncs.workbooks.book import (
    WRONG,
    Book,
    Sheet,
    TableColumn,
    check_column,
    new_chart,
    number_or,
)
from gasfuncs.workbooks.inputs import Group, Input, converted, inputs_sheet
from gasfuncs.workbooks.lines import Line, write_lines
from gasfuncs.workbooks.start import KeyNumber, sources_sheet, start_sheet

NAME = "vent_fill_purity"
TITLE = "Vent and fill to a purity"
QUESTION = (
    "How many vent-and-fill cycles does the vessel need, what do they cost, and did the purge pass?"
)
FUNCTIONS = (
    "GAS_VENT_FILL_COUNT", "GAS_VENT_FILL_RESIDUAL", "GAS_VENT_FILL_USE", "GAS_EVACUATE_RESIDUAL",
    "GAS_SWEEP_CHANGES", "GAS_SWEEP_RESIDUAL", "GAS_SWEEP_USE", "GAS_PUMPDOWN_TIME",
    "GAS_BACKFILL", "GAS_GRADE_IMPURITY", "GAS_LEAK_IMPURITY", "GAS_LEAK_LIMIT",
    "GAS_LEAK_BUILDUP", "GAS_DEW_PPM", "GAS_DEW_SHIFT", "GAS_PRICE", "GAS_CONVERT", "GAS_CHECK",
)  # fmt: skip

CAUTIONS = (
    "Argon and nitrogen asphyxiate without warning: lead what is vented outdoors, watch the oxygen "
    "in the room, and let nobody into the vessel before its air has been proved with a meter.",
    "The cycles are counted for gas that mixes as told on Inputs. Dead legs, insulation and the "
    "load hold air back, and water comes off the walls for hours: an analyser proves the end.",
    "A vessel stays within its own pressure and vacuum rating, behind a relief valve in date. "
    "Local codes and licensed practice decide; the numbers here are estimates to plan with.",
)

GASES = ("argon", "nitrogen", "helium")
PUMP, VALVE = "pump", "vent valve"
GRADE, CERTIFICATE = "grade", "certificate"
ROWS = 13
"""Rows of the cycle sheet; with more cycles than rows each row is several cycles."""
MOST_PURGES = 12


def build(book: Book, units: str, *, filled: bool) -> None:
    """Write every sheet; `filled` with the demo plant, else empty."""
    start_sheet(book, QUESTION, _answer(), _key_numbers(), _STEPS, CAUTIONS)
    inputs_sheet(book, _inputs(units), units, filled=filled)
    _plan(book)
    _cycles(book)
    _methods(book)
    _record(book, units, filled)
    _result(book)
    sources_sheet(book, FUNCTIONS)


_STEPS = (
    "Choose the units, then fill in Inputs: vessel, purity, supply, swing.",
    "Read here whether the cycles planned are enough; Cycles shows each.",
    "Compare with one deep evacuation and with sweeping on Methods.",
    "While purging, write every cycle's readings into Record.",
    "Print and sign Result: pass or not by the last analyser reading.",
)


def _inputs(units: str) -> tuple[Group, ...]:
    vessel = next(f for f in demo.FURNACES if f.gas == "argon")
    return (
        Group("Vessel and gas", (
            Input("Vessel", "Vessel", vessel.name, "Name plate; shown on the result"),
            Input("Gas", "Purge gas", vessel.gas, "What the vessel is filled with", choices=GASES),
            Input("Volume", "Free volume", vessel.free_volume,
                  "Chamber less load, with the lines that are purged along", "volume", 0.001, 5000,
                  "two"),
            Input("Temperature", "Gas temperature", 20, "Of the gas in the vessel",
                  "temperature", -20, 200, "one"),
        )),
        Group("Purity", (
            Input("Watched", "Impurity watched", "oxygen", "What the analyser reads: its oxygen, "
                  "or air as a whole", choices=("oxygen", "air")),
            Input("Start_ppm", "Impurity at the start", 209_500,
                  "Full of air: 209,500 ppm of oxygen, 1,000,000 ppm of air", "ppm", 0, 1_000_000,
                  "ppm"),
            Input("Target", "Impurity wanted at most", 10, "Process sheet", "ppm", 0.001, 1_000_000,
                  "ppm"),
            Input("Supply_told", "Impurity of the supply is told by", CERTIFICATE,
                  "The certificate where there is one", choices=(GRADE, CERTIFICATE)),
            Input("Grade", "Grade of the supply", 5.0, "5.0 is 99.999 % pure: all impurities "
                  "together", "", 1, 9.9, "one"),
            Input("Certificate", "Impurity on the certificate", 1, "Of the impurity watched",
                  "ppm", 0, 100_000, "ppm"),
        )),
        Group("Swing", (
            Input("Planned", "Cycles planned", 5, "Whole cycles: each vents, then fills", "", 1,
                  500, "whole"),
            Input("Low", "Vented or evacuated to", 0.1, "Add the air pressure to a gauge reading",
                  "pressure", 0.0001, 50, "three"),
            Input("High", "Filled to", 1.1, "Above the low pressure; within the vessel's rating",
                  "pressure", 0.001, 50, "three"),
            Input("Mixing", "Mixing", 0.95, "1 mixes completely; 0.9 and less with dead legs or a "
                  "dense load", "", 0.2, 1, "two"),
            Input("Emptied_by", "Emptied by", PUMP, "A vent valve ends at the air's pressure",
                  choices=(PUMP, VALVE)),
            Input("Pumping", "Pumping speed at the vessel", 120, "Pump's curve between the two "
                  "pressures", "pumping", 0.1, 100_000, "one"),
            Input("Venting_min", "Time to vent once, with a valve", 6, "Timed; not used with a "
                  "pump", "min", 0, 600, "one"),
            Input("Fill_flow", "Flow of purge gas", 60, "Flow meter of the fill line", "flow", 0.01,
                  100_000, "one"),
            Input("Handling_min", "Valves and mixing, each cycle", 3, "Timed", "min", 0, 600,
                  "one"),
        )),
        Group("Other methods", (
            Input("Deep", "Deep evacuation to", 0.05, "Lowest pressure the pumps reach, with the "
                  "vessel dry", "vacuum", 0.00001, 900, "rate"),
            Input("Hold_min", "Wait before the fill", 10, "From the pump's valve shutting", "min",
                  0, 10_000, "one"),
            Input("Sweep_pressure", "Pressure while sweeping", 1.05, "Just above the air's",
                  "pressure", 0.5, 50, "three"),
        )),
        Group("Cost", (
            Input("Currency", "Currency", demo.CURRENCY[units], "Shown beside every cost"),
            Input("Price", "Price of the gas", demo.PRICES[vessel.gas], "Supply contract, for the "
                  "unit shown", "price_per", 0, 100_000, "three"),
        )),
        Group("Leak and dew point", (
            Input("Leak", "Air leaking into the vessel", 0.005, "Pressure-rise test", "leak", 0,
                  1000, "general"),
            Input("Flow", "Gas flowing through the vessel afterwards", 2, "Process sheet", "flow",
                  0.001, 100_000, "two"),
            Input("Shut_hours", "Time the vessel stands shut", 8, "Where it waits filled", "h", 0,
                  10_000, "one"),
            Input("Dew_supply", "Dew point of the supply", -65, "Certificate or hygrometer; below "
                  "freezing the frost point", "temperature", -110, 20, "one"),
            Input("Dew_pressure", "Pressure that it was measured at", 7, "Line pressure, or the "
                  "air's where the sample is let down", "pressure", 0.5, 300, "two"),
            Input("Dew_wanted", "Dew point wanted in the vessel", -50, "Process sheet; at the fill "
                  "pressure", "temperature", -110, 20, "one"),
        )),
    )  # fmt: skip


def _ppm(name: str) -> str:
    """A text for a number of ppm, with decimals where it is small."""
    return f'IF({name}<1,TEXT({name},"0.000"),TEXT({name},"#,##0.0"))'


def _answer() -> str:
    planned = (
        'IF(Left_planned<=Target,"Yes: ","No: ")&Planned&'
        'IF(Planned=1," cycle leaves "," cycles leave ")&'
        f'{_ppm("Left_planned")}&" ppm of "&Watched&" in "&Vessel&"; "&Target&" ppm is wanted. "&'
    )
    needed = (
        'Needed&IF(Needed=1," cycle is needed: "," cycles are needed: ")&'
        'TEXT(Gas_needed,"#,##0.0")&" "&U_amount&" of "&Gas&", "&'
        'TEXT(Hours_needed,"0.0")&" h, "&Currency&" "&TEXT(Cost_needed,"#,##0")&". "&'
    )
    recorded = (
        'IF(Latest_purge="","No purge is recorded yet.","The latest purge recorded, "&'
        'Latest_purge&": "&Latest_result&IF(ISNUMBER(Latest_reading)," at "&'
        f'{_ppm("Latest_reading")}&" ppm","")&".")'
    )
    return (
        '=IF(Inputs_ok<Inputs_total,"Some inputs are missing or out of range: see the check list '
        'on the Inputs sheet.",IF(Rows_wrong>0,Rows_wrong&" row(s) of the record cannot be '
        'calculated: see its column Check.",IF(Numbers_checked<>"ok","These inputs do not go '
        f'together. "&Numbers_checked&".",{planned}{needed}{recorded})))'
    )


def _key_numbers() -> tuple[KeyNumber, ...]:
    return (
        KeyNumber("Left after the cycles planned", "Left_planned", "ppm", "ppm"),
        KeyNumber("Impurity wanted at most", "Target", "ppm", "ppm"),
        KeyNumber("Cycles needed", "Needed", "", "whole"),
        KeyNumber("Left after them", "Left_needed", "ppm", "ppm"),
        KeyNumber("Gas for them", "Gas_needed", "=U_amount", "one"),
        KeyNumber("Time for them", "Hours_needed", "h", "two"),
        KeyNumber("Cost of them", "Cost_needed", '=Currency&""', "two"),
    )


SWING = "Low_used,High_used,Start_ppm"
ONE_PRICE = "GAS_PRICE(Price,U_price_per,U_amount,Gas)"


def _left(count: str) -> str:
    return f"GAS_VENT_FILL_RESIDUAL({count},{SWING},Supply,Mixing)"


def _gas(count: str, unit: str = "U_amount") -> str:
    return f"GAS_VENT_FILL_USE(Gas,Volume_used,Low_used,High_used,{count},Temperature_used,{unit})"


def _plan(book: Book) -> None:
    sheet = book.sheet("Plan", [2, 44, 16, 12, 78])
    sheet.ws.fit_to_pages(1, 1)
    sheet.title("Plan", "What one cycle does, what the cycles planned and needed come to.")
    count = f"GAS_VENT_FILL_COUNT({SWING},Target,Supply,Mixing)"
    checked = (
        '=IF(Inputs_ok<Inputs_total,"See the check list on the Inputs sheet",'
        'IF(Low_used>=High_used,"The pressure vented or evacuated to is not below the one filled '
        'to: swap the two",IF(Target<=Supply,"The impurity wanted is not above that of the supply: '
        'take a purer gas or a higher limit",'
        f'IF(AND(Emptied_by="{VALVE}",Low_used<0.8),"A vent valve does not get below the '
        f'pressure of the air: raise the low pressure or choose {PUMP}",'
        f'GAS_CHECK("GAS_VENT_FILL_COUNT",{SWING},Target,Supply,Mixing)))))'
    )
    emptying = (
        f'=IF(Emptied_by="{PUMP}",GAS_PUMPDOWN_TIME(Volume_used,Pumping_used,High_used,Low_used),'
        "IF(ISNUMBER(Venting_min),Venting_min/60,NA()))"
    )
    certificate = "IF(ISNUMBER(Certificate),Certificate,NA())"
    grade = f'=IF(Supply_told="{GRADE}",GAS_GRADE_IMPURITY(Grade),{certificate})'
    one_fill = _gas("1", '"Nm3"')
    row = write_lines(sheet, 4, "One cycle", (
        Line("Impurity of the supply", "Supply", grade, "ppm", "ppm",
             "The floor: no purging gets below it"),
        Line("Do the inputs go together?", "", '=IF(Numbers_checked="ok","yes","no")', "", "text",
             checked),
        Line("Share of the impurity that a cycle leaves", "Share_left",
             "=GAS_VENT_FILL_RESIDUAL(1,Low_used,High_used,1000000,0,Mixing)/1000000", "",
             "percent"),
        Line("Time to empty", "Empty_hours", emptying, "h", "three",
             "From the high to the low pressure"),
        Line("Time to fill", "Fill_hours", f"={one_fill}/Fill_flow_used", "h", "three"),
        Line("Time of a cycle", "Cycle_hours", "=Empty_hours+Fill_hours+Handling_min/60", "h",
             "three", "", "total"),
    ))  # fmt: skip
    book.name("Numbers_checked", sheet.name, "E6")
    sheet.ws.set_row(5, 18)
    for heading, name, number in (
        ("The cycles planned", "planned", "Planned"),
        ("The cycles needed", "needed", "Needed"),
    ):
        needed = Line("Cycles needed", "Needed", f"={count}", "", "whole", "", "total")
        row = write_lines(sheet, row, heading, (
            *((needed,) if name == "needed" else ()),
            Line("Impurity left", f"Left_{name}", f"={_left(number)}", "ppm", "ppm"),
            Line("Gas used", f"Gas_{name}", f"={_gas(number)}", "=U_amount", "one"),
            Line("Time", f"Hours_{name}", f"={number}*Cycle_hours", "h", "two"),
            Line("Cost of the gas", f"Cost_{name}", f"=Gas_{name}*{ONE_PRICE}", '=Currency&""',
                 "two"),
        ))  # fmt: skip
    _allowances(sheet, row)


def _allowances(sheet: Sheet, row: int) -> None:
    share = 'IF(Watched="oxygen",0.2095,1)'
    flowing = f"=GAS_LEAK_IMPURITY(Leak_used,Flow_used,{share})"
    limit = f"=IF(Target>Supply,GAS_LEAK_LIMIT(Target-Supply,Flow_used,{share},U_leak),0)"
    standing = (
        f"=GAS_LEAK_BUILDUP(Leak_used,Volume_used,High_used,Shut_hours,{share},Temperature_used)"
    )
    verdict = '=IF(Supply+Leak_flowing<=Target,"within","above")'
    row = write_lines(sheet, row, "Allowance for the leak", (
        Line("Added to the gas that flows through", "Leak_flowing", flowing, "ppm", "ppm"),
        Line("Supply and leak together", "Flowing", "=Supply+Leak_flowing", "ppm", "ppm",
             "What the vessel settles at while gas flows", "total"),
        Line("Against the target", "Flowing_verdict", verdict, "", "text",
             "Above: mend the leak or raise the flow"),
        Line("Largest leak that keeps the target", "Leak_largest", limit, "=U_leak", "rate",
             "Of air, at this flow"),
        Line("Added while the vessel stands shut", "Leak_standing", standing, "ppm", "ppm",
             "Where its pressure is below the air's anywhere; at overpressure gas leaks out"),
    ))  # fmt: skip
    supply = "=GAS_DEW_PPM(Dew_supply_used,Dew_pressure_used)"
    in_vessel = "=GAS_DEW_SHIFT(Dew_supply_used,Dew_pressure_used,High_used,,,U_temperature)"
    write_lines(sheet, row, "Allowance for moisture", (
        Line("Water in the supply", "Water_supply", supply, "ppm", "ppm"),
        Line("Its dew point at the fill pressure", "Dew_vessel", in_vessel, "=U_temperature", "one",
             "Below freezing the frost point"),
        Line("Water at the dew point wanted", "Water_wanted",
             "=GAS_DEW_PPM(Dew_wanted_used,High_used)", "ppm", "ppm"),
        Line("Left for what comes off the walls", "Water_left", "=Water_wanted-Water_supply", "ppm",
             "ppm", "Negative: the supply is too wet. Walls give off water for hours; measure it",
             "total"),
    ))  # fmt: skip


def _cycles(book: Book) -> None:
    sheet = book.sheet("Cycles", [2, 12, 14, 12, 12, 14, 12, 14], landscape=False)
    sheet.title("Cycles", "What is left after each cycle, and the gas, time and cost up to it.")
    sheet.write("H3", f"=MAX(1,ROUNDUP(MAX({number_or('Needed', '0')},Planned)/10,0))", "value")
    sheet.write("G3", "Cycles from row to row", "right")
    book.name("Cycles_step", sheet.name, "H3")
    columns = (
        ("Cycles", "", "whole", "={n}*Cycles_step"),
        ("Impurity left", "ppm", "ppm", "=" + _left("$B{row}")),
        ("Wanted", "ppm", "ppm", "=IF(ISNUMBER(Target),Target,NA())"),
        ("Supply", "ppm", "ppm", "=IF(Supply>0,Supply,NA())"),
        ("Gas used", "=U_amount", "one", "=" + _gas("$B{row}")),
        ("Time", "h", "two", "=$B{row}*Cycle_hours"),
        ("Cost", '=Currency&""', "two", "=F{row}*" + ONE_PRICE),
    )
    for letter, (header, unit, number, formula) in zip("BCDEFGH", columns, strict=True):
        sheet.write(f"{letter}4", unit, "unit")
        sheet.write(f"{letter}5", header, "column")
        for n in range(ROWS):
            written = formula.format(n=n, row=6 + n)
            sheet.write(f"{letter}{6 + n}", written, "value", number)
    end = 5 + ROWS
    sheet.hide_errors(f"B6:H{end}")
    chart = new_chart(
        book, "scatter", "Impurity left after each cycle", "Cycles", "Impurity left, ppm",
        subtype="straight_with_markers",
        x={"min": 0, "label_position": "low", "num_format": "0"},
        y={"log_base": 10, "crossing": "min", "num_format": "General"},
    )  # fmt: skip
    dashes = {"C": "solid", "D": "dash", "E": "round_dot"}
    for index, (letter, dash) in enumerate(dashes.items()):
        colour = look.SERIES[(0, 1, 2)[index]]
        marker = {"type": "circle", "size": 7, "fill": {"color": colour}} if index == 0 else {}
        chart.add_series({
            "name": f"=Cycles!${letter}$5",
            "categories": f"=Cycles!$B$6:$B${end}",
            "values": f"=Cycles!${letter}$6:${letter}${end}",
            "line": {"color": colour, "width": 2.25, "dash_type": dash},
            "marker": marker or {"type": "none"},
        })  # fmt: skip
    sheet.chart(f"B{end + 3}", chart, 660, 420)
    sheet.ws.freeze_panes(5, 0)


def _methods(book: Book) -> None:
    sheet = book.sheet("Methods", [2, 30, 18, 22, 18, 12], landscape=False)
    sheet.title("Methods", "The same vessel, gas and target by three methods.")
    deep = 'GAS_CONVERT(Deep_used,"mbar","bar(a)")'
    leak = 'Leak_used*IF(Watched="oxygen",0.2095,1)'
    changes = "GAS_SWEEP_CHANGES(Start_ppm,Target,Supply,Mixing)"
    left_deep = (
        f"GAS_EVACUATE_RESIDUAL({deep},High_used,Start_ppm,Supply,{leak},Volume_used,Hold_min/60)"
    )
    filled = f"GAS_BACKFILL(Gas,Volume_used,{deep},High_used,Temperature_used,,,,{{}})"
    pumped = f"GAS_PUMPDOWN_TIME(Volume_used,Pumping_used,1.01325,{deep},Leak_used)"
    swept = "GAS_SWEEP_USE(Gas,Volume_used,Sweep_pressure_used,Temperature_used,{},{})"
    filling = filled.format('"Nm3"')
    hours_deep = f"={pumped}+(Hold_min+Handling_min)/60+{filling}/Fill_flow_used"
    lines = (
        ("Cycles or volume changes", "", "one", "=Needed", "=1", f"={changes}"),
        ("Impurity left", "ppm", "ppm", "=Left_needed", f"={left_deep}",
         "=GAS_SWEEP_RESIDUAL(E6,Start_ppm,Supply,Mixing)"),
        ('="Gas used, "&U_amount', "=U_amount", "one", "=Gas_needed",
         "=" + filled.format("U_amount"),
         "=" + swept.format("E6", "U_amount")),
        ("Time", "h", "two", "=Hours_needed", hours_deep,
         "=" + swept.format("E6", '"Nm3"') + "/Fill_flow_used"),
        ("Cost of the gas", '=Currency&""', "two",
         *(f"={letter}8*{ONE_PRICE}" for letter in "CDE")),
        ("Reaches the target", "", "text",
         *(f'=IF(ISNUMBER({letter}7),IF({letter}7<=Target*1.000001,"yes","no"),NA())'
           for letter in "CDE")),
    )  # fmt: skip
    for letter, text in zip(
        "BCDE", ("", "Vent and fill", "One deep evacuation", "Sweeping"), strict=True
    ):
        sheet.write(f"{letter}5", text, "column")
    for row, (label, unit, number, *formulas) in enumerate(lines, 6):
        sheet.write(f"B{row}", label, "label")
        sheet.write(f"F{row}", unit, "unit")
        for letter, formula in zip("CDE", formulas, strict=True):
            sheet.write(f"{letter}{row}", formula, "value", number)
        sheet.ws.set_row(row - 1, 20)
    for letter, name in zip("CDE", ("cycled", "evacuated", "swept"), strict=True):
        book.name(f"Left_{name}", sheet.name, f"{letter}7")
        book.name(f"Hours_{name}", sheet.name, f"{letter}9")
        book.name(f"Gas_{name}", sheet.name, f"{letter}8")
    sheet.hide_errors("C6:E11")
    sheet.merged(
        "B13:F14",
        "The deep evacuation counts the air that leaks in during the wait, but neither outgassing "
        "nor water from the walls, which slow the last decades. Sweeping needs gas that reaches "
        "every corner: dead legs stay dirty.",
        "note",
    )  # fmt: skip
    chart = new_chart(book, "column", "Gas used by each method", "Method", "=Methods!$B$8")
    chart.add_series({
        "name": "=Methods!$B$8",
        "categories": "=Methods!$C$5:$E$5",
        "values": "=Methods!$C$8:$E$8",
        "fill": {"color": look.SERIES[0]},
        "gap": 90,
        "data_labels": {"value": True, "num_format": "#,##0.0"},
    })  # fmt: skip
    chart.set_legend({"none": True})
    sheet.chart("B16", chart, 720, 340)


def _record(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Record", [2, 14, 13, 9, 14, 14, 14, 14, 14, 15, 20])
    sheet.title(
        "Record", "One row a cycle. Gauge readings absolute; a reading may be text such as 50 mbar."
    )
    typed = '[@Date]&[@Purge]&[@Cycle]&[@Low]&[@High]&[@Analyser]=""'
    low, high = (
        f'IF(ISNUMBER([@{name}]),GAS_CONVERT([@{name}],U_pressure,"bar(a)"),[@{name}])'
        for name in ("Low", "High")
    )
    whole = (
        'OR(NOT(ISNUMBER([@Date])),NOT(ISNUMBER([@Cycle])),[@Purge]="",[@Low]="",[@High]="",'
        'AND([@Analyser]<>"",NOT(ISNUMBER([@Analyser]))))'
    )
    mixing = "IF(ISNUMBER(Mixing),Mixing,NA())"
    share = f"GAS_VENT_FILL_RESIDUAL(1,{low},{high},1000000,0,{mixing})/1000000"
    so_far = (
        'EXP(-SUMIFS(Record[Decades],Record[Purge],[@Purge],Record[Cycle],"<="&[@Cycle])*LN(10))'
    )
    sheet.table(
        "B6",
        "Record",
        (
            TableColumn("Date", number="date", limits=("36526", "73050")),
            TableColumn("Purge", number="text"),
            TableColumn("Cycle", number="whole", limits=("1", "1000")),
            TableColumn("Low", number="three", unit="=U_pressure"),
            TableColumn("High", number="three", unit="=U_pressure"),
            TableColumn("Analyser", number="ppm", unit='="ppm of "&Watched',
                        limits=("0", "1000000")),
            TableColumn("By", number="text"),
            TableColumn("Decades", f'=IF({typed},"",IF({whole},NA(),-LOG10({share})))', "two",
                        '="down, by gauges"'),
            TableColumn("Expected",
                        f'=IF({typed},"",Supply+(Start_ppm-Supply)*{so_far})', "ppm",
                        '="ppm, by gauges"'),
            check_column(typed, "Expected"),
        ),
        [_record_row(row, units) for row in RECORD] if filled else [],
        spare=48 if filled else 120,
    )  # fmt: skip
    sheet.write("B3", "A reading far above what the gauges explain tells of a leak, a dead leg or "
                "water.", "subtitle")  # fmt: skip
    sheet.ws.freeze_panes(6, 0)
    sheet.ws.repeat_rows(4, 5)


def _record_row(row: Sequence[Any], units: str) -> list[Any]:
    day, purge, cycle, low, high, reading, by = row
    pressures = (converted(low, "pressure", units), converted(high, "pressure", units))
    return [day, purge, cycle, *pressures, reading, by]


_FIRST, _SECOND = dt.date(2026, 10, 12), dt.date(2026, 10, 13)

RECORD = (
    (_FIRST, "P-014", 1, 0.25, 1.10, None, "MK"),
    (_FIRST, "P-014", 2, 0.24, 1.11, None, "MK"),
    (_FIRST, "P-014", 3, 0.26, 1.10, None, "MK"),
    (_FIRST, "P-014", 4, 0.22, 1.10, 990, "MK"),
    (_FIRST, "P-014", 5, 0.25, 1.09, 280, "MK"),
    (_FIRST, "P-014", 6, 0.24, 1.10, 78, "MK"),
    (_SECOND, "P-015", 1, 0.10, 1.10, None, "MK"),
    (_SECOND, "P-015", 2, 0.11, 1.10, None, "MK"),
    (_SECOND, "P-015", 3, 0.10, 1.11, 610, "MK"),
    (_SECOND, "P-015", 4, 0.10, 1.10, 84, "MK"),
    (_SECOND, "P-015", 5, 0.09, 1.10, 13, "MK"),
    (_SECOND, "P-015", 6, 0.10, 1.10, 4.2, "MK"),
)
"""Two purges of the demo's argon furnace: the first with a vacuum valve that stuck half shut."""


def _result(book: Book) -> None:
    sheet = book.sheet("Result", [2, 16, 15, 10, 15, 15, 13, 40], landscape=True)
    sheet.title("Result", "Pass or not, by the analyser reading after each purge's last cycle.")
    sheet.merged("B4:H4", _sentence(), "answer", height=44)
    headers = ("Purge", "Date", "Cycles", "Expected", "Analyser", "Wanted", "Result")
    units = ("", "", "", "ppm", '="ppm of "&Watched', "ppm", "")
    for letter, header, unit in zip("BCDEFGH", headers, units, strict=True):
        sheet.write(f"{letter}6", unit, "unit")
        sheet.write(f"{letter}7", header, "column")
    for index in range(MOST_PURGES):
        _purge(sheet, 8 + index, index)
    end = 7 + MOST_PURGES
    sheet.hide_errors(f"B8:H{end}")
    for test, mark in (
        ('$H8="pass"', look.GOOD_MARK), ('AND($H8<>"pass",$H8<>"")', look.BAD_MARK),
    ):  # fmt: skip
        sheet.ws.conditional_format(
            f"H8:H{end}",
            {"type": "formula", "criteria": "=" + test,
             "format": book.workbook.add_format(mark)},
        )  # fmt: skip
    for name, letter in (("purge", "B"), ("reading", "F"), ("result", "H")):
        book.name(f"Latest_{name}", sheet.name, f"{letter}8")
    sheet.write(f"B{end + 2}", "Rows of the record that cannot be calculated", "plain")
    sheet.write(f"F{end + 2}", f'=COUNTIF(Record[Check],"{WRONG}")', "value", "whole")
    book.name("Rows_wrong", sheet.name, f"F{end + 2}")
    for row, who in ((end + 4, "Purged by"), (end + 6, "Checked by")):
        sheet.write(f"B{row}", who, "label")
        sheet.write(f"F{row}", "Date", "label")
        for letter in "CDEG":
            sheet.write(f"{letter}{row}", None, "signature")
        sheet.ws.set_row(row - 1, 26)


def _sentence() -> str:
    return (
        '=IF(Latest_purge="","No purge is recorded yet: write each cycle into Record.",'
        'Vessel&", "&Gas&", purge "&Latest_purge&": "&UPPER(Latest_result)&'
        'IF(ISNUMBER(Latest_reading)," at "&' + _ppm("Latest_reading") + '&" ppm of "&Watched&'
        '", "&Target&" ppm allowed",""))'
    )


def _purge(sheet: Sheet, row: int, index: int) -> None:
    """A purge of the record, the latest in the first row."""
    names = 'UNIQUE(FILTER(Record[Purge],Record[Purge]<>""))'
    sheet.array(
        f"B{row}",
        f'=IFERROR(IF(ROWS({names})>{index},INDEX({names},ROWS({names})-{index}),""),"")',
        "value",
        "text",
    )
    this = f"Record[Purge],$B{row}"
    last = f"{this},Record[Cycle],$D{row}"
    reads = f'COUNTIFS({last},Record[Analyser],">=0")=1'
    result = (
        f'IF(COUNTIFS({this},Record[Check],"{WRONG}")>0,"not calculated: mend the record",'
        f'IF(COUNTIFS({this})<>$D{row},"cycle numbers with gaps or repeats",'
        f'IF($F{row}="","no reading after the last cycle",'
        f'IF(NOT(ISNUMBER(Target)),"no target on Inputs",'
        f'IF($F{row}<=Target,"pass","not passed")))))'
    )
    cells = (
        ("C", f"MAXIFS(Record[Date],{this})", "date"),
        ("D", f"MAXIFS(Record[Cycle],{this})", "whole"),
        ("E", f"SUMIFS(Record[Expected],{last})", "ppm"),
        ("F", f'IF({reads},SUMIFS(Record[Analyser],{last}),"")', "ppm"),
        ("G", "Target", "ppm"),
        ("H", result, "text"),
    )
    for letter, formula, number in cells:
        sheet.write(f"{letter}{row}", f'=IF($B{row}="","",{formula})', "value", number)
