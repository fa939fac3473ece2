"""The shape of a formula: what all the formulas have in common that say the same by position.

Formulas filled down a column share one shape, so they are read once. In a shape the calls of the
library's functions are lifted out: each becomes a slot, and so does each argument that is itself
a formula. What is left, the root, is native.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import native
from gasfuncs.hosts.headless.addresses import column_number
from gasfuncs.hosts.headless.arrays import Intersection, check_arrays, is_single, uses_arrays
from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import (
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
    Slot,
    Text,
    Unary,
    children,
    parse,
    walk,
    with_children,
)
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.references import MOST_PARTS, Resolver
from gasfuncs.hosts.headless.values import CellValue

MOST_CHARACTERS = 8_192
"""Of a formula, as the file format has it."""

MOST_CELLS = 2**22
"""Of an area: four whole columns."""

_RELATIVE = re.compile(
    r""""[^"]*"|'[^']*'|\[(?:'.|[^\]'])*\]"""
    r"""|(?<![\w.\\$])(\$?)([A-Za-z]{1,3})(\$?)([0-9]{1,7})(?![\w.(\[!\\])"""
)
_WHOLE_COLUMNS = re.compile(r"(?<![\w$])[A-Za-z]{1,3}:\$?[A-Za-z]{1,3}(?!\w)")
_WHOLE_ROWS = re.compile(r"(?<![\w$])[0-9]{1,7}:\$?[0-9]{1,7}(?!\w)")
_OF_A_TABLE = re.compile(r"[\w.\\?]+\[(?:[^\[\]']|'.|\[(?:[^\[\]']|'.)*\])*\]", re.S)


@dataclass(frozen=True, slots=True)
class Constant:
    """An argument whose value stands in the formula."""

    value: CellValue | list[list[CellValue]]


Argument = Constant | Reference | Slot


@dataclass(frozen=True, slots=True)
class LiftedCall:
    """A call of one of the library's functions; `single` where its result is one value."""

    function: Any
    arguments: tuple[Argument, ...]
    single: bool


@dataclass(frozen=True, slots=True)
class LiftedExpression:
    """An argument that is a native formula itself."""

    tree: Node
    single: bool


@dataclass(slots=True)
class Shape:
    """A formula as read for the cell at `row` and `column`; it holds in `rows` and `columns`.

    `direct` is the slot that is the whole formula, where it is nothing but one call; `single`
    tells that no slot is an array, `arrays` are the slots of the root that are. `as_array` is a
    root that the engine must evaluate as an array formula, `root_single` one that is sure to give
    one value.
    """

    row: int
    column: int
    root: Node
    rows: tuple[int, int]
    columns: tuple[int, int]
    slots: list[LiftedCall | LiftedExpression]
    direct: Slot | None = field(init=False)
    single: bool = field(init=False)
    arrays: tuple[Slot, ...] = field(init=False)
    as_array: bool = field(init=False)
    root_single: bool = field(init=False)

    def __post_init__(self) -> None:
        root = self.root
        while isinstance(root, Parenthesis):
            root = root.inner
        self.direct = root if isinstance(root, Slot) else None
        self.single = all(slot.single for slot in self.slots)
        nodes = walk(self.root)
        self.as_array = uses_arrays(self.root)
        self.root_single = is_single(self.root, {})
        self.arrays = tuple(node for node in nodes if isinstance(node, Slot) and node.whole)

    def holds_for(self, row: int, column: int) -> bool:
        rows, columns = self.rows, self.columns
        return rows[0] <= row <= rows[1] and columns[0] <= column <= columns[1]


