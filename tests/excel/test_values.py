"""What arrives from Excel, and what goes back to it, through xlwings' own call path."""

from __future__ import annotations

import datetime as dt
import math
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gasfuncs.errors import CellError
from gasfuncs.hosts.excel.cells import ERRORS, FIRST_ERROR, answer
from gasfuncs.registry import worksheet_functions
from tests import arguments
from tests.excel import door
from tests.excel.door import Reference, call, refers

NUMBERS_OF_ERRORS = {code: FIRST_ERROR + number for number, code in ERRORS.items()}
BLANK = refers(None)


def python(name: str, *arguments: Any) -> Any:
    return worksheet_functions()[name](*arguments)


DENSITY = python("GAS_DENSITY", "argon", 2, 20)


def density(pressure: Any, *unit: Any) -> Any:
    return call("GAS_DENSITY", "argon", pressure, 20.0, *unit)


# What arrives


def test_a_reference_gives_the_value_of_its_cell() -> None:
    assert call("GAS_DENSITY", refers("argon"), refers(2.0), refers(20.0)) == DENSITY


def test_a_column_stays_a_column_and_a_row_a_row() -> None:
    two, three = DENSITY, python("GAS_DENSITY", "argon", 3, 20)
    assert density(refers(((2.0,), (3.0,)))) == [[two], [three]]
    assert density(refers(((2.0, 3.0),))) == [[two, three]]
    assert density([[2.0], [3.0]]) == [[two], [three]]
    assert density([[2.0, 3.0]]) == [[two, three]]
    assert density(refers(((2.0, 3.0), (3.0, 2.0)))) == [[two, three], [three, two]]


def test_a_range_of_one_cell_is_that_cell() -> None:
    assert density([[2.0]]) == DENSITY
    assert call("GAS_WORKING", "GAS_DENSITY", "argon", [[2.0]], 20.0)[1][0] == "function"


@pytest.mark.parametrize("unit", [(), (None,), (BLANK,), (refers(""),), ("",)])
def test_left_out_skipped_and_blank_are_the_default(unit: tuple[Any, ...]) -> None:
    assert density(2.0, *unit) == DENSITY


def test_a_skipped_argument_between_others_is_its_default() -> None:
    wanted = python("GAS_LOAD_COST", 48, 1.35, None, 620, 40)
    assert call("GAS_LOAD_COST", 48.0, 1.35, None, 620.0, 40.0) == wanted
    assert call("GAS_LOAD_COST", 48.0, 1.35, BLANK, 620.0, 40.0) == wanted


def test_a_blank_that_is_needed_is_told() -> None:
    assert density(BLANK) == "#VALUE! pressure: is blank; give the pressure"


def test_a_cell_formatted_as_currency_keeps_its_digits() -> None:
    price = 0.083123
    cell = Reference(Decimal("0.0831"), price)
    wanted = python("GAS_PRICE", price, "100 scf", "Nm3", "argon")
    assert call("GAS_PRICE", cell, "100 scf", "Nm3", "argon") == wanted
    column = Reference(((Decimal("0.0831"),), (Decimal("0.0831"),)), ((price,), (price,)))
    assert call("GAS_PRICE", column, "100 scf", "Nm3", "argon") == [[wanted], [wanted]]
    working = call("GAS_WORKING", "GAS_PRICE", cell, "100 scf", "Nm3", "argon")
    assert [row[4] for row in working if row[0] == "result"] == [wanted]


def test_a_date_arrives_as_its_serial_number() -> None:
    cell = Reference(dt.datetime(2026, 3, 2), 46083.0)
    wanted = python("GAS_REORDER_DATE", "2026-03-02", 14200, 1150, 9258, 60)
    assert call("GAS_REORDER_DATE", cell, 14200.0, 1150.0, 9258.0, 60.0) == wanted


def test_a_percent_cell_is_its_share() -> None:
    assert call("GAS_LOAD_COST", 48.0, 1.35, refers(0.05)) == python(
        "GAS_LOAD_COST", 48, 1.35, "5 %"
    )


@pytest.mark.parametrize(("code", "number"), NUMBERS_OF_ERRORS.items())
def test_an_error_cell_is_passed_on(code: str, number: int) -> None:
    assert density(refers(number)) == code
    assert density(number) == code  # from a formula, such as NA()
    assert density(refers(((2.0,), (number,)))) == [[DENSITY], [code]]


def test_the_seven_old_errors_have_the_numbers_that_xlwings_knows() -> None:
    known = door.through(door.cell_errors)
    assert {code: NUMBERS_OF_ERRORS[code] for code in known.values()} == {
        code: number for number, code in known.items()
    }


