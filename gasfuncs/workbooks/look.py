"""How every workbook looks: colours, cell styles, page setup."""

from __future__ import annotations

from typing import Any

INK = "#22303C"
SLATE = "#35495E"
MIST = "#EEF1F4"
RULE = "#C3CBD3"
PAPER = "#FFFFFF"
INPUT = "#FFF6DC"
INPUT_EDGE = "#C9A64B"
GOOD = "#2E6B4F"
WARN = "#A34A28"
WARN_FILL = "#FBE9E1"

GOOD_MARK = {"font_color": GOOD, "bold": True}
BAD_MARK = {"font_color": WARN, "bg_color": WARN_FILL, "bold": True}
"""How a verdict is marked."""

SERIES = ("#17405C", "#CF7F2D", "#A5C8C2", "#7F4256", "#D9D4C2", "#587A4B")
"""Colours of chart series, of lightness 22, 56, 74, 34, 83 and 42 %: told apart in grey too."""

FONT = "Calibri"

_BASE: dict[str, Any] = {"font_name": FONT, "font_size": 11, "font_color": INK, "valign": "vcenter"}

STYLES: dict[str, dict[str, Any]] = {
    "plain": {},
    "title": {"font_size": 20, "bold": True, "font_color": SLATE},
    "subtitle": {"font_size": 11, "font_color": SLATE, "italic": True},
    "answer": {
        "font_size": 15, "text_wrap": True, "valign": "vcenter", "bg_color": MIST, "border": 1,
        "border_color": RULE, "indent": 1,
    },
    "heading": {"font_size": 13, "bold": True, "font_color": SLATE, "bottom": 1,
                "bottom_color": SLATE},
    "column": {"bold": True, "font_color": PAPER, "bg_color": SLATE, "text_wrap": True,
               "align": "center", "border": 1, "border_color": SLATE},
    "unit": {"italic": True, "font_color": SLATE, "align": "center", "font_size": 10},
    "label": {"text_wrap": True},
    "note": {"text_wrap": True, "font_color": SLATE, "font_size": 10, "valign": "top"},
    "remark": {"text_wrap": True, "font_color": SLATE, "font_size": 10, "indent": 1},
    "body": {"text_wrap": True, "valign": "top", "indent": 1, "bottom": 1, "bottom_color": RULE},
    "caution": {"text_wrap": True, "valign": "vcenter", "bg_color": WARN_FILL, "left": 5,
                "left_color": WARN, "indent": 1},
    "input": {"bg_color": INPUT, "border": 1, "border_color": INPUT_EDGE, "locked": False},
    "value": {"border": 1, "border_color": RULE},
    "key": {"border": 1, "border_color": RULE, "align": "right"},
    "total": {"bold": True, "top": 1, "bottom": 6, "border_color": SLATE},
    "check": {"align": "center", "border": 1, "border_color": RULE, "font_size": 10,
              "text_wrap": True},
    "right": {"align": "right", "italic": True, "font_color": SLATE, "font_size": 10},
    "hidden": {"font_color": PAPER},
    "legend": {"bold": True, "align": "center"},
    "signature": {"bottom": 1, "bottom_color": SLATE},
    "big": {"font_size": 18, "bold": True, "font_color": SLATE, "align": "left"},
}  # fmt: skip
"""Properties of each cell style, on top of the base."""

NUMBERS = {
    "whole": "#,##0",
    "one": "#,##0.0",
    "two": "#,##0.00",
    "three": "0.000",
    "four": "0.0000",
    "small": "0.0E+00",
    "rate": "[<0.001]0.0E+00;[<1]0.0000;#,##0.00",
    "ppm": "[<1]0.000;[<100]0.0;#,##0",
    "percent": '[<10]0.0 %;[<10000]#,##0 %;">1e6 %"',
    "share": "0 %",
    "sparse": "#,##0;-#,##0;–",
    "gas": "[<1000]#,##0.0;#,##0",
    "bore": "[<20]0.000;0.0",
    "limit": "[<1000]General;#,##0",
    "used": "[>=0.001]#,##0.00##;[>0]0.0E+00;General",
    "money": "#,##0.00",
    "date": "d mmm yyyy",
    "day": "ddd d mmm",
    "month": "mmmm yyyy",
    "general": "General",
    "text": "General",
}
"""Number formats by name. LibreOffice shows the minus only in the first of several sections;
"used" is for numbers that are not negative."""


def properties(style: str, number: str = "general") -> dict[str, Any]:
    """A style's properties with a number format."""
    aligned = {"align": "left", "indent": 1} if number == "text" else {}
    return {**_BASE, **STYLES[style], **aligned, "num_format": NUMBERS[number]}
