"""The readings of a pressure-rise test: hours or dates, in order, blank rows left out."""

from __future__ import annotations

import numpy as np

from gasfuncs.calculations.rise_models import Array
from gasfuncs.definition import refuse, step
from gasfuncs.definition.moments import DAY, STAMPED

HOUR = 3600.0
LONGEST = 30 * DAY

DATES = (36_526.0, 73_050.0)
"""Serial numbers of the days from 2000 to 2099."""


def readings(
    times: Array, pressures: Array, times_are: str | None, fewest: int
) -> tuple[Array, Array]:
    """Times in s and pressures in Pa in the order of time; refuses what is no record."""
    refuse(
        len(times) != len(pressures),
        "pressures",
        f"has {len(pressures)} cells and times has {len(times)}; give ranges of the same size",
    )
    blank = np.isnan(times)
    refuse(
        np.any(blank != np.isnan(pressures)),
        "pressures",
        "has a blank cell beside a time, or the other way round; complete or empty both",
    )
    times, pressures = _clocked(times[~blank], times_are), pressures[~blank]
    different = len(np.unique(times))
    refuse(
        different < fewest,
        "times",
        f"holds {different} different times; at least {fewest} readings are needed",
    )
    refuse(
        np.ptp(times) > LONGEST,
        "times",
        f"span {np.ptp(times) / DAY:.4g} days, more than the 30 that a test may last; "
        'are they in another unit than hours, or dates (times_are "dates")?',
    )
    order = np.argsort(times, kind="stable")
    return times[order], pressures[order]


def _clocked(times: Array, times_are: str | None) -> Array:
    """Times in s, dates and hours told apart."""
    dates = times >= STAMPED
    refuse(
        dates.any() and not dates.all() and times_are != "dates",
        "times",
        'hold dates and bare numbers; where all are dates, say "dates" in times_are',
    )
    bare = times[~dates] / HOUR
    if times_are is None and bare.size:
        refuse(
            (bare >= DATES[0]).all() and (bare <= DATES[1]).all(),
            "times",
            f'look like dates ({bare[0]:.10g}); say in times_are what they are: "dates" or "hours"',
        )
    if times_are == "dates":
        times = np.where(dates, times, times / HOUR * DAY)
    step("times read as", "", "dates" if dates.any() or times_are == "dates" else "hours")
    return times
