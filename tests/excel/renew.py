"""Writes the snapshot of the wrappers anew: `python -m tests.excel.renew`. Look at the diff."""

from __future__ import annotations

from pathlib import Path

from tests.excel import door

SNAPSHOT = Path(__file__).with_name("xlwings_udfs.bas")

if __name__ == "__main__":
    SNAPSHOT.write_text(door.through(door.imported).wrappers)
