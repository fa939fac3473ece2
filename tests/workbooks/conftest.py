"""Books for the tests that treat all of them alike."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from gasfuncs.workbooks.building import build
from gasfuncs.workbooks.sheets import building as declared
from gasfuncs.workbooks.sheets.kinds import METRIC

Built = Callable[..., Path]


SPARE = 20
"""Rows that are free in the longest log of a declared book here, to be quick."""


def rows_of(name: str) -> int:
    """The rows of a book's logs."""
    return SPARE + max(len(rows) for rows in declared.BOOKS[name].demo().tables.values())


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """Gives a book by name, units and whether it is filled with the demo; each is built once."""
    folder = tmp_path_factory.mktemp("built")

    def give(name: str, units: str = METRIC, *, filled: bool = True) -> Path:
        path = folder / f"{name}-{units}-{filled}.xlsx"
        if not path.exists():
            build(name, path, units, filled=filled, rows=rows_of(name))
        return path

    return give
