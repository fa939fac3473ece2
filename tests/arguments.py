"""Makes arguments for any function: near its example, in other units, or plainly wrong.

Driven by the registry alone: every term says what it takes, every definition has an example
that holds, so a new function needs nothing here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from gasfuncs import properties
from gasfuncs.definition import Definition, Parameter, Quantity
from gasfuncs.definition.record import UNIT
from gasfuncs.definition.terms import Choice, Count, Date, GasName, Number, from_si, to_si
from gasfuncs.errors import CellError
from gasfuncs.hosts import formula
from gasfuncs.units import kinds

MOST_CHANGED = 5
"""Arguments of an example that one call changes."""

Cells = dict[str, Any]
"""The cells of a call by argument; the further arguments of a variadic one as a tuple."""

GASES = (
    "argon", "nitrogen", "helium", "hydrogen", "oxygen", "air", "carbon dioxide",
    "95% argon + 5% hydrogen",
)  # fmt: skip

US_UNITS = {
    kinds.PRESSURE: "psia",
    kinds.GAUGE_PRESSURE: "psig",
    kinds.PRESSURE_DIFFERENCE: "psi",
    kinds.TEMPERATURE: "degF",
    kinds.TEMPERATURE_DIFFERENCE: "degF",
    kinds.VOLUME: "ft3",
    kinds.LIQUID: "gal(liq)",
    kinds.AMOUNT: "scf",
    kinds.MASS: "lb",
    kinds.FLOW: "scfh",
    kinds.MASS_FLOW: "lb/h",
    kinds.LIQUID_FLOW: "gal(liq)/h",
    kinds.VOLUME_FLOW: "cfm",
    kinds.LEAK: "micron ft3/h",
    kinds.RISE_RATE: "micron/h",
    kinds.TIME: "min",
    kinds.LENGTH: "in",
    kinds.AREA: "in2",
    kinds.POWER: "Btu/h",
    kinds.HEAT_CONDUCTANCE: "Btu/(h degF)",
    kinds.DENSITY: "lb/ft3",
    kinds.FRACTION: "%",
    kinds.IMPURITY: "ppb",
    kinds.FLOW_COEFFICIENT: "Cv",
    kinds.MOISTURE: "%",
    kinds.OUTGASSING: "torr L/(s cm2)",
    kinds.PERMEABILITY: "barrer",
}

WRONG: SearchStrategy[Any] = st.one_of(
    st.none(),
    st.booleans(),
    st.floats(),
    st.integers(),
    st.text(max_size=12),
    st.sampled_from(["6 bar", "3,000", "-1 K", "1e999", "argon", "19.5", [[1.0, 2.0]], [[]]]),
    st.just(CellError("#N/A")),
)


@dataclass(frozen=True)
class Call:
    """A function with the cells it is called with."""

    definition: Definition
    cells: Cells

    def __repr__(self) -> str:
        return f"{self.definition.name}({', '.join(map(repr, self.arguments()))})"

    def _repr_pretty_(self, printer: Any, _: bool) -> None:
        printer.text(repr(self))

    def arguments(self) -> list[Any]:
        out: list[Any] = []
        for parameter in self.definition.parameters:
            value = self.cells[parameter.name]
            out += value if parameter.variadic else [value]
        return out

    def gas(self, term: Any) -> properties.Gas | None:
        """The gas that a term's amount is of, as the library finds it."""
        name = term.of if isinstance(term, Quantity) else "gas"
        found = next((p for p in self.definition.parameters if p.name == name), None)
        if found is None or not isinstance(found.term, GasName):
            return None
        value = self.cells[name]
        return found.term.read(value) if value is not None else found.default

    @property
    def at_an_end(self) -> bool:
        """Whether a number stands at the end of its range, which another unit may round over."""
        return any(
            self.cells[p.name] in {p.term.low, p.term.high} - {0.0}
            for p in self.definition.parameters
            if isinstance(p.term, Quantity) and isinstance(self.cells[p.name], float | int)
        )

    def in_us_units(self) -> Call:
        """The same call with every quantity told as text in another unit."""
        cells = dict(self.cells)
        for parameter in self.definition.parameters:
            value = cells[parameter.name]
            if isinstance(parameter.term, Quantity) and isinstance(value, float | int):
                cells[parameter.name] = in_us_unit(parameter.term, value, self.gas(parameter.term))
        return Call(self.definition, cells)


