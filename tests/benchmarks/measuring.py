"""Two things timed side by side, and a table of their ratios.

The machine may be busy with other work. Both sides are therefore run in turns, and what is judged
is the median of the ratios of neighbouring turns, not a time.
"""

from __future__ import annotations

import os
import subprocess
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from statistics import median
from typing import Any

Timed = Callable[[], float]
"""Does the work once and tells the seconds of what is compared."""


@dataclass(frozen=True)
class Result:
    """One line of the table; `goal` is of the ratio ours/theirs, or of theirs/ours if `faster`."""

    what: str
    against: str
    ours: float
    theirs: float
    ratio: float
    goal: float | None
    faster: bool = False
    note: str = ""

    @property
    def met(self) -> bool:
        """Whether the goal is met; True where there is none."""
        if self.goal is None:
            return True
        return self.ratio >= self.goal if self.faster else self.ratio <= self.goal

    def cells(self) -> list[str]:
        """The line as it is printed."""
        ratio = f"{self.ratio:.3g} times" + (" faster" if self.faster else "")
        limit = "at least" if self.faster else "at most"
        goal = f"{limit} {self.goal:g}" if self.goal is not None else "none"
        judged = "" if self.goal is None else "met" if self.met else "**missed**"
        parts = seconds(self.ours), seconds(self.theirs)
        return [self.what, self.against, *parts, ratio, goal, judged, self.note]


HEADINGS = ["what", "against", "ours", "theirs", "ratio", "goal", "", "note"]


def markdown(headings: list[str], lines: Iterable[list[str]]) -> str:
    """A table for a terminal and for the documentation alike."""
    rows = [headings, ["---"] * len(headings), *lines]
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


def seconds(value: float) -> str:
    """A time with its unit."""
    for unit, size in (("s", 1.0), ("ms", 1e-3), ("µs", 1e-6)):
        if value >= size:
            return f"{value / size:.3g} {unit}"
    return f"{value / 1e-9:.3g} ns"


def timed(work: Callable[[], Any], times: int = 1, per: float = 1.0) -> Timed:
    """The seconds of so many runs of some work, divided by `per` and their number."""

    def once() -> float:
        start = time.perf_counter()
        for _ in range(times):
            work()
        return (time.perf_counter() - start) / times / per

    return once


def compared(
    what: str,
    ours: Timed,
    against: str,
    theirs: Timed,
    *,
    goal: float | None,
    rounds: int,
    faster: bool = False,
    note: str = "",
    warm: bool = True,
) -> Result:
    """Run both sides in turns, after a first run of each that does not count."""
    if warm:
        ours()
        theirs()
    pairs = [(ours(), theirs()) for _ in range(rounds)]
    ratios = [their / our if faster else our / their for our, their in pairs]
    our, their = (median(side) for side in zip(*pairs, strict=True))
    return Result(what, against, our, their, median(ratios), goal, faster, note)


@dataclass(frozen=True)
class Run:
    """What a program took: seconds and the most memory that a process of it held, in MB."""

    seconds: float
    megabytes: float


def run(command: list[str], **more_environment: str) -> Run:
    """Run a program to its end; RuntimeError where it fails."""
    start = time.perf_counter()
    with subprocess.Popen(
        command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
        env=os.environ | more_environment,
    ) as process:  # fmt: skip
        assert process.stderr
        told = process.stderr.read()
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"{' '.join(command)}: {told}")
    return Run(time.perf_counter() - start, used.ru_maxrss / 1024)
