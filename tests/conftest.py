"""What holds for every test."""

from __future__ import annotations

import gc
import os
import tempfile
from collections.abc import Generator
from pathlib import Path

import pytest

from tests import shared

IN_CI = "GASFUNCS_CI" in os.environ
NEEDS_OFFICE = ("needs LibreOffice", "needs python3-uno")

HERE = Path(__file__).parent
NOT_QUICK = ("benchmarks", "calc", "carried", "cli", "engine", "excel", "headless", "hostile",
             "importing", "ledger", "mutations", "simulated", "workbooks", "test_docs.py",
             "test_optional_arguments.py", "test_properties.py",
             "test_type_checker.py", "calculations/test_open_series.py",
             "calculations/test_tightness.py", "calculations/test_uncertainty.py")  # fmt: skip
"""What `-m quick` leaves out: other hosts than cells, books, files, other programs, random input,
open data."""

LONG = ("hostile", "test_properties.py", "workbooks/test_as_in_excel.py",
        "workbooks/test_in_calc.py")  # fmt: skip
"""What `-m "not long"` leaves out, what takes longest: hostile and random input, scenarios of all
books in Calc and as in Excel."""

LEFT_OUT = {"quick": NOT_QUICK, "not long": LONG}

LONGEST = (
    "workbooks/test_in_calc.py", "test_checks.py", "workbooks/test_declared.py", "test_docs.py",
    "carried/test_carried.py", "workbooks/test_reservoir_commissioning.py", "calc/test_office.py",
    "test_properties.py", "hostile/test_functions.py", "hostile/test_faults.py",
    "workbooks/test_reservoir_line_sizing.py", "calc/test_examples.py",
    "workbooks/test_vent_fill_purity.py", "hostile/test_worker.py", "workbooks/test_as_in_excel.py",
    "hostile/test_workbooks.py", "test_optional_arguments.py", "ledger/test_ledger.py",
    "workbooks/test_bulk_tank_reorder.py", "workbooks/test_leak_dewpoint_log.py",
    "workbooks/test_monthly_gas_usage.py", "calculations/test_tightness.py",
    "cli/test_commands.py", "hostile/test_supply_chain.py", "workbooks/test_refilled.py",
    "importing/test_leak_book.py",
)  # fmt: skip
"""The files that take longest, the longest first, so that several workers end together."""

FIRST = {HERE / name: place for place, name in enumerate(LONGEST, -len(LONGEST))}


def pytest_configure(config: pytest.Config) -> None:
    """The run's own process tells its workers by their surroundings: their folder, and that each
    keeps to one core, as what OpenBLAS does beside it waits on those of the others."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    if not hasattr(config, "workerinput"):
        folder = tempfile.TemporaryDirectory(prefix="gasfuncs-tests-")
        os.environ[shared.FOLDER] = folder.name
        config.add_cleanup(folder.cleanup)


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, object, object]:
    """What is collected stays to the end: looking it through for garbage seldom pays."""
    gc.disable()
    found = yield
    gc.enable()
    gc.set_threshold(1_000_000, 10, 10)
    return found


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """In CI a test that would be skipped for want of LibreOffice stops everything."""
    said = str(report.longrepr)
    if IN_CI and report.skipped and any(reason in said for reason in NEEDS_OFFICE):
        pytest.exit(f"{report.nodeid}: {said}", returncode=1)


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """What is left out is not even collected."""
    names = LEFT_OUT.get(config.getoption("markexpr"), ())
    return True if collection_path in {HERE / name for name in names} else None


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Quick is what is computed in this process, checks through the host "cells" alone."""
    items.sort(key=lambda item: FIRST.get(item.path, 0))
    slow, long = ({HERE / name for name in names} for names in (NOT_QUICK, LONG))
    for item in items:
        places = {item.path, *item.path.parents}
        callspec = getattr(item, "callspec", None)
        host = callspec.params.get("host") if callspec else None
        if not slow & places and (host is None or host.name == "cells"):
            item.add_marker("quick")
        if long & places:
            item.add_marker("long")
