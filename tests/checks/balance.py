"""Checks of the topic balance."""

from tests.checks.kinds import MEMORY, SEEN, Invariant, Published, Refusal

DIPS = "Province of Alberta, fuel inventory control: 1710 L + 500 L - 162 L against a dip of 2054 L"
EXACT = "exact"
FOUR = '"±1.7320508 Nm3"'
"""A rectangular error of standard deviation 1."""

PUBLISHED = [
    Published("GAS_UNACCOUNTED(1710, 500, 2054, 162)", -6, 1e-9, DIPS + ", 6 L over", SEEN, EXACT),
    Published('GAS_UNACCOUNTED_LEAK("1 mol", 0, 0, 0, "1 s", 20, "std cc/s")', 22413.96954, 2.5e-10,
              "CODATA: molar volume of ideal gas at 273.15 K, 101.325 kPa, 22.413 969 54 L/mol",
              MEMORY, "ten digits"),
    Published('GAS_UNACCOUNTED_LEAK("0.00030 mol", 0, 0, 0, "1 s", "293.15 K", "Pa m3/s")',
              2.0e-3 * (50_600 - 25_300) / 70, 0.017,
              "US 40 CFR 1065.644: 2.0000 L rising from 25.300 to 50.600 kPa in 70 s at 293.15 K "
              "leaks 0.00030 mol/s (inputs read, answer from memory)", MEMORY,
              "two digits printed", reckoned=True),
    Published(
        'GAS_UNACCOUNTED_VERDICT(1710, 500, 2054, 162, 30, "±1 Nm3", , "±1 Nm3")', -6, 1e-9,
        DIPS + ", 6 L over", SEEN, EXACT, row=1, column=0,
    ),
    Published(
        f"GAS_UNACCOUNTED_VERDICT(9, 9, 9, 9, 30, {FOUR}, {FOUR}, {FOUR})", 3.92, 0.002,
        "JCGM 101 section 9.2.3: four rectangular errors of standard deviation 1 added, first "
        "order: plus or minus 3.92", MEMORY, "three digits", row=1, column=2,
    ),
]  # fmt: skip

INVARIANTS = [
    Invariant(
        'GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31, "u 200 Nm3", "u 2 %", "u 2 %")',
        "GAS_UNACCOUNTED(8200, 15400, 6900, 15150)",
        "the same balance",
        row=1,
        column=0,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31, "u 200 Nm3 level", , "u 2 %")',
        1550 - 1.959964 * 303,
        "an error that both stocks share falls out: 2 % of 15,150 is left",
        within=1e-4,
        row=1,
        column=1,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31, "u 200 Nm3", "u 2 %", "u 2 %")',
        1550 - 1.959964 * (2 * 200**2 + 308**2 + 303**2) ** 0.5,
        "errors without a name are each by itself",
        within=1e-4,
        row=1,
        column=1,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31, "u 200 Nm3", "u 2 %", "u 2 %")',
        "loss",
        "1550 is more than twice 517",
        row=1,
        column=7,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15950, 31, "u 200 Nm3", "u 2 %", "u 2 %")',
        "cannot tell",
        "750 is not",
        row=1,
        column=7,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 18700, 31, "u 200 Nm3", "u 2 %", "u 2 %")',
        "gain",
        "2000 more are there than should be",
        row=1,
        column=7,
    ),
    Invariant(
        "GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31)",
        "cannot tell",
        "nobody says how good the gauge is",
        row=1,
        column=7,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31, "u 1 Nm3", , "u 1 Nm3")',
        629.3056174,
        "the leak rate of GAS_UNACCOUNTED_LEAK",
        within=1e-6,
        row=1,
        column=3,
    ),
    Invariant(
        "GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31)",
        629.3056174,
        "without tolerances too",
        within=1e-6,
        row=1,
        column=3,
    ),
    Invariant(
        f"GAS_UNACCOUNTED_VERDICT(9, 9, 9, 9, 30, {FOUR}, {FOUR}, {FOUR})",
        3.29 * 2,
        "four errors of 1 are together 2; ISO 11843 (from memory): 3.29 times that is seen",
        within=1e-6,
        row=1,
        column=6,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31, "u 200 Nm3")',
        "nothing says how good stocks, deliveries and use are known; give at least stock_tolerance "
        "and use_tolerance",
        "a use of which nothing is known",
        row=1,
        column=8,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT(100, 20, 50, 70, 30, "±0 Nm3", "±0 Nm3", "±0 Nm3")',
        "cannot tell",
        "nothing is missing for certain",
        row=1,
        column=7,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT("10.5 mol", 0, "10 mol", 0, 30, "±0 Nm3", , "±0 Nm3")',
        "loss",
        "half a mole is missing for certain",
        row=1,
        column=7,
    ),
    Invariant(
        'GAS_UNACCOUNTED_VERDICT("10 mol", 0, "10 mol", 0, 30, "u 0.05 mol", , "u 0.05 mol")',
        "cannot tell",
        "a tenth of a mole to either side",
        row=1,
        column=7,
    ),
    Invariant(
        'GAS_UNACCOUNTED("8200 Nm3", 15400, 6900, 0)',
        8200 + 15400 - 6900,
        "without a calculated use all of it is unexplained",
    ),
    Invariant(
        "GAS_UNACCOUNTED(8200, 15400, 6900, 15150, 31)",
        "GAS_UNACCOUNTED(8200, 15400, 6900, 15150)",
        "the days change no amount",
    ),
    Invariant(
        'GAS_UNACCOUNTED_LEAK(20, 0, 0, 0, 1, 20, "std cc/s")',
        20e6 / 86400,
        "20 normal cubic metres a day as cubic centimetres a second",
    ),
]

REFUSALS = [
    Refusal("GAS_UNACCOUNTED_VERDICT(100, 20, 50, 10, 0)", "#NUM!", "days: must be above 0"),
    Refusal(
        "GAS_UNACCOUNTED_VERDICT(100, 20, 50, 10, 1, 0.01)", "#VALUE!", "stock_tolerance: 0.01"
    ),
    Refusal('GAS_UNACCOUNTED_VERDICT(100, 20, 50, 10, 1, "1 kg")', "#VALUE!", "not of gas amount"),
    Refusal('GAS_UNACCOUNTED(100, "20 kg", 50, 10)', "#VALUE!", "not of gas amount"),
    Refusal("GAS_UNACCOUNTED(100, 20, 50, 10, 0)", "#NUM!", "days: must be above 0"),
    Refusal("GAS_UNACCOUNTED_LEAK(100, 20, 50, 10)", "#VALUE!", "days: is blank"),
    Refusal("GAS_UNACCOUNTED_LEAK(100, 20, 50, 10, 0)", "#NUM!", "days: must be above 0"),
]
