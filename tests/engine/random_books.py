"""Random books: typed values, references of every kind, nested native functions.

What LibreOffice is known to do otherwise (`explained.py`) is left out, so that every difference is
a fault: no logical values in areas, no early dates, no text where a number is summed directly.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import xlsxwriter

from tests.engine.comparing import computed, is_refused, same, stored
from tests.engine.sweep import stored as as_stored

ROWS = 8
WORDS = ["argon", "nitrogen", "air", "helium", "vf1", "vf2", "x", "a b"]


class _Writer:
    """Writes one book's formulas; A and B hold numbers with gaps, C words, D dates, E in order."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)

    def one(self, choices: Sequence[str]) -> str:
        return self.chance.choice(choices)

    def cell(self, columns: str = "AB") -> str:
        fixed = self.one(["", "$"]), self.one(["", "$"])
        return f"{fixed[0]}{self.one(list(columns))}{fixed[1]}{self.chance.randint(1, ROWS)}"

    def area(self, columns: str = "AB") -> str:
        low, high = sorted(self.chance.sample(range(1, ROWS + 1), 2))
        column = self.one(list(columns))
        return self.one([f"{column}{low}:{column}{high}", f"${column}$1:${column}${ROWS}"])

    def number(self, depth: int) -> str:  # noqa: PLR0911, PLR0912 - a case a kind
        if depth <= 0:
            return self.one([self.cell(), str(self.chance.randint(-9, 99)), self.cell("E"),
                             f"{self.chance.uniform(-5, 50):.3f}"])  # fmt: skip
        n, r, d = depth - 1, self.chance, self.one
        low = str(r.randint(1, 3))
        match r.randint(0, 15):
            case 0 | 1:
                return f"({self.number(n)}{d(list('+-*/'))}{self.number(n)})"
            case 2:
                names = ["SUM", "AVERAGE", "MIN", "MAX", "COUNT", "MEDIAN", "SUMSQ", "PRODUCT",
                         "STDEV.S", "VAR.P"]  # fmt: skip
                return f"{d(names)}({self.area()},{self.number(n)})"
            case 3:
                return f"{d(['ROUND', 'ROUNDUP', 'ROUNDDOWN', 'TRUNC'])}({self.number(n)},{low})"
            case 4:
                return f"{d(['ABS', 'INT', 'SIGN', 'ATAN', 'EVEN'])}({self.number(n)})"
            case 5:
                return f"IF({self.logical(n)},{self.number(n)},{self.number(n)})"
            case 6:
                return f"IFERROR({self.number(n)},{self.number(n)})"
            case 7:
                return f"SUMIF(C1:C{ROWS},{self.criterion()},{d(['A', 'B'])}1:B{ROWS})"
            case 8:
                return (
                    f"SUMIFS(A1:A{ROWS},B1:B{ROWS},{self.compared()},C1:C{ROWS},{self.criterion()})"
                )
            case 9:
                return f"COUNTIF({self.area()},{self.compared()})"
            case 10:
                return f"INDEX({d(['A', 'B', 'E'])}1:E{ROWS},{r.randint(1, ROWS)},1)"
            case 11:
                return f"MATCH({self.number(n)},E1:E{ROWS},{d(['0', '1'])})"
            case 12:
                return (
                    f"VLOOKUP({self.number(n)},E1:F{ROWS},{d(['1', '2'])},{d(['TRUE', 'FALSE'])})"
                )
            case 13:
                return f"SUMPRODUCT(--({self.area()}{d(['>', '<', '='])}{self.number(n)}))"
            case 14:
                return f"LEN({self.text(n)})"
        return f"{d(['YEAR', 'MONTH', 'DAY', 'WEEKDAY'])}({self.cell('D')}+{low})"

    def logical(self, depth: int) -> str:
        if self.chance.random() < 0.3:
            return f"{self.one(['AND', 'OR'])}({self.logical(0)},{self.logical(0)})"
        if self.chance.random() < 0.2:
            return f"ISNUMBER({self.cell('ABC')})"
        sign = self.one(["<", ">", "=", "<>", "<=", ">="])
        return f"{self.number(depth)}{sign}{self.number(depth)}"

    def text(self, depth: int) -> str:  # noqa: PLR0911 - a case a kind
        if depth <= 0:
            return self.one([self.cell("C"), f'"{self.one(WORDS)}"'])
        n = depth - 1
        match self.chance.randint(0, 6):
            case 0:
                return f"({self.text(n)}&{self.number(0)})"
            case 1:
                return f"{self.one(['UPPER', 'LOWER', 'TRIM', 'PROPER'])}({self.text(n)})"
            case 2:
                return f"{self.one(['LEFT', 'RIGHT'])}({self.text(n)},{self.chance.randint(0, 4)})"
            case 3:
                return f'SUBSTITUTE({self.text(n)},"a","{self.one(["", "o"])}")'
            case 4:
                return f'TEXT({self.number(n)},"{self.one(["0", "0.0", "#,##0.00", "0%"])}")'
            case 5:
                return f'TEXT({self.cell("D")},"{self.one(["yyyy-mm-dd", "d mmm", "dddd"])}")'
        return f"IF({self.logical(n)},{self.text(n)},{self.text(n)})"

    def criterion(self) -> str:
        word = self.one(WORDS)
        return self.one([f'"{word}"', f'"<>{word}"', f'"{word[0]}*"', '"<>"', '"?ir"'])

    def compared(self) -> str:
        return f'"{self.one(["<", ">", "<=", ">=", "<>", "="])}{self.chance.randint(-5, 60)}"'


def written(path: Path, seed: int, formulas: int = 40) -> None:
    writer, chance = _Writer(seed), random.Random(seed + 1)
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("S")
        for row in range(ROWS):
            for column in (0, 1):
                if chance.random() < 0.8:
                    sheet.write_number(
                        row, column, round(chance.uniform(-20, 60), chance.randint(0, 3))
                    )
            if chance.random() < 0.85:
                sheet.write_string(row, 2, chance.choice(WORDS))
            sheet.write_number(row, 3, chance.randint(36_526, 60_000))
            if row < ROWS - chance.randint(0, 2):
                sheet.write_number(row, 4, row * 7 + chance.randint(0, 6))
                sheet.write_number(row, 5, chance.randint(1, 99))
        for number in range(formulas):
            make = writer.number if number % 3 else writer.text
            sheet.write_formula(number, 9, "=" + as_stored(make(chance.randint(1, 4))))


def compared(paths: Sequence[Path], theirs: Sequence[Path]) -> tuple[Counter[str], list[str]]:
    """How many formulas came to the same, were refused, differ; and those that differ."""
    counts: Counter[str] = Counter()
    wrong = []
    for path, other in zip(paths, theirs, strict=True):
        ours, others = computed(path), stored(other)
        counts["books"] += 1
        for sheet, cells in ours.items():
            for place, value in cells.items():
                if is_refused(value):
                    counts["refused"] += 1
                elif same(value, others[sheet].get(place)):
                    counts["same"] += 1
                else:
                    counts["differ"] += 1
                    wrong.append(f"{path.name} {place}: {value!r}, {others[sheet].get(place)!r}")
    return counts, wrong
