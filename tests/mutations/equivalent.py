"""Bugs that change nothing that anybody could see, and why: a file a module in equivalent/."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

FOLDER = Path(__file__).parent / "equivalent"


def _listed() -> Iterator[tuple[str, str]]:
    for path in sorted(FOLDER.glob("*.toml")):
        reasons = tomllib.loads(path.read_text(encoding="utf-8"))
        for reason, bugs in reasons.items():
            yield from ((f"{path.stem}.{bug}", reason) for bug in bugs)


EQUIVALENT = dict(_listed())
