"""The templates computed by LibreOffice Calc with the add-in, against the values stored in them."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values
from gasfuncs.workbooks.building import BOOKS
from tests.calc import office

TEMPLATES = Path(__file__).parents[2] / "workbook_templates"


@cache
def by_calc(through: str) -> dict[str, Path]:
    """The books as Calc computes them, loaded from .xlsx or from the .ods that it made of them."""
    books = [TEMPLATES / f"{name}.xlsx" for name in BOOKS]
    if through == "ods":
        books = office.saved_by_calc(books, "ods", "templates-ods")
    return {path.stem: path for path in office.saved_by_calc(books, "xlsx", f"from-{through}")}


def same(stored: Any, computed: Any) -> bool:
    """Blank and "" are one; so are #VALUE! and the errors that old files cannot name."""
    if stored in (None, "") or computed in (None, ""):
        return stored in (None, "", 0) and computed in (None, "", 0)
    if isinstance(stored, bool) or isinstance(computed, bool):
        return bool(stored) == bool(computed)
    if isinstance(stored, float | int) and isinstance(computed, float | int):
        return math.isclose(stored, computed, rel_tol=1e-9, abs_tol=1e-12)
    if isinstance(stored, CellError):
        return isinstance(computed, CellError)
    return bool(stored == computed)


@office.needs_office
@pytest.mark.parametrize("through", ["xlsx", "ods"])
@pytest.mark.parametrize("name", list(BOOKS))
def test_calc_computes_what_is_stored(name: str, through: str) -> None:
    stored = read_values(TEMPLATES / f"{name}.xlsx")
    computed = read_values(by_calc(through)[name])
    different = [
        f"{sheet}!R{row}C{column}: {value!r} in the file, {found!r} in Calc"
        for sheet, cells in stored.items()
        for (row, column), value in cells.items()
        if not same(value, found := computed[sheet].get((row, column)))
    ]
    assert not different, "\n".join(different[:20])
