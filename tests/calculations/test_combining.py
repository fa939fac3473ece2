"""Verdicts by how often they are wrong, and reconciled values against another way to them."""

from __future__ import annotations

import math

import GTC
import numpy as np
import pytest

import gasfuncs
from gasfuncs.calculations.combining import combine, conforms, detectable, reconcile
from gasfuncs.calculations.reconciling import Reconciled, reconciled
from gasfuncs.errors import GasFuncsError
from gasfuncs.registry import worksheet_functions

TESTS = 20_000
SCATTER = 4 * math.sqrt(0.05 * 0.95 / TESTS)
"""Four standard deviations of the counted share."""


def test_a_sum_is_that_of_a_library_of_the_guide() -> None:
    """GTC (an independent library): two loads of one volume, deliveries by few readings."""
    volume = GTC.ureal(1, 0.03 / math.sqrt(3))
    total = 1550 * volume + 1490 * volume + GTC.ureal(-900, 20, 7) + GTC.ureal(-100, 5, 3)
    tolerances = ("±3 % volume", "±3 % volume", "u 20 df=7", "u 5 df=3")
    first = combine(np.array([1550.0, 1490.0, -900.0, -100.0]), tolerances)[1]
    assert first[2:4] == pytest.approx([total.x, total.u])
    assert first[6] == pytest.approx(total.df)


@pytest.mark.parametrize("kind", ["at most", "at least"])
def test_a_value_at_its_limit_is_judged_wrongly_as_often_as_the_risk(kind: str) -> None:
    random = np.random.default_rng(106)
    told = np.asarray(conforms(100 + random.normal(0, 3, TESTS), 3.0, 100.0, kind))
    assert abs(np.mean(told == "yes") - 0.05) < SCATTER
    assert abs(np.mean(told == "no") - 0.05) < SCATTER


def test_the_unit_that_values_are_told_in_moves_no_suspect() -> None:
    """Nm³ or millions of them: tests and suspects are numbers of standard deviations."""
    balances = np.array([[1.0, -1.0, -1.0]])
    read, covariance = np.array([1000.0, 400.0, 500.0]), np.diag([20.0, 10.0, 5.0]) ** 2
    whole = reconciled(read, covariance, balances)
    for scale in (1e-9, 1e-6, 1e6):
        small = reconciled(scale * read, scale**2 * covariance, balances)
        assert small.tests == pytest.approx(whole.tests, rel=1e-9)
        assert small.tests.min() > 1
        assert small.suspects == whole.suspects


def test_few_degrees_of_freedom_keep_the_risk() -> None:
    """The uncertainty itself is from four readings: Student's t keeps the risk, a normal one no."""
    random = np.random.default_rng(7)
    readings = 100 + random.normal(0, 3, (4, TESTS))
    means, errors = readings.mean(axis=0), readings.std(axis=0, ddof=1) / 2
    told = np.asarray(conforms(means, errors, 100.0, "at most", 0.05, np.full(TESTS, 3.0)))
    plain = np.asarray(conforms(means, errors, 100.0))
    assert abs(np.mean(told == "yes") - 0.05) < SCATTER
    assert np.mean(plain == "yes") > 0.08


def test_what_is_detectable_is_missed_and_invented_as_often_as_the_risk() -> None:
    random = np.random.default_rng(68)
    least, threshold = float(detectable(2.0)), float(detectable(2.0)) / 2
    assert abs(np.mean(random.normal(0, 2, TESTS) > threshold) - 0.05) < SCATTER
    assert abs(np.mean(random.normal(least, 2, TESTS) <= threshold) - 0.05) < SCATTER


FLOWS = np.array([100.0, 60.0, 40.0, 25.0, 15.0])
BALANCES = np.array([[1.0, -1, -1, 0, 0], [0, 0, 1, -1, -1]])
SIZES = np.array([2.0, 1.0, 1.5, 0.5, 0.8])


def test_reconciled_values_solve_the_equations_of_lagrange() -> None:
    """The least weighted squares under the balances, as one linear system."""
    random = np.random.default_rng(1)
    read = FLOWS + random.normal(0, SIZES)
    covariance = np.diag(SIZES**2)
    weights = np.linalg.inv(covariance)
    system = np.block([[weights, BALANCES.T], [BALANCES, np.zeros((2, 2))]])
    theirs = np.linalg.solve(system, np.concatenate([weights @ read, np.zeros(2)]))[:5]
    found = reconciled(read, covariance, BALANCES)
    assert found.values == pytest.approx(theirs, rel=1e-10)
    assert BALANCES @ found.values == pytest.approx(np.zeros(2), abs=1e-9)


def test_the_test_of_the_whole_fails_as_often_as_it_says_and_the_bands_hold() -> None:
    random = np.random.default_rng(2048)
    covariance, count = np.diag(SIZES**2), 4_000
    fails, held = 0, np.zeros(5)
    for read in FLOWS + random.normal(0, 1, (count, 5)) * SIZES:
        found = reconciled(read, covariance, BALANCES)
        fails += not found.passes
        held += np.abs(found.values - FLOWS) <= 1.959964 * found.uncertainties
    allowed = 4 * math.sqrt(0.05 * 0.95 / count)
    assert abs(fails / count - 0.05) < allowed
    assert np.abs(held / count - 0.95).max() < allowed


def test_a_gross_error_is_found_where_it_is() -> None:
    random, found = np.random.default_rng(3), 0
    for _ in range(200):
        read = FLOWS + random.normal(0, 1, 5) * SIZES
        read[2] += 10 * SIZES[2]
        rows = reconcile(read, tuple(f"u {size}" for size in SIZES), BALANCES)
        found += rows[2][1] == "value 3"
    assert found >= 190


def test_as_many_values_are_combined_as_is_said_and_no_more() -> None:
    assert gasfuncs.GAS_COMBINE(np.ones(5000), [""] * 5000)[1][2] == 5000
    with pytest.raises(GasFuncsError, match="holds 5001, more than 5000; sum them in parts"):
        gasfuncs.GAS_COMBINE(np.ones(5001), "±1")


def test_as_many_values_are_reconciled_as_is_said_and_no_more() -> None:
    """The sum of 500 values is to be zero: each takes its share of it."""
    balance = [[1.0] * 500]
    assert gasfuncs.GAS_RECONCILE(np.ones(500), "u 1", balance)[4][4] == pytest.approx(0, abs=1e-9)
    with pytest.raises(GasFuncsError, match="holds 501, more than 500"):
        gasfuncs.GAS_RECONCILE(np.ones(501), "u 1", [[1.0] * 501])


def test_a_column_of_verdicts_has_one_a_row() -> None:
    verdicts = worksheet_functions()["GAS_CONFORMS"]
    told = verdicts.cells([[90.0], ["high"], [99.0], [120.0]], 5.0, 100.0)
    assert [row[0] for row in told][::2] == ["yes", "cannot tell"]
    assert "value" in told[1][0].message
    assert told[3][0] == "no"


def test_suspects_are_those_within_a_hundredth_of_the_largest_test() -> None:
    nothing, tests = np.zeros(4), np.array([100.0, 98.95, 99.05, 50.0])
    assert Reconciled(nothing, nothing, tests, 9.0, 1.0).suspects == [0, 2]
    assert Reconciled(nothing, nothing, tests, 0.9, 1.0).suspects == []
