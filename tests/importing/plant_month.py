"""A month of an invented plant in time: every cycle, each truck, the tank from hour to hour.

What the month truly used, got and had is known; use comes from the densities themselves, not from
the functions that are tested. The files of `exports.py` tell it with the plant's errors.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import xlsxwriter

from gasfuncs import properties
from gasfuncs.properties import saturated
from tests.simulated.months import BAR, KELVIN, NITROGEN, NORMAL_DENSITY

MONTH, END = pd.Timestamp("2026-11-01"), pd.Timestamp("2026-12-01")
SITE = 0.988
TANK, CAPACITY, PRESSURE = "N2 tank", 11.0, 12.4 + SITE
"""m³ of liquid, bar(a)."""
VOLUMES = {"VF1": 4.2, "VF2": 7.5}
RECIPES = {"Harden 2 bar": 2.0, "Harden 6 bar": 6.0}
"""bar(a) of the only backfill, from 0.01 mbar."""
VACUUM = 1e-5
WARMTH = 5.0
"""K around 20 °C that the gas in a furnace has."""
LEVEL = 0.002
"""Of the capacity, that the gauge scatters."""
TICKET = 0.01
"""Of a load, that its ticket is off."""
KG = properties.molar_mass(NITROGEN)


@dataclass(frozen=True)
class PlantMonth:
    """Uses and stocks in mol, pressures in bar(a), temperatures in K, liquid in m³."""

    cycles: pd.DataFrame
    tickets: pd.DataFrame
    telemetry: pd.DataFrame
    opening: float
    closing: float

    @property
    def used(self) -> float:
        return float(self.cycles["use"].sum())

    @property
    def delivered(self) -> float:
        return float(self.tickets["came"].sum())


@cache
def plant_month() -> PlantMonth:
    """November 2026, and a day before and after it in the telemetry."""
    random = np.random.default_rng(20261101)
    cycles, tickets = _cycles(random), _tickets(random)
    times = pd.date_range(MONTH - pd.Timedelta(days=1), END + pd.Timedelta(hours=12), freq="30min")
    stock = 120_000.0 + _passed(times, tickets, "came", 0.5) - _passed(times, cycles, "use", 0.25)
    liquid = _liquid(stock)
    noise = LEVEL * CAPACITY * random.uniform(-1, 1, len(times))
    telemetry = pd.DataFrame({"time": times, "liquid": liquid + noise, "stock": stock})
    at = dict(zip(times, stock, strict=True))
    return PlantMonth(cycles, tickets, telemetry, at[MONTH], at[END])


def _cycles(random: np.random.Generator) -> pd.DataFrame:
    """Two or three a day and furnace; the last of all was aborted half way through its backfill."""
    rows: list[dict[str, Any]] = []
    for day in pd.date_range(MONTH, END, inclusive="left"):
        for furnace in VOLUMES:
            hours = np.sort(random.choice(np.arange(1, 23), int(random.integers(1, 3)), False))
            for hour in hours:
                recipe = str(random.choice(list(RECIPES)))
                start = day + pd.Timedelta(hours=int(hour), minutes=int(random.integers(0, 60)))
                kelvin = KELVIN + random.uniform(-WARMTH, WARMTH)
                rows.append(
                    {"start": start, "furnace": furnace, "recipe": recipe,
                     "backfill": RECIPES[recipe], "kelvin": kelvin, "status": "OK"}
                )  # fmt: skip
    rows[-1].update(status="Aborted", backfill=rows[-1]["backfill"] / 2)
    table = pd.DataFrame(rows).sort_values("start", ignore_index=True)
    density = properties.molar_density(
        NITROGEN, np.array([table["backfill"], [VACUUM] * len(table)]) * BAR, table["kelvin"]
    )
    volume = table["furnace"].map(VOLUMES).to_numpy()
    return table.assign(use=volume * (density[0] - density[1]))


def _tickets(random: np.random.Generator) -> pd.DataFrame:
    days = [MONTH + pd.Timedelta(days=at, hours=9) for at in (9, 22)]
    came = random.uniform(40_000, 50_000, len(days))
    told = came * KG * (1 + TICKET * random.uniform(-1, 1, len(days)))
    return pd.DataFrame({"time": days, "ticket": [f"D{at}" for at in range(701, 701 + len(days))],
                         "came": came, "kg": told.round()})  # fmt: skip


def _passed(times: pd.DatetimeIndex, events: pd.DataFrame, amount: str, hours: float) -> Any:
    """What has come or gone up to each time; each event takes so many hours."""
    starts = events["time" if "time" in events else "start"].to_numpy()
    share = (times.to_numpy()[:, None] - starts) / np.timedelta64(round(hours * 3600), "s")
    return np.clip(share, 0, 1) @ events[amount].to_numpy()


def _liquid(stock: Any) -> Any:
    both = saturated(NITROGEN, PRESSURE * BAR)
    liquid, vapour = float(both.liquid_density), float(both.vapour_density)
    return (stock - CAPACITY * vapour) / (liquid - vapour)


def normal(mol: float) -> float:
    """Nm³."""
    return mol / NORMAL_DENSITY


def book_of_the_plant(path: Path) -> Path:
    """A small book with the lists and the tables that a month's book has."""
    tables: dict[str, tuple[dict[str, str], list[list[Any]], int]] = {
        "Tanks": ({"Tank": "", "Valid from": "", "Gas": "", "Capacity": "L(liq)"},
                  [[TANK, None, "nitrogen", CAPACITY * 1000]], 2),
        "Contracts": ({"Supplier": ""}, [["Supplier A"]], 2),
        "Furnaces": ({"Furnace": "", "Valid from": "", "Gas": "", "Free volume": "m3"},
                     [[name, None, "nitrogen", volume] for name, volume in VOLUMES.items()], 3),
        "Steps": ({"Recipe": "", "Valid from": "", "Kind": "", "From": "mbar", "To": "bar(a)",
                   "Temperature": "degC", "Pumping": "m3/h", "Flow": "Nm3/h", "Hours": "h",
                   "Repeats": "", "Control": ""},
                  [[name, None, "backfill", VACUUM * 1000, pressure, 20, *[None] * 4, None]
                   for name, pressure in RECIPES.items()], 3),
        "Log": (dict.fromkeys(("Date", "Furnace", "Recipe", "Loads"), "") | {"Measured": "Nm3"},
                [], 200),
        "Deliveries": (
            dict.fromkeys(("Date", "Ticket", "Supplier", "Tank", "Quantity", "Unit"), ""), [], 20),
        "Readings": ({"Date": "", "Tank": "", "Level": "L(liq)", "Pressure": "bar(g)"}, [], 20),
    }  # fmt: skip
    with xlsxwriter.Workbook(path) as made:
        for name, (columns, rows, room) in tables.items():
            sheet = made.add_worksheet(name)
            sheet.write_row(0, 0, list(columns.values()))
            told = {"name": name, "columns": [{"header": each} for each in columns]}
            sheet.add_table(1, 0, 1 + room, len(columns) - 1, told)
            for place, row in enumerate(rows, 2):
                sheet.write_row(place, 0, row)
        made.add_worksheet("Site").write(0, 0, SITE)
        made.define_name("Site_bar", "=Site!$A$1")
    return path
