"""A reading that an instrument may tell as below its range only, such as "<20"."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, replace

from gasfuncs.definition.terms import Cell, Quantity, Term
from gasfuncs.properties import Gas

MARKS = ("<=", "<", "≤", "below")


@dataclass(frozen=True)
class Measured:
    """A reading in SI; `below` where it is known to be no more than this."""

    value: float
    below: bool = False


@dataclass(frozen=True)
class MeasuredTerm(Term):
    """A number, or text with a unit, or either behind a "<"."""

    _: KW_ONLY
    of: Quantity

    @property
    def unit_label(self) -> str:  # type: ignore[override]
        return self.of.unit_label

    def read(self, value: Cell, gas: Gas | None = None) -> Measured:
        typed = value.strip() if isinstance(value, str) else ""
        mark = next((mark for mark in MARKS if typed.lower().startswith(mark)), "")
        if not mark:
            return Measured(self.of.read(value, gas))
        above_zero = replace(self.of, low=None, above=0.0)
        return Measured(above_zero.read(typed[len(mark) :].strip(), gas), below=True)

    def allowed(self) -> str:
        return f'{self.of.allowed()}; or "<20 {self.of.unit_label}" where it is off the scale'
