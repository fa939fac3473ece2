"""The books computed by LibreOffice Calc with the add-in, against the values stored in them.

The templates; the scenarios that the headless engine computed, which the books' own tests hold to
calculations of their own; US books, empty books, and books with every input spoilt.
"""

from __future__ import annotations

import math
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values
from gasfuncs.workbooks.building import build, titles
from gasfuncs.workbooks.sheets import building as declared
from gasfuncs.workbooks.sheets.kinds import US
from tests.calc import office
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
from tests.workbooks.conftest import rows_of
from tests.workbooks.editing import SPOILT, changed, differences, typed_inputs

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


DECLARED = (
    test_monthly_gas_usage, test_bulk_tank_reorder, test_delivery_check, test_leak_dewpoint_log,
    test_supply_offers, test_reservoir_commissioning, test_vent_fill_purity,
    test_argon_nitrogen_cost, test_reservoir_line_sizing,
)  # fmt: skip

SCENARIOS = {
    f"{module.NAME}: {what}": (module.NAME, changes)
    for module in DECLARED
    for what, changes in module.SCENARIOS.items()
}  # fmt: skip


def test_every_book_has_three_scenarios() -> None:
    books = Counter(name for name, _ in SCENARIOS.values())
    assert set(books) == set(titles())
    assert min(books.values()) >= 3


def _start(folder: Path, name: str) -> Path:
    """The book that is changed: the template, or a declared book with shorter logs."""
    short = folder / f"{name}.xlsx"
    return short if short.exists() else TEMPLATES / f"{name}.xlsx"


@cache
def others() -> dict[str, Path]:
    """Further books by what they are, each computed by the headless engine."""
    folder = office.folder() / "others"
    folder.mkdir()
    made: dict[str, Path] = {}

    def place(what: str) -> Path:
        made[what] = folder / f"{len(made)}.xlsx"
        return made[what]

    for module in DECLARED:
        path = folder / f"{module.NAME}.xlsx"
        declared.build(module.BOOK, path, given=module.GIVEN, rows=module.ROWS)
    for what, (name, changes) in SCENARIOS.items():
        changed(_start(folder, name), place(what), changes)
    for name in titles():
        template = _start(folder, name)
        for how, value in SPOILT.items():
            inputs = dict.fromkeys(typed_inputs(template), value)
            changed(template, place(f"{name}: inputs {how}"), inputs)
        build(name, place(f"{name}: US"), US, rows=rows_of(name))
        build(name, place(f"{name}: empty"), filled=False, rows=rows_of(name))
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
