"""Hostile workbooks: computed right or refused by name, and never damaged."""

from __future__ import annotations

import os
import random
import re
import shutil
import sysconfig
import time
import tracemalloc
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless import WorkbookError, read_values, recalculate
from gasfuncs.hosts.headless import package as package_module
from gasfuncs.workbooks.building import titles
from tests.headless.fakes import build, functions, values
from tests.headless.test_writing import parts, rewrite, with_cells
from tests.hostile.counts import tried
from tests.thorough import part, tries

KIND = "recalculation"
SHEET = "xl/worksheets/sheet1.xml"
WORKBOOK = "xl/workbook.xml"
SEED = 20260101
OTHERS = "GASFUNCS_OTHER_WORKBOOKS"
"""Names a folder of other people's workbooks; those of installed packages are found anyway."""


def outcome(path: Path, ours: Any = None) -> str:
    """Recalculate: "" where the file was computed, else the sentence it was refused with."""
    before = path.read_bytes()
    listed = sorted(path.parent.iterdir())
    try:
        report = recalculate(path, functions=functions() if ours is None else ours)
    except WorkbookError as error:
        return untouched(path, before, str(error))
    finally:
        assert sorted(path.parent.iterdir()) == listed
    told = [*report.problems, *report.kept]
    assert all(problem.why for problem in told)
    if report.problems:
        assert path.read_bytes() == before
    if report.written:
        keep = path.with_name("before")
        keep.write_bytes(before)
        only_sheets_differ(keep, path)
        keep.unlink()
    return "; ".join(f"{p.cell}: {p.why}" for p in told)


def untouched(path: Path, before: bytes, sentence: str) -> str:
    assert path.name in sentence
    assert path.read_bytes() == before
    return sentence


def only_sheets_differ(before: Path, after: Path) -> None:
    old, new = parts(before), parts(after)
    assert list(old) == list(new)
    assert all(
        old[name] == new[name] or name.startswith(("xl/worksheets/", "xl/charts/")) for name in old
    )


def refused(path: Path, sentence: str, what: str) -> None:
    found = outcome(path)
    assert re.search(sentence, found), f"{what}: {found or 'was computed'}"
    tried(KIND, what)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """Two numbers, a text, a formula of each sort and a spill."""
    typed = {"A1": 2, "A2": 3, "A3": "text"}
    formulas = {"B1": "=GAS_TWICE(A1)", "B2": "=B1+A2", "B3": '=A3&"!"', "D1": "{=GAS_STEPS(A2)}"}
    return build(tmp_path / "book.xlsx", typed | formulas)


RIGHT = {"A1": 2, "A2": 3, "A3": "text", "B1": 4, "B2": 7, "B3": "text!", "D1": 1, "E3": "step 3"}


def is_right(path: Path) -> bool:
    found = values(path)
    return all(found.get(cell) == value for cell, value in RIGHT.items())


def test_the_book_is_right_when_nothing_is_wrong(book: Path) -> None:
    assert outcome(book) == ""
    assert is_right(book)


# Files cut short and damaged.


def test_cut_short_anywhere(book: Path) -> None:
    whole = book.read_bytes()
    lengths = range(0, len(whole), tries(5, 1))
    for length in lengths:
        book.write_bytes(whole[:length])
        assert outcome(book), f"the first {length} bytes were computed"
    tried(KIND, "cut short, at many lengths", len(lengths))


def test_damaged_anywhere(book: Path) -> None:
    whole = book.read_bytes()
    chance = random.Random(SEED)
    computed = 0
    count = tries(600, 2000)
    for _ in range(count):
        damaged = bytearray(whole)
        for _ in range(chance.choice((1, 1, 1, 4))):
            damaged[chance.randrange(len(damaged))] ^= 1 << chance.randrange(8)
        book.write_bytes(damaged)
        if not outcome(book):
            assert is_right(book)
            computed += 1
    tried(KIND, "bits flipped: refused", count - computed)
    tried(KIND, "bits flipped where it does not matter: right", computed)


