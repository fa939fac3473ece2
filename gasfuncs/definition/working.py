"""Intermediate values that a calculation shows when somebody asks for its working."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Step:
    """One intermediate value, in SI."""

    what: str
    symbol: str
    value: Any
    unit: str


_asked: ContextVar[list[Step] | None] = ContextVar("working", default=None)


def step(what: str, symbol: str, value: Any, unit: str = "") -> None:
    """Mark an intermediate value worth showing; nothing is kept unless somebody asked."""
    steps = _asked.get()
    if steps is not None:
        steps.append(Step(what, symbol, value, unit))


def is_recorded() -> bool:
    """Whether somebody asked: for what is not worked out otherwise."""
    return _asked.get() is not None


@contextmanager
def recorded() -> Iterator[list[Step]]:
    """Ask for the working of the calculations in this block."""
    steps: list[Step] = []
    token = _asked.set(steps)
    try:
        yield steps
    finally:
        _asked.reset(token)
