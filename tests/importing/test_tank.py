"""A tank whose use and deliveries are known, read back from its telemetry in several forms."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

for module in ("pandas", "pyarrow"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

import pandas as pd
from scipy.constants import g

from gasfuncs.cleaning.accounts import Account, Tank
from gasfuncs.importing import ImportingError
from gasfuncs.importing.guessing import guess_mapping
from gasfuncs.importing.readings import Readings, read_readings
from gasfuncs.importing.tables import Layout, read_sample
from gasfuncs.importing.tank import account
from gasfuncs.properties import gas as find_gas
from gasfuncs.properties import molar_mass, saturated

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