@pytest.mark.parametrize("part", [SHEET, WORKBOOK, "xl/sharedStrings.xml", "_rels/.rels",
                                  "xl/_rels/workbook.xml.rels"])  # fmt: skip
def test_damaged_before_it_was_packed(book: Path, part: str) -> None:
    """Nothing but the library's own errors, whatever stands in a part."""
    whole = parts(book)[part]
    chance = random.Random(SEED)
    count = tries(100, 250)
    for _ in range(count):
        damaged = bytearray(whole)
        for _ in range(chance.choice((1, 2, 8))):
            at = chance.randrange(len(damaged))
            match chance.randrange(4):
                case 0:
                    damaged[at] = chance.randrange(256)
                case 1:
                    del damaged[at : at + chance.randrange(1, 20)]
                case 2:
                    damaged[at:at] = damaged[at : at + chance.randrange(1, 40)]
                case _:
                    damaged[at] = chance.choice(b"<>&\"'/= 0A")
        rewrite(book, {part: bytes(damaged)})
        outcome(book)
    tried(KIND, f"damaged {part}", count)


# Bombs.


BOMBS: dict[str, tuple[Callable[[], dict[str, bytes]], str]] = {
    "part": (
        lambda: {"xl/media/a.bin": bytes(257 * 2**20)},
        r"xl/media/a\.bin above 256 MiB",
    ),
    "package": (
        lambda: {f"xl/media/{n}.bin": bytes(206 * 2**20) for n in range(5)},
        "more than 1024 MiB",
    ),
    "sheet": (lambda: {SHEET: b"<a/>" * (65 * 2**20)}, "above 256 MiB"),
    "tree": (lambda: {WORKBOOK: b"<a>" + b"<b/>" * (17 * 2**20) + b"</a>"}, "above 64 MiB"),
    "parts": (lambda: {f"xl/{n}": b"" for n in range(20_001)}, "more than 20,000 parts"),
}


@pytest.mark.parametrize("bomb", part(BOMBS, 2))
def test_zip_bombs(book: Path, bomb: str) -> None:
    change, sentence = BOMBS[bomb]
    rewrite(book, change())
    refused(book, sentence, "zip bombs")


def test_a_part_that_unpacks_to_more_than_it_says(book: Path) -> None:
    rewrite(book, {SHEET: bytes(123_456_789)})
    data = book.read_bytes()
    size = (123_456_789).to_bytes(4, "little")
    assert data.count(size) == 2
    book.write_bytes(data.replace(size, (1000).to_bytes(4, "little")))
    tracemalloc.start()
    refused(book, "damaged part", "zip bombs")
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 8 * 2**20


def test_packed_in_an_unusual_way(book: Path) -> None:
    old = parts(book)
    for method in (zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA):
        with zipfile.ZipFile(book, "w", method) as archive:
            for name, data in old.items():
                archive.writestr(name, data)
        refused(book, "packed in a way", "zip bombs")


LAUGHS = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10))
DECLARED = {
    "billion laughs": f'<!DOCTYPE x [<!ENTITY a0 "ha">{LAUGHS}]>',
    "external entity": '<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>',
    "external entity over the network": '<!DOCTYPE x [<!ENTITY a SYSTEM "http://127.0.0.1/a">]>',
    "parameter entity": '<!DOCTYPE x [<!ENTITY % a SYSTEM "file:///etc/passwd"> %a;]>',
    "external document type": '<!DOCTYPE x SYSTEM "file:///etc/passwd">',
}


@pytest.mark.parametrize("part", [SHEET, WORKBOOK, "xl/sharedStrings.xml", "_rels/.rels",
                                  "xl/_rels/workbook.xml.rels"])  # fmt: skip
@pytest.mark.parametrize("what", DECLARED)
def test_entities(book: Path, part: str, what: str) -> None:
    put = rf"\g<0>{DECLARED[what]}"
    rewrite(book, {part: lambda text: re.sub(r"(<\?xml.*?\?>\s*)?", put, text, count=1)})
    refused(book, "document type", "document types and entities")


