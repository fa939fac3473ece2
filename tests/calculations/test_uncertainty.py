"""Bands against printed examples of the GUM and its supplement, a library of the GUM, and truth."""

from __future__ import annotations

import math
from typing import Any

import GTC
import numpy as np
import pytest
import scipy.stats

from gasfuncs.calculations import propagation
from gasfuncs.calculations.effort import MOST_SECONDS
from gasfuncs.calculations.propagation import Array, Reading, propagated, trial_count
from gasfuncs.definition import Definition
from gasfuncs.definition.terms import Count, Number, Quantity
from gasfuncs.definition.tolerances import Part
from gasfuncs.errors import CellError, GasFuncsError
from gasfuncs.explain import uncertainty
from gasfuncs.explain.band import call_of, number_term
from gasfuncs.registry import worksheet_functions
from gasfuncs.units import kinds
from tests.arguments import example

FUNCTIONS = worksheet_functions()
UNCERTAINTY = FUNCTIONS["GAS_UNCERTAINTY"]
NUMBERS = [
    definition
    for definition in FUNCTIONS.values()
    if isinstance(definition.result, Number)
    and not any(parameter.variadic for parameter in definition.parameters)
    and definition.name not in ("GAS_GRADE_IMPURITY", "GAS_EXPANSION")
]
"""The functions of numbers that answer a number; those two take texts alone."""

each = pytest.mark.parametrize("definition", NUMBERS, ids=lambda d: d.name)


def normal(value: float, u: float, freedom: float = math.inf) -> Reading:
    return Reading(value, (Part(0.0, u, "", "normal", freedom),))


def rectangular(value: float, half: float) -> Reading:
    return Reading(value, (Part(0.0, half / math.sqrt(3)),))


def test_mass_calibration_of_the_supplement() -> None:
    """JCGM 101:2008, 9.3 (from memory): first order 0.0539 mg, Monte Carlo 0.0754 mg."""

    def difference(x: Array) -> Any:
        weight, small, air, density_w, density_r = x
        return (weight + small) * (1 + (air - 1.2) * (1 / density_w - 1 / density_r)) - 1e5

    found = propagated(
        difference,
        [normal(1e5, 0.050), normal(1.234, 0.020), rectangular(1.20, 0.10),
         rectangular(8000, 1000), rectangular(8000, 50)],
    )  # fmt: skip
    assert found.trials is not None
    assert found.first.value == pytest.approx(1.234, abs=5e-4)
    assert found.first.uncertainty == pytest.approx(0.0539, abs=5e-5)
    assert (found.first.low, found.first.high) == pytest.approx((1.1285, 1.3395), abs=1e-4)
    assert found.trials.uncertainty == pytest.approx(0.0754, abs=4e-4)  # scatter of the trials
    assert found.differ
    assert found.given.uncertainty == found.trials.uncertainty


RESISTANCE = [
    (lambda v, i, phi: v / i * np.cos(phi), 127.732, 0.0699787),
    (lambda v, i, phi: v / i * np.sin(phi), 219.847, 0.2957168),
    (lambda v, i, phi: v / i + 0 * phi, 254.260, 0.2366030),
]


@pytest.mark.parametrize(("function", "value", "u"), RESISTANCE, ids=["R", "X", "Z"])
def test_correlated_inputs_of_the_guide(function: Any, value: float, u: float) -> None:
    """JCGM 100:2008, example H.2, values read in the tests of two libraries of the GUM.

    Correlations are told as errors that the readings share, each with a size and sign of its own.
    """
    sizes = np.array([3.2e-3, 9.5e-6, 7.5e-4])
    correlation = np.array([[1, -0.36, 0.86], [-0.36, 1, -0.65], [0.86, -0.65, 1]])
    shared = sizes[:, None] * np.linalg.cholesky(correlation)
    readings = [
        Reading(x, tuple(Part(0.0, s, f"e{k}", "normal") for k, s in enumerate(row)))
        for x, row in zip((4.999, 0.019661, 1.04446), shared.tolist(), strict=True)
    ]
    found = propagated(lambda x: function(*x), readings)
    assert found.first.value == pytest.approx(value, abs=5e-4)
    assert found.first.uncertainty == pytest.approx(u, rel=2e-3)  # its inputs are printed rounded
    assert not found.differ


