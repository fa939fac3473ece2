"""Argon or nitrogen: what the same load costs with either gas, and at what price that turns."""

from __future__ import annotations

import datetime as dt

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
from gasfuncs.workbooks.inputs import Group, Input, inputs_sheet
from gasfuncs.workbooks.start import CAUTIONS, KeyNumber, sources_sheet, start_sheet

NAME = "argon_nitrogen_cost"
TITLE = "Argon or nitrogen"
QUESTION = "What does a load cost in argon rather than nitrogen, and at what price does that turn?"
FUNCTIONS = (
    "GAS_BACKFILL", "GAS_HOLD_USE", "GAS_FLOW_USE", "GAS_PRICE", "GAS_LOAD_COST",
    "GAS_PRICE_PARITY", "GAS_FROM_LIQUID", "GAS_CONVERT",
)  # fmt: skip

GASES = ("nitrogen", "argon")
COLUMN = {"nitrogen": "C", "argon": "D"}
"""Where each gas stands on Compare."""

BUY_UNITS = ("Nm3", "Sm3", "m3(15C,1bar)", "scf", "100 scf", "kg", "lb", "L(liq)", "gal(liq)")

MONEY = '=Currency&""'
"""The unit of a cost: blank while no currency is typed."""

USUAL, ASK, NO = "usual", "ask", "not an option"
MATERIALS = (
    ("carbon or low-alloy steel", USUAL, "Takes up little nitrogen in the times of a quench."),
    ("tool or high-speed steel", USUAL, "Nitrogen is the usual quench gas."),
    ("martensitic stainless steel", ASK,
     "Often quenched in nitrogen; hot and long holds may take it up."),
    ("austenitic stainless steel", ASK,
     "Takes up nitrogen at high temperature; chromium nitrides cost corrosion resistance."),
    ("stabilized stainless steel", NO,
     "Titanium and niobium bind nitrogen: the stabilizing is lost, brazing suffers."),
    ("superalloy without Ti or Al", ASK, "Chromium may form nitrides."),
    ("superalloy with Ti or Al", NO,
     "Forms nitrides: hardening suffers, filler metal does not wet."),
    ("titanium alloy", NO, "Forms a hard, brittle nitride case."),
    ("zirconium or niobium", NO, "Take up nitrogen and turn brittle."),
    ("another material", ASK, "Not listed here."),
)  # fmt: skip
"""Material, whether nitrogen goes with it, why. Common practice, no standard."""

NO_WORD, ALLOWED, ARGON_ONLY = "not asked", "nitrogen is allowed", "argon only"

PARTS = ("Gas used", "Gas lost", "Delivery", "Rental")
SHARES = (0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2)
"""Of the value now, in the tables of Sensitivity."""


def build(book: Book, units: str, *, filled: bool) -> None:
    """Write every sheet; `filled` with a load of the demo plant, else empty."""
    start_sheet(book, QUESTION, _answer(), _key_numbers(), _STEPS)
    inputs_sheet(book, _inputs(units), units, filled=filled)
    _prices(book, filled)
    _compare(book)
    _sensitivity(book)
    _parity(book)
    _material(book)
    sources_sheet(book, FUNCTIONS)


_STEPS = (
    "Choose the units and fill in the Inputs sheet: the load, its material, the two supplies.",
    "Type each price on Prices as it was quoted, for any unit; the newest one is used.",
    "Compare shows the cost of a load by part, of a month and of a year.",
    "Sensitivity shows what the argon price, the loads and the backfill pressure do; Parity the "
    "prices at which both gases cost the same.",
    "Read Material: where nitrides form, nitrogen is not an option at any price.",
)


