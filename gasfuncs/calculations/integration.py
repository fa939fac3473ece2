"""Initial-value problems of many rows together, each with steps of its own.

Collocation at Radau points (stiffly accurate, of order 2 s - 1 with s points): within a step the
state is a polynomial that meets the differential equation at s points, so that a few evaluations,
each of all rows and points at once, carry it far. Step control and the simplified Newton method are
those of Radau IIA in Hairer and Wanner, Solving Ordinary Differential Equations II, IV.8.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from functools import cache
from typing import NamedTuple

import numpy as np
import scipy
from numpy.polynomial import Polynomial
from numpy.typing import NDArray

Column = NDArray[np.float64]
Rows = NDArray[np.intp]

POINTS = 5
TOLERANCE = 1e-6
"""Of the estimate, which is of a lower order than the step by far: the error itself is smaller."""

NEWTON = 1e-3
"""Of the tolerance: the points of a step are solved to this."""

MOST_ROUNDS = 10
SLOW = 0.05
"""A round that leaves more of the one before asks for new slopes."""

MOST_STEPS = 2_000
SHORTEST = 1e-8
"""Of the first step: no way further is found by one that is shorter."""

SHRINK, GROW, SAFETY = 0.1, 8.0, 0.85
AGAIN = 0.4
"""At most, for a step that was refused before: its error falls slower there than its order says."""

DIFFERENCE = 1e-7
"""With which the Jacobian is told, of the scale."""

BEYOND = 1.1
"""Of the time to the end at the present rate: a longer step would be in vain."""

HALVINGS = 30
"""With which the end is found within a step."""

TINY = 1e-300
NOTHING = 1e-9
"""Of what remains: a step that brings no more than that does not lead to the end."""

SEEKING, FOUND, LOST = 0, 1, 2


class Radau(NamedTuple):
    """Points, integrals of their polynomials up to each point, the inverse of that matrix, values
    of the polynomials at the start, the real eigenvalue of the integrals."""

    points: Column
    integrals: Column
    slopes: Column
    at_start: Column
    gamma: float


@cache
def radau(count: int = POINTS) -> Radau:
    """The method with a number of points in (0, 1], the last of them 1."""
    inner, _ = scipy.special.roots_jacobi(count - 1, 1, 0)
    points = np.append((inner + 1) / 2, 1.0)
    basis = [Polynomial.fromroots(np.delete(points, i)) for i in range(count)]
    basis = [one / one(points[i]) for i, one in enumerate(basis)]
    integrals = np.array([one.integ()(points) for one in basis]).T
    eigenvalues = np.linalg.eigvals(integrals)
    gamma = eigenvalues[np.argmin(np.abs(eigenvalues.imag))].real
    at_start = np.array([one(0.0) for one in basis])
    return Radau(points, integrals, np.linalg.inv(integrals), at_start, float(gamma))


@dataclass
class Course:
    """Rows on their way: times, states, rates, the next step, how many were refused since one was
    made."""

    rows: Rows
    time: Column
    state: Column
    rate: Column
    step: Column
    refused: Rows

    def take(self, kept: NDArray[np.bool_]) -> Course:
        """Some of the rows."""
        return Course(*(getattr(self, field.name)[kept] for field in fields(self)))


class Tried(NamedTuple):
    """A step as tried: increments and rates at its points, its error in tolerances (infinite where
    the points were not found)."""

    increments: Column
    rates: Column
    error: Column


@dataclass(frozen=True)
class Problem:
    """What is integrated.

    `rates` of some rows at times (rows x points) and states (rows x points x quantities);
    `remaining` of rows and states, 0 where a row ends; `rested` of a course, where nothing goes on
    any more; `scale` of each quantity by row, by which errors are measured.
    """

    rates: Callable[[Rows, Column, Column], Column]
    remaining: Callable[[Rows, Column], Column]
    rested: Callable[[Course], NDArray[np.bool_]]
    scale: Column


class Ends(NamedTuple):
    """Times and states at the end, whether it was reached, whether no step further was found, and
    how often rates were asked for."""

    time: Column
    state: Column
    rate: Column
    reached: NDArray[np.bool_]
    stuck: NDArray[np.bool_]
    calls: int


Seen = Callable[["Course", "Tried"], None]


def integrate(
    problem: Problem,
    start: Column,
    first_step: Column,
    check: Callable[[], None],
    seen: Seen | None = None,
) -> Ends:
    """Every row from its start to its end, or to its rest.

    `check` may raise where it takes too long; `seen` is shown every step that is made.
    """
    rows, time = np.arange(len(start)), np.zeros(len(start))
    rate = problem.rates(rows, time[:, None], start[:, None])[:, 0]
    no = np.zeros(len(start), bool)
    course = Course(rows, time, start.copy(), rate, first_step, np.zeros_like(rows))
    ends = Ends(time.copy(), start.copy(), rate.copy(), no.copy(), no.copy(), 1)
    for _ in range(MOST_STEPS):
        check()
        tried, calls = _tried(problem, course)
        ends = ends._replace(calls=ends.calls + calls)
        course, ended = _moved(problem, course, tried, seen)
        stuck = (course.refused > 0) & (course.step <= SHORTEST * first_step[course.rows])
        over = ended | stuck | problem.rested(course)
        ends.time[course.rows[over]] = course.time[over]
        ends.state[course.rows[over]] = course.state[over]
        ends.rate[course.rows[over]] = course.rate[over]
        ends.reached[course.rows[ended]] = True
        ends.stuck[course.rows[stuck]] = True
        if over.any():
            course = course.take(~over)
        if not len(course.rows):
            break
    return ends


def _tried(problem: Problem, course: Course) -> tuple[Tried, int]:
    """One step of every row, and how often rates were asked for. No row minds the others."""
    method, step = radau(), course.step[:, None, None]
    scale = problem.scale[course.rows][:, None]
    increments = step * method.points[:, None] * course.rate[:, None]
    last = np.full(len(step), np.inf)
    state = np.zeros(len(step), dtype=int)
    anew = np.ones(len(step), dtype=bool)
    slopes, inverse = _nothing(*increments.shape)
    for rounds in range(1, MOST_ROUNDS + 1):
        states = course.state[:, None] + increments
        if anew.any():
            rates, found = _sloped(problem, course, states)
            slopes[anew] = found[anew]
            inverse[anew] = _inverse(found[anew], course.step[anew])
        else:
            rates = problem.rates(course.rows, _times(course), states)
        off = step * (method.integrals @ rates) - increments
        move = (inverse @ off.reshape(len(off), -1, 1)).reshape(off.shape)
        increments = np.where((state == SEEKING)[:, None, None], increments + move, increments)
        moved = np.abs(move / scale).max(axis=(1, 2))
        state = np.where(state == SEEKING, _progress(moved, last, rounds), state)
        if not (state == SEEKING).any():
            break
        anew = (state == SEEKING) & (moved > SLOW * last)
        last = moved
    rates = method.slopes @ increments / step
    error = _error(course, slopes[:, 0], rates, scale[:, 0])
    return Tried(increments, rates, np.where(state == FOUND, error, np.inf)), rounds


def _nothing(rows: int, points: int, count: int) -> tuple[Column, Column]:
    """Room for the slopes and for the inverse of Newton's matrix."""
    size = points * count
    return np.zeros((rows, points, count, count)), np.zeros((rows, size, size))


