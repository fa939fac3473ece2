"""Roots of functions of columns, each row on its own."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

MOST_STEPS = 60
CLOSE = 1e-12
"""Relative: what is found moved no more in its last step."""


def secant(function: Callable[[Any], Any], old: Any, new: Any) -> Any:
    """Where a function of a column is zero, by the secant method from two places on."""
    was, now = function(old), function(new)
    for _ in range(MOST_STEPS):
        moving = np.abs(new - old) > CLOSE * np.abs(new)
        if not moving.any():
            break
        slope = np.where(moving, now - was, 1.0)
        old, new = new, np.where(moving, new - now * (new - old) / slope, new)
        was, now = now, function(new)
    return new


def rounds(
    step: Callable[..., tuple[tuple[Any, ...], Any]], start: tuple[Any, ...], most: int
) -> tuple[Any, ...]:
    """What a step makes of columns, again and again until it says of no row that it moved."""
    return settled(step, start, most)[0]


def settled(
    step: Callable[..., tuple[tuple[Any, ...], Any]], start: tuple[Any, ...], most: int
) -> tuple[tuple[Any, ...], bool]:
    """The same, and whether no row moves any more."""
    state, moving = start, np.ones(np.shape(start[0]), dtype=bool)
    for _ in range(most):
        new, moved = step(*state)
        state = tuple(np.where(moving, *both) for both in zip(new, state, strict=True))
        moving = moving & moved
        if not moving.any():
            return state, True
    return state, False
