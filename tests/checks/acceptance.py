"""Checks of the topic acceptance."""

from tests.checks.kinds import MEMORY, Invariant, Published, Refusal

GUARD = (
    "JCGM 106 section 8.3: a result passes where it keeps its expanded uncertainty from the limit; "
    "a rectangular limit a has the standard uncertainty a/√3 (JCGM 100 section 4.3.7)"
)


def verdict(call: str, says: str, why: str) -> Invariant:
    return Invariant(f"GAS_PURGE_VERDICT({call})", says, why, row=1, column=3)


PUBLISHED = [
    Published(
        'GAS_PURGE_VERDICT(18, 20, "±1 ppm", 5)', 18 + 1.96 * 0.577, 1e-4, GUARD, MEMORY,
        "1/√3 is 0.577", row=1, column=2, reckoned=True,
    ),
]  # fmt: skip

INVARIANTS = [
    verdict('18, 20, "±1 ppm", 5', "passed", "its whole band is within the target"),
    verdict('18, 20, "±5 ppm", 5', "cannot tell", "the band reaches over the target"),
    verdict('18, 20, "±2 ppm 95%", 5', "passed", "a band that ends at the target is within it"),
    verdict('30, 20, "±5 ppm", 5', "failed", "its whole band is above the target"),
    verdict("18, 20, , 5", "cannot tell", "nobody says how good the analyser is"),
    verdict('"<20", 20', "passed", "no more than 20 is within 20"),
    verdict('"<20 ppm", 10', "cannot tell", "no more than 20 may be more than 10"),
    verdict('"< 2", 20, , 5', "repeat", "no purge is cleaner than its supply"),
    verdict('3, 20, "±1 ppm", 5', "repeat", "no purge is cleaner than its supply"),
    verdict('4.5, 20, "±1 ppm", 5', "passed", "below the supply by less than the tolerance"),
    verdict('-5, 20, "±1 ppm"', "repeat", "no gas holds less than nothing"),
    verdict('-0.5, 20, "±1 ppm"', "passed", "nothing, within the tolerance"),
    verdict('"0 ppm", 20, "±0 ppm"', "passed", "nothing for certain is not below nothing"),
    verdict('5, 20, "±0 ppm", 5', "passed", "what the supply brings is not below it"),
    verdict('"0 ppm", 0, "±0 ppm"', "passed", "nothing is within a target of nothing"),
    verdict('0.5, 0, "±1 ppm"', "cannot tell", "a band from nothing on reaches over nothing"),
    verdict('1000000, 20, "±1 ppm"', "failed", "the gas is all of another"),
    verdict('-1000000, 20, "±1 ppm"', "repeat", "no gas holds less than nothing"),
    Invariant(
        'GAS_PURGE_VERDICT("<20", 30, "±3 ppm")', 0, "off scale may be nothing", row=1, column=1
    ),
    Invariant(
        'GAS_PURGE_VERDICT("0.01 %", 200, "±5 % of reading")',
        100 * (1 - 1.959964 * 0.05 / 3**0.5),
        "a share of the reading",
        within=1e-6,
        row=1,
        column=1,
    ),
    Invariant(
        'GAS_PURGE_VERDICT("<20", 30, "±3 ppm")',
        20 + 1.959964 * 3**0.5,
        "the end of the scale has its tolerance too",
        within=1e-6,
        row=1,
        column=2,
    ),
]

REFUSALS = [
    Refusal('GAS_PURGE_VERDICT("clean", 20)', "#VALUE!", "reading: "),
    Refusal('GAS_PURGE_VERDICT("<0", 20)', "#NUM!", "must be above 0"),
    Refusal('GAS_PURGE_VERDICT("<", 20)', "#VALUE!", "reading: "),
    Refusal('GAS_PURGE_VERDICT(18, "20 bar")', "#VALUE!", "target: "),
    Refusal("GAS_PURGE_VERDICT(18, 20, 1)", "#VALUE!", "is a bare number"),
    Refusal('GAS_PURGE_VERDICT(18, 20, "5 %")', "#VALUE!", "of reading"),
    Refusal('GAS_PURGE_VERDICT(18, 20, "-1 ppm")', "#NUM!", "below zero"),
    Refusal("GAS_PURGE_VERDICT(18, 20, , -1)", "#NUM!", "below 0"),
    Refusal("GAS_PURGE_VERDICT(1050000, 20)", "#NUM!", "is above"),
    Refusal("GAS_PURGE_VERDICT(-1050000, 20)", "#NUM!", "is below"),
]
