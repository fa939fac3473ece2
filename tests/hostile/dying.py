"""Does one job again and again and dies, or runs out of room, at another moment each time.

`python -m tests.hostile.dying JOB FOLDER` prints what was found after each kind of fault, as JSON.
The faults are injected into a fork of a process that has everything loaded, one fork a fault.
"""

from __future__ import annotations

import datetime as dt
import gc
import json
import os
import random
import resource
import signal
import sys
import traceback
import zipfile
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any
from unittest import mock

import xlsxwriter

from gasfuncs.errors import GasFuncsError
from gasfuncs.hosts.calc import build as build_extension
from gasfuncs.hosts.headless import recalculate
from gasfuncs.properties import gas, tables
from gasfuncs.workbooks.sheets import building
from gasfuncs.workbooks.sheets.parts import Given
from tests.headless.fakes import build, functions
from tests.thorough import tries

MOST = tries(10, 30)
"""Moments of a job at which it dies, evenly spread; and as many of its last ones."""

FULL_DISK = 27, 28
"""EFBIG and ENOSPC."""


def _tiny() -> bytes:
    made = BytesIO()
    with xlsxwriter.Workbook(made, {"in_memory": True}) as book:
        book.set_properties({"created": dt.datetime(2026, 1, 1)})
        sheet = book.add_worksheet("Main")
        for number in range(1, 40):
            sheet.write(f"A{number}", number)
            sheet.write(f"B{number}", f"=GAS_GAUGE(A{number})")
    return made.getvalue()


def recalculated(folder: Path) -> None:
    recalculate(folder / "target", functions=functions())


def recalculated_elsewhere(folder: Path) -> None:
    recalculate(folder / "source.xlsx", folder / "target", functions=functions())


def workbook(folder: Path) -> None:
    """Of a book of few cells, to be quick."""
    with mock.patch.object(building, "write", return_value=_tiny()):
        building.build(next(iter(building.BOOKS.values())), folder / "target", given=Given())


def extension(folder: Path) -> None:
    build_extension(folder / "target", python="python")


def table(folder: Path) -> None:
    tables.KEEPING.keep(TABLE, folder / "target")


def imported(folder: Path) -> None:
    from gasfuncs.importing.job import run

    file = folder / "tickets.csv"
    run(file, folder / "target", found_out(file))


@cache
def found_out(file: Path) -> Any:
    """How to read a file; once, as nothing is written for it."""
    from gasfuncs.importing.guessing import guess_mapping
    from gasfuncs.importing.tables import Layout, read_sample

    return guess_mapping("tickets", read_sample(file, Layout())).mapping


def plant_with_tickets(folder: Path) -> bytes:
    """A plant's book, and beside it a file of tickets that go into it."""
    from tests.importing.plant_month import TANK, book_of_the_plant

    tickets = [f"2026-11-{day:02d},T{day},Supplier A,{TANK},{900 + day}" for day in range(1, 15)]
    headings = "Delivered,Ticket,Supplier,Tank,Net (kg)"
    (folder / "tickets.csv").write_text("\n".join([headings, *tickets]), encoding="utf-8")
    return book_of_the_plant(folder / "plant.xlsx").read_bytes()


TABLE: Any = None
JOBS: dict[str, Callable[[Path], None]] = {
    job.__name__: job
    for job in (recalculated, recalculated_elsewhere, workbook, extension, table, imported)
}


def a_book(path: Path) -> bytes:
    """A workbook with formulas and a picture larger than all the rest."""
    numbers = {f"A{n}": n for n in range(1, 100)}
    build(path, numbers | {f"B{n}": f"=GAS_TWICE(A{n})" for n in range(1, 100)})
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("xl/media/picture.png", random.Random(1).randbytes(100_000))
    return path.read_bytes()


def content(path: Path) -> Any:
    """The parts of a file that is an archive, which hold no dates; else its bytes, or None."""
    if not path.exists():
        return None
    if not zipfile.is_zipfile(path):
        return path.read_bytes()
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def is_of_the_system(function: Any) -> bool:
    of = type(getattr(function, "__self__", None)).__module__
    return function.__module__ in ("posix", "fcntl") or of in ("_io", "zlib")


def at_event(number: int) -> Callable[[], None]:
    """Die before or after the so-many-th call that reaches the system."""

    def inject() -> None:
        left = number

        def count(_frame: Any, event: str, function: Any) -> None:
            nonlocal left
            if event in ("c_call", "c_return") and is_of_the_system(function):
                left -= 1
                if left == 0:
                    os.kill(os.getpid(), signal.SIGKILL)

        sys.setprofile(count)

    return inject


def at_size(size: int, how: Any) -> Callable[[], None]:
    """Die, or be refused more room, when a file grows beyond a size."""

    def inject() -> None:
        signal.signal(signal.SIGXFSZ, how)
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))

    return inject


def forked(job: str, folder: Path, inject: Callable[[], None]) -> int:
    """0 where it was done, 1 where it was refused in a sentence, else what it died of."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    code = 2
    try:
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        inject()
        JOBS[job](folder)
        code = 0
    except GasFuncsError:
        code = 1
    except OSError as error:
        code = 1 if error.errno in FULL_DISK else 2
    except BaseException:
        traceback.print_exc()
    finally:
        sys.setprofile(None)
        os._exit(code)


def faults(size: int, events: int) -> Iterator[tuple[str, Callable[[], None]]]:
    """Each fault with its kind."""
    early = range(1, events - MOST, max(1, events // MOST))
    for number in (*early, *range(max(1, events - MOST), events + 1)):
        yield "killed at a call to the system", at_event(number)
    for at in range(0, size, size // MOST):
        yield "killed in a write", at_size(at, signal.SIG_DFL)
        yield "no room on the disk", at_size(at, signal.SIG_IGN)


def count_events(job: str, folder: Path) -> int:
    events = 0

    def count(_frame: Any, event: str, function: Any) -> None:
        nonlocal events
        events += event in ("c_call", "c_return") and is_of_the_system(function)

    sys.setprofile(count)
    try:
        JOBS[job](folder)
    finally:
        sys.setprofile(None)
    return events


def main(job: str, folder: Path) -> None:
    global TABLE  # noqa: PLW0603 - the forks share what is slow to make
    TABLE = tables.made(gas("helium")) if job == "table" else None
    folder.mkdir()
    source, target = folder / "source.xlsx", folder / "target"
    book = a_book(source)
    olds = {"recalculated": book, "recalculated_elsewhere": None, "table": None}
    before = plant_with_tickets(folder) if job == "imported" else olds.get(job, b"old")

    def restore() -> None:
        target.unlink(missing_ok=True)
        if before is not None:
            target.write_bytes(before)

    restore()
    old = content(target)
    JOBS[job](folder)  # whatever is imported at first use
    restore()
    events = count_events(job, folder)
    new, size = content(target), target.stat().st_size
    counts: defaultdict[str, Counter[str]] = defaultdict(Counter)
    gc.freeze()  # a fork looks nothing of it through
    for kind, inject in faults(size, events):
        found = counts[kind]
        restore()
        files = set(os.listdir(folder)) | {"target"}
        code = forked(job, folder, inject)
        now = content(target)
        found["old" if now == old else "new" if now == new else "half"] += 1
        found[{0: "done", 1: "refused", 2: "failed"}.get(code, "died")] += 1
        if code >= 0:
            found["left behind"] += len(set(os.listdir(folder)) - files)
    restore()
    JOBS[job](folder)
    assert content(target) == new, "what was left behind is in the way"
    sys.stdout.write(json.dumps(counts))


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
