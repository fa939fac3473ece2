"""Native functions that find values and cells."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections import defaultdict
from functools import cached_property
from itertools import pairwise
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.cells import FailedError, Range, Table, UncomputableError, table_of
from gasfuncs.hosts.headless.natives.coercion import collation, compare, number
from gasfuncs.hosts.headless.natives.table import native
from gasfuncs.hosts.headless.natives.texts import has_wildcards, wildcards
from gasfuncs.hosts.headless.values import CellValue


class Line:
    """The values of a row or column, to be looked in."""

    def __init__(self, values: list[CellValue]) -> None:
        self.values = values
        self._ordered: dict[type, tuple[list[Any], list[int]]] = {}

    @cached_property
    def places(self) -> dict[Any, list[int]]:
        """Where each value stands, places from 0."""
        found: dict[Any, list[int]] = defaultdict(list)
        for place, value in enumerate(self.values):
            found[_key(value)].append(place)
        return found

    def exact(self, sought: CellValue, last: bool = False) -> int | None:
        places = self.places.get(_key(sought))
        return places[-1 if last else 0] if places else None

    def like(self, pattern: str, last: bool = False) -> int | None:
        """The place of a text that fits a pattern."""
        fits = re.compile(wildcards(pattern), re.I | re.S).fullmatch
        numbers = range(len(self.values))
        for place in reversed(numbers) if last else numbers:
            value = self.values[place]
            if value.__class__ is str and fits(value):
                return place
        return None

    def ordered(self, kind: type, downwards: bool = False) -> tuple[list[Any], list[int]]:
        """What values of a kind are sorted by, and their places; they must be in order."""
        known = self._ordered.get(kind)
        if known is None:
            places = [n for n, value in enumerate(self.values) if value.__class__ is kind]
            keys: list[Any] = [_sort_key(self.values[place]) for place in places]
            known = self._ordered[kind] = keys, places
        keys = known[0]
        pairs = pairwise(keys)
        if self._in_order.get((kind, downwards)) is None:
            self._in_order[kind, downwards] = all(b <= a if downwards else a <= b for a, b in pairs)
        if not self._in_order[kind, downwards]:
            way = "descending" if downwards else "ascending"
            raise UncomputableError(f"MATCH and lookups like it need values in {way} order here")
        return known

    def check_bisected(self, sought: CellValue, downwards: bool) -> None:
        """Refuse what a search by halves finds in one order of steps and not in another."""
        if any(v is not None and v.__class__ is not sought.__class__ for v in self.values):
            raise UncomputableError("a search by halves is computed only in values of one kind")
        keys, _ = self.ordered(sought.__class__, downwards)
        if len(set(keys)) < len(keys):
            raise UncomputableError("a search by halves is computed only without repeated values")

    @cached_property
    def _in_order(self) -> dict[tuple[type, bool], bool]:
        return {}

    def below(self, sought: CellValue) -> int | None:
        """The last place whose value is not above the one sought, in ascending values."""
        keys, places = self.ordered(sought.__class__)
        at = bisect_right(keys, _sort_key(sought))
        return places[at - 1] if at else None

    def above(self, sought: CellValue) -> int | None:
        """The last place whose value is not below the one sought, in descending values."""
        keys, places = self.ordered(sought.__class__, downwards=True)
        at = len(keys) - bisect_left(keys[::-1], _sort_key(sought))
        return places[at - 1] if at else None

    def nearest(self, sought: CellValue, above: bool, last: bool) -> int | None:
        """The place of the value next to the one sought, in any order; numbers come before texts,
        these before FALSE and TRUE."""
        key = _rank(sought), _sort_key(sought)
        keys = {
            p: (_rank(v), _sort_key(v))
            for p, v in enumerate(self.values)
            if v.__class__ in (float, str, bool)
        }
        fit = [k for k in keys.values() if (k >= key if above else k <= key)]
        if not fit:
            return None
        best = min(fit) if above else max(fit)
        places = [place for place, each in keys.items() if each == best]
        return places[-1 if last else 0]


def _key(value: CellValue) -> Any:
    """Equal for values that a lookup takes for equal."""
    if value.__class__ is str:
        return value.lower()
    if value.__class__ is CellError:
        return (value.code,)
    return (value,) if value.__class__ is bool else value


def _sort_key(value: CellValue) -> Any:
    return collation(value) if value.__class__ is str else value


def _rank(value: CellValue) -> int:
    return (float, str, bool).index(value.__class__)


def line_of(given: Any) -> Line:
    """A row or column as a line; #N/A where it is a larger area."""
    if given.__class__ is Range:
        if given.rows > 1 and given.columns > 1:
            raise FailedError("#N/A")
        if "line" not in given.memo:
            columns = given.used
            values = columns[0] if given.columns == 1 and columns else [c[0] for c in columns if c]
            given.memo["line"] = Line(values)
        return given.memo["line"]  # type: ignore[no-any-return]
    table = table_of(given)
    if len(table) > 1 and len(table[0]) > 1:
        raise FailedError("#N/A")
    return Line([value for row in table for value in row])


