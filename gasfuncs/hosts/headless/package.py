"""The workbook file as a package of parts: what the engine needs, read safely."""

from __future__ import annotations

import lzma
import os
import posixpath
import re
import struct
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from xml.etree import ElementTree
from xml.parsers import expat

from gasfuncs.hosts.headless.addresses import Area
from gasfuncs.hosts.headless.errors import UnreadableWorkbookError

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
MAX_PART = 256 * 2**20
MAX_PACKAGE = 1024 * 2**20
MAX_TREE = 64 * 2**20
"""Of a part that is read as a tree, which takes many times its size in memory."""
MAX_PARTS = 20_000
_COMPOUND_FILE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ESCAPED = re.compile(r"_x((?![Dd][89A-Fa-f])[0-9A-Fa-f]{4})_")
_DAMAGE = (
    zipfile.BadZipFile, zlib.error, lzma.LZMAError, struct.error, EOFError, OSError, RuntimeError,
    ValueError, OverflowError,
)  # fmt: skip
"""What reading a damaged archive can end in."""


def unescape(text: str) -> str:
    """Undo the `_x000A_` escapes of names and strings; halves of a character stay as they are."""
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text) if "_x" in text else text


@dataclass(frozen=True, slots=True)
class Table:
    """A native table: its place, columns, and how many rows are headings and totals."""

    name: str
    sheet: str
    area: Area
    columns: tuple[str, ...]
    headings: int
    totals: int


@dataclass(slots=True)
class Sheet:
    """A worksheet: its name and its part of the package."""

    name: str
    part: str
    hidden: bool = False
    tables: list[Table] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class DefinedName:
    """A defined name; `sheet` is None where it holds for the whole workbook."""

    name: str
    sheet: str | None
    formula: str


def state(of: os.stat_result) -> tuple[int, ...]:
    """What differs when a file was replaced or written to."""
    return of.st_ino, of.st_size, of.st_mtime_ns


