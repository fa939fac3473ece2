"""Formulas and texts with places, made into Excel formulas."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from gasfuncs.errors import DefinitionError
from gasfuncs.workbooks.sheets.kinds import day_format, in_unit, kind_named
from gasfuncs.workbooks.sheets.parts import Case, Table

PLACE = re.compile(r"\{([^{}]+)\}")

LONGEST = 250
"""Characters of a formula as the user sees it."""


@dataclass(frozen=True)
class Scope:
    """What places may stand for: the book's units, its tables, the kinds of its named cells."""

    system: str
    tables: Mapping[str, Table] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    table: Table | None = None

    def within(self, table: Table) -> Scope:
        """The same, in a row of a table."""
        return replace(self, table=table)

    def formula(self, template: str) -> str:
        """An expression without its "=": every place replaced."""
        made = PLACE.sub(lambda match: self._place(match[1]), template)
        return made.replace('"d mmm yyyy"', f'"{day_format("d mmm yyyy", self.system)}"')

    def texts(self, template: str) -> list[str]:
        """The named cells among its places that hold a text."""
        named = dict.fromkeys(PLACE.findall(template))
        return [place for place in named if self.names.get(place) == "text"]

    def cases(self, cases: Sequence[Case]) -> str:
        """An expression that gives the text of the first case that holds, "" where none does."""
        made = '""'
        for case in reversed(cases):
            says = self.text(case.says)
            made = f"IF({self.formula(case.when)},{says},{made})" if case.when else says
        return made

    def text(self, template: str) -> str:
        """An expression that gives a text."""
        pieces: list[str] = []
        literal = ""
        at = 0
        for match in PLACE.finditer(template):
            literal += template[at : match.start()]
            at = match.end()
            if match[1].startswith("unit "):
                literal += self._unit(match[1])
                continue
            pieces += [_quoted(literal)] if literal else []
            pieces.append(self._told(match[1]))
            literal = ""
        literal += template[at:]
        if literal or not pieces:
            pieces.append(_quoted(literal))
        return "&".join(pieces)

    def fixed(self, template: str) -> str:
        """A text that is known when the book is written: only units have places in it."""
        return PLACE.sub(lambda match: self._unit(match[1]), template)

    def answer(self, template: str, kind: str, answers: str) -> str:
        """A formula's expression in the book's unit, where it answers in another.

        A number that a function of ours answers is multiplied by 1: an error that Excel shows as a
        text becomes an error so.
        """
        unit, made = kind_named(kind).unit(self.system), self.formula(template)
        if made.startswith("GAS_") and kind != "text":
            made = f"1*{made}"
        if not answers or answers == unit:
            return made
        back = in_unit("1", kind, self.system, answers)
        return f"({made})/({back})"

    def _told(self, place: str) -> str:
        reference, _, number = place.partition(":")
        if number == "date":
            number = "d mmm yyyy"
        if "mmm" in number:
            return _date_told(self._place(reference), day_format(number, self.system))
        value, _, band = reference.partition(" ± ")
        if band:
            return with_band(self._place(value), self._place(band))
        told = self._place(reference)
        return f'TEXT({told},"{number}")' if number else told

    def _place(self, place: str) -> str:
        if place.startswith("unit "):
            return _quoted(self._unit(place))
        if place == "row":
            table = self._own()
            return f"(ROW()-ROW({table.name}[[#Headers],[{table.columns[0].name}]]))"
        if found := self._found(place):
            return found[0]
        reference, _, unit = place.rpartition(" as ")
        if not (found := self._found(reference)):
            inside = f" in {self.table.name}" if self.table else ""
            raise DefinitionError(f"{{{place}}}{inside} is no column and no name of this book")
        return in_unit(*found, self.system, unit)

    def _unit(self, place: str) -> str:
        return kind_named(place.removeprefix("unit ")).unit(self.system)

    def _own(self) -> Table:
        if self.table is None:
            raise DefinitionError("{row} stands in no table")
        return self.table

    def _found(self, reference: str) -> tuple[str, str] | None:
        """The reference and its kind."""
        if ":" in reference:
            return self._range(reference)
        if self.table and (kind := column_kind(self.table, reference)):
            return f"{self.table.name}[[#This Row],[{reference}]]", kind
        name, _, column = reference.partition(".")
        if column and name in self.tables and (kind := column_kind(self.tables[name], column)):
            return f"{name}[{column}]", kind
        return (reference, self.names[reference]) if reference in self.names else None

    def _range(self, reference: str) -> tuple[str, str] | None:
        """Columns next to each other: of this row, "User 1:User 7", or of a table."""
        first, _, last = reference.partition(":")
        table, _, column = first.rpartition(".")
        if not table and self.table and (kind := column_kind(self.table, first)):
            return f"{self.table.name}[[#This Row],[{first}]:[{last}]]", kind
        if table in self.tables and (kind := column_kind(self.tables[table], column)):
            return f"{table}[[{column}]:[{last}]]", kind
        return None


