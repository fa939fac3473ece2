"""The shape of a formula: what all the formulas have in common that say the same by position.

Formulas filled down a column share one shape, so they are read and compiled once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from gasfuncs.hosts.headless.addresses import MAX_COLUMN, MAX_ROW, Area, column_number
from gasfuncs.hosts.headless.cells import At, Formula, Grid, UncomputableError
from gasfuncs.hosts.headless.compiling import Compiler
from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import (
    Binary,
    Call,
    Node,
    Reference,
    Text,
    ThisRow,
    parse,
    plain_name,
    walk,
)
from gasfuncs.hosts.headless.ours import OurCall
from gasfuncs.hosts.headless.references import Resolver

MOST_CHARACTERS = 8_192
"""Of a formula, as the file format has it."""

_RELATIVE = re.compile(
    r""""[^"]*"|'[^']*'|\[(?:'.|[^\]'])*\]"""
    r"""|(?<![\w.\\$])(\$?)([A-Za-z]{1,3})(\$?)([0-9]{1,7})(?![\w.(\[!\\])"""
)
_CALLED = re.compile(r"(?<![A-Z0-9_.])[A-Z0-9_.]+(?=\()")
_UNSEEN = frozenset({"INDIRECT", "OFFSET", "ANCHORARRAY"})
_WHOLE_COLUMNS = re.compile(r"(?<![\w$])[A-Za-z]{1,3}:\$?[A-Za-z]{1,3}(?!\w)")
_WHOLE_ROWS = re.compile(r"(?<![\w$])[0-9]{1,7}:\$?[0-9]{1,7}(?!\w)")
_OF_A_TABLE = re.compile(r"[\w.\\?]+\[(?:[^\[\]']|'.|\[(?:[^\[\]']|'.)*\])*\]", re.S)


@dataclass(frozen=True, slots=True)
class Guard:
    """Of a formula IF(cell="",text,...): the text, at once, where that cell of its row is blank."""

    text: str
    grid: Grid
    column: int
    fixed: bool
    rows: range

    def left(self, rows: list[int], column: int, cells: dict[int, Any]) -> list[int]:
        """The rows that are to be computed; the others get the text."""
        if self.grid.waiting_spills:
            return rows
        tested = self.grid.columns[self.column + (0 if self.fixed else column)]
        left = []
        for row in rows:
            value = tested.get(row)
            if (value is None or value == "") and row in self.rows:
                cells[row] = self.text
            else:
                left.append(row)
        return left


@dataclass(eq=False, slots=True)
class Shape:
    """A compiled formula, read for the cell at `row` and `column` of a sheet."""

    sheet: str
    row: int
    column: int
    formula: Formula
    calls: list[OurCall]
    references: list[Reference | ThisRow]
    depth: int
    subtotal: bool = False
    ours: bool = False
    """Whether it calls functions of the library."""
    blind: bool = False
    """Whether it may take cells that `references` does not name."""
    guard: Guard | None = None

    def areas(self, rows: Sequence[int], column: int) -> Iterator[tuple[str, Area]]:
        """The sheets and areas that the formula takes in all these rows of a column."""
        right = column - self.column
        low, high = rows[0], rows[-1]
        for node in self.references:
            if isinstance(node, ThisRow):
                area = node.area
                row1, row2 = max(low, area.row1), min(high, area.row2)
                if row1 <= row2:
                    yield area.sheet or self.sheet, Area(row1, area.column1, row2, area.column2)
                continue
            ends = [
                row if fixed else row - self.row + home
                for row, fixed in ((node.row1, node.fixed_row1), (node.row2, node.fixed_row2))
                for home in (low, high)
            ]
            sides = [
                side if fixed else side + right
                for side, fixed in (
                    (node.column1, node.fixed_column1), (node.column2, node.fixed_column2)
                )
            ]  # fmt: skip
            rows_ = _within(ends, MAX_ROW)
            columns = _within(sides, MAX_COLUMN)
            yield node.sheet or self.sheet, Area(rows_[0], columns[0], rows_[1], columns[1])


def _within(places: list[int], most: int) -> tuple[int, int]:
    """First and last of places on a sheet; all of it where some run over its edge."""
    low, high = min(places), max(places)
    return (low, high) if low >= 1 and high <= most else (1, most)


