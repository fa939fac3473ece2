"""What a workbook is made of, as data. Nothing here knows an address.

Formulas are Excel formulas with places: `{Log.Date}` is a column, `{Date}` the cell of that column
in the same row, `{Site_bar}` a named input or row, `{Level as L(liq)}` the value in another unit,
`{unit liquid}` the book's unit as text, `{row}` the number of the row in its table. Texts have
places too, with a number format where a number is told: `{Lost:#,##0} {unit amount}`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

Choices = tuple[str, ...] | str
"""A list of words, or a table's column: "Furnaces.Furnace"."""

TYPE_HERE, READ_HERE, BACKGROUND = "type here", "read here", "background"
"""What a sheet is for; its tab has the colour of it."""

ACT, WATCH, FINE, UNKNOWN = "act", "watch", "in order", "cannot tell"
"""Levels of a verdict."""


@dataclass(frozen=True)
class Input:
    """A value that the user types once. Limits are metric; `prompt` says what, with an example.

    An example of a quantity is a place: `{210 length}` is told in the book's unit.
    """

    name: str
    label: str
    kind: str
    prompt: str
    low: float | None = None
    high: float | None = None
    choices: Choices = ()
    required: bool = True
    number: str = ""


@dataclass(frozen=True)
class Case:
    """What a sentence says `when` a formula is true; a blank `when` is always true.

    A verdict has the level "cannot tell" while rows of tables are left out, but where it is `firm`:
    none of them could undo it.
    """

    when: str
    says: str
    level: str = ""
    firm: bool = False


@dataclass(frozen=True)
class Column:
    """A column of a table: typed by the user, or with a formula calculated.

    `answers` is the unit that the formula answers in, where that is not the book's. A `result` is
    what the row is there for: without a number in it the row's Check is not "ok". A `helper` is
    hidden.
    """

    name: str
    kind: str = "text"
    prompt: str = ""
    formula: str = ""
    cases: tuple[Case, ...] = ()
    """A text in place of a formula: what the first case that holds says."""
    answers: str = ""
    low: float | None = None
    high: float | None = None
    choices: Choices = ()
    required: bool = True
    result: bool = False
    helper: bool = False
    array: bool = False
    number: str = ""
    width: float = 0

    @property
    def calculated(self) -> bool:
        """Whether the column is not typed."""
        return bool(self.formula or self.cases)


def words(name: str, *cases: Case, **more: Any) -> Column:
    """A calculated column with a text, case by case."""
    return Column(name, "text", cases=cases, **more)


def made(name: str, kind: str, formula: str, **more: Any) -> Column:
    """A calculated column."""
    return Column(name, kind, formula=formula, **more)


def helper(name: str, formula: str, kind: str = "number", **more: Any) -> Column:
    """A calculated column that only others need, hidden."""
    return Column(name, kind, formula=formula, helper=True, **{"number": "one", **more})


@dataclass(frozen=True)
class Rule:
    """A row of a table is wrong `when` this holds, and its Check then `says` why."""

    when: str
    says: str


@dataclass(frozen=True)
class Table:
    """A native table. With typed columns it has spare rows and a Check; else `rows` rows.

    A formula is left blank until the row's first column is typed. `log`: a record that grows,
    not printed; `unique` columns together may stand only once. The rows of a table that stands
    `aside` have no say in the verdict.
    """

    name: str
    columns: tuple[Column, ...]
    heading: str = ""
    rules: tuple[Rule, ...] = ()
    rows: int = 0
    log: bool = False
    unique: tuple[str, ...] = ()
    beside: bool = False
    aside: bool = False

    @property
    def typed(self) -> tuple[Column, ...]:
        """The columns that are typed; they come first."""
        return tuple(column for column in self.columns if not column.calculated)


@dataclass(frozen=True)
class Row:
    """A named number or text of a block."""

    name: str
    label: str
    formula: str
    kind: str = "text"
    note: str = ""
    answers: str = ""
    array: bool = False
    number: str = ""
    hidden: bool = False
    """On Inputs, where another row shows the same in the book's unit."""


@dataclass(frozen=True)
class Group:
    """Inputs under one heading, and rows that are calculated beside them."""

    heading: str
    inputs: tuple[Input | Row, ...]


@dataclass(frozen=True)
class Block:
    """Named rows under a heading."""

    heading: str
    rows: tuple[Row, ...]
    beside: bool = False


@dataclass(frozen=True)
class Text:
    """A paragraph; `role` is a style of look.STYLES."""

    text: str
    role: str = "note"
    lines: int = 1
    beside: bool = False


