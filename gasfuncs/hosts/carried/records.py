"""Rows of named columns that record: each column is a range of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np

from gasfuncs.definition.rows import MOST_ROWS, Field
from gasfuncs.definition.terms import Read, Term
from gasfuncs.hosts.carried.columns import ENDLESS, Column
from gasfuncs.hosts.carried.nodes import Node, blank, call, chosen, constant, error


class RecordedRecords:
    """The rows of a range that are filled, which may be none."""

    def __init__(
        self, here: Node, fields: Sequence[Field], reads: Callable[[Node, Any], Node]
    ) -> None:
        self.here, self.fields, self.reads = here, fields, reads
        heading = constant(fields[0].name)
        told = (heading, constant(len(fields)), constant(MOST_ROWS))
        self.count = call("GF_ROW_COUNT", here, *told[:2])
        filled = call("GF_FILLED_ROWS", here, *told)
        any_row = Node(">", self.count, constant(0))
        self.places = Node("kept", chosen(any_row, filled, call("_xlfn.SEQUENCE", constant(1))))
        self.read = {each.name: self._read(place, each) for place, each in enumerate(fields, 1)}

    def __bool__(self) -> bool:
        return True

    def __iter__(self) -> Iterator[Any]:
        return iter(())  # the working of each row, which no formula tells

    def column(self, name: str) -> Column:
        """The numbers of a column."""
        if name == "row":
            return self._column(lambda item: call("INDEX", self.places, item))
        return self.read[name]

    def _column(self, at: Callable[[Node], Node]) -> Column:
        return Column(at, self.count, may_be_empty=True)

    def _read(self, place: int, field: Field) -> Column:
        def at(item: Node) -> Node:
            row = call("INDEX", self.places, item)
            cell = call("GF_CELL", self.here, row, constant(place))
            return chosen(blank(cell), _blank(field), self._one(field.term, cell))

        return self._column(at).kept()

    def _one(self, term: Term, cell: Node) -> Node:
        return call("GF_NAME", cell) if isinstance(term, Read) else self.reads(cell, term)

    def problem(self) -> Node:
        """An error where a cell cannot be read."""

        def at(item: Node) -> Node:
            cells = [self.read[field.name].at(item) for field in self.fields]
            return call("SUM", *(call("N", cell) for cell in cells))

        return Node("+", self.count, self._column(at).sum().node)


def _blank(field: Field) -> Node:
    """What a blank cell of a column stands for."""
    if field.needed:
        return error("#VALUE!")
    if field.blank is None:
        return constant("")
    return ENDLESS if field.blank == np.inf else constant(field.blank)
