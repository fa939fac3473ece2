"""Native functions of many numbers."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.cells import (
    FailedError,
    Range,
    Table,
    UncomputableError,
    flat,
    table_of,
)
from gasfuncs.hosts.headless.natives.coercion import failed, number
from gasfuncs.hosts.headless.natives.table import native
from gasfuncs.hosts.headless.values import CellValue

Numbers = list[float]


def numbers_of(*given: Any) -> Numbers:
    """The numbers among arguments: of areas and arrays only what is a number there, while a value
    that stands in the call itself is turned into one."""
    found: Numbers = []
    for argument in given:
        if argument.__class__ is Range or argument.__class__ is list:
            for each in flat(argument):
                if each.__class__ is float:
                    found.append(each)
                elif each.__class__ is CellError:
                    raise failed(each)
        else:
            found.append(number(argument))
    return found


def _over_numbers(names: str, function: Callable[[Numbers], float]) -> None:
    native(names, "w *1")(lambda *given: function(numbers_of(*given)))


def _needed(numbers: Numbers, least: int = 1, code: str = "#DIV/0!") -> Numbers:
    if len(numbers) < least:
        raise FailedError(code)
    return numbers


def mean(numbers: Numbers) -> float:
    return math.fsum(_needed(numbers)) / len(numbers)


def squares(numbers: Numbers) -> float:
    """The sum of the squares of the deviations."""
    middle = mean(numbers)
    return math.fsum((each - middle) ** 2 for each in numbers)


def median(numbers: Numbers) -> float:
    return percentile(_needed(numbers, 1, "#NUM!"), 0.5)


def percentile(numbers: Numbers, share: float) -> float:
    if not numbers or not 0 <= share <= 1:
        raise FailedError("#NUM!")
    ordered = sorted(numbers)
    place = share * (len(ordered) - 1)
    below = math.floor(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])


def _variance(numbers: Numbers) -> float:
    return squares(_needed(numbers, 2)) / (len(numbers) - 1)


def _population(numbers: Numbers) -> float:
    return squares(_needed(numbers)) / len(numbers)


_over_numbers("SUM", math.fsum)
_over_numbers("PRODUCT", lambda numbers: float(math.prod(numbers)) if numbers else 0.0)
_over_numbers("SUMSQ", lambda numbers: math.fsum(each * each for each in numbers))
_over_numbers("AVERAGE", mean)
_over_numbers("MAX", lambda numbers: max(numbers, default=0.0))
_over_numbers("MIN", lambda numbers: min(numbers, default=0.0))
_over_numbers("MEDIAN", median)
_over_numbers("VAR VAR.S", _variance)
_over_numbers("VAR.P VARP", _population)
_over_numbers("STDEV STDEV.S", lambda numbers: math.sqrt(_variance(numbers)))
_over_numbers("STDEV.P STDEVP", lambda numbers: math.sqrt(_population(numbers)))


@native("COUNT", "W *1")
def count(*given: Any) -> float:
    total = 0
    for argument in given:
        if argument.__class__ is Range or argument.__class__ is list:
            total += sum(each.__class__ is float for each in flat(argument))
            continue
        try:
            number(argument)
            total += 1
        except FailedError:
            continue
    return float(total)


@native("COUNTA", "W *1")
def counta(*given: Any) -> float:
    return float(sum(1 for argument in given for _ in flat(argument)))


@native("COUNTBLANK", "r")
def countblank(area: Range) -> float:
    full = sum(1 for each in area.values if each != "")
    return float(area.rows * area.columns - full)


@native("LARGE", "w n")
def large(given: Any, rank: float) -> float:
    return _ranked(given, math.ceil(rank) if rank >= 1 else 0, largest=True)


@native("SMALL", "w n")
def small(given: Any, rank: float) -> float:
    return _ranked(given, math.floor(rank), largest=False)


def _ranked(given: Any, rank: int, largest: bool) -> float:
    ordered = sorted(numbers_of(given), reverse=largest)
    if not 1 <= rank <= len(ordered):
        raise FailedError("#NUM!")
    return ordered[rank - 1]


native("PERCENTILE PERCENTILE.INC", "w n")(
    lambda given, share: percentile(numbers_of(given), share)
)
native("QUARTILE QUARTILE.INC", "w n")(
    lambda given, n: percentile(numbers_of(given), (int(n) if n >= 0 else n) / 4)
)


@native("RANK RANK.EQ", "n r b?")
def rank(value: float, area: Range, ascending: bool = False) -> float:
    numbers = numbers_of(area)
    if value not in numbers:
        raise FailedError("#N/A")
    return 1.0 + sum(each < value if ascending else each > value for each in numbers)


def pairs(ys: Any, xs: Any, least: int = 1) -> tuple[Numbers, Numbers]:
    """The pairs of which both are numbers; #N/A where the sizes differ."""
    one, two = ([each for row in table_of(given) for each in row] for given in (ys, xs))
    if len(one) != len(two):
        raise FailedError("#N/A")
    for each in (*one, *two):
        if each.__class__ is CellError:
            raise failed(each)
    both = [(y, x) for y, x in zip(one, two, strict=True) if y.__class__ is x.__class__ is float]
    if len(both) < least:
        raise FailedError("#DIV/0!")
    return [y for y, _ in both], [x for _, x in both]


