"""Setting Excel up, on this system and on a Windows that is made up: files, registry, xlwings."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
import xlwings
import xlwings.utils

from gasfuncs.errors import UnreadableError
from gasfuncs.hosts import excel
from gasfuncs.hosts.excel import settings
from gasfuncs.hosts.excel.module import module
from tests.excel import door

ADD_IN = Path(xlwings.__file__).with_name("addin") / "xlwings.xlam"
EXCEL = r"C:\Program Files\Microsoft Office\root\Office16\EXCEL.EXE"
SECURITY = r"Microsoft\Office\16.0\Excel\Security"


@dataclass
class Windows:
    """A Windows with Excel and a virtual environment, as far as setting up looks at it."""

    folder: Path
    registry: dict[tuple[str, str], Any] = field(default_factory=dict)
    said: str = "Successfully installed the xlwings add-in! "

    @property
    def python(self) -> Path:
        return self.folder / "venv" / "Scripts" / "python.exe"

    @property
    def bridge(self) -> Path:
        return self.folder / "venv" / f"xlwings64-{xlwings.__version__}.dll"

    @property
    def add_in(self) -> Path:
        return self.folder / "Microsoft" / "Excel" / "XLSTART" / "xlwings.xlam"

    @property
    def settings(self) -> Path:
        return self.folder / ".xlwings" / "xlwings.conf"

    def run(self, command: list[str], **_: Any) -> subprocess.CompletedProcess[str]:
        """`xlwings addin install`."""
        assert command == [str(self.python), "-m", "xlwings.cli", "addin", "install"]
        if "Successfully" in self.said:
            self.add_in.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ADD_IN, self.add_in)
        return subprocess.CompletedProcess(command, 0, self.said, "")

    @contextmanager
    def key(self, root: str, key: str) -> Iterator[tuple[str, str]]:
        yield root, key

    def value(self, key: tuple[str, str], name: str) -> tuple[Any, int]:
        full = rf"{key[1]}\{name}"
        if (key[0], full) not in self.registry:
            raise FileNotFoundError(full)
        return self.registry[key[0], full], 1


@pytest.fixture
def windows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Windows:
    made = Windows(tmp_path)
    made.python.parent.mkdir(parents=True)
    made.bridge.touch()
    made.registry[
        "machine", r"Software\Microsoft\Windows\CurrentVersion\App Paths\excel.exe" "\\"
    ] = EXCEL
    made.registry[
        "machine", r"Software\Microsoft\Office\ClickToRun\Configuration\VersionToReport"
    ] = "16.0.17029.20068"
    winreg = ModuleType("winreg")
    vars(winreg).update(
        HKEY_LOCAL_MACHINE="machine", HKEY_CURRENT_USER="user",
        OpenKey=made.key, QueryValueEx=made.value,
    )  # fmt: skip
    monkeypatch.setitem(sys.modules, "winreg", winreg)
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setattr(sys, "executable", str(made.python))
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("APPDATA", str(tmp_path))
    monkeypatch.setattr("gasfuncs.hosts.excel.setup.subprocess.run", made.run)
    return made


def says(sentences: Any) -> str:
    return "\n".join(sentences)


# This system


@pytest.mark.skipif(sys.platform == "win32", reason="other systems than Windows")
def test_elsewhere_a_dry_run_tells_everything_and_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    told = says(excel.install(dry_run=True))
    for words in (
        "on Windows only", "Nothing is changed", "xlwings addin install", "UDF MODULES is",
        "INTERPRETER_WIN is", "Trust access", "Macro-Enabled", "References", "Import File",
        "ADD_WORKBOOK_TO_PYTHONPATH is False",
    ):  # fmt: skip
        assert words in told
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(sys.platform == "win32", reason="other systems than Windows")
def test_elsewhere_installing_is_refused_and_the_status_says_why() -> None:
    with pytest.raises(excel.ExcelError, match=r"on Windows only.*install calc"):
        excel.install()
    assert not excel.status().ready
    assert "on Windows only" in excel.status().sentences[0]


def test_the_settings_are_where_xlwings_keeps_them() -> None:
    assert str(settings.settings_file()) == door.through(door.settings_file)


# A Windows that is made up


def test_installing_does_all_and_tells_it(windows: Windows) -> None:
    before = excel.status()
    assert not before.ready
    assert "add-in is not installed" in says(before.sentences)
    told = says(excel.install())
    assert "Nothing is changed" not in told
    assert f"Found Excel 16.0.17029.20068 at {EXCEL}" in told
    assert settings.read_settings(windows.settings) == {
        "UDF MODULES": "gasfuncs.hosts.excel",
        "INTERPRETER_WIN": str(windows.python),
        "ADD_WORKBOOK_TO_PYTHONPATH": "False",
    }
    assert windows.add_in.is_file()
    written = (windows.settings.parent / "GasFuncs.bas").read_text(encoding="ascii")
    assert written.replace("\n", "\r\n") == module()
    assert "GasFuncs.bas" in told
    after = excel.status()
    assert after.ready, after.sentences
    assert str(windows.python) in after.sentences[-1]


def test_a_dry_run_changes_nothing(windows: Windows) -> None:
    dry = excel.install(dry_run=True)
    assert not windows.settings.exists()
    assert not windows.add_in.exists()
    assert [sentence for sentence in dry if "Nothing is changed" not in sentence] == excel.install()
    dry = excel.uninstall(dry_run=True)
    assert excel.status().ready
    assert dry[1:] == excel.uninstall()


def test_what_others_have_in_the_settings_stays(windows: Windows) -> None:
    windows.settings.parent.mkdir()
    windows.settings.write_text(
        '"SHOW CONSOLE","True"\n"Udf Modules","plant; mill"\n"INTERPRETER_WIN","C:\\other.exe"\n'
    )
    assert r"INTERPRETER_WIN was C:\other.exe" in says(excel.install())
    excel.install()
    now = settings.read_settings(windows.settings)
    assert now["SHOW CONSOLE"] == "True"
    assert now["UDF MODULES"] == "plant;mill;gasfuncs.hosts.excel"
    told = excel.uninstall()
    assert "Took the functions out" in told[0]
    assert f"INTERPRETER_WIN stays {windows.python}, which runs plant, mill too" in told[1]
    now = settings.read_settings(windows.settings)
    assert now["UDF MODULES"] == "plant;mill"
    assert now["SHOW CONSOLE"] == "True"
    assert [file.name for file in windows.settings.parent.iterdir()] == ["xlwings.conf"]


def test_an_interpreter_of_others_stays(windows: Windows) -> None:
    excel.install()
    settings.change_settings(windows.settings, {"INTERPRETER_WIN": "C:\\other.exe"})
    assert r"INTERPRETER_WIN stays C:\other.exe, which is not this" in says(excel.uninstall())
    assert settings.read_settings(windows.settings) == {"INTERPRETER_WIN": "C:\\other.exe"}


def test_an_excel_of_32_bits_loads_another_library(windows: Windows) -> None:
    windows.registry["machine", r"Software\Microsoft\Office\ClickToRun\Configuration\Platform"] = (
        "x86"
    )
    with pytest.raises(excel.ExcelError, match="xlwings32-"):
        excel.install()
    windows.bridge.with_name(windows.bridge.name.replace("64", "32", 1)).touch()
    excel.install()


def test_an_excel_that_does_not_tell_its_bits_is_of_those_of_its_folder(windows: Windows) -> None:
    for key, value in windows.registry.items():
        if value == EXCEL:
            windows.registry[key] = r"C:\Program Files (x86)\Microsoft Office\EXCEL.EXE"
    with pytest.raises(excel.ExcelError, match="xlwings32-"):
        excel.install()


def test_uninstalling_leaves_no_empty_setting(windows: Windows) -> None:
    assert "were not in" in excel.uninstall()[0]
    excel.install()
    excel.uninstall()
    assert settings.read_settings(windows.settings) == {}
    assert not (windows.settings.parent / "GasFuncs.bas").exists()
    assert "does not name the functions" in says(excel.status().sentences)


def test_xlwings_reads_the_settings_as_they_are_meant(
    windows: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    excel.install()
    monkeypatch.setattr(xlwings, "USER_CONFIG_FILE", str(windows.settings))
    utils: Any = xlwings.utils
    read = utils.read_user_config()
    assert read["udf modules"] == "gasfuncs.hosts.excel"
    assert read["interpreter_win"] == str(windows.python)


def test_a_path_that_the_file_cannot_hold_is_told_and_nothing_lost(tmp_path: Path) -> None:
    file = tmp_path / "xlwings.conf"
    file.write_text('"SHOW CONSOLE","True"\n')
    with pytest.raises(UnreadableError, match="plain letters"):
        settings.change_settings(file, {"INTERPRETER_WIN": "C:\\\ud800\\python.exe"})
    assert settings.read_settings(file) == {"SHOW CONSOLE": "True"}
    assert list(tmp_path.iterdir()) == [file]


STORE_EXCEL = r"C:\Program Files\WindowsApps\Microsoft.Office.Desktop.Excel_16\EXCEL.EXE"
STORE_PYTHON = r"C:\Program Files\WindowsApps\PythonSoftwareFoundation.Python.3.12"


def no_excel(windows: Windows, _: pytest.MonkeyPatch) -> None:
    windows.registry.clear()


def excel_from_the_store(windows: Windows, _: pytest.MonkeyPatch) -> None:
    for key, value in windows.registry.items():
        if value == EXCEL:
            windows.registry[key] = STORE_EXCEL


def python_from_the_store(_: Windows, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "base_prefix", STORE_PYTHON)


def no_bridge(windows: Windows, _: pytest.MonkeyPatch) -> None:
    windows.bridge.unlink()


def no_xlwings(_: Windows, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("gasfuncs.hosts.excel.machine._xlwings_version", lambda: "")


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (no_excel, "Excel was not found"),
        (excel_from_the_store, "Excel is from the Microsoft Store"),
        (python_from_the_store, "Python is from the Microsoft Store"),
        (no_bridge, "dll is not beside Python"),
        (no_xlwings, r'pip install "gasfuncs\[excel\]"'),
    ],
)
def test_what_is_known_to_fail_is_refused(
    windows: Windows, monkeypatch: pytest.MonkeyPatch, spoil: Any, words: str
) -> None:
    spoil(windows, monkeypatch)
    with pytest.raises(excel.ExcelError, match=words):
        excel.install()
    assert not windows.settings.exists()
    assert not excel.status().ready


def test_an_add_in_of_another_version_is_told(windows: Windows) -> None:
    excel.install()
    windows.add_in.write_bytes(b"older")
    assert "of another version than xlwings" in says(excel.status().sentences)
    excel.install()
    assert excel.status().ready


def test_another_python_is_told(windows: Windows, monkeypatch: pytest.MonkeyPatch) -> None:
    excel.install()
    monkeypatch.setattr(sys, "executable", str(windows.folder / "venv" / "Scripts" / "python3.exe"))
    assert f"would run in {windows.python}" in says(excel.status().sentences)


@pytest.mark.parametrize(("policy", "told"), [(1, False), (2, False), (3, True), (4, True)])
def test_a_policy_against_macros_is_told(windows: Windows, policy: int, told: bool) -> None:
    windows.registry["user", rf"Software\Policies\{SECURITY}\VBAWarnings"] = policy
    assert ("policy of your administrator" in says(excel.install())) is told


def test_when_xlwings_fails_its_words_are_told_and_no_setting_is_changed(windows: Windows) -> None:
    windows.said = "Error: Failed to install the add-in: If Excel is running, quit Excel"
    with pytest.raises(excel.ExcelError, match=r"Failed to install the add-in.*Close Excel"):
        excel.install()
    assert not windows.settings.exists()
