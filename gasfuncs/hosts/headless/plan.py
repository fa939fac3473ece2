"""Lays a workbook's formulas out for the engine: what it computes, and what is computed here.

A call whose result is one value takes one cell: its own where it is the whole formula, else a
cell of a scratch sheet in the same row, so that formulas down a column stay alike and are handed
over as shared formulas. What may be an array gets a room on a scratch sheet, where it can spill.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from gasfuncs.hosts.headless.addresses import MAX_COLUMN, Area, cell_name, column_letters
from gasfuncs.hosts.headless.engine import PENDING, reference
from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import Node, Slot, Writer, walk
from gasfuncs.hosts.headless.package import MAIN, Package
from gasfuncs.hosts.headless.shapes import (
    Argument,
    Constant,
    LiftedCall,
    LiftedExpression,
    Shape,
    ShapeReader,
)
from gasfuncs.hosts.headless.sheetxml import FormulaCell, SheetText
from gasfuncs.hosts.headless.values import escape

ROOM_COLUMNS = 256

Place = tuple[int, int, int]
"""Sheet number, row and column in the engine."""


@dataclass(frozen=True, slots=True)
class Line:
    """An argument read from one column: in the row of each call plus `row`, or in row `row`.

    `constant` where no formula stands in the column, so that it is read once.
    """

    sheet: int
    column: int
    row: int
    fixed: bool
    constant: bool


@dataclass(frozen=True, slots=True)
class Block:
    """An argument that is an area of cells.

    `moves1` and `moves2` tell whether its first and its last row move with the row of the call;
    the area then holds distances.
    """

    sheet: int
    area: Area
    moves1: bool
    moves2: bool

    @property
    def moves(self) -> bool:
        return self.moves1 or self.moves2

    def area_for(self, row: int) -> Area:
        area = self.area
        rows = (area.row1 + row * self.moves1, area.row2 + row * self.moves2)
        return Area(min(rows), area.column1, max(rows), area.column2)


@dataclass(slots=True)
class Room:
    """A place where an array can spill; the cells `probe` tell its rows and columns."""

    sheet: int
    column: int
    probe: tuple[int, int] | None = None
    rows: int = 1
    columns: int = 1

    @property
    def area(self) -> Area:
        return Area.sized(1, self.column, self.rows, self.columns)


Source = Constant | Line | Block | Room


@dataclass(slots=True)
class Host:
    """A formula that takes in an array computed here; written anew when its size changes."""

    place: Place
    formula: Callable[[], str]


@dataclass(slots=True)
class CallGroup:
    """Calls of one shape down one column, computed together.

    `rows` are the rows of their formulas. The results go into these rows of `column` of the
    engine's sheet `sheet`. A call that may give an array is a group by itself: its result goes
    into `room`, or, where the call is the whole formula, into the formula's cell (`spills`: with
    its neighbours).
    """

    function: Any
    sources: list[Source]
    home_sheet: str
    home_column: int
    sheet: int
    column: int
    single: bool
    room: Room | None = None
    spills: bool = False
    fixed_area: Area | None = None
    rows: list[int] = field(default_factory=list)
    hosts: list[Host] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Problem:
    """A formula that cannot be computed, and why."""

    sheet: str
    cell: str
    formula: str
    why: str


class Plan:
    """Everything the engine is given, and the calls to compute beside it."""

    def __init__(self, package: Package, functions: Mapping[str, Any]) -> None:
        self.texts = [SheetText(package, sheet) for sheet in package.sheets]
        strings = package.shared_string_count()
        for text in self.texts:
            text.check_values(strings)
        self.names = [sheet.name for sheet in package.sheets]
        self.numbers = {name: number for number, name in enumerate(self.names)}
        self.cells = [text.formula_cells() for text in self.texts]
        self.groups: list[CallGroup] = []
        self.problems: list[Problem] = []
        self._scratch = _ScratchSheets(self.names)
        self._reader = ShapeReader(package, functions)
        self._layouts: dict[object, _Layout] = {}
        self._fixed: dict[tuple[int, str, int], _Layout] = {}
        self._formula_columns = [{cell.column for cell in cells} for cells in self.cells]
        self._has_arrays = [
            any(cell.formula_kind == "array" for cell in cells) for cells in self.cells
        ]
        edits = [self._lay_out_sheet(number) for number in range(len(self.texts))]
        self.sheets = [
            (text.sheet.name, text.engine_text(edit))
            for text, edit in zip(self.texts, edits, strict=True)
        ]
        self.sheets += self._scratch.sheets()
        self._layouts.clear()  # they refer back to the plan, which would outlive its use
        self._fixed.clear()

    def calls(self) -> int:
        return sum(len(group.rows) for group in self.groups)

    def is_constant(self, sheet: int, column: int) -> bool:
        """Whether a column surely holds no formula and no spilled value."""
        return not self._has_arrays[sheet] and column not in self._formula_columns[sheet]

    def _lay_out_sheet(self, sheet: int) -> list[tuple[int, int, str]]:
        """The edits that turn a sheet's formulas into the engine's."""
        text = self.texts[sheet]
        edits: list[tuple[int, int, str]] = []
        masters: dict[str, FormulaCell] = {}
        for cell in self.cells[sheet]:
            try:
                layout = self._layout_of(sheet, cell, masters)
                edits.append((cell.start, cell.end, layout.place(cell)))
            except FormulaError as error:
                name = self.names[sheet]
                self.problems.append(Problem(name, cell.name, cell.formula, error.sentence))
            if cell.formula_kind == "array":
                edits += [
                    (start, end, "")
                    for row, column, start, end in text.cells_in(cell.area)
                    if (row, column) != (cell.row, cell.column)
                ]
        return edits

    def _layout_of(self, sheet: int, cell: FormulaCell, masters: dict[str, FormulaCell]) -> _Layout:
        if cell.formula_kind == "dataTable":
            raise FormulaError("a data table (what-if analysis) is not computed")
        known = self._fixed.get((sheet, cell.formula, cell.column))
        if known is not None and cell.formula_kind == "normal" and known.holds_for(cell):
            return known
        master = cell
        if cell.formula_kind == "shared":
            index = cell.formula_attributes.get("si", "")
            if cell.formula:
                masters[index] = cell
            elif index not in masters:
                raise FormulaError("its shared formula is missing; the file is damaged")
            master = masters[index]
        array = cell.formula_kind == "array"
        name = self.names[sheet]
        shape = self._reader.shape(master.formula, name, master.row, master.column, not array)
        if not shape.holds_for(cell.row, cell.column):
            raise FormulaError("a shared formula reaches beyond the rows that it holds for")
        alike = shape.single and not array and not shape.as_array
        key = (id(shape), cell.column) if alike else (id(shape), cell.column, cell.row)
        layout = self._layouts.get(key)
        if layout is None:
            layout = self._layouts[key] = _Layout(self, self._scratch, sheet, shape, cell)
        if alike and self._reader.is_fixed(cell.formula):
            self._fixed[sheet, cell.formula, cell.column] = layout
        return layout


class _ScratchSheets:
    """The scratch sheets: columns for single values, rooms for arrays."""

    def __init__(self, names: list[str]) -> None:
        self._names = names
        self._first = len(names)
        self._rows: list[dict[int, list[tuple[int, str]]]] = []
        self._free: dict[int, tuple[int, int]] = {}
        self._shared = 0
        pending = self._new_sheet()
        self.put(pending, 1, 1, f'<c r="A1" t="e"><v>{PENDING}</v></c>')
        self.pending = reference(names[pending], Area(1, 1, 1, 1))
        self._room_sheet, self._room_column = -1, MAX_COLUMN
        self._probe_sheet, self._probes = -1, 0

    def _new_sheet(self) -> int:
        taken = {name.lower() for name in self._names}
        number = len(self._names)
        while f"scratch{number}" in taken:
            number += 1
        self._names.append(f"scratch{number}")
        self._rows.append(defaultdict(list))
        return len(self._names) - 1

    def put(self, sheet: int, row: int, column: int, xml: str) -> None:
        self.rows(sheet)[row].append((column, xml))

    def rows(self, sheet: int) -> dict[int, list[tuple[int, str]]]:
        return self._rows[sheet - self._first]

    def column(self, home: int) -> tuple[int, int]:
        """A free column on a scratch sheet that belongs to the sheet `home`."""
        sheet, column = self._free.get(home, (-1, MAX_COLUMN))
        if column >= MAX_COLUMN:
            sheet, column = self._new_sheet(), 0
        self._free[home] = sheet, column + 1
        return sheet, column + 1

    def room(self) -> Room:
        if self._room_column + ROOM_COLUMNS > MAX_COLUMN:
            self._room_sheet, self._room_column = self._new_sheet(), 1
        room = Room(self._room_sheet, self._room_column)
        self._room_column += ROOM_COLUMNS
        return room

    def probe(self, room: Room) -> None:
        """Have the engine tell the size of what spills in a room."""
        if self._probe_sheet < 0:
            self._probe_sheet = self._new_sheet()
        self._probes += 1
        row = self._probes
        room.probe = self._probe_sheet, row
        anchor = self.text(room) + "#"
        for column, function in ((1, "ROWS"), (2, "COLUMNS")):
            xml = _cell(row, column, f"<f>{function}({anchor})</f>")
            self.put(self._probe_sheet, row, column, xml)

    def text(self, room: Room) -> str:
        return reference(self._names[room.sheet], room.area)

    def shared_index(self) -> int:
        self._shared += 1
        return self._shared

    def sheets(self) -> list[tuple[str, str]]:
        return [
            (self._names[self._first + number], _sheet_xml(rows))
            for number, rows in enumerate(self._rows)
        ]


@dataclass(slots=True)
class _Filled:
    """Lays out the further cells of a column of formulas that are all alike."""

    groups: list[CallGroup]
    scratch: list[tuple[dict[int, list[tuple[int, str]]], int, str, str]]
    prefix: str
    suffix: str

    def place(self, row: int) -> str:
        for group in self.groups:
            group.rows.append(row)
        for rows, column, prefix, suffix in self.scratch:
            rows[row].append((column, f"{prefix}{row}{suffix}"))
        return f"{self.prefix}{row}{self.suffix}"


class _Layout:
    """Where the parts of one shape go in one column, or in one cell where it deals in arrays."""

    def __init__(
        self, plan: Plan, scratch: _ScratchSheets, sheet: int, shape: Shape, cell: FormulaCell
    ) -> None:
        self._plan = plan
        self._scratch = scratch
        self._sheet = sheet
        self._shape = shape
        self._right = cell.column - shape.column
        self._shared: dict[int, int] = {}
        self._cell_column = cell.column
        self._alike = shape.single and cell.formula_kind != "array" and not shape.as_array
        self._filled: _Filled | None = None
        self._places: list[tuple[int, int] | Room] = []
        self._groups: dict[int, CallGroup] = {}
        direct = shape.direct
        self._direct = direct.index if direct else -1
        for index, slot in enumerate(shape.slots):
            place: tuple[int, int] | Room
            if index == self._direct:
                place = (sheet, cell.column)
            else:
                place = scratch.column(sheet) if slot.single else scratch.room()
            self._places.append(place)
            if isinstance(slot, LiftedCall):
                self._groups[index] = self._group(index, slot, place, cell)

    def _group(
        self, index: int, call: LiftedCall, place: tuple[int, int] | Room, cell: FormulaCell
    ) -> CallGroup:
        sheet, column = (place.sheet, place.column) if isinstance(place, Room) else place
        array = index == self._direct and cell.formula_kind == "array"
        room = place if isinstance(place, Room) else self._scratch.room() if array else None
        group = CallGroup(
            function=call.function,
            sources=[self._source(argument) for argument in call.arguments],
            home_sheet=self._plan.names[self._sheet],
            home_column=cell.column,
            sheet=sheet,
            column=column,
            single=call.single and not array,
            room=room,
            spills=array,
            fixed_area=cell.area if array and not cell.dynamic else None,
        )
        self._plan.groups.append(group)
        return group

    def _source(self, argument: Argument) -> Source:
        if isinstance(argument, Constant):
            return argument
        if isinstance(argument, Slot):
            place = self._places[argument.index]
            return place if isinstance(place, Room) else Line(*place, 0, False, False)
        sheet = self._plan.numbers[str(argument.sheet)]
        columns = [
            column if fixed else column + self._right
            for column, fixed in (
                (argument.column1, argument.fixed_column1),
                (argument.column2, argument.fixed_column2),
            )
        ]
        row1 = argument.row1 - (0 if argument.fixed_row1 else self._shape.row)
        row2 = argument.row2 - (0 if argument.fixed_row2 else self._shape.row)
        if argument.single:
            constant = self._plan.is_constant(sheet, columns[0])
            return Line(sheet, columns[0], row1, argument.fixed_row1, constant)
        area = Area(row1, min(columns), row2, max(columns))
        return Block(sheet, area, not argument.fixed_row1, not argument.fixed_row2)

    def place(self, cell: FormulaCell) -> str:
        """Lay out the formula of one more cell; the engine's XML for that cell."""
        if not self._alike:
            return self._place_first(cell)
        if self._filled is None:
            xml = self._place_first(cell)
            self._filled = self._fill()
            return xml
        return self._filled.place(cell.row)

    def holds_for(self, cell: FormulaCell) -> bool:
        return self._shape.holds_for(cell.row, cell.column)

    def _fill(self) -> _Filled:
        """How the further cells of the column are laid out: all alike, by shared formulas."""
        scratch = [
            (self._scratch.rows(place[0]), place[1], *_shared_xml(place[1], self._shared[index]))
            for index, place in enumerate(self._places)
            if index != self._direct and not isinstance(place, Room)
        ]
        prefix, suffix = _shared_xml(self._cell_column, self._shared[self._direct])
        return _Filled(list(self._groups.values()), scratch, prefix, suffix)

    def _place_first(self, cell: FormulaCell) -> str:
        for index, slot in enumerate(self._shape.slots):
            if index != self._direct:
                self._place_slot(index, slot, cell)
        row = cell.row
        if self._direct >= 0:
            group = self._groups[self._direct]
            group.rows.append(row)
            formula = self._formula(self._direct, row, lambda: self._waiting(self._direct, cell))
            return _cell(row, cell.column, formula)
        if self._shape.arrays or (self._shape.as_array and cell.formula_kind != "array"):
            return self._hosting(cell)
        return self._native(cell)

    def _native(self, cell: FormulaCell) -> str:
        """The root as the engine's formula."""
        if cell.formula_kind != "array":
            root = self._formula(-1, cell.row, lambda: self._text(self._shape.root, cell))
            return _cell(cell.row, cell.column, root)
        text = escape(self._text(self._shape.root, cell))
        dynamic = ' cm="1"' if cell.dynamic else ""
        area = cell.name if cell.dynamic else str(cell.area)
        return _cell(cell.row, cell.column, f'<f t="array" ref="{area}">{text}</f>', dynamic)

    def _hosting(self, cell: FormulaCell) -> str:
        """The root where it takes in arrays computed here, or is a plain formula with arrays."""
        root = self._shape.root
        place = (self._sheet, cell.row, cell.column)
        formula = f'<f t="array" ref="{cell.name}">{escape(self._text(root, cell))}</f>'
        xml = _cell(cell.row, cell.column, formula, ' cm="1"')
        if cell.formula_kind == "array" and not cell.dynamic:
            raise FormulaError(
                "an old array formula around a function that gives a table is not computed; "
                "enter it as a plain formula"
            )
        if cell.formula_kind != "array" and not self._shape.root_single:
            room = self._scratch.room()
            place = (room.sheet, 1, room.column)
            self._put_array(room, self._text(root, cell, self._plan.names[room.sheet]))
            first = escape(self._scratch.text(room))
            xml = _cell(cell.row, cell.column, f"<f>{first}</f>")
        home = self._plan.names[place[0]]
        host = Host(place, lambda: self._text(root, cell, home))
        for slot in self._shape.arrays:
            self._groups[slot.index].hosts.append(host)
        return xml

    def _place_slot(
        self, index: int, slot: LiftedCall | LiftedExpression, cell: FormulaCell
    ) -> None:
        place = self._places[index]
        if isinstance(slot, LiftedCall):
            group = self._groups[index]
            group.rows.append(cell.row)
            if isinstance(place, Room):
                self._put_array(place, self._waiting(index, cell))
                return
            formula = self._formula(index, cell.row, lambda: self._waiting(index, cell))
            self._scratch.put(*_at(place, cell.row), _cell(cell.row, place[1], formula))
            return
        sheet = place.sheet if isinstance(place, Room) else place[0]
        home = self._plan.names[sheet]
        if isinstance(place, Room):
            self._put_array(place, self._text(slot.tree, cell, home))
            self._scratch.probe(place)
            target = (place.sheet, 1, place.column)
        else:
            formula = self._formula(index, cell.row, lambda: self._text(slot.tree, cell, home))
            self._scratch.put(*_at(place, cell.row), _cell(cell.row, place[1], formula))
            target = (place[0], cell.row, place[1])
        host = Host(target, lambda: self._text(slot.tree, cell, home))
        for node in walk(slot.tree):
            if isinstance(node, Slot) and node.whole:
                self._groups[node.index].hosts.append(host)

    def _put_array(self, room: Room, text: str) -> None:
        address = cell_name(1, room.column)
        formula = f'<f t="array" ref="{address}">{escape(text)}</f>'
        self._scratch.put(room.sheet, 1, room.column, _cell(1, room.column, formula, ' cm="1"'))

    def _text(self, tree: Node, cell: FormulaCell, home: str | None = None) -> str:
        home = home or self._plan.names[self._sheet]
        down = cell.row - self._shape.row
        return Writer(home, down, self._right, lambda slot: self._slot(slot, cell)).text(tree)

    def _slot(self, slot: Slot, cell: FormulaCell) -> str:
        place = self._places[slot.index]
        if isinstance(place, Room):
            return self._scratch.text(place)
        sheet, column = place
        return f"'{self._plan.names[sheet]}'!${column_letters(column)}{cell.row}"

    def _waiting(self, index: int, cell: FormulaCell) -> str:
        """What stands for a call until it is computed: it touches the arguments, so that the
        engine sees a call that depends on itself."""
        call = self._shape.slots[index]
        assert isinstance(call, LiftedCall)
        home = self._plan.names[self._groups[index].sheet]
        touched = [
            self._text(argument, cell, home)
            for argument in call.arguments
            if not isinstance(argument, Constant)
        ]
        pending = self._scratch.pending
        return f"COUNTA({','.join(touched)})+{pending}" if touched else pending

    def _formula(self, index: int, row: int, text: Callable[[], str]) -> str:
        """A formula element: written out once, then shared down the column."""
        shared = self._shared.get(index)
        if shared is not None:
            return f'<f t="shared" si="{shared}"/>'
        shared = self._shared[index] = self._scratch.shared_index()
        return f'<f t="shared" ref="A{row}" si="{shared}">{escape(text())}</f>'


def _at(place: tuple[int, int], row: int) -> tuple[int, int, int]:
    return place[0], row, place[1]


def _cell(row: int, column: int, formula: str, attributes: str = "") -> str:
    return f'<c r="{column_letters(column)}{row}"{attributes}>{formula}<v>0</v></c>'


def _shared_xml(column: int, index: int) -> tuple[str, str]:
    """What stands before and after the row number in a cell with a shared formula."""
    return f'<c r="{column_letters(column)}', f'"><f t="shared" si="{index}"/><v>0</v></c>'


def _sheet_xml(rows: Mapping[int, list[tuple[int, str]]]) -> str:
    body = "".join(
        f'<row r="{row}">{"".join(xml for _, xml in sorted(rows[row]))}</row>'
        for row in sorted(rows)
    )
    return f'<worksheet xmlns="{MAIN}"><sheetData>{body}</sheetData></worksheet>'
