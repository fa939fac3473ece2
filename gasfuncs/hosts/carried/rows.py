"""Rows of a range that record: the calculation is run for one of them, which stands for each."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from gasfuncs.hosts.carried.branches import decide
from gasfuncs.hosts.carried.nodes import Node, call, constant, variable

ROW = variable("row")
"""The number of the row in its range."""


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

    def filled(self, heading: str, most: int) -> Node:
        """The numbers of those rows."""
        told = (constant(each) for each in (heading, self.columns, most))
        return call("GF_FILLED_ROWS", self.node, *told)


@dataclass(frozen=True)
class RecordedRows:
    """What is read from the rows, each time that it is asked for."""

    read: Callable[[], Iterable[Any]]

    def __iter__(self) -> Iterator[Any]:
        return iter(self.read())
