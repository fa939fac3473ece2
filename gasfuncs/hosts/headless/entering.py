"""Tables of a workbook read, and values entered into their cells; other parts stay as they are."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
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


@dataclass(frozen=True, slots=True)
class Contents:
    """What is stored in a workbook: its native tables, the cells with a name of their own, and the
    sheet and place of each of these."""

    tables: Mapping[str, TableRows]
    named: Mapping[str, CellValue]
    places: Mapping[str, tuple[str, Place]]


def contents(path: Path) -> Contents:
    """Read a workbook once."""
    with Package(path) as package:
        strings = package.shared_strings()
        texts = [SheetText(package, sheet) for sheet in package.sheets]
        values = {text.sheet.name: text.values(strings) for text in texts}
        tables = {
            table.name: table for text in texts for table in _tables(text, values[text.sheet.name])
        }
        places = dict(_places(package))
        named = {name: values.get(sheet, {}).get(at) for name, (sheet, at) in places.items()}
        return Contents(tables, named, places)


def _tables(text: SheetText, values: Mapping[Place, CellValue]) -> Iterator[TableRows]:
    if not text.sheet.tables:
        return
    formulas = {(cell.row, cell.column) for cell in text.formula_cells()}
    for table in text.sheet.tables:
        area = table.area
        first = area.row1 + table.headings
        places = range(area.column1, area.column2 + 1)
        columns = dict(zip(table.columns, places, strict=True))
        typed = frozenset(h for h, c in columns.items() if (first, c) not in formulas)
        rows = range(first, area.row2 - table.totals + 1)
        yield TableRows(table.name, text.sheet.name, columns, rows, values, typed)


_CELL = re.compile(r"(?:'((?:[^']|'')+)'|([^'!]+))!\$([A-Z]{1,3})\$([0-9]{1,7})")


def _places(package: Package) -> Iterator[tuple[str, tuple[str, Place]]]:
    for name in package.names:
        cell = _CELL.fullmatch(name.formula)
        if cell:
            sheet = (cell[1] or cell[2]).replace("''", "'")
            yield name.name, (sheet, (int(cell[4]), column_number(cell[3])))


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