def test_other_encodings(book: Path) -> None:
    for encoding in ("utf-16", "utf-32"):
        rewrite(book, {SHEET: parts(book)[SHEET].decode().encode(encoding)})
        assert outcome(book)
        tried(KIND, "other encodings")
        build(book, {"A1": "=GAS_TWICE(2)"})
    rewrite(book, {part: b"\xef\xbb\xbf" + data for part, data in parts(book).items()
                   if part.endswith((".xml", ".rels"))})  # fmt: skip
    assert outcome(book) == ""
    assert values(book)["A1"] == 4
    tried(KIND, "other encodings")


# Absurd contents.

CELL = '<c r="B1"><f>GAS_TWICE(A1)</f><v>0</v></c>'


def row(cells: str) -> str:
    return f'<row r="1">{cells}</row>'


def array(area: str) -> str:
    return row(f'<c r="B1"><f t="array" ref="{area}">GAS_TWICE(A1)</f><v>0</v></c>')


@pytest.mark.parametrize(
    ("rows", "sentence"),
    [
        (array("B1:XFD1048576"), "array formulas over 17,178,820,608 cells"),
        (array("B1:ZZZ9"), "damaged array formula in B1"),
        (array("B9:A1"), "damaged array formula in B1"),
        (array("C1:C2"), "damaged array formula in B1"),
        (array("all"), "damaged array formula in B1"),
        (array(""), "damaged array formula in B1"),
        (row(CELL + '<c r="ZZZ1"><v>1</v></c>'), "ZZZ1"),
        (row('<c r="XFE1"><f>1+1</f></c>'), "a cell XFE1 that no sheet has"),
        (row('<c r="A1048577"><f>1+1</f></c>'), "a cell A1048577 that no sheet has"),
        (row('<c r="A0"><f>1+1</f></c>'), "a cell A0 that no sheet has"),
        (row(CELL + CELL), "two formulas for one cell"),
        (row("<c><f>1+1</f></c>"), "without addresses"),
        (row('<c r="A1"><v>twelve</v></c>' + CELL), "damaged value in Main!A1"),
        (row('<c r="A1"><v>1_000</v></c>' + CELL), "damaged value in Main!A1"),
        (row('<c r="A1"><v>nan</v></c>' + CELL), "damaged value in Main!A1"),
        (row('<c r="A1" t="b"><v>7</v></c>' + CELL), "damaged value in Main!A1"),
        (row('<c r="A1" t="text"><v>7</v></c>' + CELL), "damaged value in Main!A1"),
        (row('<c r="A1" t="s"><v>99</v></c>' + CELL), "damaged value in Main"),
        (row('<c r="A1" t="s"><v>-1</v></c>' + CELL), "damaged value in Main"),
        (row('<c r="A1" t="d"><v>2026-01-01</v></c>' + CELL), "dates as text"),
        (row('<c r="B1"><f t="shared" si="4"/></c>'), "shared formula is missing"),
        (row('<c r="B1"><f t="shared" si="0" ref="B1:B9">B1048576+1</f></c>'), ""),
        (row(CELL + "<x>" * 50_000 + "</x>" * 50_000), ""),
        (f'{row(CELL)}<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>', ""),
        ('<row><c r="A1"><v>2</v></c></row>' + row(CELL), ""),
    ],
)
def test_absurd_cells(tmp_path: Path, rows: str, sentence: str) -> None:
    path = with_cells(tmp_path / "book.xlsx", rows)
    found = outcome(path)
    assert re.search(sentence, found) if sentence else not found
    tried(KIND, "absurd cells, areas and values")


def test_a_value_in_a_cell_that_no_sheet_has(tmp_path: Path) -> None:
    path = with_cells(tmp_path / "book.xlsx", row('<c r="ZZZ1"><v>1</v></c>'))
    with pytest.raises(WorkbookError, match="a cell ZZZ1 that no sheet has"):
        read_values(path)


def test_an_absurd_dimension(book: Path) -> None:
    put = '<dimension ref="A1:XFD1048576"'
    rewrite(book, {SHEET: lambda text: re.sub(r'<dimension ref="[^"]*"', put, text)})
    assert "XFD1048576" in parts(book)[SHEET].decode()
    assert outcome(book) == ""
    assert is_right(book)
    tried(KIND, "absurd cells, areas and values")


