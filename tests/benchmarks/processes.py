"""Fresh processes: importing, the help, the first answer."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator

from tests.benchmarks.measuring import Result, Timed, compared, run

ROUNDS = 11
MOST_IMPORT, MOST_HELP = 0.15, 0.3
"""s; the goals of the first two lines, which are no ratios."""

ANSWER = "import gasfuncs; gasfuncs.GAS_DENSITY('argon', 1, 20)"


def _python(*arguments: str, **environment: str) -> Timed:
    return lambda: run([sys.executable, *arguments], **environment).seconds


def processes() -> Iterator[Result]:
    """Whole processes, the interpreter's own start included on both sides."""
    nothing, name = _python("-c", "pass"), "python -c pass"
    for what, arguments, most in (
        ("import gasfuncs", ("-c", "import gasfuncs"), MOST_IMPORT),
        ("gasfuncs --help", ("-m", "gasfuncs", "--help"), MOST_HELP),
    ):
        found = compared(what, _python(*arguments), name, nothing, goal=None, rounds=ROUNDS)
        more = found.ours - found.theirs
        judged = "met" if more <= most else "**missed**"
        note = f"{more:.3f} s more; goal at most {most:g} s more: {judged}"
        yield Result(what, name, found.ours, found.theirs, found.ratio, None, note=note)
    coolprop = _python("-c", "import CoolProp.CoolProp")
    against = "importing CoolProp alone"
    answer = "first property answer in a fresh process"
    yield compared(
        answer, _python("-c", ANSWER), against, coolprop, goal=1.2, rounds=ROUNDS,
        note="from the kept series",
    )  # fmt: skip
    off = _python("-c", ANSWER, GASFUNCS_TABLES="off")
    yield compared(
        answer, off, against, coolprop, goal=None, rounds=5, note="the series turned off"
    )

    def first_ever() -> float:
        with tempfile.TemporaryDirectory() as folder:
            return _python("-c", ANSWER, XDG_CACHE_HOME=folder, LOCALAPPDATA=folder)()

    yield compared(
        answer, first_ever, against, coolprop, goal=None, rounds=5,
        note="the first on this machine: the series is made",
    )  # fmt: skip
