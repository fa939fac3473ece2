"""Reservoir and line sizing: what other lines, pipes and temperatures would do."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import Block, Chart, Row, Series, Table, helper, made
from gasfuncs.workbooks.sheets.sizing_fill import choose, gap
from gasfuncs.workbooks.sheets.sizing_inputs import fill

NAMES = (
    "As it is",
    "Twice the length",
    "Half the length",
    "No fittings",
    "Next wider pipe",
    "That one, twice as long",
    "No refill meanwhile",
    "Walls cold",
    "Walls hotter",
    "Reservoir 10 % lower",
)

_CASE = fill(
    reservoir="{Bar}",
    before="{mm}",
    length="{m}",
    k="{Coefficients}",
    supply="{Nm3/h}",
    walls="{C}",
)

CASES = Table(
    "Cases",
    (
        made("What if", "text", choose([f'"{name}"' for name in NAMES]), width=30),
        helper("m", "{Length_m}*CHOOSE({row},1,2,0.5,1,1,2,1,1,1,1)"),
        helper("mm", "IF(OR({row}=5,{row}=6),{Wider_mm},{Bore_mm})"),
        helper("Nm3/h", "IF({row}=7,0,{Supply})"),
        helper("C", "IF({row}=8,{Room_C},{Walls_C}+IF({row}=9,200,0))"),
        helper("Bar", "{Res_bar}*IF({row}=10,0.9,1)"),
        made("Length", "length", "{m}", answers="m", number="one"),
        made("Bore", "bore", "{mm}", answers="mm"),
        made("Coefficients", "number", "IF({row}=4,0,{Line_k})", number="two"),
        made("Refill", "flow", "{Nm3/h}", answers="Nm3/h", number="whole"),
        made("Walls", "temperature", 'GAS_CONVERT({C},"degC",{unit temperature})', number="whole"),
        made("Reservoir", "gauge", "{Bar}-{Site_bar}", answers="bar(g)", number="one"),
        made("Time", "seconds", f"GAS_BACKFILL_TIME({_CASE})", number="one"),
        made("Change", "share", "ROUND(100*({Time}/{Time_now}-1),6)", number="whole"),
    ),
    heading="What if",
    rows=len(NAMES),
)

AT_LENGTHS, BORES = 8, (1, 2, 3)
SHARES = "0.25,0.5,0.75,1,1.25,1.5,1.75,2"

TRIED = Table(
    "Tried",
    (
        helper("m", f"{{Length_m}}*CHOOSE(MOD({{row}}-1,{AT_LENGTHS})+1,{SHARES})"),
        helper(
            "mm",
            f"CHOOSE(INT(({{row}}-1)/{AT_LENGTHS})+1,{{Compare_1 as mm}},{{Compare_2 as mm}},"
            "{Compare_3 as mm})",
        ),
        made("Length", "length", "{m}", answers="m", number="one"),
        made("Bore", "bore", "{mm}", answers="mm"),
        made(
            "Time",
            "seconds",
            f"GAS_BACKFILL_TIME({fill(before='{mm}', length='{m}')})",
            number="one",
        ),
    ),
    heading="Lengths and bores that are tried",
    rows=AT_LENGTHS * len(BORES),
)

LENGTHS = Table(
    "Lengths",
    (
        made("Length", "length", gap("INDEX({Tried.Length},{row})"), number="one"),
        *(
            made(
                f"Bore {n}",
                "seconds",
                gap(f"1*INDEX({{Tried.Time}},{{row}}+{AT_LENGTHS * (n - 1)})"),
                number="one",
            )
            for n in BORES
        ),
        made("Wanted", "seconds", "{Time_wanted}"),
    ),
    heading="Time of the fill over the length of the line",
    rows=AT_LENGTHS,
)

WIDER = 'MINIFS({Pipes.Inner},{Pipes.Inner},">"&{Bore_mm})'

LEGEND = Block(
    "Bores that are compared",
    (
        Row("Wider_mm", "Next wider pipe, mm", WIDER, "number"),
        *(Row(f"Bore_{n}", f"Bore {n}", f'{{Compare_{n}}}&" "&{{unit bore}}') for n in BORES),
    ),
)

LENGTH_CHART = Chart(
    "scatter",
    "Time of the fill over the length of the line",
    "Length, {unit length}",
    "Time, s",
    "Time of the fill over the length of the line for three bores, with the time that is wanted as "
    "a broken line.",
    (
        *(Series(f"=Bore_{n}", f"Lengths.Bore {n}", "Lengths.Length") for n in BORES),
        Series("Wanted", "Lengths.Wanted", "Lengths.Length", limit=True),
    ),
    subtype="straight",
    x={"num_format": "0", "min": 0},
    y={"num_format": "0", "min": 0},
)

SHOWN_SIZES = 8

SIZES = Table(
    "Sizes",
    (
        made("Size", "text", 'INDEX({Pipes.Size},{row})&""', width=18),
        made("Time", "seconds", gap("1*INDEX({Pipes.Time},{row})"), number="one"),
        made("Band", "seconds", gap("1*INDEX({Pipes.Band},{row})"), number="two"),
        helper("Low", gap("{Time}-{Band}")),
        helper("High", gap("{Time}+{Band}")),
        made("Wanted", "seconds", 'IF({Size}="",NA(),{Time_wanted})'),
    ),
    heading=f"The first {SHOWN_SIZES} pipes, for the chart",
    rows=SHOWN_SIZES,
)

SIZES_CHART = Chart(
    "line",
    "Time of the fill by pipe",
    "Pipe",
    "Time, s",
    "Time of the fill with each pipe and its 95 % band, with the time that is wanted as a broken "
    "line: a pipe is sure to do where its whole band is below the line.",
    (
        Series("Time of the fill", "Sizes.Time", "Sizes.Size", band="Sizes.Band", joined=False),
        Series("Wanted", "Sizes.Wanted", "Sizes.Size", limit=True),
        Series("low end", "Sizes.Low", "Sizes.Size", shown=False),
        Series("high end", "Sizes.High", "Sizes.Size", shown=False),
    ),
    y={"num_format": "0", "min": 0},
)
