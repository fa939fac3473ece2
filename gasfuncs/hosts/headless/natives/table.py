"""The table of native functions: argument kinds, behaviour with arrays, limits, in one place each.

The kinds of a function's arguments, in order, `?` where one may be left out:

- one value at a time, so that an array gives an array of results: `n` number, `x` number, but
  neither TRUE nor FALSE, nor left out between commas, `i` number cut to a whole one, `t` text,
  `b` TRUE or FALSE, `v` any value but an error, `e` any value, errors too;
  a capital where a blank is handed on as None, for the default;
- taken whole: `w` an area, an array or a value, `W` an error too, `r` an area of
  cells, `a` any of them as rows.

`*2` at the end: the last two are repeated. In a plain formula (no array formula) an area where one
value is wanted meets the row or column of the formula's cell; in the arguments of a function with
`arrays` it gives an array there too.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

from gasfuncs.hosts.headless.errors import FormulaError

ONE_AT_A_TIME = frozenset("nxitbveNIB")


@dataclass(frozen=True, slots=True)
class Native:
    """A native function as the engine computes it; `dates`: not in a book of 1904 dates."""

    name: str
    kinds: tuple[str, ...]
    required: int
    repeated: int
    function: Callable[..., Any]
    arrays: bool
    dates: bool

    def kinds_for(self, count: int) -> tuple[str, ...]:
        """The kinds of so many arguments; FormulaError where it does not take so many."""
        kinds = self.kinds
        while self.repeated and len(kinds) < count:
            kinds += self.kinds[-self.repeated :]
        if not self.required <= count <= len(kinds) or count > 254:
            raise FormulaError(f"{self.name} does not take {count} argument(s)")
        return kinds[:count]


NATIVES: dict[str, Native] = {}

_F = TypeVar("_F", bound=Callable[..., Any])


def native(
    names: str, kinds: str, *, arrays: bool = False, dates: bool = False
) -> Callable[[_F], _F]:
    """Enter a function into the table, under each of its names."""
    words = kinds.split()
    repeated = int(words.pop()[1:]) if words and words[-1].startswith("*") else 0
    required = sum(1 for word in words if not word.endswith("?"))
    plain = tuple(word.rstrip("?") for word in words)

    def enter(function: _F) -> _F:
        for name in names.split():
            NATIVES[name] = Native(name, plain, required, repeated, function, arrays, dates)
        return function

    return enter
