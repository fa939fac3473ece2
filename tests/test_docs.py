"""Every command, formula and number that the README and the docs show, done again.

Formulas go through the headless engine in one workbook, as a reader's cells would; answers are
compared to the digits printed. How a page writes them is said in docs/contributing.md.
"""

from __future__ import annotations

import importlib.util
import math
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import openpyxl
import pytest
from click.testing import CliRunner

from gasfuncs.cli import main
from gasfuncs.definition import Definition, Quantity
from gasfuncs.errors import CellError, GasFuncsError
from gasfuncs.hosts import formula as formulas_of
from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.registry import topics, worksheet_functions
from tests.conftest import IN_CI

HOUSE = Path(__file__).parents[1]
DOCS = HOUSE / "docs"
SETTINGS = DOCS / "builder" / "mkdocs.yml"
PAGES = [page for page in (HOUSE / "README.md", *sorted(DOCS.rglob("*.md"))) if page.exists()]
GUIDES = [page for page in PAGES if page.parent.name == "guides" and page.stem != "index"]

ARROW = "→"
LEFT_OUT = "…"
SETUP_PROGRAMS = ("pip", "python", "python3", "py", "git", "cd", ".")
SETUP_COMMANDS = ("install", "doctor")

FENCE = re.compile(r"^( *)```(\w+)\n(.*?)^ *```$", re.MULTILINE | re.DOTALL)
INLINE = re.compile(rf"`(=[^`]+)`(?:\s*{ARROW}\s*`([^`]+)`)?")
CELL = re.compile(r"([A-Z]+\d+): (.*)")
REFERENCE = re.compile(r"\b[A-Z]{1,2}[1-9]\d*\b(?![\"(])")
NUMBER = re.compile(r"[-−]?\d[\d,]*(?:\.\d+)?(?:[eE][-+]?\d+)?")
STANDARD = re.compile(r"\b(?:ISO|IEC|EN|DIN|AMS|CFR|K =) [\d.-]+")


@dataclass(frozen=True)
class Shown:
    """A formula on a page with the answer beside it, None where the page gives none."""

    page: str
    formula: str
    answer: str | None
    cells: tuple[tuple[str, str], ...] = ()
    """The other cells that it needs."""


@dataclass
class Command:
    """A command on a page with the output that the page shows."""

    line: str
    output: list[str] = field(default_factory=list)
    """Lines of it."""
    text: str = ""
    """A stretch of it, wrapped as the page likes."""

    @property
    def words(self) -> list[str]:
        """The program, without the folder it is in, and its arguments."""
        program, *arguments = shlex.split(self.line)
        return [program.rpartition("/")[2], *arguments]


def fences(page: Path, *names: str) -> Iterator[str]:
    yield from (body for _, body in named_fences(page, *names))


def named_fences(page: Path, *names: str) -> Iterator[tuple[str, str]]:
    for indent, name, body in FENCE.findall(page.read_text(encoding="utf-8")):
        if name in names:
            lines = body.splitlines(keepends=True)
            yield name, "".join(line.removeprefix(indent) for line in lines)


def prose(page: Path) -> str:
    return FENCE.sub("", page.read_text(encoding="utf-8"))


def formulas(page: Path) -> Iterator[Shown]:
    name = str(page.relative_to(HOUSE))
    for body in fences(page, "formula"):
        given: list[tuple[str, str | None]] = []
        for line in filter(None, map(str.strip, body.splitlines())):
            if line.startswith(ARROW):
                given[-1] = (given[-1][0], line.removeprefix(ARROW).strip())
            else:
                given.append((line, None))
        yield from (Shown(name, text, answer) for text, answer in given)
    for body in fences(page, "cells"):
        lines = CELL.findall(body)
        values = tuple((at, text) for at, text in lines if not text.startswith("="))
        for _, text in lines:
            if text.startswith("="):
                formula, _, answer = text.partition(ARROW)
                yield Shown(name, formula.strip(), answer.strip() or None, values)
    for text, answer in INLINE.findall(prose(page)):
        yield Shown(name, text, answer or None)


