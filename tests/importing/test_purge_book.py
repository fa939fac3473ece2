"""Cycles of a purge as a controller logged them, read into the purge book."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

import numpy as np
import pandas as pd
from click.testing import CliRunner, Result

from gasfuncs.cli import main
from gasfuncs.hosts.headless.entering import contents
from gasfuncs.importing import ImportingError
from gasfuncs.importing.job import Outcome, mapping_file, mapping_for, run
from gasfuncs.workbooks.sheets.purge_demo import PURGES
from tests.workbooks.conftest import built_once

LOGGED = "P-011"
"""A purge of the demo plant whose cycles nobody logged."""
CYCLES = """\
Time,Cycle,Evacuated to (torr),Filled to (psig),O2 (ppm)
2026-09-03 08:05,1,75,1.6,
2026-09-03 08:25,2,76.5,1.6,
2026-09-03 08:45,3,74.2,1.7,520
2026-09-03 09:05,4,900,1.6,
2026-09-03 09:25,4.5,75,1.6,
2026-09-03 09:45,4,75,1.6,<20
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copyfile(built_once("vent_fill_purity"), tmp_path / "purges.xlsx"))


def imported(book: Path) -> Result:
    file = book.with_name("purge.csv")
    return CliRunner().invoke(main, ["import", "purge", str(file), "--into", str(book)])


def test_cycles_of_a_purge(book: Path) -> None:
    assert LOGGED in [row[1] for row in PURGES]
    book.with_name("purge.csv").write_text(CYCLES)
    assert "Swings needs purge" in imported(book).output
    kept = book.with_name("purge.csv.toml")
    kept.write_text(kept.read_text() + f'\n[always]\npurge = "{LOGGED}"\n')
    result = imported(book)
    assert "6 rows read: 3 added to Swings, 0 replaced, 0 there already, 3 left out" in (
        result.output
    )
    assert 'line 7: reading: "<20" is no number' in result.output
    assert "line 5: low: is not below high; are the two" in result.output
    assert "line 6: cycle: is no number of a cycle" in result.output
    table = contents(book).tables["Swings"]
    rows = [row for row in table.rows if table.value(row, "Purge") == LOGGED]
    assert [table.value(row, "Check") for row in rows] == ["ok", "ok", "ok"]
    # 1 torr = 1.33322 mbar, 1 psi = 68.9476 mbar
    assert table.value(rows[0], "Low") == pytest.approx(75 * 1.33322, rel=1e-5)
    assert table.value(rows[0], "High") == pytest.approx(1.6 * 0.0689476, rel=1e-5)
    assert table.value(rows[2], "Reading") == 520
    assert "0 added to Swings, 0 replaced, 3 there already" in imported(book).output


LOWS = (100, 110, 600, 98, 92, 105)
"""mbar; the pump stopped early in the third."""
HIGHS = (1098, 1101, 1105, 1095, 1100, 1103)
OXYGEN = (23_000, 2_500, 1_500, 160, 20, 4.2)


def trace(noise: float = 1.5) -> pd.DataFrame:
    """Ten seconds a row: air let out by a pump, a wait, filled, a wait, six times; one reading is
    off. What every cycle swung between is known; the analyser follows in a minute."""
    pressure, oxygen = [988.0] * 12, [209_500.0] * 12
    for low, high, ppm in zip(LOWS, HIGHS, OXYGEN, strict=True):
        start = pressure[-1]
        base = low - 5
        fall = np.log((start - base) / 5) / 59
        down = base + (start - base) * np.exp(-fall * np.arange(60))
        up = np.linspace(low, high, 40)
        pressure += [*down, *[low] * 12, *up, *[high] * 18]
        lag = 1 - np.exp(-np.arange(58) / 3)
        oxygen += [*[oxygen[-1]] * 72, *(oxygen[-1] + (ppm - oxygen[-1]) * lag)]
    scatter = noise * np.random.default_rng(5).uniform(-1, 1, len(pressure))
    table = pd.DataFrame({"mbar": np.array(pressure) + scatter, "ppm": oxygen})
    table.loc[130, "mbar"] = 5.0
    moments = pd.Timestamp("2026-09-03 08:00") + pd.to_timedelta(10 * table.index, unit="s")
    return table.assign(time=moments)


