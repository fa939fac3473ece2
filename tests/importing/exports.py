"""The month of `plant_month.py` as six makes of equipment would export it, each untidy its own way.

An export is three files, and what only the plant can answer about each.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import openpyxl
import pandas as pd

from gasfuncs.properties import reference_molar_density
from gasfuncs.units import US_GAS
from tests.importing.plant_month import (
    CAPACITY,
    KG,
    PRESSURE,
    SITE,
    TANK,
    VACUUM,
    normal,
    plant_month,
)
from tests.simulated.months import NITROGEN

ZONE = "Europe/Vienna"


PSI_OF_BAR, TORR_OF_BAR, LB_OF_KG, FT3 = 14.5038, 750.062, 2.20462, 0.0283168
"""Handbook factors; ft³ in m³."""
ALWAYS = {"always": {"tank": TANK}}


@dataclass(frozen=True)
class Export:
    """A file by kind, how many rows it has, bad ones too, and the plant's answers about it."""

    files: dict[str, Path] = field(default_factory=dict)
    rows: dict[str, int] = field(default_factory=dict)
    answers: dict[str, dict[str, Any]] = field(default_factory=dict)
    aborted_told: bool = True
    """Whether the file tells what the aborted cycle used."""

    def add(self, kind: str, path: Path, rows: int, **answers: Any) -> None:
        self.files[kind], self.rows[kind], self.answers[kind] = path, rows, answers


def _text(path: Path, lines: list[str], encoding: str = "utf-8") -> Path:
    path.write_bytes("\n".join([*lines, ""]).encode(encoding))
    return path


def _lines(table: pd.DataFrame, delimiter: str, decimal: str = ".", digits: int = 4) -> list[str]:
    form = f"%.{digits}f"
    text = table.to_csv(sep=delimiter, index=False, decimal=decimal, float_format=form)
    return str(text).splitlines()


def _sheet(path: Path, title: str, table: pd.DataFrame) -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append([title])
    sheet.append([])
    sheet.append(list(table))
    for row in table.astype(object).where(table.notna(), None).to_numpy().tolist():
        sheet.append(row)
    book.save(path)
    return path


def _in_utc(moments: pd.Series) -> pd.Series:
    return moments.dt.tz_localize(ZONE).dt.tz_convert("UTC")


def decimal_commas(folder: Path) -> Export:
    """Title lines, semicolons, a row twice, an empty line, a word for a number, own names."""
    month, export = plant_month(), Export(aborted_told=False)
    telemetry = month.telemetry
    tank = _lines(
        pd.DataFrame(
            {"Zeit time": telemetry["time"].dt.strftime("%d.%m.%Y %H:%M"),
             "Füllstand level [%]": telemetry["liquid"] / CAPACITY * 100,
             "Tank pressure [bar(g)]": PRESSURE - SITE}
        ), ";", ",", 2
    )  # fmt: skip
    tank[500] = tank[500].replace(tank[500].split(";")[1], "Störung")
    tank[800:800] = ["", tank[799]]
    path = _text(folder / "tank.csv", ["Tanklager;;", "Export 01.12.2026;;", *tank], "cp1252")
    export.add("tank", path, len(tank) - 1, **ALWAYS)
    runs = month.cycles
    cycles = pd.DataFrame(
        {"Start": runs["start"].dt.strftime("%d.%m.%Y %H:%M:%S"),
         "Equipment": runs["furnace"].str.replace("VF", "Ofen "), "Recipe": runs["recipe"],
         "Vacuum (mbar)": VACUUM * 1000, "Backfill pressure (bar(g))": runs["backfill"] - SITE,
         "Gas temperature (°C)": runs["kelvin"] - 273.15, "Status": runs["status"]}
    )  # fmt: skip
    names = {"names": {"furnace": {"Ofen 1": "VF1", "Ofen 2": "VF2"}}}
    path = _text(folder / "cycles.csv", _lines(cycles, ";", ","), "cp1252")
    export.add("cycles", path, len(cycles), **names)
    told = month.tickets
    tickets = pd.DataFrame(
        {"Delivered": told["time"].dt.strftime("%d.%m.%Y"), "Delivery note": told["ticket"],
         "Supplier": "Supplier A", "Tank": TANK, "Net (kg)": told["kg"]}
    )  # fmt: skip
    path = _text(folder / "tickets.csv", _lines(tickets, ";", ",", 1), "cp1252")
    export.add("tickets", path, len(tickets))
    return export


