"""The worksheet function that gives any other one its band."""

from __future__ import annotations

import math
from collections.abc import Sequence
from time import thread_time
from typing import Annotated, Any

import numpy as np

from gasfuncs.calculations.combining import BAND_HEADINGS, GUM, GUM_TRIALS, band_rows
from gasfuncs.calculations.propagation import Answer, Array, first_order, trial_count
from gasfuncs.definition import Column, Columns, Definition, Quantity, worksheet_function
from gasfuncs.definition.ranges import as_array, common_shape, is_range
from gasfuncs.definition.series import Series
from gasfuncs.definition.terms import Cell, Number, from_si
from gasfuncs.definition.tolerances import Tolerances, is_exact
from gasfuncs.definition.vocabulary import AnyArguments, FunctionName
from gasfuncs.errors import CellError, GasFuncsError, ShapeError, UnreadableError
from gasfuncs.explain.band import MOST_SECONDS, Call, call_of, number_term, too_long, width
from gasfuncs.explain.working import explained
from gasfuncs.registry import worksheet_function_named
from gasfuncs.units import kinds, shown

Row = list[Any]

MOST_ROWS = 250
ALONE = "trials would take too long, as the function integrates, searches or takes ranges"

INTENSIVE = (
    kinds.PRESSURE, kinds.GAUGE_PRESSURE, kinds.TEMPERATURE, kinds.DENSITY, kinds.FRACTION,
    kinds.IMPURITY,
)  # fmt: skip
"""Kinds whose values make no sum."""


@worksheet_function(
    equation="u² = Σ_j (Σ_i c_i u_ij)², c_i = ∂y/∂x_i; beside it the answers to trials",
    sources=(GUM, GUM_TRIALS),
    example=(
        'GAS_UNCERTAINTY("GAS_BACKFILL", {"","±3 %","","±0.5 % of 16 bar","±5 K"}, "argon", 2.5, '
        '"0.01 mbar", "2 bar(a)", 20)',
        "a table",
    ),
    cautions=(
        "The band holds the errors that were named, no others: a wrong method, a gas that is "
        "another one and a leak are not in it.",
        "A tolerance that was guessed gives a band that was guessed.",
    ),
)
def uncertainty(
    function_name: FunctionName,
    tolerances: Annotated[
        tuple[Cell, ...],
        Tolerances(
            "±",
            'One cell an argument, in their order: "±1 %", "±0.5 K", "u 3 mbar", "±2 % 95%", '
            '"±0.5 % of 16 bar"; a name behind ties errors ("±3 % volume"); blank: exact',
        ),
    ],
    *arguments: AnyArguments,
) -> Annotated[
    list[list[Any]],
    Columns(
        tuple(Column(heading) for heading in (*BAND_HEADINGS, "Sensitivity", "Unit")),
        "The answer, its 95 % band by first order and Monte Carlo, and the share of each argument",
    ),
]:
    """Standard uncertainty and 95 % band of what any function answers, from its arguments'.

    Takes the function's name, tolerances as text and the arguments as cells hold them; ranges
    give a row each, their sum and their mean. Raises what the call raises, and a GasFuncsError
    for a tolerance that its argument cannot have.
    """
    definition = banded(worksheet_function_named(function_name))
    _check_count(definition, tolerances, arguments)
    ranges = _ranges(definition, arguments)
    if ranges:
        return _table_of_rows(definition, tolerances, arguments, ranges)
    call = call_of(definition, tolerances, [_single(cell) for cell in arguments])
    return _told(call, definition.result.help, call.answer(), tolerances)


def banded(definition: Definition) -> Definition:
    """A function whose answer can have a band: a number."""
    explained(definition)
    if not isinstance(definition.result, Number):
        what = "a table" if definition.spills else "a text"
        raise UnreadableError(
            f"{definition.name} answers {what}; only a number has a band", "function_name"
        )
    return definition


def _check_count(
    definition: Definition, tolerances: Sequence[Cell], arguments: Sequence[Cell]
) -> None:
    most = len(definition.parameters)
    if len(arguments) > most:
        raise UnreadableError(f"{definition.name} takes {most} at most: {definition.usage}",
                              "arguments")  # fmt: skip
    told = max((place for place, cell in enumerate(tolerances, 1) if not is_exact(cell)), default=0)
    if not told:
        raise UnreadableError('are all blank; write at least one, such as "±1 %"', "tolerances")
    if told > most:
        raise ShapeError(
            f"has {told} cells and {definition.name} takes {most} arguments; give one an argument",
            "tolerances",
        )


def _ranges(definition: Definition, arguments: Sequence[Cell]) -> dict[str, Any]:
    """The arguments that are ranges where one value is meant."""
    return {
        parameter.name: as_array(cell)
        for parameter, cell in zip(definition.parameters, arguments, strict=False)
        if is_range(cell) and not parameter.whole and as_array(cell).size != 1
    }


def _single(cell: Cell) -> Cell:
    """The one cell of a range of one; other ranges stay as they are."""
    cells = as_array(cell) if is_range(cell) else None
    return cell if cells is None or cells.size != 1 else cells.ravel()[0]


