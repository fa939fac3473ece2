"""Formulas as trees, read from the file's text."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from gasfuncs.hosts.headless.addresses import (
    MAX_COLUMN,
    MAX_ROW,
    column_number,
)
from gasfuncs.hosts.headless.errors import FormulaError


@dataclass(frozen=True, slots=True)
class Number:
    """A number, as it was written."""

    text: str


@dataclass(frozen=True, slots=True)
class Text:
    """A text in quotes."""

    value: str


@dataclass(frozen=True, slots=True)
class Logical:
    """TRUE or FALSE."""

    value: bool


@dataclass(frozen=True, slots=True)
class ErrorLiteral:
    """An error written out, as `#N/A`."""

    code: str


@dataclass(frozen=True, slots=True)
class Missing:
    """An argument left out, as between the commas of `F(1,,2)`."""


@dataclass(frozen=True, slots=True)
class Reference:
    """A cell or an area. `fixed_...` is the `$`; whole columns and rows run to the sheet's edge."""

    sheet: str | None
    row1: int
    column1: int
    row2: int
    column2: int
    fixed_row1: bool = True
    fixed_column1: bool = True
    fixed_row2: bool = True
    fixed_column2: bool = True

    @property
    def single(self) -> bool:
        """Whether it is one cell, for every cell that the formula is filled into."""
        return (
            self.row1 == self.row2
            and self.column1 == self.column2
            and self.fixed_row1 == self.fixed_row2
            and self.fixed_column1 == self.fixed_column2
        )

    @property
    def size(self) -> int:
        """How many cells."""
        return (self.row2 - self.row1 + 1) * (self.column2 - self.column1 + 1)


@dataclass(frozen=True, slots=True)
class Name:
    """A defined name, or a variable of LET or LAMBDA."""

    sheet: str | None
    name: str


@dataclass(frozen=True, slots=True)
class Structured:
    """A structured reference, `Table[...]`; `inside` is what the brackets hold."""

    table: str
    inside: str


@dataclass(frozen=True, slots=True)
class Unary:
    """A sign before an operand."""

    operator: str
    operand: Node


@dataclass(frozen=True, slots=True)
class Percent:
    """An operand with a percent sign."""

    operand: Node


@dataclass(frozen=True, slots=True)
class Binary:
    """Two operands joined by an operator."""

    operator: str
    left: Node
    right: Node


@dataclass(frozen=True, slots=True)
class Parenthesis:
    """An expression in parentheses; they are kept."""

    inner: Node


@dataclass(frozen=True, slots=True)
class ArrayLiteral:
    """An array in braces."""

    rows: tuple[tuple[Node, ...], ...]


@dataclass(frozen=True, slots=True)
class Call:
    """A call by name; the name is in upper case and without the file format's prefixes."""

    name: str
    arguments: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Apply:
    """A call of an expression, as in `LAMBDA(x,x+1)(3)`."""

    function: Node
    arguments: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class ThisRow:
    """The formula's own row of the columns of a table; #VALUE! beside its rows."""

    area: Reference


Node = (
    Number
    | Text
    | Logical
    | ErrorLiteral
    | Missing
    | Reference
    | Name
    | Structured
    | Unary
    | Percent
    | Binary
    | Parenthesis
    | ArrayLiteral
    | Call
    | Apply
    | ThisRow
)

