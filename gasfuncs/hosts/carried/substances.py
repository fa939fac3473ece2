"""Gases and units that stand for whichever a cell names, and what the properties become of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from typing import Any
from unittest.mock import patch

import numpy as np

from gasfuncs import properties
from gasfuncs.definition import liquid_terms, terms
from gasfuncs.errors import UnitError
from gasfuncs.hosts.carried import arrays
from gasfuncs.hosts.carried.arrays import NotRecordedError, Recorded, node_of
from gasfuncs.hosts.carried.branches import decide, option, taken
from gasfuncs.hosts.carried.joining import joined, joined_by_table
from gasfuncs.hosts.carried.nodes import Node, call, constant
from gasfuncs.hosts.carried.parts import PARTS
from gasfuncs.hosts.carried.tables import GASES, REFERENCES, Tables, gas_place
from gasfuncs.properties import Gas, water
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


class RecordedText(str):
    """A text that names a unit."""

    node: Node
    tables: Tables

    @classmethod
    def of(cls, node: Node, tables: Tables) -> RecordedText:
        text = cls("the unit")
        text.node, text.tables = node, tables
        return text

    def strip(self, *_: Any) -> RecordedText:
        return self

    def __hash__(self) -> int:
        return hash(self.node)

    def __eq__(self, other: object) -> bool:
        return self is other


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


def gas_node(of: Any) -> Node:
    """A gas as its place in the table."""
    return of.node if isinstance(of, RecordedGas) else constant(_known(of))


def _known(of: Gas | None) -> int:
    if of is not None and of.is_mixture:
        raise NotRecordedError("a mixture has no series")
    return gas_place(of)


def _by(function: str) -> Callable[..., Recorded]:
    def recorded(gas: Any, *states: Any) -> Recorded:
        return Recorded(call(function, gas_node(gas), *map(node_of, states)))

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


def _missing(name: str) -> Callable[..., Any]:
    def missing(*_: Any) -> Any:
        raise NotRecordedError(f"{name} has no series")

    return missing


PROPERTIES |= {
    name: _missing(name)
    for name in (
        "compressed", "dense", "dense_pressure", "enthalpy", "entropy", "expanded",
        "heat_capacity_ratio", "internal_energy", "isentropic_exponent", "liquid", "moving",
        "saturated", "saturated_at", "viscosity",
    )
}  # fmt: skip

UNKNOWN = (Recorded, RecordedGas, RecordedReference, RecordedUnit)


def _or(recorded: Callable[..., Any], own: Callable[..., Any]) -> Callable[..., Any]:
    """What records where anything is not known yet, and else is the library's own."""

    def either(*args: Any) -> Any:
        return (recorded if any(isinstance(a, UNKNOWN) for a in args) else own)(*args)

    return either


def _texts_or(recorded: Callable[..., Any], own: Callable[..., Any]) -> Callable[..., Any]:
    def either(*args: Any) -> Any:
        return (recorded if isinstance(args[-1], RecordedText) else own)(*args)

    return either


def _by_name(part: str) -> Callable[..., Recorded]:
    return lambda *args: Recorded(call(part, *map(node_of, args)))


@contextmanager
def recording() -> Iterator[None]:
    """Properties, units and NumPy's `asarray` take recorded values; all else is as ever."""
    with ExitStack() as stack:
        for name, recorded in PROPERTIES.items():
            own: Callable[..., Any] = getattr(properties, name)
            for of in (properties, terms, water, liquid_terms):
                if vars(of).get(name) is own:
                    stack.enter_context(patch.object(of, name, _or(recorded, own)))
        for name, (module, function) in PARTS.items():
            whole: Callable[..., Any] = getattr(module, function)
            patched = _or(_by_name(name), whole)
            stack.enter_context(patch.object(module, function, patched))
        for name in ("asarray", "array", "asanyarray"):
            kept = arrays.kept(getattr(np, name))
            stack.enter_context(patch.object(np, name, kept))
        stack.enter_context(patch.object(Kind, "unit", _texts_or(unit_of, Kind.unit)))
        stack.enter_context(patch.object(kinds, "kinds_of", _texts_or(kinds_of, kinds.kinds_of)))
        yield
