"""A ledger of cycle logs: equal to the monthly workbook wherever it is computed."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

for module in ("dask.dataframe", "distributed", "pyarrow"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[ledger]")

import distributed
import pandas as pd

from gasfuncs.cli import main
from gasfuncs.hosts.ledger import LedgerError, calculate_ledger, ledger
from gasfuncs.hosts.ledger.partitions import calculated, summed
from gasfuncs.workbooks import demo
from gasfuncs.workbooks.building import build
from gasfuncs.workbooks.sheets.monthly_gas_usage import BOOK
from tests.ledger.demo_ledger import log_of, write_ledger
from tests.workbooks.editing import Computed, Declared

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning:dask.*")

PLANTS = (demo.PLANT, "Brookside Works", "Hollow Lane")
OCTOBER = f"{demo.MONTH:%Y-%m}"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_ledger(tmp_path_factory.mktemp("ledger") / "plants", PLANTS)


@pytest.fixture(scope="module")
def monthly(folder: Path) -> Any:
    """The summary as one core makes it."""
    return calculate_ledger(folder, folder.parent / "one-core", cores=1)


@pytest.fixture(scope="module")
def cluster() -> Iterator[Any]:
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address="127.0.0.1:0"
    ) as running:
        yield running


@pytest.fixture(scope="module")
def workbook(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The monthly workbook of the demo plant, computed."""
    path = tmp_path_factory.mktemp("book") / f"{BOOK.name}.xlsx"
    build(BOOK.name, path, rows=ROWS)
    return Computed(path)


ROWS = 500
SHEETS = Declared(BOOK, rows=ROWS)
ROUNDED = 5e-4
"""Pressures stand in the book by the gauge, to a mbar."""


@pytest.mark.parametrize(("table", "kind"), [("ByFurnace", "furnace"), ("ByRecipe", "recipe")])
def test_furnaces_and_recipes_use_what_the_workbook_says(
    table: str, kind: str, monthly: Any, workbook: Any
) -> None:
    rows = monthly[(monthly["plant"] == demo.PLANT) & (monthly["month"] == OCTOBER)]
    columns = (f"{table}.{name}" for name in (kind.capitalize(), "Loads", "Month"))
    found = zip(*(SHEETS.column(workbook, column) for column in columns), strict=True)
    told = [(name, loads, use) for name, loads, use in found if name]
    assert len(told) >= 3
    for name, loads, use in told:
        mine = rows[rows[kind] == name]
        assert mine["loads"].sum() == loads
        assert mine["use"].sum() == pytest.approx(use, rel=ROUNDED)


def test_every_row_of_the_log_has_the_use_of_the_workbook(
    folder: Path, monthly: Any, workbook: Any
) -> None:
    assert monthly["rows"].sum() == len(PLANTS) * len(demo.log())
    written = pd.read_parquet(folder.parent / "one-core" / "log")
    mine = written[written["plant"].astype(str) == demo.PLANT]
    uses = {
        (row.date.date(), row.furnace, row.recipe, row.loads): row.use for row in mine.itertuples()
    }
    found = SHEETS.column(workbook, "Log.Use")[: len(demo.log())]
    assert len(mine) == len(demo.log())
    for row, use in zip(demo.log(), found, strict=True):
        assert uses[row] == pytest.approx(use, rel=ROUNDED)


def test_a_cluster_of_two_workers_says_the_same(folder: Path, monthly: Any, cluster: Any) -> None:
    output = folder.parent / "cluster"
    found = calculate_ledger(folder, output, scheduler=cluster.scheduler_address)
    pd.testing.assert_frame_equal(found, monthly)
    pd.testing.assert_frame_equal(pd.read_parquet(output / "monthly.parquet"), monthly)
    assert len(list((output / "log").glob("month=*"))) == monthly["month"].nunique()


def test_the_command_on_two_cores(folder: Path, monthly: Any, tmp_path: Path) -> None:
    output = tmp_path / "out"
    given = ["ledger", str(folder), "--output", str(output), "--cores", "2"]
    result = CliRunner().invoke(main, given)
    assert result.exit_code == 0, result.output
    pd.testing.assert_frame_equal(pd.read_parquet(output / "monthly.parquet"), monthly)
    use = monthly[(monthly["month"] == OCTOBER) & (monthly["gas"] == "argon")]["use"].sum()
    assert f"{use:.7g}" in result.output


