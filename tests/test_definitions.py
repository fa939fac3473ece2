"""A definition with a gap is refused at import, in a sentence that says what to do."""

from __future__ import annotations

from typing import Annotated

import pytest

from gasfuncs.definition import vocabulary as v
from gasfuncs.definition import worksheet_function
from gasfuncs.definition.terms import Symbol
from gasfuncs.errors import DefinitionError


def test_two_arguments_with_one_symbol_are_refused() -> None:
    with pytest.raises(DefinitionError, match="before and after are both 'p'; give one Annotated"):

        @worksheet_function(
            equation="r = p / p", sources=("none",), example=("GAS_RATIO(1, 2)", "0.5")
        )
        def ratio(before: v.Pressure, after: v.Pressure) -> v.PlainNumber:
            """Ratio of two pressures."""
            return before / after


def test_own_symbols_tell_them_apart() -> None:
    @worksheet_function(
        equation="r = p₁ / p₂", sources=("none",), example=("GAS_RATIO(1, 2)", "0.5")
    )
    def ratio(
        before: Annotated[v.Pressure, Symbol("p₁")], after: Annotated[v.Pressure, Symbol("p₂")]
    ) -> v.PlainNumber:
        """Ratio of two pressures."""
        return before / after

    symbols = [p.term.symbol for p in ratio.definition.parameters]  # type: ignore[attr-defined]
    assert symbols == ["p₁", "p₂"]
