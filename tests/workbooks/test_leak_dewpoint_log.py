"""The leak and dew point log against leaks, trends and dew points worked out here.

Rise and decay: q = V Δp / t (EN 1779). Water over ice: Murphy and Koop, Q. J. R. Meteorol. Soc.
131 (2005) 1539, eq. 7, another equation than the functions' own. Helium as air: by
Knudsen's formula (tests/capillary.py).
"""

from __future__ import annotations

import datetime as dt
import math
import statistics
from pathlib import Path
from typing import Any

import pytest
from CoolProp.CoolProp import HAProps_Aux

from gasfuncs.workbooks import leak_dewpoint_log
from gasfuncs.workbooks.building import build
from tests import capillary
from tests.workbooks.editing import Computed, computed

NAME = leak_dewpoint_log.NAME
EPOCH = dt.date(1899, 12, 30)
AS_OF = dt.date(2026, 11, 2)
NEXT = 25
"""The first free row of the rise tests."""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "demo.xlsx"
    build(NAME, path)
    return path


def changed(demo: Path, tmp_path: Path, changes: dict[str, Any]) -> Computed:
    return computed(demo, tmp_path / "changed.xlsx", changes)


def serial(day: dt.date) -> int:
    return (day - EPOCH).days


def rise(volume: float, start: float, end: float, hours: float) -> float:
    """mbar·L/s of m³, mbar and h."""
    return 1000 * volume * (end - start) / (3600 * hours)


def logged(
    day: dt.date, vessel: str, start: Any, end: Any, hours: Any, row: int = NEXT
) -> dict[str, Any]:
    cells = zip("BCDEF", (serial(day), vessel, start, end, hours), strict=True)
    return {f"Rise tests!{letter}{row}": value for letter, value in cells}


SCENARIOS: dict[str, dict[str, Any]] = {
    "equal leaks": {f"Rise tests!{c}{row}": value for row in range(7, NEXT, 3)
                    for c, value in (("D", 0.01), ("E", 0.02))},
    "a leak over its limit": logged(dt.date(2026, 11, 1), "VF1", 0.008, 0.052, 2),
    "a reading with its unit": logged(dt.date(2026, 11, 1), "VF1", "8 micron", "15 micron", 1),
    "a wet line": {"Dew points!D11": -48},
}  # fmt: skip


def water_over_ice(celsius: float) -> float:
    """Pa, Murphy and Koop 2005."""
    t = celsius + 273.15
    return math.exp(9.550426 - 5723.265 / t + 3.53068 * math.log(t) - 0.00728332 * t)


def water_held(celsius: float, bars: float) -> float:
    """Pa of water in air saturated over ice, its enhancement factor by CoolProp's humid air."""
    factor = HAProps_Aux("f", celsius + 273.15, bars * 1e5, 0)[0]
    return float(factor) * water_over_ice(celsius)


def test_leaks_of_the_demo(demo: Path) -> None:
    book = Computed(demo)
    volumes = {"VF1": 4.2, "VF2": 7.5, "VF3": 2.4}
    for row in range(7, NEXT):
        vessel, start, end, hours = (book[f"Rise tests!{c}{row}"] for c in "CDEF")
        leak = rise(volumes[vessel], start, end, hours)
        assert book[f"Rise tests!G{row}"] == pytest.approx(leak, rel=1e-6)
        assert book[f"Rise tests!H{row}"] == pytest.approx((end - start) / hours, rel=1e-6)
    # N2 main, 12 May: 350 L, 13.000 bar(a) at 21.0 °C, 12.936 at 20.1 °C, 12 h
    leak = 350 * (13_000 - 12_936 * 294.15 / 293.25) / (12 * 3600)
    assert book["Decay tests!I7"] == pytest.approx(leak, rel=1e-6)
    assert book["Decay tests!J7"] == pytest.approx(leak / 0.5, rel=1e-6)
    normal = leak / 1013.25 / 1000 * 273.15 / 293.15 * 365 * 24 * 3600
    assert book["Decay tests!K7"] == pytest.approx(normal, rel=1e-4)


def test_a_vessel_without_a_limit_may_add_the_impurity(demo: Path) -> None:
    book = Computed(demo)
    # VF3: 1 ppm of oxygen in 2 Nm³/h; 1 mbar·L at 20 °C is 0.1/(R T) mol, 1 Nm³ 101325/(R 273.15)
    flow = 2 / 3600 * 101_325 / (8.314463 * 273.15)
    leak = flow * 1e-6 / (0.2095 - 1e-6) * 8.314463 * 293.15 / 0.1
    assert book["Vessels!J9"] == pytest.approx(leak, rel=1e-4)
    assert book["Vessels!K9"] == pytest.approx(1, rel=1e-6)


