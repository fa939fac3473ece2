"""Checks of the topic fill."""

from tests.checks.kinds import READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import BALMER, WHITE

CHOKED = BALMER.says(
    "air, 1.00 ft3 at 50.0 psia and 70 degF, through a 0.0938 in valve: choked until 27.8 psia, "
    "18.7 s (a worked copy)"
)
HELD = '"isothermal", "isothermal"'
BALMER_LINE = f'"0.0938 in", 0, 0, 0, "70 degF", {HELD}'
BALMER_BACKFILL = '"air", "1 ft3", "50 psia", "100 ft3", 0, "0.222 psia"'
BALMER_WHY = "three digits; the far vessel of 100 ft3 takes 50 - 27.8 psi at a hundredth"
INTO_VACUUM = '"air", 1000000, 10, 1, 0, 6, 50, 1, 0, 0, 26.85, "isothermal", "adiabatic"'

PUBLISHED = [
    Published(
        f"GAS_BACKFILL_TIME({BALMER_BACKFILL}, {BALMER_LINE})",
        18.7, 0.005, CHOKED, READ, BALMER_WHY,
    ),
    Published(
        f'GAS_BACKFILL_TIME("air", 1, 2, 100, 0, "0.005 bar(a)", 10, 0, 0, 0, 20, {HELD})',
        0.42 / (7.853982e-5 * (287 * 293.15) ** 0.5),
        0.005,
        WHITE.says(
            "with w = 0.685 p0 A/√(R T0) the density of a tank falls by 25 % at constant "
            "temperature in 0.42 V/(A √(R T))"
        ),
        READ,
        "two and three digits", reckoned=True,
    ),
    Published(
        f'GAS_BACKFILL_CURVE("air", 1, 2, 100, 0, "0.005 bar(a)", 10, 0, 0, 0, 20, {HELD}, , , , , '
        ", , , , 3)",
        0.685 * 2e5 * 7.853982e-5 / (287 * 293.15) ** 0.5 / 1.2931 * 3600,
        0.005,
        WHITE.says("choked flow of air 0.685 p0 A/√(R T0), as Nm3 of 1.2931 kg"),
        READ,
        "three digits",
        row=1,
        column=3, reckoned=True,
    ),
    Published(
        f"GAS_BACKFILL_CURVE({BALMER_BACKFILL}, {BALMER_LINE})",
        27.8 * 0.06894757, 0.003, CHOKED, READ, BALMER_WHY, row=50, column=2, reckoned=True,
    ),
    Published(
        f"GAS_BACKFILL_CURVE({INTO_VACUUM})",
        420 - 273.15,
        3,
        "Uniform-flow charging of an evacuated vessel from air at 300 K: 420 K, k = 1.4 "
        "(thermodynamics textbooks)",
        SEEN,
        "cv of real air rises 1 % to 420 K, and air of 10 bar is throttled",
        absolute=True,
        row=50,
        column=5, reckoned=True,
    ),
    Published(
        f'GAS_LINE_BORE({BALMER_BACKFILL}, 18.7, 0, 0, 0, "70 degF", {HELD}, , , , , , , , , "in")',
        0.0938, 0.003, CHOKED, READ, BALMER_WHY,
    ),
]  # fmt: skip

BACKFILL = '"argon", 10, 16, 2.5, "0.01 mbar", 6'
WALLS = '"wall", "wall"'
COOLED = '"adiabatic", "adiabatic"'
FROM_ONE_BAR = '"argon", 10, 16, 2.5, 1, 6'
EVERYTHING = '30, 15, "wall", "wall", 40, 90, "500 W/K", "80 W/K", 5, 0.2, 12, 0.6'
"""All that may be told beside the line: supply, temperatures, conductances, roughness, valve."""

