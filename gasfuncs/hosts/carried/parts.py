"""Parts of calculations that are recorded once, as names of their own, and called."""

from __future__ import annotations

from types import ModuleType

from gasfuncs.calculations import furnace, leak, moisture

PARTS: dict[str, tuple[ModuleType, str]] = {
    "GF_PART_ENHANCEMENT": (moisture, "enhancement"),
    "GF_PART_OVER_ICE": (moisture, "over_ice"),
    "GF_PART_OVER_WATER": (moisture, "over_water"),
}
"""Where the calculations look them up: what is long, and called more than once."""

SEARCHES: tuple[tuple[ModuleType, str], ...] = ((furnace, "_charged"), (leak, "_bore_of"))
"""Parts that search for what they answer, so that no formula carries what needs them."""
