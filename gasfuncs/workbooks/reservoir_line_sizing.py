"""Reservoir and line: how long a fill takes, which bore a wanted time needs, what is left."""

from __future__ import annotations

from typing import Any

from gasfuncs.workbooks import demo, look
from gasfuncs.workbooks.book import WRONG, Book, TableColumn, check_column, new_chart, number_or
from gasfuncs.workbooks.inputs import Group, Input, converted, inputs_sheet
from gasfuncs.workbooks.lines import Line, write_lines
from gasfuncs.workbooks.start import KeyNumber, sources_sheet, start_sheet

NAME = "reservoir_line_sizing"
TITLE = "Reservoir and line sizing"
QUESTION = (
    "How long does a quench fill take, which bore makes it fast enough, "
    "and how many fills does the reservoir serve?"
)
FUNCTIONS = (
    "GAS_BACKFILL_TIME", "GAS_BACKFILL_CURVE", "GAS_LINE_BORE", "GAS_SETTLED_PRESSURE",
    "GAS_TOP_UP", "GAS_RESERVOIR_AFTER", "GAS_BACKFILL", "GAS_CONTENTS", "GAS_PRESSURE",
    "GAS_RELIEF_FLOW", "GAS_CONVERT", "GAS_CHECK",
)  # fmt: skip

GASES = ("nitrogen", "argon", "helium", "hydrogen")
POINTS = 31
LAST = 6 + POINTS
"""Row of the end of the fill on the sheet Course."""

END = "Course!"
FILLS = 12
SHARES = (0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2)
COMPARED = (1, 2, 3)

FITTINGS = (
    ("Inlet from the reservoir, sharp-edged", 1, 0.5),
    ("Ball valve, full bore", 2, 0.06),
    ("Bend, 90°, long radius", 8, 0.27),
    ("Tee, through the branch", 1, 1.14),
    ("Check valve, swing", 1, 1.9),
)
"""Loss coefficients for 50 mm steel pipe, common practice (values from memory)."""

PIPES = (
    ("DN 25, 1 in", 26.6), ("DN 32, 1 1/4 in", 35.1), ("DN 40, 1 1/2 in", 40.9),
    ("DN 50, 2 in", 52.5), ("DN 65, 2 1/2 in", 62.7), ("DN 80, 3 in", 77.9),
    ("DN 100, 4 in", 102.3), ("DN 125, 5 in", 128.2), ("DN 150, 6 in", 154.1),
)  # fmt: skip
"""Bores of steel pipe, schedule 40, in mm (values from memory)."""

RELIEF_CAUTION = (
    "An estimate to be confirmed. A licensed designer chooses and sets the relief device by the "
    "local pressure-equipment code, with the maker's certified coefficient and the losses of its "
    "pipes; it discharges outdoors, away from people and intakes."
)
PRESSURE_CAUTION = (
    "Nobody opens a door, flange or valve under pressure. A large reservoir can raise a furnace "
    "past its rating: its own relief device must take the line's full flow."
)


def build(book: Book, units: str, *, filled: bool) -> None:
    """Write every sheet; `filled` with the demo plant, else empty."""
    start_sheet(book, QUESTION, _answer(), _key_numbers(), _STEPS)
    inputs_sheet(book, _inputs(), units, filled=filled)
    _line(book, units, filled)
    _fill(book)
    _course(book)
    _length(book)
    _reservoir(book)
    _relief(book)
    sources_sheet(book, FUNCTIONS)


_STEPS = (
    "Choose the units; fill in furnace, reservoir, line, relief on Inputs.",
    "List the line's bends, valves and tees on Line, with the pipe sizes.",
    "Fill: the time now, with the line twice as long, the bore needed.",
    "Course and Length: pressures and fill time as charts.",
    "Reservoir: fills served in a row. Relief: an estimate of its device.",
)


