"""The sample files of the invented plant say what its books say of the month."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

import pandas as pd

from gasfuncs.cleaning.accounts import Tank
from gasfuncs.hosts.headless.entering import contents
from gasfuncs.importing import ImportingError, traces
from gasfuncs.importing.guessing import guess_mapping
from gasfuncs.importing.job import mapping_file, mapping_for, run
from gasfuncs.importing.mapping import Column, Mapping, Sensor, read_mapping, write_mapping
from gasfuncs.importing.plant import Plant
from gasfuncs.importing.readings import Readings, read_readings
from gasfuncs.importing.tables import Layout, read_sample
from gasfuncs.importing.tank import account
from gasfuncs.properties import gas as find_gas
from gasfuncs.properties import reference_molar_density
from gasfuncs.units import NORMAL
from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.monthly_demo import demo
from gasfuncs.workbooks.sheets.plant_files import HIGH, LOW, PURGE_CYCLES, before_the_month, files
from tests.workbooks.conftest import built_once

NAME = "monthly_gas_usage"


def read(folder: Path, name: str, kind: str) -> Readings:
    """A sample file, which leaves nothing to be asked."""
    path = folder / name
    path.write_text(files()[name], encoding="utf-8")
    guess = guess_mapping(kind, read_sample(path, Layout()))
    assert guess.questions == ()
    return read_readings(path, guess.mapping)


def test_every_load_of_the_month_is_in_the_file(tmp_path: Path) -> None:
    found = read(tmp_path, "cycles.csv", "cycles")
    loads = sum(loads for day, _, _, loads in plant.log() if day >= plant.MONTH)
    assert (found.frame["status"] == "OK").sum() == loads
    assert [reason for _, reason in found.left_out] == ["repeats line 40"]


@pytest.mark.parametrize("gas", plant.TANKS)
def test_the_tanks_levels_are_the_months_stock(gas: str, tmp_path: Path) -> None:
    readings = read(tmp_path, f"{gas}-tank.csv", "tank")
    tank = Tank(find_gas(gas), plant.CAPACITY[gas] / 1000, site=plant.SITE * 1e5)
    found = account(readings, tank)
    mol = float(reference_molar_density(tank.gas, NORMAL))
    came = [t.came for t in plant.tickets() if t.gas == gas and t.day >= plant.MONTH]
    # the gauge scatters by 2 L, and is read to 10 L in the plant's own books
    assert (found.deliveries["amount"] / mol).tolist() == pytest.approx(came, abs=15)
    levels = readings.frame.set_index("time")["level"] * 1000
    for day in (plant.MONTH, plant.NEXT_MONTH):
        assert levels[f"{day} 00:00"] == pytest.approx(plant.level_on(gas, day), abs=2.5)


def test_one_file_of_both_tanks_by_the_tags_of_the_plant(tmp_path: Path) -> None:
    tags = {name: f"LI-10{at}" for at, name in enumerate(plant.TANKS.values(), 1)}
    texts = [files()[f"{gas}-tank.csv"].splitlines() for gas in plant.TANKS]
    lines = [line for pair in zip(*texts, strict=True) for line in pair][len(texts) :]
    text = "\n".join([texts[0][0], *lines, ""])
    for name, tag in tags.items():
        text = text.replace(name, tag)
    file = tmp_path / "tanks.csv"
    file.write_text(text)
    mapping, questions, _ = mapping_for("tank", file, mapping_file(file))
    assert questions == ()
    unknown = run(file, built_once(NAME), mapping, dry_run=True)
    assert len(unknown.left_out) == len(lines)
    assert 'tank: "LI-101" is not on Tanks' in unknown.left_out[0][1]
    names = {tag: name for name, tag in tags.items()}
    found = run(
        file, built_once(NAME), replace(mapping, names={"tank": names}), dry_run=True, replace=True
    )
    assert (
        found.read
        == len(lines)
        == found.used + len(found.entered.replaced) + len(found.entered.there)
    )
    table = contents(built_once(NAME)).tables["Readings"]
    cells = found.entered.cells
    for row in {row for row, _ in cells}:
        tank, day, level = (cells[row, table.columns[name]] for name in ("Tank", "Date", "Level"))
        gas = next(gas for gas, name in plant.TANKS.items() if name == tank)
        moment = dt.date(1899, 12, 30) + dt.timedelta(days=int(day))
        assert level == pytest.approx(plant.level_on(gas, moment), abs=2.5)
    for name in plant.TANKS.values():
        assert any(note.startswith(f"{name}: 2026-10: opening") for note in found.notes)


TAGS = {
    "LI-101": Sensor("level", "L(liq)", "N2 tank"),
    "PI-101": Sensor("pressure", "bar(g)", "N2 tank"),
    "LI-102": Sensor("level", "%", "Ar tank"),
    "PI-102": Sensor("pressure", "psig", "Ar tank"),
}
"""Two tanks, each with units of its own."""


def telemetry() -> pd.DataFrame:
    """Both sample files side by side, in the units of their sensors."""
    n2, ar = (
        pd.read_csv(io.StringIO(files()[f"{gas}-tank.csv"]), parse_dates=["Timestamp"])
        for gas in ("nitrogen", "argon")
    )
    columns = [
        n2["Level (L(liq))"],
        n2["Tank pressure (bar(g))"],
        ar["Level (L(liq))"] / plant.CAPACITY["argon"] * 100,
        ar["Tank pressure (bar(g))"] / 0.0689476,
    ]
    return pd.DataFrame({"Timestamp": n2["Timestamp"], **dict(zip(TAGS, columns, strict=True))})


def as_columns(path: Path) -> tuple[int, Mapping]:
    table = telemetry()
    table.to_csv(path, index=False)
    return 2 * len(table), Mapping("tank", {"time": Column("Timestamp")}, sensors=TAGS)


def as_rows(path: Path) -> tuple[int, Mapping]:
    """A row a reading; a pressure only when it changes, some minutes off; a sensor of no tank."""
    table = telemetry()
    levels = table[["Timestamp", "LI-101", "LI-102"]].melt("Timestamp")
    pressures = table[["Timestamp", "PI-101", "PI-102"]].iloc[::50].melt("Timestamp")
    pressures["Timestamp"] -= pd.Timedelta(minutes=7)
    other = pd.DataFrame({"Timestamp": table["Timestamp"][:3], "variable": "TI-7", "value": 21.0})
    rows = pd.concat([pressures, levels, other]).rename(columns={"variable": "Tag"})
    rows.to_csv(path, index=False)
    named = {"sensor": "Tag", "value": "value"}
    return len(rows), Mapping("tank", {"time": Column("Timestamp")}, sensors=TAGS, rows=named)


@pytest.mark.parametrize("written", [as_columns, as_rows])
def test_a_column_a_sensor_and_a_row_a_reading(
    tmp_path: Path, written: Callable[[Path], tuple[int, Mapping]]
) -> None:
    file = tmp_path / "historian.csv"
    count, mapping = written(file)
    write_mapping(mapping, kept := tmp_path / "kept.toml")
    again = read_mapping(kept)
    assert again.sensors == TAGS
    found = run(file, built_once(NAME), again, dry_run=True, replace=True)
    assert found.read == count == found.used + len(found.left_out) + 4
    unknown = "sensor: TI-7 is not among [sensors] in the mapping"
    assert [why for _, why in found.left_out] == [unknown] * (3 if mapping.rows else 0)
    table, cells = contents(built_once(NAME)).tables["Readings"], found.entered.cells
    rows = {row for row, _ in cells}
    assert len(rows) + len(found.entered.there) == 4
    for row in rows:
        tank, day, level, pressure = (
            cells[row, table.columns[name]] for name in ("Tank", "Date", "Level", "Pressure")
        )
        gas = next(gas for gas, name in plant.TANKS.items() if name == tank)
        moment = dt.date(1899, 12, 30) + dt.timedelta(days=int(day))
        assert level == pytest.approx(plant.level_on(gas, moment), abs=2.5)
        assert pressure == pytest.approx(plant.PRESSURE, rel=1e-5)
    assert any(note.startswith("Ar tank: 2026-10: opening") for note in found.notes)


def test_what_sensors_there_are_is_found_and_whose_they_are_is_asked(tmp_path: Path) -> None:
    wide = tmp_path / "wide.csv"
    wide.write_text(
        "Time,N2 level (L(liq)),N2 pressure (bar(g)),Ar level (%)\n2026-10-05 06:00,1,2,3\n"
    )
    mapping, questions, _ = mapping_for("tank", wide, mapping_file(wide))
    assert mapping.sensors == {
        "N2 level (L(liq))": Sensor("level", "L(liq)", "?"),
        "N2 pressure (bar(g))": Sensor("pressure", "bar(g)", "?"),
        "Ar level (%)": Sensor("level", "%", "?"),
    }
    assert questions[0] == 'sensors."N2 level (L(liq))": of which tank of the book?'
    long = tmp_path / "long.csv"
    long.write_text(
        "Time;Tag;Value;Unit\n2026-10-05 06:00;Tank 1 level;61,5;%\n"
        "2026-10-05 06:00;PI-7;12,4;bar\n"
    )
    mapping, questions, _ = mapping_for("tank", long, mapping_file(long))
    assert (mapping.rows, mapping.layout.decimal) == ({"sensor": "Tag", "value": "Value"}, ",")
    assert mapping.sensors["Tank 1 level"] == Sensor("level", "%", "?")
    assert 'sensors."PI-7": what is it? role = level, dp, pressure; or take it out' in questions
    with pytest.raises(ImportingError, match="PI-7"):
        run(long, built_once(NAME), mapping, dry_run=True)
    both = dict.fromkeys(("LI-101", "LI-102"), Sensor("level", "%", "N2 tank"))
    as_columns(wide)
    twice = Mapping("tank", {"time": Column("Timestamp")}, sensors=both)
    with pytest.raises(ImportingError, match='"LI-101" and "LI-102" are both level of N2 tank'):
        run(wide, built_once(NAME), twice, dry_run=True)


def test_the_logger_and_the_meter_are_read(tmp_path: Path) -> None:
    assert read(tmp_path, "vf1-rise.csv", "rise").read == 131
    assert read(tmp_path, "n2-dewpoint.csv", "dewpoint").read == 25


def test_the_cycles_of_the_purge_that_nobody_typed(tmp_path: Path) -> None:
    readings = read(tmp_path, "vf2-purge.csv", "purge")
    traces.find(readings, Plant({}, plant.SITE * 1e5))
    assert readings.frame["cycle"].tolist() == list(range(1, PURGE_CYCLES + 1))
    for role, pressure in (("low", LOW), ("high", HIGH)):
        assert readings.frame[role].to_numpy() / 100 == pytest.approx([pressure] * 6, abs=1)


def test_the_book_before_the_month_has_all_but_the_month() -> None:
    before, whole = before_the_month().tables, demo().tables
    for table in ("Log", "Deliveries", "Readings"):
        last = [row for row in whole[table] if row[0] >= plant.MONTH]
        assert last
        assert [*before[table], *last] == list(whole[table])
    assert before["Furnaces"] == whole["Furnaces"]
