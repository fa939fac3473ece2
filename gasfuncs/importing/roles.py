"""What the columns of a plant's files can be, and the headings they go by."""

from __future__ import annotations

from dataclasses import dataclass

from gasfuncs.importing.errors import ImportingError
from gasfuncs.units import Kind
from gasfuncs.units.kinds import (
    AMOUNT,
    FRACTION,
    IMPURITY,
    LENGTH,
    LIQUID,
    MASS,
    PRESSURE,
    PRESSURE_DIFFERENCE,
    TEMPERATURE,
    TIME,
)

MOMENT, NAME, COUNT, CLOCK = "a time", "a name", "a number", "a time of day"


@dataclass(frozen=True, slots=True)
class Role:
    """One column's part: what it holds, the words its heading may have, whether it must be there.

    `kinds` are the quantities its unit may be of. A pressure that is `vacuum` is absolute where the
    unit is one of vacuum (mbar, torr, micron); every other must say gauge or absolute. A time that
    may be `elapsed` counts from a start where its column has a unit.
    """

    name: str
    holds: str | tuple[Kind, ...]
    words: tuple[str, ...]
    needed: bool = False
    vacuum: bool = False
    elapsed: bool = False

    @property
    def measured(self) -> bool:
        return isinstance(self.holds, tuple)


_TIME_WORDS = ("timestamp", "date time", "datetime", "date", "time", "logged")
_PRESSURE = (PRESSURE,)
LEVELS = (LIQUID, MASS, FRACTION, PRESSURE_DIFFERENCE, LENGTH)
_CLOCK = Role("clock", CLOCK, ("start time", "time of day", "clock", "time", "hour"))
"""Beside a column of days; the two make the moment."""

KINDS: dict[str, tuple[Role, ...]] = {
    "cycles": (
        Role("start", MOMENT, ("start", "begin", "started", *_TIME_WORDS), needed=True),
        _CLOCK,
        Role("end", MOMENT, ("end", "finish", "stop", "ended")),
        Role("furnace", NAME, ("furnace", "equipment", "asset", "unit id"), needed=True),
        Role("recipe", NAME, ("recipe", "program", "programme", "process")),
        Role("loads", COUNT, ("loads", "charges", "count")),
        Role("status", NAME, ("status", "result", "outcome", "state")),
        Role("vacuum", _PRESSURE, ("vacuum", "pressure before", "pumped to"), vacuum=True),
        Role("backfill", _PRESSURE, ("backfill", "backfill pressure", "quench pressure")),
        Role("temperature", (TEMPERATURE,), ("gas temperature", "temperature")),
        Role("hold_pressure", _PRESSURE, ("hold pressure", "partial pressure"), vacuum=True),
        Role("hold", (TIME,), ("hold time", "hold", "time at partial pressure")),
        Role("measured_use", (AMOUNT,), ("gas used", "use", "consumption", "total flow")),
        Role("counter_start", (AMOUNT,), ("total start", "counter start", "totalizer start")),
        Role("counter_end", (AMOUNT,), ("total end", "counter end", "totalizer end")),
    ),
    "tank": (
        Role("time", MOMENT, _TIME_WORDS, needed=True),
        _CLOCK,
        Role("tank", NAME, ("tank", "vessel", "asset")),
        Role("level", LEVELS, ("level", "contents", "volume", "stock")),
        Role("dp", (PRESSURE_DIFFERENCE,), ("differential pressure", "diff pressure", "dp")),
        Role("pressure", _PRESSURE, ("tank pressure", "head pressure", "pressure")),
    ),
    "tickets": (
        Role("time", MOMENT, ("delivered", *_TIME_WORDS), needed=True),
        Role("ticket", NAME, ("ticket", "delivery note", "docket", "number", "reference")),
        Role("gas", NAME, ("gas", "product", "material")),
        Role("tank", NAME, ("tank", "unloaded into")),
        Role("amount", (LIQUID, MASS, AMOUNT), ("amount", "quantity", "delivered", "net"), True),
        Role("supplier", NAME, ("supplier", "vendor", "carrier")),
    ),
    "rise": (
        Role("time", MOMENT, ("elapsed", *_TIME_WORDS), needed=True, elapsed=True),
        _CLOCK,
        Role("day", MOMENT, ("test day", "day", "date")),
        Role("vessel", NAME, ("vessel", "furnace", "line", "asset")),
        Role("test", NAME, ("test", "run", "test number")),
        Role("pressure", _PRESSURE, ("pressure", "vacuum", "gauge"), needed=True, vacuum=True),
    ),
    "dewpoint": (
        Role("time", MOMENT, _TIME_WORDS, needed=True),
        _CLOCK,
        Role("point", NAME, ("point", "place", "location", "furnace", "line")),
        Role("dew_point", (TEMPERATURE, IMPURITY), ("dew point", "dewpoint", "moisture"), True),
        Role("pressure", _PRESSURE, ("cell pressure", "line pressure", "pressure")),
    ),
    "purge": (
        Role("time", MOMENT, ("elapsed", *_TIME_WORDS), elapsed=True),
        _CLOCK,
        Role("purge", NAME, ("purge", "purge number", "run", "batch")),
        Role("cycle", COUNT, ("cycle", "cycle number", "step")),
        Role("low", _PRESSURE, ("low", "pumped to", "evacuated", "vacuum"), vacuum=True),
        Role("high", _PRESSURE, ("high", "filled to", "fill")),
        Role("pressure", _PRESSURE, ("pressure", "gauge"), vacuum=True),
        Role("reading", (IMPURITY,), ("analyser", "analyzer", "oxygen", "o2", "reading")),
    ),
}

OWNER = {"tank": "tank", "rise": "vessel", "dewpoint": "point", "purge": "purge"}
"""Of what the sensors of a file are, where it has a column or a name for each."""

MAIN = {
    "tank": ("level", "dp"),
    "rise": ("pressure",),
    "dewpoint": ("dew_point",),
    "purge": ("pressure",),
}
"""The role whose readings make the rows."""

ELAPSED = (TIME,)
"""Units that a rise test's time may have instead of dates: s, min, h."""


def roles_of(kind: str) -> dict[str, Role]:
    """The roles of a kind of file, by name. Raises ImportingError."""
    if kind not in KINDS:
        raise ImportingError(f'"{kind}" is no kind of file; it may be {", ".join(KINDS)}')
    return {role.name: role for role in KINDS[kind]}
