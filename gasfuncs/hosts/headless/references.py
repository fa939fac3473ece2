"""Names and structured references of a formula, replaced by the cells they stand for."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date

from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import (
    Apply,
    Call,
    ErrorLiteral,
    Name,
    Node,
    Number,
    Parenthesis,
    Reference,
    Structured,
    Text,
    parse,
    plain_name,
    walk,
    with_children,
)
from gasfuncs.hosts.headless.native import NATIVE
from gasfuncs.hosts.headless.package import Package, Table

MOST_PARTS = 8_192
"""Of a formula with its names and variables written out."""

_ITEM = re.compile(r"\[((?:[^\[\]']|'.)*)\]", re.S)
_ROWS = {"#all", "#data", "#headers", "#totals", "#this row"}
_EPOCH = date(1899, 12, 30)

Scope = dict[str, Node | None]


class Resolver:
    """Resolves the formulas of one workbook.

    `ours` tells whether a function is one of the library's: a LET around such a call is written
    out, because the call is computed outside the formula and cannot see its variables.
    """

    def __init__(self, package: Package, ours: Callable[[str], bool]) -> None:
        self._ours = ours
        self._tables = package.tables
        self._own_tables = {sheet.name: sheet.tables for sheet in package.sheets}
        self._sheets = {sheet.name.lower(): sheet.name for sheet in package.sheets}
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

    def resolve(self, tree: Node, sheet: str, row: int, column: int) -> Resolution:
        return Resolution(self, sheet, row, column, tree)

    def sheet(self, name: str) -> str:
        found = self._sheets.get(name.lower())
        if found is None:
            raise FormulaError(f"there is no worksheet {name!r}")
        return found

    def named(self, sheet: str, name: Name) -> Node | None:
        """The tree of a defined name, seen from a sheet."""
        places = [(name.sheet or sheet).lower()] + ([] if name.sheet else [None])
        for place in places:
            formula = self._names.get((place, name.name.lower()))
            if formula is not None:
                return parse(formula.removeprefix("="))
        if name.sheet and (None, name.name.lower()) in self._names:
            return parse(self._names[None, name.name.lower()].removeprefix("="))
        return None

    def has_table(self, name: str) -> bool:
        return name.lower() in self._tables

    def table(self, name: str) -> Table:
        found = self._tables.get(name.lower())
        if found is None:
            raise FormulaError(f"there is no table {name!r}")
        return found

    def is_ours(self, name: str) -> bool:
        return self._ours(name)


class Resolution:
    """A formula's tree without names, and the rows for which it holds."""

    def __init__(self, resolver: Resolver, sheet: str, row: int, column: int, tree: Node) -> None:
        self._resolver = resolver
        self._sheet = sheet
        self._row = row
        self._column = column
        self._open_names: tuple[str, ...] = ()
        self._parts_left = MOST_PARTS
        self.rows: tuple[int, int] | None = None
        self.tree = self._node(tree, {})

    def _count(self, parts: int) -> None:
        self._parts_left -= parts
        if self._parts_left < 0:
            raise FormulaError(
                f"with its names and variables written out it has more than {MOST_PARTS:,} parts"
            )

    def _written_out(self, variable: Node | None) -> Node | None:
        if variable is not None:
            self._count(sum(1 for _ in walk(variable)))
        return variable

    def _node(self, node: Node, scope: Scope) -> Node:  # noqa: PLR0911 - one case a kind
        self._count(1)
        match node:
            case Reference():
                return replace(node, sheet=self._resolver.sheet(node.sheet or self._sheet))
            case Structured():
                return self._structured(node)
            case Name(None, name) if name.lower() in scope:
                return self._written_out(scope[name.lower()]) or node
            case Name():
                return self._name(node)
            case Call("INDIRECT", arguments):
                return self._indirect(arguments)
            case Call("TODAY", ()):
                return Number(str((date.today() - _EPOCH).days))
            case Call("LET", arguments):
                return self._let(arguments, scope)
            case Call("LAMBDA", arguments):
                return self._lambda(arguments, scope)
            case Call(name, arguments) if name.lower() in scope:
                given = tuple(self._node(argument, scope) for argument in arguments)
                value = self._written_out(scope[name.lower()])
                return Call(name, given) if value is None else Apply(value, given)
            case Call(name, arguments) if name not in NATIVE and not self._resolver.is_ours(name):
                named = self._resolver.named(self._sheet, Name(None, name))
                if named is None:
                    raise FormulaError(f"{name} is not a function that was tested here")
                given = tuple(self._node(argument, scope) for argument in arguments)
                return Apply(self._name(Name(None, name)), given)
        return with_children(node, lambda child: self._node(child, scope))

    def _name(self, node: Name) -> Node:
        tree = self._resolver.named(self._sheet, node)
        if tree is None and self._resolver.has_table(node.name):
            return self._structured(Structured(node.name, ""))
        if tree is None:
            raise FormulaError(f"the name {node.name!r} is not defined")
        key = node.name.lower()
        if key in self._open_names:
            raise FormulaError(f"the defined name {node.name!r} refers to itself")
        for part in walk(tree):
            if isinstance(part, Reference) and not (
                part.fixed_row1 and part.fixed_column1 and part.fixed_row2 and part.fixed_column2
            ):
                raise FormulaError(
                    f"the defined name {node.name!r} has a relative reference; write it with $"
                )
        self._open_names += (key,)
        resolved = self._node(tree, {})
        self._open_names = self._open_names[:-1]
        if isinstance(resolved, Reference | Number | Text | ErrorLiteral | Parenthesis | Call):
            return resolved
        return Parenthesis(resolved)

    def _indirect(self, arguments: tuple[Node, ...]) -> Node:
        match arguments:
            case (Text(address),):
                tree = parse(address)
                if isinstance(tree, Reference | Name | Structured):
                    return self._node(tree, {})
        raise FormulaError('INDIRECT is computed only for an address in quotes, as "B2"')

    def _let(self, arguments: tuple[Node, ...], scope: Scope) -> Node:
        if len(arguments) < 3 or len(arguments) % 2 == 0:
            raise FormulaError("LET needs pairs of a variable and its value, and a result")
        write_out = any(
            isinstance(part, Call) and self._resolver.is_ours(part.name)
            for argument in arguments
            for part in walk(argument)
        )
        inner = dict(scope)
        kept: list[Node] = []
        for variable, value in zip(arguments[:-1:2], arguments[1:-1:2], strict=True):
            name = _variable(variable)
            resolved = self._node(value, inner)
            inner[name.lower()] = Parenthesis(resolved) if write_out else None
            kept += (Name(None, name), resolved)
        result = self._node(arguments[-1], inner)
        return Parenthesis(result) if write_out else Call("LET", (*kept, result))

    def _lambda(self, arguments: tuple[Node, ...], scope: Scope) -> Node:
        if not arguments:
            raise FormulaError("LAMBDA needs a result")
        names = [_variable(argument) for argument in arguments[:-1]]
        inner: Scope = {**scope, **{name.lower(): None for name in names}}
        body = self._node(arguments[-1], inner)
        return Call("LAMBDA", (*(Name(None, name) for name in names), body))

    def _structured(self, node: Structured) -> Node:
        if node.table:
            table = self._resolver.table(node.table)
        else:
            own = self._resolver.own_table(self._sheet, self._row, self._column)
            if own is None:
                raise FormulaError(f"[{node.inside}] is used outside a table")
            table = own
        rows, columns = _items(node.inside)
        first, last = _columns(table, columns)
        data1 = table.area.row1 + table.headings
        data2 = table.area.row2 - table.totals
        if "#this row" in rows:
            return self._this_row(table, first, last, data1, data2)
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

    def _this_row(self, table: Table, first: int, last: int, data1: int, data2: int) -> Node:
        if not data1 <= self._row <= data2:
            self.rows = self._row, self._row
            return ErrorLiteral("#VALUE!")
        low, high = self.rows or (data1, data2)
        self.rows = max(low, data1), min(high, data2)
        return Reference(table.sheet, self._row, first, self._row, last, False, True, False, True)


def _variable(node: Node) -> str:
    if isinstance(node, Name) and node.sheet is None:
        return plain_name(node.name)
    raise FormulaError("LET and LAMBDA need names as variables")


def _items(inside: str) -> tuple[list[str], list[str]]:
    """The rows (`#...`) and the columns that the brackets of a structured reference name."""
    this_row = inside.startswith("@")
    inside = inside.removeprefix("@")
    items = _ITEM.findall(inside) if inside.startswith("[") else [inside] if inside else []
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
