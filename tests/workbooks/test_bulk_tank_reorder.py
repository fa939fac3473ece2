"""The bulk tank book against calculations written out here, by scenario."""

from __future__ import annotations

import datetime as dt
import math
from itertools import pairwise
from pathlib import Path
from statistics import NormalDist
from typing import Any

import openpyxl
import pytest

from gasfuncs.workbooks.building import build
from gasfuncs.workbooks.bulk_tank_reorder import NAME
from tests.workbooks.editing import answers, cell_value, changed, typed_inputs

# CoolProp 8 (Span et al. 2000), saturated nitrogen at 13 bar(a), kg/m³: the properties themselves
# are checked elsewhere; here they are numbers to calculate with by hand.
LIQUID, VAPOUR = 636.77, 54.726
NORMAL_DENSITY = 1.2504
"""kg/Nm³ of nitrogen at 0 °C and 101.325 kPa (real gas)."""
LITRES_PER_NORMAL_CUBE = 1000 * NORMAL_DENSITY / LIQUID
EPOCH = dt.date(1899, 12, 30)

SCENARIOS: dict[str, dict[str, Any]] = {
    "a lower level, a longer way": {
        "Gauge": "L(liq)",
        "Reading": 5600,
        "Lead_days": 6.5,
        "Lead_spread": 0.5,
        "Service": 95,
        "Reserve": 1000,
        "Use_spread": 30,
        "Truck": 9000,
    },
    "a furnace more": {
        "Use!B8": "VF4",
        "Use!C8": 43,
        "Use!D8": 100,
        "Use!E8": 2,
        "Use!F8": 2,
        "Use!G8": 2,
        "Use!H8": 2,
        "Use!I8": 2,
        "Use!J8": 1,
        "Use!K8": 1,
        "Gauge": "% of capacity",
        "Reading": 70,
    },
    "late already": {"Gauge": "L(liq)", "Reading": 1400},
}


def serial(year: int, month: int, day: int) -> int:
    return (dt.date(year, month, day) - EPOCH).days


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("tank") / f"{NAME}.xlsx"
    build(NAME, path)
    return path


def tank_volume(diameter: float, length: float, height: float) -> float:
    """L in an upright cylinder with 2:1 ellipsoidal heads (half spheroids of depth D/4)."""
    depth = diameter / 4

    def head(z: float) -> float:  # from the pole of a head up to z
        return math.pi * (diameter / 2) ** 2 * (z**2 / depth - z**3 / (3 * depth**2))

    full_head = math.pi * diameter**3 / 24
    if height <= depth:
        return 1000 * head(height)
    in_shell = min(height - depth, length)
    volume = full_head + math.pi / 4 * diameter**2 * in_shell
    if height > depth + length:
        volume += full_head - head(2 * depth + length - height)
    return 1000 * volume


DEMO: dict[str, Any] = {
    "contents": None, "reserve": 1500.0, "capacity": tank_volume(1.9, 3.25, 1.9 / 2 + 3.25),
    "week": [144.0] * 5 + [68.8, 0.0], "lead": 4.0, "lead_sd": 1.0, "service": 0.98,
    "spread": 0.60, "truck": 6000.0, "start": serial(2026, 11, 2),
    "closed": {serial(2026, 12, 24) + n for n in range(9)},
}  # fmt: skip


