"""Monthly gas use: by day, furnace, recipe and gas; what no cycle explains; next month."""

from __future__ import annotations

from typing import Any, NamedTuple

from xlsxwriter.utility import xl_col_to_name

from gasfuncs.workbooks import demo, look
from gasfuncs.workbooks.book import WRONG, Book, Sheet, TableColumn, check_column, new_chart
from gasfuncs.workbooks.inputs import Group, Input, converted, inputs_sheet
from gasfuncs.workbooks.start import KeyNumber, sources_sheet, start_sheet

NAME = "monthly_gas_usage"
TITLE = "Monthly gas use"
QUESTION = (
    "Where did the gas go this month, what does no cycle explain, and what does next month need?"
)
FUNCTIONS = (
    "GAS_CYCLE", "GAS_BACKFILL", "GAS_HOLD_USE", "GAS_FLOW_USE", "GAS_FROM_LIQUID",
    "GAS_TO_LIQUID", "GAS_UNACCOUNTED", "GAS_UNACCOUNTED_LEAK", "GAS_CONVERT", "GAS_PRICE",
)  # fmt: skip

MOST_FURNACES = 8
MOST_RECIPES = 12
TANKS = ("1", "2")
DEMO_GASES = {"1": "nitrogen", "2": "argon"}
GASES = ("nitrogen", "argon", "helium", "hydrogen")


def build(book: Book, units: str, *, filled: bool) -> None:
    """Write every sheet; `filled` with the demo plant, else empty."""
    start_sheet(book, QUESTION, _answer(), _key_numbers(), _STEPS)
    inputs_sheet(book, _inputs(units), units, filled=filled)
    _furnaces(book, units, filled)
    _recipes(book, units, filled)
    _log(book, filled)
    _deliveries(book, units, filled)
    _plan(book, filled)
    _month(book)
    _balance(book)
    sources_sheet(book, FUNCTIONS)


_STEPS = (
    "Choose the units and fill in the Inputs sheet: month, prices, tank readings.",
    "List the furnaces; on Recipes write each recipe as steps: backfills, holds, flows.",
    "Keep the Log: one row a day, furnace and recipe, with the number of loads.",
    "Type every delivery with its date on Deliveries, and next month's loads on Plan.",
    "Read Month: use by day and furnace. Balance: what no cycle explains, and where to look.",
)


def _inputs(units: str) -> tuple[Group, ...]:
    month = Input(
        "Report_day", "Any day of the month", demo.MONTH, "The month to report", number="month",
        low=36526, high=73050,
    )  # fmt: skip
    money = Input("Currency", "Currency", demo.CURRENCY[units], "Shown beside every cost")
    return (
        Group("Report", (month, money)),
        *(_tank(tank) for tank in TANKS),
    )


def _tank(tank: str) -> Group:
    gas = DEMO_GASES[tank]
    none = "" if tank == "1" else " (without one choose another gas, and 0 for both levels)"
    return Group(
        f"Tank {tank}{none}",
        (
            Input(f"Tank_{tank}_gas", "Gas", gas, "The tank's label", choices=GASES),
            Input(
                f"Tank_{tank}_pressure", "Tank pressure", demo.TANK_PRESSURE[gas],
                "Tank gauge; add the air pressure to a gauge reading", "pressure", 1.1, 25,
                number="one",
            ),
            Input(
                f"Tank_{tank}_opening", "Liquid at the start of the month", demo.OPENING[gas],
                "Level gauge on the first morning", "liquid", 0, 200_000, "whole",
            ),
            Input(
                f"Tank_{tank}_closing", "Liquid at the end of the month", demo.closing(gas),
                "Level gauge on the first morning of the next month", "liquid", 0, 200_000, "whole",
            ),
            Input(
                f"Tank_{tank}_price", "Price of the gas", demo.PRICES[gas],
                "Supply contract, for the unit shown", "price_per", 0, 1000, number="three",
            ),
        ),
    )  # fmt: skip


