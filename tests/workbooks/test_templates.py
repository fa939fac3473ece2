"""The committed templates are what the code builds, with every value stored."""

from __future__ import annotations

import math
import re
import zipfile
from functools import cache
from pathlib import Path

import pytest

from gasfuncs.workbooks.building import titles

TEMPLATES = Path(__file__).parents[2] / "workbook_templates"
NUMBER = re.compile(rb"(?<![\w.])-?\d+\.?\d*(?:[eE][+-]?\d+)?(?![\w.])")


def test_every_template_is_there() -> None:
    assert {path.stem for path in TEMPLATES.iterdir()} == set(titles())


@cache
def parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as package:
        return {name: package.read(name) for name in package.namelist()}


BETWEEN_MACHINES = {"reservoir_commissioning": 5e-6}
"""Relative, where a book follows a pressure: the steps turn on the last bit of a logarithm, which
is the processor's. Differences of such logarithms from row to row came out 1.6e-6 apart."""


def alike(one: bytes, other: bytes, within: float) -> bool:
    """The same text, with numbers that may differ in their last digits between machines."""
    if one == other:
        return True
    if NUMBER.sub(b"#", one) != NUMBER.sub(b"#", other):
        return False
    pairs = zip(NUMBER.findall(one), NUMBER.findall(other), strict=True)
    return all(math.isclose(float(a), float(b), rel_tol=within, abs_tol=1e-12) for a, b in pairs)


@pytest.mark.parametrize("name", list(titles()))
def test_charts_have_their_values_stored(name: str) -> None:
    charts = {n: xml for n, xml in parts(TEMPLATES / f"{name}.xlsx").items() if "/chart" in n}
    for part, xml in charts.items():
        if not part.endswith(".xml") or "rels" in part:
            continue
        for series in re.findall(rb"<c:(?:val|yVal)>.*?</c:(?:val|yVal)>", xml, re.DOTALL):
            stored = [float(v) for v in re.findall(rb"<c:v>(-?[\d.E+-]+)</c:v>", series)]
            assert stored, f"{part} has a series without values"