def _first_line(given: Any, across: bool) -> Line:
    """The first column, or row, of a table."""
    if given.__class__ is Range:
        key = "first row" if across else "first column"
        if key not in given.memo:
            size = (1, given.columns) if across else (given.rows, 1)
            given.memo[key] = line_of(given.part(0, 0, *size))
        return given.memo[key]  # type: ignore[no-any-return]
    table = table_of(given)
    return Line(list(table[0]) if across else [row[0] for row in table])


def _size(given: Any) -> tuple[int, int]:
    if given.__class__ is Range:
        return given.rows, given.columns
    table = table_of(given)
    return len(table), len(table[0])


def _at(given: Any, row: int, column: int) -> CellValue:
    if given.__class__ is Range:
        return given.cell(row, column)
    return table_of(given)[row][column]


def _place(line: Line, sought: CellValue, approximate: bool) -> int:
    """As MATCH, VLOOKUP and HLOOKUP find it; #N/A where it is not there."""
    blank = sought is None
    if blank:
        sought = 0.0
    if approximate:
        place = line.below(sought)
    elif sought.__class__ is str and has_wildcards(sought):
        place = line.like(sought)
    else:
        place = line.exact(sought)
    if place is None:
        raise FailedError("#N/A")
    if blank:
        raise UncomputableError("a blank cell is looked up")
    return place


@native("MATCH", "v w n?")
def match(sought: CellValue, given: Any, kind: float = 1.0) -> float:
    line = line_of(given)
    if kind < 0:
        if sought is None:
            raise UncomputableError("a blank cell is looked up")
        place = line.above(sought)
        if place is None:
            raise FailedError("#N/A")
        return place + 1.0
    return _place(line, sought, approximate=kind > 0) + 1.0


@native("VLOOKUP", "v w i b?")
def vlookup(sought: CellValue, given: Any, column: int, approximate: bool = True) -> CellValue:
    return _looked_up(sought, given, column, approximate, across=False)


@native("HLOOKUP", "v w i b?")
def hlookup(sought: CellValue, given: Any, row: int, approximate: bool = True) -> CellValue:
    return _looked_up(sought, given, row, approximate, across=True)


def _looked_up(
    sought: CellValue, given: Any, number: int, approximate: bool, across: bool
) -> CellValue:
    if number < 1:
        raise FailedError("#VALUE!")
    if number > _size(given)[0 if across else 1]:
        raise FailedError("#REF!")
    place = _place(_first_line(given, across), sought, approximate)
    return _at(given, number - 1, place) if across else _at(given, place, number - 1)


@native("LOOKUP", "v w w?", arrays=True)
def lookup(sought: CellValue, given: Any, results: Any = None) -> CellValue:
    rows, columns = _size(given)
    across = columns > rows
    place = _place(_first_line(given, across), sought, approximate=True)
    if results is None:
        return _at(given, rows - 1, place) if across else _at(given, place, columns - 1)
    rows, columns = _size(results)
    if rows > 1 and columns > 1:
        raise FailedError("#N/A")
    if place >= rows * columns:
        raise FailedError("#N/A")
    return _at(results, 0, place) if columns > rows else _at(results, place, 0)