class ShapeReader:
    """Reads the formulas of one workbook into shapes, each shape once."""

    def __init__(self, package: Package, functions: Mapping[str, Any]) -> None:
        self._functions = functions
        self._ours = frozenset(functions)
        self._dates_from_1904 = package.dates_from_1904
        self._resolver = Resolver(package, functions.__contains__)
        self._shapes: dict[object, Shape | FormulaError] = {}
        self._unmoving: dict[str, bool] = {}

    def shape(self, formula: str, sheet: str, row: int, column: int, plain: bool) -> Shape:
        """The shape of a cell's formula; FormulaError where it cannot be computed.

        `plain` is a formula that is not an array formula: it meets ranges by intersection.
        """
        if len(formula) > MOST_CHARACTERS:
            raise FormulaError(f"the formula is longer than {MOST_CHARACTERS:,} characters")
        key: object = (sheet, plain, self._key(formula, sheet, row, column))
        shape = self._shapes.get(key)
        if isinstance(shape, Shape) and not shape.holds_for(row, column):
            key = (key, row, column)
            shape = self._shapes.get(key)
        if shape is None:
            try:
                shape = self._read(formula, sheet, row, column, plain)
            except FormulaError as error:
                shape = error
            except RecursionError:
                shape = FormulaError("the formula is nested too deeply")
            self._shapes[key] = shape
        if isinstance(shape, FormulaError):
            raise shape
        return shape

    def is_fixed(self, formula: str) -> bool:
        """Whether a formula, seen before, says the same wherever it stands on its sheet."""
        return self._unmoving.get(formula) is False

    def _key(self, formula: str, sheet: str, row: int, column: int) -> object:
        """Equal for formulas that say the same by position."""
        in_table = self._unmoving.get(formula)
        if in_table is None:
            key: object = _relative(formula, row, column)
            if ":" in formula and _WHOLE_COLUMNS.search(formula):
                key = (key, "column", column)
            if ":" in formula and _WHOLE_ROWS.search(formula):
                key = (key, "row", row)
            in_table = "[" in formula and "[" in _OF_A_TABLE.sub("", formula)
            if key != formula:
                return (key, self._table_name(sheet, row, column)) if in_table else key
            self._unmoving[formula] = in_table
        return (formula, self._table_name(sheet, row, column)) if in_table else formula

    def _table_name(self, sheet: str, row: int, column: int) -> str:
        table = self._resolver.own_table(sheet, row, column)
        return table.name if table else ""

    def _read(self, formula: str, sheet: str, row: int, column: int, plain: bool) -> Shape:
        resolution = self._resolver.resolve(parse(formula), sheet, row, column)
        intersection = Intersection(row, column, self._ours, plain)
        tree = intersection.top(resolution.tree)
        self._check(tree)
        check_arrays(tree, self._ours)
        tree = self._with_texts(tree)
        cell = Reference(sheet, row, column, row, column, False, False, False, False)
        lifter = _Lifter(self._functions, cell)
        root = lifter.lift(tree, frozenset())
        rows, columns = intersection.rows, intersection.columns
        if resolution.rows is not None:
            rows = max(rows[0], resolution.rows[0]), min(rows[1], resolution.rows[1])
        return Shape(row, column, root, rows, columns, lifter.slots)

    def _check(self, tree: Node) -> None:
        _check_areas(Parenthesis(tree))
        for node in walk(tree):
            if not isinstance(node, Call) or node.name in self._functions:
                continue
            if self._dates_from_1904 and node.name in native.DATES:
                raise FormulaError(
                    f"{node.name} is not computed in a workbook with the 1904 date system"
                )
            if node.name != "TEXT":
                continue
            match node.arguments:
                case (_, Text(style)) if native.is_tested_format(style):
                    pass
                case (_, Text(style)):
                    raise FormulaError(f"TEXT was not tested with the number format {style!r}")
                case _:
                    raise FormulaError("TEXT is computed only with a number format in quotes")

    def _with_texts(self, node: Node) -> Node:
        """The formula with numbers turned into text as the spreadsheet does, to 15 digits.

        And with a factorial asked for no more than the first one that is too large.
        """
        node = with_children(node, self._with_texts)
        match node:
            case Binary("&", left, right):
                return Binary("&", _as_text(left), _as_text(right))
            case Call("TEXT", (number, Text(style) as shown)):
                decimals = native.decimals_shown(style)
                return node if decimals is None else _shown(number, decimals, shown)
            case Call("FACT", (number,)):  # the engine counts up to the number, however large
                large = Binary(">", Binary("+", Parenthesis(number), Number("0")), Number("171"))
                return _bounded(Call("FACT", (Call("IF", (large, Number("171"), number)),)))
            case Call(name, arguments) if name in native.TAKES_TEXT:
                taken = native.TAKES_TEXT[name]
                return Call(
                    name,
                    tuple(
                        _as_text(argument) if index in taken else argument
                        for index, argument in enumerate(arguments)
                    ),
                )
        return node


