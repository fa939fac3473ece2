"""Writes a workbook beside its place and swaps it in, so that no half-written file is left."""

from __future__ import annotations

import os
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path

from gasfuncs.files import swapped_in
from gasfuncs.hosts.headless.errors import WorkbookInUseError, WorkbookNotSavedError
from gasfuncs.hosts.headless.package import Package, state

Changed = Mapping[str, Iterable[bytes]]
"""The parts that change: their new contents in pieces."""


def check_not_in_use(path: Path) -> None:
    """Raise WorkbookInUseError where another program has the workbook open."""
    for book in {path, Path(os.path.realpath(path))}:
        for lock in (book.with_name("~$" + book.name), book.with_name(f".~lock.{book.name}#")):
            if os.path.lexists(lock):
                raise WorkbookInUseError(
                    f"{book.name} is open in another program (there is a file {lock.name} beside "
                    "it); close it there and try again, or write the result to another file"
                )


def save(
    package: Package,
    target: Path,
    changed: Changed,
    added: Mapping[str, bytes] | None = None,
    left_out: Iterable[str] = (),
) -> None:
    """Write the package with its changed parts to `target`.

    Parts keep their order, dates and compression; `added` ones come last, `left_out` ones not at
    all. Raises WorkbookInUseError where the target was opened, or the workbook to be replaced was
    changed, since it was read.
    """
    try:
        with swapped_in(target, like=package.path) as aside:
            _write(package, aside, changed, added or {}, frozenset(left_out))
            in_place = target.exists() and target.samefile(package.path)
            package.archive.close()  # Windows does not replace a file that is open
            check_not_in_use(target)
            if in_place and state(os.stat(target)) != package.state:
                raise WorkbookInUseError(
                    f"{target.name} was changed by another program while it was being computed; "
                    "it is left as that program wrote it. Run this again"
                )
    except OSError as error:
        raise WorkbookNotSavedError(
            f"{target} cannot be written ({error.strerror or error}); nothing was changed. "
            "Choose another place with --output, or free this one for writing"
        ) from error


def _write(
    package: Package,
    path: Path,
    changed: Changed,
    added: Mapping[str, bytes],
    left_out: frozenset[str],
) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.comment = package.archive.comment
        for entry in package.archive.infolist():
            if entry.filename in left_out:
                continue
            pieces = changed.get(entry.filename)
            if pieces is None:
                data = package.read(entry.filename)
                archive.writestr(entry, data, compress_type=entry.compress_type)
                continue
            with archive.open(_copied(entry), "w") as part:
                for piece in pieces:
                    part.write(piece)
        for name, data in added.items():
            archive.writestr(zipfile.ZipInfo(name), data, compress_type=zipfile.ZIP_DEFLATED)


def _copied(entry: zipfile.ZipInfo) -> zipfile.ZipInfo:
    """What stands about a part in the package, but for its size."""
    new = zipfile.ZipInfo(entry.filename, entry.date_time)
    new.compress_type, new.comment, new.extra = entry.compress_type, entry.comment, entry.extra
    new.external_attr, new.create_system = entry.external_attr, entry.create_system
    new.internal_attr = entry.internal_attr
    return new
