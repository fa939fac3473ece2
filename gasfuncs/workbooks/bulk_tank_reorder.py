"""Bulk tank: when to order, how much fits, how sure that is; vaporizer and backup."""

from __future__ import annotations

import datetime as dt

from gasfuncs.calculations.tank_shape import HEADS
from gasfuncs.workbooks import demo, look
from gasfuncs.workbooks.book import WRONG, Book, Sheet, TableColumn, check_column, new_chart
from gasfuncs.workbooks.inputs import METRIC, Group, Input, converted, inputs_sheet
from gasfuncs.workbooks.lines import Line, write_lines
from gasfuncs.workbooks.start import CAUTIONS, KeyNumber, sources_sheet, start_sheet

NAME = "bulk_tank_reorder"
TITLE = "Bulk tank reorder"
QUESTION = "When must the truck come, how much fits, and how likely is it that the tank runs short?"
FUNCTIONS = (
    "GAS_TANK_LIQUID", "GAS_DP_LEVEL", "GAS_FROM_LIQUID", "GAS_TO_LIQUID", "GAS_BOIL_OFF",
    "GAS_DAYS_LEFT", "GAS_REORDER_LEVEL", "GAS_REORDER_DATE", "GAS_RUNOUT_RISK", "GAS_ORDER_SIZE",
    "GAS_TANK_PLAN", "GAS_VAPORIZER_DUTY", "GAS_DRAWN", "GAS_CONVERT",
)  # fmt: skip

GASES = ("nitrogen", "argon")
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
WORKING_DAYS, EVERY_DAY = "Monday to Friday", "every day"
SHARE_GAUGE = "% of capacity"
GAUGES = ("mbar", "inH2O", "mm", "in", SHARE_GAUGE, "L(liq)", "gal(liq)")

PLANNED_DAYS = 60
ORDER_DAYS = 30
LONGEST_LEAD = 28
"""Days; the last order day and its lead time lie within the planned days."""


def build(book: Book, units: str, *, filled: bool) -> None:
    """Write every sheet; `filled` with the demo plant's nitrogen tank, else empty."""
    start_sheet(book, QUESTION, _answer(), _key_numbers(), _STEPS)
    inputs_sheet(book, _inputs(units), units, filled=filled)
    _use(book, units, filled)
    _special_days(book, filled)
    _tank(book)
    _days(book)
    _plan(book)
    _chance(book)
    _what_if(book)
    _peak(book)
    sources_sheet(book, FUNCTIONS)


_STEPS = (
    "Choose the units and fill in the Inputs sheet; type the gauge reading of this morning.",
    "On Use, list who draws gas, how much a load takes and how many loads each weekday has; add "
    "days off and extra shifts.",
    "Read the day to order above; Plan draws the level for 60 days, Chance the risk of waiting.",
    "What if shows a late truck and one more furnace; Peak the vaporizer and the backup.",
    "Read the gauge again before you order, and anew when the truck has been.",
)

OVERFILL = (
    "Never fill a tank above the level that its maker allows: liquid that warms in a full tank "
    "lifts the relief valves or worse."
)

CLOSED, CLOSED_DAYS = dt.date(2026, 12, 24), 9

READ_ON = dt.date(2026, 11, 2)
"""A Monday, two days after the demo month's closing stock."""


