"""The defined names of a carried book: a LAMBDA for each function, and what these call."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from gasfuncs.definition import Definition
from gasfuncs.hosts.carried import natives, tables
from gasfuncs.hosts.carried.arrays import NotRecordedError
from gasfuncs.hosts.carried.functions import recorded, recorded_part
from gasfuncs.hosts.carried.nodes import Node, own
from gasfuncs.hosts.carried.parts import PARTS
from gasfuncs.hosts.carried.recording import recording
from gasfuncs.hosts.carried.writing import written

LONGEST = 8_192
"""Characters of a formula that spreadsheets take."""

UNRECORDED = (
    NotRecordedError, ArithmeticError, AttributeError, LookupError, RecursionError, RuntimeError,
    TypeError, ValueError,
)  # fmt: skip
"""What a calculation ends in that takes an argument for a number which is not known yet."""


class Carried:
    """Functions as defined names, and the hidden sheet that they look things up in.

    The sheet has the series of the gases named, and of those that the functions themselves name.
    Raises NotRecordedError, with the function's name, where one cannot be recorded.
    """

    def __init__(
        self, definitions: Iterable[Definition], gases: Sequence[str] = tables.GASES
    ) -> None:
        self.tables = tables.Tables(set(gases))
        self.one: dict[str, natives.Native] = {}
        with recording(self.tables.used):
            for definition in definitions:
                self.one |= self._one(definition)
        self.one |= self._parts()
        texts = {name: native.body for name, native in self.one.items()}
        self.shared = {
            name: natives.Native(
                natives.NATIVES[name].arguments,
                natives.formula(natives.NATIVES[name], self.tables.place),
            )
            for name in natives.needed(texts | {"": "GF_AT("})
        }
        self.whole = {d.name: _over_ranges(d) for d in definitions}

    def _one(self, definition: Definition) -> dict[str, natives.Native]:
        """A function of single values; any way in which it cannot be recorded is told alike."""
        names = tuple(own(parameter.name) for parameter in definition.parameters)
        try:
            node = recorded(definition, self.tables)
            return self._written(single(definition.name), names, node)
        except UNRECORDED as error:
            raise NotRecordedError(
                f"{definition.name} has no native formula ({error}); use the add-in for this book"
            ) from error

    def _parts(self) -> dict[str, natives.Native]:
        """The parts of calculations that functions share, and that these parts share."""
        found: dict[str, natives.Native] = {}
        waiting = [native.body for native in self.one.values()]
        while waiting:
            for name in set(natives.HELPER.findall(waiting.pop())) & set(PARTS) - set(found):
                arguments, node = recorded_part(name)
                made = self._written(name, arguments, node)
                found |= made
                waiting += [native.body for native in made.values()]
        return found

    def _written(
        self, name: str, arguments: tuple[str, ...], node: Node
    ) -> dict[str, natives.Native]:
        return written(name, arguments, node, self.tables.sheet)

    def lambdas(self) -> dict[str, str]:
        """Every defined name with its formula."""
        singles = {n: _lambda(each) for n, each in (self.shared | self.one).items()}
        return singles | self.whole


def single(name: str) -> str:
    """The name of a function of single values, which the function over ranges calls."""
    return f"GF_ONE_{name.removeprefix('GAS_')}"


def _lambda(native: natives.Native) -> str:
    names = "".join(f"_xlpm.{each}," for each in native.arguments)
    return f"_xlfn.LAMBDA({names}{native.body})"


def _over_ranges(definition: Definition) -> str:
    """The function as cells call it: left-out arguments blank, ranges spread and spilt."""
    parameters = definition.parameters
    heads = [("_xlpm." if p.required else "_xlop.") + own(p.name) for p in parameters]
    given = [f"_xlpm.{own(p.name)}" + ("" if p.required else "given_") for p in parameters]
    filled = ",".join(
        f"{new},IF(_xlfn.ISOMITTED(_xlpm.{own(p.name)}),\"\",_xlpm.{own(p.name)})"
        for p, new in zip(parameters, given, strict=True) if not p.required
    )  # fmt: skip
    spread = [new for p, new in zip(parameters, given, strict=True) if not p.whole]
    one = single(definition.name)
    if definition.spills:
        sizes = ",".join(f"ROWS({each}),COLUMNS({each})" for each in spread)
        body = f"IF(MAX({sizes})>1,#VALUE!,{one}({','.join(given)}))"
        told = f"_xlfn.LET({filled},{body})" if filled else body
        return f"_xlfn.LAMBDA({','.join(heads)},{told})"
    rows, columns = (
        f"MAX({','.join(f'{size}({each})' for each in spread)})" for size in ("ROWS", "COLUMNS")
    )
    fits = ",".join(
        f"AND({size}({each})>1,{size}({each})<_xlpm.{most}_)"
        for each in spread for size, most in (("ROWS", "high"), ("COLUMNS", "wide"))
    )  # fmt: skip
    picked = ",".join(
        each if each not in spread else f"GF_AT({each},_xlpm.place_,_xlpm.wide_)" for each in given
    )
    body = (
        f"_xlpm.high_,{rows},_xlpm.wide_,{columns},"
        f"IF(_xlpm.high_*_xlpm.wide_=1,{one}({','.join(given)}),IF(OR({fits}),#VALUE!,"
        f"_xlfn.MAP(_xlfn.SEQUENCE(_xlpm.high_,_xlpm.wide_,0),"
        f"_xlfn.LAMBDA(_xlpm.place_,{one}({picked})))))"
    )
    comma = "," if filled else ""
    return f"_xlfn.LAMBDA({','.join(heads)},_xlfn.LET({filled}{comma}{body}))"


def call_arguments(text: str, start: int) -> tuple[list[str], int]:
    """The arguments of a call whose bracket was opened, and where the call ends."""
    depth, quote, found, begin = 0, "", [], start
    for place in range(start, len(text)):
        letter = text[place]
        if quote:
            quote = "" if letter == quote else quote
        elif letter in "\"'":
            quote = letter
        elif letter in "({[":
            depth += 1
        elif letter in ")}]" and depth:
            depth -= 1
        elif letter == "," and not depth:
            found.append(text[begin:place])
            begin = place + 1
        elif letter == ")":
            return [*found, text[begin:place]], place + 1
    raise ValueError(f"a bracket is open in {text[start - 40 : start]}")