def commands(page: Path) -> list[Command]:
    found: list[Command] = []
    for name, body in named_fences(page, "console", "sh", "bash", "text"):
        if name == "text":
            our_last = [command for command in found if command.words[0] == "gasfuncs"][-1]
            our_last.text = words(body)
            continue
        for line in filter(str.strip, body.splitlines()):
            if name != "console":
                found += map(Command, map(str.strip, line.split("&&")))
            elif line.startswith("$ "):
                found.append(Command(line.removeprefix("$ ")))
            else:
                found[-1].output.append(line)
    return found


def words(line: str) -> str:
    return " ".join(line.split())


SHOWN = list(dict.fromkeys(shown for page in PAGES for shown in formulas(page)))
COMMANDS = [(page, command) for page in PAGES for command in commands(page)]


def cell_value(text: str) -> str | float:
    try:
        return float(text)
    except ValueError:
        return text


@pytest.fixture(scope="module")
def computed(tmp_path_factory: pytest.TempPathFactory) -> dict[Shown, Any]:
    """What the headless engine computes, a sheet for each formula."""
    path = tmp_path_factory.mktemp("docs") / "shown.xlsx"
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for number, shown in enumerate(SHOWN):
        sheet = book.create_sheet(f"S{number}")
        for at, text in shown.cells:
            sheet[at] = cell_value(text)
        sheet["Z99"] = shown.formula
    book.save(path)
    report = recalculate(path)
    assert report.ok, report.problems[:5]
    values = read_values(path)
    return {shown: values[f"S{number}"][99, 26] for number, shown in enumerate(SHOWN)}


def unit_of(formula: str) -> str | None:
    """The unit that a lone call of one of our functions answers in, None where that is not told."""
    calls: list[tuple[Definition, list[Any]]] = []

    def note(function: Definition, arguments: list[Any]) -> Any:
        calls.append((function, arguments))
        return function.cells(*arguments)

    try:
        formulas_of.read_call(formula, note)
    except GasFuncsError:
        return None
    function, arguments = calls[-1]
    if not isinstance(function.result, Quantity):
        return None
    named = dict(zip((p.name for p in function.parameters), arguments, strict=False))
    return replace(function.result, unit=named.get("unit") or function.result.unit).unit_label


def agrees(answer: str, value: float) -> bool:
    """Whether a number is printed right: off by no more than half its last digit."""
    printed = NUMBER.match(answer)
    assert printed, f"{answer} is no number"
    digits = printed[0].replace(",", "").replace("−", "-").lower()
    mantissa, _, power = digits.partition("e")
    half = 0.5 * 10.0 ** (int(power or 0) - len(mantissa.partition(".")[2]))
    return math.isclose(value, float(digits), rel_tol=0, abs_tol=half * (1 + 1e-6))


@pytest.mark.parametrize("shown", SHOWN, ids=lambda s: f"{s.page} {s.formula}")
def test_formula(shown: Shown, computed: dict[Shown, Any]) -> None:
    value, answer = computed[shown], shown.answer
    if answer is None and REFERENCE.search(shown.formula):
        assert value != CellError("#NAME?")
    elif isinstance(value, CellError):
        assert answer == value.code, f"computes {value.code}"
    elif isinstance(value, str):
        assert answer in (None, value)
    elif answer is not None:
        assert agrees(answer, value), f"computes {value:.8g}"
        unit = answer[len(NUMBER.match(answer)[0]) :].strip()  # type: ignore[index]
        assert not unit or unit == unit_of(shown.formula), unit_of(shown.formula)


def appears(shown: str, lines: list[str]) -> bool:
    """Whether a line of the output has the parts shown, in order."""
    parts = [re.escape(words(part)) for part in shown.split(LEFT_OUT)]
    pattern = re.compile(".*".join(parts) if len(parts) > 1 else f"{parts[0]}$")
    return any(pattern.match(words(line)) for line in lines)


def is_setup(command: Command) -> bool:
    program, *rest = command.words
    return program in SETUP_PROGRAMS or (program == "gasfuncs" and rest[0] in SETUP_COMMANDS)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Any]]:
    """A folder to run commands in, and what each has printed; none is run twice."""
    return tmp_path_factory.mktemp("commands"), {}


