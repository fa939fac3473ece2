"""Checks of the topic safety."""

from tests.checks.kinds import SEEN, Invariant, Published, Refusal

MOSS = (
    "table of the discharge of air through an orifice (Moss), free air at 70 °F and 14.7 psia, "
    "coefficient 1.00 (engineersedge; scribd 697985333): "
)
MOSS_WHY = (
    "three digits; Moss's formula has a rounded constant (0.4 %) and takes air as ideal (0.4 % "
    "less than the real gas at 100 psig)"
)
PSI = 14.7

PUBLISHED = [
    Published(
        f'GAS_RELIEF_FLOW("air", "{inches} in", "{gauge + PSI} psia", "70 degF", 1, "{PSI} psia", '
        '"scfm")',
        cubic_feet, 0.008, f"{MOSS}{inches} in, {gauge} psig", SEEN, MOSS_WHY,
    )
    for inches, gauge, cubic_feet in (
        (0.0625, 1, 0.450), (0.25, 1, 7.18), (0.25, 5, 15.9), (0.25, 12, 24.3), (0.25, 15, 26.9),
        (0.25, 20, 31.4), (0.25, 100, 104), (0.5, 60, 271), (1, 100, 1661),
    )
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_RELIEF_FLOW("helium", 6, 2, 20, 0.9, 0.97)',
        'GAS_RELIEF_FLOW("helium", 6, 2, 20, 0.9, 0)',
        "choked flow takes no notice of the pressure behind; the ratio is 0.487 for k = 5/3",
    ),
    Invariant(
        'GAS_RELIEF_FLOW("helium", 6, 2, 20, 0.9, 0.9745)',
        'GAS_RELIEF_FLOW("helium", 6, 2, 20, 0.9, 0)',
        "and it sets in without a step", 1e-6,
    ),
    Invariant(
        'GAS_RELIEF_FLOW("air", 12, 5, 20, 1, "499990 Pa")',
        'GAS_LINE_FLOW("air", 5, "499990 Pa", 12, 0)',
        "with next to no drop too it is a line without length", 1e-4,
    ),
    Invariant(
        'GAS_RELIEF_FLOW("nitrogen", "78.53981633974483 mm2", "10 bar(a)")',
        'GAS_RELIEF_FLOW("nitrogen", "10 mm", "10 bar(a)")',
        "the orifice told as its area",
    ),
    Invariant(
        'GAS_RELIEF_FLOW("argon", 24, 17, 20, 0.225)',
        'GAS_RELIEF_FLOW("argon", 12, 17, 20, 0.9)',
        "twice the diameter at a quarter of the discharge coefficient",
    ),
    Invariant(
        'GAS_RELIEF_FLOW("argon", 12, 17, 20, 0.9, 1, "kg/h")',
        'GAS_CONVERT(GAS_RELIEF_FLOW("argon", 12, 17, 20, 0.9, 1), "Nm3/h", "kg/h", "argon")',
        "the same flow as a mass", 1e-9,
    ),
    Invariant(
        'GAS_RELIEF_FLOW("nitrogen", 12, 17, 20, 0.9, 1, "lb/h")',
        'GAS_CONVERT(GAS_RELIEF_FLOW("nitrogen", 12, 17, 20, 0.9, 1), "Nm3/h", "lb/h", "N2")',
        "and in pounds", 1e-9,
    ),
]  # fmt: skip

REFUSALS = [
    Refusal('GAS_RELIEF_FLOW("argon", 12, 1, 20, 0.9, 16)', "#NUM!", "are the two swapped?"),
    Refusal('GAS_RELIEF_FLOW("argon", 12, "16 bar")', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_RELIEF_FLOW("argon", "12 L", 16)', "#VALUE!", "not of length"),
    Refusal('GAS_RELIEF_FLOW("argon", 12, 16, 20, 90)', "#NUM!", "90 % is written 0.9"),
    Refusal('GAS_RELIEF_FLOW("carbon dioxide", 12, 70, 20)', "#NUM!", "is liquid"),
    Refusal('GAS_RELIEF_FLOW("CO2", 6, 55, 20)', "#NUM!", "turn liquid in the device"),
    Refusal('GAS_RELIEF_FLOW("air", 5, "5 bar(a)", 20, 1, "5 bar(a)")', "#NUM!", "nothing flows"),
]
