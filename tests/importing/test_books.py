"""Rows of files in a workbook's table: added once, replaced when asked, whole or not at all."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

import os
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

import openpyxl
import xlsxwriter
from click.testing import CliRunner, Result

from gasfuncs.cli import main
from gasfuncs.cli.importing import MOST_SHOWN
from gasfuncs.hosts.headless.entering import contents
from gasfuncs.importing.job import mapping_file, mapping_for, run

ROWS = 6
TICKETS = """\
Delivered,Docket,Vendor,Tank,Net quantity (kg)
2026-11-03,T1,Supplier A,N2 tank,3500
2026-11-05 07:30,T3,Supplier B,N2 tank,920
2026-11-06,,Supplier B,N2 tank,920
2026-11-07,T4,Supplier Z,N2 tank,920
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A small book with the tables that take tickets, and a formula of ours in every row."""
    path = tmp_path / "plant.xlsx"
    headings = ["Date", "Ticket", "Supplier", "Tank", "Quantity", "Unit", "Amount"]
    quantity, unit = (f"Deliveries[[#This Row],[{name}]]" for name in ("Quantity", "Unit"))
    formula = f'=IF({quantity}="","",GAS_CONVERT({quantity},{unit},"Nm3","nitrogen"))'
    with xlsxwriter.Workbook(path) as made:
        sheet = made.add_worksheet("Log")
        day = made.add_format({"num_format": "yyyy-mm-dd"})
        columns: list[dict[str, Any]] = [{"header": name} for name in headings]
        columns[-1]["formula"] = formula
        sheet.add_table(4, 1, 4 + ROWS, 7, {"name": "Deliveries", "columns": columns})
        for row in range(5, 5 + ROWS):
            for column in range(1, 7):
                sheet.write_blank(row, column, None, day if column == 1 else None)
        lists = made.add_worksheet("Lists")
        lists.add_table("A1:A3", {"name": "Tanks", "columns": [{"header": "Tank"}]})
        lists.write_column("A2", ["N2 tank", "Ar tank"])
        lists.add_table("C1:C3", {"name": "Contracts", "columns": [{"header": "Supplier"}]})
        lists.write_column("C2", ["Supplier A", "Supplier B"])
        made.add_worksheet("Other").write("A1", "stays as it is")
    return path


def imported(book: Path, text: str, *options: str) -> Result:
    file = book.with_name("tickets.csv")
    file.write_text(text)
    return CliRunner().invoke(main, ["import", "tickets", str(file), "--into", str(book), *options])


def typed(book: Path) -> list[tuple[Any, ...]]:
    sheet = openpyxl.load_workbook(book, data_only=True)["Log"]
    rows = sheet.iter_rows(6, 5 + ROWS, 2, 8, values_only=True)
    return [row for row in rows if row[1]]


def parts(book: Path) -> Iterator[tuple[str, bytes]]:
    with zipfile.ZipFile(book) as file:
        yield from ((name, file.read(name)) for name in file.namelist())


def test_rows_go_into_the_table_and_every_line_is_accounted_for(book: Path) -> None:
    before = dict(parts(book))
    result = imported(book, TICKETS)
    assert result.exit_code == 0, result.output
    assert "4 rows read: 2 added to Deliveries, 0 replaced, 0 there already, 2 left out" in (
        result.output
    )
    assert "line 4: ticket: is blank" in result.output
    assert 'line 5: supplier: "Supplier Z" is not on Contracts' in result.output
    first, second = typed(book)
    assert (f"{first[0]:%Y-%m-%d}", *first[1:6]) == (
        "2026-11-03", "T1", "Supplier A", "N2 tank", 3500, "kg",
    )  # fmt: skip
    # nitrogen: 28.0134 kg/kmol over 22.4 m3/kmol, NIST WebBook
    assert first[6] == pytest.approx(3500 / 28.0134 * 22.40, rel=1e-3)
    assert f"{second[0]:%H:%M}" == "00:00"
    changed = {name for name, content in parts(book) if content != before[name]}
    assert changed == {"xl/worksheets/sheet1.xml"}


def test_all_lines_that_are_left_out_are_listed(book: Path) -> None:
    rows = [f"2026-11-03,N{at},Supplier {'A' if at % 2 else 'Z'},N2 tank,-1" for at in range(99)]
    result = imported(book, "\n".join([TICKETS.splitlines()[0], *rows, ""]), "--dry-run")
    assert "lines 2 to 100: amount: is negative" in result.output
    rows = [row.replace(",-1", ",1") if "Z" in row else row for row in rows]
    result = imported(book, "\n".join([TICKETS.splitlines()[0], *rows, ""]), "--dry-run")
    assert result.output.count("line ") == MOST_SHOWN
    kept = book.with_name("tickets.csv.left-out.csv")
    assert f"and so on: all 99 stand in {kept}" in result.output
    listed = kept.read_text().splitlines()
    assert listed[:2] == ["line,reason", '2,"supplier: ""Supplier Z"" is not on Contracts; '
                          'add it there, or say which it is in the mapping under '
                          '[names.supplier]"']  # fmt: skip
    assert [int(line.split(",")[0]) for line in listed[1:]] == list(range(2, 101))


def test_a_second_import_adds_nothing_and_a_correction_only_when_asked(book: Path) -> None:
    imported(book, TICKETS)
    once = book.read_bytes()
    again = imported(book, TICKETS)
    assert "0 added to Deliveries, 0 replaced, 2 there already, 2 left out" in again.output
    assert book.read_bytes() == once
    corrected = TICKETS.replace("3500", "3600")
    told = imported(book, corrected)
    assert "line 2: row 6 of Deliveries has it with other values; --replace takes it" in told.output
    assert typed(book)[0][4] == 3500
    replaced = imported(book, corrected, "--replace")
    assert "0 added to Deliveries, 1 replaced, 1 there already, 2 left out" in replaced.output
    assert [row[4] for row in typed(book)] == [3600, 920]


def test_a_dry_run_says_all_and_changes_nothing(book: Path) -> None:
    before = book.read_bytes()
    result = imported(book, TICKETS, "--dry-run")
    assert "2 would be added to Deliveries" in result.output
    assert book.read_bytes() == before


def test_a_question_is_asked_and_nothing_entered(book: Path) -> None:
    before = book.read_bytes()
    result = imported(book, TICKETS.replace("(kg)", ""))
    assert result.exit_code == 2
    assert "its unit is not told; it may be L(liq)" in result.output
    assert book.read_bytes() == before
    kept = book.with_name("tickets.csv.toml")
    kept.write_text(kept.read_text().replace('unit = "?"', 'unit = "lb"'))
    assert imported(book, TICKETS.replace("(kg)", "")).exit_code == 0
    assert typed(book)[0][5] == "lb"


def test_names_of_the_plant_and_what_holds_for_all_rows(book: Path) -> None:
    text = TICKETS.replace("Tank,", "").replace("N2 tank,", "")
    assert "Deliveries needs tank: name its column" in imported(book, text).output
    kept = book.with_name("tickets.csv.toml")
    more = '\n[always]\ntank = "Ar tank"\n\n[names.supplier]\n"Supplier Z" = "Supplier B"\n'
    kept.write_text(kept.read_text() + more)
    assert "3 added to Deliveries" in imported(book, text).output
    assert {row[3] for row in typed(book)} == {"Ar tank"}


def test_a_full_table_takes_no_part_of_a_file(book: Path) -> None:
    rows = "".join(f"2026-11-{n:02d},N{n},Supplier A,N2 tank,10\n" for n in range(1, ROWS + 2))
    before = book.read_bytes()
    result = imported(book, TICKETS.splitlines()[0] + "\n" + rows)
    assert f"has no free row left for line {ROWS + 2}" in result.output
    assert book.read_bytes() == before


def test_a_book_open_elsewhere_and_one_that_fails_stay_as_they_are(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = book.read_bytes()
    lock = book.with_name(f".~lock.{book.name}#")
    lock.touch()
    assert "is open in another program" in imported(book, TICKETS).output
    lock.unlink()

    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    assert "No space left on device" in imported(book, TICKETS).output
    monkeypatch.undo()
    assert book.read_bytes() == before
    assert sorted(path.name for path in book.parent.iterdir()) == [
        "plant.xlsx", "tickets.csv", "tickets.csv.toml",
    ]  # fmt: skip


def test_a_book_without_such_a_table(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    with xlsxwriter.Workbook(path) as made:
        made.add_worksheet()
    assert "has no table Deliveries (Date, Ticket, Supplier" in imported(path, TICKETS).output
    assert "is no workbook" in imported(tmp_path / "none.xlsx", TICKETS).output


def test_typed_columns_are_those_without_formulas(book: Path) -> None:
    table = contents(book).tables["Deliveries"]
    assert table.typed == {"Date", "Ticket", "Supplier", "Tank", "Quantity", "Unit"}
    assert len(table.rows) == ROWS
    assert table.is_free(table.rows[0])


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (TICKETS.replace("Supplier A", "Lüfter").encode("cp1252"), "is not written in utf-8; say"),
        (TICKETS.replace("3500", "3500 £").encode("cp1252"), "is not written in utf-8; say"),
        (TICKETS.encode("utf-16-le"), "is neither text nor a workbook nor Parquet"),
        (b"%PDF-1.7 tickets", "is a PDF; export it as CSV"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "is an old .xls file"),
        (b"PK\x03\x04 cut off", "cannot be read as a workbook"),
        (b"PAR1 cut off", "cannot be read as Parquet"),
        (b"", "Empty CSV file"),
    ],
)
def test_a_file_that_is_not_as_it_was_mapped(book: Path, content: bytes, sentence: str) -> None:
    assert imported(book, TICKETS, "--dry-run").exit_code == 0
    before, kept = book.read_bytes(), book.with_name("tickets.csv.toml").read_bytes()
    file = book.with_name("tickets.csv")
    file.write_bytes(content)
    result = CliRunner().invoke(main, ["import", "tickets", str(file), "--into", str(book)])
    assert result.exit_code == 1
    assert sentence in result.output
    assert book.read_bytes() == before
    assert book.with_name("tickets.csv.toml").read_bytes() == kept


def test_a_book_of_another_kind(book: Path) -> None:
    text = book.with_name("notes.xlsx")
    text.write_text("no workbook")
    result = imported(text, TICKETS)
    assert result.exit_code == 1
    assert "notes.xlsx" in result.output
    assert text.read_text() == "no workbook"
    folder = book.with_name("folder.xlsx")
    folder.mkdir()
    assert imported(folder, TICKETS).exit_code != 0


def test_another_kind_of_file_is_told_by_its_mapping(book: Path) -> None:
    imported(book, TICKETS, "--dry-run")
    file = book.with_name("tickets.csv")
    result = CliRunner().invoke(main, ["import", "tank", str(file), "--into", str(book)])
    assert "maps a file of tickets, not of tank" in result.output


def test_progress_tells_what_is_read_and_computed(book: Path) -> None:
    imported(book, TICKETS, "--dry-run")
    told: list[str] = []
    file = book.with_name("tickets.csv")
    mapping, _, _ = mapping_for("tickets", file, mapping_file(file))
    run(file, book, mapping, progress=lambda _done, _total, what: told.append(what))
    assert told[:3] == ["reading plant.xlsx", "reading tickets.csv", "cleaning"]
    assert "computing" in told