@pytest.mark.parametrize(
    ("page", "command"), COMMANDS, ids=[f"{p.relative_to(HOUSE)} {c.line}" for p, c in COMMANDS]
)
def test_command(
    page: Path, command: Command, desk: tuple[Path, dict[str, Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    program, *arguments = command.words
    if is_setup(command):
        assert program != "gasfuncs" or arguments[0] in main.commands
        return
    assert program == "gasfuncs", f"{page.name} shows {program}, which is no command of ours"
    folder, printed = desk
    line = shlex.join(command.words)
    if line not in printed:
        monkeypatch.chdir(folder)
        printed[line] = CliRunner().invoke(main, arguments)
    done = printed[line]
    assert done.exit_code == 0, done.output
    lines = done.stdout.splitlines()
    for line in command.output:
        assert appears(line, lines), f"{line!r} is not in:\n{done.stdout}"
    assert command.text in words(done.stdout)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(HOUSE)))
def test_a_command_named_in_a_line_exists_with_its_options(page: Path) -> None:
    for line in re.findall(r"`gasfuncs\s([^`]+)`|^ {4,}gasfuncs (.+)$", prose(page), re.MULTILINE):
        name, *arguments = shlex.split("".join(line))
        assert name in main.commands, f"gasfuncs {name}"
        known = {option for parameter in main.commands[name].params for option in parameter.opts}
        unknown = {each for each in arguments if each.startswith("-")} - known
        assert not unknown, f"gasfuncs {name} has no {unknown}"


@pytest.mark.parametrize("page", GUIDES, ids=lambda page: page.stem)
def test_numbers_in_the_text_of_a_guide_come_from_its_formulas(page: Path) -> None:
    found = " ".join(f"{shown.formula} {shown.answer or ''}" for shown in formulas(page))
    known = {abs(number) for number in numbers(found)}
    known |= {100 * number for number in known} | {number / 100 for number in known}
    text = re.sub(r"`[^`]*`|\]\([^)]*\)|^\s*#.*$|^\d+\. ", "", prose(page), flags=re.MULTILINE)
    for number in numbers(STANDARD.sub("", text)):
        assert any(math.isclose(abs(number), each, rel_tol=1e-9) for each in known), number


def numbers(text: str) -> Iterator[float]:
    for found in NUMBER.findall(text):
        yield float(found.replace(",", "").replace("−", "-").rstrip("."))


@pytest.mark.parametrize("page", GUIDES, ids=lambda page: page.stem)
def test_a_guide_has_formulas_a_picture_and_a_decision(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    assert list(fences(page, "formula"))
    assert list(fences(page, "equation"))
    assert text.count("!!! decision") == 1
    assert re.search(r"!\[.+\]\(\.\./pictures/\w+-\w+\.png\)", text)


def test_setting_an_equation_loses_no_letter() -> None:
    found = importlib.util.spec_from_file_location("setter", DOCS / "builder" / "mathematics.py")
    assert found
    assert found.loader
    setter = importlib.util.module_from_spec(found)
    found.loader.exec_module(setter)
    scripts = str.maketrans("₀₁₂₃₄₅₆₇₈₉⁰¹²³⁴⁵⁶⁷⁸⁹ⁿ", "01234567890123456789n", "_⁻")
    for definition in worksheet_functions().values():
        page = ElementTree.fromstring(setter.equation_html(definition.equation))
        plain = re.sub(r"[\W_]", "", definition.equation.translate(scripts))
        assert re.sub(r"[\W_]", "", "".join(page.itertext())) == plain, definition.name


def test_every_topic_has_its_line_in_the_reference() -> None:
    source = (DOCS / "builder" / "reference.py").read_text(encoding="utf-8")
    assert [topic for topic in topics() if f'    "{topic}": ' not in source] == []


def test_python_blocks_run() -> None:
    for page in PAGES:
        names: dict[str, Any] = {}
        for body in fences(page, "python"):
            exec(compile(body, str(page), "exec"), names)


def test_site_builds_without_a_warning(tmp_path: Path) -> None:
    if importlib.util.find_spec("material") is None and not IN_CI:
        pytest.skip("needs mkdocs-material")
    done = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--strict", "-f", SETTINGS, "-d", tmp_path],
        capture_output=True, text=True, timeout=600, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    for page in tmp_path.rglob("*.html"):
        sources = re.findall(
            r"""<(?:script|link|img|iframe)\b[^>]*?(?:src|href)=["']?(https?:[^"'\s>]+)""",
            page.read_text(encoding="utf-8"),
        )
        assert not sources, f"{page.name} loads {sources}"
