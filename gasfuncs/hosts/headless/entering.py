"""Tables of a workbook read, and values entered into their cells; other parts stay as they are."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from gasfuncs.hosts.headless.addresses import column_number
from gasfuncs.hosts.headless.package import Package, state
from gasfuncs.hosts.headless.saving import check_not_in_use, save
from gasfuncs.hosts.headless.sheetxml import SheetText
from gasfuncs.hosts.headless.values import CellValue

Place = tuple[int, int]
"""Row and column, from 1."""


@dataclass(frozen=True, slots=True)
class TableRows:
    """A native table: headings with their column, its rows, what is stored in its sheet, and which
    columns are typed (the others have formulas)."""

    name: str
    sheet: str
    columns: Mapping[str, int]
    rows: range
    values: Mapping[Place, CellValue]
    typed: frozenset[str]

    def value(self, row: int, heading: str) -> CellValue:
        return self.values.get((row, self.columns[heading]))

    def above(self, heading: str) -> CellValue:
        """What stands over a heading: the unit of the column."""
        return self.values.get((self.rows.start - 2, self.columns[heading]))

    def is_free(self, row: int) -> bool:
        """Whether nothing is typed in a row."""
        return all(self.value(row, heading) in (None, "") for heading in self.typed)


def tables_of(path: Path) -> dict[str, TableRows]:
    """Every native table of a workbook, by name."""
    found = {}
    with Package(path) as package:
        strings = package.shared_strings()
        for sheet in package.sheets:
            if not sheet.tables:
                continue
            text = SheetText(package, sheet)
            values = text.values(strings)
            formulas = {(cell.row, cell.column) for cell in text.formula_cells()}
            for table in sheet.tables:
                area = table.area
                first = area.row1 + table.headings
                columns = dict(
                    zip(table.columns, range(area.column1, area.column2 + 1), strict=True)
                )
                typed = frozenset(h for h, c in columns.items() if (first, c) not in formulas)
                rows = range(first, area.row2 - table.totals + 1)
                found[table.name] = TableRows(table.name, sheet.name, columns, rows, values, typed)
    return found


_CELL = re.compile(r"(?:'((?:[^']|'')+)'|([^'!]+))!\$([A-Z]{1,3})\$([0-9]{1,7})")


def named_values(path: Path) -> dict[str, CellValue]:
    """What stands in the cells that have a name of their own."""
    found: dict[str, CellValue] = {}
    with Package(path) as package:
        strings = package.shared_strings()
        values = {s.name: SheetText(package, s).values(strings) for s in package.sheets}
        for name in package.names:
            cell = _CELL.fullmatch(name.formula)
            if cell:
                sheet = (cell[1] or cell[2]).replace("''", "'")
                place = int(cell[4]), column_number(cell[3])
                found[name.name] = values.get(sheet, {}).get(place)
    return found


def enter(path: Path, values: Mapping[str, Mapping[Place, CellValue]], target: Path) -> None:
    """Write the workbook to `target` with values put into cells, by sheet; formats stay."""
    with Package(path) as package:
        changed = {}
        for sheet in package.sheets:
            if values.get(sheet.name):
                text = SheetText(package, sheet)
                edits, _ = text.child_edits(dict(values[sheet.name]))
                changed[sheet.part] = text.edited(edits)
        save(package, target, changed)


def file_state(path: Path) -> tuple[int, ...]:
    """What tells whether a file was written to."""
    check_not_in_use(path)
    return state(os.stat(path))
