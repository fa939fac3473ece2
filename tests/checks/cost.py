"""Checks of the topic cost."""

from tests.checks.kinds import READ, SEEN, Invariant, Published, Refusal
from tests.checks.sources import FIRE_CODE

WEIGHTS = "Weight and volume equivalents of nitrogen, trade table (scf 70 °F, Nm3 0 °C, liquid NBP)"
RATIO = "a price ratio is the table's ratio; four digits printed"
OLD_LIQUID = "a price ratio is the table's ratio; its liquid is of an older equation"
SHIELDING = (
    "Trade magazine, Shielding gas consumption efficiency, part I: argon at $2.50 per 100 ft3"
)

PUBLISHED = [
    Published('GAS_PRICE(1, "100 scf", "kg", "nitrogen")', 0.3042, 5e-4, WEIGHTS, SEEN, RATIO),
    Published('GAS_PRICE(1, "100 scf", "Nm3", "nitrogen")', 0.3804, 4e-4, WEIGHTS, SEEN,
              "this ratio of the table is of ideal gas"),
    Published('GAS_PRICE(1, "100 scf", "lb", "nitrogen")', 0.13803, 3e-4, WEIGHTS, SEEN, RATIO),
    Published('GAS_PRICE(1, "100 scf", "gal(liq)", "nitrogen")', 0.9311, 0.003, WEIGHTS, SEEN,
              OLD_LIQUID),
    Published('GAS_PRICE(1, "100 scf", "gal(liq)", "argon")', 1.1245, 0.003, FIRE_CODE, READ,
              OLD_LIQUID),
    Published('GAS_PRICE(1, "gal(liq)", "100 scf", "argon")', 1 / 1.1245, 0.003, FIRE_CODE, READ,
              OLD_LIQUID, reckoned=True),
    Published("GAS_LOAD_COST(360, 0.025)", 9.00, 1e-9, SHIELDING + ", 45 ft3/h for 8 h", SEEN,
              "exact"),
    Published("GAS_LOAD_COST(108, 0.025)", 2.70, 1e-9, SHIELDING + ", 30 % of 8 h at 45 ft3/h",
              SEEN, "exact"),
    Published("GAS_PRICE_PARITY(7.14, 2.50, 11.11)", 1.60, 0.005,
              "Trade magazine, Weighing your options for industrial boilers: 7.14 gal of diesel at "
              "$2.50 heats as much as 11.11 gal of LP gas; equal cost at $1.60 per gallon", SEEN,
              "the print is cut to two decimals"),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_PRICE(1, "Nm3", "L(liq)", "nitrogen", 13, "1 atm")',
        'GAS_PRICE(1, "Nm3", "L(liq)", "nitrogen")',
        "the litre of a ticket, whatever the tank's pressure",
    ),
    Invariant(
        'GAS_PRICE(GAS_PRICE(0.62, "100 scf", "t", "argon"), "t", "100 scf", "argon")',
        0.62,
        "there and back",
    ),
    Invariant('GAS_PRICE(2, "1000 gal(liq)", "gal(liq)")', 0.002, "a thousandth of the quantity"),
    Invariant(
        'GAS_PRICE(1, "Nm3", "L(liq)", "nitrogen", 5)',
        'GAS_CONVERT(1, "L(liq)", "Nm3", "nitrogen", 5)',
        "what a litre costs is how many normal cubic metres it is, at the tank's pressure too",
    ),
    Invariant("GAS_LOAD_COST(48, 1.35)", 48 * 1.35, "nothing lost, nothing fixed"),
    Invariant("GAS_LOAD_COST(0, 1.35, 0.1, 620, 40)", 15.5, "only the share of the fixed costs"),
    Invariant("GAS_LOAD_COST(10, 1, 0.5)", 20, "where half is lost, twice is bought"),
    Invariant(
        'GAS_LOAD_COST("1000 scf", 1)',
        'GAS_CONVERT(1000, "scf", "Nm3")',
        "text with a unit is priced by the normal cubic metre",
    ),
    Invariant(
        "GAS_LOAD_COST(46.5, GAS_PRICE_PARITY(48, 1.35, 46.5))",
        "GAS_LOAD_COST(48, 1.35)",
        "at the price found both gases cost the same",
    ),
    Invariant("GAS_PRICE_PARITY(48, 1.35, 48)", 1.35, "as much gas, the same price"),
    Invariant("GAS_PRICE_PARITY(10, 1, 20, 10)", 0, "the extra cost takes all"),
    Invariant('GAS_PRICE(1, "2 kg", "kg")', 0.5, "half the price of two"),
    Invariant("GAS_PRICE_PARITY(0.001, 1, 0.001)", 1, "a litre of each"),
]

REFUSALS = [
    Refusal('GAS_PRICE(1, "100 scf", "kg")', "#VALUE!", "name the gas"),
    Refusal('GAS_PRICE(1, "100 ft3", "kg", "argon")', "#VALUE!", "per_unit: "),
    Refusal('GAS_PRICE(0.62, "100 ft3", "gal(liq)", "nitrogen")', "#VALUE!", "scf or Nm3?"),
    Refusal('GAS_PRICE(0.62, "m3", "Nm3", "nitrogen")', "#VALUE!", "scf or Nm3?"),
    Refusal('GAS_PRICE(1, "bar", "psi")', "#VALUE!", "no gas is bought by it"),
    Refusal('GAS_PRICE(1, "h", "d")', "#VALUE!", "no gas is bought by it"),
    Refusal('GAS_PRICE(1, "kg/h", "lb/h")', "#VALUE!", "no gas is bought by it"),
    Refusal('GAS_PRICE(1, "100", "kg", "argon")', "#VALUE!", "is not a quantity to buy by"),
    Refusal('GAS_PRICE(1, "kg", "degC")', "#VALUE!", "to_unit: "),
    Refusal('GAS_PRICE(-1, "kg", "t")', "#NUM!", "below 0"),
    Refusal("GAS_LOAD_COST(10, 1, 5)", "#NUM!", "500 % as a share"),
    Refusal("GAS_LOAD_COST(10, 1, 1)", "#NUM!", "nothing is left"),
    Refusal("GAS_LOAD_COST(10, 1, 0, 620, 0)", "#NUM!", "loads_per_month"),
    Refusal('GAS_LOAD_COST("10 kg", 1)', "#VALUE!", "not of gas amount"),
    Refusal("GAS_PRICE_PARITY(10, 1, 20, 11)", "#NUM!", "even free gas b"),
    Refusal("GAS_PRICE_PARITY(10, 1, 0)", "#NUM!", "amount_b"),
    Refusal('GAS_PRICE(1, "0 kg", "kg")', "#VALUE!", "is not a quantity to buy by"),
]
