"""What a cell of a workbook holds: its unit in a metric and in a US book, and its digits."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from gasfuncs.errors import DefinitionError
from gasfuncs.registry import worksheet_function_named

METRIC, US = "metric", "US"
SYSTEMS = (METRIC, US)


@dataclass(frozen=True)
class Kind:
    """A kind of quantity; `number` is a key of look.NUMBERS."""

    metric: str = ""
    us: str = ""
    number: str = "general"
    width: float = 11

    def unit(self, system: str) -> str:
        """The unit in a book of this system."""
        return self.us if system == US else self.metric


EXAMPLE = re.compile(r"\{(-?[\d.]+) (\w+)\}")
UNIT = re.compile(r"\{unit (\w+)\}")
TOLD_DAY = re.compile(
    r"\b(\d{1,2}) (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b(?: (\d{4}))?"
)
DAY_FORMAT = re.compile(r"(?<!d)d mmm(?: (yy+))?(?!m)")

KINDS = {
    "amount": Kind("Nm3", "scf", "whole"),
    "flow": Kind("Nm3/h", "scfh", "used"),
    "volume": Kind("m3", "ft3", "used"),
    "pumping": Kind("m3/h", "cfm", "used"),
    "gauge": Kind("bar(g)", "psig", "used"),
    "site": Kind("bar(a)", "bar(a)", "three"),
    "absolute": Kind("bar(a)", "psia", "used"),
    "vacuum": Kind("mbar", "torr", "used"),
    "fine_vacuum": Kind("mbar", "micron", "used"),
    "head": Kind("mbar", "inH2O", "used"),
    "temperature": Kind("degC", "degF", "one"),
    "liquid": Kind("L(liq)", "gal(liq)", "whole"),
    "difference": Kind("mbar", "psi", "used"),
    "length": Kind("m", "ft", "used"),
    "area": Kind("m2", "ft2", "used"),
    "bore": Kind("mm", "in", "used"),
    "leak": Kind("mbar L/s", "atm cc/s", "rate"),
    "outgassing": Kind("mbar L/(s cm2)", "torr L/(s cm2)", "rate", 14),
    "rise": Kind("mbar/h", "micron/h", "rate"),
    "mass": Kind("kg", "lb", "whole"),
    "date": Kind(number="date", width=12),
    "month": Kind(number="month", width=16),
    "text": Kind(number="text", width=16),
    "number": Kind(number="general"),
    "count": Kind(number="whole", width=9),
    "share": Kind("%", "%", "one"),
    "ppm": Kind("ppm", "ppm", "ppm"),
    "kelvins": Kind("K", "degF", "used"),
    "days": Kind("d", "d", "one"),
    "hours": Kind("h", "h", "used"),
    "minutes": Kind("min", "min", "used"),
    "permeability": Kind("barrer", "barrer", "used", 13),
    "seconds": Kind("s", "s", "used"),
    "valve": Kind("Kv", "Cv", "used"),
    "conductance": Kind("W/K", "Btu/(h degF)", "whole"),
    "money": Kind(number="money", width=12),
    "price": Kind(number="price", width=12),
}
"""The kinds by name. A share is typed in per cent."""


def kind_named(name: str) -> Kind:
    """The kind; raises DefinitionError for one that is not there."""
    if name not in KINDS:
        raise DefinitionError(f'"{name}" is no kind of quantity; use {", ".join(KINDS)}')
    return KINDS[name]


def told(value: Any, kind: str, system: str, digits: int = 10) -> Any:
    """A metric value told in a book's unit, to so many digits."""
    unit, metric = kind_named(kind).unit(system), KINDS[kind].metric
    if unit == metric or isinstance(value, bool) or not isinstance(value, int | float):
        return value
    if kind == "kelvins":
        converted = DEGREES_F * value
    else:
        converted = worksheet_function_named("GAS_CONVERT")(value, metric, unit)
    return float(f"{converted:.{digits}g}")


def metric(value: float, kind: str) -> float:
    """A US value of this kind in its metric unit."""
    if kind == "kelvins":
        return value / DEGREES_F
    convert = worksheet_function_named("GAS_CONVERT")
    return float(convert(value, KINDS[kind].us, KINDS[kind].metric))


def prompt(text: str, system: str) -> str:
    """A prompt with its examples, such as {210 length}, told in a book's unit."""
    made = EXAMPLE.sub(
        lambda match: f"{told(float(match[1]), match[2], system, 2):,.10g}",
        text,
    )
    made = UNIT.sub(lambda match: kind_named(match[1]).unit(system), made)
    return days_told(made, US).replace("EUR", "USD") if system == US else made


def days_told(text: str, system: str) -> str:
    """A text with its days, such as 27 Oct 2026, as this system writes them."""
    if system != US:
        return text
    return TOLD_DAY.sub(
        lambda match: f"{match[2]} {match[1]}" + (f", {match[3]}" if match[3] else ""), text
    )


def day_format(number: str, system: str) -> str:
    """A number format with its days as this system writes them: "d mmm yyyy" or "mmm d, yyyy"."""
    if system != US:
        return number
    return DAY_FORMAT.sub(lambda match: "mmm d" + (f", {match[1]}" if match[1] else ""), number)


def in_unit(cell: str, kind: str, system: str, wanted: str) -> str:
    """A formula for a cell's value in another unit than the one that the book shows.

    A gauge pressure becomes absolute by the pressure of the site, the named cell Site_bar.
    """
    unit = kind_named(kind).unit(system)
    if unit == wanted:
        return cell
    if wanted == "degC":
        return f"(({cell}-32)/1.8)"
    if wanted == "K":
        return f"({cell}/{DEGREES_F})"
    if kind == "gauge" and wanted == "bar(a)":
        return f"({_times(cell, ABSOLUTE[unit], wanted)}+Site_bar)"
    return _times(cell, unit, wanted)


DEGREES_F = 1.8
"""In a kelvin, of a difference."""

ABSOLUTE = {"bar(g)": "bar(a)", "psig": "psia"}
"""The absolute unit of the same size."""


def _times(cell: str, unit: str, wanted: str) -> str:
    if unit == wanted:
        return cell
    return f"{cell}*{worksheet_function_named('GAS_CONVERT')(1, unit, wanted):.15g}"
