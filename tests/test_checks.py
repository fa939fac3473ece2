"""Every check against the outside, through every host that runs on this machine.

Collection fails if a registered function lacks a published number, an invariant or a refusal.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator

import pytest

from gasfuncs.definition import Columns, Definition
from gasfuncs.definition.terms import Number
from gasfuncs.registry import worksheet_functions
from tests.checks.every import INVARIANTS, PUBLISHED, REFUSALS, Check, everything, unmet
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


OF_FUNCTION: defaultdict[str, list[Check]] = defaultdict(list)
for check in everything():
    OF_FUNCTION[called(check.formula)].append(check)

missing = list(uncovered())
if missing:
    raise pytest.UsageError("; ".join(missing))


@pytest.fixture(params=HOSTS, ids=lambda host: host.name)
def host(request: pytest.FixtureRequest) -> Host:
    return request.param  # type: ignore[no-any-return]


@pytest.mark.parametrize("name", worksheet_functions())
def test_every_check_holds(host: Host, name: str) -> None:
    """Those of one function together: as tests of their own their reports would take longer."""
    told = [unmet(check, host.answer, host.tells_sentences) for check in OF_FUNCTION[name]]
    assert not any(told), "\n".join(filter(None, told))
