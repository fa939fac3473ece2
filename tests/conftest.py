"""What holds for every test."""

from __future__ import annotations

import os

import pytest

IN_CI = "GASFUNCS_CI" in os.environ
NEEDS_OFFICE = "needs LibreOffice"


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """In CI a test that would be skipped for want of LibreOffice stops everything."""
    if IN_CI and report.skipped and NEEDS_OFFICE in str(report.longrepr):
        pytest.exit(f"{report.nodeid} {NEEDS_OFFICE}", returncode=1)
