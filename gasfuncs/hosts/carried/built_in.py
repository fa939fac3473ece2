"""Python's own functions of lists, which calculations call while they are recorded."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from gasfuncs.hosts.carried.arrays import Recorded, node_of, number, whole
from gasfuncs.hosts.carried.columns import Column
from gasfuncs.hosts.carried.nodes import call
from gasfuncs.hosts.carried.rows import ROW, added_up, is_of_row, places, standing_for


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
