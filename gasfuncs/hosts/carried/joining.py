"""Makes one node of what came of each option: alike ones once, numbers that differ as a column."""

from __future__ import annotations

from collections import Counter
from typing import Any

from gasfuncs.hosts.carried.nodes import Node, call, chosen, constant


def joined(place: Node, options: list[Node]) -> Node:
    """Of options by their place (from 1 on): IF by IF, the most frequent one last."""
    counts = Counter(options)
    default, _ = counts.most_common(1)[0]
    out = default
    for each in counts:
        if each is not default:
            places = [constant(n) for n, own in enumerate(options, 1) if own is each]
            tests = [Node("=", place, n) for n in places]
            out = chosen(tests[0] if len(tests) == 1 else call("OR", *tests), each, out)
    return out


def joined_by_table(place: Node, options: list[Node]) -> Node:
    """Of many options that differ in numbers: a column of numbers for each number that differs.

    Options by two places in turn wait for each other and become one column of all pairs.
    """
    inner = {each.args[0]: len(each.args) - 1 for each in options if each.op == "waiting"}
    if not inner:
        return Node("waiting", place, *options)
    ((other, count),) = inner.items()
    before = Node("-", place, constant(1))
    both = Node("+", Node("*", before, constant(count)), other)
    return _merged(both, [each for option in options for each in _spread(option, count)])


def _spread(option: Node, count: int) -> list[Node]:
    """What came of each option of the second place; the same of all where it came to no choice."""
    return list(option.args[1:]) if option.op == "waiting" else [option] * count


def settled(node: Node) -> Node:
    """Options that waited for others in vain."""
    return _merged(node.args[0], list(node.args[1:])) if node.op == "waiting" else node


def _merged(place: Node, options: list[Node]) -> Node:
    groups: dict[tuple[Any, ...], list[int]] = {}
    numbers: list[list[float]] = []
    for at, each in enumerate(options):
        shape, found = _taken_apart(each)
        groups.setdefault(shape, []).append(at)
        numbers.append(found)
    ordered = sorted(groups.items(), key=lambda item: len(item[1]))
    which = [0.0] * len(options)
    for group, (_, members) in enumerate(ordered):
        for at in members:
            which[at] = float(group)
    group_of = Node("column", place, tuple(which))
    out = None
    for group, (shape, members) in reversed(list(enumerate(ordered))):
        made = _put_together(shape, [_column(place, options, members, numbers, n)
                                     for n in range(len(numbers[members[0]]))])  # fmt: skip
        out = made if out is None else chosen(Node("=", group_of, constant(group)), made, out)
    assert out is not None
    return out


def _column(
    place: Node, options: list[Node], members: list[int], numbers: list[list[float]], slot: int
) -> Node:
    values = {numbers[at][slot] for at in members}
    if len(values) == 1:
        return constant(values.pop())
    spread = [0.0] * len(options)
    for at in members:
        spread[at] = numbers[at][slot]
    return Node("column", place, tuple(spread))


def _taken_apart(root: Node) -> tuple[tuple[Any, ...], list[float]]:
    """The shape of a node and the numbers in it, each place of its own."""
    numbers: list[float] = []
    lines: list[tuple[Any, ...]] = []
    known: dict[Node, int] = {}

    def line(node: Node) -> int:
        if node.op == "number":
            numbers.append(node.args[0])
            lines.append(("slot",))
            return len(lines) - 1
        if node not in known:
            inside = tuple(
                ("node", line(each)) if isinstance(each, Node) else each for each in node.args
            )
            lines.append((node.op, *inside))
            known[node] = len(lines) - 1
        return known[node]

    line(root)
    return tuple(lines), numbers


def _put_together(shape: tuple[Any, ...], numbers: list[Node]) -> Node:
    waiting = iter(numbers)
    made: list[Node] = []
    for op, *inside in shape:
        if op == "slot":
            made.append(next(waiting))
        else:
            parts = [
                made[each[1]] if isinstance(each, tuple) and each[:1] == ("node",) else each
                for each in inside
            ]
            made.append(Node(op, *parts))
    return made[-1]
