"""The books computed by LibreOffice Calc with the add-in, against the values stored in them.

The templates, which nothing would change in once Calc saved them; the scenarios that the headless
engine computed, which the books' own tests hold to calculations of their own, and books with every
input spoilt, both typed in an open book as a user does; US books and empty books.
"""

from __future__ import annotations

import math
from collections import Counter
from functools import cache, partial
from itertools import product
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.hosts.headless.addresses import parse_cell
from gasfuncs.workbooks.building import titles
from gasfuncs.workbooks.sheets.kinds import METRIC, US
from tests.calc import office
from tests.engine import comparing
from tests.thorough import part
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
from tests.workbooks.editing import (
    SPOILT,
    WAYS,
    changed,
    differences,
    in_cells,
    spoilt,
    start,
)
from tests.workbooks.test_templates import BETWEEN_MACHINES

TEMPLATES = Path(__file__).parents[2] / "workbook_templates"


XLSX, ODS = "Calc MS Excel 2007 XML", "calc8"
"""Calc's filters."""

SAVED = part(titles(), 9)
"""Books that Calc saves."""


@cache
def by_calc() -> tuple[dict[str, office.Values], dict[str, Path]]:
    """The values of the templates as Calc computes them, and .xlsx files that it makes of them.

    Loaded from .xlsx ("NAME-xlsx") and from the .ods that it made of some ("NAME-ods").
    """
    folder = office.folder() / "templates"
    folder.mkdir()
    saved = {name: {XLSX: folder / f"{name}.xlsx", ODS: folder / f"{name}.ods"} for name in SAVED}
    books = {
        f"{name}-xlsx": office.Opened(TEMPLATES / f"{name}.xlsx", saved=saved.get(name, {}))
        for name in titles()
    }
    books |= {f"{name}-ods": office.Opened(saved[name][ODS]) for name in SAVED}
    found = office.shown_in([*books.values()])
    values = {what: shown[""] for what, shown in zip(books, found, strict=True)}
    return values, {name: paths[XLSX] for name, paths in saved.items()}


WITHIN = 1e-9


def same(stored: Any, computed: Any, within: float = WITHIN) -> bool:
    """Blank and "" are one; so are #VALUE! and the errors that old files cannot name."""
    if stored in (None, "") or computed in (None, ""):
        return stored in (None, "", 0) and computed in (None, "", 0)
    if isinstance(stored, bool) or isinstance(computed, bool):
        return bool(stored) == bool(computed)
    if isinstance(stored, float | int) and isinstance(computed, float | int):
        return math.isclose(stored, computed, rel_tol=within, abs_tol=1e-12)
    if isinstance(stored, CellError):
        return isinstance(computed, CellError)
    return bool(stored == _written(computed))


def _written(text: Any) -> Any:
    """A text in which Calc wrote out a number that Excel tells as 9E+15."""
    return text.replace(f"{SPOILT['absurd']:.0f}", "9E+15") if isinstance(text, str) else text


@office.needs_office
@pytest.mark.parametrize(
    ("name", "kind"), [*((name, "xlsx") for name in titles()), *((name, "ods") for name in SAVED)]
)
def test_calc_computes_what_is_stored(name: str, kind: str) -> None:
    stored = read_values(TEMPLATES / f"{name}.xlsx")
    shown, _ = by_calc()
    nearly = partial(same, within=BETWEEN_MACHINES.get(name, WITHIN))
    assert not differences(stored, shown[f"{name}-{kind}"], nearly)


@office.needs_office
@pytest.mark.parametrize("name", SAVED)
def test_check_agrees_with_a_book_that_calc_saved(name: str, tmp_path: Path) -> None:
    """But for digits that are left of a difference, and for what Calc makes of a blank argument."""
    _, saved = by_calc()
    path, theirs = saved[name], comparing.stored(saved[name])
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
    for what, changes in part(module.SCENARIOS.items(), 2)
}  # fmt: skip


def test_every_book_has_three_scenarios() -> None:
    books = Counter(module.NAME for module, _ in SCENARIOS.values())
    assert set(books) == set(titles())
    assert min(books.values()) >= 3


SPOILT_BOOKS = {
    f"{module.NAME}: inputs {how}": (module, how) for module in part(DECLARED, 2) for how in WAYS
}

KINDS = {"US": (US, True), "empty": (METRIC, False)}
OTHERS = {
    f"{name}: {kind}": (name, *KINDS[kind]) for name, kind in part(product(titles(), KINDS), 9)
}


@cache
def lots() -> dict[Path, dict[str, dict[Any, Any]]]:
    """What is typed in books, by book and by what it is.

    Spoilt inputs first: of an error that replaces a value Calc at times makes AND(...) FALSE.
    """
    found: dict[Path, dict[str, dict[Any, Any]]] = {}
    for what, (module, how) in SPOILT_BOOKS.items():
        found.setdefault(started(module), {})[what] = spoilt(started(module), how)
    for what, (module, changes) in SCENARIOS.items():
        found.setdefault(started(module), {})[what] = changes
    return found


def started(module: Any) -> Path:
    return start(module.BOOK, module.GIVEN, module.ROWS)


@cache
def stored() -> dict[str, Path]:
    """Those books by what they are, computed by the headless engine."""
    folder = office.folder() / "others"
    folder.mkdir()
    made = {
        what: built_once(name, units, filled=how) for what, (name, units, how) in OTHERS.items()
    }
    for book, typed in lots().items():
        for what, changes in typed.items():
            made[what] = folder / f"{len(made)}.xlsx"
            changed(book, made[what], changes)
    return made


@cache
def shown_by_calc() -> tuple[dict[str, office.Values], list[tuple[office.Values, office.Values]]]:
    """What Calc shows in them; changes are typed in the opened book, lot by lot, and typed back.

    And what each such book shows when it is opened and at the end.
    """
    books = [
        office.Opened(book, {what: in_cells(book, changes) for what, changes in typed.items()})
        for book, typed in lots().items()
    ]
    paths = [built_once(name, units, filled=filled) for name, units, filled in OTHERS.values()]
    found = office.shown_in([*books, *map(office.Opened, paths)], seconds=600)
    changed_in, opened = found[: len(books)], found[len(books) :]
    shown = {what: of[""] for what, of in zip(OTHERS, opened, strict=True)}
    for of in changed_in:
        shown |= of
    return shown, [(of[""], of["back"]) for of in changed_in]


@office.needs_office
@pytest.mark.parametrize("what", [*SCENARIOS, *SPOILT_BOOKS, *OTHERS])
def test_calc_computes_other_books_alike(what: str) -> None:
    shown, _ = shown_by_calc()
    assert not differences(read_values(stored()[what]), shown[what], same)


@office.needs_office
def test_typed_back_a_book_shows_what_it_showed() -> None:
    _, ends = shown_by_calc()
    assert len(ends) == len(titles())
    for opened, back in ends:
        assert not differences(opened, back, same)
