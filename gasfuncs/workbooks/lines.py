"""Lines of a working sheet: what it is, its value with a name, its unit, a note."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from gasfuncs.workbooks.book import Sheet


@dataclass(frozen=True)
class Line:
    """A calculated number of a working sheet; in columns B to E."""

    label: str
    name: str
    formula: str
    unit: str = ""
    number: str = "whole"
    note: str = ""
    style: str = "value"


def write_lines(sheet: Sheet, row: int, heading: str, lines: Sequence[Line]) -> int:
    """Write lines under a heading from a row on; gives the next free row, one left blank."""
    for letter, text in zip("BCDE", (heading, "", "", ""), strict=True):
        sheet.write(f"{letter}{row}", text, "heading")
    for at, line in enumerate(lines, row + 1):
        sheet.write(f"B{at}", line.label, "label")
        sheet.write(f"C{at}", line.formula, line.style, line.number)
        sheet.write(f"D{at}", line.unit, "unit")
        sheet.write(f"E{at}", line.note, "remark")
        if line.name:
            sheet.book.name(line.name, sheet.name, f"C{at}")
        sheet.ws.set_row(at - 1, 30 if len(line.note) > 80 or len(line.label) > 50 else 18)
    last = row + len(lines)
    sheet.hide_errors(f"C{row + 1}:C{last}")
    return last + 2
