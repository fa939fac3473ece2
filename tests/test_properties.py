"""What holds for every function, whatever its arguments; the registry says what there is."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from gasfuncs.definition import Definition, Quantity
from gasfuncs.definition.terms import from_si, to_si
from gasfuncs.errors import CellError, GasFuncsError
from gasfuncs.registry import worksheet_functions
from tests.arguments import US_UNITS, Call, calls, wrong_calls
from tests.thorough import tries

FUNCTIONS = list(worksheet_functions().values())
ROWS = 4

SLOW = ("GAS_LINE_BORE", "GAS_BACKFILL_TIME", "GAS_BACKFILL_CURVE", "GAS_PUMPDOWN_TIME")
"""Tenths of a second a call."""


def examples(definition: Definition) -> settings:
    """The same examples on every run; fewer of what integrates or spills."""
    many = tries(3, 12) if definition.scalar else tries(5, 24)
    return settings(
        max_examples=tries(2, 4) if definition.name in SLOW else many,
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.generate],
    )


def each(*functions: Definition) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("definition", functions, ids=lambda d: d.name)


def answer(call: Call) -> Any:
    """The answer, or None where the call is refused; any other exception is a failure."""
    try:
        return call.definition(*call.arguments())
    except GasFuncsError:
        return None


def numbers(value: Any) -> list[float]:
    """The numbers in an answer or a table."""
    if isinstance(value, list):
        return [number for part in value for number in numbers(part)]
    return [value] if isinstance(value, int | float) else []


@each(*FUNCTIONS)
def test_answers_are_finite_and_most_calls_near_the_example_answer(definition: Definition) -> None:
    answered = []

    @examples(definition)
    @given(calls(definition))
    def run(call: Call) -> None:
        found = answer(call)
        answered.append(found is not None)
        assert all(math.isfinite(number) for number in numbers(found))

    run()
    assert sum(answered) >= 0.2 * len(answered), "the generator makes too few calls that hold"


@each(*FUNCTIONS)
def test_only_our_own_errors_leave_a_call(definition: Definition) -> None:
    @examples(definition)
    @given(wrong_calls(definition))
    def run(call: Call) -> None:
        assert all(math.isfinite(number) for number in numbers(answer(call)))
        told = definition.cells(*call.arguments())
        assert "failed (" not in str(getattr(told, "message", ""))

    run()


@each(*(d for d in FUNCTIONS if not d.spills and any(not p.whole for p in d.parameters)))
def test_ranges_are_their_cells(definition: Definition) -> None:
    """A column of calls, some of them wrong, answers as each of them does by itself.

    What all rows share comes from the first one: it or the others are wrong, as of two faults in a
    row either may be told.
    """
    near, wrong = calls(definition), wrong_calls(definition)
    others = ROWS - 1

    @examples(definition)
    @given(
        st.one_of(
            st.tuples(near, *[st.one_of(near, wrong)] * others), st.tuples(wrong, *[near] * others)
        )
    )
    def run(rows: tuple[Call, ...]) -> None:
        columns = {
            p.name: rows[0].cells[p.name] if p.whole else [[_cell(r.cells[p.name])] for r in rows]
            for p in definition.parameters
        }
        spread = definition.cells(*Call(definition, columns).arguments())
        whole = [[spread]] * ROWS if isinstance(spread, CellError) else spread
        for row, (found,) in zip(rows, whole, strict=True):
            same = {p.name: rows[0].cells[p.name] for p in definition.parameters if p.whole}
            alone = {name: _cell(value) for name, value in row.cells.items()}
            expected = definition.cells(*Call(definition, alone | same).arguments())
            assert _same(found, expected), f"{found} in the range, {expected} alone"

    run()


def _cell(value: Any) -> Any:
    """A range inside a range is no cell."""
    return None if isinstance(value, list) else value


def _same(found: Any, expected: Any) -> bool:
    """The same error value, or the same number to twelve digits."""
    if isinstance(found, CellError) and isinstance(expected, CellError):
        return found.code == expected.code
    if isinstance(found, float) and isinstance(expected, int | float):
        return math.isclose(found, expected, rel_tol=1e-12)
    return type(found) is type(expected) and found == expected


@each(*(d for d in FUNCTIONS if any(isinstance(p.term, Quantity) for p in d.parameters)))
def test_units_do_not_matter(definition: Definition) -> None:
    """The same call with its quantities told as text in US units."""

    @examples(definition)
    @given(calls(definition))
    def run(call: Call) -> None:
        assume(not call.at_an_end)
        found, other = answer(call), answer(call.in_us_units())
        assert (found is None) == (other is None)
        assert numbers(found) == pytest.approx(numbers(other), rel=1e-9, abs=1e-300)

    run()


@each(*(d for d in FUNCTIONS if isinstance(d.result, Quantity)))
def test_the_unit_of_the_answer_is_only_its_unit(definition: Definition) -> None:
    term = definition.result
    assert isinstance(term, Quantity)
    unit = term.kind.unit(US_UNITS[term.kind])

    @examples(definition)
    @given(calls(definition))
    def run(call: Call) -> None:
        plain = answer(Call(definition, call.cells | {"unit": None}))
        told = answer(Call(definition, call.cells | {"unit": unit.label}))
        if plain is None or told is None:
            assert plain is told
            return
        gas = call.gas(term)
        assert from_si(to_si(told, unit, gas), term.default, gas) == pytest.approx(
            plain, rel=1e-9, abs=1e-9
        )

    run()
