"""The native functions that the engine computes; a function that is not here is refused by name.

Everything here was held against LibreOffice over edge cases (`python -m tests.engine`).
"""

from __future__ import annotations

from gasfuncs.hosts.headless.natives import (  # noqa: F401 - each enters its functions
    criteria,
    dates,
    lookup,
    numbers,
    statistics,
    texts,
)
from gasfuncs.hosts.headless.natives.table import NATIVES, Native

__all__ = ["NATIVES", "Native"]
