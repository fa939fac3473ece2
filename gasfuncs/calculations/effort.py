"""A limit to the work of one answer: what takes far longer than practice does is refused."""

from __future__ import annotations

from time import thread_time

from gasfuncs.errors import TooLongError

MOST_SECONDS = 8.0
"""Of the processor, so that a busy machine refuses no more than an idle one. A backfill takes some
hundredths of a second, the search of a bore some tenths."""


class Effort:
    """What one answer has taken so far."""

    def __init__(self) -> None:
        self.until = thread_time() + MOST_SECONDS

    def check(self) -> None:
        """Go on, or TooLongError where it has taken too long."""
        if thread_time() > self.until:
            raise TooLongError(
                f"no answer within {MOST_SECONDS:g} s of work; these inputs are far from "
                "practice: check volumes, pressures, bore and flows"
            )
