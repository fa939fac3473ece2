"""A tank whose use and deliveries are known, read back from its telemetry in several forms."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

import pandas as pd
from scipy.constants import R, g

from gasfuncs.cleaning.accounts import Account, Tank
from gasfuncs.hosts.headless.entering import contents
from gasfuncs.importing import ImportingError
from gasfuncs.importing.guessing import guess_mapping
from gasfuncs.importing.job import mapping_file, mapping_for, run
from gasfuncs.importing.readings import Readings, read_readings
from gasfuncs.importing.tables import Layout, read_sample
from gasfuncs.importing.tank import account
from gasfuncs.properties import gas as find_gas
from gasfuncs.properties import molar_mass, saturated
from tests.importing import plant_month

NITROGEN = find_gas("nitrogen")
CAPACITY = 20.0
DIAMETER = 2.2
LENGTH = CAPACITY / (np.pi / 4 * DIAMETER**2)
"""A cylinder with flat heads, so that its height is its volume over its area."""

USE = 27_000.0
"""mol an hour, which is 605 m3 at 0 °C and 1 atm."""

DELIVERY = 310_000.0
SITE = 98_800.0


def telemetry() -> pd.DataFrame:
    """An hour a row: 61 days of steady use at a pressure that wanders, three deliveries."""
    times = pd.date_range("2026-09-01", periods=61 * 24 + 1, freq="h")
    stock, rows = 400_000.0, []
    for hour in range(len(times)):
        pressure = 13e5 + 5e4 * np.sin(hour / 40)
        both = saturated(NITROGEN, pressure)
        vapour = float(both.vapour_density)
        liquid = (stock - CAPACITY * vapour) / (float(both.liquid_density) - vapour)
        rows.append((pressure, liquid, stock, float(both.liquid_density), vapour))
        stock -= USE / 24
        if liquid < 6:
            stock += DELIVERY
    table = pd.DataFrame(rows, columns=["pressure", "liquid", "stock", "rho_l", "rho_v"])
    return table.assign(time=times)


def written(folder: Path, form: str) -> Readings:
    """The telemetry as a file tells it, read."""
    truth = telemetry()
    mass = molar_mass(NITROGEN)
    columns = {
        "level (L(liq))": truth["liquid"] * 1000,
        "level (%)": truth["liquid"] / CAPACITY * 100,
        "level (kg)": truth["stock"] * mass,
        "dp (mbar)": _difference(truth, mass) / 100,
    }
    table = pd.DataFrame(
        {
            "time": truth["time"],
            form: columns[form],
            "tank pressure (bar(g))": (truth["pressure"] - SITE) / 1e5,
        }
    )
    table.to_csv(folder / "tank.csv", index=False)
    mapping = guess_mapping("tank", read_sample(folder / "tank.csv", Layout())).mapping
    return read_readings(folder / "tank.csv", mapping)


def _difference(truth: pd.DataFrame, mass: float) -> pd.Series:
    """Pa between bottom and top, the gauge's upper line full of cold vapour."""
    height = truth["liquid"] / (np.pi / 4 * DIAMETER**2)
    return (truth["rho_l"] - truth["rho_v"]) * mass * g * height


TANK = Tank(NITROGEN, CAPACITY, site=SITE, diameter=DIAMETER, length=LENGTH, heads="flat")


@pytest.mark.parametrize("form", ["level (L(liq))", "level (%)", "level (kg)", "dp (mbar)"])
def test_use_deliveries_and_stock_come_back(tmp_path: Path, form: str) -> None:
    found = account(written(tmp_path, form), TANK)
    truth = telemetry()
    came = int((truth["stock"].diff() > 0).sum())
    assert came >= 3
    assert found.deliveries["amount"].to_numpy() == pytest.approx([DELIVERY] * came, rel=2e-3)
    assert found.daily.to_numpy() == pytest.approx([USE] * len(found.daily), rel=2e-2)
    assert found.daily.sum() == pytest.approx(USE * len(found.daily), rel=1e-3)
    check_months(found, truth)


