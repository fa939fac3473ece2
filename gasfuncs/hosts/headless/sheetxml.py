"""A sheet's XML as text: its formula cells, all its values, and new values put in place.

Regular expressions read it, several times faster than an XML parser would; what they could
misread (comments, sections, cells without an address) is refused.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any
from xml.etree import ElementTree

from gasfuncs.hosts.headless.addresses import (
    Area,
    cell_name,
    column_number,
    is_inside,
    parse_cell,
)
from gasfuncs.hosts.headless.package import Package, Sheet, item_text
from gasfuncs.hosts.headless.values import (
    CellValue,
    is_stored,
    read_stored,
    says_the_same,
    stored,
    unescape_xml,
)

_ATTRIBUTE = re.compile(r"""([\w:]+)\s*=\s*(?:"([^"]*)"|'([^']*)')""")
_TYPE = re.compile(r"""\s+t\s*=\s*("[^"]*"|'[^']*')""")
_ADDRESS = re.compile(r"""\s+r\s*=\s*("[^"]*"|'[^']*')""")
_ROOT = re.compile(r"<(\w+:)?worksheet\b[^>]*>")


@lru_cache(maxsize=4096)
def _attributes(text: str) -> Mapping[str, str]:
    return {match[1]: match[2] or match[3] or "" for match in _ATTRIBUTE.finditer(text)}


@lru_cache(maxsize=4096)
def _untyped(attributes: str) -> str:
    return _TYPE.sub("", attributes)


@dataclass(slots=True)
class FormulaCell:
    """A cell with a formula, and where it stands in the sheet's text."""

    name: str
    row: int
    column: int
    start: int
    end: int
    other_attributes: str
    formula_tag: str
    formula_attributes: Mapping[str, str]
    formula_kind: str
    formula: str
    kind: str
    value: str | None

    @property
    def area(self) -> Area:
        """The cells that an array formula fills."""
        return Area.parse(self.formula_attributes.get("ref", self.name))

    @property
    def formulated(self) -> bool:
        """Whether there is a formula: cells that a spill fills may have an empty one."""
        return bool(self.formula) or self.formula_kind != "normal"

    @property
    def dynamic(self) -> bool:
        return "cm" in _attributes(self.other_attributes)


@dataclass(slots=True)
class _PlainCell:
    start: int
    end: int
    attributes: str
    content: str


@dataclass(slots=True)
class _Row:
    start: int
    tag_end: int
    end: int
    closed: bool


def _is_known(match: re.Match[str], known: Mapping[int, Mapping[int, Any]]) -> bool:
    letters, digits, attributes, _, special, formula, text, _ = match.groups()
    if not letters or special or not formula:
        return False
    value = known[column_number(letters)].get(int(digits))
    kind = _attributes(attributes).get("t", "") if attributes else ""
    return isinstance(value, float | str | bool) and is_stored(kind, text, value)


