"""Sets Excel on Windows up, as far as a program can, and tells what is left to do."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from gasfuncs.errors import GasFuncsError
from gasfuncs.hosts.excel.machine import Machine, this_machine
from gasfuncs.hosts.excel.module import FILE, write_module
from gasfuncs.hosts.excel.settings import (
    BESIDE_THE_WORKBOOK,
    INTERPRETER,
    MODULES,
    change_settings,
    read_settings,
)
from gasfuncs.hosts.status import DRY_RUN, Status

MODULE = "gasfuncs.hosts.excel"
"""What xlwings imports."""

PATIENCE = 180
"""Seconds that xlwings may take to start Excel and add its add-in."""

STORE = "WindowsApps"
"""The folder of programs from the Microsoft Store."""

OTHERWISE = "On other systems use LibreOffice Calc (gasfuncs install calc) or gasfuncs recalculate."

BUTTON = (
    'Or, in place of importing the file, press "Import Functions" on the tab "xlwings". That needs '
    '"Trust access to the VBA project object model" (File, Options, Trust Center, Macro Settings) '
    "while importing, and shows errors as texts, which SUM and IFERROR do not see."
)


class ExcelError(GasFuncsError):
    """Excel, Python or xlwings is missing, of a kind that fails, or refused what was asked."""


def install(dry_run: bool = False) -> list[str]:
    """Do everything that a program can for Excel to run the functions.

    Returns what it found and did, and the clicks that are left with what each is for, a sentence
    each. A dry run changes nothing and works on any system; otherwise raises ExcelError where
    it would fail.
    """
    machine = this_machine()
    obstacles = list(_obstacles(machine))
    if obstacles and not dry_run:
        raise ExcelError(" ".join(obstacles))
    if dry_run:
        steps = [DRY_RUN, *_steps(machine)]
    else:
        _install_add_in()
        change_settings(machine.settings, _settings(machine))
        write_module(machine.settings.parent)
        steps = list(_steps(machine))
    return [*_found(machine), *obstacles, *steps, "What is left is yours:", *_clicks(machine)]


def uninstall(dry_run: bool = False) -> list[str]:
    """Take out of the user's xlwings settings what concerns the functions; says what stays."""
    machine = this_machine()
    changes = _changes_back(machine)
    if not dry_run:
        (machine.settings.parent / FILE).unlink(missing_ok=True)
        change_settings(machine.settings, changes)
    return [*([DRY_RUN] if dry_run else []), *_taken_out(machine, changes)]


def _changes_back(machine: Machine) -> dict[str, str]:
    """The settings without the functions, and without what only they needed."""
    if MODULE not in machine.modules:
        return {}
    others = [name for name in machine.modules if name != MODULE]
    changes = {MODULES: ";".join(others)}
    return changes if others else changes | _own_settings(machine)


def _taken_out(machine: Machine, changes: dict[str, str]) -> Iterator[str]:
    """What uninstalling does, and what stays."""
    if changes:
        yield f"Took the functions out of {machine.settings}."
    else:
        yield f"The functions were not in {machine.settings}."
    if changes and machine.interpreter and INTERPRETER not in changes:
        yield _why_it_stays(machine, changes[MODULES].replace(";", ", "))
    yield (
        'The xlwings add-in stays, as other workbooks may use it; "xlwings addin remove" takes it '
        'away. Functions in a workbook are its module "GasFuncs" or "xlwings_udfs" (Alt+F11).'
    )


def _why_it_stays(machine: Machine, others: str) -> str:
    why = f"runs {others} too" if others else "is not this Python"
    return (
        f"{INTERPRETER} stays {machine.interpreter}, which {why}; where nothing needs it, take its "
        f"line out of {machine.settings}."
    )


def _own_settings(machine: Machine) -> dict[str, str]:
    """What installing wrote and nobody changed, to be taken away."""
    found, ours = read_settings(machine.settings), _settings(machine)
    return {key: "" for key in (INTERPRETER, BESIDE_THE_WORKBOOK) if found.get(key) == ours[key]}


def status() -> Status:
    """Whether Excel is there, of a kind that works, and set up for the functions."""
    machine = this_machine()
    problems = [*_obstacles(machine), *(_lacks(machine) if machine.windows else ())]
    sentences = [*_found(machine), *problems]
    if not problems:
        sentences.append(
            f"Ready: {machine.settings.parent / FILE} brings the functions into a workbook; they "
            f"run in {machine.interpreter}."
        )
    return Status(not problems, tuple(sentences))


def _found(machine: Machine) -> Iterator[str]:
    """What is there, of interest on Windows only."""
    if not machine.windows:
        return
    yield f"Found Python {machine.python_version} at {machine.python}."
    if machine.xlwings:
        yield f"Found xlwings {machine.xlwings}."
    if machine.excel:
        version = f" {machine.excel_version}" if machine.excel_version else ""
        yield f"Found Excel{version} at {machine.excel}."
    if machine.macros_blocked:
        yield (
            "A policy of your administrator keeps unsigned macros from running, and with them the "
            "functions: ask for a trusted location, or for the workbook to be signed."
        )


