"""The same answers written plainly with NumPy and SciPy, as a yardstick."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import scipy.integrate
import scipy.special
from numpy.typing import NDArray

from gasfuncs.calculations.filling import TOLERANCE, Filling

Column = NDArray[np.float64]


def backfill_time(filling: Filling) -> float:
    """One solve_ivp of the right-hand side at the tolerance, everything else SciPy's choice."""

    def filled(_: float, state: Sequence[float]) -> float:
        return state[0] - filling.needed

    filled.terminal = True  # type: ignore[attr-defined]
    solution = scipy.integrate.solve_ivp(
        filling.rates, (0.0, 1e6), filling.start, filling.method, events=filled,
        rtol=TOLERANCE, atol=TOLERANCE * filling.needed,
    )  # fmt: skip
    return float(solution.t_events[0][0])


def tank_plan(
    uses: Column, opening: float, reorder: float, lead: int, truck: float, most: float,
    boil_off: float,
) -> Column:  # fmt: skip
    """Opening, delivery, closing, order and shortage of every day."""
    days = len(uses)
    delivery, plan = np.zeros(days + lead), np.zeros((days, 5))
    drain = np.concatenate([uses, np.zeros(lead)]) + boil_off
    stock = opening
    for day in range(days):
        position = stock + delivery[day : day + lead].sum()
        order = 0.0
        if min(position, position - drain[day]) <= reorder:
            then = stock
            for between in range(day, day + lead):
                then = max(then + delivery[between] - drain[between], 0.0)
            order = max(0.0, min(truck, most - then))
            delivery[day + lead] += order
        closing = stock + delivery[day] - drain[day]
        plan[day] = stock, delivery[day], max(closing, 0.0), order, max(-closing, 0.0)
        stock = max(closing, 0.0)
    return plan


def runout_risk(
    contents: Column, use: Any, spread: Any, days: Any, days_spread: Any, reserve: Any
) -> Any:
    """Chance of reaching the reserve: use and time to the delivery both normal."""
    deviation = np.sqrt(days * spread**2 + (use * days_spread) ** 2)
    return scipy.special.ndtr((use * days + reserve - contents) / deviation)
