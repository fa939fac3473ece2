"""Ranges that record: what is done to each item, and the sum over them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

import numpy as np

from gasfuncs.hosts.carried import several
from gasfuncs.hosts.carried.arrays import (
    ONE,
    UFUNCS,
    ZERO,
    NotRecordedError,
    Recorded,
    cell,
    node_of,
    number,
    whole,
)
from gasfuncs.hosts.carried.nodes import Node, call, chosen, constant, replaced, variable
from gasfuncs.hosts.carried.rows import ROW, RecordedRows, added_up, is_of_row, places, standing_for
from gasfuncs.hosts.carried.several import Several

At = Callable[[Node], Node]
"""What an item is, by its place in the range."""

ENDLESS = constant(1e300)
"""What stands for infinity in a formula."""

CONDITIONS = {"=", "<>", "<", ">", "<=", ">=", "logical"}
CONDITION_CALLS = {"AND", "OR", "NOT", "ISERROR", "ISNUMBER", "EXACT"}

_items: dict[Node, int] = {}
"""Each loop over items has a variable of its own, so that what depends on it stays within."""


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
            return self._taken(_places(place) if place.is_condition else place)
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
        item = variable(f"item_{_items.setdefault(alike, len(_items) + 1)}")
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


def _where(condition: Any, yes: Any, no: Any) -> Any:
    return lifted(chosen, condition, cell(yes), cell(no))


def _clip(values: Any, low: Any, high: Any) -> Any:
    return lifted(
        lambda at, least, most: call("MAX", least, call("MIN", most, at)), values, low, high
    )


def _any(of: Any, **_: Any) -> Any:
    if isinstance(of, Grid):
        return _any(_product(_where(of, 1, 0), lifted(lambda _: ONE, of.across)) > 0)
    return _where(of, 1, 0).sum() > 0


def _all(of: Column, **_: Any) -> Any:
    return _where(of, 0, 1).sum() < 1


def _extreme(function: str) -> Callable[..., Recorded]:
    def of(values: Column, *, initial: Any = None, **_: Any) -> Recorded:
        of_none = ENDLESS if initial == np.inf else node_of(initial or 0.0)
        return Recorded(values._of_all(function, of_none))

    return of


def _places(mask: Column) -> Column:
    """The places, counted from 0, of the items that are true."""
    found = Node("kept", call("_xlfn._xlws.FILTER", mask.places, mask.each()))
    count = node_of(_where(mask, 1, 0).sum())
    return Column(lambda item: Node("-", call("INDEX", found, item), ONE), count, may_be_empty=True)


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


def by_row(rows: RecordedRows, make: Callable[[Any, Any], Any]) -> Column:
    """What comes of each row, on every way through for each of them."""
    numbers = Node("kept", rows.numbers)

    def of_one() -> Any:
        [row] = rows
        return make(Recorded(ROW), row)

    made = rows.answer(of_one)
    return Column(
        lambda item: replaced(made, ROW, call("INDEX", numbers, item)), call("ROWS", numbers)
    ).kept()


def accumulated(values: Column, step: Callable[[Any, Any], Any], start: Any) -> Column:
    """What a step makes of each value and of what it made of those before."""
    known = values.each()
    state, value = variable("state"), variable("value")
    made = node_of(step(Recorded(state), Recorded(value)))
    number = _items.setdefault(Node("scan", node_of(start), known, made), len(_items) + 1)
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


ON_COLUMNS: dict[str, Callable[..., Any]] = {
    "where": _where, "clip": _clip, "any": _any, "all": _all, "flatnonzero": _places,
    "max": _extreme("MAX"), "min": _extreme("MIN"), "argsort": _order, "sort": _sorted,
    "searchsorted": _among,
    "diff": _differences, "cumsum": _cumulated, "argmax": _largest, "resize": _resized,
    "zeros_like": lambda of: of * 0,
    "full_like": _filled_with,
}  # fmt: skip
"""Of the functions on arrays, what each does to ranges."""


def total(values: Iterable[Any], start: Any = 0) -> Any:
    """`sum`, which of a row that stands for each is the sum over all of them."""
    if isinstance(values, Column):
        return start + values.sum()
    listed, every = list(values), places()
    of_rows = [each for each in listed if every is not None and is_of_row(each)]
    found = sum((each for each in listed if not any(each is one for one in of_rows)), start)
    if every is not None and of_rows:
        found = found + Recorded(added_up(every, node_of(sum(of_rows))))
    return found


def numbered(values: Iterable[Any], start: int = 0) -> Iterator[tuple[Any, Any]]:
    """`enumerate`, which counts the row that stands for each as each of them."""
    for place, value in enumerate(values, start):
        several = value if isinstance(value, tuple) else (value,)
        of_row = places() is not None and any(map(is_of_row, several))
        yield (Recorded(ROW) + (place - 1) if of_row else place), value


def counted(*ends: Any) -> Iterable[Any]:
    """`range`, of which one number stands for each where the end is not known yet."""
    if not any(isinstance(end, Recorded) for end in ends):
        return range(*ends)
    start, stop = ends if len(ends) > 1 else (0, *ends)
    count: Any = stop - start
    if count < 1:
        return []
    standing_for(call("_xlfn.SEQUENCE", node_of(count)))
    return [Recorded(ROW) + (start - 1)]


def _of_several(own: Callable[..., Any], function: str) -> Callable[..., Any]:
    def of(*values: Any, **named: Any) -> Any:
        listed = list(values[0]) if len(values) == 1 else list(values)
        if not any(isinstance(each, Recorded) for each in listed):
            return own(listed, **named)
        return Recorded(call(function, *map(node_of, listed)))

    return of


BUILT_IN: dict[str, Callable[..., Any]] = {
    "float": number, "int": whole, "sum": total, "enumerate": numbered, "range": counted,
    "max": _of_several(max, "MAX"), "min": _of_several(min, "MIN"),
}  # fmt: skip
"""Of Python's own functions, what calculations call instead while they are recorded."""