def test_cycles_are_found_in_a_loggers_trace(book: Path) -> None:
    table = trace()
    lines = pd.DataFrame(
        {"Date": table["time"].dt.strftime("%d.%m.%Y"), "Time": table["time"].dt.strftime("%X"),
         "Chamber pressure (mbar)": table["mbar"].round(1), "O2 (ppm)": table["ppm"].round(1)}
    )  # fmt: skip
    file = book.with_name("purge.csv")
    lines.to_csv(file, index=False, sep=";", decimal=",")
    assert "Swings needs purge" in imported(book).output
    kept = book.with_name("purge.csv.toml")
    kept.write_text(kept.read_text() + f'\n[always]\npurge = "{LOGGED}"\n')
    told = imported(book).output
    assert f"note: {LOGGED}: 6 cycles, down to 9" in told
    assert "1 single readings off their neighbours passed over" in told
    assert f"{len(table)} rows read: 6 added to Swings, 0 replaced, 0 there already, " in told
    assert f"{len(table) - 6} used for these rows, 0 left out" in told
    found = contents(book)
    rows = found.tables["Swings"]
    mine = [row for row in rows.rows if rows.value(row, "Purge") == LOGGED]
    assert [rows.value(row, "Cycle") for row in mine] == [1, 2, 3, 4, 5, 6]
    assert [rows.value(row, "Check") for row in mine] == ["ok"] * 6
    assert [rows.value(row, "Low") for row in mine] == pytest.approx(LOWS, abs=1.5)
    bars = [high / 1000 - found.named["Site_bar"] for high in HIGHS]  # type: ignore[operator]
    assert [rows.value(row, "High") for row in mine] == pytest.approx(bars, abs=0.0015)
    assert [rows.value(row, "Reading") for row in mine] == pytest.approx(OXYGEN, rel=0.01)
    purges = found.tables["Purges"]
    (purge,) = [row for row in purges.rows if purges.value(row, "Purge") == LOGGED]
    assert (purges.value(purge, "Check"), purges.value(purge, "Cycles")) == ("ok", 6)
    assert "0 added to Swings, 0 replaced, 6 there already" in imported(book).output


def dry(book: Path, table: pd.DataFrame) -> Outcome:
    """What would be entered of a trace of the purge LOGGED."""
    file = book.with_name("purge.csv")
    table.to_csv(file, index=False)
    mapping_file(file).unlink(missing_ok=True)
    mapping, questions, _ = mapping_for("purge", file, mapping_file(file))
    assert questions == ()
    return run(file, book, replace(mapping, always={"purge": LOGGED}), dry_run=True)


@pytest.mark.parametrize(
    ("rows", "count", "told"),
    [
        (slice(None), 6, None),
        (slice(40, None), 6, None),
        (slice(0, 700), 5, "ends evacuated; its last pump-down is no cycle"),
        (slice(0, 760), 6, "ends while the last cycle still fills"),
    ],
)
def test_a_trace_that_begins_or_ends_within_a_cycle(
    book: Path, rows: slice, count: int, told: str | None
) -> None:
    table = trace().iloc[rows]
    minutes = (table["time"] - table["time"].iloc[0]) / pd.Timedelta(minutes=1)
    gauge = table["mbar"] / 1000 - 0.988
    found = dry(book, pd.DataFrame({"Elapsed (min)": minutes, "Pressure (bar(g))": gauge}))
    assert len(found.entered.added) == count
    assert [note for note in found.notes if "ends" in note] == (
        [f"{LOGGED}: the file {told}"] * bool(told)
    )
    assert found.read == len(table) == count + found.used


def test_a_gauge_that_scatters_is_no_purge(book: Path) -> None:
    table = trace().iloc[:10]
    found = dry(book, pd.DataFrame({"Time": table["time"], "Pressure (mbar)": table["mbar"]}))
    assert found.left_out[0][1] == "pressure: no pump-down with a fill after it was found"
    assert (found.read, len(found.left_out)) == (10, 10)
    with pytest.raises(ImportingError, match="neither numbered cycles nor a pressure over time"):
        dry(book, pd.DataFrame({"Time": table["time"], "O2 (ppm)": table["ppm"]}))


def test_a_purge_that_is_not_on_the_list(book: Path) -> None:
    text = CYCLES.replace("Time,", "Purge,").replace("2026-09-03 ", "P-9 ")
    book.with_name("purge.csv").write_text(text)
    assert 'purge: "P-9 08:05" is not on Purges' in imported(book).output
