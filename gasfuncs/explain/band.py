"""The band of what any worksheet function answers, from the tolerances of its arguments.

No function knows of it: the arguments are moved by their errors and the function is asked again,
to first order twice an argument, for the Monte Carlo in columns of trials. Functions that take
long (they integrate, search or take ranges) are asked for the first order alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from time import thread_time
from typing import Any

import numpy as np

from gasfuncs.calculations.propagation import (
    STEP,
    Answer,
    Array,
    Reading,
    Sources,
    effects,
    first_order,
    gathered,
    shares,
    simulated,
    slopes,
)
from gasfuncs.definition import Definition, Parameter, Quantity
from gasfuncs.definition.calling import answer_unit, calculate, gas_of
from gasfuncs.definition.ranges import ROWS_AT_ONCE
from gasfuncs.definition.reading import read
from gasfuncs.definition.series import Series, line
from gasfuncs.definition.terms import Cell, Number, from_si, to_si
from gasfuncs.definition.tolerances import is_exact, read_tolerance, reading_of
from gasfuncs.errors import GasFuncsError, NoSolutionError, TooLongError, UnreadableError
from gasfuncs.properties import Gas
from gasfuncs.units import Unit

WHOLE_STEP = 1.0
"""Of the standard uncertainty: for functions that search to a tolerance of their own."""

MOST_REFUSED = 0.001
"""Of the trials: more would move the ends of the band."""


MOST_SECONDS = 20.0
"""Of the processor, for one band or a table of them; Calc gives a cell 30."""

FEW = 100
"""Trials that may be found refused one by one."""


def too_long() -> TooLongError:
    """The refusal of a band that would take a cell too long."""
    return TooLongError(
        f"no band within {MOST_SECONDS:g} s of work; give fewer rows, or fewer tolerances"
    )


@dataclass
class Trials:
    """A call whose arguments are moved, trial by trial; keeps the first refusal."""

    definition: Definition
    same: Mapping[str, Any]
    """All arguments as they were given, in SI."""
    places: Sequence[tuple[Parameter, int | None]]
    """Which argument each moved number is, and which item of its range."""
    gas: Gas | None
    unit: Unit | None
    refusal: GasFuncsError | None = None
    budget: int = 0
    until: float = field(default_factory=lambda: thread_time() + MOST_SECONDS)

    @cached_property
    def single(self) -> bool:
        """Whether the function takes one trial at a time."""
        return self.definition.scalar or any(item is not None for _, item in self.places)

    @property
    def few(self) -> bool:
        """Whether the function is asked for the first order alone, as trials would take long."""
        return self.single or self.definition.integrates

    def __call__(self, points: Array) -> Array:
        """Answers in the unit asked for, NaN where a trial is refused."""
        count = points.shape[1]
        self.budget = max(FEW, int(MOST_REFUSED * count))
        good = self._possible(points)
        answers = np.full(count, np.nan)
        width = 1 if self.single else ROWS_AT_ONCE
        places = np.flatnonzero(good)
        for start in range(0, len(places), width):
            if self.single and thread_time() > self.until:
                raise too_long()
            some = places[start : start + width]
            answers[some] = self._answers(points[:, some])
        return answers

    def _possible(self, points: Array) -> Any:
        """Which trials hold only numbers that their arguments may be."""
        good = np.ones(points.shape[1], dtype=bool)
        for (parameter, _), numbers in zip(self.places, points, strict=True):
            term = number_term(parameter)
            told = from_si(numbers, term.default, self.gas_for(term)) if _unit(term) else numbers
            bad = term.suspects(told)
            if bad.any() and self.refusal is None:
                self._note(term, float(told[bad][0]), parameter.name)
            good &= ~bad
        return good

    def _note(self, term: Number, number: float, name: str) -> None:
        try:
            term.checked(number)
        except GasFuncsError as error:
            self.refusal = error.about(name)

    def gas_for(self, term: Number) -> Gas | None:
        return gas_of(term, self.same)

    def _answers(self, points: Array) -> Any:
        """Answers to trials in one call; refused ones are found by halving."""
        try:
            return self._asked(points)
        except TooLongError:
            raise
        except GasFuncsError as error:
            self.refusal = self.refusal or error
            if points.shape[1] == 1:
                self.budget -= 1
                return np.nan
            if self.budget < 0:
                return np.nan
        middle = points.shape[1] // 2
        halves = points[:, :middle], points[:, middle:]
        return np.concatenate([np.full(h.shape[1], self._answers(h)) for h in halves])

    def _asked(self, points: Array) -> Any:
        values = dict(self.same)
        for (parameter, item), numbers in zip(self.places, points, strict=True):
            moved = float(numbers[0]) if len(numbers) == 1 else numbers
            if item is None:
                values[parameter.name] = moved
                continue
            if values[parameter.name] is self.same[parameter.name]:
                values[parameter.name] = np.array(self.same[parameter.name])
            values[parameter.name][item] = moved
        result = np.asarray(calculate(self.definition, values), dtype=float)
        told = from_si(result, self.unit, self.gas) if self.unit else result
        return np.where(np.isfinite(told), told, np.nan)


@dataclass(frozen=True)
class Call:
    """A call with the errors of its arguments."""

    trials: Trials
    readings: tuple[Reading, ...]
    unit_label: str

    @property
    def step(self) -> float:
        return WHOLE_STEP if self.trials.few else STEP

    @cached_property
    def sources(self) -> Sources:
        return gathered(self.readings)

    @cached_property
    def slopes(self) -> Array:
        """The answer, and its change with each reading; raises what the call raises."""
        trials = self.trials
        found = slopes(trials, self.readings, self.step)
        if not np.isfinite(found[0]):
            trials._asked(np.array([[each.value] for each in self.readings]))
            raise NoSolutionError("these inputs have no finite answer")
        if not np.isfinite(found).all():
            raise self.refused()
        return found

    @cached_property
    def effects(self) -> Array:
        return effects(self.slopes[1:], self.sources)

    def answer(self, row: int = 0, count: int = 0) -> Answer:
        """Both bands, in the unit asked for; each row of a table draws its own errors."""
        first = first_order(float(self.slopes[0]), self.effects, self.sources.freedoms)
        parts = shares(self.slopes[1:], self.sources, self.effects)
        answers = None if self.trials.few else self.simulated(row, count)
        return Answer(first, answers, self.sources.freedoms, parts, self.slopes[1:])

    def simulated(self, row: int, count: int) -> Array:
        """The answers of the trials; GasFuncsError where too many are refused."""
        answers = simulated(self.trials, self.readings, self.sources, row, count)
        if np.isnan(answers).mean() > MOST_REFUSED:
            raise self.refused()
        return answers

    def refused(self) -> GasFuncsError:
        """Why trials have no answer."""
        cause = self.trials.refusal
        said = f": {cause}" if cause else ""
        return NoSolutionError(
            f"reach so far that more than {MOST_REFUSED:.1%} of the trials are refused{said}",
            "tolerances",
        )


def call_of(definition: Definition, tolerances: Sequence[Cell], arguments: Sequence[Cell]) -> Call:
    """A call read as its cells tell it; raises a GasFuncsError for what cannot have a band."""
    parameters = definition.parameters
    given = dict(zip((p.name for p in parameters), arguments, strict=False))
    told = dict(zip((p.name for p in parameters), tolerances, strict=False))
    values: dict[str, Any] = {}
    for parameter in definition.gas_first:
        gas = gas_of(parameter.term, values)
        values[parameter.name] = read(parameter, given.get(parameter.name), gas)
    gas = gas_of(definition.result, values)
    result = definition.result
    label = values.get("unit", "") if isinstance(result, Quantity) else ""
    unit = answer_unit(definition, values)
    places: list[tuple[Parameter, int | None]] = []
    readings: list[Reading] = []
    for parameter in parameters:
        cell = told.get(parameter.name)
        if not is_exact(cell):
            found = _readings(parameter, cell, given.get(parameter.name), values)
            places += [(parameter, item) for item, _ in found]
            readings += [reading for _, reading in found]
    trials = Trials(definition, values, places, gas, unit)
    return Call(trials, tuple(readings), label)


def _readings(
    parameter: Parameter, tolerance: Cell, cell: Cell, values: Mapping[str, Any]
) -> list[tuple[int | None, Reading]]:
    """The numbers of an argument with their errors."""
    term: Any = parameter.term
    value = values.get(parameter.name)
    gas = gas_of(term, values)
    try:
        parts = read_tolerance(tolerance, number_term(parameter), gas)
    except GasFuncsError as error:
        error.sentence = f"of {parameter.name}: {error.sentence}"
        raise error.about("tolerances") from None
    if value is None:
        raise UnreadableError(
            f"of {parameter.name}: the argument is blank, and nothing has no tolerance",
            "tolerances",
        )
    if isinstance(term, Series):
        cells = line(cell)
        return [
            (item, Reading(each, parts, reading_of(term.each, cells[item], each)))
            for item, each in enumerate(value.tolist())
            if not np.isnan(each)
        ]
    return [(None, Reading(value, parts, reading_of(term, cell, value)))]


def number_term(parameter: Parameter) -> Any:
    """What a number of an argument is; the term itself where it is no number."""
    return parameter.term.each if type(parameter.term) is Series else parameter.term


def _unit(term: Number) -> Unit | None:
    return term.default if isinstance(term, Quantity) else None


def width(term: Number, gas: Gas | None) -> float:
    """How much in SI one unit of an argument's cells is, whatever its zero."""
    unit = _unit(term)
    return float(to_si(1.0, unit, gas) - to_si(0.0, unit, gas)) if unit else 1.0
