"""The band of an answer, against the plain answers of as many rows as it has trials."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from gasfuncs.calculations.propagation import TRIALS
from gasfuncs.registry import worksheet_functions
from tests.benchmarks.measuring import Result, compared, timed

TOLERANCES = ["", "±3 %", "", "±0.5 % of 16 bar", "±5 K"]


def bands() -> Iterator[Result]:
    """100,000 trials of a backfill with three tolerances, against a plain column of 100,000."""
    functions = worksheet_functions()
    random = np.random.default_rng(14)
    volume = random.uniform(2.4, 2.6, TRIALS)
    bar, celsius = random.uniform(1.9, 2.1, TRIALS), random.uniform(15.0, 25.0, TRIALS)
    plain, banded = functions["GAS_BACKFILL"], functions["GAS_UNCERTAINTY"]
    yield compared(
        f"GAS_UNCERTAINTY of GAS_BACKFILL, {TRIALS:,} trials",
        timed(lambda: banded("GAS_BACKFILL", TOLERANCES, "argon", 2.5, "0.01 mbar", 2.0, 20.0)),
        f"a plain column of {TRIALS:,} rows",
        timed(lambda: plain("argon", volume, "0.01 mbar", bar, celsius)),
        goal=30, rounds=9,
    )  # fmt: skip
