"""Rise tests of a vacuum gauge's logger: a row a test, some of its readings at equal times."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from gasfuncs.importing.curves import Rise
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.plant import Plant
from gasfuncs.importing.readings import INSTANT, Readings
from gasfuncs.units import Unit
from gasfuncs.units.kinds import TIME

READINGS = 12
"""A row of the book has room for so many."""

OFF = 0.01
"""A reading may be so far from its time, as a share of the time between two."""

APART = pd.Timedelta(hours=6)
"""Without a reading for so long, what follows is another test."""

FALLEN = 1.2
"""A first or last reading this many times another was not taken with the pump shut off."""


def prepare(readings: Readings, plant: Plant) -> None:
    """One row a test: its day, the hours between readings and up to twelve of them."""
    _give_days(readings)
    shut = [_while_shut(readings, test) for test in list(_tests(readings))]
    tests = [test for test in shut if test is not None]
    readings.rises = [_rise(readings, test, plant) for test in tests]
    rows = [_row(readings, test) for test in tests]
    lines = [int(readings.lines[test[0]]) for test in tests]
    readings.used += sorted(set(readings.lines.astype(int)) - set(lines))
    readings.units |= _units(readings.units["pressure"])
    readings.frame = pd.DataFrame(rows, columns=["day", "vessel", "every", *_units_of_readings()])
    readings.lines = pd.Series(lines, dtype="int64")


def _units_of_readings() -> list[str]:
    return [f"reading {number}" for number in range(1, READINGS + 1)]


def _units(pressure: Unit) -> dict[str, Unit]:
    return {"every": TIME.unit("h"), **dict.fromkeys(_units_of_readings(), pressure)}


def _give_days(readings: Readings) -> None:
    """The moment of each reading; a clock that counts from the start needs the test's day."""
    frame = readings.frame
    if INSTANT in frame:
        return
    if "day" not in frame:
        raise ImportingError(
            "the file counts its time from the start of the test: name the column of its day, or "
            'the day of all rows, under [always]: day = "2026-10-08"'
        )
    readings.leave_out(frame["day"].isna(), "day: is blank")
    frame = readings.frame
    start = frame["day"]
    passed = pd.to_timedelta(frame["time"], unit="s")
    readings.frame = frame.assign(**{INSTANT: start + passed, "time": start})


def _tests(readings: Readings) -> Iterator[pd.Index]:
    """The rows of each test, in order of time."""
    frame = readings.frame.sort_values(INSTANT, kind="stable")
    keys = ["vessel", *(["test"] if "test" in frame else [])]
    for _, rows in frame.groupby(keys, dropna=False):
        another = (rows[INSTANT].diff() > APART).cumsum()
        yield from (part.index for _, part in rows.groupby(another))


def _rise(readings: Readings, test: pd.Index, plant: Plant) -> Rise:
    """A test with all its readings."""
    rows = readings.frame.loc[test]
    hours = (rows[INSTANT] - rows[INSTANT].iloc[0]) / pd.Timedelta(hours=1)
    pascals = plant.absolute(readings, "pressure")[test]
    return Rise(
        str(rows["vessel"].iloc[0]),
        rows["time"].iloc[0],
        hours.to_numpy("float64"),
        pascals.to_numpy("float64"),
    )


def _row(readings: Readings, test: pd.Index) -> list[object]:
    """A test as the book takes it."""
    rows = readings.frame.loc[test]
    seconds = (rows[INSTANT] - rows[INSTANT].iloc[0]).dt.total_seconds().to_numpy("float64")
    kept = at_equal_times(seconds)
    told = rows["pressure"].to_numpy("float64")[kept]
    every = seconds[-1] / (len(kept) - 1)
    first, vessel = rows["time"].iloc[0], rows["vessel"].iloc[0]
    readings.notes.append(
        f"{vessel}, {first:%Y-%m-%d %H:%M}: {len(kept)} of {len(rows)} readings entered, "
        f"every {every / 60:.4g} min"
    )
    blank = [np.nan] * (READINGS - len(kept))
    return [first, vessel, every, *told, *blank]


def _while_shut(readings: Readings, test: pd.Index) -> pd.Index | None:
    """The test from its lowest pressure on, where the pump was on before; None if it is none."""
    rows = readings.frame.loc[test]
    steady = rows["pressure"].rolling(3, center=True, min_periods=1).median()
    lowest = int(steady.to_numpy().argmin())
    falls = steady.iloc[0] > FALLEN * steady.min()
    falls &= steady.iloc[: lowest + 1].max() < FALLEN * steady.iloc[0]
    before = pd.Series(np.arange(len(rows)) < lowest * falls, index=rows.index)
    left = rows[~before]
    why = None
    if len(left) < 2 or left[INSTANT].iloc[0] == left[INSTANT].iloc[-1]:
        why = "pressure: a rise test needs two readings at least"
    elif steady.iloc[-1] * FALLEN < steady[~before].max():
        why = "pressure: falls again within the test; take the readings from then on out"
    masked = readings.frame.index.isin(test)
    if why:
        readings.leave_out(pd.Series(masked, readings.frame.index), why)
        return None
    early = readings.frame.index.isin(rows.index[before])
    readings.leave_out(
        pd.Series(early, readings.frame.index), "pressure: was still falling; the pump was on"
    )
    return left.index


def at_equal_times(times: NDArray[np.float64], most: int = READINGS) -> NDArray[np.intp]:
    """Places of as many readings, up to `most`, as stand at equal times from first to last."""
    for count in range(min(most, len(times)), 2, -1):
        wanted = np.linspace(times[0], times[-1], count)
        nearest = np.abs(times[:, None] - wanted).argmin(axis=0)
        if np.abs(times[nearest] - wanted).max() <= OFF * (wanted[1] - wanted[0]):
            return np.asarray(nearest)
    return np.array([0, len(times) - 1])
