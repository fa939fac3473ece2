"""Tank telemetry of many plants in a ledger: cleaned, summed by month, every row accounted for."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

for module in ("dask.dataframe", "distributed", "pyarrow"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[ledger]")

import pandas as pd

from gasfuncs.hosts.ledger import LedgerError, calculate_ledger
from gasfuncs.workbooks import demo
from tests.importing.plant_month import (
    CAPACITY,
    LEVEL,
    PRESSURE,
    TANK,
    normal,
    plant_month,
)
from tests.ledger.demo_ledger import write_ledger
from tests.thorough import tries

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning:dask.*")

PLANTS = (demo.PLANT, "Brookside Works", "Hollow Lane")
STOCK = LEVEL * normal(250_000)
"""Nm³ that a full tank's level scatters; 11 m3 of nitrogen at 13 bar are 248,600 mol."""


def write_telemetry(folder: Path, plants: tuple[str, ...] = PLANTS) -> Path:
    """A ledger with the same tank in every plant, its readings shuffled, some of them bad."""
    write_ledger(folder, plants)
    (folder / "telemetry").mkdir()
    rows = [(plant, TANK, "nitrogen", CAPACITY) for plant in plants]
    tanks = pd.DataFrame(rows, columns=["plant", "tank", "gas", "capacity_m3"])
    tanks.to_parquet(folder / "tanks.parquet")
    told = plant_month().telemetry
    for plant in plants:
        table = pd.DataFrame(
            {"plant": plant, "tank": TANK, "time": told["time"].astype(str),
             "level_m3": told["liquid"].astype(str), "pressure_bar_a": PRESSURE}
        )  # fmt: skip
        table.loc[10, "level_m3"] = "no signal"
        table.loc[20, "level_m3"] = "-1"
        table.loc[30, "time"] = "05/10/2026 06:00"
        table.loc[40, "pressure_bar_a"] = None
        again = pd.concat([table, table.iloc[50:51]]).sample(frac=1, random_state=3)
        again.to_parquet(folder / "telemetry" / f"{plant}.parquet", index=False)
    return folder


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_telemetry(tmp_path_factory.mktemp("ledger") / "plants")


@pytest.fixture(scope="module")
def months(folder: Path) -> Any:
    output = folder.parent / "one-core"
    calculate_ledger(folder, output, cores=1)
    return pd.read_parquet(output / "tank_months.parquet")


def test_months_of_every_tank_are_the_truth(months: Any) -> None:
    month = plant_month()
    november = months[months["month"] == "2026-11"]
    assert november["plant"].tolist() == sorted(PLANTS)
    for row in november.itertuples():
        assert row.opening == pytest.approx(normal(month.opening), abs=1.1 * STOCK)
        assert row.closing == pytest.approx(normal(month.closing), abs=1.1 * STOCK)
        assert row.delivered == pytest.approx(normal(month.delivered), abs=4 * STOCK)
        assert row.used == pytest.approx(normal(month.used), abs=6 * STOCK)
        assert row.deliveries == 2


def test_every_reading_is_there_and_a_bad_one_says_why(folder: Path, months: Any) -> None:
    count = len(plant_month().telemetry) + 1
    rows = pd.read_parquet(folder.parent / "one-core" / "telemetry")
    assert months["readings"].sum() == len(rows) == count * len(PLANTS)
    mine = rows[rows["plant"] == PLANTS[0]]
    assert sorted(mine["check"].dropna()) == [
        "a level below 0",
        'level_m3: "no signal" is no number',
        "pressure_bar_a: is blank",
        "the same time again",
        'time: "05/10/2026 06:00" may have the day or the month first; say which',
    ]
    assert months["left_out"].sum() == 5 * len(PLANTS)
    assert months[months["month"] == "unknown"]["left_out"].tolist() == [1] * len(PLANTS)


