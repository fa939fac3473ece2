"""Gases and units that stand for whichever a cell names, and what the properties become of them."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from types import ModuleType
from typing import Any
from unittest.mock import patch

import numpy as np
from fluids import geometry

from gasfuncs import properties
from gasfuncs.calculations import cost, impurity_sources, vacuum
from gasfuncs.definition import ranges, reading, rows, terms
from gasfuncs.errors import UnitError
from gasfuncs.hosts.carried import arrays
from gasfuncs.hosts.carried.arrays import NotRecordedError, Recorded, node_of
from gasfuncs.hosts.carried.branches import decide, option, taken
from gasfuncs.hosts.carried.columns import BUILT_IN, lifted
from gasfuncs.hosts.carried.joining import joined, joined_by_table
from gasfuncs.hosts.carried.nodes import Node, call, chosen, constant, error
from gasfuncs.hosts.carried.nodes import blank as nothing
from gasfuncs.hosts.carried.parts import PARTS, SEARCHES, Part
from gasfuncs.hosts.carried.roots import find_root
from gasfuncs.hosts.carried.rows import ROW, RecordedCell, RecordedRange
from gasfuncs.hosts.carried.several import in_array
from gasfuncs.hosts.carried.tables import GASES, REFERENCES, Tables, gas_place
from gasfuncs.properties import Gas, Liquid, LiquidState, Saturated
from gasfuncs.units import Kind, kinds
from gasfuncs.units.reference import Reference


@dataclass(frozen=True)
class RecordedGas:
    """A pure gas by its place in the table; asked for its name it is each in turn."""

    node: Node
    is_mixture: bool = False

    @property
    def name(self) -> str:
        return GASES[option(self.node, len(GASES), joined)]

    @property
    def parts(self) -> tuple[tuple[str, float], ...]:
        return ((self.name, 1.0),)

    def __str__(self) -> str:
        return "the gas"


@dataclass(frozen=True)
class RecordedReference:
    """Reference conditions by their place in the table."""

    node: Node
    label: str = "reference conditions"


@dataclass(frozen=True)
class RecordedUnit:
    """A unit of a kind, by its row on the units sheet."""

    kind: Kind
    row: Node

    @property
    def label(self) -> str:
        return "the unit"

    @property
    def scale(self) -> Recorded:
        return Recorded(call("GF_UNIT_SCALE", self.row))

    @property
    def zero(self) -> Recorded | float:
        has_zero = any(self.kind.unit(label).zero for label in self.kind.labels())
        return Recorded(call("GF_UNIT_ZERO", self.row)) if has_zero else 0.0

    @property
    def reference(self) -> RecordedReference | None:
        place = call("GF_UNIT_REFERENCE", self.row)
        told = {bool(self.kind.unit(label).reference) for label in self.kind.labels()}
        if len(told) == 1 and not told.pop():
            return None
        some = len(told) == 0 or decide(Node(">", place, constant(0)))
        return RecordedReference(place) if some else None

    @property
    def water_mass(self) -> bool:
        if not any(self.kind.unit(label).water_mass for label in self.kind.labels()):
            return False
        return decide(Node(">", call("GF_UNIT_WATER", self.row), constant(0)))


@dataclass(frozen=True)
class RecordedText:
    """A text that names a unit."""

    node: Node
    tables: Tables = field(compare=False)

    def __str__(self) -> str:
        return "the unit"


def kinds_of(text: RecordedText) -> tuple[Kind, ...]:
    """The kinds that the unit can be of: each possible list of them in turn."""
    every = text.tables.kind_lists()
    place = call("GF_KINDS", text.node)
    return every[option(place, len(every), joined_by_table)]


def unit_of(kind: Kind, text: RecordedText) -> RecordedUnit:
    """The unit of a kind, refused where it is none."""
    row = call("GF_ROW", constant(text.tables.kind(kind)), text.node)
    listed = taken(call("GF_KINDS", text.node))
    if listed is None:
        known = decide(call("ISNUMBER", row))
    else:
        known = kind in text.tables.kind_lists()[listed]
    if not known:
        raise UnitError("is no unit of that kind")
    return RecordedUnit(kind, row)


_named: ContextVar[set[str]] = ContextVar("named")
"""The gases that a calculation itself names, while it is recorded."""


def gas_node(of: Any) -> Node:
    """A gas as its place in the table."""
    return of.node if isinstance(of, RecordedGas) else constant(_known(of))


def _known(of: Gas | None) -> int:
    if of is not None:
        if of.is_mixture:
            raise NotRecordedError("a mixture has no series")
        _named.get().add(of.name)
    return gas_place(of)


def _by(function: str) -> Callable[..., Any]:
    def recorded(gas: Any, *states: Any) -> Any:
        return lifted(lambda *nodes: call(function, gas_node(gas), *nodes), *states)

    return recorded


def _molar_mass(gas: Any) -> Recorded:
    return Recorded(call("GF_GAS_NUMBER", gas_node(gas), constant(1)))


def _reference_density(gas: Any, reference: Reference | RecordedReference) -> Recorded:
    if isinstance(reference, RecordedReference):
        place = reference.node
    else:
        place = constant(1 + REFERENCES.index(reference))
    return Recorded(call("GF_REFERENCE", gas_node(gas), place))


PROPERTIES: dict[str, Callable[..., Any]] = {
    "molar_density": _by("GF_MOLAR_DENSITY"),
    "density": lambda gas, p, t: _by("GF_MOLAR_DENSITY")(gas, p, t) * _molar_mass(gas),
    "compressibility": _by("GF_Z"),
    "pressure": _by("GF_PRESSURE_OF"),
    "molar_mass": _molar_mass,
    "reference_molar_density": _reference_density,
}
"""Of the properties, what each is in a formula."""


def _saturated(gas: Any, pressure: Any) -> Saturated:
    at = (gas_node(gas), node_of(pressure))
    temperature, liquid, _, h_liquid, h_vapour = (
        Recorded(call("GF_SATURATED", *at, constant(place))) for place in range(1, 6)
    )
    vapour = Recorded(call("GF_VAPOUR_DENSITY", *at))
    p: Any = pressure
    energies = (h_liquid - p / liquid, h_vapour - p / vapour)
    made: Any = Saturated
    both: Saturated = made(temperature, liquid, vapour, h_liquid, h_vapour, *energies, None, None)
    return both


def _liquid(gas: Any, pressure: Any, state: LiquidState | None = None) -> Liquid:
    if state is not None and state.temperature is not None:
        return _compressed(gas, pressure, state.temperature)
    told = state.pressure if state is not None else None
    both = _saturated(gas, pressure if told is None else told)
    return Liquid(both.temperature, both.liquid_density, both.liquid_enthalpy)


def _compressed(gas: Any, pressure: Any, temperature: Any) -> Liquid:
    at = (gas_node(gas), node_of(pressure), node_of(temperature))
    density: Any = Recorded(call("GF_LIQUID_DENSITY", *at))
    enthalpy: Any = Recorded(call("GF_LIQUID_ENTHALPY", *at))
    return Liquid(temperature, density, enthalpy)


def _saturated_at(gas: Any, temperature: Any) -> LiquidState:
    boils: Any = _by("GF_BOILING")(gas, temperature)
    return LiquidState(pressure=boils)


def _missing(name: str) -> Callable[..., Any]:
    def missing(*_: Any) -> Any:
        raise NotRecordedError(f"{name} has no formula")

    return missing


MORE: dict[str, Callable[..., Any]] = {
    "saturated": _saturated,
    "liquid": _liquid,
    "compressed": _compressed,
    "saturated_at": _saturated_at,
    "enthalpy": _by("GF_ENTHALPY"),
    "viscosity": _by("GF_VISCOSITY"),
    "isentropic_exponent": _by("GF_EXPONENT"),
    "heat_capacity_ratio": _by("GF_HEAT_RATIO"),
}
PROPERTIES |= MORE | {
    name: _missing(name)
    for name in (
        "dense", "dense_pressure", "entropy", "expanded", "internal_energy", "moving",
    )
}  # fmt: skip

UNKNOWN = (
    Recorded, RecordedText, RecordedGas, RecordedReference, RecordedUnit, RecordedCell,
    RecordedRange,
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


def _by_name(name: str, part: Part) -> Callable[..., Recorded]:
    return lambda *args, **named: Recorded(
        call(name, *map(node_of, part.numbers(*args, *named.values())))
    )


def _to_si(value: Any, unit: RecordedUnit, gas: Any) -> Recorded:
    return Recorded(call("GF_SI", node_of(value), unit.row, gas_node(gas)))


def _from_si(value: Any, unit: RecordedUnit, gas: Any) -> Recorded:
    return Recorded(call("GF_TOLD", node_of(value), unit.row, gas_node(gas)))


def _count_and_unit(text: RecordedText, _: str) -> tuple[Recorded, RecordedText]:
    count = Recorded(call("GF_COUNT", text.node))
    return count, RecordedText(call("GF_COUNTED", text.node), text.tables)


def _cell_or_blank(term: Any, cell: Any, gas: Any = None, *, blank: Any = None) -> Recorded:
    """A number in a cell, or what a blank one stands for, an error where it stands for nothing."""
    stands_for = constant(blank) if isinstance(blank, float) else error("#VALUE!")
    return Recorded(chosen(nothing(cell.node), stands_for, node_of(term.read(cell, gas))))


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
    for name, part in PARTS.items():
        yield part.module, part.function, _by_name(name, part)
    for module, function in SEARCHES:
        yield module, function, _missing(function)
    yield reading, "is_blank", lambda cell: decide(nothing(cell.node))
    yield ranges, "rows_of", RecordedRange.rows
    yield rows, "is_heading", lambda *_: False
    yield reading, "read_cell", _cell_or_blank
    yield impurity_sources, "filled_rows", lambda of: [(1, of.rows()[0])]
    yield impurity_sources, "name_of", _named_source


def _calculations() -> list[ModuleType]:
    """The modules of calculations that are in use."""
    every = list(sys.modules.items())
    return [module for name, module in every if name.startswith("gasfuncs.calculations.")]


def _plain_functions() -> Iterator[tuple[Any, str, Callable[..., Any]]]:
    """The functions of `math`, and what integrates."""
    for name in arrays.MATH:
        yield math, name, arrays.of_math(name)
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

    token = _named.set(named)
    hooks = [(owner, name, _or(hook, getattr(owner, name))) for owner, name, hook in _hooks()]
    with standing_in([*hooks, *_plain_functions()]), ExitStack() as stack:
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
        stack.callback(_named.reset, token)
        yield
