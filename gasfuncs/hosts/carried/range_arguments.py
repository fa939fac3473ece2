"""Arguments that are ranges taken whole: rows, series with gaps, records."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from gasfuncs.calculations import cycle_steps, impurity_sources
from gasfuncs.definition.record import REQUIRED, Parameter
from gasfuncs.definition.series import Kept, KeptSeries, Series
from gasfuncs.definition.terms import Choice, Count, Number, Quantity, Share
from gasfuncs.hosts.carried import joining
from gasfuncs.hosts.carried.arrays import NotRecordedError, Recorded, node_of
from gasfuncs.hosts.carried.branches import every_way, option
from gasfuncs.hosts.carried.columns import Column, column
from gasfuncs.hosts.carried.nodes import Node, blank, call, chosen, constant, error
from gasfuncs.hosts.carried.records import RecordedRecords
from gasfuncs.hosts.carried.rows import RecordedRange, RecordedRows, added_up

if TYPE_CHECKING:
    from gasfuncs.hosts.carried.arguments import Arguments


def steps(of: Arguments, _: Parameter, here: Node) -> Any:
    """The steps of a cycle, one of which stands for each."""
    given = RecordedRange(here, len(cycle_steps.COLUMNS), partial(_in_cell, of))
    filled = given.filled(cycle_steps.COLUMNS[0], cycle_steps.MOST_STEPS)
    rows: Any = given

    def answer(run: Callable[[], Any]) -> Node:
        return every_way(partial(of.of_row, run))

    return RecordedRows(filled, lambda: cycle_steps.read_steps(rows, None), answer)


def sources(of: Arguments, _: Parameter, here: Node) -> Any:
    """The sources of an impurity, one of which stands for each."""
    most = impurity_sources.MOST_SOURCES
    given: Any = RecordedRange(here, 3, partial(_in_cell, of))
    of.standing_for = given.filled(0, most)
    made = impurity_sources.read_sources(given)
    of.checked.append(added_up(of.standing_for, node_of(made[0].inflow)))
    return made


def _in_cell(of: Arguments, term: Any, cell: Node) -> Any:
    """A cell of a row as its term reads it."""
    if isinstance(term, Choice):
        place = call("GF_CHOICE", cell, Node("words", term.words))
        return term.words[option(place, len(term.words), joining.joined)]
    if type(term) in (Quantity, Share, Number, Count):
        of.in_rows.append(of.number(cell, term))
        return Recorded(of.in_rows[-1])
    raise NotRecordedError(f"{term.help} is read in a way of its own")


def series(of: Arguments, parameter: Parameter, here: Node) -> Any:
    """A row or column of numbers."""
    term: Any = parameter.term
    if type(term) is KeptSeries:
        made: Any = Kept
        return made(_with_gaps(of, parameter, here))
    if type(term) is not Series:
        raise NotRecordedError(f"{parameter.name} is read in a way of its own")
    if term.blank is not None and math.isnan(term.blank):
        return _with_gaps(of, parameter, here)

    def one(item: Node) -> Node:
        own = of.number(item, term.each)
        return own if term.blank is None else chosen(blank(item), constant(term.blank), own)

    read = column(here, one)
    of.checked.append(read.sum().node)
    return read


def _with_gaps(of: Arguments, parameter: Parameter, here: Node) -> Column:
    """A range of which a blank cell is not a number."""
    term: Any = parameter.term
    nothing = constant("")
    cells = column(here, lambda cell: chosen(blank(cell), nothing, of.number(cell, term.each)))
    cells = cells.kept()
    if parameter.default is REQUIRED:
        missing = chosen(call("GF_NOTHING", here), error("#VALUE!"), constant(0))
        of.checked.append(missing)
    total = cells.sum().node
    if isinstance(term, KeptSeries):  # what cannot be read is left out with a sentence
        total = chosen(call("ISERROR", total), error("#N/A"), total)
    of.checked.append(total)

    def one(item: Node) -> Node:
        cell = cells.at(item)
        return chosen(Node("=", cell, nothing), error("#NUM!"), cell)

    return Column(one, cells.count)


def records(of: Arguments, parameter: Parameter, here: Node) -> RecordedRecords:
    """The rows of a range, whose columns are ranges of numbers."""
    term: Any = parameter.term
    if parameter.default is REQUIRED:
        missing = chosen(call("GF_NOTHING", here), error("#VALUE!"), constant(0))
        of.checked.append(missing)
    made = RecordedRecords(here, term.fields, of.number)
    of.checked.append(made.problem())
    return made
