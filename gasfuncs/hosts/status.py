"""What `gasfuncs doctor` says of a host."""

from __future__ import annotations

from dataclasses import dataclass

DRY_RUN = "Nothing is changed; without --dry-run it would do and say this:"


@dataclass(frozen=True, slots=True)
class Status:
    """Whether a host is ready, with what to tell the user, a sentence each."""

    ready: bool
    sentences: tuple[str, ...]
