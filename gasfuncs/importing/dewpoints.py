"""Dew points of a meter's logger: the last reading of each day and place, when it has settled."""

from __future__ import annotations

import numpy as np
import pandas as pd

from gasfuncs.errors import CellError
from gasfuncs.importing.plant import Plant
from gasfuncs.importing.readings import INSTANT, Readings, note_gaps, note_stuck
from gasfuncs.registry import worksheet_function_named
from gasfuncs.units.kinds import TEMPERATURE

WETTER = 5.0
"""K above the day's last reading that are worth a word."""

POSSIBLE = (123.15, 373.15)
"""K that a dew point can be."""

_MOST_TOLD = 3


def prepare(readings: Readings, plant: Plant) -> None:
    """Keep the last reading of each day and place, as a dew point."""
    if readings.units["dew_point"].label in TEMPERATURE.recipes:
        outside = ~readings.frame["dew_point"].between(*POSSIBLE)
        readings.leave_out(outside, "dew_point: is not within -150 and 100 °C")
    if readings.frame["point"].nunique() == 1:
        note_gaps(readings)
        note_stuck(readings, "dew_point")
    days = [readings.frame["time"].dt.normalize(), readings.frame["point"]]
    last = readings.frame.groupby(days, dropna=False)[INSTANT].transform("max")
    between = readings.frame[INSTANT] < last
    _note_wetter(readings, days)
    readings.used += readings.lines[between].astype(int).tolist()
    readings.frame, readings.lines = readings.frame[~between], readings.lines[~between]
    if readings.units["dew_point"].label not in TEMPERATURE.recipes:
        _as_dew_points(readings, plant)


def _note_wetter(readings: Readings, days: list[pd.Series]) -> None:
    """Say on which days the gas was clearly wetter than at the last reading."""
    if readings.units["dew_point"].label not in TEMPERATURE.recipes:
        return
    wettest = readings.frame.groupby(days)["dew_point"].agg(["max", "last"])
    told = wettest[wettest["max"] > wettest["last"] + WETTER]
    for (day, point), most, last in told.head(_MOST_TOLD).itertuples():
        readings.notes.append(
            f"{point}, {day:%Y-%m-%d}: {last - 273.15:.1f} °C at last, {most - 273.15:.1f} °C at "
            "the wettest; was the meter still drying out?"
        )
    if len(told) > _MOST_TOLD:
        readings.notes.append(f"and {len(told) - _MOST_TOLD} more such days")


def _as_dew_points(readings: Readings, plant: Plant) -> None:
    """Water told as a share of the gas, as the dew point at the meter's pressure."""
    call = worksheet_function_named("GAS_PPM_DEW")
    pressures = plant.absolute(readings, "pressure")
    waters = readings.frame["dew_point"]
    found = [
        call.cells(f"{water * 1e6!r} ppm", f"{pressure!r} Pa(a)")
        for water, pressure in zip(waters, pressures, strict=True)
    ]
    readings.units["dew_point"] = celsius = TEMPERATURE.unit("degC")
    points = [np.nan if isinstance(each, CellError) else each + celsius.zero for each in found]
    why = [f"dew_point: {each.message}" if isinstance(each, CellError) else None for each in found]
    readings.frame = readings.frame.assign(dew_point=points)
    index = readings.frame.index
    readings.leave_out(readings.frame["dew_point"].isna(), pd.Series(why, index, dtype=object))
