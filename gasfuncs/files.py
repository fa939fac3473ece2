"""Files written beside their place and swapped in: what is there is the old file or the new one."""

from __future__ import annotations

import errno
import os
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


@contextmanager
def swapped_in(path: str | os.PathLike[str], like: Path | None = None) -> Iterator[Path]:
    """A new file to write, which takes the place of `path` when the block ends well.

    A symbolic link stays one. The file that is replaced, or else `like`, hands on its owner and
    permissions. Raises OSError; then nothing has changed.
    """
    target = Path(os.path.realpath(path))
    if target.exists():
        if not target.is_file():
            raise OSError(errno.EINVAL, "it is not a plain file", str(target))
        if not os.access(target, os.W_OK):
            raise OSError(errno.EACCES, "it is read-only", str(target))
        like = target
    aside = target.with_name(f".gasfuncs-{secrets.token_hex(8)}")
    try:
        aside.touch(exist_ok=False)
        yield aside
        with aside.open("rb+") as file:
            os.fsync(file.fileno())
        if like is not None:
            _hand_on(like, aside)
        os.replace(aside, target)
    except OSError as error:
        if str(error.filename) == str(aside):
            error.filename = str(target)
        raise
    finally:
        aside.unlink(missing_ok=True)


def _hand_on(old: Path, new: Path) -> None:
    """Owner and group as far as we may, then permissions; the time is that of writing."""
    if hasattr(os, "chown"):
        owner = old.stat()
        for user, group in ((owner.st_uid, -1), (-1, owner.st_gid)):
            with suppress(OSError):
                os.chown(new, user, group)
    shutil.copystat(old, new)
    os.utime(new)
