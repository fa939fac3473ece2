"""Values written in place: everything else in the file stays as it was."""

from __future__ import annotations

import os
import re
import shutil
import stat
import zipfile
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.hosts.headless.errors import WorkbookInUseError, WorkbookNotSavedError
from tests.headless.fakes import build, functions, values


def parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def rewrite(path: Path, changes: dict[str, Any]) -> Path:
    """Change parts of a workbook: part -> function of its text, or new bytes, or None to drop."""
    old = parts(path)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in {**old, **{n: b"" for n in changes if n not in old}}.items():
            change = changes.get(name, data)
            if callable(change):
                change = change(data.decode()).encode()
            if change is not None:
                archive.writestr(name, change)
    return path


def with_cells(path: Path, rows: str, extra: dict[str, Any] | None = None) -> Path:
    """A workbook whose first sheet holds just these rows of XML."""
    build(path, {})

    def put(text: str) -> str:
        return re.sub(
            r"<sheetData\s*/>|<sheetData>.*</sheetData>",
            lambda _: f"<sheetData>{rows}</sheetData>",
            text,
            flags=re.S,
        )

    return rewrite(path, {"xl/worksheets/sheet1.xml": put, **(extra or {})})


def sheet_text(path: Path) -> str:
    return parts(path)["xl/worksheets/sheet1.xml"].decode()


def run(path: Path) -> Any:
    report = recalculate(path, functions=functions())
    assert not [*report.problems, *report.kept], report
    return report


def _rich_book(path: Path) -> Path:
    workbook = xlsxwriter.Workbook(path)
    main = workbook.add_worksheet("Main")
    bold = workbook.add_format({"bold": True, "num_format": "0.00"})
    main.write_column("A1", [1, 2, 3])
    main.write_formula("B1", "=GAS_TWICE(A1)", bold)
    main.write_formula("B2", '=IF(A2>1,"more <&> ""less""","")')
    main.write_formula("B3", "=A3>1")
    main.write_formula("B4", "=A3/0")
    main.write_formula("B5", '="  spaced "&A1')
    main.conditional_format("A1:B3", {"type": "3_color_scale"})
    main.data_validation("A1", {"validate": "decimal", "criteria": ">", "value": 0})
    main.write_comment("A1", "a note")
    main.insert_chart("D2", _chart(workbook))
    workbook.add_chartsheet().set_chart(_chart(workbook))
    other = workbook.add_worksheet("No formulas")
    other.write("A1", "text")
    workbook.set_properties({"title": "kept"})
    workbook.close()
    return path


def _chart(workbook: Any) -> Any:
    chart = workbook.add_chart({"type": "line"})
    chart.add_series({"values": "=Main!$B$1:$B$3"})
    return chart


def test_an_error_gives_way_to_the_error_as_it_is_now(tmp_path: Path) -> None:
    """#VALUE!, which some programs store for any error, is no change; it is written anew."""
    rows = '<row r="1"><c r="A1" t="e"><f>NA()</f><v>#VALUE!</v></c></row>'
    path = with_cells(tmp_path / "book.xlsx", rows)
    assert run(path).changed == []
    assert "<v>#N/A</v>" in sheet_text(path)


def test_only_the_changed_sheet_differs(tmp_path: Path) -> None:
    path = _rich_book(tmp_path / "book.xlsx")
    before, entries = parts(path), zipfile.ZipFile(path).infolist()
    report = run(path)
    after = parts(path)
    assert report.written
    assert list(before) == list(after)
    changed = {name for name in before if before[name] != after[name]}
    charts = {"xl/charts/chart1.xml", "xl/charts/chart2.xml"}
    assert changed == {"xl/worksheets/sheet1.xml", *charts}
    for part in charts:
        points = re.findall(r'<c:pt idx="(\d)"><c:v>([^<]*)', after[part].decode())
        assert points == [("0", "2")]
    for old, new in zip(entries, zipfile.ZipFile(path).infolist(), strict=True):
        assert (old.date_time, old.compress_type, old.external_attr, old.create_system) == (
            new.date_time, new.compress_type, new.external_attr, new.create_system,
        )  # fmt: skip
    found = values(path)
    assert found["B1"] == 2
    assert found["B2"] == 'more <&> "less"'
    assert found["B3"] is True
    assert found["B4"] == "#DIV/0!"
    assert found["B5"] == "  spaced 1"
    assert '<c r="B1" s="1"><f>GAS_TWICE(A1)</f><v>2</v></c>' in sheet_text(path)


