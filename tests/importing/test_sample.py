"""The sample files of the invented plant say what its books say of the month."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

from gasfuncs.cleaning.accounts import Tank
from gasfuncs.hosts.headless.entering import contents
from gasfuncs.importing.guessing import guess_mapping
from gasfuncs.importing.job import mapping_file, mapping_for, run
from gasfuncs.importing.readings import Readings, read_readings
from gasfuncs.importing.tables import Layout, read_sample
from gasfuncs.importing.tank import account
from gasfuncs.properties import gas as find_gas
from gasfuncs.properties import reference_molar_density
from gasfuncs.units import NORMAL
from gasfuncs.workbooks.sheets import plant
from gasfuncs.workbooks.sheets.monthly_demo import demo
from gasfuncs.workbooks.sheets.plant_files import before_the_month, files

TEMPLATE = Path(__file__).parents[2] / "workbook_templates" / "monthly_gas_usage.xlsx"


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
    unknown = run(file, TEMPLATE, mapping, dry_run=True)
    assert len(unknown.left_out) == len(lines)
    assert 'tank: "LI-101" is not on Tanks' in unknown.left_out[0][1]
    names = {tag: name for name, tag in tags.items()}
    found = run(file, TEMPLATE, replace(mapping, names={"tank": names}), dry_run=True, replace=True)
    assert (
        found.read
        == len(lines)
        == found.used + len(found.entered.replaced) + len(found.entered.there)
    )
    table = contents(TEMPLATE).tables["Readings"]
    cells = found.entered.cells
    for row in {row for row, _ in cells}:
        tank, day, level = (cells[row, table.columns[name]] for name in ("Tank", "Date", "Level"))
        gas = next(gas for gas, name in plant.TANKS.items() if name == tank)
        moment = dt.date(1899, 12, 30) + dt.timedelta(days=int(day))
        assert level == pytest.approx(plant.level_on(gas, moment), abs=2.5)
    for name in plant.TANKS.values():
        assert any(note.startswith(f"{name}: 2026-10: opening") for note in found.notes)


def test_the_logger_and_the_meter_are_read(tmp_path: Path) -> None:
    assert read(tmp_path, "vf1-rise.csv", "rise").read == 131
    assert read(tmp_path, "n2-dewpoint.csv", "dewpoint").read == 25


def test_the_book_before_the_month_has_all_but_the_month() -> None:
    before, whole = before_the_month().tables, demo().tables
    for table in ("Log", "Deliveries", "Readings"):
        last = [row for row in whole[table] if row[0] >= plant.MONTH]
        assert last
        assert [*before[table], *last] == list(whole[table])
    assert before["Furnaces"] == whole["Furnaces"]
