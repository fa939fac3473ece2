"""Files that a LibreOffice without the add-in has saved, opened with it or mended."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path

import pytest
import xlsxwriter
from click.testing import CliRunner

import gasfuncs
from gasfuncs.cli import main
from gasfuncs.hosts.calc import MendingError, mend
from gasfuncs.hosts.calc.office import find_office
from tests.calc import office

DENSITY = 'GAS_DENSITY("argon",1,20)'
MIMETYPE = "application/vnd.oasis.opendocument.spreadsheet"


def book_of_ours(path: Path) -> None:
    """Our functions wherever a book can have them; a text that looks like a call stays one."""
    with xlsxwriter.Workbook(path) as book:
        book.add_worksheet("Mine").write_formula("A1", f'=2*{DENSITY}&" gas_density("')
        locked = book.add_worksheet("Locked")
        locked.write_formula("A1", f"=3*{DENSITY}")
        locked.protect()
        book.add_worksheet("Array").write_array_formula("A1:A2", f"{{=4*{DENSITY}}}")
        book.define_name("Argon", f"=5*{DENSITY}")
        named = book.add_worksheet("Named")
        named.write_formula("A1", "=Argon")
        check = {"validate": "custom", "value": f"=B1<{DENSITY}"}
        named.data_validation("B1", check)
        named.conditional_format("B1", {"type": "formula", "criteria": f"=$B$1<{DENSITY}"})
        named.write("B2", "gas_density(")


def saved_without(file: Path) -> Path:
    """The .ods that a LibreOffice without the add-in makes; it has computed all anew."""
    plain = [str(find_office()), "--headless"]
    profile = office.new_profile("without").as_uri()
    into = ["--convert-to", "ods", "--outdir", str(file.parent)]
    office.run([*plain, f"-env:UserInstallation={profile}", *into, str(file)], 120)
    return file.with_suffix(".ods")


@office.needs_office
def test_a_file_saved_without_the_add_in_comes_right(tmp_path: Path) -> None:
    book_of_ours(tmp_path / "ours.xlsx")
    saved = saved_without(tmp_path / "ours.xlsx")
    mended = Path(shutil.copy(saved, tmp_path / "mended.ods"))
    assert mend(mended) == {"GAS_DENSITY": 6 + 1}  # a format by condition is stored twice
    assert mend(mended) == {}
    with zipfile.ZipFile(mended) as file:
        assert file.infolist()[0].filename == "mimetype"
        assert file.infolist()[0].compress_type == zipfile.ZIP_STORED
        content = file.read("content.xml")
    assert content.count(b"gas_density(") == 2  # a text, and one in a formula
    found = office.played("opened", str(saved), str(mended))
    density = gasfuncs.GAS_DENSITY("argon", 1, 20)
    assert {shown for shown, _ in found["read"]} == {"error 525"}
    for how in ("opened", "mended"):
        assert [protected for _, protected in found[how]] == [False, True, False, False]
        first, *others = [shown for shown, _ in found[how]]
        assert first.endswith(" gas_density(")
        assert float(first.removesuffix(" gas_density(")) == pytest.approx(2 * density)
        assert [float(each) for each in others] == pytest.approx(
            [3 * density, 4 * density, 5 * density], rel=1e-6
        )


def written(path: Path, parts: dict[str, str]) -> Path:
    with zipfile.ZipFile(path, "w") as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return path


def test_what_is_no_ods_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.ods").write_text("gas_density(")
    with pytest.raises(MendingError, match=r"a\.ods is no \.ods workbook; only those are mended$"):
        mend(tmp_path / "a.ods")
    book_of_ours(tmp_path / "a.xlsx")
    with pytest.raises(MendingError, match="open it in a LibreOffice with the add-in"):
        mend(tmp_path / "a.xlsx")
    locked = {"mimetype": MIMETYPE, "META-INF/manifest.xml": "<manifest:encryption-data/>"}
    with pytest.raises(MendingError, match="has a password"):
        mend(written(tmp_path / "b.ods", locked))
    (tmp_path / ".~lock.c.ods#").touch()
    with pytest.raises(MendingError, match="is open in LibreOffice"):
        mend(written(tmp_path / "c.ods", {"mimetype": MIMETYPE}))


def test_the_command_says_what_it_mended(tmp_path: Path) -> None:
    content = ' <c table:formula="of:=gas_density(1)+gas_unknown(2)+a.gas_gauge(3)+gas_gauge(4)"/>'
    file = written(tmp_path / "a.ods", {"mimetype": MIMETYPE, "content.xml": content})
    said = CliRunner().invoke(main, ["mend", str(file)]).output
    assert said.startswith(f"Mended GAS_DENSITY (1), GAS_GAUGE (1) in {file}.")
    with zipfile.ZipFile(file) as archive:
        assert archive.read("content.xml").decode() == content.replace(
            "=gas_density", "=GASFUNCS.GAS_DENSITY"
        ).replace("+gas_gauge", "+GASFUNCS.GAS_GAUGE")
    said = CliRunner().invoke(main, ["mend", str(file)]).output
    assert said == f"{file} has nothing to mend.\n"
