"""One way to write a workbook: cells with their values stored, inputs, tables, charts.

A book is built twice. The first build has formulas without values; the headless engine computes
it; the second build stores those values beside the formulas, so that a viewer that does not
calculate, and every chart's cache, show the right numbers.
"""

from __future__ import annotations

import datetime as dt
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import xlsxwriter
from xlsxwriter.utility import xl_cell_to_rowcol, xl_rowcol_to_cell

from gasfuncs.workbooks import look
from gasfuncs.workbooks.sheets.paper import Values

CREATED = dt.datetime(2026, 1, 1)
"""A fixed date, so that the same code writes the same bytes."""

CALC_ENGINE = 191029
"""The calculation engine told in the file: a current one, so that Excel keeps stored values."""


class Book:
    """A workbook being written."""

    def __init__(
        self, path: Path, title: str, subject: str, values: Values, *, filled: bool
    ) -> None:
        self.values = values
        self.filled = filled
        self.path = path
        self._made = io.BytesIO()
        self.workbook = xlsxwriter.Workbook(self._made, {"in_memory": True})
        self.workbook.set_properties(
            {"title": title, "subject": subject, "author": "gasfuncs", "created": CREATED}
        )
        self.workbook.set_calc_mode("auto", CALC_ENGINE)
        self.workbook.calc_on_load = False
        self.workbook.set_size(2400, 1500)
        self.title = title
        self._formats: dict[tuple[str, str], Any] = {}

    def sheet(self, name: str, widths: Sequence[float], *, landscape: bool = True) -> Sheet:
        """A new sheet with its column widths, set up for printing on A4 or Letter."""
        return Sheet(self, name, widths, landscape)

    def style(self, style: str, number: str = "general") -> Any:
        """The format of a style with a number format."""
        key = (style, number)
        if key not in self._formats:
            self._formats[key] = self.workbook.add_format(look.properties(style, number))
        return self._formats[key]

    def name(self, name: str, sheet: str, cell: str) -> None:
        """Give a cell or range a name."""
        first, _, last = cell.partition(":")
        fixed = ":".join(_fixed(each) for each in (first, last) if each)
        self.workbook.define_name(name, f"='{sheet}'!{fixed}")

    def close(self) -> None:
        """Write the file."""
        self.workbook.close()
        self.path.write_bytes(self._made.getvalue())


def _fixed(cell: str) -> str:
    row, column = xl_cell_to_rowcol(cell)
    return str(xl_rowcol_to_cell(row, column, row_abs=True, col_abs=True))


@dataclass(frozen=True)
class TableColumn:
    """A column of a record: typed by the user, or a formula."""

    header: str
    formula: str = ""
    number: str = "general"
    unit: str = ""
    """A formula for the unit shown above the header, or "" for none."""
    choices: str = ""
    """A formula for the list to choose from."""
    limits: tuple[str, str] | None = None
    """Formulas for the least and the most."""
    array: bool = False
    """Whether the formula works on arrays inside."""


