"""Cycles as they were run: measured where a meter counted, else by their own pressures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pandas as pd

from gasfuncs.errors import CellError
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.plant import STEP, Plant
from gasfuncs.importing.readings import Readings
from gasfuncs.registry import worksheet_function_named
from gasfuncs.units import ATMOSPHERE
from gasfuncs.units.kinds import AMOUNT

ABORTED = r"abort|fail|cancel|interrupt|stopped|abbruch"
OWN = {
    "backfill": {"From": "vacuum", "To": "backfill", "Temperature": "temperature"},
    "hold": {"From": "hold_pressure", "Hours": "hold"},
}
"""What a file may tell of a cycle itself, by the column of its recipe's step: of the last backfill,
and of the hold where there is one."""
TOLD = tuple(role for roles in OWN.values() for role in roles.values())


def prepare(readings: Readings, plant: Plant) -> None:
    """Give every cycle its loads and, where the file tells it, its measured use."""
    frame = readings.frame
    if "loads" not in frame:
        frame["loads"] = 1.0
    frame["loads"] = frame["loads"].fillna(1.0)
    _count(readings)
    _abort(readings)
    _sum_days(readings)
    _as_run(readings, plant)


def _count(readings: Readings) -> None:
    """A counter's two readings are a use; one that ran back is not."""
    if not {"counter_start", "counter_end"} <= set(readings.frame):
        return
    used = readings.frame["counter_end"] - readings.frame["counter_start"]
    readings.units["measured_use"] = readings.units["counter_end"]
    readings.leave_out(used < 0, "counter_end: the counter ran back; was it reset?")
    there = readings.frame.get("measured_use", pd.Series(np.nan, index=readings.frame.index))
    readings.frame = readings.frame.assign(measured_use=there.fillna(used))


def _abort(readings: Readings) -> None:
    """An aborted cycle is no load, and counts with what it used."""
    if "status" not in readings.frame:
        return
    status = readings.frame["status"].astype("string").fillna("")
    aborted = status.str.contains(ABORTED, case=False).astype(bool)
    readings.frame.loc[aborted, "loads"] = 0.0
    measured = readings.frame.get("measured_use")
    unknown = aborted if measured is None else aborted & measured.isna()
    readings.leave_out(
        unknown, "status: was aborted and the file does not tell its use; type it into Measured"
    )


def _sum_days(readings: Readings) -> None:
    """Where the file has days without times, one row a day, furnace and recipe."""
    frame = readings.frame
    if frame.empty or (frame["start"] != frame["start"].dt.normalize()).any():
        return
    key = ["start", "furnace", *(["recipe"] if "recipe" in frame else [])]
    sums = {name: "sum" for name in ("loads", "measured_use") if name in frame}
    first = {name: "first" for name in frame if name not in (*key, *sums)}
    places = frame.groupby(key, dropna=False).transform("size")
    if (places == 1).all():
        return
    lines = readings.lines.groupby([frame[name] for name in key], dropna=False).first()
    readings.used += sorted(set(readings.lines.astype(int)) - set(lines.astype(int)))
    readings.frame = frame.groupby(key, dropna=False, as_index=False).agg({**sums, **first})
    readings.lines = pd.Series(lines.to_numpy(), index=readings.frame.index)


def _as_run(readings: Readings, plant: Plant) -> None:
    """The use of cycles whose own pressures are in the file, by their recipe's other steps."""
    own = [name for name in TOLD if name in readings.frame]
    if not own:
        return
    _note_holds(readings, plant)
    frame = readings.frame
    for name in own:
        if readings.units[name].zero == ATMOSPHERE:  # a gauge's: over the air of the site
            frame[name] += plant.site - ATMOSPHERE
    if "measured_use" not in frame:
        frame["measured_use"] = np.nan
        readings.units["measured_use"] = AMOUNT.unit("Nm3")
    for place, row in zip(frame.index, frame.to_dict("records"), strict=True):
        if pd.isna(row["measured_use"]) and any(pd.notna(row[name]) for name in own):
            frame.loc[place, "measured_use"] = _use(plant, row)
    readings.leave_out(frame["measured_use"] < 0, "measured_use: is negative")