def _line(ys: Any, xs: Any) -> tuple[float, float]:
    """Slope and intercept."""
    one, two = pairs(ys, xs)
    spread = squares(two)
    if not spread:
        raise FailedError("#DIV/0!")
    slope = _together(one, two) / spread
    return slope, mean(one) - slope * mean(two)


def _together(one: Numbers, two: Numbers) -> float:
    middle1, middle2 = mean(one), mean(two)
    return math.fsum((a - middle1) * (b - middle2) for a, b in zip(one, two, strict=True))


native("SLOPE", "w w", arrays=True)(lambda ys, xs: _line(ys, xs)[0])
native("INTERCEPT", "w w", arrays=True)(lambda ys, xs: _line(ys, xs)[1])


@native("CORREL PEARSON", "w w", arrays=True)
def correl(ys: Any, xs: Any) -> float:
    one, two = pairs(ys, xs)
    spread = squares(one) * squares(two)
    if not spread:
        raise FailedError("#DIV/0!")
    return _together(one, two) / math.sqrt(spread)


native("RSQ", "w w", arrays=True)(lambda ys, xs: correl(ys, xs) ** 2)


@native("FORECAST FORECAST.LINEAR", "n w w", arrays=True)
def forecast(x: float, ys: Any, xs: Any) -> float:
    slope, intercept = _line(ys, xs)
    return intercept + slope * x


@native("SUMPRODUCT", "a *1", arrays=True)
def sumproduct(*tables: Table) -> float:
    sizes = {(len(table), len(table[0])) for table in tables}
    if len(sizes) > 1:
        raise FailedError("#VALUE!")
    columns = [[each for row in table for each in row] for table in tables]
    for column in columns:
        for each in column:
            if each.__class__ is CellError:
                raise failed(each)
    return math.fsum(
        math.prod(each if each.__class__ is float else 0.0 for each in line)
        for line in zip(*columns, strict=True)
    )


@native("NPV", "n w *1")
def npv(rate: float, *given: Any) -> float:
    if rate == -1:
        raise FailedError("#DIV/0!")
    flows = numbers_of(*given)
    return math.fsum(flow / (1 + rate) ** year for year, flow in enumerate(flows, 1))


@native("FREQUENCY", "w w", arrays=True)
def frequency(given: Any, limits: Any) -> Table:
    """How many numbers lie below each limit and above the next lower one, the last above all."""
    numbers, edges = numbers_of(given), numbers_of(limits)
    if not edges:
        raise UncomputableError("FREQUENCY is computed only with limits")
    bounds = sorted(set(edges))
    below = {high: low for low, high in zip([-math.inf, *bounds], bounds, strict=False)}
    steps = [(below.pop(edge, edge), edge) for edge in edges]
    counts = [sum(low < each <= high for each in numbers) for low, high in steps]
    return [[float(each)] for each in (*counts, len(numbers) - sum(counts))]


def _known(ys: Any, xs: Any) -> tuple[Any, Any, bool]:
    """The numbers of a fit, a row an observation; whether the results lie in a column."""
    y: Any = np.array(_all_numbers(table_of(ys)))
    if xs is None:
        x: Any = np.arange(1.0, y.size + 1).reshape(y.shape)
    else:
        x = np.array(_all_numbers(table_of(xs)))
    if x.size == y.size:
        return y.ravel(), x.reshape(-1, 1), y.shape[1] == 1
    if y.shape[1] == 1 and x.shape[0] == y.shape[0]:
        return y.ravel(), x, True
    if y.shape[0] == 1 and x.shape[1] == y.shape[1]:
        return y.ravel(), x.T, False
    raise FailedError("#REF!")


def _all_numbers(table: Table) -> Table:
    for each in (each for row in table for each in row):
        if each.__class__ is not float:
            raise failed(each)
    return table


def _fit(y: Any, x: Any, constant: bool) -> Any:
    """Coefficients, the constant last."""
    if not constant:
        return np.append(np.linalg.lstsq(x, y, rcond=None)[0], 0.0)
    centre = x.mean(axis=0)
    slopes = np.linalg.lstsq(x - centre, y - y.mean(), rcond=None)[0]
    return np.append(slopes, y.mean() - slopes @ centre)