def _inputs(units: str) -> tuple[Group, ...]:
    monthly = '=Currency&" a month"'
    comparison = Group(
        "Comparison",
        (
            Input("Compare_on", "Day of the comparison", dt.date(2026, 11, 2),
                  "The newest price up to this day is used", number="date", low=36526, high=73050),
            Input("Currency", "Currency", demo.CURRENCY[units], "Shown beside every cost"),
            Input("Loads", "Loads a month of this kind", 24, "Production plan", "", 1, 10_000),
            Input("Material", "Material of the load", "tool or high-speed steel",
                  "Drawing or order; see Material", choices=tuple(m[0] for m in MATERIALS)),
            Input("Word", "The metallurgist's word on nitrogen", NO_WORD,
                  "Ask, and write down the answer", choices=(NO_WORD, ALLOWED, ARGON_ONLY)),
        ),
    )  # fmt: skip
    load = Group(
        "The load",
        (
            Input("Volume", "Free volume of the furnace", demo.FURNACES[0].free_volume,
                  "Chamber less load; a fill that is metered tells it", "volume", 0.001, 1000,
                  "three"),
            Input("From", "Pressure before a backfill", 0.01, "Vacuum gauge", "vacuum", 0, 1000),
            Input("To", "Backfill pressure", 6, "Recipe; absolute", "pressure", 0.05, 25, "two"),
            Input("Backfills", "Backfills of a load", 1, "Recipe", "", 1, 20),
            Input("Settled", "Temperature of the settled gas", 20,
                  "Quenched load: near the water; 20 °C where not known", "temperature", -20, 300,
                  "one"),
            Input("Hold", "Pressure of a partial-pressure hold", 1, "Recipe", "vacuum", 0, 1000),
            Input("Pumping", "Pumping speed during the hold", 250, "Pump's curve at that pressure",
                  "pumping", 0.1, 100_000, "one"),
            Input("Hold_hours", "Length of the hold", 1.5, "Recipe; 0 for none", "h", 0, 100),
            Input("Flow", "Steady flow besides", 2, "Float meter, corrected for the gas", "flow",
                  0, 10_000, "two"),
            Input("Flow_hours", "Length of the flow", 0.5, "Recipe; 0 for none", "h", 0, 100),
        ),
    )  # fmt: skip
    numbers = {"nitrogen": (13.0, 6, 420, 95, 5500, 114), "argon": (13.0, 9, 180, 55, 800, 75)}
    supplies = tuple(
        Group(
            f"{gas.capitalize()} supply",
            (
                Input(f"{gas.capitalize()}_pressure", "Tank pressure", pressure,
                      "Tank gauge; add the air pressure to a gauge reading", "pressure", 1.1, 25,
                      "one"),
                Input(f"{gas.capitalize()}_loss", "Lost of what is bought", loss,
                      "Evaporation, venting, leaks; Monthly gas use tells it", "%", 0, 90),
                Input(f"{gas.capitalize()}_rental", "Tank rental and other fixed costs", rental,
                      "Supply contract", monthly, 0, 1e6),
                Input(f"{gas.capitalize()}_charge", "Charge for one delivery", charge,
                      "Delivery note; 0 where the price holds it", MONEY, 0, 1e5),
                Input(f"{gas.capitalize()}_delivered", "Delivered each time", delivered,
                      "Delivery notes", "liquid", 1, 50_000, "whole"),
                Input(f"{gas.capitalize()}_sharers", "Loads a month that share the fixed costs",
                      sharers, "All loads on this tank, with the ones compared", "", "=Loads",
                      100_000),
            ),
        )
        for gas, (pressure, loss, rental, charge, delivered, sharers) in numbers.items()
    )  # fmt: skip
    return (comparison, load, *supplies)


