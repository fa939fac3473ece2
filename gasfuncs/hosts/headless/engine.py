"""The compiled workbook engine (IronCalc), behind the few calls that are needed of it.

It gets a small workbook of its own making: the cells of each sheet and the shared strings, and
behind them scratch sheets. Everything else in the user's file stays out of its sight.
"""

from __future__ import annotations

import re
import tempfile
import zipfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import ironcalc

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.addresses import Area, cell_name, column_letters
from gasfuncs.hosts.headless.package import MAIN, RELATIONS, Package
from gasfuncs.hosts.headless.values import ERROR_SENTENCES, CellValue, escape

PENDING = "#N/IMPL!"
"""An error no workbook holds: the mark of a call that is not computed yet."""

CIRCULAR = "#CIRC!"
UNREADABLE = "#ERROR!"

MOST_CELLS = 2**20
"""Of a range that a call takes."""

_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_PHONETIC = re.compile(r"<(\w+:)?rPh\b.*?</(?:\w+:)?rPh>", re.S)


class EngineError(Exception):
    """The engine could not load or evaluate the workbook."""


class Engine:
    """A workbook loaded into the engine; sheets are numbered from 0, rows and columns from 1."""

    def __init__(self, package: Package, sheets: Sequence[tuple[str, str]]) -> None:
        self.names = [name for name, _ in sheets]
        self._own_sheets = len(package.sheets)
        with tempfile.TemporaryDirectory(prefix="gasfuncs-") as folder:
            path = Path(folder, "engine.xlsx")
            try:
                _write_package(path, package, sheets)
            except OSError as error:
                why = error.strerror or error
                raise EngineError(f"temporary files cannot be written ({why})") from error
            with _panics_caught():
                self._model = ironcalc.load_from_xlsx(str(path))
        self._extents: Any = None

    def evaluate(self) -> None:
        self._extents = None
        with _panics_caught():
            self._model.evaluate()

    def value(self, sheet: int, row: int, column: int) -> CellValue:
        found = self._model.get_cell_value(sheet, row, column)
        if isinstance(found, str) and found.startswith("#"):
            return self._text_or_error(found, sheet, row, column)
        return found

    def values(self, sheet: int, places: Sequence[tuple[int, int]]) -> list[CellValue]:
        read = self._model.get_cell_value
        return [
            value
            if not isinstance(value := read(sheet, row, column), str) or value[:1] != "#"
            else self._text_or_error(value, sheet, row, column)
            for row, column in places
        ]

    def column(self, sheet: int, column: int, rows: Sequence[int]) -> list[CellValue]:
        read = self._model.get_cell_value
        return [
            value
            if not isinstance(value := read(sheet, row, column), str) or value[:1] != "#"
            else self._text_or_error(value, sheet, row, column)
            for row in rows
        ]

    def area(self, sheet: int, area: Area) -> list[list[CellValue]]:
        """The values of an area; an area to the sheet's edge ends with the last cell in use."""
        _, last_row, _, last_column = self._model.get_sheet_dimensions(sheet)
        row2, column2 = area.row2, area.column2
        if area.rows > 100_000:
            row2 = max(area.row1, min(row2, last_row))
        if area.columns > 1_000:
            column2 = max(area.column1, min(column2, last_column))
        used = Area(area.row1, area.column1, row2, column2)
        if used.size > MOST_CELLS:
            raise EngineError(
                f"a function is given {self.names[sheet]}!{used}, {used.size:,} cells; "
                f"{MOST_CELLS:,} are the most"
            )
        return [
            [self.value(sheet, row, column) for column in range(used.column1, column2 + 1)]
            for row in range(used.row1, row2 + 1)
        ]

    def _text_or_error(self, text: str, sheet: int, row: int, column: int) -> CellValue:
        if self._model.get_cell_type(sheet, row, column) != ironcalc.CellType.ErrorValue:
            return text
        where = "an argument"
        if sheet < self._own_sheets:
            where = f"{self.names[sheet]}!{cell_name(row, column)}"
        what = ERROR_SENTENCES.get(text, "not computed")
        return CellError(text, f"{where} is {text}: {what}")

    def write(self, sheet: int, row: int, column: int, value: CellValue) -> None:
        """Put a value into a cell, in place of what was there."""
        if isinstance(value, bool):
            self._model.update_cell_with_bool(sheet, row, column, value)
        elif isinstance(value, int | float):
            self._model.update_cell_with_number(sheet, row, column, float(value))
        elif isinstance(value, CellError):
            self._model.update_cell_with_formula(sheet, row, column, "=" + value.code)
        else:
            self._model.update_cell_with_text(sheet, row, column, value or "")

    def write_formula(self, sheet: int, row: int, column: int, formula: str) -> None:
        """Put a formula into a cell; an array that it gives spills."""
        spill = self.spill(sheet, row, column)
        if spill is not None and spill.rows * spill.columns > 1:
            self._model.range_clear_contents(
                sheet, spill.row1, spill.column1, spill.row2, spill.column2
            )
        self._model.update_cell_with_formula(sheet, row, column, "=" + formula)

    def spill(self, sheet: int, row: int, column: int) -> Area | None:
        """The area that a cell's array formula filled at the last evaluation, None where the cell
        has no array."""
        if self._extents is None:
            self._extents = ironcalc.create_user_model_from_bytes(self._model.to_bytes())
        structure = self._extents.get_cell_array_structure(sheet, row, column)
        if not isinstance(structure, dict):
            return None
        for kind in ("DynamicAnchor", "ArrayAnchor"):
            if kind in structure:
                columns, rows = structure[kind]
                return Area.sized(row, column, rows, columns)
        return None


