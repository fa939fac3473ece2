"""What may be typed: validation with a prompt, and the check of a row, from one declaration."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from gasfuncs.definition.terms import serial
from gasfuncs.workbooks.sheets.formulas import LONGEST, Scope, first_of, shown
from gasfuncs.workbooks.sheets.kinds import days_told, kind_named, told
from gasfuncs.workbooks.sheets.parts import Choices, Column, Input, Table

FIRST_DAY, LAST_DAY = dt.date(2000, 1, 1), dt.date(2099, 12, 31)
UNBOUND = 1e12

Typed = Column | Input


def is_number(typed: Typed) -> bool:
    """Whether a number or a date is typed."""
    return typed.kind != "text" and not typed.choices


def limits(typed: Typed, system: str) -> tuple[float, float]:
    """The least and the most that may be typed, in the book's unit."""
    if typed.kind in ("date", "month"):
        return int(serial(FIRST_DAY)), int(serial(LAST_DAY))
    low = 0 if typed.low is None else told(typed.low, typed.kind, system, 4)
    high = UNBOUND if typed.high is None else told(typed.high, typed.kind, system, 4)
    return low, high


def _range_told(typed: Typed, system: str) -> str:
    if typed.kind in ("date", "month"):
        return days_told("a date such as 5 Oct 2026", system)
    low, high = limits(typed, system)
    unit = kind_named(typed.kind).unit(system)
    words = f"{low:,.10g} or more" if high >= UNBOUND else f"from {low:,.10g} to {high:,.10g}"
    return f"a number, {words} {unit}".strip()


def wanted(typed: Typed, system: str) -> str:
    """What is wanted, in words."""
    if isinstance(typed.choices, tuple) and typed.choices:
        return "one of " + ", ".join(typed.choices)
    if typed.choices:
        return "one of the list"
    return _range_told(typed, system) if is_number(typed) else "a text"


def is_good(cell: str, typed: Typed, scope: Scope) -> str:
    """A formula that is true where what is typed will do."""
    if isinstance(typed.choices, tuple) and typed.choices:
        good = "OR(" + ",".join(f'{cell}="{each}"' for each in typed.choices) + ")"
    elif isinstance(typed.choices, str):
        good = f"COUNTIF({scope.formula('{' + typed.choices + '}')},{cell})>0"
        good = f'AND({cell}<>"",{good})'
    elif is_number(typed):
        low, high = limits(typed, scope.system)
        most = f",{cell}<={high:.15g}" if high < UNBOUND else ""
        good = f"AND(ISNUMBER({cell}),{cell}>={low:.15g}{most})"
    else:
        good = f'{cell}<>""'
    return good if typed.required else f'OR({cell}="",{good})'


def validation(typed: Typed, system: str, says: str, source: Any = None) -> dict[str, Any]:
    """The validation of a cell with what its prompt says; `source` is the range of a list."""
    rule: dict[str, Any] = {
        "input_title": getattr(typed, "label", typed.name)[:32],
        "input_message": says[:255],
        "error_title": "Not so",
        "error_message": f"Type {wanted(typed, system)}."[:255],
    }
    if typed.choices:
        return {
            **rule,
            "validate": "list",
            "source": source or list(typed.choices),
            "ignore_blank": not isinstance(typed.choices, str),
        }
    if is_number(typed):
        low, high = limits(typed, system)
        return {
            **rule,
            "validate": "decimal",
            "criteria": "between",
            "minimum": low,
            "maximum": high,
        }
    return {**rule, "validate": "any"}


def row_check(table: Table, scope: Scope) -> list[str]:
    """The formulas of Check and of the columns that it goes on in, where it would be too long."""
    inside = scope.within(table)
    cases = [(inside.formula(when), inside.text(says)) for when, says in _typed_cases(table, scope)]
    cases += [(inside.formula(rule.when), inside.text(rule.says)) for rule in table.rules]
    if table.unique:
        same = ",".join(f"{{{table.name}.{each}}},{{{each}}}" for each in table.unique)
        twice = inside.formula(f"COUNTIFS({same})>1")
        cases.append((twice, f'"twice: the same {" and ".join(table.unique)}"'))
    results = [column.name for column in table.columns if column.result]
    if results:
        missing = inside.formula(f"COUNT({_cells(results)})<{len(results)}")
        cases.append((missing, '"cannot be calculated"'))
    return _in_pieces(table, cases)


