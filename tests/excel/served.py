"""Answers calls of functions, a line of JSON each, as xlwings would hand them to Excel."""

from __future__ import annotations

import json
import sys
from typing import Any

from tests.excel import door


def _argument(told: Any) -> Any:
    """An argument: a value, {"range": rows} or {"error": number}."""
    if isinstance(told, dict) and "range" in told:
        rows = tuple(tuple(row) for row in told["range"])
        single = len(rows) == len(rows[0]) == 1
        return door.refers(rows[0][0] if single else rows)
    return told


if __name__ == "__main__":
    for line in sys.stdin:
        asked = json.loads(line)
        shown = door.call(asked["name"], *map(_argument, asked["arguments"]))
        sys.stdout.write(json.dumps(shown) + "\n")
        sys.stdout.flush()