def _times(course: Course) -> Column:
    """Times of the points of a step, by row."""
    return np.asarray(course.time[:, None] + course.step[:, None] * radau().points)


def _progress(moved: Column, last: Column, rounds: int) -> NDArray[np.int_]:
    """How the search for a step's points goes, by what a round of Newton's method moved them."""
    ratio = np.where(rounds > 1, moved / np.maximum(last, TINY), 0.0)
    left = moved * np.where((ratio < 1) & (rounds > 1), ratio / np.maximum(1 - ratio, 1e-3), 1.0)
    worse = ~np.isfinite(moved) | ((ratio > 2) & (rounds > 3))
    return np.where(worse, LOST, np.where(left < NEWTON * TOLERANCE, FOUND, SEEKING))


def _sloped(problem: Problem, course: Course, states: Column) -> tuple[Column, Column]:
    """Rates at the points of a step and their slopes in each quantity, by differences."""
    rows, points, count = states.shape
    moves = DIFFERENCE * problem.scale[course.rows][:, None, None] * np.eye(count)
    all_states = np.concatenate([states[:, :, None], states[:, :, None] + moves], axis=2)
    times = np.repeat(_times(course), count + 1, axis=1)
    rates = problem.rates(course.rows, times, all_states.reshape(rows, -1, count))
    rates = rates.reshape(rows, points, count + 1, count)
    slopes = (rates[:, :, 1:] - rates[:, :, :1]) / moves.sum(axis=-1)[..., None]
    return rates[:, :, 0], slopes.swapaxes(2, 3)