def _typed_cases(table: Table, scope: Scope) -> Iterator[tuple[str, str]]:
    """What may be wrong with what is typed in a row, and what is then said."""
    numbers = [column for column in table.typed if is_number(column)]
    needed = [column.name for column in table.typed if column.required and column not in numbers]
    wanted_numbers = [column.name for column in numbers if column.required]
    optional = [column.name for column in numbers if not column.required]
    positive = [column.name for column in numbers if not column.low and column.kind != "date"]
    for names in _batches(needed):
        yield f"COUNTA({_cells(names)})<{len(names)}", f"missing: {_names(names)}"
    for names in _batches(wanted_numbers):
        yield f"COUNT({_cells(names)})<{len(names)}", f"a number is missing: {_names(names)}"
    for names in _batches(optional):
        cells = _cells(names)
        yield f"COUNT({cells})<COUNTA({cells})", f"a number is needed: {_names(names)}"
    for names in _batches(positive):
        yield f"MIN({_cells(names)})<0", f"below 0: {_names(names)}"
    for column in table.typed:
        yield from _bounds(column, scope)


def _bounds(column: Column, scope: Scope) -> Iterator[tuple[str, str]]:
    """What may be wrong with one column: out of its limits, not in its list."""
    cell = f"{{{column.name}}}"
    says = f"{column.name}: {wanted(column, scope.system)}"
    given = "" if column.required else f'{cell}<>"",'
    if column.choices:
        words = "|".join(("", *column.choices, ""))
        listed = isinstance(column.choices, tuple)
        out = (
            f'ISERROR(FIND("|"&{cell}&"|","{words}"))'
            if listed
            else f"COUNTIF({{{column.choices}}},{cell})=0"
        )
        yield (f"AND({given}{out})" if given else out), f"{column.name}: not in the list"
    elif is_number(column) and (column.low or column.high is not None):
        low, high = limits(column, scope.system)
        most = f",{cell}>{high:.15g}" if high < UNBOUND else ""
        out = f"OR({cell}<{low:.15g}{most})"
        yield (f"AND({given}{out})" if given else out), says


def _batches(names: list[str], longest: int = 40) -> Iterator[list[str]]:
    """Names in groups that fit into a short formula."""
    group: list[str] = []
    for name in names:
        if group and len("".join(group)) + len(name) > longest:
            yield group
            group = []
        group = [*group, name]
    if group:
        yield group


def _cells(names: Iterable[str]) -> str:
    return ",".join(f"{{{name}}}" for name in names)


def _names(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " or " + names[-1]


def more_check(number: int) -> str:
    """The column in which a Check goes on."""
    return f"Check {number}"


def _in_pieces(table: Table, cases: list[tuple[str, str]]) -> list[str]:
    """IFs in order, in as many formulas as keep each of them short."""
    first, last = table.typed[0].name, table.typed[-1].name
    blank = f"COUNTA({table.name}[[#This Row],[{first}]:[{last}]])=0"
    idle = (_not_begun(table) or blank, '""')
    pieces: list[list[tuple[str, str]]] = [[(blank, '""')]]
    for case in cases:
        longer = [*pieces[-1], case]
        if len(shown(first_of(longer, "[@[Check 2]]"))) > LONGEST - 55:
            pieces.append([idle, case])
        else:
            pieces[-1] = longer
    following = [
        f"{table.name}[[#This Row],[{more_check(number)}]]" for number in range(2, len(pieces) + 1)
    ]
    made = [first_of(piece, rest) for piece, rest in zip(pieces, [*following, '"ok"'], strict=True)]
    return [f'=IFERROR({made[0]},"cannot be calculated")', *(f"={each}" for each in made[1:])]


def _not_begun(table: Table) -> str:
    """That what is asked for first is missing; the first piece says so, and no other need look."""
    needed = [column for column in table.typed if column.required]
    texts = [column for column in needed if not is_number(column)]
    asked_first = (texts or needed)[:1]
    return "".join(f'{table.name}[[#This Row],[{each.name}]]=""' for each in asked_first)


def list_of(choices: Choices) -> tuple[str, str] | None:
    """The table and the column that a list is taken from."""
    if not isinstance(choices, str) or not choices:
        return None
    table, _, column = choices.partition(".")
    return table, column
