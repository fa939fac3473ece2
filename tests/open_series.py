"""Open series that statsmodels carries, and how forecasts of them are held out.

    python -m tests.open_series

prints the table of docs/forecast-error.md; with the package autots beside it also a daily series.
"""

from __future__ import annotations

import importlib
import importlib.util
from pathlib import Path

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from gasfuncs.calculations.smoothing import forecast

Array = NDArray[np.float64]
ORIGINS = 6
LEVEL = 0.9


def _data(name: str) -> Array:
    frame = importlib.import_module(f"statsmodels.datasets.{name}").load_pandas().data
    return np.asarray(frame.select_dtypes("number"), dtype=float)


def _series() -> dict[str, tuple[int, Array]]:
    """Season and values by name."""
    macro = importlib.import_module("statsmodels.datasets.macrodata").load_pandas().data
    weekly = importlib.import_module("statsmodels.datasets.co2").load_pandas().data["co2"]
    carbon = weekly.resample("MS").mean().interpolate().to_numpy(dtype=float)
    return {
        "electrical equipment, monthly": (12, _data("elec_equip").ravel()),
        "carbon dioxide in air, monthly": (12, carbon),
        "sea temperature, monthly": (12, _data("elnino")[:, 1:].ravel()),
        "gross domestic product, quarterly": (4, macro["realgdp"].to_numpy(dtype=float)),
        "consumption, quarterly": (4, macro["realcons"].to_numpy(dtype=float)),
        "investment, quarterly": (4, macro["realinv"].to_numpy(dtype=float)),
        "unemployment, quarterly": (4, macro["unemp"].to_numpy(dtype=float)),
        "inflation, quarterly": (4, macro["infl"].to_numpy(dtype=float)),
    }


SERIES = _series()


def daily() -> dict[str, tuple[int, Array]]:
    """Vehicles on a road by day, two years, read from the package that carries them."""
    found = importlib.util.find_spec("autots")
    if found is None or found.origin is None:
        return {}
    hourly = pd.read_csv(Path(found.origin).parent / "datasets" / "data" / "traffic_hourly.zip")
    days = pd.to_datetime(hourly["datetime"]).dt.floor("D")
    vehicles = hourly["traffic_volume"].groupby(days).sum()
    return {"road traffic, daily": (7, vehicles.to_numpy(dtype=float))}


def held_out(season: int, values: Array) -> tuple[float, float, float]:
    """Mean absolute error, that of the last season again, and the share inside the band.

    A season ahead from origins spread over the second half; nothing after them is seen.
    """
    missed, last, inside = [], [], []
    for origin in np.linspace(len(values) // 2, len(values) - season, ORIGINS).astype(int):
        past, real = values[:origin], values[origin : origin + season]
        found = forecast(past, season, season, LEVEL)
        missed.append(np.abs(found.mean - real).mean())
        last.append(np.abs(past[-season:] - real).mean())
        inside.append(np.mean((found.low <= real) & (real <= found.high)))
    return float(np.mean(missed)), float(np.mean(last)), float(np.mean(inside))


def main() -> None:
    """Print the table."""
    print("| series | error | of the last season | ratio | inside the band of 90 % |")  # noqa: T201
    print("|---|---|---|---|---|")  # noqa: T201
    ratios, shares = [], []
    for name, (season, values) in (SERIES | daily()).items():
        error, last, share = held_out(season, values)
        ratios.append(error / last)
        shares.append(share)
        print(f"| {name} | {error:.4g} | {last:.4g} | {error / last:.2f} | {share:.0%} |")  # noqa: T201
    print(f"| mean | | | {np.mean(ratios):.2f} | {np.mean(shares):.0%} |")  # noqa: T201


if __name__ == "__main__":
    main()