_WORD = r"(?:[^\W\d]|[\\_])[\w.\\?]*"
_SHEET = rf"(?:'(?:[^']|'')+'|{_WORD})!"
_CELL = r"\$?[A-Za-z]{1,3}\$?[0-9]{1,7}"
_COLUMNS = r"\$?[A-Za-z]{1,3}:\$?[A-Za-z]{1,3}"
_ROWS = r"\$?[0-9]{1,7}:\$?[0-9]{1,7}"
_END = r"(?![\w.(\[!\\])"
_BOOK = rf"(?:'(?:[^']|'')*\.xl\w{{1,2}}(?:\][^']*)?'|\[[0-9]+\](?:{_WORD})?|{_WORD}\.xl\w{{1,2}})!"
_TOKEN = re.compile(
    rf"""
    (?P<space>\s+)
  | (?P<copied>{_BOOK}(?=(?i:GAS_)\w+\())
  | (?P<text>"(?:[^"]|"")*")
  | (?P<external>(?:'[^'\[]*\[[^\]]+\](?:[^']|'')*'|\[[0-9]+\](?:{_WORD})?)!)
  | (?P<several>(?:'(?:[^']|'')+:(?:[^']|'')+'|{_WORD}:{_WORD})!)
  | (?P<error>(?:{_SHEET})?\#(?:NULL!|DIV/0!|VALUE!|REF!|NAME\?|NUM!|N/A|SPILL!|CALC!))
  | (?P<reference>(?:{_SHEET})?(?:{_CELL}:{_CELL}|{_COLUMNS}|{_ROWS}|{_CELL}){_END})
  | (?P<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)
  | (?P<structured>(?:{_WORD})?\[(?:[^\[\]']|'.|\[(?:[^\[\]']|'.)*\])*\])
  | (?P<call>{_WORD}\()
  | (?P<name>(?:{_SHEET})?{_WORD})
  | (?P<operator><=|>=|<>|[-+*/^&=<>%(),;{{}}@#:])
    """,
    re.X | re.S,
)
_SINGLE_CELL = re.compile(r"(\$?)([A-Za-z]{1,3})(\$?)([0-9]{1,7})\Z")
_PREFIXES = re.compile(r"(?:_xlfn\.|_xlws\.|_xll\.|_xldudf_|_xludf\.|_xlpm\.)+", re.I)
_BINARY = {
    "=": 1, "<>": 1, "<": 1, ">": 1, "<=": 1, ">=": 1,
    "&": 2, "+": 3, "-": 3, "*": 4, "/": 4, "^": 5,
}  # fmt: skip


def plain_name(name: str) -> str:
    """A function's or variable's name without the file format's prefixes."""
    return _PREFIXES.sub("", name)


@lru_cache(maxsize=2048)
def parse(formula: str) -> Node:
    """The tree of a formula, written as in the file: English names, commas, no `=`.

    Workbooks of one making have many formulas in common, so the last trees are kept.
    """
    parser = _Parser(formula)
    tree = parser.expression(0)
    parser.expect_end()
    return tree


class _Parser:
    def __init__(self, formula: str) -> None:
        self.tokens: list[tuple[str, str]] = []
        position = 0
        space = False
        while position < len(formula):
            match = _TOKEN.match(formula, position)
            if match is None or match.lastgroup is None:
                raise FormulaError(
                    f"the formula cannot be read from {formula[position:][:20]!r} on"
                )
            position = match.end()
            kind, text = match.lastgroup, match[0]
            if kind == "space":
                space = True
                continue
            if kind == "copied":  # from the workbook whose module has our functions
                continue
            if space and self._is_intersection(kind, text):
                raise FormulaError("the intersection of references (a space) is not supported")
            space = False
            self.tokens.append((kind, text))
        self.tokens.append(("end", ""))
        self.at = 0

    def _is_intersection(self, kind: str, text: str) -> bool:
        if not self.tokens or (kind == "operator" and text != "("):
            return False
        last_kind, last = self.tokens[-1]
        if kind == "operator" and last_kind == "operator":
            return last == ")"
        return last_kind in ("reference", "name", "structured") or last == ")"

    def peek(self) -> tuple[str, str]:
        return self.tokens[self.at]

    def take(self) -> tuple[str, str]:
        token = self.tokens[self.at]
        self.at += 1
        return token

    def accept(self, operator: str) -> bool:
        if self.peek() == ("operator", operator):
            self.at += 1
            return True
        return False

    def expect(self, operator: str) -> None:
        if not self.accept(operator):
            raise FormulaError(f"the formula lacks a {operator!r} before {self.peek()[1]!r}")

    def expect_end(self) -> None:
        kind, text = self.peek()
        if kind != "end":
            raise FormulaError(f"the formula cannot be read from {text!r} on")

    def expression(self, level: int) -> Node:
        left = self.prefixed()
        while True:
            kind, operator = self.peek()
            if kind != "operator" or _BINARY.get(operator, -1) <= level:
                return left
            self.at += 1
            left = Binary(operator, left, self.expression(_BINARY[operator]))

    def prefixed(self) -> Node:
        for operator in "+-@":
            if self.accept(operator):
                operand = self.prefixed()
                return Call("SINGLE", (operand,)) if operator == "@" else Unary(operator, operand)
        node = self.primary()
        while True:
            if self.accept("%"):
                node = Percent(node)
            elif self.accept("#"):
                node = Call("ANCHORARRAY", (node,))
            elif self.accept("("):
                node = Apply(node, self.arguments())
            elif self.peek() == ("operator", ":"):
                raise FormulaError("a range whose end is computed (':') is not supported")
            else:
                return node

    def arguments(self) -> tuple[Node, ...]:
        """The arguments up to the closing parenthesis."""
        if self.accept(")"):
            return ()
        found: list[Node] = []
        while True:
            if self.peek()[1] in (",", ")") and self.peek()[0] == "operator":
                found.append(Missing())
            else:
                found.append(self.expression(0))
            if self.accept(")"):
                return tuple(found)
            self.expect(",")

    def primary(self) -> Node:  # noqa: PLR0911 - one case a kind of token
        kind, text = self.take()
        match kind:
            case "number":
                return Number(text)
            case "text":
                return Text(text[1:-1].replace('""', '"'))
            case "error":
                return ErrorLiteral(text[text.index("#") :])
            case "reference":
                return _reference(text)
            case "structured":
                table, _, inside = text.partition("[")
                return Structured(table, inside[:-1])
            case "call":
                return Call(plain_name(text[:-1]).upper(), self.arguments())
            case "name":
                return _name(text)
            case "external":
                return self.external(text)
            case "several":
                raise FormulaError("a reference across several sheets is not supported")
        if text == "(":
            inner = self.expression(0)
            if self.peek() == ("operator", ","):
                raise FormulaError("a union of references is not supported")
            self.expect(")")
            return Parenthesis(inner)
        if text == "{":
            return self.array()
        raise FormulaError(f"the formula cannot be read at {text!r}" if text else "it is cut short")

    def external(self, book: str) -> Node:
        """A reference to another workbook, such as `[1]Sheet1!A1`."""
        kind, place = self.take()
        if kind != "reference" or "!" in place:
            raise FormulaError("it refers to a name in another workbook, which is not read")
        sheet, _ = _split_sheet(book + "A1")
        return replace(_reference(place), sheet=sheet)

    def array(self) -> Node:
        rows: list[list[Node]] = [[]]
        while True:
            rows[-1].append(self.expression(0))
            if self.accept("}"):
                return ArrayLiteral(tuple(tuple(row) for row in rows))
            if self.accept(";"):
                rows.append([])
            else:
                self.expect(",")


