"""Tolerances as people write them: "±1 %", "u 3 mbar", "±0.5 % of 16 bar", "±0.4 K 95% gauge".

± alone is a limit that the error never passes, all of it as likely (rectangular); with a level or
a factor beside it the error is normal; u is a standard uncertainty. A name behind it stands for
one error that all tolerances of that name share. Parts are put together with a semicolon.
"""

from __future__ import annotations

import math
import re
from dataclasses import KW_ONLY, dataclass
from functools import lru_cache
from typing import Literal

from gasfuncs.definition.reading import is_blank
from gasfuncs.definition.series import line
from gasfuncs.definition.terms import (
    Cell,
    Count,
    Number,
    Quantity,
    Term,
    number_and_unit,
    plain,
    to_si,
)
from gasfuncs.errors import GasFuncsError, OutOfRangeError, UnitError, UnreadableError
from gasfuncs.properties import Gas
from gasfuncs.units import Kind, Unit, fold, kinds, refuse_long, shown, split_quantity

Shape = Literal["normal", "rectangular"]

LEAST_FREEDOM = 1.0
"""Degrees of freedom: those of two readings."""

MOST = 1e15
"""Of a number in a tolerance."""

EXAMPLES = '"±1 %", "±0.5 K", "u 3 mbar", "±0.5 % of 16 bar"'

_MARK = re.compile(r"\s*(?P<mark>±|\+/-|\+-|u\s*=|u(?=[\s\d.]))?\s*(?P<rest>.*)", re.DOTALL)
_DIGIT = re.compile(r"[-+\u2212]?[.,]?\d")
_LEVEL = re.compile(r"\(?(?<![\w.])(?P<level>\d+(?:\.\d+)?)\s*%\)?")
_FACTOR = re.compile(r"\(?\bk\s*=\s*(?P<factor>\d+(?:\.\d+)?)\)?")
_FREEDOM = re.compile(r"\(?\bdf\s*=\s*(?P<freedom>\d+(?:\.\d+)?)\)?")


@dataclass(frozen=True, slots=True)
class Part:
    """One error of a reading: its size, its shape, and the name it shares with others."""

    share: float
    """Standard deviation as a share of the reading."""
    fixed: float
    """Standard deviation in SI, whatever the reading."""
    name: str = ""
    shape: Shape = "rectangular"
    freedom: float = math.inf
    """Degrees of freedom."""

    def size(self, reading: float) -> float:
        """Standard deviation of a reading, in SI, with the sign that a shared error has."""
        return self.share * reading + self.fixed


Parts = tuple[Part, ...]


def uncertainty(parts: Parts, reading: float) -> float:
    """Standard uncertainty of one reading, in SI."""
    return math.sqrt(sum(part.size(reading) ** 2 for part in parts))


def read_tolerance(cell: Cell, term: Term, gas: Gas | None = None) -> Parts:
    """The errors that a tolerance's cell tells for an argument; none where it is blank.

    Raises a GasFuncsError for what is no tolerance, or none of this argument's kind.
    """
    if is_exact(cell):
        return ()
    cell = plain(cell)
    if not isinstance(cell, str):
        raise UnreadableError(_no_text(cell, term))
    if not isinstance(term, Number) or isinstance(term, Count):
        meant = "a whole number" if isinstance(term, Count) else "not a number"
        raise UnreadableError(
            f'is {meant} and has no tolerance; leave it blank instead of "{shown(cell)}"'
        )
    refuse_long(cell, "a tolerance")
    return _read(cell, term, gas)


def is_exact(cell: Cell) -> bool:
    """Whether a cell says that there is no error: blank, or a bare 0, as Calc tells a blank one."""
    return is_blank(cell) or (type(cell) in (int, float) and cell == 0)


def _no_text(cell: Cell, term: Term) -> str:
    if isinstance(cell, bool) or not isinstance(cell, int | float) or not abs(cell) <= MOST:
        return f"{shown(cell)} is not a tolerance; write one as text, such as {EXAMPLES}"
    unit = f" {term.unit_label}" if term.unit_label else ""
    return (
        f"{cell:g} is a bare number, which could be a share or {term.unit_label or 'a number'}; "
        f'write the tolerance as text: "±{100 * cell:g} %" or "±{cell:g}{unit}"'
    )


@lru_cache(maxsize=4096)
def _read(text: str, term: Number, gas: Gas | None) -> Parts:
    return tuple(_part(piece, text, term, gas) for piece in text.split(";") if piece.strip())