def test_a_second_run_does_not_touch_the_file(tmp_path: Path) -> None:
    path = _rich_book(tmp_path / "book.xlsx")
    run(path)
    os.utime(path, (1, 1))
    inode = path.stat().st_ino
    report = run(path)
    assert not report.changed
    assert not report.written
    assert (path.stat().st_mtime, path.stat().st_ino) == (1, inode)


def test_check_and_output(tmp_path: Path) -> None:
    path = _rich_book(tmp_path / "book.xlsx")
    before = path.read_bytes()
    report = recalculate(path, check=True, functions=functions())
    assert report.changed
    assert not report.written
    assert path.read_bytes() == before
    output = tmp_path / "result.xlsx"
    recalculate(path, output, functions=functions())
    assert path.read_bytes() == before
    assert values(output)["B1"] == 2


def test_permissions_and_links_are_kept(tmp_path: Path) -> None:
    path = _rich_book(tmp_path / "book.xlsx")
    path.chmod(0o640)
    link = tmp_path / "link.xlsx"
    link.symlink_to(path)
    run(link)
    assert link.is_symlink()
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert values(path)["B1"] == 2
    assert sorted(p.name for p in tmp_path.iterdir()) == ["book.xlsx", "link.xlsx"]


def test_an_interrupted_write_leaves_the_original(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = _rich_book(tmp_path / "book.xlsx")
    before = path.read_bytes()

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("gasfuncs.hosts.headless.saving.os.replace", fail)
    with pytest.raises(WorkbookNotSavedError, match="No space left"):
        run(path)
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["book.xlsx"]


def test_a_missing_folder_is_named(tmp_path: Path) -> None:
    path = _rich_book(tmp_path / "book.xlsx")
    with pytest.raises(WorkbookNotSavedError, match="No such file or directory"):
        recalculate(path, tmp_path / "none" / "result.xlsx", functions=functions())


@pytest.mark.skipif(os.name == "posix" and os.geteuid() == 0, reason="root may write anything")
def test_a_read_only_file_is_refused(tmp_path: Path) -> None:
    path = _rich_book(tmp_path / "book.xlsx")
    path.chmod(0o440)
    with pytest.raises(WorkbookNotSavedError, match="read-only"):
        run(path)


@pytest.mark.parametrize("lock", ["~$book.xlsx", ".~lock.book.xlsx#"])
def test_a_workbook_open_elsewhere_is_refused(tmp_path: Path, lock: str) -> None:
    path = _rich_book(tmp_path / "book.xlsx")
    (tmp_path / lock).touch()
    with pytest.raises(WorkbookInUseError, match="open in another program"):
        run(path)
    recalculate(path, tmp_path / "other.xlsx", functions=functions())
    recalculate(path, check=True, functions=functions())


def test_shared_formulas(tmp_path: Path) -> None:
    rows = (
        '<row r="1"><c r="A1"><v>1</v></c><c r="B1"><f t="shared" ref="B1:B3" si="0">'
        "GAS_TWICE(A1)+A$1</f><v>0</v></c></row>"
        '<row r="2"><c r="A2"><v>2</v></c><c r="B2"><f t="shared" si="0"/><v>0</v></c></row>'
        '<row r="3"><c r="A3"><v>3</v></c><c r="B3"><f t="shared" si="0"/></c></row>'
    )
    path = with_cells(tmp_path / "book.xlsx", rows)
    run(path)
    found = values(path)
    assert [found["B1"], found["B2"], found["B3"]] == [3, 5, 7]
    assert '<c r="B3"><f t="shared" si="0"/><v>7</v></c>' in sheet_text(path)


def test_old_array_formulas(tmp_path: Path) -> None:
    rows = (
        '<row r="1"><c r="A1"><v>1</v></c>'
        '<c r="B1"><f t="array" ref="B1:B4">GAS_TWICE(A1:A3)</f><v>0</v></c>'
        '<c r="C1"><f t="array" ref="C1:C3">A1:A3*10</f><v>0</v></c></row>'
        '<row r="2"><c r="A2"><v>2</v></c><c r="B2" s="0"><v>9</v></c><c r="C2"><v>0</v></c></row>'
        '<row r="3"><c r="A3"><v>3</v></c><c r="B3"><v>0</v></c></row>'
    )
    path = with_cells(tmp_path / "book.xlsx", rows)
    run(path)
    found = values(path)
    assert [found[f"B{row}"] for row in (1, 2, 3, 4)] == [2, 4, 6, "#N/A"]
    assert [found[f"C{row}"] for row in (1, 2, 3)] == [10, 20, 30]
    assert 'ref="B1:B4"' in sheet_text(path)
    assert not run(path).changed


def test_spills_grow_and_shrink(tmp_path: Path) -> None:
    path = build(
        tmp_path / "book.xlsx",
        {"A1": 4, "A2": "below", "C2": "{=GAS_STEPS(A1)}", "G2": "{=_xlfn.SEQUENCE(A1)}"},
    )
    run(path)
    found = values(path)
    assert [found[f"D{row}"] for row in range(2, 6)] == [f"step {n}" for n in range(1, 5)]
    assert [found[f"G{row}"] for row in range(2, 6)] == [1, 2, 3, 4]
    text = sheet_text(path)
    assert 'ref="C2:D5"' in text
    assert 'cm="1"' in text
    assert re.search(r'<dimension ref="A1:G5"', text)
    assert not run(path).changed

    rewrite(path, {"xl/worksheets/sheet1.xml": lambda t: t.replace("<v>4</v>", "<v>2</v>", 1)})
    assert run(path).changed
    found = values(path)
    assert found["D3"] == "step 2"
    assert not {"C4", "D4", "C5", "D5", "G4", "G5"} & set(found)
    assert found["A2"] == "below"
    assert not run(path).changed


def test_a_spill_with_empty_formulas_in_its_cells(tmp_path: Path) -> None:
    """So a spreadsheet program writes a spill that depends on the clock."""
    rows = (
        '<row r="1"><c r="A1" cm="1"><f t="array" aca="1" ref="A1:A3" ca="1">B1:B2*2</f></c>'
        '<c r="B1"><v>1</v></c></row>'
        '<row r="2"><c r="A2"><f ca="1"/><v>0</v></c><c r="B2"><v>2</v></c></row>'
        '<row r="3"><c r="A3"><f ca="1"/><v>0</v></c></row>'
        '<row r="4"><c r="A4"><f/><v>7</v></c><c r="B4"><f>A4+SUM(A1:A3)</f></c></row>'
    )
    path = with_cells(tmp_path / "book.xlsx", rows)
    assert recalculate(path, functions=functions()).ok
    found = values(path)
    assert [found.get(c) for c in ("A1", "A2", "A3", "A4", "B4")] == [2, 4, None, 7, 13]


def test_a_formula_in_the_way_of_a_spill_stays(tmp_path: Path) -> None:
    rows = (
        '<row r="1"><c r="A1" cm="1"><f t="array" ref="A1:A2">B1:B2*2</f><v>0</v></c>'
        '<c r="B1"><v>1</v></c></row>'
        '<row r="2"><c r="A2"><f>B2+1</f><v>0</v></c><c r="B2"><v>2</v></c></row>'
    )
    path = with_cells(tmp_path / "book.xlsx", rows)
    assert recalculate(path, functions=functions()).ok
    assert values(path)["A2"] == 3
    assert values(path)["A1"] == "#VALUE!"


def test_strings_of_every_kind(tmp_path: Path) -> None:
    strings = (
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?><sst '
        'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" count="2"><si><r><t>'
        'rich </t></r><r><rPr><b/></rPr><t>text</t></r><rPh sb="0" eb="1"><t>SOUND</t></rPh></si>'
        "<si><t>#N/A</t></si></sst>"
    )
    rows = (
        '<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="inlineStr"><is><r><t>in</t></r><r>'
        '<t>line</t></r><rPh sb="0" eb="1"><t>SOUND</t></rPh></is></c><c r="C1" t="s"><v>1</v></c>'
        '<c r="D1" t="b"><v>1</v></c><c r="E1" t="e"><v>#NUM!</v></c>'
        '<c r="F1" t="str"><f>A1&amp;"|"&amp;B1&amp;"|"&amp;C1</f><v>old</v></c>'
        '<c r="G1"><f>GAS_SEEN(C1)</f></c><c r="H1"><f>GAS_SEEN(D1)</f></c>'
        '<c r="I1"><f>GAS_SEEN(E1)</f></c></row>'
    )
    path = tmp_path / "book.xlsx"
    build(path, {"A1": "needs shared strings"})
    rewrite(path, {"xl/sharedStrings.xml": strings.encode()})
    text = re.sub(
        "<sheetData>.*</sheetData>", f"<sheetData>{rows}</sheetData>", sheet_text(path), flags=re.S
    )
    rewrite(path, {"xl/worksheets/sheet1.xml": text.encode()})
    run(path)
    found = values(path)
    assert found["F1"] == "rich text|inline|#N/A"
    assert (found["A1"], found["B1"]) == ("rich text", "inline")
    assert (found["G1"], found["H1"], found["I1"]) == ("str #N/A", "bool True", "#NUM!")


def test_control_characters_and_escapes(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": '=CHAR(7)&"_x0041_"&CHAR(10)'})
    run(path)
    assert values(path)["A1"] == "\x07_x0041_\n"
    assert not run(path).changed


def test_a_prefixed_namespace(tmp_path: Path) -> None:
    path = with_cells(tmp_path / "book.xlsx", "")
    text = (
        '<x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
        '<x:sheetData><x:row r="1"><x:c r="A1"><x:v>4</x:v></x:c>'
        '<x:c r="B1"><x:f>GAS_TWICE(A1)</x:f></x:c></x:row></x:sheetData></x:worksheet>'
    )
    rewrite(path, {"xl/worksheets/sheet1.xml": text.encode()})
    run(path)
    assert values(path)["B1"] == 8
    assert "<x:f>GAS_TWICE(A1)</x:f><x:v>8</x:v></x:c>" in sheet_text(path)


def test_a_sheet_name_with_an_apostrophe(tmp_path: Path) -> None:
    path = build(
        tmp_path / "book.xlsx",
        {"A1": 3, "B1": "=GAS_TWICE('O''Brien & Co'!A1+'O''Brien & Co'!A1)"},
        sheet="O'Brien & Co",
    )
    run(path)
    assert values(path, "O'Brien & Co")["B1"] == 12


def test_macros_are_kept(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsm", {"A1": "=GAS_TWICE(2)"})
    rewrite(path, {"xl/vbaProject.bin": b"\x00macros"})
    run(path)
    assert parts(path)["xl/vbaProject.bin"] == b"\x00macros"
    assert values(path)["A1"] == 4


def test_dates_from_1904(tmp_path: Path) -> None:
    def book(formula: str) -> Path:
        path = tmp_path / "book.xlsx"
        workbook = xlsxwriter.Workbook(path, {"date_1904": True})
        workbook.add_worksheet("Main").write_formula("A1", formula)
        workbook.close()
        return path

    run(book("=GAS_TWICE(2)+1"))
    report = recalculate(book("=YEAR(1)"), functions=functions())
    assert "1904" in report.kept[0].why


def test_read_values(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": 1.5, "B2": "text", "C3": True, "D4": "=1/0"})
    run(path)
    found = read_values(path)["Main"]
    assert found[1, 1] == 1.5
    assert found[2, 2] == "text"
    assert found[3, 3] is True
    assert isinstance(found[4, 4], CellError)
    assert set(found) == {(1, 1), (2, 2), (3, 3), (4, 4)}
    assert read_values(path, ["Main"]) == {"Main": found}
    assert read_values(path, ["Other"]) == {}


def test_a_workbook_without_formulas_is_left_alone(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": 1})
    copy = shutil.copy(path, tmp_path / "copy.xlsx")
    assert not run(path).written
    assert path.read_bytes() == Path(copy).read_bytes()


@pytest.mark.parametrize(
    ("stored", "changed"),
    [("0.30000000000000004", False), ("0.3000000000001", False), ("0.300000000001", True),
     ("0.31", True), ("0", True)],
)  # fmt: skip
def test_the_last_digits_of_another_machine_are_no_change(
    tmp_path: Path, stored: str, changed: bool
) -> None:
    cells = f'<row r="1"><c r="A1"><f>0.1*3</f><v>{stored}</v></c></row>'
    path = with_cells(tmp_path / "book.xlsx", cells)
    assert recalculate(path, functions=functions(), check=True).changed == ["Main!A1"] * changed


def test_a_book_with_macros_keeps_its_kind(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsm", {"A1": "=GAS_TWICE(2)"})
    plain = build(tmp_path / "plain.xlsx", {"A1": "=GAS_TWICE(2)"})
    with pytest.raises(WorkbookNotSavedError, match=r"ends with \.xlsm"):
        recalculate(path, tmp_path / "book.xlsx", functions=functions())
    with pytest.raises(WorkbookNotSavedError, match=r"ends with \.xlsx"):
        recalculate(plain, tmp_path / "plain.xlsm", functions=functions())
    assert sorted(p.name for p in tmp_path.iterdir()) == ["book.xlsm", "plain.xlsx"]


def test_a_signature_is_told(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": "=GAS_TWICE(2)"})
    assert not recalculate(path, check=True, functions=functions()).signed
    rewrite(path, {"_xmlsignatures/sig1.xml": b"<Signature/>"})
    assert recalculate(path, check=True, functions=functions()).signed


def test_an_array_formula_is_one_change(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": 4, "C2": "{=GAS_STEPS(A1)}", "G2": "{=A1:A1*2}"})
    assert run(path).changed == ["Main!C2", "Main!G2"]
    rewrite(path, {"xl/worksheets/sheet1.xml": lambda t: t.replace("step 4", "step 9")})
    assert run(path).changed == ["Main!C2"]


def test_an_area_of_one_cell_told_twice_is_no_change(tmp_path: Path) -> None:
    """As Calc writes it, with the type of a number and fifteen digits."""
    rows = (
        '<row r="1"><c r="A1" t="n"><v>2</v></c><c r="B1" t="n">'
        '<f t="array" ref="B1:B1">A1*2/3</f><v>1.33333333333333</v></c></row>'
    )
    path = with_cells(tmp_path / "book.xlsx", rows)
    report = recalculate(path, check=True, functions=functions())
    assert (report.formulas, report.changed) == (1, [])


@pytest.mark.parametrize(("stored", "changed"), [("0", False), ("1", True), ("2", True)])
def test_a_logical_value_stored_as_its_number_is_no_change(
    tmp_path: Path, stored: str, changed: bool
) -> None:
    """As Calc writes it where the cell has a number format."""
    cells = f'<row r="1"><c r="A1" t="n"><f>1&gt;2</f><v>{stored}</v></c></row>'
    path = with_cells(tmp_path / "book.xlsx", cells)
    assert recalculate(path, functions=functions(), check=True).changed == ["Main!A1"] * changed


@pytest.mark.parametrize("known", [True, False])
def test_charts_show_the_new_values(tmp_path: Path, known: bool) -> None:
    """Of names along an axis that were not computed before too: they stand as numbers then."""
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as workbook:
        main = workbook.add_worksheet("Main")
        main.write_column("A1", [1, 2, 3.5])
        for row, value in ((1, 90), (2, 91), (3, 92)):
            main.write_formula(f"B{row}", f'="run "&A{row}', None, f"run {value}" if known else 0)
            main.write_formula(f"C{row}", f"=IF(ROW()=2,NA(),ROW()*{row})", None, value)
        chart = workbook.add_chart({"type": "line"})
        series = {"values": "=Main!$C$1:$C$3", "categories": "=Main!$B$1:$B$3"}
        chart.add_series({**series, "name": "=Main!$B$3"})
        main.insert_chart("E1", chart)
    run(path)
    text = parts(path)["xl/charts/chart1.xml"].decode()
    assert re.findall(r"<c:v>([^<]*)</c:v>", text) == [
        "run 3.5",
        "run 1",
        "run 2",
        "run 3.5",
        "1",
        "9",
    ]
    assert re.findall(r'<c:pt idx="(\d)">', text)[-2:] == ["0", "2"]
    before = path.read_bytes()
    assert not run(path).written
    assert path.read_bytes() == before
