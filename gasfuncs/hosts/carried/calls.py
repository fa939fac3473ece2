"""The calls of our functions in a workbook, and the gases that they name."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from gasfuncs.definition.terms import GasName
from gasfuncs.hosts.carried.carriable import why_not
from gasfuncs.hosts.carried.names import call_arguments
from gasfuncs.hosts.carried.reasons import BOUND
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.sheetxml import SheetText
from gasfuncs.registry import worksheet_functions

OURS = re.compile(r"((?:\b_xldudf_|[.!])|\b)(GAS_\w+)\(", re.IGNORECASE)
"""What binds the call to an add-in, if anything does, and the function's name."""
TEXT = re.compile(r'"(?:[^"]|"")*"')


@dataclass(frozen=True)
class Call:
    """A call in a cell of a sheet, or in a defined name."""

    sheet: str
    cell: str
    name: str
    left: str
    """Why no formula carries it, "" where one does."""
    arguments: tuple[str, ...]

    @property
    def place(self) -> str:
        return f"{self.cell} of {self.sheet}" if self.sheet else f"the name {self.cell}"

    @property
    def text(self) -> str:
        return f"{self.name}({','.join(self.arguments)})"

    def gases(self) -> list[str]:
        """What is given as gas, as the formula has it."""
        parameters = worksheet_functions()[self.name].parameters
        given = zip(parameters, self.arguments, strict=False)
        return [text for of, text in given if isinstance(of.term, GasName) and text]


def calls(package: Package) -> Iterator[Call]:
    """Every call in a workbook."""
    for sheet in package.sheets:
        for cell in SheetText(package, sheet).formula_cells():
            yield from calls_in(cell.formula, sheet.name, cell.name)
    for name in package.names:
        yield from calls_in(name.formula, "", name.name)


def calls_in(formula: str, sheet: str = "", cell: str = "") -> Iterator[Call]:
    """Every call in a formula, those in arguments of others too."""
    for found in OURS.finditer(TEXT.sub(lambda text: f'"{"_" * (len(text[0]) - 2)}"', formula)):
        bound, name = found[1], found[2].upper()
        given, _ = call_arguments(formula, found.end())
        arguments = tuple(each.strip() for each in given)
        yield Call(sheet, cell, name, BOUND if bound else why_not(name), arguments)


def texts(formula: str) -> list[str]:
    """The texts that stand in a formula."""
    return [text[1:-1].replace('""', '"') for text in TEXT.findall(formula)]


def is_told(argument: str) -> bool:
    """Whether an argument stands in the formula as it is, so that no cell can change it."""
    return not re.search(r"[^\W\d]", TEXT.sub("", argument))