def _x_place(line: Line, sought: CellValue, mode: int | None, search: int | None) -> int | None:
    mode, search = mode or 0, 1 if search is None else search
    if mode == 3:
        raise UncomputableError("regular expressions are not looked up here")
    if mode not in (-1, 0, 1, 2) or search not in (1, -1, 2, -2) or mode == abs(search) == 2:
        raise FailedError("#VALUE!")
    if sought is None:
        raise UncomputableError("a blank cell is looked up")
    if abs(search) == 2:
        line.check_bisected(sought, downwards=search < 0)
    if mode == 2 and sought.__class__ is str:
        return line.like(sought, last=search == -1)
    place = line.exact(sought, last=search == -1)
    if place is None and mode in (-1, 1):
        place = line.nearest(sought, above=mode == 1, last=search == -1)
    return place


@native("XMATCH", "v w I? I?", arrays=True)
def xmatch(
    sought: CellValue, given: Any, mode: int | None = None, search: int | None = None
) -> float:
    place = _x_place(line_of(given), sought, mode, search)
    if place is None:
        raise FailedError("#N/A")
    return place + 1.0


@native("XLOOKUP", "v w w w? I? I?", arrays=True)
def xlookup(
    sought: CellValue, given: Any, results: Any, missing: Any = None, mode: int | None = None,
    search: int | None = None,
) -> Any:  # fmt: skip
    """The result is a row or column where the results are a larger area."""
    rows, columns = _size(given)
    across = columns > rows
    all_rows, all_columns = _size(results)
    if (columns != all_columns) if across else (rows != all_rows):
        raise FailedError("#VALUE!")
    place = _x_place(line_of(given), sought, mode, search)
    if place is None:
        if missing is None:
            raise FailedError("#N/A")
        return missing
    if results.__class__ is Range:
        size = (0, place, all_rows, 1) if across else (place, 0, 1, all_columns)
        return results.part(*size)
    if across:
        return [[row[place]] for row in table_of(results)]
    return [list(table_of(results)[place])]


@native("INDEX", "w n? n?", arrays=True)
def index(given: Any, row: float = 0.0, column: float | None = None) -> Any:
    """A cell, or a whole row or column of a table where the other number is 0."""
    rows, columns = _size(given)
    if column is None:
        row, column = (
            (1.0, row) if rows == 1 and columns > 1 else (row, 1.0 if columns == 1 else 0.0)
        )
    i, j = int(row), int(column)
    if min(i, j) < 0:
        raise FailedError("#VALUE!")
    if i > rows or j > columns:
        raise FailedError("#REF!")
    area = (max(i - 1, 0), max(j - 1, 0), 1 if i else rows, 1 if j else columns)
    if given.__class__ is Range:
        return given.part(*area)
    table = [
        line[area[1] : area[1] + area[3]] for line in table_of(given)[area[0] : area[0] + area[2]]
    ]
    return table[0][0] if i and j else table


@native("OFFSET", "r i i N? N?")
def offset(
    base: Range, down: int, right: int, height: float | None = None, width: float | None = None
) -> Range:
    if any(size is not None and not size.is_integer() for size in (height, width)):
        raise UncomputableError("OFFSET is computed only for whole numbers of rows and columns")
    rows = base.rows if height is None else int(height)
    columns = base.columns if width is None else int(width)
    if not rows or not columns:
        raise FailedError("#REF!")
    if rows < 0:
        down, rows = down + rows + 1, -rows
    if columns < 0:
        right, columns = right + columns + 1, -columns
    return base.part(down, right, rows, columns)


native("ROWS", "w")(lambda given: float(_size(given)[0]))
native("COLUMNS", "w")(lambda given: float(_size(given)[1]))


def _numbers(first: int, count: int, upright: bool) -> Any:
    if count == 1:
        return float(first)
    numbers = [float(first + n) for n in range(count)]
    return [[n] for n in numbers] if upright else [numbers]


native("ROW", "r")(lambda area: _numbers(area.area.row1, area.rows, upright=True))
native("COLUMN", "r")(lambda area: _numbers(area.area.column1, area.columns, upright=False))


@native("TRANSPOSE", "a", arrays=True)
def transpose(table: Table) -> Table:
    return [list(line) for line in zip(*table, strict=True)]


