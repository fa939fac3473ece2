"""The limit of a tightness test: a leak rate, or a rate of rise of the vessel's pressure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from gasfuncs.definition.terms import Cell, Quantity, to_si
from gasfuncs.errors import UnitError
from gasfuncs.properties import Gas
from gasfuncs.units import split_quantity
from gasfuncs.units.kinds import RISE_RATE


@dataclass(frozen=True)
class Limit:
    """What a tightness test allows, in SI."""

    value: float
    is_rise: bool = False

    def leak(self, volume: Any) -> Any:
        """As a leak rate of a vessel."""
        return self.value * volume if self.is_rise else self.value


@dataclass(frozen=True)
class LimitTerm(Quantity):
    """A leak rate as a number or text, or text with a rate of rise."""

    numeric = False

    def read(self, value: Cell, gas: Gas | None = None) -> Limit:  # type: ignore[override]
        try:
            return Limit(super().read(value, gas))
        except UnitError as error:
            number, label = split_quantity(value)
            try:
                rise = float(to_si(number, RISE_RATE.unit(label), None))
            except UnitError:
                raise UnitError(
                    f"{error.sentence}; or a rate of rise in {', '.join(RISE_RATE.examples)}"
                ) from None
            self.checked(number)
            return Limit(rise, is_rise=True)

    def allowed(self) -> str:
        return f"{super().allowed()}; or a rate of rise in {', '.join(RISE_RATE.examples)}"