def _answer() -> str:
    used, need = (
        " and ".join(
            f'"&TEXT({name}_{tank},"#,##0")&" "&{unit}&" of "&Tank_{tank}_gas&"' for tank in TANKS
        )
        for name, unit in (("Used", "U_amount"), ("Need_liquid", "U_liquid"))
    )
    tanks = "".join(
        f'IF(GAS_CHECK("GAS_FROM_LIQUID",Tank_{tank}_gas,1,Tank_{tank}_pressure_used)<>"ok",'
        f'"At the pressure of tank {tank} there is no liquid "&Tank_{tank}_gas&": check the gas '
        'and the tank pressure on the Inputs sheet.",'
        for tank in TANKS
    )
    return (
        '=IF(Inputs_ok<Inputs_total,"Some inputs are missing or out of range: see the check list '
        'on the Inputs sheet.",IF(Tank_1_gas=Tank_2_gas,"Both tanks hold "&Tank_1_gas&", which the '
        "log cannot tell apart: type the sum of both as tank 1, and another gas with levels of 0 "
        f'as tank 2.",{tanks}IF(Rows_wrong>0,Rows_wrong&" row(s) cannot be calculated: begin with '
        f'"&{_where_to_begin()}&".",TEXT(Month,"mmmm yyyy")&": the cycles used {used}. "&Lost_words'
        '&IF(ISERROR(Need_liquid_1+Need_liquid_2)," What next month needs cannot be told from a '
        f'month without cycles."," Next month needs about {need}."))))))'
    )


def _where_to_begin() -> str:
    """Where the first wrong row is, in the order in which the records are built on each other."""
    places = (
        (f'COUNTIF(Furnaces[Check],"{WRONG}")>0', "the column Check on Furnaces"),
        (f'COUNTIF(Steps[Check],"{WRONG}")>0', "the column Check on Recipes"),
        ("Recipes_wrong>0", "Gas per load, which says what is wrong with a recipe"),
        (f'COUNTIF(Log[Check],"{WRONG}")>0', "the column Check on Log"),
        (f'COUNTIF(Deliveries[Check],"{WRONG}")>0', "the column Check on Deliveries"),
    )
    found = '"the column Check on Plan"'
    for test, place in reversed(places):
        found = f'IF({test},"{place}",{found})'
    return found


def _key_numbers() -> tuple[KeyNumber, ...]:
    numbers = [
        KeyNumber(
            f'="{label}"&IF(Tank_{tank}_gas="","tank {tank}",Tank_{tank}_gas)',
            f"{name}_{tank}",
            "=U_amount",
        )
        for label, name in (
            ("Used by cycles, ", "Used"),
            ("Explained by no cycle, ", "Unexplained"),
            ("Next month, ", "Need"),
        )
        for tank in TANKS
    ]
    return (*numbers, KeyNumber("Rows that cannot be calculated", "Rows_wrong", ""))


