"""What the hostile tests tried, counted, for the table at the end of their run."""

from __future__ import annotations

from collections import Counter

COUNTS: Counter[tuple[str, str]] = Counter()


def tried(kind: str, what: str, count: int = 1) -> None:
    """Count something that was tried and went well: a class of the tests, and what it was."""
    COUNTS[kind, what] += count


def table() -> list[str]:
    """A line for each thing counted, by class."""
    if not COUNTS:
        return []
    width = max(len(what) for _, what in COUNTS)
    lines = []
    kind_before = ""
    for (kind, what), count in sorted(COUNTS.items(), key=lambda item: item[0][0]):
        if kind != kind_before:
            lines.append(kind)
        kind_before = kind
        lines.append(f"  {what:<{width}}  {count:>9,}")
    return lines
