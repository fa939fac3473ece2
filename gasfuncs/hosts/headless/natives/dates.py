"""Native functions of dates and times, and TEXT."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from gasfuncs.hosts.headless.cells import FailedError, UncomputableError, flat
from gasfuncs.hosts.headless.natives.calendar import (
    SECONDS,
    add_months,
    calendar_day,
    clock,
    day_of,
    days_in,
    now,
    serial_of,
)
from gasfuncs.hosts.headless.natives.coercion import (
    is_unsure,
    maybe_number,
    number,
    read_number,
    text,
)
from gasfuncs.hosts.headless.natives.table import native
from gasfuncs.hosts.headless.values import CellValue

_PARTS: dict[str, Callable[[float], float]] = {
    "YEAR": lambda serial: float(calendar_day(serial)[0]),
    "MONTH": lambda serial: float(calendar_day(serial)[1]),
    "DAY": lambda serial: float(calendar_day(serial)[2]),
    "HOUR": lambda serial: float(clock(serial)[0]),
    "MINUTE": lambda serial: float(clock(serial)[1]),
    "SECOND": lambda serial: float(clock(serial)[2]),
}
for _name, _function in _PARTS.items():
    native(_name, "n", dates=True)(_function)

native("TODAY", "", dates=True)(lambda: float(int(now())))
native("NOW", "", dates=True)(now)
native("EDATE", "x x", dates=True)(add_months)
native("EOMONTH", "x x", dates=True)(lambda serial, months: add_months(serial, months, last=True))
native("DAYS", "n n", dates=True)(lambda end, start: _whole(end, "DAYS") - _whole(start, "DAYS"))


def _whole(serial: float, name: str) -> float:
    if not serial.is_integer():
        raise UncomputableError(f"{name} is computed only for whole days")
    return float(day_of(serial))


@native("DATE", "i i i", dates=True)
def date(year: int, month: int, day: int) -> float:
    if not 0 <= year <= 9999:
        raise FailedError("#NUM!")
    year += 1900 if year < 1900 else 0
    year, month = year + (month - 1) // 12, (month - 1) % 12 + 1
    first = serial_of(year, month, 1)
    if first is None:
        raise FailedError("#NUM!")
    return float(day_of(first + day - 1))


@native("TIME", "i i i", dates=True)
def time(hours: int, minutes: int, seconds: int) -> float:
    total = hours * 3600 + minutes * 60 + seconds
    if total < 0 or max(hours, minutes, seconds) > 32_767:
        raise FailedError("#NUM!")
    return total % SECONDS / SECONDS


@native("DATEVALUE", "t", dates=True)
def datevalue(given: str) -> float:
    found = read_number(given)
    if "-" not in given[1:] or found < 1:
        raise FailedError("#VALUE!")
    return float(int(found))


@native("TIMEVALUE", "t", dates=True)
def timevalue(given: str) -> float:
    found = read_number(given)
    if ":" not in given:
        raise UncomputableError("TIMEVALUE is computed only for a time such as 12:30")
    return found % 1


def weekday(serial: float) -> int:
    """0 for Sunday, as the serial numbers have it."""
    return (day_of(serial) - 1) % 7


@native("WEEKDAY", "n i?", dates=True)
def weekday_number(serial: float, kind: int = 1) -> float:
    if kind not in (1, 2, 3, *range(11, 18)):
        raise FailedError("#NUM!")
    first = {1: 0, 2: 1, 3: 1}.get(kind, (kind - 10) % 7)
    return float((weekday(serial) - first) % 7 + (kind != 3))


@native("WEEKNUM", "x i?", dates=True)
def weeknum(serial: float, kind: int = 1) -> float:
    if kind == 21:
        return isoweeknum(serial)
    if kind not in (1, 2, *range(11, 18)):
        raise FailedError("#NUM!")
    first = {1: 0, 2: 1}.get(kind, (kind - 10) % 7)
    start = serial_of(calendar_day(serial)[0], 1, 1) or 1.0
    return float((day_of(serial) - start + (weekday(start) - first) % 7) // 7 + 1)


@native("ISOWEEKNUM", "n", dates=True)
def isoweeknum(serial: float) -> float:
    thursday = day_of(serial) - (weekday(serial) - 1) % 7 + 3
    if thursday < 1:
        return 52.0
    start = serial_of(calendar_day(thursday)[0], 1, 1) or 1.0
    return float((thursday - start) // 7 + 1)


@native("DATEDIF", "n n t", dates=True)
def datedif(start: float, end: float, unit: str) -> float:
    if day_of(start) > day_of(end):
        raise FailedError("#NUM!")
    (y1, m1, d1), (y2, m2, d2) = calendar_day(start), calendar_day(end)
    months = (y2 - y1) * 12 + m2 - m1 - (d2 < d1)
    match unit.upper():
        case "D":
            return float(day_of(end) - day_of(start))
        case "M":
            return float(months)
        case "Y":
            return float(months // 12)
        case "YM":
            return float(months % 12)
    raise UncomputableError('DATEDIF is computed only for "D", "M", "Y" and "YM"')


@native("NETWORKDAYS", "n n w?", dates=True)
def networkdays(start: float, end: float, holidays: Any = None) -> float:
    first, last = sorted((day_of(start), day_of(end)))
    off = {day for day in _holidays(holidays) if first <= day <= last and 0 < weekday(day) < 6}
    weeks, rest = divmod(last - first + 1, 7)
    days = weeks * 5 + sum(0 < weekday(first + k) < 6 for k in range(rest)) - len(off)
    return float(days if int(start) <= int(end) else -days)


@native("WORKDAY", "n i w?", dates=True)
def workday(start: float, days: int, holidays: Any = None) -> float:
    day, step = day_of(start), 1 if days > 0 else -1
    if abs(days) > 3_000_000:
        raise FailedError("#NUM!")
    off = _holidays(holidays)
    if not off:
        weeks = max(0, (abs(days) - 5) // 5)
        day, days = day + step * 7 * weeks, days - step * 5 * weeks
    while days:
        day += step
        if 0 < weekday(day) < 6 and day not in off:
            days -= step
    return float(day_of(day))


def _holidays(given: Any) -> set[int]:
    return {day_of(number(each)) for each in flat(given) if each is not None and each != ""}


@native("YEARFRAC", "x x x?", dates=True)
def yearfrac(start: float, end: float, given: float = 0.0) -> float:
    basis = int(given)
    if basis not in range(5):
        raise FailedError("#NUM!")
    first, last = sorted((day_of(start), day_of(end)))
    if basis in (2, 3):
        return (last - first) / (360 if basis == 2 else 365)
    one, two = calendar_day(first), calendar_day(last)
    if basis == 1:
        return (last - first) / _year_length(one, two)
    return _days_of_360(one, two, european=basis == 4) / 360


def _is_leap(year: int) -> bool:
    return days_in(year, 2) == 29


def _year_length(one: tuple[int, int, int], two: tuple[int, int, int]) -> float:
    """Actual/actual: the length of the year between, or the mean of the years touched."""
    if two[0] == one[0] or (two[0] == one[0] + 1 and two[1:] <= one[1:]):
        if one[0] == two[0]:
            return 366 if _is_leap(one[0]) else 365
        leap_day = (_is_leap(one[0]) and one[1:] <= (2, 29)) or (
            _is_leap(two[0]) and two[1:] >= (2, 29)
        )
        return 366 if leap_day else 365
    years = range(one[0], two[0] + 1)
    return sum(366 if _is_leap(year) else 365 for year in years) / len(years)


def _days_of_360(one: tuple[int, int, int], two: tuple[int, int, int], european: bool) -> int:
    (y1, m1, d1), (y2, m2, d2) = one, two
    if european:
        d1, d2 = min(d1, 30), min(d2, 30)
    else:
        ends = [m == 2 and d == days_in(y, 2) for y, m, d in (one, two)]
        if all(ends):
            d2 = 30
        if ends[0]:
            d1 = 30
        if d2 == 31 and d1 >= 30:
            d2 = 30
        d1 = min(d1, 30)
    return (y2 - y1) * 360 + (m2 - m1) * 30 + d2 - d1


# TEXT

_NUMBER_FORMAT = re.compile(
    r"(?P<whole>#,##0|#,###|0+|#)(?:\.(?P<decimals>0+))?(?P<percent>%?)"
    r'(?P<after>"[^"]*"| ?)\Z'
)
_DATE_TOKEN = re.compile(r'yyyy|yy|mmmm|mmm|mm|m|dddd|ddd|dd|d|hh|h|ss|[-/ .,:]|"[^"]*"', re.I)
_LONG = re.compile(r"y{5}|m{5}|d{5}|h{3}|s{3}", re.I)
_MONTHS = [
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
]  # fmt: skip
_DAYS = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"]


@native("TEXT", "v t", dates=True)
def text_in_format(given: CellValue, style: str) -> str:
    if given.__class__ is str:
        found = None if style == "@" else maybe_number(given)
        if found is None:
            return _text_shown(given, style)
        given = found
    if given.__class__ is bool or style == "@":
        return text(given)
    value = number(given)
    if style == "General":
        return _general(value)
    shown = _NUMBER_FORMAT.match(style)
    return _number_shown(value, shown) if shown else _date_shown(value, date_tokens(style))


def _text_shown(given: str, style: str) -> str:
    """A text that is no number as it is, where the format says nothing of texts."""
    if style != "@" and (is_unsure(given) or set(style) & set("@;")):
        raise UncomputableError(f"TEXT of {given!r} was not tested with the format {style!r}")
    return given


def _general(value: float) -> str:
    shown = text(value)
    if len(shown.lstrip("-")) > 10:
        raise UncomputableError("TEXT of a number with more than ten characters as General")
    return shown


def _number_shown(value: float, style: re.Match[str]) -> str:
    places = len(style["decimals"] or "")
    size = Decimal(f"{abs(value):.15g}") * (100 if style["percent"] else 1)
    rounded = size.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP) if size < 10**15 else size
    whole, _, decimals = f"{rounded:f}".partition(".")
    digits = (decimals + "0" * places)[:places]
    if "," in style["whole"]:
        whole = f"{int(whole):,}"
    if not style["whole"].endswith("0") and not int(whole.replace(",", "")):
        whole = ""
    whole = whole.rjust(style["whole"].count("0"), "0")
    sign = "-" if value < 0 and rounded else ""
    point = "." if places else ""
    return f"{sign}{whole}{point}{digits}{style['percent']}{style['after'].replace(chr(34), '')}"


def date_tokens(style: str) -> list[str]:
    """The parts of a number format for dates; minutes are told as `n` or `nn`."""
    tokens = _DATE_TOKEN.findall(style)
    if "".join(tokens) != style or not style or _LONG.search(style):
        raise UncomputableError(f"TEXT was not tested with the number format {style!r}")
    lower = [token.lower() for token in tokens]
    parts = [place for place, token in enumerate(lower) if token[0] in "ymdhs"]
    for before, place, after in zip([-1, *parts], parts, [*parts[1:], -1], strict=False):
        beside = (before >= 0 and lower[before][0] == "h") or (
            after >= 0 and lower[after][0] == "s"
        )
        if lower[place] in ("m", "mm") and beside:
            lower[place] = "n" * len(lower[place])
    return [new if token[0] not in '"' else token for new, token in zip(lower, tokens, strict=True)]


def _date_shown(serial: float, tokens: list[str]) -> str:
    seconds = math.floor(serial * SECONDS + 0.5)
    day, clock_seconds = divmod(seconds, SECONDS) if seconds >= 0 else (day_of(serial), 0)
    if not any(token[0] in "hns" for token in tokens):
        day = day_of(serial)
    year, month, month_day = calendar_day(day)
    values = {"y": year, "m": month, "d": month_day, "h": clock_seconds // 3600,
              "n": clock_seconds // 60 % 60, "s": clock_seconds % 60}  # fmt: skip
    return "".join(_part(token, values, day) for token in tokens)


def _part(token: str, values: dict[str, int], day: int) -> str:
    letter = token[0]
    if letter not in values:
        return token.replace('"', "")
    if letter == "y":
        return f"{values['y']:04d}"[-len(token) :] if len(token) == 2 else f"{values['y']:04d}"
    if letter in "md" and len(token) > 2:
        word = _MONTHS[values["m"] - 1] if letter == "m" else _DAYS[weekday(day)]
        return word[:3] if len(token) == 3 else word
    return f"{values[letter]:0{len(token)}d}"
