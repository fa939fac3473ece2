"""Files that cannot be read end in a clear sentence and stay as they are."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from gasfuncs.errors import GasFuncsError
from gasfuncs.hosts.headless import WorkbookError, read_values, recalculate
from gasfuncs.hosts.headless import package as package_module
from tests.headless.fakes import build, functions, problems
from tests.headless.test_writing import parts, rewrite, with_cells

_BOOK = {"A1": 1, "B1": "=GAS_TWICE(A1)"}
_STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_SHEET = "xl/worksheets/sheet1.xml"


def _bytes(data: bytes) -> Callable[[Path], None]:
    def change(path: Path) -> None:
        path.write_bytes(data)

    return change


def _truncated(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-200])


def _damaged(path: Path) -> None:
    data = bytearray(path.read_bytes())
    with zipfile.ZipFile(path) as archive:
        start = archive.getinfo(_SHEET).header_offset + 60
    data[start : start + 40] = b"\x55" * 40
    path.write_bytes(bytes(data))


def _changed(part: str, old: str, new: str) -> Callable[[Path], None]:
    def change(path: Path) -> None:
        assert old in parts(path)[part].decode()
        rewrite(path, {part: lambda text: text.replace(old, new)})

    return change


def _without(part: str) -> Callable[[Path], None]:
    def change(path: Path) -> None:
        rewrite(path, {part: None})

    return change


def _other_zip(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("hello.txt", "hello")


def _open_document(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("META-INF/manifest.xml", "<manifest/>")


@pytest.mark.parametrize(
    ("spoil", "sentence"),
    [
        (_bytes(b""), "not an .xlsx workbook"),
        (_bytes(b"a,b,c\n1,2,3\n"), "not an .xlsx workbook"),
        (_open_document, "OpenDocument file; save it as .xlsx"),
        (_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(1000)), "encrypted"),
        (_truncated, "not an .xlsx workbook, or it is cut short"),
        (_damaged, "damaged"),
        (_other_zip, "no main part"),
        (_without(_SHEET), "lacks its part"),
        (_without("xl/_rels/workbook.xml.rels"), "lacks the part of its sheet"),
        (_without("xl/workbook.xml"), "lacks its part"),
        (_changed("xl/workbook.xml", _MAIN, _STRICT), "Strict"),
        (_changed("_rels/.rels", "xl/workbook.xml", "xl/workbook.bin"), "binary workbook"),
        (_changed("xl/workbook.xml", "</workbook>", ""), "damaged part xl/workbook.xml"),
        (_changed(_SHEET, "</sheetData>", ""), "damaged part xl/worksheets/sheet1.xml"),
        (_changed(_SHEET, "<row", "<row<"), "damaged part xl/worksheets/sheet1.xml"),
        (_changed(_SHEET, '<c r="B1"', "<c"), "without addresses"),
        (_changed(_SHEET, "<sheetData>", "<!-- x --><sheetData>"), "comments"),
        (
            _changed(_SHEET, "<worksheet", '<!DOCTYPE x [<!ENTITY a "b">]><worksheet'),
            "document type",
        ),
        (
            _changed("xl/workbook.xml", "<workbook ", "<!DOCTYPE workbook [ ]><workbook "),
            "document type",
        ),
    ],
)
def test_refused(tmp_path: Path, spoil: Callable[[Path], None], sentence: str) -> None:
    path = build(tmp_path / "book.xlsx", _BOOK)
    spoil(path)
    before = path.read_bytes()
    with pytest.raises(WorkbookError, match=sentence) as caught:
        recalculate(path, functions=functions())
    assert isinstance(caught.value, GasFuncsError)
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["book.xlsx"]


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(WorkbookError, match="no file"):
        recalculate(tmp_path / "none.xlsx", functions=functions())
    with pytest.raises(WorkbookError, match="no file"):
        recalculate(tmp_path, functions=functions())


def test_zip_bombs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = build(tmp_path / "book.xlsx", _BOOK)
    rewrite(path, {"xl/media/big.bin": bytes(3 * 2**20)})
    monkeypatch.setattr(package_module, "MAX_PART", 2 * 2**20)
    with pytest.raises(WorkbookError, match=r"xl/media/big\.bin above 2 MiB"):
        recalculate(path, functions=functions())
    monkeypatch.setattr(package_module, "MAX_PACKAGE", 2 * 2**20)
    with pytest.raises(WorkbookError, match="unpacks to more than 2 MiB"):
        recalculate(path, functions=functions())


def test_a_damaged_value(tmp_path: Path) -> None:
    path = with_cells(tmp_path / "book.xlsx", '<row r="1"><c r="A1" t="s"><v>7</v></c></row>')
    with pytest.raises(WorkbookError, match="damaged value in Main!A1"):
        read_values(path)


def test_precision_as_displayed(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", _BOOK)
    _changed("xl/workbook.xml", "<calcPr ", '<calcPr fullPrecision="0" ')(path)
    with pytest.raises(WorkbookError, match="precision as displayed"):
        recalculate(path, functions=functions())


def test_data_tables(tmp_path: Path) -> None:
    rows = (
        '<row r="1"><c r="A1"><v>1</v></c><c r="B1">'
        '<f t="dataTable" ref="B1:B2" dt2D="0" dtr="0" r1="A1"/><v>1</v></c></row>'
    )
    path = with_cells(tmp_path / "book.xlsx", rows)
    report = recalculate(path, functions=functions())
    assert [(p.cell, p.why) for p in report.kept] == [
        ("B1", "a data table (what-if analysis) is not computed")
    ]


def test_every_problem_is_named(tmp_path: Path) -> None:
    found = problems(tmp_path / "book.xlsx", {"A1": "=NOSUCH(1)", "A2": "=1+1", "A3": "=OTHER(2)"})
    assert sorted(found) == ["A1", "A3"]


def test_deep_nesting_is_refused_not_a_crash(tmp_path: Path) -> None:
    formula = "=" + "(" * 3000 + "1" + ")" * 3000
    assert "nested too deeply" in problems(tmp_path / "book.xlsx", {"A1": formula})["A1"]