def _part(piece: str, text: str, term: Number, gas: Gas | None) -> Part:
    match = _MARK.fullmatch(piece)
    assert match
    standard = (match["mark"] or "").startswith("u")
    number, rest = _number(match["rest"], text)
    percent = rest.startswith("%")
    divisor, shape, freedom, rest = _coverage(rest.removeprefix("%"), standard, text)
    if percent:
        share, fixed, name = _percent(number / 100, rest.strip(), term, gas, text)
    else:
        width, name = _split(rest, term, gas, text)
        share, fixed = 0.0, number * width
    return Part(share / divisor, fixed / divisor, name, shape, freedom)


def _number(rest: str, text: str) -> tuple[float, str]:
    if not _DIGIT.match(rest):
        raise UnreadableError(f'"{shown(text)}" is not a tolerance; write {EXAMPLES}')
    number, rest = split_quantity(rest)
    if number < 0:
        raise OutOfRangeError(f'"{shown(text)}" is below zero; a tolerance has no sign')
    if number > MOST:
        raise OutOfRangeError(f'"{shown(text)}" is more than any tolerance here can be')
    return number, rest


def _coverage(rest: str, standard: bool, text: str) -> tuple[float, Shape, float, str]:
    """What divides the number to give a standard deviation, the shape, and what is left."""
    freedom, rest = _taken(_FREEDOM, rest)
    factor, rest = _taken(_FACTOR, rest)
    level, rest = _taken(_LEVEL, rest)
    if freedom is not None and freedom < LEAST_FREEDOM:
        raise OutOfRangeError(
            f'"{shown(text)}": {freedom:g} degrees of freedom are too few; '
            f"two readings have {LEAST_FREEDOM:g}"
        )
    if standard and (factor is not None or level is not None):
        raise UnreadableError(f'"{shown(text)}": u is a standard uncertainty and takes no factor')
    if factor is not None and not 1 <= factor <= 10:
        raise OutOfRangeError(f'"{shown(text)}": a coverage factor is between 1 and 10')
    if level is not None and not 50 <= level < 100:
        raise OutOfRangeError(f'"{shown(text)}": a level is between 50 % and 100 %')
    freedom = math.inf if freedom is None else freedom
    if level is not None and factor is None:
        factor = quantile(0.5 + level / 200, freedom)
    if standard or factor is not None:
        return (1.0 if factor is None else factor), "normal", freedom, rest
    if freedom != math.inf:
        raise UnreadableError(f'"{shown(text)}": degrees of freedom go with u, 95% or k=2')
    return math.sqrt(3), "rectangular", freedom, rest


def quantile(probability: float, freedom: float = math.inf) -> float:
    """Of Student's t, which is normal where the degrees of freedom are not limited."""
    from scipy.special import ndtri, stdtrit

    if freedom == math.inf:
        return float(ndtri(probability))
    return float(stdtrit(freedom, probability))


def _taken(pattern: re.Pattern[str], rest: str) -> tuple[float | None, str]:
    match = pattern.search(rest)
    if not match:
        return None, rest
    return float(match[1]), f"{rest[: match.start()]} {rest[match.end() :]}"


def _percent(
    share: float, rest: str, term: Number, gas: Gas | None, text: str
) -> tuple[float, float, str]:
    """A percentage of the reading or of a span: share, standard deviation in SI, name."""
    word, _, more = rest.partition(" ")
    if word.lower() == "of" and more.split(" ")[0].lower() not in ("reading", "value"):
        number, unit = _number(more, text)
        width, name = _split(unit, term, gas, text)
        return 0.0, share * number * width, name
    said = word.lower() == "of"
    name = more.partition(" ")[2] if said else rest
    if isinstance(term, Quantity) and term.kind is kinds.TEMPERATURE:
        raise UnitError(
            f'"{shown(text)}" of a temperature depends on where it is counted from; write "±0.5 K"'
        )
    if isinstance(term, Quantity) and term.kind in RATIOS and not said:
        raise UnitError(
            f'"{shown(text)}" could be of the reading or points; '
            f'write "±{100 * share:g} % of reading" or "±{100 * share:g} points"'
        )
    return share, 0.0, _name(name, text)