def column_kind(table: Table, column: str) -> str:
    """The kind of a table's column, "" where there is none."""
    if column == CHECK and table.typed:
        return "text"
    return next((each.kind for each in table.columns if each.name == column), "")


CHECK = "Check"
"""The column that says what is wrong with a row, or "ok"."""


def _date_told(value: str, number: str) -> str:
    """A date as a text, blank where it is none: the programs tell a blank by dates of their own."""
    return f'TEXT(IF(AND({value}>0,{value}<{AFTER_ALL}),{value},""),"{number}")'


AFTER_ALL = 73_051
"""1 Jan 2100."""


def to_band(value: str, band: str) -> str:
    """A value to the digits that its band allows: the band has two."""
    return f"ROUND({value},1-INT(LOG10(MAX({band},1E-9))))"


def told_to_band(value: str, band: str) -> str:
    """A value as a text of the digits that its band allows, zeros at the end too."""
    return f"FIXED({value},IF({band}>0,1-INT(LOG10({band})),2))"


def four_digits(value: str) -> str:
    """A value below 1,000 as a text of four digits, zeros at the end too."""
    return f"FIXED({value},3-INT(LOG10(MAX({value},1E-9))))"


def with_band(value: str, band: str) -> str:
    """A value with its band as a text."""
    return f'{told_to_band(value, band)}&" ± "&{told_to_band(band, band)}'


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def shown(formula: str) -> str:
    """A formula as the user sees it."""
    own = re.sub(r"\w+\[\[#This Row\],\[(\w+)\]\]", r"[@\1]", formula)
    own = re.sub(r"\w+\[\[#This Row\],(\[[^\]]+\])\]", r"[@\1]", own)
    return own.replace("_xlfn._xlws.", "").replace("_xlfn.", "")


def first_of(cases: list[tuple[str, str]], otherwise: str) -> str:
    """IFs in order: the first condition that holds gives its value."""
    made = otherwise
    for when, value in reversed(cases):
        made = f"IF({when},{value},{made})"
    return made


_YOUNG = {
    **dict.fromkeys(("FILTER", "SORT"), "_xlfn._xlws."),
    **dict.fromkeys(
        (
            "UNIQUE",
            "SORTBY",
            "SEQUENCE",
            "XLOOKUP",
            "XMATCH",
            "LET",
            "TEXTJOIN",
            "CONCAT",
            "IFS",
            "SWITCH",
            "MAXIFS",
            "MINIFS",
            "FORECAST.LINEAR",
            "NORM.S.INV",
            "NORM.S.DIST",
            "NORM.DIST",
            "STDEV.S",
            "STDEV.P",
            "VAR.S",
            "RANK.EQ",
            "PERCENTILE.INC",
        ),
        "_xlfn.",
    ),
}
"""Functions younger than the file format, which stores them with a prefix."""

_YOUNG_CALL = re.compile(r"(?<![\w.])(" + "|".join(map(re.escape, _YOUNG)) + r")\(")


def stored(formula: str) -> str:
    """A formula as the file format stores it."""
    return _YOUNG_CALL.sub(lambda match: _YOUNG[match[1]] + match[0], formula)
