"""A sheet of paper and a pen: cells with their values stored, styles, names, protection."""

from __future__ import annotations

import datetime as dt
import io
import re
from collections.abc import Sequence
from functools import cache, lru_cache
from typing import Any

import xlsxwriter
from xlsxwriter.worksheet import Worksheet

from gasfuncs.workbooks.sheets import look
from gasfuncs.workbooks.sheets.formulas import stored
from gasfuncs.workbooks.sheets.layout import Cells

CALC_ENGINE = 191029
"""The calculation engine told in the file: a current one, so that Excel keeps stored values."""

PAGES = {9: (595, 842), 1: (612, 792)}
"""Width and height of a page in points, by Excel's number of the paper: A4 and Letter."""
SIDE, END = 0.5, 0.7
"""Margins, in inches."""

WIDTH, HEIGHT = 1280, 720
"""A window no larger than a laptop's screen, in pixels."""


_CALLS = re.compile(r"[\w.]+\(")


@cache
def _is_expanded(calls: frozenset[str], expand: bool) -> bool:
    """Whether one of these calls has another name in the file."""
    text = "+".join(sorted(calls))
    return bool(Worksheet()._prepare_formula(text, expand) != text)


@lru_cache(4096)
def _prepared(formula: str, expand: bool) -> str:
    if "_xlfn." in formula or _is_expanded(frozenset(_CALLS.findall(formula)), expand):
        return str(Worksheet()._prepare_formula(formula, expand))
    return formula.removeprefix("{").removeprefix("=").removesuffix("}")


class LongSheet(Worksheet):  # type: ignore[misc]  # it has no types
    """Prepares a formula once for all rows that have it, and searches it for newer functions only
    where it calls others than were searched before: half the time of a build."""

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:
        return _prepared(formula, expand_future_functions)


class File:
    """A workbook file being written."""

    def __init__(self, title: str, subject: str, created: dt.datetime, system: str) -> None:
        self.system = system
        self._made = io.BytesIO()
        self.workbook = xlsxwriter.Workbook(self._made, {"in_memory": True})
        self.workbook.set_properties(
            {"title": title, "subject": subject, "author": "gasfuncs", "created": created}
        )
        self.workbook.set_calc_mode("auto", CALC_ENGINE)
        self.workbook.calc_on_load = False
        self.workbook.set_size(WIDTH, HEIGHT)
        self.title = title
        self._formats: dict[Any, Any] = {}

    def style(self, style: str, number: str = "general", **more: Any) -> Any:
        """The format of a style with a number format."""
        key = (style, number, *more.items())
        if key not in self._formats:
            properties = {**look.properties(style, number, self.system), **more}
            self._formats[key] = self.workbook.add_format(properties)
        return self._formats[key]

    def mark(self, **properties: Any) -> Any:
        """A format of a condition."""
        key = tuple(properties.items())
        if key not in self._formats:
            self._formats[key] = self.workbook.add_format(properties)
        return self._formats[key]

    def name(self, name: str, cells: Cells) -> None:
        """Give cells a name."""
        self.workbook.define_name(name, cells.fixed)

    def bytes(self) -> bytes:
        """The finished file."""
        self.workbook.close()
        return self._made.getvalue()


def landscape_room(widths: Sequence[float], paper: int) -> float:
    """The points of rows that a page takes across when its columns are made to fit it."""
    high, wide = PAGES[paper]
    columns = sum(7 * width + 5 for width in widths) * 0.75
    scale = min(1, (wide - 2 * 72 * SIDE) / columns)
    return (high - 2 * 72 * END) / scale


