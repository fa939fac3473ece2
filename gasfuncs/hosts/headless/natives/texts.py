"""Native functions of text."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.cells import FailedError, Range, UncomputableError, flat
from gasfuncs.hosts.headless.natives.coercion import (
    failed,
    logical,
    maybe_number,
    read_number,
    text,
)
from gasfuncs.hosts.headless.natives.numbers import round_half_up
from gasfuncs.hosts.headless.natives.table import native
from gasfuncs.hosts.headless.values import ASKED_FOR, MOST_CHARACTERS, CellValue

MOST_DIGITS = 127
"""Behind the point of a number told by FIXED."""

native("LEN", "t")(lambda given: float(len(given)))
native("LOWER", "t")(str.lower)
native("UPPER", "t")(str.upper)
native("EXACT", "t t")(lambda one, other: one == other)
native("TRIM", "t")(lambda given: re.sub(" +", " ", given).strip(" "))
native("CLEAN", "t")(lambda given: re.sub("[\x00-\x1f]", "", given))
native("T", "v")(lambda value: value if value.__class__ is str else "")


@native("PROPER", "t")
def proper(given: str) -> str:
    return re.sub(r"[^\W\d_]+", lambda word: word[0].capitalize(), given)


@native("LEFT", "t i?")
def left(given: str, count: int = 1) -> str:
    return given[: _count(count)]


@native("RIGHT", "t i?")
def right(given: str, count: int = 1) -> str:
    return given[max(0, len(given) - _count(count)) :]


@native("MID", "t i i")
def mid(given: str, start: int, count: int) -> str:
    if start < 1:
        raise FailedError("#VALUE!")
    return given[start - 1 : start - 1 + _count(count)]


def _count(count: int) -> int:
    if count < 0:
        raise FailedError("#VALUE!")
    return count


@native("FIND", "t t i?")
def find(sought: str, within: str, start: int = 1) -> float:
    return _found(within.find(sought, start - 1), sought, within, start)


@native("SEARCH", "t t i?")
def search(sought: str, within: str, start: int = 1) -> float:
    match = re.compile(wildcards(sought), re.I | re.S).search(within, max(start - 1, 0))
    return _found(match.start() if match else -1, sought, within, start)


def _found(place: int, sought: str, within: str, start: int) -> float:
    if place < 0 or start < 1 or start > len(within) + (not sought and not within):
        raise FailedError("#VALUE!")
    return place + 1.0


def wildcards(pattern: str) -> str:
    """A regular expression for a pattern with * and ?, and ~ before what is meant itself."""
    pieces = re.findall(r"~.|.", pattern, re.S)
    some = {"*": ".*", "?": ".", "~": "(?:)"}
    return "".join(some.get(piece) or re.escape(piece[-1]) for piece in pieces)


def has_wildcards(pattern: str) -> bool:
    return "*" in pattern or "?" in pattern or "~" in pattern


@native("SUBSTITUTE", "t t t i?")
def substitute(given: str, old: str, new: str, which: int | None = None) -> str:
    if which is not None and which < 1:
        raise FailedError("#VALUE!")
    if not old:
        return given
    if which is None:
        return _kept(given.replace(old, new))
    pieces = given.split(old)
    if len(pieces) <= which:
        return given
    return old.join(pieces[:which]) + new + old.join(pieces[which:])


@native("REPLACE", "t i i t")
def replace(given: str, start: int, count: int, new: str) -> str:
    if start < 1:
        raise FailedError("#VALUE!")
    return given[: start - 1] + new + given[start - 1 + _count(count) :]


@native("REPT", "t i")
def rept(given: str, times: int) -> str:
    if _count(times) * len(given) > MOST_CHARACTERS:
        raise FailedError("#VALUE!")
    return given * times


def _kept(joined: str) -> str:
    if len(joined) > MOST_CHARACTERS:
        raise FailedError("#VALUE!")
    return joined


@native("CHAR", "i")
def char(code: int) -> str:
    if not 1 <= code <= 255:
        raise FailedError("#VALUE!")
    return bytes([code]).decode("cp1252", "ignore") or chr(code)


@native("CODE", "t")
def code(given: str) -> float:
    if not given:
        raise FailedError("#VALUE!")
    encoded = given[0].encode("cp1252", "replace")
    return float(encoded[0])


@native("FIXED", "n i? b?")
def fixed(number: float, digits: int = 2, plain: bool = False) -> str:
    """A number as text with so many digits, in groups of three unless `plain`.

    No more than fifteen that are not 0, as spreadsheet programs tell them.
    """
    if digits > MOST_DIGITS:
        raise FailedError("#VALUE!")
    rounded = round_half_up(number, digits) + 0.0
    return f"{Decimal(f'{rounded:.15g}'):{'' if plain else ','}.{max(digits, 0)}f}"


@native("VALUE", "v")
def value(given: CellValue) -> float:
    if given.__class__ is bool:
        raise FailedError("#VALUE!")
    return read_number(given) if given.__class__ is str else given or 0.0  # type: ignore


@native("NUMBERVALUE", "t t? t?")
def numbervalue(given: str, point: str | None = None, group: str | None = None) -> float:
    if not point or not group:
        raise UncomputableError("NUMBERVALUE is computed only with both separators")
    if point[0] == group[0]:
        raise FailedError("#VALUE!")
    if "(" in given:
        raise UncomputableError("NUMBERVALUE is not computed with parentheses")
    whole, mark, rest = re.sub(r"\s", "", given).partition(point[0])
    if group[0] in rest:
        raise FailedError("#VALUE!")
    plain = whole.replace(group[0], "") + mark.replace(point[0], ".") + rest
    found = maybe_number(plain) if plain.strip("%") else 0.0
    if found is None or ":" in plain or plain.count("-") > 1:
        raise FailedError("#VALUE!")
    return found


@native("CONCATENATE", "t *1")
def concatenate(*given: str) -> str:
    return _kept("".join(given))


@native("CONCAT", "w *1")
def concat(*given: Any) -> str:
    return _kept("".join(text(each) for argument in given for each in flat(argument)))


@native("TEXTJOIN", "w b w *1")
def textjoin(delimiter: Any, ignore: bool, *given: Any) -> str:
    marks = [text(each) for each in cells_of(delimiter)] or [""]
    words = [text(each) for argument in given for each in cells_of(argument)]
    if ignore:
        words = [word for word in words if word]
    joined = words[:1]
    for number, word in enumerate(words[1:]):
        joined += (marks[number % len(marks)], word)
    return _kept("".join(joined))


def cells_of(argument: Any) -> list[CellValue]:
    """The values of an argument, blank ones too."""
    if argument.__class__ is Range:
        return [each for row in argument.table for each in row]
    return list(flat(argument))


native("ISBLANK", "e")(lambda given: given is None)
native("ISERR", "e")(lambda given: given.__class__ is CellError and given.code != "#N/A")
native("ISERROR", "e")(lambda given: given.__class__ is CellError)
native("ISLOGICAL", "e")(lambda given: given.__class__ is bool)
native("ISNA", "e")(lambda given: given.__class__ is CellError and given.code == "#N/A")
native("ISNONTEXT", "e")(lambda given: given.__class__ is not str)
native("ISNUMBER", "e")(lambda given: given.__class__ is float)
native("ISTEXT", "e")(lambda given: given.__class__ is str)
native("NOT", "b")(lambda given: not given)
native("TRUE", "")(lambda: True)
native("FALSE", "")(lambda: False)


@native("N", "v")
def n(given: CellValue) -> float:
    return float(given) if given.__class__ in (float, bool) else 0.0


@native("NA", "")
def na() -> CellValue:
    raise FailedError("#N/A", ASKED_FOR)


@native("TYPE", "W")
def type_of(given: Any) -> float:
    if given.__class__ is list or (given.__class__ is Range and not given.single):
        return 64.0
    found = given.cell(0, 0) if given.__class__ is Range else given
    return {str: 2.0, bool: 4.0, CellError: 16.0}.get(found.__class__, 1.0)


@native("ERROR.TYPE", "e")
def error_type(given: CellValue) -> float:
    codes = ["#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"]
    if given.__class__ is not CellError or given.code not in codes:
        raise FailedError("#N/A")
    return codes.index(given.code) + 1.0


def _logical(given: CellValue) -> bool:
    if given.__class__ is str and given.upper() not in ("TRUE", "FALSE"):
        raise UncomputableError("a text in AND, OR or XOR is passed over or refused, by version")
    return logical(given)


def _alone(argument: Any) -> bool:
    return argument.__class__ is not Range and argument.__class__ is not list


def _logicals(given: tuple[Any, ...]) -> list[bool]:
    found = []
    for argument in given:
        for each in flat(argument):
            if each.__class__ is CellError:
                raise failed(each)
            if each.__class__ in (float, bool):
                found.append(bool(each))
            elif _alone(argument):
                found.append(_logical(each))
    if not found:
        raise FailedError("#VALUE!")
    return found


native("AND", "w *1")(lambda *given: all(_logicals(given)))
native("OR", "w *1")(lambda *given: any(_logicals(given)))
native("XOR", "w *1")(lambda *given: sum(_logicals(given)) % 2 == 1)


@native("HYPERLINK", "t v?")
def hyperlink(address: str, *shown: CellValue) -> CellValue:
    return shown[0] if shown else address


@native("ADDRESS", "i i i? b? t?")
def address(row: int, column: int, kind: int = 1, plain: bool = True, *sheet: str) -> str:
    from gasfuncs.hosts.headless.addresses import column_letters, is_inside, quote_sheet

    if not is_inside(row, column) or kind not in (1, 2, 3, 4):
        raise FailedError("#VALUE!")
    if plain:
        letters = ("$" if kind in (1, 3) else "") + column_letters(column)
        cell = letters + ("$" if kind in (1, 2) else "") + str(row)
    else:
        cell = f"R{row}" if kind in (1, 2) else f"R[{row}]"
        cell += f"C{column}" if kind in (1, 3) else f"C[{column}]"
    if not sheet:
        return cell
    name = sheet[0]
    return (name if re.fullmatch(r"([^\W\d]\w*)?", name) else quote_sheet(name)) + "!" + cell
