"""Native functions that choose cells by criteria, such as ">3" or "argon*"."""

from __future__ import annotations

import math
import operator
import re
from typing import Any

import numpy as np

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.cells import FailedError, Range
from gasfuncs.hosts.headless.natives.coercion import compare_texts, failed, maybe_number
from gasfuncs.hosts.headless.natives.table import native
from gasfuncs.hosts.headless.natives.texts import has_wildcards, wildcards
from gasfuncs.hosts.headless.values import CellValue

_CRITERION = re.compile(r"(<=|>=|<>|<|>|=)?(.*)\Z", re.S)
_COMPARE = {"<": operator.lt, "<=": operator.le, ">": operator.gt, ">=": operator.ge}
_ERROR = 2.0**-48


class Criterion:
    """What a cell is asked for."""

    def __init__(self, given: CellValue) -> None:
        self.operator = "="
        self.bare = True
        self.value: CellValue = 0.0 if given is None else given
        if given.__class__ is str:
            found = _CRITERION.match(given)
            assert found
            self.bare = found[1] is None
            self.operator = found[1] or "="
            self.value = _value(found[2])
        self.differs = self.operator == "<>"

    def chosen(self, area: _Cells) -> Any:
        """A mask over the cells of an area, row by row."""
        if self.operator in _COMPARE:
            return self._compared(area)
        if self.differs and self.value.__class__ is float:
            return ~area.numbers_equal(self.value)
        mask = self._equal(area)
        return ~mask if self.differs else mask

    def _compared(self, area: _Cells) -> Any:
        compare = _COMPARE[self.operator]
        if self.value.__class__ is float:
            with np.errstate(invalid="ignore"):
                return compare(area.numbers, self.value)
        if self.value.__class__ is str and self.value:
            word = self.value
            return area.texts_that(lambda text: compare(compare_texts(text, word), 0))
        if self.value.__class__ is bool:
            return area.where(lambda each: each.__class__ is bool and compare(each, self.value))
        return area.none()

    def _equal(self, area: _Cells) -> Any:
        value = self.value
        if value.__class__ is float:
            return area.equal_number(value)
        if value == "":
            blank = area.where(lambda each: each is None)
            return blank | area.where(lambda each: each == "") if self.bare else blank
        if value.__class__ is str:
            if has_wildcards(value):
                fits = re.compile(wildcards(value), re.I | re.S).fullmatch
                return area.texts_that(lambda text: fits(text) is not None)
            return area.equal_text(value.lower())
        if value.__class__ is bool:
            return area.where(lambda each: each is value)
        code = getattr(value, "code", "")
        return area.where(lambda each: each.__class__ is CellError and each.code == code)


def _value(text: str) -> CellValue:
    if text.upper() in ("TRUE", "FALSE"):
        return text.upper() == "TRUE"
    if text.startswith("#"):
        return CellError(text.upper())
    found = maybe_number(text)
    return text if found is None else found


class _Cells:
    """The cells of an area as far as any area of the call is used; row by row."""

    def __init__(self, area: Range, rows: int) -> None:
        columns = [column + [None] * (rows - len(column)) for column in area.used]
        columns += [[None] * rows] * (area.columns - len(columns))
        self.values: list[CellValue] = (
            columns[0]
            if len(columns) == 1
            else [v for line in zip(*columns, strict=True) for v in line]
        )
        self.numbers = np.array([v if v.__class__ is float else math.nan for v in self.values])
        self._found: dict[Any, list[int]] | None = None

    def none(self) -> Any:
        return np.zeros(len(self.values), dtype=bool)

    def where(self, test: Any) -> Any:
        return np.fromiter(map(test, self.values), dtype=bool, count=len(self.values))

    def texts_that(self, test: Any) -> Any:
        return self.where(lambda each: each.__class__ is str and test(each))

    def numbers_equal(self, number: float) -> Any:
        with np.errstate(invalid="ignore"):
            return np.abs(self.numbers - number) <= abs(number) * _ERROR

    def equal_number(self, number: float) -> Any:
        """Numbers, and texts that are one."""
        mask = self.numbers_equal(number)
        mask[self._places.get(number, [])] = True
        return mask

    def equal_text(self, lower: str) -> Any:
        mask = self.none()
        mask[self._places.get(lower, [])] = True
        return mask

    @property
    def _places(self) -> dict[Any, list[int]]:
        """Where each text stands, in lower case, or the number that it is."""
        if self._found is None:
            self._found = {}
            for place, value in enumerate(self.values):
                if value.__class__ is str:
                    number = maybe_number(value)
                    for key in (value.lower(), number):
                        if key is not None:
                            self._found.setdefault(key, []).append(place)
        return self._found