def _inputs(units: str) -> tuple[Group, ...]:
    gauge, reading = ("mbar", 101.8) if units == METRIC else ("inH2O", 40.9)
    volume = f"IF({_SHOWS_HEIGHT},30000,300000)"
    most = f'=IF(Gauge="{SHARE_GAUGE}",100,IF({_SHOWS_PRESSURE},3000,{volume}))'
    return (
        Group(
            "Reading",
            (
                Input("Read_on", "Day of the reading", READ_ON, "The plan starts that morning",
                      number="date", low=36526, high=73050),
                Input("Gauge", "The level gauge shows", gauge,
                      "Unit on the gauge: a height, a differential pressure, a share or a liquid "
                      "volume",
                      choices=GAUGES),
                Input("Reading", "Gauge reading", reading, "The level gauge, in its own unit",
                      '=Gauge&""', 0, most),
                Input("Tank_pressure", "Tank pressure", demo.TANK_PRESSURE["nitrogen"],
                      "Tank gauge; add the air pressure to a gauge reading", "pressure", 1.1, 25,
                      "one"),
            ),
        ),
        Group(
            "Tank",
            (
                Input("Gas", "Gas", "nitrogen", "The tank's label", choices=GASES),
                Input("Diameter", "Inner diameter", 1.9, "Tank drawing: the inner vessel",
                      "length", 0.3, 6, "three"),
                Input("Length", "Length of the cylinder between the heads", 3.25,
                      "Tank drawing: the inner vessel, without its heads", "length", 0, 40,
                      "three"),
                Input("Position", "The tank stands", "vertical", "upright or lying",
                      choices=("vertical", "horizontal")),
                Input("Heads", "Shape of the heads", "2:1 ellipsoidal", "Tank drawing",
                      choices=tuple(HEADS)),
                Input("Evaporation", "Evaporation of the full tank", 0.35,
                      "Tank's data sheet, or a still week's readings", "% a day", 0, 5),
                Input("Most_fill", "Highest fill allowed", 95,
                      "Maker's filling level; 95 % is common practice", "%", 50, 98),
                Input("Reserve", "Reserve that must stay", 1500,
                      "What keeps the pressure up and the plant running until help comes",
                      "liquid", 0, 200_000, "whole"),
            ),
        ),
        Group(
            "Delivery",
            (
                Input("Lead_days", "Days from order to delivery", 4,
                      "Calendar days, the supplier's word or past orders", "d", 0.5, LONGEST_LEAD),
                Input("Lead_spread", "Standard deviation of those days", 1,
                      "Past orders; 1 where nobody knows", "d", 0, 14),
                Input("Truck", "A truck brings at most", 6000, "Supplier", "liquid", 100, 40_000,
                      "whole"),
                Input("Orders_taken", "Orders are taken", WORKING_DAYS, "Supplier",
                      choices=(WORKING_DAYS, EVERY_DAY)),
                Input("Service", "Chance wanted of not reaching the reserve", 98,
                      "Your choice: what a stop costs decides", "%", 50, 99.99),
            ),
        ),
        Group(
            "Use",
            (
                Input("Use_spread", "Standard deviation of a day's use", 60,
                      "Monthly gas use, daily figures with the days off", "% of mean", 0, 300),
            ),
        ),
        Group(
            "What if",
            (
                Input("Late_days", "The truck comes late by", 3, "A holiday, snow, a strike", "d",
                      0, 30),
                Input("Extra_loads", "Loads a day of one more furnace", 2,
                      "Mean of all days, Sundays too", "", 0, 100),
                Input("Extra_gas", "Gas for one of its loads", 43,
                      "Monthly gas use, sheet Gas per load", "amount",
                      0, 10_000, "one"),
            ),
        ),
        Group(
            "Vaporizer and backup",
            (
                Input("Rating", "Vaporizer's rating", 350,
                      "Its plate, for the hours it runs without defrosting", "flow", 1, 50_000,
                      "whole"),
                Input("Outlet", "Lowest gas temperature allowed behind it", -20,
                      "Piping: carbon steel bears -20 to -29 °C at most", "temperature", -60, 40,
                      "one"),
                Input("Backup_count", "Cylinders or bundles of the backup", 4, "Count them", "",
                      0, 500, "whole"),
                Input("Backup_volume", "Inner volume of each", 0.6,
                      "Cylinder 0.05 m³ (1.77 ft³), bundle of twelve 0.6 m³ (21.2 ft³)", "volume",
                      0.001, 50, "three"),
                Input("Backup_full", "Pressure when full, at 15 °C", 201, "Supplier's label",
                      "pressure", 2, 400, "whole"),
                Input("Backup_empty", "Pressure at which it serves no more", 16,
                      "The plant's supply pressure and the regulator's drop", "pressure", 1, 300,
                      "whole"),
            ),
        ),
    )  # fmt: skip


def _answer() -> str:
    return (
        '=IF(Inputs_ok<Inputs_total,"Some inputs are missing or out of range: see the check list '
        'on the Inputs sheet.",IF(Rows_wrong>0,Rows_wrong&" row(s) cannot be calculated: see the '
        'column Check on Use and Special days.",IF(NOT(ISNUMBER(Contents)),"The gauge '
        'reading is above the top of this tank: check the reading, its unit and the size of the '
        'tank.",IF(Week_use=0,"Nobody draws gas: list the users on the Use sheet.",'
        'IF(N(Reorder_level)>=Most_contents,"The level to order at, "&'
        'TEXT(Reorder_level,"#,##0")&" "&U_liquid&", is above the highest contents allowed, "&'
        'TEXT(Most_contents,"#,##0")&" "&U_liquid&": the reserve, the days to delivery or the '
        'chance wanted ask too much of this tank.",'
        'IF(Plan_check<>"ok","No plan can be made: "&Plan_check,'
        'IF(ISERROR(Order_by),"No order is needed in the next '
        f"{ORDER_DAYS} days. "
        '"&Reserve_words,IF(Order_by=Read_on,"Order today, "&TEXT(Order_by,"ddd d mmm"),"Order by '
        '"&TEXT(Order_by,"ddd d mmm"))&": "&TEXT(Order_fits,"#,##0")&" "&U_liquid&" fit when the '
        'truck comes on "&TEXT(Truck_day,"ddd d mmm")&IF(Order_size<Order_fits," (it brings "&'
        'TEXT(Truck,"#,##0")&")","")&"; chance of reaching the reserve before '
        'delivery "&TEXT(Order_chance,"0.0%")&". "&Reserve_words)&IF(MAX(Plan_short)>0," Even '
        'with every order of the plan the tank runs dry on "&'
        'TEXT(MINIFS(Plan_date,Plan_short,">0"),"ddd d mmm")&": see Plan.","")))))))'
    )  # fmt: skip


def _key_numbers() -> tuple[KeyNumber, ...]:
    return (
        KeyNumber("In the tank", "Contents", "=U_liquid", "whole"),
        KeyNumber("Use a day, mean of four weeks", "Mean_use", "=U_liquid", "whole"),
        KeyNumber("Order at this level", "Reorder_level", "=U_liquid", "whole"),
        KeyNumber("Order by", "Order_by", "", "day"),
        KeyNumber("The truck comes on", "Truck_day", "", "day"),
        KeyNumber("Order", "Order_size", "=U_liquid", "whole"),
        KeyNumber("Without a truck the reserve is reached on", "Reserve_day", "", "day"),
        KeyNumber("Largest draw against the vaporizer's rating", "Peak_share", "", "percent"),
        KeyNumber("The backup carries the plant for", "Backup_days", "d", "one"),
    )


