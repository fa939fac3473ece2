"""A worksheet function: its record, and calling it from Python or from a cell."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from gasfuncs.definition import evaluate
from gasfuncs.definition.keeping import Kept
from gasfuncs.definition.record import Record


class Definition(Record):
    """A worksheet function, to be asked as its record says."""

    @cached_property
    def kept(self) -> Kept:
        """What cells asked for last, of a function that takes long or answers tables."""
        return Kept()

    def __call__(self, *arguments: Any, **named: Any) -> Any:
        """The answer as Python wants it; raises a GasFuncsError where a cell would show one."""
        return evaluate.answer(self, arguments, named)

    def cells(self, *arguments: Any) -> Any:
        """The answer as a spreadsheet wants it: a value or rows of values, never an exception."""
        if self.scalar or self.integrates:
            return self.kept.answer(arguments, lambda: evaluate.cells(self, arguments))
        return evaluate.cells(self, arguments)