class SheetText:
    """The text of one sheet part."""

    def __init__(self, package: Package, sheet: Sheet) -> None:
        self.sheet = sheet
        self.text = package.text(sheet.part)
        root = _ROOT.search(self.text)
        if root is None:
            raise package.refused(f"has a sheet {sheet.name!r} that is not a worksheet")
        if "<!--" in self.text or "<![CDATA[" in self.text or "<?" in self.text[root.end() :]:
            raise package.refused(
                f"has XML comments or sections in the sheet {sheet.name!r}; "
                "open it in a spreadsheet program, save it and try again"
            )
        if ' t="d"' in self.text:
            raise package.refused(
                f"stores dates as text (ISO 8601) in the sheet {sheet.name!r}; "
                "open it in a spreadsheet program, save it and try again"
            )
        self.root_tag = root[0]
        self.prefix = root[1] or ""
        data = re.search(
            rf"<{self.prefix}sheetData\b[^>]*?(?:/>|>.*</{self.prefix}sheetData>)", self.text, re.S
        )
        if data is None:
            raise package.refused(f"has a sheet {sheet.name!r} cut short; it is damaged")
        self.data_start, self.data_end = data.span()
        self._refused = package.refused

    def _pattern(self, template: str) -> re.Pattern[str]:
        return re.compile(template.replace("~", self.prefix), re.S)

    def cells(
        self, strings: Sequence[str]
    ) -> Iterator[tuple[int, int, str | None, FormulaCell | CellValue]]:
        """Row, column, the text of a plain formula, else a formula or typed value of every cell."""
        every = self._pattern(
            r'<~c\b(?: r="([A-Z]{1,3})([0-9]{1,7})")?([^>]*?)(?:/>|>(?:<~v>([^<]*)</~v></~c>'
            r"|<~f>([^<]*)</~f>(?:<~v>[^<]*</~v>)?</~c>|(\s*<~f\b.*?</~c>)|(.*?)</~c>))"
        )
        for match in every.finditer(self.text, self.data_start, self.data_end):
            letters, digits, attributes, number, plain, formula, other = match.groups()
            if formula is not None:
                cell = self._formula_cell(match.start())
                if cell.formulated:
                    yield 0, 0, None, cell
                elif cell.value is not None:
                    value = self._typed(cell.row, cell.column, cell.kind, cell.value, None, strings)
                    yield cell.row, cell.column, None, value
                continue
            if number is None and plain is None and not other:
                continue
            row, column, kind = self._placed(letters, digits, attributes)
            if plain is not None:
                yield row, column, unescape_xml(plain), None
            else:
                yield row, column, None, self._typed(row, column, kind, number, other, strings)

    def _typed(
        self, row: int, column: int, kind: str, number: str | None, other: str | None,
        strings: Sequence[str],
    ) -> CellValue:  # fmt: skip
        try:
            if kind == "inlineStr":
                item = self._inline.search(other or "")
                return self._inline_text(item[0]) if item else None
            if number is None:
                found = self._stored_value.search(other or "")
                number = found[1] if found else None
            return read_stored(kind, number, strings)
        except (ValueError, IndexError, KeyError):
            cell = f"{self.sheet.name}!{cell_name(row, column)}"
            raise self._refused(f"has a damaged value in {cell}") from None

    @cached_property
    def _inline(self) -> re.Pattern[str]:
        return self._pattern(r"<~is\b.*</~is>")

    @cached_property
    def _stored_value(self) -> re.Pattern[str]:
        return self._pattern(r"<~v\b[^>]*>([^<]*)</~v>")

    @cached_property
    def _formula(self) -> re.Pattern[str]:
        return self._pattern(
            r'<~c\b(?: r="([A-Z]{1,3})([0-9]{1,7})")?([^>]*)>'
            r"\s*(<~f\b([^>]*?)(?:/>|>([^<]*)</~f>))(?:<~v>([^<]*)</~v></~c>|(.*?)</~c>)"
        )

    def formula_cells(
        self, known: Mapping[int, Mapping[int, Any]] | None = None
    ) -> Iterator[FormulaCell]:
        """The cells with formulas, without plain ones that store the value known of them."""
        for match in self._formula.finditer(self.text, self.data_start, self.data_end):
            if known is not None and _is_known(match, known):
                continue
            cell = self._formula_of(match)
            if cell.formulated:
                yield cell

    def _formula_cell(self, start: int) -> FormulaCell:
        match = self._formula.match(self.text, start, self.data_end)
        if match is None:
            raise self._refused(f"has a damaged formula in the sheet {self.sheet.name!r}")
        return self._formula_of(match)

    def _formula_of(self, match: re.Match[str]) -> FormulaCell:
        letters, digits, attributes, tag, formula_attributes, formula, text, rest = match.groups()
        row, column, kind = self._placed(letters, digits, attributes)
        if letters:
            name = letters + digits
        else:
            name = cell_name(row, column)
            attributes = _ADDRESS.sub("", attributes)
        if rest and (found := self._stored_value.search(rest)):
            text = found[1]
        described = _attributes(formula_attributes) if formula_attributes else {}
        cell = FormulaCell(
            name, row, column, match.start(), match.end(), attributes, tag, described,
            described.get("t", "normal"), unescape_xml(formula or ""), kind, text,
        )  # fmt: skip
        if cell.formula_kind == "array":
            self._check_array(cell)
        return cell

    def _check_array(self, cell: FormulaCell) -> None:
        try:
            area = cell.area
        except ValueError as error:
            raise self._refused(f"has a damaged array formula in {cell.name}: {error}") from None
        if (cell.row, cell.column) != (area.row1, area.column1):
            raise self._refused(f"has a damaged array formula in {cell.name}")

    def _placed(self, letters: str | None, digits: str, attributes: str) -> tuple[int, int, str]:
        """Row, column and type of a cell whose address stands first, else from its attributes."""
        if letters is None:
            return self._place(attributes)
        row, column = int(digits), column_number(letters)
        if not is_inside(row, column):
            raise self._refused(
                f"has a cell {cell_name(row, column)} that no sheet has; it is damaged"
            )
        return row, column, _attributes(attributes).get("t", "") if attributes else ""

    def _place(self, attributes: str) -> tuple[int, int, str]:
        """Row, column and type of a cell from its attributes."""
        if attributes.startswith(' r="'):
            end = attributes.index('"', 4)
            address, kind = attributes[4:end], _attributes(attributes[end + 1 :]).get("t", "")
        else:
            found = _attributes(attributes)
            address, kind = found.get("r", ""), found.get("t", "")
        try:
            row, column = parse_cell(address)
        except ValueError:
            raise self._refused(
                f"has cells without addresses in the sheet {self.sheet.name!r}; "
                "open it in a spreadsheet program, save it and try again"
            ) from None
        return row, column, kind

    def values(self, strings: list[str]) -> dict[tuple[int, int], CellValue]:
        """Every value stored in the sheet."""
        every = self._pattern(
            r'<~c\b(?: r="([A-Z]{1,3})([0-9]{1,7})")?([^>]*?)(?:/>|>'
            r"(?:<~f\b[^>]*?(?:/>|>[^<]*</~f>))?(?:<~v>([^<]*)</~v>)?(.*?)</~c>)"
        )
        found: dict[tuple[int, int], CellValue] = {}
        for match in every.finditer(self.text, self.data_start, self.data_end):
            letters, digits, attributes, text, other = match.groups()
            if text is None and not other:
                continue
            row, column, kind = self._placed(letters, digits, attributes)
            value = self._typed(row, column, kind, text, other, strings)
            if value is not None:
                found[row, column] = value
        return found

    def hidden_columns(self) -> Iterator[int]:
        """The columns that are not shown."""
        pattern = self._pattern(r"<~col\b([^>]*\shidden=[^>]*)>")
        for match in pattern.finditer(self.text, 0, self.data_start):
            found = _attributes(match[1])
            if found.get("hidden") in ("1", "true"):
                yield from range(int(found.get("min", "1")), int(found.get("max", "0")) + 1)

    def hidden_rows(self) -> Iterator[int]:
        """The rows that are not shown."""
        pattern = self._pattern(r"<~row\b([^>]*\shidden=[^>]*)>")
        for match in pattern.finditer(self.text, self.data_start, self.data_end):
            attributes = _attributes(match[1])
            if attributes.get("hidden") in ("1", "true"):
                yield int(attributes.get("r", "0"))

    @property
    def filtered(self) -> bool:
        """Whether rows may be hidden by a filter."""
        return "autoFilter" in self.text[self.data_end :] or bool(self.sheet.tables)

    def _inline_text(self, xml: str) -> str:
        try:
            root = ElementTree.fromstring(f"{self.root_tag}{xml}</{self.prefix}worksheet>")
        except ElementTree.ParseError as error:
            raise self._refused(f"has a damaged text in {self.sheet.name!r}: {error}") from None
        return item_text(root[0])

    @cached_property
    def _grid(self) -> tuple[dict[tuple[int, int], _PlainCell], dict[int, _Row]]:
        pattern = self._pattern(r"<~c\b([^>]*?)(?:/>|>(.*?)</~c>)")
        cells = {
            self._place(match[1])[:2]: _PlainCell(*match.span(), match[1], match[2] or "")
            for match in pattern.finditer(self.text, self.data_start, self.data_end)
        }
        rows = {}
        pattern = self._pattern(r"<~row\b([^>]*?)(?:/>|>.*?</~row>)")
        for match in pattern.finditer(self.text, self.data_start, self.data_end):
            number = int(_attributes(match[1]).get("r", "0"))
            if not number:
                raise self._refused(
                    f"has rows without numbers in the sheet {self.sheet.name!r}; "
                    "open it in a spreadsheet program, save it and try again"
                )
            tag_end = self.text.index(">", match.start()) + 1
            closed = self.text[tag_end - 2] == "/"
            rows[number] = _Row(match.start(), tag_end, match.end(), closed)
        return cells, rows

    def formula_edit(
        self, cell: FormulaCell, value: CellValue, area: Area | None
    ) -> tuple[int, int, str] | None:
        """The edit that gives a formula cell its value and, for a spill, its new area."""
        tag = cell.formula_tag
        if area is not None and cell.area != area:
            tag = re.sub(r"""\bref\s*=\s*("[^"]*"|'[^']*')""", f'ref="{area}"', tag, count=1)
        if tag == cell.formula_tag and is_stored(cell.kind, cell.value, value):
            return None
        kind, xml = stored(value)
        if self.prefix:
            xml = self._prefixed(xml)
        type_attribute = f' t="{kind}"' if kind else ""
        others = _untyped(cell.other_attributes)
        start, end = f'<{self.prefix}c r="{cell.name}"', f"</{self.prefix}c>"
        return cell.start, cell.end, f"{start}{others}{type_attribute}>{tag}{xml}{end}"

    def child_edits(
        self, children: dict[tuple[int, int], CellValue]
    ) -> tuple[list[tuple[int, int, str]], list[tuple[int, int]]]:
        """Edits for the cells that a spill fills or leaves (None), and which cells changed."""
        edits: list[tuple[int, int, str]] = []
        changed = []
        missing: dict[int, list[int]] = defaultdict(list)
        grid, _ = self._grid
        value_pattern = self._pattern(r"\s*(?:<~f\b[^>]*/>)?<~v\b[^>]*>([^<]*)</~v>\s*\Z")
        for place, value in sorted(children.items()):
            cell = grid.get(place)
            if cell is None:
                if value is not None:
                    missing[place[0]].append(place[1])
                    changed.append(place)
                continue
            found = value_pattern.match(cell.content)
            kind = _attributes(cell.attributes).get("t", "")
            if value is None and not cell.content.strip():
                continue
            if value is not None and found and says_the_same(kind, found[1], value):
                continue
            kind, xml = stored(value)
            new = self._cell(cell.attributes, kind, self._prefixed(xml))
            edits.append((cell.start, cell.end, new))
            changed.append(place)
        for row, columns in missing.items():
            edits += self._insertions(row, {column: children[row, column] for column in columns})
        edits += self._dimension_edit(changed)
        return edits, changed

    def _prefixed(self, value_xml: str) -> str:
        if not self.prefix:
            return value_xml
        return value_xml.replace("<v", f"<{self.prefix}v").replace("</v", f"</{self.prefix}v")

    def _cell(self, attributes: str, kind: str, content: str) -> str:
        attributes = _TYPE.sub("", attributes)
        type_attribute = f' t="{kind}"' if kind else ""
        if not content:
            return f"<{self.prefix}c{attributes}/>"
        return f"<{self.prefix}c{attributes}{type_attribute}>{content}</{self.prefix}c>"

    def _insertions(self, row: int, values: dict[int, CellValue]) -> list[tuple[int, int, str]]:
        """Edits that put new cells into a row that has none there, or that is not there."""
        cells, rows = self._grid
        new = {}
        for column, value in sorted(values.items()):
            kind, xml = stored(value)
            name = f' r="{cell_name(row, column)}"'
            new[column] = self._cell(name, kind, self._prefixed(xml))
        if row not in rows:
            text = f'<{self.prefix}row r="{row}">{"".join(new.values())}</{self.prefix}row>'
            return self._row_insertion(row, text)
        place = rows[row]
        tag = self.text[place.start : place.tag_end]
        tag = re.sub(r"""\s+spans\s*=\s*("[^"]*"|'[^']*')""", "", tag)
        if place.closed:
            tag = tag[:-2].rstrip() + ">"
            text = f"{tag}{''.join(new.values())}</{self.prefix}row>"
            return [(place.start, place.end, text)]
        edits = [(place.start, place.tag_end, tag)]
        present = self._columns_by_row.get(row, [])
        for column, text in new.items():
            later = bisect_right(present, column)
            if later < len(present):
                at = cells[row, present[later]].start
            else:
                at = place.end - len(f"</{self.prefix}row>")
            edits.append((at, at, text))
        return edits

    @cached_property
    def _columns_by_row(self) -> dict[int, list[int]]:
        cells, _ = self._grid
        columns: dict[int, list[int]] = defaultdict(list)
        for row, column in sorted(cells):
            columns[row].append(column)
        return columns

    @cached_property
    def _row_numbers(self) -> list[int]:
        return sorted(self._grid[1])

    def _row_insertion(self, row: int, text: str) -> list[tuple[int, int, str]]:
        _, rows = self._grid
        numbers = self._row_numbers
        later = bisect_right(numbers, row)
        at = rows[numbers[later]].start if later < len(numbers) else rows[numbers[-1]].end
        return [(at, at, text)]

    def _dimension_edit(self, changed: list[tuple[int, int]]) -> list[tuple[int, int, str]]:
        pattern = self._pattern(r'<~dimension ref="([A-Z]+\d+(?::[A-Z]+\d+)?)"')
        found = pattern.search(self.text, 0, self.data_start)
        if found is None or not changed:
            return []
        old = Area.parse(found[1])
        new = Area(
            min([old.row1, *(row for row, _ in changed)]),
            min([old.column1, *(column for _, column in changed)]),
            max([old.row2, *(row for row, _ in changed)]),
            max([old.column2, *(column for _, column in changed)]),
        )
        return [] if new == old else [(*found.span(1), str(new))]

    def edited(self, edits: Iterable[tuple[int, int, str]]) -> Iterator[bytes]:
        """The sheet's text with edits, in pieces."""
        position = 0
        pieces: list[str] = []
        for first, last, new in sorted(edits, key=lambda edit: edit[:2]):
            pieces += (self.text[position:first], new)
            position = last
            if len(pieces) > 10_000:
                yield "".join(pieces).encode("utf-8")
                pieces = []
        pieces.append(self.text[position:])
        yield "".join(pieces).encode("utf-8")
