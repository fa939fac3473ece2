"""Changes cells of a written workbook, computes it anew, and reads answers by name.

Works on the sheets' XML, so that everything else in the file stays as it was written.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import re
import shutil
import zipfile
from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from functools import cache
from html import escape, unescape
from itertools import cycle
from pathlib import Path
from typing import Any, NamedTuple

import openpyxl
from openpyxl.utils import rows_from_range
from openpyxl.utils.datetime import to_excel

from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.workbooks.sheets.building import build
from gasfuncs.workbooks.sheets.kinds import METRIC
from gasfuncs.workbooks.sheets.layout import Plan
from gasfuncs.workbooks.sheets.parts import Book, Given, Part, Table
from gasfuncs.workbooks.sheets.start import ANSWER
from tests.shared import once
from tests.thorough import part

Place = tuple[str, str]
"""A sheet and a cell such as "C7"."""

SPARE = 20
"""Rows that are free in each log of a short book."""

SPOILT = {"blank": None, "absurd": 9e15, "text": "plenty"}
"""What may be typed into every input."""

MIXED = "mixed"
WAYS = part([MIXED, *SPOILT], 4)
"""Mixed is one after the other."""


def short(book: Book, given: Given, spare: int = SPARE) -> Book:
    """The book with few free rows in each of its logs once this is typed in it, to be quick."""

    def shortened(part: Part) -> Part:
        if not isinstance(part, Table) or not part.log:
            return part
        return replace(part, rows=spare + len(given.tables.get(part.name, ())))

    sheets = [replace(sheet, parts=tuple(map(shortened, sheet.parts))) for sheet in book.sheets]
    return replace(book, sheets=tuple(sheets))


def start(book: Book, given: Given, rows: int = 0) -> Path:
    """The book that is then changed: what is given typed in it, and logs of so many rows."""
    return once(f"{book.name}-{rows}.xlsx", lambda made: build(book, made, given=given, rows=rows))


def places(path: Path) -> dict[str, Place]:
    """The single cells that have names."""
    with zipfile.ZipFile(path) as package:
        text = package.read("xl/workbook.xml").decode()
    found = re.findall(r'<definedName name="(\w+)">([^<]*)</definedName>', text)
    cells = {}
    for name, target in found:
        match = re.fullmatch(r"'?(.+?)'?!\$([A-Z]+)\$(\d+)", unescape(target))
        if match:
            cells[name] = (match[1], match[2] + match[3])
    return cells


def sheet_parts(path: Path) -> dict[str, str]:
    """The part that holds each sheet."""
    with zipfile.ZipFile(path) as package:
        names = re.findall(r'<sheet name="([^"]+)"', package.read("xl/workbook.xml").decode())
    return {unescape(name): f"xl/worksheets/sheet{n}.xml" for n, name in enumerate(names, 1)}


_CELL = re.compile(r'<c r="([A-Z]+\d+)"( s="\d+")?[^>]*?(?:/>|>.*?</c>)', re.DOTALL)


def _set(xml: str, cells: Mapping[str, Any]) -> str:
    found = set()

    def rewritten(match: re.Match[str]) -> str:
        cell, style = match[1], match[2] or ""
        if cell not in cells:
            return match[0]
        found.add(cell)
        value = cells[cell]
        if value is None:
            return f'<c r="{cell}"{style}/>'
        if isinstance(value, str):
            return f'<c r="{cell}"{style} t="inlineStr"><is><t>{escape(value)}</t></is></c>'
        return f'<c r="{cell}"{style}><v>{value}</v></c>'

    new = _CELL.sub(rewritten, xml)
    assert found == set(cells), f"{set(cells) - found} are not written in the sheet"
    return new


def rewritten(book: Path, to: Path, rewrite: Callable[[str, str], str]) -> None:
    """A copy of a file with its XML parts rewritten: given a part's name and text."""
    with zipfile.ZipFile(book) as source, zipfile.ZipFile(to, "w") as target:
        for item in source.infolist():
            data = source.read(item)
            if item.filename.endswith(".xml"):
                data = rewrite(item.filename, data.decode()).encode()
            target.writestr(item, data, zipfile.ZIP_DEFLATED, compresslevel=1)


