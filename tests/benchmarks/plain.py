"""The same answers written plainly with NumPy and SciPy, as a yardstick."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import scipy.integrate
import scipy.special
from numpy.typing import NDArray

from gasfuncs.calculations.filling import Filling, Motion

Column = NDArray[np.float64]

TOLERANCE = 1e-6
"""With which SciPy comes as near to the time as the library does."""


def backfill_time(filling: Filling, method: str) -> float:
    """One solve_ivp of the right-hand side of a single fill, everything else SciPy's choice."""
    motion, rows = Motion(filling), np.array([0])

    def rates(time: float, state: Any) -> Any:
        return motion.rates(rows, np.array([[time]]), np.asarray(state)[None, None])[0, 0]

    def filled(_: float, state: Sequence[float]) -> float:
        return state[1] - float(filling.pressure_to[0])

    filled.terminal = True  # type: ignore[attr-defined]
    scale = np.array([filling.wanted[0], filling.pressure_to[0], filling.reservoir.pressure[0]])
    solution = scipy.integrate.solve_ivp(
        rates, (0.0, 1e6), filling.start[0], method, events=filled, rtol=TOLERANCE,
        atol=TOLERANCE * scale,
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
