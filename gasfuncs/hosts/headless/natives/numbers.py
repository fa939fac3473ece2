"""Native functions of numbers."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from decimal import ROUND_DOWN, ROUND_HALF_UP, ROUND_UP, Decimal

from gasfuncs.hosts.headless.cells import FailedError
from gasfuncs.hosts.headless.natives.coercion import added, nearly_equal
from gasfuncs.hosts.headless.natives.table import native
from gasfuncs.hosts.headless.natives.units import converted

_PLAIN: dict[str, Callable[[float], float]] = {
    "ABS": abs, "ACOS": math.acos, "ACOSH": math.acosh, "ASIN": math.asin, "ASINH": math.asinh,
    "ATAN": math.atan, "ATANH": math.atanh, "COS": math.cos, "COSH": math.cosh,
    "DEGREES": math.degrees, "EXP": math.exp, "LN": math.log, "LOG10": math.log10,
    "RADIANS": math.radians, "SIN": math.sin, "SINH": math.sinh, "SQRT": math.sqrt,
    "TAN": math.tan, "TANH": math.tanh,
}  # fmt: skip
for _name, _function in _PLAIN.items():
    native(_name, "n")(_function)


def whole_below(x: float) -> float:
    """The whole number below; one that is missed only by the last bits counts as reached."""
    below = math.floor(x)
    return float(below + 1 if nearly_equal(x, below + 1.0) else below)


def steps_below(x: float) -> float:
    """The whole number of steps below, of a ratio that means 15 digits."""
    return float(math.floor(float(f"{x:.15g}")))


native("INT", "n")(whole_below)
native("PI", "")(lambda: math.pi)
native("RAND", "")(random.random)
native("SIGN", "n")(lambda x: math.copysign(1.0, x) if x else 0.0)
native("LOG", "n n?")(lambda x, base=10.0: math.log10(x) if base == 10 else math.log(x, base))


@native("RANDBETWEEN", "x x")
def randbetween(low: float, high: float) -> float:
    first, last = math.ceil(low), math.floor(high)
    if first > last:
        raise FailedError("#NUM!")
    return float(random.randint(first, last))


def round_half_up(x: float, digits: int = 0) -> float:
    """Rounded as a spreadsheet does, from the first 15 digits, halves away from zero."""
    return _round(x, digits, ROUND_HALF_UP)


def _round(x: float, digits: int, rounding: str) -> float:
    if not x or (abs(x) >= 1e15 and digits >= 0):
        return x
    shown = Decimal(f"{x:.15g}")
    if -int(shown.as_tuple().exponent) <= digits:
        return x
    step = Decimal(1).scaleb(-max(digits, -320))
    return float((shown / step).to_integral_value(rounding) * step)


native("ROUND", "n i")(round_half_up)
native("ROUNDUP", "n i")(lambda x, digits: _round(x, digits, ROUND_UP))
native("ROUNDDOWN", "n i")(lambda x, digits: _round(x, digits, ROUND_DOWN))
native("TRUNC", "n i?")(lambda x, digits=0: _round(x, digits, ROUND_DOWN))


@native("MROUND", "x x")
def mround(x: float, step: float) -> float:
    if not x or not step:
        return 0.0
    if x * step < 0:
        raise FailedError("#NUM!")
    return round_half_up(x / step) * step


@native("CEILING", "n n")
def ceiling(x: float, step: float) -> float:
    if not x or not step:
        return 0.0
    if x > 0 > step:
        raise FailedError("#NUM!")
    return -steps_below(-x / step) * step


@native("FLOOR", "n n")
def floor(x: float, step: float) -> float:
    if not x:
        return 0.0
    if x > 0 > step:
        raise FailedError("#NUM!")
    return steps_below(x / step) * step


@native("CEILING.MATH", "n n? n?")
def ceiling_math(x: float, step: float = 1.0, mode: float = 0.0) -> float:
    size = abs(step)
    if not x or not size:
        return 0.0
    return steps_below(x / size) * size if mode and x < 0 else -steps_below(-x / size) * size


@native("FLOOR.MATH", "n n? n?")
def floor_math(x: float, step: float = 1.0, mode: float = 0.0) -> float:
    size = abs(step)
    if not x or not size:
        return 0.0
    return -steps_below(-x / size) * size if mode and x < 0 else steps_below(x / size) * size


def _away(x: float, odd: int) -> float:
    whole = math.ceil(float(f"{abs(x):.15g}"))
    whole += (whole % 2 == 0) if odd else whole % 2
    return math.copysign(whole, x) if whole else 0.0


native("EVEN", "n")(lambda x: _away(x, 0))
native("ODD", "n")(lambda x: _away(x, 1))
native("ISEVEN", "x")(lambda x: int(x) % 2 == 0)
native("ISODD", "x")(lambda x: int(x) % 2 == 1)


@native("FACT", "n")
def fact(x: float) -> float:
    if not 0 <= x < 171:
        raise FailedError("#NUM!")
    return float(math.factorial(int(x)))


@native("COMBIN", "n n")
def combin(n: float, k: float) -> float:
    whole, chosen = int(n), int(k)
    if not 0 <= chosen <= whole < 1e6:
        raise FailedError("#NUM!")
    return float(math.comb(whole, chosen))


@native("MOD", "n n")
def mod(x: float, divisor: float) -> float:
    if not divisor:
        raise FailedError("#DIV/0!")
    if abs(x / divisor) > 1e15:
        raise FailedError("#NUM!")
    return added(x, -divisor * whole_below(x / divisor))


@native("QUOTIENT", "x x")
def quotient(x: float, divisor: float) -> float:
    if not divisor:
        raise FailedError("#DIV/0!")
    ratio = x / divisor
    return math.copysign(whole_below(abs(ratio)), ratio) or 0.0


@native("POWER", "n n")
def power(base: float, exponent: float) -> float:
    if not base and exponent <= 0:
        raise FailedError("#DIV/0!" if exponent else "#NUM!")
    result: float | complex = base**exponent
    if isinstance(result, complex):
        raise FailedError("#NUM!")
    return result


@native("ATAN2", "n n")
def atan2(x: float, y: float) -> float:
    if not x and not y:
        raise FailedError("#DIV/0!")
    return math.atan2(y, x)


native("CONVERT", "x t t")(converted)


@native("PMT", "n n n n? n?")
def pmt(rate: float, periods: float, now: float, then: float = 0.0, first: float = 0.0) -> float:
    if not periods or rate <= -1:
        raise FailedError("#NUM!")
    if not rate:
        return -(now + then) / periods
    grown: float = (1 + rate) ** periods
    return -rate * (now * grown + then) / ((grown - 1) * (1 + rate * bool(first)))


@native("NORMSDIST", "n")
def normal(z: float) -> float:
    """The normal distribution up to z."""
    return math.erfc(-z / math.sqrt(2)) / 2


@native("NORM.S.DIST", "n b")
def normal_standard(z: float, total: bool) -> float:
    return normal(z) if total else _density(z)


def _density(z: float) -> float:
    return math.exp(-z * z / 2) / math.sqrt(2 * math.pi)


@native("NORM.S.INV NORMSINV", "n")
def normal_inverse(p: float) -> float:
    if not 0 < p < 1:
        raise FailedError("#NUM!")
    from scipy.special import ndtri

    return float(ndtri(p))


@native("NORM.DIST NORMDIST", "n n n b")
def normal_distribution(x: float, mean: float, deviation: float, total: bool) -> float:
    if deviation <= 0:
        raise FailedError("#NUM!")
    z = (x - mean) / deviation
    return normal(z) if total else _density(z) / deviation


@native("NORM.INV NORMINV", "n n n")
def normal_inverse_of(p: float, mean: float, deviation: float) -> float:
    if deviation <= 0:
        raise FailedError("#NUM!")
    return mean + deviation * normal_inverse(p)


@native("POISSON.DIST POISSON", "n n b")
def poisson(events: float, mean: float, total: bool) -> float:
    count = math.floor(events)
    if count < 0 or mean < 0:
        raise FailedError("#NUM!")
    if total:
        from scipy.special import pdtr

        return float(pdtr(count, mean))
    return (
        math.exp(count * math.log(mean) - mean - math.lgamma(count + 1))
        if mean
        else float(not count)
    )
