"""Rival models of outgassing in a pressure rise, each tried at many of its constants.

p(u) = p₀ + a u + Σ b_k f_k(u), the time u in lengths of the record: the leak a goes on as it is,
every f_k dies away and no b_k is below zero. The constants of the f_k are tried on a grid, and
columns with the derivatives of f_k let each candidate reach its neighbours. What is left is
linear least squares, solved for all candidates at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, product
from math import log

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Indices = NDArray[np.intp]

NONE, ONE, POWER, TWO = "none", "one exponential", "power law", "two exponentials"

UNKNOWNS = {NONE: 2, ONE: 4, POWER: 5, TWO: 6}
"""Of each model, p₀ and the leak among them."""

STEP = 0.1
"""In ln τ, from one time constant tried to the next; the power law, smoother, takes two."""

TAUS = np.exp(np.arange(log(0.004), log(20.0), STEP))
"""Time constants of one exponential, in lengths of the record."""

SLOWEST = 1.0
"""Of two exponentials; a second stage slower still nobody can tell from a leak."""

AGES = np.exp(np.arange(log(0.004), log(10.0), 2 * STEP))
"""How long the power law ran before the first reading, in lengths of the record."""

EXPONENTS = np.arange(0.5, 1.51, 0.25)
"""Of the power law: 0.5 out of rubber and plastic, about 1 off metal."""

WELL_SET = 1e-13
"""Least determinant of the columns' correlations: below it a candidate says nothing new."""


@dataclass(frozen=True)
class Record:
    """Readings, u from 0 to 1; a straight line is taken out of everything that is fitted."""

    u: Array
    p: Array

    @cached_property
    def _line(self) -> tuple[Array, Array]:
        q, r = np.linalg.qr(np.column_stack([np.ones_like(self.u), self.u]))
        return q, np.linalg.inv(r)

    def without_line(self, columns: Array) -> tuple[Array, Array]:
        """Columns with their straight lines taken out, and the slopes of those."""
        q, inverse = self._line
        taken = q.T @ columns
        left = columns - q @ taken
        again = q.T @ left
        return left - q @ again, (inverse @ (taken + again))[1]

    @cached_property
    def straight(self) -> tuple[Array, float, float]:
        """What a straight line leaves, its slope, and the slope's variance for readings of 1."""
        left, slope = self.without_line(self.p)
        _, inverse = self._line
        return left, float(slope), float(inverse[1] @ inverse[1])


@dataclass(frozen=True)
class Shape:
    """A model: how many amplitudes it has, and which of them each derivative belongs to."""

    model: str
    amplitudes: int
    owners: tuple[int, ...] = ()
    reach: tuple[float, ...] = ()
    """How far each derivative may move its constant: a step of the grid."""
    reaching_for: tuple[int, ...] = ()
    """Which constant each derivative moves."""

    def reaching(self, chosen: tuple[int, ...]) -> Shape:
        """The model with the derivatives of some of its constants only."""
        owners = tuple(self.owners[k] for k in chosen)
        reach = tuple(self.reach[k] for k in chosen)
        return Shape(self.model, self.amplitudes, owners, reach, chosen)


SHAPES = {
    ONE: Shape(ONE, 1, (0,), (STEP,)),
    POWER: Shape(POWER, 1, (0, 0), (2 * STEP, float(EXPONENTS[1] - EXPONENTS[0]))),
    TWO: Shape(TWO, 2, (0, 1), (STEP, STEP)),
}


@dataclass(frozen=True)
class Tried:
    """Candidates of a model: arrays by candidate, sizes and tilt by column too."""

    shape: Shape
    constants: Array
    squares: Array
    leak: Array
    variance: Array
    """Of the leak, for readings of variance 1."""
    sizes: Array
    """The amplitudes, then the parts that the derivatives take."""
    tilt: Array
    """How the sizes move with the leak when only the leak is held."""

    def possible(self, sizes: Array | None = None) -> NDArray[np.bool_]:
        """Whether no amplitude is negative and no constant leaves its neighbourhood."""
        sizes = self.sizes if sizes is None else sizes
        amplitudes, moved = np.split(sizes, [self.shape.amplitudes], axis=1)
        allowed = np.asarray((amplitudes >= 0).all(axis=1))
        if moved.shape[1]:
            room = np.array(self.shape.reach) * amplitudes[:, list(self.shape.owners)]
            allowed &= (np.abs(moved) <= room).all(axis=1)
        return allowed

    def constants_at(self, place: int) -> Array:
        """The constants that a candidate reaches."""
        shape, sizes = self.shape, self.sizes[place]
        by = np.zeros(len(self.constants[place]))
        for k, (which, owner) in enumerate(zip(shape.reaching_for, shape.owners, strict=True)):
            by[which] = sizes[shape.amplitudes + k] / sizes[owner]
        return moved(shape.model, self.constants[place], by)

    def range_within(self, limit: float) -> tuple[float, float]:
        """Lowest and highest leak with squares within a limit; infinities where there is none."""
        room = limit - self.squares
        half = np.sqrt(self.variance * np.maximum(room, 0.0))
        low, high = (
            (self.leak + sign * half)[
                (room >= 0) & self.possible(self.sizes + sign * self.tilt * half[:, None])
            ]
            for sign in (-1.0, 1.0)
        )
        return float(np.min(low, initial=np.inf)), float(np.max(high, initial=-np.inf))


