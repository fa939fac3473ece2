"""A log of what cells were refused, since Calc shows an error without its sentence."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import platformdirs

MOST_LINES = 500
_LONGEST = 60


def log_file() -> Path:
    """Where the refusals of the add-in are told, the latest last."""
    return Path(platformdirs.user_log_dir("gasfuncs", appauthor=False), "calc.log")


class Refusals:
    """Writes each refusal once; a file that cannot be written costs no cell its answer."""

    def __init__(self, file: Path | None = None) -> None:
        self._file = file or log_file()
        self._told: set[str] = set()

    def tell(self, function: str, arguments: Sequence[Any], sentence: str) -> None:
        call = f"{function}({', '.join(map(_shown, arguments))}): {sentence}"
        if call in self._told or len(self._told) > MOST_LINES:
            return
        self._told.add(call)
        try:
            self._file.parent.mkdir(parents=True, exist_ok=True)
            kept = latest(MOST_LINES - 1, self._file)
            moment = f"{dt.datetime.now():%Y-%m-%d %H:%M:%S}"
            self._file.write_text("\n".join([*kept, f"{moment}  {call}", ""]), encoding="utf-8")
        except OSError:
            return


def latest(count: int, file: Path | None = None) -> list[str]:
    """The latest lines of the log."""
    try:
        return (file or log_file()).read_text(encoding="utf-8").splitlines()[-count:]
    except (OSError, UnicodeError):
        return []


def _shown(argument: Any) -> str:
    if isinstance(argument, list):
        return f"{len(argument)} rows"
    if argument is None:
        return ""
    text = f'"{argument}"' if isinstance(argument, str) else str(argument)
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."
