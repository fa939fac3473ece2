"""Ranges that record: what is done to each item, and the sum over them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from gasfuncs.hosts.carried import several
from gasfuncs.hosts.carried.arrays import (
    ONE,
    UFUNCS,
    ZERO,
    NotRecordedError,
    Recorded,
    node_of,
)
from gasfuncs.hosts.carried.nodes import Node, call, chosen, constant, variable
from gasfuncs.hosts.carried.rows import ROW, standing_for
from gasfuncs.hosts.carried.several import Several

At = Callable[[Node], Node]
"""What an item is, by its place in the range."""

ENDLESS = constant(1e300)
"""What stands for infinity in a formula."""

ON_COLUMNS: dict[str, Callable[..., Any]] = {}
"""Of the functions on arrays, what each does to ranges, as `column_functions` has it."""

CONDITIONS = {"=", "<>", "<", ">", "<=", ">=", "logical"}
CONDITION_CALLS = {"AND", "OR", "NOT", "ISERROR", "ISNUMBER", "EXACT"}

_loops: dict[Node, int] = {}


def loop_number(alike: Node) -> int:
    """A number for the variable of a loop, so that what depends on it stays within."""
    return _loops.setdefault(alike, len(_loops) + 1)


class Column(Recorded):
    """A row or column of values that are not known yet, as many as a range holds."""

    ndim = 1

    def __init__(
        self, at: At, count: Node, *, may_be_empty: bool = False, array: Node | None = None
    ) -> None:
        self.at, self.count, self.may_be_empty, self.array = at, count, may_be_empty, array

    def __getattr__(self, name: str) -> Any:
        raise NotRecordedError(f"a range has no {name} in a formula")

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **_: Any) -> Any:
        if ufunc is np.matmul:
            product: Any = np.multiply(*inputs)
            return Recorded(node_of(product.sum()))
        made = UFUNCS.get(ufunc.__name__)
        if made is None or method != "__call__":
            raise NotRecordedError(f"{ufunc.__name__} of a range has no native formula")
        return lifted(made, *inputs)

    def __array_function__(
        self, function: Callable[..., Any], types: Any, args: Any, kwargs: Any
    ) -> Any:
        own = ON_COLUMNS.get(function.__name__)
        if own is not None:
            return own(*args, **kwargs)
        return super().__array_function__(function, types, args, kwargs)

    def __getitem__(self, place: Any) -> Any:
        if isinstance(place, Column):
            return self._taken(places_of(place) if place.is_condition else place)
        if isinstance(place, slice):
            return self._part(place.start or 0, place.stop)
        if isinstance(place, tuple):
            return Grid(lambda down, _: self.at(down), self, self)
        before: Any = Recorded(self.count) if isinstance(place, int) and place < 0 else 0
        return Recorded(self.at(node_of(before + place + 1)))

    def _taken(self, order: Column) -> Column:
        """The items at some places, counted from 0."""
        return Column(
            lambda item: self.at(item_at(order.at(item))), order.count,
            may_be_empty=order.may_be_empty,
        )  # fmt: skip

    def _part(self, start: int, stop: Any) -> Column:
        size: Any = Recorded(self.count)
        if stop is not None:
            size = size + stop if isinstance(stop, int) and stop < 0 else np.minimum(size, stop)
        return Column(
            lambda item: self.at(node_of(Recorded(item) + start)), node_of(size - start),
            may_be_empty=True,
        )  # fmt: skip

    @property
    def is_condition(self) -> bool:
        """Whether the items are true or false."""
        if self.array is not None and self.array.args[0].op == "each":
            return _is_condition(self.array.args[0].args[1])
        return _is_condition(self.at(variable("item")))

    @property
    def places(self) -> Node:
        """The numbers of the items; of none the number 1."""
        count = call("MAX", constant(1), self.count) if self.may_be_empty else self.count
        return call("_xlfn.SEQUENCE", count)

    def kept(self) -> Column:
        """The same with its items worked out once, for what asks for each of them often."""
        if self.array is not None:
            return self
        array = Node("kept", self._loop("each"))
        return Column(
            lambda item: call("INDEX", array, item), self.count, may_be_empty=self.may_be_empty,
            array=array,
        )  # fmt: skip

    def each(self) -> Node:
        """The items as an array."""
        return self._loop("each") if self.array is None else self.array

    def _loop(self, op: str) -> Node:
        alike = Node(op, self.places, self.at(variable("item")))
        item = variable(f"item_{loop_number(alike)}")
        return Node(op, self.places, self.at(item), item.args[0])

    def tolist(self) -> list[Recorded]:
        """One item, which stands for each."""
        standing_for(call("_xlfn.SEQUENCE", self.count))
        return [Recorded(self.at(ROW))]

    def sum(self, **_: Any) -> Recorded:
        """The sum over the range."""
        if self.array is not None:
            return Recorded(self._of_all("SUM", ZERO))
        return Recorded(self._unless_empty(self._loop("sum"), ZERO))

    def mean(self, **_: Any) -> Any:
        """The mean over the range."""
        return self.sum() / Recorded(self.count)

    def _of_all(self, function: str, of_none: Node) -> Node:
        """A native function of all items."""
        return self._unless_empty(call(function, self.each()), of_none)

    def _unless_empty(self, node: Node, of_none: Node) -> Node:
        filled = Node(">", self.count, ZERO)
        return chosen(filled, node, of_none) if self.may_be_empty else node


def item_at(place: Node) -> Node:
    """The number of the item at a place that is counted from 0."""
    counted_down = place.op == "-" and place.args[1] is ONE
    return place.args[0] if counted_down else Node("+", place, ONE)


def places_of(mask: Column) -> Column:
    """The places, counted from 0, of the items that are true."""
    found = Node("kept", call("_xlfn._xlws.FILTER", mask.places, mask.each()))
    count = node_of(lifted(chosen, mask, 1, 0).sum())
    return Column(lambda item: Node("-", call("INDEX", found, item), ONE), count, may_be_empty=True)


class Grid(Recorded):
    """Values by two places: down, as in `column[:, None]`, and across."""

    ndim = 2

    def __init__(self, at: Callable[[Node, Node], Node], down: Column, across: Column) -> None:
        self.at_both, self.down, self.across = at, down, across

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **_: Any) -> Any:
        if ufunc is np.matmul:
            return _product(*inputs)
        return lifted(UFUNCS[ufunc.__name__], *inputs)

    def __array_function__(
        self, function: Callable[..., Any], types: Any, args: Any, kwargs: Any
    ) -> Any:
        return ON_COLUMNS[function.__name__](*args, **kwargs)


def _is_condition(node: Node) -> bool:
    if node.op == "if":
        return _is_condition(node.args[1])
    return node.op in CONDITIONS or (node.op == "call" and node.args[0] in CONDITION_CALLS)


def _product(grid: Grid, values: Column) -> Column:
    """For each place down the sum across of the grid's values times those of a column."""

    def at(down: Node) -> Node:
        return Column(
            lambda item: Node("*", grid.at_both(down, item), values.at(item)), values.count,
            may_be_empty=values.may_be_empty,
        ).sum().node  # fmt: skip

    return Column(at, grid.down.count, may_be_empty=grid.down.may_be_empty).kept()


