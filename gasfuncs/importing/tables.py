"""Files as tables: CSV, .xlsx and Parquet, each row with the line it stood on."""

from __future__ import annotations

import csv
import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from gasfuncs.importing.errors import ImportingError

DELIMITERS = ",;\t|"
ENCODINGS = ("utf-8-sig", "utf-16", "cp1252")
_SAMPLE = 64 * 1024
_MOST_LINES_ABOVE = 40
_SIGNATURES = {b"%PDF": "a PDF", b"\xd0\xcf\x11\xe0": "an old .xls file", b"\x89PNG": "a picture"}


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the table stands in its file; None where the file itself shows it."""

    delimiter: str | None = None
    encoding: str | None = None
    sheet: str | None = None
    header_line: int | None = None
    decimal: str = "."


@dataclass(slots=True)
class Table:
    """Rows of a file: `frame` has a column a heading, `lines` the line of each row in the file.

    `left_out` has the lines that are no rows, with the reason.
    """

    frame: pd.DataFrame
    lines: pd.Series
    layout: Layout
    left_out: list[tuple[int, str]] = field(default_factory=list)


def read_table(path: Path, layout: Layout, texts: Sequence[str] = ()) -> Table:
    """The table of a file; the columns `texts` stay text ("01" is a name). ImportingError."""
    if not path.is_file():
        raise ImportingError(f"{path} is no file that can be read")
    with path.open("rb") as file:
        start = file.read(8)
    for signature, what in _SIGNATURES.items():
        if start.startswith(signature):
            raise ImportingError(f"{path} is {what}; export it as CSV, .xlsx or Parquet")
    if start.startswith(b"PAR1"):
        return _read_parquet(path, layout)
    if start.startswith(b"PK"):
        return _read_sheet(path, layout)
    return _read_csv(path, layout, texts)


def read_sample(path: Path, layout: Layout, rows: int = 300) -> Table:
    """The first rows of a file; those of a CSV file all as text, as they were typed."""
    if _is_text(path):
        layout = _seen_in(path, layout)
        headings = _csv_headings(path, layout)
        with path.open(encoding=layout.encoding, errors="replace", newline="") as file:
            lines = list(itertools.islice(file, (layout.header_line or 1) + rows))
        cells = csv.reader(lines[layout.header_line or 1 :], delimiter=layout.delimiter or ",")
        same = [row for row in cells if len(row) == len(headings)]
        frame = pd.DataFrame(same, columns=headings).astype("string").replace("", pd.NA)
        return Table(frame, pd.Series(range(len(frame))), layout)
    table = read_table(path, layout)
    return Table(table.frame.head(rows), table.lines.head(rows), table.layout)


def _is_text(path: Path) -> bool:
    if not path.is_file():
        raise ImportingError(f"{path} is no file that can be read")
    with path.open("rb") as file:
        return not file.read(4).startswith((b"PAR1", b"PK", *_SIGNATURES))


def _read_parquet(path: Path, layout: Layout) -> Table:
    try:
        frame = pd.read_parquet(path)
    except (OSError, ValueError) as error:
        raise ImportingError(f"{path} cannot be read as Parquet ({error})") from None
    frame.columns = frame.columns.astype(str)
    frame = frame.reset_index(drop=True)
    return Table(frame, pd.Series(np.arange(1, len(frame) + 1)), layout)


def _read_sheet(path: Path, layout: Layout) -> Table:
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        book = CalamineWorkbook.from_path(str(path))
        name = layout.sheet or book.sheet_names[0]
        if name not in book.sheet_names:
            raise ImportingError(
                f'{path} has no sheet "{name}"; it has {", ".join(book.sheet_names)}'
            )
        rows = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
    except CalamineError as error:
        raise ImportingError(f"{path} cannot be read as a workbook ({error})") from None
    header = _header_line([[str(cell) for cell in row] for row in rows], layout)
    headings = _headings([str(cell) for cell in rows[header - 1]])
    frame = pd.DataFrame(rows[header:], columns=headings).replace("", None)
    lines = pd.Series(np.arange(header + 1, header + 1 + len(frame)))
    return _without_blanks(Table(frame, lines, layout))


def _without_blanks(table: Table) -> Table:
    blank = table.frame.isna().all(axis=1)
    kept = table.frame[~blank].reset_index(drop=True).infer_objects()
    left_out = [(int(line), "is empty") for line in table.lines[blank]]
    lines = table.lines[~blank].reset_index(drop=True)
    return Table(kept, lines, table.layout, sorted([*table.left_out, *left_out]))


def _read_csv(path: Path, layout: Layout, texts: Sequence[str]) -> Table:
    layout = _seen_in(path, layout)
    from pyarrow import ArrowException, string, types
    from pyarrow import csv as arrow

    headings = _csv_headings(path, layout)
    wrong: list[tuple[int, str]] = []

    def leave_out(row: Any) -> str:
        wrong.append(
            (row.number, f"has {row.actual_columns} cells under {row.expected_columns} headings")
        )
        return "skip"

    header = layout.header_line or 1
    try:
        found = arrow.read_csv(
            path,
            arrow.ReadOptions(
                use_threads=False, encoding=layout.encoding, column_names=headings, skip_rows=header
            ),
            arrow.ParseOptions(
                delimiter=layout.delimiter,
                newlines_in_values=False,
                ignore_empty_lines=False,
                invalid_row_handler=leave_out,
            ),
            arrow.ConvertOptions(
                null_values=[""],
                true_values=[],
                false_values=[],
                strings_can_be_null=True,
                decimal_point=layout.decimal,
                column_types=dict.fromkeys(texts, string()),
            ),
        )
    except (ArrowException, UnicodeError) as error:
        if "invalid UTF8" in str(error):
            raise _other_encoding(path, layout) from None
        raise ImportingError(f"{path} cannot be read as CSV ({_first_line(error)})") from None
    if any(types.is_binary(kind) for kind in found.schema.types):
        raise _other_encoding(path, layout)
    frame = found.to_pandas()
    every = np.arange(header + 1, header + 1 + len(frame) + len(wrong))
    lines = pd.Series(np.setdiff1d(every, [line for line, _ in wrong], assume_unique=True))
    return _without_blanks(Table(frame, lines, layout, wrong))


def _other_encoding(path: Path, layout: Layout) -> ImportingError:
    return ImportingError(
        f"{path} is not written in {layout.encoding}; say its encoding in the mapping, under "
        '[file]: encoding = "cp1252"'
    )


def _first_line(error: Exception) -> str:
    return str(error).splitlines()[0]


def _seen_in(path: Path, layout: Layout) -> Layout:
    """The layout with what the file's beginning shows."""
    with path.open("rb") as file:
        start = file.read(_SAMPLE)
    encoding = layout.encoding or _encoding_of(start)
    try:
        text = start.decode(encoding, errors="ignore" if layout.encoding else "replace")
    except LookupError:
        raise ImportingError(f'"{encoding}" is no encoding; it may be utf-8 or cp1252') from None
    if "\x00" in text:
        raise ImportingError(f"{path} is neither text nor a workbook nor Parquet")
    lines = text.splitlines()[: _MOST_LINES_ABOVE + 10]
    delimiter = layout.delimiter or _delimiter_of(lines)
    rows = list(csv.reader(lines, delimiter=delimiter))
    header = _header_line(rows, layout)
    return Layout(delimiter, encoding, layout.sheet, header, layout.decimal)


