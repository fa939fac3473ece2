"""A workbook being computed: every cell once, in the order of what it depends on.

Formulas that say the same by position, down a column, are a group: it is computed at once after the
groups it takes its cells from. Where groups depend on each other their cells are computed one by
one, each when it is asked for.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, cast

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.addresses import MAX_COLUMN, MAX_ROW, Area
from gasfuncs.hosts.headless.cells import (
    VALUE_CLASSES,
    At,
    FailedError,
    Grid,
    Range,
    UncomputableError,
)
from gasfuncs.hosts.headless.shapes import Shape
from gasfuncs.hosts.headless.values import MOST_CHARACTERS, CellValue

CIRCULAR = "it depends on its own result (a circular reference)"
MOST_DEPTH = 300
"""Of formulas evaluated within each other; beyond it a cell is put off and asked for first."""


@dataclass(eq=False, slots=True)
class Group:
    """Formulas alike down a column. In the grid it stands for their values until they are known."""

    shape: Shape
    grid: Grid
    column: int
    area: Area | None = None
    """The area of an array formula, as stored."""
    dynamic: bool = False
    rows: list[int] = field(default_factory=list)
    visited: bool = False
    open: bool = False
    cyclic: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A cell of an array formula's area, computed with its first cell."""

    row: int
    column: int
    group: Group


@dataclass(frozen=True, slots=True)
class Unknown:
    """A value that cannot be told; `root` where the reason lies in the cell itself."""

    why: str
    root: bool


class _Active:
    """Stands for the value of a cell that is being computed."""


ACTIVE = _Active()
Place = tuple[Grid, int, int]


class CircularError(Exception):
    """A cell depends on itself."""

    def __init__(self, place: Place) -> None:
        super().__init__(CIRCULAR)
        self.place = place


class TooDeepError(Exception):
    """A cell has to be computed before the evaluation can go on."""

    def __init__(self, group: Group, row: int) -> None:
        super().__init__(row)
        self.cell = group, row


class DependsError(UncomputableError):
    """The formula takes a cell that cannot be computed."""


