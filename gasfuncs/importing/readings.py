"""Rows of a file as readings: times, numbers in SI and names, each row kept or with its reason."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from gasfuncs.cleaning import read_moments, read_numbers
from gasfuncs.importing import sensors
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.guessing import questions
from gasfuncs.importing.mapping import Mapping, unit_kind
from gasfuncs.importing.roles import CLOCK, COUNT, KINDS, MOMENT, NAME, Role
from gasfuncs.importing.tables import Table, read_table
from gasfuncs.units import Unit
from gasfuncs.units.kinds import (
    AMOUNT,
    FRACTION,
    IMPURITY,
    LIQUID,
    MASS,
    PRESSURE,
    TEMPERATURE,
)

if TYPE_CHECKING:
    from gasfuncs.importing.curves import Rise

INSTANT = "instant"
"""The column that gives the order of the rows: UTC where the zone is known."""

MOST_FULL = 1.1
"""Share of a tank that a gauge may still show."""

EVENTS = ("cycles", "tickets")

_MOST_TOLD = 3


@dataclass(slots=True)
class Readings:
    """A file's readings by role. `left_out` has line and reason, `used` the lines that went into
    something else than a row of their own; read = kept + used + left out.

    Measured columns are in SI, gas amounts in the unit of `units`, which needs the gas to be more.
    """

    frame: pd.DataFrame
    lines: pd.Series
    units: dict[str, Unit]
    left_out: list[tuple[int, str]] = field(default_factory=list)
    used: list[int] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    rises: list[Rise] = field(default_factory=list)
    of_several: bool = False
    """Whether the file has the readings of others beside these."""

    @property
    def read(self) -> int:
        return len(self.frame) + len(self.used) + len(self.left_out)

    def of(self, rows: pd.Series) -> Readings:
        """Some of the rows (a mask), with nothing used or left out yet."""
        return Readings(self.frame[rows], self.lines[rows], dict(self.units))

    def leave_out(self, rows: pd.Series, reason: str | pd.Series) -> None:
        """Take rows (a mask) out, with their reason."""
        if not rows.any():
            return
        told = reason[rows] if isinstance(reason, pd.Series) else [reason] * int(rows.sum())
        self.left_out += list(zip(self.lines[rows].astype(int), told, strict=True))
        self.frame, self.lines = self.frame[~rows], self.lines[~rows]


def read_parts(path: Path, mapping: Mapping) -> list[Readings]:
    """The readings of a file, those of its sensors apart by what they are of.

    Raises ImportingError where the mapping leaves a question.
    """
    asked = questions(mapping)
    if asked:
        raise ImportingError("; ".join(asked))
    table = read_table(path, mapping.layout, _texts(mapping))
    if not mapping.sensors:
        return [_read(table, mapping)]
    _check_there([*(mapping.rows.values() if mapping.rows else mapping.sensors)], table)
    found = []
    for part, sub, used in sensors.parts(table, mapping):
        readings = _read(part, sub)
        readings.used += used
        readings.of_several = True
        found.append(readings)
    return found


def read_readings(path: Path, mapping: Mapping) -> Readings:
    """The readings of a file of one tank, place, vessel or purge, or with a column of them."""
    (found,) = read_parts(path, mapping)
    return found


def _check_there(headings: list[str], table: Table) -> None:
    for heading in headings:
        if heading not in table.frame:
            raise ImportingError(
                f'the file has no column "{heading}"; it has {", ".join(table.frame.columns)}'
            )


def _read(table: Table, mapping: Mapping) -> Readings:
    _check_headings(table, mapping)
    readings = _cells_read(table, mapping)
    _check_physics(readings, mapping)
    _sort(readings, mapping.kind)
    _leave_out_repeats(readings, mapping)
    readings.left_out.sort()
    return readings


def _texts(mapping: Mapping) -> list[str]:
    """Headings of the columns that are to stay text."""
    kept = (NAME, CLOCK, MOMENT) if "clock" in mapping.columns else (NAME,)
    of_rows = [mapping.rows["sensor"]] if mapping.rows else []
    return of_rows + [
        column.heading
        for role in KINDS[mapping.kind]
        if role.holds in kept and (column := mapping.columns.get(role.name)) and not column.unit
    ]


def _check_headings(table: Table, mapping: Mapping) -> None:
    for name, column in mapping.columns.items():
        if column.heading not in table.frame:
            raise ImportingError(
                f'{name}: the file has no column "{column.heading}"; '
                f"it has {', '.join(table.frame.columns)}"
            )
    for role in KINDS[mapping.kind]:
        if role.needed and role.name not in mapping.columns and role.name not in mapping.always:
            raise ImportingError(f"the mapping names no column for {role.name}")


def _cells_read(table: Table, mapping: Mapping) -> Readings:
    frame = pd.DataFrame(index=table.frame.index)
    reasons = pd.Series(pd.NA, index=frame.index, dtype="string")
    units: dict[str, Unit] = {}
    for role in KINDS[mapping.kind]:
        column = mapping.columns.get(role.name)
        if column is None:
            if role.name in mapping.always:
                frame[role.name] = _always(role, mapping, units)
                if role.name in ("time", "start"):
                    frame[INSTANT] = frame[role.name]
            continue
        if role.holds == CLOCK:
            continue
        cells = table.frame[column.heading]
        if role.name in ("time", "start") and "clock" in mapping.columns:
            cells = sensors.joined(cells, table.frame[mapping.columns["clock"].heading])
        if role.holds == MOMENT and not column.unit:
            moments = read_moments(cells, zone=mapping.zone, order=mapping.order)
            frame[role.name], why = moments.local, moments.reasons
            if role.name in ("time", "start"):
                frame[INSTANT] = moments.instants
        elif role.holds == NAME:
            frame[role.name], why = _names(cells, mapping.names.get(role.name, {})), None
        else:
            frame[role.name], why = _numbers(cells, role, mapping, units)
        reasons = _first_reason(reasons, frame[role.name], why, role)
    readings = Readings(frame, table.lines, units, list(table.left_out))
    readings.leave_out(reasons.notna(), reasons)
    return readings


def _always(role: Role, mapping: Mapping, units: dict[str, Unit]) -> Any:
    """What the mapping says of all rows."""
    text = mapping.always[role.name]
    if role.holds == NAME:
        return text
    if role.measured:
        number, column = mapping.always_told(role)
        units[role.name] = unit_kind(role, column).unit(column.unit)
        return _as_kept(number, units[role.name])
    cell = pd.Series([text])
    if role.holds == MOMENT:
        moments = read_moments(cell, zone=mapping.zone, order=mapping.order)
        values, reasons = moments.local, moments.reasons
    else:
        numbers = read_numbers(cell)
        values, reasons = numbers.values, numbers.reasons
    if reasons.notna().any():
        raise ImportingError(f"always.{role.name}: {reasons[0]}")
    return values[0]


def _as_kept(told: Any, unit: Unit) -> Any:
    """What was told in a unit: in SI, a gas amount still in that unit."""
    return told if unit.reference else told * unit.scale + unit.zero


def _numbers(
    cells: pd.Series, role: Role, mapping: Mapping, units: dict[str, Unit]
) -> tuple[pd.Series, pd.Series]:
    numbers = read_numbers(cells, mapping.layout.decimal)
    if role.holds == COUNT:
        return numbers.values, numbers.reasons
    unit = mapping.unit_kind(role).unit(mapping.columns[role.name].unit)
    units[role.name] = unit
    return _as_kept(numbers.values, unit), numbers.reasons


def _names(cells: pd.Series, known: dict[str, str]) -> pd.Series:
    text = cells.astype("string").str.strip()
    return text.replace(known) if known else text


def _first_reason(
    reasons: pd.Series, values: pd.Series, why: pd.Series | None, role: Role
) -> pd.Series:
    """The reasons known so far, else those of a role's cells."""
    if why is not None and why.notna().any():
        reasons = reasons.fillna(role.name + ": " + why.astype("string"))
    blank = values.isna()
    if role.needed and blank.any():
        reasons = reasons.mask(blank & reasons.isna(), f"{role.name}: is blank")
    return reasons


