"""Cycles, telemetry and tickets of the demo plant go into its month's book and its answer."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import datetime as dt
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

import pandas as pd
from click.testing import CliRunner, Result

from gasfuncs.cli import main
from gasfuncs.hosts.headless.entering import contents
from gasfuncs.importing.job import mapping_file, mapping_for, run
from gasfuncs.registry import worksheet_function_named
from gasfuncs.workbooks import demo
from tests.workbooks.conftest import built_once

NAME = "monthly_gas_usage"
CYCLES = """\
Start;Furnace;Recipe;Vacuum (mbar);Backfill pressure (bar(g));Temperature (°C);Gas used (Nm3);Status
02.11.2026 06:10;VF1;Harden 2 bar;0,01;1,5;30;;OK
02.11.2026 14:10;VF1;Harden 2 bar;;;;;OK
03.11.2026 06:10;VF2;Harden 6 bar;0,01;5,0;30;12,5;Aborted
03.11.2026 07:10;VF2;Harden 6 bar;0,01;5,0;30;;Aborted
03.11.2026 08:10;Ofen 3;Braze;;;;5,0;OK
"""


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("month")
    return Path(shutil.copyfile(built_once(NAME), folder / f"{NAME}.xlsx"))


def imported(kind: str, file: Path, book: Path, *options: str) -> Result:
    return CliRunner().invoke(main, ["import", kind, str(file), "--into", str(book), *options])


def rows_of(book: Path, table: str, since: dt.date) -> list[dict[str, Any]]:
    rows = contents(book).tables[table]
    first = (since - dt.date(1899, 12, 30)).days
    found = [{name: rows.value(row, name) for name in rows.columns} for row in rows.rows]
    return [row for row in found if isinstance(row["Date"], float) and row["Date"] >= first]


def test_cycles_as_they_were_run(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "cycles.csv"
    file.write_text(CYCLES)
    result = imported("cycles", file, book)
    assert "5 rows read: 3 added to Log" in result.output
    assert "line 5: status: was aborted and the file does not tell its use" in result.output
    assert 'line 6: furnace: "Ofen 3" is not on Furnaces' in result.output
    own, nominal, aborted = rows_of(book, "Log", dt.date(2026, 11, 2))
    assert own["Date"] % 1 == pytest.approx((6 * 60 + 10) / 1440)
    assert (own["Measured"], nominal["Measured"], aborted["Measured"]) == (
        own["Use"], None, pytest.approx(12.5),
    )  # fmt: skip
    assert (own["Loads"], aborted["Loads"], aborted["Use"]) == (1, 0, pytest.approx(12.5))
    site = contents(book).named["Site_bar"]
    assert isinstance(site, float)
    backfill = worksheet_function_named("GAS_BACKFILL")
    of_recipe = [step for step in demo.STEPS if step[0] == "Harden 2 bar"]
    last = [step for step in of_recipe if step[1] == "backfill"][-1]
    volume = next(f.free_volume for f in demo.FURNACES if f.name == "VF1")
    planned = backfill("nitrogen", volume, last[2], last[3], last[4])
    run = backfill("nitrogen", volume, "0.01 mbar", 1.5 + site, 30)
    # the recipe's pressure stands in the book to a mbar
    assert own["Use"] - nominal["Use"] == pytest.approx(run - planned, rel=1e-3)


def test_a_cycle_counts_by_its_own_hold(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "cycles.csv"
    file.write_text(
        "Start,Furnace,Recipe,Hold time (min),Partial pressure (mbar)\n"
        "2026-11-04 06:10,VF1,Harden 2 bar,90,\n"
        "2026-11-04 14:10,VF1,Harden 2 bar,,2\n"
        "2026-11-04 20:10,VF1,Anneal,0,\n"
    )
    mapping, questions, _ = mapping_for("cycles", file, mapping_file(file))
    assert questions == ()
    found = run(file, book, mapping, dry_run=True).entered
    measured = contents(book).tables["Log"].columns["Measured"]
    long, deep, none = (
        found.cells[row, measured] for row in sorted({row for row, _ in found.cells})
    )
    furnace = next(each for each in demo.FURNACES if each.name == "VF1")
    steps = [list(step[1:]) for step in demo.STEPS if step[0] == "Harden 2 bar"]
    (hold,) = [step for step in steps if step[0] == "hold"]
    assert (hold[1], hold[5]) == (0.001, 1.0)
    # what the pumps take: speed, pressure and hours, the gas ideal at 20 degC
    pumped = hold[4] * hold[1] / 1.01325 * 273.15 / 293.15
    nominal = worksheet_function_named("GAS_CYCLE")("nitrogen", furnace.free_volume, steps)
    assert long - nominal == pytest.approx(0.5 * pumped, rel=1e-2)
    assert deep - nominal == pytest.approx(1.0 * pumped, rel=1e-2)
    assert none == pytest.approx(demo.use_per_load("VF1", "Anneal"), rel=2e-3)


def test_names_that_the_plant_has_for_a_furnace(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "cycles.csv"
    file.write_text(CYCLES)
    imported("cycles", file, book, "--dry-run")
    kept = tmp_path / "cycles.csv.toml"
    kept.write_text(kept.read_text() + '\n[names.furnace]\n"Ofen 3" = "VF3"\n')
    assert "1 added to Log, 0 replaced, 3 there already" in imported("cycles", file, book).output
    assert rows_of(book, "Log", dt.date(2026, 11, 2))[-1]["Use"] == pytest.approx(5)


def test_days_without_times_are_one_row_a_day(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "days.csv"
    lines = ["2026-11-09,VF1,Anneal"] * 3 + ["2026-11-09,VF1,Harden 2 bar"]
    file.write_text("\n".join(["Date,Furnace,Recipe", *lines]) + "\n")
    result = imported("cycles", file, book)
    assert "4 rows read: 2 added to Log, 0 replaced, 0 there already, 2 used for these rows" in (
        result.output
    )
    assert [row["Loads"] for row in rows_of(book, "Log", dt.date(2026, 11, 9))] == [3, 1]
    again = imported("cycles", file, book)
    assert "0 added to Log, 0 replaced, 2 there already, 2 used" in again.output


def test_telemetry_is_the_months_stock_and_names_deliveries(book: Path, tmp_path: Path) -> None:
    hours = pd.date_range("2026-10-31 12:00", "2026-12-03", freq="h")
    level = 5200.0 - 3 * pd.Series(range(len(hours)), index=hours)
    level[level.index >= "2026-11-20 10:00"] += 4300
    table = pd.DataFrame({"Timestamp": hours, "Level (L(liq))": level.to_numpy()})
    table["Tank pressure (bar(g))"] = 12.4
    file = tmp_path / "tank.csv"
    table.to_csv(file, index=False)
    assert "Readings needs tank" in imported("tank", file, book).output
    kept = tmp_path / "tank.csv.toml"
    kept.write_text(kept.read_text() + '\n[always]\ntank = "N2 tank"\n')
    ticket = tmp_path / "tickets.csv"
    ticket.write_text(
        "Delivered,Docket,Tank,Net (kg)\n2026-11-20,T9001,N2 tank,2450\n"
        "2026-11-19,T9000,N2 tank,300\n2026-11-10,T8999,N2 tank,500\n"
    )
    assert "3 added to Deliveries" in imported("tickets", ticket, book).output
    result = imported("tank", file, book, "--replace")
    assert "delivery 2026-11-20 10:00" in result.output
    assert "by the level; ticket T9001: 1,959 Nm3" in result.output  # 2450 kg over 1.2504 kg/Nm3
    for other in ("T9000", "T8999"):
        assert re.search(f"{other}: .* Nm3, and the level does not rise then", result.output)
    found = {row["Date"]: row for row in rows_of(book, "Readings", dt.date(2026, 11, 1))
             if row["Tank"] == "N2 tank"}  # fmt: skip
    first, second = (float((dt.date(2026, month, 1) - dt.date(1899, 12, 30)).days)
                     for month in (11, 12))  # fmt: skip
    assert found[first]["Level"] == pytest.approx(5200 - 3 * 12)
    assert found[second]["Level"] == pytest.approx(float(level["2026-12-01 00:00"]))
    assert found[first]["Pressure"] == pytest.approx(12.4)
