"""Checks of the topic safety."""

from tests.checks.kinds import READ, Invariant, Published, Refusal

MOSS = (
    "table of the discharge of air through an orifice (Moss), free air at 70 °F and 14.7 psia, "
    "coefficient 1.00 (engineersedge; scribd 697985333): "
)
MOSS_WHY = (
    "three digits; Moss's formula has a rounded constant (0.4 %) and takes air as ideal (0.4 % "
    "less than the real gas at 100 psig)"
)
PSI = 14.7
NORMAL = 273.15 / 293.15
"""Nm3 of a cubic metre at 20 °C."""

PUBLISHED = [
    Published(
        f'GAS_ROOM_OXYGEN(180, {69.6 * NORMAL}, , , "%")',
        12.9, 0.06,
        "MRC (UK), safety with liquid nitrogen, Appendix 3: 100 L x 696 in 180 m3 leave 12.9 %",
        READ, "three digits, with 21 % oxygen in air", absolute=True,
    ),
    Published(
        f'GAS_ROOM_OXYGEN(108, {53 * NORMAL}, 648, 1000, "%")',
        20.95 - 0.0017, 0.0001,
        "university guideline on cryogens, Example 1 (scribd 586303702): 0.053 m3/h in 108 m3 with "
        "6 changes an hour take 0.0017 %",
        READ, "two digits", absolute=True,
    ),
    Published(
        f'GAS_ROOM_OXYGEN(36, {44 * NORMAL}, 14.4, 1000, "%")',
        20.95 - 0.06, 0.006,
        "University of Oxford safety policy S4/03, Appendix 1: 0.044 m3/h in 36 m3 with 0.4 "
        "changes an hour take 0.06 %",
        READ, "one digit", absolute=True,
    ),
    Published(
        f"GAS_ROOM_VENTILATION({0.053 * NORMAL}, 0.209483)",
        648, 0.04,
        "the same university guideline backwards: what takes 0.0017 % is 6 changes of 108 m3",
        READ, "0.0017 % has two digits",
    ),
] + [
    Published(
        f'GAS_RELIEF_FLOW("air", "{inches} in", "{gauge + PSI} psia", "70 degF", 1, "{PSI} psia", '
        '"scfm")',
        cubic_feet, 0.008, f"{MOSS}{inches} in, {gauge} psig", READ, MOSS_WHY,
    )
    for inches, gauge, cubic_feet in (
        (0.0625, 1, 0.450), (0.25, 1, 7.18), (0.25, 5, 15.9), (0.25, 12, 24.3), (0.25, 15, 26.9),
        (0.25, 20, 31.4), (0.25, 100, 104), (0.5, 60, 271), (1, 100, 1661),
    )
]  # fmt: skip

INVARIANTS = [
    Invariant(
        f"GAS_ROOM_OXYGEN(200, {50 * NORMAL})", 0.2095 * 0.75, "a quarter of the room displaced"
    ),
    Invariant("GAS_ROOM_OXYGEN(200, 0, 100, 3)", 0.2095, "no gas, no change"),
    Invariant("GAS_ROOM_OXYGEN(200, 30)", "GAS_ROOM_OXYGEN(200, 30, 0, 5)", "no ventilation"),
    Invariant(
        "GAS_ROOM_OXYGEN(200, 30)", 'GAS_ROOM_OXYGEN(200, 30, 500, "0.001 s")',
        "released in no time, before the fan can help", 1e-6,
    ),
    Invariant("GAS_ROOM_OXYGEN(200, 500)", 0, "more gas than room leaves no oxygen"),
    Invariant(
        "GAS_ROOM_OXYGEN(100, 5000, GAS_ROOM_VENTILATION(5, 0.195), 1000)", 0.195,
        "the ventilation keeps the room at its limit in the end",
    ),
    Invariant(
        "GAS_ROOM_VENTILATION(5, 0.10475)", 10 * 293.15 / 273.15,
        "half the oxygen: half of what is drawn off is the gas, at 20 °C",
    ),
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
        'GAS_RELIEF_FLOW("nitrogen", "78.53981633974483 mm2", "10 bar(a)")',
        'GAS_RELIEF_FLOW("nitrogen", "10 mm", "10 bar(a)")',
        "the orifice told as its area",
    ),
    Invariant(
        'GAS_RELIEF_FLOW("argon", 24, 17, 20, 0.225)',
        'GAS_RELIEF_FLOW("argon", 12, 17, 20, 0.9)',
        "twice the diameter at a quarter of the discharge coefficient",
    ),
]  # fmt: skip

REFUSALS = [
    Refusal("GAS_ROOM_OXYGEN(0, 20)", "#NUM!", "room_volume"),
    Refusal("GAS_ROOM_OXYGEN(100, -1)", "#NUM!", "released"),
    Refusal('GAS_ROOM_OXYGEN(100, "20 kg")', "#VALUE!", "gas amount"),
    Refusal("GAS_ROOM_VENTILATION(5, 19.5)", "#NUM!", "19.5 % is written 0.195"),
    Refusal("GAS_ROOM_VENTILATION(5, 0.2095)", "#NUM!", "20.95 % of fresh air"),
    Refusal('GAS_RELIEF_FLOW("argon", 12, 1, 20, 0.9, 16)', "#NUM!", "are the two swapped?"),
    Refusal('GAS_RELIEF_FLOW("argon", 12, "16 bar")', "#VALUE!", "bar(a) or bar(g)"),
    Refusal('GAS_RELIEF_FLOW("argon", "12 L", 16)', "#VALUE!", "not of length"),
    Refusal('GAS_RELIEF_FLOW("argon", 12, 16, 20, 90)', "#NUM!", "90 % is written 0.9"),
    Refusal('GAS_RELIEF_FLOW("carbon dioxide", 12, 70, 20)', "#NUM!", "is liquid"),
]
