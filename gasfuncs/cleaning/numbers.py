"""Numbers as files write them, with a decimal point or comma that is told, never guessed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from pandas.api import types

POINT, COMMA = ".", ","

_GROUPING = {POINT: "[,'\u00a0\u202f ]", COMMA: "[.'\u00a0\u202f ]"}
_GROUPED = {
    mark: rf"^[+-]?\d{{1,3}}(?:{between}\d{{3}})+(?:\{mark}\d*)?$"
    for mark, between in _GROUPING.items()
}


@dataclass(frozen=True, slots=True)
class Numbers:
    """A column as float64, NaN where it is blank or was not read; the reason there, else None."""

    values: pd.Series
    reasons: pd.Series


def read_numbers(column: pd.Series, decimal: str = POINT) -> Numbers:
    """Every cell as a number; text has the decimal mark `decimal`."""
    reasons = pd.Series(None, index=column.index, dtype=object)
    if types.is_bool_dtype(column):
        reasons[:] = "is no number"
        return Numbers(pd.Series(np.nan, index=column.index), reasons)
    if types.is_numeric_dtype(column):
        values = column.astype("float64")
    else:
        values = _of_text(column, decimal, reasons)
    infinite = np.isinf(values)
    reasons[infinite] = "is infinite"
    return Numbers(values.mask(infinite), reasons)


def _of_text(column: pd.Series, decimal: str, reasons: pd.Series) -> pd.Series:
    text = column.astype("string").str.strip().replace("", pd.NA)
    numeric = _is_number(column)
    values = pd.to_numeric(_with_point(text, decimal), errors="coerce").astype("float64")
    values[numeric] = pd.to_numeric(column[numeric]).astype("float64")
    left = text[values.isna() & text.notna()]
    grouped = left[left.str.match(_GROUPED[decimal]).astype(bool)]
    plain = grouped.str.replace(_GROUPING[decimal], "", regex=True)
    values[grouped.index] = pd.to_numeric(_with_point(plain, decimal)).astype("float64")
    wrong = text.notna() & values.isna()
    reasons[wrong] = [f'"{value}" is no number{_hint(value, decimal)}' for value in text[wrong]]
    return values


def _with_point(text: pd.Series, decimal: str) -> pd.Series:
    """Text that can be a number as it stands, with a decimal point."""
    if decimal == POINT:
        return text
    return text.mask(text.str.contains(".", regex=False)).str.replace(",", ".", regex=False)


def _is_number(column: pd.Series) -> pd.Series:
    """Cells that are numbers already, in a column that holds text too."""
    if not types.is_object_dtype(column):
        return pd.Series(False, index=column.index)
    return column.map(lambda cell: isinstance(cell, int | float) and not isinstance(cell, bool))


def _hint(value: str, decimal: str) -> str:
    other = COMMA if decimal == POINT else POINT
    if other in value and not set(value) - set("0123456789+-.,"):
        return f' where the decimal mark is "{decimal}"'
    return ""
