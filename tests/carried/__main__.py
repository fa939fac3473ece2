"""The whole proof of carried functions: every check in two programs, every book cell by cell.

    python -m tests.carried [counts] [names] [texts] [calc] [books]

Prints what was tried and what agreed; ends with 1 where anything is apart. Takes some minutes.
"""

# ruff: noqa: T201

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

from gasfuncs.hosts.carried.carriable import carried_functions
from gasfuncs.hosts.carried.reasons import PARTLY, REASONS
from gasfuncs.registry import worksheet_functions
from tests.carried.books import compared, same
from tests.carried.engines import ENGINE_ERRORS, by_names, written_out
from tests.carried.proof import agree, apart, beyond, in_cells, library, proving
from tests.carried.texts import texts as texts_of

BOOKS = Path(__file__).parents[2] / "workbook_templates"
RANDOM = 1_500


def counts(_: Path) -> Iterator[str]:
    """How many functions are carried, and why the others are not."""
    print(f"{len(carried_functions())} of {len(worksheet_functions())} functions are carried, "
          f"{len(PARTLY)} of them in part")  # fmt: skip
    for reason, count in Counter(REASONS.values()).most_common():
        print(f"  {count} are not: {reason}")
    yield from ()


def names(folder: Path) -> Iterator[str]:
    """Every check by its name, in IronCalc."""
    yield from _tried("IronCalc", list(proving()), by_names, folder)


def texts(folder: Path) -> Iterator[str]:
    """Random texts with units."""
    formulas = list(dict.fromkeys(texts_of(RANDOM, seed=1)))
    wrong = apart(formulas, by_names(formulas, folder))
    print(f"random texts: {len(formulas)}, {len(wrong)} apart")
    yield from wrong


def calc(folder: Path) -> Iterator[str]:
    """Every check of single values written out, in LibreOffice, which has no MAP."""
    single = list(filter(in_cells, proving()))
    yield from _tried("LibreOffice", single, written_out, folder)


def _tried(
    name: str, formulas: list[str], answers: Callable[[Sequence[str], Path], list[Any]],
    folder: Path,
) -> Iterator[str]:  # fmt: skip
    found = answers(formulas, folder)
    refused = sum(
        beyond(formula, other) and not agree(library(formula), other)
        for formula, other in zip(formulas, found, strict=True)
    )
    wrong = [each for each in apart(formulas, found) if not each.startswith(ENGINE_ERRORS)]
    print(f"{name}: {len(formulas)} formulas, {refused} refused beyond what is carried, "
          f"{len(wrong)} apart")  # fmt: skip
    yield from wrong


def books(folder: Path) -> Iterator[str]:
    """Every cell of every book that calls carried functions alone, in IronCalc."""
    for path in sorted(BOOKS.glob("*.xlsx")):
        rows = list(compared(path, folder))
        wrong = [row for row in rows if not same(row[3], row[4])]
        print(f"{path.name}: {len(rows)} cells, {len(wrong)} apart")
        yield from (f"{path.name} {sheet}!{cell}: {own!r}, carried {other!r}"
                    for sheet, cell, _, own, other in wrong)  # fmt: skip


PARTS = {each.__name__: each for each in (counts, names, texts, calc, books)}


def main() -> int:
    """Run the parts named on the command line, or all."""
    wrong: list[str] = []
    for name in sys.argv[1:] or PARTS:
        with tempfile.TemporaryDirectory() as folder:
            wrong += PARTS[name](Path(folder))
    print(*wrong, sep="\n")
    return int(bool(wrong))


if __name__ == "__main__":
    raise SystemExit(main())