def american(folder: Path) -> Export:
    """Month first, twelve hours, thousands set off, psig, a flow meter in scf, pounds."""
    month, export = plant_month(), Export()
    telemetry = month.telemetry
    tank = pd.DataFrame(
        {"Date Time": telemetry["time"].dt.strftime("%m/%d/%Y %I:%M:%S %p"),
         "Level (L(liq))": [f"{each * 1000:,.1f}" for each in telemetry["liquid"]],
         "Head pressure (psig)": (PRESSURE - SITE) * PSI_OF_BAR}
    )  # fmt: skip
    path = _text(folder / "tank.csv", _lines(tank, ",", digits=1))
    export.add("tank", path, len(tank), **ALWAYS)
    runs = month.cycles
    scf = runs["use"] / reference_molar_density(NITROGEN, US_GAS) / FT3
    cycles = pd.DataFrame(
        {"Started": runs["start"].dt.strftime("%m/%d/%Y %I:%M %p"), "Furnace": runs["furnace"],
         "Program": runs["recipe"], "Result": runs["status"], "Gas used (scf)": scf.round()}
    )  # fmt: skip
    path = _text(folder / "cycles.csv", _lines(cycles, ",", digits=0))
    export.add("cycles", path, len(cycles))
    told = month.tickets
    tickets = pd.DataFrame(
        {"Date": told["time"].dt.strftime("%m/%d/%Y"), "Docket": told["ticket"],
         "Vendor": "Supplier A", "Net quantity (lb)": told["kg"] * LB_OF_KG}
    )  # fmt: skip
    path = _text(folder / "tickets.csv", _lines(tickets, ",", digits=0))
    export.add("tickets", path, len(tickets), **ALWAYS, order="month first")
    return export


def newest_first(folder: Path) -> Export:
    """In UTC and backwards; the level is a weight, the meter a counter that was reset once."""
    month, export = plant_month(), Export()
    telemetry = month.telemetry[::-1]
    vapour = telemetry["stock"] * KG
    tank = pd.DataFrame(
        {"timestamp": _in_utc(telemetry["time"]).dt.strftime("%Y-%m-%dT%H:%M:%SZ"),
         "contents_kg": vapour, "tank pressure kPa(a)": PRESSURE * 100}
    )  # fmt: skip
    path = _text(folder / "tank.csv", _lines(tank, ",", digits=1))
    export.add("tank", path, len(tank), **ALWAYS, zone=ZONE)
    runs = month.cycles
    ends = runs["use"].map(normal).cumsum() + 4000
    cycles = pd.DataFrame(
        {"begin": _in_utc(runs["start"]).dt.strftime("%Y-%m-%d %H:%M:%S+00:00"),
         "furnace": runs["furnace"], "recipe": runs["recipe"], "state": runs["status"],
         "totalizer start (Nm3)": ends.shift(fill_value=4000), "totalizer end (Nm3)": ends}
    )[::-1]  # fmt: skip
    path = _text(folder / "cycles.csv", _lines(cycles, ",", digits=2))
    export.add("cycles", path, len(cycles), zone=ZONE)
    told = month.tickets[::-1]
    tickets = pd.DataFrame(
        {"delivered": _in_utc(told["time"]).dt.strftime("%Y-%m-%dT%H:%MZ"),
         "reference": told["ticket"], "carrier": "Supplier A", "tank": TANK, "net kg": told["kg"]}
    )  # fmt: skip
    path = _text(folder / "tickets.csv", _lines(tickets, ",", digits=0))
    export.add("tickets", path, len(tickets), zone=ZONE)
    return export


def columns_of_a_historian(folder: Path) -> Export:
    """Parquet: seconds since 1970, times with a zone, days as days; infinite and missing values."""
    month, export = plant_month(), Export()
    telemetry = month.telemetry
    seconds = (_in_utc(telemetry["time"]) - pd.Timestamp(0, tz="UTC")) // pd.Timedelta(seconds=1)
    tank = pd.DataFrame(
        {"time": seconds, "asset": TANK, "level m3(liq)": telemetry["liquid"],
         "pressure bar(a)": PRESSURE}
    )  # fmt: skip
    tank.loc[[300, 301], "level m3(liq)"] = [float("inf"), float("nan")]
    tank.to_parquet(folder / "tank.parquet")
    export.add("tank", folder / "tank.parquet", len(tank), zone=ZONE)
    runs = month.cycles
    cycles = pd.DataFrame(
        {"start": _in_utc(runs["start"]), "asset": runs["furnace"], "process": runs["recipe"],
         "outcome": runs["status"], "consumption Nm3": runs["use"].map(normal)}
    )  # fmt: skip
    cycles.to_parquet(folder / "cycles.parquet")
    export.add("cycles", folder / "cycles.parquet", len(cycles), zone=ZONE)
    told = month.tickets
    tickets = pd.DataFrame(
        {"date": told["time"].dt.date, "number": told["ticket"], "supplier": "Supplier A",
         "unloaded into": TANK, "quantity Nm3": (told["kg"] / KG).map(normal)}
    )  # fmt: skip
    tickets.to_parquet(folder / "tickets.parquet")
    export.add("tickets", folder / "tickets.parquet", len(tickets))
    return export


