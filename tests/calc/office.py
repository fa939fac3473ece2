"""Runs LibreOffice without a window, with the add-in in a profile of its own."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import product
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from gasfuncs.errors import CellError
from gasfuncs.hosts import calc
from gasfuncs.hosts.calc.office import find_office
from gasfuncs.hosts.headless.addresses import parse_cell

needs_office = pytest.mark.skipif(find_office() is None, reason="needs LibreOffice")

Place = tuple[str, str]
"""A sheet and a cell such as "C7"."""

_RECALCULATE = "".join(
    '<item oor:path="/org.openoffice.Office.Calc/Formula/Load">'
    f'<prop oor:name="{kind}RecalcMode" oor:op="fuse"><value>0</value></prop></item>\n'
    for kind in ("OOXML", "ODF")
)
_SETTINGS = f"""\
<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
{_RECALCULATE}</oor:items>
"""


@cache
def folder() -> Path:
    """A folder that goes when the tests end."""
    made = tempfile.TemporaryDirectory(prefix="gasfuncs-calc-")
    _kept.append(made)
    return Path(made.name)


_kept: list[Any] = []


def new_profile(name: str) -> Path:
    """A profile that calculates every file anew when it is loaded."""
    profile = folder() / name
    (profile / "user").mkdir(parents=True)
    (profile / "user/registrymodifications.xcu").write_text(_SETTINGS)
    return profile


@cache
def profile_with_add_in() -> Path:
    """Made once."""
    made = new_profile("profile")
    calc.install(profile=made)
    return made


def run(command: list[str], seconds: float) -> str:
    """Run a program and all it starts, for so long at most; returns what it printed."""
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        start_new_session=True,
    ) as process:  # fmt: skip
        try:
            printed = process.communicate(timeout=seconds)[0]
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            pytest.fail(f"{command[0]} took more than {seconds:g} s")
    assert process.returncode == 0, printed
    return printed


def saved_by_calc(files: list[Path], kind: str, into: str, seconds: float = 300) -> list[Path]:
    """Open files in Calc, which calculates them, and save them as another kind."""
    office = find_office()
    assert office
    target = folder() / into
    run(
        [
            str(office), "--headless", f"-env:UserInstallation={profile_with_add_in().as_uri()}",
            "--convert-to", kind, "--outdir", str(target), *map(str, files),
        ],
        seconds,
    )  # fmt: skip
    return [target / file.with_suffix(f".{kind}").name for file in files]


@cache
def values(file: Path) -> list[list[Any]]:
    """The values of a workbook's first sheet, errors as CellError."""
    book = openpyxl.load_workbook(file, data_only=True)
    sheet = book.worksheets[0]
    return [
        [CellError(cell.value) if cell.data_type == "e" else cell.value for cell in row]
        for row in sheet.iter_rows()
    ]


SCENARIOS = Path(__file__).with_name("scenarios.py")


def played(scenario: str, *arguments: str, profile: Path | None = None, seconds: int = 300) -> Any:
    """What a scenario finds in a running LibreOffice."""
    python, program = python_with_uno(), find_office()
    if python is None:
        pytest.skip("needs python3-uno")
    where = (profile or profile_with_add_in()).as_uri()
    return json.loads(
        run([python, str(SCENARIOS), str(program), where, scenario, *arguments], seconds)
    )


@dataclass(frozen=True)
class Opened:
    """A book to be opened in Calc, what is typed in it, and the copies that it is saved as."""

    path: Path
    lots: Mapping[str, Mapping[Place, Any]] = field(default_factory=dict)
    saved: Mapping[str, Path] = field(default_factory=dict)


Values = dict[str, dict[tuple[int, int], Any]]
"""By sheet, then row and column, errors as CellError (Calc tells no names of them)."""


def shown_in(books: Sequence[Opened], seconds: int = 300) -> list[dict[str, Values]]:
    """What each book shows in one Calc: at first (""), with each lot typed, with all typed back."""
    jobs, found = folder() / "jobs.json", folder() / "found.json"
    jobs.write_text(json.dumps([_job(book) for book in books]))
    played("books", str(jobs), str(found), seconds=seconds)
    return [
        {
            what: {name: _cells(sheet) for name, sheet in values.items()}
            for what, values in of.items()
        }
        for of in json.loads(found.read_text())
    ]


def _job(book: Opened) -> dict[str, Any]:
    lots = {
        what: [[sheet, column - 1, row - 1, value] for (sheet, cell), value in cells.items()
               for row, column in [parse_cell(cell)]]
        for what, cells in book.lots.items()
    }  # fmt: skip
    saved = {name: str(path) for name, path in book.saved.items()}
    return {"path": str(book.path), "lots": lots, "saved": saved}


def _cells(sheet: dict[str, Any]) -> dict[tuple[int, int], Any]:
    cells = {
        (row, column): value
        for row, values in enumerate(sheet["rows"], 1)
        for column, value in enumerate(values, 1)
    }
    for top, bottom, left, right in sheet["errors"]:
        for row, column in product(range(top, bottom + 1), range(left, right + 1)):
            cells[row + 1, column + 1] = CellError("#VALUE!")
    return cells


def python_with_uno() -> str | None:
    """A Python that drives LibreOffice, from the system's package python3-uno."""
    for python in ("/usr/bin/python3", shutil.which("python3") or "python3"):
        with contextlib.suppress(OSError):
            tried = subprocess.run([python, "-c", "import uno"], capture_output=True, check=False)
            if tried.returncode == 0:
                return python
    return None
