"""Prints what the hostile tests counted."""

from __future__ import annotations

import pytest

from tests.hostile.counts import table


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    lines = table()
    if lines:
        terminalreporter.section("tried, and nothing lost")
        for line in lines:
            terminalreporter.write_line(line)