def _note_holds(readings: Readings, plant: Plant) -> None:
    """Say of which recipes the file's one hold is not taken."""
    if not {"hold", "hold_pressure"} & set(readings.frame):
        return
    for recipe in readings.frame["recipe"].dropna().unique():
        day = readings.frame["start"].iloc[-1]
        steps = list(plant.rows("Steps", day, Recipe=recipe))
        count = sum(step["Kind"] == "hold" for step in steps)
        if count > 1:
            readings.notes.append(
                f"{recipe}: has {count} holds, the file tells one; its holds are the recipe's"
            )


def _use(plant: Plant, row: dict[Any, Any]) -> float:
    """Nm3 that the cycle took, with its own pressures in the last backfill."""
    furnace = next(plant.rows("Furnaces", row["start"], Furnace=row["furnace"]), None)
    steps = list(plant.rows("Steps", row["start"], Recipe=row["recipe"]))
    if furnace is None or not steps:
        raise ImportingError(
            f"{row['furnace']}, {row['recipe']}: the book's lists have no version of that day"
        )
    told = [_told(plant, step, own) for step, own in zip(steps, _own(steps, row), strict=True)]
    unit = plant.tables["Furnaces"].above("Free volume")
    volume = f"{furnace['Free volume']} {unit}"
    found = worksheet_function_named("GAS_CYCLE").cells(furnace["Gas"], volume, told, "Nm3")
    if isinstance(found, CellError):
        raise ImportingError(f"{row['furnace']}, {row['recipe']}: {found.message}")
    return float(found) * float(row["loads"])


def _own(steps: list[dict[str, Any]], row: dict[Any, Any]) -> list[dict[str, float]]:
    """What the cycle tells of each step in SI, by the step's column."""
    found: list[dict[str, float]] = [{} for _ in steps]
    for kind, roles in OWN.items():
        places = [place for place, step in enumerate(steps) if step["Kind"] == kind]
        told = {column: row[role] for column, role in roles.items() if pd.notna(row.get(role))}
        if len(places) == 1 or (places and kind == "backfill"):
            found[places[-1]] = told
    return found


def _told(plant: Plant, step: dict[str, Any], own: dict[str, float]) -> list[Any]:
    """A step as GAS_CYCLE takes it; `own` has the cycle's, in Pa, K and s."""
    table = plant.tables["Steps"]
    units = {name: str(table.above(name) or "") for name in STEP}

    def pressure(name: str) -> Any:
        if name in own:
            return f"{own[name]:.9g} Pa(a)"
        number = step[name]
        return "" if number in (None, "") else f"{plant.pascals(number, units[name]):.9g} Pa(a)"

    def plain(name: str, unit: str = "") -> Any:
        if name in own:
            return f"{own[name]:.9g} {unit}"
        number = step[name]
        return "" if number in (None, "") else f"{number} {units[name]}".strip()

    rate = {"hold": plain("Pumping"), "flow": plain("Flow")}.get(str(step["Kind"]), "")
    repeats = step["Repeats"] if step["Repeats"] not in (None, "") else ""
    return [
        step["Kind"], pressure("From"), pressure("To"), plain("Temperature", "K"), rate,
        plain("Hours", "s"), repeats, step["Control"] or "",
    ]  # fmt: skip


def gases_of(readings: Readings, plant: Plant) -> Iterator[str | None]:
    """The gas of each cycle's furnace, by which amounts of one unit become another's."""
    for row in readings.frame[["start", "furnace"]].to_dict("records"):
        found = next(plant.rows("Furnaces", row["start"], Furnace=row["furnace"]), None)
        yield str(found["Gas"]) if found else None
