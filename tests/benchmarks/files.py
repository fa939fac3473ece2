"""A million rows of a tank's telemetry, cleaned and summed, against reading the file alone."""

from __future__ import annotations

import resource
import tempfile
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pandas as pd
from pyarrow import csv

from gasfuncs.cleaning.accounts import Tank
from gasfuncs.importing.guessing import guess_mapping
from gasfuncs.importing.readings import read_readings
from gasfuncs.importing.tables import Layout, read_sample
from gasfuncs.importing.tank import account
from gasfuncs.properties import gas
from tests.benchmarks.measuring import Result, compared, timed

ROWS = 1_000_000
MOST_MEGABYTES = 1000
TANK = Tank(gas("nitrogen"), 11.0)


def telemetry(path: Path) -> Path:
    """Two years of minutes: use, a scattering gauge, a delivery every fortnight."""
    count = np.arange(ROWS)
    scatter = np.random.default_rng(1).normal(0, 3, ROWS)
    pd.DataFrame(
        {
            "Timestamp": pd.date_range("2024-01-01", periods=ROWS, freq="min"),
            "Level (L(liq))": (9000 - 0.3 * count % 6000 + scatter).round(1),
            "Tank pressure (bar(g))": (12.4 + 0.1 * np.sin(count / 5000)).round(3),
        }
    ).to_csv(path, index=False)
    return path


def imports() -> Iterator[Result]:
    """Both sides read with one thread."""
    with tempfile.TemporaryDirectory() as folder:
        path = telemetry(Path(folder, "tank.csv"))
        mapping = guess_mapping("tank", read_sample(path, Layout())).mapping
        options = csv.ReadOptions(use_threads=False)
        found = compared(
            f"telemetry of {ROWS:,} rows: read, cleaned, deliveries and use",
            timed(lambda: account(read_readings(path, mapping), TANK)),
            "its reader alone, PyArrow into pandas",
            timed(lambda: csv.read_csv(path, options).to_pandas()),
            goal=3, rounds=5,
        )  # fmt: skip
        held = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        judged = "met" if held <= MOST_MEGABYTES else "missed"
        note = f"{held:.0f} MB; goal {MOST_MEGABYTES} MB: {judged}"
        yield Result(found.what, found.against, found.ours, found.theirs, found.ratio, found.goal,
                     note=note)  # fmt: skip
