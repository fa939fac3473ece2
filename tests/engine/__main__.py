"""Holds the engine against LibreOffice and prints the counts: `python -m tests.engine`.

`--books N` random books, `--seed`; `--corpus FOLDER` for other people's books, whose stored values
are what they must come to.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from datetime import date
from pathlib import Path

from gasfuncs.hosts.calc.office import find_office
from tests.calc import office
from tests.engine import corpus, random_books, test_sweep
from tests.engine.explained import LOGICAL, OWN

BATCH = 100


def sweep() -> tuple[Counter[str], list[str]]:
    named = {"same", "refused", LOGICAL, *OWN}
    counts, wrong = Counter[str](), []
    for sheet, formula, what in test_sweep.outcomes():
        counts[what if what in named else "differ"] += 1
        if what not in named:
            wrong.append(f"{sheet} ={formula}: {what}")
    return counts, wrong


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


def told(title: str, counts: Counter[str], wrong: list[str], show: int) -> bool:
    """Prints the counts and the first of the differences; whether there are any."""
    print(title)
    for what, count in counts.most_common():
        print(f"{count:9,}  {what}")
    for line in wrong[:show]:
        print(f"    {line}")
    return bool(wrong)


def _office_version() -> str:
    return office.run([str(find_office()), "--version"], 60).split()[1]


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.engine")
    parser.add_argument("--books", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--corpus", type=Path)
    parser.add_argument("--show", type=int, default=10, help="differences to show")
    given = parser.parse_args()
    started = time.monotonic()
    print(date.today(), f"LibreOffice {_office_version()}")
    wrong = told("edge-case calls", *sweep(), given.show)
    wrong |= told("random books", *books(given.books, given.seed), given.show)
    if given.corpus:
        wrong |= told("other people's books", *corpus.compared(given.corpus), given.show)
    print(f"{time.monotonic() - started:.0f} s")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
