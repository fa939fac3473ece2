"""The functions as a type checker meets them, which is a program of its own."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

HEAD = "import gasfuncs\nimport numpy as np\n"


def checked(folder: Path, lines: str) -> str:
    """What mypy says of a few lines of a user."""
    file = folder / "mine.py"
    file.write_text(HEAD + lines)
    result = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--cache-dir", str(folder / "cache"), str(file)],
        capture_output=True, text=True, check=False, cwd=folder,
    )  # fmt: skip
    return result.stdout


GOOD = """\
reveal_type(gasfuncs.GAS_DENSITY("argon", "80 psig", temperature=20))
reveal_type(gasfuncs.GAS_DENSITY("argon", [1, 2], 20, errors="cells"))
reveal_type(gasfuncs.GAS_LIST())
"""
BAD = """\
gasfuncs.GAS_DENSTIY("argon", 1, 20)
gasfuncs.GAS_DENSITY("argon", 1, temprature=20)
gasfuncs.GAS_DENSITY("argon")
gasfuncs.GAS_DENSITY("argon", 1, 20, errors="ignore")
"""
ERROR = re.compile(r"mine\.py:(\d+): error")


def test_a_type_checker_knows_names_arguments_and_results(tmp_path: Path) -> None:
    pytest.importorskip("mypy", reason="needs the extra: gasfuncs[dev]")
    said = checked(tmp_path, GOOD + BAD)
    assert 'type is "float"' in said
    assert "ndarray" in said
    assert "list[list[Any]]" in said
    good, bad = GOOD.count("\n"), BAD.count("\n")
    last = HEAD.count("\n") + good + bad
    assert set(map(int, ERROR.findall(said))) == set(range(last - bad + 1, last + 1))