class Package:
    """A workbook opened for reading. Nothing is written through it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        if not path.is_file():
            raise UnreadableWorkbookError(f"there is no file {path}")
        try:
            with path.open("rb") as file:
                head = file.read(8)
                self.state = state(os.fstat(file.fileno()))
            if head == _COMPOUND_FILE:
                raise self.refused(
                    "is encrypted or in the old .xls format; "
                    "save it without a password as .xlsx and try again"
                )
            self.archive = zipfile.ZipFile(path)
        except PermissionError as error:
            raise self.refused(f"cannot be opened: {error.strerror or error}") from error
        except _DAMAGE as error:
            raise self.refused("is not an .xlsx workbook, or it is cut short or damaged") from error
        try:
            self._check_size()
            self._read_workbook()
        except BaseException:
            self.archive.close()
            raise

    def refused(self, why: str) -> UnreadableWorkbookError:
        return UnreadableWorkbookError(f"{self.path.name} {why}")

    def __enter__(self) -> Package:
        return self

    def __exit__(self, *_: object) -> None:
        self.archive.close()

    def _check_size(self) -> None:
        entries = self.archive.infolist()
        names = [entry.filename for entry in entries]
        if len(set(names)) != len(names):
            raise self.refused("holds two parts of one name; it is damaged")
        if any(entry.flag_bits & 1 for entry in entries):
            raise self.refused("is encrypted; save it without a password and try again")
        if len(entries) > MAX_PARTS:
            raise self.refused(f"has more than {MAX_PARTS:,} parts; that is refused")
        if sum(entry.file_size for entry in entries) > MAX_PACKAGE:
            raise self.refused(f"unpacks to more than {MAX_PACKAGE // 2**20} MiB; that is refused")
        for entry in entries:
            if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
                raise self.refused(
                    f"has a part {entry.filename} packed in a way that workbooks do not use"
                )
            if entry.file_size > MAX_PART:
                size = MAX_PART // 2**20
                raise self.refused(f"has a part {entry.filename} above {size} MiB; that is refused")

    def read(self, part: str) -> bytes:
        entry = self.archive.NameToInfo.get(part)
        if entry is None:
            raise self.refused(f"lacks its part {part}; it is damaged")
        try:
            with self.archive.open(entry) as file:
                return file.read(entry.file_size + 1)  # it may hold more than it says
        except _DAMAGE as error:
            raise self.refused(f"has a damaged part {part}") from error

    def text(self, part: str) -> str:
        """A well-formed XML part as text; document types and other encodings are refused."""
        data = self.read(part)
        if b"<!DOCTYPE" in data or b"<!ENTITY" in data:
            raise self.refused(f"declares a document type in {part}; that is refused as unsafe")
        try:
            text = data.decode("utf-8")
            expat.ParserCreate("utf-8", " ").Parse(data, True)
        except UnicodeDecodeError:
            raise self.refused(f"has a part {part} that is not in UTF-8") from None
        except expat.ExpatError as error:
            raise self.refused(f"has a damaged part {part}: {error}") from error
        return text.removeprefix("\ufeff")

    def xml(self, part: str) -> ElementTree.Element:
        text = self.text(part)
        if len(text) > MAX_TREE:
            size = MAX_TREE // 2**20
            raise self.refused(f"has a part {part} above {size} MiB; that is refused")
        return ElementTree.fromstring(text)

    @property
    def signed(self) -> bool:
        """Whether it has a digital signature, which changed values make void."""
        return any(part.startswith("_xmlsignatures/") for part in self.archive.NameToInfo)

    def has(self, part: str) -> bool:
        return part in self.archive.NameToInfo

    def relations(self, part: str) -> dict[str, tuple[str, str]]:
        """Relation id -> (kind, part) of a part; empty where it has none."""
        folder, name = posixpath.split(part)
        relations_part = posixpath.join(folder, "_rels", name + ".rels")
        if not self.has(relations_part):
            return {}
        found = {}
        for relation in self.xml(relations_part):
            if relation.get("TargetMode") == "External":
                continue
            target = posixpath.normpath(posixpath.join("/" + folder, relation.get("Target", "")))
            kind = relation.get("Type", "").rpartition("/")[2]
            found[relation.get("Id", "")] = (kind, target.lstrip("/"))
        return found

    def _read_workbook(self) -> None:
        roots = [part for kind, part in self.relations("").values() if kind == "officeDocument"]
        if not roots and "META-INF/manifest.xml" in self.archive.namelist():
            raise self.refused(
                "is an OpenDocument file; save it as .xlsx and try again, or compute it in Calc"
            )
        if not roots:
            raise self.refused("is not a workbook: it has no main part")
        self.workbook_part = roots[0]
        if not self.workbook_part.endswith(".xml"):
            raise self.refused("is a binary workbook; save it as .xlsx and try again")
        root = self.xml(self.workbook_part)
        if root.tag.startswith("{http://purl.oclc.org/"):
            raise self.refused("is in the Strict Open XML format; save it as a plain .xlsx")
        if root.tag != f"{{{MAIN}}}workbook":
            raise self.refused("is not a workbook")
        relations = self.relations(self.workbook_part)
        self.sheets: list[Sheet] = []
        all_names: list[str] = []
        for element in root.iter(f"{{{MAIN}}}sheet"):
            name = unescape(element.get("name", ""))
            all_names.append(name)
            kind, part = relations.get(element.get(f"{{{RELATIONS}}}id", ""), ("", ""))
            if kind == "worksheet":
                self.sheets.append(Sheet(name, part, element.get("state", "visible") != "visible"))
            elif not kind:
                raise self.refused(f"lacks the part of its sheet {name!r}; it is damaged")
        if not self.sheets:
            raise self.refused("has no worksheet")
        self._read_names(root, all_names)
        self._read_tables()
        properties = root.find(f"{{{MAIN}}}workbookPr")
        calculation = root.find(f"{{{MAIN}}}calcPr")
        self.dates_from_1904 = _is_set(properties, "date1904")
        self.precision_as_shown = not _is_set(calculation, "fullPrecision", True)
        self.parts_by_kind = dict(relations.values())

    def _read_names(self, root: ElementTree.Element, sheets: list[str]) -> None:
        self.names: list[DefinedName] = []
        for element in root.iter(f"{{{MAIN}}}definedName"):
            local = element.get("localSheetId")
            try:
                sheet = None if local is None else sheets[int(local)]
            except (ValueError, IndexError):
                raise self.refused("has a defined name of a sheet that is not there") from None
            name = unescape(element.get("name", ""))
            self.names.append(DefinedName(name, sheet, element.text or ""))

    def _read_tables(self) -> None:
        self.tables: dict[str, Table] = {}
        for sheet in self.sheets:
            for kind, part in self.relations(sheet.part).values():
                if kind != "table":
                    continue
                root = self.xml(part)
                columns = root.iter(f"{{{MAIN}}}tableColumn")
                try:
                    area = Area.parse(root.get("ref", ""))
                    headings = int(root.get("headerRowCount", "1"))
                    totals = int(root.get("totalsRowCount", "0"))
                except ValueError as error:
                    raise self.refused(f"has a damaged table in {part}: {error}") from None
                table = Table(
                    name=root.get("displayName") or root.get("name") or "",
                    sheet=sheet.name,
                    area=area,
                    columns=tuple(unescape(column.get("name", "")) for column in columns),
                    headings=headings,
                    totals=totals,
                )
                sheet.tables.append(table)
                self.tables[table.name.lower()] = table

    def external_cells(self) -> Iterator[tuple[str, str, str, str | None]]:
        """What the workbook keeps of other workbooks' cells: sheet as `[1]Sheet1`, cell, type, and
        the text of the value."""
        root, relations = self.xml(self.workbook_part), self.relations(self.workbook_part)
        for number, element in enumerate(root.iter(f"{{{MAIN}}}externalReference"), 1):
            kind, part = relations.get(element.get(f"{{{RELATIONS}}}id", ""), ("", ""))
            if kind != "externalLink" or not self.has(part):
                continue
            book = self.xml(part)
            names = [sheet.get("val", "") for sheet in book.iter(f"{{{MAIN}}}sheetName")]
            for data in book.iter(f"{{{MAIN}}}sheetData"):
                place = data.get("sheetId", "")
                if not place.isdecimal() or int(place) >= len(names) or data.get("refreshError"):
                    continue
                for cell in data.iter(f"{{{MAIN}}}cell"):
                    value = cell.findtext(f"{{{MAIN}}}v")
                    name = f"[{number}]{unescape(names[int(place)])}"
                    yield name, cell.get("r", ""), cell.get("t", ""), value

    @cached_property
    def shared_strings_part(self) -> str | None:
        part = self.parts_by_kind.get("sharedStrings")
        return part if part and self.has(part) else None

    def shared_strings(self) -> list[str]:
        """The texts, rich runs joined and phonetic runs left out."""
        if self.shared_strings_part is None:
            return []
        items = self.xml(self.shared_strings_part).iter(f"{{{MAIN}}}si")
        return [item_text(item) for item in items]


def item_text(item: ElementTree.Element) -> str:
    """The text of a string item or inline string."""
    runs = [
        text.text or ""
        for path in ("t", "r/t")
        for text in item.findall("/".join(f"{{{MAIN}}}{step}" for step in path.split("/")))
    ]
    return unescape("".join(runs))


def _is_set(element: ElementTree.Element | None, attribute: str, default: bool = False) -> bool:
    if element is None or attribute not in element.attrib:
        return default
    return element.get(attribute) in ("1", "true", "on")
