"""Whether the library itself works on this machine."""

from __future__ import annotations

import sys
import tempfile
from importlib.metadata import version
from pathlib import Path

import xlsxwriter

from gasfuncs.hosts.headless import read_values, recalculate
from gasfuncs.hosts.status import Status
from gasfuncs.registry import worksheet_function_named, worksheet_functions

PARTS = ("CoolProp", "pint", "numpy", "scipy", "fluids", "openpyxl", "XlsxWriter")


def library_status() -> Status:
    """Computes one function, and one formula through the headless engine."""
    answer = worksheet_function_named("GAS_DENSITY")("argon", "1 atm", 0)
    parts = ", ".join(f"{part} {version(part)}" for part in PARTS)
    return Status(
        1.78 < answer < 1.79 and _engine_computes(),
        (
            f"Python {sys.version.split()[0]} at {sys.executable}; {parts}.",
            f"{len(worksheet_functions())} functions; argon at 0 °C and 1 atm: {answer:.4f} kg/m3.",
        ),
    )


def _engine_computes() -> bool:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "trial.xlsx")
        with xlsxwriter.Workbook(path) as book:
            book.add_worksheet("Trial").write_formula("A1", "=GAS_GAUGE(8)*2")
        recalculate(path)
        return abs(float(str(read_values(path)["Trial"][1, 1])) - 2 * (8 - 1.01325)) < 1e-9
