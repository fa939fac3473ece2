"""How a tank is read: its size and its gauge, from the book's list or the mapping."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gasfuncs.calculations.tank_shape import HEADS
from gasfuncs.errors import UnitError
from gasfuncs.hosts.headless.entering import TableRows
from gasfuncs.importing.errors import ImportingError
from gasfuncs.units import Kind, split_quantity
from gasfuncs.units.kinds import LENGTH, TEMPERATURE

OF_HEIGHT = "% of height"
"""What a gauge shows by the book, of which the file's per cent are then."""

_WORDS = {
    "position": ("vertical", "horizontal"),
    "heads": tuple(HEADS),
    "percent_of": ("volume", "height"),
}
_MEASURED = {"diameter": LENGTH, "length": LENGTH, "apart": LENGTH, "line": TEMPERATURE}


def sizes(row: Mapping[str, Any], table: TableRows, told: Mapping[str, str]) -> dict[str, Any]:
    """The size in m and the words of a tank; what the mapping tells comes before the book."""
    return _of_book(row, table) | {key: _told(key, text) for key, text in told.items()}


def _of_book(row: Mapping[str, Any], table: TableRows) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for heading in ("Diameter", "Length"):
        number = row.get(heading)
        if isinstance(number, int | float):
            scale = LENGTH.unit(str(table.above(heading) or "m")).scale
            found[heading.lower()] = number * scale
    for heading in ("Position", "Heads"):
        if row.get(heading):
            found[heading.lower()] = str(row[heading])
    if row.get("Gauge shows") == OF_HEIGHT:
        found["percent_of"] = "height"
    return found


def _told(key: str, text: str) -> Any:
    if key in _WORDS:
        if text not in _WORDS[key]:
            raise ImportingError(f'tanks: {key} = "{text}" may be {", ".join(_WORDS[key])}')
        return text
    return _number(key, text, _MEASURED[key])


def _number(key: str, text: str, kind: Kind) -> float:
    number, label = split_quantity(str(text))
    try:
        unit = kind.unit(label)
    except UnitError:
        examples = ", ".join(kind.examples[:4])
        raise ImportingError(f'tanks: {key} = "{text}" needs a unit: {examples}') from None
    return number * unit.scale + unit.zero