def _inputs() -> tuple[Group, ...]:
    furnace = demo.FURNACES[0]
    return (
        Group("Furnace", (
            Input("Gas", "Gas", furnace.gas, "The tank's label", choices=GASES),
            Input("Vessel_volume", "Free volume", furnace.free_volume,
                  "Chamber less the load: the maker's sheet", "volume", 0.01, 1000, "two"),
            Input("Pressure_from", "Vacuum before the fill", 0.01, "Vacuum gauge",
                  "vacuum", 0, 1000),
            Input("Pressure_to", "Pressure after the fill, absolute", 6,
                  "Recipe; a 6 bar quench is 6 bar absolute here", "pressure", 0.1, 50, "two"),
            Input("Time_wanted", "Time wanted for the fill", 15, "What the steel needs: recipe",
                  "s", 0.1, 3600, "one"),
            Input("Temperature", "Temperature of the gas, settled", 20,
                  "Of the room, where unknown; the reservoir's and the supply's too",
                  "temperature", -40, 60),
            Input("Wall_temperature", "Temperature of walls and load during the fill", 150,
                  "What the gas sweeps past, as a mean: a cold chamber's, more with a hot load",
                  "temperature", -40, 1400),
            Input("Vessel_ha", "Heat conductance to walls and load, W/K", 0,
                  "From a measured fill; 0 where unknown: reckoned from the jet", "", 0, 1_000_000),
        )),
        Group("Reservoir", (
            Input("Reservoir_volume", "Volume", furnace.reservoir, "Its nameplate", "volume",
                  0.01, 10_000, "two"),
            Input("Reservoir_pressure", "Pressure when full, absolute",
                  demo.TANK_PRESSURE[furnace.gas],
                  "Gauge plus the air pressure", "pressure", 1, 300, "two"),
            Input("Supply_flow", "Flow that refills it", 12,
                  "The vaporizer's or regulator's steady flow; 0 for none", "flow", 0, 100_000),
            Input("Interval", "Time from one fill to the next", 1.5, "Cycle log", "h", 0.01, 1000),
            Input("Process", "How the reservoir empties", "wall",
                  "wall: its wall warms it meanwhile; adiabatic and isothermal are the bounds",
                  choices=("wall", "isothermal", "adiabatic")),
        )),
        Group("Line from the reservoir to the furnace", (
            Input("Bore", "Bore", 52.5, "Inner diameter, not the nominal size", "bore", 3, 1000),
            Input("Length", "Length", 35, "Along the pipe", "length", 0, 2000),
            Input("Valve", "Quench valve, flow coefficient", 60,
                  "The maker's sheet; 0 if it is on the sheet Line", "valve", 0, 10_000),
            Input("Valve_xt", "Quench valve, xT", 0.7,
                  "The maker's sheet; ball and butterfly valves 0.15 to 0.4", "", 0.01, 1, "two"),
            *(
                Input(f"Compare_{n}", f"Bore {n} to compare", bore, "For the chart on Length",
                      "bore", 3, 1000)
                for n, bore in zip(COMPARED, (40.9, 52.5, 62.7), strict=True)
            ),
        )),
        Group("Relief device of the reservoir", (
            Input("Site_pressure", "Air pressure at the site", 1.013, "Weather or altitude",
                  "pressure", 0.5, 1.1, "three"),
            Input("Design_pressure", "Highest pressure allowed, absolute", 17,
                  "Nameplate plus the air pressure", "pressure", 1, 400, "two"),
            Input("Relief_set", "Set pressure, absolute", 16.5,
                  "Tag on the valve plus the air pressure", "pressure", 1, 400, "two"),
            Input("Relief_over", "Overpressure", 10, "Usual: 10 % of the gauge set pressure", "%",
                  0, 25),
            Input("Relief_bore", "Orifice diameter", 16, "The maker's sheet", "bore", 1, 500),
            Input("Relief_discharge", "Certified coefficient of discharge", 0.7,
                  "The maker's sheet, derated", "", 0.05, 1, "two"),
            Input("Relief_inflow", "Most that can flow in", 900,
                  "Regulator failed open, or the vaporizer at its limit", "flow", 0, 1_000_000,
                  "whole"),
        )),
    )  # fmt: skip


def _arguments(
    before: str = "Bore_used,Length_used", last: str = "", *,
    reservoir: str = "Reservoir_pressure_used", k: str = "Line_k",
    flow: str = "Supply_flow_used", process: str = "Process", vessel: str = '"wall"',
) -> str:  # fmt: skip
    """Arguments of a backfill function; `before` is the bore or time, and the length."""
    vessels = f"Gas,Reservoir_volume_used,{reservoir},Vessel_volume_used"
    return (
        f"{vessels},From_bar,Pressure_to_used,{before},{k},{flow},Temperature_used,{process},{vessel},"
        f"Wall_temperature_used,Wall_temperature_used,Vessel_ha_given,,,,Valve_kv,Valve_xt{last}"
    )