def quantiles(answer: Any) -> tuple[float, float]:
    assert answer.trials is not None
    return answer.trials.low, answer.trials.high


def test_trials_follow_known_distributions() -> None:
    """Ends of 95 % against the exact ones; they scatter by 0.01 standard deviations at most."""
    one = propagated(lambda x: x[0], [rectangular(0, 1)])
    assert quantiles(one) == pytest.approx((-0.95, 0.95), abs=0.005)
    two = propagated(lambda x: x[0] + x[1], [rectangular(0, 1)] * 2)
    end = 2 - math.sqrt(0.2)  # of a triangle from -2 to 2
    assert quantiles(two) == pytest.approx((-end, end), abs=0.02)
    student = propagated(lambda x: x[0], [normal(0, 1, 4)])
    assert quantiles(student)[1] == pytest.approx(scipy.stats.t.ppf(0.975, 4), rel=0.02)
    square = propagated(lambda x: x[0] ** 2, [normal(0, 1)])
    low, high = scipy.stats.chi2.ppf([0.025, 0.975], 1).tolist()
    assert quantiles(square)[0] == pytest.approx(low, abs=0.005)
    assert quantiles(square)[1] == pytest.approx(high, rel=0.02)
    assert square.differ


def first_order(*arguments: Any) -> tuple[float, float, float]:
    """Value, u and degrees of freedom as the table has them."""
    row = UNCERTAINTY(*arguments)[2]
    return row[2], row[3], row[6]


def rectangular_of(half: float) -> float:
    return half / math.sqrt(3)


def test_first_order_is_that_of_a_library_of_the_guide() -> None:
    """GTC (an independent library) on the same formulas, with a shared error and few readings."""
    gauge = GTC.ureal(0, rectangular_of(0.001 * 2))  # mbar, both readings
    start = 0.1 + gauge + GTC.ureal(0, 0.002, 9)
    end = 0.3 + gauge + GTC.ureal(0, 0.002, 9)
    leak = GTC.ureal(2500, 25, 5) * (end - start) / (GTC.ureal(3600, 10))
    noise = "±0.1 % of 2 mbar PI-7; u 0.002 mbar df=9"
    found = first_order(
        "GAS_RISE_LEAK", ["u 25 L df=5", noise, noise, "u 10 s"], 2.5, "0.1 mbar", "0.3 mbar", 1
    )
    assert found == pytest.approx((leak.x, leak.u, leak.df), rel=1e-6)


def test_first_order_of_a_quotient_is_that_of_the_library() -> None:
    air = GTC.ureal(0.001, 1e-4) / (8.31446261815324 * 293.15)  # Pa·m³/s to mol/s
    flow = GTC.ureal(0.1, 0.002)
    impurity = GTC.ureal(0.2095, 0.001) * air / (flow + air) * 1e6
    told = first_order(
        "GAS_LEAK_IMPURITY", ["u 0.001 mbar L/s", "u 0.002 mol/s", "u 0.1 points"],
        "0.01 mbar L/s", "0.1 mol/s",
    )  # fmt: skip
    assert told[:2] == pytest.approx((impurity.x, impurity.u), rel=1e-6)


TIED = {"GAS_INDEXED_PRICE": ("fixed_share", "weights")}
"""Arguments that go together exactly."""


def near_example(definition: Definition) -> tuple[list[Any], list[str]]:
    """The arguments of a definition's example, and small tolerances of all that can have one."""
    arguments = example(definition).arguments()
    pairs = zip(definition.parameters, arguments, strict=False)
    tied = TIED.get(definition.name, ())
    return arguments, ["" if p.name in tied else tolerance_of(p, value) for p, value in pairs]


def tolerance_of(parameter: Any, value: Any) -> str:
    """A small tolerance in the argument's own unit; blank where it can have none."""
    term = number_term(parameter)
    if not isinstance(term, Number) or isinstance(term, Count) or value in (None, ""):
        return ""
    if value == term.high:
        return ""
    if not isinstance(term, Quantity):
        return "±0.1 %"
    if term.kind is kinds.TEMPERATURE:
        return "±0.1 K"
    return "±0.1 % of reading"


