"""Searches of columns: kept between their bounds, and refused where nothing is to be found."""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from gasfuncs.calculations import filling, sizing
from gasfuncs.calculations.effort import Effort
from gasfuncs.errors import NoSolutionError
from tests.calculations.test_fill import backfill

Column = NDArray[np.float64]


def dipping(x: Column) -> Column:
    """Rises through 0 at 5 and falls by a hundredth between 6 and 7."""
    return np.interp(x, [-50, 4, 6, 7, 8, 100], [-2, -1, 1, 0.99, 1.1, 2])


def root_within_bounds(each: Callable[[Column], Column], start: Column, slope: float) -> Column:
    """The root; every place that is tried lies between the bounds known before."""
    low, high = np.full(len(start), -np.inf), np.full(len(start), np.inf)

    def value(rows: Any, at: Column) -> Column:
        assert np.all((at >= low[rows]) & (at <= high[rows]))
        found = each(at)
        low[rows] = np.where(found < 0, at, low[rows])
        high[rows] = np.where(found > 0, at, high[rows])
        return found

    return sizing.root(value, start, slope)


@pytest.mark.parametrize("slope", [0.5, 1.0, 2.0])
@pytest.mark.parametrize("steepness", [0.3, 3.0, 30.0])
def test_a_steep_rise_is_searched_between_its_bounds(slope: float, steepness: float) -> None:
    start = np.array([3.0, 4.2, 4.9, 5.3, 7.0, 9.0])
    found = root_within_bounds(lambda x: np.tanh(steepness * (x - 5)) / 2, start, slope)
    assert found == pytest.approx(5.0, abs=1e-5)


def test_a_dip_does_not_turn_the_search_round() -> None:
    assert root_within_bounds(dipping, np.array([6.9, 6.5, 8.0, 1.0]), 2.0) == pytest.approx(5.0)


class Line:
    """Backfills that take seconds by their bore alone, and how often they were asked for."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, seconds: Callable[[Any], Any]) -> None:
        self.asked, self.seconds = 0, seconds
        monkeypatch.setattr(filling, "run", self.run)

    def run(self, fills: filling.Filling, *_: Any, **__: Any) -> Any:
        self.asked += 1
        assert fills.line
        bore = np.asarray(fills.line.bore)
        return SimpleNamespace(time=self.seconds(bore), reached=np.ones(len(bore), bool))


def bore_for(seconds: float, monkeypatch: pytest.MonkeyPatch, first: float) -> float:
    monkeypatch.setattr(sizing, "_first_bore", lambda *_: np.array([first]))
    narrowest = np.array([0.9e-3])
    return float(sizing.smallest_bore(backfill(), np.array([seconds]), narrowest, Effort())[0])


@pytest.mark.parametrize(
    ("first", "bore"),
    [(0.001, 0.001), (0.001, 0.01), (0.02, 0.001), (0.02, 0.2), (1.0, 0.01), (1.0, 1.9)],
)
def test_a_first_bore_that_is_far_off_is_mended(
    first: float, bore: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Time goes with the bore to the power of -2.5, as where friction alone holds the flow."""
    line = Line(monkeypatch, lambda d: d**-2.5)
    assert bore_for(bore**-2.5, monkeypatch, first) == pytest.approx(bore, rel=1e-7)
    assert line.asked < 10


def test_no_line_is_wider_than_two_metres(monkeypatch: pytest.MonkeyPatch) -> None:
    Line(monkeypatch, lambda d: d**-2.5)
    with pytest.raises(NoSolutionError, match="the supply set the pace"):
        bore_for(5.0**-2.5, monkeypatch, 1.0)
    with pytest.raises(NoSolutionError, match="through a bore of 2050 mm the backfill still takes"):
        bore_for(2.1**-2.5, monkeypatch, 2.05)


def test_a_supply_that_sets_the_pace_is_told_after_few_bores(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    line = Line(monkeypatch, lambda d: 10 + 1e-5 * d**-2.5)
    with pytest.raises(NoSolutionError, match="the supply set the pace"):
        bore_for(5.0, monkeypatch, 0.005)
    assert line.asked <= 3


def test_the_narrowest_bore_is_tried_and_none_below_it(monkeypatch: pytest.MonkeyPatch) -> None:
    line = Line(monkeypatch, lambda d: d**-2.5)
    assert bore_for(0.00091**-2.5, monkeypatch, 0.0001) == pytest.approx(0.00091, rel=1e-7)
    line.asked = 0
    with pytest.raises(NoSolutionError, match=r"a bore of 0.9 mm meets it"):
        bore_for(0.00089**-2.5, monkeypatch, 0.0001)
    assert line.asked == 1


def test_bores_need_few_integrations(monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[int] = []
    whole: Callable[..., Any] = filling.run

    def counted(fills: filling.Filling, *given: Any, **more: Any) -> Any:
        calls.append(len(fills.pressure_to))
        return whole(fills, *given, **more)

    monkeypatch.setattr(filling, "run", counted)
    for supply in (0.0, 2.0):
        calls.clear()
        fills = backfill("wall", "wall", supply=supply)
        sizing.smallest_bore(fills, np.array([30.0]), np.array([9e-4]), Effort())
        assert len(calls) <= 8


def test_one_row_that_is_never_filled_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    ends = SimpleNamespace(time=np.array([9.0, np.inf]), reached=np.array([True, False]))

    def refuse(told: Any) -> None:
        assert told is ends
        raise NoSolutionError("is not reached")

    monkeypatch.setattr(filling, "run", lambda *_, **__: ends)
    monkeypatch.setattr(filling, "refuse_unreached", refuse)
    monkeypatch.setattr(sizing, "_first_bore", lambda *_: np.array([0.01, 0.01]))
    two = filling.taken(backfill(), np.array([0, 0]))
    with pytest.raises(NoSolutionError, match="is not reached"):
        sizing.smallest_bore(two, np.array([9.0, 9.0]), np.array([1e-3, 1e-3]), Effort())


@pytest.mark.parametrize("reservoir", ["wall", "adiabatic"])
def test_a_steady_draw_takes_its_time(reservoir: str) -> None:
    asked = np.array([30.0])
    drawn, ends = sizing.steady_draw(backfill(reservoir, "wall", low=1e5), asked, Effort())
    assert ends.time == pytest.approx(asked, rel=1e-6)
    assert drawn.line is None
