"""How errors of readings go through a calculation: first order and Monte Carlo.

First order is JCGM 100 (GUM), section 5, with the degrees of freedom of its annex G.4; Monte
Carlo is JCGM 101, section 7, with a fixed seed, so that the same cells always show the same
digits. Errors of one name are one error.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from time import thread_time
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations.effort import MOST_SECONDS
from gasfuncs.definition.tolerances import Part, Parts, Shape, quantile
from gasfuncs.errors import UnreadableError

Array = NDArray[np.float64]
Function = Callable[[Array], Array]
"""Answers from inputs, one column of them a trial; NaN where a trial is refused."""

TRIALS = 100_000
FEWEST_TRIALS = 20_000
MOST_DRAWS = 20_000_000
"""Of all errors together: with very many errors there are fewer trials."""

MOST_ANSWERS = 2_000_000
"""Of all rows together: in a long table each row has fewer trials."""

BLOCK = 8_192
"""Trials that a function is asked at once."""

AT_ONCE = 2_000_000
"""Inputs of trials in memory at once."""

SEED = 20_080_101
STEP = 0.01
"""Of the standard uncertainty, for the differences."""

DIFFERS = 0.05
"""Of the standard uncertainty, between the ends of the two intervals. The Monte Carlo ends
themselves scatter by less than 0.01 of it."""

LEVEL = 0.975
"""Of the upper end of a 95 % interval."""


@dataclass(frozen=True)
class Reading:
    """A number that goes into an answer, in SI, and its errors."""

    value: float
    parts: Parts = ()
    origin: float | None = None
    """What shares of the reading are taken of, where it is not the value itself."""

    def sizes(self) -> list[tuple[Part, float]]:
        """The standard deviation of each of its errors."""
        base = self.value if self.origin is None else self.origin
        return [(part, part.size(base)) for part in self.parts]

    @property
    def uncertainty(self) -> float:
        return math.sqrt(sum(size**2 for _, size in self.sizes()))


@dataclass(frozen=True)
class Sources:
    """The independent errors behind some readings, and what each does to which reading."""

    names: tuple[str, ...]
    shapes: tuple[Shape, ...]
    freedoms: Array
    rows: NDArray[np.intp]
    columns: NDArray[np.intp]
    sizes: Array
    """Standard deviation that the error of a column brings to the reading of a row."""

    def covariance(self, count: int) -> Array:
        """Of so many readings."""
        sizes = np.zeros((count, len(self.names)))
        np.add.at(sizes, (self.rows, self.columns), self.sizes)
        return sizes @ sizes.T


@dataclass(frozen=True)
class Band:
    """A value with its standard uncertainty and 95 % interval."""

    value: float
    uncertainty: float | None
    low: float
    high: float
    freedom: float = math.inf


@dataclass(frozen=True)
class Answer:
    """The two bands of an answer, and which of them is given."""

    first: Band
    answers: Array | None
    """Of the trials, NaN where one is refused; None where none were run."""
    freedoms: Array
    """Degrees of freedom of the errors."""
    shares: Array
    """Of the variance, by reading."""
    sensitivities: Array
    """Change of the answer for a change of a reading."""

    @cached_property
    def trials(self) -> Band | None:
        """The band that trials tell, as many of them below it as above; refused ones left out."""
        if self.answers is None:
            return None
        good = self.answers[np.isfinite(self.answers)]
        low, high = np.quantile(good, [1 - LEVEL, LEVEL])
        spread = float(np.std(good)) if bool(np.all(self.freedoms > 2)) else None
        return Band(float(np.mean(good)), spread, float(low), float(high))

    @property
    def differ(self) -> bool:
        """Whether the ends of the two intervals differ by more than DIFFERS."""
        if self.trials is None:
            return False
        one, two = self.first, self.trials
        wide = max(one.uncertainty or 0.0, two.uncertainty or 0.0, (two.high - two.low) / 4)
        apart = max(abs(one.low - two.low), abs(one.high - two.high))
        return apart > DIFFERS * wide

    @property
    def given(self) -> Band:
        """The band to act on; the value is that of the readings themselves."""
        if not self.differ or self.trials is None:
            return self.first
        band = self.trials
        return Band(self.first.value, band.uncertainty, band.low, band.high, self.first.freedom)

    @property
    def note(self) -> str:
        """Which band is given and why, as a table says it."""
        if self.answers is None:
            return "first order alone"
        refused = len(self.answers) - int(np.isfinite(self.answers).sum())
        left_out = f", {refused} refused ones left out" if refused else ""
        trials = f"{len(self.answers):,} trials{left_out}"
        if self.differ:
            return f"Monte Carlo, {trials}: the first order differs from it"
        return f"first order; Monte Carlo, {trials}, agrees"


def gathered(readings: Sequence[Reading]) -> Sources:
    """The errors of some readings, those of one name as one; UnreadableError where they differ."""
    told: dict[str, Part] = {}
    places: dict[str, int] = {}
    entries: list[tuple[int, int, float]] = []
    sources: list[Part] = []
    for row, reading in enumerate(readings):
        for part, size in reading.sizes():
            first = told.setdefault(part.name, part) if part.name else part
            if (first.shape, first.freedom) != (part.shape, part.freedom):
                raise UnreadableError(
                    f'the error "{part.name}" is told in two ways; write it alike everywhere '
                    "(all ± alone, or all u, or all 95%)"
                )
            place = places.setdefault(part.name, len(sources)) if part.name else len(sources)
            if place == len(sources):
                sources.append(part)
            entries.append((row, place, size))
    rows, columns, sizes = zip(*entries, strict=True) if entries else ((), (), ())
    return Sources(
        tuple(part.name for part in sources), tuple(part.shape for part in sources),
        np.array([part.freedom for part in sources]),
        np.array(rows, dtype=np.intp), np.array(columns, dtype=np.intp), np.array(sizes),
    )  # fmt: skip


def slopes(function: Function, readings: Sequence[Reading], step: float = STEP) -> Array:
    """The answer at the readings, then its change with each of them, by central differences.

    Where a trial to one side is refused the other side alone is used.
    """
    values = _values(readings)
    steps = np.array([_step(reading, step) for reading in readings])
    moved = np.diag(steps)
    points = values[:, None] + np.hstack([np.zeros((len(steps), 1)), moved, -moved])
    centre, *answers = function(points)
    above, below = np.split(np.array(answers), 2)
    width = np.isfinite(above) * steps + np.isfinite(below) * steps
    change = np.where(np.isfinite(above), above, centre)
    change = change - np.where(np.isfinite(below), below, centre)
    with np.errstate(all="ignore"):
        return np.concatenate([[centre], np.where(steps > 0, change / width, 0.0)])


def _values(readings: Sequence[Reading]) -> Array:
    return np.array([reading.value for reading in readings], dtype=float)


def _step(reading: Reading, step: float) -> float:
    size = reading.uncertainty
    return float(np.where(size > 0, np.maximum(step * size, 1e-6 * abs(reading.value)), 0.0))


def effects(slope: Array, sources: Sources) -> Array:
    """Standard deviation, with its sign, that each error brings to the answer."""
    moved = slope[sources.rows] * sources.sizes
    return np.bincount(sources.columns, moved, len(sources.names)).astype(float)


def first_order(centre: float, by_source: Array, freedoms: Array) -> Band:
    """The band of JCGM 100 from what each error brings to the answer."""
    variance = float(by_source @ by_source)
    u = math.sqrt(variance)
    parts = float(np.sum((by_source**2 / variance) ** 2 / freedoms)) if variance else 0.0
    freedom = 1 / parts if parts else math.inf
    reach = quantile(LEVEL, freedom) * u
    return Band(centre, u, centre - reach, centre + reach, freedom)


def shares(slope: Array, sources: Sources, by_source: Array) -> Array:
    """Share of the variance by reading."""
    variance = float(by_source @ by_source)
    if not variance:
        return np.zeros_like(slope)
    moved = sources.sizes * by_source[sources.columns]
    return slope * np.bincount(sources.rows, moved, minlength=len(slope)) / variance


def simulated(
    function: Function, readings: Sequence[Reading], sources: Sources, row: int = 0, count: int = 0
) -> Array:
    """The answers of the trials in their order; NaN where one is refused.

    Errors of one name are drawn alike for every row of a table, all others anew. Of a function
    that takes long only FEWEST_TRIALS are run.
    """
    count = count or trial_count(len(sources.names))
    streams = _streams(sources, row)
    entries = [np.flatnonzero(sources.columns == place) for place in range(len(streams))]
    values = _values(readings)
    block = max(1, min(BLOCK, AT_ONCE // max(1, len(readings))))
    out: list[Array] = []
    done, began = 0, 0.0
    while done < count:
        size = min(block, count - done)
        points = np.repeat(values[:, None], size, axis=1)
        for place, stream in enumerate(streams):
            errors = _drawn(stream, sources.shapes[place], sources.freedoms[place], size)
            for entry in entries[place]:
                points[sources.rows[entry]] += sources.sizes[entry] * errors
        out.append(function(points))
        done += size
        if len(out) == 1:
            began = thread_time()  # the first block may have had to load what the others find
        elif (thread_time() - began) / (done - block) * count > MOST_SECONDS:
            count = max(done, min(count, FEWEST_TRIALS))
    return np.concatenate(out)


def trial_count(errors: int, rows: int = 1) -> int:
    """How many trials are run for so many errors, in each of some rows."""
    most = min(MOST_DRAWS // max(1, errors), MOST_ANSWERS // rows)
    return max(FEWEST_TRIALS, min(TRIALS, most))


def _streams(sources: Sources, row: int) -> list[np.random.Generator]:
    """Random numbers for each error: by its name, or by its place."""
    places = (
        (1, crc32(name.encode())) if name else (0, row, place)
        for place, name in enumerate(sources.names)
    )
    return [np.random.default_rng([SEED, *place]) for place in places]


def _drawn(stream: np.random.Generator, shape: Shape, freedom: float, count: int) -> Array:
    """Errors of standard deviation 1, or Student's t where the degrees of freedom are few."""
    if shape == "rectangular":
        return stream.uniform(-math.sqrt(3), math.sqrt(3), count)
    if freedom == math.inf:
        return stream.standard_normal(count)
    return stream.standard_t(freedom, count)


