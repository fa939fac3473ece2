"""The leak and dew point log against leaks, bands, trends and dew points worked out here.

Rise and decay: q = V Δp / t (EN 1779). Water over ice: Murphy and Koop, Q. J. R. Meteorol. Soc.
131 (2005) 1539, eq. 7, another equation than the functions' own. Helium as air: by
Knudsen's formula (tests/capillary.py).
"""

from __future__ import annotations

import datetime as dt
import math
import statistics
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from CoolProp.CoolProp import HAProps_Aux
from openpyxl.utils import range_boundaries
from scipy import stats

from gasfuncs.workbooks.sheets.building import BOOKS, build
from gasfuncs.workbooks.sheets.leak_state import CONFIDENCE
from gasfuncs.workbooks.sheets.parts import Given
from tests import capillary
from tests.workbooks.editing import Computed, Declared, computed, start

BOOK = BOOKS["leak_dewpoint_log"]
NAME = BOOK.name
ROWS = 40
DEMO = GIVEN = BOOK.demo()
SHEETS = Declared(BOOK, DEMO, ROWS)
VESSELS = {row[0]: row for row in DEMO.tables["Vessels"]}
RISES, DECAYS = DEMO.tables["Rises"], DEMO.tables["Decays"]
FREE = len(RISES) + 1
FREE_DECAY = len(DECAYS) + 1
WITHIN = 0.05
"""The vacuum gauge's scale; each reading within STEP mbar, rectangular."""
STEP = 0.0003


def serial(year: int, month: int, day: int) -> int:
    return (dt.date(year, month, day) - dt.date(1899, 12, 30)).days


def rise(row: int, day: float, vessel: str, every: Any, *readings: Any) -> dict[str, Any]:
    values = {f"Reading_{number}": value for number, value in enumerate(readings, 1)}
    return SHEETS.typed("Rises", row, Date=day, Vessel=vessel, Every=every, **values)


def decay(row: int, day: float, vessel: str, *typed: Any) -> dict[str, Any]:
    names = ("Start", "Start_temperature", "End", "End_temperature", "Hours")
    values = dict(zip(names, typed, strict=True))
    return SHEETS.typed("Decays", row, Date=day, Vessel=vessel, **values)


NOVEMBER = serial(2026, 11, 1)
LATE = {"Report_day": serial(2026, 11, 2)}
LEAKING = tuple(
    round(0.008 + 0.02 * at + 0.008 * (1 - math.exp(-0.5 * at / 0.8)), 5) for at in range(12)
)
"""mbar each half hour in VF1: 0.04 mbar/h, and outgassing that dies away."""

SCENARIOS: dict[str, dict[Any, Any]] = {
    "a furnace leaks": rise(FREE, NOVEMBER, "VF1", 0.5, *LEAKING) | LATE,
    "a falling pressure": rise(FREE, NOVEMBER, "VF1", 2, 0.02, 0.008) | LATE,
    "a year later": {"Report_day": serial(2027, 11, 30)},
    "a wet line": SHEETS.typed("Dews", 4, Dew_point=-28),
    "a slow pump": {"Pumped_to": 0.08},
}
"""What is changed, by name."""


@pytest.fixture(scope="module")
def book() -> Path:
    return start(BOOK, GIVEN, ROWS)


def state(found: Computed, column: str, vessel: str) -> Any:
    row = SHEETS.column(found, "State.Vessel").index(vessel) + 1
    return found[SHEETS.place(f"State.{column}", row)]


def cell(found: Computed, column: str, row: int) -> Any:
    return found[SHEETS.place(column, row)]


def leak_of(test: Sequence[Any]) -> tuple[float, float]:
    """Leak and the end of its band of a test of two readings, in mbar·L/s."""
    _, vessel, hours, start, end, *_ = test
    litres = VESSELS[vessel][4] * 1000
    leak = litres * (end - start) / (3600 * hours)
    each = litres * STEP / math.sqrt(3) * math.sqrt(2) / (3600 * hours)
    return leak, leak + 1.96 * math.hypot(each, leak * WITHIN / math.sqrt(3))


