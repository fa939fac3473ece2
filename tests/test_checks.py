"""Every check against the outside, through every host that runs on this machine.

Collection fails if a registered function lacks a published number, an invariant or a refusal.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from gasfuncs.definition import Columns, Definition
from gasfuncs.definition.terms import Number
from gasfuncs.errors import CellError
from gasfuncs.registry import worksheet_functions
from tests.checks.every import (
    INVARIANTS,
    PUBLISHED,
    REFUSALS,
    agree,
    is_printed,
    other_call,
    picked,
)
from tests.checks.kinds import Invariant, Published, Refusal
from tests.hosts import HOSTS, Host


def called(formula: str) -> str:
    """The outermost function of a formula."""
    match = re.match(r"(GAS_\w+)\(", formula)
    assert match, f"{formula} calls no function"
    return match[1]


def answers_numbers(definition: Definition) -> bool:
    """Whether anybody could have printed a number that the function answers."""
    if isinstance(definition.result, Columns):
        return any(column.term for column in definition.result.columns)
    return isinstance(definition.result, Number)


def uncovered() -> Iterator[str]:
    printed = {called(check.formula) for check in PUBLISHED}
    refused = {called(check.formula) for check in REFUSALS}
    agreeing = {
        name
        for check in INVARIANTS
        for name in re.findall(r"GAS_\w+", f"{check.formula} {check.equals}")
    }
    for name, definition in worksheet_functions().items():
        if name not in printed and answers_numbers(definition):
            yield f"{name} has no published number"
        if name not in agreeing:
            yield f"{name} has no invariant"
        if name not in refused:
            yield f"{name} has no refusal"


missing = list(uncovered())
if missing:
    raise pytest.UsageError("; ".join(missing))


@pytest.fixture(params=HOSTS, ids=lambda host: host.name)
def host(request: pytest.FixtureRequest) -> Host:
    return request.param  # type: ignore[no-any-return]


@pytest.mark.parametrize("check", PUBLISHED, ids=lambda c: c.formula)
def test_published(host: Host, check: Published) -> None:
    assert is_printed(picked(host.answer(check.formula), check), check), check.source


@pytest.mark.parametrize("check", INVARIANTS, ids=lambda c: c.formula)
def test_invariant(host: Host, check: Invariant) -> None:
    computed = picked(host.answer(check.formula), check)
    other = other_call(check)
    equals = picked(host.answer(other), check) if other else check.equals
    assert agree(computed, equals, check), check.why


@pytest.mark.parametrize("check", REFUSALS, ids=lambda c: c.formula)
def test_refusal(host: Host, check: Refusal) -> None:
    answer = host.answer(check.formula)
    assert isinstance(answer, CellError), f"answered {answer}"
    assert answer.code == check.code
    if host.tells_sentences:
        assert check.says in answer.message