def _per_load(furnace: str) -> float:
    """Mean gas of a load of a furnace over the demo plant's log, Nm³."""
    rows = [(loads, recipe) for _, name, recipe, loads in demo.log() if name == furnace]
    used = sum(loads * demo.use_per_load(furnace, recipe) for loads, recipe in rows)
    return round(used / sum(loads for loads, _ in rows), 1)


LARGEST_DRAW = {"VF1": 120, "VF2": 210}
"""Nm³/h while a reservoir is recharged."""


def _use(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Use", [2, 18, 13, 13, *[8] * 7, 11, 12, 20])
    sheet.title("Use", "Who draws gas from the tank: loads of each weekday, and days that differ.")
    users = [
        [furnace.name, converted(_per_load(furnace.name), "amount", units),
         converted(LARGEST_DRAW[furnace.name], "flow", units), *[2.5 if furnace.name == "VF1"
         else 2] * 5, 1, 0]
        for furnace in demo.FURNACES
        if furnace.gas == "nitrogen"
    ]  # fmt: skip
    typed = ",".join(f"[@{day}]" for day in WEEKDAYS)
    numbers = f"[@[Gas per load]],[@[Largest draw]],{typed}"
    any_typed = f"COUNTA([@User],{numbers})=0"
    good = f"AND(ISNUMBER([@[Gas per load]]),COUNT({numbers})=COUNTA({numbers}),MIN({numbers})>=0)"
    sheet.table(
        "B5",
        "Users",
        (
            TableColumn("User", number="text"),
            TableColumn("Gas per load", number="one", unit="=U_amount", limits=("0", "100000")),
            TableColumn("Largest draw", number="whole", unit="=U_flow", limits=("0", "1000000")),
            *(
                TableColumn(day, number="one", unit="loads", limits=("0", "200"))
                for day in WEEKDAYS
            ),
            TableColumn(
                "Loads a week", f'=IF({any_typed},"",IF({good},SUM({typed}),NA()))', "one"
            ),
            TableColumn(
                "Gas a week",
                f'=IF({any_typed},"",[@[Gas per load]]*[@[Loads a week]])', "whole", "=U_amount",
            ),
            check_column(any_typed, "Gas a week"),
        ),
        users if filled else [],
        spare=8 if filled else 10,
    )  # fmt: skip
    _week(book, sheet, 18)
    sheet.ws.freeze_panes(5, 2)


def _week(book: Book, sheet: Sheet, row: int) -> None:
    """Use of a normal week, by weekday."""
    sheet.write(f"B{row}", "A normal week", "heading")
    for letter, text in zip("BCD", ("", "Week", "Unit"), strict=True):
        sheet.write(f"{letter}{row + 1}", text, "column")
    sheet.write(f"B{row + 2}", "As gas", "label")
    sheet.write(f"B{row + 3}", "As liquid", "label")
    sheet.write(f"D{row + 2}", "=U_amount", "unit")
    sheet.write(f"D{row + 3}", "=U_liquid", "unit")
    for letter, day in zip("EFGHIJK", WEEKDAYS, strict=True):
        sheet.write(f"{letter}{row + 1}", day, "column")
        total = f"SUMPRODUCT(Users[Gas per load],Users[{day}])"
        sheet.write(f"{letter}{row + 2}", f"=IF(Rows_wrong>0,NA(),{total})", "value", "whole")
        gas = f'GAS_CONVERT({letter}{row + 2},U_amount,"Nm3",Gas)'
        sheet.write(
            f"{letter}{row + 3}",
            f"=GAS_TO_LIQUID(Gas,{gas},Tank_pressure_used,,U_liquid)", "value", "whole",
        )  # fmt: skip
    for at in (row + 2, row + 3):
        sheet.write(f"C{at}", f"=IF(COUNT(E{at}:K{at})=7,SUM(E{at}:K{at}),NA())", "total", "whole")
    sheet.hide_errors(f"C{row + 2}:K{row + 3}")
    sheet.write(f"B{row + 4}", "Rows that cannot be calculated", "label")
    sheet.ws.set_row(row + 3, 30)
    wrong = "+".join(f'COUNTIF({table}[Check],"{WRONG}")' for table in ("Users", "Special"))
    sheet.write(f"C{row + 4}", f"={wrong}", "value", "whole")
    book.name("Week_use", sheet.name, f"C{row + 2}")
    book.name("Weekday_liquid", sheet.name, f"E{row + 3}:K{row + 3}")
    book.name("Rows_wrong", sheet.name, f"C{row + 4}")


def _special_days(book: Book, filled: bool) -> None:
    sheet = book.sheet("Special days", [2, 18, 14, 34, 14, 22], landscape=False)
    sheet.title("Special days", "Days off and extra shifts, as a share of the normal weekday.")
    sheet.merged("B3:F3", "0 for a day off, 50 for half a day, 150 for an extra shift.", "note")
    closed = [[CLOSED + dt.timedelta(days=n), 0, "plant closed"] for n in range(CLOSED_DAYS)]
    any_typed = "COUNTA([@Date],[@[Share %]],[@Remark])=0"
    sheet.table(
        "B5",
        "Special",
        (
            TableColumn("Date", number="date", limits=("36526", "73050")),
            TableColumn("Share %", number="whole", limits=("0", "1000")),
            TableColumn("Remark", number="text"),
            TableColumn(
                "Share",
                f'=IF({any_typed},"",IF(AND(ISNUMBER([@Date]),ISNUMBER([@[Share %]]),'
                "N([@[Share %]])>=0),[@[Share %]]/100,NA()))",
                "share",
            ),
            check_column(any_typed, "Share"),
        ),
        closed if filled else [],
        spare=16 if filled else 25,
    )


_SHOWS_PRESSURE = 'OR(Gauge="mbar",Gauge="inH2O")'
_SHOWS_HEIGHT = 'OR(Gauge="mm",Gauge="in")'
_HAS_HEIGHT = f"OR({_SHOWS_PRESSURE},{_SHOWS_HEIGHT})"


def _tank(book: Book) -> None:
    sheet = book.sheet("Tank", [2, 50, 16, 14, 70])
    sheet.title(
        "Tank", "From the gauge to the contents, and from the use to the level to order at."
    )
    told_height = "GAS_CONVERT(Reading,Gauge,U_length)"
    column = 'GAS_DP_LEVEL(Gas,GAS_CONVERT(Reading,Gauge,"bar"),Tank_pressure_used,,,,U_length)'
    height = f'=IF({_SHOWS_PRESSURE},{column},IF({_SHOWS_HEIGHT},{told_height},""))'
    shape = "Diameter_used,Length_used,Position,Heads,U_liquid"
    level = 'GAS_CONVERT(Level,U_length,"m")'
    from_height = f"GAS_TANK_LIQUID({level},{shape})"
    told = f'IF(Gauge="{SHARE_GAUGE}",Reading/100*Capacity,GAS_CONVERT(Reading,Gauge,U_liquid))'
    row = write_lines(
        sheet,
        4,
        "What is in the tank",
        (
            Line("Full tank", "Capacity", f'=GAS_TANK_LIQUID("100 %",{shape})', "=U_liquid",
                 note="To the very top, from the size on Inputs; compare with the tank's plate"),
            Line("Height of the liquid", "Level", height, "=U_length", "three",
                 "From a height or a differential pressure; blank for other gauges"),
            Line("In the tank", "Contents",
                 f"=IF({_HAS_HEIGHT},{from_height},IF(AND({told}>Capacity),NA(),{told}))",
                 "=U_liquid", style="total",
                 note="Blank where the reading is above the tank's top"),
            Line("as a share of the full tank", "Fill", "=Contents/Capacity", "", "percent"),
            Line("as gas", "Contents_gas",
                 '=GAS_FROM_LIQUID(Gas,GAS_CONVERT(Contents,U_liquid,"L(liq)"),'
                 "Tank_pressure_used,,U_amount)", "=U_amount"),
            Line("Highest contents allowed", "Most_contents", "=Most_fill/100*Capacity",
                 "=U_liquid"),
        ),
    )  # fmt: skip
    row = write_lines(
        sheet,
        row,
        "What leaves it",
        (
            Line("Use a day, mean of the next four weeks", "Mean_use",
                 "=INDEX(Days_total,28)/28", "=U_liquid", note="Days off and weekends counted"),
            Line("Use a day in the busiest time of one delivery", "Busiest_use",
                 "=MAX(Days_window)", "=U_liquid",
                 note="The level to order at must do for this one"),
            Line("Standard deviation of a day's use", "Daily_spread",
                 "=Use_spread/100*Mean_use", "=U_liquid"),
            Line("Evaporation a day", "Boil_off",
                 '=GAS_BOIL_OFF(GAS_CONVERT(Capacity,U_liquid,"L(liq)"),Evaporation/100,1,1,,,'
                 "U_liquid)", "=U_liquid", "one",
                 "Counted on top of the use; on busy days part of it feeds the furnaces"),
            Line("Days until the reserve is reached", "Days_left",
                 "=GAS_DAYS_LEFT(Contents,Mean_use,Boil_off,Reserve)", "d", "one",
                 "At the mean use, without a truck"),
        ),
    )  # fmt: skip
    row = write_lines(
        sheet,
        row,
        "When to order",
        (
            Line("Whole days from order to delivery", "Lead_whole", "=ROUNDUP(Lead_days,0)", "d"),
            Line("Order at this level", "Reorder_level",
                 "=GAS_REORDER_LEVEL(Busiest_use+Boil_off,Daily_spread,Lead_days,Lead_spread,"
                 "Service/100,Reserve)", "=U_liquid", style="total",
                 note="Reserve, use until the truck comes, and a safety stock for both spreads"),
            Line("Day on which it is reached at the mean use", "Mean_day",
                 "=GAS_REORDER_DATE(Read_on,Contents,Mean_use,Reorder_level,Boil_off)", "",
                 "day", "The plan, which knows weekends and days off, may differ by some days"),
            Line(
                "Without a truck the reserve is reached on", "Reserve_day",
                '=IF(COUNTIF(Days_level,"<="&Reserve)>0,'
                'MINIFS(Days_date,Days_level,"<="&Reserve),NA())',
                "", "day", "By the plan's days; no date: not within 60 days",
            ),
        ),
    )  # fmt: skip
    words = (
        '=IF(ISERROR(Contents+Week_use),"Not known yet.",'
        'IF(Contents<=Reserve,"The tank is down to its reserve already: call the supplier now.",'
        'IF(ISERROR(Reserve_day),"Without a truck the reserve is kept for 60 days.","Without a '
        'truck the reserve is reached on "&TEXT(Reserve_day,"ddd d mmm")&".")))'
    )
    sheet.merged(f"B{row - 1}:E{row - 1}", words, "check", height=26)
    book.name("Reserve_words", sheet.name, f"B{row - 1}")
    row += 1
    for caution in (OVERFILL, CAUTIONS[1]):
        sheet.merged(f"B{row}:E{row}", caution, "caution", height=32)
        row += 1


def _days(book: Book) -> None:
    """Use of every planned day."""
    sheet = book.sheet("Days", [2, 16, 14, 14, 16, 18, 20], landscape=False)
    sheet.title("Days", "Planned use of each day, and the level if no truck came.")
    heads = ("Date", "Share", "Use", "Use until its end", "Level without a truck",
             "Mean use a day from order to truck")  # fmt: skip
    for letter, text in zip("BCDEFG", heads, strict=True):
        sheet.write(f"{letter}5", text, "column")
    for letter in "DEFG":
        sheet.write(f"{letter}4", "=U_liquid", "unit")
    sheet.ws.set_row(4, 46)
    last = 5 + PLANNED_DAYS
    for row in range(6, last + 1):
        ahead = row - 6
        sheet.write(f"B{row}", f'=IF(ISNUMBER(Read_on),Read_on+{ahead},"")', "value", "day")
        sheet.write(
            f"C{row}",
            f'=IF(B{row}="","",IF(COUNTIF(Special[Date],B{row})=0,1,SUMIFS(Special[Share],'
            f"Special[Date],B{row})/COUNTIF(Special[Date],B{row})))", "value", "share",
        )  # fmt: skip
        sheet.write(
            f"D{row}",
            f"=IF(Rows_wrong>0,NA(),C{row}*INDEX(Weekday_liquid,1,WEEKDAY(B{row},2)))", "value",
            "whole",
        )  # fmt: skip
        sheet.write(f"E{row}", f"=SUM(D$6:D{row})", "value", "whole")
        sheet.write(f"F{row}", f"=MAX(0,Contents-E{row}-{ahead + 1}*Boil_off)", "value", "whole")
        before = f"E{row - 1}" if ahead else "0"
        sheet.write(
            f"G{row}",
            f'=IF({ahead}+Lead_whole>{PLANNED_DAYS},"",(INDEX(Days_total,{ahead}+Lead_whole)-'
            f"{before})/Lead_whole)", "value", "whole",
        )  # fmt: skip
    sheet.hide_errors(f"B6:G{last}")
    for name, letter in (("Date", "B"), ("Use", "D"), ("Total", "E"), ("Level", "F"),
                         ("Window", "G")):  # fmt: skip
        book.name(f"Days_{name.lower()}", sheet.name, f"{letter}6:{letter}{last}")
    sheet.ws.freeze_panes(5, 2)
    sheet.ws.repeat_rows(3, 4)


_PLAN_ARGUMENTS = (
    "Read_on,Contents,Days_use,Reorder_level,Lead_whole,Truck,Capacity,Boil_off,Most_fill/100"
)


def _plan(book: Book) -> None:
    sheet = book.sheet("Plan", [2, 15, *[12] * 9], landscape=False)
    sheet.title(
        "Plan",
        "60 days: an order whenever the reorder level is reached, on weekends too.",
    )
    check = f'GAS_CHECK("GAS_TANK_PLAN",{_PLAN_ARGUMENTS})'
    sheet.write("B4", "The plan is", "label")
    said = (
        '=IF(Inputs_ok<Inputs_total,"not made: some inputs are missing or out of range",'
        f"IF(ISNUMBER(Contents+Week_use),{check},"
        '"not made: the contents or the use are not known"))'
    )
    sheet.merged("C4:K4", said, "check")
    book.name("Plan_check", "Plan", "C4")
    heads = ("Date", "In the morning", "Use", "Evaporation", "Delivery", "In the evening",
             "Order placed", "Short by", "Reserve", "Reorder level")  # fmt: skip
    top = 29
    first, last = top + 1, top + PLANNED_DAYS
    sheet.write(f"B{top - 1}", '="Liquid, "&U_liquid', "hidden")
    for letter, text in zip("BCDEFGHIJK", heads, strict=True):
        sheet.write(f"{letter}{top}", text, "column")
        if letter != "B":
            sheet.write(f"{letter}{top - 1}", "=U_liquid", "unit")
    sheet.ws.set_row(top - 1, 32)
    for row in range(first, last + 1):
        _plan_day(sheet, row, row - first + 1)
    sheet.hide_errors(f"B{first}:K{last}")
    _mark(book, sheet, f"B{first}:I{last}", f"N($F{first})>0", look.MIST)
    _mark(book, sheet, f"B{first}:I{last}", f"N($G{first})<N($J{first})", look.WARN_FILL)
    for name, letter in (("date", "B"), ("delivery", "F"), ("level", "G"), ("order", "H"),
                         ("short", "I")):  # fmt: skip
        book.name(f"Plan_{name}", "Plan", f"{letter}{first}:{letter}{last}")
    _plan_chart(book, sheet, first, last)
    sheet.ws.repeat_rows(top - 2, top - 1)


def _plan_day(sheet: Sheet, row: int, day: int) -> None:
    """A day: the order is the function's, the balance is written out."""
    left = f"C{row}+F{row}-D{row}-E{row}"
    cells: tuple[tuple[str, str, str], ...] = (
        ("B", f"=INDEX(Days_date,{day})", "day"),
        ("C", "=Contents" if day == 1 else f"=G{row - 1}", "whole"),
        ("D", f"=INDEX(Days_use,{day})", "whole"),
        ("E", f"=MIN(Boil_off,C{row}+F{row})", "whole"),
        ("F", f"=IF(Lead_whole<{day},INDEX(Plan_order,{day}-Lead_whole),0)", "sparse"),
        ("G", f"=MAX(0,{left})", "whole"),
        ("H", f"=INDEX(GAS_TANK_PLAN({_PLAN_ARGUMENTS}),{day + 1},7)", "sparse"),
        ("I", f"=MAX(0,-({left}))", "sparse"),
        ("J", "=Reserve", "whole"),
        ("K", "=Reorder_level", "whole"),
    )
    for letter, formula, number in cells:
        sheet.write(f"{letter}{row}", formula, "value", number)


def _mark(book: Book, sheet: Sheet, cells: str, test: str, fill: str) -> None:
    marked = book.workbook.add_format({"bg_color": fill})
    sheet.ws.conditional_format(
        cells, {"type": "formula", "criteria": f"={test}", "format": marked}
    )


def _plan_chart(book: Book, sheet: Sheet, first: int, last: int) -> None:
    dates = f"=Plan!$B${first}:$B${last}"
    chart = new_chart(
        book, "column", "Projected level", "Day", f"=Plan!$B${first - 2}",
        x={"num_format": "d mmm", "date_axis": True, "major_unit": 7, "major_unit_type": "days"},
        y={"num_format": "#,##0", "min": 0},
    )  # fmt: skip
    chart.add_series(
        {
            "name": f"=Plan!$F${first - 1}", "categories": dates,
            "values": f"=Plan!$F${first}:$F${last}",
            "fill": {"color": look.SERIES[1]}, "gap": 20,
        }
    )  # fmt: skip
    lines = book.workbook.add_chart({"type": "line"})
    for letter, name, line in (
        ("G", "Level in the evening", {"color": look.SERIES[0], "width": 2.25}),
        ("J", f"=Plan!$J${first - 1}", {"color": look.SERIES[3], "width": 1.5}),
        (
            "K",
            f"=Plan!$K${first - 1}",
            {"color": look.SERIES[5], "width": 1.5, "dash_type": "dash"},
        ),
    ):
        lines.add_series(
            {
                "name": name, "categories": dates,
                "values": f"=Plan!${letter}${first}:${letter}${last}", "line": line,
            }
        )  # fmt: skip
    chart.combine(lines)
    sheet.chart("B6", chart, 900, 400)


def _chance(book: Book) -> None:
    sheet = book.sheet("Chance", [2, 16, 16, 16, 16, 14, 16, 14, 14], landscape=False)
    sheet.title("Chance", "What waiting costs: the chance of reaching the reserve, by order day.")
    heads = ("Order day", "Level that morning", "Truck comes", "Use a day until then", "Chance",
             "Fits then", "Chance accepted", "Order by")  # fmt: skip
    for letter, text in zip("BCDEFGHI", heads, strict=True):
        sheet.write(f"{letter}35", text, "column")
    for letter in "CEG":
        sheet.write(f"{letter}34", "=U_liquid", "unit")
    sheet.ws.set_row(34, 32)
    first, last = 36, 36 + ORDER_DAYS
    for row in range(first, last + 1):
        _order_day(sheet, row, row - first)
    sheet.hide_errors(f"B{first}:H{last}")
    sheet.hide_errors(f"I{first}:I{last}", look.PAPER)
    for name, letter in (("date", "B"), ("truck", "D"), ("use", "E"), ("chance", "F"),
                         ("fits", "G")):  # fmt: skip
        book.name(f"Chance_{name}", "Chance", f"{letter}{first}:{letter}{last}")
    _order_lines(sheet)
    chart = new_chart(
        book, "line", "Chance of reaching the reserve before the truck comes", "Order day",
        "Chance", x={"num_format": "d mmm", "date_axis": True, "major_unit": 5,
                     "major_unit_type": "days"},
        y={"num_format": "0 %", "min": 0, "max": 1},
    )  # fmt: skip
    for letter, name, style in (
        ("F", "Chance", {"line": {"color": look.SERIES[0], "width": 2.25}}),
        ("H", "Chance accepted", {"line": {"color": look.SERIES[3], "width": 1.5,
                                           "dash_type": "dash"}}),
        ("I", "Order by", {"line": {"none": True}, "marker": {
            "type": "diamond", "size": 11, "fill": {"color": look.SERIES[1]},
            "border": {"color": look.INK}}}),
    ):  # fmt: skip
        chart.add_series(
            {
                "name": name, "categories": f"=Chance!$B${first}:$B${last}",
                "values": f"=Chance!${letter}${first}:${letter}${last}", **style,
            }
        )  # fmt: skip
    chart.show_blanks_as("span")
    sheet.chart("B13", chart, 880, 400)
    sheet.ws.repeat_rows(33, 34)


def _order_day(sheet: Sheet, row: int, wait: int) -> None:
    """What an order on a day brings, seen from the morning of the reading."""
    until = f"{wait}+Lead_whole"
    level = "Contents" if not wait else f"INDEX(Days_level,{wait})"
    window = f"INDEX(Days_window,{wait + 1})"
    cells: tuple[tuple[str, str, str], ...] = (
        ("B", f"=INDEX(Days_date,{wait + 1})", "day"),
        ("C", f"={level}", "whole"),
        ("D", f"=B{row}+Lead_whole", "day"),
        ("E", f"=INDEX(Days_total,{until})/({until})", "whole"),
        (
            "F",
            f"=GAS_RUNOUT_RISK(Contents,E{row},Daily_spread,{wait}+Lead_days,Lead_spread,Reserve,"
            "Boil_off)",
            "percent",
        ),
        ("G", f"=GAS_ORDER_SIZE(Capacity,C{row},{window},Lead_whole,Most_fill/100,Boil_off)",
         "whole"),
        ("H", "=IF(ISNUMBER(Service),1-Service/100,NA())", "percent"),
        ("I", f"=IF(IFERROR(Order_by,0)=B{row},F{row},NA())", "percent"),
    )  # fmt: skip
    for letter, formula, number in cells:
        sheet.write(f"{letter}{row}", formula, "value", number)


def _order_lines(sheet: Sheet) -> None:
    """The day to order: the earlier of two, moved before a weekend."""
    known = f"COUNT(Chance_chance)={ORDER_DAYS + 1}"
    weekend = f'IF(Orders_taken="{WORKING_DAYS}",MAX(0,WEEKDAY(First_day,2)-5),0)'
    found = "INDEX({},MATCH(Order_by,Chance_date,0))"
    lines: tuple[tuple[str, str, str, str], ...] = (
        ("The plan reaches the reorder level on", "Level_day",
         '=IF(Plan_check="ok",IF(MAX(Plan_order)>0,MINIFS(Plan_date,Plan_order,">0"),NA()),NA())',
         "day"),
        ("The chance is accepted up to", "Chance_day",
         f'=IF({known},IF(MAX(Chance_chance)>1-Service/100,MAX(Read_on,'
         'MINIFS(Chance_date,Chance_chance,">"&(1-Service/100))-1),NA()),NA())', "day"),
        ("The earlier of both", "First_day", "=IF(ISERROR(Level_day),Chance_day,"
         "IF(ISERROR(Chance_day),Level_day,MIN(Level_day,Chance_day)))", "day"),
        ("Order by", "Order_by",
         f"=IF(First_day>Read_on+{ORDER_DAYS},NA(),MAX(Read_on,First_day-{weekend}))", "day"),
        ("The truck comes on", "Truck_day", f"={found.format('Chance_truck')}", "day"),
        ("Chance of reaching the reserve before", "Order_chance",
         f"={found.format('Chance_chance')}", "percent"),
        ("Fits when the truck comes", "Order_fits", f"={found.format('Chance_fits')}", "whole"),
        ("Order", "Order_size", "=MIN(Order_fits,Truck)", "whole"),
    )  # fmt: skip
    for row, (label, name, formula, number) in enumerate(lines, 4):
        sheet.ws.merge_range(f"B{row}:D{row}", label, sheet.book.style("label"))
        sheet.write(f"E{row}", formula, "total" if name == "Order_by" else "value", number)
        sheet.book.name(name, sheet.name, f"E{row}")
    for row in (10, 11):
        sheet.write(f"F{row}", "=U_liquid", "unit")
    sheet.hide_errors("E4:E11")
    sheet.merged("G4:I9", "Seen from the day of the reading: the wait, the truck's delay and the "
                 "spread of the use all count. An order that falls on a weekend moves to the "
                 "Friday before where orders are taken Monday to Friday.", "note")  # fmt: skip


def _what_if(book: Book) -> None:
    sheet = book.sheet("What if", [2, 40, 15, 15, 15, 15, 15, 16, 16, 16])
    sheet.title("What if", "A truck that comes late, one more furnace, and both.")
    heads = ("Case", "Use a day", "Order to delivery", "Days to the reserve", "Reserve reached",
             "Order at this level", "Order level reached on", "Chance if ordered as planned",
             "Left when the truck comes")  # fmt: skip
    units = ("", "=U_liquid", "d", "d", "", "=U_liquid", "", "", "=U_liquid")
    for letter, text, unit in zip("BCDEFGHIJ", heads, units, strict=True):
        sheet.write(f"{letter}5", text, "column")
        sheet.write(f"{letter}4", unit, "unit")
    sheet.ws.set_row(4, 46)
    sheet.write("B13", "Use of the extra furnace", "label")
    extra = 'GAS_CONVERT(Extra_loads*Extra_gas,U_amount,"Nm3",Gas)'
    sheet.write(
        "C13", f"=GAS_TO_LIQUID(Gas,{extra},Tank_pressure_used,,U_liquid)", "value", "whole"
    )
    sheet.write("D13", '=U_liquid&" a day"', "unit")
    book.name("Extra_use", sheet.name, "C13")
    sheet.write("B14", "Days from the reading to the order", "label")
    sheet.write("C14", "=Order_by-Read_on", "value", "whole")
    sheet.write("D14", "d", "unit")
    book.name("Wait", sheet.name, "C14")
    cases = (
        ("As planned", "0", "0"),
        ('="The truck comes "&N(Late_days)&" days late"', "0", "Late_days"),
        ("One more furnace", "Extra_use", "0"),
        ("Both", "Extra_use", "Late_days"),
    )
    for row, (label, more, late) in enumerate(cases, 6):
        _case(sheet, row, label, more, late)
        for letter, name in (("I", "chance"), ("J", "left"), ("F", "reserve"), ("G", "level")):
            book.name(f"Case_{row - 5}_{name}", sheet.name, f"{letter}{row}")
    sheet.hide_errors("C6:J14")
    _mark(book, sheet, "J6:J9", "N($J6)<Reserve", look.WARN_FILL)
    sheet.merged(
        "B11:J11",
        "Chance, and what is left: the order goes out on the day that Start tells, and nobody "
        "knows yet of the late truck or the extra furnace.",
        "note", height=30,
    )  # fmt: skip


def _case(sheet: Sheet, row: int, label: str, more: str, late: str) -> None:
    total = f"D{row}+Wait"
    whole = f"ROUNDUP({total},0)"
    mean = f"INDEX(Days_total,MIN({PLANNED_DAYS},{whole}))/MIN({PLANNED_DAYS},{whole})+{more}"
    cells: tuple[tuple[str, str, str], ...] = (
        ("C", f"=Mean_use+{more}", "whole"),
        ("D", f"=Lead_days+{late}", "one"),
        ("E", f"=GAS_DAYS_LEFT(Contents,C{row},Boil_off,Reserve)", "one"),
        ("F", f"=INT(Read_on+E{row})", "day"),
        ("G", f"=GAS_REORDER_LEVEL(Busiest_use+{more}+Boil_off,Daily_spread,D{row},Lead_spread,"
              "Service/100,Reserve)", "whole"),
        ("H", f"=GAS_REORDER_DATE(Read_on,Contents,C{row},G{row},Boil_off)", "day"),
        ("I", f"=GAS_RUNOUT_RISK(Contents,{mean},Daily_spread,{total},Lead_spread,Reserve,"
              "Boil_off)", "percent"),
        ("J", f"=MAX(0,Contents-({mean}+Boil_off)*({total}))", "whole"),
    )  # fmt: skip
    sheet.write(f"B{row}", label, "label")
    for letter, formula, number in cells:
        sheet.write(f"{letter}{row}", formula, "value", number)
    sheet.ws.set_row(row - 1, 22)


def _peak(book: Book) -> None:
    sheet = book.sheet("Peak", [2, 50, 16, 14, 70])
    sheet.title(
        "Peak and backup", "The largest draw against the vaporizer, and how long the backup lasts."
    )
    flow = 'GAS_CONVERT({},U_flow,"Nm3/h",Gas)'
    duty = "=GAS_VAPORIZER_DUTY(Gas," + flow + ",Tank_pressure_used,Outlet_used)"
    row = write_lines(
        sheet,
        4,
        "Vaporizer",
        (
            Line("Largest draw, all users at once", "Peak",
                 "=IF(Rows_wrong>0,NA(),SUM(Users[Largest draw]))", "=U_flow"),
            Line("Largest draw of one user", "Peak_one",
                 "=IF(Rows_wrong>0,NA(),MAX(Users[Largest draw]))", "=U_flow"),
            Line("Vaporizer's rating", "", "=Rating", "=U_flow"),
            Line("Largest draw as a share of the rating", "Peak_share", "=Peak/Rating", "",
                 "percent", style="total"),
            Line("Heat for the largest draw", "Peak_duty", duty.format("Peak"), "kW", "one",
                 "To the lowest gas temperature allowed"),
            Line("Heat at the rating", "Rating_duty", duty.format("Rating"), "kW", "one"),
            Line("With one more furnace of the largest kind", "Peak_more",
                 "=(Peak+Peak_one)/Rating", "", "percent", "Share of the rating"),
        ),
    )  # fmt: skip
    verdict = (
        '=IF(ISERROR(Peak_share),"The largest draw is not known yet.",IF(Peak_share>1,'
        '"The largest draw is above the rating: keep recharges apart, throttle them, or add a '
        'vaporizer.",IF(Peak_more>1,"Within the rating; one more furnace at the same hour would '
        'be above it.","Within the rating, with room for one more furnace.")))'
    )
    sheet.merged(f"B{row - 1}:E{row - 1}", verdict, "check", height=26)
    book.name("Peak_verdict", sheet.name, f"B{row - 1}")
    one = "GAS_DRAWN(Gas,Backup_volume_used,Backup_full_used,Backup_empty_used,15,,U_amount)"
    row = write_lines(
        sheet,
        row + 1,
        "Backup",
        (
            Line("Gas of one cylinder or bundle", "Backup_one", f"={one}", "=U_amount", "one"),
            Line("Gas of the backup", "Backup_gas", "=Backup_count*Backup_one", "=U_amount"),
            Line("Use a day, mean of a normal week", "Day_gas", "=Week_use/7", "=U_amount"),
            Line("The backup carries the plant for", "Backup_days",
                 "=IF(Backup_gas<0,NA(),GAS_DAYS_LEFT(Backup_gas,Day_gas))", "d", "one",
                 style="total", note="Blank where nothing is used, or the empty pressure "
                 "is above the full one"),
            Line("at the largest draw", "Backup_hours", "=IF(Peak>0,Backup_gas/Peak,NA())", "h",
                 "one"),
        ),
    )  # fmt: skip
    for caution in (
        "An overloaded or iced vaporizer sends cold gas or liquid into carbon steel, which turns "
        "brittle: a low-temperature shut-off belongs behind it.",
        CAUTIONS[0],
    ):
        sheet.merged(f"B{row}:E{row}", caution, "caution", height=32)
        row += 1