@pytest.mark.parametrize(
    "formula", ["SUMPRODUCT(B1:XFD1048576)", "SUM(B1:XFD1048576*1)", 'SUM((B:XFD="")*1)',
                "ROWS(TRANSPOSE(B1:XFD1048576))"],
)  # fmt: skip
def test_areas_that_would_fill_the_memory(tmp_path: Path, formula: str) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": f"{{={formula}}}"})
    refused(path, r"A1: it takes all of an area of 17,178,820,608 cells", "areas of a whole sheet")


@pytest.mark.parametrize(
    ("formula", "value"),
    [("SUM(B:XFD)+ROWS(B:C)", 2 + 1_048_576), ("MAX(B1:XFD1048576)", 2), ("COUNTA(B:XFD)", 2),
     ("_xlfn.CONCAT(B1:XFD1048576)", "2x"), ("GAS_TOTAL(B1:XFD1048576)", 2),
     ("COUNTBLANK(B:XFD)", 1_048_576 * 16_383 - 2),
     ('COUNTIF(B:XFD,"<>2")', 1_048_576 * 16_383 - 1), ('SUMIF(B:XFD,"<>x")', 2)],
)  # fmt: skip
def test_an_area_of_a_whole_sheet_that_is_no_work(
    tmp_path: Path, formula: str, value: float | str
) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": f"={formula}", "C3": 2, "D4": "x"})
    assert outcome(path) == ""
    assert values(path)["A1"] == value
    tried(KIND, "areas of a whole sheet")


def test_a_hundred_thousand_defined_names(tmp_path: Path) -> None:
    count = tries(100_000, 300_000)
    path = build(tmp_path / "book.xlsx", {"A1": 3, "B1": f"=GAS_TWICE(name_{count - 1}_)"})
    names = "".join(f'<definedName name="name_{n}_">Main!$A$1</definedName>' for n in range(count))
    put = f"<definedNames>{names}</definedNames><calcPr"
    rewrite(path, {WORKBOOK: lambda text: text.replace("<calcPr", put)})
    assert outcome(path) == ""
    assert values(path)["B1"] == 6
    tried(KIND, "defined names", count)


def named(path: Path, names: dict[str, str], formula: str) -> Path:
    workbook = xlsxwriter.Workbook(path)
    workbook.add_worksheet("Main").write("A1", formula)
    for name, value in names.items():
        workbook.define_name(name, value)
    workbook.close()
    return path


def test_names_that_multiply(tmp_path: Path) -> None:
    names = {f"n_{k}": f"=n_{k - 1}+n_{k - 1}" for k in range(1, 40)}
    path = named(tmp_path / "book.xlsx", {"n_0": "=1", **names}, "=n_39")
    refused(path, "more than 8,192 parts", "formulas that multiply")
    path = named(tmp_path / "book.xlsx", {"n_0": "=1", **names}, "=n_9")
    assert outcome(path) == ""
    assert values(path)["A1"] == 2**9


def test_variables_that_multiply(tmp_path: Path) -> None:
    doubled = "".join(f"_xlpm.v_{k},_xlpm.v_{k - 1}+_xlpm.v_{k - 1}," for k in range(1, 40))
    for first in ("GAS_TWICE(1)", "1"):
        formula = f"=_xlfn.LET(_xlpm.v_0,{first},{doubled}_xlpm.v_39)"
        path = build(tmp_path / "book.xlsx", {"A1": formula})
        assert outcome(path) == ""
        assert values(path)["A1"] == 2**39 * (2 if first != "1" else 1)
        tried(KIND, "formulas that multiply")