@pytest.mark.parametrize("row", range(1, len(RISES) + 1))
def test_every_rise_test(row: int, book: Path) -> None:
    found, test = Computed(book), RISES[row - 1]
    if test[-1] is not None:
        assert cell(found, "Rises.Leak", row) == pytest.approx(7500 * 0.0102 / 3600, rel=0.03)
        assert cell(found, "Rises.Verdict", row) == "tight"
        return
    leak, high = leak_of(test)
    assert cell(found, "Rises.Leak", row) == pytest.approx(leak, rel=1e-6)
    assert cell(found, "Rises.High", row) == pytest.approx(high, rel=0.01)
    limit = cell(found, "Rises.Limit", row)
    assert cell(found, "Rises.Of limit", row) == pytest.approx(100 * leak / limit, rel=1e-6)
    assert cell(found, "Rises.Verdict", row) == ("tight" if high <= limit else "cannot tell")


def test_limits_as_a_rate_of_rise_and_from_the_purge_flow(book: Path) -> None:
    found = Computed(book)
    # VF1: 13 micron/h in 4.2 m³; 1 micron is 1e-3 torr, 1 torr 101325/760 Pa
    limit = 13e-3 * 1013.25 / 760 * 4200 / 3600
    assert cell(found, "Vessels.Leak limit", 1) == pytest.approx(limit, rel=1e-6)
    # VF3: 1 ppm of oxygen in 2 Nm³/h; 1 mbar·L at 20 °C is 0.1/(R T) mol, 1 Nm³ 101325/(R 273.15)
    flow = 2 / 3600 * 101_325 / (8.314463 * 273.15)
    leak = flow * 1e-6 / (0.2095 - 1e-6) * 8.314463 * 293.15 / 0.1
    assert cell(found, "Vessels.Leak limit", 3) == pytest.approx(leak, rel=1e-4)
    share = state(found, "Leak", "VF3") / leak
    assert state(found, "Leak adds", "VF3") == pytest.approx(share, rel=1e-3)


@pytest.mark.parametrize("row", range(1, len(DECAYS) + 1))
def test_every_decay_test(row: int, book: Path) -> None:
    _, vessel, start, warm, end, cool, hours = DECAYS[row - 1]
    found = Computed(book)
    litres, site = VESSELS[vessel][4] * 1000, found["Site_bar"]
    first, last = (1000 * (each + site) for each in (start, end))
    kelvins = (warm + 273.15, cool + 273.15)
    leak = litres * (first - last * kelvins[0] / kelvins[1]) / (3600 * hours)
    # each pressure ±10 mbar, each temperature ±0.2 K, rectangular; ideal gas to 3 % of the band
    spread = math.sqrt(2 / 3) * math.hypot(10, first * 0.2 / kelvins[0])
    band = 1.96 * litres * spread / (3600 * hours)
    assert cell(found, "Decays.Leak", row) == pytest.approx(leak, abs=0.05 * band + 0.02 * leak)
    half = (cell(found, "Decays.High", row) - cell(found, "Decays.Low", row)) / 2
    assert half == pytest.approx(band, rel=0.05)


def test_the_state_prints_on_one_page(book: Path) -> None:
    state = openpyxl.load_workbook(book)["State"]
    rows = SHEETS.plan.cells("State.Vessel")
    *_, last = range_boundaries(state.print_area.rpartition("!")[2])
    assert last == rows.top + 40
    assert "first 40 are printed" in state["B2"].value
    assert state.page_setup.fitToHeight in (None, 1)


def test_the_leak_of_the_main_is_the_plants_loss(book: Path) -> None:
    found = Computed(book)
    # 90 Nm³ in 30 days, as pressure times volume at 20 °C
    leak = 90e3 * 1013.25 * 293.15 / 273.15 / (30 * 86_400)
    assert state(found, "Leak", "N2 main") == pytest.approx(leak, rel=0.03)
    assert state(found, "Verdict", "N2 main") == "leaks"
    assert found["Answer_level"] == "act"
    assert found["Answer"].startswith("N2 main leaks 3")


