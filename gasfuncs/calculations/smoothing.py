"""Forecasts of a series with a season, such as the week: means, exponential smoothing, the last.

The season is counted in values; a week of daily values has seven. What a method is worth is
measured by forecasting from earlier and earlier values what has come since.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import scipy
from numpy.typing import NDArray

Array = NDArray[np.float64]
Bands = tuple[Array, Array, Array]
"""Mean, low and high."""

RECENT = 8
"""Seasons: fewer are too few for smoothing, and means go back no further."""

LONGEST_TEST = 4
"""Seasons ahead that a method's error is measured over."""

PATHS = 1000
"""Simulated, for the band of exponential smoothing."""


Mean = Callable[[Array, int], Array]
"""Of values and how many ahead."""


@dataclass(frozen=True)
class Method:
    """A way to forecast: `tune` sets its constants by values and season, `band` is the answer."""

    name: str
    tune: Callable[[Array, int], Mean]
    band: Callable[[Array, int, int, float], Bands]


@dataclass(frozen=True)
class Forecast:
    """A forecast with its method, and the mean absolute error of it and of the last season."""

    mean: Array
    low: Array
    high: Array
    method: str
    error: float
    error_of_last: float


def forecast(values: Array, season: int, ahead: int, level: float) -> Forecast:
    """By the method that was nearest so far; takes two seasons of values or more."""
    methods = [MEANS, LAST]
    if len(values) >= RECENT * season and np.ptp(values) > 0:
        methods = [MEANS, SMOOTHED, TRENDED, LAST]
    missed = [rolling_errors(each, values, season, ahead) for each in methods]
    errors = [float(np.nanmean(each)) for each in missed]
    best = int(np.argmin(errors))
    mean, low, high = methods[best].band(values, season, ahead, level)
    wider = _widening(missed[best], (high - low) / 2, level)
    low, high = mean - wider * (mean - low), mean + wider * (high - mean)
    return Forecast(mean, low, high, methods[best].name, errors[best], errors[-1])


def rolling_errors(method: Method, values: Array, season: int, ahead: int) -> Array:
    """What forecasts from earlier origins missed: origins a season apart, steps ahead.

    Constants are those of the earliest origin, so that no forecast has seen what it is held to.
    """
    longest = min(ahead, LONGEST_TEST * season, max(season, len(values) // 4))
    least = season if len(values) < RECENT * season else LONGEST_TEST * season
    origins = range(len(values) - min(season, longest), least - 1, -season)[:RECENT]
    mean = method.tune(values[: origins[-1]], season)
    missed = np.full((len(origins), longest), np.nan)
    for row, origin in enumerate(origins):
        real = values[origin : origin + longest]
        missed[row, : len(real)] = np.abs(mean(values[:origin], len(real)) - real)
    return missed


def _widening(missed: Array, reach: Array, level: float) -> float:
    """By how much a band falls short of holding what earlier forecasts missed, 1 at the least."""
    reach = reach[: missed.shape[1]]
    known = ~np.isnan(missed) & (reach > 0)
    shares = (missed / np.where(reach > 0, reach, 1.0))[known]
    return max(1.0, float(np.quantile(shares, level))) if len(shares) else 1.0


def _last(values: Array, season: int, ahead: int) -> Array:
    return np.resize(values[-season:], ahead)


def _last_band(values: Array, season: int, ahead: int, level: float) -> Bands:
    changes = values[season:] - values[:-season]
    seasons = np.arange(ahead) // season + 1
    reach = _t(level, len(changes)) * np.sqrt(np.mean(changes**2) * seasons)
    mean = _last(values, season, ahead)
    return mean, mean - reach, mean + reach


def _seasons(values: Array, season: int) -> Array:
    """The last whole seasons, a row each."""
    rows = min(len(values) // season, RECENT)
    return values[len(values) - rows * season :].reshape(rows, season)


def _means(values: Array, season: int, ahead: int) -> Array:
    return np.resize(_seasons(values, season).mean(axis=0), ahead)


def _means_band(values: Array, season: int, ahead: int, level: float) -> Bands:
    rows = _seasons(values, season)
    residuals = rows - rows.mean(axis=0)
    used = rows.any(axis=0)  # a weekday that never used anything needs no band
    freedom = max((len(rows) - 1) * int(used.sum()), 1)
    scatter = np.sqrt(np.sum(residuals**2) / freedom * (1 + 1 / len(rows)))
    reach = np.resize(np.where(used, _t(level, freedom) * scatter, 0.0), ahead)
    mean = _means(values, season, ahead)
    return mean, mean - reach, mean + reach


def _t(level: float, freedom: int) -> float:
    """Student's t of a two-sided band."""
    return float(scipy.special.stdtrit(freedom, (1 + level) / 2))


def smoothed(values: Array, season: int, trend: bool, like: Any = None) -> Any:
    """Exponential smoothing with season and, damped, a trend, by statsmodels.

    Its constants are fitted, or those of an earlier fit.
    """
    from statsmodels.tsa.holtwinters import ExponentialSmoothing

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of a fit that stops early: its error tells
        model = ExponentialSmoothing(
            values, trend="add" if trend else None, damped_trend=trend, seasonal="add",
            seasonal_periods=season, initialization_method="heuristic",
        )  # fmt: skip
        if like is None:
            return model.fit()
        names = ["smoothing_level", "smoothing_seasonal"]
        names += ["smoothing_trend", "damping_trend"] if trend else []
        return model.fit(**{name: like.params[name] for name in names}, optimized=False)


def extended(fitted: Any, season: int, ahead: int) -> Array:
    """The mean that a smoothed series goes on with.

    From its last states: the library's own forecast leaves the last value out of its season.
    """
    parameters = fitted.params
    damping = parameters["damping_trend"] if fitted.model.damped_trend else 0.0
    slope = fitted.trend[-1] if fitted.model.damped_trend else 0.0
    damped = np.cumsum(damping ** np.arange(1, ahead + 1))
    return np.asarray(fitted.level[-1] + damped * slope + np.resize(fitted.season[-season:], ahead))


def _smoothing(name: str, trend: bool) -> Method:
    def tune(values: Array, season: int) -> Mean:
        first = smoothed(values, season, trend)
        return lambda later, ahead: extended(smoothed(later, season, trend, first), season, ahead)

    def band(values: Array, season: int, ahead: int, level: float) -> Bands:
        fitted = smoothed(values, season, trend)
        paths = fitted.simulate(
            ahead, repetitions=PATHS, random_errors="bootstrap", rng=np.random.default_rng(1)
        ).reshape(ahead, -1)
        low, high = np.quantile(paths, [(1 - level) / 2, (1 + level) / 2], axis=1)
        return extended(fitted, season, ahead), low, high

    return Method(name, tune, band)


def _untuned(mean: Callable[[Array, int, int], Array]) -> Callable[[Array, int], Mean]:
    return lambda _, season: lambda values, ahead: mean(values, season, ahead)


MEANS = Method("weekday means", _untuned(_means), _means_band)
LAST = Method("same weekday last week", _untuned(_last), _last_band)
SMOOTHED = _smoothing("exponential smoothing with weekday", trend=False)
TRENDED = _smoothing("exponential smoothing with weekday and trend", trend=True)
