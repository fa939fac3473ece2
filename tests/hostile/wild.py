"""Values that no careful person would put into a cell, and some that a program might."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from fractions import Fraction
from types import SimpleNamespace
from typing import Any

import numpy as np

from gasfuncs.errors import CellError

LONG = 100_000
"""Characters; a cell holds 32,767."""


class Stubborn:
    """An object that cannot be told as a number nor as text."""

    def __float__(self) -> float:
        raise RuntimeError("no number")

    def __str__(self) -> str:
        raise RuntimeError("no text")

    __repr__ = object.__repr__


NUMBERS: tuple[Any, ...] = (
    0, -1, 5e-324, 1e-320, 1e-300, 1e-30, 1e-9, 1e-3, 1, 3.7, 1e3, 1e6, 1e9, 1e15, 1e30, 1e300,
    1.7e308, -1e300, float("nan"), float("inf"), -float("inf"), 10**400, -(10**400), 10**5000,
    Decimal("1e5000"), Decimal("NaN"), Decimal("sNaN"), Fraction(10**400, 3),
    np.float64(3), np.float32(1e-40), np.float16(3), np.int64(5), np.longdouble("1e4000"),
    np.array(5.0),
)  # fmt: skip

TEXTS = (
    "", "  ", "6 bar\x00", "6\tbar(a)", "6 bar(a)\n", "\x1b[31m5 m", "\u202e5 m", "5\u00a0m",
    "\ud800", "=1+1", '=HYPERLINK("x")', "@SUM(A1)", "+1", "-1+2", "-", ".", "e", "%", "+", "/",
    "x" * LONG, "1" * LONG, "(" * LONG, "%" * LONG, "+" * LONG, " " * LONG, "1" * 199,
    "9" * 150 + " m", "1e999", "-1e999", "1e-999", "1e400 m", "1e30 %", "0 %", "50 %",
    "\u0661\u0662\u0663", "\uff11\uff12\uff13", "\u0967\u0968 m", "12 \uff10", "\u00bd", "\u221e",
    "NaN", "inf", "-inf", "None", "TRUE", "#N/A", "bar(a)", "mbar L/s", "Nm3", "GAS_DENSITY",
    "GAS_CHECK", "GAS_WORKING", "argon", "air", "50% argon + 50% helium", "100% argon",
    "1e-9% argon + 99.999999999% helium", "-5% argon + 105% helium", "1,5% argon",
    "2026-12-08", "0001-01-01", "9999-12-31T23:59:59", "20261208T99", "../../etc/passwd",
    "{1,2}", "'; --", "$(x)", "%s%n", "\\", '"', "\r\n",
)  # fmt: skip

NO_VALUES: tuple[Any, ...] = (
    True, False, b"12", bytearray(b"12"), dt.time(3), dt.timedelta(1), 1 + 1j, {}, {"a": 1}, set(),
    frozenset([1]), object(), Stubborn(), len, int, iter([1]), Ellipsis, NotImplemented,
    SimpleNamespace(value=1), np.bool_(True), np.bytes_(b"5"), np.void(b"ab"), np.complex128(1j),
    np.datetime64("NaT", "D"), np.timedelta64(1, "D"), np.array("x"), np.array(None, dtype=object),
)  # fmt: skip
"""What no argument takes."""

DATES: tuple[Any, ...] = (
    dt.date(2026, 1, 2), dt.date(1, 1, 1), dt.datetime(2026, 1, 2, 3),
    dt.datetime(2026, 1, 2, tzinfo=dt.UTC), np.datetime64("2026-01-01"),
)  # fmt: skip

RANGES: tuple[Any, ...] = (
    (), range(3), [], [[]], [[], []], [[1, 2], [3]], [[1.0], [2.0]], [1, [2, 3]], [[[1, 2], [3]]],
    [[[1, 2], [3, 4]]], [(1, [2])], [[None]], [[None], [None]], [["x"], [1.0]], [[10**400], [1]],
    [[CellError("#REF!")], [1.0]], [[Stubborn()], [True]], [[b"1"], [dt.date(2026, 1, 2)]],
    [["1 bar(a)"], ["2 psig"]], [["x" * LONG], [" "]],
    np.array([]), np.zeros((0, 3)), np.zeros((2, 2, 2)), np.ones((1, 1, 1, 1)), np.array(["5 m"]),
    np.array([True]), np.array([1 + 1j]), np.array([1, 2], dtype=np.int8), np.array([1e308, 1.0]),
    np.array([np.nan, np.inf]), np.array([np.datetime64("2026-01-01")]), np.array([b"1"]),
    np.array([np.longdouble("1e4000"), np.longdouble(1)]), np.array([1, None, "x"], dtype=object),
    np.array([(1, 2.0)], dtype=[("a", int), ("b", float)]),
)  # fmt: skip

ERRORS: tuple[Any, ...] = (None, CellError("#N/A"), CellError("#REF!", "lost"))

EVERYTHING: tuple[Any, ...] = (*NUMBERS, *TEXTS, *NO_VALUES, *DATES, *RANGES, *ERRORS)
