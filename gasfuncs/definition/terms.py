"""What an argument or a result is, and how a cell's value becomes it.

A term reads one cell into SI (or into a gas, a choice, a date ...) and checks its range. The
vocabulary is made of terms; definitions refer to them by annotation.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable
from dataclasses import KW_ONLY, dataclass
from decimal import Decimal
from functools import cached_property, lru_cache
from numbers import Real
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gasfuncs.errors import OutOfRangeError, UnitError, UnreadableError
from gasfuncs.properties import Gas, reference_molar_density, water_mass, water_share
from gasfuncs.properties import gas as gas_named
from gasfuncs.units import Kind, Unit, kinds, refuse_long, shown, split_goods, split_quantity

Cell = Any
"""A cell's value: a number, text, True or False, None where blank, or a CellError."""


@dataclass(frozen=True)
class Term:
    """Base of all terms: a symbol for equations and a help text of at most 255 characters."""

    symbol: str
    help: str

    _: KW_ONLY
    whole: bool = False
    """The argument takes a whole range as one value; it is not broadcast."""

    numeric = False
    """Whether columns of it are arrays of numbers; others are told apart value by value."""

    mixed = False
    """Whether some texts are read as something else than a number, though `numeric`."""

    unit_label = ""
    """The unit of a bare number, as help texts name it."""

    meant = ""
    """What a number that is too high was likely meant to be, at the end of a sentence."""

    @property
    def by_gauge(self) -> bool:
        """Whether a gauge may tell it, and the answer follows the air pressure at the site."""
        return False

    def read(self, value: Cell, gas: Gas | None = None) -> Any:
        """The value of one cell, in SI; raises a GasFuncsError that says what is wrong."""
        raise NotImplementedError

    def tells(self, value: Cell) -> bool:
        """Whether a value is no number, so that rows of a range are told apart by it."""
        return not self.numeric

    def show(self, value: Any) -> str:
        """A value in SI as help texts print it, in the default cell unit."""
        return str(value)

    def allowed(self) -> str:
        """What may be given, in words."""
        return "text"


