"""The demo plant as a US shop would have typed it: round numbers, prices for 100 scf, gallons."""

from __future__ import annotations

import datetime as dt
import math
import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from gasfuncs.registry import worksheet_function_named
from gasfuncs.workbooks.sheets.kinds import KINDS, US, days_told, metric, told
from gasfuncs.workbooks.sheets.parts import Book, Given, Table, inputs_of

READ, CHOSEN = 0.0005, 0.005
"""How far a number may be rounded: one that was read, one that somebody chose."""
READ_KINDS = ("bore", "liquid")
"""Kinds whose numbers are not chosen round."""

AMOUNTS = {"Nm3": "scf", "L(liq)": "gal(liq)", "kg": "lb", "mbar L/s": "atm cc/s"}
PRICED = {"Nm3": "100 scf", "L(liq)": "gal(liq)", "kg": "lb"}
"""The unit in the US for a unit here."""

COUNTED_IN = {
    "Deliveries": ("Unit", ("Quantity", "Billed quantity")),
    "Offers": ("Amounts in", ("Drop", "Least take")),
    "Vessels": ("In", ("Limit",)),
    "Helium": ("Unit", ("Reading",)),
    "Tiers": ("Amounts in", ("From",)),
}
PRICED_FOR = {
    "Prices": ("Per", ("Price", "Price band")),
    "Contracts": ("Per", ("Price",)),
    "Offers": ("Per", ("Price", "Shortfall price", "Cap", "Floor")),
    "Tiers": ("Per", ("Price",)),
}
"""By table: the column that names the unit, and those that are told in it."""

NOTHING: tuple[str, tuple[str, ...]] = ("", ())

NAMES = {
    "by the litre": "by the gallon",
    "per kg": "per lb",
    "DN 125": "5 in",
    "DN 100": "4 in",
    "DN 32": "1 1/4 in",
    "DN 40": "1 1/2 in",
    "DN 50": "2 in",
    "DN 65": "2 1/2 in",
    "DN 80": "3 in",
}
WITH_UNIT = re.compile(r"([\d.]+) (Nm3|L\(liq\)|kg)")

Row = dict[str, Any]


def in_us(book: Book, given: Given) -> Given:
    """What is given, told in metric units, as it is typed in a US book."""
    kinds = {each.name: each.kind for each in inputs_of(book)}
    inputs = {
        name: _usual(value, kinds.get(name, "text"), CHOSEN) for name, value in given.inputs.items()
    }
    per = "Price_per" if "Price_per" in inputs else "Per"
    inputs = _priced(inputs, per, ("Price",))
    parts = [part for sheet in book.sheets for part in sheet.parts]
    tables = {part.name: part for part in parts if isinstance(part, Table)}
    offers = [_named(tables["Offers"], row) for row in given.tables.get("Offers", ())]
    terms = {offer["Offer"]: offer for offer in offers}
    rows: dict[str, Sequence[Sequence[Any]]] = {
        name: [_row(tables[name], row, terms) for row in typed]
        for name, typed in given.tables.items()
    }
    return replace(given, inputs={**inputs, "Currency": "USD"}, tables=rows)


def _named(table: Table, values: Sequence[Any]) -> Row:
    return dict(zip((column.name for column in table.typed), values, strict=True))


def _row(table: Table, values: Sequence[Any], terms: dict[str, Row]) -> tuple[Any, ...]:
    """A row of a table; the tiers of an offer are told in the units of its terms."""
    row = _named(table, values)
    if table.name == "Tiers":
        row |= {name: terms[row["Offer"]][name] for name in ("Per", "Amounts in")}
    row = _priced(row, *PRICED_FOR.get(table.name, NOTHING))
    row = _counted(row, *COUNTED_IN.get(table.name, NOTHING))
    within = READ if table.log else CHOSEN
    return tuple(_usual(row[each.name], each.kind, within) for each in table.typed)


def _priced(row: Row, per: str, columns: Sequence[str]) -> Row:
    unit = row.get(per)
    if unit not in PRICED:
        return row
    factor = 1 / _convert(1, unit, AMOUNTS[unit]) * (100 if unit == "Nm3" else 1)
    return row | {per: PRICED[unit]} | _times(row, columns, factor)


def _counted(row: Row, counted: str, columns: Sequence[str]) -> Row:
    unit = row.get(counted)
    if unit not in AMOUNTS:
        return row
    factor = _convert(1, unit, AMOUNTS[unit])
    return row | {counted: AMOUNTS[unit]} | _times(row, columns, factor)


def _times(row: Row, columns: Sequence[str], factor: float) -> Row:
    """These columns in another unit, to four digits."""
    told_in = {name: row[name] for name in columns if row.get(name) is not None}
    return {name: float(f"{value * factor:.4g}") for name, value in told_in.items()}


def _convert(value: float, unit: str, wanted: str) -> float:
    return float(worksheet_function_named("GAS_CONVERT")(value, unit, wanted))


def _usual(value: Any, kind: str, within: float) -> Any:
    """A value that is round in US units, in metric ones; texts with the units in them."""
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, bool | dt.date | None) or KINDS[kind].metric == KINDS[kind].us:
        return value
    shown = told(value, kind, US)
    if kind == "temperature":
        return metric(round(shown, 1 if within == READ else 0), kind)
    return metric(_round(shown, READ if kind in READ_KINDS else within), kind)


def _round(value: float, within: float) -> float:
    """The shortest number that is this near, of four digits at most."""
    for digits in (1, 2, 3):
        short = float(f"{value:.{digits}g}")
        if math.isclose(short, value, rel_tol=within):
            return short
    return float(f"{value:.4g}")


def _text(text: str) -> str:
    for here, there in NAMES.items():
        text = text.replace(here, there)
    return days_told(WITH_UNIT.sub(_in_its_unit, text), US)


def _in_its_unit(found: re.Match[str]) -> str:
    unit = AMOUNTS[found[2]]
    converted = float(f"{_convert(float(found[1]), found[2], unit):.3g}")
    return f"{converted:.10g} {unit}"
