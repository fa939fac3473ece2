"""Functions on ranges that record: sorted, sums by group, what goes on from item to item."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from gasfuncs.hosts.carried.arrays import ONE, ZERO, Recorded, cell, node_of
from gasfuncs.hosts.carried.columns import (
    ENDLESS,
    ON_COLUMNS,
    Column,
    Grid,
    lifted,
    loop_number,
    places_of,
)
from gasfuncs.hosts.carried.nodes import Node, call, chosen, constant, replaced, variable


def _where(condition: Any, yes: Any, no: Any) -> Any:
    return lifted(chosen, condition, cell(yes), cell(no))


def _clip(values: Any, low: Any, high: Any) -> Any:
    return lifted(
        lambda at, least, most: call("MAX", least, call("MIN", most, at)), values, low, high
    )


def _any(of: Any, **_: Any) -> Any:
    if isinstance(of, Grid):
        return _any(_where(of, 1, 0) @ lifted(lambda _: ONE, of.across) > 0)
    return _where(of, 1, 0).sum() > 0


def _all(of: Column, **_: Any) -> Any:
    return _where(of, 0, 1).sum() < 1


def _extreme(function: str) -> Callable[..., Recorded]:
    def of(values: Column, *, initial: Any = None, **_: Any) -> Recorded:
        of_none = ENDLESS if initial == np.inf else node_of(initial or 0.0)
        return Recorded(values._of_all(function, of_none))

    return of


def concatenated(one: Column, other: Column) -> Column:
    """The items of one range, then those of another."""

    def at(item: Node) -> Node:
        beyond = Node("-", item, one.count)
        return chosen(Node("<=", item, one.count), one.at(item), other.at(beyond))

    both = one.may_be_empty and other.may_be_empty
    return Column(at, Node("+", one.count, other.count), may_be_empty=both)


def place_of(name: Any, names: Column) -> Any:
    """The place, counted from 0, of the first of names that is that one, -1 where none is."""
    alike = lifted(lambda each: call("EXACT", each, node_of(name)), names)
    found = call("_xlfn.XMATCH", constant(True), alike.each())
    return Recorded(call("IFERROR", found, ZERO)) - 1


def _largest(values: Column) -> Any:
    known = values.each()
    return Recorded(call("_xlfn.XMATCH", call("MAX", known), known)) - 1


def _order(keys: Column, **_: Any) -> Column:
    """The places of the items, counted from 0, by rising value, alike ones as they stand."""
    found = Node("kept", call("_xlfn.SORTBY", keys.places, keys.each()))
    return Column(
        lambda item: Node("-", call("INDEX", found, item), ONE), keys.count,
        may_be_empty=keys.may_be_empty,
    )  # fmt: skip


def _sorted(values: Column) -> Any:
    return values[_order(values)]


def _among(edges: Column, values: Any, side: str = "left") -> Any:
    """The number of edges that are below each value, or with it."""
    sign = "<=" if side == "right" else "<"

    def one(value: Node) -> Node:
        return node_of(_where(lifted(lambda e: Node(sign, e, value), edges), 1, 0).sum())

    return lifted(one, values)


def _differences(values: Column) -> Any:
    return values[1:] - values[:-1]


def _filled_with(values: Column, value: Any, **_: Any) -> Any:
    return lifted(lambda _: node_of(value), values)


def _resized(values: Any, _: Any) -> Any:
    return values


def sums_of(groups: Column, values: Column) -> Column:
    """Of each item the sum of its whole group."""
    return _in_groups(groups, values, lambda same, *_: same)


def sums_before(groups: Column, values: Column) -> Column:
    """Of each item the sum of those before it in its group."""
    return _in_groups(groups, values, lambda same, at, item: call("AND", same, Node("<", at, item)))


def accumulated(values: Column, step: Callable[[Any, Any], Any], start: Any) -> Column:
    """What a step makes of each value and of what it made of those before."""
    known = values.each()
    state, value = variable("state"), variable("value")
    made = node_of(step(Recorded(state), Recorded(value)))
    number = loop_number(Node("scan", node_of(start), known, made))
    names = [variable(f"{each}_{number}") for each in ("state", "value")]
    made = replaced(replaced(made, state, names[0]), value, names[1])
    scan = Node("scan", node_of(start), known, made, *(each.args[0] for each in names))
    found = Node("kept", scan)
    return Column(
        lambda item: call("INDEX", found, item), values.count, may_be_empty=values.may_be_empty,
        array=found,
    )  # fmt: skip


def _cumulated(values: Column) -> Column:
    return accumulated(values, lambda state, value: state + value, 0.0)


def _in_groups(
    groups: Column, values: Column, counts: Callable[[Node, Node, Node], Node]
) -> Column:
    known, alike = values.kept(), groups.kept()

    def at(item: Node) -> Node:
        def one(other: Node) -> Node:
            same = Node("=", alike.at(other), alike.at(item))
            return chosen(counts(same, other, item), known.at(other), ZERO)

        return Column(one, known.count).sum().node

    return Column(at, known.count).kept()


ON_COLUMNS.update({
    "where": _where, "clip": _clip, "any": _any, "all": _all, "flatnonzero": places_of,
    "max": _extreme("MAX"), "min": _extreme("MIN"), "argsort": _order, "sort": _sorted,
    "searchsorted": _among,
    "diff": _differences, "cumsum": _cumulated, "argmax": _largest, "resize": _resized,
    "zeros_like": lambda of: of * 0,
    "full_like": _filled_with,
})  # fmt: skip
