"""Bulk tank reorder: tanks, how they are supplied, who draws from them, and what is typed daily."""

from __future__ import annotations

from gasfuncs.calculations.tank_shape import HEADS
from gasfuncs.workbooks.sheets.parts import Column, Rule, Table, helper, made
from gasfuncs.workbooks.sheets.standard import (
    GASES,
    VALID_FROM,
    conforms,
    nth_new,
    valid_from,
    version_of,
)

LONGEST_LEAD = 28
"""Days from order to delivery."""
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
LIQUID, OF_VOLUME, OF_HEIGHT = "liquid", "% of volume", "% of height"
GAUGES = (LIQUID, "mbar", "inH2O", "mm", "in", OF_VOLUME, OF_HEIGHT)
"""What a level gauge shows; Level itself is typed as liquid."""
HISTORY, LOADS = "history", "loads"

TANKS = Table(
    "Tanks",
    (
        Column("Tank", prompt="Its name in this book, for example N2 tank"),
        VALID_FROM,
        Column("Gas", choices=GASES, prompt="What it holds"),
        Column("Capacity", "liquid", "All that the inner vessel holds, from its data plate", low=1),
        Column(
            "Most fill",
            "share",
            "Highest fill that its maker allows, of the capacity; 95 is common practice",
            low=50,
            high=98,
        ),
        Column(
            "Reserve",
            "liquid",
            "What must stay in it to keep the pressure up and the plant running until help comes",
            low=0,
        ),
        Column("Evaporation", "share", "Of the full tank in a day, by its data sheet", high=5),
        Column(
            "Use by",
            choices=(HISTORY, LOADS),
            width=10,
            prompt="history: what left the tank, by its levels, losses in it; loads: the list of "
            "Users, with evaporation",
        ),
        Column(
            "Gauge shows",
            choices=GAUGES,
            prompt="liquid: the level is typed as liquid; else the unit of its gauge, and the "
            "inner size is typed too",
        ),
        Column(
            "Diameter",
            "length",
            "Inner vessel, by its drawing, for example {1.9 length}",
            low=0.1,
            required=False,
        ),
        Column(
            "Length",
            "length",
            "Its cylinder between the heads, for example {4 length}",
            low=0,
            high=40,
            required=False,
        ),
        Column(
            "Position", choices=("vertical", "horizontal"), prompt="How it stands", required=False
        ),
        Column("Heads", choices=tuple(HEADS), prompt="By its drawing", required=False, width=18),
        *valid_from("Tank"),
        helper("New tank", nth_new("Tanks", "Tank")),
        helper("Across", "{Diameter as m}"),
        helper("Long", "{Length as m}"),
    ),
    heading="Tanks",
    rows=24,
    unique=("Tank", "Valid from"),
    rules=(
        Rule(
            "{Reserve}>={Most fill}/100*{Capacity}",
            "the reserve is as much as the tank may be filled to",
        ),
        Rule(
            f'AND({{Gauge shows}}<>"{LIQUID}",{{Gauge shows}}<>"{OF_VOLUME}",'
            "COUNT({Diameter},{Length})<2)",
            "that gauge needs Diameter and Length",
        ),
    ),
)

SUPPLY = Table(
    "Supply",
    (
        Column("Tank", choices="Tanks.Tank", prompt="As on Tanks"),
        Column("Supplier", prompt="Whom to call"),
        Column("Truck", "liquid", "What a truck brings at most, as its ticket counts it", low=1),
        Column(
            "Least load", "liquid", "Least that it comes for; blank for any", low=0, required=False
        ),
        Column(
            "Lead",
            "days",
            "Days from order to delivery, the supplier's word; from five orders on the book takes "
            "what they took",
            low=0.5,
            high=LONGEST_LEAD,
        ),
        Column("Lead varies by", "days", "Standard deviation; 1 where nobody knows", high=14),
        Column("Orders taken", prompt="Weekdays, for example Mon-Fri"),
        Column("Trucks come", prompt="Weekdays, for example Mon-Sat or Tue, Thu"),
        Column(
            "Service",
            "share",
            "Chance wanted of not reaching the reserve before a truck; what a stop costs decides. "
            "For example 98",
            low=50,
            high=99.99,
        ),
        Column("Delivery costs", "money", "Charge of each delivery", low=0, required=False),
        Column("Call costs", "money", "Charge of an emergency call", low=0, required=False),
        made(
            "Orders from",
            "date",
            "GAS_REORDER_DATE(Plan_day,0,1,1,0,{Orders taken},{Trucks come},{Closed.No truck})",
            result=True,
            number="day",
        ),
        made(
            "Trucks from",
            "date",
            'GAS_REORDER_DATE(Plan_day,0,1,1,0,{Trucks come},"",{Closed.No truck})',
            result=True,
            number="day",
        ),
    ),
    heading="Supply",
    rows=12,
    unique=("Tank",),
    rules=(Rule("N({Least load})>{Truck}", "the least load is more than a truck brings"),),
)

