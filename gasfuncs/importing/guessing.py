"""Finds a file's columns by their headings; what could be wrong by a unit or a day is asked."""

from __future__ import annotations

import re
from dataclasses import dataclass

import pandas as pd

from gasfuncs.cleaning import read_moments
from gasfuncs.errors import UnitError
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.mapping import ASKED, Column, Mapping, unit_kind
from gasfuncs.importing.roles import CLOCK, ELAPSED, KINDS, MOMENT, NAME, Role
from gasfuncs.importing.tables import Layout, Table
from gasfuncs.units.kinds import kinds_of

_BRACKETED = re.compile(r"[\[(](?P<unit>[^\[\]]+?)[\])]\s*$")
_GROUPED = r"^[+-]?\d{1,3}[.,]\d{3}$"
_CLOCK = r"^\d{1,2}:\d\d(?::\d\d)?(?: ?[AaPp][Mm])?$"
_FRACTION = {mark: rf"^[+-]?\d+\{mark}\d+$" for mark in ".,"}


@dataclass(frozen=True, slots=True)
class Guess:
    """A mapping, and what only the plant can answer."""

    mapping: Mapping
    questions: tuple[str, ...]


def guess_mapping(kind: str, sample: Table) -> Guess:
    """What the columns are taken for. Raises ImportingError where a needed one is missing."""
    headings = list(sample.frame.columns)
    columns: dict[str, Column] = {}
    for role in KINDS[kind]:
        taken = {column.heading for column in columns.values()}
        free = [heading for heading in headings if heading not in taken]
        if role.holds == CLOCK:
            free = [heading for heading in free if _are_clocks(sample.frame[heading])]
        found = _best(free, role)
        if found:
            columns[role.name] = _column(found, role)
        elif role.needed:
            raise ImportingError(
                f"no column looks like {role.name} ({', '.join(role.words[:3])}); "
                f"the headings are {', '.join(headings)}; name it in a mapping"
            )
    measured = [c.heading for r in KINDS[kind] if r.measured and (c := columns.get(r.name))]
    decimal = _decimal(sample.frame[measured])
    moments = [
        sample.frame[column.heading]
        for role in KINDS[kind]
        if role.holds == MOMENT and (column := columns.get(role.name)) and not column.unit
    ]
    order, zone = _order_and_zone(moments)
    seen = sample.layout
    layout = Layout(seen.delimiter, seen.encoding, seen.sheet, seen.header_line, decimal)
    mapping = Mapping(kind, columns, layout, order, zone)
    return Guess(mapping, tuple(questions(mapping)))


def questions(mapping: Mapping) -> list[str]:
    """What must be answered before a file can be read by this mapping."""
    asked = []
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


def _words(text: str) -> str:
    without_unit = _BRACKETED.sub("", text)
    return " ".join(re.findall(r"[a-z0-9]+", without_unit.lower()))


def _best(headings: list[str], role: Role) -> str | None:
    """The heading that says a role's earliest word, whole rather than in part."""
    ranked = []
    for heading in headings:
        words = _words(heading)
        for place, word in enumerate(role.words):
            if words == word:
                ranked.append((0, place, heading))
            elif re.search(rf"\b{word}\b", words) and not _is_measured(heading, role):
                ranked.append((1, place, heading))
    return min(ranked)[2] if ranked else None


def _is_measured(heading: str, role: Role) -> bool:
    """Whether a heading has a unit that its role, a name or a moment, cannot have."""
    unit = _unit_in(heading)
    if role.holds == MOMENT:
        return unit is not None and _is_unit(unit) and not _is_elapsed(unit)
    return role.holds == NAME and bool(unit)


def _are_clocks(cells: pd.Series) -> bool:
    text = cells.dropna().astype("string").str.strip()
    return bool(len(text) and text.str.match(_CLOCK).all())


def _column(heading: str, role: Role) -> Column:
    if role.measured:
        return Column(heading, _unit_in(heading) or ASKED)
    if role.holds == MOMENT and (unit := _unit_in(heading)):
        return Column(heading, unit if _is_elapsed(unit) else "")
    if role.name == "time" and "elapsed" in _words(heading):
        return Column(heading, ASKED)
    return Column(heading)


def _unit_in(heading: str) -> str | None:
    """The last word of a heading, such as bar(a), if it is a unit, else what is in its brackets."""
    bracketed = _BRACKETED.search(heading.strip())
    candidates = re.split(r"[\s_,]+", heading.strip())[-1:]
    candidates += [bracketed["unit"]] if bracketed else []
    for text in candidates:
        if _is_unit(text):
            return text
    return bracketed["unit"] if bracketed else None


def _is_unit(text: str) -> bool:
    try:
        return bool(kinds_of(text))
    except UnitError:
        return text in ("bar", "psi", "%")


def _is_elapsed(unit: str) -> bool:
    try:
        return ELAPSED[0].unit(unit) is not None
    except UnitError:
        return False


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
