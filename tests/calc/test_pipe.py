"""The pipe between LibreOffice's Python and ours, without LibreOffice."""

from __future__ import annotations

import ast
import importlib.util
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.hosts.calc import extension
from gasfuncs.registry import worksheet_functions

INSIDE = Path(extension.__file__).parent / "component"
SOURCES = sorted(INSIDE.rglob("*.py"))
LIMIT = 2.0


def _load(path: Path) -> Any:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


pipe = _load(INSIDE / "pythonpath" / "gasfuncs_pipe.py")
WORKER = [sys.executable, "-E", "-P", "-m", "gasfuncs.hosts.calc.worker", f"{LIMIT:g}"]


def one_with(answer: str) -> list[str]:
    """The command of the real worker, its `answer` replaced by a function of this source."""
    code = f"""
import os, subprocess, sys, time
from gasfuncs.hosts.calc import worker
def answer(function, arguments):
    {answer}
worker.answer, worker.load = answer, lambda: None
worker.main()
"""
    return [sys.executable, "-E", "-P", "-c", code, f"{LIMIT:g}"]


Start = Callable[[list[str]], Any]


@pytest.fixture(scope="module")
def running() -> Iterator[Any]:
    """One worker for all who do it no harm: it takes seconds to start."""
    calculator = pipe.Calculator(WORKER, LIMIT)
    yield calculator
    calculator.stop()


@pytest.fixture
def start() -> Iterator[Start]:
    started = []

    def start_one(command: list[str]) -> Any:
        started.append(pipe.Calculator(command, LIMIT))
        return started[-1]

    yield start_one
    for calculator in started:
        calculator.stop()


def density(calculator: Any, pressure: float) -> Any:
    return calculator.ask("GAS_DENSITY", ("argon", pressure, 20.0))


def ends(pid: int, seconds: float) -> bool:
    give_up = time.monotonic() + seconds
    while time.monotonic() < give_up:
        try:
            state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
        except OSError:
            return True
        if state == "Z":
            return True
        time.sleep(0.1)
    return False


def test_answers_are_those_of_python(running: Any) -> None:
    argon = worksheet_functions()["GAS_DENSITY"]
    assert density(running, 2.0) == argon("argon", 2, 20)
    rows = running.ask("GAS_DENSITY", ((("argon",),), ((2.0,), (-1.0,), ("6 bar",)), 20.0))
    assert rows == [[argon("argon", 2, 20)], [{"error": "#NUM!"}], [{"error": "#VALUE!"}]]


def test_a_blank_cell_is_a_blank_where_a_text_is_meant(running: Any) -> None:
    assert running.ask("GAS_DENSITY", ("argon", 2.0, 20.0, 0.0)) == density(running, 2.0)
    checked = running.ask("GAS_CHECK", ("GAS_DENSITY", "argon", 2.0, 20.0, 0.0))
    assert checked == "ok"


def test_an_error_inside_a_range_stays_in_its_row(running: Any) -> None:
    rows = running.ask("GAS_DENSITY", ("argon", ((2.0,), (float("nan"),)), 20.0))
    assert rows == [[density(running, 2.0)], [{"error": "#VALUE!"}]]


def test_a_function_unknown_to_the_library_is_not_available(running: Any) -> None:
    assert running.ask("GAS_NO_SUCH", ()) == {"error": "#N/A"}


def test_what_is_printed_stays_off_the_pipe(start: Start) -> None:
    calculator = start(
        one_with("print('a'); os.write(1, b'b'); subprocess.run(['echo', 'c']); return 1.5")
    )
    assert [calculator.ask("F", ()) for _ in range(3)] == [1.5] * 3


def test_an_answer_that_cannot_be_sent_is_an_error_of_its_own_cell(start: Start) -> None:
    calculator = start(one_with("return object() if function == 'BAD' else 1.5"))
    assert calculator.ask("BAD", ()) == {"error": "#VALUE!"}
    assert calculator.ask("F", ()) == 1.5


