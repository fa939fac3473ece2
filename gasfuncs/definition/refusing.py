"""How a calculation refuses arguments that do not go together."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from gasfuncs.errors import GasFuncsError, NoSolutionError, OutOfRangeError

Told = str | Callable[[int], str]
"""The sentence of every row that is refused, or what tells it by row."""


def refuse(where: Any, argument: str, sentence: str) -> None:
    """Refuse an argument wherever `where` is true."""
    if np.any(where):
        raise OutOfRangeError(sentence, argument)


def unreachable(where: Any, argument: str, sentence: str) -> None:
    """Refuse a target wherever `where` is true, since nothing reaches it."""
    if np.any(where):
        raise NoSolutionError(sentence, argument)


def refuse_rows(where: Any, argument: str, sentence: Told) -> None:
    """Refuse the rows of a column where `where` is true, all at once."""
    _refuse_rows(OutOfRangeError, where, argument, sentence)


def unreachable_rows(where: Any, argument: str, sentence: Told) -> None:
    """Refuse the rows of a column whose target nothing reaches, all at once."""
    _refuse_rows(NoSolutionError, where, argument, sentence)


def _refuse_rows(kind: type[GasFuncsError], where: Any, argument: str, sentence: Told) -> None:
    bad = np.ravel(where).tolist()
    if not any(bad):
        return
    told = tuple(_told(sentence, row) if each else "" for row, each in enumerate(bad))
    raise kind(next(filter(None, told)), argument, told)


def _told(sentence: Told, row: int) -> str:
    return sentence if isinstance(sentence, str) else sentence(row)
