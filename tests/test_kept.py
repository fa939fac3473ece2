"""What cells ask for again is computed once and is not mixed up."""

from __future__ import annotations

from typing import Any

import pytest

from gasfuncs.definition.keeping import MOST_CELLS, Kept
from gasfuncs.registry import worksheet_function_named


class Asked:
    """Counts how often it is asked, and answers a table with the count."""

    def __init__(self) -> None:
        self.times = 0

    def __call__(self) -> list[list[Any]]:
        self.times += 1
        return [[self.times]]


def test_the_same_arguments_are_asked_once() -> None:
    kept, asked = Kept(), Asked()
    one = kept.answer(("argon", [[1.0, 2.0]]), asked)
    one[0][0] = "changed by its owner"
    assert kept.answer(("argon", [[1.0, 2.0]]), asked) == [[1]]
    assert asked.times == 1


def test_arguments_that_only_look_alike_are_told_apart() -> None:
    kept, asked = Kept(), Asked()
    for argument in (1, True, "1", [[1]], [[True]], [1], None, [[1, 1]], [[1], [1]]):
        kept.answer((argument,), asked)
    assert asked.times == 9


def test_what_is_kept_has_an_end() -> None:
    kept, asked = Kept(), Asked()
    large = [0.0] * (MOST_CELLS // 2)
    for number in range(4):
        kept.answer((number, large), asked)
    assert len(kept._answers) == 1
    kept.answer((large, large, large), asked)
    assert len(kept._answers) == 1


class NeverLookedAt(float):
    """A cell of a range that is too large to be kept."""

    def __hash__(self) -> int:
        raise AssertionError("looked at")


def test_what_is_too_large_to_be_kept_is_not_looked_through() -> None:
    kept, asked = Kept(), Asked()
    column = [[NeverLookedAt()]] * (MOST_CELLS + 1)
    for times in (1, 2):
        assert kept.answer(("argon", column), asked) == [[times]]


def test_a_function_with_a_table_keeps_it() -> None:
    curve = worksheet_function_named("GAS_VENT_FILL_TABLE")
    arguments = ("argon", 2.5, "1 mbar", 1.2, "209500 ppm", "10 ppm")
    first = curve.cells(*arguments)
    assert isinstance(first, list), first
    assert curve.cells(*arguments) == first
    assert curve.cells(*arguments) is not first


def test_a_function_that_integrates_keeps_its_answers() -> None:
    time = worksheet_function_named("GAS_BACKFILL_TIME")
    call = ("argon", 10, 16, 2.5, "0.01 mbar", 6, 25, 6, 8)
    volumes = [[2.4], [2.5], [-1.0]]
    column = (*call[:3], volumes, *call[4:])
    time.__dict__.pop("kept", None)
    assert time.cells(*call) == time.cells(*call)
    assert time.cells(*column) == time.cells(*column)
    assert len(time.kept._answers) == 2
    assert time.cells(*column)[1][0] == pytest.approx(time.cells(*call), rel=1e-9)
