"""Ranges that record: what is done to each item, and the sum over them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

import numpy as np

from gasfuncs.hosts.carried import several
from gasfuncs.hosts.carried.arrays import UFUNCS, NotRecordedError, Recorded, node_of, number, whole
from gasfuncs.hosts.carried.nodes import Node, call, chosen, variable
from gasfuncs.hosts.carried.rows import ROW, added_up, is_of_row, places, standing_for
from gasfuncs.hosts.carried.several import Several

At = Callable[[Node], Node]
"""What an item is, by its place in the range."""

_sums: dict[Node, int] = {}
"""Each sum has a variable of its own, so that what depends on it stays in the sum."""


class Column(Recorded):
    """A row or column of values that are not known yet, as many as a range holds."""

    ndim = 1

    def __init__(self, at: At, count: Node) -> None:
        self.at, self.count = at, count

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
        if function is np.where:
            return lifted(chosen, *args)
        return super().__array_function__(function, types, args, kwargs)

    def tolist(self) -> list[Recorded]:
        """One item, which stands for each."""
        standing_for(call("_xlfn.SEQUENCE", self.count))
        return [Recorded(self.at(ROW))]

    def sum(self, **_: Any) -> Recorded:
        """The sum over the range."""
        number = _sums.setdefault(self.at(variable("item")), len(_sums) + 1)
        item = variable(f"item_{number}")
        places = call("_xlfn.SEQUENCE", self.count)
        return Recorded(Node("sum", places, self.at(item), item.args[0]))


def lifted(made: Callable[..., Node], *values: Any) -> Any:
    """A formula of values, for each item where some of them are ranges."""
    if any(isinstance(value, Several) for value in values):
        return several.each(made, *values)
    columns = [each for each in values if isinstance(each, Column)]
    if not columns:
        return Recorded(made(*map(node_of, values)))

    def at(item: Node) -> Node:
        return made(*(v.at(item) if isinstance(v, Column) else node_of(v) for v in values))

    return Column(at, columns[0].count)


def column(here: Node, read: At) -> Column:
    """The cells of a range, each as it is read."""
    return Column(lambda item: read(call("GF_ITEM", here, item)), call("GF_ITEMS", here))


def total(values: Iterable[Any], start: Any = 0) -> Any:
    """`sum`, which of a row that stands for each is the sum over all of them.

    Where the whole calculation is that sum it is noted as one.
    """
    listed, every = list(values), places()
    of_rows = [each for each in listed if every is not None and is_of_row(each)]
    found = sum((each for each in listed if not any(each is one for one in of_rows)), start)
    if every is not None and of_rows:
        found = found + Recorded(added_up(every, node_of(sum(of_rows))))
    if isinstance(found, Recorded):
        found.is_total = True
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