def test_the_drifting_furnace_is_found(demo: Path) -> None:
    book = Computed(demo)
    rows = [row for row in range(7, NEXT) if book[f"Rise tests!C{row}"] == "VF2"]
    days = [float(book[f"Rise tests!B{row}"]) for row in rows]
    shares = [rise(7.5, book[f"Rise tests!D{r}"], book[f"Rise tests!E{r}"], 2) / 0.03 for r in rows]
    line = statistics.linear_regression(days, shares)
    assert [book["Trend!J6"], book["Trend!J7"], book["Trend!J8"]] == ["steady", "grows", "steady"]
    assert book["Trend!I7"] == pytest.approx(30 * line.slope, rel=1e-6)
    assert book["Trend!K7"] == pytest.approx((1 - line.intercept) / line.slope, abs=0.01)
    assert book["Trend!L7"] == serial(dt.date(2026, 10, 7)) + 35
    assert book["Growing"] == 1
    assert "VF2 gets worse: 78% of its limit" in book["Start!B4"]
    assert "21 Dec 2026; test it again by Wed 11 Nov." in book["Start!B4"]
    assert "The next test is due on Tue 10 Nov: VF1 (and 1 more)." in book["Start!B4"]


def test_equal_leaks_are_steady(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["equal leaks"])
    assert [book["Trend!B6"], book["Trend!D6"], book["Trend!J6"]] == ["VF1", 6, "steady"]
    assert book["Trend!I6"] == pytest.approx(0, abs=1e-9)


