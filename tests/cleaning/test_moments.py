"""Times of every kind: read as the plant's local time, or left with the reason."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

pytest.importorskip("pandas", reason="needs the extra: gasfuncs[import]")

import numpy as np
import pandas as pd

from gasfuncs.cleaning import read_moments
from gasfuncs.errors import UnreadableError

SIX = pd.Timestamp("2026-10-05 06:00")
VIENNA = "Europe/Vienna"
STAMP = int(dt.datetime(2026, 10, 5, 4, tzinfo=dt.UTC).timestamp())


@pytest.mark.parametrize(
    "cell",
    [
        dt.datetime(2026, 10, 5, 6),
        dt.datetime(2026, 10, 5, 4, tzinfo=dt.UTC),
        "2026-10-05 06:00",
        "2026-10-05T06:00:00.000",
        "2026-10-05T04:00:00Z",
        "2026-10-05 04:00:00 UTC",
        "2026-10-05T06:00:00+02:00",
        "05.10.2026 06:00",
        "5.10.2026 6:00",
        "05.10.26 06:00",
        "2026/10/05 06:00:00",
        "05-Oct-2026 06:00",
        STAMP,
        STAMP * 1000,
        STAMP * 10**6,
        STAMP * 10**9,
        str(STAMP),
        46300.25,
        " 2026-10-05 06:00 ",
    ],
)
def test_a_time_is_the_local_time_of_the_plant(cell: Any) -> None:
    for column in (pd.Series([cell]), pd.Series([cell, "soon"], dtype=object)):
        found = read_moments(column, zone=VIENNA)
        assert found.local[0] == SIX
        assert found.instants[0] == SIX - pd.Timedelta(hours=2)
        assert pd.isna(found.reasons[0])


@pytest.mark.parametrize(
    ("cell", "order", "month"),
    [
        ("05/10/2026 06:00", "day first", 10),
        ("05-10-2026 06:00", "day first", 10),
        ("5/10/2026 6:00 AM", "month first", 5),
        ("05/10/2026 06:00:00", "month first", 5),
        ("10.05.2026 06:00", "month first", 5),
    ],
)
def test_day_or_month_first_is_told(cell: str, order: str, month: int) -> None:
    found = read_moments(pd.Series([cell]), order=order)
    assert (found.local[0].month, found.local[0].hour) == (month, 6)


@pytest.mark.parametrize(
    ("cell", "sentence"),
    [
        ("05/10/2026 06:00", "may have the day or the month first; say which"),
        ("soon", '"soon" is no time'),
        (True, "is no time"),
        (-5, "-5 is no time"),
        (5.5, "5.5 is no time"),
        ("31.02.2026", "is no time"),
        ("1777-10-05 06:00", "is no time of a plant"),
        ("2026-10-05T04:00:00Z", "is in UTC; name the time zone of the plant"),
        (STAMP, "is in UTC; name the time zone of the plant"),
        (dt.datetime(2026, 10, 5, 4, tzinfo=dt.UTC), "is in UTC; name the time zone"),
    ],
)
def test_what_is_not_read_says_why(cell: Any, sentence: str) -> None:
    found = read_moments(pd.Series([cell]))
    assert pd.isna(found.local[0])
    assert sentence in found.reasons[0]


def test_an_offset_that_is_not_utc_is_the_clock_of_the_plant() -> None:
    found = read_moments(pd.Series(["2026-10-05T06:00:00+02:00", "2026-11-05T06:00:00+01:00"]))
    assert found.local.tolist() == [SIX, pd.Timestamp("2026-11-05 06:00")]


def test_blank_cells_have_neither_time_nor_reason() -> None:
    found = read_moments(pd.Series(["", None, np.nan, pd.NaT, "  "], dtype=object))
    assert found.local.isna().all()
    assert found.reasons.isna().all()


def test_the_hours_of_daylight_saving() -> None:
    night = ["01:30", "02:15", "02:45", "02:15", "02:45", "03:30"]
    found = read_moments(pd.Series([f"25.10.2026 {clock}" for clock in night]), zone=VIENNA)
    elapsed = (found.instants - found.instants[0]).dt.total_seconds() / 60
    assert elapsed.tolist() == [0, 45, 75, 105, 135, 180]
    skipped = read_moments(pd.Series(["2026-03-29 02:30"]), zone=VIENNA)
    assert "skipped by the clock" in skipped.reasons[0]


def test_a_month_ends_at_the_plants_midnight() -> None:
    stamps = pd.Series(pd.to_datetime(["2026-10-31T22:59Z", "2026-10-31T23:01Z"]))
    assert read_moments(stamps, zone=VIENNA).local.dt.month.tolist() == [10, 11]
    assert read_moments(stamps, zone="America/Chicago").local.dt.month.tolist() == [10, 10]


def test_a_zone_that_is_none() -> None:
    with pytest.raises(UnreadableError, match='"CEST" is no time zone; say it as "Europe/Vienna"'):
        read_moments(pd.Series(["2026-10-05"]), zone="CEST")