class Book:
    """The sheets with their values and formulas."""

    def __init__(self, names: list[str], dates_from_1904: bool) -> None:
        self.grids = {name.lower(): Grid(name) for name in names}
        self.groups: list[Group] = []
        self.dates_from_1904 = dates_from_1904
        self.addresses: dict[tuple[str, str], Any] = {}
        self.spills: dict[Place, Area] = {}
        self.done = 0
        self._areas: dict[tuple[Grid, Area], Range] = {}
        self._by_column: dict[tuple[Grid, int], list[Group]] = defaultdict(list)
        self._depth = 0
        self._skipped: list[tuple[Place, Area]] = []

    def forget(self) -> None:
        """Let go of all it has: formulas and areas hold the book that holds them, which a search
        for garbage would take far longer to find out."""
        vars(self).clear()

    def grid(self, name: str) -> Grid | None:
        return self.grids.get(name.lower())

    def area(self, grid: Grid, area: Area) -> Range:
        """An area that many formulas take: its values are collected once."""
        return self._areas.setdefault((grid, area), Range(self, grid, area))

    def add(self, group: Group) -> None:
        """A new group; its cells follow."""
        self.groups.append(group)
        columns = (
            range(group.area.column1, group.area.column2 + 1) if group.area else (group.column,)
        )
        for column in columns:
            self._by_column[group.grid, column].append(group)

    # One cell

    def ask(self, grid: Grid, row: int, column: int) -> CellValue:
        """The value of a cell, computed now if need be."""
        value = grid.columns[column].get(row)
        if value is None and grid.waiting_spills:
            self.settle_spills(grid, row, column, Area(row, column, row, column))
            value = grid.columns[column].get(row)
        if value.__class__ is Part:
            self.ask(grid, value.row, value.column)
            value = grid.columns[column].get(row)
        if value.__class__ in VALUE_CLASSES:
            return cast("CellValue", value)
        if value.__class__ is Group:
            if self._depth and self._depth + value.shape.depth > MOST_DEPTH:
                raise TooDeepError(value, row)
            self.compute(value, row)
            return self.ask(grid, row, column)
        if value is ACTIVE or value.__class__ is Part:
            raise CircularError((grid, row, column))
        raise DependsError(f"it takes {Range(self, grid, Area(row, column, row, column))}")

    def settle_spills(self, grid: Grid, row: int, column: int, area: Area) -> None:
        """Compute the arrays that may reach into an area that ends with a cell."""
        for anchor in list(grid.waiting_spills):
            if anchor[0] > row or anchor[1] > column:
                continue
            value = grid.columns[anchor[1]].get(anchor[0])
            if value is ACTIVE:
                self._skipped.append(((grid, *anchor), area))
            elif value.__class__ is Group:
                self.ask(grid, *anchor)

    def compute(self, group: Group, row: int) -> None:
        """Compute one cell; it gets a value, or stays as it was where another must come first."""
        cells, here = group.grid.columns[group.column], (group.grid, row, group.column)
        cells[row] = ACTIVE
        self._depth += group.shape.depth
        result: Any
        try:
            result = self._stored(group, row, self._value(group, row))
        except TooDeepError:
            cells[row] = group
            raise
        except CircularError as error:
            cells[row] = Unknown(CIRCULAR, root=True)
            if error.place != here:
                raise
            return
        except UncomputableError as error:
            result = Unknown(str(error), not isinstance(error, DependsError))
        except RecursionError:
            result = Unknown("the formula is nested too deeply", root=True)
        except (TypeError, LookupError, ValueError, AttributeError, ArithmeticError) as error:
            result = Unknown(f"its values are not computed ({error})", root=True)
        finally:
            self._depth -= group.shape.depth
        cells[row] = result
        if group.dynamic:
            group.grid.waiting_spills.remove((row, group.column))

    def _value(self, group: Group, row: int) -> Any:
        try:
            return group.shape.formula(At(row, group.column))
        except FailedError as error:
            return error.error

    def _stored(self, group: Group, row: int, value: Any) -> Any:
        """A formula's result as its cell holds it."""
        if value.__class__ is Range:
            value = value.table
        if group.area is not None:
            table = value if value.__class__ is list else [[value]]
            return self._spilled(group, row, [[_kept(each) for each in line] for line in table])
        return _kept(value[0][0] if value.__class__ is list else value)

    def _spilled(self, group: Group, row: int, table: list[list[Any]]) -> Any:
        """Fill the cells of an array; the value of the first."""
        grid, column = group.grid, group.column
        assert group.area
        area = group.area
        if group.dynamic:
            area = Area.sized(row, column, len(table), len(table[0]))
            if not self._is_free(group, area):
                area, table = Area.sized(row, column, 1, 1), [[CellError("#SPILL!")]]
            self._check_skipped((grid, row, column), area)
        self.spills[grid, row, column] = area
        for r, c in {*group.area.cells(), *area.cells()} - {(row, column)}:
            i, j = (r - row if len(table) > 1 else 0), (c - column if len(table[0]) > 1 else 0)
            if (r, c) not in area:
                self._vacate(group, r, c)
            elif i < len(table) and j < len(table[0]):
                grid.put(r, c, table[i][j])
            else:
                grid.put(r, c, CellError("#N/A"))
        return table[0][0]

    def _vacate(self, group: Group, row: int, column: int) -> None:
        """An array no longer fills a cell; a formula that stands there stays."""
        there = group.grid.columns[column].get(row)
        if there.__class__ is Part and there.group is group:
            del group.grid.columns[column][row]

    def _is_free(self, group: Group, area: Area) -> bool:
        if area.row2 > MAX_ROW or area.column2 > MAX_COLUMN:
            return False
        columns = group.grid.columns
        for row, column in area.cells()[1:]:
            there = columns[column].get(row)
            if there is not None and not (there.__class__ is Part and there.group is group):
                return False
        return True

    def _check_skipped(self, anchor: Place, area: Area) -> None:
        """Refuse an array that fills cells which were taken for blank on the way to it."""
        for place, read in self._skipped:
            if place == anchor and read.meets(area):
                raise UncomputableError(CIRCULAR)

    def spilled(self, cell: Any) -> Range:
        """The area that the array formula of a cell fills."""
        if cell.__class__ is Range and cell.single:
            place = (cell.grid, cell.area.row1, cell.area.column1)
            self.ask(*place)
            if place in self.spills:
                return Range(self, cell.grid, self.spills[place])
        raise FailedError("#REF!")

    def formula_columns(self, grid: Grid, row: int) -> set[int]:
        """The columns that have a formula in a row."""
        return {group.column for group in self.groups if group.grid is grid and row in group.rows}

    def is_subtotal(self, grid: Grid, row: int, column: int) -> bool:
        """Whether a cell holds a subtotal itself."""
        return (grid, row, column) in self._subtotals

    @cached_property
    def _subtotals(self) -> set[Place]:
        return {
            (group.grid, row, group.column)
            for group in self.groups
            if group.shape.subtotal
            for row in group.rows
        }

    # All cells

    def evaluate(self, progress: Callable[[int], None]) -> None:
        """Compute every formula."""
        for first in self.groups:
            for group in self._in_order(first):
                self._finish(group)
                self.done += len(group.rows) * len(group.shape.calls)
                progress(self.done)

    def _in_order(self, first: Group) -> Iterator[Group]:
        """A group after those it depends on."""
        if first.visited:
            return
        stack = [(first, self._precedents(first))]
        first.visited = first.open = True
        while stack:
            group, precedents = stack[-1]
            other = next(precedents, None)
            if other is None:
                stack.pop()
                group.open = False
                yield group
            elif other.open:
                group.cyclic = True
            elif not other.visited:
                other.visited = other.open = True
                stack.append((other, self._precedents(other)))

    def _precedents(self, group: Group) -> Iterator[Group]:
        for name, area in group.shape.areas(group.rows, group.column):
            grid = self.grid(name)
            if grid is None:
                continue
            for column in self._formula_columns(grid, area):
                groups = self._by_column[grid, column]
                if area.rows <= 4 * len(groups):
                    cells = grid.columns[column]
                    for row in range(area.row1, area.row2 + 1):
                        found = cells.get(row)
                        if found.__class__ is Part:
                            yield found.group
                        elif found.__class__ is Group:
                            yield found
                else:
                    for found in groups:
                        low, high = _span(found)
                        if low <= area.row2 and high >= area.row1:
                            yield found

    def taken_by(self, group: Group) -> Iterator[Group]:
        """The groups that have a cell in what a group takes."""
        for name, area in group.shape.areas(group.rows, group.column):
            grid = self.grid(name)
            for column in self._formula_columns(grid, area) if grid else ():
                for found in self._by_column[grid, column]:  # type: ignore[index]
                    low, high = _span(found)
                    if low <= area.row2 and high >= area.row1:
                        yield found

    def _formula_columns(self, grid: Grid, area: Area) -> Iterator[int]:
        if area.columns <= 64:
            for column in range(area.column1, area.column2 + 1):
                if (grid, column) in self._by_column:
                    yield column
            return
        for other, column in list(self._by_column):
            if other is grid and area.column1 <= column <= area.column2:
                yield column

    def _finish(self, group: Group) -> None:
        """Compute the cells of a group that are not computed yet."""
        cells = group.grid.columns[group.column]
        waiting = [row for row in group.rows if cells[row] is group]
        if group.shape.guard:
            waiting = group.shape.guard.left(waiting, group.column, cells)
        prepared = () if group.cyclic or group.area else group.shape.calls
        for call in prepared:
            call.prepare(waiting, group.column, self._without_end)
        for row in waiting:
            if cells[row] is group:
                try:
                    self.compute(group, row)
                except TooDeepError as error:
                    self._settle([(group, row), error.cell])
        for call in prepared:
            call.release(group.column)

    def _without_end(self, work: Callable[[], Any]) -> Any:
        """Do something that may need cells that need cells, and so on."""
        while True:
            try:
                return work()
            except TooDeepError as error:
                self._settle([error.cell])
            except CircularError:
                raise UncomputableError(CIRCULAR) from None

    def _settle(self, stack: list[tuple[Group, int]]) -> None:
        """Compute the last cell of the stack, whatever must come before it, then the one below."""
        while stack:
            group, row = stack[-1]
            cells = group.grid.columns[group.column]
            if cells[row] is not group and cells[row] is not ACTIVE:
                stack.pop()
                continue
            try:
                self.compute(group, row)
                stack.pop()
            except TooDeepError as error:
                cells[row] = ACTIVE
                stack.append(error.cell)
            except CircularError as error:
                stack.pop()
                while stack and error.place != _place(stack[-1]):
                    self._mark_circular(*stack.pop())
                if stack:
                    self._mark_circular(*stack.pop())

    def _mark_circular(self, group: Group, row: int) -> None:
        group.grid.columns[group.column][row] = Unknown(CIRCULAR, root=True)


def _place(cell: tuple[Group, int]) -> Place:
    group, row = cell
    return group.grid, row, group.column


def _span(group: Group) -> tuple[int, int]:
    if group.area is not None:
        return group.area.row1, group.area.row2
    return group.rows[0], group.rows[-1]


def _kept(value: Any) -> CellValue:
    """A result as a cell can hold it; a blank is 0."""
    if value is None:
        return 0.0
    if value.__class__ is str and len(value) > MOST_CHARACTERS:
        raise UncomputableError(f"its text is longer than {MOST_CHARACTERS:,} characters")
    if value.__class__ not in VALUE_CLASSES:
        return CellError("#CALC!")
    if value.__class__ is float and not math.isfinite(value):
        return CellError("#NUM!")
    return cast("CellValue", value)
