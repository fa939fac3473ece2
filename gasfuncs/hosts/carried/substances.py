"""Gases and units that stand for whichever a cell names, and what the properties become of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import Any

from gasfuncs.errors import UnitError
from gasfuncs.hosts.carried.arrays import NotRecordedError, Recorded, node_of
from gasfuncs.hosts.carried.branches import decide, option, taken
from gasfuncs.hosts.carried.columns import lifted
from gasfuncs.hosts.carried.joining import joined, joined_by_table
from gasfuncs.hosts.carried.nodes import Node, call, constant
from gasfuncs.hosts.carried.tables import GASES, REFERENCES, Tables, gas_place
from gasfuncs.properties import Gas, Liquid, LiquidState, Saturated
from gasfuncs.units import Kind
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


@dataclass(frozen=True)
class RecordedWord:
    """One of a few words, by its place among them."""

    node: Node
    words: tuple[str, ...]

    def __str__(self) -> str:
        return "the word"


def by_word(word: RecordedWord, numbers: Mapping[str, float]) -> Recorded:
    """The number that goes with a word."""
    return Recorded(Node("column", word.node, tuple(numbers[each] for each in word.words)))


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


@contextmanager
def naming(named: set[str]) -> Iterator[None]:
    """The gases that a calculation itself names are added to those named."""
    token = _named.set(named)
    try:
        yield
    finally:
        _named.reset(token)


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
    temperature, liquid, _, h_liquid, h_vapour, *entropies = (
        Recorded(call("GF_SATURATED", *at, constant(place))) for place in range(1, 8)
    )
    vapour = Recorded(call("GF_VAPOUR_DENSITY", *at))
    p: Any = pressure
    energies = (h_liquid - p / liquid, h_vapour - p / vapour)
    made: Any = Saturated
    both: Saturated = made(temperature, liquid, vapour, h_liquid, h_vapour, *energies, *entropies)
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


def missing(name: str) -> Callable[..., Any]:
    """What stands in for a function that has no formula."""

    def refused(*_: Any) -> Any:
        raise NotRecordedError(f"{name} has no formula")

    return refused


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
    name: missing(name)
    for name in (
        "dense", "dense_pressure", "entropy", "expanded", "internal_energy", "moving",
    )
}  # fmt: skip
