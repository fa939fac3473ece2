"""Vent and fill to a purity: the book's answers against the dilution law worked out here.

r = 1 - m (1 - p_low / p_high), c_n = c_s + (c_0 - c_s) r^n (Crowl and Louvar, Chemical Process
Safety, ch. 7). Gas volumes are checked as an ideal gas, within the 0.3 % that argon departs from
it at these pressures.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.workbooks.building import build
from tests.workbooks.editing import Computed, computed

NAME = "vent_fill_purity"
START, TARGET, SUPPLY, LOW, HIGH, MIXING, VOLUME = 209_500, 10, 1, 0.1, 1.1, 0.95, 2.4

NEXT = {"Record!B19": 46310, "Record!C19": "P-016", "Record!D19": 1, "Record!E19": 0.1,
        "Record!F19": 1.1}  # fmt: skip
SCENARIOS: dict[str, dict[str, Any]] = {
    "a lower vent": {"Low": 0.05},
    "a vent valve": {"Low": 1.05, "High": 3, "Emptied_by": "vent valve"},
    "a purge more": NEXT | {"Record!G19": 12},
}


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "demo.xlsx"
    build(NAME, path)
    return path


def changed(demo: Path, tmp_path: Path, changes: dict[str, Any]) -> Computed:
    return computed(demo, tmp_path / "changed.xlsx", changes)


def left(count: int, low: float = LOW, high: float = HIGH, supply: float = SUPPLY) -> float:
    share = 1 - MIXING * (1 - low / high)
    return supply + (START - supply) * share**count


def test_five_cycles_do_not_reach_10_ppm(demo: Path) -> None:
    book = Computed(demo)
    assert book["Left_planned"] == pytest.approx(left(5), rel=1e-9)
    assert left(5) > TARGET > left(6)
    assert book["Needed"] == 6
    assert book["Left_needed"] == pytest.approx(left(6), rel=1e-9)
    assert book["Start!B4"].startswith("No: 5 cycles leave 10.9 ppm of oxygen in VF3; 10 ppm is")
    fill = VOLUME * (HIGH - LOW) / 1.01325 * 273.15 / 293.15
    assert book["Gas_needed"] == pytest.approx(6 * fill, rel=0.003)
    assert book["Cost_needed"] == pytest.approx(0.95 * 6 * fill, rel=0.003)
    emptying = VOLUME / 120 * math.log(HIGH / LOW)
    assert book["Hours_needed"] == pytest.approx(6 * (emptying + fill / 60 + 3 / 60), rel=0.003)


def test_the_cycle_sheet_follows_the_dilution_law(demo: Path) -> None:
    book = Computed(demo)
    for row in range(6, 19):
        count = row - 6
        assert book[f"Cycles!B{row}"] == count
        assert book[f"Cycles!C{row}"] == pytest.approx(left(count), rel=1e-9)


def test_other_methods(demo: Path) -> None:
    book = Computed(demo)
    changes = math.log((START - SUPPLY) / (TARGET - SUPPLY)) / MIXING
    assert book["Methods!E6"] == pytest.approx(changes, rel=1e-9)
    swept = changes * VOLUME * 1.05 / 1.01325 * 273.15 / 293.15
    assert book["Gas_swept"] == pytest.approx(swept, rel=0.003)
    rise = 0.2095 * 0.005e-3 * 600 / 1000 / VOLUME  # bar: mbar L/s over 10 min in 2400 L
    deep = 0.05e-3
    residual = (START * deep + 1e6 * rise + SUPPLY * (HIGH - deep - rise)) / HIGH
    assert book["Left_evacuated"] == pytest.approx(residual, rel=1e-6)
    assert book["Methods!D11"] == "no"


def test_a_lower_vent_makes_five_cycles_enough(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a lower vent"])
    assert book["Left_planned"] == pytest.approx(left(5, low=0.05), rel=1e-9)
    assert book["Start!B4"].startswith("Yes: 5 cycles leave 2.5 ppm")


def test_a_pressure_swing_with_a_vent_valve(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a vent valve"])
    count = next(n for n in range(100) if left(n, 1.05, 3) <= TARGET)
    assert book["Needed"] == count
    fill = VOLUME * 1.95 / 1.01325 * 273.15 / 293.15
    assert book["Cycle_hours"] == pytest.approx(6 / 60 + 3 / 60 + fill / 60, rel=0.003)


def test_a_grade_that_cannot_reach_the_target_is_told(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Supply_told": "grade", "Grade": 4.8})
    assert book["Supply"] == pytest.approx(20)
    assert book["Start!B4"].startswith(
        "These inputs do not go together. The impurity wanted is not above that of the supply"
    )


def test_swapped_pressures_are_told(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Low": 1.1, "High": 0.1})
    assert book["Start!B4"].endswith("is not below the one filled to: swap the two.")


def test_a_vent_valve_does_not_make_a_vacuum(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Emptied_by": "vent valve"})
    assert "A vent valve does not get below the pressure of the air" in book["Start!B4"]


def test_the_demo_fails_once_and_passes_after(demo: Path) -> None:
    book = Computed(demo)
    assert [book[f"Result!{cell}8"] for cell in "BDFH"] == ["P-015", 6, 4.2, "pass"]
    assert [book[f"Result!{cell}9"] for cell in "BDFH"] == ["P-014", 6, 78, "not passed"]
    expected = float(START - SUPPLY)
    for low, high in ((0.25, 1.10), (0.24, 1.11), (0.26, 1.10), (0.22, 1.10), (0.25, 1.09),
                      (0.24, 1.10)):  # fmt: skip
        expected *= 1 - MIXING * (1 - low / high)
    assert book["Result!E9"] == pytest.approx(SUPPLY + expected, rel=1e-9)


def test_a_row_added_to_the_record_is_judged(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a purge more"])
    assert [book[f"Result!{cell}8"] for cell in "BDFH"] == ["P-016", 1, 12, "not passed"]
    assert book["Result!E8"] == pytest.approx(left(1), rel=1e-9)
    assert book["Result!H9"] == "pass"


def test_a_gauge_reading_with_its_unit(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, NEXT | {"Record!E19": "100 mbar"})
    assert book["Result!E8"] == pytest.approx(left(1), rel=1e-9)
    assert book["Result!H8"] == "no reading after the last cycle"


@pytest.mark.parametrize(
    "wrong",
    [{"Record!E19": None}, {"Record!E19": "low"}, {"Record!G19": "12,o"}, {"Record!E19": 1.2},
     {"Record!B19": "yesterday"}],
)  # fmt: skip
def test_a_row_that_cannot_be_calculated_is_told(
    demo: Path, tmp_path: Path, wrong: dict[str, Any]
) -> None:
    book = changed(demo, tmp_path, NEXT | {"Record!G19": 12} | wrong)
    assert book["Record!K19"] == "cannot be calculated"
    assert book["Rows_wrong"] == 1
    assert book["Start!B4"].startswith("1 row(s) of the record cannot be calculated")
    assert book["Result!H8"] == "not calculated: mend the record"


def test_missing_cycle_numbers_do_not_pass(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Record!D16": 9})
    assert book["Result!H8"] == "cycle numbers with gaps or repeats"


def test_text_in_a_number_cell(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Low": "abc"})
    assert book["Start!B4"].startswith("Some inputs are missing or out of range")


def test_an_absurd_number(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Mixing": 5})
    assert book["Start!B4"].startswith("Some inputs are missing or out of range")


def test_an_empty_book_says_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "empty.xlsx"
    build(NAME, path, filled=False)
    book = Computed(path)
    assert book["Start!B4"].startswith("Some inputs are missing")
    start = book.values["Start"].values()
    assert not [value for value in start if str(value).startswith("#")]
    assert book["Plan!E6"] == "See the check list on the Inputs sheet"
    assert book["Result!B4"].startswith("No purge is recorded yet")


def test_us_units_give_the_same_answer(demo: Path, tmp_path: Path) -> None:
    path = tmp_path / "us.xlsx"
    build(NAME, path, "US")
    us, metric = Computed(path), Computed(demo)
    assert us["Left_planned"] == pytest.approx(metric["Left_planned"], rel=0.01)
    assert us["Gas_needed"] == pytest.approx(metric["Gas_needed"] * 38.04, rel=0.002)
    assert us["Cost_needed"] == pytest.approx(metric["Cost_needed"], rel=0.002)
    assert us["Result!E8"] == pytest.approx(metric["Result!E8"], rel=0.01)
    assert us["Result!H8"] == "pass"
