"""What a recalculation found."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any

from gasfuncs.hosts.headless.values import ERROR_SENTENCES


@dataclass(frozen=True, slots=True)
class Problem:
    """A formula that cannot be computed, and why."""

    sheet: str
    cell: str
    formula: str
    why: str


@dataclass(frozen=True, slots=True)
class ErrorCell:
    """A cell that holds an error after the recalculation, and what is wrong.

    `background` tells where nobody looks for it ("" where it is to be seen), `new` whether another
    value is stored.
    """

    sheet: str
    cell: str
    code: str
    sentence: str
    background: str = ""
    new: bool = False

    @property
    def general(self) -> bool:
        """Whether no reason of its own is known."""
        return self.sentence in ERROR_SENTENCES.values()


@dataclass(slots=True)
class Report:
    """The outcome of a recalculation; with `problems` nothing was written.

    `changed` are the cells whose stored value or area is another now, as `Sheet!B3`; an array is
    told by its first. `kept` are the cells that cannot be computed and keep their stored value;
    `kept_cells` counts them and all that depend on them, which keep theirs.
    """

    path: str
    output: str
    formulas: int = 0
    calls: int = 0
    changed: list[str] = field(default_factory=list)
    errors: list[ErrorCell] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    kept: list[Problem] = field(default_factory=list)
    kept_cells: int = 0
    signed: bool = False
    written: bool = False

    @property
    def ok(self) -> bool:
        return not self.problems

    def as_dict(self) -> dict[str, Any]:
        """The report as plain data, for JSON."""
        return asdict(self)