def expected(**given: Any) -> dict[str, float]:
    """The day to order and what goes with it, by the rules told in the book."""
    c = {**DEMO, **given}
    start, lead, whole = c["start"], c["lead"], math.ceil(c["lead"])
    boil_off = 0.0035 * c["capacity"]
    use = []
    for day in range(60):
        date = EPOCH + dt.timedelta(days=start + day)
        share = 0.0 if start + day in c["closed"] else 1.0
        use.append(share * c["week"][date.weekday()] * LITRES_PER_NORMAL_CUBE)
    mean = sum(use[:28]) / 28
    sd = c["spread"] * mean
    busiest = max(sum(use[k : k + whole]) / whole for k in range(60 - whole + 1))
    z = NormalDist().inv_cdf(c["service"])
    spread = math.hypot(math.sqrt(lead) * sd, (busiest + boil_off) * c["lead_sd"])
    level = c["reserve"] + (busiest + boil_off) * lead + z * spread

    def chance(wait: int) -> float:
        days = wait + whole
        drain = sum(use[:days]) / days + boil_off
        time = wait + lead
        deviation = math.hypot(math.sqrt(time) * sd, drain * c["lead_sd"])
        return NormalDist().cdf((drain * time + c["reserve"] - c["contents"]) / deviation)

    stock, by_level, mornings = c["contents"], None, []
    for day in range(60):
        mornings.append(stock)
        after = stock - use[day] - boil_off
        if by_level is None and min(stock, after) < level:
            by_level = day
        stock = max(0.0, after)
    too_risky = next((n for n in range(31) if chance(n) > 1 - c["service"]), None)
    by_chance = max(0, too_risky - 1) if too_risky is not None else None
    wait = min(n for n in (by_level, by_chance) if n is not None)
    weekday = (EPOCH + dt.timedelta(days=start + wait)).isoweekday()
    wait = max(0, wait - max(0, weekday - 5))
    left = max(0.0, mornings[wait] - sum(use[wait : wait + whole]) - whole * boil_off)
    fits = max(0.0, 0.95 * c["capacity"] - left)
    return {
        "Order_by": start + wait, "Truck_day": start + wait + whole, "Order_chance": chance(wait),
        "Order_fits": fits, "Order_size": min(fits, c["truck"]), "Reorder_level": level,
        "Mean_use": mean,
    }  # fmt: skip


def agree(found: dict[str, Any], wanted: dict[str, float]) -> None:
    for name, value in wanted.items():
        if name in ("Order_by", "Truck_day"):
            assert found[name] == value, name
        elif name == "Order_chance":
            assert found[name] == pytest.approx(value, rel=0.02, abs=2e-4), name
        else:
            assert found[name] == pytest.approx(value, rel=1e-3), name


def test_demo_by_hand(book: Path) -> None:
    found = answers(book)
    height = 101.8 * 100 / ((LIQUID - VAPOUR) * 9.80665)
    contents = tank_volume(1.9, 3.25, height)
    assert found["Contents"] == pytest.approx(contents, rel=1e-3)
    agree(found, expected(contents=found["Contents"]))
    sentence = cell_value(book, "Start", "B4")
    assert sentence.startswith("Order by Thu 5 Nov: 7,671 L(liq) fit when the truck comes on Mon 9")
    assert found["Peak_share"] == pytest.approx(330 / 350)


def test_lower_level_and_longer_way(book: Path, tmp_path: Path) -> None:
    found = changed(book, tmp_path / "b.xlsx", SCENARIOS["a lower level, a longer way"])
    agree(found, expected(contents=5600.0, lead=6.5, lead_sd=0.5, service=0.95, reserve=1000.0,
                          spread=0.30, truck=9000.0))  # fmt: skip


def test_a_furnace_more_on_the_use_sheet(book: Path, tmp_path: Path) -> None:
    found = changed(book, tmp_path / "b.xlsx", SCENARIOS["a furnace more"])
    agree(found, expected(contents=0.70 * DEMO["capacity"],
                          week=[144.0 + 86] * 5 + [68.8 + 43, 43.0]))  # fmt: skip
    assert found["Peak_share"] == pytest.approx(430 / 350)
    assert "above the rating" in found["Peak_verdict"]


def test_weekend_orders(book: Path, tmp_path: Path) -> None:
    """What is due on a Saturday is ordered on the Friday before, or that day where one may."""
    for reading in (5000, 5150, 5300):
        wanted = expected(contents=float(reading))
        found = changed(book, tmp_path / "b.xlsx", {"Gauge": "L(liq)", "Reading": reading})
        agree(found, wanted)
        assert (EPOCH + dt.timedelta(days=int(found["Order_by"]))).isoweekday() <= 5


