"""Rows of named columns that record: each column is a range of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np

from gasfuncs.definition.rows import MOST_ROWS, Field
from gasfuncs.definition.terms import Read, Term
from gasfuncs.hosts.carried.arrays import Recorded, cell, node_of
from gasfuncs.hosts.carried.branches import decide, every_way
from gasfuncs.hosts.carried.column_functions import concatenated, place_of
from gasfuncs.hosts.carried.columns import ENDLESS, Column, item_at
from gasfuncs.hosts.carried.nodes import Node, blank, call, chosen, constant, error, replaced, table
from gasfuncs.hosts.carried.rows import ROW, RecordedRows


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
        self.blanks = {each.name: 0.0 if each.needed else each.blank for each in fields}
        self.read = {each.name: self._read(place, each) for place, each in enumerate(fields, 1)}

    @property
    def size(self) -> Recorded:
        """How many rows there are."""
        return Recorded(self.count)

    def __bool__(self) -> bool:
        return True

    def __iter__(self) -> Iterator[Any]:
        return iter(())  # the working of each row, which no formula tells

    def column(self, name: str) -> Column:
        """The numbers of a column."""
        if name == "row":
            return self._column(lambda item: call("INDEX", self.places, item))
        known = self.read[name]
        if self.blanks[name] is not None:
            return known
        return self._column(lambda item: _number(known.at(item)))

    def place_of(self, name: str, text: Any) -> Any:
        """The place of the first row with a text in a column, counted from 0; -1 where none is."""
        return place_of(text, self.read[name])

    def at(self, place: Any) -> RecordedRow:
        """The row at a place, counted from 0."""
        return RecordedRow(self, item_at(node_of(place)))

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


def _number(told: Node) -> Node:
    """A number, or none where a cell is blank."""
    return chosen(Node("=", told, constant("")), error("#NUM!"), told)


class RecordedRow:
    """A row by its number, whose cells are looked up as they are asked for."""

    def __init__(self, records: RecordedRecords, number: Node) -> None:
        self.records, self.number = records, number

    def __getitem__(self, name: str) -> Any:
        if name == "row":
            return Recorded(self.records.column("row").at(self.number))
        told = self.records.read[name].at(self.number)
        if self.records.blanks[name] is None and decide(Node("=", told, constant(""))):
            return None
        return Recorded(told)


class RecordedTable:
    """Rows of cells: each column is a range of its own."""

    def __init__(self, columns: Sequence[Column]) -> None:
        self.columns = tuple(columns)

    def __iter__(self) -> Iterator[list[Any]]:
        return iter([[each.tolist()[0] for each in self.columns]])

    def __add__(self, other: RecordedTable) -> RecordedTable:
        pairs = zip(self.columns, other.columns, strict=True)
        return RecordedTable([concatenated(*each) for each in pairs])


def those(rows: RecordedTable, where: Column) -> RecordedTable:
    """The rows for which something is true."""
    return RecordedTable([each[where] for each in rows.columns])


def by_row(rows: Any, make: Callable[[Any, Any], Any]) -> Column | RecordedTable:
    """What comes of each row, on every way through for each of them."""
    return _of_steps(rows, make) if isinstance(rows, RecordedRows) else _of_records(rows, make)


def _of_steps(rows: RecordedRows, make: Callable[[Any, Any], Any]) -> Column:
    numbers = Node("kept", rows.numbers)

    def of_one() -> Any:
        [row] = rows
        return make(Recorded(ROW), row)

    made = rows.answer(of_one)
    return Column(
        lambda item: replaced(made, ROW, call("INDEX", numbers, item)), call("ROWS", numbers)
    ).kept()


def _of_records(rows: RecordedRecords, make: Callable[[Any, Any], Any]) -> Column | RecordedTable:
    def of_one() -> Node:
        made = make(Recorded(ROW), RecordedRow(rows, ROW))
        return table(len(made), map(_told, made)) if isinstance(made, list) else _told(made)

    found = every_way(of_one)
    if found.op != "table":
        return _column_of(rows, found)
    return RecordedTable([_column_of(rows, each) for each in found.args[1:]])


def _told(value: Any) -> Node:
    return node_of(cell(value))


def _column_of(rows: RecordedRecords, made: Node) -> Column:
    return Column(lambda item: replaced(made, ROW, item), rows.count, may_be_empty=True).kept()
