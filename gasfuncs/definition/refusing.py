"""How a calculation refuses arguments that do not go together."""

from __future__ import annotations

from typing import Any

import numpy as np

from gasfuncs.errors import NoSolutionError, OutOfRangeError


def refuse(where: Any, argument: str, sentence: str) -> None:
    """Refuse an argument wherever `where` is true."""
    if np.any(where):
        raise OutOfRangeError(sentence, argument)


def unreachable(where: Any, argument: str, sentence: str) -> None:
    """Refuse a target wherever `where` is true, since nothing reaches it."""
    if np.any(where):
        raise NoSolutionError(sentence, argument)
