"""Gas that no use explains, where all is known exactly."""

from __future__ import annotations

import pytest

import gasfuncs


def test_what_is_known_exactly_has_no_band() -> None:
    exact = ["±0 Nm3"] * 3
    [_, row] = gasfuncs.GAS_UNACCOUNTED_VERDICT(8200, 15400, 6900, 15150, 31, *exact)
    assert row[:3] == pytest.approx([8200 + 15400 - 6900 - 15150] * 3)
    assert row[6] == 0
    assert row[7] == "loss"
