"""Reservoir commissioning: a number of what was typed, by which a later change is seen.

Whoever releases writes it down beside the signature. A limit, a reading or a table that is changed
afterwards makes another number, and the release no longer counts.
"""

from __future__ import annotations

from xlsxwriter.utility import xl_col_to_name

from gasfuncs.workbooks.sheets.commission_typed import (
    FURNACE,
    HELIUM,
    PUMP,
    PURITY,
    READS,
    RISE,
    SURFACES,
    VACUUM,
    VESSEL,
)
from gasfuncs.workbooks.sheets.kinds import kind_named
from gasfuncs.workbooks.sheets.parts import Block, Column, Input, Row, Table

MOST = 9973
"""A prime: the number has four digits, and one change in ten thousand is not seen."""

LARGEST = 100_000
"""Larger numbers count as this one: programs tell different remainders of them."""

LETTERS = 100
"""Of the texts, and of each text in a table, that are reckoned with."""

JUDGED = ("Low", "High", "Cycles_done", "Filled", "Oxygen_read", "Dew_read")
"""Numbers further on that a judgement rests on."""

SEEN = ("Isolated", "Area_safe", "Vacuum_proof", "Relief_confirmed", "Air_filled")


def _is_text(kind: str) -> bool:
    return kind_named(kind).number == "text"


TYPED = [
    each
    for group in (VESSEL, VACUUM, PURITY, FURNACE)
    for each in group.inputs
    if isinstance(each, Input)
]


def _letters(text: str) -> str:
    """A sum that each letter of a text adds to by its place, or of the texts of a column.

    Letters beyond ASCII have other codes on other machines, and are left out.
    """
    places = f"COLUMN($A:${xl_col_to_name(LETTERS - 1)})"
    letter = f'CODE(MID({text}&REPT(" ",{LETTERS}),{places},1))'
    return f"({letter}<128)*{letter}*{places}"


def _mark(formula: str) -> str:
    """What is left of a number, in whole nanos, by the prime."""
    bounded = f"MAX(-{LARGEST},MIN({LARGEST},N({formula})))"
    return f"ROUND(IFERROR(MOD(ROUND({bounded}*1E9,0),{MOST}),0),0)"


def _of_column(table: Table, column: Column) -> str:
    """The mark of a column; each row counts otherwise than the rows next to it."""
    cells = f"{{{table.name}.{column.name}}}"
    weight = f"1+MOD(ROW({cells}),3)"
    if _is_text(column.kind):
        return f"IFERROR(MOD(SUMPRODUCT({_letters(cells)}*({weight})),{MOST}),0)"
    return _mark(f"SUMPRODUCT({cells},{weight})")


MARKS = [
    *((each.label, _mark(f"{{{each.name}}}")) for each in TYPED if not _is_text(each.kind)),
    *((name, _mark(f"{{{name}}}")) for name in JUDGED),
    *(
        (f"{table.name}, {column.name}", _of_column(table, column))
        for table in (PUMP, SURFACES, READS, RISE, HELIUM)
        for column in table.columns
        if not column.calculated
    ),
]
TEXTS = (*SEEN, "Oxygen_read", *(each.name for each in TYPED if _is_text(each.kind)))
"""Numbers that stand in their cells are left out: programs write them differently."""


def _sum(place: int, label: str, mark: str) -> Row:
    """The sum so far, this mark included."""
    before = f"{{State_{place - 1}}}+" if place > 1 else ""
    return Row(f"State_{place}", label, f"{before}{mark}*{place}", "count")


STATE = Block(
    "A number of what was typed",
    (
        *(_sum(place, *each) for place, each in enumerate(MARKS, 1)),
        Row("State_text", "Texts", '&"|"&'.join(f"T({{{name}}})" for name in TEXTS)),
        Row(
            "State",
            "State of this sheet",
            f"1+MOD({{State_{len(MARKS)}}}+SUMPRODUCT({_letters('{State_text}')}),{MOST})",
            "count",
        ),
    ),
)
