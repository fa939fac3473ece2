"""LibreOffice Calc as a host of the checks: every formula in one workbook, calculated once."""

from __future__ import annotations

import importlib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import pytest

from gasfuncs.hosts.calc.office import find_office
from gasfuncs.registry import topics
from tests.calc import office
from tests.calc.book import write_book


@dataclass(frozen=True)
class Calc:
    """Answers the formulas of the checks, and no others, as Calc's cells show them."""

    name: str = "calc"
    tells_sentences: bool = False

    def answer(self, formula: str) -> Any:
        if find_office() is None:
            pytest.skip("needs LibreOffice")
        return answers()[formula]


def check_formulas() -> Iterator[str]:
    """Every formula of the checks."""
    for topic in topics():
        module = importlib.import_module(f"tests.checks.{topic}")
        for check in (*module.PUBLISHED, *module.INVARIANTS, *module.REFUSALS):
            yield check.formula
            if str(getattr(check, "equals", "")).startswith("GAS_") and "(" in check.equals:
                yield check.equals


@cache
def answers() -> dict[str, Any]:
    """What Calc makes of each formula; of an empty text its file says nothing."""
    path = office.folder() / "checks.xlsx"
    places = write_book(path, dict.fromkeys(check_formulas()))
    [calculated] = office.saved_by_calc([path], "xlsx", "calculated")
    rows = [["" if value is None else value for value in row] for row in office.values(calculated)]
    return {formula: place.answer_in(rows) for formula, place in places.items()}
