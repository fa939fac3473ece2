"""Charts in one look: axes with units, a band as error bars, a limit as a broken line."""

from __future__ import annotations

from typing import Any

from gasfuncs.workbooks.sheets import look
from gasfuncs.workbooks.sheets.kinds import day_format
from gasfuncs.workbooks.sheets.layout import Cells, Plan
from gasfuncs.workbooks.sheets.paper import Paper
from gasfuncs.workbooks.sheets.parts import Chart, Series

ROW_PIXELS = 20
LINE_WIDTH, EDGE_WIDTH = 2.25, 1.25
"""In points."""


def _drawn(paper: Paper, plan: Plan, chart: Chart) -> Any:
    """The chart with its series, those of another kind over the others."""
    made = _of_kind(paper, chart.kind, chart.subtype)
    others: dict[str, Any] = {}
    for number, series in enumerate(chart.series):
        kind = series.kind or ("line" if series.limit and chart.kind == "column" else chart.kind)
        if kind != chart.kind and kind not in others:
            others[kind] = _of_kind(paper, kind, "")
        drawn = others.get(kind, made)
        drawn.add_series(_series(plan, chart, series, kind, number))
    for other in others.values():
        made.combine(other)
    return made


def insert_chart(
    paper: Paper,
    plan: Plan,
    chart: Chart,
    row: int,
    column: int,
    size: tuple[int, int],
    titled: bool = True,
) -> None:
    """Draw a chart with its first corner in a cell."""
    made = _drawn(paper, plan, chart)
    name = plan.scope.fixed(chart.title)
    title = {"name": name, "overlay": False, "name_font": _font(12, bold=True)}
    made.set_title(title if titled else {"none": True})
    made.set_x_axis(_axis(plan.scope.fixed(chart.across), _dated(chart.x, plan.system)))
    grid = {"major_gridlines": {"visible": True, "line": {"color": look.MIST}}}
    made.set_y_axis(_axis(plan.scope.fixed(chart.up), grid | chart.y))
    told = sum(series.shown for series in chart.series) > 1
    hidden = [number for number, series in enumerate(chart.series) if not series.shown]
    legend = {"position": "bottom", "font": _font(9), "delete_series": hidden}
    made.set_legend(legend if told and not chart.keys else {"none": True})
    made.set_chartarea({"border": {"none": True}, "fill": {"color": look.PAPER}})
    made.show_blanks_as("span")
    made.show_hidden_data()
    made.set_size({"width": size[0], "height": size[1]})
    told_to_readers = {"description": plan.scope.fixed(chart.says), "object_position": 2}
    paper.ws.insert_chart(row, column, made, told_to_readers)


def _dated(axis: dict[str, Any], system: str) -> dict[str, Any]:
    """The axis with its days as this system writes them."""
    if "num_format" not in axis:
        return axis
    return {**axis, "num_format": day_format(axis["num_format"], system)}


def _of_kind(paper: Paper, kind: str, subtype: str) -> Any:
    more = {"subtype": subtype} if subtype else {}
    return paper.file.workbook.add_chart({"type": kind, **more})


def _font(size: int, *, bold: bool = False) -> dict[str, Any]:
    return {"name": look.FONT, "size": size, "bold": bold, "color": look.INK}


def _axis(title: str, more: dict[str, Any]) -> dict[str, Any]:
    return {
        "name": title,
        "name_font": _font(9),
        "num_font": _font(9),
        "line": {"color": look.RULE},
        "label_position": "low",
        **more,
    }


def _name(plan: Plan, name: str) -> str:
    return plan.named(name[1:]).fixed if name.startswith("=") else plan.scope.fixed(name)


def _colour(series: Series, number: int) -> str:
    if series.limit:
        return look.LIMIT_LINE
    return look.BAND_LINE if series.edge else look.SERIES[number % len(look.SERIES)]


def write_keys(paper: Paper, plan: Plan, chart: Chart, row: int, column: int) -> None:
    """The legend in cells, each name after a square of its colour; blank without name or value."""
    for number, series in enumerate(chart.series):
        name = series.name[1:] if series.name.startswith("=") else f'"{series.name}"'
        empty = plan.scope.formula(f'OR(TRIM({name})="",SUM({{{series.values}}})=0)')
        told = f'=IF({empty},"","■ "&{name})'
        colour = _colour(series, number)
        paper.write(row, column + number, told, "key", "text", font_color=colour)


def _series(plan: Plan, chart: Chart, series: Series, kind: str, number: int) -> dict[str, Any]:
    def cells(reference: str) -> Cells:
        return plan.cells(reference).rows(chart.only)

    values, colour = cells(series.values), _colour(series, number)
    made: dict[str, Any] = {
        "name": _name(plan, series.name),
        "categories": cells(series.across).fixed,
        "values": values.fixed,
    }
    if kind in ("column", "bar"):
        made |= {"fill": {"color": colour}, "border": {"color": look.PAPER}, "gap": 50}
    elif series.limit:
        made |= {"line": {"color": colour, "width": 1.75, "dash_type": "dash"}}
        made |= {"marker": {"type": "none"}} if kind == "scatter" else {}
    else:
        dot = {"type": "circle", "size": 6, "fill": {"color": colour}, "border": {"none": True}}
        joined = series.joined and series.shown
        width = EDGE_WIDTH if series.edge else LINE_WIDTH
        line = {"color": colour, "width": width} if joined else {"none": True}
        marked = series.shown and series.dots
        made |= {"line": line, "marker": dot if marked else {"type": "none"}}
    if series.band:
        band = cells(series.band)
        empty = [None] * (band.bottom - band.top + 1)  # filled when the book is computed
        made["y_error_bars"] = {
            "type": "custom",
            "plus_values": band.fixed,
            "minus_values": band.fixed,
            "plus_data": empty,
            "minus_data": empty,
            "line": {"color": look.BAND_LINE, "width": 1.25},
        }
    return made