def _answer() -> str:
    def turn(gas: str) -> str:
        return (
            f'"with {gas.lower()} at "&Currency&" "&TEXT({gas}_parity,"0.000")&" per "&U_price_per'
            f'&" (now "&TEXT({gas}_price,"0.000")&")"'
        )

    same = (
        f'IF(NOT(ISNUMBER(Argon_parity)),"Even free argon would cost more; they cost the same "&'
        f'{turn("Nitrogen")}&".",IF(NOT(ISNUMBER(Nitrogen_parity)),"Even free nitrogen would '
        f'cost more; they cost the same "&{turn("Argon")}&".","They cost the same "&'
        f'{turn("Argon")}&", or "&{turn("Nitrogen")}&"."))'
    )
    return (
        '=IF(Inputs_ok<Inputs_total,"Some inputs are missing or out of range: see the check list '
        'on the Inputs sheet.",IF(Rows_wrong>0,Rows_wrong&" row(s) cannot be calculated: see the '
        'column Check on Prices.",IF(ISERROR(Nitrogen_price+Argon_price),"A price is missing: '
        'Prices needs one of each gas up to the day of the comparison.",'
        'IF(From_used>=1000*To_used,"The backfill pressure is not above the pressure before the '
        'backfill: see Inputs.",IF(ISERROR(Difference),"The load cannot be calculated: see '
        'Compare.",'
        'Material_words&"A load costs "&Currency&" "&TEXT(Argon_cost,"#,##0.00")&" in argon and "'
        '&Currency&" "&TEXT(Nitrogen_cost,"#,##0.00")&" in nitrogen: "&Currency&" "&'
        'TEXT(ABS(Difference),"#,##0.00")&IF(Difference<0," less"," more")&", "&Currency&" "&'
        'TEXT(ABS(Difference_year),"#,##0")&" a year. "&'
        f"{same})))))"
    )


def _key_numbers() -> tuple[KeyNumber, ...]:
    per = '=Currency&" per "&U_price_per'
    return (
        KeyNumber("A load in argon", "Argon_cost", MONEY, "money"),
        KeyNumber("A load in nitrogen", "Nitrogen_cost", MONEY, "money"),
        KeyNumber("Argon rather than nitrogen, a load", "Difference", MONEY, "money"),
        KeyNumber("a month", "Difference_month", MONEY, "whole"),
        KeyNumber("a year", "Difference_year", MONEY, "whole"),
        KeyNumber("Argon price at which both cost the same", "Argon_parity", per, "three"),
        KeyNumber("Nitrogen price at which both cost the same", "Nitrogen_parity", per, "three"),
        KeyNumber("Nitrogen with this material", "Verdict", "", "text"),
    )


PRICE_RECORD = (
    (dt.date(2025, 1, 1), "nitrogen", 0.085, "L(liq)", "contract of 2025"),
    (dt.date(2025, 1, 1), "argon", 0.49, "kg", "contract of 2025"),
    (dt.date(2026, 1, 1), "nitrogen", demo.PRICES["nitrogen"], "Nm3", "contract of 2026"),
    (dt.date(2026, 1, 1), "argon", demo.PRICES["argon"], "Nm3", "contract of 2026"),
)


def _prices(book: Book, filled: bool) -> None:
    sheet = book.sheet("Prices", [2, 16, 14, 12, 16, 32, 16, 14, 22, 3, 16])
    sheet.title(
        "Prices", "Every price as it was quoted: the date from which it holds, and for what."
    )
    any_typed = "COUNTA([@Date],[@Gas],[@Price],[@Per],[@Remark])=0"
    pressure = (
        'IF([@Gas]="nitrogen",Nitrogen_pressure_used,IF([@Gas]="argon",Argon_pressure_used,NA()))'
    )
    good = "AND(ISNUMBER([@Date]),ISNUMBER([@Price]))"
    newest = (
        'IF([@Gas]="nitrogen",[@Date]=Nitrogen_price_date,'
        'IF([@Gas]="argon",[@Date]=Argon_price_date,FALSE))'
    )
    sheet.table(
        "B5",
        "Prices",
        (
            TableColumn("Date", number="date", limits=("36526", "73050")),
            TableColumn("Gas", number="text", choices="=Price_gases"),
            TableColumn("Price", number="three", unit=MONEY, limits=("0", "1000000")),
            TableColumn("Per", number="text", choices="=Buy_units"),
            TableColumn("Remark", number="text"),
            TableColumn(
                "Compared",
                f'=IF({any_typed},"",IF({good},GAS_PRICE([@Price],[@Per],U_price_per,[@Gas],'
                f"{pressure}),NA()))",
                "three",
                '=Currency&" per "&U_price_per',
            ),
            TableColumn(
                "Used", f'=IF({any_typed},"",IFERROR(IF({newest},"in use",""),""))', "text"
            ),
            check_column(any_typed, "Compared"),
        ),
        [list(row) for row in PRICE_RECORD] if filled else [],
        spare=20 if filled else 24,
    )
    sheet.write("K5", "May be per", "column")
    for row, unit in enumerate(BUY_UNITS, 6):
        sheet.write(f"K{row}", unit, "value", "text")
    book.name("Buy_units", "Prices", f"K6:K{5 + len(BUY_UNITS)}")
    book.name("Price_gases", "Compare", "C5:D5")
    sheet.merged(
        "B3:I3",
        "A liquid is taken as saturated at the tank's pressure. Two prices of one gas from the "
        "same day count by their mean.",
        "note",
    )
    sheet.ws.freeze_panes(5, 0)
    sheet.ws.repeat_rows(3, 4)


