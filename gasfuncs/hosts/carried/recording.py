"""What stands in for what while a calculation is recorded."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from functools import partial
from types import ModuleType
from typing import Any
from unittest.mock import patch

import numpy as np
from fluids import geometry

from gasfuncs import properties
from gasfuncs.calculations import (
    calendar,
    cost,
    delivery,
    friction,
    grouping,
    impurity_sources,
    searching,
    vacuum,
)
from gasfuncs.calculations.friction import Friction
from gasfuncs.definition import ranges, reading, rows, terms
from gasfuncs.hosts.carried import arrays, calendars, column_functions, records
from gasfuncs.hosts.carried.arrays import NotRecordedError, Recorded, node_of
from gasfuncs.hosts.carried.branches import decide, taken
from gasfuncs.hosts.carried.built_in import BUILT_IN
from gasfuncs.hosts.carried.columns import lifted
from gasfuncs.hosts.carried.nodes import Node, call, chosen, constant, error
from gasfuncs.hosts.carried.nodes import blank as nothing
from gasfuncs.hosts.carried.parts import PARTS, Part
from gasfuncs.hosts.carried.roots import balance_root, find_root, rounds, secant
from gasfuncs.hosts.carried.rows import ROW, RecordedCell, RecordedRange, RecordedRows
from gasfuncs.hosts.carried.several import in_array
from gasfuncs.hosts.carried.substances import (
    PROPERTIES,
    RecordedGas,
    RecordedReference,
    RecordedText,
    RecordedUnit,
    RecordedWord,
    by_word,
    gas_node,
    kinds_of,
    naming,
    unit_of,
)
from gasfuncs.properties import Gas
from gasfuncs.units import Kind, kinds

UNKNOWN = (
    Recorded, RecordedText, RecordedGas, RecordedReference, RecordedUnit, RecordedCell,
    RecordedRange, RecordedRows, RecordedWord, calendars.RecordedWeek,
    records.RecordedRecords, records.RecordedTable,
)  # fmt: skip


def _or(recorded: Callable[..., Any], own: Callable[..., Any]) -> Callable[..., Any]:
    """What records where anything is not known yet, and else is the library's own."""

    def either(*args: Any, **named: Any) -> Any:
        unknown = any(isinstance(each, UNKNOWN) for each in (*args, *named.values()))
        return (recorded if unknown else own)(*args, **named)

    return either


def _texts_or(recorded: Callable[..., Any], own: Callable[..., Any]) -> Callable[..., Any]:
    def either(*args: Any) -> Any:
        return (recorded if isinstance(args[-1], RecordedText) else own)(*args)

    return either


def _cells_or(own: Callable[..., Any]) -> Callable[..., Any]:
    def read(term: Any, value: Any, gas: Any = None) -> Any:
        recorded = isinstance(value, RecordedCell)
        return value.reads(term, value.node) if recorded else own(term, value, gas)

    return read


def _searched(own: Callable[..., Any]) -> Callable[..., Any]:
    def either(function: Any, bracket: Any, args: Any = (), **options: Any) -> Any:
        if any(isinstance(each, Recorded) for each in (*bracket, *args)):
            return find_root(function, bracket, args)
        return own(function, bracket, args=args, **options)

    return either


def _by_secant(own: Callable[..., Any]) -> Callable[..., Any]:
    def either(function: Any, old: Any, new: Any) -> Any:
        return (secant if isinstance(function(old), Recorded) else own)(function, old, new)

    return either


def _in_rounds(own: Callable[..., Any]) -> Callable[..., Any]:
    def either(step: Any, start: Any, most: int) -> Any:
        recorded = any(isinstance(each, Recorded) for each in step(*start)[0])
        return rounds(step, start) if recorded else own(step, start, most)

    return either


def _integrated(own: Callable[..., Any]) -> Callable[..., Any]:
    def either(function: Any, low: Any, high: Any, args: Any = (), **options: Any) -> Any:
        if any(isinstance(each, Recorded) for each in (low, high, *args)):
            raise NotRecordedError("an integral has no formula")
        return own(function, low, high, args, **options)

    return either


def _behind_a_line(own: Callable[..., Any]) -> Callable[..., Any]:
    def either(gas: Any, bore: Any, length: Any) -> Any:
        if bore is not None and length is not None and isinstance(bore, Recorded):
            raise NotRecordedError("a pump behind a line has no formula")
        return own(gas, bore, length)

    return either


def _by_name(named: list[tuple[str, Part]]) -> Callable[..., Any]:
    made: Any = Friction if named[0][1].module is friction else lambda *found: found

    def called(*args: Any, **given: Any) -> Any:
        found = [
            Recorded(call(name, *map(_numbered, part.numbers(*args, *given.values()))))
            for name, part in named
        ]
        return found[0] if named[0][1].place is None else made(*found)

    return called


def _numbered(given: Any) -> Node:
    return gas_node(given) if isinstance(given, RecordedGas | Gas) else node_of(given)


def _parts() -> Iterator[tuple[Any, str, Callable[..., Any]]]:
    owned: dict[tuple[Any, str], list[tuple[str, Part]]] = {}
    for name, part in PARTS.items():
        owned.setdefault((part.module, part.function), []).append((name, part))
    for (module, function), named in owned.items():
        yield module, function, _by_name(named)


def _to_si(value: Any, unit: RecordedUnit, gas: Any) -> Recorded:
    return Recorded(call("GF_SI", node_of(value), unit.row, gas_node(gas)))


