"""Loggers of vacuum gauges and dew point meters, read into the leak and dew point log."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import numpy as np
import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

import pandas as pd
from click.testing import CliRunner, Result

from gasfuncs.cli import main
from gasfuncs.hosts.headless.entering import Contents, contents, enter
from gasfuncs.importing.curves import more_at_first
from gasfuncs.importing.rises import at_equal_times
from gasfuncs.workbooks.sheets.leak_demo import PLACES, VESSELS
from tests.workbooks.conftest import built_once

DAY = "2026-10-20"
LEAK = 0.0092
"""mbar L/s in VF1."""
VOLUME = next(row[4] for row in VESSELS if row[0] == "VF1")
RATE = LEAK / (VOLUME * 1000)
"""mbar a second: what leaks in, over the volume it leaks into."""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copyfile(built_once("leak_dewpoint_log"), tmp_path / "leaks.xlsx"))


def imported(kind: str, file: Path, book: Path, *options: str) -> Result:
    return CliRunner().invoke(main, ["import", kind, str(file), "--into", str(book), *options])


def row_of(book: Path, table: str, day: float) -> dict[str, Any]:
    rows = contents(book).tables[table]
    (row,) = [row for row in rows.rows if rows.value(row, "Date") == pytest.approx(day, abs=1e-6)]
    return {heading: rows.value(row, heading) for heading in rows.columns}


def vessel(book: Path, name: str) -> dict[str, Any]:
    rows = contents(book).tables["State"]
    (row,) = [row for row in rows.rows if rows.value(row, "Vessel") == name]
    return {heading: rows.value(row, heading) for heading in rows.columns}


def serial(text: str) -> float:
    return float((pd.Timestamp(text) - pd.Timestamp("1899-12-30")) / pd.Timedelta(days=1))


def pumped_then_shut() -> pd.DataFrame:
    """Minutes: ten of pumping down, then two hours of a known leak."""
    minutes = np.arange(131)
    shut = np.maximum(minutes - 10, 0) * 60
    pressure = np.where(minutes < 10, 0.008 + 5 * np.exp(-minutes / 1.5), 0.008 + RATE * shut)
    return pd.DataFrame({"minutes": minutes, "pressure": pressure})


def test_a_loggers_rise_has_its_leak_back(book: Path, tmp_path: Path) -> None:
    truth = pumped_then_shut()
    moments = pd.Timestamp(f"{DAY} 06:00") + pd.to_timedelta(truth["minutes"], unit="min")
    table = pd.DataFrame(
        {
            "Date": moments.dt.strftime("%d.%m.%Y"),
            "Time": moments.dt.strftime("%H:%M"),
            "Furnace": "VF1",
            "Vacuum (mbar)": [f"{each:.6f}".replace(".", ",") for each in truth["pressure"]],
        }
    )
    table.to_csv(tmp_path / "rise.csv", sep=";", index=False)
    result = imported("rise", tmp_path / "rise.csv", book)
    assert "VF1, 2026-10-20 06:10: 11 of 121 readings entered, every 12 min" in result.output
    assert "lines 2 to 11: pressure: was still falling; the pump was on" in result.output
    assert "131 rows read: 1 added to Rises, 0 replaced, 0 there already, 120 used" in result.output
    found = row_of(book, "Rises", serial(f"{DAY} 06:10"))
    assert (found["Check"], found["Vessel"], found["Reading 12"]) == ("ok", "VF1", None)
    assert found["Every"] == pytest.approx(0.2)
    assert found["Leak"] == pytest.approx(LEAK, rel=0.05)
    assert found["Rise rate"] == pytest.approx(RATE * 3600, rel=0.05)
    state = vessel(book, "VF1")
    assert state["Last test"] == pytest.approx(serial(f"{DAY} 06:10"), abs=1e-5)
    assert (state["Tests"], state["Leak"]) == (7, found["Leak"])
    again = imported("rise", tmp_path / "rise.csv", book)
    assert "0 added to Rises, 0 replaced, 1 there already, 120 used" in again.output


def test_minutes_from_the_start_in_microns(book: Path, tmp_path: Path) -> None:
    truth = pumped_then_shut()[10:]
    table = pd.DataFrame(
        {
            "Elapsed (min)": truth["minutes"] - 10,
            "Pressure (micron)": truth["pressure"] / 1.33322e-3,
        }
    )
    file = tmp_path / "rise.csv"
    table.to_csv(file, index=False)
    assert "Rises needs vessel" in imported("rise", file, book).output
    kept = tmp_path / "rise.csv.toml"
    told = kept.read_text() + '\n[always]\nvessel = "VF1"\n'
    kept.write_text(told)
    asked = imported("rise", file, book).output
    assert "under [always]: day =" in asked
    kept.write_text(told + f"day = {DAY}\n")
    assert "1 added to Rises" in imported("rise", file, book).output
    assert row_of(book, "Rises", serial(DAY))["Leak"] == pytest.approx(LEAK, rel=0.05)


@pytest.mark.parametrize(
    ("pressures", "sentence"),
    [
        ([0.01], "a rise test needs two readings at least"),
        ([0.01, 0.02, 0.03, 0.04, 0.01, 0.01], "falls again within the test"),
        ([5, 1, 0.5, 0.2, 0.1, 0.05], "a rise test needs two readings at least"),
        ([0.01, -0.02], "pressure: is below absolute vacuum"),
    ],
)
def test_what_is_no_rise_is_left_out(
    pressures: list[float], sentence: str, book: Path, tmp_path: Path
) -> None:
    hours = pd.date_range(DAY, periods=len(pressures), freq="h")
    table = pd.DataFrame({"Time": hours, "Vessel": "VF1", "Pressure (mbar)": pressures})
    table.to_csv(tmp_path / "rise.csv", index=False)
    result = imported("rise", tmp_path / "rise.csv", book)
    assert sentence in result.output
    rows = "row" if len(pressures) == 1 else "rows"
    assert f"{len(pressures)} {rows} read: 0 added to Rises" in result.output
    assert f"{len(pressures)} left out" in result.output


def test_readings_at_equal_times() -> None:
    assert at_equal_times(np.arange(0.0, 121)).tolist() == list(range(0, 121, 12))
    assert at_equal_times(np.array([0.0, 1, 2])).tolist() == [0, 1, 2]
    assert at_equal_times(np.array([0.0, 1, 2, 4, 8])).tolist() == [0, 3, 4]
    assert at_equal_times(np.array([0.0, 1, 8])).tolist() == [0, 2]


def curve_of(found: Contents) -> list[tuple[Any, Any]]:
    rows = found.tables["Curve"]
    told = [(rows.value(row, "Hours"), rows.value(row, "Pressure")) for row in rows.rows]
    assert None not in [hours for hours, _ in told[: sum(row != (None, None) for row in told)]]
    return [row for row in told if row != (None, None)]


def without_long_test(book: Path) -> Path:
    """The log of a plant that has made no long test yet."""
    found = contents(book)
    rows = found.tables["Curve"]
    blank = {(row, rows.columns[name]): None for row in rows.rows for name in ("Hours", "Pressure")}
    (sheet, vessel), (_, day) = found.places["Long_vessel"], found.places["Long_day"]
    target = book.with_name("none.xlsx")
    enter(book, {rows.sheet: blank, sheet: {vessel: None, day: None}}, target)
    return target


def outgassing(amount: float) -> pd.DataFrame:
    """Six hours by the minute: a known leak, and outgassing that dies away within two hours."""
    hours = np.arange(361) / 60
    pressure = 0.008 + RATE * 3600 * hours + amount * (1 - np.exp(-hours / 0.8))
    times = pd.Timestamp(f"{DAY} 06:00") + pd.to_timedelta(np.arange(361), unit="min")
    microns = (pressure / 1.33322e-3).round(3)
    return pd.DataFrame({"Time": times, "Vessel": "VF1", "Pressure (micron)": microns})


def test_all_of_a_long_test_goes_into_the_curve(book: Path, tmp_path: Path) -> None:
    book, file = without_long_test(book), tmp_path / "rise.csv"
    outgassing(0.008).to_csv(file, index=False)
    told = imported("rise", file, book).output
    assert "note: Long test: 40 of 361 readings of VF1, 2026-10-20" in told
    found = contents(book)
    curve = curve_of(found)
    assert (found.named["Long_vessel"], found.named["Long_day"]) == ("VF1", serial(DAY))
    assert len(curve) == 40
    assert (curve[0][0], curve[-1][0]) == (0, pytest.approx(6))
    steps = np.diff([hours for hours, _ in curve])
    assert steps[0] == pytest.approx(1 / 60, abs=1e-6)
    assert steps[-1] > 10 * steps[0]
    assert curve[0][1] == pytest.approx(0.008, rel=1e-4)
    assert found.named["Long_low"] < LEAK < found.named["Long_high"]  # type: ignore[operator]
    assert found.named["Long_leak"] == pytest.approx(LEAK, rel=0.05)
    once = book.read_bytes()
    assert "Long test: has the readings of VF1, 2026-10-20 already" in (
        imported("rise", file, book).output
    )
    assert book.read_bytes() == once


def test_a_curve_that_is_there_stays_until_it_is_to_be_replaced(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "rise.csv"
    outgassing(0.008).iloc[:241:10].to_csv(file, index=False)
    before = curve_of(contents(book))
    told = imported("rise", file, book, "--dry-run").output
    assert "is that of VF2, 2026-10-08, which is not in this file; it keeps its readings" in told
    found = contents(book)
    (sheet, vessel), (_, day) = found.places["Long_vessel"], found.places["Long_day"]
    enter(book, {sheet: {vessel: "VF1", day: serial(DAY)}}, book.with_name("vf1.xlsx"))
    book = book.with_name("vf1.xlsx")
    told = imported("rise", file, book).output
    assert "Long test: has other readings; --replace takes those of VF1, 2026-10-20" in told
    assert curve_of(contents(book)) == before
    outgassing(0.008).iloc[:61:6].to_csv(file, index=False)
    assert "Long test: 11 of 11" in imported("rise", file, book, "--replace").output
    assert [round(hours * 10) for hours, _ in curve_of(contents(book))] == list(range(11))


@pytest.mark.parametrize("count", [2, 39, 40, 41, 75, 1000])
def test_more_of_the_early_readings(count: int) -> None:
    kept = more_at_first(np.linspace(0, 5, count), 40)
    assert (kept[0], kept[-1]) == (0, count - 1)
    assert (np.diff(kept) > 0).all()
    assert min(count, 40) - 3 <= len(kept) <= 40


def test_the_last_dew_point_of_each_day(book: Path, tmp_path: Path) -> None:
    moments = pd.date_range(f"{DAY} 06:00", periods=300, freq="10min")
    dry = -50 - 10 * (1 - np.exp(-(np.arange(300) % 108) / 20))
    table = pd.DataFrame(
        {"Timestamp": moments, "Location": "N2 main, far end", "Dew point (degF)": dry.round(2),
         "Cell pressure (psig)": 100.0}
    )  # fmt: skip
    table.loc[5, "Dew point (degF)"] = 900
    table.to_csv(tmp_path / "dew.csv", index=False)
    result = imported("dewpoint", tmp_path / "dew.csv", book)
    assert "300 rows read: 3 added to Dews, 0 replaced, 0 there already, 296 used" in result.output
    assert "line 7: dew_point: is not within -150 and 100 °C" in result.output
    assert "-45.6 °C at the wettest; was the meter still drying out?" in result.output
    found = row_of(book, "Dews", serial(f"{DAY} 23:50"))
    assert found["Check"] == "ok"
    assert found["Dew point"] == pytest.approx((dry[107] - 32) / 1.8, abs=0.01)
    rows = contents(book).tables["Dews"]
    places = [rows.value(row, "Place") for row in rows.rows if rows.value(row, "Last") == 1]
    assert len(places) == len(PLACES)
    assert {*places} == {name for name, *_ in PLACES}
    assert found["Measured at"] == pytest.approx(100 * 0.0689476, rel=1e-5)
    assert "0 added to Dews, 0 replaced, 3 there already" in (
        imported("dewpoint", tmp_path / "dew.csv", book).output
    )


def test_water_in_ppm_at_a_pressure_that_is_told_once(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "dew.csv"
    file.write_text(f'Time,Place,Moisture (ppm)\n{DAY},"N2 main, far end",16.75\n')
    imported("dewpoint", file, book)
    kept = tmp_path / "dew.csv.toml"
    kept.write_text(kept.read_text() + '\n[always]\npressure = "8.01325 bar(a)"\n')
    assert "1 added to Dews" in imported("dewpoint", file, book).output
    found = row_of(book, "Dews", serial(DAY))
    # -40 degC of frost point at 7 bar(g), the example of GAS_DEW_PPM
    assert found["Dew point"] == pytest.approx(-40, abs=0.01)
    assert found["Water"] == pytest.approx(16.75, rel=1e-3)
    # the gauge counts from the air of the plant, 0.988 bar
    assert found["Measured at"] == pytest.approx(8.01325 - 0.988, abs=1e-3)
