"""Every function over wild arguments: an answer or our own refusal, soon and in little memory."""

from __future__ import annotations

import math
import random
import time
import tracemalloc
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest

from gasfuncs.calculations import effort
from gasfuncs.definition import Definition, Parameter
from gasfuncs.definition.reading import HandedOnError
from gasfuncs.definition.terms import Choice, GasName, Number, Quantity
from gasfuncs.errors import (
    CellError,
    GasFuncsError,
    OutOfRangeError,
    StateError,
    TooLongError,
    UnreadableError,
)
from gasfuncs.registry import worksheet_function_named, worksheet_functions
from tests.arguments import GASES, Call, example
from tests.hostile import wild
from tests.hostile.counts import tried
from tests.thorough import part, tries

FUNCTIONS = list(worksheet_functions().values())
each = pytest.mark.parametrize("definition", FUNCTIONS, ids=lambda d: d.name)

LIMIT = 1.0
"""Seconds that an integration may take here, so that the tests end soon."""

SECONDS = 10.0
"""Of one call's own processor time."""

BYTES = 300e6
"""Of one call that is refused; what is answered is limited in rows."""

LONGEST_SENTENCE = 1_000
LONGEST_TEXT = 32_767
"""Characters in a cell."""


@pytest.fixture(autouse=True)
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(effort, "MOST_SECONDS", LIMIT)


def check(definition: Definition, *arguments: Any, **named: Any) -> GasFuncsError | None:
    """Call through both doors and hold what comes out; the refusal, or None for an answer."""
    started = time.thread_time()
    answer, refusal = None, None
    try:
        answer = definition(*arguments, **named)
    except GasFuncsError as error:
        refusal = error
    took = time.thread_time() - started
    assert took < SECONDS
    _hold_values(answer)
    if refusal:
        _hold_refusal(definition, refusal)
    if not named:
        told = definition.cells(*arguments)
        _hold_values(told)
        _hold_same(told, refusal, took)
    tried("functions: calls with wild arguments", definition.name)
    return refusal


def _hold_values(answer: Any) -> None:
    for value in _cells(answer):
        if isinstance(value, CellError):
            assert "failed (" not in value.message, value.message
        elif isinstance(value, str):
            assert len(value) <= LONGEST_TEXT
        else:
            assert value is None or isinstance(value, bool | int | float), type(value)
            assert value is None or math.isfinite(value)


def _cells(answer: Any) -> Iterator[Any]:
    if isinstance(answer, np.ndarray):
        answer = answer.tolist()
    if isinstance(answer, list):
        for part in answer:
            yield from _cells(part)
    else:
        yield answer


def _hold_refusal(definition: Definition, refusal: GasFuncsError) -> None:
    assert refusal.sentence.strip()
    assert refusal.sentence.isprintable(), refusal.sentence
    assert len(str(refusal)) <= LONGEST_SENTENCE, refusal.sentence
    explains = definition.topic in ("explain", "uncertainty")
    assert explains or refusal.argument in {None, *(p.name for p in definition.parameters)}
    said_of_a_state = isinstance(refusal, StateError)
    if isinstance(refusal, OutOfRangeError) and not said_of_a_state:
        unnamed = ("no finite answer", "no answer within")
        assert refusal.argument or any(words in refusal.sentence for words in unnamed), refusal


def _hold_same(told: Any, refusal: GasFuncsError | None, took: float) -> None:
    """Both doors refuse, or both answer; what takes about as long as it may can do either."""
    refused = [value for value in _cells(told) if isinstance(value, CellError)]
    too_long = any("no answer within" in value.message for value in refused)
    if isinstance(refusal, TooLongError) or (too_long and took > LIMIT / 2):
        return
    assert bool(refused) == bool(refusal), (told, refusal)
    if refusal and isinstance(told, CellError) and not isinstance(refusal, HandedOnError):
        assert told.code == refusal.code


STRIDES = {
    "GAS_LINE_BORE": 36,
    "GAS_BACKFILL_TIME": 16,
    "GAS_BACKFILL_CURVE": 16,
    "GAS_DELIVERY_SIM": 8,
    "GAS_RESERVOIR_AFTER": 8,
    "GAS_RESERVOIR_SIZE": 8,
    "GAS_PUMPDOWN_TIME": 8,
    "GAS_PUMPDOWN_CURVE": 8,
}
"""Each argument takes every so manieth value, in turn; fewer of what is slow to answer."""