def power_law(u: Array, age: float, exponent: float) -> Array:
    """∫ (1 + s/age)^-exponent ds from 0 to u."""
    logs, rest = np.log1p(u / age), 1 - exponent
    return age * (logs if abs(rest) < 1e-9 else np.expm1(rest * logs) / rest)


def moved(model: str, constants: Array, by: Array) -> Array:
    """Constants with their logarithms moved (the exponent as it stands), within their limits."""
    if model == POWER:
        age, exponent = constants[0] * np.exp(by[0]), constants[1] + by[1]
        return np.array([np.clip(age, *AGES[[0, -1]]), np.clip(exponent, *EXPONENTS[[0, -1]])])
    slowest = SLOWEST if model == TWO else TAUS[-1]
    return np.asarray(np.clip(constants * np.exp(by), TAUS[0], slowest))


def columns(model: str, u: Array, constants: Array) -> list[Array]:
    """The f_k of a model, then their derivatives by ln τ, or by ln age and the exponent."""
    if model == NONE:
        return []
    if model == POWER:
        return _power_columns(u, *map(float, constants))
    grown = [-np.expm1(-u / tau) for tau in constants]
    return grown + [-u / tau * np.exp(-u / tau) for tau in constants]


def _power_columns(u: Array, age: float, exponent: float) -> list[Array]:
    logs, rest = np.log1p(u / age), 1 - exponent
    law = power_law(u, age, exponent)
    if abs(rest) < 1e-4:
        by_exponent = -age * logs**2 / 2 * (1 + 2 / 3 * rest * logs)
    else:
        by_exponent = (law - age * logs * np.exp(rest * logs)) / rest
    return [law, law - u * np.exp(-exponent * logs), by_exponent]


def tried(record: Record, two: bool) -> dict[str, list[Tried]]:
    """Every candidate, of two exponentials if asked: with their derivatives, and without."""
    exponentials = [c for tau in TAUS for c in columns(ONE, record.u, np.array([tau]))]
    basis = record.without_line(np.column_stack(exponentials))
    places = 2 * np.arange(len(TAUS))[:, None]
    found = {
        NONE: [_straight(record)],
        ONE: _every(record, ONE, TAUS[:, None], basis, places),
        POWER: _every_power(record),
    }
    if two:
        pairs = np.stack(_pairs(), 1)
        found[TWO] = _every(record, TWO, TAUS[pairs], basis, 2 * pairs)
    return found


def _every_power(record: Record) -> list[Tried]:
    constants = np.array(list(product(AGES, EXPONENTS)))
    laws = [c for each in constants for c in _power_columns(record.u, *map(float, each))]
    basis = record.without_line(np.column_stack(laws))
    places = np.arange(0, len(laws), 3)[:, None]
    return _every(record, POWER, constants, basis, places)


def _pairs() -> tuple[Indices, Indices]:
    """Places in TAUS of the two time constants, three steps apart or more."""
    fast, slow = np.triu_indices(len(TAUS), 3)
    kept = (TAUS[fast] >= 0.01) & (TAUS[slow] <= SLOWEST)
    return fast[kept], slow[kept]


def _every(
    record: Record, model: str, constants: Array, basis: tuple[Array, Array], places: Indices
) -> list[Tried]:
    """Candidates with every choice of constants that reach between the grid's points."""
    shape = SHAPES[model]
    count = len(shape.owners)
    further = [
        places[:, owner] + 1 + shape.owners[:k].count(owner) for k, owner in enumerate(shape.owners)
    ]
    found = []
    for chosen in (c for size in range(count + 1) for c in combinations(range(count), size)):
        columns_taken = np.column_stack([places, *(further[k] for k in chosen)])
        found.append(_solved(record, shape.reaching(chosen), constants, basis, columns_taken))
    return found


def _straight(record: Record) -> Tried:
    left, slope, variance = record.straight
    nothing = np.zeros((1, 0))
    return Tried(
        Shape(NONE, 0), nothing, np.array([left @ left]), np.array([slope]),
        np.array([variance]), nothing, nothing,
    )  # fmt: skip


def _solved(
    record: Record, shape: Shape, constants: Array, basis: tuple[Array, Array], places: Indices
) -> Tried:
    """Least squares of every candidate, whose columns are at some places of the basis."""
    left, slope, variance = record.straight
    perpendicular, slopes = basis
    scale = np.sqrt((perpendicular**2).sum(axis=0)) + 1e-300
    scaled = (perpendicular / scale).T
    columns_taken = scaled[places]
    taken = columns_taken @ columns_taken.transpose(0, 2, 1)
    kept = np.linalg.det(taken) > WELL_SET
    places, taken = places[kept], taken[kept]
    inverse = np.linalg.inv(taken)
    pull = (scaled @ left)[places]
    lean = (slopes / scale)[places]
    sizes = (inverse @ pull[:, :, None])[:, :, 0]
    tilt = (inverse @ lean[:, :, None])[:, :, 0]
    spread = variance + (lean * tilt).sum(axis=1)
    squares = np.maximum(left @ left - (pull * sizes).sum(axis=1), 0.0)
    return Tried(
        shape, constants[kept], squares, slope - (lean * sizes).sum(axis=1), spread,
        sizes / scale[places], -tilt / scale[places] / spread[:, None],
    )  # fmt: skip
