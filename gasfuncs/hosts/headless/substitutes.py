"""Native functions that the engine gets wrong, computed here in its place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.values import CellValue


@dataclass(frozen=True, slots=True)
class _Parameter:
    name: str
    required: bool = True
    whole: bool = True
    variadic: bool = False


class TextJoin:
    """TEXTJOIN: the engine keeps empty texts where it should leave them out."""

    name = "TEXTJOIN"
    parameters = (
        _Parameter("delimiter"),
        _Parameter("ignore_empty"),
        _Parameter("text", variadic=True),
    )
    spills = False

    def cells(self, delimiter: Any, ignore_empty: Any, *texts: Any) -> CellValue:
        if isinstance(delimiter, list):
            return CellError("#VALUE!", "TEXTJOIN is computed only for one delimiter")
        values = [value for text in texts for value in _values(text)]
        for value in (delimiter, ignore_empty, *values):
            if isinstance(value, CellError):
                return value
        written = [as_text(value) for value in values]
        if ignore_empty:
            written = [text for text in written if text]
        return as_text(delimiter).join(written)


SUBSTITUTES = {"TEXTJOIN": TextJoin()}


def _values(argument: Any) -> Iterator[CellValue]:
    if isinstance(argument, list):
        for row in argument:
            yield from row
    else:
        yield argument


def as_text(value: CellValue) -> str:
    """A value as a spreadsheet joins it to text: numbers with up to 15 digits."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, int | float):
        text = f"{value:.15g}"
        mantissa, mark, exponent = text.partition("e")
        return f"{mantissa}E{exponent}" if mark else text
    return str(value)
