"""The purge book: what hoses, leaks and walls add to the gas on its way to the vessel."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import (
    Block,
    Case,
    Chart,
    Column,
    Row,
    Sentence,
    Series,
    Table,
    helper,
    made,
)
from gasfuncs.workbooks.sheets.standard import NORMAL, OUTGASSING, conforms

OXYGEN = "0.2095"
"""Share of oxygen in dry air."""
PARTS = 12
"""Hoses, joints or surfaces."""
LISTED = 1 + 3 * PARTS
"""The supply and all of them."""
SHOWN = 8

FACTOR = Column(
    "Within factor",
    "number",
    "What is known of it is right within this factor: 2 for a printed permeability, 1.3 for a test",
    low=1,
    high=100,
)
SOURCE = Column(
    "Source", prompt="Where the number is from, with its year", required=False, width=44
)
NTH = helper("Nth", 'IF({Check}="ok",{row},"")')


def _permeates(what: str) -> str:
    wall = f"{{{what} permeability}},{{Bore as mm}},{{Wall as mm}},{{Length as m}}"
    return f"GAS_PERMEATION({wall},{what}_bar,0,{{unit leak}})"


def _permeability(what: str) -> Column:
    says = 'of its material; printed ones: =GAS_SOURCE("GAS_PERMEATION"); 0 for metal'
    return Column(f"{what} permeability", "permeability", f"For {what.lower()}, {says}")


HOSES = Table(
    "Hoses",
    (
        Column("Hose", prompt="Where it is, for example rubber hose at VF3", width=30),
        Column("Bore", "bore", "Inner diameter", low=0.01),
        Column("Wall", "bore", "Thickness of the wall", low=0.01),
        Column("Length", "length", "Between its fittings", low=0.001),
        _permeability("Oxygen"),
        _permeability("Water"),
        FACTOR,
        SOURCE,
        made("Oxygen in", "leak", _permeates("Oxygen"), result=True),
        made("Water in", "leak", _permeates("Water"), result=True),
        NTH,
    ),
    heading="Hoses and plastic tubes",
    rows=PARTS,
    unique=("Hose",),
)

JOINTS = Table(
    "Joints",
    (
        Column("Joint", prompt="Where air leaks in, for example coupling at VF3", width=30),
        Column("Air", "leak", "Air that leaks in, from a rise test or a detector", low=0),
        FACTOR,
        SOURCE,
        made("Oxygen in", "leak", f"{{Air}}*{OXYGEN}", result=True),
        made("Water in", "leak", "{Air}*Room_water/1000000", result=True),
        NTH,
    ),
    heading="Joints and leaks",
    rows=PARTS,
    unique=("Joint",),
)

SURFACES = Table(
    "Surfaces",
    (
        Column("Surface", prompt="What gives off water, for example shell of VF3", width=30),
        Column("Area", "area", "Its surface towards the gas"),
        *OUTGASSING,
        Column("Water", "share", "Share of water in what it gives off; oxygen is none", high=100),
        FACTOR,
        SOURCE,
        made(
            "Water in",
            "leak",
            "IF(ISNUMBER(Use_hours),GAS_GAS_LOAD({Area as m2},{Rate as mbar L/(s cm2)},"
            "{Exponent},0,Use_hours,{unit leak})*{Water}/100,NA())",
            result=True,
        ),
        NTH,
    ),
    heading="Surfaces that give off water",
    rows=PARTS,
    unique=("Surface",),
)


def _of_kind(supply: str, hose: str, joint: str, surface: str) -> str:
    """By what stands in a row of the list: the supply, a hose, a joint, a surface, nothing."""
    return f'CHOOSE({{Kind}},{supply},{hose},{joint},{surface},"")'


def _column(supply: str, hose: str, joint: str, surface: str) -> str:
    """A column of each table, or 0 where it has none."""
    found = f"INDEX({{Surfaces.{surface}}},{{At}})" if surface else "0"
    return _of_kind(
        supply, f"INDEX({{Hoses.{hose}}},{{At}})", f"INDEX({{Joints.{joint}}},{{At}})", found
    )


AT = _of_kind(
    '""',
    "SMALL({Hoses.Nth},{row}-1)",
    "SMALL({Joints.Nth},{row}-1-Hose_count)",
    "SMALL({Surfaces.Nth},{row}-1-Hose_count-Joint_count)",
)
KIND = (
    "IF({row}=1,1,IF({row}-1<=Hose_count,2,IF({row}-1-Hose_count<=Joint_count,3,"
    "IF({row}-1<=Source_count,4,5))))"
)
FLOW = "{Flow as Nm3/h}"
OXYGEN_CALL = f"GAS_POINT_OF_USE(Supply_ppm,{FLOW},{{Inflows.Of oxygen:Oxygen in}})"
WATER_CALL = f"GAS_POINT_OF_USE(Water_supply,{FLOW},{{Inflows.Of water:Water in}})"


def _adds(call: str) -> str:
    return f'IF({{Source}}="","",INDEX({call},{{row}}+1,2))'


def _spread(what: str) -> str:
    return f'IF({{Source}}="",0,{{{what}}}*LN({{Factor}})/{NORMAL})'


def _not_supply(what: str) -> str:
    return f'IF(OR({{Kind}}=1,{{Kind}}=5),"",{{{what}}})'


def _share(what: str) -> str:
    return f'IF({{Source}}="","",100*{{{what}}}/{what}_total)'


def _inflow(what: str) -> str:
    return f'IF({{{what} leak}}="","",{{{what} leak as mbar L/s}})'


INFLOWS = Table(
    "Inflows",
    (
        made("Kind", "count", KIND),
        made("At", "count", AT),
        made("Source", "text", _column('"Supply"', "Hose", "Joint", "Surface"), width=30),
        made("Factor", "number", _column("1", "Within factor", "Within factor", "Within factor")),
        made("Of oxygen", "text", 'IF({Kind}=1,"",{Source})'),
        made("Oxygen in", "number", _inflow("Oxygen"), number="rate"),
        made("Of water", "text", 'IF({Kind}=1,"",{Source})'),
        made("Water in", "number", _inflow("Water"), number="rate"),
        made("Oxygen leak", "leak", _column('""', "Oxygen in", "Oxygen in", "")),
        made("Water leak", "leak", _column('""', "Water in", "Water in", "Water in")),
        made("Oxygen", "ppm", _adds(OXYGEN_CALL)),
        made("Water", "ppm", _adds(WATER_CALL)),
        made("Oxygen spread", "ppm", _spread("Oxygen")),
        made("Water spread", "ppm", _spread("Water")),
        made("Oxygen added", "ppm", _not_supply("Oxygen")),
        made("Water added", "ppm", _not_supply("Water")),
        made("Oxygen share", "share", _share("Oxygen")),
        made("Water share", "share", _share("Water")),
        made("Order", "share", 'IF({Source}="","",MAX({Oxygen share},{Water share})-{row}/1E6)'),
    ),
    heading="What lets oxygen and water into the gas",
    rows=LISTED,
)


def _totals(what: str, call: str, wanted: str) -> tuple[Row, ...]:
    """A budget's total with its band, the source to change first, and whether that is sure."""
    added = f"{{Inflows.{what} added}}"
    return (
        Row(f"{what}_total", f"{what} at the vessel", f"INDEX({call},Source_count+3,2)", "ppm"),
        Row(
            f"{what}_band",
            "its 95 % band, half width",
            f"{NORMAL}*SQRT(SUMSQ({{Inflows.{what} spread}}))",
            "ppm",
            "By how well each source is known",
        ),
        Row(f"{what}_allowed", "wanted at most", wanted, "ppm"),
        Row(
            f"{what}_verdict",
            "Is it within?",
            conforms(f"{what}_total", f"{what}_band/{NORMAL}", f"{what}_allowed"),
        ),
        Row(f"{what}_first", "Most that one source adds", f"MAX({added})", "ppm"),
        Row(f"{what}_from", "its name", f"INDEX({{Inflows.Source}},{what}_at)"),
        Row(
            f"{what}_second",
            "the next one adds",
            f"IF(Source_count<2,0,LARGE({added},2))",
            "ppm",
        ),
        Row(
            f"{what}_sure",
            "Is it the first one for sure?",
            conforms(f"{what}_first-{what}_second", f"{what}_apart", "0", "at least"),
        ),
        Row(f"{what}_without", "without it there would be", f"{what}_total-{what}_first", "ppm"),
    )