def in_cells(book: Path, changes: Mapping[Any, Any]) -> dict[Place, Any]:
    """Changes of cells, given by name, as "Sheet!C4" or (sheet, cell), by their places."""
    named = places(book)
    return {
        _place(where, named) if isinstance(where, str) else where: value
        for where, value in changes.items()
    }


def changed(book: Path, to: Path, changes: Mapping[Any, Any]) -> Path:
    """Change cells, given by name, as "Sheet!C4" or (sheet, cell), and compute.

    Returns a file of the same content that nobody changes.
    """
    parts = sheet_parts(book)
    by_part: dict[str, dict[str, Any]] = {}
    for (sheet, cell), value in in_cells(book, changes).items():
        by_part.setdefault(parts[sheet], {})[cell] = value
    rewritten(book, to, lambda part, xml: _set(xml, by_part[part]) if part in by_part else xml)
    made = once(f"{_content(to)}.xlsx", lambda made: _compute(to, made))
    shutil.copyfile(made, to)
    return made


def _content(book: Path) -> str:
    """A digest of all that is in a file but its date: books alike are computed once."""
    digest = hashlib.sha256()
    with zipfile.ZipFile(book) as package:
        for part in package.namelist():
            if part != "docProps/core.xml":
                digest.update(part.encode() + package.read(part))
    return digest.hexdigest()


def _compute(book: Path, made: Path) -> None:
    shutil.copyfile(book, made)
    report = recalculate(made)
    assert report.ok, report.problems


def _row_and_column(cell: str) -> tuple[int, int]:
    letters = cell.rstrip("0123456789")
    column = 0
    for letter in letters:
        column = 26 * column + ord(letter) - 64
    return int(cell[len(letters) :]), column


def cell_value(path: Path, sheet: str, cell: str) -> Any:
    """The stored value of a cell."""
    return read_values(path, [sheet])[sheet].get(_row_and_column(cell))


class Sheets(dict[str, Mapping[tuple[int, int], Any]]):
    """The stored values of a workbook that nobody changes, each sheet read when it is asked for."""

    def __init__(self, path: Path) -> None:
        super().__init__()
        self._path = path

    def __missing__(self, sheet: str) -> Mapping[tuple[int, int], Any]:
        self[sheet] = read_values(self._path, [sheet])[sheet]
        return self[sheet]


class Computed:
    """The stored values of a workbook that nobody changes, by name or as "Sheet!C4"."""

    def __init__(self, path: Path) -> None:
        self.values = Sheets(path)
        self._places = places(path)

    def __getitem__(self, where: str) -> Any:
        sheet, cell = _place(where, self._places)
        return self.values[sheet].get(_row_and_column(cell))


class Declared:
    """Where the columns of a declared book stand, as built with the demo in metric units."""

    def __init__(self, book: Book, given: Given | None = None, rows: int = 0) -> None:
        self.plan = Plan(book, METRIC, given or book.demo(), rows)

    def place(self, column: str, row: int) -> str:
        """The cell of a column, "Log.Use", in a row of its table, the first being 1."""
        cells = self.plan.cells(column)
        letters = cells.local.split(":")[0].rstrip("0123456789")
        return f"{cells.sheet}!{letters}{cells.top + row}"

    def column(self, found: Computed, column: str) -> list[Any]:
        """The values of a column."""
        cells = self.plan.cells(column)
        return [found[self.place(column, row)] for row in range(1, cells.bottom - cells.top + 2)]

    def typed(self, table: str, row: int, **values: Any) -> dict[str, Any]:
        """Changes of a row of a table, by column; spaces are underscores."""
        names = {name.replace("_", " "): value for name, value in values.items()}
        return {self.place(f"{table}.{name}", row): value for name, value in names.items()}


