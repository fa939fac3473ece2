"""What a calculation did, as a graph of native operations; what is alike is one node."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any


class Node:
    """An operation on nodes, a number, a text, a variable or an error; alike is the same object."""

    op: str
    args: tuple[Any, ...]

    __slots__ = ("args", "op")

    def __new__(cls, op: str, *args: Any) -> Node:
        key = (op, *((type(each), each) for each in args))
        found = _made.get(key)
        if found is None:
            found = object.__new__(cls)
            found.op, found.args = op, args
            _made[key] = found
        return found

    @property
    def children(self) -> tuple[Node, ...]:
        """The nodes that it is made of."""
        return tuple(each for each in self.args if isinstance(each, Node))

    def __repr__(self) -> str:
        return f"{self.op}{self.args}"


_made: dict[tuple[Any, ...], Node] = {}


def constant(value: Any) -> Node:
    """A number, a text or a truth value as it stands in a formula."""
    if isinstance(value, str):
        return Node("text", value)
    if isinstance(value, bool):
        return Node("logical", value)
    return Node("number", float(value))


def variable(name: str) -> Node:
    """An argument or a variable, by its name."""
    return Node("variable", own(name))


def own(name: str) -> str:
    """The name of a variable, which no defined name of a book is likely to have."""
    return f"{name}_"


def error(code: str) -> Node:
    """An error of the spreadsheet."""
    return Node("error", code)


def call(function: str, *arguments: Node) -> Node:
    """A call of a native function or of one of ours on the hidden sheet."""
    return Node("call", function, *arguments)


def blank(cell: Node) -> Node:
    """Whether a cell holds nothing."""
    return Node("=", call("TRIM", cell), constant(""))


def chosen(condition: Node, yes: Node, no: Node) -> Node:
    """IF, which is none where both ways are alike; of tables alike in size, cell by cell."""
    if yes is no:
        return yes
    if yes.op == no.op == "table" and _size(yes) == _size(no):
        cells = (chosen(condition, *both) for both in zip(yes.args[1:], no.args[1:], strict=True))
        return table(yes.args[0], cells)
    return Node("if", condition, yes, no)


def table(width: int, cells: Iterable[Node]) -> Node:
    """Cells row by row, so many in each."""
    return Node("table", width, *cells)


def _size(of: Node) -> tuple[int, int]:
    return of.args[0], len(of.args)


def replaced(root: Node, old: Node, new: Node) -> Node:
    """A graph with one node in the place of another."""
    made = {old: new}
    for node in reversed(list(from_the_top(root))):
        if node not in made:
            args = (made[each] if isinstance(each, Node) else each for each in node.args)
            made[node] = Node(node.op, *args)
    return made[root]


LOOPS = frozenset({"sum", "each", "rows", "scan"})
"""What makes a formula for each item of a range; the variables are its last arguments."""


def in_own_loops(root: Node) -> Node:
    """A graph in which no two loops have a variable of the same name.

    What is made of a variable would else be worked out once for both, outside of either.
    """
    made: dict[Node, Node] = {}
    for node in reversed(list(from_the_top(root))):
        args = [made[each] if isinstance(each, Node) else each for each in node.args]
        made[node] = Node(node.op, *args)
        for letter, name in zip("ij", loop_variables(node), strict=False):
            fresh = f"{letter}_{len(made)}_"
            old, new = Node("variable", name), Node("variable", fresh)
            args = [replaced(each, old, new) if isinstance(each, Node) else each for each in args]
            args = [fresh if each == name else each for each in args]
            made[node] = Node(node.op, *args)
    return made[root]


def loop_variables(node: Node) -> list[str]:
    """The variables that a loop binds, none of anything else."""
    return [each for each in node.args if isinstance(each, str)] if node.op in LOOPS else []


def from_the_top(root: Node) -> Iterator[Node]:
    """Every node once, each before what it is made of."""
    done: list[Node] = []
    seen: set[int] = set()
    waiting = [(root, False)]
    while waiting:
        node, opened = waiting.pop()
        if opened:
            done.append(node)
        elif id(node) not in seen:
            seen.add(id(node))
            waiting.append((node, True))
            waiting += [(child, False) for child in node.children]
    return reversed(done)
