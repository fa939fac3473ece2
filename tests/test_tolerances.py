"""How a tolerance is read: its size, its shape, its name, and what is refused."""

from __future__ import annotations

import contextlib
import math
from typing import Any, get_args

import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st

from gasfuncs.definition import vocabulary
from gasfuncs.definition.terms import Term
from gasfuncs.definition.tolerances import (
    Part,
    Tolerance,
    read_tolerance,
    reading_of,
    uncertainty,
)
from gasfuncs.errors import CellError, GasFuncsError
from gasfuncs.properties import gas

ROOT = math.sqrt(3)
ARGON = gas("argon")


def term(name: str) -> Any:
    return next(note for note in get_args(getattr(vocabulary, name)) if isinstance(note, Term))


READ = [
    ("Volume", "±1 %", Part(0.01 / ROOT, 0)),
    ("Volume", "1 %", Part(0.01 / ROOT, 0)),
    ("Volume", "+/-1%", Part(0.01 / ROOT, 0)),
    ("Volume", "± 0,5 %", Part(0.005 / ROOT, 0)),
    ("Volume", "±3 % of reading Volume", Part(0.03 / ROOT, 0, "volume")),
    ("Temperature", "±0.5 K", Part(0, 0.5 / ROOT)),
    ("Temperature", "±0.9 degF", Part(0, 0.5 / ROOT)),
    ("Temperature", "±0.5 °C", Part(0, 0.5 / ROOT)),
    ("Pressure", "u 3 mbar", Part(0, 300, "", "normal")),
    ("Pressure", "u=3 mbar df=9", Part(0, 300, "", "normal", 9)),
    ("Pressure", "±0.5 % of 16 bar", Part(0, 8_000 / ROOT)),
    ("Pressure", "±0.5 % of 16 bar(g) PI-7", Part(0, 8_000 / ROOT, "pi-7")),
    ("Pressure", "±3 mbar k=2", Part(0, 150, "", "normal")),
    ("Pressure", "±3 mbar 95% gauge 1", Part(0, 300 / 1.959964, "gauge 1", "normal")),
    (
        "Pressure",
        "±3 mbar (95 %) df=4",
        Part(0, 300 / scipy.stats.t.ppf(0.975, 4), "", "normal", 4),
    ),
    ("Pressure", "±3 mbar 99%", Part(0, 300 / 2.575829, "", "normal")),
    ("GaugePressure", "±1 psi", Part(0, 6894.757 / ROOT)),
    ("LeakRate", "u 2 mbar L/s", Part(0, 0.2, "", "normal")),
    ("LeakRate", "u 2 Pa m3/s tester", Part(0, 2, "tester", "normal")),
    ("Amount", "u 10 mol", Part(0, 10, "", "normal")),
    ("Impurity", "±5 ppm", Part(0, 5e-6 / ROOT)),
    ("Fraction", "±2 points", Part(0, 0.02 / ROOT)),
    ("Fraction", "±0.02", Part(0, 0.02 / ROOT)),
    ("PlainNumber", "±2", Part(0, 2 / ROOT)),
    ("Price", "u 3 % rate", Part(0.03, 0, "rate", "normal")),
]


@pytest.mark.parametrize(("argument", "text", "part"), READ, ids=lambda value: str(value)[:30])
def test_a_tolerance_is_read(argument: str, text: str, part: Part) -> None:
    [found] = read_tolerance(text, term(argument), ARGON)
    assert (found.name, found.shape, found.freedom) == (part.name, part.shape, part.freedom)
    assert (found.share, found.fixed) == pytest.approx((part.share, part.fixed), rel=1e-6)


def test_several_errors_of_one_reading() -> None:
    parts = read_tolerance("±0.1 % of 16 bar PI-7; u 2 mbar", term("Pressure"))
    assert [part.name for part in parts] == ["pi-7", ""]
    assert uncertainty(parts, 0.0) == pytest.approx(math.hypot(1600 / ROOT, 200))


@pytest.mark.parametrize("cell", [None, "", "  ", 0, 0.0])
def test_a_blank_is_exact(cell: Any) -> None:
    assert read_tolerance(cell, term("Pressure")) == ()
    assert read_tolerance(cell, term("GasArgument")) == ()


