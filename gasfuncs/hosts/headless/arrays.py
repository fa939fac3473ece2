"""Where a formula deals in arrays: whether the engine can be trusted with it.

The engine is right for single values and for ranges handed to the functions that take them whole.
With arrays in other places it was found wrong for many functions; these uses are refused by name.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from gasfuncs.hosts.headless import native
from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import (
    Apply,
    ArrayLiteral,
    Binary,
    Call,
    ErrorLiteral,
    Missing,
    Name,
    Node,
    Number,
    Parenthesis,
    Reference,
    Slot,
    Unary,
    children,
    with_children,
)

Variables = Mapping[str, bool]
"""Variables of LET and LAMBDA in lower case: whether each is a single value."""

_LOGICAL_FREE = frozenset("+-*/^")


def is_single(node: Node, variables: Variables) -> bool:  # noqa: PLR0911, PLR0912 - one case a kind
    """Whether a native formula is sure to give one value, not an array."""
    match node:
        case Reference():
            return node.single
        case Slot(_, whole):
            return not whole
        case ArrayLiteral():
            return False
        case Name(_, name):
            return variables.get(name.lower(), True)
        case Apply(_, arguments):
            return all(is_single(argument, variables) for argument in arguments)
        case Call("LET", arguments):
            return is_single(arguments[-1], let_variables(arguments, variables))
        case Call("INDEX", arguments):
            return _index_is_single(arguments, variables)
        case Call("XLOOKUP", (sought, Reference() as keys, Reference() as results, *_)):
            lines = (
                keys.column1 == keys.column2 and results.column1 == results.column2,
                keys.row1 == keys.row2 and results.row1 == results.row2,
            )
            return any(lines) and is_single(sought, variables)
        case Call("OFFSET", arguments):
            return _offset_is_single(arguments, variables)
        case Call("MAP", _):
            return False
        case Call("LAMBDA" | "REDUCE", _):
            return True
        case Call(name, _) if name in native.WHOLE:
            return True
        case Call(name, _) if name in native.ARRAY:
            return False
        case Call(name, arguments) if name in native.SOME:
            positions = native.SOME[name]
            each = [a for index, a in enumerate(arguments) if index not in positions]
            return all(is_single(argument, variables) for argument in each)
    return all(is_single(child, variables) for child in children(node))


def let_variables(arguments: tuple[Node, ...], variables: Variables) -> Variables:
    """The variables that hold within the result of a LET."""
    inner = dict(variables)
    for variable, value in zip(arguments[:-1:2], arguments[1:-1:2], strict=True):
        if isinstance(variable, Name):
            inner[variable.name.lower()] = is_single(value, inner)
    return inner


def _index_is_single(arguments: tuple[Node, ...], variables: Variables) -> bool:
    positions = arguments[1:]
    if not all(is_single(position, variables) for position in positions):
        return False
    whole = [_is_whole_line(position) for position in positions]
    if any(whole) or not positions:
        return False
    if len(positions) > 1 or not isinstance(arguments[0], Reference):
        return True
    area = arguments[0]
    return area.row1 == area.row2 or area.column1 == area.column2


def _is_whole_line(position: Node) -> bool:
    """Whether an INDEX argument is the 0, or nothing, that means a whole row or column."""
    return isinstance(position, Missing) or position == Number("0")


def _offset_is_single(arguments: tuple[Node, ...], variables: Variables) -> bool:
    base = arguments[0] if arguments else None
    sizes = arguments[3:]
    if any(size not in (Number("1"), Missing()) for size in sizes):
        return False
    single_base = isinstance(base, Reference) and base.single
    return single_base and all(is_single(argument, variables) for argument in arguments[1:])


def check_arrays(  # noqa: PLR0912 - one case a kind
    node: Node, ours: frozenset[str], variables: Variables | None = None
) -> None:
    """Raise FormulaError where the formula uses an array in a way that was not tested."""
    variables = variables or {}
    match node:
        case Call(name, arguments) if name in ours:
            pass
        case Call("LET", arguments):
            inner = let_variables(arguments, variables)
            for argument in arguments:
                check_arrays(argument, ours, inner)
            return
        case Call("INDEX" as name, arguments) if not is_single(node, variables):
            if not all(is_single(position, variables) for position in arguments[1:]):
                raise FormulaError("INDEX with an array of positions is not computed")
        case Call("XLOOKUP", _) if not is_single(node, variables):
            raise FormulaError(
                "XLOOKUP is computed only for one value sought, in one row or column, "
                "with results of the same kind"
            )
        case Call("SUMIF" | "AVERAGEIF" as name, (keys, _, sums)) if not _same_size(keys, sums):
            raise FormulaError(f"{name} is computed only for two ranges of one size")
        case Call("MATCH", (_, _, kind)) if kind not in (Number("0"), Number("1"), Missing()):
            raise FormulaError("MATCH is computed only with 0 or 1 as its match type")
        case Call("WORKDAY", (_, _, _)):
            raise FormulaError("WORKDAY with holidays is not computed; NETWORKDAYS is")
        case Call("SUBTOTAL", (kind, *_)) if not _is_tested_subtotal(kind):
            raise FormulaError("SUBTOTAL is computed only for 101 to 111, except 106 to 108")
        case Call(name, arguments):
            _check_call(name, arguments, variables)
        case Apply(_, arguments) if not all(is_single(a, variables) for a in arguments):
            raise FormulaError("a LAMBDA is computed only for single values")
    for child in children(node):
        check_arrays(child, ours, variables)


def _check_call(name: str, arguments: tuple[Node, ...], variables: Variables) -> None:
    whole = native.SOME.get(name, () if name in native.EACH else range(len(arguments)))
    for index, argument in enumerate(arguments):
        if isinstance(argument, Reference | Slot) and index in whole:
            continue
        if is_single(argument, variables):
            continue
        if index not in whole:
            if name not in native.EACH_OF_ARRAY and name != "SUMIF":
                raise FormulaError(f"{name} is computed only for single values, not for arrays")
        elif name not in native.TAKES_COMPUTED and not _is_range(argument):
            raise FormulaError(f"{name} is computed only for ranges of cells, not for arrays")
        elif name in native.COUNTS_LOGICALS and not _is_logical_free(argument):
            raise FormulaError(
                f"{name} of an array that may hold TRUE or FALSE is not computed; "
                "use FILTER to choose the values"
            )


def _is_range(node: Node) -> bool:
    """Whether the result is cells, not computed values."""
    match node:
        case Parenthesis(inner):
            return _is_range(inner)
        case Reference() | Slot() | Call("OFFSET" | "ANCHORARRAY", _):
            return True
        case Call("INDEX", (area, *_)):
            return _is_range(area)
    return False


def _is_logical_free(node: Node) -> bool:
    match node:
        case Parenthesis(inner):
            return _is_logical_free(inner)
        case Binary(operator, _, _):
            return operator in _LOGICAL_FREE
        case Unary() | ArrayLiteral() | Call("SEQUENCE" | "MMULT" | "FREQUENCY", _):
            return True
        case Call("FILTER" | "SORT" | "SORTBY" | "UNIQUE" | "TRANSPOSE", (source, *_)):
            return _is_range(source) or _is_logical_free(source)
        case Call("IF", (_, one, other)):
            return all(isinstance(n, Reference) or _is_plain(n) for n in (one, other))
    return _is_range(node)


def _is_plain(node: Node) -> bool:
    return (not isinstance(node, Missing) and is_single(node, {})) or _is_logical_free(node)


def _same_size(one: Node, other: Node) -> bool:
    if not isinstance(one, Reference) or not isinstance(other, Reference):
        return False
    return (
        one.row2 - one.row1 == other.row2 - other.row1
        and one.column2 - one.column1 == other.column2 - other.column1
    )


def _is_tested_subtotal(kind: Node) -> bool:
    return isinstance(kind, Number) and kind.text in ("101", "102", "103", "104", "105", "109")


def uses_arrays(node: Node) -> bool:
    """Whether a function that works one element at a time gets an array, so that the engine
    must evaluate the formula as an array formula."""
    if isinstance(node, Call) and (node.name in native.EACH or node.name in native.SOME):
        whole = native.SOME.get(node.name, ())
        each = [a for index, a in enumerate(node.arguments) if index not in whole]
        if not all(is_single(argument, {}) for argument in each):
            return True
    return any(uses_arrays(child) for child in children(node))


@dataclass(slots=True)
class Intersection:
    """Meets the ranges of a plain formula with the row or column of its cell.

    `rows` and `columns` are the cells for which the outcome holds.
    """

    row: int
    column: int
    ours: frozenset[str]
    plain: bool
    rows: tuple[int, int] = (1, 1 << 20)
    columns: tuple[int, int] = (1, 1 << 14)
    _depth: int = field(default=0)

    def met(self, node: Node, arrays: bool = False) -> Node:
        match node:
            case Call("SINGLE", (Reference() as area,)):
                return self._cell(area)
            case Call("SINGLE", (operand,)):
                operand = self.met(operand, arrays)
                if not is_single(operand, {}):
                    raise FormulaError("@ is computed only before a reference")
                return operand
            case Call(name, arguments):
                arrays = arrays or name in native.ARRAY_ARGUMENTS or name in self.ours
                whole = native.SOME.get(name, () if name in native.EACH else range(255))
                each = self.plain and not arrays
                return Call(
                    name,
                    tuple(
                        self._cell(argument)
                        if each and index not in whole and isinstance(argument, Reference)
                        else self.met(argument, arrays)
                        for index, argument in enumerate(arguments)
                    ),
                )
            case Binary() | Unary() if self.plain and not arrays:
                return with_children(node, self._operand)
        return with_children(node, lambda child: self.met(child, arrays))

    def top(self, node: Node) -> Node:
        """The whole formula."""
        return self._operand(node) if self.plain else self.met(node)

    def _operand(self, node: Node) -> Node:
        return self._cell(node) if isinstance(node, Reference) else self.met(node)

    def _cell(self, area: Reference) -> Node:
        """The cell of an area in the formula's own row or column."""
        if area.single:
            return area
        if area.column1 == area.column2 and area.fixed_row1 == area.fixed_row2:
            if area.fixed_row1:
                self.rows = self._narrowed(self.rows, area.row1, area.row2, self.row)
            if not area.row1 <= self.row <= area.row2:
                return ErrorLiteral("#VALUE!")
            fixed = area.fixed_column1
            column = area.column1
            return Reference(
                area.sheet, self.row, column, self.row, column, False, fixed, False, fixed
            )
        if area.row1 == area.row2 and area.fixed_column1 == area.fixed_column2:
            if area.fixed_column1:
                self.columns = self._narrowed(self.columns, area.column1, area.column2, self.column)
            if not area.column1 <= self.column <= area.column2:
                return ErrorLiteral("#VALUE!")
            fixed = area.fixed_row1
            row = area.row1
            return Reference(
                area.sheet, row, self.column, row, self.column, fixed, False, fixed, False
            )
        return ErrorLiteral("#VALUE!")

    @staticmethod
    def _narrowed(limits: tuple[int, int], low: int, high: int, at: int) -> tuple[int, int]:
        if low <= at <= high:
            return max(limits[0], low), min(limits[1], high)
        return at, at
