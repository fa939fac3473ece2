"""A book that Calc computed and saved is one in which nothing would change."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import recalculate
from gasfuncs.hosts.headless.addresses import parse_cell
from tests.calc import office
from tests.engine.comparing import same, stored

TEMPLATES = sorted((Path(__file__).parents[2] / "workbook_templates").glob("*.xlsx"))


@cache
def saved() -> dict[str, Path]:
    found = office.saved_by_calc(TEMPLATES, "xlsx", "saved-templates")
    return {path.stem: path for path in found}


@office.needs_office
@pytest.mark.parametrize("name", [path.stem for path in TEMPLATES])
def test_check_agrees_with_a_book_that_calc_saved(name: str, tmp_path: Path) -> None:
    """But for digits that are left of a difference, and for what Calc makes of a blank argument."""
    path, theirs = saved()[name], stored(saved()[name])
    report = recalculate(path, tmp_path / "ours.xlsx")
    assert not [*report.problems, *report.kept]
    ours = stored(tmp_path / "ours.xlsx")
    wrong = []
    for changed in report.changed:
        sheet, _, cell = changed.partition("!")
        one, other = ours[sheet][parse_cell(cell)], theirs[sheet][parse_cell(cell)]
        if not same(one, other) and not (isinstance(one, CellError) and other == 0):
            wrong.append(f"{changed}: {one!r}, {other!r}")
    assert wrong == []
    assert len(report.changed) < 0.02 * report.formulas
