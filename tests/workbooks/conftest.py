"""Books for the tests that treat all of them alike."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from gasfuncs.workbooks.building import build
from gasfuncs.workbooks.sheets import building as declared
from gasfuncs.workbooks.sheets.kinds import METRIC
from tests.shared import once

Built = Callable[..., Path]


SPARE = 20
"""Rows that are free in the longest log of a declared book here, to be quick."""


def rows_of(name: str) -> int:
    """The rows of a book's logs."""
    return SPARE + max(len(rows) for rows in declared.BOOKS[name].demo().tables.values())


def built_once(name: str, units: str = METRIC, *, filled: bool = True) -> Path:
    """A book by name, units and whether it is filled with the demo."""
    return once(
        f"{name}-{units}-{filled}.xlsx",
        lambda made: build(name, made, units, filled=filled, rows=rows_of(name)),
    )


@pytest.fixture(scope="session")
def built() -> Built:
    """Gives such a book."""
    return built_once
