"""How long an answer may take."""

from __future__ import annotations

import math

import pytest

from gasfuncs.calculations import effort
from gasfuncs.errors import TooLongError


def test_each_further_row_adds_to_the_time_of_one(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [100.0]
    monkeypatch.setattr(effort, "thread_time", lambda: now[0])
    monkeypatch.setattr(effort, "monotonic", lambda: now[0])
    for given, rows in (((), 1), ((21,), 21)):
        now[0] = 100.0
        one = effort.Effort(*given)
        now[0] = 100.0 + effort.MOST_SECONDS + effort.A_ROW * (rows - 1)
        one.check()
        now[0] += 1e-6
        with pytest.raises(TooLongError, match=r"no answer within \d+ s of work"):
            one.check()


def test_a_busy_machine_refuses_no_more_than_an_idle_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Time that others had the processor does not count."""
    one = effort.Effort()
    monkeypatch.setattr(effort, "monotonic", lambda: math.inf)
    one.check()
    monkeypatch.setattr(effort, "thread_time", lambda: math.inf)
    with pytest.raises(TooLongError):
        one.check()
