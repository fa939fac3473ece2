"""Searches of columns: each row ends by itself."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from gasfuncs.calculations import searching


def test_a_row_that_is_found_waits_for_the_others() -> None:
    wanted = np.array([0.0, 4.0, 2.0, 1e6])
    start = np.array([0.0, 2.0, 1.0, 1.0])
    further = np.array([0.0, 0.0, 0.1, 1.0])
    found = searching.secant(lambda x: x * x - wanted, start, start + further)
    assert found == pytest.approx(np.sqrt(wanted), rel=1e-12)


def test_a_row_that_came_to_rest_is_left_alone() -> None:
    """Two rows count up to 2 and to 5; asked again the first would move on."""

    def step(count: Any) -> tuple[tuple[Any], Any]:
        return (count + 1,), count + 1 != np.array([2.0, 5.0])

    state, rested = searching.settled(step, (np.zeros(2),), 9)
    assert (state[0].tolist(), rested) == ([2.0, 5.0], True)
    state, rested = searching.settled(step, (np.zeros(2),), 4)
    assert (state[0].tolist(), rested) == ([2.0, 4.0], False)
    assert searching.rounds(step, (np.zeros(2),), 5)[0].tolist() == [2.0, 5.0]