def _compare(book: Book) -> None:
    sheet = book.sheet("Compare", [2, 44, 16, 16, 18, 44], landscape=False)
    sheet.title("Compare", "The same load with either gas: what it uses, and what that costs.")
    sheet.write("B5", "Gas", "column")
    for gas, letter in COLUMN.items():
        sheet.write(f"{letter}5", gas, "column")
    sheet.write("E5", "Unit", "column")
    sheet.write("F5", "Note", "column")
    row = 6
    for heading, lines in _lines():
        for letter, text in zip("BCDEF", (heading, "", "", "", ""), strict=True):
            sheet.write(f"{letter}{row}", text, "heading")
        for label, name, unit, number, formula, note in lines:
            row += 1
            total = name in ("cost", "used")
            sheet.write(f"B{row}", label, "total" if total else "label")
            sheet.write(f"E{row}", unit, "unit")
            sheet.write(f"F{row}", note, "remark")
            for gas, letter in COLUMN.items():
                other = GASES[1 - GASES.index(gas)]
                filled = (
                    formula.replace("{G}", gas.capitalize())
                    .replace("{O}", other.capitalize())
                    .replace("{c}", f"{letter}$5")
                )
                sheet.write(f"{letter}{row}", filled, "total" if total else "value", number)
                book.name(f"{gas.capitalize()}_{name}", "Compare", f"{letter}{row}")
            if label == PARTS[0]:
                parts = row
        row += 2
    sheet.hide_errors(f"C6:D{row}")
    row = _differences(book, sheet, row)
    sheet.write(f"E{row}", '=Currency&" a load"', "hidden")
    _parts_chart(book, sheet, row + 1, parts)


_Row = tuple[str, str, str, str, str, str]
"""Label, name, unit, number format, formula, note; {G} is the gas's name, {c} its cell."""