def test_the_environment_of_libreoffice_stays_out(
    start: Start, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("PYTHONHOME", "PYTHONPATH", "LD_LIBRARY_PATH", "LD_PRELOAD", "DYLD_LIBRARY_PATH",
                 "PYTHONSTARTUP", "URE_BOOTSTRAP"):  # fmt: skip
        monkeypatch.setenv(name, "/of/libreoffice")
    seen = start(one_with("return [[name] for name in os.environ]")).ask("F", ())
    assert {name for [name] in seen} <= {*pipe.KEPT_VARIABLES, "LC_CTYPE"}


def test_killed_while_a_cell_waits(start: Start) -> None:
    calculator = start(WORKER)
    density(calculator, 1.0)
    process = calculator._process
    process.send_signal(signal.SIGSTOP)
    threading.Timer(0.3, process.kill).start()
    assert density(calculator, 2.0) > 0
    assert calculator._process.pid != process.pid


def test_hung_while_a_cell_waits(start: Start) -> None:
    calculator = start(WORKER)
    density(calculator, 1.0)
    calculator._process.send_signal(signal.SIGSTOP)
    started = time.monotonic()
    with pytest.raises(pipe.CalculatorError, match="no answer within 2 s"):
        density(calculator, 2.0)
    assert time.monotonic() - started < 2 * LIMIT
    assert density(calculator, 3.0) > 0


@pytest.mark.parametrize(
    ("command", "says"),
    [
        (["/no/such/python", "-m", "gasfuncs.hosts.calc.worker"], "No such file"),
        ([sys.executable, "-I", "-S", "-m", "gasfuncs.hosts.calc.worker"], "No module named"),
    ],
)
def test_python_or_the_package_is_gone(start: Start, command: list[str], says: str) -> None:
    calculator = start(command)
    for _ in range(3):
        with pytest.raises(pipe.CalculatorError, match=says) as caught:
            density(calculator, 1.0)
    assert command[0] in str(caught.value)
    assert "gasfuncs install calc" in str(caught.value)


def test_after_three_failures_cells_are_answered_at_once(
    start: Start, monkeypatch: pytest.MonkeyPatch
) -> None:
    calculator = start(one_with("os._exit(3)"))
    for _ in range(pipe.MOST_FAILURES):
        with pytest.raises(pipe.CalculatorError):
            calculator.ask("F", ())
    started = time.monotonic()
    for _ in range(1000):
        with pytest.raises(pipe.CalculatorError):
            calculator.ask("F", ())
    assert time.monotonic() - started < 1
    calculator.command = WORKER
    monkeypatch.setattr(pipe, "REST", 0.0)
    assert density(calculator, 1.0) > 0


PARENT = """
import sys, time
sys.path.insert(0, sys.argv[1])
from gasfuncs_pipe import Calculator
calculator = Calculator(sys.argv[3:], 60)
if sys.argv[2] == "waits":
    import threading
    threading.Thread(target=calculator.ask, args=("F", ()), daemon=True).start()
    time.sleep(1.5)
else:
    calculator.ask("F", ())
print(calculator._process.pid, flush=True)
time.sleep(60)
"""


@pytest.mark.parametrize(("state", "answer"), [("rests", "return 1"), ("waits", "time.sleep(60)")])
def test_it_ends_with_the_spreadsheet(state: str, answer: str) -> None:
    """Killed without a chance to say so, while the worker rests and while it calculates."""
    command = [sys.executable, "-c", PARENT, str(INSIDE / "pythonpath"), state, *one_with(answer)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as parent:
        assert parent.stdout
        worker = int(parent.stdout.readline())
        assert not ends(worker, 0.5)
        parent.kill()
    assert ends(worker, LIMIT + 4)


def test_answers_are_kept_within_bounds() -> None:
    answers = pipe.Answers(room=100)
    for number in range(1000):
        answers.keep(("F", (float(number),)), ((1.0,),))
        assert answers.get(("F", (0.0,))) is not None or number > 100
    assert answers._filled <= 100
    assert answers.get(("F", (999.0,))) == ((1.0,),)
    assert answers.get(("F", (1.0,))) is None
    answers.keep(("F", (((1.0,),) * 200,)), ((1.0,),))
    assert answers._filled == 0


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: p.name)
def test_what_runs_inside_libreoffice_is_plain_python_3_8(path: Path) -> None:
    tree = ast.parse(path.read_text(), feature_version=(3, 8))
    ours = {source.stem for source in SOURCES}
    of_office = {"uno", "unohelper", "com", extension.MODULE}
    for node in ast.walk(tree):
        names = [node.module] if isinstance(node, ast.ImportFrom) else []
        names += [each.name for each in node.names] if isinstance(node, ast.Import) else []
        for name in names:
            top = str(name).partition(".")[0]
            assert top in sys.stdlib_module_names or top in ours | of_office, name
