"""Calls and recalculates with texts that name files, commands and addresses, and tells what it did.

`python -m tests.hostile.watched FOLDER PORT` prints, as JSON, every file opened, process started
and connection tried, as Python's audit events tell them, and how often each thing was tried.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from contextlib import suppress
from pathlib import Path
from typing import Any

import xlsxwriter

from gasfuncs.errors import GasFuncsError
from gasfuncs.hosts import formula
from gasfuncs.hosts.calc import worker
from gasfuncs.hosts.headless import WorkbookError, recalculate
from gasfuncs.registry import worksheet_functions
from tests.headless.test_writing import rewrite

WATCHED = (
    "open", "socket.", "subprocess.", "os.", "shutil.", "urllib.", "http.", "ftplib.", "ctypes.",
    "exec", "compile", "import", "pty.", "webbrowser.", "code.", "pickle.",
)  # fmt: skip


def texts(port: int) -> list[str]:
    """What somebody might put into a cell to get out of it."""
    return [
        "/etc/passwd",
        "../../../../etc/passwd",
        "file:///etc/passwd",
        f"http://127.0.0.1:{port}/text",
        f"\\\\127.0.0.1@{port}\\share\\file",
        "canary; touch canary",
        "$(touch canary)",
        "`touch canary`",
        "| touch canary",
        "__import__('os').system('touch canary')",
        "open('canary', 'w')",
        "{0.__class__.__mro__}",
        "%(canary)s %n %s",
        "=cmd|'/c touch canary'!A1",
        '=WEBSERVICE("http://127.0.0.1/")',
        "argon'; DROP TABLE gases; --",
        "<script>alert(1)</script>",
        "\x1b]0;title\x07",
        "con",
        "/dev/zero",
    ]


def formulas(port: int) -> list[str]:
    """Formulas that reach out, in the programs that compute them."""
    there = f"http://127.0.0.1:{port}/formula"
    return [
        f'=WEBSERVICE("{there}")',
        f'=_xlfn.WEBSERVICE("{there}")',
        f'=FILTERXML(WEBSERVICE("{there}"),"//a")',
        f'=_xlfn.IMAGE("{there}")',
        f'=HYPERLINK("{there}","text")',
        f'=HYPERLINK("{there}")',
        '=HYPERLINK("file:///etc/passwd")',
        f'=INDIRECT("{there}")',
        "=INDIRECT(\"'[/etc/passwd]x'!A1\")",
        "=INDIRECT(\"'file:///etc/passwd'#$x.A1\")",
        '=INDIRECT(A1&"!A1")',
        "='/etc/[passwd]x'!A1",
        "='file:///etc/[passwd]x'!A1",
        f"='http://127.0.0.1:{port}/[book.xlsx]x'!A1",
        "=[1]Sheet1!A1",
        "=cmd|'/c touch canary'!A1",
        "=cmd|' /c touch canary'!'A1'",
        '=DDE("soffice","/etc/passwd","x")',
        '=RTD("server","","topic")',
        '=CALL("libc","system","JC","touch canary")',
        '=REGISTER.ID("libc","system")',
        '=EXEC("touch canary")',
        '=CELL("filename")',
        '=INFO("directory")',
        "=SQL.REQUEST(\"dsn\",,,\"select 1\")",
        '=EVALUATE("1+1")',
        '=PY("import os")',
        '=_xlfn._xlws.PY(0,1)',
        '=STOCKHISTORY("x",1)',
        '=ENCODEURL("x")',
        '=GETPIVOTDATA("x",A1)',
        "=GAS_DENSITY(WEBSERVICE(\"http://127.0.0.1/\"),1,20)",
        "=GAS_DENSITY('/etc/[passwd]x'!A1,1,20)",
    ]  # fmt: skip


LINK = (
    '<externalLink xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">'
    '{}</externalLink>'
)  # fmt: skip
RELATION = (
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
    'relationships/{}" Target="{}" TargetMode="External"/></Relationships>'
)  # fmt: skip


def with_links(path: Path, port: int) -> None:
    """Parts that tell of other files, commands and queries."""
    there = f"http://127.0.0.1:{port}/link"
    command = '<ddeLink ddeService="cmd" ddeTopic="/c touch canary"/>'
    links = {
        "xl/externalLinks/externalLink1.xml": LINK.format('<externalBook r:id="rId1"/>'),
        "xl/externalLinks/_rels/externalLink1.xml.rels": RELATION.format(
            "externalLinkPath", "file:///etc/passwd"
        ),
        "xl/externalLinks/externalLink2.xml": LINK.format(command),
        "xl/worksheets/_rels/sheet1.xml.rels": RELATION.format("hyperlink", there),
        "xl/_rels/connections.xml.rels": RELATION.format("connections", there),
        "xl/connections.xml": f'<connections><connection odcFile="{there}"/></connections>',
        "customUI/customUI.xml": '<customUI onLoad="touch canary"/>',
    }
    rewrite(path, {part: xml.encode() for part, xml in links.items()})


def book(path: Path, cells: list[str]) -> Path:
    with xlsxwriter.Workbook(path, {"strings_to_urls": False}) as workbook:
        sheet = workbook.add_worksheet("Main")
        for number, cell in enumerate(cells, 1):
            sheet.write(f"B{number}", cell)
    return path


def is_refused(path: Path) -> bool:
    """Whether nothing was computed: the book refused, or a cell that is an error or kept."""
    try:
        report = recalculate(path)
        return bool(report.problems or report.kept or report.errors)
    except WorkbookError:
        return True


def attempt(folder: Path, port: int, tried: Counter[str]) -> None:
    for number, text in enumerate(formulas(port)):
        refused = is_refused(book(folder / f"{number}.xlsx", [text]))
        assert refused or "HYPERLINK" in text, text
        tried["formulas that reach out"] += 1
    path = book(folder / "links.xlsx", ["=1+1"])
    with_links(path, port)
    assert not is_refused(path)
    tried["links to files, commands and addresses in other parts"] += 7
    for name, definition in worksheet_functions().items():
        places = range(max(1, len(definition.parameters)))
        for place in places:
            for text in texts(port):
                values = [1.0] * place + [text]
                definition.cells(*values)
                worker.answer(name, values)
                tried["texts as arguments"] += 2
    for text in texts(port):
        with suppress(GasFuncsError):
            formula.evaluate(text)
        tried["texts as formulas of the command line"] += 1
    quoted = [text.replace('"', '""') for text in texts(port)]
    cells = [f'=GAS_DENSITY("{text}",1,20)' for text in quoted if text.isprintable()]
    is_refused(book(folder / "texts.xlsx", cells))
    tried["texts as arguments in a workbook"] += len(cells)


def main(folder: Path, port: int) -> None:
    """Once to have everything loaded, and once watched."""
    events: list[list[str]] = []
    watching = False

    def watch(event: str, arguments: tuple[Any, ...]) -> None:
        if watching and event.startswith(WATCHED):
            events.append([event, *map(str, arguments[:2])])

    for name in ("loading", "watched"):
        (folder / name).mkdir()
    attempt(folder / "loading", port, Counter())
    sys.addaudithook(watch)
    tried: Counter[str] = Counter()
    watching = True
    attempt(folder / "watched", port, tried)
    watching = False
    sys.stdout.write(json.dumps({"events": events, "tried": tried}))


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