def _from_si(value: Any, unit: RecordedUnit, gas: Any) -> Recorded:
    return Recorded(call("GF_TOLD", node_of(value), unit.row, gas_node(gas)))


def _count_and_unit(text: RecordedText, _: str) -> tuple[Recorded, RecordedText]:
    count = Recorded(call("GF_COUNT", text.node))
    return count, RecordedText(call("GF_COUNTED", text.node), text.tables)


def _cell_or_blank(term: Any, cell: Any, gas: Any = None, *, blank: Any = None) -> Any:
    """What a cell tells, or what a blank one stands for, an error where it stands for nothing."""
    told = term.read(cell, gas)
    if isinstance(told, str) or taken(nothing(cell.node)) == 1:
        return told
    stands_for = constant(blank) if isinstance(blank, float) else error("#VALUE!")
    return Recorded(chosen(nothing(cell.node), stands_for, node_of(told)))


def _named_source(cell: Any, _: int) -> Recorded:
    numbered = call("CONCATENATE", constant("source "), ROW)
    named = call("CONCATENATE", cell.node, constant(""))
    return Recorded(chosen(nothing(cell.node), numbered, named))


def _hooks() -> Iterator[tuple[Any, str, Callable[..., Any]]]:
    """What stands in for what while a calculation is recorded: the owner, the name, the hook."""
    for name, recorded in PROPERTIES.items():
        yield properties, name, recorded
    yield terms, "to_si", _to_si
    yield terms, "from_si", _from_si
    yield cost, "count_and_unit", _count_and_unit
    yield from _parts()
    yield reading, "is_blank", lambda cell: decide(nothing(cell.node))
    yield ranges, "rows_of", RecordedRange.rows
    yield rows, "is_heading", lambda *_: False
    yield reading, "read_cell", _cell_or_blank
    yield calendar, "month_numbers", lambda days: lifted(partial(call, "GF_MONTH"), days)
    yield calendar, "first_days", lambda months: lifted(partial(call, "GF_FIRST_DAY"), months)
    for name in ("open_days", "next_open", "last_open", "dates", "serials"):
        yield calendar, name, getattr(calendars, name)
    yield calendar, "month_text", lambda _: "the month"
    yield delivery, "balance_root", balance_root
    yield grouping, "by_word", by_word
    yield grouping, "by_row", records.by_row
    yield grouping, "those", records.those
    yield grouping, "accumulated", column_functions.accumulated
    yield grouping, "sums_of", column_functions.sums_of
    yield grouping, "sums_before", column_functions.sums_before
    yield impurity_sources, "filled_rows", lambda of: [(1, of.rows()[0])]
    yield impurity_sources, "name_of", _named_source


def _calculations() -> list[ModuleType]:
    """The modules of calculations that are in use."""
    every = list(sys.modules.items())
    return [module for name, module in every if name.startswith("gasfuncs.calculations.")]


def _plain_functions() -> Iterator[tuple[Any, str, Callable[..., Any]]]:
    """The functions of `math`, and what searches or integrates."""
    for name in arrays.MATH:
        yield math, name, arrays.of_math(name)
    yield searching, "secant", _by_secant(searching.secant)
    yield searching, "rounds", _in_rounds(searching.rounds)
    yield vacuum, "line_or_none", _behind_a_line(vacuum.line_or_none)
    yield geometry, "quad", _integrated(vars(geometry)["quad"])


@contextmanager
def standing_in(
    hooks: Iterable[tuple[Any, str, Callable[..., Any]]], but: str = ""
) -> Iterator[None]:
    """Wherever a module of the library took a function from its owner, the hook is called.

    So it is in `math` and where the shapes of tanks are; not in the modules of this host, nor in
    those whose names begin with `but`.
    """
    left = tuple(filter(None, (__name__.rpartition(".")[0], but)))
    ours = [
        each for name, each in sys.modules.items()
        if name.startswith("gasfuncs.") and not name.startswith(left)
    ] + [math, geometry]  # fmt: skip
    with ExitStack() as stack:
        for owner, name, hook in hooks:
            own = getattr(owner, name)
            for module in ours:
                if vars(module).get(name) is own:
                    stack.enter_context(patch.object(module, name, hook))
        yield


@contextmanager
def recording(named: set[str]) -> Iterator[None]:
    """Properties, units, `asarray`, `float` and `math` take recorded values; all else is as ever.

    The gases that a calculation itself names are added to those named.
    """
    from scipy.optimize import elementwise

    hooks = [(owner, name, _or(hook, getattr(owner, name))) for owner, name, hook in _hooks()]
    with naming(named), standing_in([*hooks, *_plain_functions()]), ExitStack() as stack:
        for name in ("asarray", "array", "asanyarray"):
            stack.enter_context(patch.object(np, name, arrays.kept(getattr(np, name), in_array)))
        for module in _calculations():
            for name, hook in BUILT_IN.items():
                stack.enter_context(patch.object(module, name, hook, create=True))
        for term in (terms.Number, terms.Quantity, terms.Choice):
            stack.enter_context(patch.object(term, "read", _cells_or(term.read)))
        search = _searched(elementwise.find_root)
        stack.enter_context(patch.object(elementwise, "find_root", search))
        stack.enter_context(patch.object(Kind, "unit", _texts_or(unit_of, Kind.unit)))
        stack.enter_context(patch.object(kinds, "kinds_of", _texts_or(kinds_of, kinds.kinds_of)))
        yield
