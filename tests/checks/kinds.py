"""What a check against the outside looks like; one list of them a topic.

Every check is a formula text, so that the same check runs through every host.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

READ = "read in the source or a copy of it"
SEEN = "seen in print; its author, title, year or page is not known"
LIBRARY = "shipped in, or computed by, an independent library"
MEMORY = "value from memory"
PRACTICE = "common practice"


@dataclass(frozen=True)
class Source:
    """A work that can be found, the place in it, and what stands there."""

    author: str
    title: str
    year: int
    where: str
    words: str = ""

    def at(self, where: str) -> Source:
        """The same work at another place."""
        return replace(self, where=where)

    def says(self, words: str) -> Source:
        """The same place with what is printed there."""
        return replace(self, words=words)

    def __str__(self) -> str:
        told = f"{self.author}, {self.title} ({self.year}), {self.where}"
        return f"{told}: {self.words}" if self.words else told


@dataclass(frozen=True)
class Published:
    """A number printed by somebody else.

    `within` is relative unless `absolute` is true; `why` says where the tolerance comes from.
    `row` and `column` pick a cell of a table (row 0 is the headings). `reckoned` marks our own
    arithmetic on what is printed: a unit changed, a formula worked out, printed parts put together.
    """

    formula: str
    printed: float
    within: float
    source: Source | str
    mark: str
    why: str
    absolute: bool = False
    row: int = 0
    column: int = 0
    reckoned: bool = False


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
