"""Two open records of loggers, that the package bokeh_sampledata carries, against pandas' reading.

- sea_surface_temperature: a buoy of NERACOOS, half hours in UTC, free to use and redistribute;
- CGM: a glucose sensor, five minutes by a wall clock, public domain.

Both licences are read from the package's own list of its data sets.
"""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import gzip
import importlib.util
from pathlib import Path

import numpy as np
import pytest

for module in ("pandas", "pyarrow", "tomlkit", "bokeh_sampledata"):
    pytest.importorskip(module, reason="needs the extra gasfuncs[import] and bokeh_sampledata")

import pandas as pd

from gasfuncs.importing.guessing import guess_mapping
from gasfuncs.importing.mapping import Column, Mapping
from gasfuncs.importing.readings import INSTANT, gaps, read_readings
from gasfuncs.importing.tables import Layout, read_sample

ZONE = "America/New_York"


def unpacked(name: str, folder: Path) -> Path:
    found = importlib.util.find_spec("bokeh_sampledata")
    assert found
    assert found.origin
    path = folder / f"{name}.csv"
    packed = Path(found.origin).parent / "_data" / f"{name}.csv.gz"
    path.write_bytes(gzip.decompress(packed.read_bytes()))
    return path


def test_a_buoys_half_hours_in_utc(tmp_path: Path) -> None:
    path = unpacked("sea_surface_temperature", tmp_path)
    theirs = pd.read_csv(path)
    columns = {
        "time": Column("time (UTC)"),
        "dew_point": Column("temperature (celsius)", "degC"),
    }
    found = read_readings(path, Mapping("dewpoint", columns, zone=ZONE))
    assert found.read == len(theirs)
    moments = pd.to_datetime(theirs["time (UTC)"])
    first = ~moments.duplicated()
    assert len(found.left_out) == len(theirs) - first.sum() > 0
    assert all("line" in reason for _, reason in found.left_out)
    frame = found.frame
    assert frame[INSTANT].tolist() == moments[first].dt.tz_localize(None).sort_values().tolist()
    local = moments[first].sort_values().dt.tz_convert(ZONE).dt.tz_localize(None)
    assert frame["time"].tolist() == local.tolist()
    kelvins = theirs.loc[local.index, "temperature (celsius)"] + 273.15
    assert frame["dew_point"].to_numpy() == pytest.approx(kelvins.to_numpy())


def test_a_buoys_file_asks_where_it_is(tmp_path: Path) -> None:
    path = unpacked("sea_surface_temperature", tmp_path)
    with path.open() as file:
        lines = [next(file) for _ in range(50)]
    lines[0] = lines[0].replace("temperature", "dew point")
    path.write_text("".join(lines))
    (asked,) = [
        question
        for question in guess_mapping("dewpoint", read_sample(path, Layout())).questions
        if "time_zone" in question
    ]
    assert "where is the plant?" in asked


def test_a_sensors_five_minutes_by_a_wall_clock(tmp_path: Path) -> None:
    path = unpacked("CGM", tmp_path)
    theirs = pd.read_csv(path, parse_dates=["datetime"])
    columns = {"time": Column("datetime"), "dew_point": Column("glucose", "ppm")}
    found = read_readings(path, Mapping("dewpoint", columns))
    again = theirs["datetime"].duplicated()
    assert found.read == len(theirs)
    assert len(found.left_out) == again.sum() > 0
    kept = theirs[~again].sort_values("datetime")
    assert found.frame["time"].tolist() == kept["datetime"].tolist()
    assert found.frame["dew_point"].to_numpy() * 1e6 == pytest.approx(kept["glucose"].to_numpy())
    steps = np.diff(kept["datetime"].to_numpy()) / np.timedelta64(1, "m")
    assert len(list(gaps(found.frame[INSTANT]))) == (steps > 4 * np.median(steps)).sum() > 10
