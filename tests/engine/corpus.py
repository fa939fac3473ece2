"""Other people's workbooks, held against what they store and against LibreOffice.

The books are fetched for a run and never kept here. A cell agrees where it comes to what the book
stores, or to what LibreOffice makes of it: many books store values that are old, or none.
"""

from __future__ import annotations

import shutil
import signal
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from types import FrameType

import pytest

from gasfuncs.hosts.headless import WorkbookError
from tests.calc import office
from tests.engine.comparing import Values, computed, formulas, is_refused, same, stored
from tests.engine.explained import explained_elsewhere

SECONDS = 60
BATCH = 25


class _TooLongError(BaseException):
    """A book that takes more than SECONDS."""


def compared(folder: Path) -> tuple[Counter[str], list[str]]:
    """How many files and formula cells came out how, and the cells that differ."""
    counts: Counter[str] = Counter()
    wrong: list[str] = []
    asked: dict[Path, tuple[Values, Values]] = {}
    for path in sorted([*folder.rglob("*.xlsx"), *folder.rglob("*.xlsm")]):
        try:
            ours, theirs = _in_time(path), stored(path)
        except WorkbookError:
            counts["files refused"] += 1
            continue
        except (Exception, _TooLongError) as error:
            wrong.append(f"{path}: {error!r}")
            continue
        counts["files"] += 1
        differing = _sorted(ours, theirs, counts)
        if differing:
            asked[path] = differing, theirs
    for path, others in _from_calc(list(asked)):
        wrong += _judged(path, *asked[path], others, counts)
    return counts, wrong


def _in_time(path: Path) -> Values:
    def stop(_: int, __: FrameType | None) -> None:
        raise _TooLongError(f"more than {SECONDS} s")

    signal.signal(signal.SIGALRM, stop)
    signal.alarm(SECONDS)
    try:
        return computed(path)
    finally:
        signal.alarm(0)


def _sorted(ours: Values, theirs: Values, counts: Counter[str]) -> Values:
    """Counts the cells that are refused or as stored; the others."""
    differing: Values = {}
    for sheet, cells in ours.items():
        for place, value in cells.items():
            if is_refused(value):
                counts["refused"] += 1
            elif same(value, theirs[sheet].get(place)):
                counts["as stored"] += 1
            else:
                differing.setdefault(sheet, {})[place] = value
    return differing


def _judged(
    path: Path, differing: Values, theirs: Values, calc: Values, counts: Counter[str]
) -> Iterator[str]:
    """The cells that come to neither, without a name for the reason."""
    texts, again = formulas(path), [computed(path) for _ in range(3)]
    for sheet, cells in differing.items():
        for place, value in cells.items():
            found, other = theirs[sheet].get(place), calc.get(sheet, {}).get(place)
            why = explained_elsewhere(texts[sheet][place], value, found)
            if same(value, other):
                counts["as LibreOffice, stored otherwise"] += 1
            elif not all(same(value, each[sheet][place]) for each in again):
                counts["chance, or the time"] += 1
            elif why:
                counts[why] += 1
            else:
                counts["differ"] += 1
                yield (
                    f"{path} {sheet} {place} ={texts[sheet][place]}: {value!r}, stored {found!r}, "
                    f"LibreOffice {other!r}"
                )


def _from_calc(paths: Sequence[Path]) -> Iterator[tuple[Path, Values]]:
    """What LibreOffice makes of each book; nothing of those that it cannot read in time."""
    for first in range(0, len(paths), BATCH):
        batch = paths[first : first + BATCH]
        folder = office.folder() / f"corpus{first}"
        folder.mkdir()
        copies = [folder / f"{n}{path.suffix}" for n, path in enumerate(batch)]
        for path, copy in zip(batch, copies, strict=True):
            shutil.copyfile(path, copy)
        saved = _saved(copies, f"corpus-saved{first}")
        for path, other in zip(batch, saved, strict=True):
            try:
                yield path, stored(other)
            except (WorkbookError, OSError):
                yield path, {}


def _saved(copies: list[Path], into: str) -> list[Path]:
    try:
        return office.saved_by_calc(copies, "xlsx", into, 300)
    except (AssertionError, pytest.fail.Exception):
        if len(copies) == 1:
            return [copies[0].with_name("nothing")]
        return [saved for copy in copies for saved in _saved([copy], into)]
