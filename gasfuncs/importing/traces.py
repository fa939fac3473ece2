"""Cycles of a purge, found in the pressure that a logger recorded: let out, then filled."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.plant import Plant
from gasfuncs.importing.readings import INSTANT, Readings

SWING = 0.2
"""A pump-down or a fill is so much of the whole range of the pressure at least."""

LEAST = 0.05
"""And so much of the highest pressure, absolute; less is a gauge that scatters."""

SETTLED = 0.1
"""Within so much of its swing below the top a cycle still stands filled."""

Array = NDArray[np.float64]
Cycle = tuple[int, int]
"""The places of its lowest and of its highest reading."""


def find(readings: Readings, plant: Plant) -> None:
    """Where the file has a pressure over time and no cycles: a row a cycle, as they were run."""
    frame = readings.frame
    if "cycle" in frame or "purge" not in frame or frame.empty:
        return
    if "pressure" not in frame or ("time" not in frame and INSTANT not in frame):
        raise ImportingError(
            "the file has neither numbered cycles nor a pressure over time: name the columns of "
            "cycle, low and high, or of time and pressure, in the mapping"
        )
    readings.leave_out(frame["purge"].isna(), "purge: is blank")
    rows: list[dict[str, Any]] = []
    lines: list[int] = []
    for name, places in readings.frame.groupby("purge", sort=False).groups.items():
        found = _of_purge(readings, str(name), places, plant)
        rows += [row for _, row in found]
        lines += [line for line, _ in found]
        if not found:
            none = pd.Series(readings.frame.index.isin(places), readings.frame.index)
            readings.leave_out(none, "pressure: no pump-down with a fill after it was found")
    readings.used += sorted(set(readings.lines.astype(int)) - set(lines))
    unit = readings.units["pressure"]
    readings.units |= {"low": unit, "high": unit}
    readings.frame = pd.DataFrame(rows, columns=["purge", "cycle", "low", "high", "reading"])
    readings.lines = pd.Series(lines, dtype="int64")


def _of_purge(
    readings: Readings, name: str, places: pd.Index, plant: Plant
) -> list[tuple[int, dict[str, Any]]]:
    """The line and the row of each cycle of one purge."""
    rows = readings.frame.loc[places]
    told = _steady(rows["pressure"])
    least = _least(_steady(plant.absolute(readings, "pressure")[places]))
    single = int((np.abs(rows["pressure"].to_numpy("float64") - told) > least).sum())
    if single:
        readings.notes.append(f"{name}: {single} single readings off their neighbours passed over")
    found = cycles(told, least)
    if not found:
        return []
    _tell(readings, name, told, found, least)
    ends = [low for low, _ in found[1:]] + [len(told)]
    return [
        (
            int(readings.lines[places[high]]),
            {"purge": name, "cycle": float(number), "low": told[low], "high": told[high],
             "reading": _analysed(rows, told, low, high, end)},
        )
        for number, ((low, high), end) in enumerate(zip(found, ends, strict=True), 1)
    ]  # fmt: skip


def _steady(pressures: pd.Series) -> Array:
    """Each reading as the middle one of three."""
    middle = pressures.rolling(3, center=True, min_periods=1).median()
    return np.asarray(middle, dtype="float64")


def _least(absolute: Array) -> float:
    """Pa that the pressure must fall and rise by to be a cycle."""
    return float(max(SWING * np.ptp(absolute), LEAST * absolute.max()))


def cycles(pressures: Array, least: float) -> list[Cycle]:
    """The lowest and the next highest place of each fall and rise by `least`; a fall that no rise
    follows is none."""
    found: list[Cycle] = []
    low = high = 0
    rising = False
    for place, pressure in enumerate(pressures):
        if rising:
            high = place if pressure > pressures[high] else high
            if pressure <= pressures[high] - least:
                found.append((low, high))
                low, rising = place, False
        else:
            low = place if pressure < pressures[low] else low
            if pressure >= pressures[low] + least:
                high, rising = place, True
    return [*found, (low, high)] if rising else found


def _tell(readings: Readings, name: str, told: Array, found: list[Cycle], least: float) -> None:
    unit = readings.units["pressure"]
    shown = (told - unit.zero) / unit.scale
    lows, highs = ([shown[cycle[at]] for cycle in found] for at in (0, 1))
    readings.notes.append(
        f"{name}: {len(found)} cycles, down to {min(lows):.4g} ... {max(lows):.4g} "
        f"{unit.label}, filled to {min(highs):.4g} ... {max(highs):.4g} {unit.label}"
    )
    last = found[-1][1]
    if told[last] - told[last:].min() >= least:
        readings.notes.append(f"{name}: the file ends evacuated; its last pump-down is no cycle")
    elif last == len(told) - 1 and told[last] - told[max(0, last - 3)] > SETTLED * least:
        readings.notes.append(f"{name}: the file ends while the last cycle still fills")


def _analysed(rows: pd.DataFrame, told: Array, low: int, high: int, end: int) -> float:
    """What the analyser showed last before the cycle was let out again."""
    if "reading" not in rows:
        return float("nan")
    filled = told[high:end] >= told[high] - SETTLED * (told[high] - told[low])
    last = high + int(np.flatnonzero(filled)[-1])
    shown = rows["reading"].to_numpy("float64")[low : last + 1]
    known = shown[np.isfinite(shown)]
    return float(known[-1]) if len(known) else float("nan")
