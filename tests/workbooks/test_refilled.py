"""A book cleared, filled anew or told in other units is the book that is built that way.

So nothing depends on how a book came about: the units and the demo are only what is typed in it.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values
from gasfuncs.workbooks.building import titles
from gasfuncs.workbooks.sheets.kinds import METRIC
from tests.thorough import part
from tests.workbooks.conftest import Built
from tests.workbooks.editing import changed, differences, input_cells


def becomes(start: Path, wanted: Path, to: Path) -> None:
    """With all that is typed in the wanted book, the other becomes it."""
    assert unlike(start, wanted)
    typed = input_cells(wanted)
    changed(start, to, {cell: typed.get(cell) for cell in input_cells(start)})
    assert not unlike(to, wanted)


def same(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=1e-12)
    if isinstance(one, CellError) or isinstance(other, CellError):
        return str(one) == str(other)
    return bool(one == other)


def unlike(one: Path, other: Path) -> str:
    """The first cells that both have with different values; records may differ in length."""
    first, second = read_values(one), read_values(other)
    common = {
        sheet: {place: value for place, value in cells.items() if place in second[sheet]}
        for sheet, cells in first.items()
    }
    return differences(common, second, same)


@pytest.mark.parametrize("name", part(titles(), 3))
def test_the_demo_cleared(name: str, built: Built, tmp_path: Path) -> None:
    becomes(built(name, METRIC), built(name, METRIC, filled=False), tmp_path / "changed.xlsx")


@pytest.mark.parametrize("name", part(titles(), 3, start=1))
def test_an_empty_book_filled(name: str, built: Built, tmp_path: Path) -> None:
    empty, wanted = built(name, METRIC, filled=False), built(name, METRIC)
    filled = {cell for cell, value in input_cells(wanted).items() if value is not None}
    assert filled <= set(input_cells(empty)), "the empty book has fewer rows than the demo fills"
    becomes(empty, wanted, tmp_path / "changed.xlsx")
