"""Checks of the topic explain: its functions answer texts, so that printed numbers are few."""

from tests.checks.kinds import READ, Invariant, Published, Refusal
from tests.checks.sources import FIRE_CODE_EXAMPLE

PUBLISHED = [
    Published(
        'GAS_WORKING("GAS_FROM_LIQUID", "argon", "1000 gal(liq)", "14.7 psia", , "scf")',
        112_450,
        0.003,
        FIRE_CODE_EXAMPLE.says("1000 gal of liquid argon are 112 450 ft3"),
        READ,
        "the print's factor is that of an older equation of state",
        row=11,
        column=4,
    ),
]

INVARIANTS = [
    Invariant(
        'GAS_WORKING("GAS_UNACCOUNTED", 8200, 15400, 6900, 15150, 31)',
        'GAS_UNACCOUNTED_LEAK(8200, 15400, 6900, 15150, 31, 20, "Pa m3/s")',
        "with the days the working tells the leak",
        row=11,
        column=4,
    ),
    Invariant(
        'GAS_WORKING("GAS_DENSITY", "argon", 2, 20)',
        "kg/mol",
        "the working tells the unit of each step",
        row=8,
        column=5,
    ),
    Invariant('GAS_CHECK("GAS_DENSITY", "argon", 2, 20)', "ok", "a call that works"),
    Invariant(
        'GAS_CHECK("GAS_DENSITY", "argon", -2, 20)',
        "pressure: -2 bar(a) is below 0 bar(a)",
        "the sentence names the argument, the value and the limit",
    ),
    Invariant(
        'GAS_SOURCE("GAS_GRADE_IMPURITY")',
        'GAS_SOURCE("gas_grade_impurity")',
        "a function is found in any case",
    ),
    Invariant('GAS_LIST("moisture")', "GAS_DEW_PPM", "the list has the topic", row=1, column=0),
]

REFUSALS = [
    Refusal('GAS_WORKING("GAS_NOTHING", 1)', "#VALUE!", "GAS_LIST"),
    Refusal('GAS_WORKING("GAS_DENSITY", "argon", {1,2}, 20)', "#VALUE!", "single value"),
    Refusal('GAS_CHECK("GAS_NOTHING", 1)', "#VALUE!", "GAS_LIST"),
    Refusal('GAS_SOURCE("")', "#VALUE!", "blank"),
    Refusal('GAS_LIST("weather")', "#VALUE!", "purge"),
]
