"""Our own module of Visual Basic: run in LibreOffice's Basic, with Python behind its cells."""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path
from typing import Any

import pytest
from openpyxl.formula import Tokenizer

from gasfuncs.errors import CellError
from gasfuncs.hosts import formula
from gasfuncs.hosts.calc.office import find_office
from gasfuncs.hosts.excel.cells import ERRORS
from gasfuncs.hosts.excel.module import module
from gasfuncs.registry import worksheet_functions
from tests.calc import office
from tests.excel import door
from tests.excel.test_functions import LONGEST_LINE, MOST_CONTINUATIONS

BASIC = Path(__file__).with_name("basic.py")
ROOT = Path(__file__).parents[2]
MORE = (
    'GAS_DENSITY("argon", -1, 20)',
    'GAS_DENSITY("argon", 1, 20, "bar")',
    'GAS_DENSITY("argon", "6 bar", 20)',
    'GAS_DENSITY("argon", {1;2}, 20)',
)


def test_lines_are_within_the_limits_of_visual_basic() -> None:
    text = module()
    assert text.isascii()
    assert "\n" not in text.replace("\r\n", "")
    assert max(map(len, text.splitlines())) <= LONGEST_LINE
    assert not re.search(rf"(.* _\r\n){{{MOST_CONTINUATIONS + 1}}}", text)


def test_every_function_is_public_with_its_arguments() -> None:
    plain = module().replace(" _\r\n        ", " ")
    found = dict(re.findall(r"^Public Function (\w+)\((.*)\)", plain, re.MULTILINE))
    assert found.keys() == worksheet_functions().keys()
    for name, definition in worksheet_functions().items():
        declared = found[name].split(", ") if found[name] else []
        for parameter, argument in zip(definition.parameters, declared, strict=False):
            optional = "" if parameter.required else "Optional "
            assert argument == f"{optional}{parameter.name}{'1' if parameter.variadic else ''}"


def in_basic(text: str) -> str:
    """A formula as LibreOffice's own grammar writes it."""
    marks = {("SEP", "ARG"): ";", ("SEP", "ROW"): "|"}
    tokens = Tokenizer(f"={text}").items
    return "=" + "".join(marks.get((t.type, t.subtype), t.value) for t in tokens)


@office.needs_office
def test_cells_get_their_values_from_the_library_and_errors_are_errors(tmp_path: Path) -> None:
    python, program = office.python_with_uno(), find_office()
    if python is None:
        pytest.skip("needs python3-uno")
    examples = [definition.example.formula for definition in worksheet_functions().values()]
    # LibreOffice's Basic takes an argument skipped in the middle for 0, Excel's for missing
    asked = [text for text in (*examples, *MORE) if not re.search(r",\s*,", text)]
    assert len(asked) > 0.9 * len(examples)
    basic, formulas = tmp_path / "GasFuncs.bas", tmp_path / "formulas.json"
    basic.write_text(module(), encoding="ascii", newline="")
    formulas.write_text(json.dumps([in_basic(text) for text in asked]))
    profile = office.new_profile("basic").as_uri()
    command = [python, str(BASIC), str(program), profile, "cells", str(basic), str(formulas)]
    found = json.loads(office.run([*command, sys.executable, str(ROOT)], 300))
    assert found["calls"] >= len(asked)
    for text in asked:
        expected = formula.read_call(text, lambda function, given: function.cells(*given))
        check(found["cells"][in_basic(text)], expected, text)


def check(shown: Any, expected: Any, text: str) -> None:
    """One cell, or the first of a table."""
    if isinstance(expected, list):
        expected = expected[0][0]
    if isinstance(expected, CellError):
        number = {code: number for number, code in ERRORS.items()}[expected.code]
        expected = f"Error {number}"  # how this Basic shows what CVErr made
    if isinstance(expected, bool | int | float):
        assert shown == pytest.approx(float(expected), rel=1e-12), text
    else:
        assert shown == (expected or ""), text


def test_a_whole_column_ends_with_the_cells_in_use() -> None:
    blank = tuple((None,) for _ in range(1_048_576 - 3))
    column = ((1.0,), (2.0,), (3.0,), *blank)
    shown = door.call("GAS_DENSITY", "argon", door.Reference(column, column, used=3), 20.0)
    assert [len(row) for row in shown] == [1, 1, 1]
