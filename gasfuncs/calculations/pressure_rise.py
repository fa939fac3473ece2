"""Tells a real leak from outgassing in the pressure rise of a shut vessel.

p(t) = p₀ + a t + b (1 - exp(-t/τ)): a leak goes on as it is, outgassing dies away. At a given
time constant the rest is linear least squares; the time constant is searched on a grid and then
refined. A standard error is half the 68 % interval of the profile of the sum of squares, and at
least what the curvature at the best fit gives, so that a flat or lopsided profile widens it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import exp, sqrt

import numpy as np
import scipy
from numpy.typing import NDArray

Array = NDArray[np.float64]
Weights = Callable[[float], Array]
"""What a quantity takes of (p₀, a, b) at a time constant; times are in lengths of the record."""

FEWEST = 6
"""Readings: four unknowns, and something left over to know the scatter from."""

NEAR = 1e-4
"""In ln τ, about the least of the squares: there their slope changes its sign."""

TAUS = np.geomspace(2e-3, 20.0, 241)
"""Time constants tried, in lengths of the record."""

BEND = 0.01
"""A bend less likely than this to be scatter counts as outgassing (F test)."""

COMPATIBLE = 0.001
"""A time constant less likely than this is ruled out by the record (F test)."""

TOLD_APART = "told apart from outgassing"
TOO_SHORT = (
    "at most: the record is too short or too noisy to tell leak and outgassing apart; "
    "this is their sum at its end"
)
NO_BEND = (
    "at most: the record shows no bend beyond its scatter, so leak and outgassing cannot be "
    "told apart; this is their sum"
)
BENDS_UP = (
    "cannot be told: the pressure rises faster and faster, as neither leak nor outgassing makes "
    "it; look for warming. This is the mean"
)


@dataclass(frozen=True)
class Estimate:
    """A value with its standard error."""

    value: float
    error: float


@dataclass(frozen=True)
class RiseFit:
    """The rise in its parts, in Pa and s; the parts of outgassing are None where not told."""

    verdict: str
    leak: Estimate
    outgassing: Estimate | None
    """Pa/s at the first reading."""
    outgassing_end: Estimate | None
    """Pa/s at the last reading."""
    time_constant: Estimate | None
    scatter: float
    """Standard deviation of the readings about the curve, Pa."""
    curve: tuple[float, float, float, float | None]
    """p₀, a, b and τ of the curve; τ is None for a straight line."""

    def straight_part(self, since: Array) -> Array:
        """Pa that the part that goes on has added, seconds after the first reading."""
        return self.curve[1] * since

    def dying_part(self, since: Array) -> Array:
        """Pa that the part that dies away has added."""
        _, _, b, tau = self.curve
        return np.zeros_like(since) if tau is None else -b * np.expm1(-since / tau)


@dataclass(frozen=True)
class _Linear:
    """Least squares at one time constant (None: a straight line)."""

    tau: float | None
    values: Array
    covariance: Array
    """Without the variance of the readings."""
    squares: float


def fit(times: Array, pressures: Array) -> RiseFit:
    """Fit times (s) and pressures (Pa): FEWEST at different times, or more."""
    length, size = float(np.ptp(times)), float(np.ptp(pressures)) or 1.0
    lowest = float(pressures.min())
    u, p = (times - times.min()) / length, (pressures - lowest) / size
    freedom = len(p) - 4
    straight = _linear(u, p, None)
    profile = [_linear(u, p, tau) for tau in TAUS.tolist()]
    best = _refined(u, p, profile)
    rounding = len(p) * (1e-13 * max(1.0, float(pressures.max()) / size)) ** 2
    gain = (straight.squares - best.squares) / 2 / ((best.squares + rounding) / freedom)
    if scipy.stats.f.sf(gain, 2, freedom) > BEND:
        found = _straight(straight, len(p), NO_BEND, size, length)
    elif best.values[2] <= 0:
        found = _straight(straight, len(p), BENDS_UP, size, length)
    else:
        found = _bent(u, best, profile, freedom, size, length)
    return replace(found, curve=(lowest + found.curve[0], *found.curve[1:]))


def _linear(u: Array, p: Array, tau: float | None) -> _Linear:
    columns = [np.ones_like(u), u]
    if tau is not None:
        columns.append(-np.expm1(-u / tau))
    design = np.column_stack(columns)
    inverse = np.linalg.pinv(design, rcond=1e-13)
    values = inverse @ p
    residuals = p - design @ values
    return _Linear(tau, values, inverse @ inverse.T, float(residuals @ residuals))


def _refined(u: Array, p: Array, profile: list[_Linear]) -> _Linear:
    """The least of the squares, found where their slope is zero: they are too flat to show it."""
    place = int(np.argmin([each.squares for each in profile]))
    low, high = TAUS[max(place - 1, 0)], TAUS[min(place + 1, len(TAUS) - 1)]
    found = scipy.optimize.minimize_scalar(
        lambda log_tau: _linear(u, p, exp(log_tau)).squares,
        bounds=(np.log(low), np.log(high)), method="bounded", options={"xatol": 1e-8},
    )  # fmt: skip
    best = float(found.x)
    if _slope(u, p, best - NEAR) < 0 < _slope(u, p, best + NEAR):
        best = scipy.optimize.brentq(
            lambda log_tau: _slope(u, p, log_tau), best - NEAR, best + NEAR, xtol=1e-14
        )
    return min(profile[place], _linear(u, p, exp(best)), key=lambda each: each.squares)


def _slope(u: Array, p: Array, log_tau: float) -> float:
    """Of the squares by ln τ: only the curve's own change counts, the rest fits at every τ."""
    fitted, decay = _linear(u, p, exp(log_tau)), np.exp(-u / exp(log_tau))
    p0, slope, rise = fitted.values
    residuals = p - p0 - slope * u - rise * (1 - decay)
    return float(2 * rise * (residuals @ (u * decay))) / exp(log_tau)


