"""The edge-case calls computed here and by LibreOffice: a difference has a name, or is gone."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import xlsxwriter

from tests.calc import office
from tests.engine.comparing import computed, is_refused, same, stored
from tests.engine.explained import LOGICAL, explained
from tests.engine.sweep import DATA, calls
from tests.engine.sweep import stored as as_stored

Outcome = tuple[str, str, str]
"""Sheet, formula, and what came of it: same, refused, a name, or both values."""


def written(path: Path) -> list[str]:
    """A book with all calls on two sheets: on Plain a number stands where Logical has TRUE."""
    formulas = [formula for group in calls().values() for formula in group]
    with xlsxwriter.Workbook(path) as book:
        for name, number in (("Logical", True), ("Plain", 1)):
            sheet = book.add_worksheet(name)
            for cell, value in {**DATA, "C3": number}.items():
                write = sheet.write_string if isinstance(value, str) else sheet.write
                write(cell, value)
            for row, formula in enumerate(formulas):
                sheet.write_formula(row, 9, "=" + as_stored(formula))
    return formulas


@cache
def outcomes() -> list[Outcome]:
    path = office.folder() / "sweep.xlsx"
    formulas = written(path)
    ours, theirs = computed(path), stored(office.saved_by_calc([path], "xlsx", "swept")[0])
    found = []
    for sheet in ("Logical", "Plain"):
        for row, formula in enumerate(formulas, 1):
            one, other = ours[sheet][row, 10], theirs[sheet].get((row, 10))
            what = "same" if same(one, other) else explained(formula) or f"{one!r} for {other!r}"
            found.append((sheet, formula, "refused" if is_refused(one) else what))
    return found


def counts() -> Counter[str]:
    return Counter(what for _, _, what in outcomes())


@office.needs_office
def test_every_difference_has_a_name() -> None:
    names = {"same", "refused", LOGICAL, *map(str, counts_of_names())}
    assert [outcome for outcome in outcomes() if outcome[2] not in names] == []


def counts_of_names() -> list[str]:
    from tests.engine.explained import OWN

    return list(OWN)


@office.needs_office
def test_logical_values_are_the_reason_only_where_there_are_some() -> None:
    """The same call with a number in the cell agrees, unless TRUE or FALSE stands in the call."""
    wrong = [
        outcome for outcome in outcomes()
        if outcome[0] == "Plain" and outcome[2] == LOGICAL
        and "TRUE" not in outcome[1] and "FALSE" not in outcome[1]
    ]  # fmt: skip
    assert wrong == []


@office.needs_office
def test_most_calls_agree_and_few_are_refused() -> None:
    found = counts()
    assert found["same"] > 0.88 * len(outcomes())
    assert found["refused"] < 0.03 * len(outcomes())
