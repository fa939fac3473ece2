"""The library's process beside Calc: garbage, large arguments, restarts, many at once, no leak."""

from __future__ import annotations

import json
import random
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from gasfuncs.hosts.calc import worker
from gasfuncs.registry import worksheet_functions
from tests.calc.test_pipe import ends, pipe
from tests.hostile.counts import tried
from tests.thorough import tries

KIND = "Calc worker"
LIMIT = 60.00123
"""Seconds; written so that its processes are known by it."""

WORKER = [sys.executable, "-E", "-P", "-m", "gasfuncs.hosts.calc.worker", f"{LIMIT}"]
LIGHT = ["/bin/sh", "-c", "echo null; while read -r line; do echo 1.5; done", f"{LIMIT}"]

needs_proc = pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="needs /proc")


def processes() -> set[int]:
    """Those started here and still alive."""
    found = set()
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            command = (folder / "cmdline").read_bytes()
        except OSError:
            continue
        if f"{LIMIT}".encode() in command.split(b"\0"):
            found.add(int(folder.name))
    return found


@pytest.fixture(autouse=True)
def no_orphans() -> Iterator[None]:
    yield
    assert all(ends(pid, 5) for pid in processes())


def resident(pid: int) -> int:
    """Bytes in memory."""
    return int(Path(f"/proc/{pid}/statm").read_text().split()[1]) * 4096


