"""Tank telemetry of many plants: each tank's readings cleaned and summed by month, by Dask."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd

from gasfuncs.cleaning import read_moments, read_numbers
from gasfuncs.cleaning.accounts import Account, Tank, account_of
from gasfuncs.errors import CellError, GasFuncsError
from gasfuncs.hosts.ledger.partitions import UNKNOWN, why_not
from gasfuncs.properties import gas as find_gas
from gasfuncs.properties import reference_molar_density
from gasfuncs.registry import worksheet_function_named
from gasfuncs.units import NORMAL

TELEMETRY = ("plant", "tank", "time", "level_m3", "pressure_bar_a")
TANKS = ("plant", "tank", "gas", "capacity_m3")
ADDED = ("month", "check")
AMOUNTS = ["opening", "delivered", "used", "closing"]
SUMMARY = ["plant", "tank", "month", "gas", "readings", "left_out", "deliveries", *AMOUNTS]
KEYS = {"plant": "string", "tank": "string"}
BAR = 1e5


def cleaned(
    rows: pd.DataFrame, tanks: pd.DataFrame, zones: dict[str, str], unit: str, target: Path
) -> pd.DataFrame:
    """Write a partition, which has whole tanks, with `month` and `check`; its sums come back."""
    names = rows[list(KEYS)].astype(KEYS).fillna(UNKNOWN)
    tanks = tanks.astype(KEYS)
    parts = [
        _of_tank(plant, tank, part.reset_index(drop=True), tanks, zones, unit)
        for (plant, tank), part in rows.groupby([names[key] for key in KEYS])
    ]
    if not parts:
        return pd.DataFrame(columns=SUMMARY)
    pd.concat([readings for readings, _ in parts]).to_parquet(target, index=False)
    return pd.concat([months for _, months in parts])


def _of_tank(
    plant: str,
    name: str,
    rows: pd.DataFrame,
    tanks: pd.DataFrame,
    zones: dict[str, str],
    unit: str,
) -> tuple[pd.DataFrame, pd.DataFrame]:
    """A tank's readings with month and check, and its months."""
    times = read_moments(rows["time"], zone=zones.get(plant))
    levels, pressures = read_numbers(rows["level_m3"]), read_numbers(rows["pressure_bar_a"])
    check = pd.Series(pd.NA, index=rows.index, dtype="string")
    columns = (
        ("time", times.local, times.reasons),
        ("level_m3", levels.values, levels.reasons),
        ("pressure_bar_a", pressures.values, pressures.reasons),
    )
    for what, values, reasons in columns:
        check = check.fillna(why_not(what, values, reasons))
    good = check.isna()
    found, gas = None, None
    try:
        tank = _tank(plant, name, tanks)
        gas = tank.gas.name
        readings = (series[good] for series in (times.local, levels.values, pressures.values))
        local, level, pressure = readings
        found = account_of(local, level.to_numpy(), pressure.to_numpy() * BAR, tank)
        places = rows.index[good][list(found.left_out)]
        check[places] = list(found.left_out.values())
    except GasFuncsError as error:
        check[good] = str(error)
    month = times.local.dt.strftime("%Y-%m").fillna(UNKNOWN).astype("string")
    done = rows.assign(month=month, check=check)
    return done, _months(plant, name, gas, done, found, unit)


def _tank(plant: str, name: str, tanks: pd.DataFrame) -> Tank:
    mine = tanks[(tanks["plant"] == plant) & (tanks["tank"] == name)]
    if len(mine) != 1:
        many = "is there twice" if len(mine) else "is not"
        raise GasFuncsError(f"{many} among the plant's tanks", "tank")
    row = mine.iloc[0]
    capacity = read_numbers(mine["capacity_m3"]).values.iloc[0]
    if not capacity > 0:
        raise GasFuncsError("is no volume above 0", "capacity_m3")
    return Tank(find_gas(str(row["gas"])), float(capacity))


def _months(
    plant: str, name: str, gas: str | None, rows: pd.DataFrame, found: Account | None, unit: str
) -> pd.DataFrame:
    counts = rows.groupby("month")["check"].agg(readings="size", left_out="count")
    months = counts.assign(plant=plant, tank=name, gas=gas, deliveries=0)
    months[AMOUNTS] = np.nan
    if found is not None and gas is not None:
        sums = found.months()
        sums.index = sums.index.strftime("%Y-%m")
        came = found.deliveries["end"].dt.strftime("%Y-%m").value_counts()
        months.loc[sums.index, AMOUNTS] = sums[AMOUNTS] * _per_mol(gas, unit)
        months["deliveries"] = came.reindex(months.index).fillna(0)
    return months.reset_index()[SUMMARY].astype({"deliveries": "int64", "gas": "string"})


def _per_mol(gas: str, unit: str) -> float:
    """The amount in a unit that one mol is."""
    found = worksheet_function_named("GAS_CONVERT").cells(1.0, "Nm3", unit, gas)
    if isinstance(found, CellError):
        raise GasFuncsError(found.message)
    return float(found) / float(reference_molar_density(find_gas(gas), NORMAL))