def _split_sheet(text: str) -> tuple[str | None, str]:
    sheet, mark, rest = text.rpartition("!")
    if not mark:
        return None, text
    if sheet.startswith("'"):
        sheet = sheet[1:-1].replace("''", "'")
    return sheet, rest


def _name(text: str) -> Node:
    sheet, name = _split_sheet(text)
    if sheet is None and name.upper() in ("TRUE", "FALSE"):
        return Logical(name.upper() == "TRUE")
    return Name(sheet, plain_name(name))


def _reference(text: str) -> Reference | Name:
    sheet, place = _split_sheet(text)
    first, _, last = place.partition(":")
    last = last or first
    one, two = _SINGLE_CELL.match(first), _SINGLE_CELL.match(last)
    if one and two:
        row1, row2 = int(one[4]), int(two[4])
        column1, column2 = column_number(one[2]), column_number(two[2])
        if max(row1, row2) > MAX_ROW or max(column1, column2) > MAX_COLUMN or 0 in (row1, row2):
            return Name(sheet, place)
        fixed = (bool(one[3]), bool(one[1]), bool(two[3]), bool(two[1]))
        return Reference(sheet, row1, column1, row2, column2, *fixed)
    fixed1, fixed2 = first.startswith("$"), last.startswith("$")
    first, last = first.lstrip("$"), last.lstrip("$")
    if first.isdigit():
        return Reference(sheet, int(first), 1, int(last), MAX_COLUMN, fixed1, True, fixed2, True)
    columns = column_number(first), column_number(last)
    return Reference(sheet, 1, columns[0], MAX_ROW, columns[1], True, fixed1, True, fixed2)


def children(node: Node) -> tuple[Node, ...]:
    """The nodes right below a node."""
    match node:
        case Unary(_, operand) | Percent(operand) | Parenthesis(operand):
            return (operand,)
        case Binary(_, left, right):
            return (left, right)
        case Call(_, arguments):
            return arguments
        case Apply(function, arguments):
            return (function, *arguments)
    return ()


def walk(node: Node) -> Iterator[Node]:
    """A node and all below it."""
    yield node
    for child in children(node):
        yield from walk(child)
