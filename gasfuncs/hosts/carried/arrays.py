"""Arrays that record: NumPy's functions, called on them, write down what would be computed."""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.lib.mixins import NDArrayOperatorsMixin

from gasfuncs.hosts.carried.branches import decide
from gasfuncs.hosts.carried.nodes import Node, call, chosen, constant


class NotRecordedError(Exception):
    """A calculation did what no formula can do."""


class Recorded(NDArrayOperatorsMixin):
    """A single value that is not known yet."""

    shape: tuple[int, ...] = ()
    ndim = 0
    size = 1

    def __init__(self, node: Node) -> None:
        self.node = node

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **_: Any) -> Any:
        made = UFUNCS.get(ufunc.__name__)
        if ufunc is np.divmod:
            return np.floor_divide(*inputs), np.remainder(*inputs)
        if made is None or method != "__call__":
            raise NotRecordedError(f"{ufunc.__name__} has no native formula")
        return Recorded(made(*map(node_of, inputs)))

    def __array_function__(
        self, function: Callable[..., Any], types: Any, args: Any, kwargs: Any
    ) -> Any:
        made = FUNCTIONS.get(function.__name__)
        if made is None:
            raise NotRecordedError(f"{function.__name__} has no native formula")
        return made(*args, **kwargs)

    def __ne__(self, other: object) -> Any:
        return True if other is None else super().__ne__(other)

    def __bool__(self) -> bool:
        known = self.node.op in ("number", "logical")
        return bool(self.node.args[0]) if known else decide(self.node)

    def __float__(self) -> float:
        raise NotRecordedError("a value is asked for that is not known yet")

    def __format__(self, spec: str) -> str:
        return told(self.node, spec)

    def __str__(self) -> str:
        raise NotRecordedError("a value is told as text that is not known yet")

    def __round__(self, ndigits: int = 0) -> Recorded:
        return Recorded(call("ROUND", self.node, constant(ndigits)))

    def __getitem__(self, place: Any) -> Recorded:
        if place != (..., None):
            raise NotRecordedError("a single value is taken apart")
        return self

    def copy(self) -> Recorded:
        return self

    def item(self) -> Recorded:
        return self

    def astype(self, *_: Any) -> Recorded:
        return self


def node_of(value: Any) -> Node:
    """A value as a node; arrays of one value are that value."""
    if isinstance(value, Node):
        return value
    if isinstance(value, Recorded):
        return value.node
    if isinstance(value, np.ndarray) and value.ndim == 0:
        return node_of(value.item())
    if isinstance(value, np.generic):
        return constant(value.item())
    if isinstance(value, str):
        return text_of(value)
    if isinstance(value, bool | int | float):
        return constant(value)
    raise NotRecordedError(f"a {type(value).__name__} is no single number")


_told: dict[tuple[Node, str], str] = {}
"""Values that are told in a text, each with how it is told: what stands for it there."""

TOLD = re.compile("\ue000(\\d+)\ue001")
SPEC = re.compile(r"\.(\d)([fg%])")


def told(node: Node, spec: str) -> str:
    """What stands in a text for a value that is told in it."""
    return _told.setdefault((node, spec), f"\ue000{len(_told)}\ue001")


def text_of(text: str) -> Node:
    """A text in which values may be told."""
    known, parts = list(_told), []
    for place, part in enumerate(TOLD.split(text)):
        if place % 2:
            node, spec = known[int(part)]
            parts.append(_shown(node, spec))
        elif part:
            parts.append(constant(part))
    return parts[0] if len(parts) == 1 else call("CONCATENATE", *parts) if parts else constant("")


def _shown(node: Node, spec: str) -> Node:
    """A number as text, as Python would format it."""
    found = SPEC.fullmatch(spec)
    if not found:
        raise NotRecordedError(f'a value is told as "{spec}" in a text')
    digits, kind = constant(int(found[1])), found[2]
    if kind == "g":
        return call("GF_GENERAL", node, digits)
    fixed = call("FIXED", Node("*", HUNDRED, node) if kind == "%" else node, digits, constant(True))
    return call("CONCATENATE", fixed, constant("%")) if kind == "%" else fixed


def _named(function: str) -> Callable[..., Node]:
    return lambda *args: call(function, *args)


def _infix(sign: str) -> Callable[[Node, Node], Node]:
    return lambda one, other: _without_nothing(sign, one, other)


def _without_nothing(sign: str, one: Node, other: Node) -> Node:
    """An operation on two nodes, less what adds nothing and what is divided by infinity."""
    if sign == "/" and other is ENDLESS:
        return ZERO
    if sign == "+" and ZERO in (one, other):
        return other if one is ZERO else one
    if sign == "=" and ENDLESS in (one, other):
        return constant(one is other)
    return Node(sign, one, other)


def _power(base: Node, exponent: Node) -> Node:
    if exponent is constant(0.5):
        return call("SQRT", base)
    power = Node("^", base, exponent)
    # 0^0 is an error in spreadsheets.
    return power if exponent.op == "number" else chosen(Node("=", exponent, ZERO), ONE, power)


ZERO, ONE, TWO, ENDLESS = constant(0), constant(1), constant(2), constant(math.inf)
HUNDRED = constant(100)

