"""One import: a file's rows into a book's table, every line of the file accounted for."""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Mapping as AnyMapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pandas as pd

from gasfuncs.hosts.headless.entering import TableRows
from gasfuncs.importing import curves, cycles, dewpoints, purges, rises, telemetry, traces
from gasfuncs.importing.books import Entered, Row, plan, table_for, write
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.guessing import guess_mapping
from gasfuncs.importing.mapping import Mapping, read_mapping, write_mapping
from gasfuncs.importing.plant import Plant
from gasfuncs.importing.readings import Readings, read_parts
from gasfuncs.importing.roles import roles_of
from gasfuncs.importing.tables import Layout, read_sample
from gasfuncs.importing.targets import TARGETS, Target

PREPARED = {
    "cycles": cycles.prepare,
    "tank": telemetry.prepare,
    "rise": rises.prepare,
    "dewpoint": dewpoints.prepare,
    "purge": purges.prepare,
}
"""What is made of the readings of a kind before they are entered."""


@dataclass(slots=True)
class Outcome:
    """What became of a file: read = added + replaced + there already + used + left out."""

    table: str
    read: int
    used: int
    entered: Entered
    notes: list[str] = field(default_factory=list)
    parts: int = 1
    """Tanks or other owners whose readings a line of the file may have side by side."""

    @property
    def left_out(self) -> list[tuple[int, str]]:
        return self.entered.left_out


def mapping_file(file: Path) -> Path:
    """Where a file's mapping is kept: beside it."""
    return file.with_name(f"{file.name}.toml")


def mapping_for(kind: str, file: Path, kept: Path) -> tuple[Mapping, tuple[str, ...], bool]:
    """The mapping that is kept, or a new one from the file's headings, which is then kept.

    Also what it leaves to be answered, and whether it is new.
    """
    roles_of(kind)
    if kept.exists():
        mapping = read_mapping(kept)
        if mapping.kind != kind:
            raise ImportingError(f"{kept} maps a file of {mapping.kind}, not of {kind}")
        return mapping, (), False
    guess = guess_mapping(kind, read_sample(file, Layout()))
    write_mapping(guess.mapping, kept)
    return guess.mapping, guess.questions, True


def run(
    file: Path,
    book: Path,
    mapping: Mapping,
    *,
    replace: bool = False,
    dry_run: bool = False,
    progress: Any = None,
) -> Outcome:
    """Read the file and enter its rows into the book. Raises ImportingError."""
    if not book.is_file():
        raise ImportingError(f"{book} is no workbook; write one with gasfuncs workbook")
    tell = progress or _untold
    tell(0, 3, f"reading {book.name}")
    plant = Plant.of(book, mapping.tanks)
    table, target = table_for(book, plant.tables, TARGETS.get(mapping.kind, ()))
    tell(1, 3, f"reading {file.name}")
    parts = read_parts(file, mapping)
    read = sum(part.read for part in parts)
    tell(2, 3, "cleaning")
    for part in parts:
        _prepare(part, mapping, target, plant)
    rows = [row for part in parts for row in _rows(part, mapping, plant)]
    entered = plan(table, target, rows, replace=replace)
    left_out = [line for part in parts for line in part.left_out]
    entered.left_out = sorted([*left_out, *entered.left_out])
    rises = [rise for part in parts for rise in part.rises]
    curve = curves.beside(rises, plant, replace=replace)
    entered.beside = curve.cells
    if entered.changes and not dry_run:
        write(book, table, entered, progress)
    notes = [note for part in parts for note in part.notes] + curve.notes
    used = sum(len(part.used) for part in parts)
    return Outcome(table.name, read, used, entered, notes, len(parts))


def _prepare(readings: Readings, mapping: Mapping, target: Target, plant: Plant) -> None:
    """Make of the readings what the table takes."""
    if mapping.kind == "purge":
        traces.find(readings, plant)
    _check_needed(readings, target)
    _leave_out_unknown(readings, target, plant.tables)
    if mapping.kind in PREPARED and len(readings.frame):
        PREPARED[mapping.kind](readings, plant)


def _untold(_done: int, _total: int, _what: str) -> None:
    """Where nobody watches."""


def _check_needed(readings: Readings, target: Target) -> None:
    """Every row must have what the table cannot do without."""
    for role in target.needed:
        if role not in readings.frame:
            raise ImportingError(
                f"{target.table} needs {role}: name its column in the mapping, or what it is in "
                f'all rows, under [always]: {role} = "..."'
            )
        readings.leave_out(readings.frame[role].isna(), f"{role}: is blank")


def _leave_out_unknown(
    readings: Readings, target: Target, tables: AnyMapping[str, TableRows]
) -> None:
    """Rows with a name that the book's own lists do not have."""
    for role, (name, heading) in target.known.items():
        if role not in readings.frame or name not in tables:
            continue
        table = tables[name]
        known = {str(table.value(row, heading) or "") for row in table.rows} - {""}
        names = readings.frame[role].astype("string")
        reason = (
            f'{role}: "' + names + f'" is not on {name}; add it there, or say which it is in the '
            f"mapping under [names.{role}]"
        )
        readings.leave_out(names.notna() & ~names.isin(list(known)), reason)


def _rows(readings: Readings, mapping: Mapping, plant: Plant) -> Iterator[tuple[int, Row]]:
    """Each reading as a row, quantities with the file's own unit."""
    frame = readings.frame.copy()
    units = readings.units
    for role, unit in units.items():
        if role in frame and not unit.reference:
            frame[role] = (frame[role] - unit.zero) / unit.scale
    gases = cycles.gases_of(readings, plant) if mapping.kind == "cycles" else None
    for line, values in zip(readings.lines, frame.to_dict("records"), strict=True):
        row: Row = {"site": plant.site, "gas": next(gases) if gases else None}
        for role, value in values.items():
            if pd.isna(value):
                continue
            told = float(f"{value:.12g}") if isinstance(value, float) else value
            row[str(role)] = (told, units[role].label) if role in units else told
        moment = row.get("time", row.get("start"))
        if isinstance(moment, pd.Timestamp):
            row.setdefault("day", moment.normalize())
        yield int(line), row
