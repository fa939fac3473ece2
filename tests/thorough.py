"""How much is tried of what is random or alike: a part in every run, all of it before a release.

`GASFUNCS_THOROUGH=1` tries all.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import TypeVar

THOROUGH = "GASFUNCS_THOROUGH" in os.environ

T = TypeVar("T")


def tries(some: int, every: int) -> int:
    """How many random tries, in every run and before a release."""
    return every if THOROUGH else some


def part(values: Iterable[T], stride: int, start: int = 0) -> list[T]:
    """Of values that are much alike, every so manieth."""
    every = list(values)
    return every if THOROUGH else every[start::stride]
