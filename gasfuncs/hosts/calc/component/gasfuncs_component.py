"""The add-in as LibreOffice Calc sees it: one method a function, each handed to the library.

Runs inside LibreOffice's own Python (3.8 or newer): standard library only.
"""

# mypy: ignore-errors
# ruff: noqa: N802, N816
# LibreOffice names these modules and methods; no type stubs exist for them.

from __future__ import annotations

import json
import os
import struct
from typing import Any

import unohelper
from com.sun.star.lang import Locale, XLocalizable, XServiceInfo, XServiceName
from gasfuncs_calc import XFunctions
from gasfuncs_pipe import Answers, Calculator, CalculatorError

with open(os.path.join(os.path.dirname(__file__), "settings.json"), encoding="utf-8") as file:
    SETTINGS = json.load(file)

IMPLEMENTATION = SETTINGS["implementation"]
SERVICES = (SETTINGS["service"], "com.sun.star.sheet.AddIn")


def error_value(code: int) -> float:
    """What Calc shows as an error: not a number, with the error's code in its low bits."""
    return float(struct.unpack("<d", struct.pack("<II", code, 0x7FF80000))[0])


ERRORS = {text: error_value(code) for text, code in SETTINGS["errors"].items()}


class Functions(unohelper.Base, XFunctions, XServiceInfo, XServiceName, XLocalizable):
    """The component that Calc makes once."""

    def __init__(self, _context: Any) -> None:
        self.locale = Locale("en", "US", "")
        self.calculator = Calculator(SETTINGS["command"], SETTINGS["time_limit"])
        self.answers = Answers()

    def answer(self, function: str, arguments: tuple[Any, ...]) -> Any:
        """What a call gives: rows, or one text as it is, since Calc compares none out of rows.

        Several texts are refused: a comparison of them would be wrong without a word.
        """
        found = self.rows(function, arguments)
        if function not in SETTINGS["tells"]:
            return found
        return found[0][0] if len(found) == len(found[0]) == 1 else ERRORS["#VALUE!"]

    def rows(self, function: str, arguments: tuple[Any, ...]) -> Any:
        """The rows of values that a call gives: one value for a single cell."""
        question = function, arguments
        answer = self.answers.get(question)
        if answer is None:
            try:
                answer = rows(self.calculator.ask(function, arguments))
            except CalculatorError as error:
                return ((str(error) if function in SETTINGS["tells"] else ERRORS["#N/A"],),)
            self.answers.keep(question, answer)
        return answer

    def getServiceName(self) -> str:
        return SERVICES[0]

    def getImplementationName(self) -> str:
        return IMPLEMENTATION

    def supportsService(self, name: str) -> bool:
        return name in SERVICES

    def getSupportedServiceNames(self) -> tuple[str, ...]:
        return SERVICES

    def setLocale(self, locale: Any) -> None:
        self.locale = locale

    def getLocale(self) -> Any:
        return self.locale


def rows(found: Any) -> tuple[tuple[Any, ...], ...]:
    """An answer of the library as Calc takes it."""
    table = found if isinstance(found, list) else [[found]]
    return tuple(tuple(map(value, row)) for row in table)


def value(found: Any) -> Any:
    """One value of an answer: an error comes as its text, and Calc misreads truth values."""
    if isinstance(found, dict):
        return ERRORS[found["error"]]
    return float(found) if isinstance(found, bool) else found


def method(function: str) -> Any:
    """The method of a function; further arguments that were not given are none."""
    if function in SETTINGS["variadic"]:
        return lambda self, *arguments: self.answer(function, given(arguments))
    return lambda self, *arguments: self.answer(function, arguments)


def given(arguments: tuple[Any, ...]) -> tuple[Any, ...]:
    """The arguments up to the last that was given."""
    while arguments and arguments[-1] is None:
        arguments = arguments[:-1]
    return arguments


for name in SETTINGS["functions"]:
    setattr(Functions, name, method(name))

g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(Functions, IMPLEMENTATION, SERVICES)
