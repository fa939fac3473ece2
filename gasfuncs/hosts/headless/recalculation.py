"""Recalculates a workbook file: every formula, values stored in place."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any

from gasfuncs.errors import CellError
from gasfuncs.hosts.headless.addresses import Area
from gasfuncs.hosts.headless.background import Background
from gasfuncs.hosts.headless.book import Book, Unknown
from gasfuncs.hosts.headless.cells import Grid
from gasfuncs.hosts.headless.charts import renewed_charts
from gasfuncs.hosts.headless.errors import WorkbookNotSavedError
from gasfuncs.hosts.headless.keeping import linked_with_ours, unknown_cells
from gasfuncs.hosts.headless.loading import Loaded, load
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.report import ErrorCell, Problem, Report
from gasfuncs.hosts.headless.saving import check_not_in_use, save
from gasfuncs.hosts.headless.sheetxml import SheetText
from gasfuncs.hosts.headless.values import ERROR_SENTENCES, CellValue, says_the_same

Progress = Callable[[int, int, str], None]
Edit = tuple[int, int, str]


@contextmanager
def _without_garbage_collection() -> Iterator[None]:
    """A large workbook is a quarter faster without searches for garbage; there is hardly any."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


@_without_garbage_collection()  # until the workbook is gone: a search would look through all of it
def recalculate(
    path: str | os.PathLike[str],
    output: str | os.PathLike[str] | None = None,
    *,
    check: bool = False,
    keep: bool = False,
    functions: Mapping[str, Any] | None = None,
    progress: Progress | None = None,
) -> Report:
    """Compute every formula of a workbook and store the values, in place or in `output`.

    Where a formula cannot be computed, the report names it and nothing is written; with `keep` it
    and all that depends on it keep their stored values, and the rest is computed. Without being
    asked that is done where no call of the library depends on the cell, and it on none. With
    `check` nothing is written either way; the report tells what would change. TODAY() takes today's
    date, so that a second run changes nothing only within a day. Raises a WorkbookError where the
    file cannot be read or written.
    """
    source = Path(path)
    target = Path(output) if output is not None else source
    _check_kind(source, target)
    in_place = os.path.realpath(source) == os.path.realpath(target)
    if in_place and not check:
        check_not_in_use(source)
    if functions is None:
        from gasfuncs.registry import worksheet_functions

        functions = worksheet_functions()
    report = Report(str(source), str(target))
    with Package(source) as package, ExitStack() as last:
        report.signed = package.signed
        loaded = _computed(package, functions, report, progress or (lambda *_: None))
        last.callback(loaded.book.forget)
        changed = _compared(loaded, report, keep)
        changed |= renewed_charts(package, loaded.book)
        if report.problems or check or (in_place and not changed):
            return report
        if not in_place:
            check_not_in_use(target)
        save(package, target, changed)
        report.written = True
    return report


def _check_kind(source: Path, target: Path) -> None:
    """A file with macros under a name for files without does not open, nor the other way round."""
    kinds = {path.suffix.lower() for path in (source, target)}
    if len(kinds) > 1 and kinds & {".xlsm", ".xltm"}:
        raise WorkbookNotSavedError(
            f"{source.name} cannot be written as {target.name}: a workbook keeps its kind here, "
            f"so choose a name that ends with {source.suffix}"
        )


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


def _compared(loaded: Loaded, report: Report, keep: bool) -> dict[str, Iterable[bytes]]:
    """Compare with what is stored: the report gets changes, errors and problems; the new parts."""
    _judge_unknown(loaded, report, keep)
    parts: dict[str, Iterable[bytes]] = {}
    for text in loaded.texts:
        edits = _edits(text, loaded.book, report)
        if edits:
            parts[text.sheet.part] = text.edited(edits)
    return parts


def _judge_unknown(loaded: Loaded, report: Report, keep: bool) -> None:
    """The cells that cannot be computed: problems, or kept as they are."""
    unknown = unknown_cells(loaded.book)
    if not unknown:
        return
    linked = set() if keep else linked_with_ours(loaded.book, unknown)
    why = {
        (group.grid.name, row, group.column): (value.why, group in linked)
        for group, cells in unknown.items()
        for row, value in cells
        if value.root
    }
    for text in loaded.texts:
        for cell in text.formula_cells():
            found = why.get((text.sheet.name, cell.row, cell.column))
            if found is not None:
                told = report.problems if found[1] else report.kept
                told.append(Problem(text.sheet.name, cell.name, cell.formula, found[0]))
    report.kept_cells = sum(map(len, unknown.values()))


def _edits(text: SheetText, book: Book, report: Report) -> list[Edit]:
    name = text.sheet.name
    grid = book.grid(name)
    assert grid
    background = Background(book, grid, text)
    children: dict[tuple[int, int], CellValue] = {}
    arrays: dict[tuple[int, int], str] = {}
    edits: list[Edit] = []
    for cell in text.formula_cells(known=grid.columns):
        value = grid.columns[cell.column].get(cell.row)
        if isinstance(value, Unknown):
            continue
        if value.__class__ is CellError:
            sentence = value.message or ERROR_SENTENCES.get(value.code, value.code)
            where = background.of(cell.row, cell.column, value)
            new = cell.kind != "e"
            report.errors.append(ErrorCell(name, cell.name, value.code, sentence, where, new))
        area = None
        if cell.formula_kind == "array":
            area = book.spills.get((grid, cell.row, cell.column), cell.area)
            filled = _children(grid, cell.area, area)
            filled.pop((cell.row, cell.column))
            children |= filled
            arrays |= dict.fromkeys(filled, cell.name)
        edit = text.formula_edit(cell, value, area)
        if edit is not None:
            edits.append(edit)
            if not says_the_same(cell.kind, cell.value, value):
                report.changed.append(f"{name}!{cell.name}")
    if children:
        more, changed = text.child_edits(children)
        edits += more
        known = set(report.changed)
        anchors = {f"{name}!{arrays[place]}": None for place in changed}
        report.changed += [anchor for anchor in anchors if anchor not in known]
    return edits


def _children(grid: Grid, old: Area, new: Area) -> dict[tuple[int, int], CellValue]:
    """What the cells hold that an array filled or fills."""
    places = {*old.cells(), *new.cells()}
    return {(row, column): grid.columns[column].get(row) for row, column in places}
