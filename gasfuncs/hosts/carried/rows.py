"""Rows of a range that record: the calculation is run for one of them, which stands for each."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any

from gasfuncs.hosts.carried.branches import decide
from gasfuncs.hosts.carried.nodes import Node, call, constant, from_the_top, replaced, variable

ROW = variable("row")
"""The number of the row in its range."""


_places: ContextVar[Node | None] = ContextVar("places", default=None)
"""The numbers of the rows that one stands for."""


def standing_for(places: Node | None) -> None:
    """From here on `ROW` stands for each of these numbers, or for none."""
    _places.set(places)


def places() -> Node | None:
    """The numbers that `ROW` stands for, if it stands for any."""
    return _places.get()


_numbers: dict[tuple[Node, ...], int] = {}
"""Each use of rows has a variable of its own, so that what depends on it stays within."""


def in_own_rows(*nodes: Node) -> tuple[Node, ...]:
    """Formulas of the row that stands for each with a variable of their own, and that variable."""
    number = _numbers.setdefault(nodes, len(_numbers) + 1)
    own_row = variable(f"row_{number}")
    return own_row, *(replaced(node, ROW, own_row) for node in nodes)


def added_up(places: Node, node: Node) -> Node:
    """The sum of a formula over the rows."""
    own_row, each = in_own_rows(node)
    return Node("sum", places, each, own_row.args[0])


def is_of_row(value: Any) -> bool:
    """Whether a value depends on the row that stands for each."""
    node = getattr(value, "node", None)
    return isinstance(node, Node) and ROW in from_the_top(node)


@dataclass(frozen=True, eq=False)
class RecordedCell:
    """A cell that may hold anything, and how a term reads it."""

    node: Node
    reads: Callable[[Any, Node], Any]

    def __ne__(self, other: object) -> bool:
        return decide(Node("<>", self.node, constant(other)))


@dataclass(frozen=True)
class RecordedRange:
    """A range of so many columns at most."""

    node: Node
    columns: int
    reads: Callable[[Any, Node], Any]

    def rows(self) -> list[list[RecordedCell]]:
        """The one row that stands for each that is filled and no heading."""
        places = (constant(1 + place) for place in range(self.columns))
        cells = (call("GF_CELL", self.node, ROW, place) for place in places)
        return [[RecordedCell(cell, self.reads) for cell in cells]]

    def filled(self, heading: str | int, most: int) -> Node:
        """The numbers of those rows; there is no row of headings where the heading is a number."""
        told = (constant(each) for each in (heading, self.columns, most))
        return call("GF_FILLED_ROWS", self.node, *told)


@dataclass(frozen=True)
class RecordedRows:
    """What is read from the rows with these numbers, each time that it is asked for.

    `answer` makes one node of what a run answers for one row, on every way through it.
    """

    numbers: Node
    read: Callable[[], Iterable[Any]]
    answer: Callable[[Callable[[], Any]], Node]

    def __iter__(self) -> Iterator[Any]:
        return iter(self.read())