class Paper:
    """A sheet being written; rows and columns from 0."""

    def __init__(
        self,
        file: File,
        name: str,
        role: str,
        widths: Sequence[float],
        paper: int,
        landscape: bool = True,
    ) -> None:
        self.file, self.name = file, name
        self.ws = file.workbook.add_worksheet(name, LongSheet)
        self.ws.set_tab_color(look.TABS[role])
        self.ws.hide_gridlines(2)
        for column, width in enumerate(widths):
            self.ws.set_column(column, column, width, file.style("plain"))
        if landscape:
            self.ws.set_landscape()
        self.ws.set_paper(paper)
        self.ws.fit_to_pages(1, 0)
        self.ws.set_margins(left=SIDE, right=SIDE, top=END, bottom=END)
        self.widths = list(widths)
        self.ws.set_header(f"&L&10{file.title}&R&10&A")
        self.ws.set_footer("&L&9Estimates; local codes and licensed practice decide&R&9&P / &N")
        self.ws.protect("", {"format_columns": True, "format_rows": True})

    def write(
        self,
        row: int,
        column: int,
        value: Any,
        style: str = "plain",
        number: str = "general",
        **more: Any,
    ) -> None:
        """A text, number or date; a text that begins with "=" is a formula."""
        fmt = self.file.style(style, number, **more)
        if isinstance(value, str) and value.startswith("="):
            self.ws.write_formula(row, column, stored(value), fmt)
        elif isinstance(value, dt.date):
            self.ws.write_datetime(row, column, value, fmt)
        elif value is None or value == "":
            self.ws.write_blank(row, column, None, fmt)
        elif isinstance(value, str):
            self.ws.write_string(row, column, value, fmt)
        else:
            self.ws.write(row, column, value, fmt)

    def array(
        self, row: int, column: int, formula: str, style: str = "value", number: str = "general"
    ) -> None:
        """A formula that works on arrays inside and answers one value."""
        fmt = self.file.style(style, number)
        made = f"{{{stored(formula)}}}"
        self.ws.write_array_formula(row, column, row, column, made, fmt)

    def merged(
        self, cells: Cells, value: Any, style: str, number: str = "general", **more: Any
    ) -> None:
        """A value across several cells."""
        fmt = self.file.style(style, number, **more)
        self.ws.merge_range(cells.top, cells.left, cells.bottom, cells.right, "", fmt)
        self.write(cells.top, cells.left, value, style, number, **more)

    def title(self, text: str, purpose: str) -> None:
        """The sheet's title, and a line that says what it is for."""
        self.ws.set_row(0, 28)
        self.write(0, 1, text, "title")
        self.write(1, 1, purpose, "purpose")

    def link(self, row: int, column: int, sheet: str, text: str) -> None:
        """A link to a sheet of the book."""
        target = f"internal:'{sheet}'!A1"
        self.ws.write_url(row, column, target, self.file.style("link"), text, f"Go to {sheet}")

    def not_printed(self) -> None:
        """Leave the sheet out of a print of the book: its print area is an empty cell."""
        self.ws.print_area(0, 0, 0, 0)

    def at(self, top: int, left: int, bottom: int, right: int) -> Cells:
        """A rectangle of this sheet."""
        return Cells(self.name, top, left, bottom, right)

    def when(self, cells: Cells, formula: str, **properties: Any) -> None:
        """Mark cells where a formula about the first of them is true."""
        fmt = self.file.mark(**properties)
        rule = {"type": "formula", "criteria": f"={formula}", "format": fmt}
        self.ws.conditional_format(cells.local, rule)

    def plain_below_zero(self, cells: Cells) -> None:
        """Show nothing and what is below it without a power of ten."""
        first = self.at(cells.top, cells.left, cells.top, cells.left).local
        self.when(cells, f"IF(ISNUMBER({first}),{first}<=0,FALSE)", num_format="0.00##")

    def hide_errors(self, cells: Cells) -> None:
        """Do not show errors, nor their texts in Excel: Check and Start say what is wrong.

        All but #NAME?, which says that the functions are not there.
        """
        first = self.at(cells.top, cells.left, cells.top, cells.left).local
        test = f'IF(ISERROR({first}),ERROR.TYPE({first})<>5,LEFT({first},1)="#")'
        self.when(cells, test, font_color=look.PAPER)