def _furnaces(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Furnaces", [2, 20, 16, 16, 18, 18, 22])
    sheet.title(
        "Furnaces", "Free volume is the chamber less the load: what a backfill has to fill."
    )
    rows = [
        [f.name, converted(f.free_volume, "volume", units), f.gas,
         converted(f.reservoir, "volume", units)]
        for f in demo.FURNACES
    ]  # fmt: skip
    blank = '[@Furnace]&[@[Free volume]]&[@Gas]=""'
    good = (
        'AND([@Furnace]<>"",COUNTIF(Furnaces[Furnace],[@Furnace])=1,ISNUMBER([@[Free volume]]),'
        "N([@[Free volume]])>0,COUNTIF(Tank_gases,[@Gas])>0)"
    )
    sheet.table(
        "B6",
        "Furnaces",
        (
            TableColumn("Furnace", number="text"),
            TableColumn("Free volume", number="two", unit="=U_volume", limits=("0", "100000")),
            TableColumn("Gas", number="text", choices="=Tank_gases"),
            TableColumn("Reservoir volume", number="two", unit="=U_volume", limits=("0", "100000")),
            TableColumn(
                "Volume used",
                f'=IF({blank},"",IF({good},GAS_CONVERT([@[Free volume]],U_volume,"m3"),NA()))',
                "three",
                '="m3"',
            ),
            check_column(blank, "Volume used"),
        ),
        rows if filled else [],
        spare=MOST_FURNACES - (len(rows) if filled else 0),
    )  # fmt: skip
    book.workbook.define_name("Tank_gases", "=Balance!$C$5:$D$5")
    sheet.merged(
        "B4:G4",
        f"Up to {MOST_FURNACES} furnaces, each with a name of its own and the gas of one of the "
        "tanks. The reservoir is for your record; nothing here needs it.",
        "note",
    )


def _recipes(book: Book, units: str, filled: bool) -> None:
    widths = [2, 20, 12, 12, 12, 13, 15, 9, 9, 20, 11, 10, 10, 13, 10, 10, 10]
    sheet = book.sheet("Recipes", widths)
    sheet.title(
        "Recipes", "One row a step, in order. A pressure may also be text such as 0.01 mbar."
    )
    sheet.merged(
        "B3:J4",
        "backfill: the pressures From and To. hold: the pressure held as From, the pumping speed "
        "as Rate, Hours. flow: the flow as Rate, Hours. Repeats: how often a load runs the step.",
        "note",
    )
    sheet.write("K4", "The same in the units that the functions take", "note")
    metric = [_step_row(step, units) for step in demo.STEPS]
    blank = '[@Kind]=""'
    used = (
        ("Used kind", f'=IF({blank},"",[@Kind])', "", "text"),
        ("Used from", _as_used("From", "U_pressure", '"bar(a)"'), '="bar(a)"'),
        ("Used to", _as_used("To", "U_pressure", '"bar(a)"'), '="bar(a)"'),
        ("Used temperature", _as_used("Temperature", "U_temperature", '"degC"'), '="degC"', "one"),
        ("Used rate", _rate_as_used(), ""),
        ("Used hours", '=IF([@Hours]="","",[@Hours])', '="h"'),
        ("Used repeats", '=IF([@Repeats]="","",[@Repeats])', ""),
    )
    sheet.table(
        "B6",
        "Steps",
        (
            TableColumn("Recipe", number="text"),
            TableColumn("Kind", number="text", choices="backfill,hold,flow"),
            TableColumn("From", unit="=U_pressure"),
            TableColumn("To", number="general", unit="=U_pressure"),
            TableColumn("Temperature", number="general", unit="=U_temperature"),
            TableColumn("Rate", number="general", unit='=U_pumping&" or "&U_flow'),
            TableColumn("Hours", number="two", unit='="h"', limits=("0", "1000")),
            TableColumn("Repeats", number="whole", limits=("0", "1000")),
            TableColumn("Check", _step_check(), "text"),
            *(
                TableColumn(header, formula, number[0] if number else "used", unit)
                for header, formula, unit, *number in used
            ),
        ),
        metric if filled else [],
        spare=21 if filled else 30,
    )
    sheet.ws.print_area("A1:J40")
    sheet.ws.repeat_rows(4, 5)
    _per_load(book)


def _step_check() -> str:
    cells = ("Recipe", "Kind", "From", "To", "Temperature", "Rate", "Hours", "Repeats")
    blank = "&".join(f"[@{cell}]" for cell in cells) + '=""'
    return f'=IF({blank},"",IF(OR([@Recipe]="",[@Kind]=""),"{WRONG}","ok"))'


def _as_used(column: str, unit: str, metric: str) -> str:
    cell = f"[@{column}]"
    return f'=IF({cell}="","",IF(ISNUMBER({cell}),GAS_CONVERT({cell},{unit},{metric}),{cell}))'


def _rate_as_used() -> str:
    hold = 'GAS_CONVERT([@Rate],U_pumping,"m3/h")'
    flow = 'GAS_CONVERT([@Rate],U_flow,"Nm3/h")'
    return f'=IF([@Rate]="","",IF([@Kind]="hold",{hold},{flow}))'


def _step_row(step: tuple[Any, ...], units: str) -> list[Any]:
    recipe, kind, low, high, temperature, rate, hours, repeats = step
    rate_unit = "pumping" if kind == "hold" else "flow"
    return [
        recipe, kind, converted(low, "pressure", units), converted(high, "pressure", units),
        converted(temperature, "temperature", units), converted(rate, rate_unit, units), hours,
        repeats,
    ]  # fmt: skip


def _per_load(book: Book) -> None:
    """Gas in one load of each recipe in each furnace, worked out once."""
    sheet = book.sheet("Gas per load", [2, 22] + [11] * MOST_FURNACES + [60])
    sheet.title(
        "Gas per load",
        "Gas that one load takes, by recipe and furnace.",
    )
    sheet.write("B4", "=U_amount", "unit")
    sheet.write("B5", "Recipe", "column")
    last = xl_col_to_name(1 + MOST_FURNACES)
    for number in range(1, MOST_FURNACES + 1):
        letter = xl_col_to_name(1 + number)
        sheet.write(f"{letter}5", f'=INDEX(Furnaces[Furnace],{number})&""', "column")
        sheet.write(f"{letter}4", f'=INDEX(Furnaces[Gas],{number})&""', "unit")
    check = xl_col_to_name(2 + MOST_FURNACES)
    sheet.write(f"{check}5", "Check of the steps", "column")
    for row in range(6, 6 + MOST_RECIPES):
        recipe = f'IFERROR(INDEX(UNIQUE(FILTER(Steps[Recipe],Steps[Recipe]<>"")),{row - 5}),"")'
        sheet.array(f"B{row}", f"={recipe}", "value", "text")
        steps = f"FILTER(Steps[[Used kind]:[Used repeats]],Steps[Recipe]=$B{row})"
        said = f'GAS_CHECK("GAS_CYCLE","nitrogen",1,{steps})'
        sheet.array(f"{check}{row}", f'=IF($B{row}="","",{said})', "value", "text")
        for number in range(1, MOST_FURNACES + 1):
            letter = xl_col_to_name(1 + number)
            volume = f"INDEX(Furnaces[Volume used],{number})"
            call = f"GAS_CYCLE({letter}$4,{volume},{steps},U_amount)"
            free = f'OR($B{row}="",{letter}$5="")'
            sheet.array(f"{letter}{row}", f'=IF({free},"",{call})', "value", "one")
    end = 5 + MOST_RECIPES
    sheet.hide_errors(f"C6:{last}{end}")
    checks = f"{check}6:{check}{end}"
    sheet.write(f"B{end + 2}", "Recipes that cannot be calculated", "label")
    sheet.write(f"C{end + 2}", f'=SUMPRODUCT(({checks}<>"")*({checks}<>"ok"))', "value", "whole")
    sheet.ws.set_row(end + 1, 30)
    book.name("Recipes_wrong", sheet.name, f"C{end + 2}")
    book.name("Load_recipes", sheet.name, f"B6:B{end}")
    book.name("Load_furnaces", sheet.name, f"C5:{last}5")
    book.name("Load_use", sheet.name, f"C6:{last}{end}")


_USE_PER_LOAD = "INDEX(Load_use,MATCH([@Recipe],Load_recipes,0),MATCH([@Furnace],Load_furnaces,0))"


def _log(book: Book, filled: bool) -> None:
    sheet = book.sheet("Log", [2, 15, 13, 20, 9, 12, 14, 14, 20], landscape=False)
    sheet.title("Log", "One row a day, furnace and recipe. Spare rows are ready at the end.")
    any_typed = '[@Date]&[@Furnace]&[@Recipe]&[@Loads]=""'
    gas = "INDEX(Furnaces[Gas],MATCH([@Furnace],Furnaces[Furnace],0))"
    sheet.table(
        "B5",
        "Log",
        (
            TableColumn("Date", number="date", limits=("36526", "73050")),
            TableColumn("Furnace", number="text", choices="=Load_furnaces"),
            TableColumn("Recipe", number="text", choices="=Load_recipes"),
            TableColumn("Loads", number="whole", limits=("0", "100")),
            TableColumn("Gas", f'=IF({any_typed},"",{gas})', "text"),
            TableColumn("Use per load", f'=IF({any_typed},"",{_USE_PER_LOAD})', "one", "=U_amount"),
            TableColumn(
                "Use",
                f'=IF({any_typed},"",IF(AND(ISNUMBER([@Date]),ISNUMBER([@Loads]),N([@Loads])>=0),'
                "[@Loads]*[@[Use per load]],NA()))",
                "one",
                "=U_amount",
            ),
            check_column(any_typed, "Use"),
        ),
        [list(row) for row in demo.log()] if filled else [],
        spare=60 if filled else 500,
    )
    sheet.ws.freeze_panes(5, 0)
    sheet.ws.repeat_rows(3, 4)


def _deliveries(book: Book, units: str, filled: bool) -> None:
    sheet = book.sheet("Deliveries", [2, 16, 16, 18, 18, 22], landscape=False)
    sheet.title("Deliveries", "Liquid as on the delivery note.")
    any_typed = '[@Date]&[@Gas]&[@Liquid]=""'
    pressure = (
        "IF([@Gas]=Tank_1_gas,Tank_1_pressure_used,IF([@Gas]=Tank_2_gas,Tank_2_pressure_used,NA()))"
    )
    liquid = 'GAS_CONVERT([@Liquid],U_liquid,"L(liq)")'
    sheet.table(
        "B5",
        "Deliveries",
        (
            TableColumn("Date", number="date", limits=("36526", "73050")),
            TableColumn("Gas", number="text", choices="=Tank_gases"),
            TableColumn("Liquid", number="whole", unit="=U_liquid", limits=("0", "1000000")),
            TableColumn(
                "As gas",
                f'=IF({any_typed},"",IF(ISNUMBER([@Date]),'
                f"GAS_FROM_LIQUID([@Gas],{liquid},{pressure},,U_amount),NA()))",
                "whole",
                "=U_amount",
            ),
            check_column(any_typed, "As gas"),
        ),
        [[d, g, converted(v, "liquid", units)] for d, g, v in demo.deliveries()] if filled else [],
        spare=20 if filled else 60,
    )
    sheet.ws.freeze_panes(5, 0)
    sheet.ws.repeat_rows(3, 4)


def _plan(book: Book, filled: bool) -> None:
    sheet = book.sheet("Plan", [2, 16, 22, 12, 14, 16, 22], landscape=False)
    sheet.title("Plan", "Loads planned for next month, by furnace and recipe.")
    any_typed = '[@Furnace]&[@Recipe]&[@Loads]=""'
    gas = "INDEX(Furnaces[Gas],MATCH([@Furnace],Furnaces[Furnace],0))"
    sheet.table(
        "B5",
        "Plan",
        (
            TableColumn("Furnace", number="text", choices="=Load_furnaces"),
            TableColumn("Recipe", number="text", choices="=Load_recipes"),
            TableColumn("Loads", number="whole", limits=("0", "1000")),
            TableColumn("Gas", f'=IF({any_typed},"",{gas})', "text"),
            TableColumn(
                "Use",
                f'=IF({any_typed},"",IF(AND(ISNUMBER([@Loads]),N([@Loads])>=0),'
                f"[@Loads]*{_USE_PER_LOAD},NA()))",
                "whole",
                "=U_amount",
            ),
            check_column(any_typed, "Use"),
        ),
        [list(row) for row in demo.PLAN] if filled else [],
        spare=17 if filled else 24,
    )


UNKNOWN = 'OR(Month="",Rows_wrong>0)'
"""Whether no total of a month can be told."""

COLOURS = (*look.SERIES, "#8FB2D0", "#333333")
"""A colour for each furnace."""


def _month(book: Book) -> None:
    sheet = book.sheet("Month", [2, 16] + [10] * MOST_FURNACES + [12, 2])
    sheet.ws.set_print_scale(68)
    sheet.ws.set_h_pagebreaks([39])
    sheet.title(
        "Month", "Use by day and furnace; below it by recipe and gas, month and year to date."
    )
    first_day = '=IF(ISNUMBER(Report_day),DATE(YEAR(Report_day),MONTH(Report_day),1),"")'
    sheet.write("B3", first_day, "value", "month")
    book.name("Month", "Month", "B3")
    sheet.write("B4", "=U_amount", "unit")
    sheet.write("N8", '="Gas used, "&U_amount', "hidden")
    sheet.write("B5", "Day", "column")
    total = xl_col_to_name(2 + MOST_FURNACES)
    sheet.write(f"{total}5", "All", "column")
    for number in range(1, MOST_FURNACES + 1):
        letter = xl_col_to_name(1 + number)
        sheet.write(f"{letter}5", f'=INDEX(Furnaces[Furnace],{number})&""', "column")
    for row in range(6, 37):
        sheet.write(
            f"B{row}",
            f'=IF(Month="","",IF(MONTH(Month+{row - 6})=MONTH(Month),Month+{row - 6},""))',
            "value",
            "day",
        )
        for number in range(1, MOST_FURNACES + 1):
            letter = xl_col_to_name(1 + number)
            use = f"SUMIFS(Log[Use],Log[Date],$B{row},Log[Furnace],{letter}$5)"
            sheet.write(
                f"{letter}{row}",
                f'=IF(OR($B{row}="",{letter}$5=""),"",IF(Rows_wrong>0,NA(),{use}))',
                "value",
                "gas",
            )
        first, last = "C", xl_col_to_name(1 + MOST_FURNACES)
        all_of_day = f'=IF($B{row}="","",SUM({first}{row}:{last}{row}))'
        sheet.write(f"{total}{row}", all_of_day, "value", "gas")
    _totals(sheet, total)
    _by_recipe_and_gas(sheet)
    chart = new_chart(
        book, "column", "Gas used by day", "Day of the month", "=Month!$N$8",
        subtype="stacked", x={"num_format": "d", "date_axis": False}, y={"num_format": "#,##0"},
    )  # fmt: skip
    for index, colour in enumerate(COLOURS):
        letter = xl_col_to_name(2 + index)
        _colour_key(book, sheet, xl_col_to_name(12 + index), letter, colour)
        chart.add_series(
            {
                "name": f"=Month!${letter}$5",
                "categories": "=Month!$B$6:$B$36",
                "values": f"=Month!${letter}$6:${letter}$36",
                "fill": {"color": colour},
                "border": {"color": look.PAPER, "width": 0.5},
                "gap": 40,
            }
        )
    chart.set_legend({"none": True})
    sheet.chart("M6", chart, 560, 420)
    sheet.hide_errors(f"B3:{total}38")
    sheet.ws.freeze_panes(5, 2)


def _colour_key(book: Book, sheet: Sheet, letter: str, furnace: str, colour: str) -> None:
    """The chart's legend as cells, so that it shows the furnaces that there are."""
    sheet.write(f"{letter}4", f"={furnace}5", "unit")
    sheet.write(f"{letter}5", "", "plain")
    fill = book.workbook.add_format({"bg_color": colour})
    test = {"type": "formula", "criteria": f'={letter}$4<>""', "format": fill}
    sheet.ws.conditional_format(f"{letter}5", test)


def _totals(sheet: Sheet, total: str) -> None:
    sheet.write("B37", "Month", "total")
    sheet.write("B38", "Year to date", "total")
    for number in range(1, MOST_FURNACES + 1):
        letter = xl_col_to_name(1 + number)
        sheet.write(f"{letter}37", _used_in(letter, f"SUM({letter}6:{letter}36)"), "total", "gas")
        year = (
            f'SUMIFS(Log[Use],Log[Date],">="&DATE(YEAR(Month),1,1),'
            f'Log[Date],"<"&EDATE(Month,1),Log[Furnace],{letter}5)'
        )
        sheet.write(f"{letter}38", _used_in(letter, year), "total", "gas")
    last = xl_col_to_name(1 + MOST_FURNACES)
    for row in (37, 38):
        sheet.write(f"{total}{row}", f"=SUM(C{row}:{last}{row})", "total", "gas")


def _used_in(letter: str, total: str) -> str:
    """A furnace's total, blank where the column is free."""
    return f'=IF({letter}5="","",IF({UNKNOWN},NA(),{total}))'


def _by_recipe_and_gas(sheet: Sheet) -> None:
    sheet.write("B41", "By recipe", "heading")
    for letter, text in zip("BCDE", ("Recipe", "Loads", "Month", "Year to date"), strict=True):
        sheet.write(f"{letter}42", text, "column")
    within = 'Log[Date],">="&{},Log[Date],"<"&EDATE(Month,1)'
    month, year = within.format("Month"), within.format("DATE(YEAR(Month),1,1)")
    for row in range(43, 43 + MOST_RECIPES):
        sheet.write(f"B{row}", f'=INDEX(Load_recipes,{row - 42})&""', "value", "text")
        for letter, column, period in (
            ("C", "Loads", month),
            ("D", "Use", month),
            ("E", "Use", year),
        ):
            total = f"SUMIFS(Log[{column}],{period},Log[Recipe],$B{row})"
            sheet.write(
                f"{letter}{row}", f'=IF($B{row}="","",IF({UNKNOWN},NA(),{total}))', "value",
                "whole" if letter == "C" else "gas",
            )  # fmt: skip
    row = 45 + MOST_RECIPES
    sheet.write(f"B{row}", "By gas", "heading")
    for letter, text in zip("BCDE", ("Gas", "Loads", "Month", "Year to date"), strict=True):
        sheet.write(f"{letter}{row + 1}", text, "column")
    for tank in TANKS:
        at = row + 1 + int(tank)
        sheet.write(f"B{at}", f'=Tank_{tank}_gas&""', "value", "text")
        for letter, column, period in (
            ("C", "Loads", month),
            ("D", "Use", month),
            ("E", "Use", year),
        ):
            total = f"SUMIFS(Log[{column}],{period},Log[Gas],$B{at})"
            number = "whole" if letter == "C" else "gas"
            sheet.write(f"{letter}{at}", f"=IF({UNKNOWN},NA(),{total})", "value", number)
        sheet.book.name(f"Loads_{tank}", sheet.name, f"C{at}")
        sheet.book.name(f"Used_{tank}", sheet.name, f"D{at}")
    sheet.hide_errors(f"B43:E{row + 3}")


def _balance(book: Book) -> None:
    sheet = book.sheet("Balance", [2, 48, 16, 16, 14, 14, 3])
    sheet.title(
        "Balance", "Stock against cycles: what is left over is loss, leak or a cycle not logged."
    )
    sheet.write("B5", "Gas", "column")
    sheet.write("H8", '="Gas, "&U_amount', "hidden")
    for letter, tank in zip("CD", TANKS, strict=True):
        sheet.write(f"{letter}5", f'=Tank_{tank}_gas&""', "column")
    lines = _balance_lines()
    for row, line in enumerate(lines, 6):
        sheet.write(f"B{row}", line.label, "total" if line.style == "total" else "label")
        sheet.write(f"E{row}", line.unit, "unit")
        for letter, tank in zip("CD", TANKS, strict=True):
            formula = line.formula.format(t=tank, c=letter)
            sheet.write(f"{letter}{row}", formula, line.style, line.number)
            book.name(f"{line.name}_{tank}", sheet.name, f"{letter}{row}")
    end = 6 + len(lines)
    sheet.write(f"B{end + 1}", "Rows that cannot be calculated", "label")
    wrong = "+".join(f'COUNTIF({table}[Check],"{WRONG}")' for table in _RECORDS)
    sheet.write(f"C{end + 1}", f"={wrong}", "value", "whole")
    book.name("Rows_wrong", sheet.name, f"C{end + 1}")
    sheet.merged(f"B{end + 3}:E{end + 5}", _lost_words(), "check")
    book.name("Lost_words", sheet.name, f"B{end + 3}")
    sheet.merged(f"B{end + 6}:E{end + 10}", WHERE_TO_LOOK, "note")
    sheet.merged(f"B{end + 11}:E{end + 12}", WENT_SOMEWHERE, "caution")
    sheet.hide_errors(f"C6:D{end}")
    _by_month(book, sheet, end + 15)


WHERE_TO_LOOK = (
    "Where to look, easiest first: cycles, purges and lines blown down that nobody logged; a gauge "
    "misread at either end of the month; vapour that the tank vents on idle days, up to its "
    "evaporation rate; a relief valve that does not reseat; a leak. A leak shows on an idle night: "
    "shut the supply and watch the pressure fall (Leak and dew point log). The leak rate is what "
    "one steady leak would have to be, at 20 °C."
)
WENT_SOMEWHERE = (
    "Gas that is lost went somewhere: measure the oxygen, with hydrogen the flammable gas too, "
    "before anyone enters a pit, a cellar or a closed room on its way."
)


def _lost_words() -> str:
    """What no cycle explains, as a sentence; where cycles used more than left, that."""
    lost = [
        f'TEXT(Unexplained_{t},"#,##0")&" "&U_amount&" of "&Tank_{t}_gas&" ("&'
        f'TEXT(Unexplained_share_{t},"0.0%")&", "&Currency&" "&TEXT(Unexplained_cost_{t},"#,##0")&'
        f'", a leak of "&TEXT(Leak_{t},"0.0")&" "&U_leak&")"'
        for t in TANKS
    ]
    alone = [
        f'IF(Unexplained_{t}<-0.5,"The cycles used "&TEXT(-Unexplained_{t},"#,##0")&" "&U_amount&'
        f'" more "&Tank_{t}_gas&" than left its tank: check readings, deliveries and log.",'
        f'"No cycle explains "&{words}&".")'
        for t, words in zip(TANKS, lost, strict=True)
    ]
    return (
        '=IF(ISERROR(Leak_1+Leak_2),"Not known yet.",IF(MIN(Unexplained_1,Unexplained_2)<-0.5,'
        f'{alone[0]}&" "&{alone[1]},"No cycle explains "&{lost[0]}&" and "&{lost[1]}&"."))'
    )


_RECORDS = ("Furnaces", "Steps", "Log", "Deliveries", "Plan")
"""Records whose last column says whether the row could be calculated."""


class _Line(NamedTuple):
    """A line of the balance: in `formula`, {t} stands for the tank and {c} for its column."""

    label: str
    unit: str
    number: str
    style: str
    name: str
    formula: str


def _balance_lines() -> list[_Line]:
    stock = "GAS_FROM_LIQUID(Tank_{{t}}_gas,Tank_{{t}}_{}_used,Tank_{{t}}_pressure_used,,U_amount)"
    delivered = (
        'SUMIFS(Deliveries[As gas],Deliveries[Gas],Tank_{t}_gas,Deliveries[Date],">="&Month,'
        'Deliveries[Date],"<"&EDATE(Month,1))'
    )
    metric = 'GAS_CONVERT({c}%d,U_amount,"Nm3",{c}5)'
    unexplained = "GAS_UNACCOUNTED({c}6,{c}7,{c}8,{c}10)"
    stocks = ",".join(metric % row for row in (6, 7, 8, 10))
    leak = f"GAS_UNACCOUNTED_LEAK({stocks},EDATE(Month,1)-Month,,U_leak)"
    return [
        _Line(
            "Opening stock",
            "=U_amount",
            "whole",
            "value",
            "Opening_gas",
            "=" + stock.format("opening"),
        ),
        _Line(
            "Delivered",
            "=U_amount",
            "whole",
            "value",
            "Delivered",
            f"=IF({UNKNOWN},NA(),{delivered})",
        ),
        _Line(
            "Closing stock",
            "=U_amount",
            "whole",
            "value",
            "Closing_gas",
            "=" + stock.format("closing"),
        ),
        _Line("Left the tank", "=U_amount", "whole", "total", "Left", "={c}6+{c}7-{c}8"),
        _Line("Used by cycles", "=U_amount", "whole", "value", "Cycles", "=Used_{t}"),
        _Line(
            "Explained by no cycle", "=U_amount", "whole", "total", "Unexplained", f"={unexplained}"
        ),
        _Line(
            "as a share of what left",
            "",
            "percent",
            "value",
            "Unexplained_share",
            "=IF({c}9<=0,0,{c}11/{c}9)",
        ),
        _Line(
            "as a cost",
            '=Currency&""',
            "whole",
            "value",
            "Unexplained_cost",
            "={c}11*GAS_PRICE(Tank_{t}_price,U_price_per,U_amount,{c}5)",
        ),
        _Line("as one steady leak", "=U_leak", "one", "value", "Leak", f"={leak}"),
        _Line(
            "as mean loads that nobody logged",
            "loads",
            "one",
            "value",
            "Loads_missing",
            "=IF(Used_{t}=0,NA(),{c}11*Loads_{t}/Used_{t})",
        ),
        _Line(
            "as liquid a day: compare the tank's evaporation",
            "=U_liquid",
            "one",
            "value",
            "Lost_liquid",
            "=SIGN({c}11)*GAS_TO_LIQUID({c}5,ABS("
            + metric % 11
            + "),Tank_{t}_pressure_used,,U_liquid)/(EDATE(Month,1)-Month)",
        ),
        _Line(
            "Planned for next month",
            "=U_amount",
            "whole",
            "value",
            "Planned",
            "=IF(Rows_wrong>0,NA(),SUMIFS(Plan[Use],Plan[Gas],{c}5))",
        ),
        _Line(
            "with the same share unexplained",
            "=U_amount",
            "whole",
            "total",
            "Need",
            "=IF(OR({c}10>0,{c}9<=0),{c}17/(1-MAX(0,{c}12)),NA())",
        ),
        _Line(
            "as liquid to order",
            "=U_liquid",
            "whole",
            "total",
            "Need_liquid",
            "=GAS_TO_LIQUID({c}5," + metric % 18 + ",Tank_{t}_pressure_used,,U_liquid)",
        ),
    ]


def _by_month(book: Book, sheet: Sheet, top: int) -> None:
    sheet.write(f"B{top}", "Used by cycles and delivered, by month", "heading")
    sheet.write(f"B{top + 1}", "Month", "column")
    for letter, text in zip(
        "CDEF",
        (f'=IF({letter}5="","tank {tank}",{letter}5)&", {what}"'
         for letter, tank in zip("CD", TANKS, strict=True) for what in ("cycles", "delivered")),
        strict=True,
    ):  # fmt: skip
        sheet.write(f"{letter}{top + 1}", text, "column")
    sheet.ws.set_row(top, 32)
    for index in range(12):
        row = top + 2 + index
        sheet.write(
            f"B{row}", f'=IF(Month="","",DATE(YEAR(Month),{index + 1},1))', "value", "month"
        )
        for letter, record, column, tank in (
            ("C", "Log", "Use", 1), ("D", "Deliveries", "As gas", 1),
            ("E", "Log", "Use", 2), ("F", "Deliveries", "As gas", 2),
        ):  # fmt: skip
            total = (
                f"SUMIFS({record}[{column}],{record}[Gas],Tank_{tank}_gas,"
                f'{record}[Date],">="&$B{row},{record}[Date],"<"&EDATE($B{row},1))'
            )
            sheet.write(
                f"{letter}{row}",
                f'=IF($B{row}="","",IF(Rows_wrong>0,NA(),{total}))',
                "value",
                "whole",
            )
    chart = new_chart(
        book, "column", "Used by cycles and delivered, by month", "Month", "=Balance!$H$8",
        x={"num_format": "mmm"}, y={"num_format": "#,##0"},
    )  # fmt: skip
    for index, letter in enumerate("CDEF"):
        chart.add_series(
            {
                "name": f"=Balance!${letter}${top + 1}",
                "categories": f"=Balance!$B${top + 2}:$B${top + 13}",
                "values": f"=Balance!${letter}${top + 2}:${letter}${top + 13}",
                "fill": {"color": look.SERIES[index]},
                "gap": 60,
            }
        )
    sheet.hide_errors(f"B{top + 2}:F{top + 13}")
    sheet.chart("H5", chart, 640, 400)
