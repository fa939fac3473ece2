"""What is typed in a filled book, written anew with more rows or in other units."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.definition.terms import serial
from gasfuncs.errors import UnreadableError
from gasfuncs.hosts.headless import recalculate
from gasfuncs.hosts.headless.entering import enter
from gasfuncs.workbooks.building import build, titles
from gasfuncs.workbooks.sheets.building import BOOKS, demo
from gasfuncs.workbooks.sheets.kinds import METRIC, US
from gasfuncs.workbooks.sheets.layout import Plan
from gasfuncs.workbooks.sheets.moving import Filled
from gasfuncs.workbooks.sheets.parts import Given
from tests.workbooks.conftest import Built
from tests.workbooks.editing import Computed, Declared

NAME = "delivery_check"
BOOK = BOOKS[NAME]
TANKS = Declared(BOOK)


def typed(given: Given, name: str) -> list[Any]:
    """All that is typed, in order; a day as the number that a cell holds, a blank as None."""
    plan = Plan(BOOKS[name], METRIC, given)
    tables = [given.tables.get(each, ()) for each, table in plan.tables.items() if table.typed]
    values = [value for _, value in sorted(given.inputs.items())]
    values += [value for rows in tables for row in rows for value in row]
    days = [serial(value) if isinstance(value, dt.date) else value for value in values]
    return [value for value in days if value not in (None, "")]


@pytest.mark.parametrize("name", list(titles()))
def test_all_that_is_typed_is_found(name: str, built: Built) -> None:
    wanted = typed(demo(BOOKS[name], US), name)
    found = typed(Filled(BOOKS[name], built(name, US)).given(US), name)
    assert [type(each) is str for each in found] == [type(each) is str for each in wanted]
    assert [each for each in found if isinstance(each, str)] == [
        each for each in wanted if isinstance(each, str)
    ]
    numbers = [each for each in wanted if not isinstance(each, str)]
    assert len(numbers) > 20
    assert [each for each in found if not isinstance(each, str)] == pytest.approx(numbers, rel=1e-9)


def test_in_other_units_and_back(built: Built, tmp_path: Path) -> None:
    """11,000 L are 2,905.89 gal, 210 m are 688.976 ft (both exact factors), to six digits."""
    there, back = tmp_path / "us.xlsx", tmp_path / "back.xlsx"
    build(NAME, there, US, source=built(NAME))
    us, metric = Computed(there), Computed(built(NAME))
    assert us["Altitude"] == 688.976
    assert us[TANKS.place("Tanks.Capacity", 1)] == pytest.approx(11_000 / 3.785411784, rel=1e-6)
    assert us["Answer_level"] == metric["Answer_level"] == "act"
    assert us["Short_by"] == pytest.approx(metric["Short_by"] * 38.04, rel=1e-3)
    build(NAME, back, METRIC, source=there)
    assert Filled(BOOK, there).units == US
    assert Computed(back)["Short_by"] == pytest.approx(metric["Short_by"], rel=1e-4)


def test_rows_below_the_end_of_a_log_are_taken(built: Built, tmp_path: Path) -> None:
    """A table that is full: what Calc lets stand below it does not count, and is not lost."""
    book = built(NAME)
    cells = Plan(BOOK, METRIC, BOOK.demo()).cells("Deliveries.Date")
    rows = len(Filled(BOOK, book).given(METRIC).tables["Deliveries"]) + 20
    below = {(cells.top + 1 + rows, cells.left + 1): 46_000.0}
    enter(book, {"Deliveries": below}, tmp_path / "full.xlsx")
    assert recalculate(tmp_path / "full.xlsx").ok
    full = Computed(tmp_path / "full.xlsx")
    assert (full["Deliveries_below"], full["Deliveries_out"]) == (1, 0)
    start = [value for value in full.values["Start"].values() if isinstance(value, str)]
    assert "Look at Checks: 1 of them ask for it" in start
    build(NAME, tmp_path / "new.xlsx", source=tmp_path / "full.xlsx", rows=60)
    found = Computed(tmp_path / "new.xlsx")
    assert found["Deliveries_out"] == 1
    assert found["Deliveries_below"] == 0
    assert found["Deliveries_typed"] == Computed(book)["Deliveries_typed"] + 1


def test_a_signed_sheet_stays_signed(built: Built, tmp_path: Path) -> None:
    """In the same units: the number of what was typed is the same."""
    name = "reservoir_commissioning"
    build(name, tmp_path / "new.xlsx", source=built(name))
    before, after = Computed(built(name)), Computed(tmp_path / "new.xlsx")
    assert after["State"] == before["State"]
    assert after["Points_met"] == before["Points_met"] == 15
    assert after["Answer"] == before["Answer"]


def test_another_book_is_refused(built: Built) -> None:
    with pytest.raises(UnreadableError, match=r"delivery.* is no supply_offers"):
        Filled(BOOKS["supply_offers"], built(NAME))
