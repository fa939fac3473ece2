"""How every workbook looks: colours and styles by role, number formats."""

from __future__ import annotations

from typing import Any

from gasfuncs.workbooks.sheets.kinds import METRIC, day_format
from gasfuncs.workbooks.sheets.parts import (
    ACT,
    BACKGROUND,
    FINE,
    READ_HERE,
    TYPE_HERE,
    UNKNOWN,
    WATCH,
)

INK, SOFT, RULE, MIST, PAPER = "#1F2D36", "#55636C", "#C3CBD3", "#EEF1F4", "#FFFFFF"
HEAD = "#2B4658"
LINK = "#1D5C8A"
INPUT, INPUT_EDGE = "#FFF6DC", "#B08A2E"
BAD, BAD_FILL, GOOD = "#8C2F1B", "#FBE9E1", "#1E6B45"

LEVELS = {ACT: "#8C2F1B", WATCH: "#8A6100", FINE: "#1E6B45", UNKNOWN: "#4A5560"}
"""A verdict's colour; each has white text on it at 5:1 or more, and its word beside it."""

TABS = {TYPE_HERE: "#D9A520", READ_HERE: "#24587A", BACKGROUND: "#9AA5AC"}

SERIES = ("#17405C", "#C2741F", "#7F4256", "#5E9C93", "#3F3F3F", "#8D8A6B", "#4B6FA5", "#A8577E")
"""Colours of series, each 3:1 or more against paper; neighbours differ in grey."""
BAND_LINE, LIMIT_LINE = "#6F8796", "#8C2F1B"

FONT = "Calibri"
BASE: dict[str, Any] = {"font_name": FONT, "font_size": 11, "font_color": INK, "valign": "vcenter"}

_RULED = {"bottom": 1, "bottom_color": RULE}
STYLES: dict[str, dict[str, Any]] = {
    "plain": {},
    "title": {"font_size": 16, "bold": True},
    "purpose": {"font_color": SOFT},
    "top": {"font_size": 9, "font_color": SOFT, "align": "right", "text_wrap": True},
    "heading": {"bold": True, "font_color": HEAD, "bottom": 1, "bottom_color": HEAD},
    "column": {
        "bold": True,
        "font_color": PAPER,
        "bg_color": HEAD,
        "text_wrap": True,
        "align": "center",
        "border": 1,
        "border_color": HEAD,
    },
    "unit": {"font_color": SOFT, "font_size": 9, "align": "center"},
    "label": {"text_wrap": True},
    "note": {"text_wrap": True, "font_color": SOFT, "font_size": 10, "indent": 1},
    "caution": {"text_wrap": True, "bg_color": BAD_FILL, "left": 5, "left_color": BAD, "indent": 1},
    "body": {"text_wrap": True, "indent": 1, **_RULED},
    "input": {"bg_color": INPUT, "border": 1, "border_color": INPUT_EDGE, "locked": False},
    "value": {"border": 1, "border_color": RULE},
    "check": {
        "border": 1,
        "border_color": RULE,
        "font_size": 10,
        "font_color": GOOD,
        "indent": 1,
        "shrink": True,
    },
    "signature": {"bottom": 1, "bottom_color": INK},
    "level": {
        "bold": True,
        "font_size": 16,
        "font_color": PAPER,
        "bg_color": LEVELS[UNKNOWN],
        "align": "center",
    },
    "verdict": {"font_size": 12, "text_wrap": True, "bg_color": MIST, "indent": 1},
    "big": {"bold": True, "font_size": 17, "align": "right"},
    "band": {"font_size": 9, "font_color": SOFT, "align": "right", "valign": "top", **_RULED},
    "small": {"font_size": 9, "font_color": SOFT, "indent": 1},
    "ruled": _RULED,
    "key": {"font_size": 10, "bold": True},
    "link": {"font_color": LINK, "underline": 1},
    "foot": {"font_size": 9, "font_color": SOFT, "top": 1, "top_color": RULE, "underline": 1},
}
"""Properties of each style, on top of the base."""

NUMBERS = {
    "whole": "#,##0",
    "one": "#,##0.0",
    "two": "#,##0.00",
    "three": "0.000",
    "rate": "[<0.001]0.0E+00;[<1]0.0000;#,##0.00",
    "air": "[<10]0.000;0.00",
    "daily": "[>=100]#,##0;[>0]0.0;",
    "of_day": "[>=100]#,##0;0.0",
    "ppm": "[<1]0.000;[<100]0.0;#,##0",
    "used": "[>=1000]#,##0;[>=0.001]General;[>0]0.0E+00",
    "signed": "[>=0.5]+#,##0;[<=-0.5]-#,##0;0",
    "money": "#,##0.00",
    "price": "[<0.05]0.00000;0.0000",
    "date": "d mmm yyyy",
    "day": "ddd d mmm",
    "month": "mmmm yyyy",
    "general": "General",
    "text": "General",
}
"""Number formats by name."""


def properties(style: str, number: str = "general", system: str = METRIC) -> dict[str, Any]:
    """A style's properties with a number format."""
    aligned = {"align": "left", "indent": 1} if number == "text" and style != "column" else {}
    return {**BASE, **aligned, **STYLES[style], "num_format": day_format(NUMBERS[number], system)}