STRIDE = 2
"""Of all others: what reads an argument reads those of many functions."""

WIDER = tries(8, 1)
"""By so much the strides are multiplied."""


def fixed(definition: Definition) -> list[Parameter]:
    return [p for p in definition.parameters if not p.variadic]


FEW = {"GAS_DELIVERY_SIM": {"trials": 100}}
"""Trials that are enough where an argument beside them is wild."""


@each
def test_one_argument_is_wild(definition: Definition) -> None:
    base = Call(definition, example(definition).cells | FEW.get(definition.name, {}))
    stride = WIDER * STRIDES.get(definition.name, STRIDE)
    for place, parameter in enumerate(fixed(definition)):
        for value in wild.EVERYTHING[place % stride :: stride]:
            check(definition, *Call(definition, base.cells | {parameter.name: value}).arguments())
    assert check(definition, *base.arguments()) is None


@each
def test_a_value_of_a_wrong_kind_is_refused_by_the_name_of_its_argument(
    definition: Definition,
) -> None:
    base = example(definition)
    for parameter in fixed(definition):
        for value in wild.NO_VALUES:
            spoiled = Call(definition, base.cells | {parameter.name: value})
            refusal = check(definition, *spoiled.arguments())
            assert isinstance(refusal, UnreadableError), (parameter.name, type(value))
            assert refusal.argument == parameter.name, (parameter.name, type(value), refusal)


@each
def test_many_arguments_are_wild(definition: Definition) -> None:
    """Numbers far from practice and at the ends of their ranges, in any unit; some worse."""
    rng = random.Random(definition.name)
    base = example(definition)
    for _ in range(tries(6, 40) if definition.scalar else tries(10, 60)):
        spoiled = {
            p.name: _wild(p, base.cells[p.name], rng)
            for p in fixed(definition)
            if rng.random() < 0.5
        }
        check(definition, *Call(definition, base.cells | spoiled).arguments())


def _wild(parameter: Parameter, shown: Any, rng: random.Random) -> Any:
    term = parameter.term
    if rng.random() < 0.05:
        return rng.choice(wild.EVERYTHING)
    if isinstance(term, GasName):
        return rng.choice(GASES)
    if isinstance(term, Choice):
        return rng.choice(term.words)
    if not isinstance(term, Number):
        return shown
    centre = shown if isinstance(shown, int | float) and shown else 1.0
    ends = [end for end in (term.low, term.high, term.above) if end is not None]
    reach = rng.choice([2, 6, 30])
    number: float = rng.choice([*ends, *[centre * 10 ** rng.uniform(-reach, reach)] * 6])
    if isinstance(term, Quantity) and rng.random() < 0.3:
        return f"{number!r} {rng.choice(term.kind.labels())}"
    return number


@each
def test_columns_are_wild(definition: Definition) -> None:
    """Rows of wild cells, in one column or in all of them."""
    rng = random.Random(definition.name)
    base = example(definition)
    for parameter in fixed(definition):
        cells = [
            [rng.choice(wild.EVERYTHING)]
            for _ in range(tries(1 if definition.name in STRIDES else 4, 12))
        ]
        check(definition, *Call(definition, base.cells | {parameter.name: cells}).arguments())
    for _ in range(tries(1, 3)):
        rows = {
            p.name: [[_wild(p, base.cells[p.name], rng)] for _ in range(6)]
            for p in fixed(definition)
        }
        check(definition, *Call(definition, base.cells | rows).arguments())


@each
def test_too_many_arguments_and_named_ones(definition: Definition) -> None:
    base = example(definition)
    assert check(definition, *[1.0] * 300)
    assert check(definition, nothing_of_that_name=1)
    first = definition.parameters[0].name
    assert check(definition, base.cells[first], **{first: base.cells[first]})
    by_name = {name: value for name, value in base.cells.items() if value is not None}
    assert check(definition, **by_name) is None


EXPLAIN = ("GAS_WORKING", "GAS_CHECK", "GAS_UNCERTAINTY")


