"""One partition of a ledger as a pandas table: whole columns go to the functions."""

from __future__ import annotations

from typing import Any

import pandas as pd

from gasfuncs.calculations.cycle_steps import COLUMNS as STEP_COLUMNS
from gasfuncs.cleaning import read_moments, read_numbers
from gasfuncs.errors import CellError
from gasfuncs.registry import worksheet_function_named

LOG = ("plant", "date", "furnace", "recipe", "loads")
FURNACES = ("plant", "furnace", "gas", "free_volume")
RECIPES = ("plant", "recipe", *STEP_COLUMNS)
PLANTS = ("plant", "time_zone")
CALCULATED = ("month", "gas", "use_per_load", "use", "check")

LOAD = ["plant", "furnace", "recipe"]
"""What tells the gas that one load takes."""

GROUPS = ["plant", "month", "furnace", "recipe", "gas"]
SUMS = ["rows", "wrong", "loads", "use"]
UNKNOWN = "unknown"
NO_RECIPE = CellError("#N/A", "recipe: is not among the plant's recipes")

Table = list[list[Any]]


def calculated(
    log: pd.DataFrame,
    furnaces: pd.DataFrame,
    recipes: pd.DataFrame,
    unit: str,
    zones: dict[str, str] | None = None,
) -> pd.DataFrame:
    """The rows of a log with `month`, `gas`, `use_per_load`, `use` and `check`.

    A row that cannot be calculated stays, without a use, and `check` says why. `zones` has the
    time zone of each plant whose log counts its time in UTC.
    """
    log = log.astype(_KEYS)
    rows = log.merge(_per_load(log, furnaces, recipes, unit), on=LOAD, how="left")
    dates, date_reasons = _dates(rows, zones or {})
    numbers = read_numbers(rows["loads"])
    negative = numbers.values < 0
    load_reasons = numbers.reasons.mask(negative, "is negative")
    for what, read, reasons in (
        ("date", dates, date_reasons),
        ("loads", numbers.values, load_reasons),
    ):
        rows["check"] = rows["check"].fillna(why_not(what, read, reasons))
    rows["use"] = (numbers.values * rows["use_per_load"]).where(rows["check"].isna())
    rows["month"] = dates.dt.strftime("%Y-%m").fillna(UNKNOWN)
    rows["plant"] = rows["plant"].fillna(UNKNOWN)
    return rows[[*log.columns, "month", *_ADDED]].astype({"month": "string", **_ADDED})


def why_not(what: str, read: pd.Series, reasons: pd.Series) -> pd.Series:
    """A sentence for each value of a column that was not read, or was blank."""
    return what + ": " + reasons.astype("string").mask(reasons.isna() & read.isna(), "is blank")


def _dates(rows: pd.DataFrame, zones: dict[str, str]) -> tuple[pd.Series, pd.Series]:
    """The plants' local times, each plant by its own clock, and why one was not read."""
    dates = pd.Series(pd.NaT, index=rows.index, dtype="datetime64[ns]")
    reasons = pd.Series(None, index=rows.index, dtype=object)
    for plant, places in rows.groupby("plant", dropna=False).groups.items():
        found = read_moments(rows.loc[places, "date"], zone=zones.get(str(plant)))
        dates.loc[places], reasons.loc[places] = found.local, found.reasons
    return dates, reasons


def summed(rows: pd.DataFrame) -> pd.DataFrame:
    """Sums by month, furnace, recipe and gas, of rows or of such sums."""
    if "rows" not in rows:
        loads = read_numbers(rows["loads"]).values
        rows = rows.assign(rows=1, wrong=rows["check"].notna().astype(int), loads=loads)
    rows = rows.astype(dict.fromkeys(GROUPS, "string"))
    return rows.groupby(GROUPS, dropna=False, as_index=False)[SUMS].sum()


_KEYS = dict.fromkeys(LOAD, "string")
_ADDED = {"gas": "string", "use_per_load": "float64", "use": "float64", "check": "string"}


def _per_load(
    log: pd.DataFrame, furnaces: pd.DataFrame, recipes: pd.DataFrame, unit: str
) -> pd.DataFrame:
    """Gas in one load of every furnace and recipe in the log, a call a recipe."""
    pairs = log[LOAD].drop_duplicates().reset_index(drop=True)
    recipes = recipes[recipes["plant"].isin(pairs["plant"])]
    loads = pairs.merge(furnaces.astype(_KEYS_OF_FURNACES), on=["plant", "furnace"], how="left")
    answers = pd.Series(_answers(loads, _steps(recipes), unit), index=loads.index, dtype=object)
    wrong = answers.map(lambda answer: isinstance(answer, CellError))
    loads["use_per_load"] = answers.mask(wrong).astype(float)
    loads["check"] = answers.where(wrong).map(_sentence).astype("string")
    return loads.drop(columns=["free_volume"])


_KEYS_OF_FURNACES = {"plant": "string", "furnace": "string", "gas": "string"}


def _answers(loads: pd.DataFrame, steps: dict[Any, Table], unit: str) -> list[Any]:
    """An answer or a CellError for each furnace and recipe."""
    members: dict[Any, list[int]] = {}
    cells = _cells(loads[["plant", "recipe", "gas", "free_volume"]])
    for place, (plant, recipe, *_) in enumerate(cells):
        members.setdefault((plant, recipe), []).append(place)
    answers: list[Any] = [NO_RECIPE] * len(cells)
    for key, places in members.items():
        if key in steps:
            gas, volume = ([[cells[place][column]] for place in places] for column in (2, 3))
            found = worksheet_function_named("GAS_CYCLE").cells(gas, volume, steps[key], unit)
            rows = found if isinstance(found, list) else [[found]] * len(places)
            for place, row in zip(places, rows, strict=True):
                answers[place] = row[0]
    return answers


def _steps(recipes: pd.DataFrame) -> dict[Any, Table]:
    """The steps of each plant's recipes."""
    steps: dict[Any, Table] = {}
    for plant, recipe, *step in _cells(recipes[list(RECIPES)]):
        steps.setdefault((plant, recipe), []).append(step)
    return steps


def _cells(table: pd.DataFrame) -> Table:
    """A table as a spreadsheet would hand it over: blanks are None."""
    cells: Table = table.astype(object).where(table.notna(), None).to_numpy().tolist()
    return cells


def _sentence(answer: Any) -> Any:
    return answer.message if isinstance(answer, CellError) else None