class ShapeReader:
    """Reads the formulas of one workbook into shapes, each shape once."""

    def __init__(self, book: Any, resolver: Resolver, functions: Mapping[str, Any]) -> None:
        self._book = book
        self._functions = functions
        self._resolver = resolver
        self._shapes: dict[object, Shape] = {}
        self._above: dict[tuple[str, int], tuple[str, list[int], Shape]] = {}

    def shape(self, formula: str, sheet: str, row: int, column: int, plain: bool) -> Shape:
        """The shape of a cell's formula; of one that cannot be computed it raises when evaluated.

        `plain` is a formula that is not an array formula: it meets ranges by intersection.
        """
        above = self._above.get((sheet, column)) if plain else None
        if above is not None:
            pattern, shifts, shape = above
            if formula == (pattern % tuple(row + each for each in shifts) if shifts else pattern):
                return shape
        if len(formula) > MOST_CHARACTERS:
            why = f"the formula is longer than {MOST_CHARACTERS:,} characters"
            return self._refused(formula, sheet, row, column, why)
        key = (sheet, plain, *self._key(formula, sheet, row, column))
        found = self._shapes.get(key)
        if found is None:
            found = self._shapes[key] = self._read(formula, sheet, row, column, plain)
        if plain and len(key) == 3:
            self._above[sheet, column] = (*_pattern(formula, row), found)
        return found

    def _key(self, formula: str, sheet: str, row: int, column: int) -> tuple[object, ...]:
        """Equal for formulas that say the same by position."""
        key: list[object] = [_relative(formula, row, column)]
        if ":" in formula:
            if _WHOLE_COLUMNS.search(formula):
                key += ("column", column)
            if _WHOLE_ROWS.search(formula):
                key += ("row", row)
        if "[" in formula and "[" in _OF_A_TABLE.sub("", formula):
            table = self._resolver.own_table(sheet, row, column)
            key += ("table", table.name if table else "")
        return tuple(key)

    def _read(self, formula: str, sheet: str, row: int, column: int, plain: bool) -> Shape:
        compiler = Compiler(self._book, self._resolver, self._functions, sheet, row, column)
        try:
            tree = parse(formula)
            compiled = compiler.value(tree, False) if plain else compiler.whole(tree, True)
        except FormulaError as error:
            return self._refused(formula, sheet, row, column, error.sentence)
        except RecursionError:
            return self._refused(formula, sheet, row, column, "the formula is nested too deeply")
        return Shape(
            sheet, row, column, compiled, compiler.calls, compiler.references,
            4 + 3 * compiler.depth, compiler.subtotal, bool(compiler.calls), compiler.blind,
            self._guard(tree, compiler) if plain else None,
        )  # fmt: skip

    def _guard(self, tree: Node, compiler: Compiler) -> Guard | None:
        match tree:
            case Call("IF", (Binary("=", tested, Text("")), Text(text), _)):
                found = compiler.written_out(tested)
            case _:
                return None
        match found:
            case ThisRow(cell) if cell.column1 == cell.column2:
                rows = range(cell.row1, cell.row2 + 1)
            case Reference(row1=compiler.row, fixed_row1=False) as cell if cell.single:
                rows = range(1, MAX_ROW + 1)
            case _:
                return None
        grid = self._book.grid(cell.sheet or compiler.sheet)
        column = cell.column1 - (0 if cell.fixed_column1 else compiler.column)
        return Guard(text, grid, column, cell.fixed_column1, rows) if grid else None

    def _refused(self, formula: str, sheet: str, row: int, column: int, why: str) -> Shape:
        """A formula that cannot be computed, and what it takes as far as it can be read."""
        shape = refused(sheet, row, column, why)
        called = (plain_name(each) for each in _CALLED.findall(formula.upper()))
        shape.ours = any(name.lstrip("0123456789_.") in self._functions for name in called)
        try:
            nodes = list(walk(parse(formula)))
        except (FormulaError, RecursionError):
            return shape
        shape.blind = any(isinstance(n, Call) and n.name in _UNSEEN for n in nodes)
        place = (sheet, row, column)
        for node in nodes:
            try:
                found = self._resolver.area(node, *place)
            except FormulaError:
                continue
            if isinstance(found, Reference | ThisRow):
                shape.references.append(found)
            elif found is not None:
                shape.blind = True
        return shape


def refused(
    sheet: str,
    row: int,
    column: int,
    why: str,
) -> Shape:
    """A formula that cannot be computed, whatever it may take."""

    def refuse(_: At) -> Any:
        raise UncomputableError(why)

    return Shape(sheet, row, column, refuse, [], [], 1, blind=True)


def _relative(formula: str, row: int, column: int) -> str:
    """The formula with the addresses that move written as distances from its cell."""

    def distance(match: re.Match[str]) -> str:
        fixed_column, letters, fixed_row, number = match.groups()
        if letters is None or (fixed_column and fixed_row):
            return match[0]
        right = letters.upper() if fixed_column else column_number(letters) - column
        down = number if fixed_row else int(number) - row
        return f"{fixed_column}{right}\0{fixed_row}{down}\0"

    return _RELATIVE.sub(distance, formula)


def _pattern(formula: str, row: int) -> tuple[str, list[int]]:
    """The formula as a pattern for the rows below, and how far the rows in it are from its own.

    Without rows that move it is the pattern itself.
    """
    shifts: list[int] = []
    pieces: list[str] = []
    position = 0
    for match in _RELATIVE.finditer(formula):
        if match[4] and not match[3]:
            shifts.append(int(match[4]) - row)
            pieces += (formula[position : match.start(4)].replace("%", "%%"), "%d")
            position = match.end()
    pieces.append(formula[position:].replace("%", "%%"))
    return "".join(pieces) if shifts else formula, shifts
