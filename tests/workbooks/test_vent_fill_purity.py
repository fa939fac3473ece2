"""Vent and fill to a purity: the book's answers against the dilution law and balances made here.

r = 1 - m (1 - p_low / p_high), c_n = c_s + (c_0 - c_s) r^n (Crowl and Louvar, Chemical Process
Safety, ch. 7). Gas is ideal here, within the 0.3 % that argon departs from it at these pressures.
A barrer is 1e-10 cm³(STP) cm/(cm² s cmHg); a tube's wall: Crank, The Mathematics of Diffusion,
5.2.1. Water in moist gas: CoolProp's humid air.
"""

from __future__ import annotations

import datetime as dt
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from CoolProp.CoolProp import HAPropsSI

from gasfuncs.workbooks.sheets.building import BOOKS, build
from gasfuncs.workbooks.sheets.kinds import US
from gasfuncs.workbooks.sheets.parts import Given
from tests.workbooks.editing import Computed, Declared, computed, start

BOOK = BOOKS["vent_fill_purity"]
NAME = BOOK.name
ROWS = 45
DEMO = GIVEN = BOOK.demo()
SHEETS = Declared(BOOK, DEMO, ROWS)
PURGES, SWINGS = DEMO.tables["Purges"], DEMO.tables["Swings"]
FREE, FREE_CYCLE = len(PURGES) + 1, len(SWINGS) + 1

START, TARGET, SUPPLY, VOLUME = 209_500, 10, 1, 2.4
WORST, BEST = 0.9, 1.0
SITE = 1.01325 * (1 - 2.25577e-5 * 210) ** 5.25588
"""bar at 210 m: the standard atmosphere as ISO 2533 prints its factors (memory)."""
LOW, HIGH = 0.1, 0.11 + SITE
NORMAL_MOLES = 101_325 / (8.314462618 * 273.15)
"""mol in a Nm³ of an ideal gas."""


def serial(year: int, month: int, day: int) -> int:
    return (dt.date(year, month, day) - dt.date(1899, 12, 30)).days


def purge(row: int, reading: Any, **more: Any) -> dict[str, Any]:
    values = {"Date": serial(2026, 10, 20), "Purge": "P-016", "Vessel": "VF3", "Wanted": 10,
              "Supply": 1, "Analyser": "O2-1", "Reading": reading}  # fmt: skip
    return SHEETS.typed("Purges", row, **values | more)


def cycle(row: int, number: Any, low: Any, high: Any, purge: str = "P-016") -> dict[str, Any]:
    return SHEETS.typed("Swings", row, Purge=purge, Cycle=number, Low=low, High=high)


SCENARIOS: dict[str, dict[Any, Any]] = {
    "a lower vent": {"Plan_low": 50, "Planned": 5},
    "four cycles": {"Planned": 4},
    "a vent valve": {"Plan_low": 1050, "Plan_high": 2, "Planned": 14, "Emptied_by": "vent valve"},
    "a purge fails": purge(FREE, 12) | cycle(FREE_CYCLE, 1, 100, 0.11),
    "below the supply": purge(FREE, 0.2),
    "below the scale": purge(FREE, "<20"),
    "another target": {"Wanted": 2, "Planned": 9, "Certificate": 0.1},
    "a tight hose": SHEETS.typed("Hoses", 1, Oxygen_permeability=8, Water_permeability=90),
}
"""What is changed, by name."""


@pytest.fixture(scope="module")
def book() -> Path:
    return start(BOOK, GIVEN, ROWS)


def changed(book: Path, tmp_path: Path, scenario: str) -> Computed:
    return computed(book, tmp_path / "b.xlsx", SCENARIOS[scenario])


def cell(found: Computed, column: str, row: int) -> Any:
    return found[SHEETS.place(column, row)]


def share(mixing: float, low: float = LOW, high: float = HIGH) -> float:
    return 1 - mixing * (1 - low / high)


def left(count: int, mixing: float, low: float = LOW, high: float = HIGH) -> float:
    return SUPPLY + (START - SUPPLY) * share(mixing, low, high) ** count


def test_the_air_pressure_at_the_site(book: Path) -> None:
    assert Computed(book)["Site_bar"] == pytest.approx(SITE, rel=1e-4)