@pytest.mark.parametrize("name", EXPLAIN)
def test_functions_that_explain_take_anything(name: str) -> None:
    definition = worksheet_function_named(name)
    for value in wild.EVERYTHING:
        for count in (1, 3):
            check(definition, "GAS_DENSITY", *[value] * count)
            check(definition, "GAS_CYCLE", "argon", 2.5, *[value] * count)
    assert check(definition, *["GAS_CHECK"] * 255)
    assert check(definition, *["GAS_WORKING"] * 10_000)


ROWS = 1_048_576
"""Of a sheet."""

MANY = 50_000

COLUMN = [[float(row)] for row in range(ROWS)]
BLANK = [[None]] * ROWS
STEP = ["backfill", 0, 2, 20, None, None, 100_000]
PLANNED: list[Any] = ["2026-03-02", 9800, [1150.0] * 3_660, 9258, "366 d", 12000, 20000, 60]
BACKFILL = ["argon", 10, 16, 2.5, "0.01 mbar", 6, 25, 6, 8, 0, 20, None]
PURGE = ["argon", 2.5, "50 mbar", "1.2 bar(a)", "20.95 %", 10, 1]

CALLS: list[tuple[str, list[Any], bool]] = [
    ("GAS_DENSITY", ["argon", np.linspace(0, 100, MANY), 20], True),
    ("GAS_DENSITY", ["argon", COLUMN, [list(range(1000))]], False),
    ("GAS_DENSITY", ["argon", np.full(MANY, np.nan), 20], False),
    ("GAS_DENSITY", ["argon", np.linspace(0, 9, 2_000), -240], False),
    ("GAS_DENSITY", [BLANK[:MANY], 1, 20], False),
    ("GAS_VENT_FILL_TABLE", [*PURGE, 1.7e-4], True),
    ("GAS_VENT_FILL_TABLE", [*PURGE, 1e-9], False),
    ("GAS_VENT_FILL_USE", ["argon", 2.5, 0.05, 1.2, 10**9], False),
    ("GAS_TANK_PLAN", PLANNED, True),
    ("GAS_TANK_PLAN", [*PLANNED[:2], [*PLANNED[2], 1.0], *PLANNED[3:]], False),
    ("GAS_TANK_PLAN", [*PLANNED[:2], BLANK, *PLANNED[3:]], False),
    ("GAS_TANK_PLAN", [*PLANNED[:2], COLUMN, *PLANNED[3:]], False),
    ("GAS_TANK_PLAN", [*PLANNED[:4], 1e9, *PLANNED[5:]], False),
    ("GAS_BACKFILL_CURVE", [*BACKFILL, *[None] * 9, 10_000], True),
    ("GAS_BACKFILL_CURVE", [*BACKFILL, *[None] * 9, 10_001], False),
    ("GAS_BACKFILL_CURVE", [*BACKFILL, *[None] * 9, 1e300], False),
    ("GAS_RISE_FIT", [[[row[0] / 50] for row in COLUMN[:20_000]], COLUMN[:20_000], 2.5], True),
    ("GAS_RISE_FIT", [COLUMN, COLUMN, 2.5], False),
    ("GAS_RISE_CURVE", [COLUMN[:100] + BLANK[:MANY]] * 2, True),
    ("GAS_CYCLE", ["argon", 2.5, [STEP] * 1_000], True),
    ("GAS_CYCLE", ["argon", 2.5, [STEP] * 1_001], False),
    ("GAS_CYCLE_STEPS", ["argon", 2.5, [STEP] * MANY], False),
    ("GAS_CYCLE_STEPS", ["argon", 2.5, [[None] * 7] * MANY], False),
    ("GAS_CYCLE", ["argon", 2.5, [[*STEP[:6], 1e12]]], False),
]
"""Calls with much in them, and whether they answer."""

MUCH = part(CALLS, 2)


def in_little_memory(cells: Callable[..., Any]) -> Callable[..., Any]:
    def watched(*arguments: Any) -> Any:
        tracemalloc.start()
        try:
            told = cells(*arguments)
            assert tracemalloc.get_traced_memory()[1] < BYTES
        finally:
            tracemalloc.stop()
        return told

    return watched


