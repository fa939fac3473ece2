"""Holds the engine against LibreOffice and prints the counts: `python -m tests.engine`.

`--books N` random books, `--seed`; `--corpus FOLDER` for other people's books, whose stored values
are what they must come to.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from gasfuncs.hosts.headless import WorkbookError
from tests.calc import office
from tests.engine import random_books, test_sweep
from tests.engine.comparing import computed, is_refused, same, stored

BATCH = 100


def sweep() -> Counter[str]:
    return test_sweep.counts()


def books(count: int, seed: int) -> tuple[Counter[str], list[str]]:
    counts: Counter[str] = Counter()
    wrong: list[str] = []
    for first in range(0, count, BATCH):
        folder = office.folder() / f"random{first}"
        folder.mkdir()
        paths = [folder / f"{seed + n}.xlsx" for n in range(first, min(first + BATCH, count))]
        for path in paths:
            random_books.written(path, int(path.stem))
        saved = office.saved_by_calc(paths, "xlsx", f"computed{first}")
        more, differing = random_books.compared(paths, saved)
        counts += more
        wrong += differing
    return counts, wrong


def corpus(folder: Path) -> tuple[Counter[str], list[str]]:
    counts: Counter[str] = Counter()
    wrong: list[str] = []
    for path in sorted([*folder.rglob("*.xlsx"), *folder.rglob("*.xlsm")]):
        try:
            ours, theirs = computed(path), stored(path)
        except WorkbookError:
            counts["files refused"] += 1
            continue
        counts["files"] += 1
        for kind, where in _cells(ours, theirs):
            counts[kind] += 1
            if kind == "differ":
                wrong.append(f"{path.name} {where}")
    return counts, wrong


def _cells(ours: dict, theirs: dict) -> Iterator[tuple[str, str]]:  # type: ignore[type-arg]
    for sheet, cells in ours.items():
        for place, value in cells.items():
            other = theirs[sheet].get(place)
            if is_refused(value):
                yield "refused", ""
            elif same(value, other):
                yield "same", ""
            else:
                yield "differ", f"{sheet} {place}: {value!r}, stored {other!r}"


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.engine")
    parser.add_argument("--books", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--corpus", type=Path)
    parser.add_argument("--show", type=int, default=10, help="differences to show")
    given = parser.parse_args()
    started = time.monotonic()
    print("edge-case calls", dict(sweep()))
    counts, wrong = books(given.books, given.seed)
    print("random books", dict(counts), *wrong[: given.show], sep="\n  ")
    if given.corpus:
        counts, differing = corpus(given.corpus)
        print("other people's books", dict(counts), *differing[: given.show], sep="\n  ")
        wrong += differing
    print(f"{time.monotonic() - started:.0f} s")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
