"""Mends an .ods file that a Calc without the add-in has saved, when it is opened with it.

Such a Calc writes names that it does not know in small letters and without the service's name; by
those no function of an add-in is found. Runs inside LibreOffice's own Python (3.8 or newer):
standard library only.
"""

# mypy: ignore-errors
# ruff: noqa: N802, N816
# LibreOffice names these modules and methods; no type stubs exist for them.

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator
from typing import Any

import unohelper
from com.sun.star.lang import XServiceInfo
from com.sun.star.task import XJob

with open(os.path.join(os.path.dirname(__file__), "settings.json"), encoding="utf-8") as file:
    SETTINGS = json.load(file)

IMPLEMENTATION = SETTINGS["opened"]
SERVICES = ("com.sun.star.task.Job",)

SMALL = r'(?<![\w.])gas_(?=[a-z0-9_]+\((?:[^"]*"[^"]*")*[^"]*$)'
"""A function's name as such a Calc leaves it; in a text an odd number of quotes would follow."""


class Opened(unohelper.Base, XJob, XServiceInfo):
    """The job that LibreOffice runs when a document has been opened in a window."""

    def __init__(self, _context: Any) -> None:
        pass

    def execute(self, arguments: tuple[Any, ...]) -> tuple[()]:
        book = named(named(arguments)["Environment"])["Model"]
        if named(book.getArgs()).get("FilterName", "").startswith("calc8"):
            mend(book)
        return ()

    def getImplementationName(self) -> str:
        return IMPLEMENTATION

    def supportsService(self, name: str) -> bool:
        return name in SERVICES

    def getSupportedServiceNames(self) -> tuple[str, ...]:
        return SERVICES


def named(values: tuple[Any, ...]) -> dict[str, Any]:
    """LibreOffice's named values as a dictionary."""
    return {each.Name: each.Value for each in values}


def mend(book: Any) -> None:
    """Give all calls in cells, and in the book's names, the names by which Calc finds them."""
    for names in (book.NamedRanges, *(sheet.NamedRanges for sheet in book.Sheets)):
        for name in names:
            if re.search(SMALL, name.Content):
                name.setContent(full_names(name.Content))
    for sheet in book.Sheets:
        search = sheet.createReplaceDescriptor()
        search.SearchString, search.ReplaceString = SMALL, "GAS_"
        search.SearchRegularExpression = search.SearchCaseSensitive = True
        if sheet.findFirst(search) is not None:
            mend_sheet(sheet, search)


def mend_sheet(sheet: Any, search: Any) -> None:
    """The formulas of a sheet, of one that is protected without a password too."""
    was_protected = sheet.isProtected()
    if was_protected:
        sheet.unprotect("")
    sheet.replaceAll(search)
    for array in arrays_left(sheet, search):
        array.setArrayFormula(full_names(array.getArrayFormula().strip("{}")))
    if was_protected and not sheet.isProtected():
        sheet.protect("")


def arrays_left(sheet: Any, search: Any) -> Iterator[Any]:
    """The array formulas, which a replacement leaves as they are."""
    left = sheet.findAll(search)
    for cell in left.Cells if left is not None else ():
        array = sheet.createCursorByRange(cell)
        array.collapseToCurrentArray()
        if re.search(SMALL, array.getArrayFormula()):
            yield array


def full_names(formula: str) -> str:
    """A formula as LibreOffice's interface takes it."""
    return re.sub(SMALL, SETTINGS["service"] + ".GAS_", formula)


g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(Opened, IMPLEMENTATION, SERVICES)