REFUSED = [
    ("Volume", 0.01, 'write the tolerance as text: "±1 %" or "±0.01 m3"'),
    ("Volume", True, "is not a tolerance"),
    ("Volume", CellError("#N/A"), "is not a tolerance"),
    ("Volume", "about 3", "is not a tolerance"),
    ("Volume", "±", "is not a tolerance"),
    ("Volume", "-1 %", "below zero"),
    ("Volume", "±3", 'write "±3 m3"'),
    ("Volume", "±3 K", "unit of temperature"),
    ("Volume", "±3 lites", "not a known unit"),
    ("Volume", "±1 % bar", "a unit cannot stand where"),
    ("Volume", "±1 % 7", 'what is "7"?'),
    ("Volume", "±1,234 %", "could be either mark"),
    ("Volume", "±1e300 m3", "more than any tolerance"),
    ("Volume", "u 1 % k=2", "takes no factor"),
    ("Volume", "±1 % df=9", "degrees of freedom go with"),
    ("Volume", "u 1 % df=0.5", "too few"),
    ("Volume", "±1 % k=0.1", "between 1 and 10"),
    ("Volume", "±1 m3 5%", "between 50 % and 100 %"),
    ("Temperature", "±1 %", "where it is counted from"),
    ("Impurity", "±1 %", "could be of the reading or points"),
    ("Pressure", "±0.1 bar gauge", "could be a part of the unit or a name"),
    ("PlainNumber", "±3 Nm3", "a unit cannot stand where"),
    ("Cycles", "±1", "is a whole number and has no tolerance"),
    ("GasArgument", "±1 %", "is not a number and has no tolerance"),
    ("Volume", "±1 %" * 100, "characters long"),
]


@pytest.mark.parametrize(("argument", "cell", "says"), REFUSED, ids=lambda value: str(value)[:30])
def test_what_is_no_tolerance_is_refused_in_a_sentence(argument: str, cell: Any, says: str) -> None:
    with pytest.raises(GasFuncsError) as refusal:
        read_tolerance(cell, term(argument), ARGON)
    assert says in str(refusal.value)


@pytest.mark.parametrize(
    ("argument", "cell", "value", "reading"),
    [
        ("Pressure", "80 psig", 101_325 + 80 * 6894.757, 80 * 6894.757),
        ("Pressure", 6.0, 6e5, 6e5),
        ("Pressure", "", 6e5, 6e5),
        ("GaugePressure", "5 bar(g)", 5e5, 5e5),
        ("Volume", "2 m3", 2.0, 2.0),
        ("PlainNumber", 7.0, 7.0, 7.0),
    ],
)
def test_a_share_is_of_what_the_instrument_shows(
    argument: str, cell: Any, value: float, reading: float
) -> None:
    assert reading_of(term(argument), cell, value) == pytest.approx(reading, rel=1e-6)


PIECES = ["±", "+/-", "u", " ", "1", "0.5", "-", "%", " of ", "16", "bar", "K", "mbar L/s", "95%",
          "k=2", "df=9", "volume", "(", ")", ";", ",", "e9", "µ", "\u2212", "gauge"]  # fmt: skip


@given(st.lists(st.sampled_from(PIECES), max_size=9).map("".join), st.sampled_from(
    ["Pressure", "Temperature", "Volume", "Impurity", "PlainNumber", "LeakRate", "Amount"]
))  # fmt: skip
def test_any_text_is_read_or_refused(text: str, argument: str) -> None:
    parts: tuple[Part, ...] = ()
    with contextlib.suppress(GasFuncsError):  # any other exception is a fault
        parts = read_tolerance(text, term(argument), ARGON)
    for part in parts:
        assert math.isfinite(part.size(1.0))
        assert part.size(1.0) >= 0


def test_a_tolerance_as_an_argument_of_its_own() -> None:
    own = Tolerance("±", "Tolerance of the pressures", of=term("Pressure"))
    assert own.read("u 3 mbar") == (Part(0.0, 300.0, "", "normal"),)
    assert "±1 %" in own.allowed()
