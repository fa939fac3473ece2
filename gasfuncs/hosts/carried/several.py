"""Arrays of a known size whose values are not known yet: NumPy arranges them, each records."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.hosts.carried.arrays import (
    FUNCTIONS,
    UFUNCS,
    NotRecordedError,
    Recorded,
    node_of,
)
from gasfuncs.hosts.carried.nodes import Node, call

Items = NDArray[Any]
"""Recorded values, and numbers that are known."""

AN_ARRAY = np.array
"""As it is while nothing is recorded."""


class Several(Recorded):
    """An array of single values of which some are not known yet."""

    def __init__(self, items: Items) -> None:
        self.items = items

        self.shape, self.ndim, self.size = items.shape, items.ndim, items.size

    def __getattr__(self, name: str) -> Any:
        raise NotRecordedError(f"an array has no {name} in a formula")

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **named: Any) -> Any:
        if ufunc is np.matmul or method != "__call__":
            return _wrapped(getattr(ufunc, method)(*map(_items, inputs), **named))
        made = UFUNCS.get(ufunc.__name__)
        if made is None:
            raise NotRecordedError(f"{ufunc.__name__} of an array has no native formula")
        return each(made, *inputs)

    def __array_function__(
        self, function: Callable[..., Any], types: Any, args: Any, kwargs: Any
    ) -> Any:
        own = OWN.get(function.__name__)
        if own is not None:
            return own(*args, **kwargs)
        return _wrapped(function(*map(_items, args), **{k: _items(v) for k, v in kwargs.items()}))

    def __bool__(self) -> bool:
        raise NotRecordedError("an array is asked whether it is true")

    def __getitem__(self, place: Any) -> Any:
        return _wrapped(self.items[place])

    def __iter__(self) -> Iterator[Any]:
        return map(_wrapped, self.items)

    def __len__(self) -> int:
        return len(self.items)

    def sum(self, **named: Any) -> Any:
        return _wrapped(self.items.sum(**named))


def each(made: Callable[..., Node], *inputs: Any) -> Any:
    """A formula of each item of arrays and values that go together."""

    def one(*values: Any) -> Recorded:
        return Recorded(made(*map(node_of, values)))

    found = np.frompyfunc(one, len(inputs), 1)(*map(_boxed, inputs))
    return _wrapped(found)


def _boxed(value: Any) -> Items:
    """The items of an array, or of a single value, which NumPy would ask what to do with it."""
    if isinstance(value, Several | np.ndarray):
        return value.items if isinstance(value, Several) else value
    box: Items = np.empty((), dtype=object)
    box[()] = value
    return box


def _items(value: Any) -> Any:
    """What NumPy arranges: the items of arrays, also within a list of such."""
    if isinstance(value, Several):
        return value.items
    if isinstance(value, list | tuple):
        return type(value)(map(_items, value))
    return value


def _wrapped(value: Any) -> Any:
    if isinstance(value, np.ndarray) and value.dtype == object:
        return Several(value)
    if isinstance(value, list | tuple):
        return type(value)(map(_wrapped, value))
    return value


def _of_all(function: str) -> Callable[..., Recorded]:
    def recorded(values: Any, *_: Any, **__: Any) -> Recorded:
        return Recorded(call(function, *map(node_of, values.items.ravel().tolist())))

    return recorded


def _where(condition: Any, yes: Any, no: Any) -> Any:
    return each(lambda *nodes: node_of(FUNCTIONS["where"](*nodes)), condition, yes, no)


def _bincount(places: NDArray[np.intp], weights: Any, minlength: int = 0) -> Several:
    found = np.zeros(max(minlength, 1 + int(places.max(initial=-1))), dtype=object)
    np.add.at(found, places, weights.items)
    return Several(found)


OWN: dict[str, Callable[..., Any]] = {
    "where": _where, "bincount": _bincount,
    "any": _of_all("OR"), "all": _of_all("AND"), "max": _of_all("MAX"), "min": _of_all("MIN"),
    "amax": _of_all("MAX"), "amin": _of_all("MIN"),
}  # fmt: skip
"""Of the functions on arrays, those that do not only arrange or add up."""


def in_array(value: Any) -> Any:
    """A list with values that are not known yet as an array, everything else as it is."""
    listed = isinstance(value, list | tuple) and _any_recorded(value)
    return Several(AN_ARRAY(_items(value), dtype=object)) if listed else value


def _any_recorded(value: Any) -> bool:
    if isinstance(value, list | tuple):
        return any(map(_any_recorded, value))
    return isinstance(value, Recorded)