def _behind(what: str) -> tuple[Row, ...]:
    added, spread = f"{{Inflows.{what} added}}", f"{{Inflows.{what} spread}}"
    own = f"INDEX({spread},{what}_at)"
    next_one = f"IF(Source_count<2,0,INDEX({spread},MATCH({what}_second,{added},0)))"
    return (
        Row(f"{what}_at", f"{what}: row of the first", f"MATCH({what}_first,{added},0)", "count"),
        Row(f"{what}_kind", "its kind", f"INDEX({{Inflows.Kind}},{what}_at)", "count"),
        Row(
            f"{what}_apart",
            "uncertainty of first less second",
            f"SQRT({own}^2+{next_one}^2)",
            "ppm",
        ),
    )


OXYGEN_BUDGET = Block(
    "Oxygen in the gas that arrives", _totals("Oxygen", OXYGEN_CALL, "Use_wanted")
)
WATER_BUDGET = Block(
    "Water in the gas that arrives",
    (
        *_totals("Water", WATER_CALL, "Water_wanted"),
        Row(
            "Dew_there",
            "its dew point in the vessel",
            "GAS_PPM_DEW(Water_total,High_bar,,,{unit temperature})",
            "temperature",
            "Below freezing the frost point",
        ),
    ),
)

BEHIND_USE = Block(
    "The gas that arrives, in the background",
    (
        Row("Hose_count", "Hoses", "COUNT({Hoses.Nth})", "count"),
        Row("Joint_count", "Joints", "COUNT({Joints.Nth})", "count"),
        Row("Source_count", "All", "Hose_count+Joint_count+COUNT({Surfaces.Nth})", "count"),
        Row("Oxygen_bar", "Oxygen in the air, bar", f"{OXYGEN}*Site_bar", "site"),
        Row("Room_water", "Water in the air", "GAS_DEW_PPM({Room_dew as degC},Site_bar)", "ppm"),
        Row("Water_bar", "Water in the air, bar", "Room_water/1000000*Site_bar", "site"),
        *_behind("Oxygen"),
        *_behind("Water"),
    ),
)


