"""The Start and Sources sheets: the answer first, how to use the book, cautions, references."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from gasfuncs.registry import worksheet_function_named
from gasfuncs.workbooks.book import Book, Sheet

CAUTIONS = (
    "Argon and nitrogen asphyxiate without warning: nobody enters a furnace, pit or vessel that "
    "held them before the oxygen in it has been measured.",
    "Cryogenic liquid and cold vapour burn skin and make steel brittle; liquid trapped between two "
    "shut valves bursts the line unless a relief valve stands between them.",
    "Pressure vessels, relief valves and their discharge outdoors are for licensed people. Local "
    "codes decide; the numbers here are estimates to plan with.",
)


DEMO = "Comes filled with an invented plant: type your own numbers over it, sheet by sheet."

FULL = "No free rows left? Unprotect the sheet (no password) and drag the table's corner down."


@dataclass(frozen=True)
class KeyNumber:
    """A named number, or text, on the Start sheet; "-" while it is not known."""

    label: str
    name: str
    unit: str
    number: str = "whole"

    @property
    def formula(self) -> str:
        known = "ISTEXT" if self.number == "text" else "ISNUMBER"
        return f'=IF(AND(Inputs_ok=Inputs_total,{known}({self.name})),{self.name},"-")'


def start_sheet(
    book: Book,
    question: str,
    answer: str,
    numbers: Sequence[KeyNumber],
    steps: Sequence[str],
    cautions: Iterable[str] = CAUTIONS,
) -> Sheet:
    """Write the Start sheet: the answer in one sentence, the numbers behind it, how to use it."""
    sheet = book.sheet("Start", [2, 40, 16, 12, 3, 78], landscape=True)
    sheet.title(book.title, question)
    if book.filled:
        sheet.merged("B3:F3", DEMO, "note")
    sheet.merged("B4:F4", answer, "answer", height=66)
    _heading(sheet, 6, "BCD", "Key numbers")
    for row, key in enumerate(numbers, 7):
        sheet.write(f"B{row}", key.label, "label")
        sheet.write(f"C{row}", key.formula, "key", key.number)
        sheet.write(f"D{row}", key.unit, "unit")
        sheet.ws.set_row(row - 1, 24)
    sheet.write("F6", "How to use it", "heading")
    for row, step in enumerate(steps, 7):
        sheet.write(f"F{row}", f"{row - 6}.  {step}", "label")
        sheet.ws.set_row(row - 1, 32 if len(step) > 70 else 24)
    sheet.write(f"F{7 + len(steps)}", FULL, "note")
    row = 8 + max(len(numbers), len(steps) + 1)
    _heading(sheet, row, "BCDEF", "Cautions")
    for at, caution in enumerate(cautions, row + 1):
        sheet.merged(f"B{at}:F{at}", caution, "caution", height=32)
    return sheet


def _heading(sheet: Sheet, row: int, letters: str, text: str) -> None:
    """A heading whose rule runs over several columns."""
    for letter, each in zip(letters, (text, *[""] * (len(letters) - 1)), strict=True):
        sheet.write(f"{letter}{row}", each, "heading")


def sources_sheet(book: Book, functions: Sequence[str]) -> Sheet:
    """Write the Sources sheet: the functions used, their equations and references."""
    sheet = book.sheet("Sources", [2, 26, 46, 46, 90])
    sheet.title("Sources", "The worksheet functions used here, their equations and references.")
    for letter, text in zip(
        "BCDE", ("Function", "What it answers", "Equation", "References"), strict=True
    ):
        sheet.write(f"{letter}4", text, "column")
    for row, name in enumerate(functions, 5):
        definition = worksheet_function_named(name)
        sheet.write(f"B{row}", definition.usage.partition("(")[0], "body")
        sheet.write(f"C{row}", definition.summary, "body")
        sheet.write(f"D{row}", definition.equation, "body")
        text = "; ".join(str(source) for source in definition.sources)
        sheet.write(f"E{row}", text, "body")
        lines = max(
            ceil(len(text) / 100),
            ceil(len(definition.equation) / 44),
            ceil(len(definition.summary) / 44),
        )
        sheet.ws.set_row(row - 1, 15 * lines + 6)
    sheet.ws.repeat_rows(3)
    return sheet
