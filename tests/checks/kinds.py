"""What a check against the outside looks like; one list of them a topic.

Every check is a formula text, so that the same check runs through every host.
"""

from __future__ import annotations

from dataclasses import dataclass

READ = "read in the source or a copy of it"
LIBRARY = "shipped in, or computed by, an independent library"
MEMORY = "value from memory"
PRACTICE = "common practice"


@dataclass(frozen=True)
class Published:
    """A number printed by somebody else.

    `within` is relative unless `absolute` is true; `why` says where the tolerance comes from.
    `row` and `column` pick a cell of a table (row 0 is the headings).
    """

    formula: str
    printed: float
    within: float
    source: str
    mark: str
    why: str
    absolute: bool = False
    row: int = 0
    column: int = 0


@dataclass(frozen=True)
class Invariant:
    """A formula that must agree with another, a number or a text: round trip, limit, balance."""

    formula: str
    equals: str | float
    why: str
    within: float = 1e-9
    row: int = 0
    column: int = 0


@dataclass(frozen=True)
class Refusal:
    """A call that must be refused: the spreadsheet error, and words of the sentence."""

    formula: str
    code: str
    says: str
