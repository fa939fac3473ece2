"""Programs that compute carried formulas: IronCalc by their names, LibreOffice as LET."""

from __future__ import annotations

import re
import shutil
import tempfile
from collections.abc import Callable, Mapping, Sequence
from itertools import accumulate
from pathlib import Path
from typing import Any

import xlsxwriter
from xlsxwriter.utility import xl_rowcol_to_cell

from gasfuncs.errors import CellError
from gasfuncs.hosts.carried import carry
from gasfuncs.hosts.carried.names import Carried, call_arguments, single
from gasfuncs.hosts.carried.natives import Native
from gasfuncs.hosts.carried.sheet import NAME
from gasfuncs.hosts.headless.package import Package
from gasfuncs.properties.gases import FLUIDS, SYMBOLS
from gasfuncs.registry import worksheet_functions
from tests.calc import office
from tests.carried.proof import library, proving
from tests.shared import once
from tests.thorough import tries

CALL = re.compile(r"\bGAS_\w+(?=\()")
GAS = re.compile(rf'"({"|".join((*FLUIDS, *SYMBOLS))})"(?![^{{]*}})', re.IGNORECASE)
"""A gas that is told in a formula, and not in a list."""


ENGINE_ERRORS = (
    "GAS_REORDER_LEVEL(1210, 240, 3, 1, 0.98, 3000, 0, 1000000)",
    'GAS_VENT_FILL_RESIDUAL(10000, 1, 2, "21 %", 3)',
    'GAS_TANK_MIX("argon",4000,9,"0 L(liq)","1 atm",11000)',
)
"""What the programs themselves get wrong: IronCalc Student's t of a million degrees of freedom,
LibreOffice 0.5^10000; and a rise of nothing, which is rounding in the library, too."""


FEW = tries(1, 2)
"""Checks of a function in the quick tests; all of them: python -m tests.carried."""


