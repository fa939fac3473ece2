"""The calls of the library's functions in formulas: a column of alike calls is one call."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.cells import At, FailedError, Formula, Range, UncomputableError
from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import (
    ArrayLiteral,
    Call,
    ErrorLiteral,
    Logical,
    Missing,
    Node,
    Number,
    Parenthesis,
    Reference,
    Text,
)
from gasfuncs.hosts.headless.values import ERROR_SENTENCES, finite

if TYPE_CHECKING:
    from gasfuncs.hosts.headless.compiling import Compiler

_LITERAL = (Number, Text, Logical, ErrorLiteral, Missing, ArrayLiteral)


class OurCall:
    """One call in a formula; `prepare` computes it for many rows of a column at once."""

    def __init__(self, compiler: Compiler, function: Any, arguments: Sequence[Node]) -> None:
        parameters = function.parameters
        variadic = bool(parameters) and parameters[-1].variadic
        if len(arguments) > len(parameters) and not variadic:
            raise FormulaError(
                f"{function.name} has {len(arguments)} arguments; it takes {len(parameters)}"
            )
        self._function = function
        nodes = [_bare(compiler, node) for node in arguments]
        self._arguments = [_argument(compiler, node) for node in nodes]
        required = sum(1 for parameter in parameters if parameter.required)
        self._arguments += [_nothing] * (required - len(nodes))
        fixed = [_is_fixed(compiler, node) for node in nodes] + [True] * (required - len(nodes))
        self._moving = [place for place, stays in enumerate(fixed) if not stays]
        whole = [parameters[min(p, len(parameters) - 1)].whole for p in range(len(fixed))]
        self._alone = not compiler.has_variables()
        self._one_call = not function.spills and not any(whole[place] for place in self._moving)
        self._same: dict[int, Any] = {}
        self._ready: dict[int, dict[int, Any]] = {}

    def formula(self, at: At) -> Any:
        if at.column in self._same:
            same = self._same[at.column]
            return same if same.__class__ is list else _answer(same)
        ready = self._ready.get(at.column)
        if ready is not None and at.row in ready:
            return _answer(ready[at.row])
        return _answer(self._function.cells(*[each(at) for each in self._arguments]))

    def prepare(self, rows: Sequence[int], column: int, retry: Any) -> None:
        """Compute the calls of many rows at once, where they differ in single values only."""
        if not self._alone or len(rows) < 2:
            return
        if not self._moving:
            self._prepare_same(rows[0], column, retry)
        elif self._one_call:
            self._prepare_column(rows, column, retry)

    def _prepare_same(self, row: int, column: int, retry: Any) -> None:
        """The call is the same in every row."""
        at = At(row, column)
        try:
            values = retry(lambda: [each(at) for each in self._arguments])
        except (UncomputableError, FormulaError):
            return
        same = self._function.cells(*values)
        self._same[column] = _answer(same) if same.__class__ is list else same

    def _prepare_column(self, rows: Sequence[int], column: int, retry: Any) -> None:
        moving = [self._arguments[place] for place in self._moving]
        lines: list[list[Any]] = []
        found: list[int] = []
        at = At(0, column)
        for row in rows:
            at.row = row
            try:
                values = retry(lambda: [each(at) for each in moving])
            except (UncomputableError, FormulaError):
                continue
            if any(value.__class__ is list for value in values):
                return
            lines.append(values)
            found.append(row)
        if not found:
            return
        at.row = found[0]
        given = [None if p in self._moving else each(at) for p, each in enumerate(self._arguments)]
        for place, values in zip(self._moving, zip(*lines, strict=True), strict=True):
            given[place] = [[value] for value in values]
        result = self._function.cells(*given)
        answers = (
            [line[0] for line in result] if isinstance(result, list) else [result] * len(found)
        )
        self._ready[column] = dict(zip(found, answers, strict=True))

    def release(self, column: int) -> None:
        """The prepared results are used up."""
        self._ready.pop(column, None)
        self._same.pop(column, None)


def _nothing(_: At) -> None:
    return None


def _bare(compiler: Compiler, node: Node) -> Node:
    while isinstance(node, Parenthesis):
        node = node.inner
    return compiler.written_out(node)


def _is_fixed(compiler: Compiler, node: Node) -> bool:
    """Whether the argument is the same in every row: a place in a fixed area is, too."""
    if isinstance(node, Call) and node.name == "INDEX":
        return all(_is_fixed(compiler, _bare(compiler, each)) for each in node.arguments)
    if isinstance(node, Reference):
        fixed = (node.fixed_row1, node.fixed_column1, node.fixed_row2, node.fixed_column2)
        return all(fixed)
    return isinstance(node, _LITERAL)


def _argument(compiler: Compiler, node: Node) -> Formula:
    if isinstance(node, Reference) and node.single:
        return compiler.told_cell(node)
    made = compiler.whole(node, arrays=True)

    def value(at: At) -> Any:
        try:
            found = made(at)
        except FailedError as error:
            code = error.error.code
            return CellError(code, error.error.message or f"an argument is {code}: {_why(code)}")
        if found.__class__ is not Range:
            return found
        if found.single and not isinstance(node, Reference):
            return found.told(found.cell(0, 0), 0, 0)
        return found.given()

    return value


def _why(code: str) -> str:
    return ERROR_SENTENCES.get(code, "not computed")


def _answer(result: Any) -> Any:
    """A function's result as a formula has it."""
    if isinstance(result, list):
        return [[finite(value) for value in line] for line in result]
    value = finite(result)
    if isinstance(value, CellError):
        raise FailedError(value)
    return value
