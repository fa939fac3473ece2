"""Workbooks with the functions' module in them, as olevba and LibreOffice find them."""

from __future__ import annotations

import json
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter
from click.testing import CliRunner

from gasfuncs.cli import main
from gasfuncs.hosts.excel import ExcelError, macros
from gasfuncs.hosts.excel.module import NAME, module
from gasfuncs.registry import worksheet_functions
from tests.calc import office

DENSITY = '=GAS_DENSITY("argon",2,20)'


def two_sheets(path: Path) -> None:
    with xlsxwriter.Workbook(path) as book:
        book.add_worksheet("Mine").write_formula("A1", DENSITY, None, 1)
        book.add_worksheet("Ours & yours").write("A1", "kept")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("macros") / "made.xlsm"
    macros.with_functions(two_sheets, path)
    return path


def test_olevba_finds_the_module_and_nothing_that_starts_by_itself(made: Path) -> None:
    pytest.importorskip("oletools", reason="needs the extra: gasfuncs[dev]")
    command = [sys.executable, "-W", "ignore", "-m", "oletools.olevba", "--json", str(made)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    told: list[dict[str, Any]] = json.loads(done.stdout)
    [file] = [each for each in told if each.get("file") == str(made)]
    code = {Path(each["vba_filename"]).stem: each["code"].strip() for each in file["macros"]}
    assert code.keys() == {"ThisWorkbook", "Sheet1", "Sheet2", NAME}
    named, *lines = module().strip().splitlines()
    assert named == f'Attribute VB_Name = "{NAME}"'  # olevba leaves this line out
    assert code.pop(NAME).splitlines() == lines
    assert not any(code.values())
    starts = {each["keyword"] for each in file["analysis"] if each["type"] == "AutoExec"}
    assert starts <= worksheet_functions().keys()  # it takes any name in _CHANGE for an event


@office.needs_office
def test_libreoffice_opens_it(made: Path) -> None:
    [opened] = office.saved_by_calc([made], "xlsx", "macros")
    [[shown]] = office.values(opened)
    assert shown == pytest.approx(worksheet_functions()["GAS_DENSITY"]("argon", 2, 20))
    with zipfile.ZipFile(made) as file:
        names = file.read("xl/workbook.xml").decode()
    assert 'name="Ours &amp; yours"' in names


def test_the_command_writes_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = tmp_path / "ours.xlsm"
    command = ["workbook", "argon_nitrogen_cost", str(book), "--rows", "5"]
    assert CliRunner().invoke(main, command).exit_code == 0
    with zipfile.ZipFile(book) as file:
        assert b"sheet.macroEnabled.main+xml" in file.read("[Content_Types].xml")
        assert "xl/vbaProject.bin" in file.namelist()
    refused = CliRunner().invoke(main, [*command, "--force", "--carried"])
    assert "its name ends in .xlsx" in refused.output
    monkeypatch.setattr(macros, "find_spec", lambda _: None)
    with pytest.raises(ExcelError, match=r'pip install "gasfuncs\[excel\]"'):
        macros.with_functions(two_sheets, tmp_path / "none.xlsm")
    assert not (tmp_path / "none.xlsm").exists()