CLOSED = Table(
    "Closed",
    (
        Column("Date", "date", "A holiday, a day off, an extra shift"),
        Column(
            "Use",
            "share",
            "Of what the weekday uses: 0 for a day off, 150 for an extra shift; blank: as usual",
            low=0,
            high=1000,
            required=False,
        ),
        Column(
            "Trucks",
            choices=("none", "as usual"),
            prompt="none: no orders are taken and no truck comes",
        ),
        Column("Remark", prompt="For whoever reads it", required=False, width=30),
        helper("Past", 'IF(AND(ISNUMBER({Use}),{Date}<Plan_day),{Date},"")'),
        helper("No truck", 'IF({Trucks}="none",{Date},"")'),
    ),
    heading="Days that are not as their weekday is",
    rows=120,
    unique=("Date",),
)

READINGS = Table(
    "Readings",
    (
        Column("Date", "date", "The morning on which it was read; a time of day may follow"),
        Column("Tank", choices="Tanks.Tank", prompt="As on Tanks"),
        Column("Level", "liquid", "Liquid in the tank, by its gauge", low=0, required=False),
        Column("Pressure", "gauge", "Tank gauge", low=0, high=40),
        Column(
            "Gauge",
            "number",
            "Where the gauge shows no liquid: what it shows, in the unit told on Tanks; for "
            "example 62",
            low=0,
            required=False,
        ),
        made("Gas", "text", "INDEX({Tanks.Gas},{Tank row})", width=11),
        made(
            "Liquid",
            "liquid",
            "IF(ISNUMBER({Level}),{Level},IF(ISNUMBER({Gauge}),{By gauge},NA()))",
            result=True,
        ),
        helper("Tank row", version_of("Tanks", "{Tank}", "{Date}"), number="whole"),
        helper("Size", "INDEX({Tanks.Capacity},{Tank row})", "liquid"),
        helper("Shows", "INDEX({Tanks.Gauge shows},{Tank row})", "text"),
        helper("Told", '{Gauge}&" "&{Shows}', "text"),
        helper(
            "Column",
            'IF(OR({Shows}="mbar",{Shows}="inH2O"),'
            'GAS_DP_LEVEL({Gas},{Told},{Bar},"","","","m"),"")',
        ),
        helper(
            "Height",
            'IF(ISNUMBER({Column}),{Column},IF({Shows}="% of height",{Gauge}&" %",{Told}))',
            "text",
        ),
        helper("Position", 'INDEX({Tanks.Position},{Tank row})&""', "text"),
        helper("Heads", 'INDEX({Tanks.Heads},{Tank row})&""', "text"),
        helper(
            "By height",
            "GAS_TANK_LIQUID({Height},INDEX({Tanks.Across},{Tank row}),INDEX({Tanks.Long},"
            "{Tank row}),{Position},{Heads},{unit liquid})",
            "liquid",
        ),
        helper(
            "By gauge",
            f'IF({{Shows}}="{OF_VOLUME}",{{Gauge}}/100*{{Size}},{{By height}})',
            "liquid",
        ),
        helper("Bar", "{Pressure as bar(a)}"),
        helper("Litres", "{Liquid as L(liq)}"),
    ),
    heading="Readings",
    log=True,
    unique=("Date", "Tank"),
    rules=(
        Rule("COUNT({Level},{Gauge})<1", "type Level, or what the gauge shows"),
        Rule("AND(ISNUMBER({Liquid}),N({Liquid})>{Size})", "more than the tank holds"),
    ),
)