def lifted(made: Callable[..., Node], *values: Any) -> Any:
    """A formula of values, for each item where some of them are ranges."""
    if any(isinstance(value, Several) for value in values):
        return several.each(made, *values)
    if any(isinstance(value, Grid) for value in values):
        return _on_grid(made, *values)
    columns = [each for each in values if isinstance(each, Column)]
    if not columns:
        return Recorded(made(*map(node_of, values)))

    def at(item: Node) -> Node:
        return made(*(v.at(item) if isinstance(v, Column) else node_of(v) for v in values))

    return Column(at, columns[0].count, may_be_empty=columns[0].may_be_empty)


def _on_grid(made: Callable[..., Node], *values: Any) -> Grid:
    def of(value: Any, down: Node, across: Node) -> Node:
        if isinstance(value, Grid):
            return value.at_both(down, across)
        return value.at(across) if isinstance(value, Column) else node_of(value)

    grid = next(each for each in values if isinstance(each, Grid))
    across = next((each for each in values if isinstance(each, Column)), grid.across)
    return Grid(lambda *at: made(*(of(each, *at) for each in values)), grid.down, across)


def column(here: Node, read: At) -> Column:
    """The cells of a range, each as it is read."""
    return Column(lambda item: read(call("GF_ITEM", here, item)), call("GF_ITEMS", here))
