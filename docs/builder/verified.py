"""Every number printed by somebody else beside the number computed here and now."""

from __future__ import annotations

import importlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from html import escape
from typing import Any

import numpy as np
from tables import code, table

from gasfuncs.definition import Definition
from gasfuncs.errors import CellError
from gasfuncs.hosts import formula
from gasfuncs.registry import topics
from tests.checks.kinds import Published, Refusal

HEADINGS = ("Formula", "Printed", "Computed", "Deviation", "Allowed", "Source")


@dataclass(frozen=True)
class Called:
    """A formula text: the function it calls outermost, and its answer as cells show it."""

    function: str
    answer: Any


@dataclass(frozen=True)
class Comparison:
    """A published number with ours."""

    function: str
    check: Published
    computed: float

    @property
    def deviation(self) -> float:
        difference = self.computed - self.check.printed
        return difference if self.absolute else difference / abs(self.check.printed)

    @property
    def absolute(self) -> bool:
        """Whether the deviation is a difference; nothing is a share of zero."""
        return self.check.absolute or not self.check.printed

    def row(self) -> list[str]:
        check = self.check
        return [
            code(f"={check.formula}"),
            f"{check.printed:.8g}",
            f"{self.computed:.7g}",
            _told(self.deviation, self.absolute, "+"),
            _told(check.within, self.absolute),
            f"{_plain(str(check.source))} <em>({self._marks()}; allowed: {_plain(check.why)})</em>",
        ]

    def _marks(self) -> str:
        reckoned = "; reckoned here from what is printed" if self.check.reckoned else ""
        return self.check.mark + reckoned


def _plain(text: str) -> str:
    return escape(text.replace("`", ""))


def _told(value: float, absolute: bool, sign: str = "") -> str:
    number = 0.0 if abs(value) < 1e-12 else value
    if number == 0:
        return "0"
    return f"{number:{sign}.2g}" if absolute else f"{100 * number:{sign}.2g} %"


@cache
def called(text: str) -> Called:
    """Call a formula text as cells do."""
    names: list[str] = []

    def note(function: Definition, arguments: list[Any]) -> Any:
        names.append(function.name)
        return function.cells(*arguments)

    answer = formula.read_call(text, note)
    return Called(names[-1], answer)


@cache
def comparisons() -> tuple[Comparison, ...]:
    """Every published number, in reading order; one that does not agree stops the build."""
    return tuple(
        _comparison(check)
        for topic in topics()
        for check in importlib.import_module(f"tests.checks.{topic}").PUBLISHED
    )


def _comparison(check: Published) -> Comparison:
    call = called(check.formula)
    answer = call.answer
    picked = answer[check.row][check.column] if isinstance(answer, list | np.ndarray) else answer
    found = Comparison(call.function, check, float(picked))
    if abs(found.deviation) > check.within * (1 + 1e-9):
        raise ValueError(f"{check.formula} is {picked}, not {check.printed}: {check.source}")
    return found


def comparison_table(found: Iterable[Comparison]) -> str:
    """The comparisons as a table."""
    return table(HEADINGS, (each.row() for each in found), "verified")


def refusals() -> Iterator[tuple[str, Refusal]]:
    """Every call that must be refused, with its function."""
    for topic in topics():
        for check in importlib.import_module(f"tests.checks.{topic}").REFUSALS:
            yield called(check.formula).function, check


def refusal_table(found: Iterable[Refusal]) -> str:
    """Refused calls with the error of the cell and the sentence behind it."""
    rows = []
    for check in found:
        answer = called(check.formula).answer
        if not isinstance(answer, CellError) or answer.code != check.code:
            raise ValueError(f"{check.formula} is not refused with {check.code}")
        rows.append([code(f"={check.formula}"), code(answer.code), escape(answer.message)])
    return table(("Call", "Cell shows", "Why, by GAS_CHECK"), rows, "refusals")


def verified_page() -> str:
    """The page with the whole table, a heading for each function."""
    found = comparisons()
    out = [
        "# Verified against",
        f"{len(found)} numbers that somebody else printed, each recomputed when this page was "
        "built and on every run of the tests, through every host. The tolerance of each stands "
        "beside it with its reason: the digits of the print, another equation of state, or a "
        "reading off a chart. *Read* is said only where author, title, year and place are known, "
        "so that anybody can look it up; *seen in print* where one of them is not. *Value from "
        "memory* marks a number whose source was not at hand when it was written down. *Reckoned "
        "here* is our own arithmetic on printed numbers: a unit changed, a formula worked out.",
    ]
    for name in dict.fromkeys(each.function for each in found):
        out += [f"## {name}", comparison_table(c for c in found if c.function == name)]
    return "\n\n".join(out) + "\n"