ORDERS = Table(
    "Orders",
    (
        Column("Ordered", "date", "The day of the order"),
        Column("Tank", choices="Tanks.Tank", prompt="As on Tanks"),
        Column(
            "Delivered", "date", "The day the truck came; blank while it is awaited", required=False
        ),
        made("Took", "days", 'IF(ISNUMBER({Delivered}),{Delivered}-{Ordered},"")'),
        helper("Square", 'IF(ISNUMBER({Took}),{Took}^2,"")'),
        helper("Open", "IF(OR(ISNUMBER({Delivered}),{Ordered}>=Plan_day+1),0,1)", number="whole"),
        helper("Of shown", 'IF(AND(ISNUMBER({Took}),{Tank}=Shown_tank,{Check}="ok"),{Took},"")'),
    ),
    heading="Orders",
    rows=200,
    log=True,
    unique=("Ordered", "Tank"),
    rules=(
        Rule("AND(ISNUMBER({Delivered}),{Delivered}<{Ordered})", "Delivered is before Ordered"),
    ),
)

USERS = Table(
    "Users",
    (
        Column("User", prompt="A furnace or what else draws gas"),
        Column("Tank", choices="Tanks.Tank", prompt="The tank that it draws from"),
        Column("Gas per load", "amount", "Monthly gas use, sheet Gas per load", low=0),
        Column("Largest draw", "flow", "While a reservoir is recharged, for example", low=0),
        *(
            Column(day, "number", "Loads on that weekday, in the mean", low=0, high=200, width=7)
            for day in WEEKDAYS
        ),
        made("Loads a week", "number", "SUM({Mon:Sun})", number="one"),
        made("Gas a week", "amount", "{Gas per load}*{Loads a week}", result=True),
        *(
            helper(f"On {number}", f"{{Gas per load}}*{{{day}}}", "amount")
            for number, day in enumerate(WEEKDAYS, 1)
        ),
    ),
    heading="Users",
    rows=40,
    unique=("User", "Tank"),
)

EQUIPMENT = Table(
    "Equipment",
    (
        Column("Tank", choices="Tanks.Tank", prompt="As on Tanks"),
        Column("Rating", "flow", "Its vaporizer's plate, for the hours without defrosting", low=1),
        Column(
            "Coldest gas",
            "temperature",
            "Lowest gas temperature allowed behind it; carbon steel bears {-20 temperature} to "
            "{-29 temperature} at most",
            low=-60,
            high=40,
        ),
        Column("Cylinders", "count", "Cylinders or bundles of the backup", high=500),
        Column(
            "Volume of one",
            "volume",
            "Inner volume: cylinder 0.05 m3, bundle of 12 0.6 m3",
            low=0.001,
            high=50,
        ),
        Column("Full", "gauge", "Its pressure when full, at {15 temperature}", low=1, high=400),
        Column("Empty", "gauge", "Pressure at which it serves no more", low=0, high=300),
        made("Draw", "flow", 'SUMIFS({Users.Largest draw},{Users.Tank},{Tank},{Users.Check},"ok")'),
        made("Draw share", "share", "100*{Draw}/{Rating}", number="whole"),
        made(
            "Within",
            "text",
            conforms("{Draw}", "{Draw}*Draw_tolerance/196", "{Rating}"),
        ),
        made(
            "One more",
            "share",
            '100*({Draw}+MAXIFS({Users.Largest draw},{Users.Tank},{Tank},{Users.Check},"ok"))'
            "/{Rating}",
            number="whole",
        ),
        made(
            "Heat in kW",
            "number",
            "GAS_VAPORIZER_DUTY({Gas},{Draw at},{Bar},{Coldest})",
            number="one",
        ),
        made("Backup gas", "amount", "{Cylinders}*{Of one}"),
        made("Use a day", "amount", "INDEX({By.Drawn},{Row})", number="whole"),
        made("Backup days", "days", "GAS_DAYS_LEFT({Backup gas},{Use a day})"),
        made("At the draw", "hours", 'IF({Draw}>0,{Backup gas}/{Draw},"")', number="one"),
        helper("Row", "MATCH({Tank},{By.Tank},0)", number="whole"),
        helper("Gas", "INDEX({By.Gas},{Row})", "text"),
        helper("Bar", "INDEX({By.Bar},{Row})"),
        helper("Coldest", "{Coldest gas as degC}"),
        helper("Draw at", "{Draw as Nm3/h}"),
        helper("High", "{Full as bar(a)}"),
        helper("Low", "{Empty as bar(a)}"),
        helper("Space", "{Volume of one as m3}"),
        helper("Of one", 'GAS_DRAWN({Gas},{Space},{High},{Low},15,"",{unit amount})', "amount"),
    ),
    heading="Vaporizers and backups",
    rows=8,
    unique=("Tank",),
    rules=(Rule("{Empty}>={Full}", "Empty is not below Full"),),
)
