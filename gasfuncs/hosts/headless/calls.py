"""Computes the calls of the library's functions: arguments from the engine, results back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.addresses import Area
from gasfuncs.hosts.headless.engine import CIRCULAR, PENDING, Engine, reference
from gasfuncs.hosts.headless.plan import Block, CallGroup, Line, Room, Source
from gasfuncs.hosts.headless.shapes import Constant
from gasfuncs.hosts.headless.values import CellValue, finite

Table = list[list[CellValue]]
Value = CellValue | Table
Row = tuple[Value, ...]

_NOT_READY = (PENDING, CIRCULAR)


class Calls:
    """The calls of one group and what they were last computed from."""

    def __init__(self, group: CallGroup, engine: Engine) -> None:
        self.group = group
        self._engine = engine
        self._seen: list[list[Value]] | None = None
        self._bulk = group.single and not any(
            _differs_by_call(source, group.function.parameters, index)
            for index, source in enumerate(group.sources)
        )
        self.waiting = set(range(len(group.rows)))
        self.messages: dict[int, CellError] = {}

    @property
    def constant(self) -> bool:
        return all(isinstance(source, Constant) for source in self.group.sources)

    def compute(self) -> int:
        """Compute the calls whose arguments changed and write their results; how many."""
        rows = self.group.rows
        seen = self._seen
        columns = [
            seen[number]
            if seen is not None and isinstance(source, Line) and source.constant
            else self._column(source)
            for number, source in enumerate(self.group.sources)
        ]
        changed: Sequence[int] = range(len(rows))
        if seen is not None:
            pairs = zip(columns, seen, strict=True)
            differing = [(new, old) for new, old in pairs if not _same(new, old)]
            changed = [
                i for i in changed if any(not _same(new[i], old[i]) for new, old in differing)
            ]
        if not changed:
            return 0
        blocked = self._blocked(columns, changed)
        ready = [index for index in changed if index not in blocked]
        self.waiting = self.waiting.union(changed).difference(ready)
        self._seen = columns
        for index, result in zip(ready, self._results(columns, ready), strict=True):
            self._write(index, result)
        return len(ready) + self._follow(columns, sorted(blocked))

    def _follow(self, columns: list[list[Value]], blocked: list[int]) -> int:
        """Compute the calls that waited only for calls above or below them; how many.

        So a column in which each call takes the result of the one before is done in one go.
        """
        sources = self.group.sources
        if not all(isinstance(source, Constant | Line) for source in sources):
            return 0
        done: set[int] = set()
        for index in [*blocked, *reversed(blocked)]:
            if index in done:
                continue
            for source, column in zip(sources, columns, strict=True):
                if isinstance(source, Line) and not _ready(column[index]):
                    row = source.row + (0 if source.fixed else self.group.rows[index])
                    column[index] = self._engine.value(source.sheet, row, source.column)
            values = [column[index] for column in columns]
            if all(_ready(value) for value in values):
                self._write(index, self.group.function.cells(*values))
                self.waiting.discard(index)
                done.add(index)
        return len(done)

    def _blocked(self, columns: list[list[Value]], indices: Sequence[int]) -> set[int]:
        """The calls with an argument that waits for another call."""
        blocked: set[int] = set()
        for column in columns:
            first = column[indices[0]]
            if all(column[index] is first for index in indices):
                if not _ready(first):
                    return set(indices)
                continue
            values = [(index, column[index]) for index in indices]
            blocked.update(
                index
                for index, value in values
                if isinstance(value, CellError | list) and not _ready(value)
            )
        return blocked

    def _column(self, source: Source) -> list[Value]:
        """An argument's value for every call of the group."""
        rows = self.group.rows
        match source:
            case Constant(value):
                return [value] * len(rows)
            case Line(sheet, column, row, fixed, _):
                if fixed:
                    return [self._engine.value(sheet, row, column)] * len(rows)
                return [*self._engine.column(sheet, column, [home + row for home in rows])]
            case Block(sheet):
                if not source.moves:
                    return [self._engine.area(sheet, source.area)] * len(rows)
                return [self._engine.area(sheet, source.area_for(row)) for row in rows]
            case Room():
                return [self._room(source)] * len(rows)

    def _room(self, room: Room) -> Value:
        if room.probe is not None:
            sheet, row = room.probe
            sizes = [self._engine.value(sheet, row, column) for column in (1, 2)]
            known = [int(size) if isinstance(size, float) else 1 for size in sizes]
            room.rows, room.columns = known
        table = self._engine.area(room.sheet, room.area)
        return table[0][0] if room.rows == room.columns == 1 else table

    def _results(self, columns: list[list[Value]], ready: list[int]) -> Iterator[Value]:
        cells = self.group.function.cells
        if not self._bulk or len(ready) < 2:
            for index in ready:
                yield cells(*(column[index] for column in columns))
            return
        arguments: list[Any] = []
        for source, column in zip(self.group.sources, columns, strict=True):
            if isinstance(source, Line) and not source.fixed:
                arguments.append([[column[index]] for index in ready])
            else:
                arguments.append(column[0])
        result = cells(*arguments)
        if not isinstance(result, list):
            result = [[result]] * len(ready)
        yield from (line[0] for line in result)

    def _write(self, index: int, result: Value) -> None:
        group = self.group
        row = group.rows[index]
        if group.single and not isinstance(result, list):
            value = finite(result)
            self._engine.write(group.sheet, row, group.column, value)
            if isinstance(value, CellError):
                self.messages[index] = value
            elif self.messages:
                self.messages.pop(index, None)
            return
        if not isinstance(result, list):
            result = [[result]]
        table = [[finite(value) for value in line] for line in result]
        self.messages.pop(index, None)
        error = next((v for line in table for v in line if isinstance(v, CellError)), None)
        if error is not None:
            self.messages[index] = error
        first = table[0][0]
        if group.single or (not group.spills and group.room is None):
            self._engine.write(group.sheet, row, group.column, first)
        elif group.fixed_area is not None:
            self._fill(group.fixed_area, table)
        elif group.room is not None:
            self._write_room(group, group.room, row, table)

    def _fill(self, area: Area, table: Table) -> None:
        """An array formula of the old kind: a fixed area, one value or line repeated to fill it."""
        missing = CellError("#N/A", "the result is smaller than the array formula's area")
        for row, column in area.cells():
            i = row - area.row1 if len(table) > 1 else 0
            j = column - area.column1 if len(table[0]) > 1 else 0
            inside = i < len(table) and j < len(table[0])
            self._engine.write(self.group.sheet, row, column, table[i][j] if inside else missing)

    def _write_room(self, group: CallGroup, room: Room, row: int, table: Table) -> None:
        engine = self._engine
        resized = (room.rows, room.columns) != (len(table), len(table[0]))
        room.rows, room.columns = len(table), len(table[0])
        for i, line in enumerate(table):
            for j, value in enumerate(line):
                engine.write(room.sheet, 1 + i, room.column + j, value)
        if group.spills:
            formula = reference(engine.names[room.sheet], room.area)
            engine.write_formula(group.sheet, row, group.column, formula)
        elif resized:
            for host in group.hosts:
                engine.write_formula(*host.place, host.formula())


def _differs_by_call(source: Source, parameters: Sequence[Any], index: int) -> bool:
    """Whether an argument taken as a whole is another one for each call of a group."""
    match source:
        case Block():
            return source.moves
        case Line():
            return not source.fixed and parameters[min(index, len(parameters) - 1)].whole
    return False


def _ready(value: Value) -> bool:
    if isinstance(value, list):
        return all(_ready(item) for line in value for item in line)
    return not (isinstance(value, CellError) and value.code in _NOT_READY)


def _same(one: Any, other: Any) -> bool:
    """Equality that tells TRUE from 1."""
    if one is other:
        return True
    if type(one) is not type(other) or one != other:
        return False
    if not isinstance(one, list):
        return True
    if list(map(type, one)) != list(map(type, other)):
        return False
    return not any(isinstance(item, list) for item in one) or all(map(_same, one, other))