def _straight(straight: _Linear, count: int, verdict: str, size: float, length: float) -> RiseFit:
    p0, slope = straight.values * size
    variance = straight.squares / (count - 2)
    error = sqrt(variance * straight.covariance[1, 1]) * size
    return RiseFit(
        verdict, Estimate(slope / length, error / length), None, None, None,
        sqrt(variance) * size, (p0, slope / length, 0.0, None),
    )  # fmt: skip


def _bent(
    u: Array, best: _Linear, profile: list[_Linear], freedom: int, size: float, length: float
) -> RiseFit:
    variance = best.squares / freedom
    curvature = _curvature(u, best)
    likely = [each for each in (*profile, best) if each.squares <= best.squares + variance]
    limit = best.squares + variance * float(scipy.stats.f.isf(COMPATIBLE, 1, freedom))

    def rate(weights: Weights) -> Estimate:
        found = _estimate(weights, best, likely, variance, curvature)
        return Estimate(found.value * size / length, found.error * size / length)

    p0, slope, rise = best.values * size
    tau = _tau(best) * length
    curve = (p0, slope / length, rise, tau)
    scatter = sqrt(variance) * size
    if profile[-1].squares <= limit:
        return RiseFit(TOO_SHORT, rate(_total_at_end), None, None, None, scatter, curve)
    if profile[0].squares <= limit:
        return RiseFit(TOLD_APART, rate(_leak), None, rate(_at_end), None, scatter, curve)
    taus = [_tau(each) for each in likely]
    spread = max(sqrt(variance * curvature[3, 3]), (max(taus) - min(taus)) / 2)
    return RiseFit(
        TOLD_APART, rate(_leak), rate(_at_start), rate(_at_end),
        Estimate(tau, spread * length), scatter, curve,
    )  # fmt: skip


def _tau(fitted: _Linear) -> float:
    assert fitted.tau is not None
    return fitted.tau


def _leak(_tau: float) -> Array:
    return np.array([0.0, 1.0, 0.0])


def _at_start(tau: float) -> Array:
    return np.array([0.0, 0.0, 1 / tau])


def _at_end(tau: float) -> Array:
    return np.array([0.0, 0.0, exp(-1 / tau) / tau])


def _total_at_end(tau: float) -> Array:
    return _leak(tau) + _at_end(tau)


def _curvature(u: Array, best: _Linear) -> Array:
    """Covariance of (p₀, a, b, τ) at the best fit, without the variance of the readings."""
    tau = _tau(best)
    decay = np.exp(-u / tau)
    jacobian = np.column_stack(
        [np.ones_like(u), u, 1 - decay, -best.values[2] * u / tau**2 * decay]
    )
    inverse = np.linalg.pinv(jacobian, rcond=1e-13)
    return np.asarray(inverse @ inverse.T)


def _estimate(
    weights: Weights, best: _Linear, likely: list[_Linear], variance: float, curvature: Array
) -> Estimate:
    tau, small = _tau(best), 1e-5
    slope = (weights(tau * (1 + small)) - weights(tau * (1 - small))) / (2 * small * tau)
    gradient = np.append(weights(tau), slope @ best.values)
    local = sqrt(variance * float(gradient @ curvature @ gradient))
    ends = []
    for each in likely:
        taken = weights(_tau(each))
        middle = float(taken @ each.values)
        room = best.squares + variance - each.squares
        half = sqrt(float(taken @ each.covariance @ taken) * room)
        ends += [middle - half, middle + half]
    value = float(weights(tau) @ best.values)
    return Estimate(value, max(local, (max(ends) - min(ends)) / 2))
