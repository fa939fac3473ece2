"""Evaluates one formula text of our functions, literals and arrays, without a workbook."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from openpyxl.formula.tokenizer import Token, Tokenizer, TokenizerError

from gasfuncs.definition import Definition
from gasfuncs.errors import UnreadableError
from gasfuncs.registry import worksheet_function_named, worksheet_functions
from gasfuncs.units import shown

Call = Callable[[Definition, list[Any]], Any]


def evaluate(text: str) -> Any:
    """The answer to a formula such as `GAS_DENSITY("argon", "80 psig", 20)`.

    Takes calls of the worksheet functions, nested if wanted, with numbers, text, TRUE, FALSE,
    blanks and array constants ({1,2;3,4}). Raises a GasFuncsError.
    """
    return read_call(text, lambda function, arguments: function(*arguments))


def read_call(text: str, call: Call) -> Any:
    """Read a formula; `call` says what becomes of each call in it."""
    try:
        tokens = Tokenizer("=" + text.strip().lstrip("=")).items
    except (TokenizerError, IndexError):
        raise UnreadableError(
            f'"{shown(text)}" is not a formula: its quotes or brackets do not match'
        ) from None
    reader = _Reader([t for t in tokens if t.type != Token.WSPACE], text, call)
    value = reader.value()
    if reader.tokens:
        raise reader.refusal()
    return value


class _Reader:
    """A recursive descent over the tokens."""

    def __init__(self, tokens: list[Token], text: str, call: Call) -> None:
        self.tokens = tokens
        self.text = text
        self.call = call

    def refusal(self) -> UnreadableError:
        at = " at its end, which comes too early"
        if self.tokens:
            at = f' at "{shown(self.tokens[0].value)}"'
        return UnreadableError(
            f'cannot read "{shown(self.text)}"{at}; write one call, such as '
            'GAS_DENSITY("argon", "80 psig", 20), with numbers and texts'
        )

    def next_is(self, kind: str, subtype: str = "") -> bool:
        if not self.tokens:
            return False
        token = self.tokens[0]
        return bool(token.type == kind and subtype in ("", token.subtype))

    def take(self, kind: str, subtype: str = "") -> Token:
        if not self.next_is(kind, subtype):
            raise self.refusal()
        return self.tokens.pop(0)

    def value(self) -> Any:
        if self.next_is(Token.OP_PRE):
            sign = -1 if self.take(Token.OP_PRE).value == "-" else 1
            return sign * self.number(self.value())
        if self.next_is(Token.FUNC, Token.OPEN):
            return self.function()
        if self.next_is(Token.ARRAY, Token.OPEN):
            return self.array()
        value = self.literal(self.take(Token.OPERAND))
        if self.next_is(Token.OP_POST):
            value = self.number(value) / 100
            self.take(Token.OP_POST)
        return value

    def number(self, value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self.refusal()
        return value

    def literal(self, token: Token) -> Any:
        if token.subtype == Token.NUMBER:
            return float(token.value)
        if token.subtype == Token.TEXT:
            return token.value[1:-1].replace('""', '"')
        if token.subtype == Token.LOGICAL:
            return token.value.upper() == "TRUE"
        raise UnreadableError(_why_no_value(token.value))

    def function(self) -> Any:
        name = self.take(Token.FUNC, Token.OPEN).value[:-1]
        arguments: list[Any] = [None]
        while not self.next_is(Token.FUNC, Token.CLOSE):
            if self.next_is(Token.SEP, Token.ARG):
                self.take(Token.SEP)
                arguments.append(None)
            else:
                arguments[-1] = self.value()
        self.take(Token.FUNC, Token.CLOSE)
        definition = worksheet_function_named(name)
        return self.call(definition, [] if arguments == [None] else arguments)

    def array(self) -> list[list[Any]]:
        self.take(Token.ARRAY, Token.OPEN)
        rows: list[list[Any]] = [[]]
        while not self.next_is(Token.ARRAY, Token.CLOSE):
            if self.next_is(Token.SEP, Token.ROW):
                rows.append([])
            if self.next_is(Token.SEP):
                self.take(Token.SEP)
            else:
                rows[-1].append(self.value())
        self.take(Token.ARRAY, Token.CLOSE)
        return rows


_CELL = re.compile(r"(.*!)?\$?[A-Za-z]{1,3}\$?\d+(:.*)?")


def _why_no_value(operand: str) -> str:
    """Why a formula outside a workbook cannot hold this name or cell."""
    if _CELL.fullmatch(operand):
        return (
            f'"{shown(operand)}" is a cell, and no workbook is open here: write its value, or '
            'compute the workbook with "gasfuncs recalculate"'
        )
    definition = worksheet_functions().get(operand.upper())
    if definition:
        return f"{definition.name} needs its brackets: {definition.usage}"
    return (
        f'"{shown(operand)}" is neither a number nor a text; texts stand in quotes. On a command '
        "line put the formula in double quotes and its texts in single ones: "
        "\"GAS_DENSITY('argon', 2, 20)\""
    )