def test_an_error_that_is_not_known_is_refused() -> None:
    assert density(refers(FIRST_ERROR + 2999)).startswith("#VALUE! an argument is an error value")


def test_an_error_shown_as_text_is_passed_on() -> None:
    inner = density(-2.0)
    assert inner == "#NUM! pressure: -2 bar(a) is below 0 bar(a)"
    for argument in (inner, refers(inner), "#N/A", refers("#N/A")):
        shown = argument if isinstance(argument, str) else argument.value
        assert density(argument) == shown
    assert density(refers(((2.0,), (inner,)))) == [[DENSITY], [inner]]
    assert call("GAS_CHECK", "GAS_DENSITY", "argon", inner, 20.0) == inner.removeprefix("#NUM! ")


def test_a_text_that_only_begins_like_an_error_is_a_text() -> None:
    assert call("GAS_DENSITY", "#NUM!bers", 2.0, 20.0).startswith('#VALUE! gas: "#NUM!bers" is not')


@pytest.mark.parametrize("boolean", [True, False])
def test_booleans_are_refused(boolean: bool) -> None:
    wanted = f"#VALUE! pressure: {str(boolean).upper()} is not a number"
    assert density(boolean) == density(refers(boolean)) == wanted
    assert density(refers(((2.0,), (boolean,)))) == [[DENSITY], [wanted]]


def test_several_ranges_at_once_are_refused() -> None:
    for area in (Reference(2.0, 2.0, cells=2), Reference(((2.0, 3.0),), ((2.0, 3.0),), cells=4)):
        assert density(area) == "#VALUE! these are several ranges at once; give one"


def test_a_range_that_excel_does_not_give_is_told() -> None:
    shown = density(Reference(2.0, 2.0, broken=True))
    assert shown.startswith("#VALUE! Excel did not give the values of the range")


def test_a_whole_number_from_visual_basic_is_a_number() -> None:
    assert density(2) == DENSITY


# What goes back


def test_a_number_a_text_and_a_table_go_back() -> None:
    assert density(2.0) == DENSITY
    assert call("GAS_CHECK", "GAS_DENSITY", "argon", 2.0, 20.0) == "ok"
    table = call("GAS_LIST", "moisture")
    assert table == python("GAS_LIST", "moisture")
    assert {len(row) for row in table} == {3}


def test_blanks_in_a_table_go_back_as_empty_texts() -> None:
    working = call("GAS_WORKING", "GAS_DENSITY", "argon", 2.0, 20.0)
    wanted = python("GAS_WORKING", "GAS_DENSITY", "argon", 2.0, 20.0)
    assert working == [["" if value is None else value for value in row] for row in wanted]
    assert "" in working[1]


def test_a_failure_inside_is_a_sentence_and_no_traceback() -> None:
    shown = call("GAS_WORKING", "GAS_DENSITY", *["argon"] * 5)
    assert shown.startswith("#VALUE! too many arguments: GAS_DENSITY(")


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (1, 1.0),
        (np.float64(1.5), 1.5),
        (np.int64(2), 2.0),
        (np.bool_(True), True),
        (Decimal("0.25"), 0.25),
        (None, None),
        (math.nan, "#NUM! the answer is not a finite number"),
        (-math.inf, "#NUM! the answer is not a finite number"),
        (dt.timedelta(1), "#VALUE! timedelta 1 day, 0:00:00 does not fit into a cell"),
        (CellError("#N/A"), "#N/A"),
        (CellError("#NUM!", "too high"), "#NUM! too high"),
    ],
)
def test_what_excel_cannot_take_is_made_fit(value: Any, shown: Any) -> None:
    for got in (answer(value), answer([[value]])[0][0]):
        assert got == shown
        assert type(got) is type(shown)


@pytest.mark.parametrize("name", worksheet_functions())
def test_whatever_arrives_only_what_excel_takes_goes_back(name: str) -> None:
    """`in_cell` refuses every other answer."""

    @settings(max_examples=8, deadline=None, database=None,
              suppress_health_check=[HealthCheck.too_slow])  # fmt: skip
    @given(st.lists(arguments.wrong_calls(worksheet_functions()[name]), min_size=1, max_size=4))
    def check(calls: list[arguments.Call]) -> None:
        for each in calls:
            cells = [_as_it_comes(cell) for cell in each.arguments()]
            call(name, *cells)

    check()


def _as_it_comes(value: Any) -> Any:
    """Excel has no empty ranges, no numbers that are not finite, and errors as numbers."""
    if isinstance(value, CellError):
        return refers(NUMBERS_OF_ERRORS[value.code])
    if isinstance(value, float) and not math.isfinite(value):
        return refers(NUMBERS_OF_ERRORS["#NUM!"])
    return None if value == [[]] else value
