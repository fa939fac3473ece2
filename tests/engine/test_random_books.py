"""Random books computed here and by LibreOffice; `python -m tests.engine` computes thousands."""

from __future__ import annotations

from tests.calc import office
from tests.engine.__main__ import books


@office.needs_office
def test_random_books_come_to_the_same() -> None:
    counts, wrong = books(40, seed=7)
    assert wrong == []
    assert counts["books"] == 40
    assert counts["same"] > 0.97 * (counts["same"] + counts["refused"])