def _inverse(slopes: Column, step: Column) -> Column:
    """Of the matrix of Newton's method, for all points of a step together."""
    rows, points, count, _ = slopes.shape
    scaled = step[:, None, None, None] * slopes
    whole = np.einsum("ij,mjkl->mikjl", radau().integrals, scaled)
    size = points * count
    return np.asarray(np.linalg.inv(np.eye(size) - whole.reshape(rows, size, size)))


def _error(course: Course, jacobian: Column, rates: Column, scale: Column) -> Column:
    """How far the polynomial's rate at the start is off, carried over the step, in tolerances."""
    method = radau()
    reach = method.gamma * course.step[:, None]
    off = reach * (course.rate - np.einsum("j,mjk->mk", method.at_start, rates))
    damped = np.linalg.solve(
        np.eye(jacobian.shape[1]) - reach[..., None] * jacobian, off[..., None]
    )
    return np.asarray(np.abs(damped[..., 0] / scale).max(axis=1) / TOLERANCE)


def _moved(
    problem: Problem, course: Course, tried: Tried, seen: Seen | None
) -> tuple[Course, NDArray[np.bool_]]:
    """The course after the steps that were good enough, and which rows are at their end."""
    good = tried.error <= 1
    left = _remaining(problem, course, tried)
    ended = good & (left < 0).any(axis=1)
    if seen:
        seen(course.take(good), Tried(*(part[good] for part in tried)))
    place = np.where(ended, _share(left), 1.0) if ended.any() else np.ones(len(left))
    change, rate = _within(tried, place)
    time = np.where(good, course.time + place * course.step, course.time)
    state = np.where(good[:, None], course.state + change, course.state)
    rate = np.where(good[:, None], rate, course.rate)
    step = course.step * _factor(course, tried.error)
    refused = np.where(good, 0, course.refused + 1)
    ahead = _to_end(problem, course.rows, state, rate, course.step)
    exactly = np.where(ended & np.isfinite(ahead), ahead, 0.0)
    step = np.where(ahead > 0, np.minimum(step, BEYOND * ahead), step)
    state = state + exactly[:, None] * rate
    return Course(course.rows, time + exactly, state, rate, step, refused), ended


def _factor(course: Course, error: Column) -> Column:
    """What the next step is of this one."""
    factor = SAFETY * np.maximum(error, 1e-12) ** (-1 / (POINTS + 1))
    factor = np.where(np.isfinite(error), np.clip(factor, SHRINK, GROW), SHRINK)
    again = (error > 1) & (course.refused > 1)
    return np.where(again, np.minimum(factor, AGAIN), factor)


def _within(tried: Tried, place: Column) -> tuple[Column, Column]:
    """Increments and rates at places of the steps, on the polynomials of these."""
    if (place == 1).all():
        return tried.increments[:, -1], tried.rates[:, -1]
    points = radau().points
    powers = np.vander(place, len(points))
    rates = powers @ np.linalg.inv(np.vander(points))
    with_start = np.concatenate([[0.0], points])
    increments = np.vander(place, len(with_start)) @ np.linalg.inv(np.vander(with_start))
    return (
        np.einsum("mj,mjk->mk", increments[:, 1:], tried.increments),
        np.einsum("mj,mjk->mk", rates, tried.rates),
    )


def _remaining(problem: Problem, course: Course, tried: Tried) -> Column:
    """What remains at the start and the points of a step, a row each."""
    ahead = course.state[:, None] + tried.increments
    states = np.concatenate([course.state[:, None], ahead], axis=1)
    return np.asarray(problem.remaining(course.rows[:, None], states))


def _to_end(problem: Problem, rows: Rows, state: Column, rate: Column, step: Column) -> Column:
    """Time from states to the end at their rates; next to it all is straight."""
    here = problem.remaining(rows, state)
    fall = here - problem.remaining(rows, state + step[:, None] * rate)
    far = np.full(len(here), np.inf)
    return np.asarray(np.divide(step * here, fall, out=far, where=fall > NOTHING * np.abs(here)))


def _share(left: Column) -> Column:
    """Where in a step nothing remains first, by halving on the polynomial of what remains."""
    points = np.concatenate([[0.0], radau().points])
    first = np.maximum((left < 0).argmax(axis=1), 1)
    low, high = points[first - 1], points[first]
    coefficients = np.linalg.solve(np.vander(points), left.T)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        value = np.zeros_like(middle)
        for coefficient in coefficients:
            value = value * middle + coefficient
        low, high = np.where(value > 0, middle, low), np.where(value > 0, high, middle)
    return np.asarray(high)
