"""The user's settings of xlwings: a file of lines such as "KEY","value"."""

from __future__ import annotations

import csv
import locale
import os
from collections.abc import Mapping
from pathlib import Path
from typing import TypedDict

from gasfuncs.errors import UnreadableError

MODULES = "UDF MODULES"
"""The modules whose functions xlwings imports, with semicolons between them."""

INTERPRETER = "INTERPRETER_WIN"
"""The Python that they run in."""

BESIDE_THE_WORKBOOK = "ADD_WORKBOOK_TO_PYTHONPATH"
"""Whether Python runs modules that lie beside the workbook, of whoever put them there."""


class _Encoding(TypedDict):
    encoding: str
    errors: str


_CODE_PAGE = _Encoding(encoding=locale.getencoding(), errors="surrogateescape")
"""Visual Basic reads the file in the code page of the computer."""


def settings_file() -> Path:
    """Where xlwings keeps them on Windows."""
    return Path.home() / ".xlwings" / "xlwings.conf"


def read_settings(file: Path) -> dict[str, str]:
    """The settings by key; empty where there is no file."""
    return {row[0]: row[1] for line in _lines(file) if (row := _row(line))}


def change_settings(file: Path, changes: Mapping[str, str]) -> None:
    """Set some settings, or take away those that become ""; the other lines stay as they are."""
    if not changes:
        return
    kept = [line for line in _lines(file) if (_row(line) or [""])[0] not in changes]
    added = [f'"{key}","{value}"\n' for key, value in changes.items() if value]
    file.parent.mkdir(parents=True, exist_ok=True)
    aside = file.with_name(f"{file.name}.{os.getpid()}")
    try:
        aside.write_text("".join([*kept, *added]), **_CODE_PAGE)
        os.replace(aside, file)
    except UnicodeEncodeError as error:
        raise UnreadableError(
            f'{file} cannot hold "{error.object[error.start : error.end]}", which is not in the '
            "code page of this computer: install Python in a folder of plain letters"
        ) from None
    finally:
        aside.unlink(missing_ok=True)


def _lines(file: Path) -> list[str]:
    if not file.is_file():
        return []
    text = file.read_text(**_CODE_PAGE)
    return [f"{line}\n" for line in text.splitlines()]


def _row(line: str) -> list[str]:
    """Key and value of a line, or nothing where it does not hold both; keys are in any case."""
    row = next(csv.reader([line]), [])
    return [row[0].upper(), row[1]] if len(row) > 1 else []


def modules_in(settings: Mapping[str, str]) -> list[str]:
    """The modules whose functions are imported."""
    return [name for each in settings.get(MODULES, "").split(";") if (name := each.strip())]
