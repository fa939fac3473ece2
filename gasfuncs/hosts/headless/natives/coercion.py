"""Values as one another: numbers from text, text from numbers, and how values compare."""

from __future__ import annotations

import math
import re
import unicodedata
from decimal import Decimal
from functools import lru_cache
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.cells import FailedError, UncomputableError
from gasfuncs.hosts.headless.natives.calendar import serial_of
from gasfuncs.hosts.headless.values import ASKED_FOR, CellValue

_NUMBER = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?(\s*%)?\Z")
_DATE = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})(?:[ T]+(.*))?\Z")
_SPELT = re.compile(r"([0-9]{1,2})[ -]([A-Za-z]{3,9})[ -]([0-9]{4})\Z")
_MONTHS = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
]
_TIME = re.compile(r"([0-9]{1,4}):([0-9]{1,2})(?::([0-9]{1,2}(?:\.[0-9]+)?))?\Z")
_UNSURE = re.compile(
    r"(?=.*[0-9])(?:[\s0-9.,/:\-+'%$€£()]|[ap]m\b"
    r"|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*)*\Z",
    re.I,
)
_ERROR = 2.0**-48


def number(value: CellValue) -> float:
    """A value where a number is needed."""
    if value.__class__ is float:
        return value
    if value is None:
        return 0.0
    if value.__class__ is bool:
        return float(value)
    if value.__class__ is str:
        return read_number(value)
    raise failed(value)


def plain_number(value: CellValue) -> float:
    """A number where TRUE and FALSE are none."""
    if value.__class__ is bool:
        raise FailedError("#VALUE!")
    return number(value)


def failed(value: Any) -> FailedError:
    """What an error value raises; of another cell's error only the code is handed on, and whether
    it was asked for."""
    if value.__class__ is CellError:
        return FailedError(value.code, ASKED_FOR if value.message == ASKED_FOR else "")
    return FailedError("#VALUE!")


def read_number(text: str) -> float:
    """A number, date or time in text, where every language reads it alike."""
    found = maybe_number(text)
    if found is not None:
        return found
    if is_unsure(text):
        raise UncomputableError(f"the text {text!r} is another number in another language")
    raise FailedError("#VALUE!")


def is_unsure(text: str) -> bool:
    """Whether a text may be a number, date or time in some language."""
    return _UNSURE.match(text) is not None


def maybe_number(text: str) -> float | None:
    """The number that a text surely is."""
    plain = _NUMBER.match(text.strip())
    if plain:
        text = text.strip()
        return float(text.rstrip("% \t")) / 100 if plain[1] else float(text)
    spelt = _SPELT.match(text)
    if spelt:
        lower = spelt[2].lower()
        months = [n for n, m in enumerate(_MONTHS, 1) if lower in (m, m[:3])]
        return serial_of(int(spelt[3]), months[0], int(spelt[1])) if months else None
    date = _DATE.match(text)
    if date:
        day = serial_of(*map(int, date.groups()[:3]))
        time = _time(date[4]) if date[4] else 0.0
        return None if day is None or time is None else day + time
    return _time(text)


def _time(text: str) -> float | None:
    found = _TIME.match(text)
    if not found or int(found[2]) > 59 or float(found[3] or 0) >= 60:
        return None
    return (int(found[1]) * 3600 + int(found[2]) * 60 + float(found[3] or 0)) / 86400


def integer(value: CellValue) -> int:
    """A number cut to a whole one."""
    found = number(value)
    if not math.isfinite(found):
        raise FailedError("#NUM!")
    return int(found)


def text(value: CellValue) -> str:
    """A value where a text is needed: numbers with up to 15 digits."""
    if value.__class__ is str:
        return value
    if value is None:
        return ""
    if value.__class__ is bool:
        return "TRUE" if value else "FALSE"
    if value.__class__ is float:
        return number_text(value)
    raise failed(value)


def number_text(value: float) -> str:
    """A number as text is joined to it."""
    shown = f"{value:.15g}"
    if shown == "-0":
        return "0"
    mantissa, mark, exponent = shown.partition("e")
    if not mark:
        return shown
    positional = f"{Decimal(shown):f}"
    if int(exponent) < 0 and len(positional) <= 20:
        return positional
    return f"{mantissa}E{exponent}"


def logical(value: CellValue) -> bool:
    """A value where TRUE or FALSE is needed."""
    if value.__class__ is bool:
        return value
    if value.__class__ is float:
        return value != 0
    if value is None:
        return False
    if value.__class__ is str:
        word = value.upper()
        if word in ("TRUE", "FALSE"):
            return word == "TRUE"
    raise failed(value)


def scalar(value: CellValue) -> CellValue:
    """Any value but an error."""
    if value.__class__ is CellError:
        raise failed(value)
    return value


def nearly_equal(one: float, other: float) -> bool:
    """Equal but for the last bits, as a spreadsheet compares; whole numbers must be equal."""
    if one == other:
        return True
    difference = abs(one - other)
    if difference > abs(one) * _ERROR or difference > abs(other) * _ERROR:
        return False
    return not (one.is_integer() and other.is_integer())


def added(one: float, other: float) -> float:
    """A sum; what is left of two numbers that cancel but for the last bits is nothing."""
    result = one + other
    if result and abs(result) < abs(one) * _ERROR and nearly_equal(one, -other):
        return 0.0
    return result


_RANKS = {float: 0, str: 1, bool: 2}
_BLANK: dict[type, CellValue] = {float: 0.0, str: "", bool: False, type(None): 0.0}


def compare(one: CellValue, other: CellValue) -> int:
    """Negative, 0 or positive; numbers before texts before FALSE and TRUE."""
    if one is None:
        one = _BLANK.get(other.__class__)
    if other is None:
        other = _BLANK.get(one.__class__)
    ranks = _RANKS.get(one.__class__), _RANKS.get(other.__class__)
    if None in ranks:
        raise failed(one if ranks[0] is None else other)
    if ranks[0] != ranks[1]:
        return ranks[0] - ranks[1]  # type: ignore[operator]
    if ranks[0] == 0:
        if nearly_equal(one, other):  # type: ignore[arg-type]
            return 0
        return -1 if one < other else 1  # type: ignore[operator]
    if ranks[0] == 1:
        return compare_texts(one, other)  # type: ignore[arg-type]
    return int(one) - int(other)  # type: ignore[arg-type]


def compare_texts(one: str, other: str) -> int:
    """As a dictionary has them: case does not count, punctuation comes before letters."""
    if one.lower() == other.lower():
        return 0
    keys = collation(one), collation(other)
    return -1 if keys < keys[::-1] else 1


_PUNCTUATION = {c: n for n, c in enumerate("_-,;:!?.'\"()[]{}@*/\\&#%`^+<=>|~$")}


@lru_cache(4096)
def collation(word: str) -> tuple[Any, ...]:
    """What texts are sorted by."""
    plain = unicodedata.normalize("NFD", word.lower())
    letters = [
        (0, -1) if c.isspace() else (1, _PUNCTUATION[c]) if c in _PUNCTUATION else (2, ord(c))
        for c in plain
        if not unicodedata.combining(c)
    ]
    return tuple(letters), plain