def in_us_unit(term: Quantity, number: float, gas: properties.Gas | None) -> str:
    label = US_UNITS[term.kind]
    told = repr(from_si(to_si(number, term.default, gas), term.kind.unit(label), gas))
    return f"{told}{'0' if '.' in told and 'e' not in told else ''} {label}"


@cache
def example(definition: Definition) -> Call:
    """The example of a definition; numbers of quantities in the default cell unit."""
    seen: list[list[Any]] = []

    def note(function: Definition, arguments: list[Any]) -> Any:
        seen.append(arguments)
        return function(*arguments)

    formula.read_call(definition.example.formula, note)
    arguments = seen[-1]
    cells: Cells = {}
    for position, parameter in enumerate(definition.parameters):
        given = arguments[position] if position < len(arguments) else None
        cells[parameter.name] = tuple(arguments[position:]) if parameter.variadic else given
    call = Call(definition, cells)
    for parameter in definition.parameters:
        cells[parameter.name] = _bare(parameter, cells[parameter.name], call)
    return call


def _bare(parameter: Parameter, value: Any, call: Call) -> Any:
    term = parameter.term
    if value is None or not isinstance(term, Number) or parameter.variadic:
        return value
    gas = call.gas(term)
    si = term.read(value, gas)
    return float(from_si(si, term.default, gas)) if isinstance(term, Quantity) else float(si)


@cache
@st.composite
def calls(draw: Callable[[SearchStrategy[Any]], Any], definition: Definition) -> Call:
    """A call near the example: some of its gases, choices, numbers and units are others."""
    base = example(definition)
    cells = dict(base.cells)
    for parameter in draw(some(definition)):
        cells[parameter.name] = draw(near(definition, parameter))
    return Call(definition, cells)


@cache
def some(definition: Definition) -> SearchStrategy[list[Parameter]]:
    """The arguments that are others: a few at once, as many would hardly fit each other."""
    if not definition.parameters:
        return st.just([])
    return st.lists(st.sampled_from(definition.parameters), unique_by=id, max_size=MOST_CHANGED)


@cache
@st.composite
def wrong_calls(draw: Callable[[SearchStrategy[Any]], Any], definition: Definition) -> Call:
    """A call near the example with one argument that may be anything."""
    call = draw(calls(definition))
    fixed = [p.name for p in definition.parameters if not p.variadic]
    spoiled = {draw(st.sampled_from(fixed)): draw(WRONG)} if fixed else {}
    return Call(definition, call.cells | spoiled)


@cache
def near(definition: Definition, parameter: Parameter) -> SearchStrategy[Any]:
    """Values of one argument."""
    term, base = parameter.term, example(definition)
    shown = base.cells[parameter.name]
    if term is UNIT:
        kind = definition.result.kind if isinstance(definition.result, Quantity) else None
        return st.sampled_from([None, *kind.labels()]) if kind else st.none()
    if isinstance(term, GasName):
        return st.sampled_from(GASES)
    if isinstance(term, Choice):
        return st.sampled_from(term.words)
    if not isinstance(term, Number) or parameter.variadic:
        return st.just(shown)
    return _numbers(term, _centre(parameter, shown, base))


def _centre(parameter: Parameter, shown: float | None, base: Call) -> float:
    if shown is not None:
        return shown
    if parameter.default is None:
        return 1.0
    if not isinstance(parameter.term, Quantity):
        return float(parameter.default)
    gas = base.gas(parameter.term)
    return float(from_si(parameter.default, parameter.term.default, gas))


def _numbers(term: Number, centre: float) -> SearchStrategy[float]:
    """Numbers about a centre, inside the term's range, with the ends of the range at times."""
    reach = 30.0 if isinstance(term, Quantity) and term.kind is kinds.TEMPERATURE else abs(centre)
    low, high = centre - 0.5 * reach, centre + 0.8 * reach
    if not reach:
        high = 1.0
    if term.high is not None:
        low, high = min(low, term.high), min(high, term.high)
    lowest = term.low if term.low is not None else term.above
    if lowest is not None:
        low, high = max(low, lowest), max(high, lowest)
    if isinstance(term, Count | Date):
        return st.integers(int(low), int(high)).map(float)
    near_enough = (end for end in (term.low, term.high) if end is not None)
    ends = [end for end in near_enough if abs(end - centre) <= 100 * reach]
    inside = st.floats(low, high, exclude_min=low == term.above and low < high)
    return st.one_of(inside, inside, inside, st.sampled_from(ends)) if ends else inside
