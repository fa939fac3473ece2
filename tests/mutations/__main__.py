"""Puts small bugs into the code, one at a time, and lists those that no check notices.

    python -m tests.mutations [--share 0.1] [--seed 2] [--checks-only] [units calculations.leak ...]

Takes packages and modules below gasfuncs; without any, units, properties and calculations. Prints
each bug that survives with its line, and a row a module: how many were tried, noticed, known to
change nothing (tests/mutations/equivalent.py) and left. One module takes minutes, all take hours;
it is no part of the tests. `--share` tries a part of them, drawn by the seed.

Small and own, as two tools from PyPI do not fit: mutmut 3 leaves decorated functions alone, and
every worksheet function is decorated; cosmic-ray starts Python, NumPy and SciPy anew for each of
six thousand bugs.
"""

# ruff: noqa: T201

from __future__ import annotations

import argparse
import random
import sys
from collections import Counter
from pathlib import Path

from tests.mutations.equivalent import EQUIVALENT
from tests.mutations.judging import NOTHING, ROOT, Judge
from tests.mutations.mutants import Mutant, mutants

PACKAGES = ("units", "properties", "calculations")


def files(names: list[str]) -> list[Path]:
    """The modules of packages and modules named as "calculations.leak"."""
    found: list[Path] = []
    for name in names or PACKAGES:
        path = ROOT / "gasfuncs" / name.replace(".", "/")
        found += sorted(path.glob("*.py")) if path.is_dir() else [path.with_suffix(".py")]
    return found


def drawn(path: Path, share: float, seed: int) -> list[Mutant]:
    """A share of a module's bugs, always the same ones of a seed."""
    every = mutants(path)
    draw = random.Random(f"{seed} {path.name}")
    return every if share >= 1 else [each for each in every if draw.random() < share]


def tried(judge: Judge, path: Path, some: list[Mutant]) -> Counter[str]:
    """What became of some bugs of a module; prints those that survive."""
    counts: Counter[str] = Counter()
    for mutant in some:
        counts["tried"] += 1
        if mutant.key in EQUIVALENT:
            counts["equivalent"] += 1
        elif judge.verdict(mutant) != NOTHING:
            counts["noticed"] += 1
        else:
            counts["left"] += 1
            print(f"{path.relative_to(ROOT)}:{mutant.line}: {mutant.key}", flush=True)
    print(row(path.stem, counts), flush=True)
    return counts


def row(name: str, counts: Counter[str]) -> str:
    real = counts["tried"] - counts["equivalent"]
    share = f"{100 * counts['noticed'] / real:.1f} %" if real else ""
    cells = (name, *(str(counts[key]) for key in ("tried", "noticed", "equivalent", "left")), share)
    return f"| {' | '.join(cells)} |"


def main() -> int:
    """Try the bugs of the modules named on the command line; 1 where some are left."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutations")
    parser.add_argument("modules", nargs="*")
    parser.add_argument("--share", type=float, default=1.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--checks-only", action="store_true")
    asked = parser.parse_args()
    judge = Judge(tests=not asked.checks_only)
    print("| module | tried | noticed | change nothing | left | noticed of the real |")
    print("|---|---|---|---|---|---|")
    total: Counter[str] = Counter()
    for path in files(asked.modules):
        total += tried(judge, path, drawn(path, asked.share, asked.seed))
    print(row("all", total))
    return 1 if total["left"] else 0


if __name__ == "__main__":
    sys.exit(main())
