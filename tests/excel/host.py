"""Excel as a host of the checks, up to its door: every formula through xlwings' own call path."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from tests.calc.host import check_formulas
from tests.excel import door


@dataclass(frozen=True)
class Excel:
    """Answers the formulas of the checks, and no others, as Excel's cells would show them."""

    name: str = "excel"
    tells_sentences: bool = True

    def answer(self, formula: str) -> Any:
        return answers()[formula]


@cache
def answers() -> dict[str, Any]:
    """What is handed to Excel for each formula, texts that tell errors as errors."""
    shown = door.through(door.in_cells, list(dict.fromkeys(check_formulas())))
    return {formula: door.as_answer(value) for formula, value in shown.items()}