@pytest.mark.parametrize(("name", "arguments", "answers"), MUCH, ids=[call[0] for call in MUCH])
def test_much_is_answered_or_refused_in_little_memory(
    name: str, arguments: list[Any], answers: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not answers:
        monkeypatch.setattr(Definition, "cells", in_little_memory(Definition.cells))
    refusal = check(worksheet_function_named(name), *arguments)
    assert (refusal is None) == answers, refusal


HARD: list[tuple[str, list[Any]]] = [
    ("GAS_LINE_BORE", ["argon", 10, 16, 2.5, 1e-5, 6, 30, 6, 8, 1e6]),
    ("GAS_LINE_BORE", ["argon", 10, 16, 2.5, 1e-5, 6, 30, 6, 8, 1e8]),
    ("GAS_LINE_BORE", ["argon", 10, 16, 2.5, 1e-5, 6, 30, 1e9, 1e300]),
    ("GAS_LINE_BORE", ["argon", 10, 16, 2.5, 1e-5, 6, 1e9, 10_000, 1e9, 0.04]),
    ("GAS_LINE_BORE", ["helium", 0.3, 16, 2.5, 2e-6, 565, 1.4, 6, 8, 0.04]),
    ("GAS_LINE_BORE",
     ["95% argon + 5% hydrogen", 0.6, 200, 2.5, 1e-5, 500, 2500, 6, 8, 0.85, 20, "adiabatic"]),
    ("GAS_BACKFILL_TIME", ["argon", 10, 16, 2.5, 1e-5, 6, 25, 6, 8, 1e8]),
    ("GAS_BACKFILL_TIME", ["argon", 1e-9, 16, 1e8, 0, 6, 0.9, 10_000, 1e9, 1e-30]),
    ("GAS_BACKFILL_TIME", ["argon", 10, 16, 2.5, 6, 6.0000000000000009, 25, 6, 8]),
    ("GAS_BACKFILL_TIME", ["argon", 10, 1e-300, 2.5, 0, 1e-310, 25, 6, 8]),
    ("GAS_BACKFILL_CURVE", ["argon", 10, 16, 1e8, 0, 15.9999, 25, 6, 8, 0.1]),
    ("GAS_PUMPDOWN_TIME", [0.34, 165, 1.2, 5.7e-5, 0, 40, 3.35e19]),
    ("GAS_PUMPDOWN_TIME", [0.34, 165, 1.2, 5.7e-5, 0, 40, 10_000]),
    ("GAS_PUMPDOWN_TIME", [0.34, 1e9, 1.2, 5.7e-5, 0, 0.001, 10_000]),
    ("GAS_PUMPDOWN_TIME", [1e8, 1e-9, 2e4, 1e-300, 1e-320, 0.001, 10_000]),
    ("GAS_PUMPDOWN_TIME", [0.5, 100, 1.01325, 1e-4, 1e-300, 40, 6]),
    ("GAS_PUMPDOWN_TIME", [0.5, 100, 1.01325, 1e-4, 1e10, 40, 6]),
]  # fmt: skip
"""Integrations and searches that once hung or let another exception out."""


@pytest.mark.parametrize(("name", "arguments"), HARD, ids=lambda v: str(v)[:40])
def test_integrations_and_searches_end(name: str, arguments: list[Any]) -> None:
    check(worksheet_function_named(name), *arguments)


def test_a_call_far_from_practice_says_that_it_takes_too_long(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(effort, "MOST_SECONDS", 0.01)
    name, arguments = HARD[0]
    refusal = check(worksheet_function_named(name), *arguments)
    assert refusal is not None
    assert "no answer within" in refusal.sentence


def test_the_limit_is_some_seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.undo()
    assert 4 <= effort.MOST_SECONDS <= 10


def test_a_column_of_them_gives_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(effort, "MOST_SECONDS", 0.01)
    monkeypatch.setattr(effort, "A_ROW", 0.0)
    name, (gas, volume, *rest) = HARD[0]
    column = [[volume * (1 + row / 1000)] for row in range(1000)]
    told = worksheet_function_named(name).cells(gas, column, *rest)
    sentences = [row[0].message for row in told]
    assert all("no answer within" in sentence for sentence in sentences[:3])
    assert all("not tried: 3 rows" in sentence for sentence in sentences[3:])
