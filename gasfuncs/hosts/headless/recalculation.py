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
from gasfuncs.hosts.headless.calls import Calls
from gasfuncs.hosts.headless.engine import CIRCULAR, PENDING, UNREADABLE, Engine, EngineError
from gasfuncs.hosts.headless.package import Package
from gasfuncs.hosts.headless.plan import Plan, Problem
from gasfuncs.hosts.headless.report import ErrorCell, Report
from gasfuncs.hosts.headless.saving import check_not_in_use, save
from gasfuncs.hosts.headless.sheetxml import FormulaCell, SheetText
from gasfuncs.hosts.headless.substitutes import SUBSTITUTES
from gasfuncs.hosts.headless.values import ERROR_SENTENCES, MOST_CHARACTERS, CellValue

Progress = Callable[[int, int, str], None]

_PROBLEMS = {
    UNREADABLE: "the engine cannot read this formula",
    CIRCULAR: "it depends on its own result (a circular reference)",
    PENDING: "it, or a cell it depends on, uses a function in a way the engine does not compute",
}


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
        changed = _computed(package, functions, report, progress or (lambda *_: None))
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
) -> dict[str, bytes]:
    """Fill the report; the changed parts of the package."""
    progress(0, 1, "reading")
    if package.precision_as_shown:
        raise package.refused("calculates with precision as displayed; switch that off")
    plan = Plan(package, {**SUBSTITUTES, **functions})
    report.formulas = sum(len(cells) for cells in plan.cells)
    report.calls = plan.calls()
    report.problems += plan.problems
    if report.problems or not report.formulas:
        return {}
    try:
        engine = Engine(package, plan.sheets)
        calls = [Calls(group, engine) for group in plan.groups]
        report.passes = _settle(engine, calls, report, progress)
    except EngineError as error:
        raise package.refused(f"cannot be loaded or computed: {error}") from error
    results = _Results(plan, engine, calls)
    return results.store(report)


def _settle(engine: Engine, calls: list[Calls], report: Report, progress: Progress) -> int:
    """Evaluate and compute in turns until no call's arguments change; how many turns.

    A turn that changes something settles at least one more call, so there are at most as many
    turns as calls, or some call depends on itself.
    """
    for call in calls:
        if call.constant:
            call.compute()
    turn = 0
    for turn in range(1, report.calls + 3):  # noqa: B007 - the count is the answer
        engine.evaluate()
        done = sum(len(call.group.rows) - len(call.waiting) for call in calls)
        progress(done, report.calls, "computing")
        if not sum(call.compute() for call in calls):
            progress(report.calls, report.calls, "computing")
            break
    else:
        report.problems.append(Problem("", "", "", "some calls depend on their own results"))
    return turn


class _Results:
    """The computed workbook, to be compared with the stored one."""

    def __init__(self, plan: Plan, engine: Engine, calls: list[Calls]) -> None:
        self._plan = plan
        self._engine = engine
        self._messages: dict[tuple[str, int, int], list[CellError]] = {}
        self._waiting: set[tuple[str, int, int]] = set()
        for call in calls:
            group = call.group
            home = group.home_sheet, group.home_column
            for index, message in call.messages.items():
                place = (home[0], group.rows[index], home[1])
                self._messages.setdefault(place, []).append(message)
            self._waiting.update((home[0], group.rows[index], home[1]) for index in call.waiting)

    def store(self, report: Report) -> dict[str, bytes]:
        """The changed sheet parts; the report gets changes, errors and problems."""
        parts = {}
        for number, text in enumerate(self._plan.texts):
            edits = self._sheet(number, text, report)
            if edits:
                parts[text.sheet.part] = text.edited(edits)
        return parts

    def _sheet(self, number: int, text: SheetText, report: Report) -> list[tuple[int, int, str]]:
        name = text.sheet.name
        edits: list[tuple[int, int, str]] = []
        children: dict[tuple[int, int], CellValue] = {}
        cells = self._plan.cells[number]
        values = self._engine.values(number, [(cell.row, cell.column) for cell in cells])
        for cell, value in zip(cells, values, strict=True):
            if isinstance(value, CellError) or (name, cell.row, cell.column) in self._waiting:
                self._judge(name, cell, value, report)
            elif isinstance(value, str) and len(value) > MOST_CHARACTERS:
                why = f"its text is longer than {MOST_CHARACTERS:,} characters"
                report.problems.append(Problem(name, cell.name, cell.formula, why))
            area = None
            if cell.formula_kind == "array":
                area = self._area(number, cell)
                for place in cell.area.cells():
                    children.setdefault(place, None)
                children |= {place: self._engine.value(number, *place) for place in area.cells()}
            edit = text.formula_edit(cell, value, area)
            if edit is not None:
                edits.append(edit)
                report.changed.append(f"{name}!{cell.name}")
        for cell in cells if children else ():
            children.pop((cell.row, cell.column), None)
        if children:
            more, changed = text.child_edits(children)
            edits += more
            report.changed += [f"{name}!{cell_name(*place)}" for place in changed]
        return edits

    def _area(self, number: int, cell: FormulaCell) -> Area:
        if not cell.dynamic:
            return cell.area
        spill = self._engine.spill(number, cell.row, cell.column)
        return spill or Area.sized(cell.row, cell.column, 1, 1)

    def _judge(self, sheet: str, cell: FormulaCell, value: CellValue, report: Report) -> None:
        """Note an error cell, or a problem where the value is not one for the file."""
        place = (sheet, cell.row, cell.column)
        code = value.code if isinstance(value, CellError) else ""
        why = _PROBLEMS.get(code)
        if why is None and place in self._waiting:
            why = _PROBLEMS[PENDING]
        if why is not None:
            report.problems.append(Problem(sheet, cell.name, cell.formula, why))
        else:
            own = [m.message for m in self._messages.get(place, []) if m.code == code]
            sentence = own[0] if own and own[0] else ERROR_SENTENCES.get(code, code)
            report.errors.append(ErrorCell(sheet, cell.name, code, sentence))
