"""What a book's own lists say of the plant: furnaces, recipes and tanks, as valid on a day."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pandas as pd

from gasfuncs.cleaning.accounts import Tank
from gasfuncs.definition.terms import serial
from gasfuncs.hosts.headless.entering import Place, TableRows, contents
from gasfuncs.importing.errors import ImportingError
from gasfuncs.importing.readings import Readings
from gasfuncs.importing.tank_sizes import sizes
from gasfuncs.properties import gas as find_gas
from gasfuncs.units import ATMOSPHERE
from gasfuncs.units.kinds import LIQUID, PRESSURE

STEP = ("Kind", "From", "To", "Temperature", "Pumping", "Flow", "Hours", "Repeats", "Control")


@dataclass(frozen=True, slots=True)
class Plant:
    """A book's tables, its named cells and their places, the air pressure at its site, Pa."""

    tables: Mapping[str, TableRows]
    site: float
    named: Mapping[str, Any] = field(default_factory=dict)
    places: Mapping[str, tuple[str, Place]] = field(default_factory=dict)
    sizes: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    _lists: dict[str, list[dict[str, Any]]] = field(default_factory=dict)

    @classmethod
    def of(cls, book: Path, sizes: Mapping[str, Mapping[str, str]]) -> Plant:
        """A book's plant; `sizes` has what a mapping tells of its tanks."""
        found = contents(book)
        site = found.named.get("Site_bar")
        pascals = float(site) * 1e5 if isinstance(site, int | float) else ATMOSPHERE
        return cls(found.tables, pascals, found.named, found.places, sizes)

    def rows(self, table: str, day: pd.Timestamp, **keys: Any) -> Iterator[dict[str, Any]]:
        """The rows of a list for these keys, in the version that was valid on a day."""
        found = [row for row in self.all_of(table) if all(row[k] == v for k, v in keys.items())]
        since = [row["Valid from"] or 0.0 for row in found]
        valid = [moment for moment in since if moment <= serial(day)]
        if valid:
            yield from (
                row for row, moment in zip(found, since, strict=True) if moment == max(valid)
            )

    def all_of(self, table: str) -> list[dict[str, Any]]:
        """The rows of a list that are filled in."""
        if table not in self.tables:
            raise ImportingError(f"the book has no table {table}")
        if table not in self._lists:
            rows = self.tables[table]
            self._lists[table] = [
                {heading: rows.value(row, heading) for heading in rows.columns}
                for row in rows.rows
                if not rows.is_free(row)
            ]
        return self._lists[table]

    def tank(self, name: str, day: pd.Timestamp) -> Tank:
        """A tank of the book as its readings need it."""
        found = next(self.rows("Tanks", day, Tank=name), None)
        if found is None:
            raise ImportingError(f'tank: "{name}" is not on Tanks')
        unit = str(self.tables["Tanks"].above("Capacity") or "L(liq)")
        capacity = float(found["Capacity"] or 0) * LIQUID.unit(unit).scale
        if not capacity:
            raise ImportingError(f"{name} has no capacity on Tanks; is it read by a meter?")
        told = sizes(found, self.tables["Tanks"], self.sizes.get(name, {}))
        return Tank(find_gas(str(found["Gas"])), capacity, site=self.site, **told)

    def absolute(self, readings: Readings, role: str) -> pd.Series:
        """A pressure of readings, Pa absolute; a gauge's counts from the site's air."""
        over = self.site - ATMOSPHERE if readings.units[role].zero else 0.0
        return readings.frame[role] + over

    def pascals(self, number: float, unit: str) -> float:
        """An absolute pressure; one by the gauge counts from the site's air."""
        told = PRESSURE.unit(unit)
        return told.scale * number + (self.site if told.zero else 0.0)
