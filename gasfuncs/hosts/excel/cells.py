"""What a cell's value is on its way from Excel to a function, and back."""

from __future__ import annotations

import math
import re
from typing import Any

import numpy as np

from gasfuncs.errors import NUM, VALUE, CellError
from gasfuncs.units import shown

ERRORS = {
    2000: "#NULL!", 2007: "#DIV/0!", 2015: "#VALUE!", 2023: "#REF!", 2029: "#NAME?",
    2036: "#NUM!", 2042: "#N/A", 2043: "#GETTING_DATA", 2045: "#SPILL!", 2046: "#CONNECT!",
    2047: "#BLOCKED!", 2048: "#UNKNOWN!", 2049: "#FIELD!", 2050: "#CALC!",
}  # fmt: skip
"""Excel's numbers of its error values (XlCVError)."""

FIRST_ERROR = -2_146_828_288
"""An error value arrives as its number on top of this one (0x800A0000), signed."""

_TEXT_ERROR = re.compile(rf"({'|'.join(map(re.escape, ERRORS.values()))})(?: (.*))?", re.DOTALL)


def range_values(area: Any) -> Any:
    """The values of Excel's Range object, or the error that stands for them.

    Value2 keeps all digits of a cell formatted as currency, and gives dates as serial numbers. A
    whole column ends where the sheet's cells in use end.
    """
    try:
        area = _in_use(area)
        values = area.Value2
        count = area.CountLarge
    except Exception as error:  # Excel's own, which only Windows knows
        return CellError(VALUE, f"Excel did not give the values of the range ({error})")
    rows = values if isinstance(values, tuple) else ((values,),)
    if count != len(rows) * len(rows[0]):
        return CellError(VALUE, "these are several ranges at once; give one")
    return values


def _in_use(area: Any) -> Any:
    sheet = area.Worksheet
    if area.Rows.Count < sheet.Rows.Count:
        return area
    used = sheet.UsedRange
    return area.Resize(max(1, used.Row + used.Rows.Count - 1))


def argument(values: Any) -> Any:
    """An argument as Excel hands it over, as a function takes it: one value, or rows of them."""
    if not isinstance(values, tuple):
        return _value(values)
    rows = values if isinstance(values[0], tuple) else (values,)
    read = [[_value(value) for value in row] for row in rows]
    return read[0][0] if len(read) == len(read[0]) == 1 else read


def _value(value: Any) -> Any:
    if isinstance(value, str):
        return read_text(value)
    if isinstance(value, int) and not isinstance(value, bool):
        return _number_or_error(value)
    return value


def _number_or_error(value: int) -> float | CellError:
    """Cells hold no whole numbers of this kind: from a cell it is an error value."""
    number = value - FIRST_ERROR
    if not 0 <= number < 2**16:
        return float(value)
    if number in ERRORS:
        return CellError(ERRORS[number])
    return CellError(VALUE, f"an argument is an error value that is not known ({number})")


def read_text(text: str) -> str | CellError:
    """A text, or the error that it tells: our own functions show errors as texts."""
    told = _TEXT_ERROR.fullmatch(text)
    return CellError(told[1], told[2] or "") if told else text


def answer(values: Any) -> Any:
    """A function's answer as Excel takes it."""
    if isinstance(values, list):
        return [[_told(value) for value in row] for row in values]
    return _told(values)


def _told(value: Any) -> str | bool | float | None:
    if value is None or isinstance(value, str | bool):
        return value
    if isinstance(value, CellError):
        return f"{value.code} {value.message}".rstrip()
    if isinstance(value, np.bool_):
        return bool(value)
    if not hasattr(value, "__float__"):
        return f"{VALUE} {type(value).__name__} {shown(value)} does not fit into a cell"
    number = float(value)
    return number if math.isfinite(number) else f"{NUM} the answer is not a finite number"
