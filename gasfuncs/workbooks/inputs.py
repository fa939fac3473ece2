"""The Inputs sheet: one way to ask for a number, with unit, range, check and where to find it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from gasfuncs.registry import worksheet_function_named
from gasfuncs.workbooks import look
from gasfuncs.workbooks.book import Book, Sheet

METRIC, US = "metric", "US"

UNITS = {
    "amount": ("Nm3", "scf"),
    "flow": ("Nm3/h", "scfh"),
    "volume": ("m3", "ft3"),
    "pumping": ("m3/h", "cfm"),
    "pressure": ("bar(a)", "psia"),
    "vacuum": ("mbar", "torr"),
    "temperature": ("degC", "degF"),
    "liquid": ("L(liq)", "gal(liq)"),
    "length": ("m", "ft"),
    "bore": ("mm", "in"),
    "valve": ("Kv", "Cv"),
    "leak": ("mbar L/s", "atm cc/s"),
    "rise": ("mbar/h", "micron/h"),
    "price_per": ("Nm3", "100 scf"),
    "mass": ("kg", "lb"),
}
"""What the choice of units stands for; each is a name `U_amount` and so on in the workbook."""

SHEET = "Inputs"


@dataclass(frozen=True)
class Input:
    """A number (or date, or choice) that the user types. Values and limits are metric."""

    name: str
    label: str
    value: Any
    where: str
    unit: str = ""
    """A key of UNITS, or a unit shown as it stands, or "" for none."""
    low: float | str = 0
    high: float | str = 1e9
    """Limits; a text is a formula, for an input whose unit is not a key of UNITS."""
    number: str = "general"
    choices: tuple[str, ...] = ()

    @property
    def used(self) -> str:
        """The unit that functions take it in: the metric one."""
        return UNITS[self.unit][0] if self.unit in UNITS else self.unit


@dataclass(frozen=True)
class Group:
    """Inputs under one heading."""

    heading: str
    inputs: tuple[Input, ...]


def inputs_sheet(book: Book, groups: Sequence[Group], units: str, *, filled: bool) -> Sheet:
    """Write the sheet; every input gets its name, its check and its value as used."""
    sheet = book.sheet(SHEET, [2, 38, 25, 11, 11, 11, 16, 46, 14, 10])
    sheet.title("Inputs", "Type in the coloured cells; everything else follows from them.")
    sheet.write("B4", "Units", "label")
    sheet.write("C4", units, "input", "text")
    sheet.choose("C4", [METRIC, US], "metric or US customary: headings, limits and answers follow")
    book.name("Units", SHEET, "C4")
    sheet.merged(
        "D4:H4", "Numbers already typed keep their digits: choose the units first.", "remark"
    )
    row = 6
    checks: list[str] = []
    _keep_groups_whole(sheet, row, groups)
    for group in groups:
        sheet.write(f"B{row}", group.heading, "heading")
        row += 1
        for letter, text in zip("BCDEFGHIJ", _HEADINGS, strict=True):
            sheet.write(f"{letter}{row}", text, "column")
        for each in group.inputs:
            row += 1
            _input_row(book, sheet, row, each, units, filled)
            checks.append(f"G{row}")
        row += 2
    _check_list(book, sheet, checks)
    sheet.ws.freeze_panes(4, 0)
    return sheet


SCALE, ROWS_A_PAGE = 70, 46
"""Per cent that fits the columns on A4 and Letter, and the rows of text that a page then holds.
Excel keeps page breaks only where the scale is fixed."""

WRAPS = 56
"""Characters after which the note of an input takes a second line."""


def _keep_groups_whole(sheet: Sheet, row: int, groups: Sequence[Group]) -> None:
    """Break pages between groups only."""
    breaks: list[int] = []
    used = row - 1
    for group in groups:
        lines = 3 + sum(1 + (len(each.where) > WRAPS) for each in group.inputs)
        if used + lines > ROWS_A_PAGE:
            breaks.append(row - 1)
            used = 0
        used += lines + 1
        row += 3 + len(group.inputs)
    sheet.ws.set_print_scale(SCALE)
    sheet.ws.set_h_pagebreaks(breaks)


_HEADINGS = ("What", "Value", "Unit", "Lowest", "Highest", "Check", "Where to find it", "As used",
             "Unit")  # fmt: skip


def converted(value: Any, unit: str, units: str, digits: int = 4) -> Any:
    """A metric value told in the chosen units, to four digits or as many as are asked for."""
    if units == METRIC or unit not in UNITS or not isinstance(value, int | float):
        return value
    metric, us = UNITS[unit]
    convert = worksheet_function_named("GAS_CONVERT")
    told = (
        value * convert(100, "scf", metric) if unit == "price_per" else convert(value, metric, us)
    )
    return float(f"{told:.{digits}g}")


def _input_row(
    book: Book, sheet: Sheet, row: int, each: Input, units: str, filled: bool
) -> None:  # fmt: skip
    sheet.write(f"B{row}", each.label, "label")
    value = converted(each.value, each.unit, units) if filled else None
    text = "text" if isinstance(each.value, str) else each.number
    sheet.write(f"C{row}", value, "input", text)
    book.name(each.name, SHEET, f"C{row}")
    has_unit = each.unit in UNITS
    unit = f"=U_{each.unit}" if has_unit else each.unit
    told = f'="per "&{unit[1:]}' if each.unit == "price_per" else unit
    sheet.write(f"D{row}", told, "unit")
    sheet.write(f"H{row}", each.where, "remark")
    if each.choices:
        sheet.choose(f"C{row}", list(each.choices), each.where)
        listed = ",".join(f'"{choice}"' for choice in each.choices)
        sheet.write(
            f"G{row}", f'=IF(ISNUMBER(MATCH(C{row},{{{listed}}},0)),"ok","choose one")', "check"
        )
        return
    if isinstance(each.value, str):
        sheet.write(f"G{row}", f'=IF(LEN(C{row})>0,"ok","type a text")', "check")
        return
    date = isinstance(each.value, dt.date)
    for letter, limit in (("E", each.low), ("F", each.high)):
        number = "date" if date else "limit"
        sheet.write(f"{letter}{row}", _limit(limit, each, date), "value", number)
    sheet.limit(f"C{row}", f"=$E${row}", f"=$F${row}", each.where)
    sheet.write(
        f"G{row}",
        f'=IF(NOT(ISNUMBER(C{row})),"type a number",'
        f'IF(AND(C{row}>=E{row},C{row}<=F{row}),"ok","out of range"))',
        "check",
    )
    if has_unit and each.unit != "price_per":
        used = f'=IF(G{row}="ok",GAS_CONVERT(C{row},D{row},J{row}),NA())'
        sheet.write(f"I{row}", used, "value", _used_number(each))
        sheet.hide_errors(f"I{row}")
        sheet.write(f"J{row}", each.used, "unit")
        book.name(f"{each.name}_used", SHEET, f"I{row}")


def _used_number(each: Input) -> str:
    """The format of the value as used: a converted value has more digits than a typed one."""
    if each.number != "general":
        return each.number
    return "one" if each.unit == "temperature" else "used"


def _limit(limit: float | str, each: Input, date: bool) -> Any:
    if date or each.unit not in UNITS:
        return limit
    us = converted(limit, each.unit, US)
    return f'=IF(Units="{METRIC}",{limit:g},{us:g})'


def _check_list(book: Book, sheet: Sheet, checks: list[str]) -> None:
    total = len(checks)
    good = "+".join(f'({cell}="ok")' for cell in checks)
    sheet.write("I4", f"={good}", "hidden")
    book.name("Inputs_ok", SHEET, "I4")
    sheet.merged("I2:J2", f'=Inputs_ok&" of {total} inputs in range"', "check")
    book.name("Inputs_total", SHEET, "J4")
    sheet.write("J4", total, "hidden")
    for cells in (checks[0] + ":" + checks[-1], "I2:J2"):
        _paint(book, sheet, cells, total)


def _paint(book: Book, sheet: Sheet, cells: str, total: int) -> None:
    good = book.workbook.add_format(look.GOOD_MARK)
    bad = book.workbook.add_format(look.BAD_MARK)
    first = cells.split(":", maxsplit=1)[0]
    test = f'{first}="ok"' if first.startswith("G") else f"Inputs_ok={total}"
    wrong = (
        f'AND({first}<>"ok",{first}<>"",{first}<>"Check")'
        if first.startswith("G")
        else f"Inputs_ok<{total}"
    )
    sheet.ws.conditional_format(cells, {"type": "formula", "criteria": f"={test}", "format": good})
    sheet.ws.conditional_format(cells, {"type": "formula", "criteria": f"={wrong}", "format": bad})


def units_sheet(book: Book) -> Sheet:
    """Write the Units sheet, the book's last: what the choice of units stands for."""
    sheet = book.sheet("Units", [2, 24, 18], landscape=False)
    sheet.title("Units", "What the choice on Inputs stands for; nothing is typed here.")
    sheet.write("B4", "Quantity", "column")
    sheet.write("C4", "Unit", "column")
    for row, (key, (metric, us)) in enumerate(UNITS.items(), 5):
        sheet.write(f"B{row}", key.replace("_", " "), "label")
        sheet.write(f"C{row}", f'=IF(Units="{METRIC}","{metric}","{us}")', "value", "text")
        book.name(f"U_{key}", sheet.name, f"C{row}")
    return sheet
