"""A graph as the text of a formula: what is used twice becomes a variable of LET."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from typing import Any

from gasfuncs.hosts.carried.arrays import NotRecordedError
from gasfuncs.hosts.carried.natives import Native
from gasfuncs.hosts.carried.nodes import Node, from_the_top, own
from gasfuncs.hosts.carried.sheet import Sheet

Scope = tuple[tuple[int, int], ...]
"""Which branches of which IF a place is in, from the outside in."""

ROOM = 7_900
"""Characters of a piece, with its LAMBDA below the 8,192 that spreadsheets take."""

PAIRS = 126
"""Variables of one LET."""

STRENGTH = {
    "=": 1, "<>": 1, "<": 1, ">": 1, "<=": 1, ">=": 1, "+": 3, "-": 3, "*": 4, "/": 4, "^": 5,
}  # fmt: skip
ATOM = 9
LEAVES = frozenset({"number", "text", "logical", "variable", "error", "words"})
"""What no variable is made of."""


def written(name: str, arguments: tuple[str, ...], root: Node, sheet: Sheet) -> dict[str, Native]:
    """A formula by its name; a long one is cut, and each piece calls the next by a name of its own.

    Raises NotRecordedError where it cannot be cut short enough.
    """
    writer = _Writer(root, sheet)
    variables, body = writer.parts()
    out: dict[str, Native] = {}
    while True:
        piece = f"{name}_{len(out) + 1}" if out else name
        taken = _that_fit(variables, body)
        rest, variables = variables[taken:], variables[:taken]
        if not rest:
            out[piece] = Native(arguments, _let(variables, body))
            return out
        text = _let(rest, body)
        needed = tuple(n for n in (*arguments, *(v for v, _ in variables)) if _uses(text, n))
        called = ",".join(f"_xlpm.{each}" for each in needed)
        out[piece] = Native(arguments, _let(variables, f"{name}_{len(out) + 2}({called})"))
        arguments, variables = needed, rest


def _that_fit(variables: list[tuple[str, str]], body: str) -> int:
    """How many variables a piece takes: all of them, or those that leave room for a call."""
    if len(variables) <= PAIRS and len(_let(variables, body)) <= ROOM:
        return len(variables)
    length = 0
    for count, (name, text) in enumerate(variables):
        length += len(name) + len(text) + 10
        if count == PAIRS or length > ROOM - len(variables) * 10:
            if not count:
                break
            return count
    raise NotRecordedError("its formula is longer than spreadsheets take")


def _let(variables: list[tuple[str, str]], body: str) -> str:
    pairs = "".join(f"_xlpm.{name},{text}," for name, text in variables)
    return f"_xlfn.LET({pairs}{body})" if pairs else body


def _uses(text: str, name: str) -> bool:
    return re.search(rf"_xlpm\.{name}\b", text) is not None


class _Writer:
    def __init__(self, root: Node, sheet: Sheet) -> None:
        self.root, self.sheet = root, sheet
        self.scopes: dict[Node, Scope] = {root: ()}
        self.uses: dict[Node, int] = defaultdict(int)
        self.order = list(from_the_top(root))
        for node in self.order:
            self._place_children(node)
        self.bound: dict[Scope, list[Node]] = defaultdict(list)
        self.names: dict[Node, str] = {}
        for node in reversed(self.order):
            if self.uses[node] > 1 and node.op not in LEAVES:
                self.names[node] = own(f"x_{len(self.names) + 1}")
                self.bound[self.scopes[node]].append(node)

    def parts(self) -> tuple[list[tuple[str, str]], str]:
        """The variables of the whole formula, and what comes of them."""
        return self._variables(()), self._shown(self.root, ())[0]

    def _place_children(self, node: Node) -> None:
        here = self.scopes[node]
        branches = node.op in ("if", "sum")
        for place, child in enumerate(node.children):
            inside = (*here, (id(node), place)) if branches and place else here
            self.uses[child] += 1
            known = self.scopes.get(child)
            self.scopes[child] = inside if known is None else _common(known, inside)

    def _branch(self, node: Node, scope: Scope) -> str:
        return _let(self._variables(scope), self._shown(node, scope)[0])

    def _variables(self, scope: Scope) -> list[tuple[str, str]]:
        return [
            (self.names[each], self._made(each, scope)[0]) for each in self.bound.get(scope, ())
        ]

    def _shown(self, node: Node, scope: Scope) -> tuple[str, int]:
        """The text of a node where it is used, and how strongly it holds together."""
        name = self.names.get(node)
        return (f"_xlpm.{name}", ATOM) if name else self._made(node, scope)

    def _made(self, node: Node, scope: Scope) -> tuple[str, int]:
        op, args = node.op, node.args
        if op in STRENGTH:
            strength = STRENGTH[op]
            left = self._within(args[0], scope, strength)
            right = self._within(args[1], scope, strength + (op not in "+*"))
            return f"{left}{op}{right}", strength
        return (self._sum if op == "sum" else self._whole)(node, scope), ATOM

    def _sum(self, node: Node, scope: Scope) -> str:
        """The sum of a formula over the places of a range."""
        count, each, item = node.args
        over = self._branch(each, (*scope, (id(node), 1)))
        places = f"_xlfn.SEQUENCE({self._shown(count, scope)[0]})"
        return f"SUM(_xlfn.MAP({places},_xlfn.LAMBDA(_xlpm.{item},{over})))"

    def _whole(self, node: Node, scope: Scope) -> str:
        """The text of a node that needs no brackets."""
        args = node.args
        match node.op:
            case "number" if float(f"{args[0]:.15g}") != args[0]:
                return self.sheet.number(args[0])
            case "if":
                condition = self._shown(args[0], scope)[0]
                yes, no = (self._branch(args[n], (*scope, (id(node), n))) for n in (1, 2))
                return f"IF({condition},{yes},{no})"
            case "negative":
                return f"(-{self._within(args[0], scope, ATOM)})"
            case "column":
                return f"INDEX({self.sheet.column(args[1])},{self._shown(args[0], scope)[0]})"
            case "call":
                inside = ",".join(self._shown(each, scope)[0] for each in args[1:])
                return f"{args[0]}({inside})"
        if node.op not in LEAVES:
            raise NotRecordedError(f"a choice is left open in {node.op}")
        return leaf(node)

    def _within(self, node: Node, scope: Scope, strength: int) -> str:
        text, own = self._shown(node, scope)
        return text if own >= strength else f"({text})"


def _common(one: Scope, other: Scope) -> Scope:
    count = 0
    for a, b in zip(one, other, strict=False):
        if a != b:
            break
        count += 1
    return one[:count]


def leaf(node: Node) -> str:
    """A number, text, truth value, error or variable as a formula has it."""
    value: Any = node.args[0]
    match node.op:
        case "number":
            return number(value)
        case "text":
            return '"' + str(value).replace('"', '""') + '"'
        case "logical":
            return "TRUE" if value else "FALSE"
        case "words":
            return "{" + ",".join(leaf(Node("text", word)) for word in value) + "}"
        case "variable":
            return f"_xlpm.{value}"
    return str(value)


def number(value: float) -> str:
    """A number as formulas have it; negative ones in brackets."""
    if not math.isfinite(value):
        return "#NUM!"
    whole = value == int(value) and abs(value) < 1e15
    text = str(int(value)) if whole else repr(value).upper()
    return f"({text})" if value < 0 else text