def propagated(
    function: Function, readings: Sequence[Reading], *, step: float = STEP, simulate: bool = True
) -> Answer:
    """Both bands of what a function answers from readings with errors.

    Takes a function of an array (a row a reading, a column a trial), and readings in SI.
    `simulate` is false for functions that take long: then there is the first order alone.
    """
    sources = gathered(readings)
    found = slopes(function, readings, step)
    centre, slope = float(found[0]), found[1:]
    by_source = effects(slope, sources)
    first = first_order(centre, by_source, sources.freedoms)
    parts = shares(slope, sources, by_source)
    answers = simulated(function, readings, sources) if simulate else None
    return Answer(first, answers, sources.freedoms, parts, slope)


def summed(readings: Sequence[Reading]) -> Answer:
    """Both bands of the sum of readings with errors, in SI."""
    sources = gathered(readings)
    slope = np.ones(len(readings))
    by_source = effects(slope, sources)
    total = float(_values(readings).sum())
    answers = np.full(trial_count(len(by_source)), total)
    for place, stream in enumerate(_streams(sources, 0)):
        drawn = _drawn(stream, sources.shapes[place], sources.freedoms[place], len(answers))
        answers += by_source[place] * drawn
    first = first_order(total, by_source, sources.freedoms)
    return Answer(first, answers, sources.freedoms, shares(slope, sources, by_source), slope)
