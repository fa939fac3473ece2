"""Recalculates a workbook file: every formula, values stored in place."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.addresses import Area, cell_name
from gasfuncs.hosts.headless.book import Book, Unknown
from gasfuncs.hosts.headless.cells import Grid
from gasfuncs.hosts.headless.loading import Loaded, load
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.report import ErrorCell, Problem, Report
from gasfuncs.hosts.headless.saving import Changed, check_not_in_use, save
from gasfuncs.hosts.headless.sheetxml import SheetText
from gasfuncs.hosts.headless.values import ERROR_SENTENCES, CellValue

Progress = Callable[[int, int, str], None]
Edit = tuple[int, int, str]


def recalculate(
    path: str | os.PathLike[str],
    output: str | os.PathLike[str] | None = None,
    *,
    check: bool = False,
    functions: Mapping[str, Any] | None = None,
    progress: Progress | None = None,
) -> Report:
    """Compute every formula of a workbook and store the values, in place or in `output`.

    Where a formula cannot be computed, the report names it and nothing is written. With `check`
    nothing is written either way; the report tells what would change. TODAY() takes today's date,
    so that a second run changes nothing only within a day. Raises a WorkbookError where the file
    cannot be read or written.
    """
    source = Path(path)
    target = Path(output) if output is not None else source
    in_place = os.path.realpath(source) == os.path.realpath(target)
    if in_place and not check:
        check_not_in_use(source)
    if functions is None:
        from gasfuncs.registry import worksheet_functions

        functions = worksheet_functions()
    report = Report(str(source), str(target))
    with Package(source) as package, _without_garbage_collection():
        loaded = _computed(package, functions, report, progress or (lambda *_: None))
        changed = _compared(loaded, report)
        if report.problems or check or (in_place and not changed):
            return report
        if not in_place:
            check_not_in_use(target)
        save(package, target, changed)
        report.written = True
    return report


@contextmanager
def _without_garbage_collection() -> Iterator[None]:
    """A large workbook is a quarter faster without searches for garbage; there is none."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _computed(
    package: Package, functions: Mapping[str, Any], report: Report, progress: Progress
) -> Loaded:
    progress(0, 1, "reading")
    if package.precision_as_shown:
        raise package.refused("calculates with precision as displayed; switch that off")
    loaded = load(package, functions)
    report.formulas, report.calls = loaded.formulas, loaded.calls
    loaded.book.evaluate(lambda done: progress(done, report.calls, "computing"))
    progress(report.calls, report.calls, "computing")
    return loaded


def _compared(loaded: Loaded, report: Report) -> Changed:
    """Compare with what is stored: the report gets changes, errors and problems; the new parts."""
    parts = {}
    for text in loaded.texts:
        edits = _edits(text, loaded.book, report)
        if edits:
            parts[text.sheet.part] = text.edited(edits)
    return parts


def _edits(text: SheetText, book: Book, report: Report) -> list[Edit]:
    name = text.sheet.name
    grid = book.grid(name)
    assert grid
    children: dict[tuple[int, int], CellValue] = {}
    edits: list[Edit] = []
    for cell in text.formula_cells():
        value = grid.columns[cell.column].get(cell.row)
        if isinstance(value, Unknown):
            if value.root:
                report.problems.append(Problem(name, cell.name, cell.formula, value.why))
            continue
        if value.__class__ is CellError:
            sentence = value.message or ERROR_SENTENCES.get(value.code, value.code)
            report.errors.append(ErrorCell(name, cell.name, value.code, sentence))
        area = None
        if cell.formula_kind == "array":
            area = book.spills.get((grid, cell.row, cell.column), cell.area)
            children |= _children(grid, cell.area, area)
            children.pop((cell.row, cell.column))
        edit = text.formula_edit(cell, value, area)
        if edit is not None:
            edits.append(edit)
            report.changed.append(f"{name}!{cell.name}")
    if children:
        more, changed = text.child_edits(children)
        edits += more
        report.changed += [f"{name}!{cell_name(*place)}" for place in changed]
    return edits


def _children(grid: Grid, old: Area, new: Area) -> dict[tuple[int, int], CellValue]:
    """What the cells hold that an array filled or fills."""
    places = {*old.cells(), *new.cells()}
    return {(row, column): grid.columns[column].get(row) for row, column in places}