_PRESSURES = (kinds.PRESSURE, kinds.GAUGE_PRESSURE, kinds.PRESSURE_DIFFERENCE)
RATIOS = (kinds.FRACTION, kinds.IMPURITY)
STEPS = {
    kinds.PRESSURE: kinds.PRESSURE_DIFFERENCE,
    kinds.GAUGE_PRESSURE: kinds.PRESSURE_DIFFERENCE,
    kinds.TEMPERATURE: kinds.TEMPERATURE_DIFFERENCE,
}
"""The kind of a difference, where a quantity has a zero of its own."""


def _split(rest: str, term: Number, gas: Gas | None, text: str) -> tuple[float, str]:
    """The size in SI of the unit at the head of what is left, and the name behind it."""
    words = rest.split()
    if not isinstance(term, Quantity):
        return 1.0, _name(" ".join(words), text)
    if words and words[0].lower() == "points" and term.kind in RATIOS:
        return 0.01, _name(" ".join(words[1:]), text)
    if not words and term.unit == "1":
        return 1.0, ""
    if not words:
        raise UnitError(f'"{shown(text)}" has no unit; write "{shown(text)} {term.unit_label}"')
    for count in range(1, len(words) + 1):
        unit = _unit(term.kind, " ".join(words[:count]))
        if unit is not None and not " ".join(words[count:]).startswith("("):
            if term.kind in _PRESSURES:
                _refuse_origin(words[count:], text)
            width = abs(to_si(1.0, unit, gas) - to_si(0.0, unit, gas))
            return float(width), _name(" ".join(words[count:]), text)
    raise _wrong_unit(term.kind, " ".join(words))


def _refuse_origin(words: list[str], text: str) -> None:
    """Refuse a name that could be the origin of a pressure: bar gauge, bar absolute."""
    if len(words) == 1 and fold("bar" + words[0]) != "bar" + words[0]:
        raise UnitError(
            f'"{shown(text)}": "{words[0]}" could be a part of the unit or a name; '
            f'write the unit as bar(g), or a name such as "{words[0]} 1"'
        )


def _unit(kind: Kind, label: str) -> Unit | None:
    for each in (STEPS.get(kind, kind), kind):
        try:
            return each.unit(label)
        except UnitError:
            continue
    return None


def _wrong_unit(kind: Kind, label: str) -> GasFuncsError:
    try:
        STEPS.get(kind, kind).unit(label)
    except GasFuncsError as error:
        return error
    raise AssertionError(label)


def _name(words: str, text: str) -> str:
    """The name of a shared error, as it is compared; refused where it is a unit."""
    said = words.split()
    if not said:
        return ""
    heads = (" ".join(said), said[0])
    if any(head in kind.recipes for head in heads for kind in kinds.all_kinds()):
        raise UnitError(f'"{shown(text)}": a unit cannot stand where "{shown(said[0])}" does')
    if not said[0][0].isalpha():
        raise UnreadableError(f'"{shown(text)}": what is "{shown(said[0])}"? Write {EXAMPLES}')
    return " ".join(said).lower()


def error_name(cell: Cell) -> str:
    """The name of a shared error that a cell of its own tells."""
    if not isinstance(cell, str):
        raise UnreadableError(f"{shown(cell)} is not a name; write a word")
    refuse_long(cell, "a name")
    return _name(cell, cell)


def reading_of(term: Number, cell: Cell, value: float) -> float:
    """What a share of the reading is taken of, in SI: the value from the zero of its unit."""
    if not isinstance(term, Quantity):
        return value
    _, label = number_and_unit(cell) if isinstance(cell, str) and cell.strip() else (0.0, "")
    return value - (term.kind.unit(label) if label else term.default).zero


@dataclass(frozen=True)
class Tolerance(Term):
    """A tolerance of readings of one kind, such as those of a test's pressures."""

    _: KW_ONLY
    of: Number

    def read(self, value: Cell, gas: Gas | None = None) -> Parts:
        return read_tolerance(value, self.of, gas)

    def show(self, value: Parts) -> str:
        return "" if not value else f"u {uncertainty(value, 0.0):g}"

    def allowed(self) -> str:
        return f"text such as {EXAMPLES}"


@dataclass(frozen=True)
class Tolerances(Term):
    """A row or column of tolerances as they stand; what each is of is known only later."""

    _: KW_ONLY
    whole: bool = True

    def read(self, value: Cell, gas: Gas | None = None) -> tuple[Cell, ...]:
        return tuple(line(value))

    def allowed(self) -> str:
        return f"a row or column of texts such as {EXAMPLES}; blank: exact"