def test_the_drifting_furnace_is_found(book: Path) -> None:
    found = Computed(book)
    rows = [row for row, test in enumerate(RISES, 1) if test[1] == "VF2"]
    days = [(RISES[row - 1][0] - dt.date(1899, 12, 30)).days for row in rows]
    shares = [cell(found, "Rises.Of limit", row) for row in rows]
    line = statistics.linear_regression(days, shares)
    fit = stats.linregress(days, shares)
    assert cell(found, "Series.Slope", 2) == pytest.approx(line.slope, rel=1e-6)
    assert fit.pvalue < 1 - float(CONFIDENCE)
    assert [state(found, "Course", name) for name in ("VF1", "VF2", "VF3")] == [
        "steady",
        "grows",
        "steady",
    ]
    best = (100 - line.intercept) / line.slope
    assert days[-1] < state(found, "May reach limit", "VF2") < best
    assert "VF2 grows: 71 % of its limit" in found["Answer"]


def test_an_overdue_test_older_than_a_year_still_counts(book: Path, tmp_path: Path) -> None:
    found = Computed(book)
    assert state(found, "Verdict", "VF3 reservoir") == "tight"
    assert state(found, "To do", "VF3 reservoir") == "test is overdue"
    later = computed(book, tmp_path / "b.xlsx", SCENARIOS["a year later"])
    assert state(later, "Verdict", "N2 main") == "leaks"
    assert later["Answer"].startswith("N2 main leaks")
    assert later["Answer_level"] == "act"
    assert later["Overdue"] == 6


def test_an_unreadable_test_hides_no_other(book: Path, tmp_path: Path) -> None:
    both = SCENARIOS["a falling pressure"] | decay(
        FREE_DECAY, NOVEMBER, "N2 main", 12.4, 20, 12.9, 20, 1
    )
    found = computed(book, tmp_path / "b.xlsx", both)
    assert cell(found, "Rises.Verdict", FREE) == "repeat"
    assert cell(found, "Decays.Verdict", FREE_DECAY) == "repeat"
    assert state(found, "Verdict", "VF1") == "tight"
    assert state(found, "To do", "VF1") == "repeat the test"
    assert state(found, "Verdict", "N2 main") == "leaks"
    assert found["Answer"].startswith("N2 main leaks")
    assert "The last test of VF1 proves nothing: repeat it." in found["Answer"]


def test_two_leaks_are_told_beside_a_test_that_cannot_be_read(book: Path, tmp_path: Path) -> None:
    """One falling rise test hid two vessels over their limit."""
    falls = rise(FREE + 1, NOVEMBER, "VF2", 2, 0.02, 0.008)
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["a furnace leaks"] | falls)
    assert cell(found, "Rises.Verdict", FREE + 1) == "repeat"
    assert [state(found, "Verdict", each) for each in ("VF1", "N2 main")] == ["leaks", "leaks"]
    assert found["Over"] == 2
    assert found["Answer_level"] == "act"
    assert "2 in all do" in found["Answer"]


def test_a_test_that_is_typed_twice_is_told(book: Path, tmp_path: Path) -> None:
    twice = rise(FREE, NOVEMBER, "VF1", 2, 0.008, 0.01)
    twice |= rise(FREE + 1, NOVEMBER, "VF1", 2, 0.008, 0.01)
    another = rise(FREE + 2, NOVEMBER, "VF1", 2, 0.008, 0.012)
    found = computed(book, tmp_path / "b.xlsx", twice | another | LATE)
    assert found["Rises_out"] == 2
    assert cell(found, "Rises.Check", FREE).startswith("twice: the same Date and Vessel")
    assert cell(found, "Rises.Check", FREE + 2) == "ok"


def test_what_other_books_ask_for_is_the_state(book: Path) -> None:
    found = Computed(book)
    for number in range(1, 5):
        vessel = found[f"Other_vessel_{number}"]
        assert found[f"Other_leak_{number}"] == state(found, "Leak", vessel)
        assert found[f"Other_most_{number}"] == state(found, "High", vessel)


