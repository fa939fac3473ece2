"""Purges as a controller logged them: a row a cycle, with the pressures that it swung between."""

from __future__ import annotations

from gasfuncs.importing.plant import Plant
from gasfuncs.importing.readings import Readings


def prepare(readings: Readings, plant: Plant) -> None:
    """Take out what can be no cycle."""
    cycle = readings.frame["cycle"]
    readings.leave_out((cycle < 1) | (cycle % 1 != 0), "cycle: is no number of a cycle: 1, 2, 3")
    swapped = plant.absolute(readings, "low") >= plant.absolute(readings, "high")
    readings.leave_out(swapped, "low: is not below high; are the two columns swapped?")
