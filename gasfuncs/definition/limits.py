"""The limit of a tightness test: a leak rate, or a rate of rise of the vessel's pressure."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass
from typing import Any

from gasfuncs.definition.terms import Cell, Quantity, Term
from gasfuncs.errors import UnitError
from gasfuncs.properties import Gas


@dataclass(frozen=True)
class Limit:
    """What a tightness test allows, in SI."""

    value: float
    is_rise: bool = False

    def leak(self, volume: Any) -> Any:
        """As a leak rate of a vessel."""
        return self.value * volume if self.is_rise else self.value


@dataclass(frozen=True)
class LimitTerm(Term):
    """A leak rate as a number or text, or text with a rate of rise."""

    _: KW_ONLY
    leak: Quantity
    rise: Quantity

    @property
    def unit_label(self) -> str:  # type: ignore[override]
        return self.leak.unit_label

    def read(self, value: Cell, gas: Gas | None = None) -> Limit:
        try:
            return Limit(self.leak.read(value))
        except UnitError as error:
            try:
                return Limit(self.rise.read(value), is_rise=True)
            except UnitError:
                also = ", ".join(self.rise.kind.examples)
                raise UnitError(f"{error.sentence}; or a rate of rise in {also}") from None

    def allowed(self) -> str:
        return f"{self.leak.allowed()}; or a rate of rise in {', '.join(self.rise.kind.examples)}"
