"""Where a gauge reads over thinner air: every function whose answer moves by 1 % says so."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from gasfuncs.calculations.conditions import site_pressure
from gasfuncs.definition import Definition, Parameter
from gasfuncs.definition.altitude import ALTITUDE
from gasfuncs.definition.series import Series
from gasfuncs.definition.terms import Quantity
from gasfuncs.hosts import formula
from gasfuncs.registry import worksheet_functions
from gasfuncs.units import ATMOSPHERE, kinds

ALTITUDE_METRES = 1600.0
MOVED = 0.01
THINNER = float(ATMOSPHERE - site_pressure(ALTITUDE_METRES))
"""Pa by which a gauge reading stands for less there."""


def pressure_of(parameter: Parameter) -> Quantity | None:
    """The pressure that an argument, or each cell of its range, is."""
    term = parameter.term.each if isinstance(parameter.term, Series) else parameter.term
    return term if isinstance(term, Quantity) and term.kind is kinds.PRESSURE else None


def lowered(term: Quantity, value: Any) -> Any:
    """A pressure, or a range of them, as the same gauge means it at altitude; a vacuum as it is."""
    if isinstance(value, list | tuple):
        return [lowered(term, each) for each in value]
    if value is None:
        return None
    absolute = term.read(value)
    there = absolute - THINNER if absolute >= 0.99 * ATMOSPHERE else absolute
    return f"{there!r} Pa"


def numbers(answer: Any) -> Iterator[float]:
    if isinstance(answer, list | tuple | np.ndarray):
        for each in answer:
            yield from numbers(each)
    elif isinstance(answer, int | float) and not isinstance(answer, bool):
        yield float(answer)


def example(definition: Definition) -> list[Any]:
    """The arguments of the outermost call of a definition's example."""
    calls: list[list[Any]] = []

    def note(function: Definition, arguments: list[Any]) -> Any:
        calls.append(arguments)
        return function.cells(*arguments)

    formula.read_call(definition.example.formula, note)
    return calls[-1]


def moved(definition: Definition) -> float:
    """By how much, relative, an example moves where gauges at 1,600 m read its pressures."""
    here = dict(zip((p.name for p in definition.parameters), example(definition), strict=False))
    there = dict(here)
    for parameter in definition.parameters:
        term = pressure_of(parameter)
        if term and parameter.name in here:
            there[parameter.name] = lowered(term, here[parameter.name])
    if there == here:
        return 0.0
    sides = [list(numbers(definition.cells(*given.values()))) for given in (here, there)]
    if not sides[1] or len(sides[0]) != len(sides[1]):
        return np.inf
    return max((abs(b - a) / max(abs(a), 1e-30) for a, b in zip(*sides, strict=True)), default=0.0)


FUNCTIONS = [each for each in worksheet_functions().values() if each.topic != "explain"]


@pytest.mark.parametrize("definition", FUNCTIONS, ids=lambda d: d.name)
def test_a_function_that_moves_at_altitude_says_so(definition: Definition) -> None:
    asks = any(parameter.name == "site_pressure" for parameter in definition.parameters)
    if not asks and moved(definition) > MOVED:
        assert ALTITUDE in definition.cautions


@pytest.mark.parametrize("name", ["GAS_DENSITY", "GAS_BACKFILL", "GAS_SWEEP_USE", "GAS_DECAY_LEAK"])
def test_these_move(name: str) -> None:
    """So that the test above is not empty."""
    assert moved(worksheet_functions()[name]) > MOVED


@pytest.mark.parametrize("name", ["GAS_FROM_LIQUID", "GAS_TANK_STOCK", "GAS_ROOM_OXYGEN"])
def test_these_hardly_move_or_ask(name: str) -> None:
    assert ALTITUDE not in worksheet_functions()[name].cautions
    assert moved(worksheet_functions()[name]) < MOVED


def test_a_backfill_to_nought_gauge_is_a_fifth_less() -> None:
    """Vacuum to 0 psig at 1,600 m: 21 % more is reckoned at sea level's air (0.835 bar)."""
    backfill = worksheet_functions()["GAS_BACKFILL"]
    here = backfill("nitrogen", 2.5, "0.01 mbar", "0 psig", 20)
    there = backfill("nitrogen", 2.5, "0.01 mbar", site_pressure(ALTITUDE_METRES) / 1e5, 20)
    assert here / there - 1 == pytest.approx(0.213, abs=0.001)
