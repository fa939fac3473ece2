"""A workbook of formulas, laid out one below the other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import xlsxwriter

from gasfuncs.hosts import formula as formulas_of


@cache
def expected(formula: str) -> Any:
    """What Python answers to a formula, as a cell shows it; worked out once for all hosts."""
    return formulas_of.read_call(formula, lambda function, given: function.cells(*given))


@dataclass(frozen=True, slots=True)
class Place:
    """Where a formula's answer stands in the sheet."""

    row: int
    height: int
    width: int

    def answer_in(self, rows: list[list[Any]]) -> Any:
        """The answer in a sheet's values: one value, or rows of them."""
        block = [row[: self.width] for row in rows[self.row : self.row + self.height]]
        return block[0][0] if self.height == self.width == 1 else block


def as_rows(answer: Any) -> list[list[Any]]:
    return answer if isinstance(answer, list) else [[answer]]


def write_book(path: Path, formulas: Iterable[str], *, dynamic: bool = False) -> dict[str, Place]:
    """Write the formulas, each as large as its answer; returns their places.

    Answers of several cells are array formulas of the old kind, or spill where `dynamic`.
    """
    places: dict[str, Place] = {}
    row = 0
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet()
        for formula in formulas:
            answer = as_rows(expected(formula))
            place = Place(row, len(answer), len(answer[0]))
            if place.height == place.width == 1:
                sheet.write_formula(row, 0, f"={formula}")
            else:
                last = row + place.height - 1
                write = sheet.write_dynamic_array_formula if dynamic else sheet.write_array_formula
                write(row, 0, last, place.width - 1, f"{{={formula}}}")
            places[formula] = place
            row += place.height
    return places
