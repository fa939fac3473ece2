"""A workbook's cells and formulas, read from its file to be computed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from gasfuncs.hosts.headless.addresses import parse_cell
from gasfuncs.hosts.headless.book import Book, Group, Part
from gasfuncs.hosts.headless.cells import Grid
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.references import Resolver
from gasfuncs.hosts.headless.shapes import Shape, ShapeReader, refused
from gasfuncs.hosts.headless.sheetxml import FormulaCell, SheetText
from gasfuncs.hosts.headless.values import read_stored

MOST_FILLED = 2**18
"""Cells that the array formulas of a sheet may fill."""


@dataclass(slots=True)
class Loaded:
    """A workbook ready to be computed."""

    book: Book
    texts: list[SheetText]
    formulas: int = 0
    calls: int = 0


def load(package: Package, functions: Mapping[str, Any]) -> Loaded:
    """Read the sheets: typed values into the grids, formulas into groups."""
    book = Book([sheet.name for sheet in package.sheets], package.dates_from_1904)
    reader = ShapeReader(book, Resolver(package), functions)
    loaded = Loaded(book, [SheetText(package, sheet) for sheet in package.sheets])
    strings = package.shared_strings()
    _read_external(package, book)
    for text in loaded.texts:
        _Sheet(package, loaded, reader, text).read(strings)
    return loaded


def _read_external(package: Package, book: Book) -> None:
    """The values that the file keeps of other workbooks' cells."""
    for name, cell, kind, value in package.external_cells():
        try:
            row, column = parse_cell(cell)
            found = read_stored(kind, value)
        except (ValueError, LookupError):
            raise package.refused(f"has a damaged value of another workbook in {cell}") from None
        grid = book.grids.setdefault(name.lower(), Grid(name))
        grid.put(row, column, found)


class _Sheet:
    """Reads one sheet."""

    def __init__(
        self, package: Package, loaded: Loaded, reader: ShapeReader, text: SheetText
    ) -> None:
        grid = loaded.book.grid(text.sheet.name)
        assert grid
        self._loaded = loaded
        self._grid: Grid = grid
        self._reader = reader
        self._text = text
        self._masters: dict[str, FormulaCell] = {}
        self._groups: dict[tuple[Shape, int], Group] = {}
        self._all: list[Group] = []
        self._filled = 0
        self._refused = package.refused

    def read(self, strings: list[str]) -> None:
        grid, name = self._grid, self._text.sheet.name
        columns = grid.columns
        for row, column, formula, found in self._text.cells(strings):
            if formula is not None:
                self._formula(row, column, formula, None)
            elif isinstance(found, FormulaCell):
                self._formula(found.row, found.column, found.formula, found)
            elif found is not None and row not in columns[column]:
                columns[column][row] = found
                grid.last_row = max(grid.last_row, row)
                grid.last_column = max(grid.last_column, column)
        if self._filled > MOST_FILLED:
            raise self._refused(
                f"has array formulas over {self._filled:,} cells in the sheet {name!r}; "
                f"{MOST_FILLED:,} are computed"
            )
        for group in self._all:
            self._loaded.formulas += len(group.rows)
            self._loaded.calls += len(group.rows) * len(group.shape.calls)
            grid.reach(max(group.rows), group.column)
        grid.hidden_rows = frozenset(self._text.hidden_rows())
        grid.filtered = self._text.filtered

    def _formula(self, row: int, column: int, text: str, cell: FormulaCell | None) -> None:
        """A formula; `cell` tells more of one that is not a plain one."""
        grid, cells = self._grid, self._grid.columns[column]
        if row in cells and cells[row].__class__ is not Part:
            raise self._refused(f"has two formulas for one cell in the sheet {grid.name!r}")
        array = cell is not None and cell.formula_kind == "array"
        if cell is not None:
            shape = self._shape(cell, array)
        else:
            shape = self._reader.shape(text, grid.name, row, column, True)
        group = None if array else self._groups.get((shape, column))
        if group is None:
            area = cell.area if array and cell else None
            group = Group(shape, grid, column, area, array and cell is not None and cell.dynamic)
            self._groups[shape, column] = group
            self._all.append(group)
            self._loaded.book.add(group)
        group.rows.append(row)
        cells[row] = group
        if array and cell is not None:
            self._claim(cell, group)

    def _claim(self, cell: FormulaCell, group: Group) -> None:
        """The cells of an array formula's area wait for it."""
        self._filled += cell.area.size
        if self._filled > MOST_FILLED:
            return
        part = Part(cell.row, cell.column, group)
        for row, column in cell.area.cells()[1:]:
            self._grid.columns[column][row] = part
            self._grid.reach(row, column)
        if cell.dynamic:
            self._grid.waiting_spills.append((cell.row, cell.column))

    def _shape(self, cell: FormulaCell, array: bool) -> Shape:
        why = ""
        master = cell
        if cell.formula_kind == "dataTable":
            why = "a data table (what-if analysis) is not computed"
        elif cell.formula_kind == "shared":
            index = cell.formula_attributes.get("si", "")
            if cell.formula:
                self._masters[index] = cell
            elif index not in self._masters:
                why = "its shared formula is missing; the file is damaged"
            master = self._masters.get(index, cell)
        name = self._text.sheet.name
        if why:
            return refused(name, cell.row, cell.column, why)
        return self._reader.shape(master.formula, name, master.row, master.column, not array)
