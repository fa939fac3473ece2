"""Files with a column a sensor, or a row a reading: taken apart into the readings of each tank."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pandas as pd

from gasfuncs.cleaning import read_moments
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.mapping import Column, Mapping
from gasfuncs.importing.roles import MAIN, OWNER
from gasfuncs.importing.tables import Table

Part = tuple[Table, Mapping, list[int]]
"""A table that has a row a moment, its mapping, and lines that went into rows of others."""


def parts(table: Table, mapping: Mapping) -> list[Part]:
    """The table of each tank, place, vessel or purge that the mapping's sensors are of."""
    owners = dict.fromkeys(sensor.of for sensor in mapping.sensors.values())
    subs = [(_sensors_of(mapping, owner), _mapping_of(mapping, owner)) for owner in owners]
    if not mapping.rows:
        first, *others = [sub for _, sub in subs]
        return [(table, first, []), *((replace(table, left_out=[]), sub, []) for sub in others)]
    tags = table.frame[mapping.rows["sensor"]].astype("string").str.strip()
    known = tags.isin(list(mapping.sensors)).astype(bool)
    unknown = ("sensor: " + tags.fillna('""') + " is not among [sensors] in the mapping")[~known]
    left_out = [*table.left_out, *zip(table.lines[~known].astype(int), unknown, strict=True)]
    found = [_wide(table, mapping, sensors, sub, tags) for sensors, sub in subs]
    found[0][0].left_out = left_out
    return found


def _sensors_of(mapping: Mapping, owner: str) -> dict[str, str]:
    """The sensors of one owner by their role."""
    found: dict[str, str] = {}
    for name, sensor in mapping.sensors.items():
        if sensor.of != owner:
            continue
        if sensor.role in found:
            raise ImportingError(
                f'sensors: "{found[sensor.role]}" and "{name}" are both {sensor.role} of '
                f'{owner or "one"}; say under "of" which {OWNER[mapping.kind]} each is of'
            )
        found[sensor.role] = name
    return found


def _mapping_of(mapping: Mapping, owner: str) -> Mapping:
    columns = {
        role: Column(name, mapping.sensors[name].unit)
        for role, name in _sensors_of(mapping, owner).items()
    }
    always = mapping.always | ({OWNER[mapping.kind]: owner} if owner else {})
    return replace(mapping, columns=mapping.columns | columns, always=always, sensors={}, rows={})


def _wide(
    table: Table, mapping: Mapping, sensors: dict[str, str], sub: Mapping, tags: pd.Series
) -> Part:
    """A row for each reading of the main sensor; the others as they were last shown before it."""
    main = next((role for role in MAIN[mapping.kind] if role in sensors), None)
    if main is None:
        wanted = " or ".join(MAIN[mapping.kind])
        raise ImportingError(f"sensors: of {', '.join(sensors.values())} none is {wanted}")
    here = (tags == sensors[main]).fillna(False).astype(bool)
    value = mapping.rows["value"]
    frame = table.frame[here].rename(columns={value: sensors[main]})
    others = (tags.isin(list(sensors.values())) & ~here).astype(bool)
    instants = _instants(table.frame, mapping)
    for name in sensors.values():
        if name != sensors[main]:
            there = (tags == name).fillna(False).astype(bool)
            frame[name] = _last_shown(
                instants[there], table.frame.loc[there, value], instants[here]
            )
    found = Table(
        frame.reset_index(drop=True), table.lines[here].reset_index(drop=True), table.layout
    )
    return found, sub, table.lines[others].astype(int).tolist()


def _instants(frame: pd.DataFrame, mapping: Mapping) -> pd.Series:
    column = mapping.columns["time"]
    cells = frame[column.heading]
    if column.unit:
        return pd.Series(pd.to_numeric(cells, errors="coerce"), frame.index)
    if "clock" in mapping.columns:
        cells = joined(cells, frame[mapping.columns["clock"].heading])
    return read_moments(cells, zone=mapping.zone, order=mapping.order).instants


def joined(days: pd.Series, clocks: pd.Series) -> pd.Series:
    """Days and times of day, from two columns, as one text."""
    day = days.astype("string").str.strip().str.replace(r"[ T]00:00:00$", "", regex=True)
    return day + " " + clocks.astype("string").str.strip()


def _last_shown(times: pd.Series, values: pd.Series, wanted: pd.Series) -> pd.Series:
    """The value at each wanted time: the last before it, before the first the first."""
    order = times.dropna().sort_values(kind="stable").index
    if not len(order):
        return pd.Series(pd.NA, wanted.index)
    places = np.searchsorted(times[order].to_numpy(), wanted.to_numpy(), side="right") - 1
    return pd.Series(values[order].to_numpy()[np.maximum(places, 0)], wanted.index)


def questions(mapping: Mapping) -> Iterator[str]:
    """What is still asked about the sensors besides their units."""
    roles = (*MAIN[mapping.kind], "pressure") if mapping.sensors else ()
    for name, sensor in mapping.sensors.items():
        if sensor.role not in roles:
            may_be = ", ".join(dict.fromkeys(roles))
            yield f'sensors."{name}": what is it? role = {may_be}; or take it out'
        if sensor.of == "?":
            yield f'sensors."{name}": of which {OWNER[mapping.kind]} of the book?'
