"""What stands in the cells that the arguments of a call refer to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from gasfuncs.hosts.headless.addresses import Area, parse_cell
from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import (
    Name,
    Node,
    Reference,
    Structured,
    ThisRow,
    parse,
    walk,
)
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.references import Resolver
from gasfuncs.hosts.headless.sheetxml import SheetText

Place = tuple[int, int]
DEEPEST = 8
"""Names that refer to names."""


class Cells:
    """The texts of a workbook's cells, by what refers to them."""

    def __init__(self, package: Package) -> None:
        self.package = package
        self.resolver = Resolver(package)
        self.strings = package.shared_strings()
        self._of_sheet = cache(self._read)
        self._of_area = cache(self._found)

    def texts(self, sheet: str, cell: str, argument: str) -> Iterator[str]:
        """The texts of all cells that an argument in a cell refers to, by whichever way.

        Of what is no formula of a cell, such as a range made by a function, there are none.
        """
        place = parse_cell(cell) if sheet else (1, 1)
        for area in self._areas(argument, sheet, place):
            yield from self._of_area(area)

    def _areas(self, formula: str, sheet: str, place: Place) -> Iterator[Reference]:
        try:
            tree = parse(formula)
        except FormulaError:
            return
        yield from self._referred(tree, sheet, place, DEEPEST)

    def _referred(self, tree: Node, sheet: str, place: Place, deep: int) -> Iterator[Reference]:
        for node in walk(tree):
            if not isinstance(node, Name | Reference | Structured | ThisRow) or not deep:
                continue
            try:
                area = self.resolver.area(node, sheet, *place)
            except FormulaError:
                continue
            if isinstance(area, ThisRow):
                yield _in_row(area.area, place[0])
            elif isinstance(area, Reference):
                yield _with_sheet(area, sheet)
            elif area is not None:
                yield from self._referred(area, sheet, place, deep - 1)

    def _found(self, area: Reference) -> tuple[str, ...]:
        cells = Area(area.row1, area.column1, area.row2, area.column2)
        values = self._of_sheet((area.sheet or "").lower())
        return tuple(value for place, value in values.items() if place in cells)

    def _read(self, name: str) -> dict[Place, str]:
        """The texts of a sheet."""
        for sheet in self.package.sheets:
            if sheet.name.lower() == name:
                values = SheetText(self.package, sheet).values(self.strings)
                return {place: each for place, each in values.items() if isinstance(each, str)}
        return {}


def _with_sheet(area: Reference, sheet: str) -> Reference:
    return replace(area, sheet=area.sheet or sheet)


def _in_row(area: Reference, row: int) -> Reference:
    return replace(area, row1=row, row2=row)