def test_what_if(book: Path) -> None:
    """The mean use, the reserve and the days by hand; a late truck and more use cost days."""
    found = answers(book)
    wanted = expected(contents=found["Contents"])
    boil_off = 0.0035 * DEMO["capacity"]
    wait = wanted["Order_by"] - DEMO["start"]
    assert found["Extra_use"] == pytest.approx(86 * LITRES_PER_NORMAL_CUBE, rel=1e-3)
    days = (found["Contents"] - 1500) / (wanted["Mean_use"] + found["Extra_use"] + boil_off)
    assert found["Case_3_reserve"] == DEMO["start"] + math.floor(days)
    assert found["Case_1_chance"] == pytest.approx(wanted["Order_chance"], rel=0.02)
    use = 8 * 144 + 68.8  # Monday to the Wednesday after: 3 + 7 days
    left = found["Contents"] - use * LITRES_PER_NORMAL_CUBE - (wait + 7) * boil_off
    assert wait == 3
    assert found["Case_2_left"] == pytest.approx(left, rel=2e-3)


def test_late_order_is_for_today(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "b.xlsx"
    found = changed(book, path, SCENARIOS["late already"])
    assert found["Order_by"] == found["Read_on"]
    assert found["Order_chance"] == 1
    sentence = cell_value(path, "Start", "B4")
    assert sentence.startswith("Order today, Mon 2 Nov")
    assert "down to its reserve already" in sentence


def test_plan_orders_follow_the_balance(book: Path) -> None:
    """Each evening is the next morning; what is ordered comes four days later."""
    first = 30
    rows = [
        {letter: cell_value(book, "Plan", f"{letter}{row}") for letter in "CDEFGHI"}
        for row in range(first, first + 30)
    ]
    for today, tomorrow in pairwise(rows):
        assert tomorrow["C"] == pytest.approx(today["G"])
        assert today["G"] == pytest.approx(today["C"] + today["F"] - today["D"] - today["E"])
    for n, row in enumerate(rows[:-4]):
        assert rows[n + 4]["F"] == row["H"]
    assert sum(row["H"] > 0 for row in rows) == 2


def test_us_units_tell_the_same(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "us.xlsx"
    build(NAME, path, "US")
    metric, us = answers(book), answers(path)
    gallon = 3.785411784
    assert us["Contents"] * gallon == pytest.approx(metric["Contents"], rel=2e-3)
    assert us["Reorder_level"] * gallon == pytest.approx(metric["Reorder_level"], rel=2e-3)
    assert us["Order_by"] == metric["Order_by"]
    assert us["Backup_days"] == pytest.approx(metric["Backup_days"], rel=2e-3)


def test_blank_absurd_and_text(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "b.xlsx"
    inputs = typed_inputs(book)
    for changes in (
        dict.fromkeys(inputs),
        {"Diameter": "two"},
        {"Reading": -5},
        {"Lead_days": 1e9},
    ):
        changed(book, path, changes)
        assert cell_value(path, "Start", "B4").startswith("Some inputs are missing")
        assert cell_value(path, "Start", "C7") == "-"
    for mistyped in ({("Use", "C6"): "much"}, {("Use", "F7"): "x"}, {("Special days", "C6"): "no"}):
        found = changed(book, path, mistyped)
        assert found["Rows_wrong"] == 1
        assert "cannot be calculated" in cell_value(path, "Start", "B4")
        assert not isinstance(found["Mean_use"], float)
    changed(book, path, {"Reading": 2500})
    assert "above the top of this tank" in cell_value(path, "Start", "B4")


def test_a_tank_too_small_and_a_truck_too_small_are_told(book: Path, tmp_path: Path) -> None:
    path = tmp_path / "b.xlsx"
    changed(book, path, {"Reserve": 9000, "Lead_days": 20})
    assert "is above the highest contents allowed" in cell_value(path, "Start", "B4")
    changed(book, path, {"Truck": 100})
    assert "the tank runs dry on" in cell_value(path, "Start", "B4")
    assert "runs dry" not in cell_value(book, "Start", "B4")


def test_pages_break_between_groups_of_inputs(book: Path) -> None:
    sheet = openpyxl.load_workbook(book)["Inputs"]
    breaks = [each.id for each in sheet.row_breaks.brk]
    assert breaks
    assert all(sheet[f"B{row + 2}"].value == "What" for row in breaks)


def test_empty_book(tmp_path: Path) -> None:
    path = tmp_path / "empty.xlsx"
    build(NAME, path, filled=False)
    assert cell_value(path, "Start", "B4").startswith("Some inputs are missing")
