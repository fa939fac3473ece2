"""One model of a pressure rise fitted to the last digit, with the errors of what it says."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import sqrt

import numpy as np

from gasfuncs.calculations.rise_models import (
    POWER,
    Array,
    Record,
    Tried,
    columns,
    moved,
)

FARTHEST = 0.5
"""That a constant's logarithm, or the exponent, moves in one step."""

NEAR = 1e-3
"""A move so small is taken without asking whether the squares became less: they are too flat."""

CLOSE, DONE = 1e-3, 1e-11
"""A move at which a model is known well enough to be weighed, and to the last digit."""

STEPS_AT_MOST, HALVINGS = 40, 4
TINY = 1e-6

SINGULAR = 1e-13
"""Relative singular value below which a direction counts as not determined."""


@dataclass(frozen=True)
class Curve:
    """p₀ + a u + Σ b_k f_k(u), least squares at its constants."""

    model: str
    constants: Array
    start: float
    leak: float
    amplitudes: Array
    squares: float
    move: Array
    """Of the constants towards the least of the squares."""
    covariance: Array
    """Of (p₀, a, b …, constants …), for readings of variance 1."""

    def dying(self, u: Array) -> Array:
        """What the outgassing has added since the first reading."""
        grown = columns(self.model, u, self.constants)[: len(self.amplitudes)]
        return np.asarray(np.column_stack([np.zeros_like(u), *grown]) @ [0.0, *self.amplitudes])

    def outgassing(self, u: float) -> float:
        """Its rate at a time."""
        if self.model == POWER:
            age, exponent = self.constants
            rates = np.array([(1 + u / age) ** -exponent])
        else:
            rates = np.exp(-u / self.constants) / self.constants
        return float(rates @ self.amplitudes)

    def error_of_rate(self, u: float, leak: float) -> float:
        """Standard error of the outgassing's rate, with so many leaks; for variance 1."""
        amplitudes = np.eye(len(self.amplitudes))
        directions = np.eye(len(self.constants)) * TINY
        by_amplitude = [replace(self, amplitudes=each).outgassing(u) for each in amplitudes]
        further = [moved(self.model, self.constants, each) for each in directions]
        by_constant = [
            (replace(self, constants=each).outgassing(u) - self.outgassing(u)) / TINY
            for each in further
        ]
        return self.error(np.array([0.0, leak, *by_amplitude, *by_constant]))

    def error(self, gradient: Array) -> float:
        """Standard error of what changes so with (p₀, a, b …, constants …); for variance 1."""
        return sqrt(float(gradient @ self.covariance @ gradient))


def curve_through(record: Record, candidates: list[Tried]) -> Curve | None:
    """The least squares of a model, from its best candidate on; None where none is possible."""
    possible = [each for each in candidates if each.possible().any()]
    if not possible:
        return None
    best = min(possible, key=lambda each: each.squares[each.possible()].min())
    place = int(np.argmin(np.where(best.possible(), best.squares, np.inf)))
    return closer(record, _at(record, best.shape.model, best.constants_at(place)), CLOSE)


def closer(record: Record, curve: Curve, near: float = DONE) -> Curve:
    """The curve moved on to the least of its squares (Gauss and Newton)."""
    for _ in range(STEPS_AT_MOST):
        farthest = np.abs(curve.move).max(initial=0.0)
        if farthest < near:
            break
        move = curve.move * min(1.0, FARTHEST / farthest)
        better = _better(record, curve, move)
        if better is None:
            break
        curve = better
    return curve


def _better(record: Record, curve: Curve, move: Array) -> Curve | None:
    """The curve after a move, which is halved until the squares become less."""
    for _ in range(HALVINGS):
        there = _at(record, curve.model, moved(curve.model, curve.constants, move))
        lower = there.squares < curve.squares or np.abs(move).max() < NEAR
        if lower and (there.amplitudes >= 0).all():
            return there
        move = move / 2
    return None


def _at(record: Record, model: str, constants: Array) -> Curve:
    """The curve at its constants."""
    shapes = columns(model, record.u, constants)
    count = len(shapes) - len(constants)
    design = np.column_stack([np.ones_like(record.u), record.u, *shapes[:count]])
    values = np.linalg.pinv(design, rcond=SINGULAR) @ record.p
    residuals = record.p - design @ values
    owned = np.resize(values[2:], len(constants))
    bends = [b * f for b, f in zip(owned, shapes[count:], strict=True)]
    inverse = np.linalg.pinv(np.column_stack([design, *bends]), rcond=SINGULAR)
    move = (inverse @ residuals)[2 + count :]
    blocked = moved(model, constants, TINY * np.sign(move)) == constants
    if blocked.any():
        free = [bend for bend, no in zip(bends, blocked, strict=True) if not no]
        move = np.zeros(len(constants))
        move[~blocked] = (np.linalg.pinv(np.column_stack([design, *free])) @ residuals)[2 + count :]
    return Curve(
        model, constants, float(values[0]), float(values[1]), values[2:],
        float(residuals @ residuals), move, inverse @ inverse.T,
    )  # fmt: skip