def test_a_furnace_that_leaks(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", SCENARIOS["a furnace leaks"])
    assert state(found, "Leak", "VF1") == pytest.approx(4200 * 0.04 / 3600, rel=0.01)
    assert state(found, "Verdict", "VF1") == "leaks"
    assert found["Over"] == 2
    assert found["Answer"].startswith("VF1 leaks 0.04")


def test_a_new_limit_leaves_old_tests_as_they_were(book: Path, tmp_path: Path) -> None:
    values = dict(zip("BCDEFGH", VESSELS["VF2"][:7], strict=True))
    values |= {"C": serial(2026, 9, 1), "G": 0.01, "J": None, "K": 35}
    new = {SHEETS.place("Vessels.Vessel", 8).replace("!B", f"!{c}"): v for c, v in values.items()}
    found, before = computed(book, tmp_path / "b.xlsx", new), Computed(book)
    for row, test in enumerate(RISES, 1):
        same = test[1] != "VF2" or test[0] < dt.date(2026, 9, 1)
        now = cell(found, "Rises.Limit", row)
        assert now == (cell(before, "Rises.Limit", row) if same else 0.01)
    assert state(found, "Verdict", "VF2") == "leaks"


def test_a_test_with_a_time_of_day_counts(book: Path, tmp_path: Path) -> None:
    day = serial(2026, 10, 31) + 0.6
    found = computed(book, tmp_path / "b.xlsx", rise(FREE, day, "VF1", 2, 0.008, 0.01))
    assert state(found, "Last test", "VF1") == day


def test_a_reading_near_the_airs_pressure_is_left_out(book: Path, tmp_path: Path) -> None:
    """Air flows in evenly up to 0.528 of its pressure: the critical ratio, (2 / 2.4) ** 3.5."""
    typed = rise(FREE, NOVEMBER - 1, "VF1", 2, 0.008, 760)
    found, before = computed(book, tmp_path / "b.xlsx", typed), Computed(book)
    assert cell(found, "Rises.Check", FREE).startswith("a reading above half the air's pressure")
    assert state(found, "Verdict", "VF1") == state(before, "Verdict", "VF1")
    assert found["Answer"].startswith("Without 1 row(s)")


def water_over_ice(celsius: float) -> float:
    """Pa, Murphy and Koop 2005."""
    t = celsius + 273.15
    return math.exp(9.550426 - 5723.265 / t + 3.53068 * math.log(t) - 0.00728332 * t)


def water_held(celsius: float, bars: float) -> float:
    """Pa of water in air saturated over ice, its enhancement factor by CoolProp's humid air."""
    factor = HAProps_Aux("f", celsius + 273.15, bars * 1e5, 0)[0]
    return float(factor) * water_over_ice(celsius)


def test_dew_points(book: Path, tmp_path: Path) -> None:
    found = Computed(book)
    _, _, dew, gauge = DEMO.tables["Dews"][0]
    cell_bar, line_bar = gauge + found["Site_bar"], 12.4 + found["Site_bar"]
    water = water_held(dew, cell_bar) / cell_bar
    assert cell(found, "Dews.Water", 1) == pytest.approx(water / 1e5 * 1e6, rel=0.01)
    in_the_open = cell(found, "Dews.At air pressure", 1)
    assert water_held(in_the_open, 1.01325) == pytest.approx(water * 1.01325, rel=0.01)
    in_the_line = cell(found, "Dews.In the line", 1)
    assert water_held(in_the_line, line_bar) == pytest.approx(water * line_bar, rel=0.01)
    assert cell(found, "Dews.Verdict", 1) == "dry"
    wet = computed(book, tmp_path / "b.xlsx", SCENARIOS["a wet line"])
    assert cell(wet, "Dews.At air pressure", 4) > -50 + 2
    assert cell(wet, "Dews.Verdict", 4) == "wet"
    assert "Too wet: Ar main, at VF3." in wet["Answer"]


def test_a_dew_point_near_its_limit_cannot_be_told(book: Path, tmp_path: Path) -> None:
    limit = {SHEETS.place("Places.Dew limit", 3): -55}
    found = computed(book, tmp_path / "b.xlsx", limit)
    # -54 °C at almost the air's pressure, read to 2 K
    assert cell(found, "Dews.Verdict", 5) == "cannot tell"


def test_helium_as_air(book: Path) -> None:
    found = Computed(book)
    told = cell(found, "Helium.In service", 1)
    assert told == pytest.approx(capillary.leak_as(1.6e-2, "helium", "air"), rel=0.01)
    standard = 2e-6 * 1.01325 * 293.15 / 273.15
    told = cell(found, "Helium.In service", 4)
    assert told == pytest.approx(capillary.leak_as(standard, "helium", "air"), rel=0.01)


def test_leak_outgassing_or_pump(book: Path, tmp_path: Path) -> None:
    found = Computed(book)
    assert found["Long_leak"] == pytest.approx(7500 * 0.0102 / 3600, rel=0.02)
    assert found["Fit_outgassing"] == pytest.approx(7500 * 0.008 / 0.8 / 3600, rel=0.03)
    # 25 m² · 7.2e-7 / 8 + 0.05 m² · 1.5e-6 / 8^0.8, areas in cm²
    surfaces = 25e4 * 7.2e-7 / 8 + 500 * 1.5e-6 / 8**0.8
    assert found["Expected_outgassing"] == pytest.approx(surfaces, rel=1e-6)
    held = (found["Long_leak"] + found["Fit_outgassing"]) / (250 / 3.6) + 0.01
    assert found["Pump_expected"] == pytest.approx(held, rel=1e-4)
    assert "Leak: no." in found["Source_leak"]
    assert "printed rates allow" in found["Source_gas"]
    assert "tolerances allow" in found["Source_pump"]
    slow = computed(book, tmp_path / "b.xlsx", SCENARIOS["a slow pump"])
    assert slow["Source_pump"].startswith("Pump: yes")
    dirty = computed(book, tmp_path / "c.xlsx", SHEETS.typed("Materials", 1, Area=1))
    assert dirty["Source_gas"].startswith("Outgassing: yes")


def test_a_long_test_with_a_gap_is_not_judged(book: Path, tmp_path: Path) -> None:
    """A reading that is not typed is none of 0 mbar."""
    gap = computed(book, tmp_path / "b.xlsx", SHEETS.typed("Curve", 6, Pressure=None))
    assert gap["Source_leak"].startswith("Leak: not judged: 1 reading(s)")
    assert gap["Long_verdict"] not in ("tight", "leaks")
    assert not gap["Source_gas"]


WRONG = {
    "a number is missing": ("VF1", 2, 0.008, None),
    "number is missing: Date, Every": ("VF1", "two", 0.008, 0.02),
    "not in the list": ("VF9", 2, 0.008, 0.02),
    "cannot be calculated": ("N2 main", 2, 0.008, 0.02),
    "below 0": ("VF1", 2, -0.008, 0.02),
}


@pytest.mark.parametrize("says", list(WRONG))
def test_a_wrong_row_says_why_and_costs_only_itself(says: str, book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", rise(FREE, serial(2026, 10, 20), *WRONG[says]))
    assert says in cell(found, "Rises.Check", FREE)
    assert found["Rises_out"] == 1
    assert state(found, "Verdict", "VF1") == "tight"
    assert found["Answer_level"] == "act"
    assert found["Answer"].startswith(
        "Without 1 row(s): see the Check on Rise tests first. N2 main"
    )


def test_a_decay_test_that_cannot_be_read_leaves_the_last_that_can(
    book: Path, tmp_path: Path
) -> None:
    tests = DEMO.tables["Decays"]
    row = max(at for at, test in enumerate(tests, 1) if test[1] == "N2 main")
    found = computed(book, tmp_path / "b.xlsx", SHEETS.typed("Decays", row, Start="12.4 bar"))
    assert found["Answer_level"] == "act"
    assert found["Answer"].startswith("Without 1 row(s): see the Check on Decay tests first. N2")
    assert state(found, "Tests", "N2 main") == state(Computed(book), "Tests", "N2 main") - 1


def test_an_empty_book_says_what_to_do(tmp_path: Path) -> None:
    build(BOOK, tmp_path / "empty.xlsx", given=Given(), rows=ROWS)
    found = Computed(tmp_path / "empty.xlsx")
    assert found["Answer_level"] == "cannot tell"
    assert "are missing" in found["Answer"]
    inputs = {name: value for name, value in DEMO.inputs.items() if "_vessel" not in name}
    inputs |= {"Report_day": serial(2026, 10, 31), "Long_day": None}
    said = computed(tmp_path / "empty.xlsx", tmp_path / "b.xlsx", inputs)
    assert said["Answer"] == "List the vessels and lines on Vessels."