def _lines() -> tuple[tuple[str, tuple[_Row, ...]], ...]:
    per = '=Currency&" per "&U_price_per'
    date = 'MAXIFS(Prices[Date],Prices[Gas],{c},Prices[Date],"<="&Compare_on)'
    mean = "AVERAGEIFS(Prices[Compared],Prices[Gas],{c},Prices[Date],{G}_price_date)"
    low = 'GAS_CONVERT(From_used,"mbar","bar(a)")'
    hold = 'GAS_HOLD_USE({c},GAS_CONVERT(Hold_used,"mbar","bar(a)"),Pumping_used,Hold_hours,,'
    bought = "{G}_used/(1-{G}_loss/100)"
    return (
        (
            "Price",
            (
                ("In use since", "price_date", "", "date",
                 f"=IF(Rows_wrong>0,NA(),IF({date}>0,{date},NA()))", "The newest on Prices"),
                ("Price", "price", per, "three", f"={mean}", ""),
                ("Delivery, for the same quantity", "carriage", per, "three",
                 "=GAS_PRICE({G}_charge/GAS_FROM_LIQUID({c},{G}_delivered_used,{G}_pressure_used,"
                 ",U_amount),U_amount,U_price_per)", "Charge shared by what one delivery brings"),
            ),
        ),
        (
            "Gas of one load",
            (
                ("Backfills", "backfills", "=U_amount", "two",
                 f"=Backfills*GAS_BACKFILL({{c}},Volume_used,{low},To_used,Settled_used,,,,U_amount)",
                 ""),
                ("Partial-pressure hold", "hold", "=U_amount", "two",
                 f"=IF(Hold_hours*Hold=0,0,{hold}U_amount))", ""),
                ("Steady flow", "flow", "=U_amount", "two",
                 "=GAS_FLOW_USE(Flow_used,Flow_hours,U_amount)", ""),
                ("Used", "used", "=U_amount", "two", "={G}_backfills+{G}_hold+{G}_flow", ""),
                ("Bought for it", "bought", "=U_amount", "two", f"={bought}",
                 "More than is used by what is lost on the way"),
            ),
        ),
        (
            "Cost of one load",
            (
                (PARTS[0], "cost_used", MONEY, "money",
                 "=GAS_LOAD_COST({G}_used,{G}_unit_price)", ""),
                (PARTS[1], "cost_lost", MONEY, "money",
                 "=GAS_LOAD_COST({G}_used,{G}_unit_price,{G}_loss/100)-{G}_cost_used", ""),
                (PARTS[2], "cost_carried", MONEY, "money",
                 "=GAS_LOAD_COST({G}_used,{G}_unit_carriage,{G}_loss/100)", ""),
                (PARTS[3], "cost_fixed", MONEY, "money", "={G}_rental/{G}_sharers",
                 "Shared by all loads on the tank"),
                ("A load", "cost", MONEY, "money",
                 "=GAS_LOAD_COST({G}_used,{G}_unit_price+{G}_unit_carriage,{G}_loss/100,{G}_rental,"
                 "{G}_sharers)", ""),
                ("A month", "month", MONEY, "whole", "=Loads*{G}_cost", ""),
                ("A year", "year", MONEY, "whole", "=12*{G}_month", ""),
            ),
        ),
        (
            "At what price it turns",
            (
                ("Price of one unit of gas", "unit_price", '=Currency&" per "&U_amount', "four",
                 "=GAS_PRICE({G}_price,U_price_per,U_amount)", ""),
                ("Delivery of one unit of gas", "unit_carriage", '=Currency&" per "&U_amount',
                 "four", "=GAS_PRICE({G}_carriage,U_price_per,U_amount)", ""),
                ("Price at which both gases cost the same", "parity", per, "three",
                 "=GAS_PRICE(GAS_PRICE_PARITY({O}_bought,{O}_cost/{O}_bought,{G}_bought,"
                 "{G}_cost_carried+{G}_cost_fixed),U_amount,U_price_per)",
                 "Blank where even free this gas would cost more"),
                ("as a share of the price now", "parity_share", "", "percent",
                 "={G}_parity/{G}_price", ""),
                ("Deliveries a month for these loads", "deliveries", "", "two",
                 "=Loads*{G}_bought/GAS_FROM_LIQUID({c},{G}_delivered_used,{G}_pressure_used,"
                 ",U_amount)", ""),
            ),
        ),
    )  # fmt: skip


def _differences(book: Book, sheet: Sheet, row: int) -> int:
    """Argon less nitrogen: a load, a month, a year; gives the row after them."""
    sheet.write(f"B{row}", "Argon rather than nitrogen", "heading")
    for label, name, of in (
        ("A load", "Difference", "cost"), ("A month", "Difference_month", "month"),
        ("A year", "Difference_year", "year"),
    ):  # fmt: skip
        row += 1
        sheet.write(f"B{row}", label, "label")
        number = "money" if of == "cost" else "whole"
        sheet.write(f"C{row}", f"=Argon_{of}-Nitrogen_{of}", "value", number)
        sheet.write(f"E{row}", MONEY, "unit")
        book.name(name, "Compare", f"C{row}")
    sheet.hide_errors(f"C{row - 2}:C{row}")
    row += 2
    sheet.write(f"B{row}", "Rows of Prices that cannot be calculated", "label")
    sheet.write(f"C{row}", f'=COUNTIF(Prices[Check],"{WRONG}")', "value", "whole")
    book.name("Rows_wrong", "Compare", f"C{row}")
    return row + 2


