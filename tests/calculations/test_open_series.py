"""Forecasts held out on open series, which takes seconds."""

from __future__ import annotations

import numpy as np
import pytest

from tests.open_series import SERIES, held_out
from tests.thorough import part


@pytest.fixture(scope="module")
def held() -> dict[str, tuple[float, float, float]]:
    return {name: held_out(*series) for name, series in part(SERIES.items(), 2)}


def test_open_series_are_forecast_no_worse_than_by_the_last_season(
    held: dict[str, tuple[float, float, float]],
) -> None:
    """Over the set, of values that the forecast has not seen: at most 5 % worse."""
    ratios = {name: error / last for name, (error, last, _) in held.items()}
    assert np.mean(list(ratios.values())) < 1.05
    assert max(ratios.values()) < 1.25, ratios


def test_bands_hold_about_what_they_say(held: dict[str, tuple[float, float, float]]) -> None:
    """Bands of 90 %; each series has but a few independent origins."""
    shares = [share for _, _, share in held.values()]
    assert 0.8 < np.mean(shares) < 0.97
    assert min(shares) > 0.6
