"""Where a kind of file goes: the tables of the workbooks, and the role of each column."""

from __future__ import annotations

from dataclasses import dataclass, field

UNIT_OF = "unit of "
"""A column that holds the unit in which another role was told."""


@dataclass(frozen=True, slots=True)
class Target:
    """A table that takes a kind of file: the role behind each heading, and what tells rows apart.

    Roles `as_told` are entered in the file's own unit, not in the table's. `known` has, by role,
    the table and the column whose names it may have.
    """

    table: str
    columns: dict[str, str]
    key: tuple[str, ...]
    needed: tuple[str, ...] = ()
    as_told: frozenset[str] = field(default_factory=frozenset)
    known: dict[str, tuple[str, str]] = field(default_factory=dict)


_TANKS = {"tank": ("Tanks", "Tank")}

_READINGS = {f"Reading {number}": f"reading {number}" for number in range(1, 13)}

TARGETS: dict[str, tuple[Target, ...]] = {
    "cycles": (
        Target(
            "Log",
            {
                "Date": "start",
                "Furnace": "furnace",
                "Recipe": "recipe",
                "Loads": "loads",
                "Measured": "measured_use",
            },
            ("Date", "Furnace", "Recipe"),
            ("furnace", "recipe"),
            known={"furnace": ("Furnaces", "Furnace"), "recipe": ("Steps", "Recipe")},
        ),
    ),
    "tank": (
        Target(
            "Readings",
            {"Date": "day", "Tank": "tank", "Level": "level", "Pressure": "pressure"},
            ("Date", "Tank"),
            ("tank",),
            known=_TANKS,
        ),
    ),
    "tickets": (
        Target(
            "Deliveries",
            {
                "Date": "day",
                "Ticket": "ticket",
                "Supplier": "supplier",
                "Tank": "tank",
                "Quantity": "amount",
                "Unit": f"{UNIT_OF}amount",
            },
            ("Ticket",),
            ("ticket", "supplier", "tank", "amount"),
            frozenset({"amount"}),
            {**_TANKS, "supplier": ("Contracts", "Supplier")},
        ),
        Target(
            "Deliveries",
            {
                "Date": "day",
                "Tank": "tank",
                "Ticket": "ticket",
                "Quantity": "amount",
                "Unit": f"{UNIT_OF}amount",
            },
            ("Ticket",),
            ("ticket", "tank", "amount"),
            frozenset({"amount"}),
            _TANKS,
        ),
    ),
    "rise": (
        Target(
            "Rises",
            {"Date": "day", "Vessel": "vessel", "Every": "every", **_READINGS},
            ("Date", "Vessel"),
            ("vessel",),
            known={"vessel": ("Vessels", "Vessel")},
        ),
    ),
    "dewpoint": (
        Target(
            "Dews",
            {
                "Date": "time",
                "Place": "point",
                "Dew point": "dew_point",
                "Measured at": "pressure",
            },
            ("Date", "Place"),
            ("point", "pressure"),
            known={"point": ("Places", "Place")},
        ),
    ),
    "purge": (
        Target(
            "Swings",
            {
                "Purge": "purge",
                "Cycle": "cycle",
                "Low": "low",
                "High": "high",
                "Reading": "reading",
            },
            ("Purge", "Cycle"),
            ("purge", "low", "high"),
            known={"purge": ("Purges", "Purge")},
        ),
    ),
}