def typed_sheets(folder: Path) -> Export:
    """Workbooks with a title; words among the numbers; cycles by day, without what they used."""
    month, export = plant_month(), Export(aborted_told=False)
    telemetry = month.telemetry
    tank = pd.DataFrame(
        {"Date and time": telemetry["time"], "Tank": TANK,
         "Level (L(liq))": (telemetry["liquid"] * 1000).round(1).astype(object),
         "Pressure (bar(g))": PRESSURE - SITE}
    )  # fmt: skip
    tank.loc[[100, 101, 700], "Level (L(liq))"] = "no signal"
    path = _sheet(folder / "tank.xlsx", "Tank farm", tank)
    export.add("tank", path, len(tank))
    runs = month.cycles
    cycles = pd.DataFrame(
        {"Date": runs["start"].dt.normalize(), "Furnace": runs["furnace"],
         "Recipe": runs["recipe"], "Status": runs["status"]}
    )  # fmt: skip
    path = _sheet(folder / "cycles.xlsx", "Furnace log", cycles)
    export.add("cycles", path, len(cycles))
    told = month.tickets
    tickets = pd.DataFrame(
        {"Date": told["time"], "Ticket": told["ticket"], "Supplier": "Supplier A", "Tank": TANK,
         "Amount (kg)": told["kg"]}
    )  # fmt: skip
    path = _sheet(folder / "tickets.xlsx", "Deliveries", tickets)
    export.add("tickets", path, len(tickets))
    return export


def tabs_and_gaps(folder: Path) -> Export:
    """UTF-16 with tabs; day and time apart; ten hours missing; torr, psia; a ticket twice."""
    month, export = plant_month(), Export(aborted_told=False)
    telemetry = month.telemetry.drop(index=range(400, 420))
    tank = pd.DataFrame(
        {"Date": telemetry["time"].dt.strftime("%Y-%m-%d"),
         "Time": telemetry["time"].dt.strftime("%H:%M"),
         "Level %": telemetry["liquid"] / CAPACITY * 100,
         "Pressure psia": PRESSURE * PSI_OF_BAR}
    )  # fmt: skip
    path = _text(folder / "tank.txt", _lines(tank, "\t", digits=2), "utf-16")
    export.add("tank", path, len(tank), **ALWAYS)
    runs = month.cycles
    cycles = pd.DataFrame(
        {"Date": runs["start"].dt.strftime("%Y-%m-%d"),
         "Start time": runs["start"].dt.strftime("%H:%M:%S"), "Furnace": runs["furnace"],
         "Recipe": runs["recipe"], "Vacuum torr": VACUUM * TORR_OF_BAR,
         "Quench pressure psia": runs["backfill"] * PSI_OF_BAR,
         "Temperature degF": runs["kelvin"] * 1.8 - 459.67, "State": runs["status"]}
    )  # fmt: skip
    path = _text(folder / "cycles.txt", _lines(cycles, "\t", digits=5), "utf-16")
    export.add("cycles", path, len(cycles))
    told = month.tickets
    tickets = pd.DataFrame(
        {"Delivered": told["time"].dt.strftime("%d-%b-%Y"), "Ticket": told["ticket"],
         "Supplier": "Supplier A", "Tank": TANK, "Net kg": told["kg"]}
    )  # fmt: skip
    lines = _lines(tickets, "\t", digits=0)
    lines += [lines[2], "15-Nov-2026\tX1\tSupplier A\tO2 tank\t900"]
    path = _text(folder / "tickets.txt", lines, "utf-16")
    export.add("tickets", path, len(lines) - 1)
    return export


EXPORTS: tuple[Callable[[Path], Export], ...] = (
    decimal_commas,
    american,
    newest_first,
    columns_of_a_historian,
    typed_sheets,
    tabs_and_gaps,
)
