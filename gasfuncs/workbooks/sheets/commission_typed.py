"""Reservoir commissioning: what is typed once, and the records of pumping and leak tests."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.leak_tests import LEAK_UNITS
from gasfuncs.workbooks.sheets.parts import Column, Group, Input, Row, Table, helper, made
from gasfuncs.workbooks.sheets.standard import GASES, MOST_RISE, OUTGASSING, VACUUM_GAUGE

PRICED_IN = ("Nm3", "m3", "100 scf", "kg", "lb", "L(liq)", "gal(liq)")

REPORT = Input(
    "Report_day", "Day of this sheet", "date", "Today; a signature of a later day does not count"
)

VESSEL = Group(
    "What is commissioned",
    (
        Input("Reservoir", "Reservoir", "text", "Its name, for example VF3 reservoir"),
        Input("Serial", "Number on its data plate", "text", "So that it is told from any other"),
        Input("Line", "Its line", "text", "From where to where, for example backfill line to VF3"),
        Input("Gas", "Gas", "text", "What it will hold", choices=GASES),
        Input("Reservoir_volume", "Volume of the reservoir", "volume", "Data plate", 0.001, 10_000),
        Input("Bore", "Bore of the line", "bore", "Inner diameter, not the nominal size", 3, 1000),
        Input("Length", "Length of the line", "length", "Along the pipe", 0.1, 2000),
        Row(
            "Space",
            "Volume, line included, for the formulas",
            "{Reservoir_volume as m3}+PI()/4*({Bore as mm}/1000)^2*{Length as m}",
            "number",
            hidden=True,
        ),
        Row(
            "Space_shown",
            "Volume, line included",
            "{Space}",
            "volume",
            "Reservoir and line",
            answers="m3",
            number="air",
        ),
        Input("Temperature", "Temperature", "temperature", "Of reservoir and gas", -40, 60),
        Input("Work", "Working pressure", "gauge", "What it is filled to", 0.1, 300),
        Input("Allowed", "Highest pressure allowed", "gauge", "Data plate", 0.1, 400),
        Input("Relief_set", "Set pressure of the relief device", "gauge", "Its tag", 0.1, 400),
        Input(
            "Relief_margin",
            "Working pressure below the set, at least",
            "share",
            "Of the set, gauge; 10 where the device's maker says nothing else",
            0,
            50,
        ),
        Input("Relief_due", "Next test of the relief device", "date", "Its tag or test sheet"),
    ),
)

VACUUM = Group(
    "Pumping through the line",
    (
        Input("Vacuum", "Vacuum wanted", "vacuum", "Gauge at the reservoir's end", 1e-5, 2000),
        Input("Follow", "Pressure expected for the first", "hours", "For example 12", 0.1, 1000),
        Input(
            "Expected_within",
            "Expected pressure, within a factor of",
            "number",
            "Printed outgassing rates differ by 3 and more",
            1.01,
            100,
        ),
        *VACUUM_GAUGE,
        Input(
            "Hold",
            "Time from shutting the pump to the fill",
            "hours",
            "Of the last evacuation: what leaks in meanwhile stays in the gas",
            0,
            1000,
        ),
    ),
)

PURITY = Group(
    "Purity and leaks",
    (
        Input(
            "Target",
            "Air wanted at most at working pressure",
            "ppm",
            "What the work bears; 0.21 of it is oxygen",
            0.001,
            1e6,
        ),
        Input("Supply", "Air in the gas itself", "ppm", "Certificate: oxygen and nitrogen", 0, 1e6),
        Input(
            "Leak_adds",
            "Air that leaks may add",
            "ppm",
            "To the least flow in use; a share of what the work bears",
            0.001,
            1e5,
        ),
        Input("Flow", "Least flow in use", "flow", "Flow meter of the furnace", 0.001, 100_000),
        Input(
            "Helium_within",
            "Helium detector, of its reading",
            "share",
            "For example 50: calibration, distance and speed of the probe",
            0,
            500,
        ),
    ),
)

CYCLES = Group(
    "Pump-and-fill cycles, and the fill",
    (
        Input("Low", "Pumped down to, in a cycle", "vacuum", "What is quickly reached", 1e-4, 2000),
        Input("High", "Filled to, in a cycle", "gauge", "A little above the air", -0.99, 300),
        Input(
            "Cycles_done",
            "Cycles done before the last evacuation",
            "count",
            "0 where there was one evacuation only",
            0,
            100,
        ),
        Input(
            "Fill_flow", "Flow of the slow fill", "flow", "So slow that nothing freezes", 0.01, 1e5
        ),
        Input("Supply_pressure", "Pressure of the supply", "gauge", "At its regulator", 0.1, 400),
        Input("Price", "Price of the gas", "price", "Supply contract, for example 0.95", 0, 1e5),
        Input("Per", "for one", "text", "The price's unit, for example 100 scf", choices=PRICED_IN),
        Input(
            "Hour_cost",
            "An hour of the furnace and its pumps",
            "money",
            "Shop's rate, for example 35",
            0,
            1e5,
        ),
    ),
)

FURNACE = Group(
    "At the furnace, and the gauges",
    (
        Input("Oxygen_limit", "Oxygen wanted at most", "ppm", "Recipe, for example 4", 0.001, 1e5),
        Input("Oxygen_step", "Oxygen analyser", "ppm", "Each reading is this close", 0.001, 1e4),
        Input(
            "Oxygen_supply",
            "Oxygen of the supply, as read",
            "ppm",
            "At the tank with the same analyser; blank where it was not read",
            0,
            1e6,
            required=False,
        ),
        Input("Dew_limit", "Dew point wanted at most", "temperature", "Recipe", -120, 40),
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
            "Gauge_step",
            "Pressure gauge of the reservoir",
            "difference",
            "95 % of its readings are this close, for example {100 difference}",
            0,
            5000,
        ),
    ),
)

GROUPS = (VESSEL, VACUUM, PURITY, CYCLES, FURNACE)

MOST = 12
"""Points of the pump's curve, and surfaces."""