def _of_listed(column: str) -> str:
    return f'IF({{Row}}="","",INDEX({{Inflows.{column}}},{{Row}}))'


BUDGET = Table(
    "Budget",
    (
        helper("Row", 'IFERROR(MATCH(LARGE({Inflows.Order},{row}),{Inflows.Order},0),"")'),
        made("Source", "text", _of_listed("Source"), width=30),
        made("Oxygen", "ppm", _of_listed("Oxygen")),
        made("of all oxygen", "share", _of_listed("Oxygen share")),
        made("Water", "ppm", _of_listed("Water")),
        made("of all water", "share", _of_listed("Water share")),
        made("Within factor", "number", _of_listed("Factor")),
    ),
    heading="By source, the largest shares first",
    rows=SHOWN,
)


def _of_both(row: str) -> str:
    return f"CHOOSE({{row}},Oxygen_{row},Water_{row})"


SUMS = Table(
    "Sums",
    (
        made("In all", "text", 'CHOOSE({row},"Oxygen","Water")', width=30),
        made("It has", "ppm", _of_both("total")),
        made("give or take", "ppm", _of_both("band")),
        made("Wanted at most", "ppm", _of_both("allowed")),
        made("Without the first", "ppm", _of_both("without")),
        made("Within it", "text", _of_both("verdict"), width=13),
    ),
    heading="The gas that arrives, with its 95 % band by how well each source is known",
    rows=2,
)

BUDGET_CHART = Chart(
    "column",
    "What each source brings, % of all",
    "Source",
    "% of all",
    "Share of the supply and of each hose, joint and surface in the oxygen and in the water of the "
    "gas that arrives: the highest one is to be changed first.",
    (
        Series("of the oxygen", "Budget.of all oxygen", "Budget.Source"),
        Series("of the water", "Budget.of all water", "Budget.Source"),
    ),
    y={"num_format": "0", "min": 0},
)

CHANGE = " Change {@_from} first: without it {@_without:0.0} ppm."
MAYBE = " The most may come from {@_from}: test it before you change it."
DRY = " The most comes off {@_from}: purge longer, warm it, keep it shut."


def _advice(what: str) -> Sentence:
    """What to do about the first source; `@` is the budget."""
    cases = (
        Case("@_first<=INDEX({Inflows.@},1)", " The supply itself brings the most of it."),
        Case('{@_sure}="cannot tell"', MAYBE),
        Case("@_kind=4", DRY),
        Case("", CHANGE),
    )
    named = tuple(
        Case(each.when.replace("@", what), each.says.replace("@", what)) for each in cases
    )
    return Sentence(f"{what}_advice", named)


def _said(what: str, allowed: str) -> Sentence:
    total = f"{{{what}_total ± {what}_band}} ppm of {what.lower()}"
    within = f"{{{allowed}}} allowed"
    return Sentence(
        f"{what}_said",
        (
            Case(
                "Source_count=0", f"{what} of the gas that arrives: type hoses, joints, surfaces."
            ),
            Case(
                f"NOT(ISNUMBER({what}_total+{what}_band+{what}_allowed))",
                f"{what} of the gas that arrives: not calculated, see Checks.",
            ),
            Case(
                f'{{{what}_verdict}}="no"',
                f"The gas arrives with {total}, {within}.{{{what}_advice}}",
            ),
            Case(
                f'{{{what}_verdict}}="yes"', f"The gas arrives with {total}, within the {within}."
            ),
            Case("", f"The gas arrives with {total}, {within}: cannot tell.{{{what}_advice}}"),
        ),
    )


USE_SENTENCES = (
    _advice("Oxygen"),
    _advice("Water"),
    _said("Oxygen", "Use_wanted"),
    _said("Water", "Water_wanted:0"),
)