class Sheet:
    """A sheet being written. Cells are given as "B4"."""

    def __init__(self, book: Book, name: str, widths: Sequence[float], landscape: bool) -> None:
        self.book, self.name = book, name
        self.ws = book.workbook.add_worksheet(name)
        self.ws.hide_gridlines(2)
        for column, width in enumerate(widths):
            self.ws.set_column(column, column, width, book.style("plain"))
        if landscape:
            self.ws.set_landscape()
        self.ws.set_paper(9)
        self.ws.fit_to_pages(1, 0)
        self.ws.set_margins(left=0.5, right=0.5, top=0.7, bottom=0.7)
        self.ws.set_header(f"&L&10{book.title}&R&10&A")
        self.ws.set_footer("&L&9Estimates; local codes and licensed practice decide&R&9&P / &N")
        self.ws.protect("", {"format_columns": True, "format_rows": True, "autofilter": True})

    def write(self, cell: str, value: Any, style: str = "plain", number: str = "general") -> None:
        """A text, number or date; a text that begins with "=" is a formula."""
        row, column = xl_cell_to_rowcol(cell)
        fmt = self.book.style(style, number)
        if isinstance(value, str) and value.startswith("="):
            formula = stored_form(value)
            self.ws.write_formula(row, column, formula, fmt, self.stored(row, column))
        elif isinstance(value, dt.date):
            self.ws.write_datetime(row, column, value, fmt)
        elif value is None:
            self.ws.write_blank(row, column, None, fmt)
        elif isinstance(value, str):
            self.ws.write_string(row, column, value, fmt)
        else:
            self.ws.write(row, column, value, fmt)

    def array(self, cell: str, formula: str, style: str = "value", number: str = "general") -> None:
        """A formula that works on arrays inside and answers one value."""
        row, column = xl_cell_to_rowcol(cell)
        fmt = self.book.style(style, number)
        stored = self.stored(row, column)
        self.ws.write_array_formula(
            row, column, row, column, f"{{{stored_form(formula)}}}", fmt, stored
        )

    def block(self, cells: str, formula: str, numbers: Sequence[str]) -> None:
        """One formula that fills a block: a row of headers, then rows by column."""
        first, _, last = cells.partition(":")
        (top, left), (bottom, right) = xl_cell_to_rowcol(first), xl_cell_to_rowcol(last)
        self.ws.write_array_formula(
            top, left, bottom, right, f"{{{stored_form(formula)}}}",
            self.book.style("column"), self.stored(top, left),
        )  # fmt: skip
        for row in range(top, bottom + 1):
            for column in range(left, right + 1):
                style = ("column",) if row == top else ("value", numbers[column - left])
                if (row, column) != (top, left):
                    value, fmt = self.stored(row, column), self.book.style(*style)
                    self.ws.write(row, column, value, fmt)

    def hide_errors(self, cells: str, colour: str = look.PAPER) -> None:
        """Do not show errors, nor their texts in Excel: Start and Check say what is wrong.

        All but #NAME?, which says that the functions are not there.
        """
        first = cells.split(":", maxsplit=1)[0]
        hidden = self.book.workbook.add_format({"font_color": colour})
        self.ws.conditional_format(
            cells,
            {
                "type": "formula",
                "criteria": f'=IF(ISERROR({first}),ERROR.TYPE({first})<>5,LEFT({first},1)="#")',
                "format": hidden,
            },
        )

    def stored(self, row: int, column: int) -> Any:
        """The value computed for a cell in the first build; 0 in the first build itself."""
        value = self.book.values.get((self.name, row, column), 0)
        return "" if value is None else value

    def merged(self, cells: str, value: str, style: str, height: float = 0) -> None:
        """A text or formula across several cells."""
        first = cells.split(":", maxsplit=1)[0]
        row, _ = xl_cell_to_rowcol(first)
        self.ws.merge_range(cells, "", self.book.style(style))
        self.write(first, value, style)
        if height:
            self.ws.set_row(row, height)

    def title(self, text: str, below: str) -> None:
        """The sheet's title and a line that says what it is for."""
        self.ws.set_row(0, 30)
        self.write("B1", text, "title")
        self.write("B2", below, "subtitle")

    def choose(self, cell: str, source: str | list[str], help_text: str) -> None:
        """A drop-down."""
        shown = source if isinstance(source, str) else ", ".join(source)
        self.ws.data_validation(
            cell,
            {
                "validate": "list",
                "source": source,
                "input_message": help_text[:255],
                "error_title": "Not in the list",
                "error_message": f"Choose from: {shown}"[:255] if isinstance(source, list)
                else "Choose one of the list",
            },
        )  # fmt: skip

    def limit(self, cell: str, low: str, high: str, help_text: str = "") -> None:
        """A range check; `low` and `high` are numbers or formulas."""
        self.ws.data_validation(
            cell,
            {
                "validate": "decimal",
                "criteria": "between",
                "minimum": low,
                "maximum": high,
                "input_message": help_text[:255],
                "error_title": "Out of range",
                "error_message": "A number within the lowest and highest shown is needed here",
            },
        )

    def table(
        self, cell: str, name: str, columns: Sequence[TableColumn], rows: Sequence[Sequence[Any]],
        spare: int = 0,
    ) -> None:  # fmt: skip
        """A record as a native table, with spare rows to fill in; units stand above the headers."""
        top, left = xl_cell_to_rowcol(cell)
        count = len(rows) + spare
        typed = [index for index, column in enumerate(columns) if not column.formula]
        self.ws.add_table(
            top, left, top + count, left + len(columns) - 1,
            {
                "name": name,
                "style": None,
                "autofilter": False,
                "columns": [
                    {
                        "header": c.header,
                        "header_format": self.book.style("column"),
                        "formula": stored_form(c.formula.replace("[@", f"{name}[@")) or None,
                    }
                    for c in columns
                ],
            },
        )  # fmt: skip
        self.ws.set_row(top, 32)
        for index, column in enumerate(columns):
            if column.unit:
                self.write(xl_rowcol_to_cell(top - 1, left + index), column.unit, "unit")
            self._validate(top + 1, left + index, count, column)
            if column.formula:
                self._mark_wrong(top + 1, left + index, count)
            for number in range(count):
                at = xl_rowcol_to_cell(top + 1 + number, left + index)
                if column.formula:
                    self._table_formula(at, name, column)
                else:
                    given = rows[number][typed.index(index)] if number < len(rows) else None
                    self.write(at, given, "input", column.number)

    def _table_formula(self, cell: str, table: str, column: TableColumn) -> None:
        formula = column.formula.replace("[@", f"{table}[@")
        written = self.array if column.array else self.write
        written(cell, formula, "value", column.number)

    def _mark_wrong(self, row: int, left: int, count: int) -> None:
        """Errors are not shown, what Check says of them is."""
        cells = _rows(row, left, count)
        self.hide_errors(cells)
        fmt = self.book.workbook.add_format(look.BAD_MARK)
        self.ws.conditional_format(
            cells, {"type": "cell", "criteria": "==", "value": f'"{WRONG}"', "format": fmt}
        )

    def _validate(self, row: int, left: int, count: int, column: TableColumn) -> None:
        cells = _rows(row, left, count)
        if column.choices:
            self.choose(cells, column.choices, "")
        elif column.limits:
            self.limit(cells, *column.limits)

    def chart(self, cell: str, chart: Any, width: int, height: int) -> None:
        """A chart at a cell, in pixels."""
        chart.set_size({"width": width, "height": height})
        self.ws.insert_chart(cell, chart, {"object_position": 2})


