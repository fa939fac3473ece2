"""Nothing in a workbook can make the tools run code, read another file or reach the network."""

from __future__ import annotations

import ast
import json
import os
import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import gasfuncs
from tests.hostile.counts import tried

KIND = "secrets and safety"
PACKAGE = Path(gasfuncs.__file__).parent
HOUSE = Path(__file__).parents[2]
SOURCES = sorted(PACKAGE.rglob("*.py"))

STARTERS = {
    "hosts/calc/office.py", "hosts/calc/component/pythonpath/gasfuncs_pipe.py",
    "hosts/excel/setup.py",
}  # fmt: skip
"""Install and start what the user asked for; no text of a cell gets there but over a pipe."""

COLLECTS = {"registry.py"}
"""Imports the modules that lie in the package itself."""

BUILT_IN = {"eval", "exec", "compile", "__import__", "breakpoint", "input"}
OF_OS = re.compile(r"system|popen|startfile|(exec|spawn|posix_spawn|fork).*")
MODULES = {
    "asyncio", "code", "codeop", "ctypes", "dill", "ftplib", "http", "httpx", "imaplib", "jinja2",
    "marshal", "nntplib", "pickle", "poplib", "pty", "requests", "runpy", "shelve", "smtplib",
    "socket", "socketserver", "ssl", "telnetlib", "urllib", "urllib3", "webbrowser", "xmlrpc",
    "yaml",
}  # fmt: skip


def suspicious(tree: ast.AST) -> Iterator[str]:
    """What could run text as code, or reach beyond the machine."""
    for node in ast.walk(tree):
        match node:
            case ast.Name(name) if name in BUILT_IN:
                yield name
            case ast.Attribute(ast.Name("os"), name) if OF_OS.fullmatch(name):
                yield f"os.{name}"
            case ast.Attribute(ast.Name("builtins"), name):
                yield f"builtins.{name}"
            case ast.keyword("shell", value) if not (
                isinstance(value, ast.Constant) and value.value is False
            ):
                yield "shell="
            case ast.keyword("allow_pickle", value) if not (
                isinstance(value, ast.Constant) and value.value is False
            ):
                yield "allow_pickle="
            case ast.Import(names):
                yield from (n.name for n in names if n.name.partition(".")[0] in MODULES)
                yield from (n.name for n in names if n.name == "subprocess")
            case ast.ImportFrom(module=str(module)) if module.partition(".")[0] in MODULES:
                yield module
            case ast.ImportFrom(module="subprocess" | "os" as module, names=names):
                yield from (f"{module}.{n.name}" for n in names if module == "subprocess"
                            or OF_OS.fullmatch(n.name))  # fmt: skip
            case ast.Call(ast.Attribute(_, "import_module"), [argument, *_]) if not isinstance(
                argument, ast.Constant
            ):
                yield "import_module of a name worked out"


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_no_text_is_run_as_code(path: Path) -> None:
    name = path.relative_to(PACKAGE).as_posix()
    allowed = {"subprocess"} if name in STARTERS else set()
    allowed |= {"import_module of a name worked out"} if name in COLLECTS else set()
    assert not set(suspicious(ast.parse(path.read_text(encoding="utf-8")))) - allowed
    tried(KIND, "source files without eval, shell, pickle, network")


@pytest.mark.parametrize(
    "line",
    [
        "eval('1')", "exec(x)", "f = eval", "os.system(x)", "os.popen(x)", "os.execv(a, b)",
        "subprocess.run(x, shell=True)", "run(x, shell=y)", "import pickle", "import socket as s",
        "from urllib.request import urlopen", "np.load(f, allow_pickle=True)", "import subprocess",
        "importlib.import_module(name)", "from os import system", "builtins.eval(x)",
    ],
)  # fmt: skip
def test_the_search_finds_what_it_looks_for(line: str) -> None:
    assert list(suspicious(ast.parse(line)))


def test_nothing_reaches_out(tmp_path: Path) -> None:
    """Every file opened, process started and connection made while hostile texts are computed.

    The compiled engine tells Python nothing, so a socket listens for what it might try.
    """
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.settimeout(0.2)
        port = listening.getsockname()[1]
        command = [sys.executable, "-m", "tests.hostile.watched", str(tmp_path), str(port)]
        environment = {**os.environ, "PYTHONPATH": str(HOUSE), "TMPDIR": str(tmp_path)}
        done = subprocess.run(
            command, cwd=tmp_path, env=environment, capture_output=True, text=True, timeout=120,
            check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        with pytest.raises(TimeoutError):
            listening.accept()
    found = json.loads(done.stdout)
    beyond = [event for event in found["events"] if not is_at_home(event, tmp_path)]
    assert not beyond, beyond[:10]
    assert len(found["events"]) > 100, "nothing was watched"
    assert not list(tmp_path.rglob("canary*"))
    for what, count in found["tried"].items():
        tried(KIND, what, count)


AT_HOME = {"os.chmod", "os.chown", "os.listdir", "os.mkdir", "os.remove", "os.rename", "os.rmdir",
           "os.scandir", "os.utime", "os.listxattr", "os.getxattr", "os.setxattr", "open",
           "shutil.rmtree", "shutil.copystat"}  # fmt: skip


def is_at_home(event: list[str], folder: Path) -> bool:
    """Whether an event is about a file of the folder, which holds the workbooks too."""
    name, *arguments = event
    if name == "compile":  # of what is imported late, and of regular expressions: no text of ours
        return arguments[0] == "None" or Path(arguments[1]).suffix == ".py"
    if name in ("import", "exec"):
        return True
    path, more = arguments[0], arguments[1:2]
    in_a_folder_in_hand = "/" not in path and more not in ([], ["-1"]) and name == "os.remove"
    return name in AT_HOME and (
        Path(path).is_relative_to(folder) or path.isdigit() or in_a_folder_in_hand
    )


SECRET = re.compile(
    r"-----BEGIN [A-Z ]*PRIVATE KEY|AKIA[0-9A-Z]{16}|gh[pousr]_[A-Za-z0-9]{30}|xox[abp]-|"
    r"(?:password|passwd|token|api_?key|secret)\s*[=:]\s*[\"'][^\"'\s]{8,}[\"']",
    re.I,
)
MACHINE = re.compile(r"(?<![\w.])/(?:home|root|work|Users)/\w|C:\\\\Users\\\\\w+")


def test_no_secrets_and_no_paths_of_a_machine() -> None:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=HOUSE, capture_output=True, text=True, check=False
    ).stdout.split("\n")
    files = [HOUSE / name for name in listed if name] or SOURCES
    for path in files:
        if path == Path(__file__) or not path.is_file():
            continue
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        assert not SECRET.search(text), path
        assert not MACHINE.search(text), path
        tried(KIND, "files without secrets and paths of a machine")