@dataclass(frozen=True)
class Series:
    """A line or bar set of a chart: a table's columns. `limit` draws it as a limit.

    The name is a text, or a named row of a block as "=Name".
    """

    name: str
    values: str
    across: str
    band: str = ""
    """A column with the half width of the band of each value."""
    limit: bool = False
    joined: bool = True
    """Whether a line runs from point to point."""
    dots: bool = True
    """Whether each point is marked."""
    shown: bool = True
    """Without points and line it only widens the axis, for the ends of a band."""
    kind: str = ""
    """Another kind of drawing than the chart's."""
    edge: bool = False
    """The end of a band, as a thin line."""


@dataclass(frozen=True)
class Chart:
    """A chart; `says` is its alternative text. Titles have places for units."""

    kind: str
    title: str
    across: str
    up: str
    says: str
    series: tuple[Series, ...]
    subtype: str = ""
    x: dict[str, Any] = field(default_factory=dict)
    y: dict[str, Any] = field(default_factory=dict)
    rows: int = 20
    beside: bool = False
    only: slice = field(default_factory=lambda: slice(None))
    """Of the rows of its tables."""
    keys: bool = False
    """The legend stands in cells below it, so that a series without a name has none."""


@dataclass(frozen=True)
class Point:
    """A point of a form: what to do is the label of what is found, which is typed or calculated.

    `judged` is a formula that says yes, tight or passed; no, leaks or failed; cannot tell or
    repeat; anything else leaves the point open. Points `p` have the names p, p_judged, p_by, p_on.
    """

    found: Input | Row
    wanted: str
    judged: str
    unit: str = ""
    """Where it is not that of the kind."""


@dataclass(frozen=True)
class Form:
    """Points to be worked down, judged, and signed with a name and a date; it is printed.

    Its columns have the names Form_what, Form_results and Form_dates.
    """

    name: str
    heading: str
    points: tuple[Point, ...]
    beside: bool = False


Part = Table | Block | Text | Chart | Form


@dataclass(frozen=True)
class Sheet:
    """A sheet: its parts stand below each other, or `beside` the one before; a log stands last.

    What is typed and what stands in the background is not printed with the book, but for forms.
    """

    name: str
    purpose: str
    role: str
    parts: tuple[Part, ...]
    widths: tuple[float, ...] = ()
    landscape: bool = True
    printed: int = 0
    """Rows that are printed with the book, where not all are; the purpose says so."""


@dataclass(frozen=True)
class Sentence:
    """The first case that holds; each case has cells of its own on the sheet Words."""

    name: str
    cases: tuple[Case, ...]


@dataclass(frozen=True)
class Number:
    """A number of Start with its band: the half width, or the names of its ends."""

    label: str
    value: str
    band: str = ""
    kind: str = "amount"
    number: str = ""


@dataclass(frozen=True)
class Step:
    """What to do next, `when` it is due, and the sheet to do it on."""

    when: str
    says: str
    sheet: str


@dataclass(frozen=True)
class Test:
    """A named test of the sheet Checks: "ok", or what is wrong `when` it is wrong."""

    name: str
    when: str
    says: str
    sheet: str


@dataclass(frozen=True)
class Given:
    """What is typed in a book, in metric units: inputs by name, rows of tables by table."""

    inputs: dict[str, Any] = field(default_factory=dict)
    tables: dict[str, Sequence[Sequence[Any]]] = field(default_factory=dict)
    created: dt.datetime | None = None


@dataclass(frozen=True)
class Book:
    """A workbook declared."""

    name: str
    title: str
    question: str
    functions: tuple[str, ...]
    groups: tuple[Group, ...]
    sheets: tuple[Sheet, ...]
    verdict: Sentence
    numbers: tuple[Number, ...]
    chart: Chart
    steps: tuple[Step, ...]
    demo: Callable[[], Given]
    tests: tuple[Test, ...] = ()
    sentences: tuple[Sentence, ...] = ()
    others: tuple[Row, ...] = ()
    """The numbers that other books ask for."""
    period: str = ""
    """A text with places: what the numbers stand for."""
    cautions: tuple[str, ...] = ()


def inputs_of(book: Book) -> Iterator[Input]:
    """What is typed in a book outside of its tables."""
    for group in book.groups:
        yield from (each for each in group.inputs if isinstance(each, Input))
    for sheet in book.sheets:
        for part in sheet.parts:
            points = part.points if isinstance(part, Form) else ()
            yield from (each.found for each in points if isinstance(each.found, Input))
