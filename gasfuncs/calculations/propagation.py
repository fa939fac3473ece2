"""How errors of readings go through a calculation: first order and Monte Carlo.

First order is JCGM 100 (GUM), section 5, with the degrees of freedom of its annex G.4; Monte
Carlo is JCGM 101, section 7, with a fixed seed, so that the same cells always show the same
digits. Errors of one name are one error.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gasfuncs.definition.tolerances import Part, Parts, Shape, quantile
from gasfuncs.errors import UnreadableError

Array = NDArray[np.float64]
Function = Callable[[Array], Array]
"""Answers from inputs, one column of them a trial; NaN where a trial is refused."""

TRIALS = 100_000
FEWEST_TRIALS = 10_000
MOST_DRAWS = 20_000_000
"""Of all errors together: with very many errors there are fewer trials."""

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
    """The independent errors behind some readings."""

    names: tuple[str, ...]
    shapes: tuple[Shape, ...]
    freedoms: Array
    sizes: Array
    """Standard deviation by reading and source."""


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
    trials: Band | None
    count: int
    """Trials that were answered."""
    refused: int
    shares: Array
    """Of the variance, by reading."""
    sensitivities: Array
    """Change of the answer for a change of a reading."""

    @property
    def differ(self) -> bool:
        """Whether first order and Monte Carlo differ by more than the second digit."""
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
        if self.trials is None:
            return "first order alone"
        left_out = f", {self.refused} refused ones left out" if self.refused else ""
        trials = f"{self.count:,} trials{left_out}"
        if self.differ:
            return f"Monte Carlo, {trials}: the first order differs from it"
        return f"first order; Monte Carlo, {trials}, agrees"


def gathered(readings: Sequence[Reading]) -> Sources:
    """The errors of some readings, those of one name as one; UnreadableError where they differ."""
    kinds: dict[str, Part] = {}
    places: dict[tuple[str, int], int] = {}
    entries: list[tuple[int, int, float]] = []
    sources: list[Part] = []
    for row, reading in enumerate(readings):
        for part, size in reading.sizes():
            first = kinds.setdefault(part.name, part) if part.name else part
            if (first.shape, first.freedom) != (part.shape, part.freedom):
                raise UnreadableError(
                    f'the error "{part.name}" is told in two ways; write it alike everywhere '
                    "(all ± alone, or all u, or all 95%)"
                )
            key = (part.name, -1 if part.name else len(sources))
            if key not in places:
                places[key] = len(sources)
                sources.append(part)
            entries.append((row, places[key], size))
    sizes = np.zeros((len(readings), len(sources)))
    for row, column, size in entries:
        sizes[row, column] += size
    return Sources(
        tuple(part.name for part in sources), tuple(part.shape for part in sources),
        np.array([part.freedom for part in sources]), sizes,
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
    return max(step * size, 1e-6 * abs(reading.value)) if size else 0.0


def first_order(centre: float, slope: Array, sources: Sources) -> tuple[Band, Array]:
    """The band of JCGM 100, and the share of the variance by reading."""
    by_source = slope @ sources.sizes
    variance = float(np.sum(by_source**2))
    u = math.sqrt(variance)
    freedom = math.inf
    if variance:
        parts = float(np.sum((by_source**2 / variance) ** 2 / sources.freedoms))
        freedom = 1 / parts if parts else math.inf
    reach = quantile(LEVEL, freedom) * u
    shares = slope * (sources.sizes @ by_source) / variance if variance else np.zeros_like(slope)
    return Band(centre, u, centre - reach, centre + reach, freedom), shares


def trials(function: Function, readings: Sequence[Reading], sources: Sources) -> tuple[Array, int]:
    """Answers of the trials that are answered, sorted, and how many are refused."""
    count = trial_count(len(sources.names))
    generator = np.random.default_rng(SEED)
    values = _values(readings)[:, None]
    block = max(1, min(count, AT_ONCE // max(1, len(readings), len(sources.names))))
    out = []
    for start in range(0, count, block):
        size = min(block, count - start)
        out.append(function(values + sources.sizes @ drawn(sources, generator, size)))
    answers = np.concatenate(out)
    good = answers[np.isfinite(answers)]
    good.sort()
    return good, len(answers) - len(good)


def trial_count(errors: int) -> int:
    """How many trials are run for so many errors."""
    return max(FEWEST_TRIALS, min(TRIALS, MOST_DRAWS // max(1, errors)))


def drawn(sources: Sources, generator: np.random.Generator, count: int) -> Array:
    """Errors of standard deviation 1, or Student's t where the degrees of freedom are few."""
    out = np.empty((len(sources.names), count))
    for row, (shape, freedom) in enumerate(zip(sources.shapes, sources.freedoms, strict=True)):
        if shape == "rectangular":
            out[row] = generator.uniform(-math.sqrt(3), math.sqrt(3), count)
        elif freedom == math.inf:
            out[row] = generator.standard_normal(count)
        else:
            out[row] = generator.standard_t(freedom, count)
    return out


def trials_band(answers: Array, freedoms: Iterable[float]) -> Band:
    """The band that sorted answers of trials tell, as much of them below it as above."""
    low, high = np.quantile(answers, [1 - LEVEL, LEVEL])
    spread = float(np.std(answers)) if all(each > 2 for each in freedoms) else None
    return Band(float(np.mean(answers)), spread, float(low), float(high))


def propagated(
    function: Function, readings: Sequence[Reading], *, step: float = STEP, simulate: bool = True
) -> Answer:
    """Both bands of what a function answers from readings with errors.

    Takes a function of an array (a row a reading, a column a trial), and readings in SI.
    `simulate` is false for functions that take long: then there is the first order alone.
    """
    sources = gathered(readings)
    centre, *slope = slopes(function, readings, step).tolist()
    band, shares = first_order(centre, np.array(slope), sources)
    if not simulate:
        return Answer(band, None, 0, 0, shares, np.array(slope))
    answers, refused = trials(function, readings, sources)
    found = trials_band(answers, sources.freedoms.tolist())
    return Answer(band, found, len(answers), refused, shares, np.array(slope))
