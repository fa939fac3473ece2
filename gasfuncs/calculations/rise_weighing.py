"""Weighs the rival models of a pressure rise: which fit, and what leak they allow.

A leak is in the band where some model that fits, the leak held, comes near enough to its own least
squares: by Student's t with the degrees of freedom of the likeliest model, on both sides for a band
and on one for an upper bound.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import scipy

from gasfuncs.calculations.rise_curve import Curve, closer, curve_through
from gasfuncs.calculations.rise_models import (
    NONE,
    ONE,
    POWER,
    TWO,
    UNKNOWNS,
    Record,
    Tried,
    tried,
)

TO_TELL_APART = 10
"""Readings; with fewer, scatter and models are known too badly."""

LEVEL = 0.95

UNLIKELY = 0.02
"""By scatter alone (F test): a model less likely is out, and a rise that quickens is one.

A larger one makes the bands of 1/t outgassing narrower, which hold the truth more often than they
must, but a leak is then claimed in more than 5 % of tight vessels that were pumped for long.
"""

WANDERING = -3.1
"""Standard deviations of von Neumann's ratio (1 in 1000): residuals that follow each other."""


@dataclass(frozen=True)
class Weighed:
    """A record and its models; times in lengths of the record, pressures in parts of its rise."""

    record: Record
    candidates: dict[str, list[Tried]]
    curves: dict[str, Curve]
    likeliest: str
    """The model with the least variance of the readings."""
    finest: float
    """Least standard deviation of a reading to be reckoned with."""

    def freedom(self, model: str) -> int:
        """Degrees of freedom that a model leaves."""
        return len(self.record.u) - UNKNOWNS[model]

    @cached_property
    def variance(self) -> float:
        """Of a reading."""
        squares = self.curves[self.likeliest].squares
        return max(squares / self.freedom(self.likeliest), self.finest**2)

    @cached_property
    def student(self) -> float:
        """Standard errors that half a band holds."""
        return float(scipy.stats.t.ppf((1 + LEVEL) / 2, self.freedom(self.likeliest)))

    @cached_property
    def _least(self) -> float:
        return min(curve.squares for curve in self.curves.values())

    def chance(self, model: str) -> float:
        """How likely the misfit of a model beside the best is by scatter alone (F test)."""
        gain = (self.curves[model].squares - self._least) / self.variance
        return float(scipy.stats.f.sf(gain, 1, self.freedom(self.likeliest)))

    @cached_property
    def fitting(self) -> tuple[str, ...]:
        """The models that fit, the simplest and then the closest first."""
        fitting = [model for model in self.curves if self.chance(model) >= UNLIKELY]
        stages = {NONE: 0, ONE: 1, POWER: 1, TWO: 2}
        return tuple(sorted(fitting, key=lambda m: (stages[m], self.curves[m].squares)))

    @cached_property
    def best(self) -> Curve:
        """The curve of the model that is shown, to its last digit."""
        return closer(self.record, self.curves[self.fitting[0]])

    @cached_property
    def bands(self) -> dict[str, tuple[float, float]]:
        """Lowest and highest leak that each model that fits allows."""
        return {model: self._range(model, self.student) for model in self.fitting}

    @property
    def band(self) -> tuple[float, float]:
        """Lowest and highest leak that any model allows."""
        lows, highs = zip(*self.bands.values(), strict=True)
        return min(lows), max(highs)

    @property
    def at_most(self) -> float:
        """The highest leak that any model allows, as an upper bound: t on one side.

        The end of the band where that bound is below zero, which no leak is.
        """
        one_sided = float(scipy.stats.t.ppf(LEVEL, self.freedom(self.likeliest)))
        bound = max(self._range(model, one_sided)[1] for model in self.fitting)
        return bound if bound > 0 else self.band[1]

    def _range(self, model: str, errors: float) -> tuple[float, float]:
        """Lowest and highest leak of a model within so many standard errors."""
        curve = self.curves[model]
        limit = curve.squares + self.variance * errors**2
        ends = [each.range_within(limit) for each in self.candidates[model]]
        lows, highs = zip(*ends, (curve.leak, curve.leak), strict=True)
        return _rounded(min(lows)), _rounded(max(highs))

    @property
    def quickens(self) -> bool:
        """Whether outgassing below zero, which rises ever faster, fits far better than any."""
        below = min(
            float(np.min(each.squares[each.sizes[:, 0] < 0], initial=np.inf))
            for each in self.candidates[ONE]
        )
        freedom = self.freedom(ONE)
        gain = (self._least - below) / 2 / max(below / freedom, self.finest**2)
        return bool(np.isfinite(gain) and scipy.stats.f.sf(gain, 2, freedom) < UNLIKELY)

    @property
    def wanders(self) -> bool:
        """Whether neighbouring residuals of the likeliest model go together."""
        curve, record = self.curves[self.likeliest], self.record
        left = record.p - curve.start - curve.leak * record.u - curve.dying(record.u)
        count = len(left)
        squares = float(left @ left)
        if count < TO_TELL_APART or squares <= count * self.finest**2:
            return False
        ratio = float(np.sum(np.diff(left) ** 2)) / squares
        deviation = np.sqrt(4 * (count - 2) / (count**2 - 1))
        return bool((ratio - 2) / deviation < WANDERING)


def _rounded(number: float) -> float:
    """To six digits: the ends of a band are known to no more, and so alike on every machine."""
    return float(f"{number:.6g}")


def weigh(record: Record, finest: float) -> Weighed:
    """Try all models that so many readings allow."""
    count = len(record.u)
    candidates = tried(record, two=count >= TO_TELL_APART)
    found = {model: curve_through(record, each) for model, each in candidates.items()}
    curves = {model: curve for model, curve in found.items() if curve}
    variances = {
        model: curve.squares / (count - UNKNOWNS[model])
        for model, curve in curves.items()
        if count - UNKNOWNS[model] >= 2
    }
    likeliest = min(variances, key=lambda model: variances[model])
    return Weighed(record, candidates, curves, likeliest, finest)