@pytest.fixture
def process() -> Iterator[subprocess.Popen[bytes]]:
    with subprocess.Popen(
        WORKER, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as started:
        assert started.stdout
        assert started.stdout.readline() == b"null\n"
        yield started
        started.kill()


def exchange(process: subprocess.Popen[bytes], lines: list[bytes]) -> list[Any]:
    """Send lines while the answers are read."""
    assert process.stdin
    assert process.stdout
    send, flush = process.stdin.writelines, process.stdin.flush
    sender = threading.Thread(target=lambda: (send(lines), flush()))
    sender.start()
    answers = [json.loads(process.stdout.readline()) for _ in lines]
    sender.join()
    return answers


GOOD = b'["GAS_GAUGE", [2.01325]]\n'
RIGHT = worksheet_functions()["GAS_GAUGE"](2.01325)
ODD = [
    b"", b"null", b"1", b"[]", b"{}", b'""', b"[[]]", b'["GAS_GAUGE"]', b'["GAS_GAUGE", 1]',
    b'["GAS_GAUGE", {}]', b'["GAS_GAUGE", [[]]]', b'["GAS_GAUGE", [[[]]]]', b'[["GAS_GAUGE"], [1]]',
    b'[{}, [1]]', b'["GAS_GAUGE", [[[1], [1, 2]]]]', b'["GAS_GAUGE", [{"error": 1}]]',
    b'["GAS_GAUGE", [1, 2, 3, 4, 5, 6, 7, 8, 9]]', b'["__class__", [1]]', b'["os.system", ["ls"]]',
    b'["GAS_GAUGE", [NaN, Infinity]]', b'["GAS_GAUGE", [1e999]]', b"[" * 100_000, b"9" * 100_000,
    b'["GAS_GAUGE", [' + b"9" * 10_000 + b"]]", b'["GAS_GAUGE", ["\\ud800"]]', b"\xff\xfe\x00",
    b'["GAS_GAUGE", [' + b"[" * 500 + b"1" + b"]" * 500 + b"]]", b'["GAS_CHECK", ["GAS_CHECK"]]',
    b'["GAS_WORKING", []]', b'["GAS_WORKING", ["GAS_WORKING", "GAS_WORKING"]]', b"\x00" * 1000,
]  # fmt: skip


def test_garbage_and_half_messages(process: subprocess.Popen[bytes]) -> None:
    """One answer a line, and the next question is answered right."""
    chance = random.Random(20260101)
    halves = [GOOD[: chance.randrange(1, len(GOOD) - 1)] for _ in range(200)]
    noise = [chance.randbytes(chance.randrange(200)).replace(b"\n", b"") for _ in range(2000)]
    flipped = []
    for _ in range(2000):
        line = bytearray(GOOD[:-1])
        line[chance.randrange(len(line))] = chance.randrange(11, 256)
        flipped.append(bytes(line))
    garbage = [*ODD, *halves, *noise, *flipped]
    answers = exchange(process, [line for each in garbage for line in (each + b"\n", GOOD)])
    assert answers[1::2] == [RIGHT] * len(garbage)
    assert all(answer == {"error": "#VALUE!"} for answer in answers[0 : 2 * len(ODD) : 2]
               if answer is not None and not isinstance(answer, float | str | list)
               and answer["error"] not in ("#N/A", "#NUM!"))  # fmt: skip
    tried(KIND, "garbage lines, each followed by a right answer", len(noise) + len(flipped))
    tried(KIND, "odd and half messages, each followed by a right answer", len(ODD) + len(halves))


def test_a_message_cut_off_at_its_end(process: subprocess.Popen[bytes]) -> None:
    assert process.stdin
    process.stdin.write(GOOD[:10])
    process.stdin.close()
    assert process.wait(10) == 0
    tried(KIND, "a message cut off by the end of the pipe")


def test_nobody_reads_the_answers(process: subprocess.Popen[bytes]) -> None:
    assert process.stdin
    assert process.stdout
    process.stdout.close()
    process.stdin.write(GOOD)
    process.stdin.close()
    process.wait(10)
    tried(KIND, "nobody reads the answers")


def test_answers_of_ten_megabytes(process: subprocess.Popen[bytes]) -> None:
    """Megabytes in, megabytes out, while both pipes are full."""
    rows = [[n / 1000 + 1.5] for n in range(500_000)]
    question = json.dumps(["GAS_GAUGE", [rows]]).encode() + b"\n"
    texts = json.dumps(["GAS_GAUGE", ["9" * 10_000_000]]).encode() + b"\n"
    labels = json.dumps(["GAS_DENSITY", ["argon" * 2_000_000, 1, 20]]).encode() + b"\n"
    wide = json.dumps(["GAS_GAUGE", [[[2.5] * 500_000]]]).encode() + b"\n"
    started = time.monotonic()
    first, *others, last = exchange(process, [question, texts, labels, wide, GOOD])
    assert [first[0][0], first[-1][0]] == [pytest.approx(1.5 - 1.01325), pytest.approx(500.48575)]
    assert all("error" in answer for answer in others[:2])
    assert len(others[2][0]) == 500_000
    assert last == RIGHT
    assert time.monotonic() - started < LIMIT
    tried(KIND, "arguments of up to 10 MB", 4)


def test_long_texts_do_not_fill_the_memory_of_calc() -> None:
    answers = pipe.Answers(room=200_000)
    for number in range(100):
        answers.keep(("F", (f"{number}" * 1_000_000,)), ((1.0,),))
    assert len(answers._kept) < 15
    tried(KIND, "arguments of up to 10 MB", 100)


@needs_proc
def test_restarts() -> None:
    """Hundreds of the pipe with a light process, and some of the real one, which takes long."""
    for command, restarts, question, right in (
        (LIGHT, tries(300, 1000), ("F", ()), 1.5),
        (WORKER, tries(2, 4), ("GAS_GAUGE", (2.01325,)), RIGHT),
    ):
        calculator = pipe.Calculator(command, LIMIT)
        calculator.time_limit = 1.0  # the watch of an ended process ends within a twentieth
        files = 0
        for number in range(restarts):
            assert calculator.ask(*question) == right
            if number % 2:
                calculator.stop()
            else:
                calculator._process.kill()
                calculator._process.wait()
                assert calculator.ask(*question) == right, "a new process gets the question"
                calculator._failures.clear()
            files = files or len(list(Path("/proc/self/fd").iterdir()))
        assert len(list(Path("/proc/self/fd").iterdir())) <= files + 1
        calculator.stop()
        time.sleep(0.2)
        assert threading.active_count() < 10
        assert not processes()
        tried(KIND, f"restarts of the {'real' if command is WORKER else 'light'} process", restarts)


def test_ten_at_once() -> None:
    expected = worksheet_functions()["GAS_DENSITY"]("argon", 2, 20)

    def use(_number: int) -> list[float]:
        calculator = pipe.Calculator(WORKER, LIMIT)
        try:
            return [calculator.ask("GAS_DENSITY", ("argon", 2.0, 20.0)) for _ in range(100)]
        finally:
            calculator.stop()

    with ThreadPoolExecutor(10) as pool:
        for answers in pool.map(use, range(10)):
            assert answers == pytest.approx([expected] * 100)
    tried(KIND, "calls to ten workers at once", 1000)


@needs_proc
def test_tens_of_thousands_of_calls_leave_nothing_behind(process: subprocess.Popen[bytes]) -> None:
    """No two alike, so that whatever is kept by its argument would show."""

    def calls(first: int, last: int) -> list[bytes]:
        return [
            json.dumps(each).encode() + b"\n"
            for n in range(first, last)
            for each in (
                ["GAS_DENSITY", ["argon", f"{1 + n / 1e5:.6f} bar(a)", 20 + n / 1e5]],
                ["GAS_CONVERT", [n / 7, "m3", "ft3" if n % 20 else f"unit{n}"]],
                ["GAS_DENSITY", [f"gas {n}", 1, 20]],
                ["GAS_GAUGE", [[[n + 1.5], [n], ["x" * (n % 300)]]]],
            )
        ]

    exchange(process, calls(0, 5_000))
    before = resident(process.pid)
    last = tries(10_000, 20_000)
    for start in range(5_000, last, 5_000):
        exchange(process, calls(start, start + 5_000))
    grown = (resident(process.pid) - before) / 2**20
    tried(KIND, "calls in a row, no two alike", 4 * last)
    assert grown < 30, f"it grew by {grown:.1f} MiB: the caches, which have an end, take about 15"


def test_the_worker_answers_its_own_errors_only() -> None:
    for line in ODD:
        said = worker.Worker(None, None)._answered(line)  # type: ignore[arg-type]
        json.loads(said)
