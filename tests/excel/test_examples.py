"""The catalogue's examples: the same formula text, the same answer as in Python."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from gasfuncs.registry import worksheet_functions
from tests.calc.book import as_rows, expected
from tests.excel import door

EXAMPLES = [definition.example.formula for definition in worksheet_functions().values()]


@cache
def shown() -> dict[str, Any]:
    return door.through(door.in_cells, EXAMPLES)  # type: ignore[no-any-return]


@pytest.mark.parametrize("formula", EXAMPLES)
def test_example_gives_the_value_of_python(formula: str) -> None:
    wanted = [
        ["" if value is None else value for value in row] for row in as_rows(expected(formula))
    ]
    assert as_rows(shown()[formula]) == wanted
