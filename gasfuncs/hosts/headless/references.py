"""What names and structured references stand for."""

from __future__ import annotations

import re
from dataclasses import replace

from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import (
    ErrorLiteral,
    Name,
    Node,
    Reference,
    Structured,
    ThisRow,
    parse,
    walk,
)
from gasfuncs.hosts.headless.package import Package, Table

_ITEM = re.compile(r"\[((?:[^\[\]']|'.)*)\]", re.S)
_ROWS = {"#all", "#data", "#headers", "#totals", "#this row"}


class Resolver:
    """What the names and structured references of one workbook stand for."""

    def __init__(self, package: Package) -> None:
        self._tables = package.tables
        self._own_tables = {sheet.name: sheet.tables for sheet in package.sheets}
        self._names = {
            (name.sheet and name.sheet.lower(), name.name.lower()): name.formula
            for name in package.names
        }

    def own_table(self, sheet: str, row: int, column: int) -> Table | None:
        """The table that a cell is in."""
        for table in self._own_tables[sheet]:
            if (row, column) in table.area:
                return table
        return None

    def named(self, sheet: str, name: Name) -> Node:
        """The tree of a defined name or table, seen from a sheet."""
        places = [(name.sheet or sheet).lower(), None]
        for place in places:
            formula = self._names.get((place, name.name.lower()))
            if formula is not None:
                return _without_relatives(name.name, parse(formula.removeprefix("=")))
        if name.name.lower() in self._tables:
            return Structured(name.name, "")
        raise FormulaError(f"the name {name.name!r} is not defined")

    def area(self, node: Node, sheet: str, row: int, column: int) -> Node | None:
        """What an area, name or structured reference stands for in a cell; None of other nodes."""
        if isinstance(node, Structured):
            return self.structured(node, sheet, row, column)
        if isinstance(node, Name):
            node = self.named(sheet, node)
            return replace(node, sheet=node.sheet or sheet) if isinstance(node, Reference) else node
        return node if isinstance(node, Reference | ThisRow) else None

    def structured(self, node: Structured, sheet: str, row: int, column: int) -> Node:
        """The area that a structured reference stands for in a cell."""
        table = self._tables.get(node.table.lower())
        if not node.table:
            table = self.own_table(sheet, row, column)
            if table is None:
                raise FormulaError(f"[{node.inside}] is used outside a table")
        if table is None:
            raise FormulaError(f"there is no table {node.table!r}")
        rows, columns = _items(node.inside)
        first, last = _columns(table, columns)
        data1 = table.area.row1 + table.headings
        data2 = table.area.row2 - table.totals
        if "#this row" in rows:
            return ThisRow(Reference(table.sheet, data1, first, data2, last))
        if ("#headers" in rows and not table.headings) or ("#totals" in rows and not table.totals):
            return ErrorLiteral("#REF!")
        spans = {
            "#all": (table.area.row1, table.area.row2),
            "#headers": (table.area.row1, data1 - 1),
            "#data": (data1, data2),
            "#totals": (data2 + 1, table.area.row2),
        }
        chosen = [spans[row] for row in rows] or [spans["#data"]]
        row1, row2 = min(span[0] for span in chosen), max(span[1] for span in chosen)
        return Reference(table.sheet, row1, first, row2, last)


def _without_relatives(name: str, tree: Node) -> Node:
    for part in walk(tree):
        if isinstance(part, Reference) and not (
            part.fixed_row1 and part.fixed_column1 and part.fixed_row2 and part.fixed_column2
        ):
            raise FormulaError(
                f"the defined name {name!r} has a relative reference; write it with $"
            )
    return tree


def _items(inside: str) -> tuple[list[str], list[str]]:
    """The rows (`#...`) and the columns that the brackets of a structured reference name."""
    this_row = inside.startswith("@")
    inside = inside.removeprefix("@")
    items = _ITEM.findall(inside) if inside.startswith("[") else [inside] if inside else []
    if inside.startswith("[") and _ITEM.sub("", inside).strip(" ,:"):
        raise FormulaError(f"[{inside}] is not a part of a table")
    rows = [item.lower() for item in items if item.startswith("#")]
    unknown = [row for row in rows if row not in _ROWS]
    if unknown:
        raise FormulaError(f"[{unknown[0]}] is not a part of a table")
    columns = [re.sub("'(.)", r"\1", item) for item in items if not item.startswith("#")]
    return rows + ["#this row"] * this_row, columns


def _columns(table: Table, names: list[str]) -> tuple[int, int]:
    """The first and last column of the sheet that the named columns take."""
    if not names:
        return table.area.column1, table.area.column2
    lower = [column.lower() for column in table.columns]
    numbers = []
    for name in names:
        if name.lower() not in lower:
            raise FormulaError(f"the table {table.name} has no column {name!r}")
        numbers.append(table.area.column1 + lower.index(name.lower()))
    return min(numbers), max(numbers)
