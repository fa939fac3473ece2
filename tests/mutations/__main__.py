"""Puts small bugs into the code, one at a time, and lists those that no check notices.

    python -m tests.mutations [--share 0.1] [--seed 2] [--again FILE] [units calculations.leak ...]

Takes packages and modules below gasfuncs; without any, units, properties and calculations. Prints
each bug that survives with its line, and a row a module: how many were tried, noticed, known to
change nothing (tests/mutations/equivalent/) and left. One module takes minutes, all take hours;
it is no part of the tests. `--share` tries a part of them, drawn by the seed; `--again` those alone
that the output of a run before names; `--checks-only` leaves out the module's own tests.

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


def chosen(path: Path, asked: argparse.Namespace) -> list[Mutant]:
    """The bugs of a module that are asked for; of a share, always the same ones of a seed."""
    every = mutants(path)
    if asked.again:
        named = asked.again.read_text(encoding="utf-8").splitlines()
        again = {line.partition(": ")[2] for line in named}
        return [each for each in every if each.key in again]
    draw = random.Random(f"{asked.seed} {path.name}")
    return [each for each in every if asked.share >= 1 or draw.random() < asked.share]


def outdated(paths: list[Path]) -> list[str]:
    """Bugs of the lists of those that change nothing that the modules have no longer."""
    known = {each.key for path in paths for each in mutants(path)}
    stems = {path.stem for path in paths}
    return [key for key in EQUIVALENT if key.partition(".")[0] in stems and key not in known]


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
    parser.add_argument("--again", type=Path)
    parser.add_argument("--checks-only", action="store_true")
    asked = parser.parse_args()
    paths = files(asked.modules)
    for key in outdated(paths):
        print(f"tests/mutations/equivalent/ names what is no more: {key}")
    judge = Judge(tests=not asked.checks_only)
    print("| module | tried | noticed | change nothing | left | noticed of the real |")
    print("|---|---|---|---|---|---|")
    total: Counter[str] = Counter()
    for path in paths:
        if some := chosen(path, asked):
            total += tried(judge, path, some)
    print(row("all", total))
    return 1 if total["left"] else 0


if __name__ == "__main__":
    sys.exit(main())
