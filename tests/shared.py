"""Files that the tests make once, in whichever of the run's processes first wants them."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

from gasfuncs.files import swapped_in

FOLDER = "GASFUNCS_TESTS_SHARED"
"""Names the folder of all processes of a run; `tests/conftest.py` makes it and removes it."""


def once(name: str, make: Callable[[Path], object]) -> Path:
    """The file of that name, which is made where it is not there yet. Nobody changes it."""
    path = Path(os.environ[FOLDER], name)
    if not path.exists():
        with swapped_in(path) as aside:
            make(aside)
    return path
