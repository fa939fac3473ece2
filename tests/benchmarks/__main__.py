"""What is fast and by how much, as ratios in one run.

    python -m tests.benchmarks [cells columns processes books shipped carried integrations plans
                                bands files]

Prints a table in Markdown; ends with 1 where a goal is missed. Meant for a machine that does
nothing else; on a busy one only the ratios mean something.
"""

# ruff: noqa: T201

from __future__ import annotations

import os
import platform
import sys
import tempfile
from collections.abc import Callable, Iterator
from importlib.metadata import version
from pathlib import Path

from tests.benchmarks import bands, books, carried, columns, files, plans, processes
from tests.benchmarks.measuring import HEADINGS, Result, markdown, run, seconds, timed


def _books() -> Iterator[Result]:
    with tempfile.TemporaryDirectory() as folder:
        yield from books.books(Path(folder))


def _shipped() -> Iterator[Result]:
    with tempfile.TemporaryDirectory() as folder:
        yield from books.shipped(Path(folder))


def _carried() -> Iterator[Result]:
    with tempfile.TemporaryDirectory() as folder:
        yield from carried.carried(Path(folder))


PARTS: dict[str, Callable[[], Iterator[Result]]] = {
    "cells": columns.single_cells,
    "columns": columns.columns,
    "processes": processes.processes,
    "books": _books,
    "shipped": _shipped,
    "carried": _carried,
    "integrations": plans.integrations,
    "plans": plans.plans,
    "bands": bands.bands,
    "files": files.imports,
}


def machine() -> str:
    """The machine and its raw figures."""
    loop = timed(lambda: sum(number * number for number in range(1_000_000)))
    start = min(run([sys.executable, "-c", "pass"]).seconds for _ in range(5))
    parts = ", ".join(f"{name} {version(name)}" for name in ("numpy", "scipy", "CoolProp"))
    return (
        f"{platform.machine()}, {os.cpu_count()} processors, {platform.system()}, "
        f"Python {platform.python_version()}, {parts}; a million squares in a loop "
        f"{seconds(min(loop() for _ in range(5)))}, python -c pass {seconds(start)}"
    )


def main() -> int:
    """Measure the parts named on the command line, or all."""
    print(machine() + "\n")
    print(markdown(HEADINGS, []), flush=True)
    met = True
    for name in sys.argv[1:] or PARTS:
        for result in PARTS[name]():
            print(f"| {' | '.join(result.cells())} |", flush=True)
            met &= result.met and "missed" not in result.note
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
