"""Which checks prove carried functions, and what of an answer must agree."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts import formula as formulas
from gasfuncs.hosts.carried.carriable import carried_functions
from gasfuncs.hosts.carried.reasons import PARTLY
from gasfuncs.registry import worksheet_functions
from tests.calc.host import check_formulas

CALL = re.compile(r"\bGAS_\w+(?=\()")
MIXTURE = re.compile(r'%[^"]*\+')
AGREES_TO = 1e-9

GROWING = {"GAS_VENT_FILL_TABLE"}
"""Functions of single values whose tables have as many rows as they take."""

COLD = re.compile(r'"(87\.4|87\.305|108\.0) K"|"(carbon dioxide|CO2)"')
"""Gas that is colder than its series begin."""


def proving() -> Iterator[str]:
    """Checks and examples that call carried functions alone."""
    carried = set(carried_functions())
    examples = (each.example.formula for each in worksheet_functions().values())
    for formula in dict.fromkeys((*examples, *check_formulas())):
        plain = re.sub(r'"[^"]*"', "", formula)
        if set(CALL.findall(plain)) <= carried and not MIXTURE.search(formula):
            yield formula


def in_cells(formula: str) -> bool:
    """Whether LibreOffice can be asked: it has no MAP, which spreads and sums ranges, and no
    MAKEARRAY, which makes tables of as many rows as they take."""
    functions = worksheet_functions()
    called = CALL.findall(re.sub(r'"[^"]*"', "", formula))
    if GROWING & set(called):
        return False
    return "{" not in formula and not any(p.whole for n in called for p in functions[n].parameters)


@cache
def library(formula: str) -> Any:
    """What the library answers, a value or rows of them; a single cell is a value."""
    answer = formulas.read_call(formula, lambda function, given: function.cells(*given))
    alone = isinstance(answer, list) and len(answer) == len(answer[0]) == 1
    return answer[0][0] if alone else answer


def agree(own: Any, other: Any) -> bool:
    """Whether two answers are the same numbers, texts or kinds of error."""
    if isinstance(own, list):
        return isinstance(other, list) and all(
            agree("" if one is None else one, "" if two is None else two)
            for rows in zip(own, other, strict=True) for one, two in zip(*rows, strict=True)
        )  # fmt: skip
    if isinstance(own, CellError):
        return isinstance(other, CellError) and own.code == other.code
    if isinstance(own, str) or isinstance(other, str | CellError | None):
        return bool(own == other)
    return math.isclose(own, other, rel_tol=AGREES_TO, abs_tol=1e-300)


def beyond(formula: str, other: Any) -> bool:
    """Whether a carried book may refuse what the library answers."""
    if isinstance(other, list):
        return beyond(formula, other[0][0])
    if not isinstance(other, CellError):
        return False
    partly = other.code == "#N/A" and bool(set(CALL.findall(formula)) & set(PARTLY))
    return partly or (other.code == "#NUM!" and bool(COLD.search(formula)))


def apart(formulas_tried: list[str], answers: list[Any]) -> list[str]:
    """The formulas whose answers are not those of the library, with both."""
    out = []
    for formula, other in zip(formulas_tried, answers, strict=True):
        own = library(formula)
        if not agree(own, other) and not beyond(formula, other):
            out.append(f"{formula}: {own!r}, carried {other!r}")
    return out