def _told(call: Call, what: str, answer: Answer, tolerances: Sequence[Cell]) -> list[Row]:
    """The bands and the budget of one call."""
    rows = band_rows(answer, what, ALONE if call.trials.few else "")
    with_unit = [[*row, None, call.unit_label] for row in rows]
    return [*with_unit, *_budget(call, answer, tolerances)]


def _budget(call: Call, answer: Answer, tolerances: Sequence[Cell]) -> list[Row]:
    """What each argument with a tolerance brings, in the default units of the cells."""
    names = [parameter.name for parameter, _ in call.trials.places]
    rows = []
    for place, parameter in enumerate(call.trials.definition.parameters):
        members = [i for i, name in enumerate(names) if name == parameter.name]
        if not members:
            continue
        term = number_term(parameter)
        note, share = shown(tolerances[place]), float(answer.shares[members].sum())
        cells: Row = [None, None, None, None, None, None, share, note, None, term.unit_label]
        if not isinstance(parameter.term, Series):
            gas = call.trials.gas_for(term)
            reading, size = call.readings[members[0]], width(term, gas)
            unit = term.default if isinstance(term, Quantity) else None
            cells[0] = from_si(reading.value, unit, gas) if unit else reading.value
            cells[1] = reading.uncertainty / abs(size)
            cells[8] = float(answer.sensitivities[members[0]]) * size
        rows.append(["argument", parameter.name, *cells[:5], *cells[6:]])
    return rows


def _table_of_rows(
    definition: Definition,
    tolerances: Sequence[Cell],
    arguments: Sequence[Cell],
    ranges: dict[str, Any],
) -> list[Row]:
    """A band for each row of ranges, then their sum and mean."""
    shape = common_shape(ranges)
    count = math.prod(shape)
    if count > MOST_ROWS:
        raise ShapeError(f"spread to {count} rows, more than {MOST_ROWS}", "arguments")
    columns = {n: np.broadcast_to(cells, shape).ravel().tolist() for n, cells in ranges.items()}
    names = [parameter.name for parameter in definition.parameters]
    errors = sum(not is_exact(cell) for cell in tolerances)
    trials = trial_count(errors, count)
    out: list[Row] = []
    calls: list[tuple[Call, Answer]] = []
    until = thread_time() + MOST_SECONDS
    for row in range(count):
        if thread_time() > until:
            raise too_long()
        cells = [
            columns[name][row] if name in columns else _single(cell)
            for name, cell in zip(names, arguments, strict=False)
        ]
        try:
            call = call_of(definition, tolerances, cells)
            calls.append((call, call.answer(row, trials)))
            note = ALONE if call.trials.few else ""
            told = band_rows(calls[-1][1], f"row {row + 1}", note)[0]
            out.append(["row", *told[1:], None, call.unit_label])
        except GasFuncsError as error:
            out.append(_refused_row("row", f"row {row + 1}", CellError.of(error)))
    return [*out, *_sums(definition, calls, count)]


def _refused_row(part: str, what: str, error: CellError) -> Row:
    return [part, what, *[error] * 4, None, None, error.message, None, None]


def _sums(definition: Definition, calls: list[tuple[Call, Answer]], count: int) -> list[Row]:
    """Sum and mean of the rows; errors of one name are one error through all of them."""
    result = definition.result
    summable = not (isinstance(result, Quantity) and result.kind in INTENSIVE)
    kinds_of_sum = [("sum", 1.0), ("mean", 1.0 / count)] if summable else [("mean", 1.0 / count)]
    if len(calls) < count:
        error = CellError("#VALUE!", f"rows refused: {count - len(calls)} of {count}")
        return [_refused_row(what, f"of {count} rows", error) for what, _ in kinds_of_sum]
    names = _errors(calls)
    rows = []
    for what, factor in kinds_of_sum:
        told = band_rows(_combined(calls, names, factor), f"of {count} rows")[0]
        rows.append([what, *told[1:], None, calls[0][0].unit_label])
    return rows


def _errors(calls: list[tuple[Call, Answer]]) -> tuple[Array, Array]:
    """What each error brings to the sum of the rows, and its degrees of freedom."""
    named: dict[str, tuple[float, float]] = {}
    own: list[tuple[float, float]] = []
    for call, _ in calls:
        sources = call.sources
        for name, size, freedom in zip(
            sources.names, call.effects.tolist(), sources.freedoms.tolist(), strict=True
        ):
            if name:
                named[name] = (named.get(name, (0.0, 0.0))[0] + size, freedom)
            else:
                own.append((size, freedom))
    found = np.array([*named.values(), *own]).reshape(-1, 2)
    return found[:, 0], found[:, 1]


def _combined(
    calls: list[tuple[Call, Answer]], errors: tuple[Array, Array], factor: float
) -> Answer:
    sizes, freedoms = errors
    first = first_order(
        factor * math.fsum(float(call.slopes[0]) for call, _ in calls), factor * sizes, freedoms
    )
    trials = [answer.answers for _, answer in calls]
    known = [each for each in trials if each is not None]
    shortest = min(map(len, known), default=0)
    whole = len(known) == len(calls)
    answers = factor * np.sum([each[:shortest] for each in known], axis=0) if whole else None
    return Answer(first, answers, freedoms, np.empty(0), np.empty(0))
