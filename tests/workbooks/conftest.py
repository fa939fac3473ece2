"""Books for the tests that treat all of them alike."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from gasfuncs.workbooks.sheets.building import BOOKS, build, demo
from gasfuncs.workbooks.sheets.kinds import METRIC
from gasfuncs.workbooks.sheets.parts import Given
from tests.shared import once
from tests.workbooks.editing import short

Built = Callable[..., Path]


def built_once(name: str, units: str = METRIC, *, filled: bool = True) -> Path:
    """A book by name, units and whether it is filled with the demo."""

    def make(made: Path) -> None:
        given = demo(BOOKS[name], units)
        build(short(BOOKS[name], given), made, units, given if filled else Given())

    return once(f"{name}-{units}-{filled}.xlsx", make)


@pytest.fixture(scope="session")
def built() -> Built:
    """Gives such a book."""
    return built_once
