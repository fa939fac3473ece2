"""What a fill was like: its moments, and any time between its steps."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from gasfuncs.calculations import integration
from gasfuncs.calculations.filling import Column, Filling, Motion


class End(NamedTuple):
    """A moment: s, Pa, K and mol of vessel and reservoir, mol/s, whether choked, W/K to the
    vessel's wall."""

    time: Column
    vessel_pressure: Column
    vessel_temperature: Column
    held: Column
    reservoir_pressure: Column
    reservoir_temperature: Column
    stored: Column
    flow: Column
    choked: NDArray[np.bool_]
    conductance: Column


def moment(filling: Filling, time: Column, state: Column) -> End:
    """What stands at times (rows x points) in states (rows x points x 3)."""
    motion = Motion(filling)
    some = motion.of(np.arange(len(filling.pressure_to)))
    now = motion.at(some, time, state)
    return End(
        time, state[..., 1], now.vessel.temperature, now.held,
        state[..., 2], now.reservoir.temperature, now.stored, now.flow,
        motion.choked(some, now, state), motion.conductance(some, now),
    )  # fmt: skip


class Recorded:
    """The steps of one fill, to be asked for any time in it."""

    def __init__(self) -> None:
        self.times: list[float] = [0.0]
        self._steps: list[tuple[float, Column, Column]] = []

    def __call__(self, course: integration.Course, tried: integration.Tried) -> None:
        """Keep a step, as `run` shows it."""
        if len(course.rows):
            self._steps.append((course.step[0], course.state[0], tried.increments[0]))
            self.times.append(course.time[0] + course.step[0])

    def at(self, times: Column) -> Column:
        """States at some times, on the polynomials of the steps."""
        points = np.concatenate([[0.0], integration.radau().points])
        places = np.clip(np.searchsorted(self.times, times) - 1, 0, len(self._steps) - 1)
        states = []
        for time, place in zip(times.tolist(), places.tolist(), strict=True):
            step, state, increments = self._steps[place]
            course = np.vstack([np.zeros(3), increments])
            share = (time - self.times[place]) / step
            weights = np.linalg.solve(np.vander(points).T, np.vander([share], len(points))[0])
            states.append(state + weights @ course)
        return np.array(states)
