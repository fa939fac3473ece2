"""Backfills and cycles: what a range of cells may hold, and balances."""

from typing import Any

import numpy as np
import pytest

import gasfuncs
from gasfuncs import properties
from gasfuncs.calculations import backfill as topic
from gasfuncs.calculations.cycle_steps import CycleStep, read_steps
from gasfuncs.calculations.volume import contents
from gasfuncs.definition import recorded
from gasfuncs.definition.altitude import ALTITUDE
from gasfuncs.errors import CellError, GasFuncsError, ShapeError, StateError
from gasfuncs.registry import worksheet_function_named

ARGON = properties.gas("argon")
BACKFILL = CycleStep(1, "backfill", 1.0, 80_000.0)


def test_backfill_is_what_the_vessel_holds_more() -> None:
    low, high = np.array([0.0, 1.0, 50_000.0]), np.array([80_000.0, 2e5, 10e5])
    more = topic.backfill(ARGON, 2.5, low, high, 293.15)
    before, after = (contents(ARGON, 2.5, p, 293.15) for p in (low, high))
    np.testing.assert_allclose(before + more, after, rtol=1e-14)


@pytest.mark.parametrize(
    "cells",
    [
        [["backfill", 1e-5, 0.8, None, None, None, None]],
        [("backfill", "0,01 mbar", "0.8 bar(a)", "", " ", 0, 1)],
        np.array([["Backfill", 1e-5, 0.8, 20, None, None, 1]], dtype=object),
        np.array([["BACKFILL", "0.01 mbar", "0,8 bar(a)"]]),
        ["backfill", 1e-5, 0.8],
    ],
)
def test_blanks_and_kinds_of_range(cells: Any) -> None:
    (found,) = read_steps(cells, ARGON)
    assert (found.kind, found.row, found.temperature, found.repeats) == ("backfill", 1, 293.15, 1)
    assert (found.pressure_from, found.pressure_to) == pytest.approx((1.0, 80_000.0))


def test_headings_and_blank_rows_keep_the_row_numbers() -> None:
    blank = [None] * 3
    rows = [["Kind", "From", "To"], blank, ["backfill", 0, 1], blank, ["hold", 0.005, None]]
    with pytest.raises(GasFuncsError, match=r"row 5, rate: is blank; a hold needs"):
        read_steps(rows, ARGON)
    assert [step.row for step in read_steps(rows[:4], ARGON)] == [3]


def test_rates_of_a_flow_are_amounts_of_the_gas() -> None:
    (flow,) = read_steps([["flow", None, None, None, "10 scfm", "1 min"]], ARGON)
    one_scf = contents(ARGON, 0.028316846592, 14.696 * 6894.757293168361, 294.2611111111111)
    assert flow.rate * flow.duration == pytest.approx(10 * float(one_scf), rel=1e-12)


def test_an_error_in_a_step_is_handed_on() -> None:
    cells = worksheet_function_named("GAS_CYCLE").cells
    assert str(cells("argon", 2.5, [["backfill", CellError("#REF!"), 1]])) == "#REF!"


def test_refusals_of_the_gas_name_the_row() -> None:
    cold = CycleStep(4, "backfill", 1.0, 2e5, temperature=84.0)
    with pytest.raises(StateError, match="row 4: argon at 2 bar") as refused:
        topic.cycle(ARGON, 2.5, (BACKFILL, cold))
    assert refused.value.argument == "steps"


def test_every_step_shows_in_the_working() -> None:
    hold = CycleStep(2, "hold", 500.0, rate=0.2, duration=3600.0, repeats=2)
    with recorded() as shown:
        total = topic.cycle(ARGON, 2.5, (BACKFILL, hold))
    parts = [each.value for each in shown if each.what.startswith("gas of step")]
    assert sum(parts) == pytest.approx(float(total), rel=1e-14)
    assert parts[1] == pytest.approx(2 * float(topic.hold_use(ARGON, 500.0, 0.2, 3600.0)))


def test_a_step_repeated_is_the_same_row_again() -> None:
    twice = CycleStep(1, "backfill", 1.0, 80_000.0, repeats=2)
    assert topic.cycle(ARGON, 2.5, (twice,)) == pytest.approx(
        float(topic.cycle(ARGON, 2.5, (BACKFILL, BACKFILL)))
    )
    off = CycleStep(1, "backfill", 1.0, 80_000.0, repeats=0)
    assert topic.cycle_steps(ARGON, 2.5, (off,)) == [[1.0, "backfill", 0.0, 0.0, 0.0]]


def test_rows_of_unequal_length_are_refused() -> None:
    """A spreadsheet cannot make such a range, a line of Python can."""
    with pytest.raises(ShapeError, match="equally long"):
        gasfuncs.GAS_CYCLE("argon", 2.5, [["backfill", 0, 2], ["backfill", 0, 2, 20]])


def test_a_thousand_steps_are_a_cycle() -> None:
    row = ["flow", None, None, None, 1, 1]
    assert len(list(read_steps([row] * 1000, ARGON))) == 1000
    with pytest.raises(GasFuncsError, match="1000"):
        read_steps([row] * 1001, ARGON)


def test_a_cycle_of_gauge_pressures_says_that_the_altitude_counts() -> None:
    assert ALTITUDE in worksheet_function_named("GAS_CYCLE").cautions
