"""What a cell says of what to type in it, with an example: its own, or the demo plant's."""

from __future__ import annotations

import datetime as dt
import re
from typing import Any

from gasfuncs.workbooks.sheets.kinds import US, days_told, prompt, told
from gasfuncs.workbooks.sheets.parts import Book, Column, Input, Table
from gasfuncs.workbooks.sheets.us_demo import in_us

WITH_EXAMPLE = re.compile(r"\d|for example")
DIGITS = 4
LONGEST = 255
"""Letters of a prompt that Excel shows."""


class Prompts:
    """The prompts of a book."""

    def __init__(self, book: Book, system: str) -> None:
        self._given = in_us(book, book.demo()) if system == US else book.demo()
        self._system = system

    def of_input(self, typed: Input) -> str:
        """The prompt of a value that is typed once."""
        return self._with_example(typed, self._given.inputs.get(typed.name))

    def of_column(self, table: Table, column: Column) -> str:
        """The prompt of a column of a table."""
        at = table.typed.index(column)
        values = (row[at] for row in self._given.tables.get(table.name, ()))
        return self._with_example(column, next((v for v in values if v is not None), None))

    def _with_example(self, typed: Input | Column, value: Any) -> str:
        """A choice has its list, which is example enough."""
        says = prompt(typed.prompt, self._system)
        if value is None or typed.choices or WITH_EXAMPLE.search(says):
            return says
        example = self._shown(value, typed.kind)
        begins = " For" if says.endswith(".") else "; for"
        made = f"{says}{begins} example {example}"
        return made if len(made) <= LONGEST else says

    def _shown(self, value: Any, kind: str) -> str:
        if isinstance(value, dt.date):
            return days_told(f"{value.day} {value:%b %Y}", self._system)
        if isinstance(value, str):
            return value
        number = float(f"{told(value, kind, self._system):.{DIGITS}g}")
        return f"{number:,.10g}"