@pytest.mark.parametrize(
    ("head", "tail", "value"),
    [
        ("TEXT(", ',"0.0")', "0.2"),
        ("FACT(", ")", 1),
        ("EXACT(", ",1)", False),
        ("LEFT(", ",3)", "0.1"),
        ("UPPER(", ")", "0.15"),
        ("(", "&1)", "0.15" + "1" * 50),
        ("IF(1,", '&"")', "0.15"),
    ],
)
def test_texts_that_multiply(tmp_path: Path, head: str, tail: str, value: Any) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": nested(head, tail, 50, "0.15")})
    started = time.process_time()
    assert outcome(path) == ""
    assert values(path)["A1"] == value
    assert time.process_time() - started < 10
    tried(KIND, "formulas that multiply")


@pytest.mark.parametrize(
    "formulas",
    [
        {"A1": "=A1"},
        {"A1": "=A1+GAS_TWICE(1)"},
        {"A1": "=GAS_TWICE(A1)"},
        {"A1": "=B1", "B1": "=C1", "C1": "=GAS_TWICE(A1)"},
        {"A1": "=SUM(A1:A9)"},
        {"A1": "=GAS_TOTAL(A1:B9)"},
        {"A1": '=IF(TRUE,INDIRECT("A1"),0)'},
        {f"A{n}": f"=A{n % 500 + 1}+1" for n in range(1, 501)},
    ],
)
def test_cyclic_formulas(tmp_path: Path, formulas: dict[str, str]) -> None:
    refused(build(tmp_path / "book.xlsx", formulas), "circular reference", "cyclic formulas")


def test_names_that_refer_to_themselves(tmp_path: Path) -> None:
    path = named(tmp_path / "book.xlsx", {"one": "=two", "two": "=one"}, "=one")
    refused(path, "refers to itself", "cyclic formulas")


def test_long_chains(tmp_path: Path) -> None:
    """Each cell takes the one below: the order that hurts an evaluation by recursion."""
    last = 20_001
    chain = {f"A{n}": f"=A{n + 1}+1" for n in range(1, last)}
    ours = {f"B{n}": f"=GAS_ADD(B{n + 1},1)" for n in range(1, last)}
    path = build(tmp_path / "book.xlsx", {**chain, **ours, f"A{last}": 0, f"B{last}": 0})
    assert outcome(path) == ""
    found = values(path)
    assert (found["A1"], found["B1"]) == (last - 1, last - 1)
    tried(KIND, "chains of 20,000 formulas", 2)