def _check_physics(readings: Readings, mapping: Mapping) -> None:
    """Values that no gauge of a plant can show."""
    for role in KINDS[mapping.kind]:
        if role.name not in readings.units:
            continue
        values, kind = readings.frame[role.name], mapping.unit_kind(role)
        if kind is PRESSURE:
            readings.leave_out(values <= 0, f"{role.name}: is below absolute vacuum")
        elif kind is FRACTION:
            outside = (values < 0) | (values > MOST_FULL)
            readings.leave_out(outside, f"{role.name}: is not within 0 and 110 %")
        elif kind is TEMPERATURE:
            readings.leave_out(values <= 0, f"{role.name}: is below absolute zero")
        elif kind in (LIQUID, MASS, AMOUNT, IMPURITY):
            readings.leave_out(values < 0, f"{role.name}: is negative")


def _sort(readings: Readings, kind: str) -> None:
    """By time; what is a list of single events may stand in any order."""
    key = INSTANT if INSTANT in readings.frame else "time"
    if key not in readings.frame:
        return
    moments = readings.frame[key]
    backwards = int((moments < moments.shift()).sum())
    if backwards:
        if kind not in EVENTS:
            readings.notes.append(f"the file steps back in time {backwards} times; it was sorted")
        order = moments.sort_values(kind="stable").index
        readings.frame, readings.lines = readings.frame.loc[order], readings.lines.loc[order]


