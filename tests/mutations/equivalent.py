"""Bugs that change nothing that anybody could see, and why."""

from __future__ import annotations

EQUIVALENT: dict[str, str] = {}
"""By the key that a run prints, without the line."""