def test_six_cycles_are_enough_at_the_worst_mixing_too(book: Path) -> None:
    found = Computed(book)
    assert found["Left_planned"] == pytest.approx(left(6, 0.95), rel=1e-3)
    assert found["Left_worst"] == pytest.approx(left(6, WORST), rel=1e-3)
    assert left(5, WORST) > TARGET > left(6, WORST)
    assert found["Needed"] == 6
    assert found["Plan_verdict"] == "yes"
    fill = VOLUME * (HIGH - LOW) / 1.01325 * 273.15 / 293.15
    assert found["Gas_needed"] == pytest.approx(6 * fill, rel=0.003)
    assert found["Cost_needed"] == pytest.approx(0.95 * 6 * fill, rel=0.003)
    emptying = VOLUME / 120 * math.log(HIGH / LOW)
    assert found["Hours_needed"] == pytest.approx(6 * (emptying + fill / 60 + 3 / 60), rel=0.003)


def test_the_band_of_what_is_left(book: Path) -> None:
    """Mixing and both pressures rectangular, here with a million trials of NumPy."""
    chance = np.random.default_rng(5)
    low, high = (each * chance.uniform(0.95, 1.05, 1_000_000) for each in (LOW, HIGH))
    mixing = chance.uniform(WORST, BEST, 1_000_000)
    trials = SUPPLY + (START - SUPPLY) * (1 - mixing * (1 - low / high)) ** 6
    least, most = np.quantile(trials, (0.025, 0.975))
    found = Computed(book)
    assert found["Left_least"] == pytest.approx(least, rel=0.02)
    assert found["Left_most"] == pytest.approx(most, rel=0.02)


def test_the_course_follows_the_dilution_law(book: Path) -> None:
    found = Computed(book)
    for row in range(1, 14):
        assert cell(found, "Course.Cycles", row) == row - 1
        assert cell(found, "Course.Oxygen left", row) == pytest.approx(
            left(row - 1, 0.95), rel=0.002
        )
        assert cell(found, "Course.At worst mixing", row) == pytest.approx(
            left(row - 1, WORST), rel=0.002
        )


def test_other_methods(book: Path) -> None:
    found = Computed(book)
    changes = math.log((START - SUPPLY) / (TARGET - SUPPLY)) / WORST
    assert cell(found, "Methods.Cycles or changes", 3) == pytest.approx(changes, rel=1e-9)
    swept = changes * VOLUME * (0.06 + SITE) / 1.01325 * 273.15 / 293.15
    assert cell(found, "Methods.Gas", 3) == pytest.approx(swept, rel=0.003)
    rise = 0.00096e-3 * 600 / 1000 / VOLUME  # bar: mbar L/s over 10 min in 2400 L
    deep = 0.05e-3
    residual = (START * deep + 209_500 * rise + SUPPLY * (HIGH - deep - rise)) / HIGH
    assert cell(found, "Methods.Oxygen left", 2) == pytest.approx(residual, rel=1e-3)
    assert SHEETS.column(found, "Methods.Reaches it") == ["yes", "no", "yes"]


def test_a_lower_vent_makes_five_cycles_enough(book: Path, tmp_path: Path) -> None:
    found = changed(book, tmp_path, "a lower vent")
    assert left(5, WORST, low=0.05) < 20
    assert found["Left_planned"] == pytest.approx(left(5, 0.95, low=0.05), rel=2e-3)
    assert found["Plan_verdict"] == ("yes" if found["Left_most"] <= TARGET else "cannot tell")


def test_four_cycles_are_too_few_whatever_the_mixing(book: Path, tmp_path: Path) -> None:
    found = changed(book, tmp_path, "four cycles")
    assert left(4, BEST) > TARGET
    assert found["Plan_verdict"] == "no"
    assert found["Answer_level"] == "act"
    assert "too few. 6 are needed" in found["Answer"]


