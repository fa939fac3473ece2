"""Every way through a calculation that branches: each condition becomes an IF in the formula."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextvars import ContextVar
from dataclasses import dataclass, field

from gasfuncs.hosts.carried.nodes import Node, chosen

Key = Node | tuple[Node, ...]
Joined = Callable[[Node, list[Node]], Node]


@dataclass
class Way:
    """One way through: which of its options is taken at each fork, in order."""

    taken: list[int]
    forks: list[tuple[Node, int, Joined]] = field(default_factory=list)
    known: dict[Node, int] = field(default_factory=dict)

    def option(self, key: Node, count: int, joined: Joined) -> int:
        """The option taken at a fork, which is the same wherever it comes again."""
        if key not in self.known:
            place = len(self.forks)
            self.forks.append((key, count, joined))
            if place == len(self.taken):
                self.taken.append(0)
            self.known[key] = self.taken[place]
        return self.known[key]


_way: ContextVar[Way] = ContextVar("way")


def option(key: Node, count: int, joined: Joined) -> int:
    """Which option to take at a fork; `joined` makes one node of what came of all of them."""
    return _way.get().option(key, count, joined)


def taken(key: Node) -> int | None:
    """The option that was taken at a fork already, if it came."""
    return _way.get().known.get(key)


def decide(condition: Node) -> bool:
    """Whether a condition holds on this way."""
    return option(condition, 2, _if) == 0


def _if(condition: Node, options: list[Node]) -> Node:
    return chosen(condition, *options)


def every_way(run: Callable[[], Node]) -> Node:
    """What a run gives, over every way through it."""
    return _tree(run, [])


def _walked(run: Callable[[], Node], taken: Sequence[int]) -> tuple[Way, Node]:
    way = Way(list(taken))
    token = _way.set(way)
    try:
        return way, run()
    finally:
        _way.reset(token)


def _tree(
    run: Callable[[], Node], taken: list[int], walked: tuple[Way, Node] | None = None
) -> Node:
    way, result = walked or _walked(run, taken)
    depth = len(taken)
    if depth == len(way.forks):
        return result
    key, count, joined = way.forks[depth]
    first = _tree(run, [*taken, 0], (way, result))
    rest = [_tree(run, [*taken, each]) for each in range(1, count)]
    return joined(key, [first, *rest])
