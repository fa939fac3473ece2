"""Ranges that record: what is done to each item, and the sum over them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from gasfuncs.hosts.carried import several
from gasfuncs.hosts.carried.arrays import UFUNCS, NotRecordedError, Recorded, node_of
from gasfuncs.hosts.carried.nodes import Node, call, variable
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
