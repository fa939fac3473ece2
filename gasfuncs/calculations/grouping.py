"""Items worked out one by one, added up by group, or each with those before it.

Carried books have a formula of their own for each of these functions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import accumulate
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Row = TypeVar("Row")
Made = TypeVar("Made")


def sums_of(groups: NDArray[np.int64], values: Array) -> Array:
    """Of each item the sum of its whole group; groups are counted from 0."""
    return np.asarray(np.bincount(groups, weights=values)[groups])


def sums_before(groups: NDArray[np.int64], values: Array) -> Array:
    """Of each item the sum of those before it in its group."""
    before, sums = np.zeros(len(values)), dict[int, float]()
    for place, (group, value) in enumerate(zip(groups.tolist(), values.tolist(), strict=True)):
        before[place] = sums.get(group, 0.0)
        sums[group] = before[place] + value
    return before


def or_nan(value: Any) -> Any:
    """A value, or what is not a number where there is none."""
    return np.nan if value is None else value


def by_word(word: str, numbers: Mapping[str, int]) -> int:
    """The number that goes with a word."""
    return numbers[word]


def by_row(rows: Iterable[Row], make: Callable[[int, Row], Made]) -> list[Made]:
    """What comes of each row by its number, counted from 1."""
    return [make(number, row) for number, row in enumerate(rows, 1)]


def accumulated(values: Array, step: Callable[[Any, Any], Any], start: Any) -> Array:
    """What a step makes of each value and of what it made of those before, from a start."""
    return np.array(list(accumulate(values.tolist(), step, initial=start))[1:])


def those(rows: list[Row], where: list[bool]) -> list[Row]:
    """The rows for which something is true."""
    return [row for row, true in zip(rows, where, strict=True) if true]