def _check_areas(tree: Node) -> None:
    """Refuse areas so large that their cells would fill the memory."""
    for node in walk(tree):
        if isinstance(node, Call) and node.name in native.PASSES_OVER_UNUSED:
            continue
        for area in children(node):
            if isinstance(area, Reference) and area.size > MOST_CELLS:
                raise FormulaError(
                    f"it takes all of an area of {area.size:,} cells; {MOST_CELLS:,} are the most "
                    "here. Name the rows that are in use"
                )


def _relative(formula: str, row: int, column: int) -> str:
    """The formula with the addresses that move written as distances from its cell."""

    def distance(match: re.Match[str]) -> str:
        fixed_column, letters, fixed_row, number = match.groups()
        if letters is None or (fixed_column and fixed_row):
            return match[0]
        right = letters.upper() if fixed_column else column_number(letters) - column
        down = number if fixed_row else int(number) - row
        return f"{fixed_column}{right}\0{fixed_row}{down}\0"

    return _RELATIVE.sub(distance, formula)


class _Lifter:
    def __init__(self, functions: Mapping[str, Any], cell: Reference) -> None:
        self._functions = functions
        self._cell = cell
        self._known: dict[Call, Slot] = {}
        self.slots: list[LiftedCall | LiftedExpression] = []

    def lift(self, node: Node, variables: frozenset[str]) -> Node:
        match node:
            case Call(name, _) if name in self._functions:
                return self._call(node, variables)
            case Call("LAMBDA" | "LET", arguments):
                names = [a.name.lower() for a in arguments if isinstance(a, Name)]
                variables = variables.union(names)
        return with_children(node, lambda child: self.lift(child, variables))

    def _call(self, call: Call, variables: frozenset[str]) -> Slot:
        if call in self._known:
            return self._known[call]
        for node in walk(call):
            if isinstance(node, Name) and node.name.lower() in variables:
                raise FormulaError(
                    f"{call.name} takes the variable {node.name!r} of a LAMBDA or LET; "
                    "write the call outside, with cells as its arguments"
                )
        function = self._functions[call.name]
        parameters = function.parameters
        variadic = bool(parameters) and parameters[-1].variadic
        if len(call.arguments) > len(parameters) and not variadic:
            raise FormulaError(
                f"{call.name} has {len(call.arguments)} arguments; it takes {len(parameters)}"
            )
        arguments = [self._argument(argument, variables) for argument in call.arguments]
        required = sum(1 for parameter in parameters if parameter.required)
        arguments += [Constant(None)] * (required - len(arguments))
        single = not function.spills and all(
            parameters[min(index, len(parameters) - 1)].whole or self._is_single(argument)
            for index, argument in enumerate(arguments)
        )
        slot = self._slot(LiftedCall(function, tuple(arguments), single))
        self._known[call] = slot
        return slot

    def _slot(self, item: LiftedCall | LiftedExpression) -> Slot:
        self.slots.append(item)
        return Slot(len(self.slots) - 1, not item.single)

    def _argument(self, node: Node, variables: frozenset[str]) -> Argument:
        while isinstance(node, Parenthesis):
            node = node.inner
        constant = _constant(node)
        if constant is not None:
            return constant
        if isinstance(node, Reference):
            return node
        lifted = self.lift(self._placed(node), variables)
        if isinstance(lifted, Slot):
            return lifted
        return self._slot(LiftedExpression(lifted, is_single(lifted, {})))

    def _placed(self, node: Node) -> Node:
        """The node with ROW() and COLUMN() meaning the formula's cell wherever it is put."""
        match node:
            case Call("ROW" | "COLUMN" as name, ()):
                return Call(name, (self._cell,))
        return with_children(node, self._placed)

    @staticmethod
    def _is_single(argument: Argument) -> bool:
        match argument:
            case Constant(value):
                return not isinstance(value, list)
            case Reference():
                return argument.single
            case Slot(_, whole):
                return not whole


