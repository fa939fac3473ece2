"""Writes a workbook beside its place and swaps it in, so that no half-written file is left."""

from __future__ import annotations

import os
import stat
import tempfile
import zipfile
from collections.abc import Mapping
from pathlib import Path

from gasfuncs.hosts.headless.errors import WorkbookInUseError, WorkbookNotSavedError
from gasfuncs.hosts.headless.package import Package


def check_not_in_use(path: Path) -> None:
    """Raise WorkbookInUseError where another program has the workbook open."""
    for lock in (path.with_name("~$" + path.name), path.with_name(f".~lock.{path.name}#")):
        if lock.exists():
            raise WorkbookInUseError(
                f"{path.name} is open in another program (there is a file {lock.name} beside it); "
                "close it there and try again, or write the result to another file"
            )


def save(package: Package, target: Path, changed: Mapping[str, bytes]) -> None:
    """Write the package with its changed parts to `target`.

    Parts keep their order, dates and compression. Everything is written to a temporary file in
    the same folder, which then takes the target's place.
    """
    target = Path(os.path.realpath(target))
    mode = _mode(target if target.exists() else package.path)
    if target.exists() and not os.access(target, os.W_OK):
        raise WorkbookNotSavedError(f"{target} is read-only; allow writing or choose another file")
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    except OSError as error:
        raise _not_saved(target, error) from error
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            with zipfile.ZipFile(file, "w") as archive:
                archive.comment = package.archive.comment
                for entry in package.archive.infolist():
                    data = changed.get(entry.filename)
                    if data is None:
                        data = package.read(entry.filename)
                    archive.writestr(entry, data, compress_type=entry.compress_type)
            file.flush()
            os.fsync(file.fileno())
        package.archive.close()  # Windows does not replace a file that is open
        os.chmod(temporary, mode)
        os.replace(temporary, target)
    except OSError as error:
        raise _not_saved(target, error) from error
    finally:
        temporary.unlink(missing_ok=True)


def _not_saved(target: Path, error: OSError) -> WorkbookNotSavedError:
    why = error.strerror or str(error)
    return WorkbookNotSavedError(
        f"{target} cannot be written ({why}); the original is untouched. "
        "Choose another folder with --output, or free the folder for writing"
    )


def _mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)
