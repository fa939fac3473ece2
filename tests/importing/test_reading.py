"""Files as plants have them: found out, asked about, read, and every line accounted for."""

# ruff: noqa: E402 - what needs the extra is imported after the skip

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

for module in ("pandas", "pyarrow", "python_calamine", "tomlkit"):
    pytest.importorskip(module, reason="needs the extra: gasfuncs[import]")

import openpyxl
import pandas as pd

from gasfuncs.importing import ImportingError
from gasfuncs.importing.guessing import guess_mapping, questions
from gasfuncs.importing.mapping import Column, Mapping, read_mapping, write_mapping
from gasfuncs.importing.readings import note_gaps, note_stuck, read_readings
from gasfuncs.importing.roles import roles_of
from gasfuncs.importing.tables import Layout, read_sample, read_table

UNTIDY = """\
Tank farm export;;;
made 01.11.2026;;;
Zeit;Niveau level [%];Tank pressure [bar(g)];No
05.10.2026 06:00;55,5;12,1;01
;;;
05.10.2026 07:00;x;12,1;02
05.10.2026 07:00;54,9;12,1;03
05.10.2026 09:00;53,9;12,1;05
05.10.2026 08:00;54,4;12,1;04
05.10.2026 08:00;54,4;12,1;04
05.10.2026 09:00;12,0;12,1;06
05.10.2026 10:00;53,2;-2,5;07
05.10.2026 11:00;53,0;12,1;08;?
05.10.2026 12:00;52,8;;09
"""
TANK = {
    "time": Column("Zeit"),
    "level": Column("Niveau level [%]", "%"),
    "pressure": Column("Tank pressure [bar(g)]", "bar(g)"),
}


def file_of(folder: Path, text: str, encoding: str = "cp1252", name: str = "x.csv") -> Path:
    path = folder / name
    path.write_bytes(text.encode(encoding))
    return path


def test_every_line_is_kept_or_has_its_reason(tmp_path: Path) -> None:
    path = file_of(tmp_path, UNTIDY)
    found = read_readings(path, Mapping("tank", TANK, Layout(decimal=",")))
    assert found.lines.tolist() == [4, 7, 9, 8, 14]
    assert found.frame["level"].tolist() == pytest.approx([0.555, 0.549, 0.544, 0.539, 0.528])
    assert found.frame["pressure"].iloc[0] == pytest.approx(13.11325e5)
    assert pd.isna(found.frame["pressure"].iloc[-1])
    assert found.left_out == [
        (5, "is empty"),
        (6, 'level: "x" is no number'),
        (10, "repeats line 9"),
        (11, "is of the same time as line 8, with another value; the first is kept"),
        (12, "pressure: is below absolute vacuum"),
        (13, "has 5 cells under 4 headings"),
    ]
    assert found.read == 11
    assert found.notes == ["the file steps back in time 1 times; it was sorted"]


def test_the_file_shows_its_delimiter_encoding_and_headings(tmp_path: Path) -> None:
    path = file_of(tmp_path, UNTIDY.replace("Niveau", "Füllstand"))
    layout = read_sample(path, Layout()).layout
    assert (layout.delimiter, layout.encoding, layout.header_line) == (";", "cp1252", 3)
    assert "Füllstand level [%]" in read_table(path, layout).frame


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_encodings_and_delimiters(tmp_path: Path, encoding: str, delimiter: str) -> None:
    text = "time|level (°)|name\n2026-10-05 06:00|1.5|01\n2026-10-05 07:00|1.5|02\n"
    path = file_of(tmp_path, text.replace("|", delimiter), encoding)
    table = read_table(path, Layout(), ["name"])
    assert list(table.frame) == ["time", "level (°)", "name"]
    assert table.frame["name"].tolist() == ["01", "02"]
    assert table.lines.tolist() == [2, 3]


def test_a_sheet_and_parquet_say_the_same_as_csv(tmp_path: Path) -> None:
    path = file_of(tmp_path, UNTIDY)
    mapping = Mapping("tank", TANK, Layout(decimal=","))
    expected = read_readings(path, mapping)
    table = read_table(path, Layout(decimal=","), ["No"])
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Tank farm export"])
    sheet.append([])
    sheet.append(list(table.frame))
    for row in table.frame.astype(object).where(table.frame.notna(), None).to_numpy().tolist():
        sheet.append(row)
    book.save(tmp_path / "x.xlsx")
    table.frame.to_parquet(tmp_path / "x.parquet")
    for name in ("x.xlsx", "x.parquet"):
        found = read_readings(tmp_path / name, mapping)
        same = found.frame.reset_index(drop=True)
        pd.testing.assert_frame_equal(same, expected.frame.reset_index(drop=True))


