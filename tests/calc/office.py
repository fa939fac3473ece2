"""Runs LibreOffice without a window, with the add-in in a profile of its own."""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import subprocess
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from gasfuncs.errors import CellError
from gasfuncs.hosts import calc
from gasfuncs.hosts.calc.office import find_office

needs_office = pytest.mark.skipif(find_office() is None, reason="needs LibreOffice")

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
def profile() -> Path:
    """A profile with the add-in."""
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
            str(office), "--headless", f"-env:UserInstallation={profile().as_uri()}",
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


def python_with_uno() -> str | None:
    """A Python that drives LibreOffice, from the system's package python3-uno."""
    for python in ("/usr/bin/python3", shutil.which("python3") or "python3"):
        with contextlib.suppress(OSError):
            tried = subprocess.run([python, "-c", "import uno"], capture_output=True, check=False)
            if tried.returncode == 0:
                return python
    return None
