"""Arguments that are not known yet: what a calculation takes for a cell that may hold anything."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from gasfuncs import properties
from gasfuncs.calculations import (
    calendar,
    conditions,
    cycle_steps,
    impurity_sources,
    liquid,
    tank_shape,
)
from gasfuncs.definition import liquid_terms, tolerances
from gasfuncs.definition.censored import Measured, MeasuredTerm
from gasfuncs.definition.limits import Limit, LimitTerm
from gasfuncs.definition.liquid_terms import AmountOrMass, LiquidOrGas, StateOfLiquid, ToldAsGas
from gasfuncs.definition.record import REQUIRED, Parameter
from gasfuncs.definition.rows import Rows
from gasfuncs.definition.series import Series
from gasfuncs.definition.terms import (
    Choice,
    Date,
    GasName,
    Number,
    Quantity,
    Read,
    Term,
    Text,
)
from gasfuncs.errors import GasFuncsError
from gasfuncs.hosts.carried import joining
from gasfuncs.hosts.carried import range_arguments as ranges
from gasfuncs.hosts.carried.arrays import NotRecordedError, Recorded, node_of
from gasfuncs.hosts.carried.branches import decide, option
from gasfuncs.hosts.carried.calendars import RecordedWeek
from gasfuncs.hosts.carried.nodes import (
    Node,
    blank,
    call,
    chosen,
    constant,
    error,
    from_the_top,
    variable,
)
from gasfuncs.hosts.carried.substances import RecordedGas, RecordedText, RecordedWord, gas_node
from gasfuncs.hosts.carried.tables import Tables
from gasfuncs.properties import LiquidState
from gasfuncs.units import Kind, kinds

NO_GAS = constant(0)
MASS = Quantity("m", "", kind=kinds.MASS, unit="kg", low=0, high=1e12)
GAS = Quantity("n", "", kind=kinds.AMOUNT, unit="Nm3", low=0, high=1e12)


@dataclass
class Arguments:
    """Arguments as they are read, and what of them may be an error, in order."""

    tables: Tables
    left_open: frozenset[str] = frozenset()
    """Arguments that no way of its own is recorded for."""
    partly: bool = False
    """Whether a way that no formula carries shows #N/A."""
    values: dict[str, Any] = field(default_factory=dict)
    checked: list[Node] = field(default_factory=list)
    standing_for: Node | None = None
    """The rows that one stands for in a table, by their numbers."""
    in_rows: list[Node] = field(default_factory=list)
    """What is read from the cells of a row on one way through the calculation."""

    def gas_of(self, term: Any) -> Node:
        """The gas that a quantity is an amount of, by its place."""
        of = self.values.get(term.of if isinstance(term, Quantity) else "gas")
        return constant(0) if of is None else gas_node(of)

    def read(self, parameter: Parameter) -> Any:
        """An argument as its calculation takes it."""
        here = variable(parameter.name)
        if parameter.name == "unit" and isinstance(parameter.term, Text):
            return here
        nothing = call("GF_NOTHING", here) if parameter.whole else blank(here)
        if parameter.default is None and not self.takes_blank(parameter) and decide(nothing):
            return None
        for kind, reader in READERS:
            if isinstance(parameter.term, kind):
                return reader(self, parameter, here)
        raise NotRecordedError(f"{parameter.name} is read in a way of its own")

    def answered(self, run: Callable[[], Any], told: Callable[[Any], Node] = node_of) -> Node:
        """What a run answers, or the error that it is refused with."""
        try:
            found = run()
        except GasFuncsError as refusal:
            return error(refusal.code)
        except NotRecordedError:
            if self.partly:
                return error("#N/A")
            raise
        return told(found)

    def of_row(self, run: Callable[[], Any]) -> Node:
        """What a run answers for a row, with the errors of cells that it does not ask for."""
        self.in_rows = []
        answer = self.answered(run)
        used = set(from_the_top(answer))
        for each in self.in_rows:
            if each not in used:
                answer = chosen(call("ISERROR", each), each, answer)
        return answer

    def takes_blank(self, parameter: Parameter) -> bool:
        """Whether an argument that is left out is read like one that is given."""
        return parameter.name in self.left_open or isinstance(parameter.term, Rows)

    def told(self, parameter: Parameter, own: Node, known: Callable[[Any], Node]) -> Node:
        """What a cell tells, or the default where it is blank; noted as what may be an error."""
        if parameter.name in self.left_open and parameter.default is None:
            nothing = blank(variable(parameter.name))
            self.checked.append(chosen(nothing, constant(0), own))
            return chosen(nothing, error("#NUM!"), own)
        if parameter.default is REQUIRED:
            own = chosen(blank(variable(parameter.name)), error("#VALUE!"), own)
        elif parameter.default is not None:
            own = chosen(blank(variable(parameter.name)), known(parameter.default), own)
        self.checked.append(own)
        return own

    def is_of(self, here: Node, kind: Kind) -> Node:
        """Whether a text has a unit of a kind."""
        return call("GF_IS_OF", here, constant(self.tables.kind(kind)))

    def number(self, here: Node, term: Number) -> Node:
        """A number in SI, as its term reads it."""
        if isinstance(term, Date):
            return call("GF_DATE", here, constant(self.tables.term(term)))
        return call("GF_READ", here, constant(self.tables.term(term)), self.gas_of(term))


