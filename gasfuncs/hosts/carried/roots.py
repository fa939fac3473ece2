"""Searches as formulas, written out for a fixed number of steps."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np

from gasfuncs.hosts.carried.arrays import Recorded, node_of
from gasfuncs.hosts.carried.nodes import call, chosen, constant, error
from gasfuncs.hosts.carried.substances import gas_node

STEPS = 12
"""Twice as many as a smooth function needs: one with a bend halves the bracket at first."""

ROUNDS = 24
"""Of Newton's method, which needs 5 mostly, and 22 close to choking."""

CLOSE = 1e-9
"""Relative: how little the last step may move the answer."""


def find_root(
    function: Callable[..., Any], bracket: Sequence[Any], args: Sequence[Any] = ()
) -> SimpleNamespace:
    """What scipy.optimize.elementwise.find_root answers, an error where it did not settle.

    C. Ridders, IEEE Trans. Circuits Syst. 26 (1979) 979.
    """

    def value(at: Any) -> Any:
        return Recorded(node_of(function(at, *args)))

    low, high = (Recorded(node_of(end)) for end in bracket)
    below, above = value(low), value(high)
    before = found = low
    for _ in range(STEPS):
        middle: Any = (low + high) / 2
        half = value(middle)
        turn = np.sqrt(np.abs(half * half - below * above))  # abs: all three may be rounding
        moved = (middle - low) * np.sign(below - above) * half / turn
        before, found = found, middle + np.where(turn > 0, moved, 0.0)
        there = value(found)
        across, left = half * there < 0, below * there < 0
        low, below = _chosen(across, left, (middle, half), (low, below), (found, there))
        high, above = _chosen(across, left, (found, there), (found, there), (high, above))
    settled = node_of(np.abs(found - before) <= CLOSE * np.abs(found))
    return SimpleNamespace(x=Recorded(chosen(settled, node_of(found), error("#NUM!"))))


def balance_root(gas: Any, surplus: Callable[[Any], Any]) -> Any:
    """What `gasfuncs.calculations.delivery.balance_root` answers, #N/A above the series' end."""
    low, high = (Recorded(call("GF_SATURATED_END", gas_node(gas), constant(end))) for end in (1, 2))
    ends: Any = (np.log(low), np.log(high))
    found = np.exp(find_root(lambda log: surplus(np.exp(log)), ends).x)
    below, above = node_of(surplus(low) > 0), node_of(surplus(high) < 0)
    beyond = chosen(above, error("#N/A"), node_of(found))
    return Recorded(chosen(below, constant(0), beyond))


def secant(function: Callable[..., Any], old: Any, new: Any) -> Recorded:
    """What `gasfuncs.calculations.searching.secant` answers, an error where it did not settle."""
    old, new = Recorded(node_of(old)), Recorded(node_of(new))
    was, now = function(old), function(new)
    for _ in range(STEPS):
        step = now * (new - old) / np.where(now == was, 1.0, now - was)
        old, new = new, np.where(now == was, new, new - step)
        was, now = now, function(new)
    settled = node_of(np.abs(new - old) <= CLOSE * np.abs(new))
    return Recorded(chosen(settled, node_of(new), error("#NUM!")))


def rounds(
    step: Callable[..., tuple[Sequence[Any], Any]], start: Sequence[Any]
) -> tuple[Recorded, ...]:
    """What `gasfuncs.calculations.searching.rounds` answers, an error where it did not settle."""
    before = new = tuple(Recorded(node_of(each)) for each in start)
    moved: Any = True
    for _ in range(ROUNDS):
        before = new
        made, moved = step(*before)
        new = tuple(Recorded(node_of(each)) for each in made)
    still = [np.abs(a - b) <= CLOSE * np.abs(a) for a, b in zip(new, before, strict=True)]
    settled = call("OR", call("NOT", node_of(moved)), call("AND", *map(node_of, still)))
    return tuple(Recorded(chosen(settled, each.node, error("#NUM!"))) for each in new)


def _chosen(first: Any, second: Any, *ways: tuple[Any, Any]) -> tuple[Any, Any]:
    """The place and the value there of the first way whose condition holds, else of the last."""
    one, two, rest = ways
    place, value = (
        np.where(first, one[each], np.where(second, two[each], rest[each])) for each in (0, 1)
    )
    return place, value
