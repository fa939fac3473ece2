"""Finds the sensors of a file that has a column of each, or a row of each reading."""

from __future__ import annotations

import re

from gasfuncs.importing.headings import best, unit_in, words
from gasfuncs.importing.mapping import ASKED, Sensor
from gasfuncs.importing.roles import KINDS, MAIN, NAME, OWNER, Role
from gasfuncs.importing.tables import Table

SENSOR = Role("sensor", NAME, ("tag", "sensor", "signal", "channel", "variable", "parameter"))
VALUE = Role("value", NAME, ("value", "reading"))
UNIT = Role("unit", NAME, ("unit", "units", "uom"))

Found = tuple[dict[str, Sensor], dict[str, str]]
"""Sensors by name, and the columns of sensor and value where a row is a reading."""


def guess_sensors(kind: str, sample: Table) -> Found:
    """The sensors of a file; none where it has one column for each role."""
    if kind not in OWNER:
        return {}, {}
    headings = list(sample.frame.columns)
    if any(best(headings, role) for role in _measured(kind) if role.name in MAIN[kind]):
        return _columns(kind, headings), {}
    sensor, value = best(headings, SENSOR), best(headings, VALUE)
    if sensor is None or value is None:
        return {}, {}
    return _of_rows(kind, sample, sensor), {"sensor": sensor, "value": value}


def _measured(kind: str) -> list[Role]:
    return [role for role in KINDS[kind] if role.measured]


def _columns(kind: str, headings: list[str]) -> dict[str, Sensor]:
    """Columns of several levels that differ by more than their unit, with their pressures."""
    if best(headings, next(role for role in KINDS[kind] if role.name == OWNER[kind])):
        return {}
    found = {heading: _role(kind, heading) for heading in headings}
    main = [heading for heading, role in found.items() if role in MAIN[kind]]
    rest = {_without(heading, found[heading], kind) for heading in main}
    if len(rest) < 2 or "" in rest:
        return {}
    return {
        heading: Sensor(role, unit_in(heading) or ASKED, ASKED)
        for heading, role in found.items()
        if role
    }


def _role(kind: str, name: str) -> str:
    """The measured role that a name tells; "" where it tells none."""
    return next((role.name for role in _measured(kind) if best([name], role)), "")


def _without(heading: str, name: str, kind: str) -> str:
    """What a heading says besides its role's word and its unit."""
    role = next(role for role in KINDS[kind] if role.name == name)
    said = words(heading.removesuffix(unit_in(heading) or ""))
    word = next(word for word in role.words if re.search(rf"\b{word}\b", said))
    return re.sub(rf"\b{word}\b", "", said).strip()


def _of_rows(kind: str, sample: Table, sensor: str) -> dict[str, Sensor]:
    frame = sample.frame
    unit = best([heading for heading in frame if heading != sensor], UNIT)
    found = {}
    for name, rows in frame.groupby(frame[sensor].astype("string").str.strip(), sort=False):
        label = str(rows[unit].iloc[0]) if unit else (unit_in(str(name)) or ASKED)
        found[str(name)] = Sensor(_role(kind, str(name)) or ASKED, label, ASKED)
    return found
