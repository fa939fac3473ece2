"""Whether a series of readings is as it was, and when it will reach a limit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations.grouping import accumulated, or_nan
from gasfuncs.definition import Column, Columns, refuse, worksheet_function
from gasfuncs.definition.series import Kept, KeptSeries, Series
from gasfuncs.definition.terms import Choice, Count, Date, Number, Symbol
from gasfuncs.definition.vocabulary import Fraction, PlainNumber

Array = NDArray[np.float64]

RANGE_TO_SIGMA = 1.128
"""Mean moving range of two normal readings, in standard deviations (d2, the trade's constant)."""

ALLOWANCE = 0.5
"""Of sigma, in the cumulative sums: half the shift that they are to find."""

SHEWHART_WIDTH = 3.0
CUSUM_WIDTH = 5.0
FEWEST_BASELINE = 5
FEWEST_TREND = 3
FIRST_DAY, LAST_DAY = 1, 2_958_465
"""Of a sheet: to the end of the year 9999."""

WITHIN, ABOVE, BELOW = "within", "above", "below"

HANDBOOK = "NIST/SEMATECH e-Handbook of Statistical Methods, "
READING = Number("x", "Reading, in your own unit")
Readings = Annotated[
    Kept,
    KeptSeries(
        "x", "Readings in the order of time, a range; one that cannot be read is left out",
        each=READING, blank=np.nan,
    ),
]  # fmt: skip
Dates = Annotated[
    Array,
    Series("t", "Dates of the readings, a range",
           each=Date("t", "Date", low=FIRST_DAY, high=LAST_DAY), blank=np.nan),
]  # fmt: skip


@dataclass(frozen=True)
class _Chart:
    """Centre, standard deviation and distance of the limits, on the chart's own scale."""

    centre: float
    sigma: float
    width: float


@worksheet_function(
    equation="low, high = centre ± width · sigma; sigma = mean moving range / 1.128; "
    "ewma: z_i = λ x_i + (1 - λ) z_i₋₁, sigma · √(λ / (2 - λ)); "
    "cusum: C_i = max(0, C_i₋₁ + x_i - centre - sigma / 2)",
    sources=(
        HANDBOOK + "6.3.2.2 (individuals), 6.3.2.3 (cusum), 6.3.2.4 (ewma)",
        "ISO 7870 (control charts)",
    ),
    example=("GAS_CONTROL_CHART({49.6;47.6;49.9;51.3;47.8;51.2;52.6;52.4;53.6;52.1})", "a table"),
    cautions=(
        "A signal says that something changed, not that a limit is passed; within the lines is "
        "no proof that nothing is wrong.",
    ),
)
def control_chart(
    values: Readings,
    kind: Annotated[
        str, Choice("kind", "Kind of chart", words=("individuals", "ewma", "cusum"))
    ] = "individuals",
    baseline_count: Annotated[
        int | None,
        Count("n", "The first so many readings tell centre and sigma; blank: all do",
              low=FEWEST_BASELINE, high=20_000),
    ] = None,
    target: Annotated[
        PlainNumber | None, Symbol("centre"), "Centre; blank: the mean of the baseline"
    ] = None,
    sigma: Annotated[
        float | None,
        Number("σ", "Standard deviation (with log: of the natural logarithm); blank: from the "
               "moving ranges of the baseline", above=0, high=1e15),
    ] = None,
    smoothing: Annotated[
        float, Number("λ", "Weight of the newest reading, for ewma", above=0, high=1)
    ] = 0.3,
    width: Annotated[
        float | None,
        Number("k", "Distance of the limits in sigmas; blank: 3, for cusum 5", above=0, high=100),
    ] = None,
    log: Annotated[
        str,
        Choice("log", "yes: on the logarithm, as leaks and ppm scatter", words=("no", "yes")),
    ] = "no",
) -> Annotated[
    list[list[Any]],
    Columns(
        (
            Column("Value", READING), Column("Statistic", READING), Column("Centre", READING),
            Column("Low", READING), Column("High", READING), Column("Signal"),
        ),
        "A row for each reading: within, above or below the limits",
    ),
]:  # fmt: skip
    """Control chart of readings: which of them are not as the others were.

    Takes numbers in the order of time; gives rows. Raises OutOfRangeError for fewer readings
    than the scatter is told from, and on the logarithm for one that is not above 0.
    """
    logs, x = log == "yes", values.values
    present, target = ~np.isnan(x), or_nan(target)
    positive = np.where(np.isnan(target), True, target > 0)
    for what, wrong in (("values", np.any(x[present] <= 0)), ("target", ~positive)):
        refuse(logs & wrong, what, "must be above 0 on the logarithm")
    scale, middle = (np.log(x[present]), np.log(target)) if logs else (x[present], target)
    usual = CUSUM_WIDTH if kind == "cusum" else SHEWHART_WIDTH
    reach = np.where(np.isnan(or_nan(width)), usual, or_nan(width))
    chart = _chart(scale, or_nan(baseline_count), middle, or_nan(sigma), reach)
    place = np.cumsum(np.where(present, 1, 0)) - 1
    *numbers, signals = _columns(scale, chart, kind, smoothing, logs)
    shown: list[Any] = [
        np.where(present, each, None) for each in (x, *(each[place] for each in numbers))
    ]
    shown.append(np.where(present, signals[place], _reasons(values)))
    return [list(row) for row in zip(*(each.tolist() for each in shown), strict=True)]


def _reasons(readings: Kept) -> NDArray[np.object_]:
    """Why readings are left out."""
    out = np.full_like(readings.values, "", dtype=object)
    for place, reason in readings.reasons.items():
        out[place] = f"left out: {reason}"
    return out


def _left_out(readings: Kept) -> str:
    if not readings.reasons:
        return ""
    first = next(iter(readings.reasons.values()))
    return f"{len(readings.reasons)} left out, the first: {first}"


def _chart(x: Array, baseline_count: Any, target: Any, sigma: Any, width: Any) -> _Chart:
    whole = np.isnan(baseline_count)
    least = np.where(whole, FEWEST_BASELINE, baseline_count)
    size = np.minimum(np.size(x), np.where(whole, np.size(x), baseline_count))
    baseline = x[: int(size)]
    refuse(np.size(x) < 1, "values", "holds no reading")
    refuse(
        (np.isnan(sigma) | np.isnan(target)) & (size < least),
        "values",
        f"holds {np.size(x)} readings; centre and sigma are told from {least:.0f} or more, or "
        "give both",
    )
    moved = np.abs(np.diff(baseline)).sum() / np.maximum(size - 1, 1) / RANGE_TO_SIGMA
    refuse(
        np.isnan(sigma) & (moved == 0), "values",
        "do not differ at all in the baseline; give sigma",
    )  # fmt: skip
    centre = np.where(np.isnan(target), baseline.mean(), target)
    return _Chart(float(centre), float(np.where(np.isnan(sigma), moved, sigma)), float(width))


def _columns(x: Array, chart: _Chart, kind: str, smoothing: float, logs: bool) -> list[Any]:
    """Statistic, centre, low, high and signal of each reading."""
    centre, reach = chart.centre, chart.width * chart.sigma
    statistic = x
    if kind == "ewma":
        statistic = accumulated(
            x, lambda last, value: smoothing * value + (1 - smoothing) * last, centre
        )
        reach *= math.sqrt(smoothing / (2 - smoothing))
    elif kind == "cusum":
        statistic, centre = _cumulated(x - centre, ALLOWANCE * chart.sigma), 0.0
    low, high = centre - reach, centre + reach
    signals = np.where(statistic > high, ABOVE, np.where(statistic < low, BELOW, WITHIN))
    numbers = [statistic, *(np.full_like(x, each) for each in (centre, low, high))]
    if logs and kind != "cusum":
        numbers = [np.exp(each) for each in numbers]
    return [*numbers, signals]


def _cumulated(away: Array, allowance: float) -> Array:
    """The larger of the two cumulative sums, the lower one below zero."""
    up, down = (
        accumulated(each, lambda last, value: max(0.0, last + value - allowance), 0.0)
        for each in (away, -away)
    )
    return np.where(up >= down, up, -down)


@dataclass(frozen=True)
class _Line:
    """A straight line through readings: mean, slope a day, and what is known of them."""

    day: float
    """Mean of the dates."""
    mean: float
    slope: float
    error: float
    """Standard error of the slope."""
    mean_error: float
    freedom: int
    p: float
    last: float
    """Date of the last reading."""


@worksheet_function(
    equation="x = a + b·t; t_limit where |a + b·t - limit| = t_ν · s · √(1/n + (t - t̄)² / S_tt)",
    sources=(
        "Linear least squares with Student's t: " + HANDBOOK + "4.1.4.1",
        "E. C. Fieller, J. R. Stat. Soc. B 16 (1954) 175: interval of a ratio",
    ),
    example=(
        'GAS_TREND({"2026-01-05";"2026-04-06";"2026-07-06";"2026-10-05";"2027-01-04"}, '
        "{21;24;26;30;32}, 50)",
        "a table",
    ),
    cautions=(
        "The line goes on as it did: a part that breaks does not. Never skip a test because a "
        "trend says so.",
    ),
)
def trend(
    dates: Dates,
    values: Annotated[Readings, "Readings, a range as long as the dates"],
    limit: Annotated[PlainNumber, Symbol("limit"), "Limit, in the unit of the readings"],
    confidence: Annotated[
        Fraction, Symbol("confidence"), "Confidence of the earliest and latest date together"
    ] = 0.9,
) -> Annotated[
    list[list[Any]],
    Columns(
        (Column("What"), Column("Value"), Column("Note")),
        "Slope a day, its standard error, Student's p, and when the limit is reached",
    ),
]:
    """Straight trend of readings: its slope, and the date on which it reaches a limit.

    Takes days and numbers; gives rows, dates as serial numbers. Raises OutOfRangeError for
    fewer than three readings, or all of one date.
    """
    refuse(np.less_equal(confidence, 0) or np.greater_equal(confidence, 1), "confidence",
           "must be between 0 and 1, such as 0.9")  # fmt: skip
    line = _line(*_pairs(dates, values.values))
    factor = _student(0.5 + float(confidence) / 2, line.freedom)
    best, earliest, latest, note = _reached(line, float(limit), factor)
    reach = factor * line.error
    band = f"{line.slope - reach:.4g} to {line.slope + reach:.4g} with {confidence:.0%} confidence"
    return [
        ["slope a day", line.slope, band],
        ["standard error of the slope", line.error, f"{line.freedom:.0f} degrees of freedom"],
        ["Student's p of no slope", line.p, "a trend is proved where this is small"],
        ["limit reached, best", best, note],
        ["limit reached, earliest", earliest, ""],
        ["limit reached, latest", latest, _left_out(values)],
    ]


def _pairs(dates: Array, values: Array) -> tuple[Array, Array]:
    refuse(
        np.size(dates) != np.size(values), "values",
        f"has {np.size(values)} cells and dates has {np.size(dates)}; give ranges of the same size",
    )  # fmt: skip
    refuse(np.any(np.isnan(dates) & ~np.isnan(values)), "dates", "is blank beside a reading")
    known = ~np.isnan(values)
    days, readings = dates[known], values[known]
    later = np.diff(np.sort(days)) > 0
    refuse(
        (np.size(days) < FEWEST_TREND) | ~np.any(later), "dates",
        f"holds {np.size(days)} readings on {1 + np.where(later, 1, 0).sum()} dates; a trend needs "
        f"{FEWEST_TREND} readings or more, not all on one date",
    )  # fmt: skip
    return days, readings


def _line(days: Array, readings: Array) -> _Line:
    from scipy.special import stdtr

    day, mean = float(days.mean()), float(readings.mean())
    away = days - day
    squares = float(away @ away)
    slope = float(away @ readings) / squares
    freedom = np.size(days) - 2
    rest = readings - mean - slope * away
    scatter = math.sqrt(float(rest @ rest) / freedom)
    error = scatter / math.sqrt(squares)
    away_from_none = np.abs(slope) / np.where(error > 0, error, 1.0)
    p = np.where(error > 0, 2 * stdtr(freedom, -away_from_none), np.where(slope == 0, 1.0, 0.0))
    mean_error = scatter / math.sqrt(np.size(days))
    return _Line(day, mean, slope, error, mean_error, freedom, float(p), float(np.max(days)))


def _student(probability: float, freedom: int) -> float:
    from scipy.special import stdtrit

    return float(stdtrit(freedom, probability))


NEVER, ANY, LONG_AGO = "never", "any day", "before 1900"
PROVED = "a trend is proved with this confidence"
NOT_PROVED = "no trend is proved with this confidence: the limit may never be reached"
BEHIND = "; the line met the limit before the last reading: it is passed, or moved away from"


def _reached(line: _Line, limit: float, factor: float) -> tuple[Any, Any, Any, str]:
    """When the line reaches the limit: best, earliest and latest date, and a remark."""
    away = line.mean - limit
    if line.slope == 0 and line.error == 0:
        return NEVER, NEVER, NEVER, "the readings do not change"
    best = line.day - away / line.slope if line.slope != 0 else math.inf
    least, spread = abs(line.slope), factor * line.error
    steep = (least - spread) * (least + spread)
    clear = away**2 - (factor * line.mean_error) ** 2
    half = math.sqrt(max(0.0, (line.slope * away) ** 2 - steep * clear))
    if least > spread:
        ends = [line.day + (-line.slope * away + side * half) / steep for side in (-1, 1)]
        note = PROVED + (BEHIND if best <= line.last else "")
        return _date(best), _date(ends[0]), _date(ends[1]), note
    if abs(away) <= factor * line.mean_error:
        return _date(best), ANY, NEVER, NOT_PROVED + ", or be so already"
    if least == spread:
        return _date(best), NEVER, NEVER, NOT_PROVED
    first = line.day + (line.slope * away + half) / -steep
    return _date(best), _date(first), NEVER, NOT_PROVED


def _date(day: float) -> float | str:
    """A day as a sheet can show it."""
    if day < FIRST_DAY:
        return LONG_AGO
    return day if day <= LAST_DAY else NEVER
