"""A limit to the work of one answer: what takes far longer than practice does is refused."""

from __future__ import annotations

from time import monotonic, thread_time

from gasfuncs.errors import TooLongError

MOST_SECONDS = 8.0
"""Of the processor, so that a busy machine refuses no more than an idle one. A backfill takes some
hundredths of a second, the search of a bore some tenths."""


A_ROW = 0.05
"""Seconds that each further row of a column adds."""


class Effort:
    """What one answer, or a column of them, has taken so far."""

    def __init__(self, rows: int = 1) -> None:
        seconds = MOST_SECONDS + A_ROW * (rows - 1)
        self._not_before = monotonic() + seconds
        self.until = thread_time() + seconds

    def check(self) -> None:
        """Go on, or TooLongError where it has taken too long.

        The clock, which is quick to ask, passes no later than the processor's time.
        """
        if monotonic() > self._not_before and thread_time() > self.until:
            raise TooLongError(
                f"no answer within {MOST_SECONDS:g} s of work; these inputs are far from "
                "practice: check volumes, pressures, bore and flows"
            )
