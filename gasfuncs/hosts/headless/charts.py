"""The values that charts keep of the cells they show, renewed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Any

from gasfuncs.hosts.headless.addresses import Area
from gasfuncs.hosts.headless.book import Book
from gasfuncs.hosts.headless.cells import VALUE_CLASSES, Range, UncomputableError
from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import Reference, parse
from gasfuncs.hosts.headless.natives.coercion import text as as_text
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.values import LAST_DIGITS, escape_string, number_text, unescape_xml

_PART = re.compile(r"xl/charts/chart[0-9]+\.xml\Z")
_CACHE = re.compile(
    r"(<c:cat>|<c:xVal>)?<c:(num|str)Ref><c:f>([^<]*)</c:f>"
    r"<c:\2Cache>(<c:formatCode>[^<]*</c:formatCode>)?"
    r'<c:ptCount val="([0-9]+)"/>((?:<c:pt .*?</c:pt>)*)</c:\2Cache></c:\2Ref>',
    re.S,
)
_POINT = re.compile(r'<c:pt idx="([0-9]+)"[^>]*><c:v>([^<]*)</c:v></c:pt>')

Points = dict[int, str]


def renewed_charts(package: Package, book: Book) -> Iterator[tuple[str, list[bytes]]]:
    """The charts whose kept values are others now, with their new text."""
    for part in package.archive.namelist():
        if not _PART.match(part):
            continue
        old = package.text(part)
        new = _CACHE.sub(lambda match: _renewed(match, book), old)
        if new != old:
            yield part, [new.encode("utf-8")]


def _renewed(cache: re.Match[str], book: Book) -> str:
    axis, kind, formula, style, count, points = (group or "" for group in cache.groups())
    values = _values(unescape_xml(formula), book)
    if values is None or len(values) != int(count):
        return cache[0]
    old = {int(number): text for number, text in _POINT.findall(points)}
    if axis and any(isinstance(value, str) and value for value in values):
        kind, style = "str", ""  # along an axis texts may stand in place of numbers
    new = _points(values, numbers=kind == "num")
    if kind == cache[2] and (len(old) != points.count("<c:pt ") or _alike(old, new)):
        return cache[0]
    written = "".join(f'<c:pt idx="{n}"><c:v>{text}</c:v></c:pt>' for n, text in new.items())
    kept = f'{style}<c:ptCount val="{count}"/>{written}'
    return (
        f"{axis}<c:{kind}Ref><c:f>{formula}</c:f>"
        f"<c:{kind}Cache>{kept}</c:{kind}Cache></c:{kind}Ref>"
    )


def _values(formula: str, book: Book) -> list[Any] | None:
    """The values of the cells that a series names; None where they are not all known."""
    try:
        node = parse(formula)
    except FormulaError:
        return None
    grid = book.grid(node.sheet or "") if isinstance(node, Reference) else None
    if grid is None or not isinstance(node, Reference):
        return None
    area = Range(book, grid, Area(node.row1, node.column1, node.row2, node.column2))
    try:
        values = [value for row in area.table for value in row]
    except UncomputableError:
        return None
    return values if all(value.__class__ in VALUE_CLASSES for value in values) else None


def _points(values: list[Any], numbers: bool) -> Points:
    if numbers:
        return {n: number_text(v) for n, v in enumerate(values) if v.__class__ is float}
    shown = (str(v) if not isinstance(v, float) else as_text(v) for v in values)
    return {n: escape_string(text) for n, text in enumerate(shown) if values[n] is not None}


def _alike(old: Points, new: Points) -> bool:
    """Whether the points are the same, numbers but for their last digits."""
    if old.keys() != new.keys():
        return False
    return all(old[n] == new[n] or _close(old[n], new[n]) for n in new)


def _close(one: str, other: str) -> bool:
    try:
        return math.isclose(float(one), float(other), rel_tol=LAST_DIGITS)
    except ValueError:
        return False
