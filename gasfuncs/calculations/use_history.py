"""The use of every day of a history, and days that are not as their weekday is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy
from numpy.typing import NDArray

from gasfuncs.calculations.calendar import day_text
from gasfuncs.definition import refuse
from gasfuncs.errors import ShapeError, UnreadableError

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

FEWEST_DAYS = 14
"""Each weekday twice, so that a forecast's error can be measured."""

MOST_DAYS = 728
"""Of a history that are used, the last ones: two years."""

ENOUGH = 3
"""Special days: from so many on their spread is known."""


def daily_history(dates: Array, uses: Array) -> tuple[float, Array]:
    """The first day and the use of every day from then on; refuses gaps and days twice."""
    if len(uses) != len(dates):
        raise ShapeError(f"holds {len(uses)} uses for {len(dates)} dates", "uses")
    filled = ~(np.isnan(dates) & np.isnan(uses))
    places = np.flatnonzero(filled)
    for argument, values in (("dates", dates), ("uses", uses)):
        blank = places[np.isnan(values[filled])]
        if len(blank):
            raise UnreadableError(f"is blank (item {blank[0] + 1} of the range)", argument)
    places = places[np.argsort(dates[filled], kind="stable")]
    day = np.floor(dates[places])
    for at in np.flatnonzero(np.diff(day) != 1).tolist():
        here, items = day_text(day[at]), f"items {places[at] + 1} and {places[at + 1] + 1}"
        refuse(day[at] == day[at + 1], "dates", f"{here} stands twice ({items} of the range)")
        refuse(True, "dates", f"the day after {here} is missing; give its use, 0 for none")
    refuse(
        len(day) < FEWEST_DAYS,
        "dates",
        f"hold {len(day)} days; {FEWEST_DAYS} are needed, so that the error can be measured",
    )
    kept = places[-MOST_DAYS:]
    return float(np.floor(dates[kept[0]])), uses[kept]


def filled_in(uses: Array, special: Flags) -> Array:
    """Uses with the special days as their weekday is on other days, of all weeks if need be."""
    days = np.arange(len(uses))
    out = uses.copy()
    for day in np.flatnonzero(special).tolist():
        alike = ~special & (days % 7 == day % 7)
        out[day] = uses[alike].mean() if alike.any() else uses[~special].mean()
    return out


@dataclass(frozen=True)
class SpecialDay:
    """What a special day to come uses, and how that is known."""

    mean: float
    low: float
    high: float
    how: str


def special_day(uses: Array, special: Flags, ordinary: float, level: float) -> SpecialDay:
    """By the special days that were; `ordinary` is what the day would use otherwise."""
    known = uses[special]
    if len(known) >= ENOUGH:
        deviates = scipy.special.stdtrit(len(known) - 1, (1 + level) / 2)
        reach = float(deviates * known.std(ddof=1) * np.sqrt(1 + 1 / len(known)))
        mean = float(known.mean())
        return SpecialDay(mean, mean - reach, mean + reach, f"mean of {len(known)} special days")
    if len(known):
        mean = float(known.mean())
        how = f"mean of {len(known)} special days; from nothing to an ordinary day"
        return SpecialDay(mean, 0.0, max(ordinary, mean), how)
    days = np.arange(len(uses))
    quietest = min(float(uses[days % 7 == each].mean()) for each in range(7))
    how = "special day unknown so far: as the quietest weekday; from nothing to an ordinary day"
    return SpecialDay(quietest, 0.0, max(ordinary, quietest), how)
