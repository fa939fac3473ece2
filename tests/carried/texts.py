"""Texts with units as people write them, and as nobody should, for the native reader."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator

from gasfuncs.units import Kind, kinds

NUMBERS = (
    "5", "80.5", "1,5", ".5", ",5", "1.234", "1,234", "1,234.5", "1.234,5", "1,234,567", "12,34",
    "1.2.3", "1..2", "0,123", "1e3", "2E-2", "1e+1", "1.5e2", "+7", "-3", "1e", "e5", "", "1 000",
    "0.000", "1,234,56", "1.234.567,8", "7.", "7,", "1e1234", "−4", "1,5e1", "100.000", "1.500",
)  # fmt: skip
CALLS: dict[str, Kind] = {
    "GAS_ABSOLUTE({})": kinds.GAUGE_PRESSURE,
    "GAS_GAUGE({})": kinds.PRESSURE,
    'GAS_CONTENTS("argon",{},5,20)': kinds.VOLUME,
    "GAS_LEAK_LOSS({},1)": kinds.LEAK,
    "GAS_LEAK_LOSS(1,{})": kinds.TIME,
    "GAS_FLOW_USE({},1)": kinds.FLOW,
    'GAS_VOLUME("nitrogen",{},5,20)': kinds.AMOUNT,
    "GAS_FREE_VOLUME(10,{})": kinds.MASS,
    "GAS_LEAK_LIMIT({},20)": kinds.IMPURITY,
}
SPELLINGS: tuple[Callable[[str], str], ...] = (
    str, str, str, str.upper, str.lower, str.swapcase,
    lambda unit: unit.replace("3", "³").replace("2", "²").replace("/", " / "),
    lambda unit: unit.replace(" ", "·"),
)  # fmt: skip


def texts(count: int, seed: int) -> Iterator[str]:
    """Calls with random numbers and units, mostly of the kind that is asked for."""
    chance = random.Random(seed)
    for _ in range(count):
        call, kind = chance.choice(list(CALLS.items()))
        other = chance.choice(list(kinds.all_kinds())) if chance.random() < 0.15 else kind
        unit = chance.choice(SPELLINGS)(chance.choice(other.labels()))
        gap = chance.choice(("", " ", "  "))
        yield call.format(f'"{chance.choice(NUMBERS)}{gap}{unit}"')


TOLERANCES = (
    "±1 ppm", "+/-1 ppm", "+-1.5 ppm", "1 ppm", "u 1 ppm", "u=1 ppm", "u = 1ppm", "u1 ppm",
    "±1,5 ppm", "±2 ppm 95%", "±2 ppm (95 %)", "±2 ppm 99.7 %", "±2 ppm k=2", "±2 ppm (k = 2)",
    "±5 % of reading", "±5 % of value 95%", "±5 % of 40 ppm", "±5% of 40 ppm k=2", "±5 points",
    "±5 % (95%)", "±1e0 ppm", "±0 ppm", "  ±  1   ppm ", "±1 µmol/mol", "±0.001 %", "±1 vpm",
    "±1 PPM", "−1 ppm", "±-1 ppm", "U 1 ppm", "u 1 ppm k=2", "u 1 ppm 95%", "±1 ppm 30%",
    "±1 ppm k=11", "±1 ppm k=", "±1 bar", "±1", "±", "±ppm", "±1 ppm of reading", "±5 % of",
    "±5 % of ppm", "±1e20 ppm", "±1,234 ppm", "ppm 1", "±1 ppm; ±2 ppm",
    "u 0.5 ppm;±2 % of reading k=2", "±1 ppm; x", "±1 ppm; ±2 ppm; ±1 ppm", "±1 ppm;",
    "±1 ppm df=5 95%", "±1 ppm sensor", "±5 % of reading sensor", "x", "±1.2.3 ppm", ";", "0",
)  # fmt: skip
"""Tolerances as people write them, and as nobody should; the last few are not carried."""

PRESSURES = (
    "±10 mbar", "±0.5 % of 16 bar", "±0.5 % of 16 bar(a)", "±0.5 % of 230 psig", "±1 %", "±1 psi",
    "±1 bar(g)", "±1 bar gauge", "±1 % 95%", "±1 %; ±10 mbar", "±1 %; ±1 %", "u 0.3 % of reading",
    "±0.5 % of 16 K", "±1 mbar dial",
)  # fmt: skip
TEMPERATURES = (
    "±0.2 K",
    "±0.5 degC",
    "±1 degF",
    "u 0.1 K",
    "±1 %",
    "±1 % of reading",
    "±1 % of 300 K",
)


def tolerances() -> Iterator[str]:
    """Calls with these tolerances."""
    yield from (f'GAS_PURGE_VERDICT(18, 20.5, "{each}")' for each in TOLERANCES)
    test = "GAS_DECAY_VERDICT(40, 13.5, 19.8, 13.487, 19.7, 48, 6, "
    yield from (f'{test}"nitrogen", "{each}", "±0.2 K")' for each in PRESSURES)
    yield from (f'{test}, "±10 mbar", "{each}")' for each in TEMPERATURES)