def _gas(of: Arguments, parameter: Parameter, here: Node) -> Any:
    return RecordedGas(of.told(parameter, call("GF_GAS", here), gas_node))


def _word(of: Arguments, parameter: Parameter, here: Node) -> Any:
    term: Any = parameter.term
    own = call("GF_CHOICE", here, Node("words", term.words))
    place = of.told(parameter, own, lambda word: constant(1 + term.words.index(word)))
    if parameter.name in of.left_open:
        return RecordedWord(place, term.words)
    return term.words[option(place, len(term.words), joining.joined)]


def _text(of: Arguments, _: Parameter, here: Node) -> Any:
    of.checked.append(call("GF_WORDS", here))
    return RecordedText(here, of.tables)


def _own_way(of: Arguments, parameter: Parameter, here: Node) -> Any:
    reader = OWN_WAYS.get(getattr(parameter.term, "reader", None))
    if reader is None:
        raise NotRecordedError(f"{parameter.name} is read in a way of its own")
    return reader(of, parameter, here)


def _grade(of: Arguments, parameter: Parameter, here: Node) -> Any:
    """A grade, or a purity, which the native reader tells as a share below zero."""
    read: Any = Recorded(of.told(parameter, call("GF_GRADE", here), constant))
    return conditions.Purity(-read) if read < 0 else read


def _level(of: Arguments, parameter: Parameter, here: Node) -> Any:
    """A level as a height or a share of the height, as the text says, or a share of the volume."""
    place, share_of = call("GF_LEVEL_OF", here), call("GF_LEVEL_SHARE", here)
    is_height = Node("=", place, constant(0))
    metres, percent = (
        constant(of.tables.term(each)) for each in (tank_shape.METRES, tank_shape.PERCENT)
    )
    told = call(
        "GF_READ", chosen(is_height, here, share_of), chosen(is_height, metres, percent), NO_GAS
    )
    level = _Level(of.told(parameter, told, constant), is_height)
    by_volume = decide(Node("=", place, constant(2)))
    share: Any = tank_shape.ShareOfVolume if by_volume else tank_shape.ShareOfHeight
    return share(Recorded(level.node) if by_volume else level)


def _reference(of: Arguments, parameter: Parameter, here: Node) -> Any:
    told = chosen(blank(here), constant(parameter.default), here)
    of.checked.append(call("GF_ROW", constant(of.tables.kind(kinds.AMOUNT)), told))
    return RecordedText(told, of.tables)


def _state(of: Arguments, parameter: Parameter, here: Node) -> Any:
    """The state of a liquid: its temperature, or the pressure that it is saturated at."""
    if parameter.default is REQUIRED:
        of.checked.append(chosen(blank(here), error("#VALUE!"), constant(0)))
    elif parameter.default is not None and decide(blank(here)):
        return parameter.default
    is_temperature = decide(of.is_of(here, kinds.TEMPERATURE))
    term = liquid_terms.TEMPERATURE if is_temperature else liquid_terms.PRESSURE
    read: Any = Recorded(of.number(here, term))
    of.checked.append(read.node)
    return LiquidState(temperature=read) if is_temperature else LiquidState(pressure=read)


def _liquid_or_gas(of: Arguments, parameter: Parameter, here: Node) -> Any:
    goods = call("OR", of.is_of(here, kinds.MASS), of.is_of(here, kinds.AMOUNT))
    return _ToldAsGas(of, here) if decide(goods) else _number(of, parameter, here)


def _amount_or_mass(of: Arguments, parameter: Parameter, here: Node) -> Any:
    if not decide(of.is_of(here, kinds.MASS)):
        return _number(of, parameter, here)
    return _ToldAsGas(of, here).moles(of.values.get("gas"))