def _encoding_of(start: bytes) -> str:
    if start.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16"
    try:
        start[: len(start) - 4].decode("utf-8")
    except UnicodeDecodeError as error:
        if error.start < len(start) - 8:
            return "cp1252"
    return "utf-8"


def _delimiter_of(lines: list[str]) -> str:
    """The mark that most lines have the same number of, at least one."""
    best, score = ",", 0
    for mark in DELIMITERS:
        counts = [line.count(mark) for line in lines if line.strip()]
        common = max(set(counts) - {0}, key=counts.count, default=0)
        if counts.count(common) * bool(common) > score:
            best, score = mark, counts.count(common)
    return best


def _header_line(rows: list[list[str]], layout: Layout) -> int:
    """The first line that is all text and about as long as the longest."""
    if layout.header_line:
        return layout.header_line
    widest = max((_filled(row) for row in rows[:_MOST_LINES_ABOVE]), default=0)
    if not widest:
        raise ImportingError("the file is empty")
    for number, row in enumerate(rows[:_MOST_LINES_ABOVE], start=1):
        words = [cell for cell in row if re.search(r"[^\W\d]", cell)]
        if _filled(row) >= max(1, widest - 1) and len(words) == _filled(row):
            return number
    raise ImportingError("no line of headings was found; say header_line in the mapping")


def _filled(row: list[str]) -> int:
    return sum(bool(cell.strip()) for cell in row)


def _csv_headings(path: Path, layout: Layout) -> list[str]:
    with path.open(encoding=layout.encoding, errors="replace", newline="") as file:
        for _ in range((layout.header_line or 1) - 1):
            file.readline()
        row = next(csv.reader(file, delimiter=layout.delimiter or ","), [])
    return _headings(row)


def _headings(row: list[str]) -> list[str]:
    """Headings as columns' names; a blank one is told by its place, a second one by a number."""
    names: list[str] = []
    for place, cell in enumerate(row, start=1):
        name = cell.strip().lstrip("\ufeff") or f"column {place}"
        same = sum(known == name or known.startswith(f"{name} (") for known in names)
        names.append(f"{name} ({same + 1})" if same else name)
    return names
