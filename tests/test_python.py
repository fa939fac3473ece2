"""The functions as Python, editors and type checkers meet them."""

from __future__ import annotations

import datetime as dt
import inspect
import pydoc
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

import gasfuncs
from gasfuncs.hosts.stubs import stubs
from gasfuncs.registry import worksheet_functions

PACKAGE = Path(gasfuncs.__file__).parent


@pytest.mark.parametrize("name", worksheet_functions())
def test_a_signature_and_help(name: str) -> None:
    definition = worksheet_functions()[name]
    function = getattr(gasfuncs, name)
    found = [p for p in inspect.signature(function).parameters.values() if p.name != "errors"]
    assert [p.name for p in found] == [p.name for p in definition.parameters]
    assert [p.default is p.empty and p.kind is not p.VAR_POSITIONAL for p in found] == [
        p.required for p in definition.parameters
    ]
    text = pydoc.plain(pydoc.render_doc(function))
    for parameter in definition.parameters:
        assert f"{parameter.name}: {parameter.description}" in text


def test_the_stubs_are_those_of_the_functions() -> None:
    written = (PACKAGE / "__init__.pyi").read_text(encoding="utf-8")
    assert written == stubs(), "run: gasfuncs build stubs gasfuncs/__init__.pyi"


def test_bad_rows_are_counted_and_the_first_three_told() -> None:
    with pytest.raises(gasfuncs.GasFuncsError) as refused:
        gasfuncs.GAS_DENSITY("argon", [1, -2, 3, -4, -5, -6], 20)
    assert str(refused.value) == (
        "pressure: -2 bar(a) is below 0 bar(a) (item 2 of the range); 4 of 6 items are refused, "
        "the next are item 4: pressure: -4 bar(a) is below 0 bar(a); "
        "item 5: pressure: -5 bar(a) is below 0 bar(a)"
    )


def test_bad_rows_can_be_kept_beside_the_good_ones() -> None:
    found: Any = gasfuncs.GAS_DENSITY("argon", [[1], [-2]], 20, errors="cells")
    assert found.shape == (2, 1)
    assert found[0, 0] == gasfuncs.GAS_DENSITY("argon", 1, 20)
    assert isinstance(found[1, 0], gasfuncs.CellError)
    assert found[1, 0].message == "pressure: -2 bar(a) is below 0 bar(a)"
    function: Any = gasfuncs.GAS_DENSITY
    with pytest.raises(gasfuncs.GasFuncsError, match='"ignore" may be "raise" or "cells"'):
        function("argon", 1, 20, errors="ignore")


def test_a_series_in_is_a_series_out() -> None:
    pressures = pd.Series([1.0, 2.0], index=["a", "b"])
    found: Any = gasfuncs.GAS_DENSITY("argon", pressures, pd.Series([20, 30], index=["a", "b"]))
    assert list(found.index) == ["a", "b"]
    assert found.name == "GAS_DENSITY"
    assert found["b"] == gasfuncs.GAS_DENSITY("argon", 2, 30)
    with pytest.raises(gasfuncs.GasFuncsError, match="different indices"):
        gasfuncs.GAS_DENSITY("argon", pressures, pd.Series([20, 30]))


def test_pythons_own_range_is_a_range() -> None:
    found: Any = gasfuncs.GAS_DENSITY("argon", range(1, 4), 20)
    assert list(found) == list(gasfuncs.GAS_DENSITY("argon", [1, 2, 3], 20))


def test_days_are_dates() -> None:
    day = dt.date(2026, 3, 2)
    assert gasfuncs.GAS_REORDER_DATE(day, 14200, 1150, 9258, 60) == dt.date(2026, 3, 6)
    days: Any = gasfuncs.GAS_REORDER_DATE([day, "2026-03-03"], 14200, 1150, 9258, 60)
    assert days.tolist() == [dt.date(2026, 3, 6), dt.date(2026, 3, 7)]
    plan = gasfuncs.GAS_TANK_PLAN(day, 9800, [1150, 1150, 0], 9258, 2, 12000, 20000, 60)
    assert plan[1][0] == day


def test_columns_of_days_and_texts_are_read_as_pandas_and_numpy_hold_them() -> None:
    days = pd.Series(pd.to_datetime(["2026-03-02", None, "2026-03-03"]), index=[4, 5, 6])
    found: Any = gasfuncs.GAS_REORDER_DATE(days, 14200, 1150, 9258, 60, errors="cells")
    assert found[4] == dt.date(2026, 3, 6)
    assert found[5].message.startswith("start_date: is blank")
    assert found[6] == dt.date(2026, 3, 7)
    texts = np.array(["1 bar(a)", "2 bar(a)"])
    wanted: Any = gasfuncs.GAS_DENSITY("argon", [1, 2], 20)
    assert gasfuncs.GAS_DENSITY("argon", texts, 20).tolist() == wanted.tolist()
    with pytest.raises(gasfuncs.GasFuncsError, match="pressure: TRUE is not a number"):
        gasfuncs.GAS_DENSITY("argon", np.array([True, False]), 20)


@pytest.mark.parametrize("kind", ["string", "category", "str"])
def test_what_pandas_tells_missing_is_blank(kind: str) -> None:
    gases = pd.Series(["argon", None], dtype=kind)
    found: Any = gasfuncs.GAS_DENSITY(gases, 1, 20, errors="cells")
    assert found[0] == gasfuncs.GAS_DENSITY("argon", 1, 20)
    assert found[1].message.startswith("gas: is blank")
    pressures = pd.Series([1, None], dtype="Int64")
    found = gasfuncs.GAS_DENSITY("argon", pressures, 20, errors="cells")
    assert found[1].message.startswith("pressure: is blank")
    found = gasfuncs.GAS_DENSITY("argon", [1, float("nan")], 20, errors="cells")
    assert "not a finite number" in found[1].message


def test_a_star_brings_every_function() -> None:
    names: dict[str, Any] = {}
    exec("from gasfuncs import *", names)
    assert names.keys() >= worksheet_functions().keys()


def test_a_name_that_is_none() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'GAS_DENSTIY'"):
        _ = gasfuncs.GAS_DENSTIY  # type: ignore[attr-defined]
    assert np.isfinite(gasfuncs.GAS_DENSITY("argon", 1, 20))
