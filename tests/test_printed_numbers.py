"""What a number of the checks may call itself, and how far an answer may be from it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import fields
from math import floor, log10
from pathlib import Path

import pytest

from tests.checks.every import CHECKS, PUBLISHED
from tests.checks.kinds import READ, Published, Source

WORDS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "ten": 10}
ONLY_DIGITS = re.compile(r"(?:the )?(\w+) (digit|decimal)s?(?: printed)?")
"""A reason that is of the print's digits and nothing else."""


@pytest.mark.parametrize("check", [check for check in PUBLISHED if check.mark == READ])
def test_what_was_read_can_be_found(check: Published) -> None:
    assert isinstance(check.source, Source), f"{check.source}: author, title, year, place?"
    told = {field.name: getattr(check.source, field.name) for field in fields(Source)}
    assert all(told[name] for name in ("author", "title", "where")), told
    assert 1900 < told["year"] < 2027


def calls(topic: str) -> Iterator[ast.Call]:
    """Where the module of a topic writes a published number down."""
    path = Path(str(CHECKS[topic].__file__))
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "Published":
            yield node


def is_written_out(node: ast.expr) -> bool:
    """Whether a number stands as somebody printed it: a literal, or one of a list of them."""
    if isinstance(node, ast.UnaryOp):
        return is_written_out(node.operand)
    return isinstance(node, ast.Constant | ast.Name)


@pytest.mark.parametrize("topic", CHECKS)
def test_our_own_arithmetic_says_so(topic: str) -> None:
    for call in calls(topic):
        says = any(keyword.arg == "reckoned" for keyword in call.keywords)
        assert is_written_out(call.args[1]) or says, (
            f"line {call.lineno}: {ast.unparse(call.args[1])} is reckoned here"
        )


def digits_of(check: Published) -> int | None:
    """How many digits the reason of a tolerance goes by, where it goes by nothing else."""
    found = ONLY_DIGITS.fullmatch(check.why)
    if not found or found[1] not in WORDS:
        return None
    whole = floor(log10(abs(check.printed))) + 1
    return WORDS[found[1]] + (whole if found[2] == "decimal" else 0)


SEVERAL_PRINTS = 3.0
"""Units of the last digit where the arithmetic is on several printed numbers."""

GO_BY_DIGITS = [check for check in PUBLISHED if check.printed and digits_of(check)]


def test_most_tolerances_are_of_the_printed_digits() -> None:
    assert len(GO_BY_DIGITS) > 60


@pytest.mark.parametrize("check", GO_BY_DIGITS, ids=lambda check: check.formula)
def test_a_tolerance_is_of_the_printed_digits(check: Published) -> None:
    digits = digits_of(check)
    assert digits
    last = 10.0 ** (floor(log10(abs(check.printed))) + 1 - digits)
    allowed = check.within if check.absolute else check.within * abs(check.printed)
    most = SEVERAL_PRINTS if check.reckoned else 1.0
    assert allowed <= 1.0001 * most * last, f"{allowed / last:.1f} units of the last digit: say why"