@native("SEQUENCE", "I I? N? N?", arrays=True)
def sequence(
    rows: int | None,
    columns: int | None = None,
    start: float | None = None,
    step: float | None = None,
) -> Table:
    rows = 1 if rows is None else rows
    columns = 1 if columns is None else columns
    start, step = 1.0 if start is None else start, 1.0 if step is None else step
    if rows < 1 or columns < 1 or rows * columns > 2**20:
        raise FailedError("#VALUE!")
    return [[start + step * (i * columns + j) for j in range(columns)] for i in range(rows)]


@native("MMULT", "a a", arrays=True)
def mmult(one: Table, two: Table) -> Table:
    import numpy as np

    for value in (each for table in (one, two) for row in table for each in row):
        if value.__class__ is not float:
            raise FailedError("#VALUE!")
    if len(one[0]) != len(two):
        raise FailedError("#VALUE!")
    return (np.array(one) @ np.array(two)).tolist()  # type: ignore[no-any-return]


@native("FILTER", "a a w?", arrays=True)
def filtered(table: Table, chosen: Table, empty: Any = None) -> Any:
    across = len(chosen) == 1 and len(table) != 1
    flags = chosen[0] if across else [row[0] for row in chosen]
    lines = transpose(table) if across else table
    if len(flags) != len(lines) or (len(chosen) > 1 and len(chosen[0]) > 1):
        raise FailedError("#VALUE!")
    kept = [line for line, flag in zip(lines, flags, strict=True) if number(flag)]
    if not kept:
        if empty is None:
            raise FailedError("#CALC!")
        return empty
    return transpose(kept) if across else kept


def _order(lines: list[list[CellValue]], keys: list[tuple[list[CellValue], bool]]) -> Table:
    """The lines in the order of the keys; blanks go last either way."""
    places = list(range(len(lines)))
    for values, upwards in reversed(keys):
        if any(value.__class__ is CellError for value in values):
            raise UncomputableError("errors are not sorted here")
        blank = [place for place in places if values[place] is None]
        full = [place for place in places if values[place] is not None]
        full.sort(key=lambda place: _Ordered(values[place]), reverse=not upwards)
        places = full + blank
    return [lines[place] for place in places]


class _Ordered:
    def __init__(self, value: CellValue) -> None:
        self.value = value

    def __lt__(self, other: _Ordered) -> bool:
        return compare(self.value, other.value) < 0


def _upwards(order: float) -> bool:
    if order not in (1, -1):
        raise FailedError("#VALUE!")
    return order == 1


@native("SORT", "a I? N? b?", arrays=True)
def sort(table: Table, number: int | None = None, order: float | None = None,
         across: bool = False) -> Table:  # fmt: skip
    number = 1 if number is None else number
    lines = transpose(table) if across else table
    if not 1 <= number <= len(lines[0]):
        raise FailedError("#VALUE!")
    keys = [([line[number - 1] for line in lines], _upwards(1 if order is None else order))]
    ordered = _order(lines, keys)
    return transpose(ordered) if across else ordered


@native("SORTBY", "a a N? *2", arrays=True)
def sortby(table: Table, *given: Any) -> Table:
    if all(len(by) == 1 for by in given[::2]) and len(table[0]) > 1:
        flipped = [transpose(each) if n % 2 == 0 else each for n, each in enumerate(given)]
        return transpose(sortby(transpose(table), *flipped))
    keys = []
    for by, order in zip(given[::2], [*given[1::2], *[1.0] * (len(given) % 2)], strict=True):
        values = [value for row in by for value in row]
        if len(values) != len(table) or len(by) != len(table):
            raise FailedError("#VALUE!")
        keys.append((values, _upwards(1.0 if order is None else order)))
    return _order(table, keys)


@native("UNIQUE", "a b? b?", arrays=True)
def unique(table: Table, across: bool = False, once: bool = False) -> Table:
    lines = transpose(table) if across else table
    counts: dict[tuple[Any, ...], int] = defaultdict(int)
    first: dict[tuple[Any, ...], list[CellValue]] = {}
    for line in lines:
        key = tuple(_key(value) for value in line)
        counts[key] += 1
        first.setdefault(key, line)
    kept = [line for key, line in first.items() if not once or counts[key] == 1]
    if not kept:
        raise FailedError("#CALC!")
    return transpose(kept) if across else kept