def _answer() -> str:
    check = f'GAS_CHECK("GAS_BACKFILL_TIME",{_arguments()})'
    wrong = (
        '=IF(Inputs_ok<Inputs_total,"Some inputs are missing or out of range: see the check list '
        'on the Inputs sheet.",IF(Rows_wrong>0,Rows_wrong&" row(s) cannot be calculated: see the '
        'column Check on the sheet Line.",IF(NOT(ISNUMBER(Time_now)),"The fill cannot be '
        f'calculated. "&{check},'
    )
    right = (
        '"The fill to "&TEXT(Pressure_to,"0.0")&" "&U_pressure&" takes "&TEXT(Time_now,"0.0")&'
        '" s ("&TEXT(MIN(Time_least,Time_most),"0.0")&" to "&TEXT(MAX(Time_least,Time_most),"0.0")&'
        '" s, as all or no heat passes '
        'to walls and load); with the line twice as long "&TEXT(Time_double,"0.0")&" s. "&'
        'IF(Time_now<=Time_wanted,"That meets the "&TEXT(Time_wanted,"0.0")&" s wanted.",'
        '"For the "&TEXT(Time_wanted,"0.0")&" s wanted the line needs a bore of "&'
        'IF(ISNUMBER(Bore_needed),IF(U_bore="mm",TEXT(Bore_needed,"0.0"),TEXT(Bore_needed,"0.00"))&'
        '" "&U_bore&" ("&Next_size&").",'
        '"more than any pipe: see the sheet Fill."))&" "&Controller&'
        'IF(AND(ISNUMBER(After_fill),Served>0)," The '
        "reservoir falls "
        'to "&TEXT(After_fill,"0.0")&" "&U_pressure&" and serves "&IF(Served<'
        f'{FILLS},Served,"{FILLS} or more")&IF(Served=1," fill"," fills")&" in a row, one every "&'
        'TEXT(Interval,"0.0")&" h."," Without its refill the reservoir does not serve one fill.")&'
        'IF(Relief_says="enough by this estimate",""," Its relief device: "&Relief_says&".")'
    )
    return f"{wrong}{right})))"


def _key_numbers() -> tuple[KeyNumber, ...]:
    return (
        KeyNumber("Fill time", "Time_now", "s", "one"),
        KeyNumber("with the line twice as long", "Time_double", "s", "one"),
        KeyNumber("Pressure once settled, not topped up", "Settled", "=U_pressure", "two"),
        KeyNumber("Smallest bore for the time wanted", "Bore_needed", "=U_bore", "bore"),
        KeyNumber("Reservoir right after the fill", "After_fill", "=U_pressure", "two"),
        KeyNumber("Time to recharge it", "Recharge", "h", "two"),
        KeyNumber("Gas for one fill", "Gas_fill", "=U_amount", "one"),
        KeyNumber("Relief capacity, estimate", "Relief_capacity", "=U_flow"),
    )


