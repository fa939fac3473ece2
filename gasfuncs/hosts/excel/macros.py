"""A workbook with the functions' module of Visual Basic already in it.

The file is put together by pyOpenVBA, not by Excel.
"""

from __future__ import annotations

import shutil
import tempfile
import zipfile
from collections.abc import Callable
from importlib.util import find_spec
from pathlib import Path

from gasfuncs.files import swapped_in
from gasfuncs.hosts.excel.module import NAME, module
from gasfuncs.hosts.excel.setup import ExcelError

TYPES = "[Content_Types].xml"
PLAIN = b"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
WITH_MACROS = b"application/vnd.ms-excel.sheet.macroEnabled.main+xml"


def with_functions(write: Callable[[Path], object], target: Path) -> None:
    """What `write` writes as an .xlsx workbook, written as an .xlsm one with the module.

    Raises ExcelError or OSError; then there is no new file.
    """
    if find_spec("pyopenvba") is None:
        raise ExcelError(
            "an .xlsm workbook with the functions needs pyOpenVBA: "
            'python -m pip install "gasfuncs[excel]"'
        )
    from pyopenvba import ExcelFile

    with tempfile.TemporaryDirectory() as folder:
        book, made = Path(folder, "book.xlsx"), Path(folder, "book.xlsm")
        write(book)
        _for_macros(book, made)
        with ExcelFile(made) as file:
            file.add_vba_project().add_module(NAME, module())
            file.save()
        with swapped_in(target) as aside:
            shutil.copyfile(made, aside)


def _for_macros(book: Path, made: Path) -> None:
    """The same workbook, declared one that may have macros."""
    with zipfile.ZipFile(book) as old, zipfile.ZipFile(made, "w") as new:
        for info in old.infolist():
            part = old.read(info)
            new.writestr(info, part.replace(PLAIN, WITH_MACROS) if info.filename == TYPES else part)
