"""Mends .ods files that a Calc without the add-in has saved.

Such a Calc writes a name that it does not know in small letters and without the service's name, and
LibreOffice looks an add-in's functions up in .ods files by both.
"""

from __future__ import annotations

import os
import re
import zipfile
from collections import Counter
from pathlib import Path

from gasfuncs.errors import GasFuncsError
from gasfuncs.files import swapped_in
from gasfuncs.hosts.calc.extension import SERVICE
from gasfuncs.registry import worksheet_functions

PARTS = ("content.xml", "styles.xml")
SPREADSHEET = b"application/vnd.oasis.opendocument.spreadsheet"

_FORMULA = re.compile(
    rb'(?<= )(?:table:(?:formula|condition|expression)|style:condition|calcext:value)="[^"]*"'
)
"""The attributes with formulas: cells, checks of input, names, formats by condition."""

_TEXT = re.compile(rb"(&quot;.*?&quot;)")
_NAME = re.compile(rb"(?<![\w.])gas_\w+(?=\()", re.IGNORECASE)


class MendingError(GasFuncsError):
    """A file that cannot be mended."""


def mend(path: str | os.PathLike[str]) -> Counter[str]:
    """Give the functions in an .ods file the names by which Calc finds them.

    Returns how often each was mended. The file is mended whole or left as it was; raises
    MendingError or OSError.
    """
    file = Path(path)
    mended: Counter[str] = Counter()
    parts = _parts(file)
    for info, part in parts.items():
        if info.filename in PARTS:
            parts[info] = _with_names(part, mended)
    if mended:
        with swapped_in(file) as aside, zipfile.ZipFile(aside, "w") as archive:
            for info, part in parts.items():
                archive.writestr(info, part)
    return mended


def _parts(file: Path) -> dict[zipfile.ZipInfo, bytes]:
    """All that is in the file, if it can be mended."""
    if file.with_name(f".~lock.{file.name}#").exists():
        raise MendingError(f"{file} is open in LibreOffice: close it there first")
    try:
        with zipfile.ZipFile(file) as archive:
            parts = {info: archive.read(info) for info in archive.infolist()}
    except zipfile.BadZipFile:
        raise MendingError(f"{file} is no .ods workbook; only those are mended") from None
    named = {info.filename: part for info, part in parts.items()}
    if not named.get("mimetype", b"").startswith(SPREADSHEET):
        raise MendingError(
            f"{file} is no .ods workbook; only those are mended. An .xlsx file needs it not: open "
            "it in a LibreOffice with the add-in"
        )
    if b"encryption-data" in named.get("META-INF/manifest.xml", b""):
        raise MendingError(f"{file} has a password: save it without one, mend it, and give it back")
    return parts


def _with_names(part: bytes, mended: Counter[str]) -> bytes:
    def full(name: re.Match[bytes]) -> bytes:
        function = name[0].decode().upper()
        if function not in worksheet_functions():
            return name[0]
        mended[function] += 1
        return f"{SERVICE}.{function}".encode()

    def formula(attribute: re.Match[bytes]) -> bytes:
        pieces = _TEXT.split(attribute[0])
        pieces[::2] = [_NAME.sub(full, piece) for piece in pieces[::2]]
        return b"".join(pieces)

    return _FORMULA.sub(formula, part)