def _parts_chart(book: Book, sheet: Sheet, row: int, first: int) -> None:
    chart = new_chart(
        book, "column", "Cost of a load by part", "Gas", f"=Compare!$E${row - 1}",
        subtype="stacked", y={"num_format": "#,##0"},
    )  # fmt: skip
    for index in range(len(PARTS)):
        at = first + index
        chart.add_series(
            {
                "name": f"=Compare!$B${at}", "categories": "=Compare!$C$5:$D$5",
                "values": f"=Compare!$C${at}:$D${at}", "fill": {"color": look.SERIES[index]},
                "border": {"color": look.PAPER, "width": 0.5}, "gap": 80,
            }
        )  # fmt: skip
    sheet.chart(f"B{row}", chart, 760, 360)


def _cost(gas: str, used: str = "", price: str = "", sharers: str = "") -> str:
    """A load's cost with a gas, where one thing is another than on Compare."""
    gas = gas.capitalize()
    return (
        f"GAS_LOAD_COST({used or f'{gas}_used'},{price or f'{gas}_unit_price'}+{gas}_unit_carriage,"
        f"{gas}_loss/100,{gas}_rental,{sharers or f'{gas}_sharers'})"
    )


def _sensitivity(book: Book) -> None:
    sheet = book.sheet("Sensitivity", [2, 14, 17, 13, 13, 15, 3, *[13] * 5], landscape=False)
    sheet.title("Sensitivity", "One thing changes, all else stays: the cost of a load with either.")
    sheet.write("H3", '=Currency&" a load"', "hidden")
    price = "GAS_PRICE(C{row},U_price_per,U_amount)"
    sharers = "MAX(C{row},{G}_sharers-Loads+C{row})"
    used = (
        'Backfills*GAS_BACKFILL("{g}",Volume_used,GAS_CONVERT(From_used,"mbar","bar(a)"),'
        'GAS_CONVERT(C{row},U_pressure,"bar(a)"),Settled_used,,,,U_amount)+{G}_hold+{G}_flow'
    )
    sections = (
        ("Argon price", "Argon_price", '=Currency&" per "&U_price_per', "three",
         _cost("argon", price=price), _cost("nitrogen"), SHARES),
        ("Loads a month", "Loads", "", "one",
         _cost("argon", sharers=sharers.replace("{G}", "Argon")),
         _cost("nitrogen", sharers=sharers.replace("{G}", "Nitrogen")), SHARES[1:]),
        ("Backfill pressure", "To", "=U_pressure", "two",
         _cost("argon", used=used.replace("{g}", "argon").replace("{G}", "Argon")),
         _cost("nitrogen", used=used.replace("{g}", "nitrogen").replace("{G}", "Nitrogen")),
         SHARES[1:]),
    )  # fmt: skip
    top = 5
    for label, now, unit, number, argon, nitrogen, shares in sections:
        sheet.write(f"B{top}", label, "heading")
        sheet.write(f"C{top + 1}", unit, "unit")
        for letter in "DEF":
            sheet.write(f"{letter}{top + 1}", MONEY, "unit")
        heads = ("Of now", label, "Argon", "Nitrogen", "Argon less nitrogen")
        for letter, text in zip("BCDEF", heads, strict=True):
            sheet.write(f"{letter}{top + 2}", text, "column")
        sheet.ws.set_row(top + 1, 32)
        for row, share in enumerate(shares, top + 3):
            sheet.write(f"B{row}", share, "value", "share")
            sheet.write(f"C{row}", f"=B{row}*{now}", "value", number)
            sheet.write(f"D{row}", "=" + argon.replace("{row}", str(row)), "value", "money")
            sheet.write(f"E{row}", "=" + nitrogen.replace("{row}", str(row)), "value", "money")
            sheet.write(f"F{row}", f"=D{row}-E{row}", "value", "money")
        first, last = top + 3, top + 2 + len(shares)
        sheet.hide_errors(f"C{first}:F{last}")
        sheet.write(
            f"B{last + 1}",
            f'="{label}"' + (f'&", "&C{top + 1}' if unit else ""),
            "hidden",
        )
        sheet.book.name(f"{label.replace(' ', '_')}_costs", "Sensitivity", f"C{first}:F{last}")
        _sensitivity_chart(book, sheet, label, (top, first, last))
        top += 18