def _obstacles(machine: Machine) -> Iterator[str]:
    """What has to go before it can work."""
    if not machine.windows:
        yield (
            "Excel runs the functions on Windows only (xlwings has no worksheet functions "
            f"elsewhere). {OTHERWISE}"
        )
        return
    if STORE in machine.python or STORE in machine.python_home:
        yield (
            "This Python is from the Microsoft Store, which Excel cannot start: install Python "
            "from python.org and gasfuncs in it."
        )
    if not machine.xlwings:
        yield 'xlwings is not installed: pip install "gasfuncs[excel]".'
    elif not machine.bridge_found:
        yield (
            f"{machine.bridge} is not beside Python, where Excel looks for it, as "
            'after "pip install --user": install gasfuncs[excel] in a virtual environment '
            "(python -m venv)."
        )
    if not machine.excel:
        yield "Excel was not found: install the desktop version of Excel."
    elif STORE in machine.excel:
        yield (
            "This Excel is from the Microsoft Store, which cannot start Python: install Microsoft "
            "365 or Office from office.com instead."
        )


def _lacks(machine: Machine) -> Iterator[str]:
    """What "gasfuncs install excel" would put right."""
    lacks = []
    if machine.add_in is None:
        lacks.append("the xlwings add-in is not installed")
    elif not machine.add_in_current:
        lacks.append(f"the xlwings add-in is of another version than xlwings {machine.xlwings}")
    if MODULE not in machine.modules:
        lacks.append(f"{machine.settings} does not name the functions")
    if Path(machine.interpreter) != Path(machine.python):
        runs = machine.interpreter or "a Python that Excel picks"
        lacks.append(f"the functions would run in {runs}, not in this Python ({machine.python})")
    for lack in lacks:
        yield f'{lack[0].upper()}{lack[1:]}: run "gasfuncs install excel".'


def _settings(machine: Machine) -> dict[str, str]:
    modules = dict.fromkeys([*machine.modules, MODULE])
    return {
        MODULES: ";".join(modules),
        INTERPRETER: machine.python,
        BESIDE_THE_WORKBOOK: "False",
    }


def _steps(machine: Machine) -> Iterator[str]:
    """What installing does, told in the same words before and after."""
    yield (
        "xlwings addin install: the xlwings add-in goes into Excel's start folder; it starts "
        "Python and hands calls to it."
    )
    for key, value in _settings(machine).items():
        yield f"{machine.settings}: {key} is {value}."
    yield (
        f"{BESIDE_THE_WORKBOOK} is False, as a module of any name beside a workbook would run in "
        'place of Python\'s own; a workbook that needs it says so in a sheet "xlwings.conf".'
    )
    yield f"{machine.settings.parent / FILE}: the functions, for workbooks to import."
    if machine.interpreter and Path(machine.interpreter) != Path(machine.python):
        yield (
            f"{INTERPRETER} was {machine.interpreter}; a workbook that needs that one keeps it by "
            'a sheet named "xlwings.conf" that says so.'
        )


def _clicks(machine: Machine) -> list[str]:
    clicks = (
        'Open the workbook and save it as "Excel Macro-Enabled Workbook (*.xlsm)": an .xlsx file '
        "cannot hold functions. One of ours has this and the next step done when it is written by "
        '"gasfuncs workbook NAME BOOK.xlsm".',
        f"Press Alt+F11; File, Import File, {machine.settings.parent / FILE}. Repeat it after an "
        "update of gasfuncs, having removed the old module.",
        'There, under Tools, References, tick "xlwings": the functions call Python through it.',
        "Press Ctrl+Alt+F9 in the workbook: cells that showed #NAME? are calculated.",
        'Whenever the workbook is opened, press "Enable Content": Excel runs no functions before.',
    )
    return [*(f"{number}. {click}" for number, click in enumerate(clicks, 1)), BUTTON]


def _install_add_in() -> None:
    """xlwings' own command, which prints what went wrong and does not fail."""
    command = [sys.executable, "-m", "xlwings.cli", "addin", "install"]
    try:
        done = subprocess.run(
            command, capture_output=True, text=True, timeout=PATIENCE, stdin=subprocess.DEVNULL,
            errors="replace", check=False,
        )  # fmt: skip
    except (OSError, subprocess.TimeoutExpired) as error:
        raise ExcelError(f'"xlwings addin install" did not run: {error}') from None
    if "Successfully" not in done.stdout:
        said = " ".join(f"{done.stdout} {done.stderr}".split())
        raise ExcelError(
            f'"xlwings addin install" failed: {said}. Close Excel in all its windows and try again'
        )
