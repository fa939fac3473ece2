"""Books for the tests that treat all of them alike."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from gasfuncs.workbooks.building import build
from gasfuncs.workbooks.inputs import METRIC

Built = Callable[..., Path]


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """Gives a book by name, units and whether it is filled with the demo; each is built once."""
    folder = tmp_path_factory.mktemp("built")

    def give(name: str, units: str = METRIC, *, filled: bool = True) -> Path:
        path = folder / f"{name}-{units}-{filled}.xlsx"
        if not path.exists():
            build(name, path, units, filled=filled)
        return path

    return give