INVARIANTS = [
    Invariant(
        f'GAS_BACKFILL_TIME("air", 1, "0.5 Pa", 1, 0, "0.2 Pa", 10, 0, 0, 0, 20, {HELD})',
        f'GAS_BACKFILL_TIME("air", 1, "50 Pa", 1, 0, "20 Pa", 10, 0, 0, 0, 20, {HELD})',
        "through a nozzle it takes as long at any pressure of a thin gas",
        1e-5,
    ),
    Invariant(
        f'GAS_BACKFILL_TIME("argon", 600, 16, 150, 0, 6, 25, 0, 4, 0, 20, {HELD}, , , , , , , , , '
        '"min")',
        f'GAS_BACKFILL_TIME("argon", 10, 16, 2.5, 0, 6, 25, 0, 4, 0, 20, {HELD})',
        "60 times the volumes take minutes for seconds",
        1e-5,
    ),
    Invariant(
        'GAS_BACKFILL_CURVE("helium", 1000000, 0.02, 1, 0, 0.008, 50, 0, 0, 0, 26.85, '
        '"isothermal", "adiabatic", , , , , , , , , 3)',
        0.004,
        "while a thin gas is choked the pressure rises evenly: half of it in half the time",
        1e-4,
        row=2,
        column=1,
    ),
    Invariant(
        f'GAS_BACKFILL_TIME({BACKFILL}, GAS_LINE_BORE({BACKFILL}, "0.5 s", 6, 8), 6, 8)',
        0.5,
        "the bore put back gives half a second",
        1e-5,
    ),
    Invariant(
        f"GAS_BACKFILL_CURVE({BACKFILL}, 25, 6, 8, 0, 20, {WALLS}, , , 500)",
        500,
        "a heat conductance that is given is told",
        1e-12,
        row=7,
        column=9,
    ),
    Invariant(
        f"GAS_BACKFILL_CURVE({BACKFILL}, 25, 6, 8, {EVERYTHING}, 20)",
        f"GAS_BACKFILL_TIME({BACKFILL}, 25, 6, 8, {EVERYTHING})",
        "the curve's last point is the time, whatever is told of walls, supply and valve",
        row=20,
        column=0,
    ),
    Invariant(
        f"GAS_BACKFILL_TIME({FROM_ONE_BAR}, GAS_LINE_BORE({FROM_ONE_BAR}, 60, 6, 8, {EVERYTHING}), "
        f"6, 8, {EVERYTHING})",
        60,
        "and the bore put back gives it",
        1e-5,
    ),
    Invariant(
        'GAS_BACKFILL_TIME("argon", 10, 16, 2.5, "1 mbar", 6, 25, 6, 8, 0, 20, "isothermal", '
        '"wall", 20, 300, "1E4 kW/K")',
        'GAS_BACKFILL_TIME("argon", 10, 16, 2.5, "1 mbar", 6, 25, 6, 8, 0, 20, "isothermal", '
        '"isothermal", 300)',
        "hot walls that pass all heat make the gas as hot",
        1e-3,
    ),
    Invariant(
        'GAS_BACKFILL_TIME("argon", 40, 16, 10, 0, 6, 50, 0, 4, 0, 20, "isothermal", "adiabatic")',
        'GAS_BACKFILL_TIME("argon", 10, 16, 2.5, 0, 6, 25, 0, 4, 0, 20, "isothermal", "adiabatic")',
        "with fittings alone the time goes with volume over area",
        1e-5,
    ),
    Invariant(
        f"GAS_BACKFILL_TIME({BACKFILL}, 25, 6, 8, 0, 20, {WALLS}, , , 0, 0)",
        f"GAS_BACKFILL_TIME({BACKFILL}, 25, 6, 8, 0, 20, {COOLED})",
        "walls that pass no heat are none",
        1e-5,
    ),
    Invariant(
        f'GAS_BACKFILL_TIME({BACKFILL}, 25, 6, 8, 0, 20, {WALLS}, , , "1E6 kW/K", "1E6 kW/K")',
        f"GAS_BACKFILL_TIME({BACKFILL}, 25, 6, 8, 0, 20, {HELD})",
        "walls that pass all heat hold the temperature",
        1e-5,
    ),
    Invariant(
        f"GAS_BACKFILL_CURVE({BACKFILL}, 25, 6, 8, 0, 20, {COOLED})",
        f'GAS_RESERVOIR_AFTER({BACKFILL}, 20, "adiabatic", , "adiabatic")',
        "what is left in the reservoir does not ask how fast, where no heat passes",
        1e-6,
        row=50,
        column=2,
    ),
    Invariant(
        f"GAS_BACKFILL_TIME({BACKFILL}, 20, 6, 8, 0, 20, , , , , , , , 1)",
        f"GAS_BACKFILL_TIME({BACKFILL}, 20, 6, 8, 0, 20, , , , , , , , 0.9999999)",
        "a roughness of 5 % of the bore is still known",
        1e-6,
    ),
    Invariant(
        f"GAS_BACKFILL_CURVE({BACKFILL}, 25, 6, 8)",
        f"GAS_BACKFILL_TIME({BACKFILL}, 25, 6, 8)",
        "the curve ends at the backfill time",
        row=50,
        column=0,
    ),
    Invariant(
        f"GAS_BACKFILL_CURVE({BACKFILL}, 25, 6, 8)",
        6,
        "at the pressure that was asked for",
        row=50,
        column=1,
    ),
    Invariant(
        'GAS_BACKFILL_CURVE("helium", 1000000, 0.02, 1, 0, 0.01, 50, 1, 0, 0, 26.85, "isothermal", '
        '"adiabatic")',
        226.85,
        "γ T of a thin monatomic gas let in from a reservoir without end",
        1e-5,
        row=50,
        column=5,
    ),
    Invariant(
        f'GAS_BACKFILL_TIME({BACKFILL}, 25, 6, 8, 0, 20, "isothermal", "isothermal", 600)',
        'GAS_BACKFILL_TIME("argon", 10, 16, GAS_VOLUME("argon", GAS_CONTENTS("argon", 2.5, 6, '
        '600), 6, 20), "0.01 mbar", 6, 25, 6, 8, 0, 20, "isothermal", "isothermal")',
        "a hot vessel takes as much as a smaller cold one",
        0.002,
    ),
    Invariant(
        f"GAS_BACKFILL_TIME({BACKFILL}, GAS_LINE_BORE({BACKFILL}, 30, 6, 8), 6, 8)",
        30,
        "the bore put back gives the time",
        1e-5,
    ),
    Invariant(
        'GAS_BACKFILL_TIME("argon", 2, 8, 2.5, 0, 6, GAS_LINE_BORE("argon", 2, 8, 2.5, 0, 6, '
        '"2 min", 6, 8, 300), 6, 8, 300)',
        120,
        "also with a supply and a reservoir that would equalise without it",
        1e-4,
    ),
    Invariant(
        f"GAS_BACKFILL_TIME({BACKFILL}, {{25; 40}}, {{6; 20}}, 8)",
        f"GAS_BACKFILL_TIME({BACKFILL}, 40, 20, 8)",
        "a column is answered as its cells are",
        1e-5,
        row=1,
    ),
    Invariant(
        f'GAS_BACKFILL_TIME({BACKFILL}, 100, 0, 0, 0, 20, {HELD}, , , , , , , "0.5 Kv", 0.4)',
        f'GAS_BACKFILL_TIME({BACKFILL}, 30, 0, 0, 0, 20, {HELD}, , , , , , , "0.5 Kv", 0.4)',
        "a small valve decides whatever the bore",
        1e-4,
    ),
]