def _cells(area: Range, rows: int) -> _Cells:
    key = ("criteria", rows)
    if key not in area.memo:
        area.memo[key] = _Cells(area, rows)
    return area.memo[key]  # type: ignore[no-any-return]


def chosen(given: tuple[Any, ...], *more: Range) -> tuple[Any, int]:
    """The mask where all criteria are met, and how many cells further down, all blank, meet them
    too; #VALUE! where the areas are not of one size."""
    areas = given[::2]
    if len({(area.rows, area.columns) for area in (*areas, *more)}) > 1:
        raise FailedError("#VALUE!")
    used = [len(area.used[0]) if area.used else 0 for area in (*areas, *more)]
    rows = max(1, min(max(used), areas[0].rows))
    criteria = [Criterion(each) for each in given[1::2]]
    masks = [c.chosen(_cells(area, rows)) for area, c in zip(areas, criteria, strict=True)]
    beyond = (areas[0].rows - rows) * areas[0].columns
    if beyond and not all(_meets_blank(criterion) for criterion in criteria):
        beyond = 0
    return np.logical_and.reduce(masks), beyond


def _meets_blank(criterion: Criterion) -> bool:
    if criterion.operator in _COMPARE:
        return False
    return (criterion.value == "") != criterion.differs


def _taken(area: Range, mask: Any) -> list[float]:
    """The numbers of the cells that are chosen."""
    rows = len(mask) // area.columns
    values = _cells(area, rows).values
    found = []
    for place in np.flatnonzero(mask).tolist():
        value = values[place]
        if value.__class__ is CellError:
            raise failed(value)
        if value.__class__ is float:
            found.append(value)
    return found


def _like(area: Range, other: Range) -> Range:
    """An area from the other's first cell, as large as the first."""
    if (area.rows, area.columns) == (other.rows, other.columns):
        return other
    return other.part(0, 0, area.rows, area.columns)


def _average(numbers: list[float]) -> float:
    if not numbers:
        raise FailedError("#DIV/0!")
    return math.fsum(numbers) / len(numbers)


@native("COUNTIF", "r v")
def countif(area: Range, criterion: CellValue) -> float:
    mask, beyond = chosen((area, criterion))
    return float(mask.sum() + beyond)


@native("COUNTIFS", "r v *2")
def countifs(*given: Any) -> float:
    mask, beyond = chosen(given)
    return float(mask.sum() + beyond)


@native("SUMIF", "r v r?")
def sumif(area: Range, criterion: CellValue, sums: Range | None = None) -> float:
    taken = _like(area, sums or area)
    return math.fsum(_taken(taken, chosen((area, criterion), taken)[0]))


@native("AVERAGEIF", "r v r?")
def averageif(area: Range, criterion: CellValue, sums: Range | None = None) -> float:
    taken = _like(area, sums or area)
    return _average(_taken(taken, chosen((area, criterion), taken)[0]))


def _ifs(area: Range, *given: Any) -> list[float]:
    return _taken(area, chosen(given, area)[0])


native("SUMIFS", "r r v *2")(lambda *given: math.fsum(_ifs(*given)))
native("AVERAGEIFS", "r r v *2")(lambda *given: _average(_ifs(*given)))
native("MINIFS", "r r v *2")(lambda *given: min(_ifs(*given), default=0.0))
native("MAXIFS", "r r v *2")(lambda *given: max(_ifs(*given), default=0.0))
