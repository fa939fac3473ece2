"""Cell values in the file format: how they are read, written and compared."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from functools import lru_cache

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.package import unescape

MOST_CHARACTERS = 32_767
"""Of a text in a cell; a spreadsheet takes a file with a longer one for damaged."""

_ENTITIES = {"amp": "&", "lt": "<", "gt": ">", "quot": '"', "apos": "'"}
_ENTITY = re.compile(r"&(?:#x([0-9A-Fa-f]+)|#([0-9]+)|(\w+));")

CellValue = float | int | str | bool | CellError | None

# A file cannot hold the two newest errors: the spreadsheet programs store #VALUE! for them.
_STORED_ERROR = {"#SPILL!": "#VALUE!", "#CALC!": "#VALUE!"}
_NOT_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")

ASKED_FOR = "asked for by NA()"

ERROR_SENTENCES = {
    "#NULL!": "two areas that should meet do not",
    "#DIV/0!": "a division by zero",
    "#VALUE!": "a value of the wrong kind",
    "#REF!": "a reference to a cell that is not there",
    "#NAME?": "a name that is not known",
    "#NUM!": "a number out of range",
    "#N/A": "a value that is not available",
    "#SPILL!": "the cells that the result needs are not empty",
    "#CALC!": "an empty result",
}


def escape(text: str) -> str:
    """XML text."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def escape_string(text: str) -> str:
    """XML text of a string value; characters that XML has no place for become `_x0007_`."""
    return escape(_NOT_XML.sub(lambda match: f"_x{ord(match[0]):04X}_", text))


def unescape_xml(text: str) -> str:
    """Text without XML's entities; well-formed XML has no others."""
    return _unescaped(text) if "&" in text else text


@lru_cache(maxsize=4096)
def _unescaped(text: str) -> str:
    """Kept, since a table's formulas are the same in every row."""
    return _ENTITY.sub(
        lambda m: _ENTITIES[m[3]] if m[3] else chr(int(m[1], 16) if m[1] else int(m[2])), text
    )


def number_text(number: float) -> str:
    """A number with all its digits, whole numbers without a point."""
    if isinstance(number, int) or (number.is_integer() and abs(number) < 1e15):
        return str(int(number))
    return repr(number).upper()


def stored(value: CellValue) -> tuple[str, str]:
    """Type attribute and XML of a value ("" and "" for a blank)."""
    if value is None:
        return "", ""
    if isinstance(value, bool):
        return "b", f"<v>{int(value)}</v>"
    if isinstance(value, int | float):
        return "", f"<v>{number_text(value)}</v>"
    if isinstance(value, CellError):
        return "e", f"<v>{_STORED_ERROR.get(value.code, value.code)}</v>"
    space = ' xml:space="preserve"' if value != value.strip() or "\n" in value else ""
    return "str", f"<v{space}>{escape_string(value)}</v>"


def read_stored(kind: str, text: str | None, strings: Sequence[str] = ()) -> CellValue:
    """The value of a cell from its type attribute and the text of its `<v>`."""
    if text is None:
        return None
    if kind in ("", "n"):
        return _number(text) if text.strip() else None
    text = unescape_xml(text)
    if kind == "b":
        return _LOGICALS[text.strip()]
    if kind == "e":
        return CellError(text, ERROR_SENTENCES.get(text, ""))
    if kind == "s":
        if not text.isdecimal():
            raise ValueError(f"{text!r} is not the number of a string")
        return strings[int(text)]
    if kind not in ("str", "inlineStr"):
        raise ValueError(f"{kind!r} is no kind of value")
    return unescape(text)


def _number(text: str) -> float:
    number = float(text)
    if number - number or "_" in text:
        raise ValueError(f"{text!r} is not a number")
    return number


_LOGICALS = {"1": True, "0": False, "true": True, "false": False}

LAST_DIGITS = 1e-12
"""Relative. Another machine or version of a library may round otherwise: no change of a value."""


def says_the_same(kind: str, text: str | None, value: CellValue) -> bool:
    """Whether a cell's stored value says what `value` does.

    #VALUE! stands for any error: some programs store it for those that they name otherwise. 1 or 0
    stands for a logical value: LibreOffice stores it so in a cell with a number format.
    """
    if isinstance(value, CellError) and kind == "e" and text == "#VALUE!":
        return True
    if isinstance(value, bool) and kind in ("", "n") and text == f"{value:d}":
        return True
    return is_stored(kind, text, value)


def is_stored(kind: str, text: str | None, value: CellValue) -> bool:
    """Whether a cell's stored value already is `value`, but for the last digits of a number."""
    if kind == "s" or text is None:
        return False
    if isinstance(value, CellError):
        return kind == "e" and text == _STORED_ERROR.get(value.code, value.code)
    try:
        if kind in ("", "n") and isinstance(value, float):
            return abs(float(text) - value) <= LAST_DIGITS * abs(value)
        old = read_stored(kind, text)
    except (ValueError, KeyError):
        return False
    return type(old) is type(value) and old == value


def finite(value: CellValue) -> CellValue:
    """A value as a cell can hold it: numbers as float, no NaN, no infinity, no endless text."""
    if isinstance(value, str) and len(value) > MOST_CHARACTERS:
        return CellError("#VALUE!", f"the text is longer than {MOST_CHARACTERS:,} characters")
    if isinstance(value, bool | str | CellError):
        return value
    if value is None:
        return ""
    if math.isfinite(value):
        return float(value)
    return CellError("#NUM!", "the result is not finite")
