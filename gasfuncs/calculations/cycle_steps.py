"""Reads a furnace cycle from a range of cells: one row a step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, get_args

from gasfuncs.definition.reading import is_blank
from gasfuncs.definition.rows import filled_rows, read_in_row
from gasfuncs.definition.terms import Cell, Choice, Count, Term
from gasfuncs.definition.vocabulary import (
    Duration,
    FillControl,
    Flow,
    Pressure,
    PumpingSpeed,
    Temperature,
)
from gasfuncs.errors import OutOfRangeError, UnreadableError
from gasfuncs.properties import Gas

COLUMNS = ("kind", "from", "to", "temperature", "rate", "duration", "repeats", "control")
KINDS = ("backfill", "hold", "flow")
NEEDED = {
    "backfill": ("from", "to"),
    "hold": ("from", "rate", "duration"),
    "flow": ("rate", "duration"),
}
"""The cells that a step of a kind cannot do without."""

_FOLLOWS = (
    "a backfill takes none, its gas follows from the pressures; leave it blank, or put a flow in a "
    "row of its own"
)
_NO_FILL = "only a backfill is controlled; leave it blank"

NOT_TAKEN = {
    "backfill": {"rate": _FOLLOWS, "duration": _FOLLOWS},
    "hold": {"control": _NO_FILL},
    "flow": {"control": _NO_FILL},
}
"""The cells that a step of a kind cannot use, and why."""

ROOM = 293.15

MOST_STEPS = 1_000

_KIND = Choice("kind", "Kind of step", words=KINDS)
_REPEATS = Count("N", "Repeats", low=0, high=100_000)


def _term(annotation: Any) -> Term:
    return next(note for note in get_args(annotation) if isinstance(note, Term))


def _terms(kind: str) -> dict[str, Term]:
    """How the cells of a step are read; the rate of a hold is a pumping speed, of a flow a flow."""
    pressure = _term(Pressure)
    return {
        "from": pressure,
        "to": pressure,
        "temperature": _term(Temperature),
        "rate": _term(Flow if kind == "flow" else PumpingSpeed),
        "duration": _term(Duration),
        "repeats": _REPEATS,
        "control": _term(FillControl),
    }


@dataclass(frozen=True, slots=True)
class CycleStep:
    """One step in SI; the rate is m³/s of a hold's pumps or mol/s of a flow."""

    row: int
    kind: str
    pressure_from: float = 0.0
    pressure_to: float = 0.0
    temperature: float = ROOM
    rate: float = 0.0
    duration: float = 0.0
    repeats: float = 1.0
    control: str = "topped up"


@dataclass(frozen=True, slots=True)
class Cycle:
    """The steps of a cycle, in order."""

    steps: tuple[CycleStep, ...]

    def __iter__(self) -> Iterator[CycleStep]:
        return iter(self.steps)

    def __str__(self) -> str:
        return f"{len(self.steps)} steps: {', '.join(step.kind for step in self.steps)}"


@dataclass(frozen=True)
class Steps(Term):
    """A range of steps, taken whole."""

    @property
    def by_gauge(self) -> bool:
        return True

    def read(self, value: Cell, gas: Gas | None = None) -> Cycle:
        """The steps; raises a GasFuncsError that names the row and the column."""
        return read_steps(value, gas)

    def allowed(self) -> str:
        """What the columns hold."""
        return "rows of " + ", ".join(COLUMNS)


def read_steps(value: Cell, gas: Gas | None) -> Cycle:
    """The steps of a range; blank rows and a row of headings are passed over."""
    filled = filled_rows(value, COLUMNS, MOST_STEPS)
    if not filled:
        raise UnreadableError(f"the range holds no step; its columns are {', '.join(COLUMNS)}")
    return Cycle(tuple(_step(number, row, gas) for number, row in filled))


def _step(number: int, row: list[Cell], gas: Gas | None) -> CycleStep:
    cells = dict(zip(COLUMNS, row, strict=True))
    kind = str(read_in_row(number, "kind", _KIND, cells.pop("kind"), gas))
    for column in NEEDED[kind]:
        if is_blank(cells[column]):
            raise UnreadableError(
                f"row {number}, {column}: is blank; a {kind} needs {', '.join(NEEDED[kind])}"
            )
    terms = _terms(kind)
    _refuse_given(number, kind, cells)
    values = {
        column: read_in_row(number, column, terms[column], cell, gas)
        for column, cell in cells.items()
        if not is_blank(cell)
    }
    _refuse_pressures(number, kind, values)
    named = {"from": "pressure_from", "to": "pressure_to"}
    return CycleStep(number, kind, **{named.get(c, c): value for c, value in values.items()})


def _refuse_given(number: int, kind: str, cells: dict[str, Cell]) -> None:
    """Refuse what a step of a kind cannot use; a 0 is as good as a blank."""
    for column, why in NOT_TAKEN.get(kind, {}).items():
        if not is_blank(cells[column]) and cells[column] != 0:
            raise UnreadableError(f"row {number}, {column}: {why}")
        cells[column] = None


def _refuse_pressures(number: int, kind: str, values: dict[str, Any]) -> None:
    if "to" not in values:
        return
    if kind != "backfill" and values["to"] != values.get("from"):
        raise OutOfRangeError(
            f"row {number}, to: only a backfill ends at another pressure; leave it blank"
        )
    if values["to"] < values["from"]:
        raise OutOfRangeError(
            f"row {number}, to: is below from; a backfill raises the pressure: are the two swapped?"
        )