@native("LINEST", "w w? B? b?", arrays=True)
def linest(
    ys: Any, xs: Any = None, constant: bool | None = None, statistics: bool = False
) -> Table:
    y, x, _ = _known(ys, xs)
    constant = constant is not False
    if np.linalg.matrix_rank(np.column_stack([x, np.ones(len(y))])) <= x.shape[1] >= 2:
        raise UncomputableError("LINEST of quantities that depend on each other is not computed")
    found = _fit(y, x, constant)
    line: list[CellValue] = [*map(float, found[-2::-1]), float(found[-1])]
    return [line, *_fit_quality(y, x, found, constant)] if statistics else [line]


def _fit_quality(y: Any, x: Any, found: Any, constant: bool) -> Table:
    """The further rows of LINEST: standard errors, R², F and sums of squares."""
    design = np.column_stack([x, np.ones(len(y))]) if constant else x
    freedom = len(y) - design.shape[1]
    shown = x @ found[:-1] + found[-1]
    left = float(((y - shown) ** 2).sum())
    explained = float(((shown - (y.mean() if constant else 0)) ** 2).sum())
    if freedom < 1 or not left:
        raise UncomputableError("LINEST of a perfect fit is computed only without statistics")
    error = math.sqrt(left / freedom)
    errors = np.sqrt(np.diag(np.linalg.inv(design.T @ design))) * error
    slopes = [*map(float, errors[: x.shape[1]][::-1])]
    missing = CellError("#N/A")
    rest = [missing] * (x.shape[1] - 1)
    ratio = explained / x.shape[1] / (left / freedom)
    return [
        [*slopes, float(errors[-1]) if constant else missing],
        [explained / (explained + left), error, *rest],
        [ratio, float(freedom), *rest],
        [explained, left, *rest],
    ]


@native("TREND", "w w? w? b?", arrays=True)
def trend(ys: Any, xs: Any = None, new: Any = None, constant: bool = True) -> Any:
    y, x, upright = _known(ys, xs)
    if x.shape[1] > 1:
        raise UncomputableError("TREND is computed only for one row or column of x")
    slope, intercept = map(float, _fit(y, x, constant))
    places = table_of(new) if new is not None else _laid(x.ravel().tolist(), upright)
    return [[intercept + slope * number(each) for each in row] for row in places]


def _laid(values: Numbers, upright: bool) -> Table:
    return [[each] for each in values] if upright else [list(values)]


_SUBTOTALS: dict[int, Callable[..., float]] = {}


def _fill_subtotals() -> None:
    from gasfuncs.hosts.headless.natives.table import NATIVES

    names = "AVERAGE COUNT COUNTA MAX MIN PRODUCT STDEV.S STDEV.P SUM VAR.S VAR.P MEDIAN"
    _SUBTOTALS.update({n: NATIVES[name].function for n, name in enumerate(names.split(), 1)})


_fill_subtotals()


def _visible(area: Range, hidden_too: bool, errors: bool = True, subtotals: bool = False) -> Table:
    """The values that a subtotal takes."""
    grid, first = area.grid, area.area.row1
    found = []
    for place, row in enumerate(zip(*area.used, strict=True)):
        hidden = first + place in grid.hidden_rows
        if hidden and grid.filtered and hidden_too:
            raise UncomputableError("a subtotal over rows hidden by a filter is not computed")
        if hidden and not hidden_too:
            continue
        found += [
            each
            for shift, each in enumerate(row)
            if each is not None
            and (errors or each.__class__ is not CellError)
            and (
                subtotals
                or not area.book.is_subtotal(grid, first + place, area.area.column1 + shift)
            )
        ]
    return [found]


@native("SUBTOTAL", "i r *1")
def subtotal(kind: int, *areas: Range) -> float:
    function = _SUBTOTALS.get(kind % 100)
    if function is None or kind not in (*range(1, 12), *range(101, 112)):
        raise FailedError("#VALUE!")
    return function(*(_visible(area, hidden_too=kind < 100) for area in areas))


@native("AGGREGATE", "i i w n?")
def aggregate(kind: int, option: int, area: Any, rank: float | None = None) -> float:
    if not 1 <= kind <= 19 or not 0 <= option <= 7:
        raise FailedError("#VALUE!")
    if area.__class__ is not Range or kind in (13, 17, 18, 19):
        raise UncomputableError(f"AGGREGATE is not computed for {kind} and {option} here")
    values = _visible(area, not option & 1, errors=not option & 2, subtotals=option > 3)
    if kind <= 12:
        return _SUBTOTALS[kind](values)
    if rank is None:
        raise FailedError("#VALUE!")
    if kind == 16:
        return percentile(numbers_of(values), rank)
    place = math.ceil(rank) if kind == 14 else math.floor(rank)
    return _ranked(values, place, largest=kind == 14)
