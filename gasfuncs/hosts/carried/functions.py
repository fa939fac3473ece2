"""A function as native formulas: its calculation run with arguments that are not known yet."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from gasfuncs.definition import Definition
from gasfuncs.definition.record import REQUIRED, Parameter
from gasfuncs.definition.terms import Choice, GasName, Number, Quantity, Text
from gasfuncs.errors import GasFuncsError
from gasfuncs.hosts.carried import joining
from gasfuncs.hosts.carried.arrays import NotRecordedError, Recorded, node_of
from gasfuncs.hosts.carried.branches import decide, every_way, option
from gasfuncs.hosts.carried.nodes import Node, call, chosen, constant, error, variable
from gasfuncs.hosts.carried.parts import PARTS
from gasfuncs.hosts.carried.reasons import PARTLY
from gasfuncs.hosts.carried.substances import (
    RecordedGas,
    RecordedText,
    gas_node,
    recording,
)
from gasfuncs.hosts.carried.tables import Tables

BLANK = constant("")


def recorded(definition: Definition, tables: Tables) -> Node:
    """What the function answers for one value of each argument, as a graph.

    Raises NotRecordedError where its calculation does what no formula can.
    """
    with recording():
        return call("GF_ANSWER", every_way(partial(_one_way, definition, tables)))


def recorded_part(name: str) -> tuple[tuple[str, ...], Node]:
    """The arguments of a part of calculations, and what it answers."""
    module, function = PARTS[name]
    own = getattr(module, function)
    arguments = tuple(inspect.signature(own).parameters)
    given = [Recorded(variable(each)) for each in arguments]
    with recording():
        return arguments, every_way(lambda: node_of(own(*given)))


@dataclass
class _Read:
    """Arguments as they are read, and what of them may be an error, in order."""

    tables: Tables
    values: dict[str, Any] = field(default_factory=dict)
    checked: list[Node] = field(default_factory=list)

    def gas_of(self, term: Any) -> Node:
        of = self.values.get(term.of if isinstance(term, Quantity) else "gas")
        return constant(0) if of is None else gas_node(of)


def _one_way(definition: Definition, tables: Tables) -> Node:
    """The answer for arguments of one kind each: blank or not, one of a choice's words."""
    read = _Read(tables)
    for parameter in definition.gas_first:
        read.values[parameter.name] = _argument(parameter, read)
    told = _told(definition, read)
    answer = every_way(partial(_calculated, definition, read.values))
    known = told(joining.settled(answer))
    problems = [each for each in read.checked if each.op not in ("number", "text")]
    if not problems:
        return known
    first = problems[0]
    for each in problems[1:]:
        first = Node("+", first, each)
    return chosen(call("ISERROR", first), first, known)


def _calculated(definition: Definition, values: dict[str, Any]) -> Node:
    try:
        result = definition.calculation(**{n: v for n, v in values.items() if n != "unit"})
    except GasFuncsError as refusal:
        return error(refusal.code)
    except NotRecordedError:
        if definition.name in PARTLY:
            return error("#N/A")
        raise
    return constant(result) if isinstance(result, str) else node_of(result)


def _argument(parameter: Parameter, read: _Read) -> Any:
    """An argument as its calculation takes it."""
    here = variable(parameter.name)
    blank = Node("=", call("TRIM", here), BLANK)
    term, default = parameter.term, parameter.default
    if parameter.name == "unit" and isinstance(term, Text):
        return here
    if default is None and decide(blank):
        return None
    if isinstance(term, GasName):
        place = _or_default(parameter, blank, call("GF_GAS", here), gas_node)
        read.checked.append(place)
        return RecordedGas(place)
    if isinstance(term, Choice):
        return _word(parameter, term, blank, here, read)
    if isinstance(term, Text):
        kinds_place = call("GF_KINDS", here)
        read.checked.append(kinds_place)
        return RecordedText.of(here, read.tables)
    if isinstance(term, Number):
        own = call("GF_READ", here, constant(read.tables.term(term)), read.gas_of(term))
        place = _or_default(parameter, blank, own, constant)
        read.checked.append(place)
        return Recorded(place)
    raise NotRecordedError(f"{parameter.name} is read in a way of its own")


def _or_default(parameter: Parameter, blank: Node, own: Node, told: Callable[[Any], Node]) -> Node:
    if parameter.default is None:
        return own
    if parameter.default is REQUIRED:
        return chosen(blank, error("#VALUE!"), own)
    return chosen(blank, told(parameter.default), own)


def _word(parameter: Parameter, term: Choice, blank: Node, here: Node, read: _Read) -> str:
    words = Node("words", term.words)
    place = _or_default(
        parameter, blank, call("GF_CHOICE", here, words),
        lambda word: constant(1 + term.words.index(word)),
    )  # fmt: skip
    read.checked.append(place)
    return term.words[option(place, len(term.words), joining.joined)]


def _told(definition: Definition, read: _Read) -> Callable[[Node], Node]:
    """How an answer in SI is told in the unit asked for."""
    result = definition.result
    if not isinstance(result, Quantity):
        return lambda answer: answer
    asked, tables = variable("unit"), read.tables
    own = constant(tables.row(result.kind, result.unit))
    kind = constant(tables.kind(result.kind))
    blank = Node("=", call("TRIM", asked), BLANK)
    row = chosen(blank, own, call("GF_ASKED", kind, asked))
    read.checked.append(row)
    gas = read.gas_of(result)
    return lambda answer: _in_unit(answer, row, gas)


def _in_unit(answer: Node, row: Node, gas: Node) -> Node:
    return answer if answer.op == "error" else call("GF_TOLD", answer, row, gas)