def _rows(row: int, column: int, count: int) -> str:
    return f"{xl_rowcol_to_cell(row, column)}:{xl_rowcol_to_cell(row + count - 1, column)}"


WRONG = "cannot be calculated"
"""What the Check column of a record says of a row that has an error or a gap."""


def check_column(any_typed: str, answer: str) -> TableColumn:
    """The last column of a record: says whether the row could be calculated.

    `any_typed` is a test that is true while nothing has been typed in the row; `answer` is the
    calculated column to look at. Totals count the rows with COUNTIF(Table[Check],WRONG).
    """
    formula = f'=IF({any_typed},"",IF(ISNUMBER([@[{answer}]]),"ok","{WRONG}"))'
    return TableColumn("Check", formula, "text")


def number_or(formula: str, otherwise: str = "NA()") -> str:
    """The number of a formula, or something else where it has none.

    In Excel our functions' errors are texts, which IFERROR sees only after arithmetic.
    """
    return f"IFERROR(1*({formula}),{otherwise})"


_PREFIXED = {
    "FILTER": "_xlfn._xlws.", "SORT": "_xlfn._xlws.",
    "UNIQUE": "_xlfn.", "SORTBY": "_xlfn.", "SEQUENCE": "_xlfn.", "XLOOKUP": "_xlfn.",
    "XMATCH": "_xlfn.", "LET": "_xlfn.", "TEXTJOIN": "_xlfn.", "CONCAT": "_xlfn.",
    "IFS": "_xlfn.", "SWITCH": "_xlfn.", "MAXIFS": "_xlfn.", "MINIFS": "_xlfn.",
    "FORECAST.LINEAR": "_xlfn.", "NORM.S.INV": "_xlfn.", "NORM.S.DIST": "_xlfn.",
    "NORM.DIST": "_xlfn.", "STDEV.S": "_xlfn.", "STDEV.P": "_xlfn.", "VAR.S": "_xlfn.",
    "RANK.EQ": "_xlfn.", "PERCENTILE.INC": "_xlfn.",
}  # fmt: skip
"""Functions younger than the file format, which stores them with a prefix."""

_YOUNG = re.compile(r"(?<![\w.])(" + "|".join(map(re.escape, _PREFIXED)) + r")\(")


def stored_form(formula: str) -> str:
    """A formula as the file format stores it."""
    prefixed = _YOUNG.sub(lambda match: _PREFIXED[match[1]] + match[0], formula)
    return _this_row(prefixed) if "[@" in prefixed else prefixed


def _this_row(formula: str) -> str:
    """`Log[@[Free volume]]` and `Log[@Gas]` as the file format stores them."""
    long = re.sub(r"(\w+)\[@\[([^\]]+)\]\]", r"\1[[#This Row],[\2]]", formula)
    return re.sub(r"(\w+)\[@([^\]\[]+)\]", r"\1[[#This Row],[\2]]", long)


def _axis(title: str, **more: Any) -> dict[str, Any]:
    return {
        "name": title,
        "name_font": {"name": look.FONT, "size": 10, "bold": False, "color": look.INK},
        "num_font": {"name": look.FONT, "size": 9, "color": look.INK},
        "line": {"color": look.RULE},
        **more,
    }


def new_chart(book: Book, kind: str, title: str, across: str, up: str, **more: Any) -> Any:
    """A chart in the house's look; `across` and `up` name the axes with their units."""
    subtype = more.pop("subtype", None)
    chart = book.workbook.add_chart({"type": kind, **({"subtype": subtype} if subtype else {})})
    chart.set_title(
        {"name": title, "overlay": False,
         "name_font": {"name": look.FONT, "size": 12, "bold": True, "color": look.SLATE}}
    )  # fmt: skip
    chart.set_x_axis(_axis(across, **more.pop("x", {})))
    chart.set_y_axis(_axis(up, major_gridlines={"visible": True, "line": {"color": look.MIST}},
                           **more.pop("y", {})))  # fmt: skip
    chart.set_legend({"position": "bottom", "font": {"name": look.FONT, "size": 10}})
    chart.set_chartarea({"border": {"color": look.RULE}, "fill": {"color": look.PAPER}})
    return chart
