"""Reads a ledger, has Dask calculate its partitions, and writes the results aside.

A ledger is a folder: `log` (Parquet files, partitioned or not), `furnaces.parquet`,
`recipes.parquet` and, where a log counts its time in UTC, `plants.parquet`. The result is another
folder: `log` with the calculated columns, partitioned by month, and `monthly.parquet`. Where there
is `telemetry` of tanks, with `tanks.parquet`, the result has `telemetry` and `tank_months.parquet`.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from gasfuncs.errors import CellError, GasFuncsError, UnreadableError

EXTRA = ("dask", "distributed", "pandas", "pyarrow")
PARTITIONS: dict[str, Any] = {"blocksize": "1MiB", "aggregate_files": True}
"""Small files are read together, large ones in parts."""

PARTS = ("log", "furnaces.parquet", "recipes.parquet")

PATIENCE = 10
"""Seconds until a scheduler must have answered."""


class LedgerError(GasFuncsError):
    """A ledger that cannot be read or written."""


def calculate_ledger(
    path: str | os.PathLike[str],
    output: str | os.PathLike[str],
    *,
    unit: str = "Nm3",
    cores: int | None = None,
    scheduler: str | None = None,
) -> Any:
    """Write the ledger with its gas columns to `output`, which must not exist yet.

    Runs on so many cores of this machine (None: all), or on the Dask cluster whose scheduler has
    the address `scheduler`; its workers need the library and must see both folders. Returns the
    monthly summary, a pandas table: a sum that misses a row is blank, and `wrong` counts the rows
    missed. Raises LedgerError.
    """
    source, target = Path(path).absolute(), Path(output).absolute()
    if target.exists():
        raise LedgerError(f"{target} is there already; give another folder")
    if target.is_relative_to(source):
        raise LedgerError(f"{target} lies in the ledger itself; give a folder outside {source}")
    _check_extra()
    _check_unit(unit)
    _check_parts(source)
    furnaces, recipes = _small_tables(source)
    zones = _zones(source / "plants.parquet")
    aside = target.with_name(f".{target.name}.unfinished")
    shutil.rmtree(aside, ignore_errors=True)
    aside.mkdir(parents=True)
    try:
        with _computing(cores, scheduler):
            with _files_that_fit(source / "log"):
                _write_log(source / "log", aside / "log", furnaces, recipes, unit, zones)
                monthly = _monthly(aside / "log")
            if (source / "telemetry").exists():
                with _files_that_fit(source / "telemetry"):
                    _write_telemetry(source, aside, unit, zones)
        monthly.to_parquet(aside / "monthly.parquet", index=False)
        aside.rename(target)
    finally:
        shutil.rmtree(aside, ignore_errors=True)
    return monthly


def _check_parts(source: Path) -> None:
    missing = [name for name in PARTS if not (source / name).exists()]
    if missing:
        raise LedgerError(
            f"{source} has no {' and no '.join(missing)}; a ledger is a folder with "
            f"{', '.join(PARTS)}, log being a folder of Parquet files"
        )


@contextmanager
def _files_that_fit(folder: Path) -> Iterator[None]:
    """Files of one folder whose columns have different types are refused in a sentence."""
    from pyarrow import ArrowInvalid, ArrowTypeError

    try:
        yield
    except (ArrowInvalid, ArrowTypeError) as error:
        raise LedgerError(
            f"the files of {folder} do not fit together ({error}); "
            "give every column one type in all of them"
        ) from None


def _check_extra() -> None:
    missing = [name for name in EXTRA if find_spec(name) is None]
    if missing:
        raise LedgerError(
            f'a ledger needs {", ".join(missing)}: python -m pip install "gasfuncs[ledger]"'
        )


@contextmanager
def _computing(cores: int | None, scheduler: str | None) -> Iterator[None]:
    """Where Dask computes in this block: here alone, on cores of this machine, on a cluster."""
    import dask

    if cores == 1 and scheduler is None:
        with dask.config.set(scheduler="synchronous"):
            yield
        return
    with _cluster(scheduler) if scheduler else _own_cores(cores):
        yield


def _cluster(scheduler: str) -> Any:
    from distributed import Client

    try:
        return Client(scheduler, timeout=PATIENCE)
    except (OSError, ValueError) as error:
        raise LedgerError(f"no Dask scheduler answers at {scheduler} ({error})") from None


def _own_cores(cores: int | None) -> Any:
    from distributed import Client

    return Client(
        n_workers=cores or os.cpu_count(), threads_per_worker=1, dashboard_address="127.0.0.1:0"
    )


def _small_tables(source: Path) -> tuple[Any, Any]:
    """The furnaces and the recipes, which go whole to every partition."""
    from gasfuncs.hosts.ledger import partitions

    furnaces = _read(source / "furnaces.parquet", partitions.FURNACES)
    recipes = _read(source / "recipes.parquet", partitions.RECIPES)
    twice = furnaces[furnaces.duplicated(["plant", "furnace"])]
    if len(twice):
        first = twice.iloc[0]
        raise LedgerError(
            f"{source / 'furnaces.parquet'}: {first['plant']} {first['furnace']} is there twice"
        )
    return furnaces, recipes


def _read(file: Path, columns: tuple[str, ...]) -> Any:
    import pandas as pd

    try:
        table = pd.read_parquet(file)
    except (OSError, ValueError) as error:
        raise LedgerError(f"{file} cannot be read as Parquet ({error})") from None
    _check_columns(file, table.columns, columns)
    return table[list(columns)]


def _check_columns(file: Path, found: Any, needed: tuple[str, ...]) -> None:
    missing = [name for name in needed if name not in found]
    if missing:
        raise LedgerError(
            f"{file} has no column {', '.join(missing)}; its columns must be {', '.join(needed)}"
        )


def _zones(file: Path) -> dict[str, str]:
    """The time zone of each plant that has one."""
    from gasfuncs.cleaning.moments import known_zone
    from gasfuncs.hosts.ledger.partitions import PLANTS

    if not file.exists():
        return {}
    table = _read(file, PLANTS).dropna()
    zones = dict(zip(table["plant"].astype(str), table["time_zone"].astype(str), strict=True))
    for plant, zone in zones.items():
        try:
            known_zone(zone)
        except UnreadableError as error:
            raise LedgerError(f"{file}, {plant}: {error.sentence}") from None
    return zones


def _check_unit(unit: str) -> None:
    from gasfuncs.registry import worksheet_function_named

    found = worksheet_function_named("GAS_CONTENTS").cells("argon", 1, "1 atm", 0, unit)
    if isinstance(found, CellError):
        raise LedgerError(found.message)


def _write_log(
    source: Path, target: Path, furnaces: Any, recipes: Any, unit: str, zones: dict[str, str]
) -> None:
    from dask import delayed

    from gasfuncs.hosts.ledger.partitions import CALCULATED, LOG, calculated

    log = _parts(source, LOG, CALCULATED)
    meta = calculated(log._meta, furnaces, recipes, unit)
    shared = delayed(furnaces), delayed(recipes), unit, zones
    rows = log.map_partitions(calculated, *shared, meta=meta)
    rows.to_parquet(str(target), partition_on=["month"], write_index=False)
    if not any(target.rglob("*.parquet")):
        target.mkdir(exist_ok=True)
        meta.to_parquet(target / "empty.parquet", index=False)


def _write_telemetry(source: Path, target: Path, unit: str, zones: dict[str, str]) -> None:
    """Every reading with its month and check, and the months of every tank."""
    import dask
    import pandas as pd
    from dask import delayed

    from gasfuncs.hosts.ledger.telemetry import ADDED, SUMMARY, TANKS, TELEMETRY, cleaned

    tanks = _read(source / "tanks.parquet", TANKS)
    rows = _parts(source / "telemetry", TELEMETRY, ADDED)
    (target / "telemetry").mkdir()
    shared = delayed(tanks), zones, unit
    parts = [
        delayed(cleaned)(part, *shared, target / "telemetry" / f"part-{number}.parquet")
        for number, part in enumerate(rows.shuffle(on=["plant", "tank"]).to_delayed())
    ]
    months = [found for found in dask.compute(*parts) if len(found)]
    table = pd.concat(months) if months else pd.DataFrame(columns=SUMMARY)
    table = table.sort_values(["plant", "tank", "month"])
    table.to_parquet(target / "tank_months.parquet", index=False)


def _parts(folder: Path, needed: tuple[str, ...], written: tuple[str, ...]) -> Any:
    """A folder's Parquet files as Dask's table, with the columns needed, none that is written."""
    from dask import dataframe

    try:
        rows = dataframe.read_parquet(str(folder), **PARTITIONS)
    except (OSError, ValueError) as error:
        raise LedgerError(f"{folder} cannot be read as Parquet ({error})") from None
    _check_columns(folder, rows.columns, needed)
    taken = [name for name in written if name in rows.columns]
    if taken:
        raise LedgerError(
            f"{folder} has a column {', '.join(taken)} of its own, which the result writes; "
            "give it another name"
        )
    return rows


def _monthly(log: Path) -> Any:
    """The summary of a log that was written: sums of the partitions' sums."""
    import pandas as pd
    from dask import dataframe

    from gasfuncs.hosts.ledger.partitions import GROUPS, summed

    needed = [*GROUPS, "loads", "use", "check"]
    rows = dataframe.read_parquet(str(log), columns=needed, **PARTITIONS)
    parts = rows.map_partitions(summed, meta=summed(rows._meta)).compute()
    monthly = summed(pd.DataFrame(parts))
    monthly["use"] = monthly["use"].mask(monthly["wrong"] > 0)
    return monthly
