"""Checks of the topic reservoir."""

from tests.checks.dense import BETWEEN, FIVE_DIGITS, OF_BETWEEN, STATES
from tests.checks.kinds import MEMORY, READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import ESPOSITO

IDEAL = "the book takes air as ideal; the real gas needs 0.5 % less"

PUBLISHED = [
    Published(
        'GAS_RESERVOIR_SIZE("air", "120 scf", "100 psig", "80 psig", "70 degF", '
        '"isothermal", , , "gal")',
        660, 0.008, ESPOSITO.says("20 scfm for 6 min, 100 to 80 psi, 660 gal"), READ, IDEAL,
    ),
    Published(
        'GAS_RESERVOIR_SIZE("air", "90 scf", "100 psig", "80 psig", "70 degF", '
        '"isothermal", , , "gal")',
        495, 0.008, ESPOSITO.says("with 5 scfm from the compressor, 495 gal"), READ, IDEAL,
    ),
    Published(
        'GAS_RECHARGE_TIME("air", "660 gal", "80 psig", "100 psig", "20 scfm", "70 degF", "min")',
        6, 0.008, ESPOSITO.says("the same backwards, 6 min"), READ, IDEAL,
    ),
    Published(
        'GAS_RESERVOIR_AFTER("argon", 0.55941, "450 kPa", '
        'GAS_VOLUME("argon", "38.55 mol", "1 kPa", 30), 0, "1 kPa", 30, '
        '"adiabatic", , , , , , , "kPa")',
        200, 0.005,
        "Cengel, Boles, Thermodynamics, 8th edition, problem 7-89: of 4 kg argon at 450 kPa and "
        "30 °C, 2.46 kg are left at 200 kPa, the gas inside expanding at constant entropy "
        "(1.54 kg are 38.55 mol)",
        MEMORY,
        "half a unit of the last digit of 2.46 kg is 0.2 %, 1.67 times that in pressure",
    ),
    Published(
        f'GAS_RESERVOIR_SIZE("argon", "{BETWEEN} mol", "2400 psia", "2250 psia", "300 K", '
        '"isothermal")', 1, OF_BETWEEN, STATES, SEEN, FIVE_DIGITS, reckoned=True,
    ),
    Published(
        f'GAS_RECHARGE_TIME("argon", 1, "2250 psia", "2400 psia", "{BETWEEN} mol/h", "300 K", "h")',
        1, OF_BETWEEN, STATES, SEEN, FIVE_DIGITS, reckoned=True,
    ),
]  # fmt: skip

BACKFILL = '"argon", 10, 16, 2.5, "0.01 mbar", 6, 20, "isothermal"'

