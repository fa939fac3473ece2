"""Runs the hostile tests and prints what they counted: `python -m tests.hostile`."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.exit(pytest.main([str(Path(__file__).parent), "-q", *sys.argv[1:]]))
