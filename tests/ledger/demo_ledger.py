"""The demo plant's log as a ledger, as many plants as wanted."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pandas as pd

from gasfuncs.hosts.ledger.partitions import FURNACES, LOG, RECIPES
from gasfuncs.workbooks import demo


def write_ledger(folder: Path, plants: Iterable[str], copies: int = 1) -> Path:
    """Write a ledger in a new folder: a file a plant, the log repeated and shuffled."""
    (folder / "log").mkdir(parents=True)
    plants = list(plants)
    furnaces = [(f.name, f.gas, f.free_volume) for f in demo.FURNACES]
    _table(plants, furnaces, FURNACES).to_parquet(folder / "furnaces.parquet")
    _table(plants, [(*step, None) for step in demo.STEPS], RECIPES).to_parquet(
        folder / "recipes.parquet"
    )
    for plant in plants:
        log = log_of(plant)
        log = pd.concat([log] * copies).sample(frac=1, random_state=1)
        log.to_parquet(folder / "log" / f"{plant}.parquet", index=False)
    return folder


def log_of(plant: str) -> pd.DataFrame:
    """The demo plant's log under a plant's name."""
    rows = [(day, furnace, recipe, loads) for day, furnace, recipe, loads in demo.log()]
    log = _table([plant], rows, LOG)
    return log.assign(date=pd.to_datetime(log["date"]))


def _table(plants: list[str], rows: Iterable[tuple[Any, ...]], columns: tuple[str, ...]) -> Any:
    return pd.DataFrame([(plant, *row) for plant in plants for row in rows], columns=columns)
