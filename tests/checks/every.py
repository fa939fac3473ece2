"""All checks of all topics, and whether an answer is what one of them says."""

from __future__ import annotations

import importlib
import math
import re
from collections.abc import Callable
from typing import Any

import numpy as np

from gasfuncs.errors import CellError
from gasfuncs.registry import topics
from tests.checks.kinds import Invariant, Published, Refusal

CHECKS = {topic: importlib.import_module(f"tests.checks.{topic}") for topic in topics()}
PUBLISHED: list[Published] = [check for module in CHECKS.values() for check in module.PUBLISHED]
INVARIANTS: list[Invariant] = [check for module in CHECKS.values() for check in module.INVARIANTS]
REFUSALS: list[Refusal] = [check for module in CHECKS.values() for check in module.REFUSALS]

Check = Published | Invariant | Refusal
Picked = float | str


def everything() -> list[Check]:
    return [*PUBLISHED, *INVARIANTS, *REFUSALS]


def unmet(check: Check, ask: Callable[[str], Any], sentences: bool = True) -> str:
    """What of a check does not hold where `ask` answers formulas, "" if all of it does."""
    answer = ask(check.formula)
    if isinstance(check, Refusal):
        holds, due = _refuses(answer, check, sentences), f"{check.code}: {check.says}"
    elif isinstance(check, Published):
        answer = picked(answer, check)
        holds, due = is_printed(answer, check), f"{check.printed}: {check.source}"
    else:
        answer = picked(answer, check)
        other = other_call(check)
        equals = picked(ask(other), check) if other else check.equals
        holds, due = agree(answer, equals, check), f"{equals}: {check.why}"
    return "" if holds else f"{check.formula}: {answer}, not {due}"


def _refuses(answer: Any, check: Refusal, sentences: bool) -> bool:
    refused = isinstance(answer, CellError) and answer.code == check.code
    return refused and (check.says in answer.message or not sentences)


def is_call(text: str) -> bool:
    return bool(re.match(r"GAS_\w+\(", text))


def other_call(check: Invariant) -> str | None:
    """The formula that an invariant's own must agree with, where it is one."""
    equals = check.equals
    return equals if isinstance(equals, str) and is_call(equals) else None


def picked(answer: Any, check: Published | Invariant) -> Picked:
    """The value that a check is of."""
    table = isinstance(answer, list | np.ndarray)
    value = answer[check.row][check.column] if table else answer
    assert not isinstance(value, CellError | bool | None), (check.formula, value)
    return value if isinstance(value, str) else float(value)


def is_printed(computed: Picked, check: Published) -> bool:
    """Whether a value is the printed one, within its tolerance."""
    assert isinstance(computed, float), (check.formula, computed)
    allowed = check.within if check.absolute else check.within * abs(check.printed)
    return math.isclose(computed, check.printed, rel_tol=0, abs_tol=allowed)


def agree(computed: Picked, equals: Picked, check: Invariant) -> bool:
    """Whether the two sides of an invariant agree."""
    if isinstance(computed, str) or isinstance(equals, str):
        return computed == equals
    return math.isclose(computed, equals, rel_tol=check.within, abs_tol=1e-300)