def _constant(node: Node) -> Constant | None:  # noqa: PLR0911 - one case a kind of node
    match node:
        case Missing():
            return Constant(None)
        case Number(text):
            return Constant(float(text))
        case Text(value):
            return Constant(value)
        case Logical(value):
            return Constant(value)
        case ErrorLiteral(code):
            return Constant(CellError(code, f"the formula holds {code}"))
        case Unary("-", Number(text)):
            return Constant(-float(text))
        case Unary("+", Number(text)):
            return Constant(float(text))
        case Percent(Number(text)):
            return Constant(float(text) / 100)
        case ArrayLiteral(rows):
            return Constant([[_literal(item) for item in row] for row in rows])
    return None


def _literal(node: Node) -> CellValue:
    constant = _constant(node)
    if constant is None or isinstance(constant.value, list):
        raise FormulaError("an array in braces may hold only numbers, texts and logical values")
    return constant.value


def _as_text(node: Node) -> Node:
    if _is_text(node) or (isinstance(node, Reference) and not node.single):
        return node
    digits = Call("TEXT", (node, Text("0.00000000000000E+0")))
    number = Parenthesis(Binary("+", digits, Number("0")))
    return _bounded(Call("IF", (Call("ISNUMBER", (node,)), number, node)))


def _shown(node: Node, decimals: int, style: Text) -> Node:
    """TEXT with a number rounded and its sign set here, and what is not a number as it is.

    The engine's own shows 0.1525 as 0.1, 0.9945 as 0.0 and -0.12 as 0.1. ROUND does not take arrays
    here, so it is spelt out; 4E-16 lets a number end in 5 that does so in its first 15 digits.
    Beyond 1E15 there is nothing to round.
    """
    number, tens = Parenthesis(node), Number(f"1{'0' * decimals}")
    size = Binary("*", Call("ABS", (number,)), tens)
    more = Binary("+", Binary("*", size, Number("4E-16")), Number("0.5"))
    whole = Call("INT", (Binary("+", size, more),))
    exact = Binary(">", size, Number("1E15"))
    rounded = Binary("/", Call("IF", (exact, size, whole)), tens)
    signed = Binary("*", Call("SIGN", (number,)), rounded)
    negative = Binary("<", Call("IFERROR", (signed, Number("0"))), Number("0"))
    sign = Call("IF", (negative, Text("-"), Text("")))
    text = Call("TEXT", (Call("IFERROR", (rounded, node)), style))
    return _bounded(Parenthesis(Binary("&", sign, text)))


def _bounded(node: Node) -> Node:
    """What repeats its argument grows fast where it is nested."""
    if sum(1 for _ in walk(node)) > MOST_PARTS:
        raise FormulaError(
            f"with its texts spelt out the formula has more than {MOST_PARTS:,} parts; split it "
            "over several cells"
        )
    return node


def _is_text(node: Node) -> bool:
    match node:
        case Text() | Logical() | ErrorLiteral() | Missing() | Binary("&", _, _):
            return True
        case Number(text):
            return text.isdigit() and len(text) < 15
        case Parenthesis(inner):
            return _is_text(inner)
        case Call("IF", (_, *branches)):
            return all(_is_text(branch) for branch in branches)
        case Call(name, _):
            return name in native.TEXTUAL or name in ("LEN", "ROW", "ROWS", "YEAR", "MONTH", "DAY")
    return False
