"""Functions that do not evaluate all their arguments, have variables, or need their cell."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.cells import (
    At,
    FailedError,
    Formula,
    Range,
    UncomputableError,
    table_of,
)
from gasfuncs.hosts.headless.errors import FormulaError
from gasfuncs.hosts.headless.formulas import Node
from gasfuncs.hosts.headless.lifting import each_of, met, one_value, spread
from gasfuncs.hosts.headless.natives import NATIVES
from gasfuncs.hosts.headless.natives.coercion import compare, failed, integer, logical, text

if TYPE_CHECKING:
    from gasfuncs.hosts.headless.compiling import Compiler

Branch = Callable[[Node, bool], Formula]


class Lambda:
    """A function made by LAMBDA."""

    def __init__(self, keys: Sequence[str], body: Formula, at: At) -> None:
        self.keys = keys
        self.body = body
        self.at = at

    def __call__(self, *given: Any) -> Any:
        if len(given) != len(self.keys):
            raise FailedError("#VALUE!")
        variables = {**self.at.variables, **dict(zip(self.keys, given, strict=True))}
        return self.body(At(self.at.row, self.at.column, variables))


def caught(made: Formula) -> Formula:
    """The formula with an error as its value."""

    def value(at: At) -> Any:
        try:
            return made(at)
        except FailedError as error:
            return error.error

    return value


def variable(key: str) -> Formula:
    """The value of a variable of LET or LAMBDA."""

    def value(at: At) -> Any:
        found = at.variables[key]
        if found.__class__ is CellError:
            raise failed(found)
        return found

    return value


def applied(function: Formula, made: Sequence[Formula]) -> Formula:
    """The call of a function that a formula gives."""

    def call(at: At) -> Any:
        found = function(at)
        if not isinstance(found, Lambda):
            raise UncomputableError("what it calls is no LAMBDA")
        return found(*(each(at) for each in made))

    return call


def _needs(name: str, arguments: Sequence[Node], least: int, most: int) -> None:
    if not least <= len(arguments) <= most:
        raise FormulaError(f"{name} does not take {len(arguments)} argument(s)")


def _if(compiler: Compiler, arguments: Sequence[Node], arrays: bool, branch: Branch) -> Formula:
    _needs("IF", arguments, 2, 3)
    condition = compiler.value(arguments[0], arrays)
    yes = branch(arguments[1], arrays)
    no = branch(arguments[2], arrays) if len(arguments) > 2 else lambda _: False
    yes_caught, no_caught = caught(yes), caught(no)

    def chosen(at: At) -> Any:
        met_ = condition(at)
        if met_.__class__ is bool:
            return yes(at) if met_ else no(at)
        if met_.__class__ is list:
            values = [_array(yes_caught(at)), _array(no_caught(at))]
            return spread(_choose, [met_, *values], range(3), errors=True)
        return yes(at) if logical(met_) else no(at)

    return chosen


def _choose(condition: Any, yes: Any, no: Any) -> Any:
    return yes if logical(condition) else no


def _array(value: Any) -> Any:
    """An area as an array, anything else as it is."""
    return value.table if value.__class__ is Range else value


def _fallback(wanted: Callable[[Any], bool]) -> Callable[..., Formula]:
    """IFERROR and IFNA: `wanted` tells the errors for which there is another value."""

    def form(_: Compiler, arguments: Sequence[Node], arrays: bool, branch: Branch) -> Formula:
        _needs("IFERROR", arguments, 2, 2)
        whole = branch(arguments[0], arrays)
        tried, other = each_of(whole, arrays), branch(arguments[1], arrays)
        other_caught = caught(other)

        def kept(value: Any, instead: Any) -> Any:
            return instead if value.__class__ is CellError and wanted(value) else value

        def value(at: At) -> Any:
            try:
                found = tried(at)
            except FailedError as error:
                if wanted(error.error):
                    return other(at)
                raise
            if found is None:
                return whole(at)
            if found.__class__ is not list:
                return found
            return spread(kept, [found, _array(other_caught(at))], range(2), errors=True)

        return value

    return form


def _ifs(compiler: Compiler, arguments: Sequence[Node], arrays: bool, branch: Branch) -> Formula:
    if not arguments or len(arguments) % 2:
        raise FormulaError("IFS needs pairs of a condition and a value")
    made = [
        (compiler.value(condition, arrays), branch(value, arrays))
        for condition, value in zip(arguments[::2], arguments[1::2], strict=True)
    ]

    def chosen(at: At) -> Any:
        for condition, value in made:
            if logical(one_value(condition(at))):
                return value(at)
        raise FailedError("#N/A")

    return chosen


def _switch(compiler: Compiler, arguments: Sequence[Node], arrays: bool, branch: Branch) -> Formula:
    _needs("SWITCH", arguments, 3, 254)
    sought = compiler.value(arguments[0], arrays)
    pairs = arguments[1 : len(arguments) - (len(arguments) - 1) % 2]
    made = [
        (compiler.value(case, arrays), branch(value, arrays))
        for case, value in zip(pairs[::2], pairs[1::2], strict=True)
    ]
    default = branch(arguments[-1], arrays) if len(arguments) % 2 == 0 else None

    def chosen(at: At) -> Any:
        value = one_value(sought(at))
        if value is None:
            raise UncomputableError("SWITCH of a blank cell is not computed")
        for case, result in made:
            tried = one_value(case(at))
            if tried is None:
                raise UncomputableError("SWITCH with a blank case is not computed")
            if compare(value, tried) == 0:
                return result(at)
        if default is None:
            raise FailedError("#N/A")
        return default(at)

    return chosen


def _choose_form(
    compiler: Compiler, arguments: Sequence[Node], arrays: bool, branch: Branch
) -> Formula:
    _needs("CHOOSE", arguments, 2, 254)
    number = compiler.value(arguments[0], arrays)
    made = [branch(argument, arrays) for argument in arguments[1:]]

    def chosen(at: At) -> Any:
        found = number(at)
        if found.__class__ is list:
            values = [_array(caught(each)(at)) for each in made]
            return spread(_pick_one, [found, *values], range(len(values) + 1), errors=True)
        return made[_chosen(found, len(made))](at)

    return chosen


def _pick_one(number: Any, *values: Any) -> Any:
    return values[_chosen(number, len(values))]


def _chosen(number: Any, count: int) -> int:
    place = integer(number)
    if not 1 <= place <= count:
        raise FailedError("#VALUE!")
    return place - 1


def _let(compiler: Compiler, arguments: Sequence[Node], arrays: bool, branch: Branch) -> Formula:
    if len(arguments) < 3 or len(arguments) % 2 == 0:
        raise FormulaError("LET needs pairs of a variable and its value, and a result")
    scope = compiler.scope()
    made = []
    for name, node in zip(arguments[:-1:2], arguments[1:-1:2], strict=True):
        formula = caught(compiler.whole(node, arrays))
        made.append((compiler.bind(name), formula))
    result = branch(arguments[-1], arrays)
    compiler.leave(scope)

    def value(at: At) -> Any:
        for key, formula in made:
            at.variables[key] = formula(at)
        return result(at)

    return value


def _lambda(compiler: Compiler, arguments: Sequence[Node], arrays: bool, _: Branch) -> Formula:
    if not arguments:
        raise FormulaError("LAMBDA needs a result")
    scope = compiler.scope()
    keys = [compiler.bind(argument) for argument in arguments[:-1]]
    body = compiler.whole(arguments[-1], arrays)
    compiler.leave(scope)
    return lambda at: Lambda(keys, body, at)


def _map(compiler: Compiler, arguments: Sequence[Node], _: bool, __: Branch) -> Formula:
    _needs("MAP", arguments, 2, 254)
    made = [compiler.whole(argument, True) for argument in arguments]

    def value(at: At) -> Any:
        *arrays, function = [each(at) for each in made]
        if not isinstance(function, Lambda):
            raise FailedError("#VALUE!")
        tables = [table_of(array) for array in arrays]
        return spread(function, tables, range(len(tables)), errors=True)

    return value


def _reduce(compiler: Compiler, arguments: Sequence[Node], _: bool, __: Branch) -> Formula:
    _needs("REDUCE", arguments, 3, 3)
    made = [compiler.whole(argument, True) for argument in arguments]

    def value(at: At) -> Any:
        found, array, function = (each(at) for each in made)
        if not isinstance(function, Lambda):
            raise FailedError("#VALUE!")
        for row in table_of(array):
            for each in row:
                found = function(found, each)
        return found

    return value


def _single(compiler: Compiler, arguments: Sequence[Node], _: bool, __: Branch) -> Formula:
    _needs("@", arguments, 1, 1)
    made = compiler.whole(arguments[0], False)

    def value(at: At) -> Any:
        found = made(at)
        if found.__class__ is Range and not found.single:
            found = met(found, at)
        found = one_value(found)
        if found.__class__ is CellError:
            raise failed(found)
        return found

    return value


def _anchored(compiler: Compiler, arguments: Sequence[Node], _: bool, __: Branch) -> Formula:
    _needs("#", arguments, 1, 1)
    made = compiler.whole(arguments[0], True)
    return lambda at: compiler.book.spilled(made(at))


def _indirect(compiler: Compiler, arguments: Sequence[Node], arrays: bool, _: Branch) -> Formula:
    _needs("INDIRECT", arguments, 1, 2)
    address = compiler.value(arguments[0], arrays)
    plain = compiler.value(arguments[1], arrays) if len(arguments) > 1 else lambda _: True

    def area(at: At) -> Any:
        if not logical(one_value(plain(at))):
            raise UncomputableError("INDIRECT is computed only for addresses such as B2, not R2C2")
        found = address(at)
        if found.__class__ is list and (len(found) > 1 or len(found[0]) > 1):
            raise UncomputableError("INDIRECT is computed only for one address")
        return compiler.address(text(one_value(found)), at)

    return area


def _own_place(name: str) -> Callable[..., Formula]:
    def form(compiler: Compiler, arguments: Sequence[Node], arrays: bool, _: Branch) -> Formula:
        if arguments:
            return compiler.native_call(NATIVES[name], tuple(arguments), arrays)
        return (lambda at: float(at.row)) if name == "ROW" else (lambda at: float(at.column))

    return form


def _is_reference(compiler: Compiler, arguments: Sequence[Node], _: bool, __: Branch) -> Formula:
    _needs("ISREF", arguments, 1, 1)
    made = caught(compiler.whole(arguments[0], True))
    return lambda at: made(at).__class__ is Range


FORMS: dict[str, Callable[..., Formula]] = {
    "IF": _if,
    "IFERROR": _fallback(lambda _: True),
    "IFNA": _fallback(lambda error: error.code == "#N/A"),
    "IFS": _ifs,
    "SWITCH": _switch,
    "CHOOSE": _choose_form,
    "LET": _let,
    "LAMBDA": _lambda,
    "MAP": _map,
    "REDUCE": _reduce,
    "SINGLE": _single,
    "ANCHORARRAY": _anchored,
    "INDIRECT": _indirect,
    "ROW": _own_place("ROW"),
    "COLUMN": _own_place("COLUMN"),
    "ISREF": _is_reference,
}
BRANCHING = frozenset({"IF", "IFERROR", "IFNA", "IFS", "SWITCH", "CHOOSE", "LET"})
"""Forms that give what one of their arguments gives."""