@pytest.mark.parametrize(
    ("kind", "heading", "role", "unit"),
    [
        ("tank", "LI-101 Level (L(liq))", "level", "L(liq)"),
        ("tank", "Level kg", "level", "kg"),
        ("tank", "Pressure bar(a)", "pressure", "bar(a)"),
        ("tank", "Tank pressure [psig]", "pressure", "psig"),
        ("tank", "Differential pressure (inH2O)", "dp", "inH2O"),
        ("cycles", "Furnace", "furnace", ""),
        ("cycles", "Gas used [Nm3]", "measured_use", "Nm3"),
        ("rise", "Pressure (micron)", "pressure", "micron"),
        ("dewpoint", "Dew point degC", "dew_point", "degC"),
        ("tickets", "Net quantity (kg)", "amount", "kg"),
        ("purge", "O2 [ppm]", "reading", "ppm"),
    ],
)
def test_a_telling_heading_is_found(kind: str, heading: str, role: str, unit: str) -> None:
    others = {"Timestamp": "2026-10-05 06:00", "Furnace": "VF1", "Cycle": "1", "Amount (kg)": "2",
              "Dew point (°C)": "-60", "Pressure (mbar(a))": "1"}  # fmt: skip
    others = {k: v for k, v in others.items() if k.split()[0] != heading.split(maxsplit=1)[0]}
    frame = pd.DataFrame([{**others, heading: "5"}], dtype="string")
    table = read_table_of(frame)
    if kind == "tickets":
        table.frame = table.frame.drop(columns="Amount (kg)")
    assert guess_mapping(kind, table).mapping.columns[role] == Column(heading, unit)


def read_table_of(frame: pd.DataFrame) -> Any:
    from gasfuncs.importing.tables import Table

    return Table(frame, pd.Series(range(len(frame))), Layout())


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("time,pressure (bar)\n2026-10-05,12\n", "write bar(a) or bar(g)"),
        ("time,pressure (kPa)\n2026-10-05,1200\n", "kPa is gauge or absolute?"),
        ("time,level\n2026-10-05,12\n", "its unit is not told; it may be L(liq)"),
        ("time,level (furlong)\n2026-10-05,12\n", '"furlong" is not its unit'),
        ("time;level (kg)\n2026-10-05;1,500\n2026-10-06;1,400\n", "one and a half"),
        ("time (min),level (kg)\n10,1500\n", "counts from a start (min), where dates and times"),
        ("elapsed time,level (kg)\n10,1500\n", "counts from a start (?), where dates and times"),
        ("time,level (kg)\n05/10/2026 06:00,1500\n", "which comes first in 05/10?"),
        ("time,level (kg)\n2026-10-05T06:00Z,1500\n", "where is the plant?"),
        ("time,level (kg)\n1759658400,1500\n", "where is the plant?"),
        ("Zeit,level (kg)\n2026-10-05,1500\n", "columns.time: which column has it?"),
    ],
)
def test_what_could_be_wrong_is_asked(tmp_path: Path, text: str, question: str) -> None:
    path = file_of(tmp_path, text)
    guess = guess_mapping("tank", read_sample(path, Layout()))
    assert question in "; ".join(guess.questions)
    with pytest.raises(ImportingError):
        read_readings(path, guess.mapping)


def test_a_file_of_something_else_is_told_as_that(tmp_path: Path) -> None:
    path = file_of(tmp_path, "name,telephone\nA,1\n")
    with pytest.raises(ImportingError, match="no column looks like one of a file of tank; the"):
        guess_mapping("tank", read_sample(path, Layout()))


def test_a_day_above_twelve_tells_the_order(tmp_path: Path) -> None:
    for days, order in (("13/10", "day first"), ("10/13", "month first")):
        path = file_of(tmp_path, f"time,level (kg)\n05/10/2026 06:00,1\n{days}/2026 06:00,2\n")
        assert guess_mapping("tank", read_sample(path, Layout())).mapping.order == order