UFUNCS: dict[str, Callable[..., Node]] = {
    "add": _infix("+"), "subtract": _infix("-"), "multiply": _infix("*"),
    "divide": _infix("/"), "power": _power, "float_power": _power,
    "negative": lambda x: Node("negative", x), "positive": lambda x: x,
    "less": _infix("<"), "less_equal": _infix("<="), "greater": _infix(">"),
    "greater_equal": _infix(">="), "equal": _infix("="), "not_equal": _infix("<>"),
    "logical_and": _named("AND"), "bitwise_and": _named("AND"),
    "logical_or": _named("OR"), "bitwise_or": _named("OR"),
    "logical_not": _named("NOT"), "invert": _named("NOT"),
    "maximum": _named("MAX"), "minimum": _named("MIN"),
    "absolute": _named("ABS"), "fabs": _named("ABS"), "sign": _named("SIGN"),
    "sqrt": _named("SQRT"),
    "square": lambda x: Node("^", x, TWO), "exp": _named("EXP"), "log": _named("LN"),
    "log10": _named("LOG10"), "log1p": _named("GF_LOG1P"), "expm1": _named("GF_EXPM1"),
    "sin": _named("SIN"), "cos": _named("COS"), "tan": _named("TAN"), "tanh": _named("TANH"),
    "arccos": _named("ACOS"), "arctan": _named("ATAN"), "arcsin": _named("ASIN"),
    "floor": _named("INT"), "ceil": lambda x: Node("negative", call("INT", Node("negative", x))),
    "trunc": _named("TRUNC"), "remainder": _named("MOD"),
    "floor_divide": lambda x, y: call("INT", Node("/", x, y)),
    "hypot": lambda x, y: call("SQRT", Node("+", Node("^", x, TWO), Node("^", y, TWO))),
    "reciprocal": lambda x: Node("/", ONE, x),
    "isfinite": lambda x: call("ISNUMBER", x), "isnan": lambda x: call("ISERROR", x),
    "ndtri": _named("_xlfn.NORM.S.INV"),
    "ndtr": lambda x: call("_xlfn.NORM.S.DIST", x, constant(True)),
    "stdtrit": _named("GF_T_INVERSE"),
    "stdtr": _named("GF_T_CHANCE"),
}  # fmt: skip
"""Of the arrays' own functions, what each is in a formula."""


def cell(value: Any) -> Any:
    """A value, or a blank cell where there is none."""
    return constant("") if value is None else value


def _where(condition: Any, yes: Any, no: Any) -> Recorded:
    return Recorded(chosen(node_of(condition), node_of(cell(yes)), node_of(cell(no))))


def _clip(value: Any, low: Any, high: Any) -> Recorded:
    most = call("MIN", node_of(high), node_of(value))
    return Recorded(call("MAX", node_of(low), most))


def _same(value: Any, *_: Any, **__: Any) -> Any:
    return value


def _searched(edges: Any, value: Any, side: str = "left") -> Recorded:
    """The number of edges that are below a value, or with it."""
    sign = ">=" if side == "right" else ">"
    reached = (chosen(Node(sign, node_of(value), constant(each)), ONE, ZERO) for each in edges)
    return Recorded(functools.reduce(UFUNCS["add"], reached))


FUNCTIONS: dict[str, Callable[..., Any]] = {
    "where": _where, "searchsorted": _searched, "clip": _clip,
    "any": _same, "all": _same, "max": _same, "min": _same,
    "amax": _same, "amin": _same, "sum": _same, "ravel": _same, "broadcast_to": _same,
    "copy": _same, "atleast_1d": _same,
    "broadcast_arrays": lambda *arrays, **_: list(arrays),
    "shape": lambda _: (), "ndim": lambda _: 0,
    "size": lambda of: Recorded(of.count) if of.ndim else 1,
    "moveaxis": lambda *_: (),  # the working of each item, which no formula tells
    "full_like": lambda _, value, **__: value, "ones_like": lambda _, **__: 1.0,
    "zeros_like": lambda _, **__: 0.0,
}  # fmt: skip
"""Of the functions on arrays, what each does to single values."""


def number(value: Any) -> Any:
    """`float`, by which a recorded value stays as it is."""
    return value if isinstance(value, Recorded) else float(value)


def whole(value: Any) -> Any:
    """`int`, by which a recorded value stays as it is."""
    return value if isinstance(value, Recorded) else int(value)


def kept(asarray: Callable[..., Any], in_array: Callable[[Any], Any]) -> Callable[..., Any]:
    """`numpy.asarray` and its like, by which a recorded value stays as it is."""

    def asked(value: Any, dtype: Any = None, **kwargs: Any) -> Any:
        kind = float if dtype is number else dtype
        known = in_array(value)
        return known if isinstance(known, Recorded) else asarray(value, kind, **kwargs)

    return asked


MATH: dict[str, np.ufunc] = {
    "sqrt": np.sqrt, "hypot": np.hypot, "acos": np.arccos, "asin": np.arcsin, "atan": np.arctan,
    "cos": np.cos, "sin": np.sin, "exp": np.exp, "log": np.log,
}  # fmt: skip
"""Of the functions of `math`, what they are in NumPy."""


def of_math(name: str) -> Callable[..., Any]:
    """A function of `math` that records where a value is not known yet."""
    own: Callable[..., Any] = getattr(math, name)

    def either(*values: Any) -> Any:
        recorded = any(isinstance(each, Recorded) for each in values)
        if not recorded:
            return own(*values)
        return functools.reduce(MATH[name], values) if len(values) > 1 else MATH[name](*values)

    return either