INVARIANTS = [
    Invariant('GAS_RECHARGE_TIME("argon", 10, 9, 9, 40)', 0, "what is full is recharged at once"),
    Invariant(
        'GAS_DRAWN("argon", 10, 16, GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, 1, 6, 20, '
        '"isothermal", "30 s", "wall", 40, 90, "1E4 kW/K"), 20)',
        'GAS_UNACCOUNTED(GAS_CONTENTS("argon", 2.5, 6, 90), 0, GAS_CONTENTS("argon", 2.5, 1, 40), '
        "0)",
        "walls that pass all heat: gas at their temperature, less what was there at its own", 1e-4,
    ),
    Invariant(
        'GAS_RESERVOIR_SIZE("argon", 15, 16, 9, 20, "wall", "30 s", 0)',
        'GAS_RESERVOIR_SIZE("argon", 15, 16, 9, 20, "adiabatic")',
        "a wall that passes no heat is none", 1e-6,
    ),
    Invariant(
        'GAS_RESERVOIR_SIZE("argon", 15, 16, 9, 20, "wall", "30 s", "1E6 kW/K")',
        'GAS_RESERVOIR_SIZE("argon", 15, 16, 9, 20, "isothermal")',
        "a wall that passes all heat holds the temperature", 1e-5,
    ),
    Invariant(
        'GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, 0, 6, 20, "wall", "30 s", , , , , "1E6 kW/K")',
        'GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, 0, 6, 20, "isothermal")',
        "and leaves as much", 1e-5,
    ),
    Invariant(
        f'GAS_DRAWN("argon", 10, 16, GAS_RESERVOIR_AFTER({BACKFILL}), 20)',
        'GAS_DRAWN("argon", 2.5, 6, "0.01 mbar", 20)',
        "the reservoir loses what the vessel takes", 1e-6,
    ),
    Invariant(
        'GAS_RESERVOIR_AFTER("helium", 1, 0.2, 1, 0, 0.05, 20, "adiabatic")',
        0.2 * 0.75 ** (5 / 3),
        "limit of an ideal monatomic gas: three quarters stay, p goes with n to the 5/3",
        0.0002,
    ),
    Invariant(
        'GAS_RESERVOIR_AFTER("argon", 3, 16, GAS_VOLUME("argon", '
        'GAS_DRAWN("argon", 3, 16, 7, 20), 7, 20), 0, 6.99999999, 20, "isothermal")', 7,
        "at the limit, reservoir and vessel end at one pressure", 3e-6,
    ),
    Invariant(
        'GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, 2, 2.000001, 20, "adiabatic")', 16,
        "hardly anything drawn, nothing changed", 1e-6,
    ),
    Invariant(
        'GAS_RESERVOIR_AFTER("helium", 1E6, 16, 2.5, 0, 6, 20, , 1)', 16,
        "a reservoir without end keeps its pressure", 2e-6,
    ),
    Invariant(
        'GAS_DRAWN("nitrogen", GAS_RESERVOIR_SIZE("nitrogen", 12, 16, 9, 20, "isothermal"), 16, 9, '
        "20)", 12,
        "a reservoir of that size gives that amount",
    ),
    Invariant(
        'GAS_RESERVOIR_AFTER("argon", GAS_RESERVOIR_SIZE("argon", '
        'GAS_CONTENTS("argon", 2.5, 6, 20), 16, 9, 20, , "30 s"), 16, 2.5, 0, 6, 20, , "30 s")', 9,
        "sized for the backfill, it ends at the lowest pressure", 1e-5,
    ),
    Invariant(
        'GAS_RECHARGE_TIME("argon", 10, 9, 16, 40)',
        'GAS_RECHARGE_TIME("argon", 20, 9, 16, 80)',
        "twice the reservoir with twice the flow takes as long",
    ),
    Invariant(
        'GAS_RECHARGE_TIME("argon", 10, 9, 16, GAS_DRAWN("argon", 10, 16, 9, 20))', 1,
        "a flow of the missing gas in an hour takes an hour",
    ),
    Invariant('GAS_RESERVOIR_SIZE("argon", {0;15}, 16, 9, 20, "adiabatic")', 0, "no gas, no volume",
              row=0),
    Invariant(
        'GAS_RESERVOIR_SIZE("argon", {15;30}, {16;20}, 9, 20, "wall", {"30 s";"60 s"}, "80 W/K")',
        'GAS_RESERVOIR_SIZE("argon", 30, 20, 9, 20, "wall", "60 s", "80 W/K")',
        "a row of a column is as alone", row=1,
    ),
    Invariant(
        'GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, 2, 6, 20, "wall", "30 s", "isothermal", , , , '
        '"80 W/K")',
        'GAS_RESERVOIR_AFTER("argon", 10, 16, GAS_VOLUME("argon", GAS_DRAWN("argon", 2.5, 6, 2, '
        '20), 6, 20), 0, 6, 20, "wall", "30 s", "isothermal", , , , "80 W/K")',
        "as much gas drawn in the same time, into a smaller vessel from a vacuum", 1e-6,
    ),
]  # fmt: skip

REFUSALS = [
    Refusal(
        'GAS_RESERVOIR_SIZE("argon", 15, 9, 9, 20, "isothermal")', "#NUM!", "are the two swapped?"
    ),
    Refusal('GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, 6, 0)', "#NUM!", "are the two swapped?"),
    Refusal('GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, 0, 6)', "#NUM!", "how long does it take?"),
    Refusal('GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, 0, 6, 20, , 0)', "#NUM!", "above 0"),
    Refusal(
        'GAS_RESERVOIR_AFTER("argon", 1, 16, 2.5, 0, 6, 20, "isothermal")',
        "#NUM!", "equalise below it",
    ),
    Refusal(
        'GAS_RESERVOIR_AFTER("argon", 10, 16, 14.9, 0, 6.5, 20, "adiabatic")',
        "#NUM!", "equalise below it",
    ),
    Refusal(
        'GAS_RESERVOIR_AFTER("argon", 10, 16, 2.5, 0, 6, 20, "polytropic")',
        "#VALUE!", "wall, isothermal, adiabatic",
    ),
    Refusal('GAS_RESERVOIR_AFTER("argon", 10, "16 bar", 2.5, 0, 6)', "#VALUE!", "bar(a) or bar(g)"),
    Refusal(
        'GAS_RESERVOIR_AFTER("carbon dioxide", 1, 50, 20, 0, 1, 20, "adiabatic")',
        "#NUM!", "begins to condense",
    ),
    Refusal('GAS_RESERVOIR_SIZE("argon", 15, 9, 16)', "#NUM!", "are the two swapped?"),
    Refusal('GAS_RESERVOIR_SIZE("argon", 15, 16, 9)', "#NUM!", "how long does it take?"),
    Refusal('GAS_RESERVOIR_SIZE("argon", "15 L(liq)", 16, 9)', "#VALUE!", "gas amount"),
    Refusal('GAS_RECHARGE_TIME("argon", 10, 16, 9, 40)', "#NUM!", "are the two swapped?"),
    Refusal('GAS_RECHARGE_TIME("argon", 10, 9, 16, 0)', "#NUM!", "without a flow"),
    Refusal(
        'GAS_RESERVOIR_SIZE("air", 10, 10, 5, 20, "isothermal", "0 min")', "#NUM!",
        "must be above 0",
    ),
    Refusal(
        'GAS_RESERVOIR_SIZE("carbon dioxide", 10, 50, 5, 20, "adiabatic")', "#NUM!",
        "drawn so fast that its gas condenses",
    ),
]  # fmt: skip
