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
