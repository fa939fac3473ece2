"""A workbook that has been computed is let go of at once."""

from __future__ import annotations

import gc
from pathlib import Path

from gasfuncs.hosts.headless import recalculate
from tests.headless.fakes import build, functions

FORMULAS = {f"C{row}": f"=SUM(A{row}:B{row},{row})*GAS_TWICE({row})" for row in range(1, 101)}


def test_hardly_anything_is_left_to_be_searched_for(tmp_path: Path) -> None:
    """Formulas of a hundred kinds, which hold the book that holds them."""
    book = build(tmp_path / "book.xlsx", FORMULAS)
    recalculate(book, functions=functions())
    gc.collect()
    gc.disable()
    recalculate(book, functions=functions())
    left = gc.collect()
    gc.enable()
    assert left < len(FORMULAS)