def test_texts_of_the_greatest_length(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": "x" * 32_767, "B1": '=A1&""', "C1": "=LEN(A1)"})
    assert outcome(path) == ""
    assert values(path)["B1"] == "x" * 32_767
    assert values(path)["C1"] == 32_767
    tried(KIND, "texts of 32,767 characters and more")
    path = build(tmp_path / "book.xlsx", {"A1": "x" * 32_767, "B1": '=A1&"y"'})
    refused(path, "B1: its text is longer", "texts of 32,767 characters and more")
    path = build(tmp_path / "book.xlsx", {"A1": "x" * 32_767, "B1": "=GAS_SEEN(A1)"})
    assert outcome(path) == ""
    assert values(path)["B1"] == "#VALUE!"
    tried(KIND, "texts of 32,767 characters and more")


def nested(head: str, tail: str, depth: int, inside: str) -> str:
    return f"={head * depth}{inside}{tail * depth}"


@pytest.mark.parametrize("depth", [64, 100])
@pytest.mark.parametrize(
    ("head", "tail", "inside", "value"),
    [
        ("IF(1,", ")", "GAS_TWICE(4)", 8),
        ("ABS(", ")", "-3", 3),
        ("(", ")", "GAS_TWICE(4)+1", 9),
        ("GAS_ADD(1,", ")", "1", None),
        ("-", "", "A2", None),
    ],
)
def test_deeply_nested(
    tmp_path: Path, head: str, tail: str, inside: str, value: float | None, depth: int
) -> None:
    path = build(tmp_path / "book.xlsx", {"A1": nested(head, tail, depth, inside), "A2": 1})
    assert outcome(path) == ""
    expected = value if value is not None else {"-": 1, "GAS_ADD(1,": 1 + depth}[head]
    assert values(path)["A1"] == expected
    tried(KIND, "formulas nested 64 and 100 deep")


@pytest.mark.parametrize(
    "formula",
    [
        nested("(", ")", 4000, "1"),
        nested("-", "", 8000, "1"),
        nested("ABS(", ")", 2000, "1"),
        "=" + "+".join(["A2"] * 2000),
        "=" + "1+" * 5000 + "1",
        "=" + "[" * 8000,
        "=" + "a" * 8000,
        "=" + "a" * 100_000,
        "=" + '"' * 8001,
        "=" + "'" * 8001,
        "=" + "{" * 8000,
        "=" + "A1:" * 2000,
        "=" + "A1 " * 2000,
        "=T[" + "'" * 8000,
        "=FACT(1E300)*" + "(" * 100,
    ],
    ids=lambda formula: f"{formula[:8]} {len(formula)}",
)  # fmt: skip
def test_formulas_without_end(tmp_path: Path, formula: str) -> None:
    path = build(tmp_path / "book.xlsx", {})
    text = f'<row r="1"><c r="A1"><f>{formula[1:]}</f></c></row>'
    with_cells(path, text)
    refused(path, r"A1: ", "formulas without end")


def test_a_factorial_without_end(tmp_path: Path) -> None:
    cells = {"A1": 1e15, "B1": "=FACT(A1)", "B2": "=FACT(1E300)", "B3": "=FACT(170)"}
    path = build(tmp_path / "book.xlsx", {**cells, "B4": '=FACT("a")', "B5": "=FACT(A9)"})
    assert outcome(path) == ""
    found = values(path)
    assert [found[f"B{n}"] for n in (1, 2, 4, 5)] == ["#NUM!", "#NUM!", "#VALUE!", 1]
    assert found["B3"] == pytest.approx(7.257415615307994e306)
    tried(KIND, "formulas without end", 2)


# Other kinds of files.


def test_halves_of_a_character(tmp_path: Path) -> None:
    path = with_cells(
        tmp_path / "book.xlsx",
        row('<c r="A1" t="str"><v>_xD800_</v></c><c r="B1"><f>GAS_SEEN(A1)</f></c>'),
    )
    assert outcome(path) == ""
    tried(KIND, "absurd cells, areas and values")


def test_strict_files_are_refused(book: Path) -> None:
    plain, strict = package_module.MAIN, "http://purl.oclc.org/ooxml/spreadsheetml/main"
    rewrite(book, {WORKBOOK: lambda text: text.replace(plain, strict)})
    refused(book, "Strict", "strict Open XML")


@pytest.mark.parametrize("function", ["YEAR(A1)", "DATE(2026,1,1)", 'TEXT(A1,"yyyy")', "TODAY()"])
def test_1904_dates(tmp_path: Path, function: str) -> None:
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path, {"date_1904": True}) as workbook:
        workbook.add_worksheet("Main").write("B1", f"={function}")
    found = outcome(path)
    assert "1904" in found or function == "TODAY()"
    tried(KIND, "dates from 1904")


def test_macros_are_kept_byte_for_byte(tmp_path: Path) -> None:
    path = build(tmp_path / "book.xlsm", {"A1": "=GAS_TWICE(2)"})
    macros = random.Random(SEED).randbytes(50_000)
    rewrite(path, {"xl/vbaProject.bin": macros, "xl/activeX/activeX1.bin": macros[::-1]})
    assert outcome(path) == ""
    assert parts(path)["xl/vbaProject.bin"] == macros
    assert values(path)["A1"] == 4
    tried(KIND, "macros kept byte for byte", 2)


def test_encrypted_files_are_refused(tmp_path: Path, book: Path) -> None:
    encrypted = tmp_path / "encrypted.xlsx"
    encrypted.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + random.Random(SEED).randbytes(4096))
    refused(encrypted, "encrypted", "encrypted")
    data = bytearray(book.read_bytes())
    for mark, flags in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        at = data.find(mark)
        while at >= 0:
            data[at + flags] |= 1
            at = data.find(mark, at + 4)
    book.write_bytes(data)
    refused(book, "encrypted", "encrypted")


