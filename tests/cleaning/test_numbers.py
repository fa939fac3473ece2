"""Numbers with the decimal mark that was told."""

from __future__ import annotations

from typing import Any

import pytest

pytest.importorskip("pandas", reason="needs the extra: gasfuncs[import]")

import numpy as np
import pandas as pd

from gasfuncs.cleaning import read_numbers


@pytest.mark.parametrize(
    ("cell", "decimal", "value"),
    [
        ("1.5", ".", 1.5),
        ("1,500", ".", 1500),
        ("1,234,500.25", ".", 1234500.25),
        ("1 500", ".", 1500),
        ("1.5e-3", ".", 0.0015),
        ("-7", ".", -7),
        ("1,5", ",", 1.5),
        ("1.500", ",", 1500),
        ("1.234.500,25", ",", 1234500.25),
        ("1'500,5", ",", 1500.5),
        (2.5, ",", 2.5),
        (3, ".", 3),
        (" 4 ", ".", 4),
    ],
)
def test_a_number(cell: Any, decimal: str, value: float) -> None:
    for column in (pd.Series([cell]), pd.Series([cell, "x"], dtype=object)):
        found = read_numbers(column, decimal)
        assert found.values[0] == value
        assert pd.isna(found.reasons[0])


@pytest.mark.parametrize(
    ("cell", "decimal", "sentence"),
    [
        ("1,5", ".", '"1,5" is no number where the decimal mark is "."'),
        ("1.5", ",", '"1.5" is no number where the decimal mark is ","'),
        ("1,50,000", ".", "is no number"),
        ("<3", ".", '"<3" is no number'),
        ("bad", ".", '"bad" is no number'),
        ("nan", ".", '"nan" is no number'),
        (True, ".", "is no number"),
        (np.inf, ".", "is infinite"),
        ("inf", ".", "is infinite"),
    ],
)
def test_what_is_no_number_says_why(cell: Any, decimal: str, sentence: str) -> None:
    found = read_numbers(pd.Series([cell]), decimal)
    assert np.isnan(found.values[0])
    assert sentence in found.reasons[0]


def test_blank_cells_have_neither_number_nor_reason() -> None:
    found = read_numbers(pd.Series(["", None, np.nan], dtype=object))
    assert found.values.isna().all()
    assert found.reasons.isna().all()