def test_another_unit(folder: Path, monthly: Any, tmp_path: Path) -> None:
    found = calculate_ledger(folder, tmp_path / "out", unit="scf", cores=1)
    ratio = found["use"] / monthly["use"]
    # ideal gas: 35.3147 ft3 in a m3, from 0 °C to 70 °F (294.261 K / 273.15 K), both at 1 atm
    assert ratio.between(38.03, 38.06).all()


def changed(zones: dict[str, str] | None = None, **columns: Any) -> Any:
    """Two rows of the demo plant's log, the first with other values, as a partition makes them."""
    log = log_of(demo.PLANT)[:2].astype({"loads": object, "date": object})
    for name, value in columns.items():
        log.loc[0, name] = value
    names = ["plant", "furnace", "gas", "free_volume"]
    furnaces = [(demo.PLANT, f.name, f.gas, f.free_volume) for f in demo.FURNACES]
    recipes = pd.DataFrame(
        [(demo.PLANT, *step, None) for step in demo.STEPS],
        columns=[
            "plant", "recipe", "kind", "from", "to", "temperature", "rate", "duration", "repeats",
            "control",
        ],
    )  # fmt: skip
    return calculated(log, pd.DataFrame(furnaces, columns=names), recipes, "Nm3", zones)


@pytest.mark.parametrize(
    ("column", "value", "sentence"),
    [
        ("furnace", "VF9", "gas: is blank"),
        ("furnace", None, "gas: is blank"),
        ("recipe", "Temper", "recipe: is not among the plant's recipes"),
        ("plant", None, "recipe: is not among the plant's recipes"),
        ("loads", None, "loads: is blank"),
        ("loads", "two", 'loads: "two" is no number'),
        ("loads", -1, "loads: is negative"),
        ("loads", float("inf"), "loads: is infinite"),
        ("date", None, "date: is blank"),
        ("date", "someday", 'date: "someday" is no time'),
        ("date", 1_759_658_400, "date: is in UTC; name the time zone of the plant"),
    ],
)
def test_a_row_that_cannot_be_calculated_stays_and_says_why(
    column: str, value: Any, sentence: str
) -> None:
    rows = changed(**{column: value})
    assert len(rows) == 2
    assert rows["check"][0].startswith(sentence)
    assert pd.isna(rows["use"][0])
    assert pd.isna(rows["check"][1])
    assert rows["use"][1] > 0
    assert summed(rows)["wrong"].sum() == 1
    assert summed(rows)["rows"].sum() == 2


@pytest.mark.parametrize(
    "moment",
    [1_793_487_600, 1_793_487_600_000, "2026-10-31T23:00:00Z", "2026-10-31T18:00:00-05:00"],
)
def test_a_month_ends_by_the_clock_of_the_plant(moment: Any) -> None:
    for zone, month in (("Europe/Vienna", "2026-11"), ("America/Chicago", "2026-10")):
        rows = changed(zones={demo.PLANT: zone}, date=moment)
        assert rows["month"][0] == month
        assert pd.isna(rows["check"][0])


def test_a_time_zone_by_plant(monthly: Any, tmp_path: Path) -> None:
    folder = write_ledger(tmp_path / "plants", PLANTS)
    zones = dict(zip(PLANTS, ["Europe/Vienna", "America/Chicago", "UTC"], strict=True))
    table = pd.DataFrame(zones.items(), columns=["plant", "time_zone"])
    table.to_parquet(folder / "plants.parquet")
    for plant, zone in zones.items():
        file = folder / "log" / f"{plant}.parquet"
        log = pd.read_parquet(file)
        stamps = log["date"].dt.tz_localize(zone).dt.tz_convert("UTC").dt.tz_localize(None)
        seconds = stamps.astype("datetime64[s]").astype("int64")
        log.assign(date=seconds).to_parquet(file, index=False)
    found = calculate_ledger(folder, tmp_path / "out", cores=1)
    pd.testing.assert_frame_equal(found, monthly)
    table.assign(time_zone="Mars").to_parquet(folder / "plants.parquet")
    with pytest.raises(LedgerError, match='"Mars" is no time zone'):
        calculate_ledger(folder, tmp_path / "again", cores=1)