@pytest.fixture
def few_trials(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(propagation, "TRIALS", 2_000)
    monkeypatch.setattr(propagation, "FEWEST_TRIALS", 2_000)


@each
@pytest.mark.usefixtures("few_trials")
def test_every_function_has_a_band(definition: Definition) -> None:
    """Its value, a sum of shares that is 1, and a note on how; nothing in any function's code."""
    arguments, tolerances = near_example(definition)
    rows = UNCERTAINTY(definition.name, tolerances, *arguments)
    result, first, trials, *budget = rows[1:]
    assert result[2] == pytest.approx(definition(*arguments), rel=1e-12)
    assert result[4] <= result[5]
    takes_ranges = any(row[9] is None for row in budget)
    assert not first[3] or sum(row[7] for row in budget) == pytest.approx(1)
    if not takes_ranges:
        assert sum((row[3] * row[9]) ** 2 for row in budget) == pytest.approx(first[3] ** 2)
    alone = definition.scalar or definition.integrates or takes_ranges
    assert (trials[8] == "not run") == alone
    assert [row[1] for row in budget] == [
        parameter.name
        for parameter, tolerance in zip(definition.parameters, tolerances, strict=False)
        if tolerance
    ]


@each
def test_trials_answer_as_single_calls_do(definition: Definition) -> None:
    """A column of moved arguments in one call against a call for each of them."""
    arguments, tolerances = near_example(definition)
    call = call_of(definition, tolerances, arguments)
    random = np.random.default_rng(3)
    values = np.array([reading.value for reading in call.readings])
    sizes = np.array([reading.uncertainty for reading in call.readings])
    points = values[:, None] + sizes[:, None] * random.standard_normal((len(values), 4))
    together = call.trials(points)
    alone = np.concatenate([call.trials(points[:, [place]]) for place in range(4)])
    assert together == pytest.approx(alone, rel=1e-9, nan_ok=True)


def test_a_row_that_is_refused_leaves_the_others_be() -> None:
    told = UNCERTAINTY.cells(
        "GAS_DENSITY", ["", "±1 %", "±2 K"], "argon", [[2.0], [-2.0], ["3 bar"], [4.0]], 20.0
    )
    values = [row[2] for row in told[1:]]
    assert [isinstance(value, CellError) for value in values] == [False, True, True, False, True]
    assert "below 0" in told[2][8]
    assert "bar(a) or bar(g)" in told[3][8]
    assert told[5][:2] == ["mean", "of 4 rows"]  # no sum of densities
    with pytest.raises(GasFuncsError, match="below 0"):
        UNCERTAINTY("GAS_DENSITY", ["", "±1 %"], "argon", [[2.0], [-2.0]], 20.0)


def test_the_same_cells_show_the_same_digits() -> None:
    call = ("GAS_DENSITY", ["", "±1 %", "±2 K"], "argon", 2.0, 20.0)
    assert UNCERTAINTY(*call) == UNCERTAINTY(*call)


def test_trials_that_are_refused_are_left_out_and_counted() -> None:
    """Half a normal tail below zero pressure: some of 100,000 trials, fewer than 1 in 1,000."""
    rows = UNCERTAINTY("GAS_DENSITY", ["", "u 0.3 bar"], "argon", 1.0, 20.0)
    assert "refused ones left out" in rows[1][8]
    with pytest.raises(GasFuncsError, match=r"more than 0.1% of the trials are refused: pressure"):
        UNCERTAINTY("GAS_DENSITY", ["", "u 0.4 bar"], "argon", 1.0, 20.0)


def test_at_the_edge_of_what_is_possible_one_side_is_asked() -> None:
    """A sensitivity at the end of a range: the other side of it does not exist."""
    rows = UNCERTAINTY("GAS_ROOM_OXYGEN", tolerances_of("GAS_ROOM_OXYGEN", "0.0001 h"),
                       *example(FUNCTIONS["GAS_ROOM_OXYGEN"]).arguments())  # fmt: skip
    assert all(row[3] is not None for row in rows[1:3])


def tolerances_of(name: str, smallest: str) -> list[str]:
    parameters = FUNCTIONS[name].parameters
    terms = [getattr(parameter.term, "kind", None) for parameter in parameters]
    return [smallest if kind is kinds.TIME else "" for kind in terms]


def test_the_band_holds_the_truth() -> None:
    """300 decay tests of a known leak, read with their errors: 92 to 98 % of the bands hold it."""
    random = np.random.default_rng(15)
    definition = FUNCTIONS["GAS_DECAY_LEAK"]
    true = ["2.5 m3", "8 bar(a)", "294 K", "7.93 bar(a)", "293 K", "12 h"]
    truth = float(definition(*true))
    told = ["±2 %", "u 3 mbar", "±0.3 K", "u 3 mbar", "±0.3 K", ""]
    held = 0
    for _ in range(300):
        volume = 2.5 * (1 + random.uniform(-0.02, 0.02))
        pressures = [8 + random.normal(0, 0.003), 7.93 + random.normal(0, 0.003)]
        kelvins = [294 + random.uniform(-0.3, 0.3), 293 + random.uniform(-0.3, 0.3)]
        read = [
            f"{volume} m3", f"{pressures[0]} bar(a)", f"{kelvins[0]} K", f"{pressures[1]} bar(a)",
            f"{kelvins[1]} K", "12 h",
        ]  # fmt: skip
        band = call_of(definition, told, read).answer(count=20_000).given
        held += band.low <= truth <= band.high
    assert 0.92 <= held / 300 <= 0.98


def test_each_item_of_a_range_has_its_own_error_or_one_of_a_name() -> None:
    zones = ("argon", "2 bar(a)", [1.0, 1.0, 1.0, 1.0], [20.0, 20.0, 20.0, 20.0])
    own = UNCERTAINTY("GAS_ZONE_CONTENTS", ["", "", "u 3 %"], *zones)
    shared = UNCERTAINTY("GAS_ZONE_CONTENTS", ["", "", "u 3 % drawing"], *zones)
    whole = FUNCTIONS["GAS_CONTENTS"]("argon", 4.0, "2 bar(a)", 20.0)
    assert own[1][3] == pytest.approx(0.03 * whole / 2)
    assert shared[1][3] == pytest.approx(0.03 * whole)


def test_a_table_that_takes_too_long_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(uncertainty, "MOST_SECONDS", 0.0)
    with pytest.raises(GasFuncsError, match="give fewer rows"):
        UNCERTAINTY("GAS_DENSITY", ["", "±1 %"], "argon", [[1.0], [2.0]], 20.0)


def test_a_function_that_takes_long_has_fewer_trials(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(propagation, "MOST_SECONDS", 0.0)
    rows = UNCERTAINTY("GAS_DENSITY", ["", "±1 %", "±2 K"], "argon", 2.0, 20.0)
    assert "20,000 trials" in rows[1][8]


@pytest.mark.parametrize(("errors", "trials"), [(0, 100_000), (4, 100_000), (400, 50_000)])
def test_very_many_errors_have_fewer_trials(errors: int, trials: int) -> None:
    """Twenty million draws in all, but never under 20,000 trials."""
    assert trial_count(errors) == trials
    assert trial_count(10_000) == 20_000


def test_a_function_that_takes_long_is_tried_less_often(monkeypatch: pytest.MonkeyPatch) -> None:
    """Judged by what all trials would take at the pace of the first ones."""
    readings = [Reading(1.0, (Part(0.0, 0.1, "", "normal"),))]

    def asked(seconds_a_block: float) -> int:
        clock = iter(np.arange(1e4) * seconds_a_block)
        monkeypatch.setattr(propagation, "thread_time", lambda: next(clock))
        sizes: list[int] = []

        def function(points: Array) -> Array:
            sizes.append(points.shape[1])
            return np.asarray(points[0])

        propagated(function, readings)
        return sum(sizes)

    assert asked(0.0) >= propagation.TRIALS
    blocks = propagation.TRIALS / propagation.BLOCK
    assert asked(0.5 * MOST_SECONDS / blocks) >= propagation.TRIALS
    assert asked(2 * MOST_SECONDS / blocks) < 0.5 * propagation.TRIALS