REFUSALS = [
    Refusal(
        'GAS_LINE_BORE("argon", 10, 16, 2.5, 0, 6, "900 d", 6, 0, 0, 20, , , , , , , , 0)',
        "#NUM!", "a bore of 0.1 mm meets it",
    ),
    Refusal('GAS_BACKFILL_TIME("argon", 10, 16, 2.5, 6, 6, 25, 6)', "#NUM!", "swapped?"),
    Refusal('GAS_BACKFILL_TIME("argon", 2, 8, 2.5, 0, 6, 25, 6)', "#NUM!", "and equalise below it"),
    Refusal(
        'GAS_BACKFILL_TIME("argon", 10, 8, 2.5, 0, 6.3, 25, 6, 0, 0, 20, "adiabatic", '
        '"isothermal")',
        "#NUM!",
        "equalise below it",
    ),
    Refusal('GAS_BACKFILL_TIME("argon", 10, 16, 2.5, 6, 1, 25, 6)', "#NUM!", "swapped?"),
    Refusal(
        'GAS_BACKFILL_TIME("argon", 10, 16, 2.5, 0, 6, 25, 6, 0, 0, 20, "isentropic")',
        "#VALUE!",
        "is not one of wall, isothermal, adiabatic",
    ),
    Refusal('GAS_BACKFILL_TIME("argon", 10, 0, 2.5, 0, 1, 25, 6, 0, 50)', "#NUM!", "vacuum"),
    Refusal(
        'GAS_BACKFILL_TIME("argon", 10, 16, 2.5, 0, 6, 25, 6, 0, 0, 20, , , , 2000)', "#NUM!",
        "is hotter than the equation of state of argon reaches, 1727",
    ),
    Refusal(
        'GAS_BACKFILL_TIME("argon", 10, 16, 2.5, 0, 6, 0.5, 6)', "#NUM!", "5 % of the bore",
    ),
    Refusal(
        'GAS_BACKFILL_TIME("argon", 10, 16, 2.5, 0, 6, 25, 6, 0, 0, -190)', "#NUM!", "argon at 16"
    ),
    Refusal(
        'GAS_BACKFILL_TIME("carbon dioxide", 1, 50, 2.5, 0.1, 12, 25, 6, 0, 0, 20, "adiabatic", '
        '"adiabatic")',
        "#NUM!", "begins to condense",
    ),
    Refusal('GAS_BACKFILL_CURVE("argon", 10, 16, 2.5, 6, 1, 25, 6)', "#NUM!", "swapped?"),
    Refusal(
        'GAS_BACKFILL_CURVE("argon", 10, 16, 2.5, 0, 6, 25, 6, , , , , , , , , , , , , , 1)',
        "#NUM!", "below 2",
    ),
    Refusal(
        f"GAS_BACKFILL_TIME({BACKFILL}, 20, 6, 8, 0, 20, , , , , , , , 1.0001)",
        "#NUM!", "more than 5 % of the bore",
    ),
    Refusal('GAS_LINE_BORE("argon", 2, 8, 2.5, 0, 6, 60, 6)', "#NUM!", "equalise below it"),
    Refusal(
        'GAS_LINE_BORE("argon", 2, 8, 2.5, 0, 6, 5, 6, 0, 10)', "#NUM!", "supply set the pace"
    ),
    Refusal('GAS_LINE_BORE("argon", 10, 16, 2.5, 0, 6, "60 d", 6)', "#NUM!", "is so long that"),
    Refusal('GAS_LINE_BORE("argon", 10, 16, 2.5, 0, 6, 0, 6)', "#NUM!", "must be above 0"),
]  # fmt: skip
