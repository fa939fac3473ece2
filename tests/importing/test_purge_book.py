"""Cycles of a purge as a controller logged them, read into the purge book."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

from click.testing import CliRunner, Result

from gasfuncs.cli import main
from gasfuncs.hosts.headless.entering import contents
from gasfuncs.workbooks.sheets.purge_demo import PURGES

TEMPLATE = Path(__file__).parents[2] / "workbook_templates" / "vent_fill_purity.xlsx"
LOGGED = "P-011"
"""A purge of the demo plant whose cycles nobody logged."""
CYCLES = """\
Time,Cycle,Evacuated to (torr),Filled to (psig),O2 (ppm)
2026-09-03 08:05,1,75,1.6,
2026-09-03 08:25,2,76.5,1.6,
2026-09-03 08:45,3,74.2,1.7,520
2026-09-03 09:05,4,900,1.6,
2026-09-03 09:25,4.5,75,1.6,
2026-09-03 09:45,4,75,1.6,<20
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copyfile(TEMPLATE, tmp_path / "purges.xlsx"))


def imported(book: Path) -> Result:
    file = book.with_name("purge.csv")
    return CliRunner().invoke(main, ["import", "purge", str(file), "--into", str(book)])


def test_cycles_of_a_purge(book: Path) -> None:
    assert LOGGED in [row[1] for row in PURGES]
    book.with_name("purge.csv").write_text(CYCLES)
    assert "Swings needs purge" in imported(book).output
    kept = book.with_name("purge.csv.toml")
    kept.write_text(kept.read_text() + f'\n[always]\npurge = "{LOGGED}"\n')
    result = imported(book)
    assert "6 rows read: 3 added to Swings, 0 replaced, 0 there already, 3 left out" in (
        result.output
    )
    assert 'line 7: reading: "<20" is no number' in result.output
    assert "line 5: low: is not below high; are the two" in result.output
    assert "line 6: cycle: is no number of a cycle" in result.output
    table = contents(book).tables["Swings"]
    rows = [row for row in table.rows if table.value(row, "Purge") == LOGGED]
    assert [table.value(row, "Check") for row in rows] == ["ok", "ok", "ok"]
    # 1 torr = 1.33322 mbar, 1 psi = 68.9476 mbar
    assert table.value(rows[0], "Low") == pytest.approx(75 * 1.33322, rel=1e-5)
    assert table.value(rows[0], "High") == pytest.approx(1.6 * 0.0689476, rel=1e-5)
    assert table.value(rows[2], "Reading") == 520
    assert "0 added to Swings, 0 replaced, 3 there already" in imported(book).output


def test_a_purge_that_is_not_on_the_list(book: Path) -> None:
    text = CYCLES.replace("Time,", "Purge,").replace("2026-09-03 ", "P-9 ")
    book.with_name("purge.csv").write_text(text)
    assert 'purge: "P-9 08:05" is not on Purges' in imported(book).output