def test_five_cycles_cannot_be_told(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", {"Planned": 5, "Use_wanted": 50})
    assert left(5, BEST) < TARGET < left(5, WORST)
    assert found["Plan_verdict"] == "cannot tell"
    assert found["Answer_level"] == "cannot tell"
    assert "6 are enough" in found["Answer"]


def test_a_pressure_swing_with_a_vent_valve(book: Path, tmp_path: Path) -> None:
    found = changed(book, tmp_path, "a vent valve")
    high = 2 + SITE
    count = next(n for n in range(100) if left(n, WORST, 1.05, high) <= TARGET)
    assert found["Needed"] == count
    fill = VOLUME * (high - 1.05) / 1.01325 * 273.15 / 293.15
    assert found["Cycle_hours"] == pytest.approx(6 / 60 + 3 / 60 + fill / 60, rel=0.003)


PROBLEMS: dict[str, dict[str, Any]] = {
    "not below the one it is filled to": {"Plan_low": 1200},
    "not above that of the supply": {"Supply_told": "grade", "Grade": 4.8},
    "a vent valve does not get below": {"Emptied_by": "vent valve"},
}


@pytest.mark.parametrize("says", list(PROBLEMS))
def test_a_plan_that_does_not_go_together(says: str, book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", PROBLEMS[says] | {"Use_wanted": 50})
    assert says in found["Answer"]
    assert found["Answer"].startswith("VF3 passed (P-015): 4.2 ppm read, 10 allowed.")
    assert found["Answer_level"] == "cannot tell"


def judged(reading: float, target: float, supply: float) -> tuple[float, str]:
    """The end of the band of O2-1, ±0.3 ppm and ±5 % rectangular, and the verdict."""
    half = 1.96 * math.hypot(0.3, 0.05 * reading) / math.sqrt(3)
    if reading + half < supply:
        return half, "repeat"
    if reading + half <= target:
        return half, "passed"
    return half, "failed" if reading - half > target else "cannot tell"


@pytest.mark.parametrize("row", [row for row, each in enumerate(PURGES, 1) if each[5] == "O2-1"])
def test_every_purge(row: int, book: Path) -> None:
    _, number, _, target, supply, _, reading, _ = PURGES[row - 1]
    found = Computed(book)
    half, verdict = judged(reading, target, supply)
    assert cell(found, "Purges.Verdict", row) == verdict
    assert cell(found, "Purges.At most", row) == pytest.approx(reading + half, rel=1e-3)
    expected = {WORST: float(START - supply), 0.95: float(START - supply)}
    for of, _, low, high, _ in SWINGS:
        if of == number:
            expected = {m: c * share(m, low / 1000, high + SITE) for m, c in expected.items()}
    assert cell(found, "Purges.By gauges", row) == pytest.approx(supply + expected[0.95], rel=2e-3)
    assert cell(found, "Purges.or up to", row) == pytest.approx(supply + expected[WORST], rel=2e-3)
    more = reading - half > supply + expected[WORST]
    assert ("more than the gauges" in str(cell(found, "Purges.Remark", row))) == more


def test_a_reading_below_the_scale(book: Path, tmp_path: Path) -> None:
    row = next(row for row, each in enumerate(PURGES, 1) if each[6] == "<20")
    assert cell(Computed(book), "Purges.Verdict", row) == "cannot tell"
    fine = SHEETS.typed("Purges", row, Reading="<2", Analyser="O2-1")
    found = computed(book, tmp_path / "b.xlsx", fine)
    assert cell(found, "Purges.Verdict", row) == "passed"
    found = changed(book, tmp_path, "below the scale")
    assert cell(found, "Purges.Verdict", FREE) == "cannot tell"
    assert found["Answer"].startswith("VF3 cannot be told (P-016): <20 ppm read, 10 allowed.")


def test_a_purge_that_fails(book: Path, tmp_path: Path) -> None:
    found = changed(book, tmp_path, "a purge fails")
    assert cell(found, "Purges.Verdict", FREE) == judged(12, 10, 1)[1] == "failed"
    assert found["Answer"].startswith("VF3 failed (P-016): 12 ppm read, 10 allowed.")
    assert found["Answer_level"] == "act"
    assert cell(found, "Purges.By gauges", FREE) == pytest.approx(left(1, 0.95), rel=1e-3)


def test_a_reading_below_the_supply_is_to_be_repeated(book: Path, tmp_path: Path) -> None:
    found = changed(book, tmp_path, "below the supply")
    assert cell(found, "Purges.Verdict", FREE) == judged(0.2, 10, 1)[1] == "repeat"
    assert found["Answer"].startswith("Read VF3 again (P-016)")
    unknown = computed(book, tmp_path / "c.xlsx", purge(FREE, 0.2, Supply=None))
    assert cell(unknown, "Purges.Verdict", FREE) == "passed"


def test_later_inputs_leave_last_months_verdicts(book: Path, tmp_path: Path) -> None:
    before = Computed(book)
    verdicts = SHEETS.column(before, "Purges.Verdict")
    targets = SHEETS.column(before, "Purges.Wanted")
    found = changed(book, tmp_path, "another target")
    assert found["Wanted"] == 2
    assert SHEETS.column(found, "Purges.Verdict") == verdicts
    assert SHEETS.column(found, "Purges.Wanted") == targets
    newer = SHEETS.typed("Analysers", 3, Analyser="O2-1", Valid_from=serial(2026, 10, 13),
                         Within=50, and_of_reading=5)  # fmt: skip
    found = computed(book, tmp_path / "c.xlsx", newer)
    later = SHEETS.column(found, "Purges.Verdict")
    assert later[:5] == verdicts[:5]
    assert (verdicts[5], later[5]) == ("passed", "cannot tell")


WRONG = {
    "missing: Purge": purge(FREE, 4, Purge=None),
    "a number is missing: Date or Wanted": purge(FREE, 4, Wanted="ten"),
    "Vessel: not in the list": purge(FREE, 4, Vessel="VF9"),
    "Reading: a number of ppm": purge(FREE, "12,o"),
    "twice: the same Purge": purge(FREE, 4, Purge="P-010"),
    "cycle numbers with gaps": purge(FREE, 4) | cycle(FREE_CYCLE, 2, 100, 0.11),
    "a row of Cycle log is wrong": purge(FREE, 4) | cycle(FREE_CYCLE, 1, 1300, 0.11),
}


@pytest.mark.parametrize("says", list(WRONG))
def test_a_wrong_row_says_why_and_costs_only_itself(says: str, book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", WRONG[says] | {"Use_wanted": 50})
    check = cell(found, "Purges.Check", FREE)
    assert says in check
    assert found["Answer_level"] == "cannot tell"
    assert found["Purges_out"] == (2 if "twice" in says else 1)
    left_out = f"Without {found['Rows_out']:.0f} row(s): see the Check on Purges first. "
    assert found["Answer"].startswith(left_out)
    assert cell(found, "Purges.Verdict", 5) == "failed"


CYCLES: dict[str, tuple[Any, ...]] = {
    "Low is not below High": (1, 1300, 0.11),
    "a number is missing: Cycle, Low or High": (1, "low", 0.11),
    "Low: a number, from": (1, -100, 0.11),
    "not in the list": (1, 100, 0.11, "P-099"),
}


@pytest.mark.parametrize("says", list(CYCLES))
def test_an_impossible_cycle_says_why(says: str, book: Path, tmp_path: Path) -> None:
    typed = purge(FREE, 4) | cycle(FREE_CYCLE, *CYCLES[says])
    found = computed(book, tmp_path / "b.xlsx", typed)
    assert says in cell(found, "Swings.Check", FREE_CYCLE)
    assert found["Swings_out"] == 1


def test_the_certificate_names_the_vessel_and_its_day(book: Path, tmp_path: Path) -> None:
    found = Computed(book)
    said = "VF3, argon, purge P-015 of 13 Oct 2026: PASSED. 4.2 ppm of oxygen read, 10 allowed"
    assert found["Certified_said"].startswith(said)
    assert SHEETS.column(found, "Certified.Vented to")[:7] == [100, 110, 100, 100, 90, 100, ""]
    older = computed(book, tmp_path / "b.xlsx", {"Shown_purge": "P-014"})
    assert "purge P-014 of 12 Oct 2026: FAILED. 78 ppm" in older["Certified_said"]
    open_yet = computed(book, tmp_path / "c.xlsx", purge(FREE, None) | {"Shown_purge": "P-016"})
    assert open_yet["Certified_said"].endswith("not read yet.")
    assert open_yet["Latest_purge"] == "P-015"


def test_an_analyser_past_its_calibration_is_told(book: Path, tmp_path: Path) -> None:
    found = computed(book, tmp_path / "b.xlsx", purge(FREE, 40, Analyser="portable"))
    assert cell(found, "Purges.Remark", FREE) == "the analyser was past its calibration"
    assert found["Out_of_date"] == 1


def ppm_of_leak(rate: float, flow: float = 2) -> float:
    """A leak in mbar·L/s at 20 °C in Nm³/h of gas."""
    moles = rate * 0.1 / (8.314462618 * 293.15)
    return moles / (flow / 3600 * NORMAL_MOLES) * 1e6


def through_a_hose(barrer: float, bore: float, wall: float, metres: float, bars: float) -> float:
    """ppm in 2 Nm³/h: mm, m, and the partial pressure outside in bar."""
    around = 2 * math.pi * metres * 100 / math.log(1 + 2 * wall / bore)  # cm
    stp = barrer * 1e-10 * around * bars * 1e5 / 1333.22  # cm³(STP)/s
    return stp * 3600 / 2e6 * 1e6


def water(dew: float, bars: float) -> float:
    """Share of water by volume, CoolProp's humid air."""
    return float(HAPropsSI("psi_w", "T", 293.15, "P", bars * 1e5, "D", dew + 273.15))


def test_the_budget_at_the_point_of_use(book: Path) -> None:
    found = Computed(book)
    air = 0.2095 * SITE
    oxygen = {
        "Supply": SUPPLY,
        "Rubber hose at VF3": through_a_hose(600, 8, 3, 1.5, air),
        "Tube at the panel": through_a_hose(8, 6, 1, 2, air),
        "VF3 chamber and door": 0.2095 * ppm_of_leak(0.00096),
        "Coupling at the hose": 0.2095 * ppm_of_leak(0.0003),
        "Shell of VF3, mild steel": 0,
    }
    room = water(10, SITE)
    wet = {
        "Supply": 1e6 * water(-45, 7 + SITE),
        "Rubber hose at VF3": through_a_hose(36_000, 8, 3, 1.5, room * SITE),
        "Tube at the panel": through_a_hose(90, 6, 1, 2, room * SITE),
        "VF3 chamber and door": room * ppm_of_leak(0.00096),
        "Coupling at the hose": room * ppm_of_leak(0.0003),
        "Shell of VF3, mild steel": 0.9 * ppm_of_leak(9e4 * 7.2e-7 / 24),
    }
    names = SHEETS.column(found, "Inflows.Source")[:6]
    assert set(names) == set(oxygen)
    for row, name in enumerate(names, 1):
        assert cell(found, "Inflows.Oxygen", row) == pytest.approx(oxygen[name], rel=0.003)
        assert cell(found, "Inflows.Water", row) == pytest.approx(wet[name], rel=0.01)
    assert found["Oxygen_total"] == pytest.approx(sum(oxygen.values()), rel=0.003)
    assert found["Water_total"] == pytest.approx(sum(wet.values()), rel=0.01)
    factors = {"Rubber hose at VF3": 2, "Tube at the panel": 2, "VF3 chamber and door": 1.3,
               "Coupling at the hose": 2}  # fmt: skip
    half = math.hypot(*(oxygen[name] * math.log(f) for name, f in factors.items()))
    assert found["Oxygen_band"] == pytest.approx(half, rel=0.005)


def test_the_hose_to_change_first(book: Path, tmp_path: Path) -> None:
    found = Computed(book)
    assert found["Oxygen_from"] == "Rubber hose at VF3"
    assert found["Oxygen_sure"] == "yes"
    assert found["Oxygen_verdict"] == "no"
    assert "Change Rubber hose at VF3 first: without it 1.5 ppm." in found["Answer"]
    assert found["Answer_level"] == "act"
    tight = changed(book, tmp_path, "a tight hose")
    assert tight["Oxygen_total"] < 2 == tight["Use_wanted"]
    assert tight["Oxygen_verdict"] == "yes"
    assert tight["Answer_level"] == "in order"


def test_who_does_not_ask_for_a_budget_still_has_a_verdict(book: Path, tmp_path: Path) -> None:
    none = {
        SHEETS.place(f"{table}.{column.name}", row): None
        for table in ("Hoses", "Joints", "Surfaces")
        for column in SHEETS.plan.tables[table].typed
        for row in range(1, 3)
    }
    found = computed(book, tmp_path / "b.xlsx", none)
    assert found["Source_count"] == 0
    assert found["Answer_level"] == "in order"
    assert found["Answer"].endswith("type hoses, joints, surfaces.")


def test_near_sources_are_not_told_apart(book: Path, tmp_path: Path) -> None:
    near = SHEETS.typed("Joints", 2, Air=0.006)
    found = computed(book, tmp_path / "b.xlsx", near)
    assert found["Oxygen_sure"] == "cannot tell"
    assert "The most may come from" in found["Oxygen_said"]


def test_an_empty_book_says_what_to_do(tmp_path: Path) -> None:
    build(BOOK, tmp_path / "empty.xlsx", given=Given(), rows=ROWS)
    found = Computed(tmp_path / "empty.xlsx")
    assert found["Answer_level"] == "cannot tell"
    assert "are missing" in found["Answer"]
    assert found["Certified_said"].startswith("No purge is recorded yet")


def test_us_units_give_the_same_answer(book: Path, tmp_path: Path) -> None:
    build(BOOK, tmp_path / "us.xlsx", US, DEMO, rows=ROWS)
    us, metric = Computed(tmp_path / "us.xlsx"), Computed(book)
    for name in ("Left_planned", "Left_most", "Oxygen_total", "Water_total", "Oxygen_band"):
        assert us[name] == pytest.approx(metric[name], rel=0.01)
    assert us["Gas_needed"] == pytest.approx(metric["Gas_needed"] * 38.04, rel=0.002)
    for name in ("Hours_needed", "Cost_needed", "Deep_hours", "Swept_hours"):
        assert us[name] == pytest.approx(metric[name], rel=0.005)
    assert SHEETS.column(us, "Purges.Verdict") == SHEETS.column(metric, "Purges.Verdict")
