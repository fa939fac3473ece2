"""The books computed by LibreOffice Calc with the add-in, against the values stored in them.

The templates, which nothing would change in once Calc saved them; the scenarios that the headless
engine computed, which the books' own tests hold to calculations of their own; US books, empty
books, and books with every input spoilt.
"""

from __future__ import annotations

import math
import shutil
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.hosts.headless.addresses import parse_cell
from gasfuncs.workbooks.building import titles
from gasfuncs.workbooks.sheets.kinds import US
from tests.calc import office
from tests.engine import comparing
from tests.workbooks import (
    test_argon_nitrogen_cost,
    test_bulk_tank_reorder,
    test_delivery_check,
    test_leak_dewpoint_log,
    test_monthly_gas_usage,
    test_reservoir_commissioning,
    test_reservoir_line_sizing,
    test_supply_offers,
    test_vent_fill_purity,
)
from tests.workbooks.conftest import built_once
from tests.workbooks.editing import SPOILT, changed, differences, start, typed_inputs

TEMPLATES = Path(__file__).parents[2] / "workbook_templates"


@cache
def by_calc(through: str) -> dict[str, Path]:
    """The books as Calc computes them, loaded from .xlsx or from the .ods that it made of them."""
    books = [TEMPLATES / f"{name}.xlsx" for name in titles()]
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
    return bool(stored == _written(computed))


def _written(text: Any) -> Any:
    """A text in which Calc wrote out a number that Excel tells as 9E+15."""
    return text.replace(f"{SPOILT['absurd']:.0f}", "9E+15") if isinstance(text, str) else text


@office.needs_office
@pytest.mark.parametrize("through", ["xlsx", "ods"])
@pytest.mark.parametrize("name", list(titles()))
def test_calc_computes_what_is_stored(name: str, through: str) -> None:
    stored = read_values(TEMPLATES / f"{name}.xlsx")
    assert not differences(stored, read_values(by_calc(through)[name]), same)


@office.needs_office
@pytest.mark.parametrize("name", list(titles()))
def test_check_agrees_with_a_book_that_calc_saved(name: str, tmp_path: Path) -> None:
    """But for digits that are left of a difference, and for what Calc makes of a blank argument."""
    path, theirs = by_calc("xlsx")[name], comparing.stored(by_calc("xlsx")[name])
    report = recalculate(path, tmp_path / "ours.xlsx")
    assert not [*report.problems, *report.kept]
    ours = comparing.stored(tmp_path / "ours.xlsx")
    wrong = []
    for place in report.changed:
        sheet, _, cell = place.partition("!")
        one, other = ours[sheet][parse_cell(cell)], theirs[sheet][parse_cell(cell)]
        if not comparing.same(one, other) and not (isinstance(one, CellError) and other == 0):
            wrong.append(f"{place}: {one!r}, {other!r}")
    assert wrong == []
    assert len(report.changed) < 0.02 * report.formulas


DECLARED = (
    test_monthly_gas_usage, test_bulk_tank_reorder, test_delivery_check, test_leak_dewpoint_log,
    test_supply_offers, test_reservoir_commissioning, test_vent_fill_purity,
    test_argon_nitrogen_cost, test_reservoir_line_sizing,
)  # fmt: skip

SCENARIOS = {
    f"{module.NAME}: {what}": (module, changes)
    for module in DECLARED
    for what, changes in module.SCENARIOS.items()
}  # fmt: skip


def test_every_book_has_three_scenarios() -> None:
    books = Counter(module.NAME for module, _ in SCENARIOS.values())
    assert set(books) == set(titles())
    assert min(books.values()) >= 3


@cache
def others() -> dict[str, Path]:
    """Further books by what they are, each computed by the headless engine."""
    folder = office.folder() / "others"
    folder.mkdir()
    made: dict[str, Path] = {}

    def place(what: str) -> Path:
        made[what] = folder / f"{len(made)}.xlsx"
        return made[what]

    for what, (module, changes) in SCENARIOS.items():
        changed(start(module.BOOK, module.GIVEN, module.ROWS), place(what), changes)
    for name in titles():
        for how, value in SPOILT.items():
            book = built_once(name)
            changed(book, place(f"{name}: inputs {how}"), dict.fromkeys(typed_inputs(book), value))
        shutil.copyfile(built_once(name, US), place(f"{name}: US"))
        shutil.copyfile(built_once(name, filled=False), place(f"{name}: empty"))
    return made


@cache
def others_by_calc() -> dict[str, Path]:
    paths = office.saved_by_calc(list(others().values()), "xlsx", "others-by-calc", seconds=600)
    return dict(zip(others(), paths, strict=True))


KINDS = (*(f"inputs {how}" for how in SPOILT), "US", "empty")


@office.needs_office
@pytest.mark.parametrize(
    "what", [*SCENARIOS, *(f"{name}: {kind}" for name in titles() for kind in KINDS)]
)
def test_calc_computes_other_books_alike(what: str) -> None:
    assert not differences(read_values(others()[what]), read_values(others_by_calc()[what]), same)