def test_a_leak_over_its_limit(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a leak over its limit"])
    share = rise(4.2, 0.008, 0.052, 2) / 0.02
    assert book[f"Rise tests!I{NEXT}"] == pytest.approx(share, rel=1e-6)
    assert book[f"Rise tests!K{NEXT}"] == "over"
    assert book["Trend!M6"] == "over the limit"
    assert book["Trend!E6"] == serial(dt.date(2026, 11, 1))
    assert book["Start!B4"].startswith(f"VF1 is over its limit, at {share:.0%} of it. VF2 gets")
    assert book["History!C17"] == pytest.approx(share, rel=1e-6)


def test_a_pressure_that_rises_in_a_decay_test_proves_nothing(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Decay tests!F9": 13.6})  # the reservoir, from 13.5 bar(a)
    assert book["Decay tests!J9"] < 0
    assert book["Decay tests!L9"] == "repeat"
    assert book["Trend!M11"] == "repeat the test"
    assert "VF2 reservoir shows less than no leak: repeat its test." in book["Start!B4"]


def test_a_reading_with_its_unit(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, SCENARIOS["a reading with its unit"])
    leak = 4200 * 7e-3 * 1013.25 / 760 / 3600
    assert book[f"Rise tests!G{NEXT}"] == pytest.approx(leak, rel=1e-6)


def test_a_later_report_has_tests_overdue(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"As_of": serial(dt.date(2026, 11, 12))})
    # due by 12 November: VF1, VF2, N2 main (10 and 11 November), Ar main (11 November)
    assert book["Overdue"] == 4
    assert "4 tests are overdue" in book["Start!B4"]


def test_dew_points(demo: Path, tmp_path: Path) -> None:
    book = Computed(demo)
    # -61 °C of frost point at 8 bar(a)
    water = water_held(-61, 8)
    assert book["Dew points!G7"] == pytest.approx(water / 8e5 * 1e6, rel=0.01)
    in_the_open = book["Dew points!I7"]
    assert water_held(in_the_open, 1.01325) == pytest.approx(water / 8 * 1.01325, rel=0.01)
    in_the_line = book["Dew points!H7"]
    assert water_held(in_the_line, 13) == pytest.approx(water / 8 * 13, rel=0.01)
    assert book["Dew_recent"] == 3
    wet = changed(demo, tmp_path, SCENARIOS["a wet line"])
    assert wet["Dew points!J11"] == "wet"
    assert "1 of 3 recent dew points wetter than wanted" in wet["Start!B4"]


def test_helium_as_air(demo: Path) -> None:
    book = Computed(demo)
    assert book["Helium!H7"] == pytest.approx(capillary.leak_as(1.6e-2, "helium", "air"), rel=0.01)
    std = 2e-6 * 1.01325 * 293.15 / 273.15
    assert book["Helium!G10"] == pytest.approx(std, rel=1e-3)
    assert book["Helium!H10"] == pytest.approx(capillary.leak_as(std, "helium", "air"), rel=0.01)


def test_the_rise_curve_tells_leak_from_outgassing(demo: Path, tmp_path: Path) -> None:
    book = Computed(demo)
    true = 7500 * 0.0102 / 3600
    assert book["Curve_leak"] == pytest.approx(true, rel=0.02)
    assert abs(book["Curve_leak"] - true) < 4 * book["Curve_error"]
    assert book["Curve_time"] == pytest.approx(0.8, rel=0.1)
    assert book["Curve_remark"] == "told apart from outgassing"
    straight = {f"Rise readings!C{row}": 0.01 + 0.002 * (row - 8) for row in range(8, 21)}
    times = {f"Rise readings!B{row}": 0.5 * (row - 8) for row in range(8, 21)}
    book = changed(demo, tmp_path, straight | times)
    assert book["Curve_leak"] == pytest.approx(7500 * 0.004 / 3600, rel=1e-3)


WRONG = (
    ("VF1", 0.008, None, 2), ("VF1", 0.008, 0.02, "two"), ("VF1", "low", 0.02, 2),
    ("VF1", 0.02, 0.008, 2), ("VF9", 0.008, 0.02, 2), ("N2 main", 0.008, 0.02, 2),
    ("VF1", 0.008, 0.02, 0),
)  # fmt: skip


def test_rows_that_cannot_be_calculated_are_told(demo: Path, tmp_path: Path) -> None:
    changes: dict[str, Any] = {}
    for row, wrong in enumerate(WRONG, NEXT):
        changes |= logged(dt.date(2026, 11, 1), *wrong, row=row)
    book = changed(demo, tmp_path, changes)
    for row, wrong in enumerate(WRONG, NEXT):
        assert book[f"Rise tests!L{row}"] == "cannot be calculated", wrong
    assert book["Rows_wrong"] == len(WRONG)
    assert book["Start!B4"].startswith("7 row(s) cannot be calculated")


def test_wrong_rows_of_the_other_records_are_told(demo: Path, tmp_path: Path) -> None:
    changes = {
        "Vessels!C9": None, "Decay tests!E7": "warm", "Helium!E7": "drops", "Dew points!E7": None,
        "Rise readings!C10": "8 microns or so",
    }  # fmt: skip
    book = changed(demo, tmp_path, changes)
    # VF3 has six rise tests and one helium reading, which its limit is needed for
    assert book["Vessels!L9"] == "cannot be calculated"
    for cell in ("Decay tests!M7", "Helium!J7", "Helium!J10", "Dew points!K7", "Rise readings!H10"):
        assert book[cell] == "cannot be calculated", cell
    assert book["Rows_wrong"] == 1 + 6 + 1 + 2 + 1 + 1
    assert book["Start!B4"].startswith("12 row(s) cannot be calculated")


def test_too_few_readings_are_told(demo: Path, tmp_path: Path) -> None:
    late = {f"Rise readings!{letter}{row}": None for letter in "BC" for row in range(10, 21)}
    book = changed(demo, tmp_path, late)
    assert "at least 6 readings are needed" in book["Curve_remark"]
    text = changed(demo, tmp_path, {"Rise readings!C9": "?"})
    assert text["Curve_remark"] == "a reading cannot be used: see Check on Rise readings"
    assert book["Rows_wrong"] == 0


def test_a_vessel_named_twice_is_told(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Vessels!B9": "VF1"})
    assert book["Vessels!L7"] == "cannot be calculated"
    assert book["Start!B4"].endswith("see the column Check of Vessels.")


def test_text_and_absurd_numbers_on_inputs(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"Leak_ppm": "one", "Dew_limit": 900})
    assert book["Inputs_total"] - book["Inputs_ok"] == 2
    assert book["Start!B4"].startswith("Some inputs are missing or out of range")


def test_a_text_as_the_day_is_no_date_of_a_test(demo: Path, tmp_path: Path) -> None:
    book = changed(demo, tmp_path, {"As_of": "today"})
    assert book["Trend!L6"] == ""
    assert book["Start!B4"].startswith("Some inputs are missing or out of range")


def test_an_empty_book_says_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "empty.xlsx"
    build(NAME, path, filled=False)
    book = Computed(path)
    assert book["Start!B4"].startswith("Some inputs are missing")
    assert not [v for v in book.values["Start"].values() if str(v).startswith("#")]
    assert [book[f"History!{letter}19"] for letter in "CDEFGHI"] == [*[""] * 6, "Limit"]
    inputs = {"As_of": serial(AS_OF), "Recent_days": 30, "Leak_ppm": 1, "Watched": "oxygen",
              "Dew_limit": -50, "Shown_as": "air"}  # fmt: skip
    book = changed(path, tmp_path, inputs)
    assert book["Start!B4"] == "List the vessels and lines on Vessels."


def test_us_units_give_the_same_answer(demo: Path, tmp_path: Path) -> None:
    path = tmp_path / "us.xlsx"
    build(NAME, path, "US")
    us, metric = Computed(path), Computed(demo)
    for row in range(6, 12):
        assert us[f"Trend!H{row}"] == pytest.approx(metric[f"Trend!H{row}"], abs=0.01)
        assert us[f"Trend!F{row}"] * 1.01325 == pytest.approx(metric[f"Trend!F{row}"], rel=0.03)
        assert us[f"Trend!J{row}"] == metric[f"Trend!J{row}"]
    assert us["Curve_leak"] * 1.01325 == pytest.approx(metric["Curve_leak"], rel=0.02)