def check_months(found: Account, truth: pd.DataFrame) -> None:
    months = found.months()
    september, october = months.iloc[0], months.iloc[1]
    start = truth["time"] == "2026-10-01"
    assert september["closing"] == october["opening"]
    assert october["opening"] == pytest.approx(float(truth["stock"][start].iloc[0]), rel=1e-3)
    assert september["used"] == pytest.approx(30 * USE, rel=2e-3)
    assert october["used"] == pytest.approx(31 * USE, rel=2e-3)


def test_what_the_readings_lack_is_told(tmp_path: Path) -> None:
    readings = written(tmp_path, "dp (mbar)")
    with pytest.raises(ImportingError, match="needs the tank's inner diameter and length"):
        account(readings, Tank(NITROGEN, CAPACITY))
    readings.frame = readings.frame.drop(columns="pressure")
    with pytest.raises(ImportingError, match="has no tank pressure"):
        account(readings, TANK)
    readings.frame = readings.frame.drop(columns="dp")
    with pytest.raises(ImportingError, match="neither a level nor a differential pressure"):
        account(readings, Tank(NITROGEN, CAPACITY, pressure=13e5))


WARM_LINE = 293.15
SHORT = LENGTH / 2
"""The tank of a plant whose book does not say its size holds half as much, 10 m3 of its 11 m3."""


def _through_a_warm_line(truth: pd.DataFrame, mass: float) -> pd.Series:
    """Pa where the gauge's upper line stands in a room: its gas weighs as an ideal one does."""
    height = truth["liquid"] / (np.pi / 4 * DIAMETER**2)
    line = truth["pressure"] * mass / (R * WARM_LINE)
    below = truth["rho_l"] * height + truth["rho_v"] * (SHORT - height)
    return (below * mass - line * SHORT) * g


@pytest.mark.parametrize("heading", ["Level (inH2O)", "Level (mm)", "Level (% )", "warm (mbar)"])
def test_a_file_that_tells_no_litres_gives_them_to_a_book_without_the_size(
    tmp_path: Path, heading: str
) -> None:
    truth, mass = telemetry().iloc[:200], molar_mass(NITROGEN)
    truth = truth.assign(liquid=truth["liquid"] / 2)
    height = truth["liquid"] / (np.pi / 4 * DIAMETER**2)
    told = {
        "Level (inH2O)": _difference(truth, mass) / 249.089,
        "Level (mm)": height * 1000,
        "Level (% )": height / SHORT * 100,
        "warm (mbar)": _through_a_warm_line(truth, mass) / 100,
    }[heading]
    heading = heading.replace("warm", "Differential pressure")
    table = pd.DataFrame({"time": truth["time"], heading: told})
    table["tank pressure (bar(g))"] = (truth["pressure"] - plant_month.SITE * 1e5) / 1e5
    file, book = tmp_path / "tank.csv", plant_month.book_of_the_plant(tmp_path / "plant.xlsx")
    table.to_csv(file, index=False)
    mapping, questions, _ = mapping_for("tank", file, mapping_file(file))
    assert questions == ()
    mapping = replace(mapping, always={"tank": plant_month.TANK})
    if "%" not in heading:
        with pytest.raises(ImportingError, match="needs the tank's inner diameter and length"):
            run(file, book, mapping)
    size = {"diameter": f"{DIAMETER} m", "length": f"{SHORT} m", "heads": "flat",
            "percent_of": "height"}  # fmt: skip
    if "Differential" in heading:
        size |= {"line": f"{WARM_LINE} K", "apart": f"{SHORT} m"}
    assert len(run(file, book, replace(mapping, tanks={plant_month.TANK: size})).left_out) == 0
    rows = contents(book).tables["Readings"]
    first = rows.rows[0]
    wanted = truth["liquid"].iloc[0] * 1000
    assert rows.value(first, "Level") == pytest.approx(wanted, rel=5e-3)