PUMP = Table(
    "Pump",
    (
        Column("At", "vacuum", "Inlet pressure, lowest first", low=1e-6, high=2000),
        Column(
            "Pumping speed",
            "pumping",
            "From the pump's curve, without boosters that are off; 0 at its ultimate pressure",
        ),
    ),
    heading="The pump's curve",
    rows=MOST,
    unique=("At",),
)

SURFACES = Table(
    "Surfaces",
    (
        Column("Part", prompt="What gives off gas, for example shell, mild steel", width=30),
        Column("Area", "area", "Its surface towards the vacuum"),
        *OUTGASSING,
        Column("Source", prompt="Where the rate is from", width=34, required=False),
    ),
    heading="What gives off gas in it",
    rows=MOST,
    beside=True,
)

READS = Table(
    "Reads",
    (
        Column("Minutes", "minutes", "Since pumping began", high=100_000),
        Column("Pressure", "vacuum", "Gauge at the reservoir's end", low=1e-6, high=2000),
        helper("Hours", "{Minutes}/60"),
        helper("Place", "MATCH({Minutes},{Course.Minutes},1)"),
        helper("Later", "{Minutes}-INDEX({Course.Minutes},{Place})"),
        made(
            "Expected",
            "vacuum",
            "EXP(INDEX({Course.log line},{Place})+{Later}*INDEX({Course.fall line},{Place}))",
            answers="mbar",
            number="ppm",
        ),
        made("Read over expected", "number", "{Pressure}/{Expected}", number="two"),
    ),
    heading="Pressure while pumping",
    unique=("Minutes",),
)

FIT = "GAS_RISE_CURVE({Rise.hour},{Rise.bar})"

RISE = Table(
    "Rise",
    (
        Column("Hours", "hours", "Since the pump's valve was shut; more often at first", high=700),
        Column("Pressure", "fine_vacuum", "Read at that time", high=MOST_RISE),
        helper("hour", "{Hours}"),
        helper("bar", "IF(ISNUMBER({Pressure}),{Pressure as bar(a)},NA())"),
        helper("place", 'COUNTIF({Rise.Hours},"<"&{Hours})+2'),
        made(
            "Fitted",
            "fine_vacuum",
            f"IFERROR(1*INDEX({FIT},{{place}},3),NA())",
            answers="mbar",
        ),
        made(
            "Leak alone",
            "fine_vacuum",
            f"IFERROR(INDEX({FIT},2,3)+INDEX({FIT},{{place}},4),NA())",
            answers="mbar",
        ),
    ),
    heading="Pressure-rise test, supply valve to furnace",
    unique=("Hours",),
)

HELIUM = Table(
    "Helium",
    (
        Column(
            "Point",
            prompt="Every joint, valve and flange, for example relief valve, thread",
            width=30,
        ),
        Column("Reading", "number", "As the detector shows it", low=0, number="rate"),
        Column("Unit", choices=LEAK_UNITS, prompt="The detector's unit"),
        helper("as read", '{Reading}&" "&{Unit}', "text"),
        made(
            "As air",
            "leak",
            'GAS_LEAK_AS({as read},"helium","air",,,{unit leak})',
            result=True,
        ),
        made("Share of the limit", "share", "100*{As air}/{Leak_limit}"),
    ),
    heading="Helium detector, vacuum inside",
    unique=("Point",),
)