def test_things_that_are_no_files(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.xlsx"
    if hasattr(os, "mkfifo"):
        os.mkfifo(pipe)
    for path in (pipe, tmp_path, tmp_path / "none.xlsx", Path(os.devnull)):
        with pytest.raises(WorkbookError, match="no file"):
            recalculate(path)
        tried(KIND, "things that are no files")


@pytest.mark.parametrize("trick", ["zip64", "stored", "prefix", "descriptor", "upwards", "folders"])
def test_other_ways_to_pack(book: Path, trick: str) -> None:
    old = parts(book)
    with book.open("wb") as file:
        if trick == "prefix":
            file.write(b"#!/bin/sh\n" * 40)
        out: Any = Unseekable(file) if trick == "descriptor" else file
        method = zipfile.ZIP_STORED if trick == "stored" else zipfile.ZIP_DEFLATED
        with zipfile.ZipFile(out, "w", method) as archive:
            for name, data in old.items():
                with archive.open(name, "w", force_zip64=trick == "zip64") as part:
                    part.write(data)
            if trick == "upwards":
                archive.writestr("../../outside", b"out")
                archive.writestr("/etc/outside", b"out")
            if trick == "folders":
                archive.mkdir("xl/media")
    assert outcome(book) == ""
    assert is_right(book)
    with zipfile.ZipFile(book) as archive:
        assert archive.testzip() is None
    tried(KIND, "other ways to pack")


class Unseekable:
    """A file as a pipe is one: sizes then stand behind each part."""

    def __init__(self, file: Any) -> None:
        self.write, self.flush = file.write, file.flush


# Other people's workbooks.


def other_workbooks() -> Iterator[Path]:
    ours = {f"{name}.xlsx" for name in titles()}  # where an editable installation puts them
    folders = [sysconfig.get_path("purelib"), "/usr/share", "/usr/lib", os.environ.get(OTHERS, "")]
    for folder in filter(None, folders):
        for root, _, names in os.walk(folder):
            for name in names:
                kind = name.endswith((".xlsx", ".xlsm")) and not name.startswith("~$")
                if kind and name not in ours:
                    yield Path(root, name)


def differences(before: Any, after: Any) -> list[str]:
    """Values that another program computed otherwise; of errors any is as good as another."""

    def alike(one: Any, other: Any) -> bool:
        if isinstance(one, float) and isinstance(other, float):
            return one == pytest.approx(other, rel=1e-12, abs=1e-300)
        if isinstance(one, CellError) and isinstance(other, CellError):
            return True
        return bool((one or "") == (other or ""))

    return [
        f"{sheet}!{place}: {before[sheet].get(place)!r} became {after[sheet].get(place)!r}"
        for sheet in before
        for place in {*before[sheet], *after[sheet]}
        if not alike(before[sheet].get(place), after[sheet].get(place))
    ]


def test_other_peoples_workbooks(tmp_path: Path) -> None:
    """What Excel and LibreOffice stored in them is what they must come to."""
    found = sorted(set(other_workbooks()))
    wrong: list[str] = []
    for number, original in enumerate(found):
        path = tmp_path / f"{number}{original.suffix}"
        shutil.copyfile(original, path)
        try:
            stored = read_values(original)
        except WorkbookError:
            stored = {}
        refusal = outcome(path, ours={})
        if not stored:
            tried(KIND, "other people's workbooks refused by name")
            continue
        found_wrong = differences(stored, read_values(path))
        wrong += [f"{original.name} {difference}" for difference in found_wrong]
        what = "in part, the rest kept" if refusal else "as they were stored"
        tried(KIND, f"other people's workbooks computed {what}")
    assert not wrong
    if not found:
        pytest.skip(f"no other people's workbooks here; {OTHERS} may name a folder of them")


def test_a_match_that_was_found_wrong(tmp_path: Path) -> None:
    """Upwards values sought downwards: Excel's own help says #N/A, the engine gave a place."""
    cells = {"A1": 25, "A2": 28, "A3": 40, "A4": 41, "B1": "=MATCH(40,A1:A4,-1)"}
    refused(build(tmp_path / "book.xlsx", cells), "B1: MATCH", "functions found wrong")
