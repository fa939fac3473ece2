"""Formulas made into Python functions of the cell they are computed for.

`value` gives one value (or, in an array formula, an array as rows), `whole` also an area of cells.
Errors are raised as FailedError; within arrays they stand as values.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Mapping
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import special
from gasfuncs.hosts.headless.addresses import (
    MAX_COLUMN,
    MAX_ROW,
    Area,
    is_inside,
    quote_sheet,
)
from gasfuncs.hosts.headless.cells import VALUE_CLASSES, At, FailedError, Formula, Grid, Range
from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import (
    Apply,
    ArrayLiteral,
    Binary,
    Call,
    ErrorLiteral,
    Logical,
    Missing,
    Name,
    Node,
    Number,
    Parenthesis,
    Percent,
    Reference,
    Structured,
    Text,
    ThisRow,
    Unary,
    parse,
    plain_name,
)
from gasfuncs.hosts.headless.lifting import each_of, lifted
from gasfuncs.hosts.headless.natives import NATIVES, Native
from gasfuncs.hosts.headless.natives.coercion import (
    added,
    compare,
    failed,
    integer,
    logical,
    number,
    plain_number,
    scalar,
    text,
)
from gasfuncs.hosts.headless.natives.table import ONE_AT_A_TIME
from gasfuncs.hosts.headless.ours import OurCall
from gasfuncs.hosts.headless.references import Resolver

MOST_PARTS = 8_192
"""Of a formula with its names written out."""

MOST_DEPTH = 250
"""Of functions and operators within each other."""

Branch = Callable[[Node, bool], Formula]


def _or_none(convert: Callable[[Any], Any]) -> Callable[[Any], Any]:
    return lambda value: None if value is None else convert(value)


_CONVERT: dict[str, Callable[[Any], Any]] = {
    "n": number, "x": plain_number, "i": integer, "t": text, "b": logical, "v": scalar,
    "e": lambda value: value,
    "N": _or_none(number), "I": _or_none(integer), "B": _or_none(logical),
}  # fmt: skip
_COMPARE = {
    "=": operator.eq, "<>": operator.ne, "<": operator.lt, ">": operator.gt, "<=": operator.le,
    ">=": operator.ge,
}  # fmt: skip


def _divided(one: float, other: float) -> float:
    if not other:
        raise FailedError("#DIV/0!")
    return one / other


_ARITHMETIC: dict[str, Callable[[float, float], float]] = {
    "+": added, "-": lambda one, other: added(one, -other), "*": operator.mul, "/": _divided,
    "^": NATIVES["POWER"].function,
}  # fmt: skip


class Compiler:
    """Compiles the formula of one cell; what it refers to and calls is noted on the way."""

    def __init__(
        self, book: Any, resolver: Resolver, functions: Mapping[str, Any], sheet: str, row: int,
        column: int,
    ) -> None:  # fmt: skip
        self.book = book
        self.references: list[Reference | ThisRow] = []
        self.calls: list[OurCall] = []
        self.subtotal = False
        self.blind = False
        self.depth = 0
        self._resolver = resolver
        self._functions = functions
        self.sheet = sheet
        self.row = row
        self.column = column
        self._scope: dict[str, str] = {}
        self._open_names: tuple[str, ...] = ()
        self._parts = 0
        self._now = 0
        self._known: dict[Node, OurCall] = {}

    def value(self, node: Node, arrays: bool) -> Formula:
        """One value, or an array; not an area of cells."""
        return self._counted(self._value, node, arrays)

    def whole(self, node: Node, arrays: bool) -> Formula:
        """Whatever the node gives."""
        return self._counted(self._whole, node, arrays)

    def _counted(self, compiled: Branch, node: Node, arrays: bool) -> Formula:
        self._parts += 1
        self._now += 1
        self.depth = max(self.depth, self._now)
        if self._parts > MOST_PARTS:
            raise FormulaError(f"with its names written out it has more than {MOST_PARTS:,} parts")
        if self._now > MOST_DEPTH:
            raise FormulaError("the formula is nested too deeply")
        made = compiled(node, arrays)
        self._now -= 1
        return made

    def _value(self, node: Node, arrays: bool) -> Formula:  # noqa: PLR0911 - a case a kind
        match node:
            case Reference() if node.single:
                return self._cell(node)
            case ThisRow(area) if area.column1 == area.column2:
                return self._cell_of_row(area)
            case Parenthesis(inner):
                return self.value(inner, arrays)
            case Structured():
                return self.value(self._of_table(node), arrays)
            case Reference() | ThisRow() | Name() | Apply():
                return each_of(self._whole(node, arrays), arrays)
            case Call(name, arguments) if name in special.FORMS and name.lower() not in self._scope:
                self.blind = self.blind or name in ("INDIRECT", "ANCHORARRAY")
                made = special.FORMS[name](self, arguments, arrays, self.value)
                return made if name in special.BRANCHING else each_of(made, arrays)
            case Call(name, _) if name in _AREAS or not self._gives_value(name):
                return each_of(self._whole(node, arrays), arrays)
        return self._whole(node, arrays)

    def _gives_value(self, name: str) -> bool:
        return name.lower() not in self._scope and (name in NATIVES or name in self._functions)

    def _whole(self, node: Node, arrays: bool) -> Formula:  # noqa: PLR0911, PLR0912 - a case a kind
        match node:
            case Number(digits):
                return _constant(float(digits))
            case Text(value) | Logical(value):
                return _constant(value)
            case ErrorLiteral(code):
                return _raising(code)
            case Missing():
                return _constant(None)
            case Parenthesis(inner):
                return self.whole(inner, arrays)
            case Reference():
                return self._area(node)
            case ThisRow(area):
                return self._this_row(area)
            case Structured():
                return self.whole(self._of_table(node), arrays)
            case Name():
                return self._name(node, arrays)
            case Unary(sign, operand):
                return self._unary(sign, operand, arrays)
            case Percent(operand):
                return lifted(lambda each: number(each) / 100, [self.value(operand, arrays)])
            case Binary("=" | "<>" as sign, left, Text("")):
                empty = sign == "="
                return lifted(
                    lambda each: (each in (None, "")) is empty, [self.value(left, arrays)]
                )
            case Binary(sign, left, right):
                return self._binary(sign, self.value(left, arrays), self.value(right, arrays))
            case ArrayLiteral(rows):
                return _constant([[_literal(item) for item in row] for row in rows])
            case Call(name, arguments):
                return self._call(name, arguments, node, arrays)
            case Apply(function, arguments):
                made = [self.whole(argument, arrays) for argument in arguments]
                return special.applied(self.whole(function, arrays), made)
        raise FormulaError(f"{node} is not computed")

    # References

    def _grid(self, name: str | None) -> Grid:
        found = self.book.grid(name or self.sheet)
        if found is None and "[" in (name or ""):
            raise FormulaError(f"it takes {name} of another workbook, and no values are kept of it")
        if found is None:
            raise FormulaError(f"there is no worksheet {name!r}")
        return found  # type: ignore[no-any-return]

    def _cell(self, node: Reference) -> Formula:
        self.references.append(node)
        self._parts += 1
        grid, ask = self._grid(node.sheet), self.book.ask
        columns = grid.columns
        fixed_row, fixed_column = node.fixed_row1, node.fixed_column1
        row = node.row1 - (0 if fixed_row else self.row)
        column = node.column1 - (0 if fixed_column else self.column)

        def cell(at: At) -> Any:
            r = row if fixed_row else row + at.row
            c = column if fixed_column else column + at.column
            value = columns[c].get(r)
            kind = value.__class__
            if kind is float or kind is str or kind is bool:
                return value
            if kind not in VALUE_CLASSES or value is None:
                value = ask(grid, (r - 1) % MAX_ROW + 1, (c - 1) % MAX_COLUMN + 1)
            if value.__class__ is CellError:
                raise failed(value)
            return value

        return cell

    def _of_table(self, node: Structured) -> Node:
        return self._resolver.structured(node, self.sheet, self.row, self.column)

    def told_cell(self, node: Reference) -> Formula:
        """The value of a cell for a function of the library; an error says where it is from."""
        cell, area = self._cell(node), self._area(node)
        self.references.pop()

        def value(at: At) -> Any:
            try:
                return cell(at)
            except FailedError as error:
                return area(at).told(error.error, 0, 0)

        return value

    def _area(self, node: Reference) -> Formula:
        self.references.append(node)
        grid, book = self._grid(node.sheet), self.book
        fixed = (node.fixed_row1, node.fixed_column1, node.fixed_row2, node.fixed_column2)
        if all(fixed):
            return _constant(book.area(grid, Area(*_ordered(
                node.row1, node.column1, node.row2, node.column2))))  # fmt: skip
        home = (self.row, self.column, self.row, self.column)
        places = (node.row1, node.column1, node.row2, node.column2)
        r1, c1, r2, c2 = (
            place if is_fixed else place - own
            for place, own, is_fixed in zip(places, home, fixed, strict=True)
        )
        move_r1, move_c1, move_r2, move_c2 = (not is_fixed for is_fixed in fixed)
        whole_columns = node.row1 == 1 and node.row2 == MAX_ROW
        whole_rows = node.column1 == 1 and node.column2 == MAX_COLUMN

        def area(at: At) -> Range:
            ends = (
                (r1 + at.row * move_r1 - 1) % MAX_ROW + 1,
                (c1 + at.column * move_c1 - 1) % MAX_COLUMN + 1,
                (r2 + at.row * move_r2 - 1) % MAX_ROW + 1,
                (c2 + at.column * move_c2 - 1) % MAX_COLUMN + 1,
            )
            found = Area(*_ordered(*ends))
            return (
                book.area(grid, found) if whole_columns or whole_rows else Range(book, grid, found)
            )

        return area

    def _this_row(self, area: Reference) -> Formula:
        self.references.append(ThisRow(area))
        grid, book = self._grid(area.sheet), self.book

        def this_row(at: At) -> Range:
            if not area.row1 <= at.row <= area.row2:
                raise FailedError("#VALUE!")
            return Range(book, grid, Area(at.row, area.column1, at.row, area.column2))

        return this_row

    def _cell_of_row(self, area: Reference) -> Formula:
        """The value in a column, of the row that the formula is in."""
        self._parts += 1
        whole = self._this_row(area)
        grid = self._grid(area.sheet)
        column = grid.columns[area.column1]

        def cell(at: At) -> Any:
            inside = area.row1 <= at.row <= area.row2
            value = column.get(at.row) if inside else None
            kind = value.__class__
            if kind is float or kind is str or kind is bool:
                return value
            if value is None and inside and not grid.waiting_spills:
                return None
            value = whole(at).cell(0, 0)
            if value.__class__ is CellError:
                raise failed(value)
            return value

        return cell

    def _name(self, node: Name, arrays: bool) -> Formula:
        key = self._scope.get(node.name.lower()) if node.sheet is None else None
        if key is not None:
            return special.variable(key)
        tree = self._resolver.named(self.sheet, node)
        lower = node.name.lower()
        if lower in self._open_names:
            raise FormulaError(f"the defined name {node.name!r} refers to itself")
        names, scope = self._open_names, self._scope
        self._open_names, self._scope = (*names, lower), {}
        made = self.whole(tree, arrays)
        self._open_names, self._scope = names, scope
        return made

    def written_out(self, node: Node) -> Node:
        """The area that a name or structured reference stands for."""
        if isinstance(node, Name) and not node.sheet and node.name.lower() in self._scope:
            return node
        area = self._resolver.area(node, self.sheet, self.row, self.column)
        return area if isinstance(area, Reference | ThisRow) else node

    def address(self, address: str, at: At) -> Any:
        """The area that a text such as "B2" names, as INDIRECT has it."""
        made = self.book.addresses.get((self.sheet, address))
        if made is None:
            try:
                tree = parse(_quoted(address.strip()))
                if not isinstance(tree, Reference | Name | Structured) or _is_beyond(tree):
                    raise FailedError("#REF!")
                inner = Compiler(self.book, self._resolver, {}, self.sheet, at.row, at.column)
                made = inner.whole(_fixed(tree), arrays=True)
            except FormulaError:
                raise FailedError("#REF!") from None
            self.book.addresses[self.sheet, address] = made
        found = made(at)
        if found.__class__ is not Range:
            raise FailedError("#REF!")
        return found

    # Variables

    def bind(self, name: Node) -> str:
        """A variable of LET or LAMBDA comes into force; its key."""
        if not isinstance(name, Name) or name.sheet is not None:
            raise FormulaError("LET and LAMBDA need names as variables")
        plain = plain_name(name.name)
        key = f"{plain} {len(self._scope)}"
        self._scope = {**self._scope, plain.lower(): key}
        return key

    def scope(self) -> dict[str, str]:
        return self._scope

    def leave(self, scope: dict[str, str]) -> None:
        """The variables that were bound since are no longer in force."""
        self._scope = scope

    def has_variables(self) -> bool:
        return bool(self._scope)

    # Operators

    def _unary(self, sign: str, operand: Node, arrays: bool) -> Formula:
        inner = self.value(operand, arrays)
        return lifted(lambda each: -number(each), [inner]) if sign == "-" else inner

    def _binary(self, sign: str, left: Formula, right: Formula) -> Formula:
        if sign == "&":
            return lifted(lambda one, other: text(one) + text(other), [left, right])
        if sign in _COMPARE:
            holds = _COMPARE[sign]
            return lifted(lambda one, other: holds(compare(one, other), 0), [left, right])
        return _arithmetic(_ARITHMETIC[sign], left, right)

    # Calls

    def _call(self, name: str, arguments: tuple[Node, ...], node: Node, arrays: bool) -> Formula:
        if name.lower() in self._scope:
            made = [self.whole(argument, arrays) for argument in arguments]
            return special.applied(special.variable(self._scope[name.lower()]), made)
        if name in self._functions:
            return self._our_call(name, arguments, node)
        self.blind = self.blind or name in ("INDIRECT", "ANCHORARRAY")
        if name in special.FORMS:
            return special.FORMS[name](self, arguments, arrays, self.whole)
        if name in NATIVES:
            return self.native_call(NATIVES[name], arguments, arrays)
        try:
            function = self._name(Name(None, name), arrays)
        except FormulaError:
            raise FormulaError(f"{name} is not a function that was tested here") from None
        return special.applied(function, [self.whole(argument, arrays) for argument in arguments])

    def _our_call(self, name: str, arguments: tuple[Node, ...], node: Node) -> Formula:
        if node in self._known and not self._scope:
            return self._known[node].formula
        call = OurCall(self, self._functions[name], arguments)
        self.calls.append(call)
        self._known[node] = call
        return call.formula

    def native_call(self, native: Native, arguments: tuple[Node, ...], arrays: bool) -> Formula:
        if native.dates and self.book.dates_from_1904 and native.name not in ("TODAY", "NOW"):
            raise FormulaError(
                f"{native.name} is not computed in a workbook with the 1904 date system"
            )
        self.blind = self.blind or native.name == "OFFSET"
        self.subtotal = self.subtotal or native.name in ("SUBTOTAL", "AGGREGATE")
        kinds = native.kinds_for(len(arguments))
        arrays = arrays or native.arrays
        made = [
            self._argument(kind, node, arrays) for kind, node in zip(kinds, arguments, strict=True)
        ]
        if all(kind in ONE_AT_A_TIME for kind in kinds) and len(kinds) in (1, 2):
            convert = [_CONVERT[kind] for kind in kinds]
            function = native.function
            if len(kinds) == 1:
                one = convert[0]
                return lifted(lambda x: function(one(x)), made, errors="e" in kinds)
            first, second = convert
            return lifted(lambda x, y: function(first(x), second(y)), made, errors="e" in kinds)
        return _called(native, kinds, made)

    def _check_plain(self, node: Node, arrays: bool) -> None:
        """Refuse what the programs take otherwise in functions that were added to them later."""
        if isinstance(node, Missing):
            raise FormulaError("an argument is left out between commas")
        found = self.written_out(node)
        if arrays and isinstance(found, Reference) and not found.single:
            raise FormulaError("an area stands where a function takes one value; put a + before it")

    def _argument(self, kind: str, node: Node, arrays: bool) -> Formula:
        if kind == "x":
            self._check_plain(node, arrays)
        if kind in ONE_AT_A_TIME:
            made = self.value(node, arrays)
            return special.caught(made) if kind == "e" else made
        made = self.whole(node, arrays)
        if kind == "W":
            return special.caught(made)
        if kind == "r" and not isinstance(node, Missing):
            return _area_only(made)
        return made


_AREAS = frozenset({"INDEX", "OFFSET", "XLOOKUP"})
"""Native functions that may give an area of cells."""


def _constant(value: Any) -> Formula:
    return lambda _: value


def _raising(code: str) -> Formula:
    def fail(_: At) -> Any:
        raise FailedError(code, f"the formula holds {code}")

    return fail


def _literal(node: Node) -> Any:
    match node:
        case Number(digits):
            return float(digits)
        case Text(value) | Logical(value):
            return value
        case ErrorLiteral(code):
            return CellError(code)
        case Unary("-", Number(digits)):
            return -float(digits)
        case Unary("+", Number(digits)):
            return float(digits)
    raise FormulaError("an array in braces may hold only numbers, texts and logical values")


def _ordered(row1: int, column1: int, row2: int, column2: int) -> tuple[int, int, int, int]:
    rows, columns = sorted((row1, row2)), sorted((column1, column2))
    return rows[0], columns[0], rows[1], columns[1]


def _quoted(address: str) -> str:
    """The address with its sheet in quotes."""
    sheet, mark, cells = address.rpartition("!")
    return address if not mark or sheet.startswith("'") else f"{quote_sheet(sheet)}!{cells}"


def _is_beyond(node: Node) -> bool:
    """Whether an area reaches past the end of a sheet."""
    return isinstance(node, Reference) and not (
        is_inside(node.row1, node.column1) and is_inside(node.row2, node.column2)
    )


def _fixed(node: Node) -> Node:
    if not isinstance(node, Reference):
        return node
    return Reference(node.sheet, node.row1, node.column1, node.row2, node.column2)


def _area_only(made: Formula) -> Formula:
    def area(at: At) -> Any:
        found = made(at)
        if found.__class__ is not Range:
            raise FailedError("#VALUE!")
        return found

    return area


def _arithmetic(
    function: Callable[[float, float], float], left: Formula, right: Formula
) -> Formula:
    slow = lifted(lambda one, other: function(number(one), number(other)), [left, right])

    def computed(at: At) -> Any:
        one, other = left(at), right(at)
        if one.__class__ is not float or other.__class__ is not float:
            return slow.of(one, other)  # type: ignore[attr-defined]
        try:
            result = function(one, other)
        except OverflowError:
            raise FailedError("#NUM!") from None
        if math.isfinite(result):
            return result
        raise FailedError("#NUM!")

    return computed


def _called(native: Native, kinds: tuple[str, ...], made: list[Formula]) -> Formula:
    """A call of a native function some of whose arguments are taken whole."""
    function = native.function
    single = [place for place, kind in enumerate(kinds) if kind in ONE_AT_A_TIME]
    convert = [_CONVERT.get(kind) for kind in kinds]
    rows = [place for place, kind in enumerate(kinds) if kind == "a"]

    def converted(*values: Any) -> Any:
        given = [
            value if change is None else change(value)
            for value, change in zip(values, convert, strict=True)
        ]
        return function(*given)

    return lifted(converted, made, single=single, tables=rows, errors="e" in kinds)