def _sensitivity_chart(book: Book, sheet: Sheet, label: str, rows: tuple[int, int, int]) -> None:
    top, first, last = rows
    chart = new_chart(
        book, "scatter", f"Cost of a load against the {label.lower()}",
        f"=Sensitivity!$B${last + 1}", "=Sensitivity!$H$3", subtype="straight_with_markers",
        y={"num_format": "#,##0", "min": 0}, x={"min": 0},
    )  # fmt: skip
    for letter, gas, colour, shape in (
        ("D", "Argon", look.SERIES[1], "circle"), ("E", "Nitrogen", look.SERIES[0], "square"),
    ):  # fmt: skip
        chart.add_series(
            {
                "name": gas, "categories": f"=Sensitivity!$C${first}:$C${last}",
                "values": f"=Sensitivity!${letter}${first}:${letter}${last}",
                "line": {"color": colour, "width": 2},
                "marker": {"type": shape, "size": 5, "fill": {"color": colour},
                           "border": {"color": colour}},
            }
        )  # fmt: skip
    sheet.chart(f"H{top}", chart, 500, 330)


def _parity(book: Book) -> None:
    sheet = book.sheet("Parity", [2, 30, 24, 3, *[14] * 6])
    sheet.title(
        "Parity", "The argon price at which a load costs the same, for each price of nitrogen."
    )
    per = '=Currency&" per "&U_price_per'
    for letter, text in (("B", "Nitrogen price"), ("C", "Argon price, cost the same")):
        sheet.write(f"{letter}5", text, "column")
        sheet.write(f"{letter}4", per, "unit")
    points = 13
    last = 5 + points
    for row in range(6, last + 1):
        most = "MAX(2*Nitrogen_price,IFERROR(1.25*Nitrogen_parity,0))"
        sheet.write(f"B{row}", f"={(row - 6) / (points - 1)}*{most}", "value", "three")
        nitrogen = _cost("nitrogen", price=f"GAS_PRICE(B{row},U_price_per,U_amount)")
        parity = (
            f"GAS_PRICE_PARITY(Nitrogen_bought,{nitrogen}/Nitrogen_bought,Argon_bought,"
            "Argon_cost_carried+Argon_cost_fixed)"
        )
        sheet.write(
            f"C{row}",
            "=" + number_or(f"GAS_PRICE({parity},U_amount,U_price_per)"),
            "value",
            "three",
        )
    sheet.write(f"B{last + 2}", "Now: nitrogen", "label")
    sheet.write(f"C{last + 2}", "=Nitrogen_price", "value", "three")
    sheet.write(f"B{last + 3}", "Now: argon", "label")
    sheet.write(f"C{last + 3}", "=Argon_price", "value", "three")
    sheet.hide_errors(f"B6:C{last + 3}")
    sheet.write(f"B{last + 7}", '="Nitrogen, "&B4', "hidden")
    sheet.write(f"B{last + 8}", '="Argon, "&B4', "hidden")
    sheet.merged(
        f"B{last + 5}:C{last + 5}",
        "Blank where even free argon would cost more at that nitrogen price.", "note",
    )  # fmt: skip
    chart = new_chart(
        book, "scatter", "Above the line nitrogen is the cheaper, below it argon",
        f"=Parity!$B${last + 7}", f"=Parity!$B${last + 8}", subtype="straight",
        x={"min": 0}, y={"min": 0},
    )  # fmt: skip
    chart.add_series(
        {
            "name": "Both cost the same", "categories": f"=Parity!$B$6:$B${last}",
            "values": f"=Parity!$C$6:$C${last}", "line": {"color": look.SERIES[0], "width": 2.25},
        }
    )  # fmt: skip
    chart.add_series(
        {
            "name": "Prices now", "categories": f"=Parity!$C${last + 2}",
            "values": f"=Parity!$C${last + 3}", "line": {"none": True},
            "marker": {"type": "diamond", "size": 12, "fill": {"color": look.SERIES[1]},
                       "border": {"color": look.INK}},
        }
    )  # fmt: skip
    chart.show_blanks_as("span")
    sheet.chart("E4", chart, 640, 440)


