"""A mapping says which column of a file is what; it is kept as TOML that a person may correct."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping as AnyMapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from gasfuncs.cleaning.moments import DAY_FIRST, MONTH_FIRST, known_zone
from gasfuncs.errors import GasFuncsError, UnitError
from gasfuncs.files import swapped_in
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.roles import ELAPSED, MOMENT, OWNER, Role, roles_of
from gasfuncs.importing.tables import Layout
from gasfuncs.units import Kind, split_quantity
from gasfuncs.units.kinds import PRESSURE
from gasfuncs.units.labels import ABSOLUTE_WHEN_BARE

ASKED = "?"
"""Stands in a mapping where only the plant knows the answer."""

TANK_KEYS = {"diameter", "length", "position", "heads", "percent_of", "line", "apart"}
"""What may be told of a tank; the last two of the warm upper line of its gauge."""
_FILE_KEYS = ("delimiter", "encoding", "sheet", "header_line", "decimal")
_KEYS = {"kind", "dates", "time_zone", "file", "columns", "names", "always", "tanks",
         "sensors", "rows"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the file: its heading and, where it is measured, its unit."""

    heading: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Sensor:
    """A column or a name in the file's rows: its role, its unit, and whose it is in the book."""

    role: str
    unit: str = ""
    of: str = ""


@dataclass(frozen=True, slots=True)
class Mapping:
    """What a file's columns are.

    `always` has what is the same in all rows (a tank's name), `names` what the plant calls things:
    by role, the file's word and the book's; `tanks` the size of a tank and how it is read, where
    the book has no columns for it. `sensors` are the columns, or the names in the rows, of a file
    of several; `rows` then has the columns "sensor" and "value" of such rows. `order` is "day
    first" or "month first"; `zone` the plant's time zone.
    """

    kind: str
    columns: dict[str, Column]
    layout: Layout = field(default_factory=Layout)
    order: str | None = None
    zone: str | None = None
    always: dict[str, str] = field(default_factory=dict)
    names: dict[str, dict[str, str]] = field(default_factory=dict)
    tanks: dict[str, dict[str, str]] = field(default_factory=dict)
    sensors: dict[str, Sensor] = field(default_factory=dict)
    rows: dict[str, str] = field(default_factory=dict)

    def always_told(self, role: Role) -> tuple[float, Column]:
        """The number that holds for all rows and its unit, as a column's. Raises ImportingError."""
        number, unit = split_quantity(str(self.always[role.name]))
        column = Column(f"always {role.name}", unit)
        unit_kind(role, column)
        return number, column

    def unit_kind(self, role: Role) -> Kind:
        """The kind of quantity that a column's unit is of. Raises ImportingError."""
        column = self.columns.get(role.name) or self.always_told(role)[1]
        return unit_kind(role, column)


def unit_kind(role: Role, column: Column) -> Kind:
    """The first kind of a role that has the column's unit; gauge or absolute must be told."""
    kinds = ELAPSED if role.holds == MOMENT else role.holds
    assert isinstance(kinds, tuple)
    where = f'{role.name} ("{column.heading}")'
    if kinds is ELAPSED and not role.elapsed:
        raise ImportingError(
            f"{where}: counts from a start ({column.unit}), where dates and times are needed; name "
            "a column that has them, or leave the unit out if this one does"
        )
    if not column.unit or column.unit == ASKED:
        raise ImportingError(f"{where}: its unit is not told; {_may_be(kinds)}")
    bare = column.unit.strip() in ABSOLUTE_WHEN_BARE
    if kinds == (PRESSURE,) and bare and not role.vacuum:
        raise ImportingError(
            f"{where}: {column.unit} is gauge or absolute? "
            f"write {column.unit}(g) or {column.unit}(a)"
        )
    for kind in kinds:
        try:
            kind.unit(column.unit)
        except UnitError as error:
            sentence = error.sentence
        else:
            return kind
    raise ImportingError(f"{where}: {sentence if len(kinds) == 1 else _not_one(column, kinds)}")


def _may_be(kinds: tuple[Kind, ...]) -> str:
    return "it may be " + ", ".join(label for kind in kinds for label in kind.examples[:4])


def _not_one(column: Column, kinds: tuple[Kind, ...]) -> str:
    return f'"{column.unit}" is not its unit; {_may_be(kinds)}'