def test_files_of_one_log_that_do_not_fit_together(tmp_path: Path) -> None:
    folder = write_ledger(tmp_path / "plants", PLANTS)
    file = folder / "log" / f"{PLANTS[0]}.parquet"
    log = pd.read_parquet(file)
    log.assign(date=log["date"].astype("int64")).to_parquet(file, index=False)
    with pytest.raises(LedgerError, match="do not fit together"):
        calculate_ledger(folder, tmp_path / "out", cores=1)
    assert not (tmp_path / "out").exists()


def test_an_empty_log(tmp_path: Path) -> None:
    folder = write_ledger(tmp_path / "plants", [demo.PLANT])
    file = folder / "log" / f"{demo.PLANT}.parquet"
    pd.read_parquet(file)[:0].to_parquet(file, index=False)
    assert len(calculate_ledger(folder, tmp_path / "out", cores=1)) == 0
    assert len(pd.read_parquet(tmp_path / "out" / "monthly.parquet")) == 0


@pytest.mark.parametrize("name", ["check", "gas", "use", "month", "use_per_load"])
def test_a_column_of_the_log_is_never_overwritten(tmp_path: Path, name: str) -> None:
    folder = write_ledger(tmp_path / "plants", [demo.PLANT])
    file = folder / "log" / f"{demo.PLANT}.parquet"
    pd.read_parquet(file).assign(**{name: "theirs"}).to_parquet(file, index=False)
    with pytest.raises(LedgerError, match=f"has a column {name} of its own"):
        calculate_ledger(folder, tmp_path / "out", cores=1)


def test_a_unit_that_is_none_and_an_output_inside(folder: Path) -> None:
    with pytest.raises(LedgerError, match="bushel"):
        calculate_ledger(folder, folder.parent / "out", unit="bushel", cores=1)
    with pytest.raises(LedgerError, match="lies in the ledger itself"):
        calculate_ledger(folder, folder / "log" / "out", cores=1)


def test_a_sum_that_misses_a_row_is_blank(tmp_path: Path) -> None:
    folder = write_ledger(tmp_path / "plants", [demo.PLANT])
    file = folder / "log" / f"{demo.PLANT}.parquet"
    log = pd.read_parquet(file)
    log.loc[0, ["loads", "date"]] = [-5, dt.datetime(2026, 10, 5)]
    log.to_parquet(file)
    monthly = calculate_ledger(folder, tmp_path / "out", cores=1)
    bad = monthly[monthly["wrong"] > 0]
    assert len(bad) == 1
    assert bad["use"].isna().all()
    assert monthly["rows"].sum() == len(demo.log())
    result = CliRunner().invoke(
        main, ["ledger", str(folder), "--output", str(tmp_path / "again"), "--cores", "1"]
    )
    assert "not known" in result.output


def test_no_output_is_replaced_and_none_is_left_half_done(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    with pytest.raises(LedgerError, match="is there already"):
        calculate_ledger(folder, tmp_path / "there", cores=1)
    with pytest.raises(LedgerError, match=r"nowhere has no log and no furnaces\.parquet and no r"):
        calculate_ledger(tmp_path / "nowhere", tmp_path / "out", cores=1)
    other = write_ledger(tmp_path / "plants", [demo.PLANT])
    recipes = other / "recipes.parquet"
    kept = recipes.read_bytes()
    recipes.write_text("no Parquet")
    with pytest.raises(LedgerError, match=r"recipes\.parquet cannot be read as Parquet"):
        calculate_ledger(other, tmp_path / "out", cores=1)
    recipes.write_bytes(kept)
    file = other / "log" / f"{demo.PLANT}.parquet"
    pd.read_parquet(file).drop(columns="loads").to_parquet(file)
    with pytest.raises(LedgerError, match="has no column loads; its columns must be plant, date"):
        calculate_ledger(other, tmp_path / "out", cores=1)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["plants", "there"]


def test_a_furnace_named_twice_is_refused(tmp_path: Path) -> None:
    folder = write_ledger(tmp_path / "plants", [demo.PLANT])
    file = folder / "furnaces.parquet"
    furnaces = pd.read_parquet(file)
    pd.concat([furnaces, furnaces[:1]]).to_parquet(file)
    with pytest.raises(LedgerError, match=f"{demo.PLANT} VF1 is there twice"):
        calculate_ledger(folder, tmp_path / "out", cores=1)


def test_a_scheduler_that_does_not_answer(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ledger, "PATIENCE", 1.0)
    with pytest.raises(LedgerError, match="no Dask scheduler answers at tcp"):
        calculate_ledger(folder, tmp_path / "out", scheduler="tcp://127.0.0.1:9")
