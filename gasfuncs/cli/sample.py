"""Writes the demo: the plant's month as a workbook, or its book and files before the month."""

from __future__ import annotations

import tempfile
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

import click

from gasfuncs.cli.progress import progress_bar
from gasfuncs.files import swapped_in

if TYPE_CHECKING:
    from gasfuncs.workbooks.sheets.parts import Given

NAME = "monthly_gas_usage"
ROWS, ROWS_TO_FILL = 500, 700
"""Rows of the log: enough for the half year, and quick; with a row a load in the last month."""


def write_demo(folder: Path, units: str, *, force: bool) -> Path:
    """The demo plant's month as a workbook."""
    from gasfuncs.workbooks.sheets.monthly_demo import demo

    return _write_book(folder, units, demo(), ROWS, force=force)


def write_sample(folder: Path, units: str, *, force: bool) -> list[Path]:
    """The plant's book as it was before its last month, and the files of that month."""
    from gasfuncs.workbooks.sheets.plant_files import before_the_month, files

    written = [_write_book(folder, units, before_the_month(), ROWS_TO_FILL, force=force)]
    for name, text in files().items():
        path = folder / name
        new = text.encode()
        if path.exists() and not force and path.read_bytes() != new:
            raise _is_there(path)
        with swapped_in(path) as aside:
            aside.write_bytes(new)
        written.append(path)
    return written


def _write_book(folder: Path, units: str, given: Given, rows: int, *, force: bool) -> Path:
    from gasfuncs.workbooks.sheets.building import BOOKS, as_typed, build

    given = as_typed(BOOKS[NAME], given, units)
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{NAME}.xlsx"
    with tempfile.TemporaryDirectory() as aside:
        made = Path(aside, path.name)
        with progress_bar() as progress:
            build(BOOKS[NAME], made, units, given, rows=rows, progress=progress)
        if path.exists() and not force and not _same_contents(path, made):
            raise _is_there(path)
        with swapped_in(path) as new:
            new.write_bytes(made.read_bytes())
    return path


def _is_there(path: Path) -> click.ClickException:
    return click.ClickException(
        f"{path} is there already and is not what would be written; it is left as it is. "
        "Give another FOLDER, or --force"
    )


def _same_contents(one: Path, other: Path) -> bool:
    """Whether two workbooks are the same but for the time of writing."""
    with zipfile.ZipFile(other) as new:
        try:
            with zipfile.ZipFile(one) as old:
                names = [n for n in new.namelist() if n != "docProps/core.xml"]
                return old.namelist() == new.namelist() and all(
                    old.read(name) == new.read(name) for name in names
                )
        except zipfile.BadZipFile:
            return False
