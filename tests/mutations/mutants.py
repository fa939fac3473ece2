"""The bugs that are put into a module: one changed spot each, as a person might have typed it.

Texts are left alone, and so is what only a text or GAS_WORKING shows: docstrings, messages, the
arguments of `step` and of decorators, annotations; and the `strict` of a `zip`, which only guards.
"""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import CodeType

ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Div, ast.Mod: ast.Mult,
}  # fmt: skip
LOGIC: dict[type[ast.operator], type[ast.operator]] = {ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd}
OPPOSITE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
BESIDE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt,
}  # fmt: skip
OTHER_NAMES = {
    one: other
    for pair in (
        ("minimum", "maximum"), ("min", "max"), ("floor", "ceil"), ("any", "all"),
        ("less", "greater"), ("less_equal", "greater_equal"),
    )
    for one, other in (pair, pair[::-1])
}  # fmt: skip
SHOWN_ONLY = {"step"}
"""Calls whose arguments a person sees and nothing is computed from."""
REFUSING = {"refuse", "unreachable"}
"""Calls that refuse by their first argument; the others are words."""
LEFT_ALONE = (ast.JoinedStr, ast.Raise, ast.Import, ast.ImportFrom, ast.arg)

Put = Callable[[ast.AST], None]
"""Sets another node in the place of one."""


@dataclass(frozen=True)
class Spot:
    """A node, what it is changed to, and the outermost function or method around it."""

    node: ast.AST
    changed: ast.AST
    put: Put
    function: str

    def told(self) -> str:
        """What is changed, in one line."""
        if isinstance(self.node, ast.Dict) and isinstance(self.changed, ast.Dict):
            pairs = zip(self.node.keys, self.node.values, self.changed.values, strict=True)
            [(key, old, new)] = [pair for pair in pairs if pair[1] is not pair[2]]
            return f"{told(key) if key else ''}: {told(old)} -> {told(new)}"
        return f"{_headed(self.node)} -> {_headed(self.changed)}"


def _headed(node: ast.AST) -> str:
    """A node; of a branch or loop its test alone."""
    if isinstance(node, ast.If | ast.While):
        return f"{type(node).__name__.lower()} {told(node.test)}"
    return told(node)


@dataclass(frozen=True)
class Mutant:
    """A module with one spot changed."""

    path: Path
    number: int
    line: int
    function: str
    """The outermost function around the spot as `Class.name`, "" where none is."""
    what: str
    again: int = 0
    """How many bugs before it in the same function read alike."""

    @property
    def key(self) -> str:
        """How the list of equivalents names it: without its line, which moves."""
        again = f" ({self.again + 1})" if self.again else ""
        return f"{self.path.stem}.{self.function or 'module'}: {self.what}{again}"

    def code(self) -> CodeType:
        """The module compiled with the bug in it."""
        tree = ast.parse(self.path.read_text(encoding="utf-8"))
        spot = list(spots(tree))[self.number]
        spot.put(ast.copy_location(spot.changed, spot.node))
        whole = ast.fix_missing_locations(tree)
        code: CodeType = compile(whole, str(self.path), "exec", dont_inherit=True)
        return code