def test_another_unit(folder: Path, months: Any, tmp_path: Path) -> None:
    calculate_ledger(folder, tmp_path / "out", cores=tries(1, 2), unit="scf")
    found = pd.read_parquet(tmp_path / "out" / "tank_months.parquet")
    columns = ["plant", "tank", "month", "gas", "readings", "left_out", "deliveries"]
    pd.testing.assert_frame_equal(found[columns], months[columns])
    # ideal gas: 35.3147 ft3 in a m3, from 0 °C to 70 °F (294.261 K / 273.15 K), both at 1 atm
    ratio = (found["used"] / months["used"]).dropna()
    assert ratio.between(38.03, 38.06).all()


def test_a_plant_may_have_a_number_and_a_blank_tank_is_unknown(tmp_path: Path) -> None:
    folder = write_telemetry(tmp_path / "plants", PLANTS[:1])
    readings = folder / "telemetry" / f"{PLANTS[0]}.parquet"
    table = pd.read_parquet(readings).assign(plant=7)
    table.loc[table.index[0], "tank"] = None
    table.to_parquet(readings)
    pd.read_parquet(folder / "tanks.parquet").assign(plant=7).to_parquet(folder / "tanks.parquet")
    calculate_ledger(folder, tmp_path / "out", cores=1)
    found = pd.read_parquet(tmp_path / "out" / "tank_months.parquet")
    count = found.groupby(["plant", "tank"])["readings"].sum().to_dict()
    assert count == {("7", TANK): len(table) - 1, ("7", "unknown"): 1}
    mine = found[(found["tank"] == TANK) & (found["month"] == "2026-11")]
    assert mine["used"].item() == pytest.approx(normal(plant_month().used), abs=6 * STOCK)


@pytest.mark.parametrize("part", ["log", "telemetry"])
def test_the_folder_whose_files_do_not_fit_is_named(part: str, tmp_path: Path) -> None:
    folder = write_telemetry(tmp_path / "plants", PLANTS[:1])
    file = folder / part / f"{PLANTS[0]}.parquet"
    table = pd.read_parquet(file)
    name = "date" if part == "log" else "level_m3"
    table.assign(**{name: 1}).to_parquet(file.with_name("other.parquet"), index=False)
    with pytest.raises(LedgerError, match=f"{part} do not fit together"):
        calculate_ledger(folder, tmp_path / "out", cores=1)


def test_a_tank_that_is_not_listed(tmp_path: Path) -> None:
    folder = write_telemetry(tmp_path / "plants", PLANTS[:1])
    tanks = pd.read_parquet(folder / "tanks.parquet")
    tanks.assign(tank="O2 tank").to_parquet(folder / "tanks.parquet")
    calculate_ledger(folder, tmp_path / "out", cores=1)
    rows = pd.read_parquet(tmp_path / "out" / "telemetry")
    assert rows["check"].notna().all()
    assert (rows["check"] == "tank: is not among the plant's tanks").sum() == len(rows) - 3
    found = pd.read_parquet(tmp_path / "out" / "tank_months.parquet")
    assert found["used"].isna().all()
    assert found["left_out"].sum() == len(rows)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"columns": {"level_m3": "level"}}, "has no column level_m3"),
        ({"columns": {"pressure_bar_a": "check"}}, "has no column pressure_bar_a"),
    ],
)
def test_columns_that_are_missing(change: Any, sentence: str, tmp_path: Path) -> None:
    folder = write_telemetry(tmp_path / "plants", PLANTS[:1])
    file = folder / "telemetry" / f"{PLANTS[0]}.parquet"
    pd.read_parquet(file).rename(**change).to_parquet(file)
    with pytest.raises(LedgerError, match=sentence):
        calculate_ledger(folder, tmp_path / "out", cores=1)
    assert not (tmp_path / "out").exists()


def test_a_column_of_their_own_is_not_overwritten(tmp_path: Path) -> None:
    folder = write_telemetry(tmp_path / "plants", PLANTS[:1])
    file = folder / "telemetry" / f"{PLANTS[0]}.parquet"
    pd.read_parquet(file).assign(check="theirs").to_parquet(file)
    with pytest.raises(LedgerError, match="has a column check of its own"):
        calculate_ledger(folder, tmp_path / "out", cores=1)
