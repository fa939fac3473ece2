"""Carried workbooks computed by IronCalc, beside the values that the library stored."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from gasfuncs.hosts.carried import carry
from gasfuncs.hosts.carried.calls import calls_in
from gasfuncs.hosts.headless import read_values
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.saving import save
from gasfuncs.hosts.headless.sheetxml import SheetText
from tests.carried.engines import computed
from tests.carried.proof import agree


def is_carried(formula: str) -> bool:
    """Whether a formula calls functions, and only such as are carried."""
    found = [call.left for call in calls_in(formula)]
    return bool(found) and not any(found)


def frozen(path: Path, target: Path) -> None:
    """A workbook in which what calls no carried function has its value instead of its formula."""
    with Package(path) as package:
        parts = {}
        for sheet in package.sheets:
            text = SheetText(package, sheet)
            out, end = [], 0
            for cell in text.formula_cells():
                if not is_carried(cell.formula) and cell.formula_kind != "shared":
                    whole = text.text[cell.start : cell.end]
                    out += [text.text[end : cell.start], whole.replace(_formula(whole), "", 1)]
                    end = cell.end
            parts[sheet.part] = ["".join([*out, text.text[end:]]).encode()]
        save(package, target, parts)


def _formula(cell: str) -> str:
    start = cell.index("<f")
    if "</f>" in cell:
        return cell[start : cell.index("</f>") + 4]
    return cell[start : cell.index("/>", start) + 2]


def compared(path: Path, folder: Path) -> Iterator[tuple[str, str, str, Any, Any]]:
    """Every cell that calls carried functions: place, formula, the library's value, the other."""
    still, full = folder / f"still-{path.name}", folder / f"carried-{path.name}"
    frozen(path, still)
    carry(still, full)
    stored, values = read_values(path), computed(full)
    with Package(still) as package:
        for sheet in package.sheets:
            for cell in SheetText(package, sheet).formula_cells():
                if is_carried(cell.formula):
                    own = stored[sheet.name].get((cell.row, cell.column))
                    other = values(sheet.name, cell.row, cell.column)
                    yield sheet.name, cell.name, cell.formula, own, other


def same(own: Any, other: Any) -> bool:
    """Whether two values of a cell are alike; an empty text is a blank."""
    return agree("" if own is None else own, "" if other is None else other)