def mutants(path: Path) -> list[Mutant]:
    """Every bug of a module, in the order of its lines."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    found: list[Mutant] = []
    alike: Counter[tuple[str, str]] = Counter()
    for number, spot in enumerate(spots(tree)):
        what = spot.told()
        again = alike[spot.function, what]
        alike[spot.function, what] += 1
        line = getattr(spot.node, "lineno", 0)
        found.append(Mutant(path, number, line, spot.function, what, again))
    return found


def told(node: ast.AST) -> str:
    """A node in one short line."""
    if isinstance(node, ast.Constant) and isinstance(node.value, float):
        return f"{node.value:.12g}"
    return " ".join(ast.unparse(node).split())[:100]


def spots(tree: ast.Module) -> Iterator[Spot]:
    """Every node of a module that can be changed, once for each change."""
    for statement, put in parts(tree):
        yield from _below(statement, put, _around(tree, statement, ""))


def _below(node: ast.AST, put: Put, function: str) -> Iterator[Spot]:
    if isinstance(node, LEFT_ALONE) or _is_text(node) or _called(node) in SHOWN_ONLY:
        return
    inside = bool(function)
    for changed in changes(node, inside):
        yield Spot(node, changed, put, function)
    if _called(node) in REFUSING and isinstance(node, ast.Call):
        yield from _below(node.args[0], partial(_set_argument, node), function)
        return
    for child, put_child in parts(node):
        yield from _below(child, put_child, _around(node, child, function))


def _around(node: ast.AST, child: ast.AST, function: str) -> str:
    """The outermost function that a child of a node stands in; defaults stand outside."""
    if isinstance(node, ast.FunctionDef) and isinstance(child, ast.arguments):
        return ""
    if isinstance(node, ast.ClassDef) and isinstance(child, ast.FunctionDef):
        return f"{node.name}.{child.name}"
    if isinstance(node, ast.Module) and isinstance(child, ast.FunctionDef):
        return child.name
    return function


def parts(node: ast.AST) -> Iterator[tuple[ast.AST, Put]]:
    """The nodes directly below a node that are computed, with what puts another in their place."""
    for name, value in ast.iter_fields(node):
        if name in {"decorator_list", "annotation", "returns", "args_annotations"}:
            continue
        if isinstance(value, ast.AST):
            yield value, partial(setattr, node, name)
        elif isinstance(value, list) and not (_called(node) == "zip" and name == "keywords"):
            for place, each in enumerate(value):
                if isinstance(each, ast.AST):
                    yield each, partial(_set, value, place)


def _set_argument(call: ast.Call, node: ast.AST) -> None:
    assert isinstance(node, ast.expr)
    call.args[0] = node


def _set(nodes: list[ast.AST], place: int, node: ast.AST) -> None:
    nodes[place] = node


def changes(node: ast.AST, inside: bool) -> Iterator[ast.AST]:
    """What a node is changed to; `inside` a function."""
    match node:
        case ast.BinOp():
            yield from _other_operator(node, ARITHMETIC | (LOGIC if inside else {}))
        case ast.Compare(ops=[operator]):
            for others in (OPPOSITE, BESIDE):
                if type(operator) in others:
                    yield ast.Compare(node.left, [others[type(operator)]()], node.comparators)
        case ast.BoolOp():
            yield ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values)
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            yield node.operand
        case ast.Constant(value=bool()):
            yield ast.Constant(not node.value)
        case ast.Constant(value=int() | float() as number):
            yield ast.Constant(_other_number(number))
        case ast.If() | ast.IfExp() | ast.While():
            yield from _other_test(node)
        case ast.Expr(value=ast.Call()) | ast.AugAssign() if inside and not _shows(node):
            yield ast.Pass()
        case ast.Dict() if not inside:
            yield from _other_entries(node)
        case _:
            yield from _other_name(node)


def _other_name(node: ast.AST) -> Iterator[ast.AST]:
    if isinstance(node, ast.Name) and node.id in OTHER_NAMES:
        yield ast.Name(OTHER_NAMES[node.id], node.ctx)
    if isinstance(node, ast.Attribute) and node.attr in OTHER_NAMES:
        yield ast.Attribute(node.value, OTHER_NAMES[node.attr], node.ctx)


def _other_number(value: float) -> float:
    if isinstance(value, int):
        return value + 1
    return value * 1.1 if value else 1.0


def _other_operator(
    node: ast.BinOp, others: dict[type[ast.operator], type[ast.operator]]
) -> Iterator[ast.AST]:
    if type(node.op) in others and not any(map(_is_text, (node.left, node.right))):
        yield ast.BinOp(node.left, others[type(node.op)](), node.right)


def _other_test(node: ast.If | ast.IfExp | ast.While) -> Iterator[ast.AST]:
    """The opposite of a test that is no comparison, which has changes of its own."""
    if isinstance(node.test, ast.Name | ast.Call | ast.Attribute) and told(node.test) != (
        "TYPE_CHECKING"
    ):
        test = ast.UnaryOp(ast.Not(), node.test)
        yield type(node)(test, node.body, node.orelse)  # type: ignore[arg-type]


def _other_entries(node: ast.Dict) -> Iterator[ast.AST]:
    """A table in which an entry has the value of the next one."""
    for place, value in enumerate(node.values[:-1]):
        following = node.values[place + 1]
        if type(value) is type(following) and told(value) != told(following):
            yield ast.Dict(node.keys, [*node.values[:place], following, *node.values[place + 1 :]])


def _shows(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and _called(node.value) in SHOWN_ONLY


def _called(node: ast.AST) -> str:
    return node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""


def _is_text(node: ast.AST) -> bool:
    if isinstance(node, ast.Constant):
        return isinstance(node.value, str)
    return isinstance(node, ast.JoinedStr)
