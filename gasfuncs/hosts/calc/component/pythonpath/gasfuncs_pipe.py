"""Asks the library, which runs in a Python of its own, over a pipe.

Runs inside LibreOffice's own Python (3.8 or newer): standard library only.
"""

from __future__ import annotations

import collections
import contextlib
import json
import os
import subprocess
import tempfile
import threading
import time
from typing import Any

START_LIMIT = 60.0
"""Seconds that starting may take: the first start on a busy machine loads a lot from disk."""

MOST_FAILURES = 3
REST = 60.0
"""After so many failures within so many seconds, cells are answered at once with an error."""

KEPT_VARIABLES = (
    "APPDATA", "HOME", "LANG", "LC_ALL", "LOCALAPPDATA", "SYSTEMROOT", "TEMP", "TMP", "TMPDIR",
    "TZ", "USERPROFILE", "WINDIR",
)  # fmt: skip
"""What the library sees of the environment; LibreOffice's own paths would break its Python."""


class CalculatorError(Exception):
    """The library did not answer; the sentence says why and what to do."""


class Calculator:
    """The library in its own process: started when first asked, and again after a failure."""

    def __init__(self, command: list[str], time_limit: float) -> None:
        self.command = command
        self.time_limit = time_limit
        self._lock = threading.Lock()
        self._process: Any = None
        self._log: Any = None
        self._deadline = 0.0
        self._late = False
        self._failures: collections.deque[float] = collections.deque(maxlen=MOST_FAILURES)
        self._reason = ""

    def ask(self, function: str, arguments: Any) -> Any:
        """The answer to one call; raises CalculatorError."""
        question = json.dumps([function, arguments]).encode() + b"\n"
        with self._lock:
            if self._resting():
                raise CalculatorError(self._reason)
            had_started = self._process is not None
            try:
                return self._asked(question)
            except (OSError, ValueError) as error:
                failed = self._failed(error)
                if not had_started or self._late or self._resting():
                    raise failed from None
            try:  # it died: a new one gets the question
                return self._asked(question)
            except (OSError, ValueError) as error:
                raise self._failed(error) from None

    def _asked(self, question: bytes) -> Any:
        if self._process is None:
            self._start()
        return self._exchange(question, self.time_limit)

    def stop(self) -> None:
        """End the process; the next question starts it anew."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        process.wait()
        process.stdout.close()
        self._log.close()
        with contextlib.suppress(OSError):  # what it had not read yet is lost with it
            process.stdin.close()

    def _start(self) -> None:
        log = tempfile.TemporaryFile()  # noqa: SIM115  (open as long as the process is)
        try:
            self._process = subprocess.Popen(
                self.command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=log,
                env={name: os.environ[name] for name in KEPT_VARIABLES if name in os.environ},
                creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
            )
        except OSError:
            log.close()
            raise
        self._log = log
        threading.Thread(target=self._watch, args=(self._process,), daemon=True).start()
        self._exchange(b"", START_LIMIT)

    def _exchange(self, question: bytes, limit: float) -> Any:
        process = self._process
        self._deadline = time.monotonic() + limit
        process.stdin.write(question)
        process.stdin.flush()
        answer = process.stdout.readline()
        self._late = time.monotonic() > self._deadline
        self._deadline = 0.0
        if answer:
            return json.loads(answer)
        said = f"no answer within {limit:g} s" if self._late else f"it ended {self._last_words()}"
        raise OSError(said)

    def _watch(self, process: Any) -> None:
        """Ends a process that keeps the spreadsheet waiting."""
        while process.poll() is None:
            if 0 < self._deadline < time.monotonic() and process is self._process:
                process.kill()
            time.sleep(self.time_limit / 20)

    def _last_words(self) -> str:
        self._log.seek(0)
        lines = self._log.read().decode(errors="replace").split("\n")
        said = [line.strip() for line in lines if line.strip()]
        return f"({said[-1]})" if said else "without a word"

    def _resting(self) -> bool:
        full = len(self._failures) == MOST_FAILURES
        return full and time.monotonic() - self._failures[0] < REST

    def _failed(self, error: Exception) -> CalculatorError:
        self.stop()
        self._failures.append(time.monotonic())
        self._reason = (
            f"The gas functions' Python, {self.command[0]}, does not answer: {error}. "
            'Run "gasfuncs doctor" there, or "gasfuncs install calc" again.'
        )
        return CalculatorError(self._reason)


class Answers:
    """The latest answers, until they and their questions fill so many cells."""

    def __init__(self, room: int = 200_000) -> None:
        self.room = room
        self._kept: collections.OrderedDict[Any, Any] = collections.OrderedDict()
        self._filled = 0

    def get(self, question: Any) -> Any:
        """The answer kept to a question, else None."""
        kept = self._kept.get(question)
        if kept is None:
            return None
        self._kept.move_to_end(question)
        return kept[0]

    def keep(self, question: Any, answer: Any) -> None:
        """Keep an answer, in place of the ones longest unused."""
        cells = _cells(answer) + sum(map(_cells, question[1]))
        self._kept[question] = answer, cells
        self._filled += cells
        while self._filled > self.room:
            _, (_, freed) = self._kept.popitem(last=False)
            self._filled -= freed


def _cells(value: Any) -> int:
    """How many cells a value fills, a long text as many as take its room."""
    if isinstance(value, tuple):
        return sum(map(_cells, value))
    return 1 + len(value) // 64 if isinstance(value, str) else 1
