"""The commands, with the mistakes that people make first."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
import xlsxwriter
from click.testing import CliRunner, Result

from gasfuncs.cli import main, sample
from gasfuncs.hosts.headless import read_values
from gasfuncs.registry import topics, worksheet_functions
from gasfuncs.workbooks.building import titles
from tests.headless.test_writing import rewrite

README = Path(__file__).parents[2] / "README.md"


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


def book(path: Path, **formulas: str) -> Path:
    with xlsxwriter.Workbook(path) as made:
        sheet = made.add_worksheet("Sheet")
        for cell, formula in formulas.items():
            sheet.write(cell, formula)
    return path


def test_evaluate() -> None:
    result = run("evaluate", 'GAS_EXPANSION("argon")')
    assert result.exit_code == 0
    assert float(result.output) == pytest.approx(784, abs=2)


def test_evaluate_with_working() -> None:
    result = run("evaluate", "--working", 'GAS_BACKFILL("argon",2.5,"0.01 mbar","2 bar(a)",20)')
    assert result.exit_code == 0
    for part in ("equation", "input", "step", "result", "source"):
        assert re.search(rf"^{part}", result.output, re.MULTILINE), part


@pytest.mark.parametrize(
    ("formula", "says"),
    [
        ('GAS_DENSITY("argon", "80 psi", 20)', "psia or psig"),
        ('GAS_DENSITY("argon", "6 bar", 20)', "bar(a) or bar(g)"),
        ('GAS_DENSITY("argon", "3 furlong", 20)', "not a known unit"),
        ('GAS_DENSITY("xenon", 1, 20)', "not a known gas"),
        ('GAS_DENSITY("argon", -1, 20)', "below 0 bar(a)"),
        ('GAS_DENSITY("carbon dioxide", "61 bar(a)", 15)', "is liquid"),
        ('GAS_BACKFILL("argon", 2.5, "2 bar(a)", "0.01 mbar", 20)', "swapped"),
        ('GAS_DENSITY("argon", "abc", 20)', "not a number"),
        ('GAS_DENSITY("argon", , 20)', "pressure: is blank"),
        ('GAS_DENSITY("argon", "80,125 psig", 20)', "either mark"),
        ('GAS_BOIL_OFF("3000 gal(liq)", 35, 2)', "35"),
        ("GAS_NOTHING(1)", "GAS_LIST"),
        ("1+1", "write one call"),
        ('GAS_DENSITY("argon", 2', "at its end, which comes too early"),
        ('GAS_DENSITY("argon, 2, 20)', "quotes or brackets do not match"),
        ('GAS_EXPANSION("argon"))', "quotes or brackets do not match"),
        ('GAS_GAUGE("8"%)', 'at "%"'),
        ("GAS_DENSITY(argon, 2, 20)", "texts stand in quotes"),
        ('GAS_DENSITY("argon", B2, 20)', '"B2" is a cell'),
        ("GAS_DENSITY", "GAS_DENSITY(gas, pressure, temperature, [unit])"),
        ('GAS_DENSTIY("argon", 2, 20)', "is GAS_DENSITY meant?"),
        ('GAS_DENSITY("argon", 1,5; 20)', "semicolons and commas"),
        ('GAS_DENSITY("argon"; {1,5;2}; 20)', "semicolons and commas"),
        ('GAS_DENSITY("argon", 1,5, 20)', 'is "1,5" one number? Write 1.5, or semicolons'),
    ],
)
def test_evaluate_refuses_with_a_sentence(formula: str, says: str) -> None:
    result = run("evaluate", formula)
    assert result.exit_code == 1
    assert says in result.output
    assert "Traceback" not in result.output


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ('=GAS_DENSITY("argon"; 1,5; 20)', '=GAS_DENSITY("argon", 1.5, 20)'),
        ('GAS_DENSITY("argon";"1,5 bar(a)";20)', 'GAS_DENSITY("argon","1,5 bar(a)",20)'),
        ("GAS_DENSITY('argon'; 1.5; 20)", 'GAS_DENSITY("argon", 1.5, 20)'),
    ],
)
def test_evaluate_takes_semicolons_and_says_what_it_read(typed: str, read: str) -> None:
    result = run("evaluate", typed)
    assert result.stderr == f"read as {read}\n"
    assert result.stdout == run("evaluate", 'GAS_DENSITY("argon", 1.5, 20)').stdout


@pytest.mark.parametrize(
    "typed",
    [
        ["GAS_DENSITY('argon', 1.5, 20)"],
        ["GAS_DENSITY(“argon”, 1.5, 20)"],
        ['\'GAS_DENSITY("argon",', "1.5,", "20)'"],  # as a command line of Windows hands it over
    ],
)
def test_evaluate_takes_the_quotes_that_a_command_line_leaves(typed: list[str]) -> None:
    result = run("evaluate", *typed)
    assert result.stderr == ""
    assert result.stdout == run("evaluate", 'GAS_DENSITY("argon", 1.5, 20)').stdout


def test_a_range_is_read_as_libreoffice_writes_it() -> None:
    result = run("evaluate", "GAS_CONTENTS('argon'; {1;2|3;4}; 2; 20)")
    assert result.output.endswith(run("evaluate", 'GAS_CONTENTS("argon", {1,2;3,4}, 2, 20)').output)


def test_the_list_of_commands_fits_on_a_screen() -> None:
    assert "..." not in run("-h").output.partition("Commands:")[2]


def test_functions_and_show_know_every_function() -> None:
    listed = run("functions").output
    for name, definition in worksheet_functions().items():
        assert name in listed
        shown = run("show", name).output
        for text in (definition.equation, *(p.name for p in definition.parameters)):
            assert text.split()[0] in shown
    assert "GAS_DEW_PPM" in run("functions", "moisture").output
    assert "the topics are conditions, volume" in run("functions", "no such thing").output
    assert "GAS_LIST" in run("show", "nothing").output
    assert "is GAS_BACKFILL meant?" in run("show", "backfil").output


def in_a_process(*arguments: str, **settings: str) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-m", "gasfuncs", *arguments],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, env={**os.environ, **settings},
    )  # fmt: skip


def test_a_code_page_without_greek_letters_shows_the_others() -> None:
    shown, said = in_a_process("show", "GAS_DENSITY", PYTHONIOENCODING="cp437").communicate()
    assert "Equation: ? = ?_m(p, T) · M" in shown.decode("cp437")
    assert said == b""


def test_a_reader_that_has_enough_is_no_error() -> None:
    process = in_a_process("functions")
    assert process.stdout
    assert process.stderr
    process.stdout.close()
    assert process.stderr.read() == b""
    process.wait(60)
    process.stderr.close()


def test_a_topic_lists_its_own_functions() -> None:
    listed = run("functions", "Purge").output
    for name, definition in worksheet_functions().items():
        assert (f" {name} " in listed) is (definition.topic == "purge"), name


def test_readme_lists_the_functions_and_the_workbooks() -> None:
    text = README.read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| (\w+) \| (GAS_[A-Z_, ]+) \|$", text, re.MULTILINE))
    for topic in topics():
        names = [n for n, d in worksheet_functions().items() if d.topic == topic]
        assert rows[topic].split(", ") == names, topic
    assert re.findall(r"^\| `(\w+)` \|", text, re.MULTILINE) == list(titles())


def test_recalculate_stores_and_a_second_run_changes_nothing(tmp_path: Path) -> None:
    path = book(tmp_path / "b.xlsx", A1='=GAS_DENSITY("argon","1 atm",0)', A2="=A1*2")
    assert run("recalculate", str(path), "--check").exit_code == 1
    assert run("recalculate", str(path)).exit_code == 0
    values = read_values(path)["Sheet"]
    assert values[2, 1] == pytest.approx(2 * 1.784, rel=1e-3)
    before = path.read_bytes()
    assert run("recalculate", str(path), "--check").exit_code == 0
    assert run("recalculate", str(path)).exit_code == 0
    assert path.read_bytes() == before


def test_recalculate_tells_errors_by_cell(tmp_path: Path) -> None:
    path = book(tmp_path / "b.xlsx", A1='=GAS_DENSITY("argon","6 bar",0)', A2="=SUM(A1,1)")
    result = run("recalculate", str(path))
    assert result.exit_code == 0
    assert "Sheet!A1 is #VALUE!" in result.output
    assert "bar(a) or bar(g)" in result.output
    report = json.loads(run("recalculate", str(path), "--json").output)
    assert [error["cell"] for error in report["errors"]] == ["A1", "A2"]


def test_recalculate_names_what_it_cannot_compute_and_leaves_the_file(tmp_path: Path) -> None:
    cells = {f"A{row}": "=NO_SUCH_FUNCTION(1)" for row in range(1, 31)}
    path = book(tmp_path / "b.xlsx", **cells, B1="=GAS_GAUGE(A1)", B2="=GAS_GAUGE(A2)+SUM(A1:A30)")
    before = path.read_bytes()
    whole = tmp_path / "report.json"
    result = run("recalculate", str(path), "--report", str(whole))
    assert result.exit_code == 2
    assert "Sheet!A1: " in result.output
    assert "… and 10 more" in result.output
    assert "--keep they and all that takes them, 32 cell(s)" in " ".join(result.output.split())
    assert len(json.loads(whole.read_text("utf-8"))["problems"]) == 30
    assert path.read_bytes() == before
    kept = run("recalculate", str(path), "--keep")
    assert kept.exit_code == 0
    assert "32 cell(s) kept as stored" in kept.output


def test_recalculate_to_another_file(tmp_path: Path) -> None:
    path = book(tmp_path / "b.xlsx", A1="=GAS_GAUGE(8)")
    before = path.read_bytes()
    assert run("recalculate", str(path), "--output", str(tmp_path / "c.xlsx")).exit_code == 0
    assert path.read_bytes() == before
    assert read_values(tmp_path / "c.xlsx")["Sheet"][1, 1] == pytest.approx(6.98675)


@pytest.mark.parametrize("content", [b"", b"not a workbook", b"PK\x03\x04 half of one"])
def test_a_file_that_is_not_a_workbook(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "b.xlsx"
    path.write_bytes(content)
    result = run("recalculate", str(path))
    assert result.exit_code == 1
    assert "b.xlsx" in result.output
    assert "Traceback" not in result.output
    assert path.read_bytes() == content


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    result = run("recalculate", str(tmp_path / "none.xlsx"))
    assert result.exit_code == 1
    assert "none.xlsx" in result.output


def test_workbook_never_overwrites_unasked(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    path.write_text("mine")
    result = run("workbook", "monthly_gas_usage", str(path))
    assert result.exit_code == 1
    assert "--force" in result.output
    assert path.read_text() == "mine"
    assert "not a workbook here" in run("workbook", "nothing", str(tmp_path / "n.xlsx")).output


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["workbook", "vent_fill_purity", "b.ods"], "its name ends in .xlsx"),
        (["workbook", "vent_fill_purity", "b"], "its name ends in .xlsx"),
        (["workbook", "delivery_check", "b.xlsx", "--demo", "--from", "a.xlsx"], "choose one"),
        (["workbook", "delivery_check", "b.xlsx", "--from", "none.xlsx"], "no file none.xlsx"),
        (["build", "calc", "addin.zip"], "its name ends in .oxt"),
        (["build", "calc", "none/addin.oxt"], "there is no folder"),
        (["install", "word"], "'HOST': 'word' is not one of 'calc', 'excel'"),
    ],
)
def test_what_cannot_be_written_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str], says: str
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run(*arguments)
    assert result.exit_code != 0
    assert says in result.output
    assert not list(tmp_path.iterdir())


def test_workbooks_are_listed() -> None:
    listed = run("workbooks").output
    assert all(name in listed for name in titles())


def test_demo_prints_the_answer(tmp_path: Path) -> None:
    result = run("demo", str(tmp_path / "plant"))
    assert result.exit_code == 0, result.output
    for word in ("nitrogen", "argon", "Unaccounted", "Leak", "mbar L/s", "VF2"):
        assert word in result.output
    assert (tmp_path / "plant" / "monthly_gas_usage.xlsx").exists()


def test_demo_leaves_an_edited_book_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sample, "ROWS", 1)
    book = tmp_path / "monthly_gas_usage.xlsx"
    assert run("demo", str(tmp_path)).exit_code == 0
    assert run("demo", str(tmp_path)).exit_code == 0
    part = "xl/worksheets/sheet3.xml"
    rewrite(book, {part: lambda text: re.sub("<v>[^<]*</v>", "<v>77</v>", text, count=1)})
    edited = book.read_bytes()
    result = run("demo", str(tmp_path))
    assert result.exit_code == 1
    assert "left as it is" in result.output
    assert book.read_bytes() == edited
    assert run("demo", str(tmp_path), "--force", "--units", "us").exit_code == 0
    assert book.read_bytes() != edited


def test_doctor_speaks_of_every_host() -> None:
    result = run("doctor")
    assert result.exit_code == 0
    for host in ("headless engine", "LibreOffice Calc", "Excel on Windows"):
        assert host in result.output
    assert result.output.startswith("ready")


def test_excel_dry_run_changes_nothing_and_says_what_is_left() -> None:
    result = run("install", "excel", "--dry-run")
    assert result.exit_code == 0
    assert "VBA project object model" in result.output
    result = run("install", "excel", "--uninstall", "--dry-run")
    assert "Nothing is changed" in result.output
    assert "VBA project" not in result.output


def test_uninstall_is_a_command_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("gasfuncs.hosts.calc.uninstall", lambda dry_run: [f"dry run: {dry_run}"])
    assert run("uninstall", "calc").output == "dry run: False\n"
