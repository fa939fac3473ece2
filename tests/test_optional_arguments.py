"""Every optional argument moves some checked value.

An argument that is left blank, or given another value, in a check that gives it must make that
check fail; where none does, nothing would tell whether the function looks at the argument at all.
The unit to answer in is read in one place for all functions and is not among them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache, partial
from typing import Any

import pytest

from gasfuncs.definition import Definition, Parameter
from gasfuncs.definition.record import UNIT
from gasfuncs.definition.terms import Choice, Date, GasName
from gasfuncs.errors import CellError
from gasfuncs.hosts.formula import read_call
from gasfuncs.registry import worksheet_functions
from tests.checks.every import (
    INVARIANTS,
    PUBLISHED,
    REFUSALS,
    Picked,
    agree,
    is_printed,
    other_call,
    picked,
)
from tests.checks.kinds import Invariant, Published

Change = Callable[[Any], Any]
NUMBER = r"\d+(\.\d+)?"

OPTIONAL = [
    (definition, parameter)
    for definition in worksheet_functions().values()
    for parameter in definition.parameters
    if not (parameter.required or parameter.variadic or parameter.term is UNIT)
]


ONLY_REFUSES = {("GAS_DEW_SHIFT", "gas"), ("GAS_POINT_OF_USE", "gas")}
"""The enhancement factor is that of air in any gas; in some gases it is refused."""
ONLY_SHOWN = {("GAS_UNACCOUNTED", "days")}
"""The working tells the gas lost a second; tests/checks/explain.py holds it."""


@pytest.mark.parametrize(
    ("definition", "parameter"), OPTIONAL, ids=lambda value: getattr(value, "name", value)
)
def test_some_check_fails_without_the_argument(
    definition: Definition, parameter: Parameter
) -> None:
    place = definition.parameters.index(parameter)
    changes = list(other_values(parameter))
    moved = any(
        fails(check, definition.name, place, change)
        for check in checks_that_give(definition.name, place)
        for change in changes
    )
    alone = (definition.name, parameter.name)
    assert moved != (alone in ONLY_REFUSES | ONLY_SHOWN), parameter.name
    if alone in ONLY_REFUSES:
        assert any(
            answers(each.formula, definition.name, place)
            for each in REFUSALS
            if gives(each.formula, definition.name, place)
        )


def answers(text: str, name: str, place: int) -> bool:
    """Whether a refused call answers where an argument of one function is blank."""
    return not isinstance(changed(text, name, place, lambda _: None), CellError)


def other_values(parameter: Parameter) -> Iterator[Change]:
    """Other values of an argument: none first, then what its term allows."""
    term = parameter.term
    yield lambda _: None
    if isinstance(term, Date):
        yield lambda cell: cell + 1
    elif isinstance(term, GasName):
        yield from (partial(instead, gas) for gas in ("helium", "nitrogen", "argon"))
    elif isinstance(term, Choice):
        yield from (partial(instead, word) for word in term.words)
    else:
        yield from (partial(times, factor) for factor in (1.25, 0.75))


def instead(value: str, _: Any) -> str:
    return value


def times(factor: float, cell: Any) -> Any:
    """A number, the first in a text, or each of a range, so many times as large."""
    if isinstance(cell, list):
        return [times(factor, each) for each in cell]
    if isinstance(cell, str):
        return re.sub(NUMBER, lambda found: f"{float(found[0]) * factor:.9f}", cell, count=1)
    return cell * factor if isinstance(cell, float) else cell


@cache
def checks_that_give(name: str, place: int) -> list[Published | Invariant]:
    checks: list[Published | Invariant] = [*PUBLISHED, *INVARIANTS]
    return [check for check in checks if any(gives(text, name, place) for text in texts(check))]


def texts(check: Published | Invariant) -> list[str]:
    other = other_call(check) if isinstance(check, Invariant) else None
    return [check.formula, other] if other else [check.formula]


@cache
def gives(text: str, name: str, place: int) -> bool:
    """Whether a formula calls a function and fills one of its arguments."""
    found: list[bool] = []

    def note(function: Definition, arguments: list[Any]) -> str:
        filled = len(arguments) > place and arguments[place] is not None
        found.append(function.name == name and filled)
        return ""

    if f"{name}(" in text:
        read_call(text, note)
    return any(found)


def fails(check: Published | Invariant, name: str, place: int, change: Change) -> bool:
    """Whether a check fails where one of its formulas has the argument changed."""
    sides = texts(check)
    for side, text in enumerate(sides):
        if gives(text, name, place):
            told = [answer(each) for each in sides]
            told[side] = changed(text, name, place, change)
            if not holds(check, told):
                return True
    return False


def holds(check: Published | Invariant, told: list[Any]) -> bool:
    """Whether answers agree with a check; of a refusal that is not asked."""
    if any(isinstance(each, CellError) for each in told):
        return True
    try:
        values: list[Picked] = [picked(each, check) for each in told]
    except (AssertionError, IndexError):  # nothing stands there any more
        return False
    if isinstance(check, Published):
        return is_printed(values[0], check)
    return agree(values[0], values[1] if len(values) > 1 else check.equals, check)


@cache
def answer(text: str) -> Any:
    return read_call(text, lambda function, arguments: function.cells(*arguments))


def changed(text: str, name: str, place: int, change: Change) -> Any:
    """A formula's answer where an argument of one function has another value."""

    def call(function: Definition, arguments: list[Any]) -> Any:
        given = list(arguments)
        if function.name == name and len(given) > place and given[place] is not None:
            given[place] = change(given[place])
        if any(isinstance(each, CellError) for each in given):
            return next(each for each in given if isinstance(each, CellError))
        return function.cells(*given)

    try:
        return read_call(text, call)
    except (TypeError, ValueError):
        return CellError("#VALUE!", "no other value")
