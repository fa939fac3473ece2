"""Each example in the help, computed to its printed digits."""

from __future__ import annotations

import re

import pytest

from gasfuncs.definition import Definition
from gasfuncs.errors import CellError
from gasfuncs.hosts import formula
from gasfuncs.registry import worksheet_functions

NUMBER = re.compile(r"-?\d[\d ]*\.?\d*(?:[eE][+-]?\d+)?")
FUNCTIONS = worksheet_functions().values()


def answer(definition: Definition) -> object:
    return formula.read_call(definition.example.formula, lambda f, given: f.cells(*given))


@pytest.mark.parametrize("definition", FUNCTIONS, ids=lambda d: d.name)
def test_an_example_answers(definition: Definition) -> None:
    found = answer(definition)
    rows = found if isinstance(found, list) else [[found]]
    assert not [cell for row in rows for cell in row if isinstance(cell, CellError)]


@pytest.mark.parametrize(
    "definition",
    [d for d in FUNCTIONS if isinstance(answer(d), float)],
    ids=lambda d: d.name,
)
def test_an_example_has_the_digits_printed(definition: Definition) -> None:
    printed = NUMBER.match(definition.example.answer)
    assert printed, definition.example.answer
    digits = printed[0].replace(" ", "")
    mantissa, _, exponent = digits.lower().partition("e")
    decimals = len(mantissa.partition(".")[2])
    half = 0.5 * 10.0 ** (int(exponent or 0) - decimals)
    significant = mantissa.lstrip("-0.").replace(".", "")
    if "." not in mantissa and significant.endswith("0"):
        half *= 10 ** (len(significant) - len(significant.rstrip("0")))
    found = answer(definition)
    assert isinstance(found, float)
    assert abs(found - float(digits)) <= half * (1 + 1e-9), found