def _measured(of: Arguments, parameter: Parameter, here: Node) -> Any:
    """A reading, or what it is below of."""
    term: Any = parameter.term
    below = decide(Node(">", call("GF_BELOW", here), constant(0)))
    each = replace(term.of, low=None, above=0.0) if below else term.of
    told = of.number(call("GF_BELOW_WHAT", here) if below else here, each)
    read: Any = Recorded(of.told(parameter, told, constant))
    return Measured(read, below)


def _limit(of: Arguments, parameter: Parameter, here: Node) -> Any:
    """A leak, or a rate of rise where the text has the unit of one."""
    term: Any = parameter.term
    is_rise = decide(of.is_of(here, term.rise.kind))
    told = of.number(here, term.rise if is_rise else term.leak)
    read: Any = Recorded(of.told(parameter, told, constant))
    return Limit(read, is_rise)


def _tolerance(of: Arguments, parameter: Parameter, here: Node) -> Any:
    """Two errors, of which one or both may be none; the native reader makes #N/A of more."""
    term: Any = parameter.term
    kind = term.of.kind
    steps = tolerances.STEPS.get(kind, kind)
    sort = 2 if kind is kinds.TEMPERATURE else int(kind in tolerances.RATIOS)
    about = [*(of.tables.kind(each) for each in (steps, kind)), sort]
    pieces = [call("GF_PIECE", here, constant(place)) for place in (1, 2)]
    found = (_part(of, piece, [*map(constant, about), of.gas_of(term.of)]) for piece in pieces)
    return _Parts(call("AND", *map(blank, pieces)), found)


def _part(of: Arguments, piece: Node, about: list[Node]) -> Any:
    """One error of a tolerance."""
    made: Any = tolerances.Part
    share, fixed = (call("GF_TOLERANCE", piece, constant(n), *about) for n in (1, 2))
    of.checked.append(Node("+", share, fixed))
    return made(Recorded(share), Recorded(fixed))


def _week(of: Arguments, _: Parameter, here: Node) -> Any:
    week = call("GF_WEEK", here)
    of.checked.append(chosen(call("ISERROR", week), week, constant(0)))
    return RecordedWeek(week)


def _number(of: Arguments, parameter: Parameter, here: Node) -> Any:
    term: Any = parameter.term
    return Recorded(of.told(parameter, of.number(here, term), constant))


class _Parts(tuple[Any, ...]):
    """The errors of a tolerance, and whether there are none."""

    none: Node

    def __new__(cls, none: Node, parts: Iterable[Any]) -> _Parts:
        made = super().__new__(cls, parts)
        made.none = none
        return made

    def __bool__(self) -> bool:
        return not decide(self.none)


class _Level(Recorded):
    """A share of a height, or where the text tells one the height itself."""

    def __init__(self, node: Node, is_height: Node) -> None:
        self.node, self.is_height = node, is_height

    def __mul__(self, height: Any) -> Recorded:
        share = Node("*", self.node, node_of(height))
        return Recorded(chosen(self.is_height, self.node, share))


class _ToldAsGas(ToldAsGas):
    """A liquid or an amount that a text tells as mass or as gas."""

    node: tuple[Node, Node]

    def __init__(self, of: Arguments, here: Node) -> None:
        is_mass = of.is_of(here, kinds.MASS)
        mass, amount = (constant(of.tables.term(each)) for each in (MASS, GAS))
        told = call("GF_READ", here, chosen(is_mass, mass, amount), of.gas_of(GAS))
        of.checked.append(told)
        object.__setattr__(self, "node", (is_mass, told))

    def moles(self, gas: Any) -> Any:
        is_mass, told = self.node
        as_mass = node_of(Recorded(told) / properties.molar_mass(gas))
        return Recorded(chosen(is_mass, as_mass, told))


OWN_WAYS: dict[Any, Callable[[Arguments, Parameter, Node], Any]] = {
    liquid.read_reference_unit: _reference,
    conditions.read_grade: _grade,
    tank_shape.read_level: _level,
    impurity_sources.read_sources: ranges.sources,
    calendar.read_week: _week,
}
"""Readers of a term of their own, and what each is natively."""

READERS: tuple[tuple[type[Term], Callable[[Arguments, Parameter, Node], Any]], ...] = (
    (GasName, _gas),
    (Choice, _word),
    (Text, _text),
    (StateOfLiquid, _state),
    (MeasuredTerm, _measured),
    (LimitTerm, _limit),
    (tolerances.Tolerance, _tolerance),
    (cycle_steps.Steps, ranges.steps),
    (Read, _own_way),
    (LiquidOrGas, _liquid_or_gas),
    (AmountOrMass, _amount_or_mass),
    (Rows, ranges.records),
    (Series, ranges.series),
    (Number, _number),
)
"""How each kind of argument is read, the first that fits."""
