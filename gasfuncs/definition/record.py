"""The record of a function: everything that hosts, help, docs and tests need to know of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Self

from gasfuncs.definition.terms import GasName, Quantity, Term, Text
from gasfuncs.units import kinds

REQUIRED: Any = object()
"""The default of a parameter that has none."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a method or a value comes from."""

    text: str

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Example:
    """A call as a cell holds it, and its answer as the help prints it."""

    formula: str
    answer: str


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table that a function spills."""

    header: str
    term: Term | None = None

    @property
    def heading(self) -> str:
        unit = self.term.unit_label if self.term else ""
        return f"{self.header}, {unit}" if unit else self.header


@dataclass(frozen=True, slots=True)
class Columns:
    """The shape of a table that a function spills below a row of headings."""

    columns: tuple[Column, ...]
    help: str


@dataclass(frozen=True, slots=True)
class Parameter:
    """One argument: its name, what it is, and its default in SI."""

    name: str
    term: Term
    default: Any = REQUIRED
    variadic: bool = False

    @property
    def required(self) -> bool:
        return self.default is REQUIRED and not self.variadic

    @property
    def whole(self) -> bool:
        return self.term.whole

    @property
    def shown_default(self) -> str:
        """The default as help texts print it; "" where a blank means something else."""
        if self.default is REQUIRED or self.default is None or self.variadic:
            return ""
        return self.term.show(self.default)

    @property
    def description(self) -> str:
        """The help text of hosts: what it is, its unit and its default."""
        extras = [self.term.unit_label] if self.term.unit_label else []
        if self.shown_default:
            extras.append(f"default {self.shown_default}")
        elif not self.required and not self.variadic:
            extras.append("optional")
        return f"{self.term.help} [{'; '.join(extras)}]" if extras else self.term.help


@dataclass(frozen=True)
class Record:
    """What is known of a worksheet function; nothing here evaluates it."""

    name: str
    topic: str
    summary: str
    parameters: tuple[Parameter, ...]
    result: Term | Columns
    equation: str
    sources: tuple[Source, ...]
    example: Example
    cautions: tuple[str, ...]
    scalar: bool
    integrates: bool
    """Whether an answer takes an integration, which is not asked for thousands of times."""
    calculation: Callable[..., Any]

    @property
    def spills(self) -> bool:
        """Whether the answer is a table."""
        return isinstance(self.result, Columns)

    def asked_in(self, unit: str | None) -> Self:
        """The same function; answering in mass where the unit is one and the result allows it."""
        result = self.result
        mass = result.also_mass if isinstance(result, Quantity) else None
        if not isinstance(result, Quantity) or not mass or not unit:
            return self
        flow = result.kind is kinds.FLOW
        kind, told_in = (kinds.MASS_FLOW, "kg/h") if flow else (kinds.MASS, "kg")
        if not kind.has(unit):
            return self
        per, of = mass.per, mass.of

        def in_kilograms(**values: Any) -> Any:
            return self.calculation(**values) * per(*(values[name] for name in of))

        in_mass = replace(result, kind=kind, unit=told_in, also_mass=None)
        return replace(self, calculation=in_kilograms, result=in_mass)

    @cached_property
    def gas_first(self) -> tuple[Parameter, ...]:
        """The parameters in the order they are read: units of gas amount need the gas."""
        return tuple(sorted(self.parameters, key=lambda p: not isinstance(p.term, GasName)))

    @property
    def usage(self) -> str:
        """The call with its arguments, as help texts print it."""
        words = []
        for parameter in self.parameters:
            word = f"{parameter.name}..." if parameter.variadic else parameter.name
            words.append(word if parameter.required else f"[{word}]")
        return f"{self.name}({', '.join(words)})"


UNIT = Text("unit", "Unit to answer in, as text")


def unit_parameter(result: Term | Columns) -> tuple[Parameter, ...]:
    """The argument that a dimensional result adds to the signature."""
    if not isinstance(result, Quantity):
        return ()
    return (Parameter("unit", UNIT, result.unit),)
