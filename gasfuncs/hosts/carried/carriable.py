"""Which functions are carried: those whose calculation can be recorded."""

from __future__ import annotations

from gasfuncs.hosts.carried.reasons import REASONS
from gasfuncs.registry import worksheet_functions


def carried_functions() -> tuple[str, ...]:
    """The names of the functions that formulas carry, in reading order."""
    return tuple(name for name in worksheet_functions() if name not in REASONS)


def why_not(name: str) -> str:
    """Why no formula carries a function, "" where one does."""
    if name not in worksheet_functions():
        return "it is no function of this version"
    return REASONS.get(name, "")
