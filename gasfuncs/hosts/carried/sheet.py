"""The hidden sheet: blocks of numbers and texts that the functions look things up in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape

from xlsxwriter.utility import xl_col_to_name

NAME = "gasfuncs"
"""The sheet's name."""

Cell = str | float | int
Rows = Sequence[Sequence[Cell]]


@dataclass
class Sheet:
    """Blocks side by side, each below a title in the first row; first a column of numbers."""

    numbers: list[list[float]] = field(default_factory=lambda: [[0.0]])
    places: dict[object, str] = field(default_factory=dict)
    width: int = 1

    def __post_init__(self) -> None:
        self.blocks: list[tuple[str, Rows]] = [("numbers", self.numbers)]

    def number(self, value: float) -> str:
        """Where a number stands that has more digits than spreadsheets read in a formula."""
        if [value] not in self.numbers:
            self.numbers.append([value])
        return f"{NAME}!$A${2 + self.numbers.index([value])}"

    def block(self, title: str, rows: Rows) -> str:
        """Put rows on the sheet; the reference to them."""
        key = (title, tuple(map(tuple, rows)))
        if key not in self.places:
            first, last = self.width, self.width + len(rows[0]) - 1
            self.blocks.append((title, rows))
            self.width = last + 1
            self.places[key] = (
                f"{NAME}!${xl_col_to_name(first)}$2:${xl_col_to_name(last)}${len(rows) + 1}"
            )
        return self.places[key]

    def columns(self, title: str, rows: Rows) -> list[str]:
        """Put rows on the sheet; a reference to each column."""
        return [self.block(title, [[row[place]] for row in rows]) for place in range(len(rows[0]))]

    def column(self, values: tuple[float, ...]) -> str:
        """Put one column of numbers on the sheet; the reference to it."""
        return self.block("choices", [[value] for value in values])

    def xml(self) -> str:
        """The part of a workbook that the sheet is."""
        height = 1 + max((len(rows) for _, rows in self.blocks), default=0)
        cells: list[list[str]] = [[] for _ in range(height)]
        start = 0
        for title, rows in self.blocks:
            cells[0].append(_cell(0, start, title))
            for down, row in enumerate(rows, 1):
                cells[down] += [_cell(down, start + right, each) for right, each in enumerate(row)]
            start += len(rows[0])
        body = "".join(f'<row r="{n}">{"".join(row)}</row>' for n, row in enumerate(cells, 1))
        return (
            '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
            '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
            f"<sheetData>{body}</sheetData></worksheet>"
        )


def _cell(down: int, right: int, value: Cell) -> str:
    place = f"{xl_col_to_name(right)}{down + 1}"
    if isinstance(value, str):
        return f'<c r="{place}" t="inlineStr"><is><t>{escape(value)}</t></is></c>'
    return f'<c r="{place}"><v>{value!r}</v></c>'