def few(count: int) -> list[str]:
    """So many checks of each carried function."""
    found: dict[str, list[str]] = {}
    for formula in proving():
        if formula not in ENGINE_ERRORS:
            found.setdefault(formula.partition("(")[0], []).append(formula)
    return [formula for each in found.values() for formula in each[:: -(-len(each) // count)]]


def every_function() -> Path:
    """A carried book that calls every function that is carried."""

    def make(made: Path) -> None:
        with tempfile.TemporaryDirectory() as folder:
            book = Path(folder, "carried.xlsx")
            carried_book(few(FEW), book)
            shutil.copyfile(book, made)

    return once("every-function.xlsx", make)


def defined_names(book: Path) -> dict[str, str]:
    """The defined names of a carried book with their formulas."""
    with Package(book) as package:
        return {each.name: each.formula for each in package.names}


def by_names(formulas: Sequence[str], folder: Path) -> list[Any]:
    """What IronCalc makes of formulas in a carried book."""
    book = folder / "carried.xlsx"
    carried_book(formulas, book)
    return answers_in(book, formulas)


def carried_book(formulas: Sequence[str], book: Path) -> None:
    """A carried book of formulas.

    The gases are made unknown, since a book that tells a state beyond their series is refused.
    """
    plain = book.with_name("calls.xlsx")
    with xlsxwriter.Workbook(plain) as file:
        sheet = file.add_worksheet("Calls")
        for row, formula in zip(_starts(formulas), formulas, strict=True):
            unknown = GAS.sub(r'\g<0>&""', formula)
            sheet.write_dynamic_array_formula(row, 0, row, 0, "=" + unknown)
    carry(plain, book)


def _starts(formulas: Sequence[str]) -> list[int]:
    """The rows in which formulas stand, one below the table of the other."""
    answers = map(library, formulas)
    heights = (1 + len(each) if isinstance(each, list) else 2 for each in answers)
    return list(accumulate(heights, initial=0))[:-1]


def answers_in(book: Path, formulas: Sequence[str]) -> list[Any]:
    """What IronCalc makes of the formulas of such a book."""
    values = computed(book)

    def answer(start: int, of: Any) -> Any:
        if not isinstance(of, list):
            return values("Calls", start + 1, 1)
        places = range(1, len(of[0]) + 1)
        return [[values("Calls", start + down, right) for right in places]
                for down in range(1, len(of) + 1)]  # fmt: skip

    return [answer(*each) for each in zip(_starts(formulas), map(library, formulas), strict=True)]


def computed(path: Path) -> Callable[[str, int, int], Any]:
    """A workbook as IronCalc computes it: the value of a cell by sheet, row and column."""
    import ironcalc

    model = ironcalc.load_from_xlsx(str(path), "en", "UTC", "en")
    model.evaluate()
    sheets = [sheet["name"] for sheet in model.get_worksheets_properties()]
    return lambda sheet, row, column: _value(model.get_cell_value(sheets.index(sheet), row, column))


def _value(found: Any) -> Any:
    return CellError(found) if isinstance(found, str) and found.startswith("#") else found


def written_out(formulas: Sequence[str], folder: Path) -> list[Any]:
    """What LibreOffice makes of formulas with every variable in a cell of its own."""
    path, own = folder / "cells.xlsx", [library(formula) for formula in formulas]
    asked = [each for pair in zip(formulas, own, strict=True) for each in _cells(*pair)]
    called = dict.fromkeys(name for formula in formulas for name in CALL.findall(formula))
    write_out(asked, Carried([worksheet_functions()[name] for name in called]), path)
    [calculated] = office.saved_by_calc([path], "xlsx", f"calculated-{folder.name}")
    found = iter([row[0] for row in office.values(calculated)])
    return [
        [[next(found) for _ in row] for row in each] if isinstance(each, list) else next(found)
        for each in own
    ]


def _cells(formula: str, own: Any) -> list[str]:
    """A formula, or one for each cell of the table that it answers with."""
    if not isinstance(own, list):
        return [formula]
    places = [(down, right) for down in range(len(own)) for right in range(len(own[0]))]
    return [f"INDEX({formula},{down + 1},{right + 1})" for down, right in places]


def write_out(formulas: Sequence[str], functions: Carried, path: Path) -> None:
    """Write a workbook of formulas with every variable in a cell of its own, without values."""
    spread = Spread(functions.shared | functions.one)
    answers = [spread.answer(formula) for formula in formulas]
    with xlsxwriter.Workbook(path) as file:
        sheet, steps, hidden = map(file.add_worksheet, ("Calls", "Steps", NAME))
        for row, answer in enumerate(answers):
            sheet.write_formula(row, 0, f"={answer}")
        for text, place in spread.places.items():
            steps.write_array_formula(*place, *place, f"={text}")
        start = 0
        for _, rows in functions.tables.sheet.blocks:
            for down, cells in enumerate(rows, 1):
                hidden.write_row(down, start, cells)
            start += len(rows[0])


INDEXED = re.compile(r"INDEX\((GAS_.*),(\d+),(\d+)\)")
VARIABLE = re.compile(r"_xlpm\.(\w+)")
OPENED = re.compile(r"(?:_xlfn\.LET|\bGF_\w+)\(")
LEAF = re.compile(
    r'"(?:[^"]|"")*"|[\w.]+|Steps![$A-Z]+\d+|\{.*\}|CHOOSE\(.*\)|#[\w/]+[!?]?|gasfuncs![$\w]+'
)
"""Texts that stay where they are: a choice of ranges is no value of a cell."""


class Spread:
    """Formulas whose calls and variables are spread over cells, since LibreOffice has no LAMBDA
    and no LET inside another."""

    def __init__(self, known: Mapping[str, Native]) -> None:
        self.known = known
        self.places: dict[str, tuple[int, int]] = {}

    def answer(self, formula: str) -> str:
        """Where the answer to a formula stands, or a cell of the table that one answers with."""
        found = INDEXED.fullmatch(formula)
        self.picked = (int(found[2]), int(found[3])) if found else (1, 1)
        return self.cell(self.cells(_single(found[1] if found else formula), {}))

    def body(self, native: Native) -> str:
        """A native's formula, of the tables in it the cell that is asked for."""
        text = native.body
        while (start := text.find("CHOOSE({")) >= 0:
            (places, *cells), end = call_arguments(text, start + len("CHOOSE("))
            down, right = self.picked
            width = places.partition(";")[0].count(",") + 1
            text = text[:start] + cells[(down - 1) * width + right - 1] + text[end:]
        return text

    def cell(self, text: str) -> str:
        """Where the value of a text stands; what is alike stands once."""
        if LEAF.fullmatch(text):
            return text
        row, column = self.places.setdefault(text, divmod(len(self.places), 200))
        return f"Steps!{xl_rowcol_to_cell(row, column, True, True)}"

    def cells(self, text: str, known: dict[str, str]) -> str:
        """A text with its variables and calls as places."""
        opened = OPENED.search(text)
        if not opened:
            return VARIABLE.sub(lambda match: known[match[1]], text)
        head = self.cells(text[: opened.start()], known)
        parts, end = call_arguments(text, opened.end())
        if opened[0] == "_xlfn.LET(":
            inner = dict(known)
            for name, value in zip(parts[:-1:2], parts[1::2], strict=True):
                inner[name.removeprefix("_xlpm.")] = self.cell(self.cells(value, inner))
            value = self.cells(parts[-1], inner)
        else:
            native = self.known[opened[0][:-1]]
            given = [self.cell(self.cells(each, known)) for each in parts]
            value = self.cells(self.body(native), dict(zip(native.arguments, given, strict=True)))
        return f"{head}{self.cell(value)}{self.cells(text[end:], known)}"


def _single(text: str) -> str:
    """A formula that calls the functions of single values, what is left out written as blank."""
    match = CALL.search(text)
    if not match:
        return text
    given, end = call_arguments(text, match.end() + 1)
    count = len(worksheet_functions()[match[0]].parameters)
    if given == [""]:
        given = []
    filled = [_single(each.strip()) or '""' for each in given] + ['""'] * (count - len(given))
    return f"{text[: match.start()]}{single(match[0])}({','.join(filled)}){_single(text[end:])}"
