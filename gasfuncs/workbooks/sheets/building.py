"""Builds declared books, with every value and chart stored."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from gasfuncs.errors import UnreadableError
from gasfuncs.files import swapped_in
from gasfuncs.hosts.headless import recalculate
from gasfuncs.workbooks.sheets import (
    argon_nitrogen_cost,
    bulk_tank_reorder,
    delivery_check,
    leak_dewpoint_log,
    monthly_gas_usage,
    reservoir_commissioning,
    reservoir_line_sizing,
    supply_offers,
    vent_fill_purity,
)
from gasfuncs.workbooks.sheets.kinds import METRIC, US
from gasfuncs.workbooks.sheets.parts import Book, Given
from gasfuncs.workbooks.sheets.us_demo import in_us
from gasfuncs.workbooks.sheets.writing import write

BOOKS: dict[str, Book] = {
    book.name: book
    for book in (
        monthly_gas_usage.BOOK,
        bulk_tank_reorder.BOOK,
        leak_dewpoint_log.BOOK,
        reservoir_commissioning.BOOK,
        reservoir_line_sizing.BOOK,
        delivery_check.BOOK,
        argon_nitrogen_cost.BOOK,
        supply_offers.BOOK,
        vent_fill_purity.BOOK,
    )
}
"""The declared books by name."""

Progress = Callable[[int, int, str], None]


def demo(book: Book, units: str) -> Given:
    """What the demo plant types, in metric units."""
    return as_typed(book, book.demo(), units)


def as_typed(book: Book, given: Given, units: str) -> Given:
    """What the plant types, as a US plant would in a US book; in metric units all the same."""
    return in_us(book, given) if units == US else given


def build(
    book: Book,
    path: Path,
    units: str = METRIC,
    given: Given | None = None,
    *,
    rows: int = 0,
    progress: Progress | None = None,
) -> None:
    """Write a book to a path with what is given typed in it, by default the demo plant.

    `rows` is the length of its logs. The path is replaced in one step.
    """
    given = demo(book, units) if given is None else given

    with swapped_in(path) as made:
        made.write_bytes(write(book, units, given, rows))
        report = recalculate(made, progress=progress)
        if not report.ok:
            found = "; ".join(f"{p.sheet}!{p.cell}: {p.why}" for p in report.problems[:5])
            raise UnreadableError(f"the workbook as written cannot be computed: {found}")
