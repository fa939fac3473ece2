"""Finds a file's columns by their headings; what could be wrong by a unit or a day is asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import pandas as pd

from gasfuncs.cleaning import read_moments
from gasfuncs.importing import sensors
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.guessing_sensors import guess_sensors
from gasfuncs.importing.headings import best, is_elapsed, unit_in, words
from gasfuncs.importing.mapping import ASKED, Column, Mapping, unit_kind
from gasfuncs.importing.roles import CLOCK, KINDS, MOMENT, Role
from gasfuncs.importing.tables import Layout, Table

_GROUPED = r"^[+-]?\d{1,3}[.,]\d{3}$"
_CLOCK = r"^\d{1,2}:\d\d(?::\d\d)?(?: ?[AaPp][Mm])?$"
_FRACTION = {mark: rf"^[+-]?\d+\{mark}\d+$" for mark in ".,"}


@dataclass(frozen=True, slots=True)
class Guess:
    """A mapping, and what only the plant can answer."""

    mapping: Mapping
    questions: tuple[str, ...]


def guess_mapping(kind: str, sample: Table) -> Guess:
    """What the columns are taken for; a needed one that is not found is asked.

    Raises ImportingError where none looks like a column of such a file.
    """
    found, rows = guess_sensors(kind, sample)
    of_sensors = {*found, *rows.values()}
    free = [heading for heading in sample.frame.columns if heading not in of_sensors]
    columns = _columns(kind, sample, free, with_sensors=bool(found))
    measured = [role for role in KINDS[kind] if role.measured and role.name in columns]
    shown = [columns[role.name].heading for role in measured]
    shown += [heading for heading in of_sensors if heading in sample.frame]
    decimal = _decimal(sample.frame if ASKED in shown else sample.frame[shown])
    moments = [
        sample.frame[column.heading]
        for role in KINDS[kind]
        if role.holds == MOMENT and (column := columns.get(role.name)) and not column.unit
        if column.heading != ASKED
    ]
    order, zone = _order_and_zone(moments)
    seen = sample.layout
    layout = Layout(seen.delimiter, seen.encoding, seen.sheet, seen.header_line, decimal)
    mapping = Mapping(kind, columns, layout, order, zone, sensors=found, rows=rows)
    return Guess(mapping, tuple(questions(mapping)))


def _columns(
    kind: str, sample: Table, headings: list[str], *, with_sensors: bool
) -> dict[str, Column]:
    columns: dict[str, Column] = {}
    for role in KINDS[kind]:
        if with_sensors and role.measured:
            continue
        taken = {column.heading for column in columns.values()}
        free = [heading for heading in headings if heading not in taken]
        if role.holds == CLOCK:
            free = [heading for heading in free if _are_clocks(sample.frame[heading])]
        heading = best(free, role)
        if heading:
            columns[role.name] = _column(heading, role)
        elif role.needed:
            columns[role.name] = Column(ASKED, ASKED if role.measured else "")
    if {column.heading for column in columns.values()} <= {ASKED} and not with_sensors:
        raise ImportingError(
            f"no column looks like one of a file of {kind}; the headings are "
            f"{', '.join(sample.frame.columns)}"
        )
    return columns


def questions(mapping: Mapping) -> list[str]:
    """What must be answered before a file can be read by this mapping."""
    asked = [
        f"columns.{name}: which column has it? write its heading"
        for name, column in mapping.columns.items()
        if column.heading == ASKED
    ]
    asked += [*sensors.questions(mapping), *_asked_of_sensors(mapping)]
    for role in KINDS[mapping.kind]:
        column = mapping.columns.get(role.name)
        if column and (role.measured or column.unit):
            try:
                unit_kind(role, column)
            except ImportingError as error:
                asked.append(error.sentence)
    if mapping.layout.decimal == ASKED:
        asked.append('file.decimal: is "1,500" one and a half (",") or fifteen hundred (".")?')
    if mapping.order == ASKED:
        asked.append('dates: which comes first in 05/10? write "day first" or "month first"')
    if mapping.zone == ASKED:
        asked.append('time_zone: the file counts in UTC; where is the plant? ("Europe/Vienna")')
    return asked


def _are_clocks(cells: pd.Series) -> bool:
    text = cells.dropna().astype("string").str.strip()
    return bool(len(text) and text.str.match(_CLOCK).all())


def _column(heading: str, role: Role) -> Column:
    if role.measured:
        return Column(heading, unit_in(heading) or ASKED)
    if role.holds == MOMENT and (unit := unit_in(heading)):
        return Column(heading, unit if is_elapsed(unit) else "")
    if role.name == "time" and "elapsed" in words(heading):
        return Column(heading, ASKED)
    return Column(heading)


def _asked_of_sensors(mapping: Mapping) -> Iterator[str]:
    roles = {role.name: role for role in KINDS[mapping.kind]}
    for name, sensor in mapping.sensors.items():
        if sensor.role in roles:
            try:
                unit_kind(roles[sensor.role], Column(name, sensor.unit))
            except ImportingError as error:
                yield f"sensors: {error.sentence}"


def _decimal(frame: pd.DataFrame) -> str:
    """The decimal mark that the numbers show; asked where they could mean both."""
    text = frame.select_dtypes(["string", "object"]).stack().astype("string").str.strip()
    if text.empty:
        return "."
    grouped = text.str.match(_GROUPED).fillna(False).astype(bool)
    for mark in ".,":
        if text[~grouped].str.match(_FRACTION[mark]).fillna(False).any():
            return mark
    return ASKED if grouped.any() else "."


def _order_and_zone(columns: list[pd.Series]) -> tuple[str | None, str | None]:
    order = zone = None
    for cells in columns:
        reasons = read_moments(cells).reasons.dropna()
        if reasons.str.contains("is in UTC").any():
            zone = ASKED
        if reasons.str.contains("say which").any():
            order = _shown_order(cells) or ASKED
    return order, zone


def _shown_order(cells: pd.Series) -> str | None:
    """The order that leaves no date unread, if only one does."""
    fits = [
        order
        for order in ("day first", "month first")
        if not read_moments(cells, order=order).reasons.str.contains("no time").any()
    ]
    return fits[0] if len(fits) == 1 else None