@contextmanager
def _panics_caught() -> Iterator[None]:
    """Turn whatever the engine fails with into an EngineError; its panics are no Exceptions."""
    try:
        yield
    except (KeyboardInterrupt, SystemExit, MemoryError):
        raise
    except BaseException as error:
        raise EngineError(str(error)) from error


def reference(sheet_name: str, area: Area) -> str:
    """The fixed reference to an area, as the engine reads it."""
    first = f"${column_letters(area.column1)}${area.row1}"
    last = f"${column_letters(area.column2)}${area.row2}"
    return f"'{sheet_name}'!{first}" + ("" if first == last else f":{last}")


def _write_package(path: Path, package: Package, sheets: Sequence[tuple[str, str]]) -> None:
    header = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
    numbers = range(1, len(sheets) + 1)
    entries = "".join(
        f'<sheet name="{_attribute(name)}" sheetId="{number}" r:id="rId{number}"/>'
        for number, (name, _) in zip(numbers, sheets, strict=True)
    )
    targets = [(f"rId{number}", "worksheet", f"worksheets/sheet{number}.xml") for number in numbers]
    targets += [("rId0", "styles", "styles.xml"), ("rIdT", "theme", "theme/theme1.xml")]
    strings = None
    if package.shared_strings_part is not None:
        strings = package.text(package.shared_strings_part)
        targets.append(("rIdS", "sharedStrings", "sharedStrings.xml"))
    with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as archive:

        def add(part: str, xml: str) -> None:
            archive.writestr(part, xml if xml.startswith(("<?xml", "\ufeff")) else header + xml)

        add(
            "[Content_Types].xml",
            f'<Types xmlns="{_PACKAGE}/content-types">'
            '<Default Extension="rels" '
            'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
            '<Default Extension="xml" ContentType="application/xml"/>'
            f'<Override PartName="/xl/workbook.xml" ContentType="{_KIND}.sheet.main+xml"/></Types>',
        )
        add("_rels/.rels", _relationships([("rId1", "officeDocument", "xl/workbook.xml")]))
        add(
            "xl/workbook.xml",
            f'<workbook xmlns="{MAIN}" xmlns:r="{RELATIONS}"><sheets>{entries}</sheets></workbook>',
        )
        add("xl/_rels/workbook.xml.rels", _relationships(targets))
        add("xl/styles.xml", _STYLES)
        add("xl/theme/theme1.xml", _THEME)
        if strings is not None:
            add("xl/sharedStrings.xml", _PHONETIC.sub("", strings) if "rPh" in strings else strings)
        for number, (_, xml) in zip(numbers, sheets, strict=True):
            add(f"xl/worksheets/sheet{number}.xml", xml)


def _relationships(targets: Sequence[tuple[str, str, str]]) -> str:
    relations = "".join(
        f'<Relationship Id="{id_}" Type="{RELATIONS}/{kind}" Target="{target}"/>'
        for id_, kind, target in targets
    )
    return f'<Relationships xmlns="{_PACKAGE}/relationships">{relations}</Relationships>'


def _attribute(text: str) -> str:
    return escape(text).replace('"', "&quot;")


_STYLES = (
    f'<styleSheet xmlns="{MAIN}"><fonts count="1"><font><sz val="11"/></font></fonts>'
    '<fills count="1"><fill><patternFill patternType="none"/></fill></fills>'
    '<borders count="1"><border/></borders>'
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
    '<cellXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs>'
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>'
    "</styleSheet>"
)
_COLOURS = [
    "dk1",
    "lt1",
    "dk2",
    "lt2",
    "accent1",
    "accent2",
    "accent3",
    "accent4",
    "accent5",
    "accent6",
    "hlink",
    "folHlink",
]
_THEME = (
    '<a:theme xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" name="none">'
    '<a:themeElements><a:clrScheme name="none">'
    + "".join(f'<a:{name}><a:srgbClr val="000000"/></a:{name}>' for name in _COLOURS)
    + "</a:clrScheme></a:themeElements></a:theme>"
)