def _leave_out_repeats(readings: Readings, mapping: Mapping) -> None:
    """The same reading twice, or two of one time, of which the first counts."""
    frame = readings.frame
    roles = [r for r in KINDS[mapping.kind] if r.holds in (NAME, MOMENT) or r.name == "cycle"]
    key = [role.name for role in roles if role.name in frame]
    key = [INSTANT if name in ("time", "start") and INSTANT in frame else name for name in key]
    key = [name for name in key if name not in ("status", "end")]
    if not key or _of_days(readings):
        return
    again = frame[key[0]].eq(frame[key[0]].shift()) if key == [INSTANT] else frame.duplicated(key)
    if not again.any():
        return
    some = frame[frame[key[0]].isin(frame.loc[again, key[0]])]
    first = readings.lines[some.index].groupby([some[name] for name in key], dropna=False)
    line = first.transform("first").astype("Int64").astype("string")[again[again].index]
    same = some.duplicated([name for name in some if name != "status"])[line.index]
    reason = ("repeats line " + line).mask(
        ~same, "is of the same time as line " + line + ", with another value; the first is kept"
    )
    readings.leave_out(again, reason.reindex(frame.index))


def _of_days(readings: Readings) -> bool:
    """Whether these are cycles by day, of which two alike are two."""
    start = readings.frame.get("start")
    return start is not None and bool((start == start.dt.normalize()).all())


def gaps(instants: pd.Series, times: float = 4.0) -> Iterator[tuple[pd.Timestamp, pd.Timestamp]]:
    """Spans without a reading, longer than so many usual intervals."""
    steps = instants.diff()
    long = steps > times * steps.median()
    for place in np.flatnonzero(long):
        yield instants.iloc[place - 1], instants.iloc[place]


def note_gaps(readings: Readings) -> None:
    """Say where readings are missing."""
    found = list(gaps(readings.frame[INSTANT])) if len(readings.frame) > 2 else []
    if found:
        told = ", ".join(f"{a:%Y-%m-%d %H:%M} to {b:%Y-%m-%d %H:%M}" for a, b in found[:_MOST_TOLD])
        more = f" and {len(found) - _MOST_TOLD} more" if len(found) > _MOST_TOLD else ""
        readings.notes.append(f"no reading from {told}{more}")


def note_stuck(readings: Readings, name: str, hours: float = 24.0) -> None:
    """Say where a value stood still for longer than a working gauge lets it."""
    values = readings.frame[name]
    if len(values) < 3:
        return
    run = (values != values.shift()).cumsum()
    spans = readings.frame[INSTANT].groupby(run).agg(["min", "max", "size"])
    long = spans[(spans["max"] - spans["min"] > pd.Timedelta(hours=hours)) & (spans["size"] > 12)]
    for start, end, size in long.head(_MOST_TOLD).itertuples(index=False):
        readings.notes.append(
            f"{name}: {size} readings from {start:%Y-%m-%d %H:%M} to {end:%Y-%m-%d %H:%M} "
            "are the same; is the gauge stuck?"
        )
