"""Sums of items by group, such as months by the period that they lie in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


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