def test_a_mapping_is_kept_and_read_again(tmp_path: Path) -> None:
    mapping = Mapping(
        "cycles",
        {"start": Column("Start"), "furnace": Column("Ofen"), "vacuum": Column("p", "mbar")},
        Layout(delimiter=";", decimal=","),
        "day first",
        "Europe/Vienna",
        {"recipe": "Temper"},
        {"furnace": {"Ofen 1": "VF1"}},
    )
    write_mapping(mapping, tmp_path / "m.toml")
    assert read_mapping(tmp_path / "m.toml") == mapping
    assert not questions(mapping)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("kind = 'recipes'", '"recipes" is no kind of file; it may be cycles, tank'),
        ("kind = 'tank'\n[columns]\nlevels = 'x'", '"levels" is not known in [columns]'),
        ("kind = 'tank'\ndates = 'mixed'", "dates"),
        ("kind = 'tank'\ntime_zone = 'CEST'", '"CEST" is no time zone'),
        ("kind = 'tank'\n[file]\ndecimal = ';'", "decimal"),
        ("kind = ", "cannot be read as a mapping"),
    ],
)
def test_a_mapping_that_is_none(tmp_path: Path, text: str, sentence: str) -> None:
    (tmp_path / "m.toml").write_text(text)
    with pytest.raises(ImportingError) as refused:
        read_mapping(tmp_path / "m.toml")
    assert sentence in str(refused.value)


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"%PDF-1.7", "is a PDF; export it as CSV"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "is an old .xls file"),
        (b"PK\x03\x04nothing", "cannot be read as a workbook"),
        (b"PAR1nothing", "cannot be read as Parquet"),
        (b"\x00\x01\x02\x03", "is neither text nor a workbook nor Parquet"),
        (b"1;2\n3;4\n", "no line of headings was found"),
        (b"", "the file is empty"),
    ],
)
def test_a_file_of_another_kind(tmp_path: Path, content: bytes, sentence: str) -> None:
    path = tmp_path / "x.csv"
    path.write_bytes(content)
    with pytest.raises(ImportingError, match=sentence):
        read_table(path, Layout())


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(ImportingError, match="is no file that can be read"):
        read_sample(tmp_path / "x.csv", Layout())


@pytest.mark.parametrize(
    ("kind", "told", "role", "value"),
    [
        ("tickets", {"amount": "3000 scf"}, "amount", 3000.0),
        ("tickets", {"amount": "300 kg"}, "amount", 300.0),
        ("cycles", {"loads": "2"}, "loads", 2.0),
        ("dewpoint", {"pressure": "7 bar(a)"}, "pressure", 7e5),
        ("purge", {"time": "2026-10-05 06:00"}, "instant", pd.Timestamp("2026-10-05 06:00")),
    ],
)
def test_what_holds_for_all_rows_is_as_in_a_column(
    tmp_path: Path, kind: str, told: dict[str, str], role: str, value: Any
) -> None:
    path = file_of(tmp_path, "day,name,dew,cycle\n2026-10-05,A,-50,1\n")
    columns = {"start" if kind == "cycles" else "time": Column("day"), "furnace": Column("name"),
               "dew_point": Column("dew", "degC"), "cycle": Column("cycle")}  # fmt: skip
    mine = {name: columns[name] for name in columns if name in roles_of(kind)}
    if "time" in told:
        del mine["time"]
    found = read_readings(path, Mapping(kind, mine, always=told))
    assert found.frame[role].tolist() == [value]


def test_a_count_that_is_none_for_all_rows(tmp_path: Path) -> None:
    path = file_of(tmp_path, "day,name\n2026-10-05,A\n")
    columns = {"start": Column("day"), "furnace": Column("name")}
    with pytest.raises(ImportingError, match=r'always\.loads: "two" is no number'):
        read_readings(path, Mapping("cycles", columns, always={"loads": "two"}))


@pytest.mark.parametrize("always", [{}, {"time": "2026-10-05"}, {"purge": "P-1"}])
def test_cycles_without_a_time_of_day_are_several(tmp_path: Path, always: dict[str, str]) -> None:
    path = file_of(tmp_path, "day,cycle\n2026-10-05,1\n2026-10-05,2\n2026-10-05,2\n")
    columns = {"cycle": Column("cycle")} | ({} if always else {"time": Column("day")})
    found = read_readings(path, Mapping("purge", columns, always=always))
    assert found.frame["cycle"].tolist() == [1, 2]
    assert found.left_out == [(4, "repeats line 3")]


def test_gaps_and_a_stuck_gauge_are_told(tmp_path: Path) -> None:
    hours = pd.date_range("2026-10-01", periods=96, freq="h").delete(slice(70, 80))
    levels = [5000 - 10 * n if n < 30 else 4700 for n in range(len(hours))]
    frame = pd.DataFrame({"time": hours, "level (kg)": levels})
    frame.to_csv(tmp_path / "x.csv", index=False)
    mapping = guess_mapping("tank", read_sample(tmp_path / "x.csv", Layout())).mapping
    found = read_readings(tmp_path / "x.csv", mapping)
    note_gaps(found)
    note_stuck(found, "level")
    assert found.notes[0] == "no reading from 2026-10-03 21:00 to 2026-10-04 08:00"
    assert "level: 56 readings from 2026-10-02 06:00" in found.notes[1]
