"""A function as native formulas: its calculation run with arguments that are not known yet."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from functools import partial
from itertools import groupby
from typing import Any

from gasfuncs import properties
from gasfuncs.definition import Definition
from gasfuncs.definition.record import Columns
from gasfuncs.definition.terms import Quantity, Term
from gasfuncs.hosts.carried import joining
from gasfuncs.hosts.carried.arguments import Arguments
from gasfuncs.hosts.carried.arrays import Recorded, node_of
from gasfuncs.hosts.carried.branches import decide, every_way
from gasfuncs.hosts.carried.nodes import (
    Node,
    blank,
    call,
    chosen,
    constant,
    from_the_top,
    own,
    table,
    variable,
)
from gasfuncs.hosts.carried.parts import PARTS
from gasfuncs.hosts.carried.reasons import LEFT_OPEN, PARTLY
from gasfuncs.hosts.carried.recording import recording
from gasfuncs.hosts.carried.rows import ROW, in_own_rows, places, standing_for
from gasfuncs.hosts.carried.substances import RecordedGas
from gasfuncs.hosts.carried.tables import Tables
from gasfuncs.units import Kind, kinds


def recorded(definition: Definition, tables: Tables) -> Node:
    """What the function answers for one value of each argument, as a graph; while `recording`.

    Raises NotRecordedError where its calculation does what no formula can.
    """
    shown = "GF_TABLE" if definition.spills else "GF_ANSWER"
    return call(shown, every_way(partial(_one_way, definition, tables)))


def recorded_part(name: str) -> tuple[tuple[str, ...], Node]:
    """The arguments of a part of calculations, and what it answers."""
    part = PARTS[name]
    whole = part.whole or getattr(part.module, part.function)
    arguments = tuple(inspect.signature(whole).parameters)
    given: list[Any] = [Recorded(variable(each)) for each in arguments]
    given = [
        RecordedGas(one.node) if name == "gas" else one
        for name, one in zip(arguments, given, strict=True)
    ]
    with recording(set()):
        return tuple(map(own, arguments)), every_way(lambda: _part(whole(*given), part.place))


def _part(answer: Any, place: int | None) -> Node:
    return node_of(answer if place is None else answer[place])


def _one_way(definition: Definition, tables: Tables) -> Node:
    """The answer for arguments of one kind each: blank or not, one of a choice's words."""
    left_open = LEFT_OPEN.get(definition.name, frozenset())
    read = Arguments(tables, left_open, definition.name in PARTLY)
    for parameter in definition.gas_first:
        read.values[parameter.name] = read.read(parameter)
    told = _told(definition, read)
    answer = every_way(partial(_calculated, definition, read))
    known = told(joining.settled(answer))
    problems = [each for each in read.checked if each.op not in ("number", "text")]
    if not problems:
        return known
    first = problems[0]
    for each in problems[1:]:
        first = Node("+", first, each)
    return chosen(call("ISERROR", first), first, known)


def _calculated(definition: Definition, read: Arguments) -> Node:
    standing_for(read.standing_for)
    given = {n: v for n, v in read.values.items() if n != "unit"}
    return read.answered(
        partial(definition.calculation, **given), partial(_answer, definition, read)
    )


def _answer(definition: Definition, read: Arguments, result: Any) -> Node:
    if isinstance(definition.result, Columns):
        return _spilt(definition.result, result, read)
    return node_of(result)


def _spilt(columns: Columns, rows: list[list[Any]], read: Arguments) -> Node:
    """A table in the columns' units, below its headings."""
    terms = [column.term for column in columns.columns]
    parts: list[list[Node]] = [[constant(column.heading) for column in columns.columns]]
    parts += [[_cell(*each, read) for each in zip(row, terms, strict=True)] for row in rows]
    tables = []
    for of_row, group in groupby(parts, _stands_for_each):
        cells = [cell for row in group for cell in row]
        tables.append(_each_row(cells) if of_row else table(len(terms), cells))
    return tables[0] if len(tables) == 1 else call("_xlfn.VSTACK", *tables)


def _stands_for_each(cells: list[Node]) -> bool:
    return places() is not None and any(ROW in from_the_top(cell) for cell in cells)


def _each_row(cells: list[Node]) -> Node:
    own_row, *made = in_own_rows(*cells)
    return Node("rows", places(), *made, own_row.args[0])


def _cell(value: Any, term: Term | None, read: Arguments) -> Node:
    if value is None or isinstance(value, str) or not isinstance(term, Quantity):
        return node_of("" if value is None else value)
    row = constant(read.tables.row(term.kind, term.unit))
    return _in_unit(node_of(value), row, read.gas_of(term))


def _told(definition: Definition, read: Arguments) -> Callable[[Node], Node]:
    """How an answer in SI is told in the unit asked for."""
    result = definition.result
    if not isinstance(result, Quantity):
        return lambda answer: answer
    asked, tables = variable("unit"), read.tables
    kind = constant(tables.kind(result.kind))
    mass = _mass_kind(result)
    in_mass = call("GF_ROW", constant(tables.kind(mass)), asked) if mass else None
    if in_mass and decide(call("ISNUMBER", in_mass)):
        return lambda answer: _in_unit(_as_mass(answer, result, read), in_mass, constant(0))
    usual = constant(tables.row(result.kind, result.unit))
    row = chosen(blank(asked), usual, call("GF_ASKED", kind, asked))
    read.checked.append(row)
    gas = read.gas_of(result)
    return lambda answer: _in_unit(answer, row, gas)


def _mass_kind(result: Quantity) -> Kind | None:
    """The kind that an answer may be asked for in, beside its own."""
    if not result.also_mass:
        return None
    return kinds.MASS_FLOW if result.kind is kinds.FLOW else kinds.MASS


def _as_mass(answer: Node, result: Quantity, read: Arguments) -> Node:
    also = result.also_mass
    if answer.op == "error" or not also:
        return answer
    per = getattr(properties, also.per.__name__, also.per)
    return node_of(Recorded(answer) * per(*(read.values[name] for name in also.of)))


def _in_unit(answer: Node, row: Node, gas: Node) -> Node:
    return answer if answer.op == "error" else call("GF_TOLD", answer, row, gas)