@dataclass(frozen=True)
class Number(Term):
    """A plain number, in a range."""

    _: KW_ONLY
    low: float | None = None
    high: float | None = None
    above: float | None = None

    numeric = True

    def read(self, value: Cell, gas: Gas | None = None) -> float:
        number, unit = number_and_unit(value)
        if unit:
            raise UnitError(f'"{shown(value)}" has a unit; a plain number is meant')
        return self.checked(number)

    def checked(self, number: float, typed: str = "") -> float:
        """The number, refused when it is outside the range (all in the default cell unit)."""
        problem = self._problem(number)
        if problem:
            raise OutOfRangeError(f"{typed or f'{number:.6g}{self._spaced_unit}'} {problem}")
        return number

    def _problem(self, number: float) -> str:
        """What is wrong with a number, "" where nothing is."""
        if not math.isfinite(number):
            return "is not a finite number"
        if self.above is not None and number <= self.above:
            return f"must be above {self.above:g}{self._spaced_unit}"
        if self.low is not None and number < self.low:
            return f"is below {self.low:g}{self._spaced_unit}"
        if self.high is not None and number > self.high:
            return f"is above {self.high:g}{self._spaced_unit}{self.meant}"
        return ""

    def suspects(self, numbers: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Which of many numbers `checked` would refuse, told at once."""
        bad = ~np.isfinite(numbers)
        if self.low is not None:
            bad |= numbers < self.low
        if self.above is not None:
            bad |= numbers <= self.above
        if self.high is not None:
            bad |= numbers > self.high
        return bad

    def in_si(self, numbers: NDArray[np.float64], gas: Gas | None) -> NDArray[np.float64]:
        """Many numbers of cells in SI; `gas` is what an amount is of."""
        return numbers

    @property
    def _spaced_unit(self) -> str:
        return f" {self.unit_label}" if self.unit_label else ""

    def show(self, value: float) -> str:
        return f"{value:g}"

    def allowed(self) -> str:
        unit = self._spaced_unit
        low = f"{self.low:g}{unit} or more" if self.low is not None else ""
        low = f"above {self.above:g}{unit}" if self.above is not None else low
        high = f"up to {self.high:g}{unit}" if self.high is not None else ""
        return ", ".join(part for part in (low, high) if part) or f"any number{unit}"


@dataclass(frozen=True)
class AlsoMass:
    """Beside a result in an annotation: it may be asked for as mass; kg of one SI unit of it."""

    per: Callable[..., Any]
    of: tuple[str, ...] = ("gas",)
    """The arguments that `per` takes, by name and in order."""


@dataclass(frozen=True)
class Quantity(Number):
    """A number of a kind, bare in the default cell unit or as text with a unit."""

    _: KW_ONLY
    kind: Kind
    unit: str
    of: str = "gas"
    """The argument that names the gas, where the unit is a volume of gas."""
    steady: bool = False
    """Of a pressure: whether the answer hardly follows it, so that the site's air is no matter."""
    also_mass: AlsoMass | None = None
    """How a result is told as mass, where it may be asked for so."""

    @property
    def by_gauge(self) -> bool:
        return self.kind is kinds.PRESSURE and not self.steady

    @property
    def unit_label(self) -> str:  # type: ignore[override]
        return {"degC": "°C", "1": "", "um": "µm", "h": "h"}.get(self.unit, self.unit)

    @property
    def meant(self) -> str:  # type: ignore[override]
        other = next((unit for unit in self.kind.examples if unit != self.unit), None)
        example = f', another unit is written with it: "1 {other}"' if other else ""
        return f"; a bare number is in {self.unit_label}{example}"

    @cached_property
    def default(self) -> Unit:
        return self.kind.unit(self.unit)

    def in_si(self, numbers: NDArray[np.float64], gas: Gas | None) -> NDArray[np.float64]:
        return np.asarray(to_si(numbers, self.default, gas))

    def read(self, value: Cell, gas: Gas | None = None) -> float:
        if isinstance(value, str):
            return _read_text(self, value, gas)
        number, _ = number_and_unit(value)
        return float(to_si(self.checked(number), self.default, gas))

    def show(self, value: float) -> str:
        return f"{from_si(value, self.default, None):.6g}{self._spaced_unit}"

    def allowed(self) -> str:
        units = ", ".join(self.kind.examples or self.kind.labels()[:5])
        return f"{super().allowed()}; or text in {units}"


@dataclass(frozen=True)
class Symbol:
    """Beside a term in an annotation: what stands for it in this function's equation."""

    text: str


@dataclass(frozen=True, slots=True)
class Of:
    """Beside a quantity in an annotation: which argument names the gas that it is an amount of."""

    argument: str


@dataclass(frozen=True)
class Share(Quantity):
    """A fraction, as the spreadsheet's percent format holds it."""

    meant = ""

    def checked(self, number: float, typed: str = "") -> float:
        if self.high is not None and number > self.high and not typed:
            raise OutOfRangeError(
                f"{number:g} is {100 * number:g} % as a share, above {100 * self.high:g} %; "
                f'{number:g} % is written {number / 100:g} or "{number:g} %"'
            )
        return super().checked(number, typed)


@dataclass(frozen=True)
class Opening(Quantity):
    """A round opening: its diameter, or text with its area."""

    def read(self, value: Cell, gas: Gas | None = None) -> float:
        try:
            return super().read(value, gas)
        except UnitError as error:
            area = _area(value)
            if area is None:
                raise error from None
            diameter = float(np.sqrt(4 * area / np.pi))
            self.checked(from_si(diameter, self.default, None), f'"{shown(value)}"')
            return diameter

    def allowed(self) -> str:
        return f"{super().allowed()}; or its area in {', '.join(kinds.AREA.examples)}"


def _area(text: Cell) -> float | None:
    """The square metres that a text tells, or None where its unit is not one of area."""
    number, label = split_quantity(text)
    try:
        return max(0.0, float(to_si(number, kinds.AREA.unit(label), None)))
    except UnitError:
        return None


@lru_cache(maxsize=65_536)
def _read_text(term: Quantity, text: str, gas: Gas | None) -> float:
    number, label = (split_goods if term.kind in kinds.GOODS else split_quantity)(text)
    unit = term.kind.unit(label) if label else term.default
    si = float(to_si(number, unit, gas))
    back = number if unit is term.default else from_si(si, term.default, gas)
    term.checked(back, f'"{shown(text)}"')
    return si


def to_si(number: Any, unit: Unit, gas: Gas | None) -> Any:
    """A number (or an array) in a unit, in SI; a gas volume becomes mol."""
    value = number * unit.scale + unit.zero
    if unit.water_mass:
        return water_share(value, gas, unit.reference)
    return value * reference_molar_density(gas, unit.reference) if unit.reference else value


def from_si(value: Any, unit: Unit, gas: Gas | None) -> Any:
    """A value (or an array) in SI, in a unit."""
    if unit.water_mass:
        value = water_mass(value, gas, unit.reference)
    elif unit.reference:
        value = value / reference_molar_density(gas, unit.reference)
    return (value - unit.zero) / unit.scale


def number_and_unit(value: Cell) -> tuple[float, str]:
    """The number of a cell, and the unit that its text names ("" where none)."""
    if type(value) is float:
        return value, ""
    if isinstance(value, str):
        return split_quantity(value)
    value = plain(value)
    if isinstance(value, bool) or not isinstance(value, Real | Decimal):
        raise UnreadableError(f"{_kind_of(value)} is not a number")
    try:
        return float(value), ""
    except OverflowError:
        raise OutOfRangeError(f"{shown(value)} is more than any number here can be") from None
    except ValueError:
        raise UnreadableError(f"{_kind_of(value)} is not a number") from None


def plain(value: Cell) -> Cell:
    """A NumPy scalar as the Python value that it holds."""
    scalar = isinstance(value, np.generic) or (isinstance(value, np.ndarray) and not value.ndim)
    return value.item() if scalar else value


def _kind_of(value: Cell) -> str:
    if isinstance(value, bool):
        return str(value).upper()
    return f"{type(value).__name__} {shown(value)}"


@dataclass(frozen=True)
class Count(Number):
    """A whole number."""

    def checked(self, number: float, typed: str = "") -> float:
        number = super().checked(number, typed)
        if number != int(number):
            raise OutOfRangeError(f"{number:g} is not a whole number")
        return number

    def suspects(self, numbers: NDArray[np.float64]) -> NDArray[np.bool_]:
        return np.asarray(super().suspects(numbers) | (numbers != np.trunc(numbers)))


@dataclass(frozen=True)
class Text(Term):
    """Free text, such as a unit or a function's name."""

    def read(self, value: Cell, gas: Gas | None = None) -> str:
        if not isinstance(value, str):
            raise UnreadableError(f"{shown(value)} is not text")
        refuse_long(value, self.help[:1].lower() + self.help[1:])
        return value.strip()


@dataclass(frozen=True)
class AnyCell(Term):
    """A value handed on as it stands."""

    def read(self, value: Cell, gas: Gas | None = None) -> Cell:
        return value

    def allowed(self) -> str:
        return "any value"


@dataclass(frozen=True)
class Choice(Term):
    """One of a few words."""

    _: KW_ONLY
    words: tuple[str, ...]

    def read(self, value: Cell, gas: Gas | None = None) -> str:
        typed = " ".join(value.lower().split()) if isinstance(value, str) else None
        for word in self.words:
            if typed == word.lower():
                return word
        raise UnreadableError(f'"{shown(value)}" is not one of {", ".join(self.words)}')

    def allowed(self) -> str:
        return ", ".join(self.words)


@dataclass(frozen=True)
class GasName(Term):
    """A gas by name or symbol, or a mixture."""

    def read(self, value: Cell, gas: Gas | None = None) -> Gas:
        if not isinstance(value, str):
            raise UnreadableError(f'{shown(value)} is not the name of a gas; write "argon"')
        return gas_named(value)

    def allowed(self) -> str:
        return 'a gas by name or symbol, or a mixture such as "95% argon + 5% hydrogen"'


@dataclass(frozen=True)
class Date(Number):
    """A day: the spreadsheet's serial number, or ISO text such as "2026-12-08"."""

    def read(self, value: Cell, gas: Gas | None = None) -> float:
        value = plain(value)
        if isinstance(value, str):
            return self.checked(_iso_serial(value), shown(value))
        if isinstance(value, dt.date):
            return self.checked(serial(value), str(value))
        return super().read(value)

    def allowed(self) -> str:
        return 'a date, or text such as "2026-12-08"'

    def show(self, value: float) -> str:
        return (DAY_ZERO + dt.timedelta(days=value)).strftime("%Y-%m-%d")


DAY_ZERO = dt.datetime(1899, 12, 30)
"""Day 0 of the serial numbers that spreadsheets count."""


def serial(day: dt.date) -> float:
    """The spreadsheet's serial number of a date or date and time."""
    moment = day if isinstance(day, dt.datetime) else dt.datetime(day.year, day.month, day.day)
    return (moment.replace(tzinfo=None) - DAY_ZERO) / dt.timedelta(days=1)


def _iso_serial(text: str) -> float:
    try:
        return serial(dt.datetime.fromisoformat(text.strip()))
    except ValueError:
        raise UnreadableError(f'"{shown(text)}" is not a date; write it as 2026-12-08') from None


@dataclass(frozen=True)
class Read(Term):
    """A value with a reader of its own, such as a range of cycle steps."""

    _: KW_ONLY
    reader: Callable[[Cell], Any]
    words: str = ""

    def read(self, value: Cell, gas: Gas | None = None) -> Any:
        return self.reader(value)

    def allowed(self) -> str:
        return self.words
