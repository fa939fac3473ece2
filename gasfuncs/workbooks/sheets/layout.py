"""Where everything of a book stands: the only place where addresses are made."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from xlsxwriter.utility import xl_col_to_name

from gasfuncs.errors import DefinitionError
from gasfuncs.workbooks.sheets.checking import more_check, row_check
from gasfuncs.workbooks.sheets.examples import Prompts
from gasfuncs.workbooks.sheets.formulas import CHECK, Scope
from gasfuncs.workbooks.sheets.parts import Block, Book, Form, Given, Part, Sheet, Table, Text

LEFT = 1
"""Parts begin in column B."""
FIRST_ROW = 3
"""Below title and purpose."""


@dataclass(frozen=True)
class Cells:
    """A rectangle of a sheet; rows and columns from 0, both ends within."""

    sheet: str
    top: int
    left: int
    bottom: int
    right: int

    def rows(self, only: slice) -> Cells:
        """These of its rows."""
        kept = range(self.top, self.bottom + 1)[only]
        return replace(self, top=kept[0], bottom=kept[-1])

    @property
    def local(self) -> str:
        """As "B5:D9", or "B5" for one cell."""
        first = f"{xl_col_to_name(self.left)}{self.top + 1}"
        last = f"{xl_col_to_name(self.right)}{self.bottom + 1}"
        return first if first == last else f"{first}:{last}"

    @property
    def fixed(self) -> str:
        """As "='Log'!$B$5:$B$9"."""
        first = f"${xl_col_to_name(self.left)}${self.top + 1}"
        last = f"${xl_col_to_name(self.right)}${self.bottom + 1}"
        return f"='{self.sheet}'!{first}" + ("" if first == last else f":{last}")


@dataclass(frozen=True)
class Placed:
    """A part with the row and column of its first cell."""

    part: Part
    top: int
    left: int


HEAD_ROWS = 3
"""Of a table: heading, units, column names."""

SPARE, SPARE_LOG = 40, 2_000
"""Rows of a table that is typed, and of a log."""


class Plan:
    """A book with a system of units and what is typed: its scope, sizes and places."""

    def __init__(self, book: Book, system: str, given: Given, rows: int = 0) -> None:
        self.book, self.system, self.given = book, system, given
        self.tables = {
            part.name: part
            for sheet in book.sheets
            for part in sheet.parts
            if isinstance(part, Table)
        }
        self.sheet_of = {
            part.name: sheet.name
            for sheet in book.sheets
            for part in sheet.parts
            if isinstance(part, Table)
        }
        self.counts = {name: self._count(table, rows) for name, table in self.tables.items()}
        self.scope = Scope(system, self.tables, dict(_names(book)))
        self.checks = {
            name: row_check(table, self.scope) for name, table in self.tables.items() if table.typed
        }

    def _count(self, table: Table, rows: int) -> int:
        if not table.typed:
            return table.rows
        filled = len(self.given.tables.get(table.name, ()))
        usual = table.rows or (SPARE_LOG if table.log else SPARE)
        spare = rows if rows and table.log else usual
        return max(spare, filled)

    @cached_property
    def prompts(self) -> Prompts:
        """What the cells say of what to type in them."""
        return Prompts(self.book, self.system)

    def columns(self, table: Table) -> list[str]:
        """The names of a table's columns as they stand.

        The Check follows what is typed; what is hidden comes last.
        """
        typed = [column.name for column in table.typed]
        calculated = [column for column in table.columns if column.calculated]
        made = [column.name for column in sorted(calculated, key=lambda column: column.helper)]
        checks = len(self.checks.get(table.name, ()))
        more = [more_check(number) for number in range(2, checks + 1)]
        return [*typed, *([CHECK] if typed else []), *made, *more]

    def shown_columns(self, table: Table) -> int:
        """How many of a table's columns are not hidden."""
        helpers = sum(column.helper for column in table.columns)
        more = max(0, len(self.checks.get(table.name, ())) - 1)
        return len(self.columns(table)) - helpers - more

    def placed(self, sheet: Sheet) -> Iterator[Placed]:
        """The parts of a sheet with their places."""
        row, beside = FIRST_ROW, (FIRST_ROW, LEFT)
        for part in sheet.parts:
            top, left = beside if part.beside else (row, LEFT)
            yield Placed(part, top, left)
            height, width = self._size(part)
            beside = (top, left + width + 1)
            row = max(row, top + height + 1)

    def last_row(self, sheet: Sheet) -> int:
        """The number of rows down to the end of the last part."""
        return max(place.top + self._size(place.part)[0] for place in self.placed(sheet))

    def width_of(self, part: Part) -> int:
        """The columns that a part takes."""
        return self._size(part)[1]

    def _size(self, part: Part) -> tuple[int, int]:
        """Rows and columns that a part takes."""
        if isinstance(part, Table):
            return HEAD_ROWS + self.counts[part.name], len(self.columns(part))
        if isinstance(part, Block):
            return 1 + len(part.rows), 4
        if isinstance(part, Form):
            return 2 + len(part.points), 9
        return (part.lines, 4) if isinstance(part, Text) else (part.rows, 8)

    def sheet_names(self) -> list[str]:
        """The sheets after Start."""
        others = ["For other books"] if self.book.others else []
        own = [sheet.name for sheet in self.book.sheets]
        return ["Inputs", *own, "Checks", *others, "Words", "Sources"]

    def named(self, name: str) -> Cells:
        """The cell of a named row of a block."""
        for sheet in self.book.sheets:
            for place in self.placed(sheet):
                rows = place.part.rows if isinstance(place.part, Block) else ()
                for number, row in enumerate(rows, 1):
                    if row.name == name:
                        at, column = place.top + number, place.left + 1
                        return Cells(sheet.name, at, column, at, column)
        raise DefinitionError(f'"{name}" is no row of a block')

    def cells(self, reference: str) -> Cells:
        """The cells of a table's column, "Log.Date", without its heading."""
        table, _, column = reference.partition(".")
        sheet = next(each for each in self.book.sheets if each.name == self.sheet_of[table])
        place = next(each for each in self.placed(sheet) if each.part is self.tables[table])
        at = place.left + self.columns(self.tables[table]).index(column)
        top = place.top + HEAD_ROWS
        return Cells(sheet.name, top, at, top + self.counts[table] - 1, at)


STATUS = ("typed", "out", "first", "free", "below")
"""What is told of every typed table: Log_typed and so on."""


def _names(book: Book) -> Iterator[tuple[str, str]]:
    """The named cells of a book with their kinds."""
    yield from (("Inputs_wrong", "count"), ("Checks_wrong", "count"), ("Rows_out", "count"))
    yield "Rows_out_said", "text"
    for group in book.groups:
        yield from ((each.name, each.kind) for each in group.inputs)
    for sheet in book.sheets:
        for part in sheet.parts:
            if isinstance(part, Block):
                yield from ((row.name, row.kind) for row in part.rows)
            elif isinstance(part, Form):
                yield from _form_names(part)
            elif isinstance(part, Table) and part.typed:
                yield from ((f"{part.name}_{what}", "count") for what in STATUS)
    for sentence in (book.verdict, *book.sentences):
        yield sentence.name, "text"


def _form_names(form: Form) -> Iterator[tuple[str, str]]:
    yield from ((f"{form.name}_{what}", "text") for what in ("what", "results"))
    yield f"{form.name}_dates", "date"
    for point in form.points:
        name = point.found.name
        yield from ((name, point.found.kind), (f"{name}_judged", "text"))
        yield from ((f"{name}_by", "text"), (f"{name}_on", "date"))