def computed(book: Path, to: Path, changes: Mapping[str, Any]) -> Computed:
    """The book with cells changed, given by name or as "Sheet!C4"."""
    return Computed(changed(book, to, changes))


def _place(where: str, named: Mapping[str, Place]) -> Place:
    sheet, _, cell = where.rpartition("!")
    return (sheet, cell) if sheet else named[where]


def typed_inputs(path: Path) -> list[str]:
    """The names of the cells to type in on Inputs, all but the choice of units."""
    typed = input_cells(path)
    return [
        name
        for name, (sheet, cell) in places(path).items()
        if sheet == "Inputs" and (sheet, cell) in typed and name != "Units"
    ]


def spoilt(path: Path, how: str) -> dict[Any, Any]:
    """Every cell to type in on Inputs spoilt in that way."""
    values = SPOILT.values() if how == MIXED else [SPOILT[how]]
    return dict(zip(typed_inputs(path), cycle(values), strict=False))


def sentence(values: Mapping[str, Any]) -> Any:
    """The sentence of Start, given the values of all sheets."""
    start = values["Start"]
    return start[ANSWER]


def differences(
    stored: Mapping[str, Any], found: Mapping[str, Any], same: Callable[[Any, Any], bool]
) -> str:
    """The first cells whose value is not the same in another reading of the book."""
    different = [
        f"{sheet}!R{row}C{column}: {value!r}, not {other!r}"
        for sheet, cells in stored.items()
        for (row, column), value in cells.items()
        if not same(value, other := found[sheet].get((row, column)))
    ]
    return "\n".join(different[:20])


class Cells(NamedTuple):
    """What a book is made of, as openpyxl reads it, which takes a second."""

    formulas: dict[Place, str]
    unlocked: dict[Place, Any]
    """What is typed in the cells that are not locked, dates as serial numbers."""
    prompted: set[Place]
    """The cells that say what to type when they are chosen."""
    prompts: set[str]
    formats: set[str]
    """Number formats in use."""
    hidden: set[tuple[str, int]]
    """Sheets and columns."""
    hidden_rows: set[tuple[str, int]]


@cache
def cells_of(path: Path) -> Cells:
    """The cells of a built book."""
    found = Cells({}, {}, set(), set(), set(), set(), set())
    for sheet in openpyxl.load_workbook(path):
        for row in sheet.iter_rows():
            for cell in row:
                value, place = cell.value, (sheet.title, cell.coordinate)
                text = getattr(value, "text", value)
                if isinstance(text, str) and text.startswith("="):
                    found.formulas[place] = text
                found.formats.add(cell.number_format)
                if not cell.protection.locked:
                    is_date = isinstance(value, dt.date)
                    found.unlocked[place] = to_excel(value) if is_date else value
        for rule in sheet.data_validations.dataValidation:
            if rule.prompt:
                found.prompts.add(rule.prompt)
                for cells in str(rule.sqref).split():
                    for row_of_places in rows_from_range(cells):
                        found.prompted.update((sheet.title, place) for place in row_of_places)
        _note_hidden(sheet, found)
    return found


def _note_hidden(sheet: Any, found: Cells) -> None:
    for dimension in sheet.column_dimensions.values():
        if dimension.hidden:
            columns = range(dimension.min, dimension.max + 1)
            found.hidden.update((sheet.title, column) for column in columns)
    for row, dimension in sheet.row_dimensions.items():
        if dimension.hidden:
            found.hidden_rows.add((sheet.title, row))


def shown_texts(path: Path, sheets: Collection[str]) -> set[str]:
    """What these sheets show in words, with the prompts and number formats of the book."""
    found = cells_of(path)
    values = read_values(path, sheets)
    texts = {
        value
        for sheet in sheets
        for (row, column), value in values[sheet].items()
        if isinstance(value, str)
        and (sheet, column) not in found.hidden
        and (sheet, row) not in found.hidden_rows
    }
    return texts | found.prompts | found.formats


def input_cells(path: Path) -> dict[Place, Any]:
    """What is typed in every cell of a built book that is not locked."""
    return cells_of(path).unlocked
