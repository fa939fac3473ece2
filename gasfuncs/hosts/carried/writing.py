"""A graph as the text of a formula: what is used twice becomes a variable of LET."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Any

from gasfuncs.hosts.carried.arrays import NotRecordedError
from gasfuncs.hosts.carried.natives import Native
from gasfuncs.hosts.carried.nodes import (
    LOOPS,
    Node,
    from_the_top,
    in_own_loops,
    loop_variables,
    own,
)
from gasfuncs.hosts.carried.sheet import Sheet

Scope = tuple[tuple[int, int], ...]
"""Which branches of which IF a place is in, from the outside in."""

ROOM = 8_150
"""Characters of a piece and its arguments, with its LAMBDA below the 8,192 of spreadsheets."""

LONG = ROOM // 3
"""Characters from which on what an IF chooses is a piece of its own."""

LONGEST_NAME = 40
"""Characters of the name of a piece."""

PAIRS = 126
"""Variables of one LET."""

STRENGTH = {
    "=": 1, "<>": 1, "<": 1, ">": 1, "<=": 1, ">=": 1, "+": 3, "-": 3, "*": 4, "/": 4, "^": 5,
}  # fmt: skip
ATOM = 9
VARIABLE = re.compile(r"_xlpm\.(\w+)")
LEAVES = frozenset({"number", "text", "logical", "variable", "error", "words"})
"""What no variable is made of."""


def written(name: str, arguments: tuple[str, ...], root: Node, sheet: Sheet) -> dict[str, Native]:
    """A formula by its name; the pieces of a long one call each other by names of their own.

    Raises NotRecordedError where it cannot be cut short enough.
    """
    return _Writer(name, root, sheet).pieces_of(arguments)


def _that_fit(variables: list[tuple[str, str]], body: str, room: int) -> int:
    """How many variables a piece takes that leave room for a call of the rest."""
    most = 0
    length = len("_xlfn.LET(GF_ONE_,)") + LONGEST_NAME
    for count, (name, text) in enumerate(variables[:PAIRS], 1):
        length += len(f"_xlpm.{name},{text},")
        if length > room:
            break
        if length + sum(len(f"_xlpm.{each},") for each in _needed(variables, body, count)) <= room:
            most = count
    if not most:
        raise NotRecordedError("its formula is longer than spreadsheets take")
    return most


def _needed(variables: list[tuple[str, str]], body: str, taken: int) -> set[str]:
    """The variables that the rest has from outside."""
    rest = variables[taken:]
    used = {name for text in (*(each for _, each in rest), body) for name in VARIABLE.findall(text)}
    return used - {name for name, _ in rest}


def _called(name: str, arguments: Iterable[str]) -> str:
    return f"{name}({','.join(f'_xlpm.{each}' for each in arguments)})"


def _let(variables: list[tuple[str, str]], body: str) -> str:
    pairs = "".join(f"_xlpm.{name},{text}," for name, text in variables)
    return f"_xlfn.LET({pairs}{body})" if pairs else body


def _uses(text: str, name: str) -> bool:
    return re.search(rf"_xlpm\.{name}\b", text) is not None


class _Writer:
    def __init__(self, name: str, root: Node, sheet: Sheet) -> None:
        self.name, self.root, self.sheet = name, in_own_loops(root), sheet
        self.pieces: dict[str, Native] = {}
        self.scopes: dict[Node, Scope] = {self.root: ()}
        self.uses: dict[Node, int] = defaultdict(int)
        self.order = list(from_the_top(self.root))
        self.loops = {
            id(node): set(loop_variables(node)) for node in self.order if node.op in LOOPS
        }
        for node in self.order:
            self._place_children(node)
        self.bound: dict[Scope, list[Node]] = defaultdict(list)
        self.names: dict[Node, str] = {}
        for node in reversed(self.order):
            if (self.uses[node] > 1 or node.op == "kept") and node.op not in LEAVES:
                self.names[node] = own(f"x_{len(self.names) + 1}")
                self.bound[self.scopes[node]].append(node)
        self.bound_in = {name: self.scopes[node] for node, name in self.names.items()}

    def pieces_of(self, arguments: tuple[str, ...]) -> dict[str, Native]:
        """The formula by its name, and its pieces."""
        variables, body = self._variables(()), self._shown(self.root, ())[0]
        inner, self.pieces = self.pieces, {}
        self._cut(self.name, arguments, variables, body, 1 + len(inner))
        return self.pieces | inner

    def _cut(
        self, name: str, arguments: tuple[str, ...], variables: list[tuple[str, str]], body: str,
        count: int,
    ) -> None:  # fmt: skip
        """Put a formula by its name, and what is too long of it by names counted from `count`."""
        room = ROOM - sum(len("_xlpm.,") + len(each) for each in arguments)
        if len(variables) <= PAIRS and len(_let(variables, body)) <= room:
            self.pieces[name] = Native(arguments, _let(variables, body))
            return
        taken = _that_fit(variables, body, room)
        rest, variables = variables[taken:], variables[:taken]
        text = _let(rest, body)
        needed = tuple(n for n in (*arguments, *(v for v, _ in variables)) if _uses(text, n))
        more = f"{self.name}_{count + 1}"
        self.pieces[name] = Native(arguments, _let(variables, _called(more, needed)))
        self._cut(more, needed, rest, body, count + 1)

    def _place_children(self, node: Node) -> None:
        here = self.scopes[node]
        branches = node.op in ("if", *LOOPS)
        for place, child in enumerate(node.children):
            way = min(place, 1) if node.op == "rows" else place
            apart = branches and place > (node.op == "scan")
            inside = (*here, (id(node), way)) if apart else here
            if child.op == "kept":
                inside = self._outside(child, inside)
            self.uses[child] += 1
            known = self.scopes.get(child)
            self.scopes[child] = inside if known is None else _common(known, inside)

    def _outside(self, kept: Node, scope: Scope) -> Scope:
        """The scope without the innermost loops that what is kept does not depend on."""
        used = {node.args[0] for node in from_the_top(kept) if node.op == "variable"}
        loops = [(at, self.loops[node]) for at, (node, _) in enumerate(scope) if node in self.loops]
        free = len(scope)
        for at, items in reversed(loops):
            if items & used:
                break
            free = at
        return scope[:free]

    def _branch(self, node: Node, scope: Scope) -> str:
        return self._cut_off(self._variables(scope), self._shown(node, scope)[0], scope)

    def _cut_off(self, variables: list[tuple[str, str]], body: str, scope: Scope) -> str:
        """What stands in a branch; a long one is called by a name of its own."""
        text = _let(variables, body)
        if len(text) < LONG:
            return text
        arguments, count = tuple(self._free(text, scope)), 2 + len(self.pieces)
        self._cut(f"{self.name}_{count}", arguments, variables, body, count)
        return _called(f"{self.name}_{count}", arguments)

    def _free(self, text: str, scope: Scope) -> Iterator[str]:
        """The variables of a branch's text that it has from outside."""
        for name in dict.fromkeys(VARIABLE.findall(text)):
            inside = self.bound_in.get(name, ())[: len(scope)] == scope
            bound = rf"_xlfn\.(LAMBDA\((_xlpm\.\w+,)*|LET\()_xlpm\.{name},"
            if not inside and not re.search(bound, text):
                yield name

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
        if op == "kept":
            return self._shown(args[0], scope)
        made = getattr(self, f"_{op}") if op in LOOPS else self._whole
        return made(node, scope), ATOM

    def _sum(self, node: Node, scope: Scope) -> str:
        """The sum of a formula over the places of a range."""
        return f"SUM({self._each(node, scope)})"

    def _each(self, node: Node, scope: Scope) -> str:
        """A formula for each of the places of a range."""
        places, each, item = node.args
        over = self._branch(each, (*scope, (id(node), 1)))
        return f"_xlfn.MAP({self._shown(places, scope)[0]},_xlfn.LAMBDA(_xlpm.{item},{over}))"

    def _scan(self, node: Node, scope: Scope) -> str:
        """What a step makes of each item of an array and of what it made of those before."""
        start, array, step, state, value = node.args
        over = self._branch(step, (*scope, (id(node), 2)))
        given = f"{self._shown(start, scope)[0]},{self._shown(array, scope)[0]}"
        return f"_xlfn.SCAN({given},_xlfn.LAMBDA(_xlpm.{state},_xlpm.{value},{over}))"

    def _rows(self, node: Node, scope: Scope) -> str:
        """A row of cells for each of the places of a range."""
        inside = (*scope, (id(node), 1))
        places, *each, row = node.args
        cells = ",".join(self._shown(cell, inside)[0] for cell in each)
        variables = self._variables(inside)
        body = self._cut_off(variables, f"CHOOSE(_xlpm.column_,{cells})", inside)
        return (
            f"_xlfn.LET(_xlpm.places_,{self._shown(places, scope)[0]},"
            f"_xlfn.MAKEARRAY(ROWS(_xlpm.places_),{len(each)},"
            "_xlfn.LAMBDA(_xlpm.place_,_xlpm.column_,"
            f"_xlfn.LET(_xlpm.{row},INDEX(_xlpm.places_,_xlpm.place_),{body}))))"
        )

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
            case "table" | "call":
                inside = ",".join(self._shown(each, scope)[0] for each in args[1:])
                return f"{args[0]}({inside})" if node.op == "call" else f"{_places(node)}{inside})"
        if node.op not in LEAVES:
            raise NotRecordedError(f"a choice is left open in {node.op}")
        return leaf(node)

    def _within(self, node: Node, scope: Scope, strength: int) -> str:
        text, own = self._shown(node, scope)
        return text if own >= strength else f"({text})"


def _places(table: Node) -> str:
    """The start of a formula that puts cells in rows: the place of each among them."""
    width = table.args[0]
    rows = (range(first, first + width) for first in range(1, len(table.args), width))
    return f"CHOOSE({{{';'.join(','.join(map(str, row)) for row in rows)}}},"


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
