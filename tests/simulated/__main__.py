"""Prints how far verdicts can be trusted: `python -m tests.simulated [tests of each class]`."""

# ruff: noqa: T201

from __future__ import annotations

import sys

from tests.simulated.counting import Counts, all_counts

HEADINGS = (
    "tests", "tight and leaking", "band holds the truth", "tight, called leaking",
    "three times the detectable, found", "signed against a limit, wrongly", "repeat",
)  # fmt: skip


def row(counts: Counts) -> str:
    """A line of the table in Markdown."""
    finds = "none told apart" if counts.finds is None else f"{counts.found} of {counts.detectable}"
    cells = (
        counts.what, f"{counts.tight} and {counts.leaking}", f"{100 * counts.held:.1f} %",
        f"{counts.claimed} of {counts.tight}", finds,
        f"{counts.signed}, {counts.wrongly}" if counts.signed else "", str(counts.repeats),
    )  # fmt: skip
    return f"| {' | '.join(cells)} |"


if __name__ == "__main__":
    print(f"| {' | '.join(HEADINGS)} |")
    print("|---" * len(HEADINGS) + "|")
    for counted in all_counts(int(sys.argv[1]) if len(sys.argv) > 1 else 300):
        print(row(counted), flush=True)
