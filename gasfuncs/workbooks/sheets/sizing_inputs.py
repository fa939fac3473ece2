"""Reservoir and line sizing: what is typed, and as the functions take it."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import Block, Column, Group, Input, Row, Table, helper, made
from gasfuncs.workbooks.sheets.standard import GASES, conforms

TOPPED_UP, ONE_SHOT = "topped up", "one shot"
FILLS = 12
"""Fills in a row that are followed."""

FURNACE = Group(
    "Furnace and recipe",
    (
        Input("Furnace", "Furnace", "text", "As the shop calls it, for example VF1"),
        Input("Gas", "Gas", "text", "What it is filled with", choices=GASES),
        Input(
            "Vessel_volume",
            "Free volume",
            "volume",
            "Chamber less the load, from the maker's sheet, for example {4.2 volume}",
            0.01,
            1000,
        ),
        Input(
            "Vessel_allowed",
            "Highest pressure that it may bear",
            "gauge",
            "From its nameplate, for example {6 gauge}",
            0,
            100,
        ),
        Input("Pressure_from", "Vacuum before the fill", "vacuum", "By its gauge", 0, 1000),
        Input(
            "Pressure_to",
            "Pressure that the fill goes up to",
            "gauge",
            "By the gauge, as in the recipe; below 0 for less than the air's pressure",
            -0.9,
            60,
        ),
        Input(
            "Time_wanted",
            "Time that the fill may take",
            "seconds",
            "What the steel needs, from the recipe, for example 15",
            0.1,
            3600,
        ),
        Input(
            "Control",
            "How the fill is controlled",
            "text",
            "topped up: the pressure is held until the gas is cold; one shot: the valve shuts when "
            "the pressure is first reached",
            choices=(TOPPED_UP, ONE_SHOT),
        ),
        Input("Fills_needed", "Fills in a row", "count", f"From 1 to {FILLS}", 1, FILLS),
        Input("Interval", "From one fill to the next", "hours", "From the log", 0.01, 1000),
    ),
)

TEMPERATURES = Group(
    "Temperatures and heat",
    (
        Input(
            "Room",
            "Reservoir and supply",
            "temperature",
            "That of the room, for example {20 temperature}",
            -40,
            60,
        ),
        Input(
            "Walls",
            "Walls and load during the fill",
            "temperature",
            "What the gas sweeps past, as a mean: that of a cold chamber, more with a hot load",
            -40,
            1400,
        ),
        Input(
            "Settled",
            "Gas once it has settled",
            "temperature",
            "That of the room, where nothing else is known",
            -40,
            1400,
        ),
        Input(
            "Vessel_ha",
            "Heat conductance to walls and load",
            "conductance",
            "From a measured fill, for example {900 conductance}; blank: reckoned from the jet",
            0,
            1e8,
            required=False,
        ),
    ),
)

RESERVOIR = Group(
    "Reservoir",
    (
        Input(
            "Reservoir_volume",
            "Volume",
            "volume",
            "From its nameplate, for example {12 volume}",
            0.01,
            10_000,
        ),
        Input("Reservoir_full", "Pressure when full", "gauge", "By its gauge", 0, 300),
        Input(
            "Supply_flow",
            "Flow that refills it",
            "flow",
            "What vaporizer and regulator give steadily; 0 for none",
            0,
            100_000,
        ),
        Input(
            "Process",
            "How it empties",
            "text",
            "wall: its wall warms the gas meanwhile, as in a plant; adiabatic and isothermal are "
            "the bounds",
            choices=("wall", "adiabatic", "isothermal"),
        ),
    ),
)

LINE = Group(
    "Line from the reservoir to the furnace",
    (
        Input("Bore", "Bore", "bore", "Inner diameter, not the nominal size", 3, 1000),
        Input("Length", "Length", "length", "Along the pipe, for example {35 length}", 0, 2000),
        Input(
            "Valve",
            "Quench valve: flow coefficient",
            "valve",
            "From the maker's sheet; blank where it stands among the fittings on Line",
            0.01,
            10_000,
            required=False,
        ),
        Input(
            "Valve_xt",
            "Quench valve: xT",
            "number",
            "From the maker's sheet; ball and butterfly valves 0.15 to 0.4, globe valves 0.7",
            0.01,
            1,
        ),
        *(
            Input(f"Compare_{n}", f"Bore {n} of the chart over length", "bore", "Any", 3, 1000)
            for n in (1, 2, 3)
        ),
    ),
)

RELIEF = Group(
    "Relief valve of the reservoir, for an estimate",
    (
        Input(
            "Relief_allowed",
            "Highest pressure the reservoir may bear",
            "gauge",
            "From its nameplate",
            0.1,
            400,
            required=False,
        ),
        Input("Relief_set", "Set pressure", "gauge", "From its tag", 0.1, 400, required=False),
        Input(
            "Relief_over",
            "Overpressure when fully open",
            "share",
            "Of the set pressure; 10 is usual",
            0,
            25,
            required=False,
        ),
        Input(
            "Relief_bore", "Orifice", "bore", "Diameter, the maker's sheet", 1, 500, required=False
        ),
        Input(
            "Relief_discharge",
            "Certified coefficient of discharge",
            "number",
            "From the maker's sheet, derated, for example 0.7",
            0.05,
            1,
            required=False,
        ),
        Input(
            "Relief_inflow",
            "Most that can flow in",
            "flow",
            "The regulator failed open, or the vaporizer at its limit",
            0,
            1_000_000,
            required=False,
        ),
    ),
)


def _within(name: str, label: str, prompt: str, kind: str = "share", high: float = 50) -> Input:
    return Input(name, label, kind, prompt, 0, high)


KNOWN = Group(
    "How well it is known: 95 of 100 are this close",
    (
        _within("Free_within", "Free volume of the furnace", "For example 3"),
        _within("Reservoir_within", "Volume of the reservoir", "For example 2"),
        _within("Gauge_within", "Pressure gauges, of the reading", "For example 1"),
        _within("Bore_within", "Bore of the pipe", "For example 1"),
        _within("Fittings_within", "Loss coefficients", "Handbooks differ by 20", high=100),
        _within("Valve_within", "Flow coefficient of the valve", "For example 10"),
        _within(
            "Walls_within",
            "Temperature of walls and load",
            "For example {50 kelvins}",
            "kelvins",
            500,
        ),
        Input(
            "Heat_within",
            "Heat to walls and load, within a factor of",
            "number",
            "2 where it is reckoned from the jet, 1.2 from a measured fill",
            1,
            10,
        ),
        _within("Method_within", "The equations of the line", "2, as against handbooks"),
    ),
)

FITTINGS = Table(
    "Fittings",
    (
        Column("Fitting", prompt="What the gas passes, for example Bend, long radius", width=36),
        Column("Count", "count", "How many of it", high=1000),
        Column("Coefficient", "number", "Its loss coefficient K, told for this bore", high=1e5),
        made("Together", "number", "{Count}*{Coefficient}", result=True, number="two"),
    ),
    heading="Fittings, without the quench valve",
    rows=16,
)


def fill(
    *,
    reservoir: str = "{Res_bar}",
    before: str = "{Bore_mm}",
    length: str = "{Length_m}",
    k: str = "{Line_k}",
    supply: str = "{Supply}",
    walls: str = "{Walls_C}",
    heat: str = "{Heat_given}",
) -> str:
    """The arguments of a function of the fill; `before` is the bore, or the time."""
    return (
        f"{{Gas}},{{Res_m3}},{reservoir},{{Free_m3}},{{From_bar}},{{To_bar}},{before},{length},{k},"
        f'{supply},{{Room_C}},{{Process}},"wall",{walls},{walls},{heat},,,,{{Kv}},{{Valve_xt}}'
    )


IN_TIME = conforms("{Time}", "{Time}*{Relative_u}", "{Time_wanted}")
"""Of a row with a time: whether it is within the time wanted."""

PIPES = Table(
    "Pipes",
    (
        Column("Size", prompt="Its name, for example DN 50", width=18),
        Column("Bore", "bore", "Inner diameter", low=3, high=1000),
        helper("Inner", "{Bore as mm}"),
        made("Time", "seconds", f"GAS_BACKFILL_TIME({fill(before='{Inner}')})", number="one"),
        made("Band", "seconds", "{Time}*{Relative_band}", number="two"),
        made("In time", "text", IN_TIME),
        helper("Sure", 'IFERROR(IF({In time}="yes",{Bore},""),"")', "bore"),
    ),
    heading="Pipes to choose from, each with this line's length and fittings",
    rows=14,
    beside=True,
    aside=True,
    unique=("Size",),
)


def _as(name: str, label: str, place: str, kind: str = "number", note: str = "") -> Row:
    return Row(name, label, f"{{{place}}}", kind, note)


TAKEN = Block(
    "Inputs as the functions take them",
    (
        _as("Res_m3", "Volume of the reservoir, m3", "Reservoir_volume as m3"),
        _as("Res_bar", "Its pressure when full, bar(a)", "Reservoir_full as bar(a)"),
        _as("Free_m3", "Free volume of the furnace, m3", "Vessel_volume as m3"),
        _as("From_bar", "Vacuum before, bar(a)", "Pressure_from as bar(a)"),
        _as("To_bar", "Pressure to fill to, bar(a)", "Pressure_to as bar(a)"),
        _as("Bore_mm", "Bore, mm", "Bore as mm"),
        _as("Length_m", "Length, m", "Length as m"),
        _as("Supply", "Refill, Nm3/h", "Supply_flow as Nm3/h"),
        _as("Room_C", "Reservoir and supply, degC", "Room as degC"),
        _as("Walls_C", "Walls and load, degC", "Walls as degC"),
        _as("Settled_C", "Gas once settled, degC", "Settled as degC"),
        Row("Kv", "Quench valve, Kv or blank", 'IF({Valve}="","",{Valve as Kv})', "number"),
        Row(
            "Heat_given",
            "Conductance, W/K or blank",
            'IF({Vessel_ha}="","",{Vessel_ha as W/K})',
            "number",
        ),
        Row(
            "Line_k",
            "Loss coefficient of the fittings",
            'SUMIFS({Fittings.Together},{Fittings.Check},"ok")',
            "number",
            number="two",
        ),
    ),
)
