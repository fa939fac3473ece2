"""Answers that take long, kept for the next cell or calculation that asks the same."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from itertools import chain
from typing import Any

from gasfuncs.definition.ranges import is_range

MOST_CELLS = 200_000
"""Of one function's answers and what was asked with; then all of them are forgotten."""


class Kept:
    """The last answers of a function, by its arguments.

    Cells that take one place each of the same table make the same call, and a book that is
    calculated anew makes most of its calls again: each is computed once.
    """

    def __init__(self) -> None:
        self._answers: dict[Hashable, Any] = {}
        self._room = MOST_CELLS

    def answer(self, arguments: Sequence[Any], ask: Callable[[], Any]) -> Any:
        """The answer to these arguments, asked for if it is not there."""
        if _are_many(arguments):
            return ask()
        key = tuple(map(_told_apart, arguments))
        try:
            hash(key)
        except TypeError:  # no value that a cell can hold: it is refused by its argument
            return ask()
        if key in self._answers:
            return _copied(self._answers[key])
        found = ask()
        size = _cells(arguments) + _cells(found)
        if size > MOST_CELLS:
            return found
        if size > self._room:
            self._answers, self._room = {}, MOST_CELLS
        self._answers[key] = _copied(found)
        self._room -= size
        return found


def _are_many(arguments: Sequence[Any]) -> bool:
    """Whether there are too many cells to keep; no more of them are looked at than tells it."""
    count = 0
    for row in chain.from_iterable(filter(is_range, arguments)):
        count += len(row) if is_range(row) else 1
        if count > MOST_CELLS:
            return True
    return False


def _told_apart(argument: Any) -> Hashable:
    """An argument with its types: 1 is not TRUE, and a line is not a column."""
    if not is_range(argument):
        return argument.__class__, argument
    if not all(isinstance(row, list) for row in argument):
        return tuple(map(_told_apart, argument))
    cells = tuple(chain.from_iterable(argument))
    return tuple(map(len, argument)), tuple(map(type, cells)), cells


def _cells(value: Any) -> int:
    return sum(map(_cells, value)) if is_range(value) else 1


def _copied(answer: Any) -> Any:
    return [list(row) for row in answer] if isinstance(answer, list) else answer