def _material(book: Book) -> None:
    sheet = book.sheet("Material", [2, 44, 18, 74])
    sheet.ws.fit_to_pages(1, 1)
    sheet.title("Material", "Where nitrides form, nitrogen is not an option at any price.")
    sheet.merged("B4:D4", "=Material_words&Material_end", "answer", height=50)
    for letter, text in zip("BCD", ("Material", "Nitrogen", "Why"), strict=True):
        sheet.write(f"{letter}6", text, "column")
    last = 6 + len(MATERIALS)
    for row, line in enumerate(MATERIALS, 7):
        for letter, text in zip("BCD", line, strict=True):
            sheet.write(f"{letter}{row}", text, "value", "text")
        sheet.ws.set_row(row - 1, 22)
    book.name("Material_names", "Material", f"B7:B{last}")
    book.name("Material_verdicts", "Material", f"C7:C{last}")
    sheet.merged(
        f"B{last + 2}:D{last + 2}",
        "Common practice in the trade, no standard: temperature, time and the part's use decide. "
        "A metallurgist's word stands above this list.",
        "note", height=22,
    )  # fmt: skip
    row = last + 4
    found = "INDEX(Material_verdicts,MATCH(Material,Material_names,0))"
    no = '"Nitrogen is not an option for "&Material&": nitrides form; ask a metallurgist. "'
    ask = '"Ask a metallurgist before "&Material&" meets nitrogen. "'
    words = (
        f'=IF(ISERROR(Listed),"",IF(Word="{ARGON_ONLY}","The metallurgist wants argon only. ",'
        f'IF(Word="{ALLOWED}",IF(Listed="{USUAL}","","The metallurgist allows nitrogen for "&'
        f'Material&". "),IF(Listed="{NO}",{no},IF(Listed="{ASK}",{ask},"")))))'
    )
    verdict = (
        f'=IF(Word="{ARGON_ONLY}","{NO}",IF(AND(Word="{ALLOWED}",ISTEXT(Listed)),"allowed",Listed))'
    )
    lines = (
        ("By the list", "Listed", f"={found}"),
        ("With the metallurgist's word", "Verdict", verdict),
        ("", "Material_words", words),
        ("", "Material_end",
         '=IF(ISERROR(Listed),"Choose the material on Inputs.",IF(Material_words="","Nitrogen is '
         'usual for "&Material&".",""))'),
    )  # fmt: skip
    for at, (label, name, formula) in enumerate(lines, row):
        sheet.write(f"B{at}", label, "label")
        if name in ("Listed", "Verdict"):
            sheet.write(f"C{at}", formula, "value", "text")
            book.name(name, "Material", f"C{at}")
        else:
            sheet.merged(f"C{at}:D{at}", formula, "hidden")
            book.name(name, "Material", f"C{at}")
    sheet.hide_errors(f"C{row}:C{row + 1}")
    for at, caution in enumerate(CAUTIONS[:1], row + 5):
        sheet.merged(f"B{at}:D{at}", caution, "caution", height=32)