def read_mapping(path: Path) -> Mapping:
    """The mapping in a TOML file. Raises ImportingError."""
    try:
        told = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeError, tomllib.TOMLDecodeError) as error:
        raise ImportingError(f"{path} cannot be read as a mapping ({error})") from None
    try:
        return _of(told)
    except GasFuncsError as error:
        raise ImportingError(f"{path}: {error.sentence}") from None


def _of(told: dict[str, Any]) -> Mapping:
    _only(told, _KEYS, "the mapping")
    kind = told.get("kind", "")
    roles = roles_of(kind)
    columns = {}
    for name, entry in told.get("columns", {}).items():
        _only({name: 0}, set(roles), "[columns]")
        column = {"heading": entry} if isinstance(entry, str) else entry
        _only(column, {"heading", "unit"}, f"columns.{name}")
        columns[name] = Column(str(column.get("heading", "")), str(column.get("unit", "")))
    file = told.get("file", {})
    _only(file, set(_FILE_KEYS), "[file]")
    order, zone = told.get("dates"), told.get("time_zone")
    if order not in (None, ASKED, DAY_FIRST, MONTH_FIRST):
        raise ImportingError(f'dates: "{order}" may be "{DAY_FIRST}" or "{MONTH_FIRST}"')
    if file.get("decimal", ".") not in (".", ",", ASKED):
        raise ImportingError('file.decimal: it may be "." or ","')
    if zone not in (None, ASKED):
        known_zone(zone)
    for table in ("always", "names"):
        _only(told.get(table, {}), set(roles), f"[{table}]")
    always = {name: str(value) for name, value in told.get("always", {}).items()}
    names, tanks = told.get("names", {}), told.get("tanks", {})
    for name, size in tanks.items():
        _only(size, TANK_KEYS, f"tanks.{name}")
    sensors, rows = _sensors(kind, told)
    layout = Layout(**file)
    return Mapping(kind, columns, layout, order, zone, always, names, tanks, sensors, rows)


def _sensors(kind: str, told: dict[str, Any]) -> tuple[dict[str, Sensor], dict[str, str]]:
    sensors, rows = told.get("sensors", {}), told.get("rows", {})
    if sensors and kind not in OWNER:
        raise ImportingError(f"a file of {kind} has no sensors; [columns] names its columns")
    for name, sensor in sensors.items():
        _only(sensor, {"role", "unit", "of"}, f"sensors.{name}")
    _only(rows, {"sensor", "value"}, "[rows]")
    if rows and (len(rows) < 2 or not sensors):
        raise ImportingError(
            "[rows] names the columns sensor and value, and [sensors] has each sensor's role"
        )
    return {name: Sensor(**{"role": "?"} | sensor) for name, sensor in sensors.items()}, rows


def _only(told: AnyMapping[str, Any], allowed: set[str], where: str) -> None:
    for key in told:
        if key not in allowed:
            raise ImportingError(f'"{key}" is not known in {where}; it may have {_list(allowed)}')


def _list(words: set[str]) -> str:
    return ", ".join(sorted(words))


def write_mapping(mapping: Mapping, path: Path) -> None:
    """Keep a mapping as TOML, for a person to correct."""
    import tomlkit

    document = tomlkit.document()
    document.add(tomlkit.comment(f'Which column is what; answer each "{ASKED}" and run it again.'))
    document["kind"] = mapping.kind
    if mapping.order:
        document["dates"] = mapping.order
    if mapping.zone:
        document["time_zone"] = mapping.zone
    file = {key: getattr(mapping.layout, key) for key in _FILE_KEYS}
    document["file"] = {key: value for key, value in file.items() if value is not None}
    columns = tomlkit.table()
    for name, column in mapping.columns.items():
        entry = tomlkit.inline_table()
        entry["heading"] = column.heading
        if column.unit:
            entry["unit"] = column.unit
        columns[name] = entry
    document["columns"] = columns
    sensors = {name: asdict(sensor) for name, sensor in mapping.sensors.items()}
    tables = {"always": mapping.always, "names": mapping.names, "tanks": mapping.tanks}
    for key, told in (tables | {"rows": mapping.rows, "sensors": sensors}).items():
        if told:
            document[key] = told
    with swapped_in(path) as aside:
        aside.write_text(tomlkit.dumps(document), encoding="utf-8")
