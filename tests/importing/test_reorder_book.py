"""A tank's telemetry goes into the book of reordering, a reading a morning."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

from gasfuncs.hosts.headless.entering import contents
from gasfuncs.workbooks.sheets.building import BOOKS, build
from tests.importing.test_month import imported

BOOK = BOOKS["bulk_tank_reorder"]


def test_telemetry_gives_the_use_of_every_day(tmp_path: Path) -> None:
    given = BOOK.demo()
    typed = {**given.tables, "Readings": []}
    book = tmp_path / "book.xlsx"
    build(BOOK, book, given=type(given)(given.inputs, typed), rows=120)
    start = dt.datetime(2026, 9, 1, 0, 10)
    lines = ["Timestamp,Level (L(liq)),Tank pressure (bar(g))"]
    for hour in range(0, 56 * 24 + 1, 4):
        moment, drawn = start + dt.timedelta(hours=hour), 5 * hour
        level = 9000 - drawn + (3500 if hour >= 20 * 24 + 10 else 0)
        lines.append(f"{moment:%Y-%m-%d %H:%M},{level},12.4")
    file = tmp_path / "tank.csv"
    file.write_text("\n".join(lines) + "\n")
    imported("tank", file, book)
    kept = tmp_path / "tank.csv.toml"
    kept.write_text(kept.read_text() + '\n[always]\ntank = "N2 tank"\n')
    result = imported("tank", file, book)
    assert "57 added to Readings" in result.output
    named = contents(book).named
    assert named["S_now"] == pytest.approx(9000 - 5 * 56 * 24 + 3500)
    assert named["S_daily"] == pytest.approx(120, rel=1e-3)
    assert "57 added" not in imported("tank", file, book).output
