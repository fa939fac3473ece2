"""A book cleared, filled anew or told in other units is the book that is built that way.

So nothing depends on how a book came about: the units and the demo are only what is typed in it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values
from gasfuncs.workbooks.building import BOOKS, build
from gasfuncs.workbooks.inputs import METRIC, US
from tests.workbooks.editing import changed, input_cells

Built = Callable[[str, str, bool], Path]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    folder = tmp_path_factory.mktemp("built")

    def give(name: str, units: str, filled: bool) -> Path:
        path = folder / f"{name}-{units}-{filled}.xlsx"
        if not path.exists():
            build(name, path, units, filled=filled)
        return path

    return give


def becomes(start: Path, wanted: Path, to: Path) -> None:
    """With all that is typed in the wanted book, the other becomes it."""
    assert differences(start, wanted)
    typed = input_cells(wanted)
    changed(start, to, {cell: typed.get(cell) for cell in input_cells(start)})
    assert not differences(to, wanted)


def same(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=1e-12)
    if isinstance(one, CellError) or isinstance(other, CellError):
        return str(one) == str(other)
    return bool(one == other)


def differences(one: Path, other: Path) -> list[str]:
    """Cells that both have with different values; records may be of different lengths."""
    first, second = read_values(one), read_values(other)
    return [
        f"{sheet}!R{row}C{column}: {value!r}, not {second[sheet][row, column]!r}"
        for sheet, cells in first.items()
        for (row, column), value in cells.items()
        if (row, column) in second[sheet] and not same(value, second[sheet][row, column])
    ]


@pytest.mark.parametrize(("before", "after"), [(METRIC, US), (US, METRIC)])
@pytest.mark.parametrize("name", list(BOOKS))
def test_units_changed_in_a_filled_book(
    name: str, before: str, after: str, built: Built, tmp_path: Path
) -> None:
    becomes(built(name, before, True), built(name, after, True), tmp_path / "changed.xlsx")


@pytest.mark.parametrize("name", list(BOOKS))
def test_the_demo_cleared(name: str, built: Built, tmp_path: Path) -> None:
    becomes(built(name, METRIC, True), built(name, METRIC, False), tmp_path / "changed.xlsx")


@pytest.mark.parametrize("name", list(BOOKS))
def test_an_empty_book_filled(name: str, built: Built, tmp_path: Path) -> None:
    empty, wanted = built(name, METRIC, False), built(name, METRIC, True)
    filled = {cell for cell, value in input_cells(wanted).items() if value is not None}
    assert filled <= set(input_cells(empty)), "the empty book has fewer rows than the demo fills"
    becomes(empty, wanted, tmp_path / "changed.xlsx")