def _line(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Line", [2, 38, 10, 14, 12, 22, 3, 18, 12, 22])
    sheet.title("Line", "What the gas passes on its way, and the pipe sizes to choose from.")
    sheet.merged(
        "B3:J3",
        "A loss coefficient is told for this bore. When another bore is tried, valves and fittings "
        "are taken to grow with the pipe: their coefficients stay.",
        "note",
    )
    typed = '[@Fitting]&[@Count]&[@[Coefficient]]=""'
    total = (
        f'=IF({typed},"",IF(AND(ISNUMBER([@Count]),ISNUMBER([@Coefficient])),'
        "IF(AND([@Count]>=0,[@Coefficient]>=0),[@Count]*[@Coefficient],NA()),NA()))"
    )
    sheet.table(
        "B6",
        "Fittings",
        (
            TableColumn("Fitting", number="text"),
            TableColumn("Count", number="whole", limits=("0", "1000")),
            TableColumn("Coefficient", number="two", limits=("0", "100000")),
            TableColumn("Together", total, "two"),
            check_column(typed, "Together"),
        ),
        FITTINGS if filled else [],
        spare=7 if filled else 12,
    )
    typed = '[@Size]&[@Bore]=""'
    check = (
        f'=IF({typed},"",IF(AND(ISNUMBER([@Bore]),[@Size]<>""),IF([@Bore]>0,"ok","{WRONG}"),'
        f'"{WRONG}"))'
    )
    sheet.table(
        "H6",
        "Pipes",
        (
            TableColumn("Size", number="text"),
            TableColumn("Bore", number="bore", unit="=U_bore", limits=("0", "10000")),
            TableColumn("Check", check, "text"),
        ),
        [(name, converted(bore, "bore", units)) for name, bore in PIPES],
        spare=3,
    )
    row = 20
    wrong = f'COUNTIF(Fittings[Check],"{WRONG}")+COUNTIF(Pipes[Check],"{WRONG}")'
    for line in (
        Line("Rows that cannot be calculated", "Rows_wrong", f"={wrong}"),
        Line("Quench valve as it is handed on: Kv, or nothing", "Valve_kv",
             '=IF(Valve_used=0,"",Valve_used)', number="two"),
        Line("Heat conductance as it is handed on: W/K, or nothing", "Vessel_ha_given",
             '=IF(Vessel_ha=0,"",Vessel_ha)', number="whole"),
        Line("Loss coefficient of the line, without the quench valve", "Line_k",
             "=IF(Rows_wrong>0,NA(),SUM(Fittings[Together]))", number="two", style="total"),
    ):  # fmt: skip
        sheet.write(f"B{row}", line.label, "label")
        sheet.write(f"E{row}", line.formula, line.style, line.number)
        book.name(line.name, sheet.name, f"E{row}")
        row += 1
    sheet.hide_errors("E21:E23")
    sheet.merged(
        "B25:J25",
        "Coefficients filled in are common practice for 50 mm steel pipe, bores of schedule 40; "
        "the maker's numbers come first. The quench valve stands at the line's end and chokes by "
        "its own factor xT (IEC 60534-2-1); it does not grow with the pipe.",
        "note",
        height=30,
    )
    sheet.ws.freeze_panes(6, 0)


def _fill(book: Book) -> None:
    sheet = book.sheet("Fill", [2, 40, 18, 14, 16, 14, 16, 12, 12])
    sheet.title("Fill", "Time of the fill, what the line's length does, and the bore it needs.")
    bore = f"GAS_LINE_BORE({_arguments('Time_wanted,Length_used', ',U_bore')})"
    size = 'MINIFS(Pipes[Bore],Pipes[Bore],">="&Bore_needed)'
    row = write_lines(sheet, 4, "Reservoir, line and furnace", (
        Line("Vacuum before the fill", "From_bar",
             '=GAS_CONVERT(Pressure_from_used,"mbar","bar(a)")', "bar(a)", "small"),
        Line("Gas for one fill", "Gas_fill",
             "=GAS_BACKFILL(Gas,Vessel_volume_used,From_bar,Pressure_to_used,Temperature_used,,,,"
             "U_amount)", "=U_amount", "one"),
        Line("Smallest bore for the time wanted", "Bore_needed", f"={bore}", "=U_bore", "bore",
             style="total"),
        Line("Smallest pipe size that is as wide", "Next_bore", f"=IF({size}>0,{size},NA())",
             "=U_bore", "bore"),
        Line("Name of that size", "Next_size",
             "=IF(ISNUMBER(Bore_needed),IFERROR(INDEX(Pipes[Size],MATCH(Next_bore,Pipes[Bore],0)),"
             '"none so wide"),NA())', "", "text"),
        Line("Gas in the furnace right after the fill", "End_temperature",
             f"=IF(ISNUMBER({END}W{LAST}),GAS_CONVERT({END}W{LAST},\"degC\",U_temperature),NA())",
             "=U_temperature", "whole"),
        Line("Pressure when it has settled, not topped up", "Settled",
             f"=GAS_SETTLED_PRESSURE(Gas,Pressure_to_used,{END}W{LAST},Temperature_used,U_pressure)",
             "=U_pressure", "two"),
        Line("Gas that holding the pressure takes until then", "Top_up",
             f"=IF({END}W{LAST}<Temperature_used,0,GAS_TOP_UP(Gas,Vessel_volume_used,"
             f"Pressure_to_used,{END}W{LAST},Temperature_used,U_amount))", "=U_amount", "one"),
        Line("What the controller must do", "Controller",
             '=IF(ISNUMBER(Settled),"Shut off then, its gas of "&TEXT(End_temperature,"0")&" "&'
             'U_temperature&" settles to "&TEXT(Settled,"0.0")&" "&U_pressure&"; holding "&'
             'TEXT(Pressure_to,"0.0")&" "&U_pressure&" takes "&TEXT(Top_up,"0.0")&" "&U_amount&'
             '" more.","")', "", "text"),
        Line("Reservoir right after the fill", "After_fill",
             f"=IF(ISNUMBER({END}T{LAST}),GAS_CONVERT({END}T{LAST},\"bar(a)\",U_pressure),NA())",
             "=U_pressure", "two"),
        Line("Time to recharge it", "Recharge",
             '=IF(Supply_flow_used=0,NA(),GAS_CONVERT(Gas_fill,U_amount,"Nm3",Gas)'
             "/Supply_flow_used)", "h", "two"),
    ))  # fmt: skip
    why = f'GAS_CHECK("GAS_LINE_BORE",{_arguments("Time_wanted,Length_used")})'
    known = "OR(Inputs_ok<Inputs_total,Rows_wrong>0,ISNUMBER(Bore_needed))"
    sheet.merged("E7:I7", f'=IF({known},"",{why})', "remark", height=30)
    for letter, text in zip(
        "BCDEFGHI",
        ("What if", "Length", "Bore", "Loss coefficient", "Refill flow", "Reservoir empties",
         "Fill time", "Change"),
        strict=True,
    ):  # fmt: skip
        sheet.write(f"{letter}{row + 1}", text, "column")
    for letter, unit in (("C", "=U_length"), ("D", "=U_bore"), ("F", "=U_flow"), ("H", "s")):
        sheet.write(f"{letter}{row}", unit, "unit")
    first = row + 2
    for at, case in enumerate(_CASES, first):
        name, label, length, width, k, flow, process, vessel = case
        sheet.write(f"B{at}", label, "label")
        for letter, formula, number in (
            ("C", length, "one"), ("D", width, "bore"), ("E", k, "two"), ("F", flow, "whole"),
            ("G", process, "text"),
        ):  # fmt: skip
            known = f"=IF(Inputs_ok<Inputs_total,NA(),{formula})"
            sheet.write(f"{letter}{at}", known, "value", number)
        arguments = _arguments(
            f'GAS_CONVERT(D{at},U_bore,"mm"),GAS_CONVERT(C{at},U_length,"m")',
            k=f"E{at}", flow=f'GAS_CONVERT(F{at},U_flow,"Nm3/h")', process=f"G{at}",
            vessel=f'"{vessel}"',
        )  # fmt: skip
        sheet.write(
            f"H{at}", f"=GAS_BACKFILL_TIME({arguments})", "total" if at == first else "value", "one"
        )
        sheet.write(f"I{at}", f"=H{at}/H${first}-1", "value", "percent")
        book.name(name, sheet.name, f"H{at}")
    last = first + len(_CASES) - 1
    sheet.hide_errors(f"C{first}:I{last}")
    sheet.merged(
        f"B{last + 2}:I{last + 2}",
        "The time is that until the gauge first reads the pressure. A fast fill warms its gas and "
        "hot work warms it more, so that the gauge is there sooner and with less gas; how much is "
        "known to a factor of 2 in the heat, and the last two lines are its bounds where the walls "
        "are no hotter than the gas.",
        "note",
        height=30,
    )
    sheet.merged(f"B{last + 4}:I{last + 4}", PRESSURE_CAUTION, "caution", height=32)


_CASES = (
    ("Time_now", "As it is", "Length", "Bore", "Line_k", "Supply_flow", "Process", "wall"),
    ("Time_double", "Line twice as long", "2*Length", "Bore", "Line_k", "Supply_flow", "Process",
     "wall"),
    ("Time_half", "Line half as long", "Length/2", "Bore", "Line_k", "Supply_flow", "Process",
     "wall"),
    ("Time_plain", "Pipe and quench valve alone", "Length", "Bore", "0", "Supply_flow", "Process",
     "wall"),
    ("Time_next", "With that pipe size", "Length", "Next_bore", "Line_k", "Supply_flow",
     "Process", "wall"),
    ("Time_next_double", "That pipe size, line twice as long", "2*Length", "Next_bore", "Line_k",
     "Supply_flow", "Process", "wall"),
    ("Time_alone", "Reservoir alone, nothing refills it", "Length", "Bore", "Line_k", "0",
     "Process", "wall"),
    ("Time_least", "No heat to walls and load", "Length", "Bore", "Line_k", "Supply_flow",
     "Process", "adiabatic"),
    ("Time_most", "Gas at once as warm as they are", "Length", "Bore", "Line_k", "Supply_flow",
     "Process", "isothermal"),
)  # fmt: skip
"""What the fill time is asked for: name, label, length, bore, K, refill flow, and how reservoir and
furnace exchange heat."""


def _course(book: Book) -> None:
    sheet = book.sheet("Course", [2, 12, 16, 16, 16, 12, 3, *[12] * 9, 3, *[15] * 9])
    sheet.title("Course", "Pressures and flow from the opening of the valve to the end.")
    top, last = 6, LAST
    block = f"R{top}:Z{last}"
    arguments = _arguments(last=f",{POINTS}")
    sheet.block(
        block,
        f"=GAS_BACKFILL_CURVE({arguments})",
        ("one", "three", "three", "whole", "text", "one", "one", "one", "one"),
    )
    sheet.write("R4", "As the function answers, in its own units", "note")
    for letter, text, unit in (
        ("B", "Time", "s"), ("C", "Furnace", "=U_pressure"), ("D", "Reservoir", "=U_pressure"),
        ("E", "Flow", "=U_flow"), ("F", "Choked", ""),
    ):  # fmt: skip
        sheet.write(f"{letter}{top}", text, "column")
        sheet.write(f"{letter}{top - 1}", unit, "unit")
    sheet.ws.set_row(top - 1, 32)
    for row in range(top + 1, last + 1):
        for letter, formula, number in (
            ("B", f"R{row}", "one"),
            ("C", f'GAS_CONVERT(S{row},"bar(a)",U_pressure)', "two"),
            ("D", f'GAS_CONVERT(T{row},"bar(a)",U_pressure)', "two"),
            ("E", f'GAS_CONVERT(U{row},"Nm3/h",U_flow)', "whole"),
            ("F", f'IF(V{row},"yes","no")', "text"),
        ):
            known = f"=IF(ISNUMBER(R{row}),{formula},NA())"
            sheet.write(f"{letter}{row}", known, "value", number)
    sheet.hide_errors(f"B{top + 1}:F{last}")
    sheet.hide_errors(f"R{top + 1}:Z{last}")
    sheet.hide_errors(f"R{top}:Z{top}", look.SLATE)
    sheet.write("I10", '="Pressure, "&U_pressure', "unit")
    sheet.ws.print_area(f"B1:P{last}")
    chart = new_chart(
        book, "scatter", "Pressures during the fill", "Time, s", "=Course!$I$10",
        subtype="straight", x={"num_format": "0", "min": 0}, y={"num_format": "0", "min": 0},
    )  # fmt: skip
    for index, letter in enumerate("DC"):
        _curve(chart, "Course", "B", letter, top + 1, last, f"=Course!${letter}${top}", index)
    sheet.chart("H6", chart, 760, 420)
    sheet.ws.freeze_panes(top, 0)


def _curve(
    chart: Any, sheet: str, across: str, up: str, first: int, last: int, name: str, index: int,
    *, dash: str = "solid",
) -> None:  # fmt: skip
    chart.add_series(
        {
            "name": name,
            "categories": f"={sheet}!${across}${first}:${across}${last}",
            "values": f"={sheet}!${up}${first}:${up}${last}",
            "line": {"color": look.SERIES[index], "width": 2.25, "dash_type": dash},
            "marker": {"type": "none"},
        }
    )


def _length(book: Book) -> None:
    sheet = book.sheet("Length", [2, 20, 20, 20, 20, 20, 20], landscape=False)
    sheet.title("Length", "Fill time against the line's length, for three bores.")
    sheet.write("B6", "Share of today's", "column")
    sheet.write("C6", "Length", "column")
    sheet.write("C5", "=U_length", "unit")
    for n, letter in zip(COMPARED, "DEF", strict=True):
        told = f'IF(U_bore="mm",TEXT(Compare_{n},"0.0"),TEXT(Compare_{n},"0.00"))&" "&U_bore'
        sheet.write(f"{letter}6", f'=IF(ISNUMBER(Compare_{n}),{told},"bore {n}")', "column")
        sheet.write(f"{letter}5", "s", "unit")
    sheet.write("G6", "Wanted", "column")
    sheet.write("G5", "s", "unit")
    sheet.write("D20", '="Length of the line, "&U_length', "unit")
    first, last = 7, 6 + len(SHARES)
    for row, share in enumerate(SHARES, first):
        sheet.write(f"B{row}", share, "value", "percent")
        sheet.write(f"C{row}", f"=IF(ISNUMBER(Length_used),B{row}*Length,NA())", "value", "one")
        for n, letter in zip(COMPARED, "DEF", strict=True):
            arguments = _arguments(f"Compare_{n}_used,$B{row}*Length_used")
            time = "=" + number_or(f"GAS_BACKFILL_TIME({arguments})")
            sheet.write(f"{letter}{row}", time, "value", "one")
        sheet.write(f"G{row}", "=IF(ISNUMBER(Time_wanted),Time_wanted,NA())", "value", "one")
    sheet.hide_errors(f"B{first}:G{last}")
    chart = new_chart(
        book, "scatter", "Fill time against length, by bore", "=Length!$D$20", "Fill time, s",
        subtype="straight", x={"num_format": "0", "min": 0}, y={"num_format": "0", "min": 0},
    )  # fmt: skip
    dashes = ("solid", "long_dash", "round_dot")
    for index, (letter, dash) in enumerate(zip("DEF", dashes, strict=True)):
        name = f"=Length!${letter}$6"
        _curve(chart, "Length", "C", letter, first, last, name, index, dash=dash)
    _curve(chart, "Length", "C", "G", first, last, "=Length!$G$6", 3, dash="dash")
    sheet.chart("B18", chart, 870, 380)
    sheet.merged(
        f"B{last + 2}:G{last + 2}",
        "Each bore with the loss coefficient of the sheet Line. The bores to compare stand on the "
        "Inputs sheet.",
        "note",
        height=30,
    )


def _reservoir(book: Book) -> None:
    sheet = book.sheet("Reservoir", [2, 10, 13, 16, 16, 16, 14, 14, 20], landscape=False)
    sheet.title("Reservoir", "Fill after fill, with the refill in between.")
    headings = (
        ("B", "Fill", ""), ("C", "Starts after", "h"), ("D", "Gas in it before", "=U_amount"),
        ("E", "Before the fill", "=U_pressure"), ("F", "Right after", "=U_pressure"),
        ("G", "Fill time", "s"), ("H", "To recharge", "h"), ("I", "Result", ""),
    )  # fmt: skip
    top = 6
    for letter, text, unit in headings:
        sheet.write(f"{letter}{top}", text, "column")
        sheet.write(f"{letter}{top - 1}", unit, "unit")
    sheet.ws.set_row(top - 1, 32)
    first, last = top + 1, top + FILLS
    full = "GAS_CONTENTS(Gas,Reservoir_volume_used,Reservoir_pressure_used,Temperature_used,{})"
    refill = 'GAS_CONVERT(Supply_flow_used*Interval,"Nm3",U_amount,Gas)'
    for row in range(first, last + 1):
        before = f'GAS_CONVERT(E{row},U_pressure,"bar(a)")'
        held = f"=MIN(D${first},D{row - 1}-Gas_fill+{refill})"
        for letter, formula, number in (
            ("B", str(row - top), "whole"),
            ("C", f"IF(ISNUMBER(Interval),(B{row}-1)*Interval,NA())", "two"),
            ("D", full.format("U_amount") if row == first
             else f"IF(ISNUMBER(F{row - 1}),{held[1:]},NA())", "one"),
            ("E", f'GAS_PRESSURE(Gas,GAS_CONVERT(D{row},U_amount,"Nm3",Gas),'
                  "Reservoir_volume_used,Temperature_used,U_pressure)", "two"),
            ("F", number_or(f"GAS_RESERVOIR_AFTER(Gas,Reservoir_volume_used,{before},"
                            "Vessel_volume_used,From_bar,Pressure_to_used,Temperature_used,"
                            f'Process,G{row}/3600,"isothermal",,,,,U_pressure)'), "two"),
            ("G", number_or(f"GAS_BACKFILL_TIME({_arguments(reservoir=before)})"), "one"),
            ("H", f"IF(Supply_flow_used=0,NA(),GAS_CONVERT(D${first}-D{row}+Gas_fill,U_amount,"
                  '"Nm3",Gas)/Supply_flow_used)', "two"),
            ("I", f'IF(ISNUMBER(Time_now),IF(ISNUMBER(F{row}),IF(G{row}<=Time_wanted,"in time",'
                  f'"slower than wanted"),"not reached"),"")', "text"),
        ):  # fmt: skip
            sheet.write(f"{letter}{row}", f"={formula}", "value", number)
    sheet.hide_errors(f"B{first}:H{last + 3}")
    results = f"I{first}:I{last}"
    write_at = last + 2
    for row, name, label, formula in (
        (write_at, "Served", "Fills served in a row",
         f'=IF(ISNUMBER(Time_now),IFERROR(MATCH("not reached",{results},0)-1,{FILLS}),NA())'),
        (write_at + 1, "In_time", "of them in the time wanted",
         f'=IF(ISNUMBER(Time_now),COUNTIF({results},"in time"),NA())'),
    ):  # fmt: skip
        sheet.write(f"B{row}", label, "plain")
        sheet.write(f"E{row}", formula, "total", "whole")
        book.name(name, sheet.name, f"E{row}")
    sheet.merged(
        f"B{write_at + 3}:I{write_at + 3}",
        "Right after the fill, topped up and without the refill of those seconds, the reservoir is "
        "at its coldest and lowest; before the next fill its wall has warmed it again.",
        "note",
        height=30,
    )
    sheet.merged(f"B{write_at + 5}:I{write_at + 5}", PRESSURE_CAUTION, "caution", height=32)
    sheet.write("D32", '="Reservoir, "&U_pressure', "unit")
    chart = new_chart(
        book, "line", "Reservoir pressure, fill after fill", "Fill", "=Reservoir!$D$32",
        y={"num_format": "0", "min": 0},
    )  # fmt: skip
    chart.show_blanks_as("span")
    for index, letter in enumerate("EF"):
        chart.add_series(
            {
                "name": f"=Reservoir!${letter}${top}",
                "categories": f"=Reservoir!$B${first}:$B${last}",
                "values": f"=Reservoir!${letter}${first}:${letter}${last}",
                "line": {"color": look.SERIES[index], "width": 2.25},
                "marker": {"type": "circle", "size": 6, "fill": {"color": look.SERIES[index]},
                           "border": {"color": look.SERIES[index]}},
            }
        )  # fmt: skip
    sheet.chart(f"B{write_at + 7}", chart, 860, 320)
    sheet.ws.freeze_panes(top, 0)


def _relief(book: Book) -> None:
    sheet = book.sheet("Relief", [2, 44, 24, 14, 74])
    sheet.title("Relief", "Whether the reservoir's relief device can let out what may flow in.")
    row = write_lines(sheet, 4, "Estimate, to be confirmed by a licensed person", (
        Line("Set pressure against what the reservoir may bear", "Relief_set_says",
             '=IF(Relief_set_used<=Design_pressure_used,"not above it","ABOVE it")', "", "text",
             "The device opens at or below the highest pressure allowed."),
        Line("Relieving pressure, absolute", "Relieving",
             "=GAS_CONVERT(Site_pressure_used+(Relief_set_used-Site_pressure_used)"
             '*(1+Relief_over/100),"bar(a)",U_pressure)', "=U_pressure", "two",
             "Air pressure plus the gauge set pressure with its overpressure."),
        Line("Capacity when fully open", "Relief_capacity",
             "=GAS_RELIEF_FLOW(Gas,Relief_bore_used,"
             'GAS_CONVERT(Relieving,U_pressure,"bar(a)"),Temperature_used,Relief_discharge,'
             "Site_pressure_used,U_flow)", "=U_flow", "whole",
             "Open to the air; losses of the pipes before and after are not in it."),
        Line("Most that can flow in", "Relief_needed",
             '=GAS_CONVERT(Relief_inflow_used,"Nm3/h",U_flow)', "=U_flow", "whole",
             "From the Inputs sheet. A fire near the reservoir asks for more: not in here."),
        Line("Capacity in times of what is needed", "Relief_ratio",
             "=IF(Relief_needed=0,NA(),Relief_capacity/Relief_needed)", "", "two", ""),
        Line("Verdict", "Relief_says",
             '=IF(ISNUMBER(Relief_capacity),IF(Relief_capacity<Relief_needed,"TOO SMALL",'
             'IF(Relief_set_used>Design_pressure_used,"SET TOO HIGH","enough by this estimate")),'
             '"cannot be calculated")', "", "text", "", "total"),
    ))  # fmt: skip
    sheet.merged(f"B{row}:E{row}", RELIEF_CAUTION, "caution", height=36)
