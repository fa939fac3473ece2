"""Deliveries and daily use read out of a tank's level: rises of liquid that are gas, too."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations.tank import tank_stock
from gasfuncs.definition.series import Kept
from gasfuncs.errors import ShapeError, UnreadableError
from gasfuncs.properties import Gas, LiquidState, saturation_limits

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Places = NDArray[np.intp]
Reasons = dict[int, str]
"""Why a reading is left out, by its place."""

NOISE = 0.1
"""Of the least rise: what a level may move without meaning."""

ALIKE = 0.5
"""Of the least rise: readings this near to each other with one between them off are a spike."""

GAS_SHARE = 0.5
"""Of the liquid that a rise shows, what has to be there as gas too for a delivery."""

SHORTEST_LOOK = 1 / 24
"""Days after a reading in which a delivery may still go on."""

MOST_TIMES_TYPICAL = 5
"""A fall this many times the typical one is no use."""

USUAL_GAP = 4
"""Median intervals without a reading that make a gap."""

BLOCK = 4096
"""Readings that are searched for a rise at a time."""

FINE_GRID = 1000
"""Pressures that densities are worked out at; between them they are straight to 1e-7."""


@dataclass(frozen=True)
class Record:
    """Readings in the order of time: days, m³ of liquid, mol in the tank, mol that 1 m³ adds."""

    times: Array
    levels: Array
    stocks: Array
    per_volume: Array

    @classmethod
    def of(
        cls,
        times: Array,
        levels: Array,
        pressures: Array,
        gas: Gas,
        capacity: float,
        liquid_at: LiquidState | None,
        vapour_temperature: Any,
    ) -> Record:
        """By the stock at each reading; of very many readings densities are read off a grid."""
        if len(pressures) > FINE_GRID:
            grid = np.linspace(pressures.min(), pressures.max(), FINE_GRID)
        else:
            grid = np.unique(pressures)
        stocks = (
            tank_stock(gas, liquid, 1.0, grid, liquid_at, vapour_temperature)
            for liquid in (1.0, 0.0)
        )
        full, empty = (np.interp(pressures, grid, stock) for stock in stocks)
        return cls(times, levels, levels * full + (capacity - levels) * empty, full - empty)


def usable(
    times: Kept, levels: Kept, pressures: Kept, gas: Gas, capacity: float, least: float
) -> tuple[Places, Reasons]:
    """Places of the readings that can be used, in the order of time, and why the others cannot."""
    why = _unusable(times, levels, pressures, gas, capacity)
    good = ~np.isnan(times.values)
    good[list(why)] = False
    order = np.flatnonzero(good)
    order = order[np.argsort(times.values[order], kind="stable")]
    again = np.append(False, np.diff(times.values[order]) == 0)[: len(order)]
    why |= dict.fromkeys(order[again].tolist(), "the same time again")
    order = order[~again]
    off = spikes(times.values[order], levels.values[order], least)
    why |= dict.fromkeys(order[off].tolist(), "a single reading off its neighbours")
    order = order[~off]
    if len(order) < 2:
        first = next(iter(why.values()), "they are blank")
        raise UnreadableError(f"hold fewer than two readings that can be used: {first}", "levels")
    return order, why


def _unusable(times: Kept, levels: Kept, pressures: Kept, gas: Gas, capacity: float) -> Reasons:
    """Why readings cannot be used as they stand; rows without time and level are passed over."""
    count, pressure = len(times.values), each_pressure(pressures, times)
    if len(levels.values) != count:
        raise ShapeError(f"holds {len(levels.values)} levels for {count} times", "levels")
    level, (lowest, highest) = levels.values, saturation_limits(gas)
    boiling = (pressure > lowest) & (pressure < highest)
    wrong = {
        "no time": np.isnan(times.values),
        "no level": np.isnan(level),
        "no pressure": np.isnan(pressure),
        "a level below 0": level < 0,
        "a level above the capacity": level > capacity,
        f"no liquid {gas} at that pressure": ~boiling & (len(pressures.values) > 1),
    }
    why: Reasons = {}
    for kept in (times, levels, pressures):
        for place, reason in kept.reasons.items():
            why.setdefault(place, reason.removesuffix(f" (item {place + 1} of the range)"))
    blank = np.isnan(times.values) & np.isnan(level)
    for reason, where in wrong.items():
        for place in np.flatnonzero(where & ~blank).tolist():
            why.setdefault(place, reason)
    return why


def each_pressure(pressures: Kept, times: Kept) -> Array:
    """The pressure at each time, one for all where only one is given."""
    if len(pressures.values) not in (1, len(times.values)):
        raise ShapeError(
            f"holds {len(pressures.values)} pressures for {len(times.values)} times",
            "tank_pressure",
        )
    return np.broadcast_to(pressures.values, times.values.shape)


@dataclass(frozen=True)
class Rise:
    """From the reading before a rise to the one after it; a delivery, or pressure alone."""

    start: int
    end: int
    is_delivery: bool


def spikes(times: Array, levels: Array, least: float) -> Flags:
    """Single readings that leave their neighbours, further than use or a delivery would."""
    off = np.zeros(len(levels), dtype=bool)
    moves = np.diff(levels)
    alone = moves[:-1] * moves[1:] < 0
    nearer = np.minimum(np.abs(moves[:-1]), np.abs(moves[1:]))
    at = np.flatnonzero(alone & (nearer > least * ALIKE)) + 1
    if not len(at):
        return off
    typical = MOST_TIMES_TYPICAL * _typical_fall(times, levels)
    before, after = times[at] - times[at - 1], times[at + 1] - times[at]
    reach = typical * np.maximum(before, after)
    together = np.abs(levels[at + 1] - levels[at - 1]) <= least * ALIKE + typical * (before + after)
    off[at] = (nearer[at - 1] > reach) & together
    return off


def _typical_fall(times: Array, levels: Array) -> float:
    """What the level falls a day, where it falls; where nothing does there is no spike."""
    falls = -np.diff(levels) / np.diff(times)
    return float(np.median(falls[falls > 0]))


def rises(record: Record, least: float) -> list[Rise]:
    """Every rise of the level by at least `least`, in the order of time."""
    found, end = list[Rise](), 0
    look = max(SHORTEST_LOOK, 1.5 * float(np.median(np.diff(record.times))))
    while places := _next_rise(record.levels, end, least):
        low, at = places
        end = _end(record, at, look, least * NOISE)
        start = _start(record.levels, low, at, least * NOISE)
        found.append(_judged(record, start, end))
    return found


def _next_rise(levels: Array, low: int, least: float) -> tuple[int, int] | None:
    """The lowest reading from `low` on, its last if alike, and the first that is `least` above."""
    for begin in range(low + 1, len(levels), BLOCK):
        part = levels[begin : begin + BLOCK]
        lows = np.minimum.accumulate(np.append(levels[low], part))
        risen = np.flatnonzero(part - lows[:-1] >= least)
        until = int(risen[0]) if len(risen) else len(part)
        lowest = np.flatnonzero(part[:until] == lows[until])
        low = begin + int(lowest[-1]) if len(lowest) else low
        if len(risen):
            return low, begin + until
    return None


def _end(record: Record, at: int, look: float, noise: float) -> int:
    """The last reading of a rise: none within `look` after it is higher."""
    while True:
        until = int(np.searchsorted(record.times, record.times[at] + look, side="right"))
        highest = at + int(np.argmax(record.levels[at:until]))
        if record.levels[highest] - record.levels[at] <= noise:
            return at
        at = highest


def _start(levels: Array, low: int, at: int, noise: float) -> int:
    """The last reading before a rise: the level has been as low until then."""
    return low + int(np.flatnonzero(levels[low:at] <= levels[low] + noise)[-1])


def _judged(record: Record, start: int, end: int) -> Rise:
    liquid = record.levels[end] - record.levels[start]
    gas = record.stocks[end] - record.stocks[start]
    return Rise(start, end, bool(gas > GAS_SHARE * liquid * record.per_volume[end]))


@dataclass(frozen=True)
class Course:
    """What was used up to each reading, and what each delivery brought, in mol."""

    used: Array
    brought: list[float]


def course(record: Record, found: list[Rise]) -> Course:
    """Use by falls of the stock; while a delivery runs, at the mean rate of the rest."""
    falls = -np.diff(record.stocks)
    steps = np.diff(record.times)
    quiet = np.ones(len(falls), dtype=bool)
    deliveries = [rise for rise in found if rise.is_delivery]
    for rise in deliveries:
        quiet[rise.start : rise.end] = False
    rate = falls[quiet].sum() / steps[quiet].sum() if quiet.any() else 0.0
    uses = np.where(quiet, falls, rate * steps)
    used = np.append(0.0, np.cumsum(uses))
    brought = [
        float(
            record.stocks[rise.end] - record.stocks[rise.start] + used[rise.end] - used[rise.start]
        )
        for rise in deliveries
    ]
    return Course(used, brought)


def gaps(times: Array, longest: float | None) -> list[tuple[float, float]]:
    """Start and end of every stretch without a reading that is longer than `longest` days."""
    steps = np.diff(times)
    limit = USUAL_GAP * float(np.median(steps)) if longest is None else longest
    return [(float(times[at]), float(times[at + 1])) for at in np.flatnonzero(steps > limit)]


def event_rows(record: Record, found: list[Rise], longest_gap: float | None) -> list[list[Any]]:
    """Kind, start, end, amount and note: deliveries, pressure excursions, use by day, gaps."""
    taken, times = course(record, found), record.times.tolist()
    brought = iter(taken.brought)
    rows: list[list[Any]] = []
    for rise in found:
        ends = [times[rise.start], times[rise.end]]
        if rise.is_delivery:
            last = rise.end == len(times) - 1
            note = "the last reading: it may go on" if last else None
            rows.append(["delivery", *ends, next(brought), note])
        else:
            litres = 1000 * (record.levels[rise.end] - record.levels[rise.start])
            note = f"the level rose by {litres:.0f} L with the pressure, the gas did not"
            rows.append(["pressure excursion", *ends, None, note])
    rows.sort(key=lambda row: str(row[0]))
    without = gaps(record.times, longest_gap)
    rows += _day_rows(record.times, taken.used, without)
    return rows + [["gap", start, end, None, "no reading"] for start, end in without]


def _day_rows(times: Array, used: Array, without: list[tuple[float, float]]) -> list[list[Any]]:
    """The use of every whole day of the record."""
    midnights = np.arange(np.ceil(times[0]), np.floor(times[-1]) + 1)
    uses = np.diff(np.interp(midnights, times, used)).tolist()
    rows: list[list[Any]] = []
    for day, use in zip(midnights.tolist(), uses, strict=False):
        over = any(start < day + 1 and end > day for start, end in without)
        note = "over a gap, as if used evenly" if over else None
        rows.append(["use", day, day + 1, use, note])
    return rows


def left_out_rows(times: Array, why: Reasons) -> list[list[Any]]:
    """A row for each reading left out, with its place and the reason."""
    moments = [None if np.isnan(time) else time for time in times.tolist()]
    return [
        ["left out", moments[place], moments[place], None, f"row {place + 1}: {why[place]}"]
        for place in sorted(why)
    ]
